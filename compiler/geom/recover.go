package geom

import (
	"cmp"
	"slices"
)

// A recovery makes contours of true curves from rings of edges.
type recovery struct {
	*arrangement
	tol      int64 // how far the edges may be from the curves
	check    int64 // how finely the curves are flattened to be searched for crossings
	refine   bool  // ends are moved to where the true curves cross
	outlines []outline
	scratch  []stretch
}

// An outline is a ring as edges between corners, and as stretches of its sources.
type outline struct {
	corners   []pix
	t         []float64 // by corner: where the edge that begins there begins on its source
	stretches []stretch
	shape     int32
	hole      bool
	touches   bool // a corner of it is one of another outline too
}

// A stretch is one or more edges that come from one source without a break.
type stretch struct {
	src    int32
	endSrc int32 // straight stretches of several sources in one line: the last of them
	from   int32 // its first corner
	edges  int32 // may run past the last corner to the first
	own    int32 // how many of the edges come from its source; the others it has taken in
	tag    int32
	t0, t1 float64 // on the source, where the edges begin and end
	back   bool    // against the source
	line   bool
	bent   bool // of a line: a corner in it is not exactly on it
	touch  bool // it begins at a corner of another outline too
	kept   bool // its edges are kept as they are

	begin  Point   // where it begins after the ends have been moved
	u0, u1 float64 // on the source, after that
	moved  bool    // begin is not the corner
}

// shapes is the recovered shapes of the rings that rings gave, in order.
func (r *recovery) shapes(rings [][]ring) ([]Shape, error) {
	busy := r.busy(rings)
	for i, shape := range rings {
		for k := range shape {
			o := r.outline(&shape[k], busy)
			o.shape = int32(i)
			r.outlines = append(r.outlines, o)
		}
	}
	r.join()
	if err := r.verify(); err != nil {
		return nil, err
	}
	out := make([]Shape, len(rings))
	for i := range r.outlines {
		o := &r.outlines[i]
		c := r.contour(o)
		if s := &out[o.shape]; o.hole {
			s.Holes = append(s.Holes, c)
		} else {
			s.Outer = c
		}
	}
	for i := range out {
		slices.SortFunc(out[i].Holes, compareContours)
	}
	slices.SortFunc(out, func(p, q Shape) int { return compareContours(p.Outer, q.Outer) })
	return out, nil
}

func compareContours(p, q Contour) int {
	return slices.CompareFunc(p.Segments, q.Segments, func(a, b Segment) int {
		return cmp.Or(comparePoints(a.P0, b.P0), compareSegments(&a, &b))
	})
}

// busy tells which nodes the rings pass more than once.
func (r *recovery) busy(rings [][]ring) []bool {
	once, busy := make([]bool, len(r.nodes)), make([]bool, len(r.nodes))
	for _, shape := range rings {
		for i := range shape {
			for _, step := range shape[i].chains {
				n := r.begin(step)
				busy[n] = once[n]
				once[n] = true
			}
		}
	}
	return busy
}

// outline finds the stretches of a ring.
func (r *recovery) outline(g *ring, busy []bool) outline {
	o := outline{hole: g.hole}
	edges := int32(0)
	for _, step := range g.chains {
		edges += r.chains[step>>1].edges
	}
	o.corners, o.t, o.stretches = make([]pix, 0, edges), make([]float64, 0, edges), r.scratch[:0]
	for i := range g.chains {
		step := g.chains[i : i+1]
		touch := busy[r.begin(step[0])]
		o.touches = o.touches || touch
		q := &r.loops[r.chains[step[0]>>1].loop]
		r.along(step, func(e int32, back bool, from, _ pix) {
			next := stretch{src: r.src[e], endSrc: r.src[e], from: int32(len(o.corners)), edges: 1, t0: r.t[e], t1: r.ends(q, e), back: back, touch: touch}
			if back {
				next.t0, next.t1 = next.t1, next.t0
			}
			touch = false
			o.corners, o.t = append(o.corners, from), append(o.t, next.t0)
			if n := len(o.stretches); n > 0 && o.stretches[n-1].goesOn(&next) {
				o.stretches[n-1].edges++
				o.stretches[n-1].t1 = next.t1
				return
			}
			source := q.segment(next.src)
			next.line, next.tag = source.Line, source.Tag
			o.stretches = append(o.stretches, next)
		})
	}
	r.scratch = o.stretches
	if n := len(o.stretches); n > 1 && o.stretches[n-1].goesOn(&o.stretches[0]) {
		o.stretches[n-1].edges += o.stretches[0].edges
		o.stretches[n-1].t1 = o.stretches[0].t1
		o.stretches = o.stretches[1:]
	}
	if s := &o.stretches[0]; len(o.stretches) == 1 { // a curve that comes back to where it began is given in two parts
		half := *s
		half.edges = s.edges / 2
		half.t1 = o.t[int(s.from+half.edges)%len(o.t)]
		s.from, s.edges, s.t0, s.touch = s.from+half.edges, s.edges-half.edges, half.t1, false
		o.stretches = []stretch{half, *s}
	}
	o.straighten()
	if r.refine {
		r.absorb(&o)
	}
	return o
}

// goesOn says whether next carries s on along its source.
func (s *stretch) goesOn(next *stretch) bool {
	if next.touch || s.src != next.src || s.back != next.back || s.t1 != next.t0 {
		return false
	}
	return s.t1 != 0 && s.t1 != 1 // a source that ends where it began goes round, not on
}

// straighten joins straight stretches of one tag that run on in exactly one line, and marks those that are bent. The
// stretches are the outline's own after that.
func (o *outline) straighten() {
	in := o.stretches
	o.stretches = make([]stretch, 0, len(in))
	// Begin where two stretches cannot be joined: a ring has three corners at least.
	first := 0
	for first < len(in) && o.inLine(&in[(first+len(in)-1)%len(in)], &in[first]) {
		first++
	}
	for i := range in {
		if i += first; i >= len(in) {
			i -= len(in)
		}
		if n := len(o.stretches); n > 0 && o.inLine(&o.stretches[n-1], &in[i]) {
			s := &o.stretches[n-1]
			s.edges += in[i].edges
			s.endSrc, s.t1 = in[i].endSrc, in[i].t1
			continue
		}
		o.stretches = append(o.stretches, in[i])
	}
	for i := range o.stretches {
		s := &o.stretches[i]
		s.own = s.edges
		if s.line && s.edges > 1 {
			a, b := o.corner(s.from), o.corner(s.from+s.edges)
			for k := int32(1); k < s.edges && !s.bent; k++ {
				s.bent = side(a, b, o.corner(s.from+k)) != 0
			}
		}
	}
}

func (o *outline) inLine(s, next *stretch) bool {
	if !s.line || !next.line || next.touch || s.endSrc != next.src && s.tag != next.tag {
		return false
	}
	a, b, c := o.corner(s.from), o.corner(next.from), o.corner(next.from+next.edges)
	return side(a, b, c) == 0 && runsOn(Point{int64(a.x), int64(a.y)}, Point{int64(b.x), int64(b.y)}, Point{int64(c.x), int64(c.y)})
}

// corner is corner i counted round, from one before the first to twice round.
func (o *outline) corner(i int32) pix {
	switch n := int32(len(o.corners)); {
	case i < 0:
		i += n
	case i >= n:
		i -= n
	}
	return o.corners[i]
}

// keep gives a stretch its edges back, and the ends of its neighbours their corners.
func (r *recovery) keep(o *outline, i int) {
	o.stretches[i].kept = true
	r.moveBack(o, i)
	r.moveBack(o, (i+1)%len(o.stretches))
}

// keepPart keeps the edges of a stretch between two parameters of its source, and margin edges more at either end; the
// rest of the stretch stays a curve.
func (r *recovery) keepPart(o *outline, i int, from, to float64, margin int32) {
	s := o.stretches[i]
	if s.line || s.own < s.edges {
		r.keep(o, i)
		return
	}
	if s.back {
		from, to = -from, -to
	}
	at := func(k int32) float64 { // rising along the stretch
		t := s.t1
		if k < s.edges {
			t = o.t[int(s.from+k)%len(o.t)]
		}
		if s.back {
			return -t
		}
		return t
	}
	a, b := int32(0), s.edges
	for a+1 < s.edges && at(a+1) <= from {
		a++
	}
	for b-1 > a && at(b-1) >= to {
		b--
	}
	a, b = max(a-margin, 0), min(b+margin, s.edges)
	head, mid, tail := s, s, s
	parts := make([]stretch, 0, 3)
	t := func(k int32) float64 { return o.t[int(s.from+k)%len(o.t)] }
	if a > 0 {
		head.edges, head.own, head.t1, head.u1 = a, a, t(a), t(a)
		mid.from, mid.t0, mid.touch = s.from+a, t(a), false
		parts = append(parts, head)
	}
	mid.edges = b - a
	if b < s.edges {
		mid.t1 = t(b)
	}
	mid.own = mid.edges
	parts = append(parts, mid)
	if b < s.edges {
		tail.from, tail.edges, tail.own, tail.touch = s.from+b, s.edges-b, s.edges-b, false
		tail.t0, tail.u0 = t(b), t(b)
		parts = append(parts, tail)
	}
	o.stretches = slices.Replace(o.stretches, i, i+1, parts...)
	if a > 0 {
		i++
	}
	r.keep(o, i)
}

// changed says whether the segments of a stretch are not just its edges.
func (o *outline) changed(i int) bool {
	s := &o.stretches[i]
	return !s.kept && (!s.line || s.bent || s.own < s.edges || s.moved || o.stretches[(i+1)%len(o.stretches)].moved)
}

// segments appends the segments of stretch i.
func (r *recovery) segments(out []Segment, o *outline, i int) []Segment {
	s := &o.stretches[i]
	next := i + 1
	if next == len(o.stretches) {
		next = 0
	}
	end := o.stretches[next].begin
	if s.kept || s.line {
		if !s.kept {
			return append(out, Segment{P0: s.begin, P3: end, Line: true, Tag: s.tag})
		}
		for k := range s.edges {
			a, b := r.point64(o.corner(s.from+k)), r.point64(o.corner(s.from+k+1))
			out = append(out, Segment{P0: a, P3: b, Line: true, Tag: s.tag})
		}
		return out
	}
	part := r.source(s.src).Sub(s.u0, s.u1)
	d0, d3 := Point{s.begin.X - part.P0.X, s.begin.Y - part.P0.Y}, Point{end.X - part.P3.X, end.Y - part.P3.Y}
	part.P0, part.P1 = s.begin, r.onUnit(Point{part.P1.X + d0.X, part.P1.Y + d0.Y})
	part.P3, part.P2 = end, r.onUnit(Point{part.P2.X + d3.X, part.P2.Y + d3.Y})
	return append(out, part)
}

func (r *recovery) onUnit(p Point) Point {
	if r.unit == 1 {
		return p
	}
	return Point{nearest(p.X, r.unit) * r.unit, nearest(p.Y, r.unit) * r.unit}
}

// contour is the outline as segments, from its least point.
func (r *recovery) contour(o *outline) Contour {
	n, changed, least := 0, false, 0 // where edges are kept or an end has moved, segments may run on in one line
	for i := range o.stretches {
		s := &o.stretches[i]
		if n++; s.kept {
			n += int(s.edges) - 1
		}
		changed = changed || s.kept || s.moved
		if comparePoints(s.begin, o.stretches[least].begin) < 0 {
			least = i
		}
	}
	all := make([]Segment, 0, n)
	if !changed {
		for i := range o.stretches {
			all = r.segments(all, o, (least+i)%len(o.stretches))
		}
		return Contour{Segments: all, Closed: true}
	}
	fixed := make([]bool, n)
	for i := range o.stretches {
		fixed[len(all)] = o.stretches[i].touch
		all = r.segments(all, o, i)
	}
	all = withoutNeedless(all, fixed)
	least = 0
	for i := range all {
		if comparePoints(all[i].P0, all[least].P0) < 0 {
			least = i
		}
	}
	rotate(all, least)
	return Contour{Segments: all, Closed: true}
}

// withoutNeedless joins straight segments of one tag that run on in exactly one line, but for those with a fixed beginning.
func withoutNeedless(all []Segment, fixed []bool) []Segment {
	needless := func(s, next *Segment) bool {
		return s.Line && next.Line && s.Tag == next.Tag && runsOn(s.P0, s.P3, next.P3)
	}
	out := all[:0]
	for i := range all {
		if n := len(out); n > 0 && !fixed[i] && needless(&out[n-1], &all[i]) {
			out[n-1].P3 = all[i].P3
			continue
		}
		out = append(out, all[i])
	}
	if n := len(out); n > 1 && !fixed[0] && needless(&out[n-1], &out[0]) {
		out[0].P0 = out[n-1].P0
		out = out[:n-1]
	}
	return out
}

// runsOn says whether b lies on the straight way from a to c.
func runsOn(a, b, c Point) bool {
	dx, dy, ex, ey := b.X-a.X, b.Y-a.Y, c.X-b.X, c.Y-b.Y
	return dx*ey == dy*ex && dx*ex+dy*ey > 0
}

// rotate brings element k to the front.
func rotate(s []Segment, k int) {
	slices.Reverse(s[:k])
	slices.Reverse(s[k:])
	slices.Reverse(s)
}
