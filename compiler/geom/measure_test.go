package geom

import (
	"math"
	"testing"
)

func TestAreasByFormula(t *testing.T) {
	for name, c := range map[string]struct {
		contour Contour
		want    float64
	}{
		"square":              {Rect(5, 5, 15, 15), 100},
		"square backwards":    {Rect(5, 5, 15, 15).Reverse(), -100},
		"open square":         {Contour{Segments: Rect(5, 5, 15, 15).Segments[:3]}, 100},
		"wound twice":         {Contour{Closed: true, Segments: append(Rect(0, 0, 3, 3).Segments, Rect(0, 0, 3, 3).Segments...)}, 18},
		"nothing":             {Contour{}, 0},
		"far from the origin": {Rect(999_999_990, 999_999_990, 1_000_000_000, 1_000_000_000), 100},
	} {
		if got := SignedArea(c.contour); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	arch := Contour{Closed: true, Segments: []Segment{
		Cubic(Point{0, 0}, Point{0, 10}, Point{20, 10}, Point{20, 0}),
		Line(Point{20, 0}, Point{0, 0}),
	}}
	// x(t) = 60t²(1−t) + 20t³, y(t) = 30t(1−t): −∫ y dx over [0, 1] is −120.
	if got := SignedArea(arch); math.Abs(got+120) > 1e-9 {
		t.Errorf("arch: %v, want −120", got)
	}
}

func TestAreaOfAShapeLeavesOutItsHoles(t *testing.T) {
	s := Shape{Outer: Rect(0, 0, 10, 10), Holes: []Contour{Rect(2, 2, 4, 4).Reverse(), Rect(6, 6, 9, 9).Reverse()}}
	if s.Area() != 100-4-9 {
		t.Errorf("got %v", s.Area())
	}
}

func TestLength(t *testing.T) {
	if l := Length(Rect(0, 0, 30, 40), 1); l != 140 {
		t.Errorf("a rectangle: %v", l)
	}
	const r = 20 * Millimetre
	for _, tol := range []int64{100, 10_000} {
		if l, want := Length(Circle(Point{}, r), tol), 2*math.Pi*float64(r); math.Abs(l-want) > 8*float64(tol)+5e-6*want {
			t.Errorf("a circle: %v, want %v", l, want)
		}
	}
}

func TestBoundsAlongTheCurve(t *testing.T) {
	arch := Cubic(Point{0, 0}, Point{0, 10_000}, Point{20_000, 10_000}, Point{20_000, 0})
	if b := (Path{{Segments: []Segment{arch}}}).Bounds(); b != (Box{Point{0, 0}, Point{20_000, 7_500}}) {
		t.Errorf("an arch whose arms rise to 10 rises to 7.5: %v", b)
	}
	for name, s := range testCurves {
		b := s.bounds()
		reached := EmptyBox()
		for k := 0; k <= 4000; k++ {
			u := float64(k) / 4000
			p := s.at(u, 1-u).grid()
			reached = reached.Union(Box{p, p})
		}
		size := max(b.Width(), b.Height())
		if off := b.Min.X - reached.Min.X; off > 0 || off < -size/1e5 {
			t.Errorf("%s: left side %d off", name, off)
		}
		if reached.Union(b) != b || b.Width()-reached.Width() > size/1e5 || b.Height()-reached.Height() > size/1e5 {
			t.Errorf("%s: bounds %v, reached %v", name, b, reached)
		}
	}
	c := Circle(Point{7, 9}, 30*Millimetre)
	if b := (Path{c}).Bounds(); b != (Box{Point{7 - 30e6, 9 - 30e6}, Point{7 + 30e6, 9 + 30e6}}) {
		t.Errorf("a circle: %v", b)
	}
}

func TestBoxes(t *testing.T) {
	b := Box{Point{0, 0}, Point{10, 4}}
	if !EmptyBox().Empty() || b.Empty() || (Box{}).Empty() {
		t.Error("emptiness")
	}
	if b.Union(EmptyBox()) != b || EmptyBox().Union(b) != b {
		t.Error("nothing adds nothing")
	}
	if got := b.Union(Box{Point{-3, 2}, Point{1, 9}}); got != (Box{Point{-3, 0}, Point{10, 9}}) {
		t.Errorf("union: %v", got)
	}
	if got := b.Inset(1); got != (Box{Point{1, 1}, Point{9, 3}}) {
		t.Errorf("inset: %v", got)
	}
	if !b.Inset(3).Empty() || !EmptyBox().Inset(-1<<60).Empty() {
		t.Error("what the inset uses up is empty, and what is empty stays so")
	}
	if b.Centre() != (Point{5, 2}) {
		t.Errorf("centre: %v", b.Centre())
	}
	if BoundsOf(nil) != EmptyBox() || (Shape{}).Bounds() != EmptyBox() {
		t.Error("nothing has bounds")
	}
	two := []Shape{{Outer: Rect(0, 0, 1, 1)}, {Outer: Rect(5, 5, 9, 6)}}
	if got := BoundsOf(two); got != (Box{Point{0, 0}, Point{9, 6}}) {
		t.Errorf("of two: %v", got)
	}
}

func TestContains(t *testing.T) {
	s := Shape{Outer: Rect(0, 0, 100, 100), Holes: []Contour{Rect(40, 40, 60, 60).Reverse()}}
	for p, want := range map[Point]bool{
		{10, 10}: true, {50, 50}: false, {-1, 50}: false, {50, 101}: false, {99, 99}: true,
		{0, 50}: true, {50, 0}: true, {100, 100}: true, // on the outline
		{40, 50}: true, {60, 60}: true, // on the hole's outline
		{39, 60}: true, {70, 40}: true, // level with corners of the hole
	} {
		if got := Contains(s, p, 1); got != want {
			t.Errorf("%v: %v", p, got)
		}
	}
	big := Shape{Outer: Polygon(Point{-Reach, -Reach}, Point{Reach, -Reach + 1}, Point{Reach, Reach})}
	if Contains(big, Point{0, 1}, 1) || !Contains(big, Point{1, 0}, 1) || !Contains(big, Point{0, 0}, 1) {
		t.Error("a nanometre off a diagonal of two metres")
	}
}
