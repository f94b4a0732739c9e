package geom

import (
	"cmp"
	"slices"
)

// A proof is the recovered outlines flattened finely, with the stretch that each edge is of.
type proof struct {
	*recovery
	at     []pix
	loops  []loop    // one an outline
	owner  []handle  // by point, of the edge that ends there
	t      []float64 // by point: where it is on the segment of its owner
	curves []Segment
	curve  []int32 // by point: which of the curves it is on, as the end of an edge; -1 for the end of a straight one
	starts []int32 // by stretch, all outlines in a row: the point where it begins
	first  []int32 // by outline: the number of its first stretch
	bad    []finding
}

// A handle names a stretch of an outline.
type handle struct{ outline, stretch int32 }

// A finding is a part of a stretch that meets something; lo and hi are parameters of its segment.
type finding struct {
	handle
	lo, hi float64
}

// mostRounds bounds the search. Two or three rounds are usual; what still meets after so many is left as edges altogether.
const mostRounds = 12

// verify searches the recovered outlines for crossings and other meetings that the edges do not have, within and between
// rings, and keeps the edges of what takes part, until nothing is found. Edges alone are free of them.
func (r *recovery) verify() error {
	if r.check == 0 {
		r.check = max(r.tol/4, 1)
	}
	for round := int32(1); r.anyChanged(); round++ {
		p := proof{recovery: r}
		p.flatten()
		p.search()
		if len(p.bad) == 0 {
			return nil
		}
		if round > mostRounds {
			for i := range r.outlines {
				p.blame(i)
			}
		}
		if !p.mend(round) {
			return errTangled
		}
	}
	return nil
}

// mend keeps the edges of what was found, with the more of them to each side the more rounds there were.
func (p *proof) mend(round int32) (mended bool) {
	slices.SortFunc(p.bad, func(a, b finding) int { // the last stretches and parts first
		return cmp.Or(cmp.Compare(a.outline, b.outline), cmp.Compare(b.stretch, a.stretch), cmp.Compare(b.lo, a.lo), cmp.Compare(b.hi, a.hi))
	})
	for k := 0; k < len(p.bad); {
		f := p.bad[k]
		o, i := &p.outlines[f.outline], int(f.stretch)
		s := o.stretches[i]
		changed := o.changed(i)
		mended = mended || changed
		for k < len(p.bad) && p.bad[k].handle == f.handle {
			lo, hi := p.bad[k].lo, p.bad[k].hi
			for k++; k < len(p.bad) && p.bad[k].handle == f.handle && p.bad[k].hi >= lo-near; k++ {
				lo, hi = min(lo, p.bad[k].lo), max(hi, p.bad[k].hi)
			}
			if changed && !o.stretches[i].kept {
				p.keepPart(o, i, s.u0+float64((s.u1-s.u0)*lo), s.u0+float64((s.u1-s.u0)*hi), 1<<round>>2)
			}
		}
	}
	p.agree()
	return mended
}

// near is how close parts of a segment are, in its parameter, that are kept as one.
const near = 0.05

func (r *recovery) anyChanged() bool {
	for i := range r.outlines {
		if o := &r.outlines[i]; o.anyChanged() {
			return true
		}
	}
	return false
}

func (o *outline) anyChanged() bool {
	for k := range o.stretches {
		if o.changed(k) {
			return true
		}
	}
	return false
}

func (p *proof) flatten() {
	var parts []Segment
	for i := range p.outlines {
		o := &p.outlines[i]
		first := int32(len(p.at))
		p.first = append(p.first, int32(len(p.starts)))
		p.put(o.stretches[0].begin, handle{}, 0, -1)
		for k := range o.stretches {
			h := handle{int32(i), int32(k)}
			p.starts = append(p.starts, int32(len(p.at))-1)
			before := len(p.at)
			parts = p.segments(parts[:0], o, k)
			for m := range parts {
				curve := int32(-1)
				if !parts[m].Line {
					curve = int32(len(p.curves))
					p.curves = append(p.curves, parts[m])
				}
				parts[m].FlattenTo(p.check, func(t float64, q Point) {
					if g := (pix{int32(q.X), int32(q.Y)}); g != p.at[len(p.at)-1] {
						p.put(q, h, t, curve)
					}
				})
			}
			if len(p.at) == before {
				p.bad = append(p.bad, finding{h, 0, 1})
			}
		}
		p.loops = append(p.loops, loop{first: first, last: int32(len(p.at)) - 1})
	}
}

func (p *proof) put(q Point, h handle, t float64, curve int32) {
	p.at = append(p.at, pix{int32(q.X), int32(q.Y)})
	p.owner = append(p.owner, h)
	p.t = append(p.t, t)
	p.curve = append(p.curve, curve)
}

// find puts the part of a stretch that an edge is of among the bad.
func (p *proof) find(edge int32) {
	f := finding{p.owner[edge+1], 0, p.t[edge+1]}
	if p.owner[edge] == f.handle {
		f.lo = min(p.t[edge], f.hi)
	}
	p.bad = append(p.bad, f)
}

func (p *proof) search() {
	if len(p.bad) > 0 {
		return // an edge is missing: mend that first
	}
	touch := make([]bool, len(p.at))
	for i := range p.outlines {
		for k := range p.outlines[i].stretches {
			if p.outlines[i].stretches[k].touch {
				touch[p.starts[int(p.first[i])+k]] = true
			}
		}
	}
	margin := int32(0)
	if len(p.curves) > 0 {
		margin = int32(min(p.check+2, 1<<29))
	}
	tree := newHierarchy(p.at, p.loops, margin)
	tree.pairs(func(ra, rb int32) {
		a, b := &tree.runs[ra], &tree.runs[rb]
		for i := a.from; i < a.to; i++ {
			box := edgeBounds(p.at[i], p.at[i+1])
			box = bounds{box.minX - margin, box.minY - margin, box.maxX + margin, box.maxY + margin}
			if !box.meets(&tree.levels[0][rb]) {
				continue
			}
			for j := b.from; j < b.to; j++ {
				other := edgeBounds(p.at[j], p.at[j+1])
				other = bounds{other.minX - margin, other.minY - margin, other.maxX + margin, other.maxY + margin}
				if i != j && box.meets(&other) && (p.collide(i, j, a.loop, b.loop, touch) || !p.clear(i, j)) {
					p.find(i)
					p.find(j)
				}
			}
		}
	})
	p.turns()
	p.sides(tree)
}

// collide says whether two edges meet other than at a point that they share by right.
func (p *proof) collide(i, j, loopI, loopJ int32, touch []bool) bool {
	a, b, c, d := p.at[i], p.at[i+1], p.at[j], p.at[j+1]
	s1, s2 := side(a, b, c), side(a, b, d)
	if s1 > 0 && s2 > 0 || s1 < 0 && s2 < 0 {
		return false
	}
	s3, s4 := side(c, d, a), side(c, d, b)
	if s3 > 0 && s4 > 0 || s3 < 0 && s4 < 0 {
		return false
	}
	if s1 != 0 && s2 != 0 && s3 != 0 && s4 != 0 {
		return true
	}
	shared := 0
	for _, e := range [...]struct{ v, w int32 }{{i, j}, {i, j + 1}, {i + 1, j}, {i + 1, j + 1}} {
		if p.at[e.v] != p.at[e.w] {
			continue
		}
		v, w := p.point(e.v, loopI), p.point(e.w, loopJ)
		if v != w && !(touch[v] && touch[w]) {
			return true
		}
		shared++
	}
	if shared > 1 {
		return true
	}
	on := func(a, b, c pix, s int64) bool {
		box := edgeBounds(a, b)
		return s == 0 && c != a && c != b && box.holds(c)
	}
	return on(a, b, c, s1) || on(a, b, d, s2) || on(c, d, a, s3) || on(c, d, b, s4)
}

// clear says whether two edges that do not collide have curves that are clear of each other.
func (p *proof) clear(i, j int32) bool {
	if p.curve[i+1] < 0 && p.curve[j+1] < 0 {
		return true
	}
	f, g := p.flank(i), p.flank(j)
	if goesOn(p.at, i, j, f.room, g.room) {
		return true
	}
	switch {
	case p.at[i] == p.at[j]:
	case p.at[i] == p.at[j+1]:
		g = g.reversed()
	case p.at[i+1] == p.at[j]:
		f = f.reversed()
	case p.at[i+1] == p.at[j+1]:
		f, g = f.reversed(), g.reversed()
	default:
		return clear(&f, &g, 0)
	}
	return clearFrom(&f, &g, 0)
}

// flank is the part of a curve that an edge is the chord of. Chords of other lengths may lie there in part, so it has the
// room of what is beside it too.
func (p *proof) flank(edge int32) flank {
	a, b := place(p.at[edge]), place(p.at[edge+1])
	n := p.curve[edge+1]
	if n < 0 {
		return straightFlank(a, b)
	}
	s, t0, t1 := &p.curves[n], 0.0, p.t[edge+1]
	if p.curve[edge] == n {
		t0 = p.t[edge]
	}
	step := t1 - t0
	room := float64(float64(0.75*float64(step*step)) * s.bent(max(t0-step, 0), min(t1+step, 1)))
	f := flankOf(s, t0, t1, room)
	f.c[0], f.c[3] = a, b
	return f
}

// point is the one number of a point that stands both at the beginning and at the end of its loop.
func (p *proof) point(v, loop int32) int32 {
	if q := &p.loops[loop]; v == q.last {
		return q.first
	}
	return v
}

// turns looks whether the lines through each point of contact leave it in the order in which their edges do.
func (p *proof) turns() {
	p.contacts(func(all []contact) {
		if p.sameTurn(all) {
			return
		}
		for _, c := range all {
			before, n := c.h, int32(len(p.outlines[c.h.outline].stretches))
			before.stretch = (before.stretch + n - 1) % n
			p.bad = append(p.bad, finding{c.h, 0, 0}, finding{before, 1, 1})
		}
	})
}

func (p *proof) sameTurn(contacts []contact) bool {
	type ray struct {
		id       int
		old, new pix
	}
	var rays []ray
	for i, c := range contacts {
		o, q := &p.outlines[c.h.outline], &p.loops[c.h.outline]
		s := &o.stretches[c.h.stretch]
		v := p.starts[p.first[c.h.outline]+c.h.stretch]
		before := v - 1
		if v == q.first {
			before = q.last - 1
		}
		rays = append(rays,
			ray{2 * i, o.corner(s.from + int32(len(o.corners)) - 1), p.at[before]},
			ray{2*i + 1, o.corner(s.from + 1), p.at[v+1]})
	}
	centre := p.at[p.starts[p.first[contacts[0].h.outline]+contacts[0].h.stretch]]
	slices.SortFunc(rays, func(a, b ray) int { return compareAngles(contacts[0].at, a.old, b.old) })
	old := make([]int, len(rays))
	for i := range rays {
		old[i] = rays[i].id
	}
	slices.SortFunc(rays, func(a, b ray) int { return compareAngles(centre, a.new, b.new) })
	for i := range rays {
		if compareAngles(centre, rays[i].new, rays[(i+1)%len(rays)].new) == 0 {
			return false
		}
	}
	at := slices.Index(old, rays[0].id)
	for i := range rays {
		if rays[i].id != old[(at+i)%len(old)] {
			return false
		}
	}
	return true
}

// sides looks whether every ring still turns the right way, and whether a ring so thin that it might lie between a curve
// and its chords is still on the right side of what is next to it. Of a ring thinner than the tolerance the chords are all
// that is known.
func (p *proof) sides(tree *hierarchy) {
	for i := range p.outlines {
		o, q := &p.outlines[i], &p.loops[i]
		area, length := p.measure(q)
		if ((area < 0) != o.hole || 2*max(area, -area) < float64(p.tol)*length) && o.anyChanged() {
			p.blame(i)
			continue
		}
		if o.touches || max(area, -area) > 4*float64(p.tol)*length {
			continue
		}
		least := p.at[q.first]
		for v := q.first; v < q.last; v++ {
			if p.at[v].before(least) {
				least = p.at[v]
			}
		}
		edge, _, found := leftOf(p.at, tree, least, nil)
		inside := found && p.at[edge].y > p.at[edge+1].y // falling: the region is on the side of greater x
		if inside != o.hole {
			p.blameNear(i)
		}
	}
}

// blame puts the whole of an outline among the bad.
func (p *proof) blame(outline int) {
	for k := range p.outlines[outline].stretches {
		p.bad = append(p.bad, finding{handle{int32(outline), int32(k)}, 0, 1})
	}
}

// blameNear puts an outline among the bad, and whatever has its edges so near that it may have gone to the other side.
func (p *proof) blameNear(outline int) {
	near := p.outlines[outline].box(0, int32(len(p.outlines[outline].corners)))
	reach := int32(min(4*p.tol/p.unit+4, 1<<29))
	near = bounds{near.minX - reach, near.minY - reach, near.maxX + reach, near.maxY + reach}
	for i := range p.outlines {
		o := &p.outlines[i]
		for k := range o.stretches {
			s := &o.stretches[k]
			if box := o.box(s.from, s.edges); box.meets(&near) {
				p.bad = append(p.bad, finding{handle{int32(i), int32(k)}, 0, 1})
			}
		}
	}
}

// box is round the given number of edges from a corner on.
func (o *outline) box(from, edges int32) bounds {
	b := edgeBounds(o.corner(from), o.corner(from+edges))
	for k := range edges {
		c := o.corner(from + k)
		b.include(&bounds{c.x, c.y, c.x, c.y})
	}
	return b
}

// measure is the area of a loop, by the shoelace formula, and its length by the sum of its extents in x and y.
func (p *proof) measure(q *loop) (area, length float64) {
	o := p.at[q.first]
	for i := q.first; i < q.last; i++ {
		area += float64(side(o, p.at[i], p.at[i+1]))
		length += lengthL1(p.at[i], p.at[i+1])
	}
	return area / 2, length
}
