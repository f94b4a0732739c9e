package unit

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// A Length is an exact length, as a fraction of nanometres, with the unit in which it is shown to its author. It is
// never changed once made. The zero Length is 0 mm. Compare with Cmp, not with ==.
type Length struct {
	nm    *big.Rat // nil for zero; never written to
	shown Unit     // None shows as millimetres
}

// MM is a whole number of millimetres.
func MM(v int64) Length {
	return Length{new(big.Rat).Mul(big.NewRat(v, 1), Millimetre.nanometres()), Millimetre}
}

// Nanometres is a whole number of nanometres, shown in millimetres.
func Nanometres(n int64) Length { return Length{big.NewRat(n, 1), Millimetre} }

// FromRat is a length of nm nanometres, which is copied. A shown that is no unit of length shows as millimetres.
func FromRat(nm *big.Rat, shown Unit) Length {
	return Length{new(big.Rat).Set(nm), lengthUnit(shown)}
}

func lengthUnit(u Unit) Unit {
	if u.IsLength() {
		return u
	}
	return Millimetre
}

var zero = new(big.Rat) // never written to

func (l Length) rat() *big.Rat {
	if l.nm == nil {
		return zero
	}
	return l.nm
}

// Rat is the length in nanometres, a copy.
func (l Length) Rat() *big.Rat { return new(big.Rat).Set(l.rat()) }

// Add is l + m, shown as l is.
func (l Length) Add(m Length) Length {
	return Length{new(big.Rat).Add(l.rat(), m.rat()), l.shown}
}

// Sub is l - m, shown as l is.
func (l Length) Sub(m Length) Length {
	return Length{new(big.Rat).Sub(l.rat(), m.rat()), l.shown}
}

// Neg is -l.
func (l Length) Neg() Length { return Length{new(big.Rat).Neg(l.rat()), l.shown} }

// MulRat is l times r.
func (l Length) MulRat(r *big.Rat) Length {
	return Length{new(big.Rat).Mul(l.rat(), r), l.shown}
}

// DivInt is the n-th part of l, exactly; n is not zero.
func (l Length) DivInt(n int64) Length {
	return Length{new(big.Rat).Quo(l.rat(), big.NewRat(n, 1)), l.shown}
}

// Cmp is -1, 0 or +1 as l is less than, equal to or greater than m, in whatever units they are shown.
func (l Length) Cmp(m Length) int { return l.rat().Cmp(m.rat()) }

// Sign is -1, 0 or +1.
func (l Length) Sign() int { return l.rat().Sign() }

// Nanometres is the length in whole nanometres, halves away from zero. What is beyond an int64, some nine million
// kilometres, is held at its end: no cover gets there, and the refusal of the length elsewhere stays right.
func (l Length) Nanometres() int64 { return round(l.rat()) }

// Micrometres is the length in whole micrometres, the grid of the files that are cut, halves away from zero.
func (l Length) Micrometres() int64 {
	return round(new(big.Rat).Quo(l.rat(), Micrometre.nanometres()))
}

// Millimetres is the nearest float to the length in millimetres, for showing and plotting, not for reckoning.
func (l Length) Millimetres() float64 {
	f, _ := new(big.Rat).Quo(l.rat(), Millimetre.nanometres()).Float64()
	return f
}

// Shown is the unit in which the length is printed.
func (l Length) Shown() Unit { return lengthUnit(l.shown) }

// As is the same length shown in another unit.
func (l Length) As(u Unit) Length { return Length{l.nm, lengthUnit(u)} }

// String prints the length in its unit: inches as a fraction where they are whole sixty-fourths (5 3/16in), and otherwise
// up to three decimals (12.5mm).
func (l Length) String() string {
	u := l.Shown()
	v := new(big.Rat).Quo(l.rat(), u.nanometres())
	if u == Inch {
		if s, ok := mixed(v); ok {
			return s + u.String()
		}
	}
	return decimal(v, 3) + u.String()
}

// Fine prints the length as String does, but with so many decimals that what is printed is within a twentieth of a
// micrometre: a sum of a few such figures can be done again by hand to the micrometre.
func (l Length) Fine() string {
	u := l.Shown()
	v := new(big.Rat).Quo(l.rat(), u.nanometres())
	if u == Inch {
		if s, ok := mixed(v); ok {
			return s + u.String()
		}
	}
	places := 0
	for step := u.nanometres(); step.Cmp(big.NewRat(100, 1)) > 0; places++ {
		step.Quo(step, big.NewRat(10, 1))
	}
	return decimal(v, places) + u.String()
}

// mixed writes v as a whole number and a fraction; ok is false where v is not in whole sixty-fourths.
func mixed(v *big.Rat) (text string, ok bool) {
	den := v.Denom()
	if !den.IsInt64() || 64%den.Int64() != 0 {
		return "", false
	}
	whole, rest := new(big.Int).QuoRem(new(big.Int).Abs(v.Num()), den, new(big.Int))
	var b strings.Builder
	if v.Sign() < 0 {
		b.WriteByte('-')
	}
	if whole.Sign() != 0 || rest.Sign() == 0 {
		b.WriteString(whole.String())
	}
	if rest.Sign() != 0 {
		if whole.Sign() != 0 {
			b.WriteByte(' ')
		}
		b.WriteString(rest.String() + "/" + strconv.FormatInt(den.Int64(), 10))
	}
	return b.String(), true
}

// decimal writes v with up to so many decimals, at least one, halves away from zero, and no zeros at the end.
func decimal(v *big.Rat, places int) string {
	s := strings.TrimRight(strings.TrimRight(v.FloatString(places), "0"), ".") // there is a point, so only decimals go
	if s == "-0" {
		return "0"
	}
	return s
}

// round is r in whole numbers, halves away from zero, held at the ends of an int64.
func round(r *big.Rat) int64 {
	twice := new(big.Int).Lsh(r.Denom(), 1)
	n := new(big.Int).Lsh(new(big.Int).Abs(r.Num()), 1)
	n.Add(n, r.Denom()).Quo(n, twice)
	if r.Sign() < 0 {
		n.Neg(n)
	}
	switch {
	case n.IsInt64():
		return n.Int64()
	case n.Sign() < 0:
		return math.MinInt64
	}
	return math.MaxInt64
}
