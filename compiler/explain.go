package compiler

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"

	"headcap/compiler/measure"
	"headcap/lang/diag"
)

// An Explanation is how the figures of volumes were come by. As JSON its shape is stable: members may be added, and none
// changes its meaning or goes.
type Explanation struct {
	Volumes []ExplainedVolume `json:"volumes"`
	All     []string          `json:"-"` // what the volumes of the source are called, asked for or not
}

// An ExplainedVolume is one volume: its key, its number in a series (0 for none), what it is called, its figures, what is to
// be cut for it by hand, and how much film stands on its faces.
type ExplainedVolume struct {
	Key        string      `json:"volume"`
	Number     int         `json:"number,omitempty"`
	Title      string      `json:"title"`
	Quantities []Quantity  `json:"quantities"`
	Cut        []HandCut   `json:"cut,omitempty"`
	Film       []FilmShare `json:"film,omitempty"`

	terms []*measure.Term
}

// A Quantity is a length by its name. Shown is how its author would write it; State says where it came from, in a few words
// (reckoned, said of this volume, by default …); How is its sum, in which every name is that of one of Parts; Note is a
// remark; Planned is what was planned before the covered book was measured.
type Quantity struct {
	Name       string     `json:"name"`
	Nanometres int64      `json:"nanometres"`
	Shown      string     `json:"shown"`
	State      string     `json:"state"`
	How        string     `json:"how,omitempty"`
	Note       string     `json:"note,omitempty"`
	Parts      []Quantity `json:"parts,omitempty"`
	Planned    *Quantity  `json:"planned,omitempty"`
}

// A HandCut is so many pieces of one size, cut from board or leather. Grain is "head to tail" where it matters; Nick is taken
// off each back corner, both ways.
type HandCut struct {
	Name  string    `json:"name"`
	Count int       `json:"count"`
	Tall  Quantity  `json:"tall"`
	Wide  Quantity  `json:"wide"`
	Thick *Quantity `json:"thick,omitempty"`
	Grain string    `json:"grain,omitempty"`
	Nick  *Quantity `json:"nick,omitempty"`
}

// Explain tells the figures of a source's volumes with how they were come by. volume is a number, a title or a folder name,
// empty for all; quantity is words out of the name of a figure, empty for all.
func Explain(ctx context.Context, fsys fs.FS, entry, volume, quantity string) (*Explanation, *diag.List) {
	s := laidOut(fsys, entry)
	out := &Explanation{Volumes: []ExplainedVolume{}}
	asked := *s
	asked.books = nil
	for _, b := range s.books {
		out.All = append(out.All, b.model.Name)
		if volume == "" || fmt.Sprint(b.model.Number) == volume || strings.EqualFold(b.model.Name, volume) || b.model.Slug == volume {
			asked.books = append(asked.books, b)
		}
	}
	// Only film wants its outlines; a stop on the way is told by whoever gave the context.
	if quantity == "" || strings.Contains(quantity, "film") {
		_ = asked.cut(ctx)
	}
	for _, b := range asked.books {
		v := ExplainedVolume{Key: b.model.Key, Number: b.model.Number, Title: b.model.Name, Quantities: []Quantity{}}
		for _, t := range append(b.figures(), b.letterTerms(&s.set.Shelf, s.shared)...) {
			if named(t.Name, quantity) {
				v.terms, v.Quantities = append(v.terms, t), append(v.Quantities, quantityOf(t))
			}
		}
		for _, c := range measure.CutList(b.model, b.widths) {
			if named("cut: "+c.Name, quantity) {
				v.Cut = append(v.Cut, handCut(c))
			}
		}
		for _, c := range b.cuts {
			if named("film: "+c.Film+" on "+c.Face, quantity) {
				v.Film = append(v.Film, filmShare(c))
			}
		}
		if len(v.Quantities) > 0 || len(v.Cut) > 0 || len(v.Film) > 0 || quantity == "" {
			out.Volumes = append(out.Volumes, v)
		}
	}
	return out, s.list
}

// figures lists everything that is reckoned of a volume, in the order in which a binder would ask for it.
func (b *book) figures() []*measure.Term {
	if b.model.Spoilt {
		return nil
	}
	w := b.widths
	out := []*measure.Term{w.BoardTall, w.BoardWide, w.SpineTall, w.SpineWide, w.InSight, w.OnShelf, w.EdgeClear, w.CapClear, w.JointClear}
	for _, d := range b.spine.Bands {
		out = append(out, d.Centre)
	}
	out = append(out, b.spine.Marks...)
	for _, p := range b.spine.Panels {
		out = append(out, p.Tall)
	}
	out = append(out, b.spine.PanelWide)
	for _, c := range measure.CutList(b.model, b.widths) {
		if c.Tall != w.BoardTall {
			out = append(out, c.Tall)
		}
		if c.Wide != w.BoardWide {
			out = append(out, c.Wide)
		}
	}
	return slices.DeleteFunc(out, func(t *measure.Term) bool { return t == nil })
}

// named says whether every word that is asked for stands in a name. The nouns do for the adjectives.
func named(name, asked string) bool {
	plain := strings.NewReplacer(",", "", ":", "", "width", "wide", "height", "tall", "thickness", "thick")
	words := strings.Fields(plain.Replace(name))
	for w := range strings.FieldsSeq(plain.Replace(strings.ToLower(asked))) {
		if !slices.ContainsFunc(words, func(n string) bool { return n == w || n == w+"s" }) {
			return false
		}
	}
	return true
}

func quantityOf(t *measure.Term) Quantity {
	q := Quantity{Name: t.Name, Nanometres: t.Length.Nanometres(), Shown: t.Length.Fine(), State: t.State(), How: t.How, Note: t.Note()}
	for _, p := range t.Parts {
		q.Parts = append(q.Parts, quantityOf(p))
	}
	if t.Plan != nil {
		p := quantityOf(t.Plan)
		q.Planned = &p
	}
	return q
}

func handCut(c measure.Cut) HandCut {
	out := HandCut{Name: c.Name, Count: c.Count, Tall: quantityOf(c.Tall), Wide: quantityOf(c.Wide)}
	if c.Thick != nil {
		q := quantityOf(c.Thick)
		out.Thick = &q
	}
	if c.GrainHeadToTail {
		out.Grain = "head to tail"
	}
	if c.NickAtBackCorner != nil {
		q := quantityOf(c.NickAtBackCorner)
		out.Nick = &q
	}
	return out
}

// WriteText prints the explanation for people: each figure with its sum, and further in what it is made of.
func (e *Explanation) WriteText(w io.Writer) error {
	var out strings.Builder
	for i, v := range e.Volumes {
		if i > 0 {
			out.WriteString("\n")
		}
		if v.Number > 0 {
			fmt.Fprintf(&out, "%d  ", v.Number)
		}
		fmt.Fprintln(&out, v.Title)
		measure.Print(&out, "  ", v.terms...)
		for _, c := range v.Cut {
			fmt.Fprintf(&out, "  cut: %d %s, %s\n", c.Count, c.Name, c.size())
		}
		for _, f := range v.Film {
			fmt.Fprintf(&out, "  film: %s\n", f)
		}
	}
	_, err := io.WriteString(w, out.String())
	return err
}

// size tells the size of a piece, tall before wide.
func (c HandCut) size() string {
	text := c.Tall.Shown + " tall x " + c.Wide.Shown + " wide"
	if c.Thick != nil {
		text += " x " + c.Thick.Shown + " thick"
	}
	if c.Grain != "" {
		text += ", grain " + c.Grain
	}
	if c.Nick != nil {
		text += ", nicked " + c.Nick.Shown + " each way at the back corners"
	}
	return text
}
