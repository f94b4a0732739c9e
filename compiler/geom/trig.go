package geom

import "math"

// The standard library's sine and its kin give different last bits on different processors, and one last bit moves a
// point across the boundary between two nanometres. These are built from correctly rounded operations only.

// sines holds sin(0°), sin(15°) … sin(90°), correctly rounded.
var sines = [7]float64{
	0,
	0.25881904510252076235,
	0.5,
	0.70710678118654752440,
	0.86602540378443864676,
	0.96592582628906828675,
	1,
}

// sineOfStep is the sine of 15° times k.
func sineOfStep(k int) float64 {
	k %= 24
	if k < 0 {
		k += 24
	}
	switch {
	case k <= 6:
		return sines[k]
	case k <= 12:
		return sines[12-k]
	case k <= 18:
		return -sines[k-12]
	}
	return -sines[24-k]
}

// A degree in radians, and what is lost by rounding that.
const (
	degree     float64 = 0.017453292519943295769
	degreeTail float64 = 2.9486522708701687e-19
)

// SinCos is the sine and cosine of an angle in degrees, to within one unit in the last place of the greater of the two.
// At multiples of 15° they are correctly rounded, so that 0, ±1/2 and ±1 are exact. What is not finite has neither.
func SinCos(deg float64) (sin, cos float64) {
	if deg-deg != 0 {
		return math.NaN(), math.NaN()
	}
	for math.Abs(deg) > 1e9 { // take whole turns off; each fused step is exact
		deg = math.FMA(-360, math.Trunc(deg/360), deg)
	}
	// The nearest multiple of 15° is looked up and the rest, at most 7.5°, added by the sum formulas. Ties go to even so
	// that angles mirrored in an axis or a diagonal get mirrored bits.
	step := math.RoundToEven(deg / 15)
	rest := math.FMA(-15, step, deg)
	k := int(step) // guarded: at most 1e9/15, and whole
	s0, c0 := sineOfStep(k), sineOfStep(k+6)
	if rest == 0 {
		return s0, c0
	}
	s, c1 := smallSine(rest)
	sin = s0 + (float64(s0*c1) + float64(c0*s))
	cos = c0 + (float64(c0*c1) - float64(s0*s))
	return sin, cos
}

// smallSine is sin(deg) and cos(deg) − 1 for at most 7.5° by their power series; the first term left out is below 1e-20
// of the result.
func smallSine(deg float64) (sin, cosLessOne float64) {
	x := float64(deg * degree)
	tail := math.FMA(deg, degree, -x) + float64(deg*degreeTail)
	z := float64(x * x)
	s := series(z, [...]float64{-1.0 / 6, 1.0 / 120, -1.0 / 5040, 1.0 / 362880, -1.0 / 39916800})
	c := series(z, [...]float64{-1.0 / 2, 1.0 / 24, -1.0 / 720, 1.0 / 40320, -1.0 / 3628800})
	// The tail moves the sine by itself and the cosine by −x times itself.
	sin = x + (float64(x*s) + tail)
	cosLessOne = c - float64(x*tail)
	return sin, cosLessOne
}

// series is k[0]·z + k[1]·z² + … by Horner's rule.
func series(z float64, k [5]float64) float64 {
	sum := 0.0
	for i := len(k) - 1; i >= 0; i-- {
		sum = float64(z * (k[i] + sum))
	}
	return sum
}

// Atan2Deg is the angle of (x, y) from the x axis towards the y axis in degrees, above −180 and at most 180, to within
// 1e-13°. Multiples of 45° are exact. The angle of (0, 0) is 0.
func Atan2Deg(y, x float64) float64 {
	ax, ay := math.Abs(x), math.Abs(y)
	var a float64
	switch {
	case ay == 0:
		a = 0
	case ax == 0:
		a = 90
	case ax == ay:
		a = 45
	case ay < ax:
		a = arcTangent(ay, ax)
	default:
		a = 90 - arcTangent(ax, ay)
	}
	if x < 0 {
		a = 180 - a
	}
	if y < 0 {
		a = -a
	}
	return a
}

// arcTangent is the angle below 45° whose tangent is y/x, by Newton's method on our own sine and cosine. The first guess
// is within 0.3°, and each step cubes the error that is left (in radians).
func arcTangent(y, x float64) float64 {
	t := y / x
	a := float64(t * (45 + float64(15.64*(1-t))))
	for range 2 {
		s, c := SinCos(a)
		a += ((float64(t*c) - s) / (c + float64(t*s))) / degree
	}
	return a
}

// ArcCosDeg is the angle between 0 and 180 degrees whose cosine is c. Beyond ±1, where only rounding can have taken it,
// c counts as ±1.
func ArcCosDeg(c float64) float64 {
	c = min(max(c, -1), 1)
	return Atan2Deg(math.Sqrt(float64((1-c)*(1+c))), c)
}

// Hypot is the length of (x, y), within one unit in the last place. Lengths whose square would overflow or vanish are
// scaled first.
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
