package geom

import "math"

// Hypot is the length of (x, y). It is exact to two units in the last place for every length that fits on the grid, and
// the same on every processor. Lengths whose square overflows or vanishes are scaled first.
func Hypot(x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	if x < y {
		x, y = y, x
	}
	if x == 0 || y == 0 {
		return x
	}
	if x > 1e150 || x < 1e-140 {
		r := y / x
		return float64(x * math.Sqrt(1+float64(r*r)))
	}
	return math.Sqrt(float64(x*x) + float64(y*y))
}
