// Package unit holds quantities as a binder writes them: lengths as exact fractions that remember the unit they were
// written in, and the reading of numbers with their units. An inch is 25.4 mm exactly, so thirds, sixteenths and
// percentages stay exact until something is laid out on the grid of one nanometre.
package unit

import "math/big"

// A Unit is one of the units that may follow a number.
type Unit uint8

// The units. None is a bare number: a count, a share or a ratio.
const (
	None       Unit = iota
	Millimetre      // mm
	Centimetre      // cm
	Inch            // in, 25.4 mm
	Point           // pt, 1/72 in
	Micrometre      // um, for paper
	Mil             // mil, a thousandth of an inch, for paper
	Degree          // deg
	Percent         // %
	GSM             // gsm, grams a square metre, for paper
	PPI             // ppi, pages to the inch of thickness
)

// nmPerInch is exact: the international inch of 1959.
const nmPerInch = 25_400_000

// units is in the order in which messages list them. nm is how many nanometres one unit is, as num/den; zero for what is
// not a length.
var units = []struct {
	unit     Unit
	name     string
	num, den int64
}{
	{Millimetre, "mm", 1_000_000, 1},
	{Centimetre, "cm", 10_000_000, 1},
	{Inch, "in", nmPerInch, 1},
	{Point, "pt", nmPerInch, 72},
	{Micrometre, "um", 1_000, 1},
	{Mil, "mil", nmPerInch, 1_000},
	{Degree, "deg", 0, 1},
	{Percent, "%", 0, 1},
	{GSM, "gsm", 0, 1},
	{PPI, "ppi", 0, 1},
}

// Names lists the spellings of the units, the everyday lengths first.
func Names() []string {
	out := make([]string, len(units))
	for i, u := range units {
		out[i] = u.name
	}
	return out
}

// String is the unit as it is written after a number; empty for None.
func (u Unit) String() string {
	for _, k := range units {
		if k.unit == u {
			return k.name
		}
	}
	return ""
}

// IsLength says whether the unit measures a length.
func (u Unit) IsLength() bool { return u.nanometres() != nil }

// nanometres is one unit in nanometres, nil for what is no length.
func (u Unit) nanometres() *big.Rat {
	for _, k := range units {
		if k.unit == u && k.num != 0 {
			return big.NewRat(k.num, k.den)
		}
	}
	return nil
}

// byName finds a unit by its exact spelling.
func byName(name string) (Unit, bool) {
	for _, k := range units {
		if k.name == name {
			return k.unit, true
		}
	}
	return None, false
}

// elsewhere is how the units are spelt by other hands: on packets, in catalogues, by habit.
var elsewhere = map[string]string{
	"millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "mms": "mm",
	"centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm", "cms": "cm",
	"inch": "in", "inches": "in", "ins": "in", "\"": "in", "″": "in", "”": "in", "“": "in",
	"point": "pt", "points": "pt", "pts": "pt",
	"µm": "um", "μm": "um", "micron": "um", "microns": "um", "mu": "um", "mic": "um", "mics": "um",
	"mils": "mil", "thou": "mil",
	"°": "deg", "degree": "deg", "degrees": "deg", "degs": "deg",
	"percent": "%",
	"gm":      "gsm", "gms": "gsm", "grams": "gsm",
}

// suggest gives the unit that was probably meant, empty where none is near: another spelling, other capitals, or one
// letter wrong, missing, too many, or two changed about. Units are too short for anything looser.
func suggest(text string) string {
	low := lower(text)
	if s, ok := elsewhere[low]; ok {
		return s
	}
	for _, k := range units {
		if k.name == low {
			return k.name
		}
	}
	for _, k := range units {
		if len(k.name) > 1 && oneLetterOff(low, k.name) {
			return k.name
		}
	}
	return ""
}

func lower(s string) string {
	b := []byte(s)
	for i, c := range b {
		if c >= 'A' && c <= 'Z' {
			b[i] = c + ('a' - 'A')
		}
	}
	return string(b)
}

// oneLetterOff says whether one slip of the pen makes a into b. The first letters must agree, except where two letters
// changed places: people seldom miss the first letter, and "cm" for "pm" would be a guess.
func oneLetterOff(a, b string) bool {
	i := 0
	for i < len(a) && i < len(b) && a[i] == b[i] {
		i++
	}
	ra, rb := a[i:], b[i:]
	swapped := len(ra) > 1 && len(rb) > 1 && ra[0] == rb[1] && ra[1] == rb[0] && ra[2:] == rb[2:]
	if i == 0 {
		return swapped
	}
	switch {
	case ra == "" || rb == "":
		return len(ra)+len(rb) == 1
	case swapped, ra[1:] == rb[1:], ra[1:] == rb, ra == rb[1:]:
		return true
	}
	return false
}
