package preview

import (
	"fmt"
	"strings"

	"headcap/compiler/geom"
)

// The grounds that a picture stands on by itself.
var (
	table = Colour{0xd9, 0xd3, 0xc7}
	wall  = Colour{0xcf, 0xc8, 0xba}
)

// Round a volume and between its faces; wide enough for the shadows to end.
const (
	betweenFaces = 17.0
	marginSide   = 14.0
	marginHead   = 12.0
	marginTail   = 14.0
)

// A view is one face set in the picture.
type view struct {
	name          string
	width, height int64
	items         []Item
}

// Volume is one book laid out: its back board if it has one to show, its spine, its front board, and its fore-edge, all
// at one scale and level with each other at the middle of their height. A face that has no width or height is left out.
func Volume(b Book) Scene {
	var views []view
	add := func(name string, width, height int64, draw func() []Item) {
		if width > 0 && height > 0 {
			views = append(views, view{name, width, height, draw()})
		}
	}
	if f := b.Back; f != nil {
		add("back", f.Width, f.Height, func() []Item { return board(b, *f, true) })
	}
	add("spine", b.Spine.Width, b.Spine.Height, func() []Item { return spine(b) })
	if f := b.Front; f != nil {
		add("front", f.Width, f.Height, func() []Item { return board(b, *f, false) })
	}
	if e := b.ForeEdge; e != nil && e.Thickness > 0 && e.Height > 0 {
		w, h := e.size()
		add("fore-edge", w, h, func() []Item { return foreEdge(b, *e) })
	}

	var wide, tall int64
	for i, v := range views {
		if i > 0 {
			wide += mm(betweenFaces)
		}
		wide += v.width
		tall = max(tall, v.height)
	}
	ground := table
	s := Scene{
		Title:  volumeTitle(b),
		Desc:   volumeDesc(b, views),
		View:   box(mm(-marginSide), mm(-marginHead), wide+mm(2*marginSide), tall+mm(marginHead+marginTail)),
		Ground: &ground,
	}
	var x int64
	for _, v := range views {
		y := (tall - v.height) / 2
		s.Items = append(s.Items,
			Shadow{box(x+mm(1.8), y+mm(2.8), v.width-mm(0.6), v.height-mm(0.8)), mm(2.6), Solid{black, 0.36}},
			// And close to the book, where it meets the table.
			Shadow{box(x+mm(0.4), y+mm(0.7), v.width-mm(0.4), v.height-mm(0.4)), mm(0.6), Solid{black, 0.30}})
		x += v.width + mm(betweenFaces)
	}
	x = 0
	for _, v := range views {
		s.Items = append(s.Items, Group{Name: v.name, Move: geom.Point{X: x, Y: (tall - v.height) / 2}, Items: v.items})
		x += v.width + mm(betweenFaces)
	}
	return s
}

func volumeTitle(b Book) string {
	switch {
	case b.Number == "":
		return b.Title
	case b.Title == "":
		return "Volume " + b.Number
	}
	return "Volume " + b.Number + ": " + b.Title
}

// volumeDesc says in words what is seen.
func volumeDesc(b Book, views []view) string {
	var sizes, films []string
	for _, v := range views {
		sizes = append(sizes, fmt.Sprintf("%s %s × %s", v.name, measure(v.width), measure(v.height)))
	}
	seen := map[string]bool{}
	for _, f := range []*Face{&b.Spine, b.Front, b.Back} {
		if f == nil {
			continue
		}
		for _, film := range f.Films {
			if !seen[film.Name] {
				seen[film.Name] = true
				films = append(films, film.Name)
			}
		}
	}
	desc := "As it will look: " + strings.Join(sizes, ", ") + " mm."
	if len(films) > 0 {
		desc += " Film: " + strings.Join(films, ", ") + "."
	}
	return desc
}

// measure is a length in millimetres to a tenth.
func measure(nm int64) string {
	t := (nm + mm(0.05)) / mm(0.1)
	if t%10 == 0 {
		return fmt.Sprint(t / 10)
	}
	return fmt.Sprintf("%d.%d", t/10, t%10)
}
