package png

import (
	"fmt"
	"math"

	"headcap/compiler/emit/preview"
	"headcap/compiler/geom"
)

// A source gives the pixels of a paint along row y from x on, as many as there are weights. Where the whole row is one
// colour it gives that instead; where a weight is 0 it need not say anything.
type source interface {
	row(y, x int, weights []uint32, scratch []pixel) (one pixel, each []pixel)
}

// source makes a paint ready to be read in the pixels of the grid.
func (p *painter) source(paint preview.Paint, move geom.Point) (source, error) {
	switch paint := paint.(type) {
	case preview.Solid:
		return plain(pixelOf(paint.Colour, paint.Opacity)), nil
	case *preview.Linear:
		return p.linear(paint, move), nil
	case *preview.Radial:
		return p.radial(paint, move), nil
	case *preview.Pattern:
		return p.pattern(paint, move)
	}
	return nil, fmt.Errorf("png: cannot draw a paint of %T", paint)
}

type plain pixel

func (s plain) row(int, int, []uint32, []pixel) (pixel, []pixel) { return pixel(s), nil }

// rampSteps is how finely a gradient is tabulated.
const rampSteps = 1024

// ramp tabulates a gradient. Between two stops colour and opacity go by themselves, as SVG has it.
func ramp(stops []preview.Stop) []pixel {
	out := make([]pixel, rampSteps+1)
	if len(stops) == 0 {
		return out
	}
	k := 0
	for i := range out {
		t := float64(i) / rampSteps
		for k < len(stops) && stops[k].At <= t {
			k++
		}
		switch k {
		case 0:
			out[i] = pixelOf(stops[0].Colour, stops[0].Opacity)
		case len(stops):
			out[i] = pixelOf(stops[k-1].Colour, stops[k-1].Opacity)
		default:
			a, b := stops[k-1], stops[k]
			out[i] = between(a, b, (t-a.At)/(b.At-a.At))
		}
	}
	return out
}

func between(a, b preview.Stop, t float64) pixel {
	mix := func(x, y float64) float64 { return float64(x*(1-t)) + float64(y*t) }
	alpha := mix(a.Opacity, b.Opacity)
	of := func(i int) uint16 {
		return uint16(float64(mix(float64(a.Colour[i]), float64(b.Colour[i]))*alpha)*(full/255) + 0.5)
	}
	return packed(of(0), of(1), of(2), uint16(float64(alpha*full)+0.5))
}

// A linear gradient's place on the ramp goes evenly along a row and from row to row, in 32 bits after the point.
type linear struct {
	ramp                  []pixel
	start, perRow, perCol int64
}

const fixedBits = 32

func fixed(v float64) int64 { return int64(math.Round(float64(v * (1 << fixedBits)))) }

func (p *painter) linear(g *preview.Linear, move geom.Point) source {
	from, to := p.to.place(g.From, move), p.to.place(g.To, move)
	dx, dy := to.x-from.x, to.y-from.y
	l2 := float64(dx*dx) + float64(dy*dy)
	s := &linear{ramp: p.ramp(g)}
	if l2 == 0 {
		s.start = fixed(1)
		return s
	}
	dx, dy = dx/l2, dy/l2
	s.perCol, s.perRow = fixed(dx), fixed(dy)
	// At the middle of the first pixel.
	s.start = fixed(float64((0.5-from.x)*dx) + float64((0.5-from.y)*dy))
	return s
}

func (p *painter) ramp(g *preview.Linear) []pixel {
	if r, ok := p.ramps[g]; ok {
		return r
	}
	r := ramp(g.Stops)
	p.ramps[g] = r
	return r
}

func (s *linear) at(t int64) pixel {
	return s.ramp[min(max((t+1<<21)>>(fixedBits-10), 0), rampSteps)]
}

func (s *linear) row(y, x int, weights []uint32, scratch []pixel) (pixel, []pixel) {
	t := s.start + int64(y)*s.perRow + int64(x)*s.perCol
	if s.perCol == 0 {
		return s.at(t), nil
	}
	each := scratch[:len(weights)]
	for i := range each {
		each[i] = s.at(t)
		t += s.perCol
	}
	return 0, each
}

// A radial gradient is used in tiles, so a square root for each of its few pixels is no loss.
type radial struct {
	ramp   []pixel
	centre spot
	rx, ry float64
}

func (p *painter) radial(g *preview.Radial, move geom.Point) source {
	c := p.to.place(g.Centre, move)
	rim := p.to.place(geom.Point{X: g.Centre.X + g.RX, Y: g.Centre.Y + g.RY}, move)
	return &radial{ramp(g.Stops), c, rim.x - c.x, rim.y - c.y}
}

func (s *radial) row(y, x int, weights []uint32, scratch []pixel) (pixel, []pixel) {
	each := scratch[:len(weights)]
	v := (float64(y) + 0.5 - s.centre.y) / s.ry
	for i := range each {
		u := (float64(x+i) + 0.5 - s.centre.x) / s.rx
		t := math.Sqrt(float64(u*u) + float64(v*v))
		each[i] = s.ramp[min(int(float64(t*rampSteps)+0.5), rampSteps)]
	}
	return 0, each
}

// A spot is a place among the pixels.
type spot struct{ x, y float64 }

func (g grid) place(p, move geom.Point) spot {
	return spot{
		float64(float64(p.X+move.X-g.origin.X)*float64(g.x.pixels)) / float64(g.x.nm),
		float64(float64(p.Y+move.Y-g.origin.Y)*float64(g.y.pixels)) / float64(g.y.nm),
	}
}
