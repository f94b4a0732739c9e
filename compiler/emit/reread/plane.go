// Package reread reads back the cut files that the compiler writes, strictly and with nothing of the writers' own code, so
// that tests can ask what another program would find in them: sizes, outlines, areas, boxes, faults and a picture.
// What a cut file must not hold is an error here.
package reread

import (
	"fmt"
	"math"
	"sort"
)

// A Point is in millimetres, in the axes of its file: y down in SVG, y up in DXF.
type Point struct{ X, Y float64 }

// A Ring is a closed polygon; its first point is not repeated.
type Ring []Point

// Area of the ring, never negative, in square millimetres.
func (r Ring) Area() float64 {
	sum := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return math.Abs(sum) / 2
}

// A Box is the smallest upright rectangle round something.
type Box struct{ Min, Max Point }

// Bounds of some rings.
func Bounds(rings []Ring) Box {
	b := Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
	for _, r := range rings {
		for _, p := range r {
			b.Min = Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}
			b.Max = Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}
		}
	}
	return b
}

// Each gives the rings with every point moved, such as (width − x, y) for a reflection.
func Each(rings []Ring, move func(Point) Point) []Ring {
	out := make([]Ring, len(rings))
	for i, r := range rings {
		for _, p := range r {
			out[i] = append(out[i], move(p))
		}
	}
	return out
}

// Area of what rings enclose by the even-odd rule, in square millimetres, where none crosses another: a ring that an odd
// number of others holds is a hole.
func Area(rings []Ring) float64 {
	boxes := make([]Box, len(rings))
	for i, r := range rings {
		boxes[i] = Bounds([]Ring{r})
	}
	sum := 0.0
	for i, r := range rings {
		sign := 1.0
		p := r[0]
		for j, o := range rings {
			b := boxes[j]
			if j != i && p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y && o.holds(p) {
				sign = -sign
			}
		}
		sum += sign * r.Area()
	}
	return sum
}

// holds says whether a point is inside the ring.
func (r Ring) holds(p Point) bool {
	in := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// A side is one side of a ring, for Faults.
type side struct {
	a, b       Point
	ring, at   int
	ringLength int
}

// Faults tells what no cut file may have: doubled points, rings of no area, and sides that cross by more than depth (in
// millimetres; what is flattened here carries its own rounding, so give it a depth of that size, and a file of straight
// sides none). It looks at every pair of rings. It stops at twenty.
func Faults(rings []Ring, depth float64) []string {
	const most = 20
	var out []string
	var sides []side
	for i, r := range rings {
		if len(r) < 3 || r.Area() < 1e-6 {
			out = append(out, fmt.Sprintf("ring %d has no area", i))
			continue
		}
		for j, p := range r {
			q := r[(j+1)%len(r)]
			if p == q {
				out = append(out, fmt.Sprintf("ring %d has the point %.3f, %.3f twice", i, p.X, p.Y))
				continue
			}
			sides = append(sides, side{a: p, b: q, ring: i, at: j, ringLength: len(r)})
		}
	}
	// Sides are met in the order of their left ends; those whose right ends are passed are dropped.
	left := func(s side) float64 { return min(s.a.X, s.b.X) }
	sort.SliceStable(sides, func(i, j int) bool { return left(sides[i]) < left(sides[j]) })
	var open []side
	for _, s := range sides {
		kept := open[:0]
		for _, o := range open {
			if max(o.a.X, o.b.X) < left(s) {
				continue
			}
			kept = append(kept, o)
			if len(out) < most && s.crosses(o, depth) {
				out = append(out, fmt.Sprintf("rings %d and %d cross near %.3f, %.3f", o.ring, s.ring, s.a.X, s.a.Y))
			}
		}
		open = append(kept, s)
	}
	return out[:min(len(out), most)]
}

// crosses says whether two sides that are not neighbours pass through each other, or neighbours lie on one another.
func (s side) crosses(o side, depth float64) bool {
	if max(s.a.Y, s.b.Y) < min(o.a.Y, o.b.Y) || max(o.a.Y, o.b.Y) < min(s.a.Y, s.b.Y) {
		return false
	}
	c, d := s.from(o.a), s.from(o.b)
	if math.Abs(c) < 1e-9 && math.Abs(d) < 1e-9 {
		return s.overlaps(o)
	}
	a, b := o.from(s.a), o.from(s.b)
	if c*d >= 0 || a*b >= 0 {
		return false
	}
	return min(math.Abs(a), math.Abs(b), math.Abs(c), math.Abs(d)) > max(depth, 1e-9)
}

// from is how far a point lies from the side's line, to its one side or its other.
func (s side) from(p Point) float64 {
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	return (dx*(p.Y-s.a.Y) - dy*(p.X-s.a.X)) / math.Hypot(dx, dy)
}

// overlaps says whether two sides on one line share more than a point.
func (s side) overlaps(o side) bool {
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	l := math.Hypot(dx, dy)
	along := func(p Point) float64 { return ((p.X-s.a.X)*dx + (p.Y-s.a.Y)*dy) / l }
	t, u := along(o.a), along(o.b)
	return min(max(t, u), l)-max(min(t, u), 0) > 1e-9
}
