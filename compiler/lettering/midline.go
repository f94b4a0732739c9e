package lettering

import (
	"math"
	"slices"

	"headcap/compiler/geom"
)

// How narrow places are found. At each place of an outline lies a largest disc that touches no other edge; its centre is
// on the middle line between the edges, and where it touches again tells how near the other side is (the medial axis of
// H. Blum, 1967). Along the outline, with a turn on the spot at corners, the disc changes steadily. Where its two places lie
// straight across from each other, the way between the edges is narrowest or keeps its width: a narrow place. From there
// the middle line is followed both ways for as long as the way widens. In a corner the disc shrinks to nothing, but its two
// places never lie straight across: a corner is not a narrow place.

// A disc lies against a wall and touches another, across from it: none, −1, where it is as large as was asked for.
type disc struct {
	centre   geom.Point
	radius   int64
	from, to int
	rings    [2]int  // of the two walls
	facing   float64 // cosine of the angle between the two places, seen from the centre
	round    float64 // the shorter way along the outline between the two; endless where it is not one outline
}

// A midline is the middle line through narrow places, as discs that touch the outline on both sides of it. An end is free
// where the way narrows beyond it, as in a tip, and not where it widens past what was asked for.
type midline struct {
	discs []disc
	free  [2]bool
}

// A wall is a straight piece of an outline; n points to the side that is looked at.
type wall struct {
	a, b geom.Point
	box  geom.Box
	n    direction
	ring int
	way  float64 // along the ring to a
}

const (
	// across is the greatest cosine at which two places count as straight across from each other, at 168°: a slit may
	// open by 12°. (A choice: the sharpest crotch of a capital in the bundled faces opens by 25°.)
	across = -0.978
	// turnStep is the cosine of the greatest turn on the spot between two discs, 10°.
	turnStep = 0.985
	// discsToCap is how many discs are looked at along an edge as long as the capitals are tall: at 5 mm caps the middle
	// line between an edge and a corner a quarter of a millimetre away is then found to a micrometre.
	discsToCap = 100
	// freeEnd is in how many radii of a disc an outline goes round a free end, at most: 3.2 at a round one, up to 4 at a
	// square one, and 6.3 round a bead no wider than its neck.
	freeEnd = 6
	// wallTolerance is how closely walls keep to curves.
	wallTolerance = geom.Micrometre
)

// wallsOf are the walls of the shapes, ring by ring, with the side without ink to look at, or the ink.
func wallsOf(shapes []geom.Shape, ink bool) []wall {
	var out []wall
	for ring, c := range geom.Paths(shapes) {
		if ink {
			c = c.Reverse()
		}
		points := geom.Points(c, wallTolerance)
		way := 0.0
		for i, a := range points {
			b := points[(i+1)%len(points)]
			t := toward(a, b)
			out = append(out, wall{a: a, b: b, box: boxOf(a, b), n: direction{t.y, -t.x}, ring: ring, way: way})
			way += geom.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
		}
	}
	return out
}

// discsAlong walks along every ring and gives its discs, up to a radius; cap is the height of the capitals.
func discsAlong(walls []wall, cap, most int64) [][]disc {
	var out [][]disc
	step := float64(cap) / discsToCap
	var near []int
	for from := 0; from < len(walls); {
		end := from + 1
		for end < len(walls) && walls[end].ring == walls[from].ring {
			end++
		}
		var discs []disc
		before := end - 1
		for i := from; i < end; i++ {
			w := &walls[i]
			near = within(walls, w.box.Inset(-2*most), near[:0])
			for _, n := range turn(walls[before].n, w.n) {
				discs = append(discs, against(walls, near, w.a, n, before, i, most))
			}
			n := int64(math.Ceil(geom.Hypot(float64(w.b.X-w.a.X), float64(w.b.Y-w.a.Y)) / step))
			for j := range n {
				p := geom.Point{
					X: w.a.X + roundDiv((w.b.X-w.a.X)*(2*j+1), 2*n),
					Y: w.a.Y + roundDiv((w.b.Y-w.a.Y)*(2*j+1), 2*n),
				}
				discs = append(discs, against(walls, near, p, w.n, i, i, most))
			}
			before = i
		}
		out = append(out, discs)
		from = end
	}
	return out
}

// within adds the walls that may reach into a box.
func within(walls []wall, room geom.Box, out []int) []int {
	for j := range walls {
		if b := &walls[j].box; b.Min.X <= room.Max.X && b.Max.X >= room.Min.X && b.Min.Y <= room.Max.Y && b.Max.Y >= room.Min.Y {
			out = append(out, j)
		}
	}
	return out
}

// turn are the directions from a to b, both among them, where the outline turns away from the side that is looked at.
func turn(a, b direction) []direction {
	if float64(a.x*b.y)-float64(a.y*b.x) < 0 || a.times(b) >= turnStep {
		return nil
	}
	out := []direction{a}
	var halve func(a, b direction)
	halve = func(a, b direction) {
		if a.times(b) >= turnStep {
			out = append(out, b)
			return
		}
		m := direction{a.x + b.x, a.y + b.y}
		if l := geom.Hypot(m.x, m.y); l > 1e-6 {
			m = direction{m.x / l, m.y / l}
		} else { // a point that comes straight back
			m = direction{-a.y, a.x}
		}
		halve(a, m)
		halve(m, b)
	}
	halve(a, b)
	return out
}

func (a direction) times(b direction) float64 { return float64(a.x*b.x) + float64(a.y*b.y) }

// against is the largest disc, up to a radius, that lies against the outline at p with its centre in the direction n. The
// walls before and from are those that p is on.
func against(walls []wall, near []int, p geom.Point, n direction, before, from int, most int64) disc {
	radius, to, at := float64(most), -1, direction{}
	px, py := float64(p.X), float64(p.Y)
	for _, i := range near {
		if i == before || i == from {
			continue
		}
		w := &walls[i]
		a := direction{float64(w.a.X) - px, float64(w.a.Y) - py}
		b := direction{float64(w.b.X) - px, float64(w.b.Y) - py}
		da, db := n.times(a), n.times(b)
		if da <= 0 && db <= 0 || da >= 2*radius && db >= 2*radius {
			continue // behind p, or beyond the disc
		}
		// A straight wall is touched where it faces, at the radius at which the centre is as far from it as from p.
		if away, c := -w.n.times(a), w.n.times(n); away > 0 && c < 1 && away/(1-c) < radius {
			r := away / (1 - c)
			q := direction{float64(r * (n.x - w.n.x)), float64(r * (n.y - w.n.y))}
			d := direction{b.x - a.x, b.y - a.y}
			if t := d.times(direction{q.x - a.x, q.y - a.y}); t >= 0 && t <= d.times(d) {
				radius, to, at = r, i, q
			}
		}
		if r := a.times(a) / (2 * da); da > 0 && r < radius {
			radius, to, at = r, i, a
		}
		if r := b.times(b) / (2 * db); db > 0 && r < radius {
			radius, to, at = r, i, b
		}
	}
	c := direction{float64(radius * n.x), float64(radius * n.y)}
	out := disc{
		centre: geom.Point{X: p.X + int64(math.Round(c.x)), Y: p.Y + int64(math.Round(c.y))},
		radius: int64(math.Round(radius)),
		from:   from, to: to, facing: 1, round: math.Inf(1),
	}
	if to < 0 || radius == 0 {
		return out
	}
	out.facing = -n.times(direction{at.x - c.x, at.y - c.y}) / radius
	w, v := &walls[from], &walls[to]
	out.rings = [2]int{w.ring, v.ring}
	if w.ring == v.ring {
		here := w.way + geom.Hypot(px-float64(w.a.X), py-float64(w.a.Y))
		there := v.way + geom.Hypot(at.x+px-float64(v.a.X), at.y+py-float64(v.a.Y))
		out.round = math.Abs(here - there)
	}
	return out
}

// inTip says whether the outline goes round the end of a limb from one place that the disc touches to the other.
func (d disc) inTip() bool { return d.round < float64(freeEnd*float64(d.radius)) }

// midlines are the middle lines through the narrow places along a ring. Each is seen from both its sides, and kept from
// one of them.
func midlines(discs []disc) []midline {
	n := len(discs)
	narrow := make([]bool, n)
	for _, step := range [2]int{1, n - 1} {
		on := false
		for k, i := 0, 0; k < 2*n; k++ {
			before := i
			i = (i + step) % n
			d := &discs[i]
			on = d.to >= 0 && (d.facing <= across || on && d.radius >= discs[before].radius)
			narrow[i] = narrow[i] || on
		}
	}
	kept := func(i int) bool { return narrow[i] && discs[i].from < discs[i].to }
	first := max(slices.IndexFunc(discs, func(d disc) bool { return d.to < 0 }), 0)
	var out []midline
	for k := 0; k < n; {
		m := midline{}
		for ; k < n && kept((first+k)%n); k++ {
			m.discs = append(m.discs, discs[(first+k)%n])
		}
		if len(m.discs) == 0 {
			k++
			continue
		}
		m.free = [2]bool{m.discs[0].inTip(), m.discs[len(m.discs)-1].inTip()}
		out = append(out, m)
	}
	return out
}
