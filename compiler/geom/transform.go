package geom

// Identity leaves everything where it is.
func Identity() Transform { return Transform{A: 1, D: 1} }

// Move shifts by dx, dy nanometres.
func Move(dx, dy int64) Transform { return Transform{A: 1, D: 1, E: dx, F: dy} }

// Turn turns about the origin by an angle in degrees, the x axis towards the y axis: clockwise to the eye, since y runs
// down. Quarter turns are exact.
func Turn(deg float64) Transform {
	s, c := SinCos(deg)
	return Transform{A: c, B: s, C: -s, D: c}
}

// MirrorX exchanges left and right: x becomes −x.
func MirrorX() Transform { return Transform{A: -1, D: 1} }

// MirrorY exchanges top and bottom: y becomes −y.
func MirrorY() Transform { return Transform{A: 1, D: -1} }

// Scale enlarges k times about the origin.
func Scale(k float64) Transform { return Transform{A: k, D: k} }

// Then is t followed by u. The shift of the two together is rounded to the grid, which moves everything alike by at most
// half a nanometre each way.
func (t Transform) Then(u Transform) Transform {
	shift := u.Point(Point{t.E, t.F})
	return Transform{
		A: float64(u.A*t.A) + float64(u.C*t.B),
		B: float64(u.B*t.A) + float64(u.D*t.B),
		C: float64(u.A*t.C) + float64(u.C*t.D),
		D: float64(u.B*t.C) + float64(u.D*t.D),
		E: shift.X,
		F: shift.Y,
	}
}

// Det is how many times the transform enlarges areas; negative where it mirrors.
func (t Transform) Det() float64 { return float64(t.A*t.D) - float64(t.B*t.C) }

// Inverse undoes t, to the rounding of its shift. It says false for a transform that flattens everything to a line or a
// point, which nothing undoes.
func (t Transform) Inverse() (Transform, bool) {
	det := t.Det()
	if det == 0 || det-det != 0 {
		return Transform{}, false
	}
	inv := Transform{A: t.D / det, B: -t.B / det, C: -t.C / det, D: t.A / det}
	back := inv.Point(Point{t.E, t.F})
	inv.E, inv.F = -back.X, -back.Y
	return inv, true
}

// Point maps p, rounded half away from zero to the grid before it is shifted: so a drawing is the same drawing wherever
// it is moved.
func (t Transform) Point(p Point) Point {
	x, y := float64(p.X), float64(p.Y)
	return Point{
		toGrid(float64(t.A*x)+float64(t.C*y)) + t.E,
		toGrid(float64(t.B*x)+float64(t.D*y)) + t.F,
	}
}

// Segment maps the points of a segment.
func (t Transform) Segment(s Segment) Segment {
	s.P0, s.P3 = t.Point(s.P0), t.Point(s.P3)
	if !s.Line {
		s.P1, s.P2 = t.Point(s.P1), t.Point(s.P2)
	}
	return s
}

// Contour maps every point of c. A mirroring transform turns the direction of the contour round.
func (t Transform) Contour(c Contour) Contour {
	out := Contour{Closed: c.Closed, Segments: make([]Segment, len(c.Segments))}
	for i, s := range c.Segments {
		out.Segments[i] = t.Segment(s)
	}
	return out
}

// Path maps every contour of p. Where t mirrors, Positive and Negative mean the other of the two afterwards.
func (t Transform) Path(p Path) Path {
	out := make(Path, len(p))
	for i, c := range p {
		out[i] = t.Contour(c)
	}
	return out
}

// Shape maps s. Where t mirrors, the contours are run the other way, so that outer contours are outer again and holes
// holes. Rounding to the grid may let contours touch that were less than a nanometre apart.
func (t Transform) Shape(s Shape) Shape {
	place := t.Contour
	if t.Det() < 0 {
		place = func(c Contour) Contour { return t.Contour(c).Reverse() }
	}
	out := Shape{Outer: place(s.Outer)}
	for _, h := range s.Holes {
		out.Holes = append(out.Holes, place(h))
	}
	return out
}
