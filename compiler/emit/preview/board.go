package preview

import "headcap/compiler/geom"

// board draws a cover as it is seen from straight above it, its head left corner at 0, 0. The spine edge is on the left
// of a front board and on the right of a back board; the light comes from the left for both.
func board(b Book, f Face, back bool) []Item {
	w, h, glow := f.Width, f.Height, b.Leather.glow()
	o := boardOutline(f, back)
	all := rectangle(mm(-2), 0, w+mm(4), h)

	items := bare(b.Leather, all)
	light := &Linear{To: geom.Point{X: w, Y: h * 9 / 10}, Stops: []Stop{{0, glow, 0.25}, {0.30, glow, 0.10}, {0.52, glow, 0}}}
	dark := &Linear{To: light.To, Stops: []Stop{{0.52, black, 0}, {0.80, black, 0.13}, {1, black, 0.26}}}
	items = append(items, Fill{all, light}, Fill{all, dark})
	items = append(items, joint(f, back, glow)...)
	items = append(items, bandsOverJoint(f, back, glow)...)
	for _, film := range f.Films {
		items = append(items, laid(film, film.onBoard(w, h))...)
	}
	items = append(items, boardEdges(f, back, glow)...)
	return []Item{Group{Clip: o, Items: items}}
}

// fromSpine is the distance x from the spine edge as a place on the face.
func (f Face) fromSpine(back bool, x int64) int64 {
	if back {
		return f.Width - x
	}
	return x
}

// boardOutline is the silhouette: square corners hardly rounded at the fore-edge, and at the spine edge the round of the
// back, which stands out a little at each band.
func boardOutline(f Face, back bool) *Outline {
	w, h := f.Width, f.Height
	r, past := mm(0.9), mm(3.2) // the corner; what is seen of the round beyond the joint
	x := func(v int64) int64 { return f.fromSpine(back, v) }

	var p pencil
	p.move(x(past), 0)
	p.line(x(w-r), 0)
	p.quad(x(w), 0, x(w), r)
	p.line(x(w), h-r)
	p.quad(x(w), h, x(w-r), h)
	p.line(x(past), h)
	p.quad(x(mm(0.6)), h-mm(0.4), x(mm(0.3)), h-mm(3))
	for i := range f.Bands {
		s := f.Bands[len(f.Bands)-1-i]
		y, half := s.Centre, s.Width/2
		p.line(x(0), y+s.Width*9/10)
		p.cubic(x(mm(-0.1)), y+half, x(mm(-1.5)), y+half, x(mm(-1.5)), y)
		p.cubic(x(mm(-1.5)), y-half, x(mm(-0.1)), y-half, x(0), y-s.Width*9/10)
	}
	p.line(x(mm(0.3)), mm(3))
	p.quad(x(mm(0.6)), mm(0.4), x(past), 0)
	p.close()
	if back {
		for i, c := range p.path {
			p.path[i] = c.Reverse()
		}
	}
	return p.outline()
}

// joint is the round falling away, the groove, and the edge of the board beyond it. On a front board the round turns
// towards the light before it dips; on a back board it turns away from it, and it is the far wall of the groove that
// is lit.
func joint(f Face, back bool, glow Colour) []Item {
	if f.Joint <= 0 {
		return nil
	}
	over := f.Joint * 23 / 16 // the board's edge shows beyond the groove
	strip := rectangle(min(f.fromSpine(back, mm(-2)), f.fromSpine(back, over)), 0, over+mm(2), f.Height)
	from, to := f.fromSpine(back, 0), f.fromSpine(back, over)
	dark := []Stop{
		{0, grooveShade, 0.62},
		{0.10, grooveShade, 0.30},
		{0.24, grooveShade, 0},
		{0.36, grooveShade, 0},
		{0.50, grooveShade, 0.10},
		{0.66, grooveShade, 0.44},
		{0.76, grooveShade, 0.40},
		{0.86, grooveShade, 0},
	}
	light := []Stop{
		{0.10, glow, 0},
		{0.24, glow, 0.10},
		{0.36, glow, 0.12},
		{0.50, glow, 0},
		{0.76, glow, 0},
		{0.86, glow, 0.20},
		{0.92, glow, 0.29},
		{1, glow, 0},
	}
	if back {
		dark = []Stop{
			{0, grooveShade, 0.78},
			{0.12, grooveShade, 0.52},
			{0.30, grooveShade, 0.26},
			{0.46, grooveShade, 0.12},
			{0.56, grooveShade, 0.10},
			{0.68, grooveShade, 0.34},
			{0.78, grooveShade, 0.50},
			{0.88, grooveShade, 0.20},
			{1, grooveShade, 0},
		}
		light = []Stop{{0.34, glow, 0}, {0.50, glow, 0.20}, {0.60, glow, 0.14}, {0.68, glow, 0}}
	}
	return []Item{Fill{strip, across(from, to, dark...)}, Fill{strip, across(from, to, light...)}}
}

// bandsOverJoint are the ends of the bands where they die into the joint.
func bandsOverJoint(f Face, back bool, glow Colour) []Item {
	if len(f.Bands) == 0 {
		return nil
	}
	reach := mm(15)
	left := min(f.fromSpine(back, mm(-2)), f.fromSpine(back, reach))
	var items []Item
	for _, band := range f.Bands {
		light, dark := bandLight(band.Width, glow)
		across := bandBox(band, left, reach+mm(2))
		items = append(items, Group{Move: geom.Point{Y: band.Centre}, Items: []Item{Fill{across, dark}, Fill{across, light}}})
	}
	fade := across(f.fromSpine(back, 0), f.fromSpine(back, reach),
		Stop{0, white, 0.62}, Stop{0.55, white, 0.56}, Stop{1, white, 0})
	return []Item{Group{Fade: &Fade{box(left, 0, reach+mm(2), f.Height), fade}, Items: items}}
}

// boardEdges are the turns of the leather over the board's three free edges.
func boardEdges(f Face, back bool, glow Colour) []Item {
	w, h, turn, lip := f.Width, f.Height, mm(1.6), mm(1.3)
	begins := max(f.Joint*6/5, mm(3)) // the board itself, beyond the groove
	var items []Item
	if back {
		// The fore-edge of a back board is on the left, and lit.
		items = append(items,
			Fill{rectangle(0, 0, turn, h), across(0, turn, Stop{0, glow, 0.38}, Stop{0.4, glow, 0.19}, Stop{1, glow, 0})},
			Fill{rectangle(0, 0, mm(0.7), h), across(0, mm(0.7), Stop{0, black, 0.30}, Stop{1, black, 0})})
	} else {
		items = append(items,
			Fill{rectangle(w-turn, 0, turn, h), across(w-turn, w, Stop{0, black, 0}, Stop{0.55, black, 0.10}, Stop{0.8, black, 0.28}, Stop{1, black, 0.55})})
	}
	return append(items,
		Fill{rectangle(0, h-turn, w, turn), down(h-turn, h, Stop{0, black, 0}, Stop{0.55, black, 0.12}, Stop{0.8, black, 0.32}, Stop{1, black, 0.60})},
		Fill{rectangle(min(f.fromSpine(back, begins), f.fromSpine(back, w)), 0, w-begins, lip), down(0, lip, Stop{0, glow, 0.50}, Stop{0.4, glow, 0.23}, Stop{1, glow, 0})})
}
