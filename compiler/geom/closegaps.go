package geom

import (
	"cmp"
	"math"
	"slices"
)

const (
	// facing is the cosine of the greatest angle between two edges that have a gap between them, about 20°. Chords within
	// 2 µm of a curve of 0.2 mm radius turn by 16°.
	facing = 0.94
	// notch is how many times its width the way round a gap must be, where both sides are of one ring: below lie the
	// corners that a drawing means to have. It lets gaps alone that open by more than about 4°.
	notch = 30
	// lap is how far a filling reaches into what it joins along straight edges, in nanometres: enough that rounding cannot
	// leave a hair between. Along curves it is the tolerance.
	lap = 3
	// holePasses is how often thin holes are looked for. Filling a gap may leave a smaller one beside it by rounding, and
	// along curves it shows hairs next to it that no one had looked for; each pass finds about a third as many.
	holePasses = 16
)

// CloseGaps fills gaps of up to reach between the regions of the operands and within them, so that fusing the result gives
// one piece where two outlines were meant to share an edge, but turning them and rounding to the grid has left a hair
// between. It returns the region of each operand under NonZero, outer contours positive, and one operand more with the
// fillings, if there are any; nothing else moves.
//
// A gap is a stretch along which two edges run side by side, their outsides towards each other and nowhere further apart
// than reach; or a hole that is nowhere wider. Corners that point at each other are not joined, nor is the inside of a
// corner filled unless it is sharper than about 4°. Edges are the chords of curves within tol, the tolerance to be used
// for fusing the result too. Errors are those of Boolean, with *ToleranceError for a reach below one nanometre.
func CloseGaps(operands []Operand, reach, tol int64) ([]Operand, error) {
	if reach < 1 {
		return nil, &ToleranceError{reach}
	}
	out := make([]Operand, 0, len(operands)+1)
	for _, o := range operands {
		if p, ok := convexRegion(o); ok {
			out = append(out, Operand{Path: p, Rule: NonZero})
			continue
		}
		shapes, err := Fuse([]Operand{o}, tol)
		if err != nil {
			return nil, err
		}
		out = append(out, Operand{Path: Paths(shapes), Rule: NonZero})
	}
	fill := Operand{Rule: NonZero}
	for pass := range holePasses {
		a, err := arrange(Union, append(out, fill), nil, tol)
		if err != nil {
			return nil, err
		}
		shapes, err := a.rings()
		if err != nil {
			return nil, err
		}
		more := a.fillHoles(shapes, float64(reach), float64(tol))
		if pass == 0 {
			more = append(more, a.fillSeams(shapes, reach, tol)...)
		}
		if len(more) == 0 {
			break
		}
		fill.Path = append(fill.Path, more...)
	}
	if len(fill.Path) > 0 {
		out = append(out, fill)
	}
	return out, nil
}

// convexRegion is the region of an operand that is a single convex contour of straight edges: most of what a face is made
// of, and nothing that needs to be fused. Of all others ok is false.
func convexRegion(o Operand) (p Path, ok bool) {
	if len(o.Path) != 1 {
		return nil, false
	}
	s := o.Path[0].Segments
	n := len(s)
	if n < 3 || s[n-1].P3 != s[0].P0 || inOrder(s) != nil {
		return nil, false
	}
	at := func(p Point) pix { return pix{int32(p.X), int32(p.Y)} }
	positive, flips := false, 0
	for k := range s {
		next := &s[(k+1)%n]
		turn := side(at(s[k].P0), at(s[k].P3), at(next.P3))
		if k == 0 {
			positive = turn > 0
		}
		if !s[k].Line || turn == 0 || positive != (turn > 0) {
			return nil, false
		}
		if (comparePoints(s[k].P0, s[k].P3) < 0) != (comparePoints(next.P0, next.P3) < 0) {
			flips++
		}
	}
	if flips != 2 { // it goes round more than once
		return nil, false
	}
	wind := int32(1)
	c := Contour{Segments: s, Closed: true}
	if !positive {
		wind, c = -1, c.Reverse()
	}
	if !o.Rule.inside(wind) {
		return nil, true
	}
	return Path{c}, true
}

// A seam is the boundary of what is already joined, as edges with the region on their left.
type seam struct {
	*arrangement
	reach, tol float64
	ring       layer // the rings; src is the source of each edge in the arrangement
	way        []float64
	fill       []Contour
}

// fillSeams gives fillings for the gaps between edges of the rings.
func (a *arrangement) fillSeams(shapes [][]ring, reach, tol int64) []Contour {
	s := seam{arrangement: a, reach: float64(reach), tol: float64(tol)}
	for _, shape := range shapes {
		for i := range shape {
			s.put(&shape[i])
		}
	}
	tree := newHierarchy(s.ring.at, s.ring.loops, int32(min((reach+1)/2, 1<<29)))
	tree.pairs(func(ra, rb int32) {
		p, q := &tree.runs[ra], &tree.runs[rb]
		for i := p.from; i < p.to; i++ {
			for j := q.from; j < q.to; j++ {
				if i != j {
					s.between(i, j, p.loop, q.loop)
				}
			}
		}
	})
	slices.SortFunc(s.fill, compareContours)
	return slices.CompactFunc(s.fill, func(p, q Contour) bool { return compareContours(p, q) == 0 })
}

func (s *seam) put(g *ring) {
	l := &s.ring
	first := int32(len(l.at))
	way := 0.0
	s.along(g.chains, func(e int32, _ bool, from, to pix) {
		l.at, l.src, s.way = append(l.at, from), append(l.src, s.src[e]), append(s.way, way)
		way += place(to).minus(place(from)).length()
	})
	l.at, l.src, s.way = append(l.at, l.at[first]), append(l.src, 0), append(s.way, way)
	l.loops = append(l.loops, loop{first: first, last: int32(len(l.at)) - 1})
}

func place(p pix) vec { return vec{float64(p.x), float64(p.y)} }

// A brace goes across a gap from a place on one edge to a place on the other, both on the grid.
type brace struct {
	p, q  vec
	along float64 // on the first edge
	gap   float64 // outwards from the first edge, before the ends were put on the grid
}

func (r brace) width() float64 { return r.q.minus(r.p).length() }

// between fills the gap between edges i and j, if there is one.
func (s *seam) between(i, j, loopI, loopJ int32) {
	if c := compareSegments(s.source(s.ring.src[i]), s.source(s.ring.src[j])); c > 0 || c == 0 && comparePix(s.ring.at[i], s.ring.at[j]) > 0 {
		i, j, loopI, loopJ = j, i, loopJ, loopI
	}
	a, b, c, d := place(s.ring.at[i]), place(s.ring.at[i+1]), place(s.ring.at[j]), place(s.ring.at[j+1])
	u, v := b.minus(a).unit(), d.minus(c).unit()
	if u.dot(v) > -facing {
		return
	}
	braces := make([]brace, 0, 4)
	for _, p := range [...]vec{a, b} {
		if q, ok := s.foot(p, c, d); ok {
			braces = append(braces, brace{p, s.stand(q, c, d), p.minus(a).dot(u), u.cross(p.minus(q))})
		}
	}
	for _, q := range [...]vec{c, d} {
		if p, ok := s.foot(q, a, b); ok {
			braces = append(braces, brace{s.stand(p, a, b), q, p.minus(a).dot(u), u.cross(p.minus(q))})
		}
	}
	if len(braces) < 2 {
		return
	}
	slices.SortFunc(braces, func(r, t brace) int {
		return cmp.Or(cmp.Compare(r.along, t.along), cmp.Compare(t.q.minus(c).dot(v), r.q.minus(c).dot(v)))
	})
	r, t, ok := s.clip(braces[0], braces[len(braces)-1])
	if !ok {
		return
	}
	if r.gap < -0.01 || t.gap < -0.01 || r.gap+t.gap < 0.01 { // they face inwards, or lie on each other
		return
	}
	if loopI == loopJ {
		way := s.wayRound(loopI, s.way[i]+(r.along+t.along)/2, s.way[j]+r.q.plus(t.q).times(0.5).minus(c).dot(v))
		if way < notch*(r.width()+t.width())/2 {
			return
		}
	}
	s.bridge(r, t, u, v, i, j)
}

func comparePix(p, q pix) int { return cmp.Compare(p.key(), q.key()) }

// foot is the point of the edge a–b nearest to p, if that is not more than reach past an end.
func (s *seam) foot(p, a, b vec) (vec, bool) {
	d := b.minus(a)
	length := d.length()
	along := p.minus(a).dot(d) / length
	near := min(s.reach, length/2)
	if along < -near || along > length+near {
		return vec{}, false
	}
	return a.plus(d.times(min(max(along/length, 0), 1))), true
}

// stand is where a brace stands whose foot on the edge a–b is q: on the grid, and near an end on the end itself, so that
// what goes across a gap ends in corners that are there already.
func (s *seam) stand(q, a, b vec) vec {
	toA, toB := q.minus(a).length(), q.minus(b).length()
	switch {
	case toA <= s.reach && toA <= toB:
		return a
	case toB <= s.reach:
		return b
	}
	return toVec(q.grid())
}

// clip shortens the stretch from r to t to where it is no wider than reach.
func (s *seam) clip(r, t brace) (brace, brace, bool) {
	wr, wt := r.width(), t.width()
	if wr > s.reach && wt > s.reach || t.along-r.along < 1 {
		return r, t, false
	}
	at := func(f float64) brace {
		return brace{
			toVec(between(r.p, t.p, f).grid()), toVec(between(r.q, t.q, f).grid()),
			r.along + float64((t.along-r.along)*f), r.gap + float64((t.gap-r.gap)*f),
		}
	}
	switch f := (s.reach - wr) / (wt - wr); {
	case wt > s.reach:
		t = at(f)
	case wr > s.reach:
		r = at(f)
	}
	return r, t, t.along-r.along >= 1
}

// wayRound is the shorter way along a ring between two places on it.
func (s *seam) wayRound(loop int32, p, q float64) float64 {
	d := max(p-q, q-p)
	return min(d, s.way[s.ring.loops[loop].last]-d)
}

// bridge adds the filling between two braces: its corners are the ends of the braces, and between them it laps over into the
// region on both sides.
func (s *seam) bridge(r, t brace, u, v vec, i, j int32) {
	corners := s.lapOver(nil, t.p, r.p, u, i)
	corners = s.lapOver(corners, r.q, t.q, v, j)
	c := Polygon(corners...)
	tag := s.source(s.ring.src[i]).Tag
	for k := range c.Segments {
		c.Segments[k].Tag = tag
	}
	s.fill = append(s.fill, c)
}

// lapOver appends the corners of a filling from p to q, which lie on an edge that runs along u from q to p: the two and
// those inside the region. Where p or q is on a chord and not an end of it, the curve is somewhere else.
func (s *seam) lapOver(out []Point, p, q, u vec, edge int32) []Point {
	by := float64(lap)
	curved := !s.source(s.ring.src[edge]).Line
	if curved {
		by = max(by, s.tol)
	}
	in := vec{-u.y, u.x}.times(by)
	onCurve := func(p vec) bool { return !curved || p == place(s.ring.at[edge]) || p == place(s.ring.at[edge+1]) }
	out = append(out, p.grid())
	if !onCurve(p) {
		out = append(out, p.plus(in).grid())
	}
	d := q.minus(p)
	if length := d.length(); length > 6*by {
		step := d.times(2 * by / length)
		out = append(out, p.plus(step).plus(in).grid(), q.minus(step).plus(in).grid())
	} else {
		out = append(out, between(p, q, 0.5).plus(in).grid())
	}
	if !onCurve(q) {
		out = append(out, q.plus(in).grid())
	}
	return append(out, q.grid())
}

// fillHoles gives fillings for the holes that are nowhere wider than reach, each of convex contours lapping over all round.
func (a *arrangement) fillHoles(shapes [][]ring, reach, tol float64) []Contour {
	var fill []Contour
	for _, shape := range shapes {
		for i := range shape[1:] {
			fill = append(fill, a.thinHole(&shape[i+1], reach, tol)...)
		}
	}
	slices.SortFunc(fill, compareContours)
	return fill
}

// thinHole is the filling of a hole, if it is thin: its hull lapped over; or where it is a hair along a curve, too small for
// a disc as wide as reach, each edge of it lapped over.
func (a *arrangement) thinHole(g *ring, reach, tol float64) []Contour {
	var corners []pix
	var area, length float64
	by := int32(lap)
	tag := a.source(a.src[a.chains[g.chains[0]>>1].edge]).Tag
	a.along(g.chains, func(e int32, _ bool, from, to pix) {
		corners = append(corners, from)
		area -= float64(side(g.least, from, to)) / 2
		length += place(to).minus(place(from)).length()
		s := a.source(a.src[e])
		tag = min(tag, s.Tag)
		if !s.Line {
			by = max(lap, int32(min(tol/hairs, 1<<20))) // guarded: a tolerance is positive
		}
	})
	if 2*area > reach*length {
		return nil
	}
	if narrow := hull(corners); hullWidth(narrow) <= reach {
		return []Contour{a.round(narrow, by, tag)}
	}
	if 4*area > math.Pi*reach*reach {
		return nil
	}
	fill := make([]Contour, len(corners))
	for i, p := range corners {
		fill[i] = a.round([]pix{p, corners[(i+1)%len(corners)]}, by, tag)
	}
	return fill
}

// hairs is how many times closer than the tolerance chords are where curves have a hair between them; see refine.
const hairs = 64

// round is a convex contour round the points, by so much larger.
func (a *arrangement) round(points []pix, by, tag int32) Contour {
	wide := make([]pix, 0, 4*len(points))
	for _, p := range points {
		wide = append(wide, pix{p.x - by, p.y}, pix{p.x + by, p.y}, pix{p.x, p.y - by}, pix{p.x, p.y + by})
	}
	c := Contour{Closed: true}
	wide = hull(wide)
	for i, p := range wide {
		c.Segments = append(c.Segments, Segment{P0: a.point64(p), P3: a.point64(wide[(i+1)%len(wide)]), Line: true, Tag: tag})
	}
	return c
}

// hull is the convex hull of the points, as an outer contour.
func hull(points []pix) []pix {
	points = slices.Clone(points)
	slices.SortFunc(points, comparePix)
	var out []pix
	for range 2 { // the side of lesser y, then the other
		base := len(out)
		for _, p := range points {
			for len(out)-base >= 2 && side(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
		slices.Reverse(points)
	}
	return out
}

// hullWidth is the least distance between two parallel lines that have the hull between them.
func hullWidth(hull []pix) float64 {
	least := math.Inf(1)
	for i, p := range hull {
		q := hull[(i+1)%len(hull)]
		far := int64(0)
		for _, r := range hull {
			far = max(far, side(p, q, r))
		}
		least = min(least, float64(far)/place(q).minus(place(p)).length())
	}
	return least
}
