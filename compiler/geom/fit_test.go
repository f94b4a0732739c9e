package geom

import (
	"slices"
	"testing"
)

// strayFrom is the greatest distance of the points of a fitted contour from a polyline, and of the polyline from it.
func strayFrom(c Contour, polyline []Point, closed bool) (out, back float64) {
	drawn := Points(c, 50)
	one := func(from, to []Point) float64 {
		worst := 0.0
		for _, p := range from {
			best := 1e18
			for i := range to {
				if i == 0 && !closed {
					continue
				}
				best = min(best, offSegment(toVec(p), toVec(to[(i+len(to)-1)%len(to)]), toVec(to[i])))
			}
			worst = max(worst, best)
		}
		return worst
	}
	return one(drawn, polyline), one(polyline, drawn)
}

func checkFit(t *testing.T, polyline []Point, closed bool, tol int64, most int) Contour {
	t.Helper()
	c := Fit(polyline, closed, tol, 20)
	if out, back := strayFrom(c, polyline, closed); out > 1.5*float64(tol) || back > 1.5*float64(tol) {
		t.Errorf("the fit strays by %v and %v nm, %d allowed", out, back, tol)
	}
	if len(c.Segments) > most {
		t.Errorf("%d segments, at most %d wanted", len(c.Segments), most)
	}
	for i, s := range c.Segments {
		if i > 0 && c.Segments[i-1].P3 != s.P0 {
			t.Errorf("segment %d does not begin where the one before ended", i)
		}
	}
	if c.Closed != closed || (closed && c.Segments[len(c.Segments)-1].P3 != c.Segments[0].P0) {
		t.Error("not closed")
	}
	return c
}

func TestFitOfACircle(t *testing.T) {
	circle := Circle(Point{1e6, 2e6}, 10*Millimetre)
	c := checkFit(t, Points(circle, 500), true, 2000, 10)
	for i, s := range c.Segments {
		_, a := s.tangents()
		b, _ := c.Segments[(i+1)%len(c.Segments)].tangents()
		if s.Line || a.cross(b) > 1e-3 || a.dot(b) < 0 {
			t.Errorf("a corner or a line at segment %d", i)
		}
	}
}

func TestFitKeepsCornersAndStraights(t *testing.T) {
	// A lozenge's straight sides, with points along them, and a half circle on the last.
	sides := []Point{{0, 0}, {2e6, 1e6}, {4e6, 2e6}, {10e6, 5e6}, {20e6, 0}}
	arc, err := ParsePath("M20 0A10 10 0 0 1 0 0", Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	polyline := append(sides, Points(arc[0], 500)[1:]...)
	c := checkFit(t, polyline, true, 2000, 7)
	var corners []Point
	lines := 0
	for _, s := range c.Segments {
		corners = append(corners, s.P0)
		if s.Line {
			lines++
		}
	}
	for _, p := range []Point{{0, 0}, {10e6, 5e6}, {20e6, 0}} {
		if !slices.Contains(corners, p) {
			t.Errorf("the corner at %v is lost", p)
		}
	}
	if lines != 2 {
		t.Errorf("%d lines, want the two sides", lines)
	}
}

func TestFitOfALineThatRunsIntoACurve(t *testing.T) {
	path, err := ParsePath("M0 0H30A5 5 0 0 1 35 5V20", Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	c := checkFit(t, Points(path[0], 500), false, 2000, 5)
	first, last := c.Segments[0], c.Segments[len(c.Segments)-1]
	if !first.Line || first.P3 != (Point{30e6, 0}) || !last.Line || last.P0 != (Point{35e6, 5e6}) {
		t.Errorf("the straights are %v and %v", first, last)
	}
}

func TestFitOfManyCurves(t *testing.T) {
	for name, s := range testCurves {
		if name == "one_point" || name == "far" {
			continue
		}
		checkFit(t, Points(Contour{Segments: []Segment{s}}, 500), false, 2000, 14)
	}
}

func TestFitOfNextToNothing(t *testing.T) {
	if c := Fit(nil, true, 10, 20); len(c.Segments) != 0 {
		t.Errorf("nothing: %v", c)
	}
	if c := Fit([]Point{{3, 3}, {3, 3}}, true, 10, 20); len(c.Segments) != 1 {
		t.Errorf("a point: %v", c)
	}
	if c := Fit([]Point{{0, 0}, {9, 9}}, true, 10, 20); len(c.Segments) != 2 || !c.Segments[0].Line {
		t.Errorf("there and back: %v", c)
	}
	if c := Fit([]Point{{0, 0}, {9, 9}}, false, 10, 20); len(c.Segments) != 1 {
		t.Errorf("one line: %v", c)
	}
}
