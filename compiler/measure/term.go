// Package measure reckons what the hand has not measured: boards, faces, spine, bands and panels, from the block, the
// binding and the leather. Every figure keeps how it was come by.
package measure

import (
	"fmt"
	"io"
	"math/big"
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

// Print writes the term and, further in, what it is made of, finely enough for its sum to be done again from what is
// printed.
func (t *Term) Print(w io.Writer, indent string) {
	fmt.Fprintf(w, "%s%-*s %11s", indent, max(1, 30-len(indent)), t.Name, t.Length.Fine())
	why := t.Why
	if t.Plan != nil {
		why = strings.TrimPrefix(why+", "+t.OffPlan(), ", ")
	}
	switch {
	case t.How != "":
		fmt.Fprintf(w, "  = %s", t.How)
	case t.Figure.Note != "" && !strings.HasPrefix(t.Figure.Note, t.Name):
		fmt.Fprintf(w, "  %s: %s", t.State(), t.Figure.Note)
	default:
		fmt.Fprintf(w, "  %s", t.State())
	}
	if why != "" {
		fmt.Fprintf(w, " (%s)", why)
	}
	fmt.Fprintln(w)
	for _, p := range t.Parts {
		p.Print(w, indent+"  ")
	}
	if t.Plan != nil {
		p := *t.Plan
		p.Name = "as planned"
		p.Print(w, indent+"  ")
	}
}

// OffPlan says how far a figure that was measured again lies from its plan.
func (t *Term) OffPlan() string {
	off := t.Length.Sub(t.Plan.Length).As(t.Plan.Length.Shown())
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
