package lettering

import (
	"slices"

	"headcap/compiler/geom"
)

// A growth is by how much a glyph is grown all round, and what is kept of its narrow places. An opening stays as wide as
// open, or as drawn where that is narrower: the edges on both sides grow less there. But limbs become as wide as limb all
// the same: where there is no room for both, the opening is narrower than that.
type growth struct {
	by, open, limb int64
	join           geom.Join
}

// grow grows a drawn glyph; cap is the height of the capitals, as drawn.
//
// Bundled faces thickened to half a millimetre have room for limbs and for openings of a quarter of one in capitals and
// figures from caps of 3.5 mm on, in & and small letters from 4.5 mm, and between a capital and its accents from 6 mm.
func (g growth) grow(drawn []geom.Shape, cap int64) ([]geom.Shape, error) {
	grown, err := geom.Offset(drawn, g.by, g.join, mitreLimit, curveTolerance)
	if err != nil {
		return nil, err
	}
	throats, counters := g.narrows(drawn, grown, cap)
	if len(throats)+len(counters) == 0 {
		return grown, nil
	}
	limbs := g.limbs(drawn, cap)
	open, err := g.channels(throats, limbs)
	if err != nil {
		return nil, err
	}
	solid := drawn
	for _, c := range counters {
		kept, err := g.keptOf(c, limbs)
		if err != nil {
			return nil, err
		}
		if kept == nil {
			solid = append(slices.Clip(solid), c.shape)
		}
		open = append(open, kept...)
	}
	out, err := geom.Boolean(geom.Without, operand(grown), operand(open), curveTolerance)
	if err != nil {
		return nil, err
	}
	if out, err = geom.Boolean(geom.Union, operand(out), operand(solid), curveTolerance); err != nil {
		return nil, err
	}
	return withInk(out, drawn)
}

func operand(shapes []geom.Shape) geom.Operand { return geom.Operand{Path: geom.Paths(shapes)} }

// withInk leaves out pieces that hold nothing of what was drawn: the end of a mitre, say, that a channel has cut off.
func withInk(shapes, drawn []geom.Shape) ([]geom.Shape, error) {
	if len(shapes) <= len(drawn) {
		return shapes, nil
	}
	var out []geom.Shape
	for _, s := range shapes {
		ink, err := geom.Boolean(geom.Intersection, operand([]geom.Shape{s}), operand(drawn), curveTolerance)
		if err != nil {
			return nil, err
		}
		if len(ink) > 0 {
			out = append(out, s)
		}
	}
	return out, nil
}

// A counter is a hole of a glyph: which of its rings it is, the hole as a shape, and the radius of its largest disc.
type counter struct {
	ring   int
	shape  geom.Shape
	radius int64
}

// narrows are the places that growing would leave narrower than open: ways between edges, and counters that are narrow all
// over.
func (g growth) narrows(drawn, grown []geom.Shape, cap int64) (throats []midline, counters []counter) {
	// A mitre comes further out than the sides do. So a way is followed until it is wide enough even for two of those.
	narrow, reach := g.open/2+g.by, g.open/2+int64(mitreLimit)*g.by
	rings := discsAlong(wallsOf(drawn, false), cap, reach)
	edges := wallsOf(grown, false)
	closes := func(d disc) bool { return d.radius < narrow || g.nears(d.centre, edges) }
	ring := 0
	for _, s := range drawn {
		for i := range 1 + len(s.Holes) {
			discs := rings[ring]
			if i > 0 {
				if widest := widest(discs); widest < narrow {
					counters = append(counters, counter{ring, geom.Shape{Outer: s.Holes[i-1].Reverse()}, widest})
					discs = nil
				}
			}
			for _, m := range midlines(discs) {
				if slices.ContainsFunc(m.discs, closes) {
					throats = append(throats, m)
				}
			}
			ring++
		}
	}
	return throats, counters
}

// nears says whether the grown outline comes nearer to the middle of an opening than it may, as a mitre may do.
func (g growth) nears(p geom.Point, edges []wall) bool {
	at := geom.Box{Min: p, Max: p}
	return slices.ContainsFunc(edges, func(e wall) bool {
		return boxGap(at, e.box) < float64(g.open)/2 && pointGap(p, e.a, e.b) < float64(g.open)/2
	})
}

func widest(discs []disc) int64 {
	r := int64(0)
	for _, d := range discs {
		r = max(r, d.radius)
	}
	return r
}

// limbs are the middle lines of limbs that are drawn thinner than they are to become.
func (g growth) limbs(drawn []geom.Shape, cap int64) []midline {
	if g.limb == 0 {
		return nil
	}
	var out []midline
	for _, discs := range discsAlong(wallsOf(drawn, true), cap, g.limb/2) {
		out = append(out, midlines(discs)...)
	}
	return out
}

// channels are bands as wide as open along the middle of every throat, but where limbs need the room.
func (g growth) channels(throats, limbs []midline) ([]geom.Shape, error) {
	out, err := bands(throats, g.open)
	cores := g.cores(limbs, throats)
	if err != nil || len(cores) == 0 {
		return out, err
	}
	solid, err := bands(cores, g.limb)
	if err != nil {
		return nil, err
	}
	return geom.Boolean(geom.Without, operand(out), operand(solid), curveTolerance)
}

// keptOf is what of a counter stays open: its middle, all round as far from its edge as leaves it wide enough, or as the
// limbs round it need. It is nothing where that would be less than half as wide as it should: such a pinhole is filled.
func (g growth) keptOf(c counter, limbs []midline) ([]geom.Shape, error) {
	wanted := min(c.radius, g.open/2)
	by := c.radius - wanted
	for _, m := range limbs {
		for _, d := range m.discs {
			if d.rings[0] == c.ring || d.rings[1] == c.ring {
				by = max(by, g.limb/2-d.radius)
			}
		}
	}
	by = min(by, g.by)
	switch {
	case c.radius-by < wanted/2:
		return nil, nil
	case by == 0:
		return []geom.Shape{c.shape}, nil
	}
	return geom.Offset([]geom.Shape{c.shape}, -by, geom.Mitre, mitreLimit, curveTolerance)
}

// cores are the stretches of limbs that a channel would make too thin, and as far to both sides as half of a limb. A tip
// may be trimmed as far as a limb is wide; a limb that ends freely on both sides is a piece of its own, without tips to
// spare.
func (g growth) cores(limbs, throats []midline) []midline {
	var out []midline
	for _, m := range limbs {
		n := len(m.discs)
		thinned := make([]bool, n)
		for i, d := range m.discs {
			thinned[i] = slices.ContainsFunc(throats, func(t midline) bool {
				return slices.ContainsFunc(t.discs, func(c disc) bool { return apart(c, d) < float64(g.limb+g.open)/2 })
			})
		}
		for i := 0; i < n; i++ {
			if !thinned[i] {
				continue
			}
			from := i
			for i+1 < n && thinned[i+1] {
				i++
			}
			to := i
			switch atFirst, atLast := from == 0 && m.free[0], to == n-1 && m.free[1]; {
			case atFirst && !atLast:
				from = m.along(from, 1, g.limb)
			case atLast && !atFirst:
				to = m.along(to, -1, g.limb)
			}
			if from <= to {
				out = append(out, midline{discs: m.discs[m.along(from, -1, g.limb/2) : m.along(to, 1, g.limb/2)+1]})
			}
		}
	}
	return out
}

func apart(a, b disc) float64 {
	return geom.Hypot(float64(a.centre.X-b.centre.X), float64(a.centre.Y-b.centre.Y))
}

// along is the place a way further along the line in steps of 1 or −1, or its end.
func (m midline) along(i, step int, way int64) int {
	left := float64(way)
	for i+step >= 0 && i+step < len(m.discs) {
		if left -= apart(m.discs[i], m.discs[i+step]); left < 0 {
			break
		}
		i += step
	}
	return i
}

// bandCorner is how sharply, in degrees, a middle line has to turn to have a corner there. (A choice: it turns less where
// it is a curve, and by more only where an opening forks.)
const bandCorner = 60

// bands are bands of a width along middle lines.
func bands(lines []midline, width int64) ([]geom.Shape, error) {
	path := make(geom.Path, len(lines))
	for i, m := range lines {
		points := make([]geom.Point, len(m.discs))
		for j, d := range m.discs {
			points[j] = d.centre
		}
		path[i] = geom.Fit(points, false, curveTolerance, bandCorner)
	}
	return geom.Stroke(path, geom.Pen{Width: width, Cap: geom.RoundCap, Join: geom.RoundJoin}, curveTolerance)
}
