package diag

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"headcap/lang/source"
)

// spanOf finds the n-th occurrence of text in a file, from 1.
func spanOf(t *testing.T, f *source.File, text string, n int) source.Span {
	t.Helper()
	at := -1
	for range n {
		i := strings.Index(f.Text[at+1:], text)
		if i < 0 {
			t.Fatalf("no %q in %q", text, f.Text)
		}
		at += 1 + i
	}
	return source.Span{File: f, Start: at, End: at + len(text)}
}

func render(t *testing.T, d ...Diagnostic) string {
	t.Helper()
	var b strings.Builder
	if err := Render(&b, d, false); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func same(t *testing.T, got, want string) {
	t.Helper()
	if got != strings.TrimPrefix(want, "\n") {
		t.Errorf("got\n%swant%s", got, want)
	}
}

func TestRenderTheShape(t *testing.T) {
	f := source.NewFile("tollbook.headcap", strings.Repeat("\n", 8)+"stamp bud {\n"+strings.Repeat("\n", 21)+"      centre budd\n")
	same(t, render(t, Diagnostic{
		Code: "unknown-stamp", Message: `no stamp is named "budd"`, At: spanOf(t, f, "budd", 1),
		Notes: []Note{{At: spanOf(t, f, "bud", 1), Text: "defined here"}}, Try: []string{"bud", "a stamp of your own"},
	}), `
tollbook.headcap:31:14: error: no stamp is named "budd" [unknown-stamp]
   31 |       centre budd
      |              ^^^^
    9 | stamp bud {
      |       ~~~ note: defined here
   try: bud
   try: a stamp of your own
`)
}

func TestRenderNotesOnTheSameLineAndInOtherFiles(t *testing.T) {
	f, g := source.NewFile("a.headcap", "block 228mm 150mm\n"), source.NewFile("set.headcap", "\nstamp leaf {\n")
	same(t, render(t, Diagnostic{
		Severity: Warning, Code: "c", Message: "m", At: spanOf(t, f, "150mm", 1),
		Notes: []Note{{At: spanOf(t, f, "228mm", 1), Text: "the first"}, {At: spanOf(t, g, "leaf", 1), Text: "elsewhere"}, {Text: "nowhere"}},
	}), `
a.headcap:1:13: warning: m [c]
    1 | block 228mm 150mm
      |             ^^^^^
      |       ~~~~~ note: the first
   set.headcap:2:7:
    2 | stamp leaf {
      |       ~~~~ note: elsewhere
   note: nowhere
`)
}

func TestRenderTabsWideCharactersAndMarks(t *testing.T) {
	f := source.NewFile("a", "\tx\ttitle \"\u6f22\u5b57 e\u0301\" bad\n")
	same(t, render(t, Diagnostic{Severity: Advice, Code: "c", Message: "m", At: spanOf(t, f, "bad", 1)}), "\n"+
		"a:1:18: advice: m [c]\n"+
		"    1 |     x   title \"\u6f22\u5b57 e\u0301\" bad\n"+
		"      |                        ^^^\n")
}

func TestRenderSpansThatAreEmptyOrGoOn(t *testing.T) {
	f := source.NewFile("a", "one {\n  two\n}")
	for _, c := range []struct {
		start, end int
		line       string
	}{
		{0, len(f.Text), "      | ^^^^^\n"}, // to the end of its line
		{4, 4, "      |     ^\n"},
		{5, 5, "      |      ^\n"}, // the end of the line itself
		{len(f.Text), len(f.Text), "      |  ^\n"},
	} {
		got := render(t, Diagnostic{Code: "c", Message: "m", At: source.Span{File: f, Start: c.start, End: c.end}})
		if !strings.HasSuffix(got, c.line) {
			t.Errorf("%d to %d: got\n%swant\n%s", c.start, c.end, got, c.line)
		}
	}
	same(t, render(t, Diagnostic{Code: "no-place", Message: "m"}), "\nerror: m [no-place]\n")
	empty := source.NewFile("a", "")
	same(t, render(t, Diagnostic{Code: "c", Message: "m", At: source.Span{File: empty}}), "\na:1:1: error: m [c]\n    1 | \n      | ^\n")
}

func TestRenderCutsLongLines(t *testing.T) {
	f := source.NewFile("a", strings.Repeat("a", 500)+"bad"+strings.Repeat("c", 500))
	same(t, render(t, Diagnostic{Code: "c", Message: "m", At: spanOf(t, f, "bad", 1)}), "\n"+
		"a:1:501: error: m [c]\n"+
		"    1 | …"+strings.Repeat("a", 40)+"bad"+strings.Repeat("c", 117)+"…\n"+
		"      |  "+strings.Repeat(" ", 40)+"^^^\n")
	whole := render(t, Diagnostic{Code: "c", Message: "m", At: source.Span{File: f, End: len(f.Text)}})
	if !strings.HasSuffix(whole, "| "+strings.Repeat("^", 160)+"\n") {
		t.Errorf("a span of a thousand columns:\n%s", whole)
	}
}

// What stands in a source must not steer the terminal on which it is shown.
func TestRenderShowsNoControlCharacters(t *testing.T) {
	f := source.NewFile("a\x1b[2J", "title \x1b[31m\u202e\xff\n")
	got := render(t, Diagnostic{Code: "c", Message: "seen \x1b[0m\nhere", At: spanOf(t, f, "title", 1), Try: []string{"\a"}, Notes: []Note{{Text: "\r"}}})
	if strings.ContainsAny(got, "\x1b\a\r\u202e") || !utf8.ValidString(got) || strings.Count(got, "\n") != 5 {
		t.Errorf("%q", got)
	}
	if !strings.Contains(got, "title �[31m��\n") {
		t.Errorf("%q", got)
	}
}

func TestRenderColours(t *testing.T) {
	f := source.NewFile("a", "bad\n")
	var b strings.Builder
	if err := Render(&b, []Diagnostic{{Code: "c", Message: "m", At: spanOf(t, f, "bad", 1)}}, true); err != nil {
		t.Fatal(err)
	}
	want := "\x1b[1ma:1:1:\x1b[0m \x1b[1;31merror:\x1b[0m m [c]\n    1 | bad\n      | \x1b[1;31m^^^\x1b[0m\n"
	if b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
}

func TestJSON(t *testing.T) {
	f := source.NewFile("a.headcap", "one\ntitle “<é>” bad\n")
	var b strings.Builder
	err := JSON(&b, []Diagnostic{
		{
			Severity: Warning, Code: "c", Message: "m <", At: spanOf(t, f, "bad", 1), Volume: "3", Try: []string{"good"},
			Notes: []Note{{At: spanOf(t, f, "one", 1), Text: "n"}, {Text: "nowhere"}}, Fix: &Fix{At: spanOf(t, f, "bad", 1), With: "good"},
		},
		{Code: "d", Message: "e"},
	})
	if err != nil {
		t.Fatal(err)
	}
	same(t, b.String(), `
[
  {
    "severity": "warning",
    "code": "c",
    "message": "m <",
    "at": {
      "path": "a.headcap",
      "line": 2,
      "column": 13,
      "endLine": 2,
      "endColumn": 16
    },
    "volume": "3",
    "notes": [
      {
        "at": {
          "path": "a.headcap",
          "line": 1,
          "column": 1,
          "endLine": 1,
          "endColumn": 4
        },
        "text": "n"
      },
      {
        "text": "nowhere"
      }
    ],
    "try": [
      "good"
    ],
    "fix": {
      "at": {
        "path": "a.headcap",
        "line": 2,
        "column": 13,
        "endLine": 2,
        "endColumn": 16
      },
      "with": "good"
    }
  },
  {
    "severity": "error",
    "code": "d",
    "message": "e"
  }
]
`)
	var none strings.Builder
	if err := JSON(&none, nil); err != nil || none.String() != "[]\n" {
		t.Errorf("nothing is written as %q, %v", none.String(), err)
	}
	if !json.Valid([]byte(b.String())) {
		t.Error("not JSON")
	}
}

func TestAWriterThatFailsIsReported(t *testing.T) {
	d := []Diagnostic{{Code: "c", Message: "m"}}
	if Render(full{}, d, false) == nil || JSON(full{}, d) == nil {
		t.Error("the failure is lost")
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestAListHoldsTheSameComplaintOnce(t *testing.T) {
	f, g := source.NewFile("b", "xy"), source.NewFile("a", "xy")
	var l List
	l.Add(Diagnostic{Severity: Warning, Code: "c", Message: "m", At: source.Span{File: f, Start: 1, End: 2}, Volume: "1"})
	l.Add(Diagnostic{Severity: Warning, Code: "c", Message: "m", At: source.Span{File: f, Start: 1, End: 2}, Volume: "1"})
	l.Add(Diagnostic{Code: "c", Message: "m", At: source.Span{File: f, Start: 0, End: 2}, Volume: "1"})
	l.Add(Diagnostic{Severity: Advice, Code: "c", Message: "m", At: source.Span{File: g, Start: 1, End: 2}})
	all := l.All()
	if len(all) != 3 || all[0].At.File != g || all[1].At.Start != 0 || all[2].Volume != "1" {
		t.Fatalf("%+v", all)
	}
	if !l.Spoilt("1") || l.Spoilt("2") || !l.Errors() || l.Count(Warning) != 1 {
		t.Error("counted wrongly")
	}
	l.Add(Diagnostic{Severity: Warning, Code: "c", Message: "m", At: source.Span{File: f, Start: 1, End: 2}, Volume: "2"})
	if all := l.All(); len(all) != 3 || all[2].Volume != "" {
		t.Errorf("a complaint of two volumes: %+v", all[2])
	}
}
