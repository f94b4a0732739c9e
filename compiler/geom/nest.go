package geom

import (
	"cmp"
	"slices"
)

// A ring is a closed line round or within the region, as the chains that it goes along: chain·2, and 1 more where it goes
// against the chain. The region lies on its left. It passes no point twice.
type ring struct {
	chains []int32
	least  pix
	walk   int32
	hole   bool
}

// rings finds the boundary of the region: the outer rings, each followed by its holes, in order of their least points.
func (a *arrangement) rings() ([][]ring, error) {
	walks, of, err := a.walks()
	if err != nil {
		return nil, err
	}
	var all []ring
	for w, walk := range walks {
		for _, c := range a.untie(walk) {
			r := ring{chains: c, walk: int32(w)}
			r.least, r.hole = a.direction(c)
			all = append(all, r)
		}
	}
	return a.nest(all, len(walks), of)
}

func (a *arrangement) isBoundary(c int32) bool { return a.chains[c].left != a.chains[c].right }

// ahead is the boundary chain c as a step with the region on its left.
func (a *arrangement) ahead(c int32) int32 {
	if a.chains[c].left {
		return 2 * c
	}
	return 2*c + 1
}

// walks follows the boundary with the region on the left, at every node along the edge of the same wedge of the region, so
// that a walk goes round one connected part of it. A walk may pass a point twice. By chain, of tells which walk it is in.
func (a *arrangement) walks() (walks [][]int32, of []int32, err error) {
	of = make([]int32, len(a.chains))
	for i := range of {
		of[i] = -1
	}
	for i := range a.chains {
		c := int32(i)
		if !a.leads(c) || !a.isBoundary(c) || of[c] >= 0 {
			continue
		}
		var walk []int32
		for of[c] < 0 {
			of[c] = int32(len(walks))
			step := a.ahead(c)
			walk = append(walk, step)
			if c, err = a.next(step); err != nil {
				return nil, nil, err
			}
		}
		if c != int32(i) {
			return nil, nil, errTangled
		}
		walks = append(walks, walk)
	}
	return walks, of, nil
}

// next is the boundary chain that goes on from the end of a step: the first one back round the node. Between the two lies
// the region.
func (a *arrangement) next(step int32) (int32, error) {
	c := &a.chains[step>>1]
	node, spoke := c.to, step|1
	if step&1 == 1 {
		node, spoke = c.from, step&^1
	}
	from, to := a.begins[node], a.begins[node+1]
	for i, n := a.places[spoke], to-from; n > 0; n-- {
		if i--; i < from {
			i = to - 1
		}
		s := a.spokes[i]
		if a.leads(s>>1) && a.isBoundary(s>>1) {
			if a.ahead(s>>1) != s { // it must lead away from here
				return 0, errTangled
			}
			return s >> 1, nil
		}
	}
	return 0, errTangled
}

// untie parts a walk where it passes a point twice. As it never crosses itself, the parts are the same wherever it begins.
func (a *arrangement) untie(walk []int32) [][]int32 {
	var parts [][]int32
	var open []int32 // the steps so far that are in no part
	place := make(map[int32]int, len(walk))
	for _, step := range walk {
		place[a.begin(step)] = len(open)
		open = append(open, step)
		if i, ok := place[a.begin(step^1)]; ok {
			for _, s := range open[i:] {
				delete(place, a.begin(s))
			}
			parts = append(parts, a.fromLeast(open[i:]))
			open = open[:i]
		}
	}
	return parts
}

// fromLeast is the steps of a ring from its least node on: what is made of them must not depend on where the walk began,
// which depends on the order of the input.
func (a *arrangement) fromLeast(steps []int32) []int32 {
	least := 0
	for i := range steps {
		if a.begin(steps[i]) < a.begin(steps[least]) {
			least = i
		}
	}
	return slices.Concat(steps[least:], steps[:least])
}

// begin is the node that a step starts from.
func (a *arrangement) begin(step int32) int32 {
	if step&1 == 0 {
		return a.chains[step>>1].from
	}
	return a.chains[step>>1].to
}

// direction is the least point of a ring and whether it turns against x towards y there, as a hole does.
func (a *arrangement) direction(steps []int32) (least pix, hole bool) {
	var before, first, last, prev pix
	var after pix
	n := 0
	a.along(steps, func(e int32, _ bool, from, to pix) {
		if n == 0 {
			first, least = from, from
			after = to
		} else if from.before(least) {
			least, before, after = from, prev, to
		}
		prev, last = from, from
		n++
	})
	if least == first {
		before = last
	}
	return least, side(before, least, after) < 0
}

// along calls visit with every edge of the steps, in order, from one end to the other the way the steps go.
func (a *arrangement) along(steps []int32, visit func(edge int32, back bool, from, to pix)) {
	for _, step := range steps {
		c := &a.chains[step>>1]
		q := &a.loops[c.loop]
		if step&1 == 0 {
			e := c.edge
			for range c.edges {
				visit(e, false, a.at[e], a.at[e+1])
				if e++; e == q.last {
					e = q.first
				}
			}
			continue
		}
		e := a.last(c)
		for range c.edges {
			visit(e, true, a.at[e+1], a.at[e])
			if e--; e < q.first {
				e = q.last - 1
			}
		}
	}
}

// nest puts the holes to the outer rings that they are in. A walk has one outer ring or none. If it has none, it lies
// free in the region, and what is next to it on the left is another walk round the same part.
func (a *arrangement) nest(all []ring, walks int, of []int32) ([][]ring, error) {
	slices.SortFunc(all, func(p, q ring) int {
		return cmp.Or(cmp.Compare(p.least.key(), q.least.key()), compareBools(p.hole, q.hole))
	})
	shape := make([]int32, walks) // by walk: the shape it bounds
	for i := range shape {
		shape[i] = -1
	}
	var shapes [][]ring
	for _, r := range all {
		if r.hole {
			continue
		}
		if shape[r.walk] >= 0 {
			return nil, errTangled
		}
		shape[r.walk] = int32(len(shapes))
		shapes = append(shapes, []ring{r})
	}
	for _, r := range all {
		if !r.hole {
			continue
		}
		if shape[r.walk] < 0 {
			edge, loop, found := leftOf(a.at, a.tree, r.least, func(edge, loop int32) bool {
				return a.isBoundary(a.chains[a.chainOf(edge, loop)].leader)
			})
			if !found {
				return nil, errTangled
			}
			shape[r.walk] = shape[of[a.chains[a.chainOf(edge, loop)].leader]]
			if shape[r.walk] < 0 {
				return nil, errTangled
			}
		}
		shapes[shape[r.walk]] = append(shapes[shape[r.walk]], r)
	}
	return shapes, nil
}

func compareBools(p, q bool) int {
	switch {
	case p == q:
		return 0
	case q:
		return -1
	}
	return 1
}
