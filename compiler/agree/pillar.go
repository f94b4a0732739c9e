package agree

import (
	"math/big"
	"unicode"

	"headcap/compiler/model"
)

// Leadings, in caps from baseline to baseline. (Choices: the second opens a pillar by about as much as lies between the
// stems of a word, so that it still reads as one.)
var (
	lineLeading   = big.NewRat(7, 4)
	pillarLeading = big.NewRat(27, 20)
)

func (s *Slot) leading(way model.Way) *big.Rat {
	switch {
	case s.Letter.Leading != nil:
		return s.Letter.Leading
	case way == model.Pillar:
		return pillarLeading
	}
	return lineLeading
}

// fitPillar finds the largest pillar: its widest letter fits the width, and all of them the height.
func (s *Slot) fitPillar(text Text) (fit, error) {
	out := fit{way: model.Pillar, text: text.Text, lines: stacked(text.Text), style: s.style(text.Text)}
	if out.lines == nil {
		return out, nil
	}
	most := s.Letter.Most.Nanometres()
	out.cap = min(most, heightCap(s.Height, len(out.lines), s.leading(model.Pillar)))
	for _, l := range out.lines {
		if l == "" {
			continue
		}
		p, err := s.Face.Proportions(l, out.style)
		if err != nil {
			return fit{}, err
		}
		out.cap = min(out.cap, p.CapFor(s.Width))
	}
	if out.cap != most {
		out.cap -= out.cap % step
	}
	return out, nil
}

// stacked parts a text into the letters of a pillar, accents staying with theirs; a space takes the place of a letter and is
// empty, as Cockerell (1901, p. 219) counts it. It is nil for a script whose letters are joined in writing: they cannot stand
// one under another.
func stacked(text string) []string {
	var out []string
	for _, r := range text {
		switch {
		case unicode.In(r, unicode.Arabic, unicode.Syriac, unicode.Mongolian, unicode.Nko, unicode.Mandaic, unicode.Adlam):
			return nil
		case unicode.IsSpace(r):
			if len(out) > 0 && out[len(out)-1] != "" {
				out = append(out, "")
			}
		case unicode.In(r, unicode.M, unicode.Cf) && len(out) > 0 && out[len(out)-1] != "":
			out[len(out)-1] += string(r)
		default:
			out = append(out, string(r))
		}
	}
	if n := len(out); n > 0 && out[n-1] == "" {
		out = out[:n-1]
	}
	return out
}
