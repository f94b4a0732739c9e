package compiler

import (
	"context"
	"fmt"
	"io/fs"
	"strings"

	"headcap/compiler/measure"
	"headcap/lang/diag"
)

// Explain tells every measure of a volume with how it was come by. volume is a number, a title or a folder name, empty for
// all; quantity is part of the name of a measure, empty for all.
func Explain(_ context.Context, fsys fs.FS, entry, volume, quantity string) (string, *diag.List) {
	s := laidOut(fsys, entry)
	var out strings.Builder
	for _, b := range s.books {
		if volume != "" && fmt.Sprint(b.model.Number) != volume && !strings.EqualFold(b.model.Name, volume) && b.model.Slug != volume {
			continue
		}
		title := b.model.Name
		if b.model.Number > 0 {
			title = fmt.Sprintf("%d  %s", b.model.Number, title)
		}
		var part strings.Builder
		b.explain(&part, quantity)
		if part.Len() == 0 {
			continue
		}
		if out.Len() > 0 {
			out.WriteString("\n")
		}
		fmt.Fprintf(&out, "%s\n%s", title, part.String())
	}
	return out.String(), s.list
}

func (b *book) explain(out *strings.Builder, quantity string) {
	w := b.widths
	terms := []*measure.Term{w.BoardTall, w.BoardWide, w.SpineTall, w.SpineWide, w.EdgeClear, w.CapClear, w.JointClear}
	for _, d := range b.spine.Bands {
		terms = append(terms, d.Centre)
	}
	terms = append(terms, b.spine.Marks...)
	for _, t := range terms {
		if strings.Contains(t.Name, quantity) {
			t.Print(out, "  ")
		}
	}
	shown := w.SpineTall.Length.Shown()
	for _, p := range b.spine.Panels {
		name := fmt.Sprintf("panel %d", p.Number)
		if strings.Contains(name, quantity) {
			fmt.Fprintf(out, "  %-28s %9s  clear, %s wide, from %s to %s below the head\n", name, p.Tail.Sub(p.Head).As(shown), p.Right.Sub(p.Left).As(shown), p.Head.As(shown), p.Tail.As(shown))
		}
	}
	for _, f := range b.faces {
		for _, sh := range f.Shapes {
			if sh.Text != "" && strings.Contains("letters", quantity) {
				fmt.Fprintf(out, "  letters on %-17s %6.2fmm  caps of «%s»\n", f.Name, float64(sh.Cap)/1e6, sh.Text)
			}
		}
	}
}
