package geom

import "math"

// SignedArea is the area inside a contour in square nanometres, positive for outer contours and negative for holes; what
// is wound more than once counts as often. Curves are integrated exactly; only float64 rounds, by about one part in
// 1e15. An open contour counts as closed by a straight line.
func SignedArea(c Contour) float64 {
	if len(c.Segments) == 0 {
		return 0
	}
	origin := toVec(c.Segments[0].P0)
	at := func(p Point) vec { return toVec(p).minus(origin) }
	sum := 0.0
	for _, s := range c.Segments {
		p, q := at(s.P0), at(s.P3)
		if s.Line {
			sum += float64(10 * p.cross(q))
			continue
		}
		// ∫ (x·y′ − y·x′) dt of a cubic is a sum over the cross products of its control points, in twentieths.
		b, c := at(s.P1), at(s.P2)
		sum += float64(6*p.cross(b)) + float64(3*p.cross(c)) + p.cross(q) +
			float64(3*b.cross(c)) + float64(3*b.cross(q)) + float64(6*c.cross(q))
	}
	return sum / 20
}

// Area is the area of the shape without its holes, in square nanometres.
func (s Shape) Area() float64 {
	sum := SignedArea(s.Outer)
	for _, h := range s.Holes {
		sum += SignedArea(h)
	}
	return sum
}

// Length is the length of a contour in nanometres, within tol on each segment (at least 1 nm) and never more than 1 part
// in a million off. A closed contour is taken to end where it began.
func Length(c Contour, tol int64) float64 {
	sum := 0.0
	for _, s := range c.Segments {
		sum += s.length(float64(max(tol, 1)), 0)
	}
	return sum
}

// length halves the curve until the chord and the control polygon, between which the length lies, agree.
func (s Segment) length(tol float64, depth int) float64 {
	a, d := toVec(s.P0), toVec(s.P3)
	chord := d.minus(a).length()
	if s.Line {
		return chord
	}
	polygon := s.polygon()
	if polygon-chord <= max(2*tol, float64(2e-6*chord)) || depth == 16 {
		return (chord + polygon) / 2
	}
	return s.Sub(0, 0.5).length(tol/2, depth+1) + s.Sub(0.5, 1).length(tol/2, depth+1)
}

// polygon is the length of a cubic's control polygon, which is never shorter than the curve.
func (s Segment) polygon() float64 {
	a, b, c, d := toVec(s.P0), toVec(s.P1), toVec(s.P2), toVec(s.P3)
	return b.minus(a).length() + c.minus(b).length() + d.minus(c).length()
}

// EmptyBox is the box round nothing: the Union of it and any box is that box.
func EmptyBox() Box { return Box{Min: Point{offGrid, offGrid}, Max: Point{-offGrid, -offGrid}} }

// Empty says that there is nothing in the box, not even a point.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// Union is the box round both.
func (b Box) Union(c Box) Box {
	switch {
	case b.Empty():
		return c
	case c.Empty():
		return b
	}
	return Box{
		Min: Point{min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y)},
		Max: Point{max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y)},
	}
}

// Inset moves every side inwards by d, outwards where d is negative. A box that d uses up is empty.
func (b Box) Inset(d int64) Box {
	in := Box{Min: Point{b.Min.X + d, b.Min.Y + d}, Max: Point{b.Max.X - d, b.Max.Y - d}}
	if b.Empty() || in.Empty() {
		return EmptyBox()
	}
	return in
}

// Centre is the middle of the box; of two middles the upper or left one.
func (b Box) Centre() Point {
	return Point{b.Min.X + b.Width()/2, b.Min.Y + b.Height()/2}
}

// Bounds is the box round a path, along the curves themselves and not their control points, to the nearest nanometre.
func (p Path) Bounds() Box {
	out := EmptyBox()
	for _, c := range p {
		for _, s := range c.Segments {
			out = out.Union(s.bounds())
		}
	}
	return out
}

// Bounds is the box round a shape.
func (s Shape) Bounds() Box { return Path{s.Outer}.Bounds() }

// BoundsOf is the box round all the shapes together.
func BoundsOf(shapes []Shape) Box {
	out := EmptyBox()
	for _, s := range shapes {
		out = out.Union(s.Bounds())
	}
	return out
}

func (s Segment) bounds() Box {
	out := EmptyBox()
	add := func(p Point) { out = out.Union(Box{p, p}) }
	add(s.P0)
	add(s.P3)
	if s.Line {
		return out
	}
	ends := out
	inEnds := func(p Point) bool {
		return p.X >= ends.Min.X && p.X <= ends.Max.X && p.Y >= ends.Min.Y && p.Y <= ends.Max.Y
	}
	if inEnds(s.P1) && inEnds(s.P2) {
		return out
	}
	a, b, c, d := toVec(s.P0), toVec(s.P1), toVec(s.P2), toVec(s.P3)
	for _, e := range [...][3]float64{
		{b.x - a.x, c.x - b.x, d.x - c.x},
		{b.y - a.y, c.y - b.y, d.y - c.y},
	} {
		for _, t := range bernsteinRoots(e[0], e[1], e[2]) {
			if t > 0 && t < 1 {
				add(s.at(t, 1-t).grid())
			}
		}
	}
	return out
}

// bernsteinRoots are the real zeros of p·(1−t)² + 2q·t·(1−t) + r·t², smaller first, found without cancellation.
func bernsteinRoots(p, q, r float64) []float64 {
	a, b := (p-q)-(q-r), q-p // a·t² + 2b·t + p
	if a == 0 {
		if b == 0 {
			return nil
		}
		return []float64{-p / (2 * b)}
	}
	disc := float64(b*b) - float64(a*p)
	if disc < 0 {
		return nil
	}
	w := -b - math.Sqrt(disc)
	if b < 0 {
		w = -b + math.Sqrt(disc)
	}
	if w == 0 {
		return []float64{0}
	}
	t, u := w/a, p/w
	return []float64{min(t, u), max(t, u)}
}

// Contains says whether p lies in the shape or on its outline, both as they are within tol.
func Contains(s Shape, p Point, tol int64) bool {
	inside, on := insideRing(Points(s.Outer, tol), p)
	if on {
		return true
	}
	if !inside {
		return false
	}
	for _, h := range s.Holes {
		if inside, on := insideRing(Points(h, tol), p); inside && !on {
			return false
		}
	}
	return true
}

// insideRing counts the edges to the left of p (even-odd) and says whether p is on one. It is exact within Reach.
func insideRing(ring []Point, p Point) (inside, on bool) {
	for i, b := range ring {
		a := ring[(i+len(ring)-1)%len(ring)]
		if a.Y > b.Y {
			a, b = b, a
		}
		if p.Y < a.Y || p.Y > b.Y {
			continue
		}
		if a.Y == b.Y {
			if p.X >= min(a.X, b.X) && p.X <= max(a.X, b.X) {
				return false, true
			}
			continue
		}
		side := (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X)
		if side == 0 {
			return false, true
		}
		if side < 0 && p.Y < b.Y {
			inside = !inside
		}
	}
	return inside, false
}
