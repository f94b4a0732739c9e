package ornament

import (
	"headcap/compiler/geom"
	"headcap/compiler/model"
)

// leaf is two curves from base to tip, its belly a little below the middle. A bulge is how far a side stands out, as a
// share of the length: 0.24 to 0.33 outside and 0 to 0.09 inside for a leaf on a stem (tried by eye).
var leaf = Primitive{Name: "leaf", Draw: func(m model.Mark, _ int64) (geom.Operand, error) {
	l := m.A
	base, tip := geom.Point{}, geom.Point{Y: -l}
	side := func(bulge, sign float64) (c, d geom.Point) {
		// A cubic whose handles both stand out by h reaches 3h/4.
		h := sign * bulge * float64(l) * 4 / 3
		return at(h, -0.25*float64(l)), at(h*0.94, -0.68*float64(l))
	}
	rc, rd := side(m.Right, 1)
	lc, ld := side(m.Left, -1)
	return filled(geom.Contour{Closed: true, Segments: []geom.Segment{
		geom.Cubic(base, lc, ld, tip), geom.Cubic(tip, rd, rc, base),
	}})
}}

// petal runs from a point at its base to a full round head.
var petal = Primitive{Name: "petal", Draw: func(m model.Mark, _ int64) (geom.Operand, error) {
	l, w := float64(m.A), float64(m.B)
	base, tip := geom.Point{}, at(0, -l)
	half := func(sign float64) (geom.Segment, geom.Segment) {
		belly := at(sign*w/2, -0.66*l)
		return geom.Cubic(base, at(sign*0.1*w, -0.22*l), at(sign*w/2, -0.42*l), belly),
			geom.Cubic(belly, at(sign*w/2, -0.86*l), at(sign*0.28*w, -l), tip)
	}
	l1, l2 := half(-1)
	r1, r2 := half(1)
	return filled(geom.Contour{Closed: true, Segments: []geom.Segment{l1, l2, r2.Reverse(), r1.Reverse()}})
}}

// at rounds a point of a drawing, whose measures are bounded by the vocabulary, to the grid.
func at(x, y float64) geom.Point {
	return geom.Point{X: round(x), Y: round(y)}
}

func round(v float64) int64 {
	if v < 0 {
		return -int64(0.5 - v)
	}
	return int64(0.5 + v)
}
