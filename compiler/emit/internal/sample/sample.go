// Package sample holds small faces for the tests of the writers: shapes whose left is not their right and whose head is
// not their tail, with curves, holes and points.
package sample

import (
	"fmt"

	"headcap/compiler/cut"
	"headcap/compiler/geom"
)

// mm is a point in tenths of a millimetre.
func mm(x, y int64) geom.Point { return geom.Point{X: x * 100_000, Y: y * 100_000} }

// chain makes a closed contour from corners and curves that follow one another.
type chain struct {
	at  geom.Point
	out geom.Contour
}

func from(p geom.Point) *chain { return &chain{at: p, out: geom.Contour{Closed: true}} }

func (c *chain) line(p geom.Point) *chain {
	c.out.Segments = append(c.out.Segments, geom.Segment{P0: c.at, P3: p, Line: true})
	c.at = p
	return c
}

func (c *chain) curve(p1, p2, p3 geom.Point) *chain {
	c.out.Segments = append(c.out.Segments, geom.Segment{P0: c.at, P1: p1, P2: p2, P3: p3})
	c.at = p3
	return c
}

// LetterF is an F with a round foot, 12 mm wide and 20 mm high, at 4, 5 mm. It has no symmetry of any kind.
func LetterF() geom.Shape {
	return geom.Shape{Outer: from(mm(40, 50)).
		line(mm(160, 50)).line(mm(160, 90)).line(mm(80, 90)).
		line(mm(80, 130)).line(mm(130, 130)).line(mm(130, 170)).line(mm(80, 170)).
		line(mm(80, 230)).curve(mm(80, 241), mm(71, 250), mm(60, 250)).curve(mm(49, 250), mm(40, 241), mm(40, 230)).
		line(mm(40, 50)).out}
}

// circle is a circle of four cubics, as an outer contour or as a hole.
func circle(c geom.Point, r int64, hole bool) geom.Contour {
	k := r * 552 / 1000 / geom.Micrometre * geom.Micrometre
	at := func(dx, dy int64) geom.Point { return geom.Point{X: c.X + dx, Y: c.Y + dy} }
	if hole {
		return from(at(r, 0)).curve(at(r, -k), at(k, -r), at(0, -r)).curve(at(-k, -r), at(-r, -k), at(-r, 0)).
			curve(at(-r, k), at(-k, r), at(0, r)).curve(at(k, r), at(r, k), at(r, 0)).out
	}
	return from(at(r, 0)).curve(at(r, k), at(k, r), at(0, r)).curve(at(-k, r), at(-r, k), at(-r, 0)).
		curve(at(-r, -k), at(-k, -r), at(0, -r)).curve(at(k, -r), at(r, -k), at(r, 0)).out
}

// Ring is a ring 6 mm across with a hole of 3 mm, off its middle.
func Ring(c geom.Point) geom.Shape {
	return geom.Shape{
		Outer: circle(c, 3*geom.Millimetre, false),
		Holes: []geom.Contour{circle(geom.Point{X: c.X + 300*geom.Micrometre, Y: c.Y - 200*geom.Micrometre}, 1500*geom.Micrometre, true)},
	}
}

// Star is a star of four sharp points with hollow sides, 8 mm across.
func Star(c geom.Point) geom.Shape {
	at := func(dx, dy int64) geom.Point { return geom.Point{X: c.X + dx*1000, Y: c.Y + dy*1000} }
	return geom.Shape{Outer: from(at(4000, 0)).
		curve(at(1503, 407), at(407, 1503), at(0, 4000)).curve(at(-407, 1503), at(-1503, 407), at(-4000, 0)).
		curve(at(-1503, -407), at(-407, -1503), at(0, -4000)).curve(at(407, -1503), at(1503, -407), at(4000, 0)).out}
}

// Cover is a face 60.4 by 41.2 mm with an F at its upper left, a ring and a star.
func Cover(transfer bool) cut.Face {
	f := cut.Face{
		Volume: "01-sample", Title: "Sample", Face: "front", Film: "gold", Colour: "#c9a227", Transfer: transfer,
		Width: 60_400_000, Height: 41_200_000,
	}
	for i, s := range []geom.Shape{LetterF(), Ring(mm(300, 100)), Star(mm(403, 327))} {
		f.Pieces = append(f.Pieces, cut.Piece{
			ID: fmt.Sprintf("01-sample/front/gold/shape %d/1", 3-i), Mark: fmt.Sprintf("m%d", i), Shape: s,
		})
	}
	return f
}

// Crowded is a face of n pieces in rows, rings and stars by turns, for benchmarks.
func Crowded(n int) cut.Face {
	f := Cover(false)
	f.Width, f.Height = 900*geom.Millimetre, 900*geom.Millimetre
	f.Pieces = nil
	for i := range n {
		c := geom.Point{X: 5*geom.Millimetre + int64(i%100)*8_100_000, Y: 5*geom.Millimetre + int64(i/100)*8_100_000}
		s := Ring(c)
		if i%2 == 1 {
			s = Star(c)
		}
		f.Pieces = append(f.Pieces, cut.Piece{ID: fmt.Sprintf("01-sample/front/gold/run/%d", i), Shape: s})
	}
	return f
}
