package geom

// A cubicFit looks for the one cubic with given ends and end directions that runs along some points.
type cubicFit struct {
	p            []vec
	u            []float64 // the parameter at which the curve should pass each point
	leave, reach vec
	tol          float64
	c            [4]vec
	miss         float64 // the greatest distance found
}

// newCubicFit begins with the given parameters, stretched to run from 0 to 1.
func newCubicFit(p []vec, along []float64, leave, reach vec, tol float64) *cubicFit {
	f := &cubicFit{p: p, u: make([]float64, len(p)), leave: leave, reach: reach, tol: tol}
	begin, end := along[0], along[len(p)-1]
	for i := range f.u {
		f.u[i] = (along[i] - begin) / (end - begin)
	}
	return f
}

// chordLengths is how far along a polyline each of its points is.
func chordLengths(p []vec) []float64 {
	out := make([]float64, len(p))
	for i := 1; i < len(p); i++ {
		out[i] = out[i-1] + p[i].minus(p[i-1]).length()
	}
	return out
}

// fit says whether the curve came within the tolerance. The number of rounds is a choice: half as many leave a twentieth
// more curves, twice as many save less than that.
func (f *cubicFit) fit() bool {
	for range 12 {
		f.solve()
		f.measure()
		if f.miss <= f.tol {
			return true
		}
		if f.miss > 30*f.tol {
			return false
		}
		f.improve()
	}
	return false
}

// solve finds the arms by least squares. Where the points say nothing about them, or would have them turn back, both are
// a third of the chord.
func (f *cubicFit) solve() {
	a, b := f.p[0], f.p[len(f.p)-1]
	var c00, c01, c11, x0, x1 float64
	for i, t := range f.u {
		v := 1 - t
		b1, b2 := float64(3*float64(t*float64(v*v))), float64(3*float64(v*float64(t*t)))
		b0, b3 := float64(v*float64(v*v)), float64(t*float64(t*t))
		l, r := f.leave.times(b1), f.reach.times(-b2)
		c00 += l.dot(l)
		c01 += l.dot(r)
		c11 += r.dot(r)
		rest := f.p[i].minus(a.times(b0 + b1)).minus(b.times(b2 + b3))
		x0 += l.dot(rest)
		x1 += r.dot(rest)
	}
	chord := b.minus(a).length()
	l, r := chord/3, chord/3
	if det := float64(c00*c11) - float64(c01*c01); det > float64(1e-12*float64(c00*c11)) {
		p, q := (float64(x0*c11)-float64(x1*c01))/det, (float64(c00*x1)-float64(c01*x0))/det
		if least := float64(1e-3 * chord); p > least && q > least {
			l, r = p, q
		}
	}
	f.c = [4]vec{a, a.plus(f.leave.times(l)), b.minus(f.reach.times(r)), b}
}

func (f *cubicFit) at(t float64) vec {
	c := f.c
	p, q, r := between(c[0], c[1], t), between(c[1], c[2], t), between(c[2], c[3], t)
	return between(between(p, q, t), between(q, r, t), t)
}

// measure finds the greatest distance between the curve and the points, and between it and the edges at their middles.
func (f *cubicFit) measure() {
	f.miss = 0
	for i := 1; i < len(f.p); i++ {
		if i < len(f.p)-1 {
			f.miss = max(f.miss, f.at(f.u[i]).minus(f.p[i]).length())
		}
		edge := f.p[i].minus(f.p[i-1]).unit()
		middle := f.at((f.u[i-1] + f.u[i]) / 2).minus(f.p[i-1])
		off := edge.cross(middle)
		f.miss = max(f.miss, off, -off)
	}
}

// improve moves each parameter towards the foot of the perpendicular from its point, and keeps them in order.
func (f *cubicFit) improve() {
	c := f.c
	d0, d1, d2 := c[1].minus(c[0]).times(3), c[2].minus(c[1]).times(3), c[3].minus(c[2]).times(3)
	for i := 1; i < len(f.p)-1; i++ {
		t := f.u[i]
		off := f.at(t).minus(f.p[i])
		p, q := between(d0, d1, t), between(d1, d2, t)
		speed, change := between(p, q, t), q.minus(p).times(2)
		if steep := speed.dot(speed) + off.dot(change); steep > 0 {
			t -= off.dot(speed) / steep
		}
		f.u[i] = min(max(t, f.u[i-1]), 1)
	}
}

// segment is the curve on the grid, or the line from end to end where the curve and its arms keep within an eighth of
// the tolerance of it.
func (f *cubicFit) segment() Segment {
	a, b := f.c[0], f.c[3]
	along := b.minus(a).unit()
	straight := true
	for _, p := range append([]vec{f.c[1], f.c[2]}, f.p...) {
		if off := along.cross(p.minus(a)); max(off, -off) > f.tol/8 {
			straight = false
			break
		}
	}
	if straight && !along.isZero() {
		return Line(a.grid(), b.grid())
	}
	return Cubic(a.grid(), f.c[1].grid(), f.c[2].grid(), b.grid())
}
