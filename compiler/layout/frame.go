package layout

import (
	"fmt"

	"headcap/compiler/drawing"
	"headcap/compiler/geom"
	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// fill lays the lines of a room and finds what they leave.
func (p *page) lines(r *room) {
	r.inner, r.foot = r.box, r.box.Max.Y
	for _, f := range r.fillets {
		p.fillet(r, f)
	}
	named := map[string]geom.Box{}
	for _, f := range r.frames {
		inner, ok := p.frame(r, f, named)
		if !ok {
			continue
		}
		r.lines = true
		if f.Name != "" {
			named[f.Name] = inner
		}
		if within(r.inner, inner) {
			r.inner, r.foot = inner, inner.Max.Y
		}
	}
}

func within(outer, b geom.Box) bool {
	return b.Min.X >= outer.Min.X && b.Min.Y >= outer.Min.Y && b.Max.X <= outer.Max.X && b.Max.Y <= outer.Max.Y
}

// filmOf gives the film in force for a part of a room.
func (p *page) filmOf(r *room, own *model.Film) string {
	switch {
	case own != nil:
		return own.Name
	case r.film != nil:
		return r.film.Name
	}
	return p.film
}

// fillet draws lines across the room beside the bands at its head and tail, from the clear leather inwards.
func (p *page) fillet(r *room, f model.Fillet) {
	film := p.filmOf(r, f.Film)
	x0, x1 := r.box.Min.X+f.Inset.Nanometres(), r.box.Max.X-f.Inset.Nanometres()
	sides := []struct {
		here bool
		head bool
	}{{f.Head && !r.above || !f.Head && !f.Tail && r.above, true}, {f.Tail && !r.below || !f.Head && !f.Tail && r.below, false}}
	for _, s := range sides {
		if !s.here {
			continue
		}
		depth := int64(0)
		for i, w := range f.Widths {
			if i > 0 {
				depth += f.Gap.Nanometres()
			}
			half := w.Nanometres() / 2
			y := r.box.Min.Y + depth + half
			if !s.head {
				y = r.box.Max.Y - depth - half
			}
			p.face.Shapes = append(p.face.Shapes, drawing.Shape{
				Kind: drawing.Fillet, Name: "fillet", Film: film, Place: geom.Identity(), Origin: f.Origin,
				Line: &drawing.Line{Width: w.Nanometres(), Along: geom.Contour{Segments: []geom.Segment{geom.Line(geom.Point{X: x0, Y: y}, geom.Point{X: x1, Y: y})}}},
			})
			depth += w.Nanometres()
		}
		if s.head {
			r.inner.Min.Y = max(r.inner.Min.Y, r.box.Min.Y+depth+airAfterFillet)
		} else {
			r.inner.Max.Y = min(r.inner.Max.Y, r.box.Max.Y-depth-airAfterFillet)
			r.foot = min(r.foot, r.box.Max.Y-depth)
		}
	}
}

// frame lays a frame's courses from the outside in, and its corner stamps, and gives the box inside its innermost line.
func (p *page) frame(r *room, f model.Frame, named map[string]geom.Box) (geom.Box, bool) {
	film := p.filmOf(r, f.Film)
	outer := r.inner
	if r.cover {
		outer = r.box
	}
	sides, ends := panelInset, panelInset
	if r.cover {
		sides, ends = coverInset, coverInset
	}
	if f.Sides != nil {
		sides = f.Sides.Nanometres()
	}
	if f.Ends != nil {
		ends = f.Ends.Nanometres()
	}
	if f.Inside != "" {
		b, ok := named[f.Inside]
		if !ok {
			return geom.Box{}, false // the outer frame did not fit, and that has been told
		}
		outer = b
		sides, ends = f.By.Nanometres(), f.By.Nanometres()
	}
	b := geom.Box{Min: geom.Point{X: outer.Min.X + sides, Y: outer.Min.Y + ends}, Max: geom.Point{X: outer.Max.X - sides, Y: outer.Max.Y - ends}}
	courses, ok := p.courses(f)
	if !ok {
		return geom.Box{}, false
	}
	total := int64(0)
	for _, c := range courses {
		total += c.depth
	}
	if b.Width() < 2*total || b.Height() < 2*total {
		p.add(diag.Diagnostic{
			Code: "frame-too-large", At: p.origins.Span(f.Origin),
			Message: fmt.Sprintf("the frame's lines take %s on each side, and %s leaves %s x %s for them", mmText(total), r.name, mmText(b.Height()), mmText(b.Width())),
			Try:     []string{"a smaller inset, or fewer and narrower lines"},
		})
		return geom.Box{}, false
	}
	for _, c := range courses {
		switch {
		case c.line > 0:
			p.rule(b, c.line, film, f.Plain, c.origin)
		case c.roll != nil:
			p.border(r, b, c, film)
		}
		b = b.Inset(c.depth)
	}
	for _, c := range f.Corner {
		p.corners(b, c, film)
	}
	return b, true
}

// A course is one line, roll or piece of air with its depth.
type course struct {
	line   int64
	roll   *model.Roll
	facing string
	depth  int64
	origin source.Origin
}

// courses gives the stack of a frame, with air put in where lines and rolls would stand hard beside each other.
func (p *page) courses(f model.Frame) ([]course, bool) {
	var out []course
	solid := false // the course before is a line or roll
	roll := false
	air := func(d int64, at source.Origin) { out = append(out, course{depth: d, origin: at}) }
	for _, c := range f.Stack {
		switch {
		case c.Air != nil:
			air(c.Air.Nanometres(), c.Origin)
			solid = false
			continue
		case c.Line != nil:
			if solid {
				air(pick(roll, airByRoll, geom.Millimetre), c.Origin)
			}
			w := c.Line.Nanometres()
			out = append(out, course{line: w, depth: w, origin: c.Origin})
			roll = false
		case c.Roll != nil:
			if solid {
				air(airByRoll, c.Origin)
			}
			d, ok := p.depth(c.Roll, c.Facing)
			if !ok {
				return nil, false
			}
			out = append(out, course{roll: c.Roll, facing: c.Facing, depth: d, origin: c.Origin})
			roll = true
		}
		solid = true
	}
	return out, true
}

func pick(cond bool, a, b int64) int64 {
	if cond {
		return a
	}
	return b
}

// rule draws a line of a frame: mitred at the corners, or plain, stopping short of them by twice its width.
func (p *page) rule(b geom.Box, width int64, film string, plain bool, at source.Origin) {
	h := width / 2
	mid := geom.Box{Min: geom.Point{X: b.Min.X + h, Y: b.Min.Y + h}, Max: geom.Point{X: b.Max.X - (width - h), Y: b.Max.Y - (width - h)}}
	add := func(c geom.Contour) {
		p.face.Shapes = append(p.face.Shapes, drawing.Shape{
			Kind: drawing.Fillet, Name: "fillet", Film: film, Place: geom.Identity(), Origin: at, Line: &drawing.Line{Along: c, Width: width},
		})
	}
	if !plain {
		add(geom.Rect(mid.Min.X, mid.Min.Y, mid.Max.X, mid.Max.Y))
		return
	}
	s := 2*width + h
	for _, e := range [][2]geom.Point{
		{{X: mid.Min.X + s, Y: mid.Min.Y}, {X: mid.Max.X - s, Y: mid.Min.Y}},
		{{X: mid.Max.X, Y: mid.Min.Y + s}, {X: mid.Max.X, Y: mid.Max.Y - s}},
		{{X: mid.Max.X - s, Y: mid.Max.Y}, {X: mid.Min.X + s, Y: mid.Max.Y}},
		{{X: mid.Min.X, Y: mid.Max.Y - s}, {X: mid.Min.X, Y: mid.Min.Y + s}},
	} {
		add(geom.Contour{Segments: []geom.Segment{geom.Line(e[0], e[1])}})
	}
}

// corners sets a stamp in the four corners of a box. As it is drawn it is for the corner at head and left; an upright
// stamp that is to face in or out is turned to the diagonal first. The others are its mirror images.
func (p *page) corners(b geom.Box, c model.Corner, film string) {
	art, ok := p.art.Of(c.Stamp)
	if !ok {
		return
	}
	inset := int64(0)
	t := geom.Identity()
	if c.Facing != "" {
		inset = cornerAir
		t = turnedToCorner(c.Facing)
		turned := boxOf(t, art.Shapes)
		t = t.Then(geom.Move(-turned.Min.X, -turned.Min.Y))
	}
	if c.Inset != nil {
		inset = c.Inset.Nanometres()
	}
	reach := boxOf(t, art.Shapes)
	if 2*(reach.Max.X+inset) > b.Width() || 2*(reach.Max.Y+inset) > b.Height() {
		p.add(diag.Diagnostic{
			Code: "corners-meet", At: p.origins.Span(c.Origin),
			Message: fmt.Sprintf("the corner stamp «%s» reaches %s from its corner; the frame is %s x %s inside, and two would meet", c.Stamp.Name, mmText(max(reach.Max.X, reach.Max.Y)+inset), mmText(b.Height()), mmText(b.Width())),
			Try:     []string{"a smaller corner stamp"},
		})
		return
	}
	for _, q := range quarters {
		x, y := b.Min.X+inset, b.Min.Y+inset
		if q.A < 0 {
			x = b.Max.X - inset
		}
		if q.D < 0 {
			y = b.Max.Y - inset
		}
		p.stamp(drawing.Corner, c.Stamp, art.Shapes, t.Then(q), geom.Point{X: x, Y: y}, film, c.Origin)
	}
}

// quarters are the reflections that carry the corner at head and left to all four.
var quarters = []geom.Transform{geom.Identity(), geom.MirrorX(), geom.MirrorX().Then(geom.MirrorY()), geom.MirrorY()}

// turnedToCorner turns an upright stamp so that its head looks out of the corner at head and left, or in from it.
func turnedToCorner(facing string) geom.Transform {
	if facing == "in" {
		return geom.Turn(135)
	}
	return geom.Turn(-45)
}

// stamp sets a stamp with its origin at a point, on the grid of a micrometre.
func (p *page) stamp(kind drawing.Kind, s *model.Stamp, art []geom.Shape, t geom.Transform, at geom.Point, film string, origin source.Origin) {
	at = snapped(geom.Point{X: at.X + t.E, Y: at.Y + t.F})
	t.E, t.F = at.X, at.Y
	p.face.Shapes = append(p.face.Shapes, drawing.Shape{Kind: kind, Name: s.Name, Film: film, Place: t, Art: art, Origin: origin})
}

func snapped(p geom.Point) geom.Point {
	return geom.Point{X: micrometre(p.X), Y: micrometre(p.Y)}
}

// micrometre rounds to the grid of the files, half away from zero.
func micrometre(v int64) int64 {
	if v < 0 {
		return -micrometre(-v)
	}
	return (v + 500) / 1000 * 1000
}

// boxOf is the box of a placed stamp.
func boxOf(t geom.Transform, art []geom.Shape) geom.Box {
	b := geom.EmptyBox()
	for _, s := range art {
		b = b.Union(t.Shape(s).Bounds())
	}
	return b
}

func mmText(v int64) string {
	l := unit.Nanometres((v + 5_000) / 10_000 * 10_000)
	return l.String()
}
