package ornament

import (
	"headcap/compiler/geom"
	"headcap/compiler/model"
)

// lozenge stands on its point, tall by wide.
var lozenge = Primitive{Name: "lozenge", Draw: func(m model.Mark, _ int64) (geom.Operand, error) {
	h, w := m.A/2, m.B/2
	return filled(geom.Polygon(geom.Point{Y: -h}, geom.Point{X: w}, geom.Point{Y: h}, geom.Point{X: -w}))
}}

// bar is an upright rectangle, tall by wide.
var bar = Primitive{Name: "bar", Draw: func(m model.Mark, _ int64) (geom.Operand, error) {
	h, w := m.A/2, m.B/2
	return filled(geom.Rect(-w, -h, w, h))
}}
