package geom

import (
	"fmt"
	"math"
	"math/big"
	"slices"
)

// The oracle measures what an operation on polygons ought to give without anything of the engine: it cuts the plane into
// upright slabs between all corners and crossings and counts windings between the edges in the middle of each.

type oracleEdge struct {
	x0, y0, x1, y1 float64 // x0 < x1
	wind           int
	operand        int
}

// areas is the areas by operation and rule, and the length of all edges.
type areas struct {
	of     [5][4]float64
	length float64
}

func oracle(a, b Path) areas {
	var out areas
	var edges []oracleEdge
	var xs []float64
	for k, p := range []Path{a, b} {
		for _, c := range p {
			for _, s := range c.Segments {
				e := oracleEdge{float64(s.P0.X), float64(s.P0.Y), float64(s.P3.X), float64(s.P3.Y), 1, k}
				out.length += math.Hypot(e.x1-e.x0, e.y1-e.y0)
				xs = append(xs, e.x0)
				if e.x0 > e.x1 {
					e.x0, e.y0, e.x1, e.y1, e.wind = e.x1, e.y1, e.x0, e.y0, -1
				}
				if e.x0 != e.x1 {
					edges = append(edges, e)
				}
			}
		}
	}
	for i, e := range edges {
		for _, f := range edges[i+1:] {
			rx, ry, sx, sy := e.x1-e.x0, e.y1-e.y0, f.x1-f.x0, f.y1-f.y0
			d := rx*sy - ry*sx
			if d == 0 {
				continue
			}
			k := ((f.x0-e.x0)*sy - (f.y0-e.y0)*sx) / d
			m := ((f.x0-e.x0)*ry - (f.y0-e.y0)*rx) / d
			if k >= 0 && k <= 1 && m >= 0 && m <= 1 {
				xs = append(xs, e.x0+k*rx)
			}
		}
	}
	slices.Sort(xs)
	type level struct {
		y             float64
		wind, operand int
	}
	var levels []level
	for i := range len(xs) - 1 {
		width, mid := xs[i+1]-xs[i], (xs[i]+xs[i+1])/2
		if width < 1e-7 {
			continue
		}
		levels = levels[:0]
		for _, e := range edges {
			if e.x0 < mid && mid < e.x1 {
				levels = append(levels, level{e.y0 + (mid-e.x0)/(e.x1-e.x0)*(e.y1-e.y0), e.wind, e.operand})
			}
		}
		slices.SortFunc(levels, func(p, q level) int {
			if p.y < q.y {
				return -1
			}
			if p.y > q.y {
				return 1
			}
			return 0
		})
		var wind [2]int
		for k := range len(levels) - 1 {
			// Upwards across an edge that runs to the right the side on its left is reached.
			wind[levels[k].operand] += levels[k].wind
			area := (levels[k+1].y - levels[k].y) * width
			for rule := range 4 {
				in := func(w int) bool {
					return [4]bool{w != 0, w%2 != 0, w > 0, w < 0}[rule]
				}
				a, b := in(wind[0]), in(wind[1])
				for op, inside := range [5]bool{a || b, a && b, a && !b, b && !a, a != b} {
					if inside {
						out.of[op][rule] += area
					}
				}
			}
		}
	}
	return out
}

func regionArea(shapes []Shape) float64 {
	sum := 0.0
	for _, s := range shapes {
		for _, c := range s.Path() {
			sum += SignedArea(c)
		}
	}
	return sum
}

type checkEdge struct {
	a, b  Point
	ring  int
	shape int
}

// topology says what is wrong with shapes as regions: edges that cross or fall together, a corner on an edge, a ring that
// passes a point twice, a side of an edge that is not what it should be in its own shape or in all together, a ring or a
// shape out of order. Curves are looked at as chords within tol.
func topology(shapes []Shape, tol int64) error {
	var edges []checkEdge
	rings := 0
	passes := map[Point]int{}
	for _, c := range Paths(shapes) {
		for _, g := range c.Segments {
			passes[g.P0]++
		}
	}
	for i, s := range shapes {
		for k, c := range s.Path() {
			if !c.Closed || len(c.Segments) < 2 {
				return fmt.Errorf("shape %d ring %d is no closed contour of two segments or more", i, k)
			}
			for j, g := range c.Segments {
				next := c.Segments[(j+1)%len(c.Segments)]
				if g.P3 != next.P0 {
					return fmt.Errorf("shape %d ring %d is broken at %v", i, k, g.P3)
				}
				if comparePoints(c.Segments[0].P0, g.P0) > 0 {
					return fmt.Errorf("shape %d ring %d does not begin at its least point %v", i, k, g.P0)
				}
				if g.P0 == g.P3 {
					return fmt.Errorf("shape %d ring %d has a doubled point %v", i, k, g.P0)
				}
				if g.Line && next.Line && g.Tag == next.Tag && turnOf(g.P0, g.P3, next.P3) == 0 && passes[g.P3] == 1 {
					return fmt.Errorf("shape %d ring %d has a needless point %v", i, k, g.P3)
				}
			}
			if area := SignedArea(c); (area > 0) != (k == 0) || area == 0 {
				return fmt.Errorf("shape %d ring %d has area %g", i, k, area)
			}
			p := Points(c, tol)
			if len(p) < 3 {
				return fmt.Errorf("shape %d ring %d has only %d points", i, k, len(p))
			}
			seen := map[Point]bool{}
			for j := range p {
				if seen[p[j]] {
					return fmt.Errorf("shape %d ring %d passes %v twice", i, k, p[j])
				}
				seen[p[j]] = true
				edges = append(edges, checkEdge{p[j], p[(j+1)%len(p)], rings, i})
			}
			rings++
		}
		if i > 0 && comparePoints(shapes[i-1].Outer.Segments[0].P0, s.Outer.Segments[0].P0) > 0 {
			return fmt.Errorf("shape %d is out of order", i)
		}
	}
	byX := slices.Clone(edges)
	slices.SortFunc(byX, func(p, q checkEdge) int { return int(min(p.a.X, p.b.X) - min(q.a.X, q.b.X)) })
	for i, e := range byX {
		for _, f := range byX[i+1:] {
			if min(f.a.X, f.b.X) > max(e.a.X, e.b.X) {
				break
			}
			if err := clash(e, f); err != nil {
				return err
			}
		}
	}
	return windings(edges)
}

func turnOf(a, b, c Point) int {
	p := (b.X - a.X) * (c.Y - a.Y)
	q := (b.Y - a.Y) * (c.X - a.X)
	switch {
	case p > q:
		return 1
	case p < q:
		return -1
	}
	return 0
}

func clash(e, f checkEdge) error {
	if max(e.a.Y, e.b.Y) < min(f.a.Y, f.b.Y) || max(f.a.Y, f.b.Y) < min(e.a.Y, e.b.Y) {
		return nil
	}
	c1, c2, c3, c4 := turnOf(e.a, e.b, f.a), turnOf(e.a, e.b, f.b), turnOf(f.a, f.b, e.a), turnOf(f.a, f.b, e.b)
	if c1*c2 < 0 && c3*c4 < 0 {
		return fmt.Errorf("edges %v–%v and %v–%v cross", e.a, e.b, f.a, f.b)
	}
	within := func(a, b, c Point) bool {
		return c != a && c != b && min(a.X, b.X) <= c.X && c.X <= max(a.X, b.X) && min(a.Y, b.Y) <= c.Y && c.Y <= max(a.Y, b.Y)
	}
	if c1 == 0 && within(e.a, e.b, f.a) || c2 == 0 && within(e.a, e.b, f.b) ||
		c3 == 0 && within(f.a, f.b, e.a) || c4 == 0 && within(f.a, f.b, e.b) {
		return fmt.Errorf("an end of one of the edges %v–%v and %v–%v is on the other", e.a, e.b, f.a, f.b)
	}
	if e.a == f.a && e.b == f.b || e.a == f.b && e.b == f.a {
		return fmt.Errorf("edge %v–%v stands twice", e.a, e.b)
	}
	return nil
}

// windings counts the windings on both sides of the middle of edges, in their own shape and in all.
func windings(edges []checkEdge) error {
	for i := 0; i < len(edges); i += 1 + len(edges)/500 { // of many edges only some
		e := edges[i]
		lo, hi := e.a, e.b
		if lo.Y > hi.Y {
			lo, hi = hi, lo
		}
		if lo.Y == hi.Y {
			continue
		}
		y := (lo.Y+hi.Y)/2 + 0 // the height is y + 1/2, where no corner is
		if y == hi.Y {
			y--
		}
		own, all := 0, 0
		for _, f := range edges {
			if min(f.a.Y, f.b.Y) > y || max(f.a.Y, f.b.Y) <= y || f == e {
				continue
			}
			if !leftAt(f, e, y) {
				continue
			}
			w := 1 // falling: the region is on the side of greater x
			if f.a.Y < f.b.Y {
				w = -1
			}
			all += w
			if f.shape == e.shape {
				own += w
			}
		}
		want := 0 // on the side of lesser x
		if e.a.Y < e.b.Y {
			want = 1
		}
		if own != want || all != want {
			return fmt.Errorf("left of edge %v–%v the winding is %d, in its own shape %d, and not %d", e.a, e.b, all, own, want)
		}
	}
	return nil
}

// leftAt says whether f is to the left of e at height y + 1/2.
func leftAt(f, e checkEdge, y int64) bool {
	x := func(g checkEdge) float64 {
		return float64(g.a.X) + (float64(y-g.a.Y)+0.5)/float64(g.b.Y-g.a.Y)*float64(g.b.X-g.a.X)
	}
	if d := x(f) - x(e); math.Abs(d) > 0.01 {
		return d < 0
	}
	exact := func(g checkEdge) *big.Rat {
		r := big.NewRat(2*(y-g.a.Y)+1, 2*(g.b.Y-g.a.Y))
		r.Mul(r, big.NewRat(g.b.X-g.a.X, 1))
		return r.Add(r, big.NewRat(g.a.X, 1))
	}
	return exact(f).Cmp(exact(e)) < 0
}
