package png

import (
	"image"

	"headcap/compiler/emit/preview"
)

// full is a channel at its most. Channels have sixteen bits, so that a dozen faint layers over each other don't add up
// their rounding to steps that can be seen.
const full = 0xffff

// A pixel is red, green, blue and alpha from the lowest bits up, sixteen bits each, the colour multiplied by the alpha.
// It is one word so that two channels are worked on at once.
type pixel uint64

// lanes are the channels that are worked on together: red and blue, or, moved down, green and alpha. Each has as many
// bits of room above it.
const lanes = full<<32 | full

func packed(r, g, b, a uint16) pixel {
	return pixel(a)<<48 | pixel(b)<<32 | pixel(g)<<16 | pixel(r)
}

func (p pixel) channels() (r, g, b, a uint16) {
	return uint16(p), uint16(p >> 16), uint16(p >> 32), uint16(p >> 48)
}

func (p pixel) alpha() uint32 { return uint32(p >> 48) }

// pixelOf is a colour at an opacity of 0 to 1.
func pixelOf(c preview.Colour, opacity float64) pixel {
	a := uint32(float64(min(max(opacity, 0), 1)*full) + 0.5)
	of := func(v uint8) uint16 { return uint16((uint32(v)*0x101*a + full/2) / full) }
	return packed(of(c[0]), of(c[1]), of(c[2]), uint16(a))
}

// A canvas is an area of the picture.
type canvas struct {
	area   image.Rectangle
	pixels []pixel
}

func newCanvas(area image.Rectangle) *canvas {
	return &canvas{area, make([]pixel, area.Dx()*area.Dy())}
}

func (c *canvas) flood(p pixel) {
	for i := range c.pixels {
		c.pixels[i] = p
	}
}

// row is the pixels of row y from x0 up to x1, which lie on the canvas.
func (c *canvas) row(y, x0, x1 int) []pixel {
	start := (y-c.area.Min.Y)*c.area.Dx() - c.area.Min.X
	return c.pixels[start+x0 : start+x1]
}

// over lays one source pixel on a row, each place as much as its weight says (0 to 1<<16).
func over(row []pixel, s pixel, weights []uint32) {
	for i, w := range weights {
		switch {
		case w == 0:
		case w == 1<<16 && s.alpha() == full:
			row[i] = s
		default:
			row[i] = laid(row[i], s, w)
		}
	}
}

// overEach lays a row of source pixels on a row.
func overEach(row, source []pixel, weights []uint32) {
	source = source[:len(weights)]
	row = row[:len(weights)]
	for i, w := range weights {
		if w != 0 {
			row[i] = laid(row[i], source[i], w)
		}
	}
}

// laid is s over d, s times w/65536. What is full stays exactly full: of the two terms the one is rounded and the other
// cut, and keep is one short where that would carry over.
func laid(d, s pixel, w uint32) pixel {
	const half = 1<<47 | 1<<15
	rb := (s & lanes) * pixel(w) >> 16 & lanes
	ga := (s >> 16 & lanes) * pixel(w) >> 16 & lanes
	keep := 1<<16 - (ga>>32 + ga>>47)
	rb += ((d&lanes)*keep + half) >> 16 & lanes
	ga += ((d>>16&lanes)*keep + half) >> 16 & lanes
	return ga<<16 | rb
}
