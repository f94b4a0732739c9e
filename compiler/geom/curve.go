package geom

import "math"

// A vec is a place or a direction between the points of the grid, in nanometres.
type vec struct{ x, y float64 }

func toVec(p Point) vec           { return vec{float64(p.X), float64(p.Y)} }
func (a vec) plus(b vec) vec      { return vec{a.x + b.x, a.y + b.y} }
func (a vec) minus(b vec) vec     { return vec{a.x - b.x, a.y - b.y} }
func (a vec) times(k float64) vec { return vec{float64(a.x * k), float64(a.y * k)} }
func (a vec) dot(b vec) float64   { return float64(a.x*b.x) + float64(a.y*b.y) }
func (a vec) cross(b vec) float64 { return float64(a.x*b.y) - float64(a.y*b.x) }
func (a vec) length() float64     { return Hypot(a.x, a.y) }
func (a vec) grid() Point         { return Point{toGrid(a.x), toGrid(a.y)} }
func (a vec) finite() bool        { return a.x-a.x == 0 && a.y-a.y == 0 }
func (a vec) isZero() bool        { return a.x == 0 && a.y == 0 }
func between(a, b vec, t float64) vec {
	return vec{float64(a.x*(1-t)) + float64(b.x*t), float64(a.y*(1-t)) + float64(b.y*t)}
}

// unit is a in length one; the zero vec stays zero.
func (a vec) unit() vec {
	l := a.length()
	if l == 0 {
		return vec{}
	}
	return vec{a.x / l, a.y / l}
}

// offGrid is where toGrid puts what has no place on the grid: far past Reach, so that the engine refuses it by name.
const offGrid int64 = 1 << 52

// toGrid rounds half away from zero. What is not a number, or is further out than any sheet, becomes offGrid and is
// refused by the first operation that it meets, instead of becoming whatever the processor makes of it.
func toGrid(x float64) int64 {
	switch {
	case x > -float64(offGrid) && x < float64(offGrid):
		return int64(math.Round(x))
	case x < 0:
		return -offGrid
	}
	return offGrid
}

// Line is the straight segment from a to b.
func Line(a, b Point) Segment { return Segment{P0: a, P3: b, Line: true} }

// Cubic is the Bézier curve from a to b with the control points c and d.
func Cubic(a, c, d, b Point) Segment { return Segment{P0: a, P1: c, P2: d, P3: b} }

// Polygon is the closed contour with these corners in this order.
func Polygon(corners ...Point) Contour {
	c := Contour{Closed: true, Segments: make([]Segment, 0, len(corners))}
	for i, p := range corners {
		c.Segments = append(c.Segments, Line(p, corners[(i+1)%len(corners)]))
	}
	return c
}

// Rect is the upright rectangle between two opposite corners, as an outer contour (of positive area) whichever corners
// they are.
func Rect(x0, y0, x1, y1 int64) Contour {
	x0, x1 = min(x0, x1), max(x0, x1)
	y0, y1 = min(y0, y1), max(y0, y1)
	return Polygon(Point{x0, y0}, Point{x1, y0}, Point{x1, y1}, Point{x0, y1})
}

// arcError is how far Circle, Ellipse and ParsePath let a cubic leave its arc, in nanometres: a choice, well below what a
// blade can follow.
const arcError = 280

// Circle is the circle round c as an outer contour that begins to the right of c: of four cubics up to a radius of
// 1.02 mm, of eight up to 65 mm and of sixteen above. It leaves the true circle, always outwards, by at most 0.28 µm, and
// by the rounding of its control points to the grid.
func Circle(c Point, r int64) Contour { return Ellipse(c, r, r) }

// Ellipse is the upright ellipse round c with the half-axes rx and ry, with as many cubics as the circle of the greater
// one and its error along that axis.
func Ellipse(c Point, rx, ry int64) Contour {
	rx, ry = max(rx, -rx), max(ry, -ry)
	onSheet := func(v vec) Point {
		return Point{c.X + toGrid(float64(v.x*float64(rx))), c.Y + toGrid(float64(v.y*float64(ry)))}
	}
	out := Contour{Closed: true}
	for _, a := range unitArc(vec{1, 0}, 360, float64(max(rx, ry)), arcError) {
		out.Segments = append(out.Segments, Cubic(onSheet(a[0]), onSheet(a[1]), onSheet(a[2]), onSheet(a[3])))
	}
	return out
}

// At is the place on the segment at parameter t, 0 at its beginning and 1 at its end.
func (s Segment) At(t float64) (x, y float64) {
	v := s.at(t, 1-t)
	return v.x, v.y
}

// at is At with u = 1−t given by the caller. The sum is written so that the segment run backwards, with t and u
// exchanged, gives the same bits: a curve that two shapes share falls on the same points whichever way each runs.
func (s Segment) at(t, u float64) vec {
	a, d := toVec(s.P0), toVec(s.P3)
	if s.Line {
		return vec{float64(u*a.x) + float64(t*d.x), float64(u*a.y) + float64(t*d.y)}
	}
	b, c := toVec(s.P1), toVec(s.P2)
	tt, uu := float64(t*t), float64(u*u)
	ka, kb, kc, kd := float64(uu*u), float64(float64(3*uu)*t), float64(float64(3*tt)*u), float64(tt*t)
	return vec{
		(float64(ka*a.x) + float64(kd*d.x)) + (float64(kb*b.x) + float64(kc*c.x)),
		(float64(ka*a.y) + float64(kd*d.y)) + (float64(kb*b.y) + float64(kc*c.y)),
	}
}

// Deriv is the derivative by t at parameter t: the direction of travel, in nanometres for each whole parameter.
func (s Segment) Deriv(t float64) (x, y float64) {
	v := s.deriv(t)
	return v.x, v.y
}

func (s Segment) deriv(t float64) vec {
	a, d := toVec(s.P0), toVec(s.P3)
	if s.Line {
		return d.minus(a)
	}
	b, c := toVec(s.P1), toVec(s.P2)
	u := 1 - t
	ka, kb, kc := float64(float64(3*u)*u), float64(float64(6*u)*t), float64(float64(3*t)*t)
	return b.minus(a).times(ka).plus(c.minus(b).times(kb)).plus(d.minus(c).times(kc))
}

// tangents are the unit directions in which the segment leaves its beginning and reaches its end, also where control
// points coincide with the ends. Both are zero for a segment that is one point.
func (s Segment) tangents() (leave, reach vec) {
	a, d := toVec(s.P0), toVec(s.P3)
	if s.Line {
		u := d.minus(a).unit()
		return u, u
	}
	b, c := toVec(s.P1), toVec(s.P2)
	for _, v := range [...]vec{b.minus(a), c.minus(a), d.minus(a)} {
		if !v.isZero() {
			leave = v.unit()
			break
		}
	}
	for _, v := range [...]vec{d.minus(c), d.minus(b), d.minus(a)} {
		if !v.isZero() {
			reach = v.unit()
			break
		}
	}
	return leave, reach
}

// Sub is the part of the segment from t0 to t1, run backwards where t1 is less than t0. Its points are rounded to the
// grid, so it may leave the segment by 0.71 nm; the ends of the whole segment are kept exactly.
func (s Segment) Sub(t0, t1 float64) Segment {
	out := Segment{P0: s.onGrid(t0), P3: s.onGrid(t1), Line: s.Line, Tag: s.Tag}
	if s.Line {
		return out
	}
	// The polar form of a cubic, by de Casteljau with three parameters: its values at (t0, t0, t1) and (t0, t1, t1) are
	// the control points of the part. They stand on the true curve's own ends, not on the rounded ones.
	a, b, c, d := toVec(s.P0), toVec(s.P1), toVec(s.P2), toVec(s.P3)
	polar := func(r, s, t float64) Point {
		p, q, m := between(a, b, r), between(b, c, r), between(c, d, r)
		p, q = between(p, q, s), between(q, m, s)
		return between(p, q, t).grid()
	}
	out.P1, out.P2 = polar(t0, t0, t1), polar(t1, t1, t0)
	return out
}

func (s Segment) onGrid(t float64) Point {
	switch t {
	case 0:
		return s.P0
	case 1:
		return s.P3
	}
	return s.at(t, 1-t).grid()
}

// Reverse is the segment run from its end to its beginning.
func (s Segment) Reverse() Segment {
	s.P0, s.P1, s.P2, s.P3 = s.P3, s.P2, s.P1, s.P0
	return s
}

// Reverse is the contour run the other way.
func (c Contour) Reverse() Contour {
	out := Contour{Closed: c.Closed, Segments: make([]Segment, len(c.Segments))}
	for i, s := range c.Segments {
		out.Segments[len(c.Segments)-1-i] = s.Reverse()
	}
	return out
}

// chords is how many equal steps of the parameter bring every chord within tol of the curve. A chord over a step h
// leaves the curve by at most h²/8 times the greatest second derivative, and that of a cubic is at most six times the
// greater second difference of its control points.
func (s Segment) chords(tol int64) int {
	if s.Line {
		return 1
	}
	a, b, c, d := toVec(s.P0), toVec(s.P1), toVec(s.P2), toVec(s.P3)
	bend := max(a.minus(b).plus(c.minus(b)).length(), b.minus(c).plus(d.minus(c)).length())
	n := math.Ceil(math.Sqrt(float64(0.75*bend) / float64(max(tol, 1))))
	return int(min(max(n, 1), mostChords))
}

// mostChords bounds the work on one cubic. A curve within Reach asks for at most 77,460 chords at a tolerance of 1 nm.
const mostChords = 1 << 17

// FlattenTo calls emit with the points of a polyline that stays within tol of the segment (a tolerance below 1 nm counts
// as 1 nm), and with the parameter of each: 0 < t ≤ 1, the end exact, the beginning not given. A line gives its end only.
// Rounding to the grid adds at most 0.71 nm. A segment and its reverse give the same points.
func (s Segment) FlattenTo(tol int64, emit func(t float64, p Point)) {
	n := s.chords(tol)
	for k := 1; k < n; k++ {
		t, u := float64(k)/float64(n), float64(n-k)/float64(n)
		emit(t, s.at(t, u).grid())
	}
	emit(1, s.P3)
}

// Points is the contour as a polyline within tol of it, without equal neighbours. The first point of a closed contour is
// not repeated at its end.
func Points(c Contour, tol int64) []Point {
	if len(c.Segments) == 0 {
		return nil
	}
	out := []Point{c.Segments[0].P0}
	for _, s := range c.Segments {
		s.FlattenTo(tol, func(_ float64, p Point) {
			if p != out[len(out)-1] {
				out = append(out, p)
			}
		})
	}
	for c.Closed && len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}

// unitArc is the arc on the unit circle from the direction begin through turn degrees as cubics, fine enough to stay
// within tol of the arc when enlarged to a radius. A quarter turn in one cubic leaves the circle by 2.73e-4 of the radius
// and half as long a piece by a 64th of that.
func unitArc(begin vec, turn, radius, tol float64) [][4]vec {
	most, off := 90.0, float64(2.73e-4*radius)
	for off > tol && most > 1 {
		most, off = most/2, off/64
	}
	// An arc that rounding made a hair longer than a whole number of pieces needs no piece more.
	n := int(max(1, min(360, math.Ceil(math.Abs(turn)/most-1e-9))))
	// The arm is 4/3·tan(sweep/4), and tan(a/2) is sin a/(1 + cos a).
	s, c := SinCos(turn / float64(2*n))
	arm := float64(4*s) / float64(3*(1+c))
	out := make([][4]vec, n)
	from := begin
	for i := range out {
		s, c := SinCos(float64(turn*float64(i+1)) / float64(n))
		to := vec{float64(c*begin.x) - float64(s*begin.y), float64(s*begin.x) + float64(c*begin.y)}
		out[i] = [4]vec{
			from,
			from.plus(vec{-from.y, from.x}.times(arm)),
			to.plus(vec{to.y, -to.x}.times(arm)),
			to,
		}
		from = to
	}
	return out
}
