package compiler

import (
	"fmt"
	"math/big"
	"strings"

	"headcap/compiler/agree"
	"headcap/compiler/measure"
	"headcap/compiler/model"
	"headcap/lang/unit"
)

// letterTerms tells how each size of lettering of a volume came about: which line or word decides it, or the height, or the set.
func (b *book) letterTerms(shelf *model.Shelf, shared []agree.Shared) []*measure.Term {
	if b.plan == nil {
		return nil
	}
	var out []*measure.Term
	for i := range b.plan.Slots {
		s := &b.plan.Slots[i]
		if d, err := s.Derive(b.set[i]); err == nil { // else the text cannot be set, and that has been told
			out = append(out, letterTerm(s, d, shelf, shared))
		}
	}
	return out
}

func letterTerm(s *agree.Slot, d agree.Derivation, shelf *model.Shelf, shared []agree.Shared) *measure.Term {
	shown := s.Letter.Least.Shown()
	term := func(name string, nm int64, note string) *measure.Term {
		return &measure.Term{Name: name, Length: unit.Nanometres(nm).As(shown), Figure: model.Figure{From: model.Agreed, Note: note}}
	}
	what := "the " + s.Letter.What
	if s.Letter.What == "" {
		what = "«" + s.Letter.Text + "»"
	}
	along, across := "wide", "tall"
	if d.Way == model.Down || d.Way == model.Up {
		along, across = across, along
	}
	room := term("room "+along, d.Along, "what "+s.Where+" leaves for lettering")
	high := term("room "+across, d.Across, "what "+s.Where+" leaves for lettering")

	// Of equal sizes the first decides.
	parts := []*measure.Term{term("the most", d.Most, "the greatest cap, as said or by default")}
	decided, size := "the most that is said", d.Most
	if d.Fills != "" {
		if d.ByWidth < size {
			decided, size = fmt.Sprintf("«%s», which fills the room %s", d.Fills, along), d.ByWidth
		}
		t := term("by the room "+along, d.ByWidth, fmt.Sprintf("where «%s» fills it", d.Fills))
		t.Parts = []*measure.Term{room}
		tall := &measure.Term{Name: "by the room " + across, Length: d.ByHeight.As(shown), How: high.Name, Parts: []*measure.Term{high}}
		if len(d.Lines) > 1 {
			tall.How += " / " + exact(d.Stack)
		}
		if d.ByHeight.Nanometres() < size {
			decided, size = "the room "+across, d.ByHeight.Nanometres()
		}
		parts = append(parts, t, tall)
	}
	for _, sh := range shared {
		if !s.Letter.Same || sh.Series != s.Series || sh.Key != s.Key || s.Apart {
			continue
		}
		note := "the most that is said"
		if sh.SetBy >= 0 {
			note = "set by " + agree.VolumeName(shelf.Volumes[sh.SetBy])
		}
		parts = append(parts, term("of the set", sh.Size, note))
		if sh.Size < size && sh.SetBy != s.Volume {
			decided = "the set"
		}
	}
	if g := d.Gauge; g.Fit > 0 && g.Letters > 1 {
		note := fmt.Sprintf("at the most; %d fit by the gauge, and the longest word, «%s», has %d letters", g.Fit, g.Word, g.Letters)
		if g.Letters > g.Fit {
			note += fmt.Sprintf(": %d/%d = %.4f of the size", g.Fit, g.Letters, float64(g.Fit)/float64(g.Letters))
		}
		parts = append(parts, term("an E and its space", g.E, note), &measure.Term{
			Name: "to a letter", Length: room.Length.DivInt(int64(g.Letters)), How: fmt.Sprintf("%s / %d", room.Name, g.Letters), Parts: []*measure.Term{room},
		})
	}
	out := term(fmt.Sprintf("letters of %s, %s", what, s.Where), d.Cap, fmt.Sprintf("caps of %s, %s; %s decides", text(d), d.Way, decided))
	if d.Cap < s.Letter.Least.Nanometres() {
		out.Figure.Note += fmt.Sprintf(", and the least is %s", s.Letter.Least)
	}
	out.Parts = parts
	return out
}

// text is the lettering as it stands, line by line.
func text(d agree.Derivation) string {
	if d.Way == model.Pillar || d.Lines == nil {
		return "«" + d.Text + "»"
	}
	return "«" + strings.Join(d.Lines, " / ") + "»"
}

// exact writes a number as a decimal where four places say it, else as a fraction.
func exact(r *big.Rat) string {
	text := r.FloatString(4)
	if back, ok := new(big.Rat).SetString(text); !ok || back.Cmp(r) != 0 {
		return "(" + r.RatString() + ")"
	}
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}
