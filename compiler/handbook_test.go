package compiler_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"headcap/compiler"
	"headcap/compiler/drawing"
	"headcap/compiler/geom"
	"headcap/compiler/measure"
	"headcap/lang/diag"
	"headcap/lang/unit"
)

const entry = "book.headcap"

func files(text string) fstest.MapFS { return fstest.MapFS{entry: {Data: []byte(text)}} }

// A part is one section of a test file: what stands under a line `-- name --`.
type part struct {
	name, text string
	line       int
}

// parts splits a test file, what stands before its first section being for the reader.
func parts(text string) []part {
	var out []part
	for i, line := range strings.Split(text, "\n") {
		name, head := strings.CutPrefix(line, "-- ")
		name, tail := strings.CutSuffix(name, " --")
		switch {
		case head && tail:
			out = append(out, part{name: name, line: i + 2})
		case len(out) > 0:
			out[len(out)-1].text += line + "\n"
		}
	}
	return out
}

// The files of testdata/handbook hold books, and under each what the handbooks say of its measures, with the source beside
// it. A figure is held as exactly as it was printed.
func TestMeasuresAgreeWithTheHandbooks(t *testing.T) {
	paths, err := filepath.Glob("../testdata/handbook/*.txt")
	if err != nil || len(paths) == 0 {
		t.Fatal("there are no handbook values", err)
	}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		all := parts(string(data))
		for i, book := range all {
			if !strings.HasPrefix(book.name, "book") {
				continue
			}
			t.Run(fmt.Sprintf("%s %s", filepath.Base(path), book.name), func(t *testing.T) {
				laid, list := compiler.LaidOut(files(book.text), entry)
				told := map[string]bool{}
				for _, p := range all[i+1:] {
					switch p.name {
					case "values":
						holdValues(t, path, p, quantities(laid))
					case "told":
						told = map[string]bool{}
						for line := range strings.Lines(p.text) {
							if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "//") {
								told[line] = true
							}
						}
					}
					if strings.HasPrefix(p.name, "book") {
						break
					}
				}
				for _, d := range list.All() {
					as := fmt.Sprint(d.Severity, " ", d.Code)
					if d.Severity != diag.Advice && !told[as] {
						t.Errorf("%s is told: %s", as, d.Message)
					}
					delete(told, as)
				}
				for as := range told {
					t.Errorf("%s is not told", as)
				}
			})
		}
	}
}

// holdValues compares `name  figure` a line, or `name  figure within allowance`, with the quantities of that name. Every
// value stands under a comment that names its source.
func holdValues(t *testing.T, path string, p part, got map[string]float64) {
	sourced := false
	for i, line := range strings.Split(p.text, "\n") {
		at := fmt.Sprintf("%s:%d", path, p.line+i)
		if strings.HasPrefix(line, "//") {
			sourced = true
			continue
		}
		name, figures, ok := strings.Cut(strings.TrimSpace(line), "  ")
		if !ok {
			continue
		}
		if !sourced {
			t.Errorf("%s: the value names no source", at)
		}
		figure, within, about := strings.Cut(strings.TrimSpace(figures), " within ")
		want, err := strconv.ParseFloat(figure, 64)
		if err != nil {
			t.Fatalf("%s: %v", at, err)
		}
		_, decimals, _ := strings.Cut(figure, ".")
		allowed := 0.5*math.Pow(10, -float64(len(decimals))) + 1e-9
		if decimals == "" {
			allowed = 1e-9 // a whole number is meant as one
		}
		if strings.Contains(name, " on ") {
			allowed += 0.001 // what is drawn stands on the grid of the cut files
		}
		if about {
			if allowed, err = strconv.ParseFloat(within, 64); err != nil {
				t.Fatalf("%s: %v", at, err)
			}
		}
		is, ok := got[name]
		switch {
		case !ok:
			t.Errorf("%s: the book has no %q; it has %q", at, name, names(got))
		case math.Abs(is-want) > allowed:
			t.Errorf("%s: %s is %.4f, and the handbook has %s", at, name, is, figure)
		}
	}
}

func names(m map[string]float64) []string {
	var out []string
	for n := range m {
		out = append(out, n)
	}
	slices.Sort(out)
	return out
}

// quantities gives the measures of books by name, in millimetres; in a set each begins with its number and a colon.
func quantities(laid []compiler.Laid) map[string]float64 {
	out := map[string]float64{}
	for _, l := range laid {
		put := func(name string, v float64) {
			if l.Model.Number > 0 {
				name = fmt.Sprintf("%d: %s", l.Model.Number, name)
			}
			out[name] = v
		}
		measures(l, put)
		for _, f := range l.Faces {
			drawn(f, put)
		}
	}
	return out
}

func measures(l compiler.Laid, put func(string, float64)) {
	w, tall, square := l.Widths, l.Widths.SpineTall.Length, l.Model.Bound.Head.Length
	for name, v := range map[string]unit.Length{
		"board tall": w.BoardTall.Length, "board wide": w.BoardWide.Length, "half of board tall": w.BoardTall.Length.DivInt(2),
		"spine tall": tall, "spine wide": w.SpineWide.Length, "straight across": w.Shoulders.Length,
		"block tall": w.BlockTall.Length, "block wide": w.BlockWide.Length, "block thick": w.BlockThick.Length,
		"boards": w.Boards.Length, "square": square, "gap": w.Gap.Length, "joint": l.Model.Bound.JointWidth.Length,
		"turn-in": l.Model.Bound.TurnIn.Length,
	} {
		put(name, v.Millimetres())
	}
	put("bands", float64(len(l.Spine.Bands)))
	put("panels", float64(len(l.Spine.Panels)))
	for i, b := range l.Spine.Bands {
		c := b.Centre.Length
		put(fmt.Sprintf("band %d", b.Number), c.Millimetres())
		put(fmt.Sprintf("band %d of block", b.Number), c.Sub(square).Millimetres())
		put(fmt.Sprintf("below band %d", b.Number), tall.Sub(c).Millimetres())
		put(fmt.Sprintf("below band %d of block", b.Number), tall.Sub(c).Sub(l.Model.Bound.Tail.Length).Millimetres())
		put(fmt.Sprintf("band %d above middle", b.Number), tall.DivInt(2).Sub(c).Millimetres())
		if i > 0 {
			put(fmt.Sprintf("between bands %d and %d", i, i+1), c.Sub(l.Spine.Bands[i-1].Centre.Length).Millimetres())
		}
	}
	for _, t := range []*measure.Term{w.OverRound, w.InSight, w.OnShelf} {
		if t != nil {
			put(t.Name, t.Length.Millimetres())
		}
	}
	for _, c := range measure.CutList(l.Model, w) {
		put(c.Name+" tall", c.Tall.Length.Millimetres())
		put(c.Name+" wide", c.Wide.Length.Millimetres())
		if c.NickAtBackCorner != nil {
			put("nick", c.NickAtBackCorner.Length.Millimetres())
		}
	}
	for _, m := range l.Spine.Marks {
		put(m.Name, m.Length.Millimetres())
	}
	for i, p := range l.Spine.Panels {
		put(fmt.Sprintf("panel %d tall", p.Number), p.Tail.Sub(p.Head).Millimetres())
		put(fmt.Sprintf("panel %d wide", p.Number), p.Right.Sub(p.Left).Millimetres())
		if i > 0 {
			put(fmt.Sprintf("between panels %d and %d", i, i+1), p.Head.Sub(l.Spine.Panels[i-1].Tail).Millimetres())
		}
	}
}

// drawn puts what stands on a face: the box of the first thing of each name, the outermost line, and the runs along the
// head and down the left side.
func drawn(f drawing.Face, put func(string, float64)) {
	put(f.Name+" clear tall", mm(f.Clear[0].Height()))
	put(f.Name+" clear wide", mm(f.Clear[0].Width()))
	seen := map[string]bool{}
	var units []geom.Point
	for _, s := range f.Shapes {
		b := boxOf(s)
		if s.Kind == drawing.Unit {
			units = append(units, b.Centre())
		}
		if seen[s.Name] {
			continue
		}
		seen[s.Name] = true
		if s.Kind == drawing.Fillet {
			put("frame wide on "+f.Name, mm(b.Width()+s.Line.Width))
			continue
		}
		put(fmt.Sprintf("wide of %s on %s", s.Name, f.Name), mm(b.Width()))
		put(fmt.Sprintf("tall of %s on %s", s.Name, f.Name), mm(b.Height()))
		put(fmt.Sprintf("middle of %s on %s", s.Name, f.Name), mm(b.Centre().Y))
		put(fmt.Sprintf("across to %s on %s", s.Name, f.Name), mm(b.Centre().X))
	}
	run := func(name string, across, along func(geom.Point) int64) {
		var us []int64
		for _, u := range units {
			if across(u) == across(slices.MinFunc(units, func(a, b geom.Point) int { return int(across(a) - across(b)) })) {
				us = append(us, along(u))
			}
		}
		if len(us) > 1 {
			put(fmt.Sprintf("repeats %s on %s", name, f.Name), float64(len(us)))
			put(fmt.Sprintf("pitch %s on %s", name, f.Name), mm(slices.Max(us)-slices.Min(us))/float64(len(us)-1))
		}
	}
	x, y := func(p geom.Point) int64 { return p.X }, func(p geom.Point) int64 { return p.Y }
	run("across", y, x)
	run("down", x, y)
}

func boxOf(s drawing.Shape) geom.Box {
	b := geom.EmptyBox()
	if s.Line != nil {
		return geom.Path{s.Line.Along}.Bounds()
	}
	for _, a := range s.Art {
		b = b.Union(s.Place.Shape(a).Bounds())
	}
	return b
}

func mm(nm int64) float64 { return float64(nm) / 1e6 }
