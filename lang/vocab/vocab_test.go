package vocab_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/parse"
	"headcap/lang/source"
	"headcap/lang/unit"
	"headcap/lang/vocab"
)

// places are all the blocks in which words stand.
var places = []vocab.Place{
	vocab.File, vocab.Film, vocab.Leather, vocab.Stamp, vocab.Roll, vocab.Series, vocab.Volume, vocab.Binding, vocab.Covered, vocab.Spine,
	vocab.Cover, vocab.Panel, vocab.Frame, vocab.Letter,
}

// statement reads the one statement of a text.
func statement(t *testing.T, text string) *ast.Statement {
	t.Helper()
	var list diag.List
	f := parse.File(source.NewFile("words", text), &list)
	for _, d := range list.All() {
		t.Errorf("%s: %s", text, d.Message)
	}
	if len(f.Statements) != 1 {
		t.Fatalf("%s: %d statements", text, len(f.Statements))
	}
	return f.Statements[0]
}

func TestEveryWordIsExplained(t *testing.T) {
	for _, w := range vocab.All {
		if !strings.HasSuffix(w.Doc, ".") || w.Example == "" || len(w.In) == 0 {
			t.Errorf("%s lacks a sentence, an example or a place", w.Name)
		}
		if w.Must && w.Opens == "" {
			t.Errorf("%s wants a block and opens none", w.Name)
		}
		for _, p := range w.In {
			if !slices.Contains(places, p) {
				t.Errorf("%s stands in %q", w.Name, p)
			}
		}
	}
}

func TestEveryExampleFitsItsWord(t *testing.T) {
	for i := range vocab.All {
		w := &vocab.All[i]
		s := statement(t, strings.ReplaceAll(w.Example, "…", "")) // what is left out of an example
		if !slices.ContainsFunc(w.In, func(p vocab.Place) bool { return vocab.Find(p, s.Word) == w }) {
			t.Errorf("%s is not an example of %s", w.Example, w.Name)
			continue
		}
		var faults []string
		for _, p := range w.In { // what a block may hold can depend on where it stands
			if faults = fitting(w, p, s); faults == nil {
				break
			}
		}
		for _, f := range faults {
			t.Errorf("%s: %s", w.Example, f)
		}
		if w.Must && s.Block == nil {
			t.Errorf("%s lacks its block", w.Example)
		}
	}
}

// fitting holds a statement in a place, and what its block holds, against the vocabulary, and tells what is wrong.
func fitting(w *vocab.Word, p vocab.Place, s *ast.Statement) []string {
	m, misfit := w.Fit(s.Args)
	switch {
	case misfit != nil:
		return []string{fmt.Sprintf("%s: at argument %d %s is wanted", s.Word, misfit.At, misfit.Wanted())}
	case s.Block == nil:
		return nil
	case w.Opens == vocab.Either:
		p = vocab.Place(m.Word("kind"))
	case w.Opens != vocab.Same:
		p = w.Opens
	}
	var faults []string
	for _, k := range s.Block.Statements {
		if inner := vocab.Find(p, k.Word); inner != nil {
			faults = append(faults, fitting(inner, p, k)...)
		} else {
			faults = append(faults, fmt.Sprintf("a %s holds no %s", p, k.Word))
		}
	}
	return faults
}

// Where a thing is called by a word of the language it cannot be told from the word. One example does so: a name given to a
// measure is not yet refused for it.
func TestExamplesGiveNamesThatMayBeGiven(t *testing.T) {
	var got []string
	for _, w := range vocab.All {
		m, misfit := w.Fit(statement(t, strings.ReplaceAll(w.Example, "…", "")).Args)
		if misfit != nil {
			continue // told by another test
		}
		for _, c := range m.Captures {
			if c.Type == "new" && vocab.Reserved(c.Arg.Text) {
				got = append(got, w.Name+" "+c.Arg.Text)
			}
		}
	}
	if got != nil {
		t.Errorf("these give a name that is a word: %q", got)
	}
}

// A figure and a fraction after it read as one measure (5 3/16in), so no form sets a bare number before a measure.
func TestNoFormSetsANumberBeforeAMeasure(t *testing.T) {
	bare := []string{"count", "number", "value"}
	measures := []string{"length", "percent", "angle", "weight", "density", "value"}
	for _, w := range vocab.All {
		for _, f := range w.Forms {
			for _, row := range rows(t, f) {
				for i := 1; i < len(row); i++ {
					if a, b := row[i-1].typ, row[i].typ; slices.Contains(bare, a) && slices.Contains(measures, b) {
						t.Errorf("%s: %s before %s in %s", w.Name, row[i-1].text, row[i].text, f)
					}
				}
			}
		}
	}
}

func TestBoundsAreMeasuresOfTheirKind(t *testing.T) {
	bound := regexp.MustCompile(`<(\w+):(\w+):([^>]*)\.\.([^>]*)>`)
	n := 0
	for _, w := range vocab.All {
		for _, m := range bound.FindAllStringSubmatch(strings.Join(w.Forms, " "), -1) {
			var ends []unit.Quantity
			for _, text := range m[3:] {
				if text == "" {
					continue
				}
				n++
				q, err := unit.ParseQuantity(text)
				kind := vocab.Dimension(text)
				if kind == "" && (m[2] == "count" || m[2] == "number") {
					kind = m[2]
				}
				if err != nil || kind != m[2] {
					t.Errorf("%s: the bound %s of %s: %v", w.Name, text, m[1], err)
					continue
				}
				ends = append(ends, q)
			}
			if len(ends) == 2 && !less(ends[0], ends[1]) {
				t.Errorf("%s: %s is held between %s and %s", w.Name, m[1], m[3], m[4])
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d bounds were found", n)
	}
}

func less(a, b unit.Quantity) bool {
	la, ok := a.Length()
	lb, _ := b.Length()
	if ok {
		return la.Cmp(lb) < 0
	}
	return a.Value.Cmp(b.Value) < 0
}

func TestSpellingsDoNotClash(t *testing.T) {
	for _, p := range places {
		seen := map[string]bool{}
		for i := range vocab.All {
			w := &vocab.All[i]
			if !slices.Contains(w.In, p) {
				continue
			}
			for _, s := range append([]string{w.Name}, w.Also...) {
				if seen[s] {
					t.Errorf("%s stands twice in a %s", s, p)
				}
				seen[s] = true
				if vocab.Find(p, s) != w {
					t.Errorf("%s is not found in a %s", s, p)
				}
			}
		}
	}
}

func TestEveryWordOfTheLanguageIsReserved(t *testing.T) {
	for _, w := range vocab.All {
		words := append([]string{w.Name}, w.Also...)
		for _, f := range w.Forms {
			for _, row := range rows(t, f) {
				for _, p := range row {
					if p.typ == "word" {
						words = append(words, p.sample)
					}
				}
			}
		}
		for _, name := range words {
			if !vocab.Reserved(name) {
				t.Errorf("%s of %s is not reserved", name, w.Name)
			}
		}
	}
	for _, name := range []string{"hedge", "caslonlike", "owl"} {
		if vocab.Reserved(name) {
			t.Errorf("%s is reserved", name)
		}
	}
}

func TestTheManualCoversEveryWord(t *testing.T) {
	index := vocab.Index()
	for _, w := range vocab.All {
		for _, s := range append([]string{w.Name}, w.Also...) {
			text, ok := vocab.Manual(s)
			if !ok || !strings.Contains(text, w.Doc) || !strings.Contains(text, w.Example) {
				t.Errorf("the manual does not explain %s:\n%s", s, text)
			}
		}
		if !strings.Contains(index, "\n  "+w.Name+" ") {
			t.Errorf("the index does not list %s", w.Name)
		}
	}
	for _, p := range places {
		for _, name := range vocab.Words(p) {
			if vocab.Find(p, name) == nil {
				t.Errorf("%s is listed in a %s and not found", name, p)
			}
		}
	}
	if _, ok := vocab.Manual("owl"); ok {
		t.Error("there is a chapter of no word")
	}
}

func TestEveryMessageIsExplained(t *testing.T) {
	seen := map[string]bool{}
	for i, c := range vocab.Chapters {
		if vocab.Codes()[i] != c.Code {
			t.Errorf("%s is listed as %s", c.Code, vocab.Codes()[i])
		}
		text, ok := vocab.Code(c.Code)
		if !ok || !strings.Contains(text, c.Doc) || !strings.HasSuffix(c.Doc, ".") || len(c.Severities) == 0 || seen[c.Code] {
			t.Errorf("%s is not explained once:\n%s", c.Code, text)
		}
		seen[c.Code] = true
		if example := c.Wrong != "" && c.Right != "" && c.Wrong != c.Right; example == (c.Without != "") {
			t.Errorf("%s has neither a pair of examples nor a reason, or has both", c.Code)
		}
		if _, word := vocab.Manual(c.Code); word {
			t.Errorf("%s is a word too, and its chapter would not be found", c.Code)
		}
	}
	if _, ok := vocab.Code("unknown-owl"); ok {
		t.Error("there is a chapter of no message")
	}
}

func TestAChapterShowsWhatCannotBeSeen(t *testing.T) {
	for code, want := range map[string]string{
		"hidden-character": "a<U+200B> pearl",
		"not-utf8":         "caf<byte E9>",
		"missing-file":     "  Beside it, set.headcap:\n    language 1\n",
		"chord-or-arc":     "chord-or-arc: warning or advice\n",
		"too-large":        "  No example: ",
	} {
		if text, _ := vocab.Code(code); !strings.Contains(text, want) {
			t.Errorf("%s:\n%s", code, text)
		}
	}
}

// Whatever a form allows can be written, read, and is captured as the form names it.
func TestEveryFormCanBeWritten(t *testing.T) {
	for i := range vocab.All {
		w := &vocab.All[i]
		for _, f := range w.Forms {
			for _, row := range rows(t, f) {
				text := w.Name
				var want []string
				for _, p := range row {
					text += " " + p.sample
					if p.name != "" {
						want = append(want, p.name+" "+p.sample)
					}
				}
				m, misfit := w.Fit(statement(t, text).Args)
				if misfit != nil {
					t.Errorf("%s: at %d %s is wanted", text, misfit.At, misfit.Wanted())
					continue
				}
				if got := captured(m); m.Form == slices.Index(w.Forms, f) && !slices.Equal(got, want) {
					t.Errorf("%s is captured as %q, want %q", text, got, want)
				}
			}
		}
	}
}

func captured(m vocab.Match) []string {
	var out []string
	for _, c := range m.Captures {
		text := c.Arg.Text
		if c.Arg.Kind == ast.String {
			text = `"` + text + `"`
		}
		out = append(out, c.Name+" "+text)
	}
	return out
}

func TestFit(t *testing.T) {
	for _, c := range []struct {
		place vocab.Place
		text  string
		want  string
	}{
		{vocab.Volume, `block 228mm x 150mm x 28mm`, "0: tall 228mm, wide 150mm, thick 28mm"},
		{vocab.Volume, `block tall 8 1/2in, wide 5 1/2in`, "1: tall 8 1/2in, wide 5 1/2in"},
		{vocab.Volume, `block 228mm x 150mm estimated`, "0: tall 228mm, wide 150mm, state estimated"},
		{vocab.Volume, `thick 28mm, 28.2mm, 27.9mm`, "3: reading 28mm, reading 28.2mm, reading 27.9mm"},
		{vocab.Volume, `thick 410 pages of 105um estimated`, "0: pages 410, caliper 105um, state estimated"},
		{vocab.Spine, `bands 4 sharing 3, 5, 3, 2, 3`, "2: count 4, share 3, share 5, share 3, share 2, share 3"},
		{vocab.Spine, `hubs 5 equal, tail longer by 12mm`, "1: count 5, tail 12mm"},
		{vocab.Panel, `center owl fill 55% tall 6mm to 16mm`, "1: stamp owl, fill 55%, least 6mm, most 16mm"},
		{vocab.Panel, `centre emblem`, "1: emblem emblem"},
		{vocab.Panel, `centre set.leaf`, "1: stamp set.leaf"},
		{vocab.Cover, `back like front`, "0: same front"},
		{vocab.Cover, `fillet 1mm`, "no word"},
		{vocab.Frame, `fillet 1.4mm, 0.8mm gap 1mm`, "0: width 1.4mm, width 0.8mm, gap 1mm"},
		{vocab.Frame, `fillet 1.4mm, gap 1mm`, "misfit at 2: a length"},
		{vocab.Letter, `lines 1 to`, "misfit at 2: a whole number"},
		{vocab.Letter, `cap 3.5mm to 70%`, "misfit at 2: a length"},
		{vocab.Letter, `way sideways`, "misfit at 0: `across`, `down`, `pillar` or `up`"},
		{vocab.Letter, `size same same`, "misfit at 1: the end of the line"},
		{vocab.File, `pattern fen for spine like`, "misfit at 4: the name of a pattern"},
		{vocab.Volume, `landscape 5mm`, "misfit at 0: nothing"},
	} {
		s := statement(t, c.text)
		place := c.place
		if strings.HasPrefix(c.text, "back") {
			place = vocab.Volume
		}
		got := "no word"
		if w := vocab.Find(place, s.Word); w != nil {
			if m, misfit := w.Fit(s.Args); misfit != nil {
				got = fmt.Sprintf("misfit at %d: %s", misfit.At, misfit.Wanted())
			} else {
				got = fmt.Sprintf("%d: %s", m.Form, strings.Join(captured(m), ", "))
			}
		}
		if got != c.want {
			t.Errorf("%s: got %s, want %s", c.text, got, c.want)
		}
	}
}

func TestAMatchKnowsTheItemsOfAList(t *testing.T) {
	m, misfit := vocab.Find(vocab.Panel, "fillet").Fit(statement(t, "fillet 1mm, 2mm, 3mm gap 1mm").Args)
	if misfit != nil {
		t.Fatal(misfit.Wanted())
	}
	if ws := m.Every("width"); len(ws) != 3 || ws[2].Item != 2 || ws[2].Most != "10mm" || !m.Has("gap") || m.Has("bands") {
		t.Errorf("%+v", m)
	}
}

// A part of a form: a word or sign that stands as it is, or something captured. Sample is how it may be written.
type part struct{ text, name, typ, sample string }

var samples = map[string]string{
	"length": "5mm", "count": "3", "number": "1.5", "percent": "5%", "angle": "45deg", "string": `"text"`, "strings": `"text"`,
	"date": "2026-05-03", "colour": "#8a6a2f", "value": "5mm", "new": "thing", "weight": "90gsm", "density": "400ppi",
	"stamp": "owl", "roll": "hedge", "film": "brass", "leather": "moss", "face": "old", "pattern": "fen", "frame": "rim",
}

// rows writes out all that a form allows: with and without each part that may be left out, each choice, and lists of one
// item and of two.
func rows(t *testing.T, form string) [][]part {
	t.Helper()
	words := strings.Fields(form)
	var seq func(end string) [][]part
	seq = func(end string) [][]part {
		all, cur := [][]part(nil), [][]part{nil}
		add := func(tails [][]part) {
			var out [][]part
			for _, head := range cur {
				for _, tail := range tails {
					out = append(out, slices.Concat(head, tail))
				}
			}
			cur = out
		}
		for len(words) > 0 {
			word := words[0]
			words = words[1:]
			switch word {
			case end:
				return append(all, cur...)
			case "|":
				all, cur = append(all, cur...), [][]part{nil}
			case "(":
				add(seq(")"))
			case "[":
				add(append([][]part{nil}, seq("]")...))
			case "{":
				items := seq("}")
				both := slices.Clone(items)
				for _, item := range items {
					both = append(both, slices.Concat(item, []part{{text: ",", sample: ","}}, item))
				}
				add(both)
			default:
				add(parts(t, word))
			}
		}
		return append(all, cur...)
	}
	return seq("")
}

// parts are the ways to write one word of a form.
func parts(t *testing.T, text string) [][]part {
	t.Helper()
	if !strings.HasPrefix(text, "<") {
		p := part{text: text, sample: text}
		if regexp.MustCompile(`^[a-z-]{2,}$`).MatchString(text) {
			p.typ = "word"
		}
		return [][]part{{p}}
	}
	f := strings.Split(strings.Trim(text, "<>"), ":")
	if sample, ok := samples[f[1]]; ok {
		return [][]part{{{text, f[0], f[1], sample}}}
	}
	if !strings.ContainsAny(f[1], "=|") {
		t.Fatalf("%s is of a type that the test does not know", text)
	}
	var out [][]part
	for _, w := range strings.Split(strings.TrimPrefix(f[1], "="), "|") {
		out = append(out, []part{{text, f[0], "word", w}})
	}
	return out
}
