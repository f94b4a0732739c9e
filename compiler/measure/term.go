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

// A Term is a length and how it was come by: said by somebody, or a sum of other terms. How is the sum in words.
type Term struct {
	Name   string
	Length unit.Length
	How    string // empty where the figure stands by itself
	Parts  []*Term
	Figure model.Figure
}

func given(name string, f model.Figure) *Term {
	return &Term{Name: name, Length: f.Length, Figure: f}
}

// A piece of a sum: so many times a term.
type piece struct {
	times int64
	term  *Term
}

// sum adds terms, and says so.
func sum(name string, shown unit.Unit, pieces ...piece) *Term {
	t := &Term{Name: name}
	var how strings.Builder
	total := unit.MM(0)
	for i, p := range pieces {
		total = total.Add(p.term.Length.MulRat(big.NewRat(p.times, 1)))
		switch {
		case p.times < 0:
			how.WriteString(" − ")
		case i > 0:
			how.WriteString(" + ")
		}
		if n := max(p.times, -p.times); n != 1 {
			fmt.Fprintf(&how, "%d × ", n)
		}
		how.WriteString(p.term.Name)
		t.Parts = append(t.Parts, p.term)
	}
	t.Length = total.As(shown)
	t.How = strings.TrimSpace(how.String())
	return t
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

// Print writes the term and, further in, what it is made of.
func (t *Term) Print(w io.Writer, indent string) {
	fmt.Fprintf(w, "%s%-*s %9s", indent, max(1, 30-len(indent)), t.Name, t.Length)
	switch {
	case t.How != "":
		fmt.Fprintf(w, "  = %s\n", t.How)
	case t.Figure.Note != "" && !strings.HasPrefix(t.Figure.Note, t.Name):
		fmt.Fprintf(w, "  %s: %s\n", t.State(), t.Figure.Note)
	default:
		fmt.Fprintf(w, "  %s\n", t.State())
	}
	for _, p := range t.Parts {
		p.Print(w, indent+"  ")
	}
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
