package lettering

import (
	"fmt"

	"headcap/compiler/geom"

	"github.com/go-text/typesetting/font"
)

// A Line is a set line of letters, ready to be placed. Its origin is on the baseline at the horizontal middle of the ink.
type Line struct {
	// Shapes are the fused outlines: letters that touch are one shape.
	Shapes []geom.Shape
	// Width is the width of the ink, Cap the finished height of a flat capital, both in nanometres.
	Width, Cap int64
	// Nominal is the cap height at which the letters were drawn, and Grown by how much they were then grown all round.
	Nominal, Grown int64
	// Above and Below are how far the ink comes out above the line of the capitals and below the baseline; negative
	// where it stays inside.
	Above, Below int64
	Notes        []Note
}

// curveTolerance is how closely fused and grown outlines keep to the true ones. What is only fused keeps its curves and is
// far closer; on grown ones a finer tolerance doubles the time, for what no blade can follow. (A choice.)
const curveTolerance = 2 * geom.Micrometre

// Set draws a line at the cap height of its style. Every segment carries the tag.
func (f *Face) Set(text string, s Style, tag int32) (Line, error) {
	p, err := f.Proportions(text, s)
	if err != nil {
		return Line{}, err
	}
	if err := p.checkCap(s.Cap); err != nil {
		return Line{}, err
	}
	shapes, err := p.draw(s.Cap, tag)
	if err != nil {
		return Line{}, fmt.Errorf("drawing the letters of %q: %w", text, err)
	}
	return Line{
		Shapes: shapes,
		Width:  p.Width(s.Cap), Cap: s.Cap,
		Nominal: p.Nominal(s.Cap), Grown: p.Grown(s.Cap),
		Above: p.Ascends(s.Cap), Below: p.Descends(s.Cap),
		Notes: p.Notes(),
	}, nil
}

// draw scales, grows, places and fuses the glyphs.
func (p *Proportions) draw(c int64, tag int32) ([]geom.Shape, error) {
	num, den := p.ratio(c)
	den *= p.cap
	grown := p.Grown(c)
	middle := p.middle(c)
	var path geom.Path
	for _, g := range p.line.glyphs {
		drawn, err := p.face.drawn(g, cutSize{g.id, num, den, growth{by: grown, open: p.opening, limb: p.thicken}})
		if err != nil {
			return nil, err
		}
		// The finished baseline is the drawn one moved down by the growth, and comes to lie at 0.
		dx := mulDiv(g.x, num, den) + mulDiv(p.spaced*g.gaps, c, 1000) - middle
		dy := mulDiv(g.y, num, den) - grown
		path = append(path, mapped(drawn, func(q geom.Point) geom.Point { return geom.Point{X: q.X + dx, Y: q.Y + dy} })...)
	}
	return fused(path, tag)
}

// A cutSize is a glyph at a size: scaled by num/den, then grown.
type cutSize struct {
	id       font.GID
	num, den int64
	growth
}

// mostDrawn bounds the glyphs that a face keeps drawn; a set of volumes has a few dozen. When there are more the face
// forgets them all and draws again what is asked for, with the same result.
const mostDrawn = 1000

// drawn is a glyph at a size, its origin at 0. Growing is the dear part of setting a line, and a series with one size of
// letters uses every letter many times; so equal letters are also cut equal.
func (f *Face) drawn(g placed, size cutSize) (geom.Path, error) {
	f.mu.Lock()
	path, ok := f.cuts[size]
	f.mu.Unlock()
	if ok {
		return path, nil
	}
	path = scaled(g.g.path, size.num, size.den)
	if size.by > 0 {
		shapes, err := fused(path, 0)
		if err != nil {
			return nil, err
		}
		if shapes, err = size.grow(shapes, mulDiv(f.capHeight, size.num, size.den)); err != nil {
			return nil, err
		}
		path = geom.Paths(shapes)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if len(f.cuts) >= mostDrawn {
		clear(f.cuts)
	}
	f.cuts[size] = path
	return path, nil
}

func scaled(path geom.Path, num, den int64) geom.Path {
	return mapped(path, func(q geom.Point) geom.Point { return geom.Point{X: mulDiv(q.X, num, den), Y: mulDiv(q.Y, num, den)} })
}

// fused are the shapes of a path, every segment with the tag.
func fused(path geom.Path, tag int32) ([]geom.Shape, error) {
	shapes, err := geom.Fuse([]geom.Operand{{Path: path, Rule: geom.NonZero}}, curveTolerance)
	if err != nil {
		return nil, err
	}
	for _, c := range geom.Paths(shapes) {
		for i := range c.Segments {
			c.Segments[i].Tag = tag
		}
	}
	return shapes, nil
}

// middle is halfway between the leftmost and the rightmost ink, from the origin of the first letter.
func (p *Proportions) middle(c int64) int64 {
	side := func(reaches []spacedReach) int64 {
		var forms []linear
		for _, r := range reaches {
			forms = append(forms, p.linear(p.stageAt(c), r.out, r.grows, r.gaps))
		}
		return greatest(forms, c)
	}
	return roundDiv(side(p.right)-side(p.left), 2)
}

// mapped is a path with every point moved; segments that shrink to nothing are left out.
func mapped(path geom.Path, to func(geom.Point) geom.Point) geom.Path {
	out := make(geom.Path, 0, len(path))
	for _, c := range path {
		d := geom.Contour{Closed: c.Closed, Segments: make([]geom.Segment, 0, len(c.Segments))}
		for _, s := range c.Segments {
			t := geom.Segment{P0: to(s.P0), P3: to(s.P3), Line: s.Line}
			if !s.Line {
				t.P1, t.P2 = to(s.P1), to(s.P2)
			}
			if t.P0 != t.P3 || !t.Line && (t.P1 != t.P0 || t.P2 != t.P0) {
				d.Segments = append(d.Segments, t)
			}
		}
		if len(d.Segments) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// Glyph gives the glyph of one character as fused outlines, drawn at em nanometres to the em, its origin on the baseline
// at the beginning of its advance.
func (f *Face) Glyph(r rune, em int64, tag int32) ([]geom.Shape, error) {
	if em < geom.Micrometre || em > mostCap {
		return nil, &Fault{Code: "bad-lettering", Message: fmt.Sprintf("an em of %d nm is out of all reason", em)}
	}
	line, err := f.set(string(r), Style{})
	if err != nil {
		return nil, err
	}
	var path geom.Path
	for _, g := range line.glyphs {
		path = append(path, mapped(g.g.path, func(q geom.Point) geom.Point {
			return geom.Point{X: mulDiv(q.X+g.x, em, f.upem*gridPerUnit), Y: mulDiv(q.Y+g.y, em, f.upem*gridPerUnit)}
		})...)
	}
	shapes, err := fused(path, tag)
	if err != nil {
		return nil, fmt.Errorf("drawing the glyph %q: %w", r, err)
	}
	return shapes, nil
}
