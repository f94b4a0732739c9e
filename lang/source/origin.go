package source

// A Node names a statement by its file and its path in the tree, such as series/volume 3/spine/panel 2/letter. It holds
// no offset: a line put in above it changes nothing, so what was computed from it may be kept.
type Node struct {
	File string
	Path string
}

// An Origin is where something drawn comes from: an index into Origins. The zero Origin is nowhere.
type Origin int32

// Origins is the table of origins: each a node, and the origin through which that node was reached (the statement that
// named a pattern, for what stands in the pattern). Spans are looked up only to show a place.
type Origins struct {
	nodes   []Node
	parents []Origin
	index   map[originKey]Origin
	spans   map[Node]Span
}

type originKey struct {
	node   Node
	parent Origin
}

// NewOrigins makes an empty table.
func NewOrigins() *Origins {
	return &Origins{
		nodes:   make([]Node, 1),
		parents: make([]Origin, 1),
		index:   map[originKey]Origin{},
		spans:   map[Node]Span{},
	}
}

// Add gives the origin of a node reached through parent; the same pair gets the same origin.
func (o *Origins) Add(n Node, at Span, parent Origin) Origin {
	k := originKey{n, parent}
	if i, ok := o.index[k]; ok {
		return i
	}
	i := Origin(len(o.nodes))
	o.nodes = append(o.nodes, n)
	o.parents = append(o.parents, parent)
	o.index[k] = i
	if _, ok := o.spans[n]; !ok {
		o.spans[n] = at
	}
	return i
}

// Node gives the node of an origin.
func (o *Origins) Node(i Origin) Node { return o.nodes[i] }

// Parent gives the origin through which i was reached, zero for none.
func (o *Origins) Parent(i Origin) Origin { return o.parents[i] }

// Span gives the place of an origin in the text as it is now.
func (o *Origins) Span(i Origin) Span { return o.spans[o.nodes[i]] }
