package geom

import (
	"math"
	"slices"
)

// A residue is a part of a shape that a round of some width cannot reach: see limbSearch.
type residue struct{ shape Shape }

// limb says whether the residue joins two parts, goes round a hole, or is a piece by itself.
func (r residue) limb() bool {
	touches := 0
	for i, c := range r.shape.Path() {
		n, own := touching(c)
		if i > 0 && own {
			return true
		}
		touches += n
	}
	return touches != 1
}

// touching is in how many places a contour lies along the regrown shapes, and whether any of it is the shape's own.
func touching(c Contour) (places int, own bool) {
	n := len(c.Segments)
	for i, s := range c.Segments {
		if s.Tag != grownEdge {
			own = true
		} else if c.Segments[(i+n-1)%n].Tag != grownEdge {
			places++
		}
	}
	if !own {
		places = 1
	}
	return places, own
}

// of is the number of the shape that the residue is a part of. It has some of that shape's outline, or would be covered.
func (r residue) of() int32 {
	for _, c := range r.shape.Path() {
		for _, s := range c.Segments {
			if s.Tag != grownEdge {
				return s.Tag
			}
		}
	}
	return 0
}

// depth is how far the residue reaches from the regrown shapes that it touches.
func (r residue) depth() float64 {
	var touched []Segment
	for _, c := range r.shape.Path() {
		for _, s := range c.Segments {
			if s.Tag == grownEdge {
				touched = append(touched, s)
			}
		}
	}
	depth := 0.0
	for _, s := range r.shape.Outer.Segments {
		nearest := math.Inf(1)
		for _, t := range touched {
			nearest = min(nearest, offSegment(toVec(s.P0), toVec(t.P0), toVec(t.P3)))
		}
		depth = max(depth, nearest)
	}
	return depth
}

// at is a point inside: the middle of the longest stretch of a level line at half the height.
func (r residue) at() Point {
	box := r.shape.Bounds()
	y := float64(box.Centre().Y) + 0.5 // between grid lines, so that no corner is on it
	var crossings []float64
	for _, c := range r.shape.Path() {
		for _, s := range c.Segments {
			a, b := toVec(s.P0), toVec(s.P3)
			if (a.y < y) != (b.y < y) {
				crossings = append(crossings, a.x+float64((b.x-a.x)*((y-a.y)/(b.y-a.y))))
			}
		}
	}
	slices.Sort(crossings)
	best, longest := box.Centre(), -1.0
	for i := 1; i < len(crossings); i += 2 {
		if l := crossings[i] - crossings[i-1]; l > longest {
			best, longest = vec{(crossings[i] + crossings[i-1]) / 2, y}.grid(), l
		}
	}
	return best
}
