package png

import (
	"fmt"
	"image"

	"headcap/compiler/emit/preview"
	"headcap/compiler/geom"
)

// A painter draws the items of one picture and keeps what is used more than once in it.
type painter struct {
	to    grid
	tally tally
	uses  map[*preview.Outline]int
	masks map[maskKey]*mask
	ramps map[*preview.Linear][]pixel
	tiles map[tileKey]*texels

	weights []uint32
	scratch []pixel
}

// maskKey is an outline at a place, as far as it lies in an area.
type maskKey struct {
	outline *preview.Outline
	move    geom.Point
	area    image.Rectangle
}

func newPainter(to grid, items []preview.Item) *painter {
	p := &painter{
		to:    to,
		uses:  map[*preview.Outline]int{},
		masks: map[maskKey]*mask{},
		ramps: map[*preview.Linear][]pixel{},
		tiles: map[tileKey]*texels{},
	}
	p.count(items)
	return p
}

func (p *painter) count(items []preview.Item) {
	for _, i := range items {
		switch i := i.(type) {
		case preview.Group:
			if i.Clip != nil {
				p.uses[i.Clip]++
			}
			p.count(i.Items)
		case preview.Fill:
			p.uses[i.Outline]++
		}
	}
}

// A state is where and how the items of a group are drawn.
type state struct {
	target *canvas
	move   geom.Point
	clips  []*mask
}

// area is where anything can be drawn.
func (st state) area() image.Rectangle {
	area := st.target.area
	for _, c := range st.clips {
		area = area.Intersect(c.area)
	}
	return area
}

// clipped lessens weights along row y, from x on, by the clips.
func (st state) clipped(y, x int, weights []uint32) {
	for _, c := range st.clips {
		lessen(weights, c.row(y, x, x+len(weights)))
	}
}

func lessen(weights []uint32, by []uint16) {
	for i, c := range by {
		switch c {
		case full:
		case 0:
			weights[i] = 0
		default:
			weights[i] = uint32((uint64(weights[i]) * uint64(c)) >> 16)
		}
	}
}

func (p *painter) items(items []preview.Item, st state) error {
	for _, i := range items {
		var err error
		switch i := i.(type) {
		case preview.Group:
			err = p.group(i, st)
		case preview.Fill:
			err = p.fill(p.mask(i.Outline, st), i.Paint, st)
		case preview.Stroke:
			err = p.fill(p.tally.cover(p.to.ribbons(i.Outline.Path, st.move, i.Width), st.area()), i.Paint, st)
		case preview.Shadow:
			err = p.shadow(i, st)
		default:
			err = fmt.Errorf("png: cannot draw a %T", i)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (p *painter) group(g preview.Group, st state) error {
	if g.Grain && p.to.perMM() < preview.FinestGrain {
		return nil
	}
	st.move = geom.Point{X: st.move.X + g.Move.X, Y: st.move.Y + g.Move.Y}
	if g.Clip != nil {
		m := p.mask(g.Clip, st)
		if m == nil {
			return nil
		}
		st.clips = append(st.clips[:len(st.clips):len(st.clips)], m)
	}
	if g.Fade == nil {
		return p.items(g.Items, st)
	}
	return p.faded(g, st)
}

// faded draws a group on a canvas of its own and lays that on the target, each pixel as much as the gradient says.
func (p *painter) faded(g preview.Group, st state) error {
	area := extent(p.to.rings(geom.Path{geom.Rect(g.Fade.Box.Min.X, g.Fade.Box.Min.Y, g.Fade.Box.Max.X, g.Fade.Box.Max.Y)}, st.move))
	area = area.Intersect(st.area())
	if area.Empty() {
		return nil
	}
	own := newCanvas(area)
	if err := p.items(g.Items, state{target: own, move: st.move}); err != nil {
		return err
	}
	fade := p.linear(g.Fade.Opacity, st.move)
	for y := area.Min.Y; y < area.Max.Y; y++ {
		weights, scratch := p.rowOf(area.Dx())
		one, each := fade.row(y, area.Min.X, weights, scratch)
		for i := range weights {
			if each != nil {
				one = each[i]
			}
			weights[i] = one.alpha() + one.alpha()>>15
		}
		st.clipped(y, area.Min.X, weights)
		overEach(st.target.row(y, area.Min.X, area.Max.X), own.row(y, area.Min.X, area.Max.X), weights)
	}
	return nil
}

// rowOf is room for one row's weights and pixels.
func (p *painter) rowOf(n int) ([]uint32, []pixel) {
	if cap(p.weights) < n {
		p.weights, p.scratch = make([]uint32, n), make([]pixel, n)
	}
	return p.weights[:n], p.scratch[:n]
}

// mask is the inside of an outline; nil where none of it can be seen. Masks of outlines that are drawn several times are
// kept.
func (p *painter) mask(o *preview.Outline, st state) *mask {
	area := st.area()
	key := maskKey{o, st.move, area}
	if m, ok := p.masks[key]; ok {
		return m
	}
	m := p.tally.cover(p.to.rings(o.Path, st.move), area)
	if p.uses[o] > 1 {
		p.masks[key] = m
	}
	return m
}

// fill paints what a mask covers.
func (p *painter) fill(m *mask, paint preview.Paint, st state) error {
	if m == nil {
		return nil
	}
	s, err := p.source(paint, st.move)
	if err != nil {
		return err
	}
	area := m.area
	for y := area.Min.Y; y < area.Max.Y; y++ {
		weights, scratch := p.rowOf(area.Dx())
		for i, c := range m.row(y, area.Min.X, area.Max.X) {
			weights[i] = uint32(c) + uint32(c)>>15
		}
		st.clipped(y, area.Min.X, weights)
		target := st.target.row(y, area.Min.X, area.Max.X)
		one, each := s.row(y, area.Min.X, weights, scratch)
		if each == nil {
			over(target, one, weights)
		} else {
			overEach(target, each, weights)
		}
	}
	return nil
}
