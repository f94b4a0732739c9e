package compiler_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"headcap/compiler"
	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/parse"
	"headcap/lang/source"
)

var update = flag.Bool("update", false, "rewrite the expected listings of mistakes")

// Each source in testdata/mistakes holds twelve mistakes: all of them are told in one run, each where it stands, with what
// to try, and nothing follows from any of them.
func TestTwelveMistakesAreToldInOneRun(t *testing.T) {
	const dir = "../testdata/mistakes"
	for _, name := range []string{"twelve", "twelve-more"} {
		t.Run(name, func(t *testing.T) {
			list := compiler.Check(context.Background(), os.DirFS(dir), name+".headcap")
			var out strings.Builder
			for _, d := range list.All() {
				line, column := d.At.File.Position(d.At.Start)
				fmt.Fprintf(&out, "%s:%d:%d %s: %s\n", d.At.File.Path, line, column, d.Severity, d.Code)
				for _, try := range d.Try {
					fmt.Fprintf(&out, "\ttry %s\n", try)
				}
			}
			golden := dir + "/" + name + ".txt"
			if *update {
				if err := os.WriteFile(golden, []byte(out.String()), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got := out.String(); got != string(want) {
				t.Errorf("told\n%s\nwanted\n%s", got, want)
			}
			if n := list.Count(diag.Error); n != 12 || len(list.All()) != 12 {
				t.Errorf("%d errors of %d messages; twelve mistakes were made", n, len(list.All()))
			}
		})
	}
}

// spoilers make one mistake of an argument: what stands in its place, or nothing where they have none to make.
var spoilers = []struct {
	what  string
	spoil func(a ast.Arg) string
}{
	{"without its unit", func(a ast.Arg) string {
		if a.Kind == ast.Measure {
			return strings.TrimRight(a.Span.Text(), "abcdefghijklmnopqrstuvwxyz%")
		}
		return ""
	}},
	{"in a unit that is none", func(a ast.Arg) string {
		if a.Kind == ast.Measure {
			return strings.TrimRight(a.Span.Text(), "abcdefghijklmnopqrstuvwxyz%") + "furlong"
		}
		return ""
	}},
	{"of another kind", func(a ast.Arg) string {
		if a.Kind != ast.Comma && a.Kind != ast.Colour && a.Kind != ast.Measure {
			return "#808080"
		}
		return ""
	}},
}

// One mistake is told once: whatever word or argument of a clean source is spoilt, a single message follows.
func TestOneMistakeIsToldOnce(t *testing.T) {
	const path = "../testdata/mistakes/none.headcap"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	if list := compiler.Check(context.Background(), files(text), entry); len(list.All()) > 0 {
		t.Fatalf("the source is not clean:\n%s", shown(list))
	}
	spoilt := func(what string, s *ast.Statement, at source.Span, with string) {
		bad := text[:at.Start] + with + text[at.End:]
		list := compiler.Check(context.Background(), files(bad), entry)
		all := list.All()
		line, _ := at.File.Position(at.Start)
		switch {
		case len(all) != 1 || all[0].Severity != diag.Error:
			t.Errorf("%s:%d: «%s» %s: %d are told\n%s", path, line, at.Text(), what, len(all), shown(list))
		case s.Word == "let": // a name may stand for a plain number, so the mistake is where it is used as a length
		case all[0].At.Start > at.Start+len(with) || all[0].At.End < at.Start:
			t.Errorf("%s:%d: «%s» %s is told elsewhere\n%s", path, line, at.Text(), what, shown(list))
		}
	}
	var none diag.List
	ast.Walk(parse.File(source.NewFile(path, text), &none).Statements, func(s *ast.Statement) bool {
		if s.Word == "language" {
			return true // its absence is another matter
		}
		spoilt("misspelt", s, s.WordSpan, "quux")
		for _, a := range s.Args {
			for _, p := range spoilers {
				if with := p.spoil(a); with != "" {
					spoilt(p.what, s, a.Span, with)
				}
			}
		}
		return true
	})
}

// A block that is not opened is told where it should be, and not again at each word that has fallen out of it; the brace
// that would close it has lost its partner.
func TestABlockThatIsNotOpenedIsToldThere(t *testing.T) {
	const path = "../testdata/mistakes/none.headcap"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, head := range []string{"film brass", "stamp bud", "roll hedge", "pattern fen for spine", "pattern hedged for cover"} {
		bad := strings.Replace(text, head+" {", head, 1)
		list := compiler.Check(context.Background(), files(bad), entry)
		all := list.All()
		if len(all) != 2 || all[0].Code != "missing-block" || all[0].At.Text() != head || all[1].Code != "stray-brace" {
			t.Errorf("%s:\n%s", head, shown(list))
		}
	}
}

// Braces that balance are nobody's affair but the author's: without any indentation nothing is told.
func TestBalancedTextNeedsNoIndentation(t *testing.T) {
	for _, path := range []string{"../testdata/mistakes/none.headcap", "../examples/fen/fen.headcap"} {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(string(data), "\n")
		for i := range lines {
			lines[i] = strings.TrimLeft(lines[i], " ")
		}
		for _, text := range []string{
			strings.Join(lines, "\n"),
			strings.ReplaceAll(strings.Join(lines, "\n"), "\n", "\n      "),
			strings.ReplaceAll(strings.Join(lines, "\n"), "\n}", "\n        }"),
		} {
			if list := compiler.Check(context.Background(), files(text), entry); list.Count(diag.Error)+list.Count(diag.Warning) > 0 {
				t.Errorf("%s:\n%s", path, shown(list))
			}
		}
	}
}

// What editors and pens put into a text is met kindly: taken, or told with what to write.
func TestMarksOfPenAndEditorAreMetKindly(t *testing.T) {
	const book = `language 1
volume "Essays on Bees" {
  block 8½in x 5 1/2in x 1in
  title "Essays on Bees"
  spine { letter title }
}
`
	type told struct{ code, try string }
	for name, c := range map[string]struct {
		text  string
		taken bool // without an error
		told  []told
	}{
		"a half as one sign":      {book, true, nil},
		"lines of another ending": {strings.ReplaceAll(book, "\n", "\r\n"), true, nil},
		"a byte order mark":       {"\uFEFF" + book, true, nil},
		"both":                    {"\uFEFF" + strings.ReplaceAll(book, "\n", "\r\n"), true, nil},
		"curly quotes":            {strings.ReplaceAll(book, `title "Essays on Bees"`, "title “Essays on Bees”"), true, []told{{"curly-quote", "headcap format makes them plain"}}},
		"an inch mark":            {strings.Replace(book, "1in", `1"`, 1), false, []told{{"inch-mark", "write 1in"}}},
		"an inch sign":            {strings.Replace(book, "1in", "1″", 1), false, []told{{"inch-mark", "write 1in"}}},
		"an inch mark and a half": {strings.Replace(book, "8½in", `8½"`, 1), false, []told{{"inch-mark", "write 8½in"}}},
		"single quotes":           {strings.ReplaceAll(book, `title "Essays on Bees"`, "title 'Essays on Bees'"), false, []told{{"single-quotes", `"Essays on Bees"`}}},
	} {
		list := compiler.Check(context.Background(), files(c.text), entry)
		var got []told
		for _, d := range list.All() {
			got = append(got, told{d.Code, strings.Join(d.Try, "; ")})
		}
		if c.taken == list.Errors() || fmt.Sprint(got) != fmt.Sprint(c.told) {
			t.Errorf("%s: told %q, want %q\n%s", name, got, c.told, shown(list))
		}
	}
}
