package unit

import (
	"math/big"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// vulgar are the fractions that have a character of their own, as num/den.
var vulgar = map[rune][2]int64{
	'½': {1, 2}, '⅓': {1, 3}, '⅔': {2, 3}, '¼': {1, 4}, '¾': {3, 4}, '⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5},
	'⅙': {1, 6}, '⅚': {5, 6}, '⅐': {1, 7}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8}, '⅑': {1, 9}, '⅒': {1, 10},
}

// inchMarks is what a hand puts after a figure for inches. None is a unit here, since a quotation mark opens a text.
var inchMarks = []string{"\"", "″", "”", "“"}

// InchMark says whether the unit of a measure is written as a mark.
func InchMark(unit string) bool { return slices.Contains(inchMarks, unit) }

// Scan says how much of the beginning of text is a number, without a sign, and how much after that is its unit, known or
// not. Both are zero where text begins with no number. A fraction after a space or a hyphen belongs to the whole number
// before it only where a unit follows, as in 5 3/16in. An x that parts two measures (228mmx150mm) is left out of the unit.
func Scan(text string) (number, unit int) {
	n := readNumber(text)
	if n.end == 0 {
		return 0, 0
	}
	unit = unitRun(text[n.end:])
	if n.loose && unit == 0 {
		n.end = n.wholeEnd
	}
	return n.end, unit
}

// A number is where the parts of a number stand in a text, before they are reckoned.
type number struct {
	whole    string   // figures with at most one point, or empty
	num, den string   // a fraction in figures, or empty
	vulgar   [2]int64 // a fraction in one character
	loose    bool     // the fraction stands apart from the whole number, which ends at wholeEnd
	wholeEnd int
	end      int // zero where there is no number
}

// readNumber finds the longest number at the beginning of text.
func readNumber(text string) number {
	if f, size := vulgarAt(text); size > 0 {
		return number{vulgar: f, end: size}
	}
	i := figures(text)
	if j := figures(after(text, i, ".")); j > 0 { // 12.5, .5
		return number{whole: text[:i+1+j], end: i + 1 + j}
	}
	if i == 0 {
		return number{}
	}
	if num, den, end := fractionAt(text); end > 0 { // 3/16
		return number{num: num, den: den, end: end}
	}
	n := number{whole: text[:i], wholeEnd: i, end: i}
	gap := gapLen(text[i:])
	if f, size := vulgarAt(text[i+gap:]); size > 0 { // 8½, 8 ½
		n.vulgar, n.end, n.loose = f, i+gap+size, gap > 0
	} else if num, den, end := fractionAt(text[i+gap:]); gap > 0 && end > 0 { // 5 3/16
		n.num, n.den, n.end, n.loose = num, den, i+gap+end, true
	}
	return n
}

// value reckons the number; text is what an error quotes.
func (n number) value(text string) (*big.Rat, error) {
	if len(n.whole)+len(n.num)+len(n.den) > maxDigits {
		return nil, BadNumberError{text, "more figures than any measure needs"}
	}
	v := new(big.Rat)
	if n.whole != "" {
		v.SetString(n.whole) // figures and a point: readNumber saw to it
	}
	switch {
	case n.vulgar[1] != 0:
		v.Add(v, big.NewRat(n.vulgar[0], n.vulgar[1]))
	case n.den != "":
		f, ok := new(big.Rat).SetString(n.num + "/" + n.den)
		if !ok { // the one thing that can be wrong with it
			return nil, BadNumberError{text, "nothing can be parted by 0"}
		}
		v.Add(v, f)
	}
	return v, nil
}

func figures(text string) int {
	i := 0
	for i < len(text) && text[i] >= '0' && text[i] <= '9' {
		i++
	}
	return i
}

// after is what follows sep at offset i, empty where sep does not stand there.
func after(text string, i int, sep string) string {
	rest, ok := strings.CutPrefix(text[i:], sep)
	if !ok {
		return ""
	}
	return rest
}

// fractionAt reads a fraction such as 3/16, with a slash or the fraction slash that some keyboards give.
func fractionAt(text string) (num, den string, end int) {
	i := figures(text)
	if i == 0 {
		return "", "", 0
	}
	for _, slash := range []string{"/", "⁄"} {
		if j := figures(after(text, i, slash)); j > 0 {
			d := i + len(slash)
			return text[:i], text[d : d+j], d + j
		}
	}
	return "", "", 0
}

func vulgarAt(text string) (fraction [2]int64, size int) {
	r, size := utf8.DecodeRuneInString(text)
	fraction, ok := vulgar[r]
	if !ok {
		return fraction, 0
	}
	return fraction, size
}

// gapLen is the length of what may part a whole number from its fraction: one hyphen, or spaces.
func gapLen(text string) int {
	if strings.HasPrefix(text, "-") {
		return 1
	}
	return spaces(text)
}

// spaces counts the bytes of blank at the beginning of text; the no-break spaces come with pasted figures.
func spaces(text string) int {
	return len(text) - len(strings.TrimLeft(text, " \t\u00a0\u2009\u202f"))
}

// unitRun is the length of what stands for a unit: letters, or a sign, or an inch mark. The x of a size is not counted.
func unitRun(text string) int {
	for _, mark := range inchMarks {
		if strings.HasPrefix(text, mark) {
			return len(mark)
		}
	}
	end := 0
	for end < len(text) {
		r, size := utf8.DecodeRuneInString(text[end:])
		if !unicode.IsLetter(r) && r != '%' && r != '°' {
			break
		}
		end += size
	}
	if end > 0 && text[end-1] == 'x' && beginsNumber(text[end+spaces(text[end:]):]) {
		if _, known := byName(text[:end-1]); known || end == 1 {
			end--
		}
	}
	return end
}

func beginsNumber(text string) bool { return readNumber(text).end > 0 }
