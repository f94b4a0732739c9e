// Package png draws a preview's scene as pixels, with no other program. Outlines, gradients and tiles are worked out in
// whole numbers, so the picture is the same on every processor but for the rounding of what the scene itself holds.
package png

import (
	"fmt"
	"image"

	"headcap/compiler/emit/preview"
)

// MostPixels and longestSide bound a picture, so that the memory for it (eight bytes a pixel while it is drawn) and the
// numbers in it stay small.
const (
	MostPixels  = 32_000_000
	longestSide = 32_000
)

// PNG is the scene at this width; the height follows from the scene's view, rounded up so that nothing is cut off. Grain
// is left out where it can't be seen.
func PNG(s preview.Scene, pixelWidth int) ([]byte, error) {
	c, err := draw(s, pixelWidth)
	if err != nil {
		return nil, err
	}
	data, err := encode(c, s.Ground != nil)
	if err != nil {
		return nil, fmt.Errorf("png: writing a picture %d pixels wide: %w", pixelWidth, err)
	}
	return data, nil
}

func draw(s preview.Scene, pixelWidth int) (*canvas, error) {
	w, h := s.View.Width(), s.View.Height()
	if w <= 0 || h <= 0 {
		return nil, fmt.Errorf("png: the view of the picture is %d × %d nm, so there is nothing to draw", w, h)
	}
	if pixelWidth <= 0 || pixelWidth > longestSide {
		return nil, fmt.Errorf("png: a picture cannot be %d pixels wide, only from 1 to %d", pixelWidth, longestSide)
	}
	pixelHeight := (h*int64(pixelWidth) + w - 1) / w
	if pixelHeight > longestSide || pixelHeight*int64(pixelWidth) > MostPixels {
		return nil, fmt.Errorf("png: a picture of %d × %d pixels is beyond the limit of %d in all and %d on a side", pixelWidth, pixelHeight, MostPixels, longestSide)
	}
	square := ratio{int64(pixelWidth), w}
	c := newCanvas(image.Rect(0, 0, pixelWidth, int(pixelHeight)))
	if s.Ground != nil {
		c.flood(pixelOf(*s.Ground, 1))
	}
	p := newPainter(grid{s.View.Min, square, square}, s.Items)
	if err := p.items(s.Items, state{target: c}); err != nil {
		return nil, err
	}
	return c, nil
}
