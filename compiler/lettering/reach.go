package lettering

import (
	"cmp"
	"math"
	"slices"

	"headcap/compiler/geom"
)

// The four sides of an outline.
const (
	leftSide = iota
	rightSide
	topSide
	bottomSide
)

// million is one, for shares that are kept in whole millionths.
const million = 1_000_000

// A reach is one place of an outline that may lie outermost: out is how far it lies out to its side (64ths of a font
// unit, from the origin), and a growth by g moves it out by grows·g (millionths). A side of a stem moves by g, the
// mitred corner of two slanting edges by more.
type reach struct{ out, grows int64 }

// mitreLimit is how far a grown corner may run out, as SVG 2, 13.5.5, counts it: a corner of up to 60° keeps its point
// and anything sharper is cut off. Serifs, near 90°, stay crisp; the point of a W does not grow into a thorn. (A choice,
// looked at with both bundled faces.)
const mitreLimit = 2.0

// mostGrowth is the greatest growth as a divisor of the nominal cap height: beyond a quarter of it on each side the
// counters of every letter are closed.
const mostGrowth = 4

// reaches finds, for each side, the places that can lie outermost at some growth.
func reaches(path geom.Path, box geom.Box, sense float64) [4][]reach {
	// The outermost point of all moves by at least the growth itself, whatever the corner there.
	out := [4][]reach{
		leftSide:   {{-box.Min.X, million}},
		rightSide:  {{box.Max.X, million}},
		topSide:    {{-box.Min.Y, million}},
		bottomSide: {{box.Max.Y, million}},
	}
	for _, c := range path {
		for i, s := range c.Segments {
			before := c.Segments[(i+len(c.Segments)-1)%len(c.Segments)]
			for _, v := range cornerGrowth(endDirection(before), startDirection(s), sense) {
				p := s.P0
				for side, r := range [4]reach{
					leftSide:   {-p.X, ceilMillionths(-v.x)},
					rightSide:  {p.X, ceilMillionths(v.x)},
					topSide:    {-p.Y, ceilMillionths(-v.y)},
					bottomSide: {p.Y, ceilMillionths(v.y)},
				} {
					if r.grows > million+100 {
						out[side] = append(out[side], r)
					}
				}
			}
		}
	}
	for side := range out {
		out[side] = outermost(out[side])
	}
	return out
}

// outermost leaves of the reaches those that no other beats at every growth up to the most.
func outermost(all []reach) []reach {
	// The furthest out first; what lies further in must at least grow faster than all before it.
	slices.SortFunc(all, func(a, b reach) int { return cmp.Or(cmp.Compare(b.out, a.out), cmp.Compare(b.grows, a.grows)) })
	kept := all[:1]
	for _, r := range all[1:] {
		if r.grows > kept[len(kept)-1].grows {
			kept = append(kept, r)
		}
	}
	return slices.Clone(kept)
}

type direction struct{ x, y float64 }

func ceilMillionths(v float64) int64 { return int64(math.Ceil(float64(v * million))) }

// windingSense is 1 where outer contours run as geom has them and −1 where they run the other way. Fonts of the two kinds
// differ; the outer contours weigh more than the holes.
func windingSense(path geom.Path) float64 {
	area := 0.0
	for _, c := range path {
		area += geom.SignedArea(c)
	}
	if area < 0 {
		return -1
	}
	return 1
}

// cornerGrowth is how a corner between two directions of travel moves when the outline grows by one. A corner sharper
// than the mitre limit is cut off and moves in two ways, and so does one that turns inwards, where the two grown edges
// cross.
func cornerGrowth(in, out direction, sense float64) []direction {
	turn := float64(sense * (float64(in.x*out.y) - float64(in.y*out.x)))
	// With the interior on the right of travel as x turns towards y, the outward normal of (x, y) is (y, −x).
	n := direction{float64(sense * in.y), float64(-sense * in.x)}
	m := direction{float64(sense * out.y), float64(-sense * out.x)}
	c := float64(n.x*m.x) + float64(n.y*m.y)
	sharp := 2 > float64(mitreLimit*mitreLimit)*(1+c) // the mitre is √(2/(1+c)) long
	if sharp || turn < 0 && c < 0.99 {
		return []direction{n, m}
	}
	return []direction{{(n.x + m.x) / (1 + c), (n.y + m.y) / (1 + c)}}
}

func startDirection(s geom.Segment) direction {
	if !s.Line {
		for _, p := range [...]geom.Point{s.P1, s.P2} {
			if p != s.P0 {
				return toward(s.P0, p)
			}
		}
	}
	return toward(s.P0, s.P3)
}

func endDirection(s geom.Segment) direction {
	if !s.Line {
		for _, p := range [...]geom.Point{s.P2, s.P1} {
			if p != s.P3 {
				return toward(p, s.P3)
			}
		}
	}
	return toward(s.P0, s.P3)
}

func toward(a, b geom.Point) direction {
	x, y := float64(b.X-a.X), float64(b.Y-a.Y)
	l := geom.Hypot(x, y)
	if l == 0 {
		return direction{}
	}
	return direction{x / l, y / l}
}
