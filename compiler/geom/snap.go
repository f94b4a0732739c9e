package geom

import (
	"cmp"
	"math/bits"
	"slices"
)

// Snapping is one pass of Hobby's (1999) rounding: the hot pixels are those of all end points and all crossings, and
// every edge is led through the centre of each hot pixel that it enters. After that edges meet at points only, and two
// that lie on each other have the same ends.
type snapping struct {
	*layer
	tree      *hierarchy
	special   []bool // by point: a point of another edge stands here too, or an edge of another was led through it
	cuts      []cut
	crossings []uint64 // by their keys
}

// A cut leads an edge through a hot pixel.
type cut struct {
	edge int32
	at   pix
}

// snap cuts the layer's edges up where they meet and moves them by less than one unit so that they meet at points of the
// grid. It tells which points are special, and makes the tree's runs those of the new edges. The points that are not
// special have two edges, one before and one after.
func (l *layer) snap(tree *hierarchy) (special []bool) {
	s := snapping{layer: l, tree: tree, special: make([]bool, len(l.at))}
	tree.pairs(s.runs)
	slices.Sort(s.crossings)
	tree.under(slices.Compact(s.crossings), s.hot)
	s.split()
	return s.special
}

// runs looks for meetings between the edges of two runs.
func (s *snapping) runs(ra, rb int32) {
	a, b := &s.tree.runs[ra], &s.tree.runs[rb]
	if a.loop == b.loop && (s.goesOn(a, b) || s.goesOn(b, a)) {
		return
	}
	common := s.tree.levels[0][ra]
	common.intersect(&s.tree.levels[0][rb])
	fromB, toB := s.within(b, &common)
	if fromB == toB {
		return
	}
	fromA, toA := s.within(a, &common)
	for i := fromA; i < toA; i++ {
		box := edgeBounds(s.at[i], s.at[i+1])
		for j := fromB; j < toB; j++ {
			if box.touches(s.at[j], s.at[j+1]) && i != j {
				s.meet(i, j, a.loop, b.loop)
			}
		}
	}
}

// within is the edges of a run whose boxes meet a box: as the run goes on in x and y, they follow each other.
func (s *snapping) within(r *run, b *bounds) (from, to int32) {
	from, to = r.from, r.to
	for from < to && !b.touches(s.at[from], s.at[from+1]) {
		from++
	}
	for from < to && !b.touches(s.at[to-1], s.at[to]) {
		to--
	}
	return from, to
}

// goesOn says whether run b begins where a ends and goes on in both x and y: then they meet nowhere else.
func (s *snapping) goesOn(a, b *run) bool {
	if q := &s.loops[a.loop]; a.to != b.from && (a.to != q.last || b.from != q.first) {
		return false
	}
	p, q, r := s.at[a.from], s.at[b.from], s.at[b.to]
	return (int64(q.x)-int64(p.x))*(int64(r.x)-int64(q.x)) >= 0 && (int64(q.y)-int64(p.y))*(int64(r.y)-int64(q.y)) >= 0
}

// meet finds every point that two edges have in common and every end of one that is hot for the other.
func (s *snapping) meet(i, j, loopI, loopJ int32) {
	p, q, r, t := s.at[i], s.at[i+1], s.at[j], s.at[j+1]
	c1, c2 := side(p, q, r), side(p, q, t)
	half := halfWidth(p, q)
	if c1 > half && c2 > half || c1 < -half && c2 < -half {
		return
	}
	c3, c4 := side(r, t, p), side(r, t, q)
	half = halfWidth(r, t)
	if c3 > half && c4 > half || c3 < -half && c4 < -half {
		return
	}
	s.touch(i, p, q, j, r, c1, loopI, loopJ)
	s.touch(i, p, q, j+1, t, c2, loopI, loopJ)
	if p != r && p != t && hot(r, t, p, c3) {
		s.cut(j, p, i, loopI)
	}
	if q != r && q != t && hot(r, t, q, c4) {
		s.cut(j, q, i+1, loopI)
	}
	if (c1 > 0 && c2 < 0 || c1 < 0 && c2 > 0) && (c3 > 0 && c4 < 0 || c3 < 0 && c4 > 0) {
		s.crossings = append(s.crossings, crossing(p, q, r, t).key())
	}
}

// touch looks whether point v of another edge, c to the side of edge i, is one of its ends or hot for it.
func (s *snapping) touch(i int32, p, q pix, v int32, at pix, c int64, loopI, loopV int32) {
	switch {
	case at == p:
		s.shared(i, loopI, v, loopV)
	case at == q:
		s.shared(i+1, loopI, v, loopV)
	case hot(p, q, at, c):
		s.cut(i, at, v, loopV)
	}
}

func (s *snapping) shared(v, loopV, w, loopW int32) {
	v, w = s.point(v, loopV), s.point(w, loopW)
	if v != w {
		s.special[v], s.special[w] = true, true
	}
}

func (s *snapping) cut(edge int32, at pix, v, loopV int32) {
	s.special[s.point(v, loopV)] = true
	s.cuts = append(s.cuts, cut{edge, at})
}

// point is the one number of a point that stands both at the beginning and at the end of its loop.
func (s *snapping) point(v, loop int32) int32 {
	if q := &s.loops[loop]; v == q.last {
		return q.first
	}
	return v
}

// hot leads the edges of a run through the hot pixel p of a crossing.
func (s *snapping) hot(r int32, p pix) {
	a := &s.tree.runs[r]
	for i := a.from; i < a.to; i++ {
		box := edgeBounds(s.at[i], s.at[i+1])
		switch {
		case !box.holds(p):
		case p == s.at[i]:
			s.special[i] = true
		case p == s.at[i+1]:
			s.special[s.point(i+1, a.loop)] = true
		case hot(s.at[i], s.at[i+1], p, side(s.at[i], s.at[i+1], p)):
			s.cuts = append(s.cuts, cut{i, p})
		}
	}
}

// halfWidth is what |side| may be at most for the centre of a pixel that the line through a and b enters.
func halfWidth(a, b pix) int64 {
	return (abs64(int64(b.x)-int64(a.x)) + abs64(int64(b.y)-int64(a.y))) / 2
}

func abs64(v int64) int64 {
	if v < 0 {
		return -v
	}
	return v
}

// hot says whether the edge from a to b enters the pixel p, that is none of its ends; c is side(a, b, p). The line enters
// it where the centre is near enough; where it only touches a corner, that must be the one that belongs to the pixel, the
// lower left. The part of the line within the edge's box is all that can enter a pixel centred in it.
func hot(a, b, p pix, c int64) bool {
	box := edgeBounds(a, b)
	if !box.holds(p) {
		return false
	}
	if c < 0 {
		a, b, c = b, a, -c
	}
	dx, dy := int64(b.x)-int64(a.x), int64(b.y)-int64(a.y)
	width := uint64(abs64(dx) + abs64(dy))
	if 2*uint64(c) != width {
		return 2*uint64(c) < width
	}
	return dx > 0 && dy < 0 // p lies above and to the right of the falling line
}

// crossing is where the edges p–q and r–t cross, rounded to the pixel that holds the point. They must cross properly.
func crossing(p, q, r, t pix) pix {
	rx, ry := int64(q.x)-int64(p.x), int64(q.y)-int64(p.y)
	sx, sy := int64(t.x)-int64(r.x), int64(t.y)-int64(r.y)
	den := rx*sy - ry*sx
	num := (int64(r.x)-int64(p.x))*sy - (int64(r.y)-int64(p.y))*sx
	if den < 0 {
		den, num = -den, -num
	}
	return pix{p.x + int32(share(rx, num, den)), p.y + int32(share(ry, num, den))}
}

// share is v·num/den rounded to the nearest whole number, up where two are as near; 0 ≤ num ≤ den. The product has up to
// 95 bits.
func share(v, num, den int64) int64 {
	hi, lo := bits.Mul64(uint64(abs64(v)), uint64(num))
	q, rem := bits.Div64(hi, lo, uint64(den))
	if v < 0 {
		if 2*rem > uint64(den) {
			q++
		}
		return -int64(q)
	}
	if 2*rem >= uint64(den) {
		q++
	}
	return int64(q)
}

// split puts the cuts into the layer as points.
func (s *snapping) split() {
	if len(s.cuts) == 0 {
		return
	}
	n := len(s.at) + len(s.cuts)
	at, src, t := make([]pix, 0, n), make([]int32, 0, n), make([]float64, 0, n)
	special := make([]bool, 0, n)
	begins := s.sortCuts() // where the cuts of each edge begin; overwritten by where each old point stands now
	for l := range s.loops {
		q := &s.loops[l]
		first := int32(len(at))
		for i := q.first; i <= q.last; i++ {
			cuts := s.cuts[begins[i]:begins[i+1]]
			begins[i] = int32(len(at))
			at, src, t = append(at, s.at[i]), append(src, s.src[i]), append(t, s.t[i])
			special = append(special, s.special[i])
			for k := range cuts {
				if k > 0 && cuts[k] == cuts[k-1] {
					continue
				}
				at, src = append(at, cuts[k].at), append(src, s.src[i])
				t = append(t, s.parameter(q, i, cuts[k].at))
				special = append(special, true)
			}
		}
		q.first, q.last = first, int32(len(at))-1
	}
	for r := range s.tree.runs {
		a := &s.tree.runs[r]
		a.from, a.to = begins[a.from], begins[a.to]
	}
	s.at, s.src, s.t, s.special = at, src, t, special
}

// sortCuts puts the cuts in order along the edges, and tells where those of each edge begin. The pixels that an edge enters
// go one way in x and one way in y.
func (s *snapping) sortCuts() (begins []int32) {
	begins = make([]int32, len(s.at)+2)
	for _, c := range s.cuts {
		begins[c.edge+2]++
	}
	for i := 2; i < len(begins); i++ {
		begins[i] += begins[i-1]
	}
	sorted := make([]cut, len(s.cuts))
	for _, c := range s.cuts {
		sorted[begins[c.edge+1]] = c
		begins[c.edge+1]++
	}
	s.cuts = sorted
	for from := 0; from < len(sorted); {
		to := from + 1
		for to < len(sorted) && sorted[to].edge == sorted[from].edge {
			to++
		}
		if to-from > 1 {
			s.sortAlong(sorted[from:to])
		}
		from = to
	}
	return begins
}

// sortAlong puts the cuts of one edge in order along it.
func (s *snapping) sortAlong(cuts []cut) {
	a, b := s.at[cuts[0].edge], s.at[cuts[0].edge+1]
	slices.SortFunc(cuts, func(p, q cut) int {
		if p.at.x != q.at.x {
			if a.x < b.x {
				return cmp.Compare(p.at.x, q.at.x)
			}
			return cmp.Compare(q.at.x, p.at.x)
		}
		if a.y < b.y {
			return cmp.Compare(p.at.y, q.at.y)
		}
		return cmp.Compare(q.at.y, p.at.y)
	})
}

// parameter is where on its source the point p of edge i lies. It is never zero: see layer.t.
func (s *snapping) parameter(q *loop, i int32, p pix) float64 {
	a, b := s.at[i], s.at[i+1]
	t0, t1 := s.t[i], s.ends(q, i)
	dx, dy := float64(b.x)-float64(a.x), float64(b.y)-float64(a.y)
	along := float64(dx*(float64(p.x)-float64(a.x))) + float64(dy*(float64(p.y)-float64(a.y)))
	f := along / (float64(dx*dx) + float64(dy*dy))
	return min(max(t0+float64((t1-t0)*f), t0, 1e-18), t1)
}

// ends is the parameter at which edge i of a loop ends on its source.
func (l *layer) ends(q *loop, i int32) float64 {
	if i+1 == q.last || l.src[i+1] != l.src[i] || l.t[i+1] == 0 {
		return 1
	}
	return l.t[i+1]
}
