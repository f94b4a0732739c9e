package geom

import (
	"cmp"
	"math"
	"slices"
)

// mostSpike is how many tolerances from where curves cross at a small angle their chords may have a spike.
const mostSpike = 64

// absorb leaves out stretches that only the chords have made. Where the ends of curves lie on other curves, or curves on
// each other, chords cross too late or too early, and the boundary goes a little way back, or a step as wide as the
// tolerance aside. If the true curves before and after such a stretch meet at one end of it, its edges are given to the
// one before.
func (r *recovery) absorb(o *outline) {
	for i := 0; i < len(o.stretches) && len(o.stretches) > 3; {
		n := len(o.stretches)
		before, s, after := &o.stretches[i], &o.stretches[(i+1)%n], &o.stretches[(i+2)%n]
		if s.touch || after.touch || !r.maybeNeedless(o, before, s, after) {
			i++
			continue
		}
		was := slices.Clone(o.stretches)
		before.edges += s.edges
		k := i
		if i+1 == n {
			k--
		}
		o.stretches = slices.Delete(o.stretches, (i+1)%n, (i+1)%n+1)
		if m, ok := r.meeting(o, k); !ok || !m.true {
			o.stretches = was
			i++
			continue
		}
		i = k
	}
}

// maybeNeedless says whether s is a spike or a short step between before and after, of which one is a curve.
func (r *recovery) maybeNeedless(o *outline, before, s, after *stretch) bool {
	if before.line && after.line || before.endSrc == after.src {
		return false
	}
	p, q := place(o.corner(s.from)), place(o.corner(s.from+s.edges))
	length, tol := q.minus(p).length(), float64(r.tol)
	if length > mostSpike*tol {
		return false
	}
	arrive, leave := p.minus(place(o.corner(s.from-1))), place(o.corner(s.from+s.edges+1)).minus(q)
	along := q.minus(p).unit()
	return length <= 2*tol || arrive.unit().dot(along) < -spikeTurn || leave.unit().dot(along) < -spikeTurn
}

// spikeTurn is the cosine of the greatest angle between the sides of a spike, about 8°.
const spikeTurn = 0.99

// join puts the ends of the stretches where the true curves meet. Every end is found from the edges alone; where a stretch
// would then have nothing left of it, its ends stay.
func (r *recovery) join() {
	for i := range r.outlines {
		o := &r.outlines[i]
		for k := range o.stretches {
			s := &o.stretches[k]
			s.begin, s.u0, s.u1 = r.point64(o.corner(s.from)), s.t0, s.t1
		}
	}
	if !r.refine {
		return
	}
	for i := range r.outlines {
		o := &r.outlines[i]
		for k := range o.stretches {
			if next := (k + 1) % len(o.stretches); next != k && !o.stretches[next].touch {
				if m, ok := r.meeting(o, k); ok {
					o.move(k, m)
				}
			}
		}
	}
	r.joinContacts()
	for i := range r.outlines {
		o := &r.outlines[i]
		var reset []int
		for k := range o.stretches {
			next := &o.stretches[(k+1)%len(o.stretches)]
			if s := &o.stretches[k]; (s.moved || next.moved) && !o.forward(s, s.u0, s.u1, s.begin, next.begin) {
				reset = append(reset, k, (k+1)%len(o.stretches))
			}
		}
		for _, k := range reset {
			r.moveBack(o, k)
		}
	}
	r.agree()
}

// A meeting is where two stretches after each other meet: the parameters on their sources and the point.
type meeting struct {
	t, u float64
	at   Point
	true bool // their sources cross there
}

// meeting finds by Newton's method where the sources of stretch k and the next cross near the corner between them. Curves
// that run along each other have no crossing to be found; where they are nearest to each other at the corner serves as
// well. There is none if that is too far off or past the other end of a stretch.
func (r *recovery) meeting(o *outline, k int) (m meeting, ok bool) {
	s, next := &o.stretches[k], &o.stretches[(k+1)%len(o.stretches)]
	whole := func(t float64) bool { return t == 0 || t == 1 }
	if s.line && next.line || whole(s.t1) && whole(next.t0) {
		return m, false
	}
	a, b := r.source(s.endSrc), r.source(next.src)
	m.t, m.u, m.true = cross(a, b, s.t1, next.t0)
	reach := r.stray(a, b, m)
	if !m.true || !s.near(o, a.at(m.t, 1-m.t), reach) {
		reach, m.t, m.true = 2*float64(r.tol), s.t1, false
		if m.u, ok = nearestTo(b, a.at(m.t, 1-m.t), next.t0); !ok {
			return m, false
		}
	}
	p, q := a.at(m.t, 1-m.t), b.at(m.u, 1-m.u)
	at := between(p, q, 0.5)
	if p.minus(q).length() > float64(r.tol) || !s.near(o, at, reach) {
		return m, false
	}
	m.at = at.grid()
	ok = o.forward(s, s.t0, m.t, r.point64(o.corner(s.from)), m.at) &&
		o.forward(next, m.u, next.t1, m.at, r.point64(o.corner(next.from+next.edges)))
	return m, ok
}

// stray is how far from where two curves cross their chords may cross: the further the smaller the angle.
func (r *recovery) stray(a, b *Segment, m meeting) float64 {
	sine := math.Abs(a.deriv(m.t).unit().cross(b.deriv(m.u).unit()))
	return float64(min(max(4/sine, mostSpike), farthestStray) * float64(r.tol))
}

// farthestStray is where the stray of the chords' crossing ends, in tolerances; a choice.
const farthestStray = 1024

// move puts the end of stretch k and the beginning of the next where they meet.
func (o *outline) move(k int, m meeting) {
	s, next := &o.stretches[k], &o.stretches[(k+1)%len(o.stretches)]
	s.u1, next.u0 = m.t, m.u
	next.moved = m.at != next.begin
	next.begin = m.at
}

// moveBack puts the beginning of stretch k on its corner.
func (r *recovery) moveBack(o *outline, k int) {
	n := len(o.stretches)
	s, before := &o.stretches[k], &o.stretches[(k+n-1)%n]
	s.begin, s.moved, s.u0 = r.point64(o.corner(s.from)), false, s.t0
	before.u1 = before.t1
	if before.own < before.edges && !before.kept {
		r.keep(o, (k+n-1)%n) // without the crossing there is nothing to end it
	}
}

// A contact is one passage of an outline through a corner where others touch it.
type contact struct {
	at pix
	h  handle // the stretch that begins there
}

// contacts calls visit with the contacts of each such corner.
func (r *recovery) contacts(visit func([]contact)) {
	var all []contact
	for i := range r.outlines {
		o := &r.outlines[i]
		for k := range o.stretches {
			if s := &o.stretches[k]; s.touch {
				all = append(all, contact{o.corner(s.from), handle{int32(i), int32(k)}})
			}
		}
	}
	slices.SortFunc(all, func(a, b contact) int {
		return cmp.Or(cmp.Compare(a.at.key(), b.at.key()), cmp.Compare(a.h.outline, b.h.outline), cmp.Compare(a.h.stretch, b.h.stretch))
	})
	for len(all) > 0 {
		n := 1
		for n < len(all) && all[n].at == all[0].at {
			n++
		}
		visit(all[:n])
		all = all[n:]
	}
}

// joinContacts moves a corner of several outlines where all of them say that the same true curves cross.
func (r *recovery) joinContacts() {
	r.contacts(func(all []contact) {
		meetings := make([]meeting, len(all))
		for i, c := range all {
			o := &r.outlines[c.h.outline]
			n := len(o.stretches)
			if n < 2 {
				return
			}
			m, ok := r.meeting(o, (int(c.h.stretch)+n-1)%n)
			if !ok || !m.true {
				return
			}
			meetings[i] = m
		}
		least := meetings[0].at
		for _, m := range meetings {
			if toVec(m.at).minus(toVec(meetings[0].at)).length() > 2 {
				return
			}
			if comparePoints(m.at, least) < 0 {
				least = m.at
			}
		}
		for i, c := range all {
			o := &r.outlines[c.h.outline]
			meetings[i].at = least
			o.move((int(c.h.stretch)+len(o.stretches)-1)%len(o.stretches), meetings[i])
		}
	})
}

// agree puts a corner of several outlines back where one of them has been.
func (r *recovery) agree() {
	r.contacts(func(all []contact) {
		for _, c := range all {
			o, p := &r.outlines[c.h.outline], &r.outlines[all[0].h.outline]
			if o.stretches[c.h.stretch].begin != p.stretches[all[0].h.stretch].begin {
				for _, d := range all {
					r.moveBack(&r.outlines[d.h.outline], int(d.h.stretch))
				}
				return
			}
		}
	})
}

// near says whether p is within tol of the end of the stretch, or of the end that it had before it took others in.
func (s *stretch) near(o *outline, p vec, tol float64) bool {
	return p.minus(place(o.corner(s.from+s.edges))).length() <= tol || p.minus(place(o.corner(s.from+s.own))).length() <= tol
}

// newtonSteps is more than quadratic convergence needs from within a few micrometres.
const newtonSteps = 8

// past is how far beyond their ends two sources may meet, in nanometres: rounding may leave a corner that far short of what
// it was meant to lie on.
const past = 4

// cross finds parameters at which a and b meet within 0.1 nm, from a guess. It gives up where they are all but parallel,
// and where they meet beyond an end.
func cross(a, b *Segment, t, u float64) (float64, float64, bool) {
	for range newtonSteps {
		d := a.at(t, 1-t).minus(b.at(u, 1-u))
		da, db := a.deriv(t), b.deriv(u)
		if d.dot(d) < 0.01 {
			t0, u0 := min(max(t, 0), 1), min(max(u, 0), 1)
			return t0, u0, math.Abs(t-t0)*da.length() <= past && math.Abs(u-u0)*db.length() <= past
		}
		det := da.cross(db)
		if float64(det*det) < float64(1e-8*da.dot(da))*db.dot(db) { // an angle of less than 1e-4
			return t, u, false
		}
		t -= d.cross(db) / det
		u -= d.cross(da) / det
		if !(t > -0.5 && t < 1.5 && u > -0.5 && u < 1.5) {
			return t, u, false
		}
	}
	return t, u, false
}

// nearestTo finds the parameter at which b is nearest to p, from a guess.
func nearestTo(b *Segment, p vec, u float64) (float64, bool) {
	for range newtonSteps {
		d := b.deriv(u)
		l := d.dot(d)
		if l == 0 {
			return u, false
		}
		step := p.minus(b.at(u, 1-u)).dot(d) / l
		if u += step; !(u >= 0 && u <= 1) {
			return u, false
		}
		if float64(step*step)*l < 0.01 {
			return u, true
		}
	}
	return u, false
}

// forward says whether from t0 to t1 on the source, or from p to q on a straight one, is some way on along the stretch.
func (o *outline) forward(s *stretch, t0, t1 float64, p, q Point) bool {
	if s.line {
		a, b := o.corner(s.from), o.corner(s.from+s.edges)
		along := vec{float64(b.x) - float64(a.x), float64(b.y) - float64(a.y)}
		return toVec(q).minus(toVec(p)).dot(along) > 0
	}
	if s.back {
		t0, t1 = t1, t0
	}
	return t1 > t0
}
