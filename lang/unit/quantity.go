package unit

import (
	"fmt"
	"math/big"
)

// A Quantity is what a number or a measure in a source says: 5, 3/4, 12.5mm, -1%, 45deg.
type Quantity struct {
	Value    *big.Rat // in Unit
	Unit     Unit
	UnitText string // the unit as written
}

// An UnknownUnitError tells of a number that is followed by something which is no unit.
type UnknownUnitError struct {
	Text    string // what stands where the unit should
	Suggest string // the unit that was probably meant, empty where none is near
}

func (e UnknownUnitError) Error() string {
	s := fmt.Sprintf("%q is not a unit", e.Text)
	if e.Suggest != "" {
		s += fmt.Sprintf(", try %q", e.Suggest)
	}
	return s
}

// A BadNumberError tells of text that is no number, or is a number that no book needs.
type BadNumberError struct {
	Text   string
	Reason string
}

func (e BadNumberError) Error() string { return fmt.Sprintf("%q: %s", e.Text, e.Reason) }

// maxDigits is the most figures a number may have: a choice, far beyond any measure, that keeps the reckoning small.
const maxDigits = 24

// ParseQuantity reads the text of a number or measure: 12.5mm, 1/4in, 5 3/16in, 5-3/16in, ½in, 8½in, 8 ½in, -1%, +8%,
// 0.45, 3/4. The error is an UnknownUnitError or a BadNumberError.
func ParseQuantity(text string) (Quantity, error) {
	rest, negative := text, false
	if rest != "" && (rest[0] == '-' || rest[0] == '+') {
		negative, rest = rest[0] == '-', rest[1:]
	}
	n := readNumber(rest)
	unitLen := unitRun(rest[n.end:])
	if n.loose && unitLen == 0 {
		return Quantity{}, BadNumberError{text, "a whole number and a fraction need a unit after them"}
	}
	switch {
	case n.end == 0:
		return Quantity{}, BadNumberError{text, "a number begins with a figure"}
	case n.end+unitLen != len(rest):
		return Quantity{}, BadNumberError{text, fmt.Sprintf("%q is not part of a number", rest[n.end+unitLen:])}
	}
	value, err := n.value(text)
	if err != nil {
		return Quantity{}, err
	}
	if negative {
		value.Neg(value)
	}
	q := Quantity{Value: value, UnitText: rest[n.end:]}
	if q.UnitText == "" {
		return q, nil
	}
	u, ok := byName(q.UnitText)
	if !ok {
		return Quantity{}, UnknownUnitError{q.UnitText, suggest(q.UnitText)}
	}
	q.Unit = u
	return q, nil
}

// Length is the quantity as a length, shown in its own unit; ok is false where it is none.
func (q Quantity) Length() (l Length, ok bool) {
	nm := q.Unit.nanometres()
	if nm == nil || q.Value == nil {
		return Length{}, false
	}
	return Length{nm.Mul(nm, q.Value), q.Unit}, true
}

// String prints the quantity with its unit, as Length does; a bare number that is not so many thousandths is a fraction.
func (q Quantity) String() string {
	if l, ok := q.Length(); ok {
		return l.String()
	}
	v := q.Value
	if v == nil {
		v = zero
	}
	if q.Unit == None && !new(big.Rat).Mul(v, big.NewRat(1000, 1)).IsInt() {
		return v.RatString()
	}
	return decimal(v, 3) + q.Unit.String()
}
