package geom

import (
	"cmp"
	"slices"
)

// An arrangement is a layer whose edges have been snapped, seen as nodes and the chains between them. A chain is a run of
// edges of one loop between two special points; only there can other edges be. So winding numbers need to be known
// once for each chain and go round each node from one chain to the next. Chains that lie on each other, which are single
// edges, are led by one of them, the same for any order of the input.
type arrangement struct {
	layer
	op    Op
	first int // groups below are the first operand, the others the second

	tree   *hierarchy
	nodes  []pix // in order
	chains []chain
	spokes []int32 // ends of chains round each node, by angle: chain·2, and 1 more where it ends at the node
	begins []int32 // by node: the first of its spokes
	places []int32 // by end of a chain: its place in spokes
}

// A chain runs from one node to another (or the same) along edges of its loop. Chains stand in the order of their first
// edges.
type chain struct {
	edge, edges int32 // the first edge, and how many
	loop        int32
	from, to    int32 // nodes
	leader      int32
	left, right bool // whether the region lies on that side; known for leaders. Left is where side is positive
}

// build snaps the layer and finds what is on either side of every chain.
func (a *arrangement) build() error {
	a.tree = newHierarchy(a.at, a.loops, 0)
	special := a.snap(a.tree)
	a.chain(a.mark(special))
	a.turn()
	return a.wind()
}

// mark makes special the least point of every loop, so that a loop that meets nothing has a node and the least point of
// every connected piece is one, and the points at which a loop turns back on itself. It returns how many there are.
func (a *arrangement) mark(special []bool) (marked []bool) {
	for k := range a.loops {
		q := &a.loops[k]
		least := q.first
		for i := q.first; i < q.last; i++ {
			if a.at[i].before(a.at[least]) {
				least = i
			}
			before := i - 1
			if i == q.first {
				before = q.last - 1
			}
			if a.at[before] == a.at[i+1] {
				special[i] = true
			}
		}
		special[least] = true
	}
	return special
}

// A keyed is a chain by the key of its first point.
type keyed struct {
	key   uint64
	chain int32
}

// chain makes the nodes and the chains.
func (a *arrangement) chain(special []bool) {
	n := 0
	for _, s := range special {
		if s {
			n++
		}
	}
	a.chains = make([]chain, 0, n)
	order := make([]keyed, 0, n)
	for k := range a.loops {
		q := &a.loops[k]
		first := len(a.chains)
		for i := q.first; i < q.last; i++ {
			if special[i] {
				order = append(order, keyed{a.at[i].key(), int32(len(a.chains))})
				a.chains = append(a.chains, chain{edge: i, loop: int32(k), leader: int32(len(a.chains))})
			}
		}
		mine := a.chains[first:]
		for i := range mine {
			if i+1 < len(mine) {
				mine[i].edges = mine[i+1].edge - mine[i].edge
			} else {
				mine[i].edges = mine[0].edge - mine[i].edge + q.last - q.first
			}
		}
	}
	slices.SortFunc(order, func(p, q keyed) int { return cmp.Compare(p.key, q.key) })
	a.nodes = make([]pix, 0, n)
	for _, k := range order {
		p := a.at[a.chains[k.chain].edge]
		if len(a.nodes) == 0 || a.nodes[len(a.nodes)-1] != p {
			a.nodes = append(a.nodes, p)
		}
		a.chains[k.chain].from = int32(len(a.nodes)) - 1
	}
	for i := range a.chains {
		c := &a.chains[i]
		if i+1 < len(a.chains) && a.chains[i+1].loop == c.loop {
			c.to = a.chains[i+1].from
		} else {
			j := i
			for j > 0 && a.chains[j-1].loop == c.loop {
				j--
			}
			c.to = a.chains[j].from
		}
	}
}

// last is the last edge of a chain.
func (a *arrangement) last(c *chain) int32 {
	q := &a.loops[c.loop]
	return q.first + (c.edge-q.first+c.edges-1)%(q.last-q.first)
}

// turn puts the spokes of each node in order of their angle, from just past the direction of falling x through rising y,
// and finds the leaders: spokes of one direction belong to chains that lie on each other.
func (a *arrangement) turn() {
	a.begins = make([]int32, len(a.nodes)+1)
	for i := range a.chains {
		a.begins[a.chains[i].from+1]++
		a.begins[a.chains[i].to+1]++
	}
	for i := range a.nodes {
		a.begins[i+1] += a.begins[i]
	}
	a.spokes, a.places = make([]int32, 2*len(a.chains)), make([]int32, 2*len(a.chains))
	at := slices.Clone(a.begins[:len(a.nodes)])
	for i := range a.chains {
		c := &a.chains[i]
		for e, n := range [...]int32{c.from, c.to} {
			a.spokes[at[n]] = int32(2*i + e)
			at[n]++
		}
	}
	for n := range a.nodes {
		spokes := a.spokes[a.begins[n]:a.begins[n+1]]
		slices.SortFunc(spokes, func(s, t int32) int {
			if c := compareAngles(a.nodes[n], a.towards(s), a.towards(t)); c != 0 {
				return c
			}
			return a.compareChains(s>>1, t>>1)
		})
		for i, s := range spokes {
			a.places[s] = a.begins[n] + int32(i)
			if i > 0 && compareAngles(a.nodes[n], a.towards(spokes[i-1]), a.towards(s)) == 0 {
				a.chains[s>>1].leader = a.chains[spokes[i-1]>>1].leader
			}
		}
	}
}

func (a *arrangement) leads(c int32) bool { return a.chains[c].leader == c }

// towards is the point next to the node on the spoke.
func (a *arrangement) towards(spoke int32) pix {
	c := &a.chains[spoke>>1]
	if spoke&1 == 0 {
		return a.at[c.edge+1]
	}
	return a.at[a.last(c)]
}

// compareAngles compares the directions from o to p and to q, from just past the direction of falling x.
func compareAngles(o, p, q pix) int {
	if c := cmp.Compare(halfTurn(o, p), halfTurn(o, q)); c != 0 {
		return c
	}
	return cmp.Compare(0, side(o, p, q))
}

func halfTurn(o, p pix) int {
	switch {
	case p.y < o.y:
		return 0
	case p.y == o.y && p.x < o.x:
		return 2
	}
	return 1
}

// compareChains orders chains that lie on each other by what they come from, so that the choice of a leader does not hang
// on the order of the input: straight sources first, then by control points, tag and parameter.
func (a *arrangement) compareChains(i, j int32) int {
	if i == j {
		return 0
	}
	c, d := &a.chains[i], &a.chains[j]
	p, q := a.source(a.src[c.edge]), a.source(a.src[d.edge])
	if r := compareSegments(p, q); r != 0 {
		return r
	}
	return cmp.Or(cmp.Compare(a.t[c.edge], a.t[d.edge]), cmp.Compare(i, j))
}

func compareSegments(p, q *Segment) int {
	switch {
	case p.Line && !q.Line:
		return -1
	case q.Line && !p.Line:
		return 1
	}
	r := cmp.Or(comparePoints(p.P0, q.P0), comparePoints(p.P3, q.P3))
	if r == 0 && !p.Line {
		r = cmp.Or(comparePoints(p.P1, q.P1), comparePoints(p.P2, q.P2))
	}
	return cmp.Or(r, cmp.Compare(p.Tag, q.Tag))
}

func comparePoints(p, q Point) int {
	return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
}

// A tally counts how often each group winds round a place, and how many groups of each operand that puts inside.
type tally struct {
	a      *arrangement
	wind   []int32
	inside [2]int
}

func (t *tally) add(group, by int32) {
	rule, operand := t.a.rules[group], 0
	if int(group) >= t.a.first {
		operand = 1
	}
	if rule.inside(t.wind[group]) {
		t.inside[operand]--
	}
	t.wind[group] += by
	if rule.inside(t.wind[group]) {
		t.inside[operand]++
	}
}

func (r Rule) inside(w int32) bool {
	switch r {
	case EvenOdd:
		return w&1 != 0
	case Positive:
		return w > 0
	case Negative:
		return w < 0
	}
	return w != 0
}

func (t *tally) in() bool {
	a, b := t.inside[0] > 0, t.inside[1] > 0
	switch t.a.op {
	case Union:
		return a || b
	case Intersection:
		return a && b
	case Without:
		return a && !b
	case From:
		return b && !a
	}
	return a != b
}

// A visit is a node on the way through the arrangement: the spoke to be crossed next, and how many are left.
type visit struct{ node, next, left int32 }

// wind goes through the arrangement. At each node it goes once round, which brings the tally back to what it was, and
// between two spokes into the nodes and the separate pieces that can be reached there without a crossing.
func (a *arrangement) wind() error {
	roots, inner := a.pieces()
	t := tally{a: a, wind: make([]int32, len(a.rules))}
	seen := make([]bool, len(a.nodes))
	var stack []visit
	enter := func(node, at int32) {
		seen[node] = true
		stack = append(stack, visit{node, at, a.begins[node+1] - a.begins[node]})
	}
	for _, root := range roots {
		enter(root, a.begins[root])
		for len(stack) > 0 {
			v := &stack[len(stack)-1]
			if v.left == 0 {
				stack = stack[:len(stack)-1]
				continue
			}
			lead := a.spokes[v.next]
			if !a.leads(lead >> 1) {
				return errTangled
			}
			c := &a.chains[lead>>1]
			ends := lead & 1
			before := t.in()
			for {
				s := a.spokes[v.next]
				t.add(a.loops[a.chains[s>>1].loop].group, 1-2*(s&1))
				if v.next++; v.next == a.begins[v.node+1] {
					v.next = a.begins[v.node]
				}
				if v.left--; v.left == 0 || a.leads(a.spokes[v.next]>>1) {
					break
				}
			}
			if ends == 0 {
				c.right, c.left = before, t.in()
			} else {
				c.left, c.right = before, t.in()
			}
			far := c.to
			if ends == 1 {
				far = c.from
			}
			if !seen[far] {
				enter(far, a.places[lead^1])
			}
			for _, r := range inner.on(lead ^ 1) {
				enter(r, a.begins[r])
			}
		}
	}
	for _, w := range t.wind {
		if w != 0 {
			return errTangled
		}
	}
	return nil
}

// hung is the separate pieces of an arrangement by the side of a chain that they lie next to: chain·2, and 1 more for the
// left side. Each is given by its least node.
type hung struct{ side, root []int32 }

func (h *hung) on(side int32) []int32 {
	i, found := slices.BinarySearch(h.side, side)
	if !found {
		return nil
	}
	j := i
	for j < len(h.side) && h.side[j] == side {
		j++
	}
	return h.root[i:j]
}

// pieces finds the separate pieces of the arrangement: those that have nothing to their left, and for the others what
// they lie next to. The left neighbour of the least node of a piece cannot be of the piece itself.
func (a *arrangement) pieces() (outer []int32, inner hung) {
	root := make([]int32, len(a.nodes))
	for i := range root {
		root[i] = int32(i)
	}
	find := func(n int32) int32 {
		for root[n] != n {
			root[n] = root[root[n]]
			n = root[n]
		}
		return n
	}
	for i := range a.chains {
		p, q := find(a.chains[i].from), find(a.chains[i].to)
		root[max(p, q)] = min(p, q)
	}
	type hanging struct{ side, root int32 }
	var all []hanging
	for n := range root {
		if root[n] != int32(n) {
			continue
		}
		edge, loop, found := leftOf(a.at, a.tree, a.nodes[n], nil)
		if !found {
			outer = append(outer, int32(n))
			continue
		}
		c := a.chainOf(edge, loop)
		all = append(all, hanging{a.rightSide(edge, c), int32(n)})
	}
	slices.SortFunc(all, func(p, q hanging) int {
		return cmp.Or(cmp.Compare(p.side, q.side), cmp.Compare(p.root, q.root))
	})
	for _, h := range all {
		inner.side, inner.root = append(inner.side, h.side), append(inner.root, h.root)
	}
	return outer, inner
}

// rightSide is the side of the leader of chain c on which x is greater, at its edge: the leader's number twice, and 1 more
// for the left.
func (a *arrangement) rightSide(edge, c int32) int32 {
	lead := a.chains[c].leader
	rising := a.at[edge].y < a.at[edge+1].y
	if lead != c { // single edges on each other
		rising = a.at[a.chains[lead].edge].y < a.at[a.chains[lead].edge+1].y
	}
	if rising {
		return 2 * lead
	}
	return 2*lead + 1
}

// chainOf is the chain that an edge of a loop belongs to.
func (a *arrangement) chainOf(edge, loop int32) int32 {
	n, found := slices.BinarySearchFunc(a.chains, edge, func(c chain, e int32) int { return cmp.Compare(c.edge, e) })
	if !found {
		n--
	}
	if n >= 0 && a.chains[n].loop == loop {
		return int32(n)
	}
	// Before the loop's first node: the loop's last chain comes round to it.
	n++
	for n+1 < len(a.chains) && a.chains[n+1].loop == loop {
		n++
	}
	return int32(n)
}
