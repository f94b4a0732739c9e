package ornament

import (
	"headcap/compiler/geom"
	"headcap/compiler/model"
)

func filled(c ...geom.Contour) (geom.Operand, error) {
	return geom.Operand{Path: c, Rule: geom.NonZero}, nil
}

// circle is a disc, by its diameter.
var circle = Primitive{Name: "circle", Draw: func(m model.Mark, _ int64) (geom.Operand, error) {
	return filled(geom.Circle(geom.Point{}, m.A/2))
}}

// ring is a disc less a smaller one.
var ring = Primitive{Name: "ring", Draw: func(m model.Mark, _ int64) (geom.Operand, error) {
	outer := geom.Circle(geom.Point{}, m.A/2)
	if 2*m.B >= m.A {
		return filled(outer)
	}
	return filled(outer, geom.Circle(geom.Point{}, m.A/2-m.B).Reverse())
}}

// oval is an ellipse, tall by wide.
var oval = Primitive{Name: "oval", Draw: func(m model.Mark, _ int64) (geom.Operand, error) {
	return filled(geom.Ellipse(geom.Point{}, m.B/2, m.A/2))
}}
