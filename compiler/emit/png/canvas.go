package png

import (
	"image"

	"headcap/compiler/emit/preview"
)

// full is a channel at its most. Channels have sixteen bits, so that a dozen faint layers over each other don't add up
// their rounding to steps that can be seen.
const full = 0xffff

// A pixel has its colour multiplied by its alpha.
type pixel struct{ r, g, b, a uint16 }

// pixelOf is a colour at an opacity of 0 to 1.
func pixelOf(c preview.Colour, opacity float64) pixel {
	a := uint32(float64(min(max(opacity, 0), 1)*full) + 0.5)
	of := func(v uint8) uint16 { return uint16((uint32(v)*0x101*a + full/2) / full) }
	return pixel{of(c[0]), of(c[1]), of(c[2]), uint16(a)}
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
		if w != 0 {
			row[i].lay(s, w)
		}
	}
}

// overEach lays a row of source pixels on a row.
func overEach(row, source []pixel, weights []uint32) {
	for i, w := range weights {
		if w != 0 {
			row[i].lay(source[i], w)
		}
	}
}

// lay puts s on d, s times w/65536. What is full stays exactly full: of the two terms the one is rounded and the other
// cut, and keep is one short where that would carry over.
func (d *pixel) lay(s pixel, w uint32) {
	a := uint32(s.a) * w >> 16
	keep := 1<<16 - (a + a>>15)
	d.r = uint16((uint32(d.r)*keep+1<<15)>>16 + uint32(s.r)*w>>16)
	d.g = uint16((uint32(d.g)*keep+1<<15)>>16 + uint32(s.g)*w>>16)
	d.b = uint16((uint32(d.b)*keep+1<<15)>>16 + uint32(s.b)*w>>16)
	d.a = uint16((uint32(d.a)*keep+1<<15)>>16 + a)
}

// image is the canvas with eight bits a channel, its colours no longer multiplied by alpha.
func (c *canvas) image() *image.NRGBA {
	img := image.NewNRGBA(c.area)
	out := img.Pix
	for i, p := range c.pixels {
		o := out[4*i : 4*i+4 : 4*i+4]
		if p.a != full && p.a != 0 {
			a := uint32(p.a)
			p.r = uint16(min(uint32(p.r)*full/a, full))
			p.g = uint16(min(uint32(p.g)*full/a, full))
			p.b = uint16(min(uint32(p.b)*full/a, full))
		}
		o[0], o[1], o[2], o[3] = eight(p.r), eight(p.g), eight(p.b), eight(p.a)
	}
	return img
}

// eight is a channel in eight bits, rounded.
func eight(v uint16) uint8 { return uint8((uint32(v)*0xff + full/2) / full) }
