package geom

import (
	"fmt"
	"math"
	"math/rand"
	"strconv"
	"testing"
)

// reread is the shapes as they come back from a file of three decimals of a millimetre.
func reread(t *testing.T, shapes []Shape, grid int64) {
	t.Helper()
	for _, c := range Paths(shapes) {
		for _, s := range c.Segments {
			points := []Point{s.P0, s.P3}
			if !s.Line {
				points = append(points, s.P1, s.P2)
			}
			for _, p := range points {
				if p.X%grid != 0 || p.Y%grid != 0 {
					t.Fatalf("%v is off the grid of %d nm", p, grid)
				}
			}
		}
		if a := math.Abs(SignedArea(c)); a < leastArea/2 {
			t.Errorf("a ring of %g nm² at %v", a, c.Segments[0].P0)
		}
	}
	if err := topology(shapes, grid/2); err != nil {
		t.Error(err)
	}
}

func settled(t *testing.T, shapes []Shape, grid int64) []Shape {
	t.Helper()
	out, err := Settle(shapes, grid)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestSettleBorders(t *testing.T) {
	t.Parallel()
	borders := 3
	if testing.Short() {
		borders = 2
	}
	for n := range borders {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			in := ornamentBorder(60, 5+float64(n), 0.75+float64(n%3)*0.5, int64(n))
			fused, err := Fuse(in, 2000)
			if err != nil {
				t.Fatal(err)
			}
			got := settled(t, fused, Micrometre)
			reread(t, got, Micrometre)
			if d := farthest(got, fused); d > 2000 {
				t.Errorf("moved by %.0f nm", d)
			}
			segments, before := 0, 0
			for _, c := range Paths(got) {
				segments += len(c.Segments)
			}
			for _, c := range Paths(fused) {
				before += len(c.Segments)
			}
			t.Logf("%d segments from %d", segments, before)
			if segments > before*6/5 {
				t.Errorf("%d segments from %d: curves are lost", segments, before)
			}
			reread(t, settled(t, got, Micrometre), Micrometre)
		})
	}
}

// Two hundred borders are written at three decimals of a millimetre and read again.
func TestSettledBordersReadAgain(t *testing.T) {
	t.Parallel()
	borders := 200
	if testing.Short() {
		borders = 20
	}
	for n := range borders {
		in := ornamentBorder(60, 6+float64(n%5), 0.5+float64(n%8)*0.25, int64(n))[n%50:][:5]
		if n%4 == 0 {
			in = append(in, words()[n:][:5]...)
		}
		fused, err := Fuse(in, 2000)
		if err != nil {
			t.Fatal(err)
		}
		got := settled(t, fused, Micrometre)
		for _, c := range Paths(got) {
			for k, s := range c.Segments {
				for _, p := range []*Point{&s.P0, &s.P1, &s.P2, &s.P3} {
					p.X, p.Y = atThreeDecimals(t, p.X), atThreeDecimals(t, p.Y)
				}
				if s != c.Segments[k] {
					t.Fatalf("border %d: %v is read as %v", n, c.Segments[k], s)
				}
			}
		}
		reread(t, got, Micrometre)
		if t.Failed() {
			t.Fatalf("in border %d", n)
		}
	}
}

// atThreeDecimals is a length as it comes back from a file in millimetres.
func atThreeDecimals(t *testing.T, v int64) int64 {
	t.Helper()
	read, err := strconv.ParseFloat(strconv.FormatFloat(float64(v)/mm, 'f', 3, 64), 64)
	if err != nil {
		t.Fatal(err)
	}
	return int64(math.Round(read * mm))
}

func TestSettleSmallThings(t *testing.T) {
	tests := []struct {
		name  string
		in    []Shape
		parts int
		holes int
	}{
		{"a square of 0.1 mm stays", []Shape{{Outer: box(0, 0, 0.1, 0.1)}}, 1, 0},
		{"a smaller one goes", []Shape{{Outer: box(0, 0, 0.099, 0.1)}}, 0, 0},
		{"a sliver of 4 µm goes", []Shape{{Outer: box(0, 0, 50, 0.004)}}, 0, 0},
		{"a strip of 6 µm stays", []Shape{{Outer: box(0, 0, 50, 0.006)}}, 1, 0},
		{"a pinhole is filled", []Shape{{Outer: box(0, 0, 5, 5), Holes: []Contour{box(1, 1, 0.05, 0.05).Reverse(), box(2, 2, 1, 1).Reverse()}}}, 1, 1},
		{"shapes that fall together fuse", []Shape{{Outer: box(0, 0, 5, 5)}, {Outer: box(5.0002, 0, 5, 5)}}, 1, 0},
		{"nothing", nil, 0, 0},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			got := settled(t, c.in, Micrometre)
			reread(t, got, Micrometre)
			if holes := len(Paths(got)) - len(got); len(got) != c.parts || holes != c.holes {
				t.Errorf("%d shapes with %d holes, want %d with %d", len(got), holes, c.parts, c.holes)
			}
		})
	}
}

// Curves that rounding to the grid drives across each other are written as chords there.
func TestSettleCurvesThatWouldCross(t *testing.T) {
	rnd := rand.New(rand.NewSource(8))
	for n := range 200 {
		r := 1 + 4*rnd.Float64()
		gap := int64(rnd.Intn(1500)) + 10
		s, c := math.Sincos(rnd.Float64() * 2 * math.Pi)
		inner := int64(r * mm)
		dx, dy := int64(c*mm*0.3*rnd.Float64()), int64(s*mm*0.3*rnd.Float64())
		ring := Shape{
			Outer: Circle(Point{}, inner+gap+int64(0.5*mm)),
			Holes: []Contour{Circle(Point{dx, dy}, inner+gap).Reverse()},
		}
		got := settled(t, []Shape{ring, {Outer: Circle(Point{dx + int64(rnd.Intn(9)), dy}, inner)}}, Micrometre)
		reread(t, got, Micrometre)
		if t.Failed() {
			t.Fatalf("case %d: circles of %d nm, %d nm apart", n, inner, gap)
		}
	}
}
