package preview

import (
	"math"
	"sync"

	"headcap/compiler/geom"
)

// The skin of the leather: pebbles with creases between them, in one seeded tile that is used twice, at angles and sizes
// that don't agree, so that no repeat can be seen; and a cloud of lighter and darker places. They are outlines, so that
// a picture needs neither filter nor bitmap for them.
const (
	grainTile    = 12.0 // mm, both ways
	grainAcross  = 13   // pebbles, both ways
	grainPitch   = grainTile / grainAcross
	grainSeed    = 1897
	cloudWide    = 110.0
	cloudTall    = 90.0
	cloudSeed    = 77
	cloudPatches = 9
)

// A spot is a place in a tile, in millimetres.
type spot struct{ x, y float64 }

// skin is the tile of pebbles.
var skin = sync.OnceValue(func() *Tile {
	creases := &Outline{Path: pebbles()}
	return &Tile{
		Width: mm(grainTile), Height: mm(grainTile),
		Items: []Item{
			Stroke{creases, mm(0.13), Solid{black, 0.50}},
			// The lip of each pebble that the light catches.
			Group{Move: geom.Point{X: mm(-0.06), Y: mm(-0.07)}, Items: []Item{Stroke{creases, mm(0.09), Solid{white, 0.11}}}},
		},
	}
})

// pebbles are the outlines of the tile: a Voronoi cell round each of a lattice of shifted points, on the torus, drawn
// in towards its middle and rounded at its corners. Cells at the rim are repeated on the other side.
func pebbles() geom.Path {
	r := shuffle(grainSeed)
	var points []spot
	for j := range grainAcross {
		for i := range grainAcross {
			x := float64(i) + float64(0.5*float64(j%2)) + r.between(-0.34, 0.34)
			y := float64(j) + r.between(-0.34, 0.34)
			points = append(points, spot{float64(x * grainPitch), float64(y * grainPitch)})
		}
	}
	var p pencil
	for _, at := range points {
		cell := shrunk(cellRound(at, points), r.between(0.80, 0.93))
		for _, dx := range []float64{-grainTile, 0, grainTile} {
			for _, dy := range []float64{-grainTile, 0, grainTile} {
				p.pebble(moved(cell, at.x+dx, at.y+dy))
			}
		}
	}
	return p.path
}

// cellRound is what lies nearer to one point than to any other, seen from that point.
func cellRound(at spot, points []spot) []spot {
	const far = 2 * grainPitch
	cell := []spot{{-far, -far}, {far, -far}, {far, far}, {-far, far}}
	for _, q := range points {
		dx, dy := roundTile(q.x-at.x), roundTile(q.y-at.y)
		d2 := float64(dx*dx) + float64(dy*dy)
		if d2 < 1e-9 || d2 > 9*grainPitch*grainPitch {
			continue
		}
		beyond := func(s spot) float64 { return float64(s.x*dx) + float64(s.y*dy) - d2/2 }
		var kept []spot
		for i, a := range cell {
			b := cell[(i+1)%len(cell)]
			fa, fb := beyond(a), beyond(b)
			if fa <= 0 {
				kept = append(kept, a)
			}
			if (fa < 0 && fb > 0) || (fa > 0 && fb < 0) {
				k := fa / (fa - fb)
				kept = append(kept, spot{a.x + float64((b.x-a.x)*k), a.y + float64((b.y-a.y)*k)})
			}
		}
		cell = kept
	}
	return cell
}

// roundTile is the shorter way to something, round the torus.
func roundTile(d float64) float64 {
	for d > grainTile/2 {
		d -= grainTile
	}
	for d < -grainTile/2 {
		d += grainTile
	}
	return d
}

func shrunk(cell []spot, k float64) []spot {
	var c spot
	for _, s := range cell {
		c.x += s.x
		c.y += s.y
	}
	c.x /= float64(len(cell))
	c.y /= float64(len(cell))
	out := make([]spot, len(cell))
	for i, s := range cell {
		out[i] = spot{c.x + float64((s.x-c.x)*k), c.y + float64((s.y-c.y)*k)}
	}
	return out
}

func moved(cell []spot, dx, dy float64) []spot {
	out := make([]spot, len(cell))
	for i, s := range cell {
		out[i] = spot{s.x + dx, s.y + dy}
	}
	return out
}

// pebble draws a cell through the middles of its sides, so that it has no corners, unless it lies off the tile.
func (p *pencil) pebble(cell []spot) {
	const rim = 0.15
	lo, hi := cell[0], cell[0]
	for _, s := range cell {
		lo = spot{min(lo.x, s.x), min(lo.y, s.y)}
		hi = spot{max(hi.x, s.x), max(hi.y, s.y)}
	}
	if hi.x < -rim || hi.y < -rim || lo.x > grainTile+rim || lo.y > grainTile+rim {
		return
	}
	middle := func(i int) (int64, int64) {
		a, b := cell[i%len(cell)], cell[(i+1)%len(cell)]
		return mm((a.x + b.x) / 2), mm((a.y + b.y) / 2)
	}
	p.move(middle(len(cell) - 1))
	for i, s := range cell {
		x, y := middle(i)
		p.quad(mm(s.x), mm(s.y), x, y)
	}
	p.close()
}

// cloud is the tile of lighter and darker places. They keep off its rim, so that it closes.
var cloud = sync.OnceValue(func() *Tile {
	t := &Tile{Width: mm(cloudWide), Height: mm(cloudTall)}
	r := shuffle(cloudSeed)
	for i := range cloudPatches {
		rx, ry := r.between(14, 24), r.between(10, 20)
		at := geom.Point{X: mm(r.between(rx, cloudWide-rx)), Y: mm(r.between(ry, cloudTall-ry))}
		tone, opacity := white, 0.018
		if i%2 == 1 {
			tone, opacity = black, 0.065
		}
		g := &Radial{at, mm(rx), mm(ry), []Stop{
			// A bell: straight from the middle to the rim, the eye finds both.
			{0, tone, opacity},
			{0.25, tone, float64(0.86 * opacity)},
			{0.5, tone, float64(0.5 * opacity)},
			{0.75, tone, float64(0.14 * opacity)},
			{1, tone, 0},
		}}
		t.Items = append(t.Items, Fill{&Outline{geom.Path{geom.Ellipse(at, g.RX, g.RY)}}, g})
	}
	return t
})

// turned is a tile's place in the picture: scaled, then turned by an angle in degrees.
func turned(deg, sx, sy float64) geom.Transform {
	sin, cos := geom.SinCos(deg)
	return geom.Transform{A: float64(cos * sx), B: float64(sin * sx), C: float64(-sin * sy), D: float64(cos * sy)}
}

func coarseGrain() geom.Transform { return turned(37, 1.27, 1.40) }
func fineGrain() geom.Transform   { return turned(-18, 0.82, 0.92) }

// narrowed is a place in the picture seen through a change of x only: x becomes origin + k·x.
func narrowed(t geom.Transform, origin int64, k float64) geom.Transform {
	t.A, t.C = float64(t.A*k), float64(t.C*k)
	t.E = origin + nearest(float64(float64(t.E)*k))
	return t
}

// bare is leather before any light falls on it: its colour, its clouds and its two grains.
func bare(leather Colour, o *Outline) []Item {
	coarse, fine := grainDepth(leather)
	return []Item{
		Fill{o, Solid{leather, 1}},
		Fill{o, clouds()},
		Group{Grain: true, Items: []Item{
			Fill{o, &Pattern{skin(), coarseGrain(), coarse}},
			Fill{o, &Pattern{skin(), fineGrain(), fine}},
		}},
	}
}

// drawnOver is bare leather on a back, its grain seen narrower towards the sides. A thin or flat back turns away too
// little for that to be seen.
func drawnOver(b Book, o *Outline) []Item {
	w, h := b.Spine.Width, b.Spine.Height
	half := halfAngle(w, b.Round)
	if half < 30 {
		return bare(b.Leather, o)
	}
	coarse, fine := grainDepth(b.Leather)
	sine, _ := geom.SinCos(half)
	// The length of the arc over the back, in widths of it as seen.
	arc := float64(half*math.Pi) / float64(180*sine)
	// along is the part of the arc that lies left of a place.
	along := func(u float64) float64 {
		turn := 90 - geom.ArcCosDeg(float64((float64(2*u)-1)*sine))
		return float64((turn/half + 1) * 0.5)
	}
	var grain []Item
	edges := []float64{0, 0.10, 0.28, 0.72, 0.90, 1}
	for i, u := range edges[:len(edges)-1] {
		next := edges[i+1]
		x, right := share(0, w, u), share(0, w, next)
		// In this strip x = x0 + (s − s0)·k, where s runs along the arc: where two strips meet, both show the same place.
		k := (next - u) / float64((along(next)-along(u))*arc)
		origin := x - nearest(float64(float64(float64(along(u)*arc)*float64(w))*k))
		if i == 0 {
			x -= mm(2)
		}
		if next == 1 {
			right += mm(2)
		}
		strip := rectangle(x, mm(-1), right-x, h+mm(2))
		grain = append(grain,
			Fill{strip, &Pattern{skin(), narrowed(coarseGrain(), origin, k), coarse}},
			Fill{strip, &Pattern{skin(), narrowed(fineGrain(), origin, k), fine}})
	}
	return []Item{
		Fill{o, Solid{b.Leather, 1}},
		Fill{o, clouds()},
		Group{Grain: true, Items: grain},
	}
}

func clouds() *Pattern { return &Pattern{cloud(), turned(11, 1, 1), 1} }

// grainDepth is how strongly the two grains are drawn. Their creases are black, which a light leather shows more than a
// dark one does.
func grainDepth(leather Colour) (coarse, fine float64) {
	dark := 1 - leather.oklab().L
	return 0.10 + float64(0.55*dark), 0.18 + float64(0.71*dark)
}
