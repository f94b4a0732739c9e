package geom

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"testing"
)

const mm = float64(Millimetre)

func pointAt(x, y float64) Point { return Point{int64(math.Round(x * mm)), int64(math.Round(y * mm))} }

func starAround(rnd *rand.Rand, x, y, r float64, n int) Contour {
	p := make([]Point, n)
	for i := range p {
		p[i] = towards(x, y, r*(0.35+float64(0.65*rnd.Float64())), float64(360*i)/float64(n))
	}
	return Polygon(p...)
}

// families make random pairs of paths.
var families = []struct {
	name string
	make func(*rand.Rand) (a, b Path)
}{
	{"stars with holes", func(rnd *rand.Rand) (a, b Path) {
		one := func() Path {
			x, y := rnd.Float64()*10, rnd.Float64()*10
			p := Path{starAround(rnd, x, y, 8, 8+rnd.Intn(40))}
			if rnd.Intn(2) == 0 {
				p = append(p, starAround(rnd, x, y, 8*0.34, 5+rnd.Intn(20)).Reverse())
			}
			return p
		}
		return one(), one()
	}},
	{"self-crossing", func(rnd *rand.Rand) (a, b Path) {
		one := func() Path {
			p := make([]Point, 4+rnd.Intn(16))
			for i := range p {
				p[i] = pointAt(rnd.Float64()*20, rnd.Float64()*20)
			}
			return Path{Polygon(p...)}
		}
		return one(), one()
	}},
	{"lattice", func(rnd *rand.Rand) (a, b Path) {
		unit := int64(1)
		if rnd.Intn(2) == 0 {
			unit = Millimetre
		}
		one := func() Path {
			var path Path
			for range 1 + rnd.Intn(2) {
				p := make([]Point, 3+rnd.Intn(10))
				for i := range p {
					p[i] = Point{rnd.Int63n(8) * unit, rnd.Int63n(8) * unit}
				}
				path = append(path, Polygon(p...))
			}
			return path
		}
		return one(), one()
	}},
	{"near-coincident", func(rnd *rand.Rand) (a, b Path) {
		p := make([]Point, 4+rnd.Intn(12))
		q := make([]Point, len(p))
		for i := range p {
			p[i] = pointAt(rnd.Float64()*900-450, rnd.Float64()*900-450)
			q[i] = Point{p[i].X + rnd.Int63n(3) - 1, p[i].Y + rnd.Int63n(3) - 1} // 1e-9 of the coordinates
		}
		if rnd.Intn(2) == 0 {
			q = append(q[1:], q[0])
		}
		return Path{Polygon(p...)}, Path{Polygon(q...)}
	}},
}

var rules = []Rule{NonZero, EvenOdd, Positive, Negative}

// count is n where CI is true or GEOM_FULL is 1, and a tenth of it otherwise.
func count(n int) int {
	if os.Getenv("CI") == "true" || os.Getenv("GEOM_FULL") == "1" {
		return n
	}
	return n / 10
}

// TestBooleanAgainstOracle takes 10,000 pairs of the four families in full: see count.
func TestBooleanAgainstOracle(t *testing.T) {
	t.Parallel()
	for _, f := range families {
		t.Run(f.name, func(t *testing.T) {
			t.Parallel()
			rnd := rand.New(rand.NewSource(1))
			for n := range count(2500) {
				a, b := f.make(rnd)
				want := oracle(a, b)
				for _, rule := range rules {
					var got [5]float64
					for op := Union; op <= Exclusive; op++ {
						shapes, err := Boolean(op, Operand{a, rule}, Operand{b, rule}, 2000)
						if err != nil {
							t.Fatalf("pair %d, operation %d, rule %d: %v", n, op, rule, err)
						}
						got[op] = regionArea(shapes)
						if off := math.Abs(got[op] - want.of[op][rule]); off > want.length+16 {
							t.Fatalf("pair %d, operation %d, rule %d: area %.0f, want %.0f nm², off by %.0f of %.0f\n%v\n%v", n, op, rule, got[op], want.of[op][rule], off, want.length, a, b)
						}
						if err := topology(shapes, 2000); err != nil {
							t.Fatalf("pair %d, operation %d, rule %d: %v\n%v\n%v", n, op, rule, err, a, b)
						}
					}
					each := 0.0
					for _, p := range []Path{a, b} {
						alone, err := Fuse([]Operand{{p, rule}}, 2000)
						if err != nil {
							t.Fatalf("pair %d, rule %d: %v", n, rule, err)
						}
						each += regionArea(alone)
					}
					if off := math.Abs(got[Union] + got[Intersection] - each); off > want.length+16 {
						t.Fatalf("pair %d, rule %d: |A∪B|+|A∩B| and |A|+|B| differ by %.0f nm²\n%v\n%v", n, rule, off, a, b)
					}
				}
			}
		})
	}
}

func ExampleBoolean() {
	panel := Operand{Path: Path{Rect(0, 0, 60*Millimetre, 40*Millimetre)}}
	window := Operand{Path: Path{Rect(10*Millimetre, 10*Millimetre, 50*Millimetre, 30*Millimetre)}}
	frame, err := Boolean(Without, panel, window, 2*Micrometre)
	fmt.Println(len(frame), len(frame[0].Holes), SignedArea(frame[0].Outer)/1e12, SignedArea(frame[0].Holes[0])/1e12, err)
	// Output: 1 1 2400 -800 <nil>
}
