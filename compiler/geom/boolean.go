package geom

import (
	"errors"
	"fmt"
	"math"
)

// A ChainError says that a contour is no chain: a segment does not begin where the one before it ended.
type ChainError struct{ At Point }

func (e *ChainError) Error() string {
	return fmt.Sprintf("a contour breaks off at %d, %d nm: the next segment begins somewhere else", e.At.X, e.At.Y)
}

// A ToleranceError says that a tolerance, a reach or a grid is not at least one nanometre.
type ToleranceError struct{ Given int64 }

func (e *ToleranceError) Error() string {
	return fmt.Sprintf("a tolerance of %d nm is too small: the grid is 1 nm", e.Given)
}

// errTangled says that the engine has contradicted itself. No input is known that brings it about.
var errTangled = errors.New("the outlines could not be put in order; this is a fault of the geometry engine")

// Boolean is the region that op makes of a and b, as shapes in the order of their first points: the least point of a
// contour by x, then y, comes first in it. Open contours count as closed by a straight line.
//
// Curves are cut up by chords that stay within tol, the crossings of the chords are found exactly and rounded to the
// grid, and what is left of each curve is given back as a part of it. So a boundary leaves the true one by less than
// twice tol, and by much less as a rule. Where chords within tol do not tell how curves lie, finer ones are taken, up to
// 256 times closer: a neck or a gap thinner than that may be parted or joined, and one thinner than tol between curves
// that run along each other for most of a chord.
//
// Where a true part would cross another or itself its chords are kept, and also where chords of it within a quarter of tol
// might: the result may be cut into such chords again without a crossing, but for a nanometre or two beside a corner from
// which a curve starts without an arm.
//
// Every segment carries the Tag of the one that it is a part of; of segments that lie on each other, which one does not
// depend on the order in which they were given. A point in a straight run of one Tag is left out.
//
// Errors are *RangeError for a point or control point beyond Reach, *ChainError for a broken contour, and
// *ToleranceError for a tol below one nanometre.
func Boolean(op Op, a, b Operand, tol int64) ([]Shape, error) {
	return combine(op, []Operand{a}, []Operand{b}, tol)
}

// Fuse is the union of any number of operands, each with its own rule. For the rest it is as Boolean.
func Fuse(operands []Operand, tol int64) ([]Shape, error) {
	return combine(Union, operands, nil, tol)
}

// combine is op between the union of first and the union of second.
func combine(op Op, first, second []Operand, tol int64) ([]Shape, error) {
	a, err := arrange(op, first, second, tol)
	if err != nil {
		return nil, err
	}
	rings, err := a.rings()
	if err != nil {
		return nil, err
	}
	r := recovery{arrangement: a, tol: tol, refine: true}
	return r.shapes(rings)
}

// arrange flattens the operands, snaps them and finds what is inside on either side of every chain.
func arrange(op Op, first, second []Operand, tol int64) (*arrangement, error) {
	if tol < 1 {
		return nil, &ToleranceError{tol}
	}
	l := layer{unit: 1}
	l.reserve(first, second)
	for _, side := range [][]Operand{first, second} {
		for _, o := range side {
			if err := l.add(o.Path, tol); err != nil {
				return nil, err
			}
			l.rules = append(l.rules, o.Rule)
		}
	}
	l.refine(tol)
	a := &arrangement{layer: l, op: op, first: len(first)}
	return a, a.build()
}

// A pix is a point of the engine's grid, or the unit square about it, closed to the left and below and open to the right
// and above: what Hobby calls a pixel. Reach fits 32 bits, and so does the difference of two points within it.
type pix struct{ x, y int32 }

// key orders points by x, then by y.
func (p pix) key() uint64 { return uint64(uint32(p.x)^1<<31)<<32 | uint64(uint32(p.y)^1<<31) }

func pixOf(key uint64) pix { return pix{int32(uint32(key>>32) ^ 1<<31), int32(uint32(key) ^ 1<<31)} }

func (p pix) before(q pix) bool { return p.x < q.x || p.x == q.x && p.y < q.y }

// side is positive where c lies to the side of the line from a to b that x turned towards y shows, negative on the other
// and zero on the line: twice the area of the triangle. Points within Reach cannot overflow it.
func side(a, b, c pix) int64 {
	return (int64(b.x)-int64(a.x))*(int64(c.y)-int64(a.y)) - (int64(b.y)-int64(a.y))*(int64(c.x)-int64(a.x))
}

// A layer holds the outlines as straight edges on the grid of its unit. Edge i runs from at[i] to at[i+1]; a loop's first
// point stands again at its end, so its last point has no edge.
type layer struct {
	unit  int64 // nanometres
	at    []pix
	src   []int32   // the source of the edge: an index through the segments of all loops
	t     []float64 // where on its source the edge begins; zero only where the source does
	loops []loop
	rules []Rule // by group
}

// A loop is a contour in a layer: points at[first..last], edges first..last-1, with at[first] == at[last].
type loop struct {
	first, last int32
	group       int32
	source      int32 // the number of its first segment
	segments    []Segment
	closing     Segment // follows the segments of an open contour
}

// reserve makes room for operands as if all segments were straight.
func (l *layer) reserve(sides ...[]Operand) {
	points, loops := 0, 0
	for _, side := range sides {
		for _, o := range side {
			for _, c := range o.Path {
				points += len(c.Segments) + 1
			}
			loops += len(o.Path)
		}
	}
	l.at, l.src, l.t = make([]pix, 0, points), make([]int32, 0, points), make([]float64, 0, points)
	l.loops = make([]loop, 0, loops)
}

// source is segment number n of the layer.
func (l *layer) source(n int32) *Segment {
	lo, hi := 0, len(l.loops)
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; l.loops[mid].source <= n {
			lo = mid
		} else {
			hi = mid
		}
	}
	return l.loops[lo].segment(n)
}

func (p *loop) segment(n int32) *Segment {
	if i := int(n - p.source); i < len(p.segments) {
		return &p.segments[i]
	}
	return &p.closing
}

// add flattens the contours of a path into the layer as one group more.
func (l *layer) add(p Path, tol int64) error {
	group := int32(len(l.rules))
	next := int32(0)
	if n := len(l.loops); n > 0 {
		next = l.loops[n-1].source + int32(len(l.loops[n-1].segments)) + 1
	}
	for i := range p {
		s := p[i].Segments
		if err := inOrder(s); err != nil {
			return err
		}
		if len(s) == 0 {
			continue
		}
		end := &s[len(s)-1]
		q := loop{first: int32(len(l.at)), group: group, source: next, segments: s}
		q.closing = Segment{P0: end.P3, P3: s[0].P0, Line: true, Tag: end.Tag}
		l.start(s[0].P0)
		for k := range s {
			l.flatten(next+int32(k), &s[k], tol)
		}
		l.flatten(next+int32(len(s)), &q.closing, tol)
		q.last = int32(len(l.at)) - 1
		if int64(len(l.at)) > math.MaxInt32 {
			return fmt.Errorf("more than %d points in one operation", math.MaxInt32)
		}
		if q.last-q.first < 2 { // a point has no edges; an edge there and back encloses nothing and is kept
			l.at, l.src, l.t = l.at[:q.first], l.src[:q.first], l.t[:q.first]
			continue
		}
		l.loops = append(l.loops, q)
		next += int32(len(s)) + 1
	}
	return nil
}

// inOrder refuses what lies out of reach and what is no chain. A curve lies within the hull of its control points.
func inOrder(s []Segment) error {
	for k := range s {
		g := &s[k]
		if k > 0 && g.P0 != s[k-1].P3 {
			return &ChainError{s[k-1].P3}
		}
		for _, p := range [...]Point{g.P0, g.P3} {
			if !inReach(p) {
				return &RangeError{p}
			}
		}
		if g.Line {
			continue
		}
		for _, p := range [...]Point{g.P1, g.P2} {
			if !inReach(p) {
				return &RangeError{p}
			}
		}
	}
	return nil
}

func inReach(p Point) bool {
	return p.X >= -Reach && p.X <= Reach && p.Y >= -Reach && p.Y <= Reach
}

func (l *layer) start(p Point) {
	l.at = append(l.at, l.round(p))
	l.src = append(l.src, 0)
	l.t = append(l.t, 0)
}

// flatten adds the edges of one segment after the last point. An edge that rounds to nothing is left out, and the next one
// begins where it began.
func (l *layer) flatten(n int32, s *Segment, tol int64) {
	end := len(l.at) - 1
	l.src[end], l.t[end] = n, 0
	if s.Line {
		l.point(n, 1, s.P3)
		return
	}
	s.FlattenTo(tol, func(t float64, p Point) { l.point(n, t, p) })
}

func (l *layer) point(n int32, t float64, p Point) {
	if q := l.round(p); q != l.at[len(l.at)-1] {
		l.at = append(l.at, q)
		l.src = append(l.src, n)
		l.t = append(l.t, t)
	}
}

func (l *layer) round(p Point) pix {
	if l.unit == 1 {
		return pix{int32(p.X), int32(p.Y)}
	}
	return pix{int32(nearest(p.X, l.unit)), int32(nearest(p.Y, l.unit))}
}

// nearest is the multiple of unit nearest to v, in units; the greater of two that are as near.
func nearest(v, unit int64) int64 {
	v += unit / 2
	if v < 0 {
		return -((-v + unit - 1) / unit)
	}
	return v / unit
}

func (l *layer) point64(p pix) Point { return Point{int64(p.x) * l.unit, int64(p.y) * l.unit} }

// Path is the outer contour and the holes as one path, right under NonZero, EvenOdd and Positive.
func (s Shape) Path() Path {
	return append(Path{s.Outer}, s.Holes...)
}

// Paths is the contours of all shapes as one path.
func Paths(shapes []Shape) Path {
	var p Path
	for i := range shapes {
		p = append(append(p, shapes[i].Outer), shapes[i].Holes...)
	}
	return p
}
