package geom

import "math"

// A leg is one step of a walk along a contour: a straight piece, or a part of a curve so short that its chord and the
// chord of its offset both keep within the tolerance.
type leg struct {
	a, b   vec     // from a to b
	u, v   vec     // the unit directions of travel at a and at b
	source int     // the segment that the leg is of
	line   bool    // whether that is a line
	t0, t1 float64 // the parameters of a curve at a and at b
	node   bool    // whether b is the end of the segment
	tag    int32
}

func (l leg) reverse() leg {
	l.a, l.b = l.b, l.a
	l.u, l.v = l.v.times(-1), l.u.times(-1)
	l.t0, l.t1 = 1-l.t1, 1-l.t0
	return l
}

// chord is the direction from one end of the leg to the other.
func (l leg) chord() vec { return l.b.minus(l.a).unit() }

// halfTurns bounds how often one chord is halved because its curve turns too much; at a cusp no halving helps.
const halfTurns = 8

// walk goes along a contour in legs whose chords stay within tol of it, and that turn by no more than what an arc of
// radius r may turn in one chord within tol.
func walk(c Contour, r, tol float64) []leg {
	var out []leg
	most := float64(2 * math.Sqrt(float64(2*tol)/r)) // a chord over the angle a leaves the arc by r·a²/8
	for i, s := range c.Segments {
		before := len(out)
		if s.Line {
			if s.P0 == s.P3 {
				continue
			}
			u, v := s.tangents()
			out = append(out, leg{a: toVec(s.P0), b: toVec(s.P3), u: u, v: v, line: true})
		} else {
			last := 0.0
			s.FlattenTo(int64(math.Floor(max(tol, 1))), func(t float64, _ Point) {
				out = s.legs(out, last, t, most, halfTurns)
				last = t
			})
		}
		for k := before; k < len(out); k++ {
			out[k].source, out[k].tag = i, s.Tag
		}
		if len(out) > before {
			out[len(out)-1].node = true
		}
	}
	return withoutCurls(out, tol)
}

// withoutCurls leaves out what a walk does within tol of one point. What was simple to within a tolerance may curl there
// and cross itself, and then its turns, seen one by one, are not those of the outline. Where it curled the corner counts
// as round; where there were only short lines it is as sharp as they were. A walk that is no larger than that is kept.
func withoutCurls(legs []leg, tol float64) []leg {
	var out []leg
	var from vec // where the leg last taken ended, before what follows was added to it
	for _, l := range legs {
		n := len(out)
		if n == 0 {
			if l.b.minus(legs[0].a).length() < tol {
				continue
			}
			l.a = legs[0].a
		} else if l.b.minus(from).length() < tol {
			last := &out[n-1]
			last.b, last.node = l.b, last.node && l.line
			if last.line {
				last.u = last.chord()
				last.v = last.u
			}
			continue
		}
		out, from = append(out, l), l.b
	}
	if len(out) == 0 {
		return legs
	}
	return out
}

// legs appends the part from t0 to t1 of a curve, halved until no leg turns by more than most. What will not be turned
// slowly, a cusp, gets the direction of its chord.
func (s Segment) legs(out []leg, t0, t1, most float64, halvings int) []leg {
	l := leg{a: s.at(t0, 1-t0), b: s.at(t1, 1-t1), u: s.direction(t0), v: s.direction(t1), t0: t0, t1: t1}
	if l.a == l.b {
		return out
	}
	d := l.chord()
	if max(bend(l.u, d), bend(d, l.v)) <= most/2+1e-9 {
		return append(out, l)
	}
	if halvings > 0 {
		m := (t0 + t1) / 2
		return s.legs(s.legs(out, t0, m, most, halvings-1), m, t1, most, halvings-1)
	}
	l.u, l.v = d, d
	return append(out, l)
}

// direction is the unit direction of travel at t, also where arms coincide with the ends.
func (s Segment) direction(t float64) vec {
	leave, reach := s.tangents()
	switch t {
	case 0:
		return leave
	case 1:
		return reach
	}
	return s.deriv(t).unit()
}

// backwards is the walk from its end to its beginning.
func backwards(legs []leg) []leg {
	out := make([]leg, len(legs))
	for i, l := range legs {
		out[len(legs)-1-i] = l.reverse()
	}
	// A node stands at the end of a leg: now that is the beginning of the segment.
	for i := range out {
		out[i].node = i+1 == len(out) || out[i+1].source != out[i].source
	}
	return out
}

// eased takes the corners off a walk along a polyline that stands for curves. Where two legs turn so little that the
// mean of their directions leaves a line at the distance r no further off than tol, both get that mean, as the legs of a
// curve have: so there is neither a sector nor a spike at every point of what was smooth.
func eased(legs []leg, r, tol float64) []leg {
	most := 2 * math.Sqrt(float64(2*tol)/r)
	out := append([]leg{}, legs...)
	for i := range legs {
		j := (i + 1) % len(legs)
		if bend(legs[i].v, legs[j].u) <= most {
			mean := legs[i].v.plus(legs[j].u).unit()
			out[i].v, out[j].u = mean, mean
		}
		out[i].line, out[i].source = false, 0
	}
	return out
}
