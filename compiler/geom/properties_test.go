package geom

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func drawPoint(t *rapid.T, reach int64) Point {
	return Point{rapid.Int64Range(-reach, reach).Draw(t, "x"), rapid.Int64Range(-reach, reach).Draw(t, "y")}
}

func drawContour(t *rapid.T, draw func(*rapid.T, int64) Point, reach int64) Contour {
	n := rapid.IntRange(1, 6).Draw(t, "segments")
	first := draw(t, reach)
	at, out := first, Contour{Closed: true}
	for i := range n {
		to := draw(t, reach)
		if i == n-1 {
			to = first
		}
		if rapid.Bool().Draw(t, "line") {
			out.Segments = append(out.Segments, Line(at, to))
		} else {
			out.Segments = append(out.Segments, Cubic(at, draw(t, reach), draw(t, reach), to))
		}
		at = to
	}
	return out
}

func sameContour(a, b Contour) bool {
	return a.Closed == b.Closed && slices.Equal(a.Segments, b.Segments)
}

func TestMirrorTwiceIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Shape{Outer: drawContour(t, drawPoint, Reach), Holes: []Contour{drawContour(t, drawPoint, Reach)}}
		for _, m := range []Transform{MirrorX(), MirrorY()} {
			once := m.Shape(s)
			if twice := m.Shape(once); !sameContour(twice.Outer, s.Outer) || !sameContour(twice.Holes[0], s.Holes[0]) {
				t.Fatalf("mirrored twice: %v", twice)
			}
			if a, b := SignedArea(once.Outer), SignedArea(s.Outer); math.Abs(a-b) > 1e-12*math.Abs(b)+1e6 {
				t.Fatalf("an area of %v became %v in the mirror", b, a)
			}
		}
	})
}

func TestThenIsOneAfterTheOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func() Transform {
			m := Turn(rapid.Float64Range(-360, 360).Draw(t, "turn")).Then(Scale(rapid.Float64Range(0.1, 3).Draw(t, "scale")))
			m.E, m.F = rapid.Int64Range(-1e8, 1e8).Draw(t, "e"), rapid.Int64Range(-1e8, 1e8).Draw(t, "f")
			if rapid.Bool().Draw(t, "mirror") {
				m = MirrorX().Then(m)
			}
			return m
		}
		a, b, p := draw(), draw(), drawPoint(t, 1e8)
		one, two := a.Then(b).Point(p), b.Point(a.Point(p))
		if abs64(one.X-two.X) > 4 || abs64(one.Y-two.Y) > 4 {
			t.Fatalf("together %v, one after the other %v", one, two)
		}
		inv, ok := a.Inverse()
		if back := inv.Point(a.Point(p)); !ok || abs64(back.X-p.X) > 15 || abs64(back.Y-p.Y) > 15 {
			t.Fatalf("undone: %v, was %v", back, p)
		}
	})
}

// drawPlace is a point on hundredths of a millimetre.
func drawPlace(t *rapid.T, reach int64) Point {
	const step = 10 * Micrometre
	p := drawPoint(t, reach/step)
	return Point{p.X * step, p.Y * step}
}

// drawShapes are what a handful of rough closed curves cover.
func drawShapes(t *rapid.T) []Shape {
	var p Path
	for range rapid.IntRange(1, 2).Draw(t, "contours") {
		n := rapid.IntRange(3, 5).Draw(t, "corners")
		corners := make([]Point, n)
		for i := range corners {
			corners[i] = drawPlace(t, 20*Millimetre)
		}
		c := Contour{Closed: true}
		for i, a := range corners {
			b := corners[(i+1)%n]
			if rapid.Bool().Draw(t, "line") {
				c.Segments = append(c.Segments, Line(a, b))
			} else {
				c.Segments = append(c.Segments, Cubic(a, drawPlace(t, 20*Millimetre), drawPlace(t, 20*Millimetre), b))
			}
		}
		p = append(p, c)
	}
	s, err := Fuse([]Operand{{Path: p, Rule: Rule(rapid.IntRange(0, 3).Draw(t, "rule"))}}, 500)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func drawPen(t *rapid.T) Pen {
	return Pen{
		Width: rapid.Int64Range(20*Micrometre, 3*Millimetre).Draw(t, "width"),
		Cap:   Cap(rapid.IntRange(0, 2).Draw(t, "cap")),
		Join:  Join(rapid.IntRange(0, 2).Draw(t, "join")),
	}
}

// outside is how much of a sticks out of b, in square nanometres.
func outside(t *rapid.T, a, b []Shape) float64 {
	left, err := Boolean(Without, Operand{Path: Paths(a)}, Operand{Path: Paths(b)}, 200)
	if err != nil {
		t.Fatal(err)
	}
	return totalArea(left)
}

func everyRingIsClosed(t *rapid.T, shapes []Shape) {
	isSound(t, shapes)
	for _, c := range Paths(shapes) {
		if !c.Closed || c.Segments[len(c.Segments)-1].P3 != c.Segments[0].P0 {
			t.Fatalf("not closed: %v", c)
		}
		if err := inOrder(c.Segments); err != nil {
			t.Fatal(err)
		}
	}
}

// isSound looks for crossings at several finenesses: chords of any length up to the tolerance must be free of them.
func isSound(t *rapid.T, shapes []Shape) {
	for _, tol := range []int64{125, 50} {
		if err := topology(shapes, tol); err != nil {
			t.Fatalf("cut into chords within %d nm: %v", tol, err)
		}
	}
}

func perimeter(shapes []Shape) float64 {
	sum := 0.0
	for _, c := range Paths(shapes) {
		sum += Length(c, 1000)
	}
	return sum
}

func TestOffsetOutContainsTheOriginal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawShapes(t)
		d := rapid.Int64Range(10_000, 2*Millimetre).Draw(t, "distance")
		join := Join(rapid.IntRange(0, 2).Draw(t, "join"))
		const tol = 2000
		out, err := Offset(s, d, join, 4, tol)
		if err != nil {
			t.Fatal(err)
		}
		everyRingIsClosed(t, out)
		if a := outside(t, s, out); a > 0 {
			t.Fatalf("%v nm² of the original stick out", a)
		}
		// With round joins; a bevel is nearer to its corner than the distance, and coming back cuts into it.
		if out, err = Offset(s, d, RoundJoin, 4, tol); err != nil {
			t.Fatal(err)
		}
		back, err := Offset(out, -d, RoundJoin, 4, tol)
		if err != nil {
			t.Fatal(err)
		}
		everyRingIsClosed(t, back)
		if a := outside(t, s, back); a > perimeter(s)*2*tol {
			t.Fatalf("out and in again, %v nm² of the original stick out", a)
		}
	})
}

func TestStrokesAreSoundAndCoverTheirPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawContour(t, drawPlace, 20*Millimetre)
		if rapid.Bool().Draw(t, "open") && len(c.Segments) > 1 {
			c = Contour{Segments: c.Segments[:len(c.Segments)-1]}
		}
		pen := drawPen(t)
		got, err := Stroke(Path{c}, pen, 2000)
		if err != nil {
			t.Fatal(err)
		}
		everyRingIsClosed(t, got)
		for _, s := range c.Segments {
			if s.P0 == s.P3 && s.Line {
				continue
			}
			p := s.at(0.5, 0.5).grid()
			if !slices.ContainsFunc(got, func(s Shape) bool { return Contains(s, p, 100) }) {
				t.Fatalf("the stroke does not cover %v, on its path", p)
			}
		}
	})
}
