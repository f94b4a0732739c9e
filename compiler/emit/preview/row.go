package preview

import (
	"fmt"

	"headcap/compiler/geom"
)

// The shelf that a row stands on.
const (
	shelfThick   = 17.0
	rowMargin    = 26.0
	rowHeadroom  = 18.0
	betweenBooks = 0.5
	woodSeed     = 31
	woodLines    = 16
)

var (
	wood = []Stop{
		{0, Colour{0xa5, 0x8a, 0x68}, 1},
		{0.08, Colour{0x8d, 0x73, 0x55}, 1},
		{0.5, Colour{0x80, 0x67, 0x49}, 1},
		{1, Colour{0x5d, 0x4a, 0x34}, 1},
	}
	woodLine   = Colour{0x3c, 0x2d, 0x1c}
	wallShade  = Colour{0x1a, 0x12, 0x0a}
	betweenTwo = Colour{0x0a, 0x07, 0x05}
)

// Row is books standing in this order on a shelf against a wall, their spines to the front. Each book is a group named
// book-1, book-2 and so on, so that a page can draw one up; behind it there is dark. A book whose spine has no width or
// height cannot be seen, but is counted.
func Row(books []Book) Scene {
	var wide, top int64
	for i, b := range books {
		if i > 0 {
			wide += mm(betweenBooks)
		}
		wide += b.Spine.Width
		top = max(top, b.Spine.Height)
	}
	ground, margin := wall, mm(rowMargin)
	s := Scene{
		Title:  "The row",
		Desc:   fmt.Sprintf("Spines of %d books as they will stand, %s mm in all.", len(books), measure(wide)),
		View:   box(-margin, mm(-rowHeadroom), wide+2*margin, top+mm(rowHeadroom+shelfThick)),
		Ground: &ground,
	}
	// The wall darkens towards the shelf.
	low := mm(60)
	s.Items = append(s.Items, Fill{rectangle(-margin, top-low, wide+2*margin, low), down(top-low, top, Stop{0, black, 0}, Stop{1, black, 0.20})})

	var x int64
	places := make([]int64, len(books))
	for i, b := range books {
		places[i] = x
		h := b.Spine.Height
		s.Items = append(s.Items, Shadow{
			Box:   box(x+mm(3), top-h+mm(4.5), b.Spine.Width, h-mm(4)),
			Blur:  mm(2.2),
			Paint: Solid{wallShade, 0.34},
		})
		x += b.Spine.Width + mm(betweenBooks)
	}
	s.Items = append(s.Items, shelf(-margin, top, wide+2*margin)...)
	if len(books) > 0 {
		s.Items = append(s.Items, Shadow{box(mm(0.3), top-mm(1.5), wide+mm(0.6), mm(2.9)), mm(0.7), Solid{black, 0.62}})
	}
	for i := range books {
		// Behind each book, and behind the gap on its right up to the lower of the two heads.
		inset := mm(0.4)
		h := books[i].Spine.Height - mm(2.4)
		s.Items = append(s.Items, Fill{rectangle(places[i]+inset, top-h, books[i].Spine.Width-2*inset, h), Solid{betweenTwo, 1}})
		if i+1 < len(books) {
			h = min(h, books[i+1].Spine.Height-mm(2.4))
			s.Items = append(s.Items, Fill{rectangle(places[i+1]-mm(1.75), top-h, mm(3), h), Solid{betweenTwo, 1}})
		}
	}
	for i, b := range books {
		if b.Spine.Width <= 0 || b.Spine.Height <= 0 {
			continue
		}
		s.Items = append(s.Items, Group{
			Move: geom.Point{X: places[i], Y: top - b.Spine.Height},
			Items: []Item{
				Group{Name: fmt.Sprintf("book-%d", i+1), Items: spine(b)},
			},
		})
	}
	if len(books) > 0 {
		// Little light comes to the foot of the row.
		foot := mm(6)
		s.Items = append(s.Items, Fill{rectangle(0, top-foot, wide, foot), down(top-foot, top, Stop{0, black, 0}, Stop{0.6, black, 0.10}, Stop{1, black, 0.34})})
	}
	return s
}

// shelf is the front edge of a wooden board. It is drawn a little beyond the view, whose last row of pixels may stand out
// below it.
func shelf(x, y, wide int64) []Item {
	thick := mm(shelfThick)
	items := []Item{Fill{rectangle(x, y, wide, thick+mm(1)), down(y, y+thick, wood...)}}
	r := shuffle(woodSeed)
	for range woodLines {
		var p pencil
		p.move(x, y+mm(r.between(1, shelfThick-1)))
		for p.at.X < x+wide {
			a, b := mm(r.between(-0.8, 0.8)), mm(r.between(-0.3, 0.3))
			p.quad(p.at.X+mm(30), p.at.Y+a, p.at.X+mm(60), p.at.Y+b)
		}
		width := mm(r.between(0.1, 0.35))
		items = append(items, Stroke{p.outline(), width, Solid{woodLine, r.between(0.10, 0.30)}})
	}
	return append(items, Fill{rectangle(x, y, wide, mm(1.1)), Solid{white, 0.10}})
}
