package ornament

import (
	"headcap/compiler/geom"
	"headcap/compiler/model"
)

// path is an outline in the path grammar of SVG 2, 9.3, a unit being a millimetre, filled by the even-odd rule.
var path = Primitive{Name: "path", Draw: func(m model.Mark, tol int64) (geom.Operand, error) {
	p, err := geom.ParsePath(m.Data, geom.Millimetre)
	if err != nil {
		return geom.Operand{}, err
	}
	for i := range p {
		p[i] = closed(p[i])
	}
	return geom.Operand{Path: p, Rule: geom.EvenOdd}, nil
}}

// closed joins the ends of a contour, as SVG does for filling.
func closed(c geom.Contour) geom.Contour {
	n := len(c.Segments)
	if c.Closed || n == 0 {
		return c
	}
	if a, z := c.Segments[0].P0, c.Segments[n-1].P3; a != z {
		c.Segments = append(c.Segments[:n:n], geom.Line(z, a))
	}
	c.Closed = true
	return c
}

// line is a gouge line: a line along a path, with round ends unless said.
var line = Primitive{Name: "line", Draw: func(m model.Mark, tol int64) (geom.Operand, error) {
	p, err := geom.ParsePath(m.Data, geom.Millimetre)
	if err != nil {
		return geom.Operand{}, err
	}
	pen := geom.Pen{Width: m.B, Cap: geom.RoundCap, Join: geom.RoundJoin, MitreLimit: 4}
	switch m.Cap {
	case "square":
		pen.Cap, pen.Join = geom.SquareCap, geom.Mitre
	case "butt":
		pen.Cap, pen.Join = geom.Butt, geom.Mitre
	}
	s, err := geom.Stroke(p, pen, tol)
	if err != nil {
		return geom.Operand{}, err
	}
	return operand(s), nil
}}
