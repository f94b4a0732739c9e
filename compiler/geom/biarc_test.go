package geom

import (
	"math"
	"testing"
)

// arcAt is a place on an arc, u of its turn from the beginning: a rational curve in the bulge, so no sine is needed.
func arcAt(a Arc, u float64) vec {
	from, to := toVec(a.From), toVec(a.To)
	if a.Bulge == 0 {
		return between(from, to, u)
	}
	turn := 4 * math.Atan(a.Bulge)
	w := to.minus(from)
	r := w.length() / 2 / math.Sin(turn/2)
	centre := between(from, to, 0.5).plus(vec{-w.y, w.x}.unit().times(r * math.Cos(turn/2)))
	s, c := math.Sincos(turn * u)
	d := from.minus(centre)
	return centre.plus(vec{c*d.x - s*d.y, s*d.x + c*d.y})
}

func TestArcsKeepWithinTheirTolerance(t *testing.T) {
	total := 0
	for name, s := range testCurves {
		const tol = 5_000
		arcs := Arcs(s, tol)
		if name != "far" {
			total += len(arcs)
		}
		polyline := Points(Contour{Segments: []Segment{s}}, 100)
		for i, a := range arcs {
			if i > 0 && arcs[i-1].To != a.From {
				t.Errorf("%s: arc %d does not begin where the one before ended", name, i)
			}
			for k := 1; k < 4; k++ {
				v := arcAt(a, float64(k)/4)
				best := v.minus(toVec(polyline[0])).length()
				for j := 1; j < len(polyline); j++ {
					best = min(best, offSegment(v, toVec(polyline[j-1]), toVec(polyline[j])))
				}
				if best > tol+110 {
					t.Errorf("%s: arc %d is %v nm off", name, i, best)
				}
			}
		}
		if arcs[0].From != s.P0 || arcs[len(arcs)-1].To != s.P3 {
			t.Errorf("%s: the ends are %v and %v", name, arcs[0].From, arcs[len(arcs)-1].To)
		}
	}
	if total > 80 {
		t.Errorf("%d arcs", total)
	}
}

func TestArcsJoinSmoothly(t *testing.T) {
	for _, name := range []string{"arch", "ess", "loop"} {
		arcs := Arcs(testCurves[name], 5*Micrometre)
		for i := 1; i < len(arcs); i++ {
			end := arcAt(arcs[i-1], 1).minus(arcAt(arcs[i-1], 0.999)).unit()
			begin := arcAt(arcs[i], 0.001).minus(arcAt(arcs[i], 0)).unit()
			if math.Abs(end.cross(begin)) > 5e-3 {
				t.Errorf("%s: a corner of %v between arcs %d and %d", name, end.cross(begin), i-1, i)
			}
		}
	}
}

func TestArcsOfACircleAreTheCircle(t *testing.T) {
	for _, s := range Circle(Point{}, 10*Millimetre).Segments {
		arcs := Arcs(s, 5*Micrometre)
		if len(arcs) != 2 {
			t.Fatalf("%d arcs for an eighth of a circle", len(arcs))
		}
		for _, a := range arcs {
			if want := math.Tan(math.Pi / 4 / 2 / 4); math.Abs(a.Bulge-want) > 1e-6 {
				t.Errorf("bulge %v, want %v", a.Bulge, want)
			}
		}
	}
}

func TestArcsOfALine(t *testing.T) {
	if a := Arcs(Line(Point{1, 2}, Point{3, 4}), 5); len(a) != 1 || a[0] != (Arc{From: Point{1, 2}, To: Point{3, 4}}) {
		t.Errorf("got %v", a)
	}
	flat := testCurves["flat"]
	if a := Arcs(flat, 5); len(a) != 2 || a[0].Bulge != 0 {
		t.Errorf("a flat curve: %v", a)
	}
}
