package geom

import (
	"math"
	"math/rand"
	"slices"
	"testing"
)

func poly(xy ...float64) Contour {
	p := make([]Point, len(xy)/2)
	for i := range p {
		p[i] = pointAt(xy[2*i], xy[2*i+1])
	}
	return Polygon(p...)
}

func box(x, y, w, h float64) Contour { return poly(x, y, x+w, y, x+w, y+h, x, y+h) }

func ngon(x, y, r float64, n int) Contour {
	p := make([]Point, n)
	for i := range p {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		p[i] = pointAt(x+r*c, y+r*s)
	}
	return Polygon(p...)
}

func ngonArea(r float64, n int) float64 {
	return float64(n) / 2 * r * r * math.Sin(2*math.Pi/float64(n))
}

func shifted(p Path, dx, dy int64) Path {
	var out Path
	for _, c := range p {
		k := Contour{Closed: c.Closed}
		for _, g := range c.Segments {
			for _, q := range []*Point{&g.P0, &g.P1, &g.P2, &g.P3} {
				q.X, q.Y = q.X+dx, q.Y+dy
			}
			k.Segments = append(k.Segments, g)
		}
		out = append(out, k)
	}
	return out
}

func times(n int, c Contour) Path {
	var p Path
	for range n {
		p = append(p, c)
	}
	return p
}

func pentagram() Contour {
	p := make([]float64, 0, 10)
	for i := range 5 {
		s, c := math.Sincos(2 * math.Pi * float64(i*2%5) / 5)
		p = append(p, c, s)
	}
	return poly(p...)
}

func squares(n int, pitch, degrees float64) Path {
	var p Path
	for i := range n {
		for j := range n {
			p = append(p, turned(Path{box(float64(i)*pitch, float64(j)*pitch, pitch, pitch)}, degrees)...)
		}
	}
	return p
}

func fan() Path {
	var p Path
	for i := range 360 {
		s0, c0 := math.Sincos(float64(i) * math.Pi / 180)
		s1, c1 := math.Sincos(float64(i+1) * math.Pi / 180)
		p = append(p, poly(0, 0, 10*c0, 10*s0, 10*c1, 10*s1))
	}
	return p
}

func needles() Path {
	var p Path
	for i := range 180 {
		p = append(p, turned(Path{box(-10, -0.001, 20, 0.002)}, float64(i))...)
	}
	return p
}

// TestDegenerate is small drawings at which engines have broken. Areas are in square millimetres; a shape count of −1 is
// not looked at, nor is an area that is not a number.
func TestDegenerate(t *testing.T) {
	disc := ngon(5, 5, 3, 200)
	discArea := ngonArea(3, 200)
	ro := math.Sin(18*math.Pi/180) / math.Sin(54*math.Pi/180)
	starArea := 5 * ro * math.Sin(36*math.Pi/180)
	heart := 5 * 0.5 * ro * ro * math.Sin(72*math.Pi/180)
	cases := []struct {
		name  string
		op    Op
		rule  Rule
		a, b  Path
		area  float64
		parts int
		holes int
	}{
		{"shared whole edge", Union, NonZero, Path{box(0, 0, 1, 1)}, Path{box(1, 0, 1, 1)}, 2, 1, 0},
		{"shared partial edge", Union, NonZero, Path{box(0, 0, 1, 1)}, Path{box(1, 0.3, 1, 1)}, 2, 1, 0},
		{"shared edge, nothing in common", Intersection, NonZero, Path{box(0, 0, 1, 1)}, Path{box(1, 0, 1, 1)}, 0, 0, 0},
		{"touch at a point", Union, NonZero, Path{box(0, 0, 1, 1)}, Path{box(1, 1, 1, 1)}, 2, 2, 0},
		{"touch at a point, in common", Intersection, NonZero, Path{box(0, 0, 1, 1)}, Path{box(1, 1, 1, 1)}, 0, 0, 0},
		{"corner on an edge", Union, NonZero, Path{box(0, 0, 2, 1)}, Path{poly(1, 1, 2, 3, 0, 3)}, 4, 2, 0},
		{"duplicate, union", Union, NonZero, Path{disc}, Path{disc}, discArea, 1, 0},
		{"duplicate, intersection", Intersection, NonZero, Path{disc}, Path{disc}, discArea, 1, 0},
		{"duplicate, without", Without, NonZero, Path{disc}, Path{disc}, 0, 0, 0},
		{"duplicate, exclusive", Exclusive, NonZero, Path{disc}, Path{disc}, 0, 0, 0},
		{"fifty copies", Union, NonZero, times(50, disc), nil, discArea, 1, 0},
		{"fifty copies, even-odd", Union, EvenOdd, times(50, disc), nil, 0, 0, 0},
		{"figure of eight", Union, NonZero, Path{poly(0, 0, 2, 2, 2, 0, 0, 2)}, nil, 2, 2, 0},
		{"figure of eight, even-odd", Union, EvenOdd, Path{poly(0, 0, 2, 2, 2, 0, 0, 2)}, nil, 2, 2, 0},
		{"figure of eight, positive", Union, Positive, Path{poly(0, 0, 2, 2, 2, 0, 0, 2)}, nil, 1, 1, 0},
		{"pentagram", Union, NonZero, Path{pentagram()}, nil, starArea, 1, 0},
		{"pentagram, even-odd", Union, EvenOdd, Path{pentagram()}, nil, starArea - heart, 5, 0},
		{"one nanometre apart", Union, NonZero, Path{box(0, 0, 1, 1)}, shifted(Path{box(1, 0, 1, 1)}, 1, 0), 2, 2, 0},
		{"one nanometre over", Union, NonZero, Path{box(0, 0, 1, 1)}, shifted(Path{box(1, 0, 1, 1)}, -1, 0), 2, 1, 0},
		{"moved by one nanometre, without", Without, NonZero, Path{disc}, shifted(Path{disc}, 1, 1), 0, -1, 0},
		{"turned by 1e-9, union", Union, NonZero, Path{ngon(0, 0, 3, 200)}, turned(Path{ngon(0, 0, 3, 200)}, 1e-9), discArea, 1, 0},
		{"turned by 1e-5 degrees, intersection", Intersection, NonZero, Path{box(-5, -5, 10, 10)}, turned(Path{box(-5, -5, 10, 10)}, 1e-5), 100, 1, 0},
		{"sliver of 10 mm by 1 nm", Union, NonZero, Path{box(0, 0, 10, 1e-6)}, Path{box(3, -1, 1, 2)}, 2, 1, 0},
		{"thin triangle", Union, NonZero, Path{poly(0, 0, 100, 0, 100, 1e-5)}, Path{poly(0, 1e-5, 0, 0, 100, 0)}, 0.00075, 1, 0},
		{"400 squares", Union, NonZero, squares(20, 1, 0), nil, 400, 1, 0},
		{"400 squares turned", Union, NonZero, squares(20, 0.7, 17), nil, 196, -1, -1},
		{"fan of 360", Union, NonZero, fan(), nil, 360 * 50 * math.Sin(math.Pi/180), 1, 0},
		{"180 needles through a point", Union, NonZero, needles(), nil, math.NaN(), 1, -1},
		{"ring with its hole filled", Union, NonZero, Path{ngon(0, 0, 5, 100), ngon(0, 0, 3, 100).Reverse()}, Path{ngon(0, 0, 3, 100)}, ngonArea(5, 100), 1, 0},
		{"hole that touches the outer ring at a corner", Union, NonZero, Path{box(0, 0, 4, 4), poly(0, 2, 2, 3, 2, 1)}, nil, 14, 1, 1},
		{"hole touching at a corner", Without, NonZero, Path{box(0, 0, 4, 4)}, Path{poly(0, 2, 2, 3, 2, 1)}, 14, 1, 1},
		{"hole touching at two corners", Without, NonZero, Path{box(0, 0, 4, 4)}, Path{poly(0, 2, 2, 3, 4, 2, 2, 1)}, 12, 2, 0},
		{"holes touching each other", Without, NonZero, Path{box(0, 0, 9, 9)}, Path{box(2, 2, 2, 2), box(4, 4, 2, 2)}, 73, 1, 2},
		{"island in a hole, touching it", Exclusive, NonZero, Path{box(0, 0, 9, 9), box(2, 2, 5, 5).Reverse()}, Path{poly(2, 2, 5, 3, 3, 5)}, 60, 2, 1},
		{"spike without width", Union, NonZero, Path{poly(0, 0, 1, 0, 1, 5, 1, 0, 2, 0, 2, 1, 0, 1)}, nil, 2, 1, 0},
		{"there and back", Union, NonZero, Path{poly(0, 0, 3, 1)}, nil, 0, 0, 0},
		{"repeated points and points in a line", Union, NonZero, Path{poly(0, 0, 0, 0, 0.5, 0, 1, 0, 1, 0, 1, 1, 0, 1, 0, 1)}, nil, 1, 1, 0},
		{"loop run twice, even-odd", Union, EvenOdd, Path{poly(0, 0, 1, 0, 1, 1, 0, 1, 0, 0, 1, 0, 1, 1, 0, 1)}, nil, 0, 0, 0},
		{"loop run twice", Union, NonZero, Path{poly(0, 0, 1, 0, 1, 1, 0, 1, 0, 0, 1, 0, 1, 1, 0, 1)}, nil, 1, 1, 0},
		{"loop and its reverse", Union, NonZero, Path{box(0, 0, 1, 1), box(0, 0, 1, 1).Reverse()}, nil, 0, 0, 0},
		{"nothing at all", Union, NonZero, nil, nil, 0, 0, 0},
		{"one point", Union, NonZero, Path{poly(1, 1)}, Path{{Closed: true}}, 0, 0, 0},
		{"as far as it reaches", Intersection, NonZero, Path{box(-1000, -1000, 2000, 2000)}, Path{poly(-1000, 0, 0, -1000, 1000, 0, 0, 1000)}, 2e6, 1, 0},
		{"rings in rings", Union, EvenOdd, Path{box(0, 0, 9, 9), box(1, 1, 7, 7), box(2, 2, 5, 5), box(3, 3, 3, 3)}, nil, 81 - 49 + 25 - 9, 2, 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := Boolean(c.op, Operand{c.a, c.rule}, Operand{c.b, c.rule}, 2000)
			if err != nil {
				t.Fatal(err)
			}
			if err := topology(got, 2000); err != nil {
				t.Error(err)
			}
			if area := regionArea(got) / 1e12; math.Abs(area-c.area) > 1e-4 {
				t.Errorf("area %.9f, want %.9f mm²", area, c.area)
			}
			if holes := len(Paths(got)) - len(got); c.parts >= 0 && len(got) != c.parts || c.holes >= 0 && holes != c.holes {
				t.Errorf("%d shapes with %d holes, want %d with %d", len(got), holes, c.parts, c.holes)
			}
		})
	}
}

func TestBooleanRefuses(t *testing.T) {
	good := Operand{Path: Path{box(0, 0, 1, 1)}}
	far := Operand{Path: Path{Rect(0, 0, Reach+1, 5)}}
	if _, err := Boolean(Union, good, far, 2000); err == nil || err.Error() != "a point at 1000000001, 0 nm lies more than one metre from the origin" {
		t.Errorf("out of reach: %v", err)
	}
	control := Operand{Path: Path{{Segments: []Segment{Cubic(Point{}, Point{0, -2 * Reach}, Point{5, 5}, Point{5, 0})}}}}
	if _, err := Fuse([]Operand{control}, 2000); err == nil {
		t.Error("a control point out of reach was taken")
	}
	broken := Operand{Path: Path{{Closed: true, Segments: []Segment{Line(Point{}, Point{5, 0}), Line(Point{6, 0}, Point{})}}}}
	if _, err := Fuse([]Operand{broken}, 2000); err == nil || err.Error() != "a contour breaks off at 5, 0 nm: the next segment begins somewhere else" {
		t.Errorf("broken contour: %v", err)
	}
	if _, err := Boolean(Union, good, good, 0); err == nil {
		t.Error("a tolerance of nothing was taken")
	}
	if _, err := CloseGaps([]Operand{good}, 0, 2000); err == nil {
		t.Error("a reach of nothing was taken")
	}
	if _, err := Settle(nil, 0); err == nil {
		t.Error("a grid of nothing was taken")
	}
}

func TestOpenContoursAreClosed(t *testing.T) {
	open := Contour{Segments: []Segment{Line(pointAt(0, 0), pointAt(2, 0)), Line(pointAt(2, 0), pointAt(0, 2))}}
	got, err := Fuse([]Operand{{Path: Path{open}}}, 2000)
	if err != nil || len(got) != 1 || regionArea(got) != 2e12 {
		t.Errorf("%v, %v", got, err)
	}
}

// A NonZero operand that runs the other way round does not undo one that overlaps it.
func TestOperandsWindByThemselves(t *testing.T) {
	a, b := box(0, 0, 2, 2), box(1, 1, 2, 2).Reverse()
	got, err := Fuse([]Operand{{Path: Path{a}}, {Path: Path{b}}, {Path: Path{a, b}, Rule: Negative}}, 2000)
	if err != nil || regionArea(got) != 7e12 {
		t.Errorf("area %g, %v", regionArea(got), err)
	}
}

func TestIdentities(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for _, f := range families {
		for range 60 {
			pa, pb := f.make(rnd)
			a, b := Operand{pa, EvenOdd}, Operand{pb, NonZero}
			run := func(op Op, a, b Operand) []Shape {
				s, err := Boolean(op, a, b, 2000)
				if err != nil {
					t.Fatal(f.name, err)
				}
				return s
			}
			limit := oracle(pa, pb).length + 16
			both := regionArea(run(Union, a, b)) + regionArea(run(Intersection, a, b))
			each := regionArea(run(Union, a, Operand{})) + regionArea(run(Union, b, Operand{}))
			if math.Abs(both-each) > limit {
				t.Errorf("%s: |A∪B|+|A∩B| and |A|+|B| differ by %.0f nm²", f.name, both-each)
			}
			if p, q := run(Without, a, b), run(From, b, a); !sameShapes(p, q) {
				t.Errorf("%s: A without B is not B's complement from A", f.name)
			}
			for _, op := range []Op{Union, Intersection, Exclusive} {
				if !sameShapes(run(op, a, b), run(op, b, a)) {
					t.Errorf("%s: operation %d depends on the order", f.name, op)
				}
			}
			once := run(Union, a, b)
			// Snapping again may draw a point of the first result onto an edge within half a nanometre of it; where
			// none is so near nothing changes.
			twice := run(Union, Operand{Paths(once), NonZero}, Operand{})
			if off := regionArea(twice) - regionArea(once); math.Abs(off) > limit {
				t.Errorf("%s: the area of a union fused again changes by %.0f nm²", f.name, off)
			}
			if (f.name == "stars with holes" || f.name == "self-crossing") && !sameShapes(once, twice) {
				t.Errorf("%s: a union fused again changes", f.name)
			}
		}
	}
}

func sameShapes(p, q []Shape) bool {
	return slices.EqualFunc(p, q, func(a, b Shape) bool {
		return slices.EqualFunc(a.Path(), b.Path(), func(c, d Contour) bool { return slices.Equal(c.Segments, d.Segments) })
	})
}

// The order of operands, of contours, and where a contour begins do not show in the result.
func TestOrderDoesNotShow(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	var in []Operand
	for i := range 40 {
		c := Circle(pointAt(rnd.Float64()*20, rnd.Float64()*20), int64(mm*(1+2*rnd.Float64())))
		if i%3 == 0 {
			c = box(float64(rnd.Intn(20)), float64(rnd.Intn(20)), 3, 2)
		}
		for k := range c.Segments {
			c.Segments[k].Tag = int32(i)
		}
		in = append(in, Operand{Path: Path{c}})
	}
	in = append(in, in[:5]...)
	want, err := Fuse(in, 2000)
	if err != nil {
		t.Fatal(err)
	}
	if err := topology(want, 500); err != nil {
		t.Error(err)
	}
	for range 20 {
		rnd.Shuffle(len(in), func(i, j int) { in[i], in[j] = in[j], in[i] })
		for i := range in {
			s := slices.Clone(in[i].Path[0].Segments)
			rotate(s, rnd.Intn(len(s)))
			in[i].Path = Path{{Segments: s, Closed: true}}
		}
		got, err := Fuse(in, 2000)
		if err != nil {
			t.Fatal(err)
		}
		if !sameShapes(got, want) {
			t.Fatal("the result depends on the order of the input")
		}
	}
}

func TestTagsAreKept(t *testing.T) {
	a, b := box(0, 0, 2, 2), box(1, 1, 2, 2)
	for i := range a.Segments {
		a.Segments[i].Tag, b.Segments[i].Tag = int32(10+i), int32(20+i)
	}
	got, err := Fuse([]Operand{{Path: Path{a}}, {Path: Path{b}}}, 2000)
	if err != nil {
		t.Fatal(err)
	}
	var tags []int32
	for _, s := range got[0].Outer.Segments {
		tags = append(tags, s.Tag)
	}
	if !slices.Equal(tags, []int32{10, 11, 20, 21, 22, 23, 12, 13}) {
		t.Errorf("tags %v", tags)
	}
}
