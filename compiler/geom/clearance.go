package geom

import "math"

// Whatever reads an outline cuts its curves into chords of its own choice, and these must not cross either. Two curves
// are clear of each other if all chords within the tolerance are: a chord lies on the inner side of its curve and so
// needs room there, as much as it may leave the curve by.

// closestLook is how often two parts of curves are halved to find out whether they are clear of each other.
const closestLook = 7

// A flank is a part of a curve, or a straight edge, with the room that chords need.
type flank struct {
	c    [4]vec  // its control points
	room float64 // on its inner side; zero for a straight edge
}

// flankOf is the part of a curve from t0 to t1.
func flankOf(s *Segment, t0, t1, room float64) flank {
	f := flank{c: [4]vec{toVec(s.P0), toVec(s.P1), toVec(s.P2), toVec(s.P3)}, room: room}
	if t0 > 0 {
		_, f = f.at(t0)
	}
	if t1 < 1 {
		f, _ = f.at((t1 - t0) / (1 - t0))
	}
	return f
}

func straightFlank(a, b vec) flank { return flank{c: [4]vec{a, a, b, b}} }

// at parts the flank at t.
func (f *flank) at(t float64) (head, tail flank) {
	a, b, c, d := f.c[0], f.c[1], f.c[2], f.c[3]
	ab, bc, cd := between(a, b, t), between(b, c, t), between(c, d, t)
	abc, bcd := between(ab, bc, t), between(bc, cd, t)
	m := between(abc, bcd, t)
	return flank{[4]vec{a, ab, abc, m}, f.room}, flank{[4]vec{m, bcd, cd, d}, f.room}
}

func (f *flank) reversed() flank { return flank{[4]vec{f.c[3], f.c[2], f.c[1], f.c[0]}, f.room} }

// A crate is a turned rectangle.
type crate struct {
	along, across           vec // unit vectors
	lo, hi, nearer, farther float64
}

// crate is round the flank and the room that it needs.
func (f *flank) crate() crate {
	u := f.c[3].minus(f.c[0]).unit()
	if u.isZero() {
		u = vec{1, 0}
	}
	k := crate{along: u, across: vec{-u.y, u.x}}
	k.lo, k.hi = math.Inf(1), math.Inf(-1)
	k.nearer, k.farther = math.Inf(1), math.Inf(-1)
	for _, p := range f.c {
		x, y := p.dot(k.along), p.dot(k.across)
		k.lo, k.hi = min(k.lo, x), max(k.hi, x)
		k.nearer, k.farther = min(k.nearer, y), max(k.farther, y)
	}
	y := f.c[0].dot(k.across)
	bulgeUp, bulgeDown := k.farther-y, y-k.nearer
	if bulgeUp <= straightEnough || bulgeDown > straightEnough {
		k.farther += f.room
	}
	if bulgeDown <= straightEnough || bulgeUp > straightEnough {
		k.nearer -= f.room
	}
	return k
}

// straightEnough is how far a control point may be off the chord on one side, in nanometres, for a curve to count as
// bent to the other.
const straightEnough = 0.01

// reach is the least and the greatest of the crate in a direction.
func (k *crate) reach(d vec) (lo, hi float64) {
	x, y := d.dot(k.along), d.dot(k.across)
	a, b := min(float64(x*k.lo), float64(x*k.hi)), max(float64(x*k.lo), float64(x*k.hi))
	c, e := min(float64(y*k.nearer), float64(y*k.farther)), max(float64(y*k.nearer), float64(y*k.farther))
	return a + c, b + e
}

// onGrid is how far rounding to the grid may bring the points of two chords together.
const onGrid = 1.5

// apart says whether some line has one crate on either side.
func (k *crate) apart(m *crate) bool {
	for _, d := range [...]vec{k.across, m.across, k.along, m.along} {
		a, b := k.reach(d)
		c, e := m.reach(d)
		if b+onGrid < c || e+onGrid < a {
			return true
		}
	}
	return false
}

// clear says whether two flanks are clear of each other.
func clear(p, q *flank, depth int) bool {
	kp, kq := p.crate(), q.crate()
	if kp.apart(&kq) {
		return true
	}
	if depth == closestLook {
		return false
	}
	ps, qs, n, m := halved(p, q)
	for i := range n {
		for j := range m {
			if !clear(&ps[i], &qs[j], depth+1) {
				return false
			}
		}
	}
	return true
}

// halved halves the curves of two flanks.
func halved(p, q *flank) (ps, qs [2]flank, n, m int) {
	ps[0], qs[0], n, m = *p, *q, 1, 1
	if p.room > 0 {
		ps[0], ps[1] = p.at(0.5)
		n = 2
	}
	if q.room > 0 {
		qs[0], qs[1] = q.at(0.5)
		m = 2
	}
	return ps, qs, n, m
}

// clearFrom is clear for two flanks that begin in one point, which they may have in common.
func clearFrom(p, q *flank, depth int) bool {
	if p.diverges(q) {
		return true
	}
	if depth == closestLook {
		return false
	}
	ps, qs, n, m := halved(p, q)
	for i := range n {
		for j := range m {
			if i == 0 && j == 0 {
				if !clearFrom(&ps[0], &qs[0], depth+1) {
					return false
				}
			} else if !clear(&ps[i], &qs[j], depth+1) {
				return false
			}
		}
	}
	return true
}

// diverges says whether a line through the point in which two flanks begin has one on either side.
func (p *flank) diverges(q *flank) bool {
	var us, vs [3]vec
	us, n := p.directions()
	vs, m := q.directions()
	// On the grid there must be something between them where the shorter one ends.
	noAngle := onGrid / max(min(p.c[3].minus(p.c[0]).length(), q.c[3].minus(q.c[0]).length()), onGrid)
	var left, right bool
	for _, u := range us[:n] {
		for _, v := range vs[:m] {
			c := u.cross(v)
			left, right = left || !(c < -noAngle), right || !(c > noAngle)
		}
	}
	if n > 0 && m > 0 && left != right {
		return true
	}
	var axis vec
	for _, u := range us[:n] {
		axis = axis.plus(u)
	}
	for _, v := range vs[:m] {
		axis = axis.minus(v)
	}
	for _, u := range us[:n] {
		if u.dot(axis) <= 0 {
			return false
		}
	}
	for _, v := range vs[:m] {
		if v.dot(axis) >= 0 {
			return false
		}
	}
	return true
}

// directions are those from the first control point to the others.
func (f *flank) directions() (d [3]vec, n int) {
	for _, p := range f.c[1:] {
		if u := p.minus(f.c[0]).unit(); !u.isZero() {
			d[n] = u
			n++
		}
	}
	return d, n
}
