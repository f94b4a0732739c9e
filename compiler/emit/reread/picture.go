package reread

import (
	"image"
	"math"
	"slices"
)

// A Picture is film or no film in each pixel, the first row at the head.
type Picture struct {
	W, H int
	Film []bool
}

// Draw draws rings by the even-odd rule, a pixel for each of its middles that film covers. Up says that y runs up from
// the tail, as in DXF.
func Draw(rings []Ring, width, height, perMM float64, up bool) Picture {
	p := Picture{W: int(math.Ceil(width * perMM)), H: int(math.Ceil(height * perMM))}
	p.Film = make([]bool, p.W*p.H)
	for row := range p.H {
		y := (float64(row) + 0.5) / perMM
		if up {
			y = height - y
		}
		var cuts []float64
		for _, r := range rings {
			for i, a := range r {
				if b := r[(i+1)%len(r)]; (a.Y > y) != (b.Y > y) {
					cuts = append(cuts, (a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))*perMM)
				}
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			for x := max(0, int(math.Ceil(cuts[i]-0.5))); x < p.W && float64(x)+0.5 < cuts[i+1]; x++ {
				p.Film[row*p.W+x] = true
			}
		}
	}
	return p
}

// Develop takes a picture from an image: film is where it is more than half opaque.
func Develop(m image.Image) Picture {
	b := m.Bounds()
	p := Picture{W: b.Dx(), H: b.Dy(), Film: make([]bool, b.Dx()*b.Dy())}
	for y := range p.H {
		for x := range p.W {
			_, _, _, a := m.At(b.Min.X+x, b.Min.Y+y).RGBA()
			p.Film[y*p.W+x] = a >= 0x8000
		}
	}
	return p
}

// Likeness is how much of the film of two pictures falls on film of the other: 1 where they are the same, 0 where they
// share nothing or are not of one size.
func (p Picture) Likeness(q Picture) float64 {
	if p.W != q.W || p.H != q.H {
		return 0
	}
	both, either := 0, 0
	for i := range p.Film {
		if p.Film[i] && q.Film[i] {
			both++
		}
		if p.Film[i] || q.Film[i] {
			either++
		}
	}
	if either == 0 {
		return 0
	}
	return float64(both) / float64(either)
}
