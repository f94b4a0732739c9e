package preview

import (
	"fmt"
	"math"
	"strconv"
)

// A Colour is red, green and blue in sRGB.
type Colour [3]uint8

// ParseColour reads #rrggbb.
func ParseColour(s string) (Colour, error) {
	if len(s) == 7 && s[0] == '#' {
		if v, err := strconv.ParseUint(s[1:], 16, 32); err == nil {
			return Colour{uint8(v >> 16), uint8(v >> 8), uint8(v)}, nil
		}
	}
	return Colour{}, fmt.Errorf("colour %q is not of the form #rrggbb", s)
}

// String is #rrggbb.
func (c Colour) String() string { return fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2]) }

// An oklab is a colour by lightness and two axes of hue (Björn Ottosson, "A perceptual color space for image
// processing", 2020). Light falling on leather or film changes L and leaves the hue alone, which no mixing with white
// or black in sRGB does.
type oklab struct{ L, a, b float64 }

func (c Colour) oklab() oklab {
	lin := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		x = (x + 0.055) / 1.055
		x2 := float64(x * x)
		return float64(x2 * root(x2, 5)) // x to the 2.4
	}
	r, g, b := lin(c[0]), lin(c[1]), lin(c[2])
	l := root(sum3(0.4122214708, r, 0.5363325363, g, 0.0514459929, b), 3)
	m := root(sum3(0.2119034982, r, 0.6806995451, g, 0.1073969566, b), 3)
	s := root(sum3(0.0883024619, r, 0.2817188376, g, 0.6299787005, b), 3)
	return oklab{
		L: sum3(0.2104542553, l, 0.7936177850, m, -0.0040720468, s),
		a: sum3(1.9779984951, l, -2.4285922050, m, 0.4505937099, s),
		b: sum3(0.0259040371, l, 0.7827717662, m, -0.8086757660, s),
	}
}

func (k oklab) colour() Colour {
	cube := func(x float64) float64 { return float64(float64(x*x) * x) }
	gamma := func(x float64) uint8 {
		x = min(max(x, 0), 1)
		if x <= 0.0031308 {
			return uint8(math.Round(float64(float64(12.92*x) * 255)))
		}
		t := root(math.Sqrt(math.Sqrt(x)), 3) // x to the 1/12, five times: x to the 1/2.4
		t2 := float64(t * t)
		x = float64(1.055*float64(float64(t2*t2)*t)) - 0.055
		return uint8(math.Round(float64(x * 255)))
	}
	l := cube(sum3(1, k.L, 0.3963377774, k.a, 0.2158037573, k.b))
	m := cube(sum3(1, k.L, -0.1055613458, k.a, -0.0638541728, k.b))
	s := cube(sum3(1, k.L, -0.0894841775, k.a, -1.2914855480, k.b))
	return Colour{
		gamma(sum3(4.0767416621, l, -3.3077115913, m, 0.2309699292, s)),
		gamma(sum3(-1.2684380046, l, 2.6097574011, m, -0.3413193965, s)),
		gamma(sum3(-0.0041960863, l, -0.7034186147, m, 1.7076147010, s)),
	}
}

func sum3(a, x, b, y, c, z float64) float64 { return float64(a*x) + float64(b*y) + float64(c*z) }

// lit is the colour under light that is f times as strong, its chroma times at most 1.1.
func (c Colour) lit(f float64) Colour { return c.toned(f, min(1.1, math.Sqrt(f))) }

func (c Colour) toned(f, chroma float64) Colour {
	k := c.oklab()
	return oklab{min(0.98, float64(k.L*f)), float64(k.a * chroma), float64(k.b * chroma)}.colour()
}

// glow is the colour of light lying on this leather. It is never white: white turns a dark green to fog. Dark leathers
// are raised further than light ones.
func (c Colour) glow() Colour {
	return c.toned(1.35+float64(0.80*(1-c.oklab().L)), 0.95)
}
