package resolve_test

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"headcap/compiler/model"
	"headcap/lang/unit"
)

// dump writes a volume as a reader would want to check it: what was said or is by default, a line for each thing that
// stands somewhere.
func dump(w io.Writer, s model.Shelf, v model.Volume, d model.Design) {
	fmt.Fprintf(w, "volume %s", v.Key)
	if v.Series >= 0 {
		fmt.Fprintf(w, " of %q", s.Series[v.Series].Title)
	}
	if v.Spoilt || d.Spoilt {
		fmt.Fprint(w, ", not all understood")
	}
	fmt.Fprintln(w)
	row := func(format string, args ...any) {
		if line := strings.Join(strings.Fields(fmt.Sprintf(format, args...)), " "); line != "" {
			fmt.Fprintln(w, "  "+line)
		}
	}
	if v.Cover == nil || v.Cover.Over != nil {
		row("block %s x %s x %s", figure(v.Block.Tall), figure(v.Block.Wide), figure(v.Block.Thick))
	}
	if c := v.Cover; c != nil && c.Over == nil {
		row("cover %s x %s", figure(c.Tall), figure(c.Wide))
	} else if c != nil {
		row("cover %s over block", figure(*c.Over))
	}
	b := v.Bound
	row("%s boards %s squares %s %s %s %s", b.Kind, figure(b.Boards), figure(b.Head), figure(b.Tail), figure(b.Fore), joint(b))
	row("leather %s %s", v.Leather.Name, figure(v.Leather.Thick))
	if v.Back.Strip != nil {
		row("spine strip %s", figure(*v.Back.Strip))
	}
	for _, o := range v.Open {
		row("open: %s", o.What)
	}
	row("film %s, title %q, %s", filmName(d.Film), d.Title.Text, said("author", d.Author))
	if d.Emblem != nil {
		row("emblem %s", stampName(d.Emblem))
	}
	if d.Apart {
		row("apart")
	}
	row("%s", bands(d.Spine.Bands))
	panel := func(name string, p model.Panel) {
		for _, f := range p.Fillets {
			row("%s: fillet %s gap %s %s", name, lengths(f.Widths), f.Gap, said("film", filmName(f.Film)))
		}
		face(row, name, p.Frames, p.Centre, p.Letters, p.Film)
	}
	panel("spine", d.Spine.Whole)
	for n := range d.Spine.Bands.Count + 1 {
		panel(fmt.Sprintf("panel %d", n+1), d.Spine.Panels[n+1])
	}
	for name, c := range pairs("front", d.Front, "back", d.Back) {
		if c != nil {
			row("%s", name)
			face(row, name, c.Frames, c.Centre, c.Letters, c.Film)
		}
	}
}

func pairs(n string, x *model.CoverDesign, m string, y *model.CoverDesign) func(func(string, *model.CoverDesign) bool) {
	return func(yield func(string, *model.CoverDesign) bool) {
		_ = yield(n, x) && yield(m, y)
	}
}

func figure(f model.Figure) string {
	from := map[model.From]string{model.OfSeries: " (series)", model.OfPattern: " (pattern)", model.Estimated: " (estimated)"}[f.From]
	if f.From == model.Default {
		from = " (default)"
	}
	return f.Length.String() + from
}

func joint(b model.Binding) string {
	if b.Kind == model.Laced {
		return "joint " + figure(b.JointWidth)
	}
	return "gap " + figure(b.Gap)
}

func filmName(f *model.Film) string {
	if f == nil {
		return ""
	}
	return f.Name
}

func stampName(s *model.Stamp) string {
	if s == nil {
		return "none"
	}
	file, _, _ := strings.Cut(s.Key, ":")
	return s.Name + " of " + strings.TrimSuffix(file, ".headcap")
}

func said(what, text string) string {
	if text == "" {
		return ""
	}
	return what + " " + text
}

func lengths(ls []unit.Length) string {
	var out []string
	for _, l := range ls {
		out = append(out, l.String())
	}
	return strings.Join(out, ", ")
}

func bands(b model.Bands) string {
	out := [...]string{"no bands", "equal", "sharing", "stations", "upper edges"}[b.How]
	if b.How != model.NoBands {
		out = fmt.Sprintf("%d bands %s", b.Count, out)
	}
	for _, s := range b.Shares {
		out += " " + s.RatString()
	}
	if b.Stations != nil {
		out += " " + lengths(b.Stations)
	}
	if b.Head.Sign() != 0 {
		out += " head +" + b.Head.String()
	}
	if b.Tail.Sign() != 0 {
		out += " tail +" + b.Tail.String()
	}
	if b.Without != nil {
		out += fmt.Sprint(" without ", b.Without)
	}
	return fmt.Sprintf("%s, wide %s, clear %s", out, figure(b.Wide), figure(b.Clear))
}

func face(row func(string, ...any), name string, frames []model.Frame, c *model.Centre, letters []model.Letter, film *model.Film) {
	if film != nil {
		row("%s: film %s", name, film.Name)
	}
	for _, f := range frames {
		row("%s: frame %s %s", name, f.Name, frame(f))
	}
	if c != nil {
		what := "emblem"
		if !c.Emblem {
			what = stampName(c.Stamp)
		}
		if c.Fill != nil {
			what += " fill " + c.Fill.RatString()
		}
		if c.Least != nil {
			what += " from " + c.Least.String()
		}
		if c.Most != nil {
			what += " to " + c.Most.String()
		}
		row("%s: centre %s", name, what)
	}
	for _, l := range letters {
		what := l.What
		if what == "" {
			what = fmt.Sprintf("%q", l.Text)
		}
		same := ""
		if l.Same {
			same = "same"
		}
		row("%s: letter %s in %s cap %s to %s lines %d to %d %s", name, what, l.Face, l.Least, l.Most, l.LinesLeast, l.LinesMost, same)
	}
}

func frame(f model.Frame) string {
	var stack []string
	for _, c := range f.Stack {
		switch {
		case c.Line != nil:
			stack = append(stack, "line "+c.Line.String())
		case c.Air != nil:
			stack = append(stack, "air "+c.Air.String())
		default:
			stack = append(stack, "roll "+c.Roll.Name)
		}
	}
	var out []string
	if f.Sides != nil && f.Ends != nil {
		out = append(out, fmt.Sprintf("inset %s %s", f.Sides, f.Ends))
	}
	if f.Inside != "" {
		out = append(out, fmt.Sprintf("inside %s by %s", f.Inside, f.By))
	}
	out = append(out, "["+strings.Join(stack, ", ")+"]")
	for _, c := range f.Corner {
		out = append(out, "corner "+stampName(c.Stamp))
	}
	if f.Plain {
		out = append(out, "corner plain")
	}
	return strings.Join(slices.DeleteFunc(append(out, said("film", filmName(f.Film))), func(s string) bool { return s == "" }), " ")
}
