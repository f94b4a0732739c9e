// Package measure reckons what the hand has not measured: boards, faces, spine, bands and panels, from the block, the
// binding and the leather. Every figure keeps how it was come by.
package measure

import (
	"fmt"
	"io"
	"math/big"
	"slices"
	"strings"

	"headcap/compiler/model"
	"headcap/lang/unit"
)

// A Term is a length and how it was come by: said by somebody, or a sum of other terms. How is that sum as it is written,
// every name in it being that of one of Parts; Why is a remark on it.
type Term struct {
	Name   string
	Length unit.Length
	How    string // empty where the figure stands by itself
	Why    string
	Parts  []*Term
	Figure model.Figure
	Plan   *Term // what was planned, of a figure that was measured again on the covered book
}

func given(name string, f model.Figure) *Term {
	return &Term{Name: name, Length: f.Length, Figure: f}
}

// A piece of a sum: so many times a term.
type piece struct {
	times *big.Rat
	term  *Term
}

func plus(t *Term) piece              { return times(1, t) }
func minus(t *Term) piece             { return times(-1, t) }
func times(n int64, t *Term) piece    { return piece{big.NewRat(n, 1), t} }
func share(r *big.Rat, t *Term) piece { return piece{r, t} }

var half = big.NewRat(1, 2)

// sum adds terms, and says so.
func sum(name string, shown unit.Unit, pieces ...piece) *Term {
	t := &Term{Name: name}
	var how strings.Builder
	total := unit.MM(0)
	for i, p := range pieces {
		total = total.Add(p.term.Length.MulRat(p.times))
		switch {
		case p.times.Sign() < 0:
			how.WriteString(" − ")
		case i > 0:
			how.WriteString(" + ")
		}
		if n := new(big.Rat).Abs(p.times); n.Cmp(big.NewRat(1, 1)) != 0 {
			how.WriteString(factor(n) + " × ")
		}
		how.WriteString(p.term.Name)
		t.Parts = append(t.Parts, p.term)
	}
	t.Length = total.As(shown)
	t.How = strings.TrimSpace(how.String())
	return t
}

// part divides a sum into n equal parts, and says so.
func part(name string, shown unit.Unit, n int64, pieces ...piece) *Term {
	t := sum(name, shown, pieces...)
	t.Length = t.Length.DivInt(n)
	if len(pieces) > 1 {
		t.How = "(" + t.How + ")"
	}
	t.How += fmt.Sprintf(" / %d", n)
	return t
}

// factor prints a number as a decimal where four places say it exactly, and as a fraction where they don't.
func factor(r *big.Rat) string {
	text := r.FloatString(4)
	if back, ok := new(big.Rat).SetString(text); !ok || back.Cmp(r) != 0 {
		return r.RatString()
	}
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// State says in a word where the figure came from.
func (t *Term) State() string {
	if t.How != "" {
		return "reckoned"
	}
	switch t.Figure.From {
	case model.Said:
		return "said of this volume"
	case model.OfSeries:
		return "said of the series"
	case model.OfPattern:
		return "said by the pattern"
	case model.Estimated:
		return "estimated"
	case model.Agreed:
		return "as it is set"
	case model.OnBook:
		return "measured on the covered book"
	case model.OfFirst:
		return "reckoned of the first volume"
	}
	return "by default"
}

// Assumed says whether the figure, or anything in it, is a default or an estimate.
func (t *Term) Assumed() bool {
	if t.How == "" {
		return t.Figure.From == model.Default || t.Figure.From == model.Estimated
	}
	for _, p := range t.Parts {
		if p.Assumed() {
			return true
		}
	}
	return false
}

// Print writes terms and, further in, what each is made of, finely enough for every sum to be done again from what is
// printed. What stands above already is not told again.
func Print(w io.Writer, indent string, terms ...*Term) {
	told := map[*Term]bool{}
	for _, t := range terms {
		t.print(w, indent, told)
	}
}

func (t *Term) print(w io.Writer, indent string, told map[*Term]bool) {
	fmt.Fprintf(w, "%s%-*s %11s", indent, max(1, 30-len([]rune(indent))), t.Name, t.Length.Fine())
	if told[t] {
		fmt.Fprintln(w, "  as above")
		return
	}
	told[t] = true
	switch note := t.Note(); {
	case t.How != "" && note != "":
		fmt.Fprintf(w, "  = %s (%s)\n", t.How, note)
	case t.How != "":
		fmt.Fprintf(w, "  = %s\n", t.How)
	case note != "":
		fmt.Fprintf(w, "  %s: %s\n", t.State(), note)
	default:
		fmt.Fprintf(w, "  %s\n", t.State())
	}
	for _, p := range t.Parts {
		p.print(w, indent+"  ", told)
	}
	if t.Plan != nil {
		p := *t.Plan
		p.Name = "as planned"
		p.print(w, indent+"  ", told)
	}
}

// Note is what there is to say of a figure beside its sum: a remark, where it was taken from, how far it lies from its plan.
func (t *Term) Note() string {
	var notes []string
	if f := t.Figure.Note; t.How == "" && !strings.HasPrefix(f, t.Name) && !strings.HasPrefix(t.Name, f) {
		notes = append(notes, t.Figure.Note)
	}
	notes = append(notes, t.Why)
	if t.Plan != nil {
		notes = append(notes, t.OffPlan())
	}
	notes = slices.DeleteFunc(notes, func(n string) bool { return n == "" })
	return strings.Join(notes, ", ")
}

// OffPlan says how far a figure that was measured again lies from its plan.
func (t *Term) OffPlan() string {
	off := t.Length.Sub(t.Plan.Length)
	switch off.Sign() {
	case 0:
		return "as planned"
	case 1:
		return off.String() + " more than planned"
	}
	return off.Neg().String() + " less than planned"
}

// leaves lists the figures that a term is made of in the end.
func (t *Term) leaves(f func(*Term)) {
	if len(t.Parts) == 0 {
		f(t)
	}
	for _, p := range t.Parts {
		p.leaves(f)
	}
}
