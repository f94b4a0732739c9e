package preview

import "math"

// The text of a picture is the same on every processor, so what it is computed from must be too: powers are built from
// square roots and Newton's method in a fixed number of steps, and every product is rounded before it is added to
// something, since a processor that fuses the two would give another last bit.

// root is the nth root of x, 0 where x is not positive. The exponent is taken off first, so that Newton's method
// starts within a factor of two and eight steps are always enough.
func root(x float64, n int) float64 {
	if x <= 0 {
		return 0
	}
	m, e := math.Frexp(x)
	for e%n != 0 {
		m, e = m*2, e-1
	}
	y := 1.5
	for range 8 {
		p := 1.0
		for range n - 1 {
			p *= y
		}
		y = (float64(float64(n-1)*y) + m/p) / float64(n)
	}
	return math.Ldexp(y, e/n)
}

// power09 is x to the 0.9, power12 x to the 1.2, for x from 0 to 1.
func power09(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return x / root(math.Sqrt(x), 5)
}

func power12(x float64) float64 { return float64(x * root(x, 5)) }

// decay is e to the −x for x from 0.
func decay(x float64) float64 {
	if x > 40 {
		return 0
	}
	x /= 64
	sum, term := 1.0, 1.0
	for k := 1; k <= 12; k++ {
		term = float64(term*-x) / float64(k)
		sum += term
	}
	for range 6 {
		sum = float64(sum * sum)
	}
	return sum
}

// nearest rounds to a whole number, half away from zero. It is used on lengths of a picture only, which are far from
// the ends of int64.
func nearest(x float64) int64 { return int64(math.Round(x)) }

// share is the part t of the way from a to b.
func share(a, b int64, t float64) int64 { return a + nearest(float64(float64(b-a)*t)) }

// A shuffle is a stream of seeded numbers (xorshift32; Marsaglia, "Xorshift RNGs", 2003), so that a grain which looks
// as if it came by chance is always the same one.
type shuffle uint32

func (s *shuffle) next() float64 {
	x := *s
	x ^= x << 13
	x ^= x >> 17
	x ^= x << 5
	*s = x
	return float64(x) / (1 << 32)
}

func (s *shuffle) between(a, b float64) float64 { return a + float64((b-a)*s.next()) }
