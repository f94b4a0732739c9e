package agree

import (
	"math/big"
	"strings"
	"unicode/utf8"

	"headcap/compiler/model"
	"headcap/lang/unit"
)

// A Derivation is how the size of lettering came about. Sizes are caps, and all lengths in nanometres.
type Derivation struct {
	Setting
	Along, Across int64 // the room along the lines, and across them
	Most          int64 // the most that is said
	ByWidth       int64 // at which the line that fills the room first does so
	Fills         string
	Stack         *big.Rat // caps from the head of the first line to the foot of the last
	ByHeight      unit.Length
	Gauge         Gauge
}

// A Gauge is what a handbook reckons by: a row of E's at the size that is wished for, and the longest word, whose letters are
// taken to be as wide (Cockerell 1901/1910, pp. 217-218). The sizes that are used are reckoned from the letters themselves.
type Gauge struct {
	E       int64 // an E with the space beside it, at the most that is said
	Fit     int   // so many fit the room
	Word    string
	Letters int // of the word
}

// Derive tells how a slot's size came about, or, where it has none, how far it would reach.
func (s *Slot) Derive(set Setting) (Derivation, error) {
	if !set.OK {
		f, _, err := s.best()
		if err != nil {
			return Derivation{}, err
		}
		set = Setting{Way: f.way, Cap: f.cap, Text: f.text, Lines: f.lines, Style: f.style}
		if f.lines == nil {
			set.Way, set.Text = s.ways()[0], s.Texts[0].Text
			set.Style = s.style(set.Text)
		}
	}
	d := Derivation{Setting: set, Along: s.Width, Across: s.Height, Most: s.Letter.Most.Nanometres()}
	switch set.Way {
	case model.Down, model.Up:
		d.Along, d.Across = s.Height, s.Width
	}
	for _, l := range set.Lines {
		if l == "" {
			continue
		}
		p, err := s.Face.Proportions(l, set.Style)
		if err != nil {
			return Derivation{}, err
		}
		if c := p.CapFor(d.Along); d.Fills == "" || c < d.ByWidth {
			d.Fills, d.ByWidth = l, c
		}
	}
	if n := len(set.Lines); n > 0 {
		d.Stack = new(big.Rat).Mul(s.leading(set.Way), big.NewRat(int64(n-1), 1))
		d.Stack.Add(d.Stack, big.NewRat(1, 1))
		d.ByHeight = unit.Nanometres(d.Across).MulRat(new(big.Rat).Inv(d.Stack))
	}
	if set.Way == model.Pillar {
		return d, nil
	}
	for _, w := range strings.Fields(set.Text) {
		if n := utf8.RuneCountInString(w); n > d.Gauge.Letters {
			d.Gauge.Word, d.Gauge.Letters = w, n
		}
	}
	one, err := s.Face.Proportions("E", set.Style)
	two, err2 := s.Face.Proportions("EE", set.Style)
	if err == nil && err2 == nil && d.Most >= two.LeastThickened() { // else there is no E, or none at that size, to gauge by
		d.Gauge.E = two.Width(d.Most) - one.Width(d.Most)
		d.Gauge.Fit = int(d.Along / d.Gauge.E)
	}
	return d, nil
}
