package geom

import (
	"math"
	"testing"
)

// testCurves are cubics of every kind: an arch, an S, a loop, a cusp, a flat one, one with its arms in its ends, a point.
var testCurves = map[string]Segment{
	"arch":      Cubic(Point{0, 0}, Point{0, 4e6}, Point{9e6, 5e6}, Point{10e6, 0}),
	"ess":       Cubic(Point{1e6, 2e6}, Point{12e6, -3e6}, Point{-4e6, 9e6}, Point{8e6, 8e6}),
	"loop":      Cubic(Point{0, 0}, Point{20e6, 15e6}, Point{-10e6, 15e6}, Point{10e6, 0}),
	"cusp":      Cubic(Point{0, 0}, Point{10e6, 10e6}, Point{0, 10e6}, Point{10e6, 0}),
	"flat":      Cubic(Point{0, 0}, Point{3e6, 3e6}, Point{7e6, 7e6}, Point{10e6, 10e6}),
	"armless":   Cubic(Point{0, 0}, Point{0, 0}, Point{5e6, 7e6}, Point{5e6, 7e6}),
	"far":       Cubic(Point{-1e9, -1e9}, Point{-1e9, 1e9}, Point{1e9, 1e9}, Point{1e9, -1e9}),
	"one_point": Cubic(Point{5, 5}, Point{5, 5}, Point{5, 5}, Point{5, 5}),
}

func TestFlattenToKeepsWithinItsTolerance(t *testing.T) {
	for name, s := range testCurves {
		for _, tol := range []int64{100, 2000, 50_000} {
			last, lastT := s.P0, 0.0
			s.FlattenTo(tol, func(u float64, p Point) {
				if u <= lastT || u > 1 {
					t.Errorf("%s: the parameter %v follows %v", name, u, lastT)
				}
				for k := 1; k < 8; k++ {
					m := lastT + (u-lastT)*float64(k)/8
					if d := offSegment(s.at(m, 1-m), toVec(last), toVec(p)); d > float64(tol)+0.72 {
						t.Errorf("%s at %v: %v nm off a chord, %d allowed", name, m, d, tol)
					}
				}
				last, lastT = p, u
			})
			if last != s.P3 || lastT != 1 {
				t.Errorf("%s ends at %v (%v)", name, last, lastT)
			}
		}
	}
}

func TestFlattenToIsTheSameBackwards(t *testing.T) {
	for name, s := range testCurves {
		forward := Points(Contour{Segments: []Segment{s}}, 777)
		back := Points(Contour{Segments: []Segment{s.Reverse()}}, 777)
		if len(forward) != len(back) {
			t.Fatalf("%s: %d points forward, %d back", name, len(forward), len(back))
		}
		for i, p := range forward {
			if back[len(back)-1-i] != p {
				t.Errorf("%s: point %d is %v forward and %v back", name, i, p, back[len(back)-1-i])
			}
		}
	}
}

func TestLinesGiveOnlyTheirEnds(t *testing.T) {
	count := 0
	Line(Point{0, 0}, Point{5, 5}).FlattenTo(1, func(u float64, p Point) {
		count++
		if u != 1 || p != (Point{5, 5}) {
			t.Errorf("got %v at %v", p, u)
		}
	})
	if count != 1 {
		t.Errorf("%d points", count)
	}
}

func TestSubIsThePart(t *testing.T) {
	for name, s := range testCurves {
		for _, r := range [][2]float64{{0, 1}, {0.2, 0.7}, {0.7, 0.2}, {0, 0.5}, {0.5, 1}, {1, 0}} {
			part := s.Sub(r[0], r[1])
			for k := 0; k <= 8; k++ {
				u := float64(k) / 8
				m := r[0] + (r[1]-r[0])*u
				if d := part.at(u, 1-u).minus(s.at(m, 1-m)).length(); d > 0.8 {
					t.Errorf("%s from %v to %v is %v nm off at %v", name, r[0], r[1], d, u)
				}
			}
		}
		if s.Sub(0, 1) != s || s.Sub(1, 0) != s.Reverse() {
			t.Errorf("%s: the whole is not the whole", name)
		}
	}
}

func TestDerivIsTheSlopeOfAt(t *testing.T) {
	for name, s := range testCurves {
		for _, u := range []float64{0.1, 0.5, 0.9} {
			const h = 1e-6
			x0, y0 := s.At(u - h)
			x1, y1 := s.At(u + h)
			dx, dy := s.Deriv(u)
			if Hypot((x1-x0)/(2*h)-dx, (y1-y0)/(2*h)-dy) > 1e-6*(1+Hypot(dx, dy))+0.5 {
				t.Errorf("%s at %v: %v, %v", name, u, dx, dy)
			}
		}
	}
}

func TestCirclesKeepTheErrorTheyState(t *testing.T) {
	for _, c := range []struct {
		r      int64
		pieces int
		worst  float64
	}{{1 * Millimetre, 4, 2.73e-4}, {2 * Millimetre, 8, 4.27e-6}, {65 * Millimetre, 8, 4.27e-6}, {500 * Millimetre, 16, 6.7e-8}} {
		centre := Point{3 * Millimetre, -7 * Millimetre}
		circle := Circle(centre, c.r)
		if len(circle.Segments) != c.pieces {
			t.Errorf("radius %d has %d pieces", c.r, len(circle.Segments))
		}
		for _, s := range circle.Segments {
			for k := 0; k <= 20; k++ {
				u := float64(k) / 20
				off := s.at(u, 1-u).minus(toVec(centre)).length() - float64(c.r)
				if off < -1 || off > c.worst*float64(c.r)+1 {
					t.Errorf("radius %d is %v nm off at %v", c.r, off, u)
				}
			}
		}
		area := SignedArea(circle)
		if want := math.Pi * float64(c.r) * float64(c.r); math.Abs(area/want-1) > 2*c.worst {
			t.Errorf("radius %d has the area %v, want %v", c.r, area, want)
		}
	}
}

func TestPointsDropRepeats(t *testing.T) {
	c := Polygon(Point{0, 0}, Point{0, 0}, Point{9, 0}, Point{9, 9}, Point{9, 9})
	if got := Points(c, 1); len(got) != 3 {
		t.Errorf("got %v", got)
	}
	c.Closed = false
	if got := Points(c, 1); len(got) != 4 || got[0] != got[3] {
		t.Errorf("open, back to its beginning: got %v", got)
	}
	if Points(Contour{}, 1) != nil {
		t.Error("nothing has points")
	}
}

func TestWhatHasNoPlaceOnTheGridIsPutFarOut(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), 1e300} {
		if toGrid(x) != offGrid {
			t.Errorf("%v became %d", x, toGrid(x))
		}
	}
	if toGrid(math.Inf(-1)) != -offGrid || toGrid(-0.5) != -1 || toGrid(2.5) != 3 || toGrid(-2.4) != -2 {
		t.Error("rounding")
	}
}
