package png

import (
	"image"
	"math"

	"headcap/compiler/emit/preview"
)

// softBits is the bits after the point in the profile of a soft edge.
const softBits = 24

// shadow draws a soft-edged rectangle. A blur acts on each axis by itself and so does a rectangle, so the profile along
// each axis is all that there is to work out.
func (p *painter) shadow(s preview.Shadow, st state) error {
	a, b := p.to.place(s.Box.Min, st.move), p.to.place(s.Box.Max, st.move)
	deviation := float64(float64(s.Blur)*float64(p.to.x.pixels)) / float64(p.to.x.nm)
	xs, x0 := softened(a.x, b.x, deviation)
	ys, y0 := softened(a.y, b.y, deviation)
	area := image.Rect(x0, y0, x0+len(xs), y0+len(ys)).Intersect(st.area())
	tone := pixelOf(s.Paint.Colour, s.Paint.Opacity)
	weights := make([]uint32, area.Dx())
	for y := area.Min.Y; y < area.Max.Y; y++ {
		across, depth := xs[area.Min.X-x0:], ys[y-y0]
		for i := range weights {
			weights[i] = uint32(across[i] * depth >> (2*softBits - 16))
		}
		st.clipped(y, area.Min.X, weights)
		over(st.target.row(y, area.Min.X, area.Max.X), tone, weights)
	}
	return nil
}

// softened is how much of each pixel from start on lies between a and b, after a blur that stands for a Gaussian one of
// this deviation: three box blurs, their widths as in Filter Effects 1, 9.1 (feGaussianBlur).
func softened(a, b, deviation float64) (profile []int64, start int) {
	d := max(int(float64(deviation*3*math.Sqrt(2*math.Pi))/4+0.5), 1)
	reach := 2*d + 2
	start = int(math.Floor(a)) - reach
	n := int(math.Ceil(b)) + reach - start
	profile = make([]int64, max(n, 0))
	for i := range profile {
		lo, hi := max(a, float64(start+i)), min(b, float64(start+i+1))
		profile[i] = int64(math.Round(float64(max(hi-lo, 0) * (1 << softBits))))
	}
	if d%2 == 1 {
		for range 3 {
			profile = averaged(profile, d, d/2)
		}
		return profile, start
	}
	// Two even boxes, one half a pixel to each side, and an odd one.
	return averaged(averaged(averaged(profile, d, d/2), d, d/2-1), d+1, d/2), start
}

// averaged is the mean of d values from before places before each on.
func averaged(v []int64, d, before int) []int64 {
	out := make([]int64, len(v))
	var sum int64
	for i := -d; i < len(v); i++ {
		// The window of out[i] ends at i−before+d−1.
		if end := i - before + d - 1; end >= 0 && end < len(v) {
			sum += v[end]
		}
		if gone := i - before - 1; gone >= 0 && gone < len(v) {
			sum -= v[gone]
		}
		if i >= 0 {
			out[i] = sum / int64(d)
		}
	}
	return out
}
