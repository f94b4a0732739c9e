package geom

import (
	"math"
	"slices"
)

// A bounds is a closed box on the engine's grid.
type bounds struct{ minX, minY, maxX, maxY int32 }

func (b *bounds) meets(c *bounds) bool {
	return b.minX <= c.maxX && c.minX <= b.maxX && b.minY <= c.maxY && c.minY <= b.maxY
}

func (b *bounds) holds(p pix) bool {
	return b.minX <= p.x && p.x <= b.maxX && b.minY <= p.y && p.y <= b.maxY
}

// touches says whether the box of the edge from p to q meets b.
func (b *bounds) touches(p, q pix) bool {
	return min(p.x, q.x) <= b.maxX && b.minX <= max(p.x, q.x) && min(p.y, q.y) <= b.maxY && b.minY <= max(p.y, q.y)
}

func (b *bounds) intersect(c *bounds) {
	b.minX, b.minY = max(b.minX, c.minX), max(b.minY, c.minY)
	b.maxX, b.maxY = min(b.maxX, c.maxX), min(b.maxY, c.maxY)
}

func (b *bounds) include(c *bounds) {
	b.minX, b.minY = min(b.minX, c.minX), min(b.minY, c.minY)
	b.maxX, b.maxY = max(b.maxX, c.maxX), max(b.maxY, c.maxY)
}

func edgeBounds(p, q pix) bounds {
	return bounds{min(p.x, q.x), min(p.y, q.y), max(p.x, q.x), max(p.y, q.y)}
}

const (
	runLength = 12 // edges in a run; a choice, measured
	fanOut    = 4  // boxes under a box; a choice, measured
	longEdge  = 16 // an edge this many times the mean is cut up in the index
	mostParts = 64 // into no more than this
)

// A run is some edges in a row that go on in both x and y, or stand still in one: none of them meets another but where
// they join. A long edge is a run by itself, and stands in the index several times with a box for each part of it.
type run struct{ from, to, loop int32 } // edges from ≤ i < to

// A hierarchy finds the edges of a layer by place. Its leaves are runs in the order of a space-filling curve, each level
// above has a box for every fanOut of the one below. Long and short edges may be mixed as they come: see longEdge.
type hierarchy struct {
	runs   []run
	levels [][]bounds
}

// newHierarchy has a margin added to every box all round.
func newHierarchy(at []pix, loops []loop, margin int32) *hierarchy {
	var total float64
	edges := 0
	for k := range loops {
		for i := loops[k].first; i < loops[k].last; i++ {
			total += lengthL1(at[i], at[i+1])
		}
		edges += int(loops[k].last - loops[k].first)
	}
	if edges == 0 {
		return &hierarchy{levels: [][]bounds{nil}}
	}
	long := float64(longEdge*total) / float64(edges)
	h := &hierarchy{runs: make([]run, 0, edges/4+8)}
	boxes := make([]bounds, 0, edges/4+8)
	for k := range loops {
		q := &loops[k]
		for i := q.first; i < q.last; {
			if l := lengthL1(at[i], at[i+1]); l > long {
				parts := int(min(math.Ceil(l/long), mostParts))
				for j := range parts {
					h.runs = append(h.runs, run{i, i + 1, int32(k)})
					boxes = append(boxes, partBounds(at[i], at[i+1], j, parts))
				}
				i++
				continue
			}
			j := q.runEnd(at, i, long)
			h.runs = append(h.runs, run{i, j, int32(k)})
			boxes = append(boxes, edgeBounds(at[i], at[j]))
			i = j
		}
	}
	for i := range boxes {
		b := &boxes[i]
		*b = bounds{b.minX - margin, b.minY - margin, b.maxX + margin, b.maxY + margin}
	}
	h.raise(boxes)
	return h
}

func lengthL1(p, q pix) float64 {
	return math.Abs(float64(q.x)-float64(p.x)) + math.Abs(float64(q.y)-float64(p.y))
}

// runEnd is where the run that begins with edge i ends.
func (q *loop) runEnd(at []pix, i int32, long float64) int32 {
	var right, left, up, down bool
	j := i
	for ; j < q.last && j-i < runLength; j++ {
		a, b := at[j], at[j+1]
		if j > i && lengthL1(a, b) > long {
			break
		}
		right, left = right || b.x > a.x, left || b.x < a.x
		up, down = up || b.y > a.y, down || b.y < a.y
		if right && left || up && down {
			break
		}
	}
	return max(j, i+1)
}

// partBounds is a box round part j of the edge from p to q, with a margin of two units: snapping moves an edge by less
// than one, and the interpolation is off by less than another.
func partBounds(p, q pix, j, parts int) bounds {
	f0, f1 := float64(j)/float64(parts), float64(j+1)/float64(parts)
	dx, dy := float64(q.x)-float64(p.x), float64(q.y)-float64(p.y)
	x0, x1 := float64(p.x)+float64(dx*f0), float64(p.x)+float64(dx*f1)
	y0, y1 := float64(p.y)+float64(dy*f0), float64(p.y)+float64(dy*f1)
	return bounds{
		int32(math.Floor(min(x0, x1))) - 2, int32(math.Floor(min(y0, y1))) - 2,
		int32(math.Ceil(max(x0, x1))) + 2, int32(math.Ceil(max(y0, y1))) + 2,
	}
}

// raise puts the runs in order of place and builds the levels over them.
func (h *hierarchy) raise(boxes []bounds) {
	all := boxes[0]
	for i := range boxes {
		all.include(&boxes[i])
	}
	wide := max(float64(all.maxX)-float64(all.minX), float64(all.maxY)-float64(all.minY), 1)
	order := make([]uint64, len(boxes))
	for i := range boxes {
		b := &boxes[i]
		x := (float64(b.minX) + float64(b.maxX)) / 2
		y := (float64(b.minY) + float64(b.maxY)) / 2
		x, y = float64((x-float64(all.minX))/wide*65535), float64((y-float64(all.minY))/wide*65535)
		order[i] = uint64(hilbert(uint32(min(max(x, 0), 65535)), uint32(min(max(y, 0), 65535))))<<32 | uint64(i)
	}
	slices.Sort(order)
	runs, sorted := make([]run, len(boxes)), make([]bounds, len(boxes))
	for i, o := range order {
		runs[i], sorted[i] = h.runs[uint32(o)], boxes[uint32(o)]
	}
	h.runs, h.levels = runs, [][]bounds{sorted}
	for level := sorted; len(level) > 1; {
		above := make([]bounds, (len(level)+fanOut-1)/fanOut)
		for i := range above {
			group := level[i*fanOut : min((i+1)*fanOut, len(level))]
			above[i] = group[0]
			for j := range group[1:] {
				above[i].include(&group[j+1])
			}
		}
		h.levels = append(h.levels, above)
		level = above
	}
}

// hilbert is the place of a cell on the Hilbert curve through a square of 2^16 by 2^16.
func hilbert(x, y uint32) uint32 {
	var d uint32
	for s := uint32(1 << 15); s > 0; s >>= 1 {
		var rx, ry uint32
		if x&s != 0 {
			rx = 1
		}
		if y&s != 0 {
			ry = 1
		}
		d += s * s * (3*rx ^ ry)
		if ry == 0 {
			if rx == 1 {
				x, y = s-1-x&(s-1), s-1-y&(s-1)
			}
			x, y = y, x
		}
		x, y = x&(s-1), y&(s-1)
	}
	return d
}

// pairs calls visit with every pair of runs whose boxes meet, once, by their places in runs.
func (h *hierarchy) pairs(visit func(a, b int32)) {
	if len(h.runs) > 0 {
		h.within(len(h.levels)-1, 0, visit)
	}
}

func (h *hierarchy) children(level int, n int32) (from, to int32) {
	return n * fanOut, min((n+1)*fanOut, int32(len(h.levels[level-1])))
}

func (h *hierarchy) within(level int, n int32, visit func(a, b int32)) {
	if level == 0 {
		return
	}
	from, to := h.children(level, n)
	boxes := h.levels[level-1]
	for i := from; i < to; i++ {
		h.within(level-1, i, visit)
		for j := i + 1; j < to; j++ {
			if boxes[i].meets(&boxes[j]) {
				h.across(level-1, i, j, visit)
			}
		}
	}
}

func (h *hierarchy) across(level int, a, b int32, visit func(a, b int32)) {
	if level == 0 {
		visit(a, b)
		return
	}
	fromA, toA := h.children(level, a)
	fromB, toB := h.children(level, b)
	boxes, boxB := h.levels[level-1], &h.levels[level][b]
	for i := fromA; i < toA; i++ {
		if !boxes[i].meets(boxB) {
			continue
		}
		for j := fromB; j < toB; j++ {
			if boxes[i].meets(&boxes[j]) {
				h.across(level-1, i, j, visit)
			}
		}
	}
}

// under calls visit with every run whose box holds one of the points, given by their keys, and with that point. It changes
// the order of the points.
func (h *hierarchy) under(keys []uint64, visit func(r int32, p pix)) {
	if len(h.runs) > 0 && len(keys) > 0 {
		h.descend(len(h.levels)-1, 0, keys, visit)
	}
}

// descend goes down with all points at once: those that a box holds are put to the front before it is gone into.
func (h *hierarchy) descend(level int, n int32, keys []uint64, visit func(r int32, p pix)) {
	box := h.levels[level][n]
	held := 0
	for i, k := range keys {
		if p := pixOf(k); box.holds(p) {
			if level == 0 {
				visit(n, p)
			}
			keys[i], keys[held] = keys[held], k
			held++
		}
	}
	if level == 0 || held == 0 {
		return
	}
	from, to := h.children(level, n)
	for i := from; i < to; i++ {
		h.descend(level-1, i, keys[:held], visit)
	}
}

// leftOf is the nearest edge strictly to the left of p, just above it, of those that keep allows; nil allows all. The edges
// must not cross.
func leftOf(at []pix, tree *hierarchy, p pix, keep func(edge, loop int32) bool) (edge, loop int32, found bool) {
	s := leftSearch{at: at, tree: tree, p: p, keep: keep}
	if len(tree.runs) > 0 {
		s.descend(len(tree.levels)-1, 0)
	}
	return s.edge, s.loop, s.found
}

type leftSearch struct {
	at         []pix
	tree       *hierarchy
	p          pix
	keep       func(edge, loop int32) bool
	edge, loop int32
	found      bool
	near       int32 // an edge all of which is to the left of this is not nearer
}

func (s *leftSearch) descend(level int, n int32) {
	b := &s.tree.levels[level][n]
	if b.minX >= s.p.x || b.minY > s.p.y || b.maxY < s.p.y || s.found && b.maxX < s.near {
		return
	}
	if level > 0 {
		from, to := s.tree.children(level, n)
		boxes := s.tree.levels[level-1]
		var order [fanOut]int32 // by how far to the right they reach: what is near is found first and spares the rest
		for i := from; i < to; i++ {
			k := i - from
			for ; k > 0 && boxes[order[k-1]].maxX < boxes[i].maxX; k-- {
				order[k] = order[k-1]
			}
			order[k] = i
		}
		for _, i := range order[:to-from] {
			s.descend(level-1, i)
		}
		return
	}
	r := &s.tree.runs[n]
	for i := r.from; i < r.to; i++ {
		lo, hi := s.upright(i)
		if lo.y > s.p.y || hi.y <= s.p.y || side(lo, hi, s.p) >= 0 || s.found && !s.leftmost(s.edge, i) {
			continue
		}
		if s.keep == nil || s.keep(i, r.loop) {
			s.edge, s.loop, s.found = i, r.loop, true
			s.near = min(lo.x, hi.x)
		}
	}
}

// upright is the ends of an edge, the one of lesser y first.
func (s *leftSearch) upright(edge int32) (lo, hi pix) {
	lo, hi = s.at[edge], s.at[edge+1]
	if lo.y > hi.y {
		lo, hi = hi, lo
	}
	return lo, hi
}

// leftmost says whether edge i is to the left of edge j, where both are at some height.
func (s *leftSearch) leftmost(i, j int32) bool {
	lo, hi := s.upright(i)
	lo2, hi2 := s.upright(j)
	if lo.y >= lo2.y {
		if c := side(lo2, hi2, lo); c != 0 {
			return c > 0
		}
		return side(lo2, hi2, hi) > 0
	}
	if c := side(lo, hi, lo2); c != 0 {
		return c < 0
	}
	return side(lo, hi, hi2) < 0
}
