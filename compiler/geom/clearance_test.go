package geom

import (
	"fmt"
	"testing"
)

// needle is a line and a curve that leave one point in all but the same direction, in hundredths of a millimetre: between
// chords of 125 nm there is room, but the curve lies on the other side of the line for most of its way.
func needle() Contour {
	p := func(x, y int64) Point { return Point{x * 10 * Micrometre, y * 10 * Micrometre} }
	return Contour{Closed: true, Segments: []Segment{
		Line(p(0, 0), p(-2, 1)), Line(p(-2, 1), p(588, 171)), Cubic(p(588, 171), p(3, 1), p(0, 486), p(0, 0)),
	}}
}

// soundAt looks for crossings between chords from the coarsest that outlines must stand, a quarter of the tolerance they
// were made with, to as fine as the grid.
func soundAt(t *testing.T, what string, shapes []Shape, coarsest int64) {
	t.Helper()
	for tol := coarsest; tol > 0; tol = tol * 2 / 3 {
		if err := topology(shapes, tol); err != nil {
			t.Errorf("%s, cut into chords within %d nm: %v", what, tol, err)
			return
		}
	}
}

func TestACurveThatGrazesALineDoesNotCrossIt(t *testing.T) {
	s, err := Fuse([]Operand{{Path: Path{needle()}}}, 500)
	if err != nil {
		t.Fatal(err)
	}
	soundAt(t, "the needle", s, 125)
	out, err := Offset(s, 10*Micrometre, RoundJoin, 4, 2000)
	if err != nil {
		t.Fatal(err)
	}
	soundAt(t, "grown", out, 125)
	back, err := Offset(out, -10*Micrometre, RoundJoin, 4, 2000)
	if err != nil {
		t.Fatal(err)
	}
	soundAt(t, "grown and shrunk again", back, 125)
}

// Rings of curves with little between them: concentric, or touching from within. Their chords are of other lengths and
// would cross where the curves do not.
func TestRingsThatAreNearlyOneStayApart(t *testing.T) {
	for _, apart := range []int64{1, 3, 10, 40, 200, 900, 3000} {
		for _, shift := range []int64{0, apart / 2, apart} {
			ring := Path{Circle(Point{}, 5*Millimetre+apart), Circle(Point{shift, 0}, 5*Millimetre).Reverse()}
			got, err := Fuse([]Operand{{Path: ring}}, 2000)
			if err != nil {
				t.Fatal(err)
			}
			soundAt(t, fmt.Sprintf("%d nm apart, %d nm aside", apart, shift), got, 500)
		}
	}
}

// Discs in discs leave crescents whose tips are needles.
func TestCrescents(t *testing.T) {
	for _, r := range []int64{1, 4, 4_900, 4_999} {
		for _, over := range []int64{10, 100, 1000, 10_000, 300_000} {
			a := Operand{Path: Path{Circle(Point{}, 5*Millimetre)}}
			b := Operand{Path: Path{Circle(Point{5*Millimetre - r*Micrometre + over, 0}, r*Micrometre)}}
			for op := Union; op <= Exclusive; op++ {
				got, err := Boolean(op, a, b, 2000)
				if err != nil {
					t.Fatal(err)
				}
				soundAt(t, fmt.Sprintf("radius %d µm, out by %d nm, operation %d", r, over, op), got, 500)
			}
		}
	}
}

func TestClearFlanks(t *testing.T) {
	bow := func(x, y, rise float64) flank { // 100 wide
		return flank{c: [4]vec{{x, y}, {x + 33, y + rise}, {x + 67, y + rise}, {x + 100, y}}, room: rise}
	}
	up, down := bow(0, 0, 9), bow(0, 30, -9)
	tests := []struct {
		name string
		p, q flank
		want bool
	}{
		{"bulging towards each other", up, down, true},
		{"bulging towards each other and meeting", up, bow(0, 12, -9), false},
		{"side by side with room for chords", up, bow(0, 12, 9), true},
		{"side by side without", up, bow(0, 6, 9), false},
		{"a line on the outer side", up, straightFlank(vec{0, 10}, vec{100, 10}), true},
		{"a line on the inner side, where chords are", up, straightFlank(vec{20, -5}, vec{80, -5}), false},
		{"end to end", up, bow(103, 0, 9), true},
	}
	for _, c := range tests {
		if got := clear(&c.p, &c.q, 0); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
		if got := clear(&c.q, &c.p, 0); got != c.want {
			t.Errorf("%s, the other way round: %v", c.name, got)
		}
	}
	meeting := []struct {
		name string
		p, q flank
		want bool
	}{
		{"one curve going on", up, bow(-100, 0, 9), true},
		{"bending away from each other", up, flank{c: [4]vec{{0, 0}, {33, -9}, {67, -9}, {90, -3}}, room: 9}, true},
		{"on each other", up, up, false},
		{"a line between curve and chord", up, straightFlank(vec{0, 0}, vec{100, 4}), false},
	}
	for _, c := range meeting {
		if c.name == "one curve going on" {
			c.q = c.q.reversed()
		}
		if got := clearFrom(&c.p, &c.q, 0); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
