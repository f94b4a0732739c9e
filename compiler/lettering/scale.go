package lettering

import "math/bits"

// roundDiv is a/b rounded to the nearest, halves away from zero; b is positive.
func roundDiv(a, b int64) int64 {
	if a < 0 {
		return -((-a + b/2) / b)
	}
	return (a + b/2) / b
}

// mulDiv is a·b/c rounded to the nearest, halves away from zero, with the product in 128 bits; b ≥ 0, c > 0, and the
// result must fit, which the bounds of Style and of faces see to.
func mulDiv(a, b, c int64) int64 {
	negative := a < 0
	if negative {
		a = -a
	}
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	lo, carry := bits.Add64(lo, uint64(c)/2, 0)
	q, _ := bits.Div64(hi+carry, lo, uint64(c))
	if negative {
		return -int64(q)
	}
	return int64(q)
}
