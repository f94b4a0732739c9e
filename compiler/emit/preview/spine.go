package preview

import "headcap/compiler/geom"

// headcapDepth is how deep the crescent of a headcap is at the sides of the back; it hangs lower in the middle.
const headcapDepth = 1.9

// spine draws the back of a book, its head left corner at 0, 0.
func spine(b Book) []Item {
	f, glow := b.Spine, b.Leather.glow()
	w, h := f.Width, f.Height
	o := spineOutline(b)
	// Everything is clipped by the silhouette, so what covers all of it need only be large enough.
	all := rectangle(mm(-2), mm(-1), w+mm(4), h+mm(2))

	items := drawnOver(b, all)
	items = append(items, headcaps(b, glow)...)
	for _, band := range f.Bands {
		light, dark := bandLight(band.Width, glow)
		across := bandBox(band, mm(-2), w+mm(4))
		items = append(items, Group{Move: geom.Point{Y: band.Centre}, Items: []Item{Fill{across, dark}, Fill{across, light}}})
	}
	sheen, shade := roundLight(w, b.Round, glow)
	light, dark := fall(h, glow)
	for _, g := range []*Linear{sheen, shade, light, dark} {
		items = append(items, Fill{all, g})
	}
	// The film lies above the round, with a gradient of its own: under the round's shade the titles drowned.
	for _, film := range f.Films {
		items = append(items, laid(film, film.onSpine(w, b.Round))...)
	}
	return []Item{Group{Clip: o, Items: items}}
}

// bandBox is what is shaded for a band, its middle at y 0, from left over a width.
func bandBox(b Band, left, width int64) *Outline {
	above, below := share(0, b.Width, bandAbove), share(0, b.Width, bandBelow)
	return rectangle(left, -above, width, above+below)
}

// spineOutline is the silhouette of a back: head and tail caps a little drawn in at their corners, and a swelling on
// both sides at each band, so that the bands of neighbours meet as they do on a shelf.
func spineOutline(b Book) *Outline {
	w, h := b.Spine.Width, b.Spine.Height
	r := min(mm(2.2), w*12/100)
	rise, sink := mm(0.55), mm(0.25)
	if !b.Round {
		r, rise, sink = min(mm(0.9), w*12/100), mm(0.10), 0
	}
	in, near := mm(0.10), mm(0.15)

	var p pencil
	p.move(r, 0)
	p.quad(w/2, -rise, w-r, 0)
	p.quad(w-near, in, w-in, r)
	for _, s := range b.Spine.Bands {
		y, a, d := s.Centre, s.Width*8/10, s.Width*9/100
		p.line(w, y-a)
		p.cubic(w, y-s.Width*45/100, w+d, y-s.Width/2, w+d, y)
		p.cubic(w+d, y+s.Width/2, w, y+s.Width*45/100, w, y+a)
	}
	p.line(w-in, h-r)
	p.quad(w-near, h-in, w-r, h)
	p.quad(w/2, h+sink, r, h)
	p.quad(near, h-in, in, h-r)
	for i := range b.Spine.Bands {
		s := b.Spine.Bands[len(b.Spine.Bands)-1-i]
		y, a, d := s.Centre, s.Width*8/10, s.Width*9/100
		p.line(0, y+a)
		p.cubic(0, y+s.Width*45/100, -d, y+s.Width/2, -d, y)
		p.cubic(-d, y-s.Width/2, 0, y-s.Width*45/100, 0, y-a)
	}
	p.line(in, r)
	p.quad(near, in, r, 0)
	p.close()
	return p.outline()
}

// headcaps are the leather turned and set over the headbands: a crescent at head and tail, and at its edge the crease
// that the bone folder leaves.
func headcaps(b Book, glow Colour) []Item {
	w, h := b.Spine.Width, b.Spine.Height
	depth, hang := mm(headcapDepth), mm(4.6)
	if !b.Round {
		hang = depth
	}
	cap := func(edge, sign int64) (crescent, crease *Outline) {
		var p, q pencil
		p.move(mm(-1), edge-sign*mm(1))
		p.line(w+mm(1), edge-sign*mm(1))
		p.line(w+mm(1), edge+sign*depth)
		p.quad(w/2, edge+sign*hang, mm(-1), edge+sign*depth)
		p.close()
		q.move(mm(-1), edge+sign*depth)
		q.quad(w/2, edge+sign*hang, w+mm(1), edge+sign*depth)
		return p.outline(), q.outline()
	}
	lowest := (depth + hang) / 2
	head, headCrease := cap(0, 1)
	tail, tailCrease := cap(h, -1)
	items := []Item{
		Fill{head, down(mm(-1), lowest, Stop{0.55, grooveShade, 0}, Stop{0.80, grooveShade, 0.10}, Stop{1, grooveShade, 0.40})},
		Fill{head, down(mm(-1), lowest, Stop{0, glow, 0.15}, Stop{0.30, glow, 0.55}, Stop{0.55, glow, 0.18}, Stop{0.80, glow, 0})},
		Fill{tail, down(h-lowest, h+mm(1), Stop{0, grooveShade, 0.32}, Stop{0.16, grooveShade, 0}, Stop{0.50, grooveShade, 0}, Stop{1, grooveShade, 0.45})},
		Fill{tail, down(h-lowest, h+mm(1), Stop{0, glow, 0}, Stop{0.16, glow, 0.30}, Stop{0.50, glow, 0.10}, Stop{1, glow, 0})},
	}
	items = append(items, crease(headCrease, glow)...)
	return append(items, crease(tailCrease, glow)...)
}

// crease is a soft dark line with its lower lip lit. It is soft by being drawn three times, wide and faint to narrow.
func crease(o *Outline, glow Colour) []Item {
	return []Item{
		Group{Move: geom.Point{Y: mm(0.55)}, Items: []Item{
			Stroke{o, mm(0.70), Solid{glow, 0.07}}, Stroke{o, mm(0.35), Solid{glow, 0.09}},
		}},
		Stroke{o, mm(1.00), Solid{grooveShade, 0.12}},
		Stroke{o, mm(0.60), Solid{grooveShade, 0.15}},
		Stroke{o, mm(0.28), Solid{grooveShade, 0.22}},
	}
}

// laid is a film on leather: a hairline of shadow at its edge, the metal, and the leather's grain coming through it. No
// glow and no bevel: it is pressed flat.
func laid(f Film, metal *Linear) []Item {
	o := &Outline{}
	for _, s := range f.Shapes {
		o.Path = append(append(o.Path, s.Outer), s.Holes...)
	}
	if len(o.Path) == 0 {
		return nil
	}
	_, grain := f.Finish.spread()
	return []Item{
		Group{Move: geom.Point{X: mm(0.09), Y: mm(0.13)}, Items: []Item{Fill{o, Solid{grooveShade, 0.50}}}},
		Fill{o, metal},
		Group{Grain: true, Items: []Item{Fill{o, &Pattern{skin(), fineGrain(), grain}}}},
	}
}
