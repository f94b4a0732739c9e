package geom

import "math"

// An Arc is a circular arc, or a line where Bulge is 0. Bulge is the tangent of a quarter of the turn, as DXF polylines
// have it: positive where the arc turns from the x axis towards the y axis, 1 for a half circle.
type Arc struct {
	From, To Point
	Bulge    float64
}

// arcLooks is how many places of a curve are compared with its arcs. A choice: the error of a biarc has at most two
// humps a side.
const arcLooks = 16

// parts is the finest part of a curve that gets arcs of its own, and 2 to the power of halvings; what still does not fit
// there, at a cusp, is a line. A choice: a curve of 300 mm has parts of 75 µm then.
const (
	halvings = 12
	parts    = 1 << halvings
)

// Arcs draws a segment as circular arcs that join with one tangent and stay within tol of it, apart from the rounding of
// their ends to the grid. Each pair of arcs reaches as far as it can, which is found by halving.
func Arcs(s Segment, tol int64) []Arc {
	if s.Line {
		return []Arc{{From: s.P0, To: s.P3}}
	}
	near := float64(max(tol, 1))
	var out []Arc
	for t := 0.0; t < 1; {
		rest := s.Sub(t, 1)
		if rest.polygon() <= near {
			return append(out, Arc{From: rest.P0, To: rest.P3})
		}
		reach := 1.0
		b, ok := biarcWithin(rest, near)
		if !ok {
			low, high := t, 1.0
			for range halvings {
				middle := (low + high) / 2
				if c, fits := biarcWithin(s.Sub(t, middle), near); fits {
					b, ok, low = c, true, middle
				} else {
					high = middle
				}
			}
			reach = low
		}
		if ok {
			out = append(out, b.arcs()...)
		} else {
			reach = min(t+1.0/parts, 1)
			out = append(out, Arc{From: rest.P0, To: s.onGrid(reach)})
		}
		t = reach
	}
	return out
}

// biarcWithin is the biarc of a segment, where it has one that keeps within tol of it.
func biarcWithin(s Segment, tol float64) (biarc, bool) {
	b, ok := biarcOf(s)
	return b, ok && b.within(s, tol)
}

// A biarc is two arcs that begin and end as a curve does, with one tangent where they meet.
type biarc struct {
	from, middle, to vec
	leave, reach     vec
}

// biarcOf takes the biarc whose tangent lengths are equal at both ends. It says false where the curve's ends are one
// point or its tangents allow none.
func biarcOf(s Segment) (biarc, bool) {
	b := biarc{from: toVec(s.P0), to: toVec(s.P3)}
	b.leave, b.reach = s.tangents()
	v, t := b.to.minus(b.from), b.leave.plus(b.reach)
	if v.isZero() || b.leave.isZero() {
		return b, false
	}
	// The length d of the tangents solves |v|² − 2d·(v·t) − 2d²·(1 − leave·reach) = 0. Written with the difference of the
	// tangents, and solved without cancellation, for nearly parallel tangents.
	diff := b.leave.minus(b.reach)
	a, half, c := diff.dot(diff), v.dot(t), v.dot(v)
	root := math.Sqrt(float64(half*half) + float64(a*c))
	var d float64
	switch {
	case half > 0:
		d = c / (half + root)
	case a > 0:
		d = (root - half) / a
	default:
		return b, false
	}
	b.middle = between(b.from.plus(b.leave.times(d)), b.to.minus(b.reach.times(d)), 0.5)
	return b, b.middle.finite()
}

// bulge is the bulge of the arc that leaves along u and has the chord w: the angle between the two is half the turn.
func bulge(u, w vec) float64 {
	l := w.length() + u.dot(w)
	if l <= 0 {
		return 0
	}
	return u.cross(w) / l
}

func (b biarc) arcs() []Arc {
	k1 := bulge(b.leave, b.middle.minus(b.from))
	k2 := -bulge(b.reach.times(-1), b.middle.minus(b.to))
	from, middle, to := b.from.grid(), b.middle.grid(), b.to.grid()
	if middle == from {
		return []Arc{{From: from, To: to, Bulge: k2}}
	}
	if middle == to {
		return []Arc{{From: from, To: to, Bulge: k1}}
	}
	return []Arc{{From: from, To: middle, Bulge: k1}, {From: middle, To: to, Bulge: k2}}
}

// within says whether the curve keeps within tol of the biarc. Places before the meeting point, as seen along the
// tangent there, are compared with the first arc and the others with the second. Arcs of more than a quarter turn are
// refused, so that near the circle means near the arc.
func (b biarc) within(s Segment, tol float64) bool {
	w1, w2 := b.middle.minus(b.from), b.to.minus(b.middle)
	if w1.isZero() || w2.isZero() {
		return false
	}
	if b.leave.dot(w1) < float64(0.70710678118654752440*w1.length()) || b.reach.dot(w2) < float64(0.70710678118654752440*w2.length()) {
		return false
	}
	across := w1.unit().plus(w2.unit())
	for i := 1; i < arcLooks; i++ {
		t := float64(i) / arcLooks
		p := s.at(t, 1-t)
		off := 0.0
		if p.minus(b.middle).dot(across) < 0 {
			off = offCircle(b.from, b.leave, b.middle, p)
		} else {
			off = offCircle(b.to, b.reach, b.middle, p)
		}
		if off > tol {
			return false
		}
	}
	return true
}

// offCircle is the distance of x from the circle through p, with the direction u there, and q.
func offCircle(p, u, q, x vec) float64 {
	w, normal := q.minus(p), vec{-u.y, u.x}
	curvature := 2 * normal.dot(w) / w.dot(w)
	y := x.minus(p)
	// |y|²·curvature/2 − normal·y is zero on the circle, and this many times too great off it.
	off := float64(y.dot(y)*curvature)/2 - normal.dot(y)
	centre := y.times(curvature).minus(normal).length()
	return math.Abs(off) * 2 / (1 + centre)
}
