package compiler_test

import (
	"context"
	"fmt"
	"io/fs"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"headcap/compiler"
	"headcap/lang/unit"
)

// explained gives all that is told of a source's figures.
func explained(t *testing.T, fsys fs.FS) string {
	t.Helper()
	e, _ := compiler.Explain(context.Background(), fsys, entry, "", "")
	var out strings.Builder
	if err := e.WriteText(&out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// The film's share of a face is that of its outlines: a plate of twenty by ten on a spine of two hundred by twenty.
func TestTheShareOfFilmIsTold(t *testing.T) {
	const source = `language 1
stamp plate { bar 20mm x 10mm }
volume "Turf" { cover 200mm x 150mm; spine strip 20mm; film gold; spine { centre plate }; front { centre plate } }
`
	e, list := compiler.Explain(context.Background(), files(source), entry, "", "film spine")
	if list.Errors() || len(e.Volumes) != 1 || len(e.Volumes[0].Film) != 1 || len(e.Volumes[0].Quantities) != 0 {
		t.Fatalf("%+v\n%s", e, shown(list))
	}
	if f := e.Volumes[0].Film[0]; f != (compiler.FilmShare{Film: "gold", Face: "spine", Area: 200, Share: 0.05}) {
		t.Errorf("%+v", f)
	}
	if text := explained(t, files(source)); !strings.Contains(text, "\n  film: gold on spine, 200.0 square mm: 5.0% of its face\n") {
		t.Errorf("it is told:\n%s", text)
	}
}

// An explainedLine is a figure as it is printed, with what stands further in below it.
type explainedLine struct {
	name, rest string
	length     float64 // mm
	parts      []*explainedLine
}

var explainedFigure = regexp.MustCompile(`^( +)(\S.*?) +(-?(?:\d+ )?\d+(?:/\d+|\.\d+)?[a-z]+)  (\S.*)$`)

// readExplained reads the printed figures back. Titles and what is to be cut are no figures.
func readExplained(t *testing.T, text string) []*explainedLine {
	t.Helper()
	var out []*explainedLine
	above := []*explainedLine{{}} // the last figure of each depth, from a root
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if line == "" || line[0] != ' ' || strings.HasPrefix(line, "  cut: ") || strings.HasPrefix(line, "  film: ") {
			continue
		}
		m := explainedFigure.FindStringSubmatch(line)
		if m == nil {
			t.Fatalf("this is no figure: %q", line)
		}
		q, err := unit.ParseQuantity(m[3])
		l, ok := q.Length()
		depth := len(m[1]) / 2
		if err != nil || !ok || depth > len(above) {
			t.Fatalf("this cannot be read: %q: %v", line, err)
		}
		e := &explainedLine{name: m[2], rest: m[4], length: l.Millimetres()}
		above = append(above[:depth], e)
		above[depth-1].parts = append(above[depth-1].parts, e)
		out = append(out, e)
	}
	return out
}

// sum does the sum of a figure again from the figures printed under it; ok is false where there is none. Every one of them
// is in it.
func (e *explainedLine) sum(t *testing.T) (mm float64, ok bool) {
	how, ok := strings.CutPrefix(e.rest, "= ")
	if !ok {
		return 0, false
	}
	over := 1.0
	if in, open := strings.CutPrefix(how, "("); open {
		how, in, _ = strings.Cut(in, ")")
		how += in
	}
	how, _, _ = strings.Cut(how, " (") // a remark
	if up, down, divided := strings.Cut(how, " / "); divided {
		how, over = up, ratio(t, down)
	}
	used := map[string]bool{"as planned": true}
	for word := range strings.SplitSeq(strings.ReplaceAll(how, " − ", " + −"), " + ") {
		sign := 1.0
		if less, minus := strings.CutPrefix(word, "−"); minus {
			word, sign = less, -1
		}
		times, name, several := strings.Cut(word, " × ")
		factor := 1.0
		if several {
			factor = ratio(t, times)
		} else {
			name = times
		}
		i := slices.IndexFunc(e.parts, func(p *explainedLine) bool { return p.name == name })
		if i < 0 {
			t.Errorf("%s = %s: «%s» does not stand under it", e.name, how, name)
			continue
		}
		used[name] = true
		mm += sign * factor * e.parts[i].length
	}
	for _, p := range e.parts {
		if !used[p.name] {
			t.Errorf("%s = %s: «%s» stands under it for nothing", e.name, how, p.name)
		}
	}
	return mm / over, true
}

func ratio(t *testing.T, text string) float64 {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		t.Fatalf("%q is no number", text)
	}
	f, _ := r.Float64()
	return f
}

// Whoever does the sums again from the printed figures comes to the same, to the micrometre: over all examples, the books
// of the handbook values, and bands of every kind.
func TestPrintedSumsCanBeDoneAgain(t *testing.T) {
	sources := map[string]fstest.MapFS{}
	for _, glob := range []string{"../examples/*/*.headcap", "../testdata/jobs/*.headcap", "../testdata/handbook/*.txt"} {
		paths, err := filepath.Glob(glob)
		if err != nil || len(paths) == 0 {
			t.Fatal("there is nothing at", glob, err)
		}
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if filepath.Ext(path) == ".headcap" {
				sources[path] = files(string(data))
				continue
			}
			for i, p := range parts(string(data)) {
				if strings.HasPrefix(p.name, "book") {
					sources[fmt.Sprintf("%s %d %s", path, i, p.name)] = files(p.text)
				}
			}
		}
	}
	for i, again := range []string{"", "covered 2026-05-03 { spine strip 35.7mm; spine caliper 1 3/8in; bands upper edges at 1 1/2in, 3in, 4 1/2in, 6in, 7 1/2in }"} {
		sources[fmt.Sprint("covered ", i)] = files(fmt.Sprintf(coveredBook, again))
	}
	for _, plan := range []string{"7 equal, head longer by 1/3in, tail longer by 7mm, false", "12 sharing 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13", "6 between 1cm below head, 20mm above tail, double 1/8in", "at 1in, 50mm, 3 7/16in below head of block", "upper edges at 1in, 50mm of block"} {
		sources[plan] = files("language 1\nvolume \"Turf\" { block 9 1/16in x 6in x 31.7mm; binding laced; spine { bands " + plan + " } }\n")
	}
	sums := 0
	for name, fsys := range sources {
		text := explained(t, fsys)
		for _, e := range readExplained(t, text) {
			got, ok := e.sum(t)
			if !ok {
				continue
			}
			sums++
			if math.Abs(got-e.length) > 0.001 {
				t.Errorf("%s: %s is printed as %.4f mm, and its sum %s comes to %.4f mm", name, e.name, e.length, e.rest, got)
			}
		}
		if t.Failed() {
			t.Logf("%s\n%s", name, text)
			return
		}
	}
	if sums < 500 {
		t.Errorf("only %d sums were done", sums)
	}
}
