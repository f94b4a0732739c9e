package parse

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"headcap/lang/diag"
	"headcap/lang/unit"
)

// signHere is the length of a sign that belongs to the number after it: one that touches nothing before it.
func (s *scanner) signHere() int {
	c := s.text[s.pos]
	touches := s.prevEnd == s.pos && (s.prev.operand() || s.prev == String || s.prev == Date || s.prev == Colour)
	if (c == '-' || c == '+') && !touches {
		return 1
	}
	return 0
}

func (s *scanner) numberHere() bool {
	if c := s.text[s.pos]; c > '9' && c < utf8.RuneSelf { // most of a text; spares the look into it
		return false
	}
	n, _ := unit.Scan(s.text[s.pos+s.signHere():])
	return n > 0
}

// number takes a date, or a number with its sign and its unit in one piece.
func (s *scanner) number() (Kind, int) {
	if end, ok := s.date(); ok {
		return Date, end
	}
	sign := s.signHere()
	rest := s.text[s.pos+sign:]
	n, u := unit.Scan(rest)
	end := s.pos + sign + n + u
	if m, v := s.decimalComma(rest, n, u); m > 0 {
		end = s.pos + sign + m + v
		s.tellDecimalComma(end)
		u = v
		n = m
	}
	if unit.InchMark(rest[n : n+u]) {
		s.tellInchMark(end, u)
	}
	// What runs on is taken along, so that the reader of numbers tells of it as a whole.
	if r, _ := utf8.DecodeRuneInString(s.text[end:]); r == '.' || r >= '0' && r <= '9' || r == '_' {
		end += runsOn(s.text[end:])
		return Measure, end
	}
	if u == 0 {
		return Number, end
	}
	return Measure, end
}

func runsOn(text string) int {
	n := strings.IndexFunc(text, func(r rune) bool {
		return r != '.' && r != '_' && r != '%' && (r < '0' || r > '9') && (r < 'a' || r > 'z') && (r < 'A' || r > 'Z')
	})
	if n < 0 {
		return len(text)
	}
	return n
}

func isInchMark(r rune) bool { return unit.InchMark(string(r)) }

func (s *scanner) tellInchMark(end, size int) {
	mark := s.span(end-size, end)
	s.told.add(diag.Diagnostic{
		Code: "inch-mark", At: s.span(s.pos, end),
		Message: fmt.Sprintf("%s after a figure is no unit", mark.Text()),
		Try:     []string{"write " + plainNumber(s.text[s.pos:end])},
		Fix:     &diag.Fix{At: mark, With: "in"},
	})
}

// decimalComma finds a number with a comma for its point at the beginning of text, of which n and u are the first number and
// its unit: figures, a comma and figures that touch, with a unit at the end (12,5mm), or nought before it (0,45). Anything
// else is a list: 1,3,5.
func (s *scanner) decimalComma(text string, n, u int) (number, unitLen int) {
	if u > 0 || !allFigures(text[:n]) || !strings.HasPrefix(text[n:], ",") || s.prev == Comma && s.prevEnd == s.pos {
		return 0, 0
	}
	m, v := unit.Scan(text[n+1:])
	if m == 0 || !allFigures(text[n+1:n+1+m]) {
		return 0, 0
	}
	if v == 0 && (text[:n] != "0" || strings.HasPrefix(text[n+1+m:], ",")) {
		return 0, 0
	}
	return n + 1 + m, v
}

func (s *scanner) tellDecimalComma(end int) {
	text := s.text[s.pos:end]
	comma := s.pos + strings.IndexByte(text, ',')
	d := diag.Diagnostic{
		Code: "decimal-comma", At: s.span(s.pos, end),
		Message: "a comma parts the items of a list, not the figures of a number",
		Try:     []string{"use a point: " + plainNumber(text)},
		Fix:     &diag.Fix{At: s.span(comma, comma+1), With: "."},
	}
	if whole, after, _ := strings.Cut(text, ","); len(after)-len(strings.TrimLeft(after, "0123456789")) == 3 && whole != "0" {
		d.Try = append(d.Try, "or, for thousands, "+plainNumber(whole+after))
		d.Fix = nil // one of the two is wrong a thousandfold
	}
	s.told.add(d)
}

// date takes a day such as 2026-05-03, and complains where it is none.
func (s *scanner) date() (end int, ok bool) {
	rest := s.text[s.pos:]
	i := 0
	for part, width := range []int{4, 2, 2} {
		if part > 0 {
			if !strings.HasPrefix(rest[i:], "-") {
				return 0, false
			}
			i++
		}
		n := len(rest[i:]) - len(strings.TrimLeft(rest[i:], "0123456789"))
		if n == 0 || n > width || part == 0 && n < width {
			return 0, false
		}
		i += n
	}
	if r, _ := utf8.DecodeRuneInString(rest[i:]); isLetter(r) || r == '/' || r == '%' {
		return 0, false
	}
	if !isDay(rest[:i]) {
		s.told.add(diag.Diagnostic{
			Code: "bad-date", At: s.span(s.pos, s.pos+i),
			Message: fmt.Sprintf("%s is no day", rest[:i]),
			Try:     []string{"write year, month and day in 4, 2 and 2 figures: 2026-05-03"},
		})
	}
	return s.pos + i, true
}

// isDay says whether YYYY-MM-DD is a day of the Gregorian calendar.
func isDay(text string) bool {
	if len(text) != len("2006-01-02") {
		return false
	}
	part := strings.Split(text, "-")
	var n [3]int
	for i := range n {
		for _, c := range part[i] {
			n[i] = n[i]*10 + int(c-'0')
		}
	}
	year, month, day := n[0], n[1], n[2]
	days := []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	if month < 1 || month > 12 {
		return false
	}
	last := days[month-1]
	if month == 2 && (year%4 == 0 && year%100 != 0 || year%400 == 0) {
		last++
	}
	return day >= 1 && day <= last
}

func allFigures(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }
