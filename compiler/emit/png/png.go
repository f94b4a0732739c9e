// Package png draws a preview's scene as pixels, with no other program. Outlines, gradients and tiles are worked out in
// whole numbers, so the picture is the same on every processor but for the rounding of what the scene itself holds.
package png

import (
	"bytes"
	"fmt"
	"image"
	stdpng "image/png"

	"headcap/compiler/emit/preview"
)

// MostPixels bounds a picture: one of 8000 × 8000 takes half a gigabyte while it is drawn.
const MostPixels = 64_000_000

// PNG is the scene at this width; the height follows from the scene's view. Grain is left out where it can't be seen.
func PNG(s preview.Scene, pixelWidth int) ([]byte, error) {
	img, err := Draw(s, pixelWidth)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	encoder := stdpng.Encoder{CompressionLevel: stdpng.BestSpeed}
	if err := encoder.Encode(&out, img); err != nil {
		return nil, fmt.Errorf("png: writing a picture %d pixels wide: %w", pixelWidth, err)
	}
	return out.Bytes(), nil
}

// Draw is the picture that PNG writes.
func Draw(s preview.Scene, pixelWidth int) (*image.NRGBA, error) {
	w, h := s.View.Width(), s.View.Height()
	if w <= 0 || h <= 0 {
		return nil, fmt.Errorf("png: the view of the picture is %d × %d nm, so there is nothing to draw", w, h)
	}
	if pixelWidth <= 0 || pixelWidth > MostPixels {
		return nil, fmt.Errorf("png: a picture cannot be %d pixels wide", pixelWidth)
	}
	pixelHeight := int((h*int64(pixelWidth) + w/2) / w)
	if pixelHeight < 1 || int64(pixelHeight)*int64(pixelWidth) > MostPixels {
		return nil, fmt.Errorf("png: a picture of %d × %d pixels is beyond the limit of %d in all", pixelWidth, pixelHeight, MostPixels)
	}
	to := grid{
		origin: s.View.Min,
		x:      ratio{int64(pixelWidth), w},
		y:      ratio{int64(pixelWidth), w},
	}
	c := newCanvas(image.Rect(0, 0, pixelWidth, pixelHeight))
	if s.Ground != nil {
		c.flood(pixelOf(*s.Ground, 1))
	}
	p := newPainter(to, s.Items)
	if err := p.items(s.Items, state{target: c}); err != nil {
		return nil, err
	}
	return c.image(), nil
}
