package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"
)

// stampRing is a four-lobed outline of n corners about a place.
func stampRing(x, y, r, turn float64, n int) Contour {
	p := make([]Point, n)
	for i := range p {
		a := 2 * math.Pi * float64(i) / float64(n)
		s, c := math.Sincos(a + turn)
		k := r * (0.72 + 0.28*math.Cos(4*a))
		p[i] = pointAt(x+k*c, y+k*s)
	}
	return Polygon(p...)
}

// alongBorder calls put for n places round a rectangle of 150 by 230 mm, a little off the line.
func alongBorder(n int, rnd *rand.Rand, put func(x, y float64)) {
	const w, h = 150, 230
	for i := range n {
		d := 2 * (w + h) * float64(i) / float64(n)
		var x, y float64
		switch {
		case d < w:
			x = d
		case d < w+h:
			x, y = w, d-w
		case d < 2*w+h:
			x, y = 2*w+h-d, h
		default:
			y = 2*(w+h) - d
		}
		put(x+rnd.NormFloat64()*0.3, y+rnd.NormFloat64()*0.3)
	}
}

// stampBorder is a border of n stamps of 96 corners, of a size that grows smaller as they grow more.
func stampBorder(n int) []Operand {
	rnd := rand.New(rand.NewSource(1))
	r := 4 * 400 / float64(n)
	var out []Operand
	alongBorder(n, rnd, func(x, y float64) {
		out = append(out, Operand{Path: Path{stampRing(x, y, r, rnd.Float64(), 96)}})
	})
	return out
}

// spline is the closed curve through the points, each arm a sixth of the way between the points beside its own.
func spline(p []Point) Contour {
	n := len(p)
	c := Contour{Closed: true}
	at := func(a, b, d Point) Point {
		return Point{a.X + (b.X-d.X)/6, a.Y + (b.Y-d.Y)/6}
	}
	for i := range p {
		a, b, d, e := p[(i+n-1)%n], p[i], p[(i+1)%n], p[(i+2)%n]
		c.Segments = append(c.Segments, Cubic(b, at(b, d, a), at(d, b, e), d))
	}
	return c
}

// ornament is a curly outline with a hole. With a curl above 0.8 it crosses itself.
func ornament(rnd *rand.Rand, x, y, r, curl float64) Path {
	lobes := float64(5 + rnd.Intn(4))
	turn, phase := rnd.Float64()*6, rnd.Float64()*6
	var outer, hole []Point
	for i := range int(lobes) * 4 {
		a := 2 * math.Pi * float64(i) / (lobes * 4)
		k := r * (0.62 + 0.33*math.Sin(lobes*a+phase) + 0.05*math.Sin(3*a))
		s, c := math.Sincos(a + curl/lobes*math.Cos(lobes*a+phase) + turn)
		outer = append(outer, pointAt(x+k*c, y+k*s))
	}
	for i := range 8 {
		a := -2 * math.Pi * float64(i) / 8
		k := r * 0.17 * (1 + 0.2*math.Cos(4*a))
		s, c := math.Sincos(a + turn)
		hole = append(hole, pointAt(x+k*c, y+k*s))
	}
	return Path{spline(outer), spline(hole)}
}

func ornamentBorder(n int, r, curl float64, seed int64) []Operand {
	rnd := rand.New(rand.NewSource(seed))
	var out []Operand
	alongBorder(n, rnd, func(x, y float64) {
		out = append(out, Operand{Path: ornament(rnd, x, y, r, curl)})
	})
	return out
}

func TestFusedBorder(t *testing.T) {
	in := stampBorder(400)
	got, err := Fuse(in, 2000)
	if err != nil {
		t.Fatal(err)
	}
	if err := topology(got, 2000); err != nil {
		t.Error(err)
	}
	// Fused in halves it is the same region.
	half := func(in []Operand) Operand {
		s, err := Fuse(in, 2000)
		if err != nil {
			t.Fatal(err)
		}
		return Operand{Path: Paths(s)}
	}
	again, err := Fuse([]Operand{half(in[:200]), half(in[200:])}, 2000)
	if err != nil {
		t.Fatal(err)
	}
	if off := regionArea(got) - regionArea(again); math.Abs(off) > 1e7 {
		t.Errorf("fused in halves the area differs by %.0f nm²", off)
	}
}

func BenchmarkFuseBorder(b *testing.B) {
	for _, n := range []int{100, 400, 1600, 3200} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			in := stampBorder(n)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Fuse(in, 2000); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFuseCurvedBorder(b *testing.B) {
	in := ornamentBorder(400, 4, 0.75, 1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Fuse(in, 2000); err != nil {
			b.Fatal(err)
		}
	}
}
