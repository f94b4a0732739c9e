package lettering

import (
	"math"

	"headcap/compiler/geom"
)

// edgeTolerance is how closely the polylines keep to the curves between which gaps are measured, in 64ths of a font unit:
// a micrometre at 5 mm caps.
const edgeTolerance = 8

// GapAt is the least gap between two letters of the finished line in nanometres, to about a micrometre: 0 where letters
// touch or, once grown, run together. A line of one letter has none, and so have letters of a joined script that are
// joined: for those ok is false. Gaps inside a letter are not looked at, and every letter counts as grown all round.
func (p *Proportions) GapAt(cap int64) (gap int64, ok bool) {
	letters := p.letters(cap)
	best := math.Inf(1)
	for i, a := range letters {
		for _, b := range letters[i+1:] {
			if boxGap(a.box, b.box) >= best {
				continue
			}
			if d := a.gap(b, 0, best); d > 0 || !a.joins || !b.joins {
				best = min(best, d)
			}
		}
	}
	if math.IsInf(best, 1) {
		return 0, false
	}
	return int64(math.Floor(best)), true
}

// open moves letters apart until, at a finished cap height, every gap to one of the two letters before is wide enough.
// Above that height gaps only widen: the drawn letter grows, and what it is thickened by shrinks.
func (p *Proportions) open(gap, cap int64) {
	num, den := p.ratio(cap)
	den *= p.cap
	letters := p.letters(cap)
	moved := make([]int64, len(letters)) // in the grid of the font
	for i := 1; i < len(letters); i++ {
		moved[i] = moved[i-1]
		letters[i] = letters[i].moved(mulDiv(moved[i], num, den))
		if letters[i].joins && letters[i-1].joins {
			continue
		}
		by := int64(0)
		for _, before := range letters[max(0, i-2):i] {
			by = max(by, before.push(letters[i], gap))
		}
		if by > 0 {
			moved[i] += mulDiv(by, den, num) + 1
			letters[i] = letters[i].moved(by)
		}
	}
	at := -1
	for i := range p.line.glyphs {
		g := &p.line.glyphs[i]
		if i == 0 || g.letter != p.line.glyphs[i-1].letter {
			at++
		}
		g.x += moved[at]
	}
}

// letters are the outlines of the finished line's letters, from left to right, with their accents.
func (p *Proportions) letters(cap int64) []letterEdges {
	num, den := p.ratio(cap)
	den *= p.cap
	grown := float64(p.Grown(cap))
	var out []letterEdges
	for i, g := range p.line.glyphs {
		dx := mulDiv(g.x, num, den) + mulDiv(p.spaced*g.gaps, cap, 1000)
		dy := mulDiv(g.y, num, den)
		edges := g.g.edges(grown, func(q geom.Point) geom.Point {
			return geom.Point{X: mulDiv(q.X, num, den) + dx, Y: mulDiv(q.Y, num, den) + dy}
		})
		edges.joins = g.joins
		if i > 0 && g.letter == p.line.glyphs[i-1].letter {
			last := &out[len(out)-1]
			*last = letterEdges{append(last.rings, edges.rings...), last.box.Union(edges.box), g.joins}
			continue
		}
		out = append(out, edges)
	}
	return out
}

// push is how far b must go to the right to be at least want away from a: the least such move, as long as the gap widens
// all the way.
func (a letterEdges) push(b letterEdges, want int64) int64 {
	apart := func(by int64) bool {
		return boxGap(a.box, moved(b.box, by)) >= float64(want) || a.gap(b, by, float64(want)) >= float64(want)
	}
	if apart(0) {
		return 0
	}
	under, enough := int64(0), want+a.box.Max.X-b.box.Min.X // there even the boxes are that far apart
	for enough-under > 1 {
		if middle := under + (enough-under)/2; apart(middle) {
			enough = middle
		} else {
			under = middle
		}
	}
	return enough
}

// letterEdges are the outlines of a letter as closed polylines.
type letterEdges struct {
	rings [][]geom.Point
	box   geom.Box
	joins bool
}

// moved is the letter further right.
func (a letterEdges) moved(by int64) letterEdges {
	out := letterEdges{rings: make([][]geom.Point, len(a.rings)), box: moved(a.box, by), joins: a.joins}
	for i, ring := range a.rings {
		out.rings[i] = make([]geom.Point, len(ring))
		for j, q := range ring {
			out.rings[i][j] = geom.Point{X: q.X + by, Y: q.Y}
		}
	}
	return out
}

func moved(b geom.Box, by int64) geom.Box {
	b.Min.X += by
	b.Max.X += by
	return b
}

// A corner of a glyph's outline as a polyline moves by grows when the glyph is grown by one.
type corner struct {
	at    geom.Point
	grows direction
}

// corners are the corners of an outline's rings. One that moves in two ways is there twice.
func corners(path geom.Path, sense float64) [][]corner {
	var out [][]corner
	for _, c := range path {
		ring := geom.Points(c, edgeTolerance)
		if len(ring) < 3 {
			continue
		}
		var all []corner
		in := toward(ring[len(ring)-1], ring[0])
		for i, p := range ring {
			next := toward(p, ring[(i+1)%len(ring)])
			for _, v := range cornerGrowth(in, next, sense) {
				all = append(all, corner{p, v})
			}
			in = next
		}
		out = append(out, all)
	}
	return out
}

// edges are the glyph's outlines as polylines, every point placed and the whole grown. In hollows the grown polyline runs
// over itself, but never outside the grown letter.
func (g *glyph) edges(grown float64, place func(geom.Point) geom.Point) letterEdges {
	out := letterEdges{box: geom.EmptyBox(), rings: make([][]geom.Point, 0, len(g.corners))}
	for _, corners := range g.corners {
		ring := make([]geom.Point, len(corners))
		for i, c := range corners {
			p := place(c.at)
			ring[i] = geom.Point{
				X: p.X + int64(math.Round(float64(c.grows.x*grown))),
				Y: p.Y + int64(math.Round(float64(c.grows.y*grown))),
			}
			out.box = out.box.Union(geom.Box{Min: ring[i], Max: ring[i]})
		}
		out.rings = append(out.rings, ring)
	}
	return out
}

// gap is the distance between a letter and another that is moved to the right, if it is below limit, and else limit.
func (a letterEdges) gap(b letterEdges, by int64, limit float64) float64 {
	box := moved(b.box, by)
	for _, ring := range a.rings {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			edge := boxOf(p, q)
			if boxGap(edge, box) >= limit {
				continue
			}
			// b stays, and the edge moves to the left.
			p, q, edge := geom.Point{X: p.X - by, Y: p.Y}, geom.Point{X: q.X - by, Y: q.Y}, moved(edge, -by)
			for _, other := range b.rings {
				for j, r := range other {
					s := other[(j+1)%len(other)]
					if boxGap(edge, boxOf(r, s)) < limit {
						limit = min(limit, edgeGap(p, q, r, s))
					}
				}
			}
		}
	}
	return limit
}

func boxOf(p, q geom.Point) geom.Box {
	return geom.Box{
		Min: geom.Point{X: min(p.X, q.X), Y: min(p.Y, q.Y)},
		Max: geom.Point{X: max(p.X, q.X), Y: max(p.Y, q.Y)},
	}
}

// boxGap is a lower bound of the distance between what lies in two boxes.
func boxGap(a, b geom.Box) float64 {
	return float64(max(b.Min.X-a.Max.X, a.Min.X-b.Max.X, b.Min.Y-a.Max.Y, a.Min.Y-b.Max.Y, 0))
}

// edgeGap is the distance between the segments pq and rs, 0 where they cross.
func edgeGap(p, q, r, s geom.Point) float64 {
	if side(p, q, r)*side(p, q, s) < 0 && side(r, s, p)*side(r, s, q) < 0 {
		return 0
	}
	return min(pointGap(p, r, s), pointGap(q, r, s), pointGap(r, p, q), pointGap(s, p, q))
}

// side is −1, 0 or 1 as c lies to one side of the line ab, on it, or to the other. Edges are compared only where they
// are near each other and no letter is a metre tall, so that the products fit.
func side(a, b, c geom.Point) int {
	x, y := (b.X-a.X)*(c.Y-a.Y), (b.Y-a.Y)*(c.X-a.X)
	switch {
	case x > y:
		return 1
	case x < y:
		return -1
	}
	return 0
}

// pointGap is the distance of p from the segment ab.
func pointGap(p, a, b geom.Point) float64 {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	px, py := float64(p.X-a.X), float64(p.Y-a.Y)
	square := float64(dx*dx) + float64(dy*dy)
	if square > 0 {
		t := min(max((float64(px*dx)+float64(py*dy))/square, 0), 1)
		px -= float64(t * dx)
		py -= float64(t * dy)
	}
	return geom.Hypot(px, py)
}
