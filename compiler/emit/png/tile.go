package png

import (
	"errors"
	"image"
	"math"

	"headcap/compiler/emit/preview"
	"headcap/compiler/geom"
)

// A texel is a place in a tile: a grey multiplied by its alpha in the lower half, the alpha in the upper. A mean of
// texels is worked out on both halves at once, which have room for sixteen bits of weight.
type texel uint64

// texels is a tile drawn once. A picture reads it at the places where its own pixels fall.
type texels struct {
	w, h  int
	cells []texel
}

// oversampling is how many texels there are to a pixel each way: enough that reading between four of them keeps the
// creases of the grain as fine as they would be drawn, and few enough that none is passed over.
const oversampling = 1.5

// mostTexels bounds a tile each way.
const mostTexels = 2048

// tileKey is a tile at a size.
type tileKey struct {
	tile *preview.Tile
	w, h int
}

// texels draws a tile so that there are about that many texels to a millimetre each way.
func (p *painter) texels(t *preview.Tile, across, down float64) (*texels, error) {
	count := func(nm int64, perMM float64) int {
		return int(math.Round(min(max(float64(float64(nm)*perMM)/1e6, 8), mostTexels)))
	}
	key := tileKey{t, count(t.Width, across), count(t.Height, down)}
	if done, ok := p.tiles[key]; ok {
		return done, nil
	}
	to := grid{x: ratio{int64(key.w), t.Width}, y: ratio{int64(key.h), t.Height}}
	c := newCanvas(image.Rect(0, 0, key.w, key.h))
	if err := newPainter(to, t.Items).items(t.Items, state{target: c}); err != nil {
		return nil, err
	}
	done := &texels{key.w, key.h, make([]texel, len(c.pixels))}
	for i, q := range c.pixels {
		r, g, b, a := q.channels()
		if r != g || g != b {
			return nil, errors.New("png: a tile is drawn in a colour; only black, white and grey are taken")
		}
		done.cells[i] = texel(a)<<32 | texel(r)
	}
	p.tiles[key] = done
	return done, nil
}

// A pattern reads texels along a row. Places in the tile have placeBits bits after the point.
type pattern struct {
	texels         *texels
	opacity        texel
	u, v           int64 // at the middle of the first pixel of the picture
	uPerCol, uPerR int64
	vPerCol, vPerR int64
}

const placeBits = 24

func (p *painter) pattern(g *preview.Pattern, move geom.Point) (source, error) {
	m := g.Set
	det := float64(m.A*m.D) - float64(m.B*m.C)
	if det == 0 || g.Tile.Width <= 0 || g.Tile.Height <= 0 {
		return nil, errors.New("png: a pattern whose tile has no area")
	}
	columns := math.Sqrt(float64(m.A*m.A) + float64(m.B*m.B))
	rows := math.Sqrt(float64(m.C*m.C) + float64(m.D*m.D))
	perMM := p.to.perMM()
	t, err := p.texels(g.Tile, float64(perMM*columns)*oversampling, float64(perMM*rows)*oversampling)
	if err != nil {
		return nil, err
	}
	// From pixels to nanometres of the picture, and from those to texels.
	xnm, ynm := float64(p.to.x.nm)/float64(p.to.x.pixels), float64(p.to.y.nm)/float64(p.to.y.pixels)
	perU, perV := float64(t.w)/float64(g.Tile.Width), float64(t.h)/float64(g.Tile.Height)
	left := float64(p.to.origin.X-move.X-m.E) + xnm/2
	head := float64(p.to.origin.Y-move.Y-m.F) + ynm/2
	place := func(v float64) int64 { return int64(math.Round(float64(v * (1 << placeBits)))) }
	ux, uy := float64(m.D/det)*perU, float64(-m.C/det)*perU
	vx, vy := float64(-m.B/det)*perV, float64(m.A/det)*perV
	return &pattern{
		texels:  t,
		opacity: texel(float64(min(max(g.Opacity, 0), 1)*(1<<16)) + 0.5),
		u:       place(float64(ux*left) + float64(uy*head) - 0.5),
		v:       place(float64(vx*left) + float64(vy*head) - 0.5),
		uPerCol: place(float64(ux * xnm)), uPerR: place(float64(uy * ynm)),
		vPerCol: place(float64(vx * xnm)), vPerR: place(float64(vy * ynm)),
	}, nil
}

func (s *pattern) row(y, x int, weights []uint32, scratch []pixel) (pixel, []pixel) {
	each := scratch[:len(weights)]
	w, h := int64(s.texels.w)<<placeBits, int64(s.texels.h)<<placeBits
	u := wrapped(s.u+int64(y)*s.uPerR+int64(x)*s.uPerCol, w)
	v := wrapped(s.v+int64(y)*s.vPerR+int64(x)*s.vPerCol, h)
	for i, weight := range weights {
		if weight != 0 {
			t := s.texels.at(u, v)
			t = t * s.opacity >> 16 & lanes
			grey := pixel(t & full)
			each[i] = pixel(t)>>32<<48 | grey<<32 | grey<<16 | grey
		}
		if u += s.uPerCol; u < 0 || u >= w {
			u = wrapped(u, w)
		}
		if v += s.vPerCol; v < 0 || v >= h {
			v = wrapped(v, h)
		}
	}
	return 0, each
}

func wrapped(v, n int64) int64 {
	if v %= n; v < 0 {
		v += n
	}
	return v
}

// at is what lies at a place between four texels.
func (t *texels) at(u, v int64) texel {
	x0, y0 := int(u>>placeBits), int(v>>placeBits)*t.w
	x1, y1 := x0+1, y0+t.w
	if x1 == t.w {
		x1 = 0
	}
	if y1 == len(t.cells) {
		y1 = 0
	}
	fx := texel(u>>(placeBits-8)) & 0xff
	fy := texel(v>>(placeBits-8)) & 0xff
	d := fx * fy
	b, c := fx<<8-d, fy<<8-d
	a := 1<<16 - b - c - d
	sum := a*t.cells[y0+x0] + b*t.cells[y0+x1] + c*t.cells[y1+x0] + d*t.cells[y1+x1]
	return sum >> 16 & lanes
}
