package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"
)

// turned is the path turned about the origin and rounded to the grid, each contour by itself.
func turned(p Path, degrees float64) Path {
	s, c := math.Sincos(degrees * math.Pi / 180)
	at := func(q Point) Point {
		x, y := float64(q.X), float64(q.Y)
		return Point{int64(math.Round(x*c - y*s)), int64(math.Round(x*s + y*c))}
	}
	out := make(Path, len(p))
	for i, k := range p {
		out[i] = Contour{Closed: k.Closed}
		for _, g := range k.Segments {
			out[i].Segments = append(out[i].Segments, Segment{P0: at(g.P0), P1: at(g.P1), P2: at(g.P2), P3: at(g.P3), Line: g.Line, Tag: g.Tag})
		}
	}
	return out
}

func operands(p Path) []Operand {
	var out []Operand
	for i := range p {
		out = append(out, Operand{Path: p[i : i+1]})
	}
	return out
}

func closedAndFused(t *testing.T, in []Operand, reach int64) []Shape {
	t.Helper()
	closed, err := CloseGaps(in, reach, 2000)
	if err != nil {
		t.Fatal(err)
	}
	shapes, err := Fuse(closed, 2000)
	if err != nil {
		t.Fatal(err)
	}
	return shapes
}

const um = Micrometre

func tileRect(x, y, w, h float64) Contour {
	a, b := pointAt(x, y), pointAt(x+w, y+h)
	return Rect(a.X, a.Y, b.X, b.Y)
}

var tilings = []struct {
	name string
	path Path
}{
	{"two tiles", Path{tileRect(-13.3, 2.1, 10, 7), tileRect(-3.3, 2.1, 10, 7)}},
	{"T-vertex", Path{tileRect(0, 0, 10, 4), tileRect(-2, 4, 5.3, 3), tileRect(3.3, 4, 8, 3)}},
	{"shorter on longer", Path{tileRect(0, 0, 10, 4), tileRect(2.7, 4, 3, 3)}},
	{"four about a point", Path{tileRect(0, 0, 5, 4), tileRect(5, 0, 3, 4), tileRect(0, 4, 5, 6), tileRect(5, 4, 3, 6)}},
	{"curved edge", Path{
		{Closed: true, Segments: []Segment{
			Line(pointAt(0, 0), pointAt(10, 0)),
			Cubic(pointAt(10, 0), pointAt(12, 3), pointAt(7, 5), pointAt(10, 8)),
			Line(pointAt(10, 8), pointAt(0, 8)), Line(pointAt(0, 8), pointAt(0, 0)),
		}},
		{Closed: true, Segments: []Segment{
			Line(pointAt(10, 0), pointAt(17, 0)), Line(pointAt(17, 0), pointAt(17, 8)), Line(pointAt(17, 8), pointAt(10, 8)),
			Cubic(pointAt(10, 8), pointAt(7, 5), pointAt(12, 3), pointAt(10, 0)),
		}},
	}},
	{"part of a curved edge", func() Path {
		curve := Cubic(pointAt(10, 0), pointAt(12, 3), pointAt(7, 5), pointAt(10, 8))
		part := curve.Sub(0.2123, 0.8321)
		far, low := Point{part.P3.X + 7e6, part.P3.Y}, Point{part.P3.X + 7e6, part.P0.Y}
		return Path{
			{Closed: true, Segments: []Segment{
				Line(pointAt(0, 0), pointAt(10, 0)), curve, Line(pointAt(10, 8), pointAt(0, 8)), Line(pointAt(0, 8), pointAt(0, 0)),
			}},
			{Closed: true, Segments: []Segment{
				part.Reverse(), Line(part.P0, low), Line(low, far), Line(far, part.P3),
			}},
		}
	}()},
}

// apart is the tilings with every tile but the first moved away from it by gap along the normal of the first seam, and
// tiles of more than one seam by a little along it, before all are turned.
func apart(p Path, gap int64) Path {
	out := Path{p[0]}
	for i, c := range p[1:] {
		dx, dy := int64(i)*gap/3, gap
		if len(p) == 2 && c.Segments[0].P0.X > p[0].Segments[0].P0.X+int64(5*mm) {
			dx, dy = gap, int64(0)
		}
		m := Contour{Closed: true}
		for _, g := range c.Segments {
			for _, q := range []*Point{&g.P0, &g.P1, &g.P2, &g.P3} {
				q.X, q.Y = q.X+dx, q.Y+dy
			}
			m.Segments = append(m.Segments, g)
		}
		out = append(out, m)
	}
	return out
}

// TestCloseGapsAtManyAngles takes tiles that share an edge, but for the rounding after they have been turned, at all of
// 3,600 angles in full, and tiles with a gap at some of them.
func TestCloseGapsAtManyAngles(t *testing.T) {
	for _, k := range tilings {
		for _, gap := range []int64{0, 1, 40, 2900} {
			t.Run(fmt.Sprintf("%s %d nm apart", k.name, gap), func(t *testing.T) {
				t.Parallel()
				separate := 0
				angles := 50
				if gap == 0 && k.name != "part of a curved edge" { // there each takes tens of milliseconds
					angles = count(3600)
				}
				for n := range angles {
					degrees := float64(n*(3600/angles)) / 10
					in := operands(turned(apart(k.path, gap), degrees))
					area := 0.0
					for _, o := range in {
						area += SignedArea(o.Path[0])
					}
					plain, err := Fuse(in, 2000)
					if err != nil {
						t.Fatal(err)
					}
					if len(plain) != 1 || len(plain[0].Holes) > 0 {
						separate++
					}
					got := closedAndFused(t, in, 5*um)
					if len(got) != 1 || len(got[0].Holes) > 0 {
						t.Fatalf("at %g degrees: %d shapes, %d holes", degrees, len(got), len(Paths(got))-len(got))
					}
					if off := regionArea(got) - area; math.Abs(off) > 40*mm*(50+float64(gap)) {
						t.Errorf("at %g degrees the area changes by %.0f nm²", degrees, off)
					}
					if err := topology(got, 500); err != nil {
						t.Fatalf("at %g degrees: %v", degrees, err)
					}
				}
				t.Logf("without closing, not one plain contour at %d angles", separate)
			})
		}
	}
}

func TestCloseGapsLeavesWiderGaps(t *testing.T) {
	angles := count(3600)
	for n := range angles {
		degrees := float64(n*(3600/angles)) / 10
		in := operands(turned(apart(tilings[0].path, 6*um), degrees))
		if got := closedAndFused(t, in, 5*um); len(got) != 2 {
			t.Fatalf("at %g degrees: %d shapes", degrees, len(got))
		}
	}
}

// Where there is no gap nothing changes: notches, corners that point at each other and narrow walls are left alone.
func TestCloseGapsMovesNothingElse(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	star := func(depth float64) Contour { // notches of about 10° and more
		p := make([]Point, 24)
		for i := range p {
			s, c := math.Sincos(2 * math.Pi * float64(i) / 24)
			r := 10.0
			if i%2 == 1 {
				r = depth
			}
			p[i] = pointAt(r*c, r*s)
		}
		return Polygon(p...)
	}
	tests := []struct {
		name string
		in   []Operand
	}{
		{"star", operands(Path{star(4)})},
		{"ornaments", ornamentBorder(40, 9, 0.75, 3)},
		{"corner to corner", operands(Path{box(0, 0, 5, 5), shifted(Path{box(5, 5, 5, 5)}, 3, 3)[0]})},
		{"wall of 3 µm", []Operand{{Path: Path{box(0, 0, 5, 5), box(1, 1, 3.997, 3).Reverse()}}}},
		{"letters of one path", []Operand{{Path: Path{ngon(0, 0, 3, 50), ngon(7, 0, 3, 40), ngon(0, 0, 1, 30).Reverse()}}}},
		{"text of stamps", stampBorder(60)},
		{"overlapping, each its own rule", []Operand{
			{Path: Path{starAround(rnd, 0, 0, 8, 30)}, Rule: EvenOdd},
			{Path: Path{starAround(rnd, 3, 0, 8, 30).Reverse()}, Rule: Negative},
		}},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			plain, err := Fuse(c.in, 2000)
			if err != nil {
				t.Fatal(err)
			}
			got := closedAndFused(t, c.in, 5*um)
			if off := deviation(got, plain); len(got) != len(plain) || off > 30 {
				t.Errorf("%d shapes for %d, the boundary moves by %.0f nm", len(got), len(plain), off)
			}
		})
	}
}

func TestCloseGapsWithinOneOutline(t *testing.T) {
	// A ring that is cut through, its ends 3 µm apart.
	cut := poly(0, 0, 10, 0, 10, 10, 5.003, 10, 5.003, 8, 8, 8, 8, 2, 2, 2, 2, 8, 5, 8, 5, 10, 0, 10)
	for degrees := 0.0; degrees < 360; degrees += 11.3 {
		got := closedAndFused(t, operands(turned(Path{cut}, degrees)), 5*um)
		if len(got) != 1 || len(got[0].Holes) != 1 {
			t.Fatalf("at %g degrees: %d shapes with %d holes", degrees, len(got), len(Paths(got))-len(got))
		}
		if off := math.Abs(regionArea(got)/1e12 - 64); off > 1e-5 {
			t.Errorf("at %g degrees: area off by %g mm²", degrees, off)
		}
	}
	// A slit with a closed end, 3 µm wide and 4 mm deep.
	slit := poly(0, 0, 10, 0, 10, 10, 5.003, 10, 5.003, 6, 5, 6, 5, 10, 0, 10)
	got := closedAndFused(t, operands(Path{slit}), 5*um)
	if off := math.Abs(regionArea(got)/1e12 - 100); off > 1e-6 || len(got) != 1 || len(got[0].Holes) > 0 {
		t.Errorf("slit: area off by %g mm², %d shapes", off, len(got))
	}
}

func TestCloseGapsFillsThinHoles(t *testing.T) {
	holes := func(w float64) []Operand {
		return []Operand{{Path: turned(Path{box(0, 0, 10, 10), box(3, 3, 2, w).Reverse()}, 31)}}
	}
	if got := closedAndFused(t, holes(0.0045), 5*um); len(got[0].Holes) != 0 {
		t.Error("a hole of 4.5 µm is left")
	}
	if got := closedAndFused(t, holes(0.0065), 5*um); len(got[0].Holes) != 1 {
		t.Error("a hole of 6.5 µm is filled")
	}
}

func TestCloseGapsResult(t *testing.T) {
	in := []Operand{{Path: Path{box(0, 0, 2, 2).Reverse()}, Rule: Negative}, {Path: Path{box(2.001, 0, 2, 2)}, Rule: EvenOdd}}
	got, err := CloseGaps(in, 5*um, 2000)
	if err != nil || len(got) != 3 {
		t.Fatalf("%d operands, %v", len(got), err)
	}
	for i, o := range got {
		if o.Rule != NonZero {
			t.Errorf("operand %d has rule %d", i, o.Rule)
		}
		for _, c := range o.Path {
			if SignedArea(c) <= 0 {
				t.Errorf("operand %d has a contour of area %g", i, SignedArea(c))
			}
		}
	}
}

// A convex contour is its own region, and is found to be as the engine finds it.
func TestConvexRegions(t *testing.T) {
	square := box(0, 0, 2, 2)
	star := pentagram()
	for name, c := range map[string]struct {
		contour Contour
		ok      bool
	}{
		"square": {square, true}, "reversed": {square.Reverse(), true}, "triangle": {poly(0, 0, 3, 1, 1, 4), true},
		"polygon of 50": {ngon(0, 0, 5, 50), true}, "open": {Contour{Segments: square.Segments[:3]}, false},
		"pentagram": {star, false}, "figure of eight": {poly(0, 0, 2, 2, 2, 0, 0, 2), false}, "notched": {poly(0, 0, 4, 0, 2, 1, 4, 4), false},
		"point in a line": {poly(0, 0, 1, 0, 2, 0, 1, 2), false}, "there and back": {poly(0, 0, 2, 1), false},
		"curved": {Circle(Point{}, Millimetre), false}, "broken": {Contour{Segments: []Segment{square.Segments[0], square.Segments[2], square.Segments[3]}}, false},
	} {
		for _, rule := range rules {
			o := Operand{Path{c.contour}, rule}
			p, ok := convexRegion(o)
			if ok != c.ok {
				t.Errorf("%s: found to be convex: %v", name, ok)
			}
			if !ok {
				continue
			}
			want := fused(t, []Operand{o})
			if got := fused(t, []Operand{{Path: p}}); !sameShapes(got, want) {
				t.Errorf("%s, rule %d: %v, want %v", name, rule, got, want)
			}
		}
	}
}
