package agree

import (
	"errors"
	"math/big"
	"strings"
	"unicode/utf8"

	"headcap/compiler/lettering"
	"headcap/compiler/model"
)

// A fit is the largest setting of a slot in one way.
type fit struct {
	way   model.Way
	cap   int64
	text  string
	lines []string
	style lettering.Style
}

// step is what sizes are rounded down to: a hundredth of a millimetre.
const step = 10_000

// best finds the largest setting of a slot: each text and each way in turn, until one reaches the least size. reached is
// false where none does; then the largest of all is given, for the message.
func (s *Slot) best() (f fit, reached bool, err error) {
	least := s.Letter.Least.Nanometres()
	for _, text := range s.Texts {
		for _, way := range s.ways() {
			g, e := s.fitWay(text, way)
			if e != nil {
				return f, false, e
			}
			if g.cap >= least && g.cap > 0 {
				return g, true, nil
			}
			if g.cap > f.cap {
				f = g
			}
		}
	}
	return f, false, nil
}

func (s *Slot) ways() []model.Way {
	switch {
	case s.Cover:
		return []model.Way{model.Across}
	case s.Letter.Ways != nil:
		return s.Letter.Ways
	case s.Way != model.WayUnsaid:
		return []model.Way{s.Way}
	}
	return []model.Way{model.Across, model.Down}
}

// fitWay takes, of the allowed counts of lines, the one with the largest size; within 10 %, the fewest.
func (s *Slot) fitWay(text Text, way model.Way) (fit, error) {
	if way == model.Pillar {
		return s.fitPillar(text)
	}
	w, h := s.Width, s.Height
	if way != model.Across {
		w, h = h, w
	}
	style := s.style(text.Text)
	words := together(strings.Fields(text.Text))
	least, most := s.Letter.LinesLeast, min(s.Letter.LinesMost, len(words))
	var breaks [][]string
	if text.Lines != nil {
		breaks = [][]string{text.Lines}
	} else {
		widths, err := s.widths(words, style)
		if err != nil {
			return fit{}, err
		}
		for n := min(least, len(words)); n <= most; n++ {
			breaks = append(breaks, broken(words, widths, n))
		}
	}
	var out fit
	for _, lines := range breaks {
		size := min(s.Letter.Most.Nanometres(), heightCap(h, len(lines), s.leading(way)))
		for _, l := range lines {
			p, err := s.Face.Proportions(l, style)
			if err != nil {
				return fit{}, err
			}
			size = min(size, p.CapFor(w))
		}
		if size != s.Letter.Most.Nanometres() {
			size -= size % step
		}
		// Fewest lines first: more lines must be worth a tenth.
		if size > out.cap+out.cap/10 {
			out = fit{way, size, text.Text, lines, style}
		}
	}
	return out, nil
}

// together binds an initial to what follows it: "E. Marrable" is not broken.
func together(words []string) []string {
	var out []string
	for i := 0; i < len(words); i++ {
		w := words[i]
		for i+1 < len(words) && strings.HasSuffix(words[i], ".") && utf8.RuneCountInString(words[i]) == 2 {
			i++
			w += " " + words[i]
		}
		out = append(out, w)
	}
	return out
}

// style is how the slot's letters are made. They are opened for the least size that may come out, where they are grown most.
func (s *Slot) style(text string) lettering.Style {
	st := lettering.Style{SpacedMille: s.Letter.Spaced, Whole: s.Whole}
	if st.Whole == "" {
		st.Whole = text
	}
	switch s.Letter.Capitals {
	case "":
		st.Capitals = true
	case "small":
		st.SmallCapitals = true
	}
	limits := s.Film.Limits
	if !s.Letter.Plain {
		st.ThickenTo = limits.LetterStroke + finer
		if t := s.Letter.Thickened; t != nil {
			st.ThickenTo = t.Nanometres() + finer
		}
	}
	if p, err := s.Face.Proportions(text, st); err == nil {
		st.LeastGap, st.LeastGapAt = limits.LetterGap+finer, max(s.Letter.Least.Nanometres(), p.LeastThickened())
	}
	return st
}

// finer is added to the widths that film asks for, so that what is written on the grid of a micrometre still has them.
const finer = 5_000

// widths gives the width of every stretch of neighbouring words, at one size, to compare breaks by.
func (s *Slot) widths(words []string, style lettering.Style) ([][]int64, error) {
	const reference = 4_000_000
	out := make([][]int64, len(words))
	for i := range words {
		out[i] = make([]int64, len(words)+1)
		for j := i + 1; j <= len(words); j++ {
			p, err := s.Face.Proportions(strings.Join(words[i:j], " "), style)
			if err != nil {
				return nil, err
			}
			out[i][j] = p.Width(max(reference, p.LeastThickened()))
		}
	}
	return out, nil
}

// broken parts words into n lines so that the widest is as narrow as can be, and of such breaks the one whose lines are
// most alike in width.
func broken(words []string, widths [][]int64, n int) []string {
	type cost struct {
		widest int64
		square float64
		from   int
	}
	better := func(a, b cost) bool {
		return a.widest < b.widest || a.widest == b.widest && a.square < b.square
	}
	m := len(words)
	table := make([][]cost, n+1)
	for k := range table {
		table[k] = make([]cost, m+1)
		for j := range table[k] {
			table[k][j].from = -1
		}
	}
	table[0][0] = cost{from: 0}
	for k := 1; k <= n; k++ {
		for j := k; j <= m; j++ {
			for i := k - 1; i < j; i++ {
				p := table[k-1][i]
				if p.from < 0 {
					continue
				}
				w := widths[i][j]
				c := cost{max(p.widest, w), p.square + float64(float64(w)*float64(w)), i}
				if table[k][j].from < 0 || better(c, table[k][j]) {
					table[k][j] = c
				}
			}
		}
	}
	lines := make([]string, n)
	for k, j := n, m; k > 0; k-- {
		i := table[k][j].from
		lines[k-1] = strings.Join(words[i:j], " ")
		j = i
	}
	return lines
}

// heightCap is the largest cap of so many lines that fits a height: cap · (1 + (n − 1) · leading).
func heightCap(height int64, lines int, leading *big.Rat) int64 {
	f := new(big.Rat).Mul(leading, big.NewRat(int64(lines-1), 1))
	f.Add(f, big.NewRat(1, 1))
	q := new(big.Rat).Quo(big.NewRat(height, 1), f)
	return new(big.Int).Div(q.Num(), q.Denom()).Int64()
}

// fault tells whether an error is the text's own.
func fault(err error) (*lettering.Fault, bool) {
	var f *lettering.Fault
	ok := errors.As(err, &f)
	return f, ok
}
