package preview

import "headcap/compiler/geom"

// Colours of the leaves from the one board to the other, and of what is seen in the dark over and under the block.
var (
	underSquares = Colour{0x17, 0x12, 0x0c}
	leafLine     = Colour{0x5a, 0x4a, 0x2c}
	leaves       = []Stop{
		{0, Colour{0x3a, 0x2f, 0x1e}, 1},
		{0.045, Colour{0xbf, 0xae, 0x8a}, 1},
		{0.16, Colour{0xdc, 0xcf, 0xae}, 1},
		{0.40, Colour{0xe7, 0xdc, 0xbf}, 1},
		{0.62, Colour{0xd6, 0xc8, 0xa5}, 1},
		{0.88, Colour{0xb7, 0xa6, 0x80}, 1},
		{0.96, Colour{0x7d, 0x6d, 0x4e}, 1},
		{1, Colour{0x2f, 0x25, 0x16}, 1},
	}
)

// size is the whole of the fore-edge view.
func (e ForeEdge) size() (width, height int64) {
	return e.Thickness + 2*(e.Board+e.Leather), e.Height + 2*e.Squares
}

// foreEdge draws the book from the edge where it opens, its head left corner at 0, 0.
func foreEdge(b Book, e ForeEdge) []Item {
	w, h := e.size()
	cover := e.Board + e.Leather
	block := rectangle(cover, e.Squares, e.Thickness, e.Height)
	items := []Item{
		Fill{rectangle(cover-mm(0.2), mm(0.8), e.Thickness+mm(0.4), h-mm(1.4)), Solid{underSquares, 1}},
		Fill{block, across(cover, w-cover, leaves...)},
	}
	items = append(items, leafLines(e)...)
	items = append(items,
		// The head square throws its shade on the leaves.
		Fill{block, down(e.Squares, e.Squares+mm(5), Stop{0, black, 0.75}, Stop{0.5, black, 0.30}, Stop{1, black, 0})})
	for _, x := range []int64{0, w - cover} {
		items = append(items, boardOnEdge(b, x, cover, h)...)
	}
	return items
}

// leafLines are the edges of leaves that stand out or back, in three strengths.
func leafLines(e ForeEdge) []Item {
	const seed = 5
	strengths := []float64{0.10, 0.20, 0.34}
	lines := make([]pencil, len(strengths))
	r := shuffle(seed)
	left := e.Board + e.Leather
	for x := left; x < left+e.Thickness-mm(0.4); {
		x += mm(r.between(0.22, 0.62))
		p := &lines[min(int(float64(r.next()*3)), 2)]
		p.move(x, e.Squares+mm(r.between(0, 0.25)))
		p.line(x, e.Squares+e.Height-mm(r.between(0, 0.25)))
	}
	var items []Item
	for i, p := range lines {
		if len(p.path) > 0 {
			items = append(items, Stroke{p.outline(), mm(0.16), Solid{leafLine, strengths[i]}})
		}
	}
	return items
}

// boardOnEdge is the edge of a board, its corners rounded by the leather.
func boardOnEdge(b Book, x, wide, tall int64) []Item {
	r, s := min(mm(0.5), wide/4), mm(0.6)
	var p pencil
	p.move(r, 0)
	p.line(wide-r, 0)
	p.quad(wide, 0, wide, s)
	p.line(wide, tall-s)
	p.quad(wide, tall, wide-r, tall)
	p.line(r, tall)
	p.quad(0, tall, 0, tall-s)
	p.line(0, s)
	p.quad(0, 0, r, 0)
	p.close()
	o, all, glow := p.outline(), rectangle(0, 0, wide, tall), b.Leather.glow()
	items := append(bare(b.Leather, all),
		Fill{all, across(0, wide, Stop{0, glow, 0.30}, Stop{0.25, glow, 0.10}, Stop{0.45, glow, 0})},
		Fill{all, across(0, wide, Stop{0.40, black, 0}, Stop{0.70, black, 0.15}, Stop{1, black, 0.45})})
	return []Item{Group{Move: geom.Point{X: x}, Clip: o, Items: items}}
}
