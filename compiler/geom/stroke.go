package geom

import "fmt"

// Stroke is the outline of a line drawn along a path with a pen, as SVG 2, 13.5, has it: closed contours are joined round
// and open ones get caps; a mitre longer than the limit (0 is SVG's 4) becomes a bevel; dashes begin at the first point
// of each contour, and where a closed contour begins and ends within a dash that dash is joined. A contour of no length
// is a dot with round caps, an upright square with square caps, and nothing with butt caps.
//
// The result lies within tol of the true outline, but for holes narrower than half of tol, which are filled. Beside straight lines it is straight, and where they meet it has their
// corner and no other point; segments have the Tag of what they were drawn along. Errors are those of Boolean and
// *PenError. A pen of no width draws nothing.
func Stroke(p Path, pen Pen, tol int64) ([]Shape, error) {
	if tol < 1 {
		return nil, &ToleranceError{tol}
	}
	limit, err := pen.check()
	if err != nil {
		return nil, err
	}
	for _, c := range p {
		if err := inOrder(c.Segments); err != nil {
			return nil, err
		}
	}
	if pen.Width == 0 {
		return nil, nil
	}
	s := stroker{cap: pen.Cap, line: newSideline(float64(pen.Width)/2, pen.Join, limit, tol)}
	for _, c := range p {
		for _, d := range dashes(c, pen, tol) {
			s.draw(d)
		}
	}
	out, err := Fuse([]Operand{{Path: s.out, Rule: Positive}}, max(tol/engineShare, 1))
	if err != nil {
		return nil, err
	}
	return withoutSlits(out, tol)
}

func (p Pen) check() (limit float64, err error) {
	if p.Width < 0 {
		return 0, &PenError{fmt.Sprintf("a pen of the width %d nm: a width is not negative", p.Width)}
	}
	if len(p.Dash)%2 != 0 {
		return 0, &PenError{fmt.Sprintf("a pattern of %d dashes and gaps: each dash needs a gap after it", len(p.Dash))}
	}
	for _, d := range p.Dash {
		if d < 0 {
			return 0, &PenError{fmt.Sprintf("a dash or gap of %d nm: a length is not negative", d)}
		}
	}
	return mitre(p.MitreLimit)
}

type stroker struct {
	cap  Cap
	line *sideline
	out  Path
}

// draw adds the outline of one stretch: for a closed one a line on either side, which wind round whatever it encloses in
// opposite ways, and for an open one a single line up one side and down the other.
func (s *stroker) draw(d dash) {
	w := s.line
	legs := walk(d.contour, w.r, w.flat)
	if len(legs) == 0 {
		if len(d.contour.Segments) > 0 {
			s.dot(toVec(d.contour.Segments[0].P0), d.along, d.contour.Segments[0].Tag)
		}
		return
	}
	if d.contour.Closed {
		w.follow(legs, true)
		s.out = append(s.out, w.contour())
		w.follow(backwards(legs), true)
		s.out = append(s.out, w.contour())
		return
	}
	if s.cap == SquareCap {
		legs = lengthened(legs, w.r)
	}
	back := backwards(legs)
	w.follow(legs, false)
	s.end(legs[len(legs)-1])
	w.follow(back, false)
	s.end(back[len(back)-1])
	s.out = append(s.out, w.contour())
}

// end goes round the end of the last leg to its other side.
func (s *stroker) end(last leg) {
	w := s.line
	other := w.beside(last.b, last.v.times(-1))
	if s.cap == RoundCap {
		w.round(last.b, vec{last.v.y, -last.v.x}, 180, other)
		return
	}
	w.lineTo(other)
}

// lengthened carries the walk on straight by r at both ends: a square cap. A straight leg is made longer itself, so that
// its sides stay one line.
func lengthened(legs []leg, r float64) []leg {
	out := append([]leg{}, legs...)
	if first := &out[0]; first.line {
		first.a = first.a.minus(first.u.times(r))
	} else {
		b, u := first.a, first.u
		out = append([]leg{{a: b.minus(u.times(r)), b: b, u: u, v: u, source: -1, line: true, tag: first.tag}}, out...)
	}
	if last := &out[len(out)-1]; last.line {
		last.b = last.b.plus(last.v.times(r))
	} else {
		a, v := last.b, last.v
		out = append(out, leg{a: a, b: a.plus(v.times(r)), u: v, v: v, source: -2, line: true, node: true, tag: last.tag})
	}
	return out
}

// dot is what the caps alone make of a stretch of no length.
func (s *stroker) dot(p, along vec, tag int32) {
	w := s.line
	w.tag = tag
	ahead := along.times(w.r)
	switch s.cap {
	case RoundCap:
		out, back := vec{along.y, -along.x}, vec{-along.y, along.x}
		w.lineTo(w.beside(p, along))
		w.round(p, out, 180, p.plus(back.times(w.r)))
		w.round(p, back, 180, w.beside(p, along))
	case SquareCap:
		w.lineTo(w.beside(p.minus(ahead), along))
		w.lineTo(w.beside(p.plus(ahead), along))
		w.lineTo(w.beside(p.plus(ahead), along.times(-1)))
		w.lineTo(w.beside(p.minus(ahead), along.times(-1)))
	default:
		return
	}
	s.out = append(s.out, w.contour())
}
