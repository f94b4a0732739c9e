package parse

import (
	"io"
	"strings"
	"testing"
	"time"

	"headcap/lang/diag"
	"headcap/lang/source"
)

// A text beyond the limits is refused with one located complaint, and soon: the time is generous for a busy machine.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		name, text, code string
		offset           int
	}{
		{"braces", strings.Repeat("{", 3<<20), "too-deep", 64},
		{"blocks", strings.Repeat("a {\n", 1<<20), "too-deep", 64*4 + 2},
		{"blocks_and_parentheses", strings.Repeat("a (b) {", 1<<20), "too-deep", 64*7 + 6},
		{"parentheses", "let a = " + strings.Repeat("(", 3<<20), "too-deep", 8 + 64},
		{"parentheses_on_lines_that_shrink", shrinking(), "too-deep", -1},
		{"bytes", strings.Repeat("a\n", 5<<20), "too-large", 0},
		{"words", strings.Repeat("ab\n", MaxTokens), "too-large", 3 * MaxTokens / 2},
		{"empty_lines", strings.Repeat("\n", MaxBytes), "too-large", MaxTokens},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := source.NewFile("x.headcap", c.text)
			var list diag.List
			start := time.Now()
			f := File(src, &list)
			took := time.Since(start)
			all := list.All()
			if len(all) != 1 || all[0].Code != c.code || all[0].Severity != diag.Error {
				t.Fatalf("got %d complaints, the first %+v", len(all), all[:min(1, len(all))])
			}
			if at := all[0].At; at.File != src || c.offset >= 0 && at.Start != c.offset {
				t.Errorf("told at %d, want %d", at.Start, c.offset)
			}
			if len(f.Statements) != 0 {
				t.Errorf("%d statements of a source that was refused", len(f.Statements))
			}
			for try := 0; took > time.Second && try < 4; try++ { // a busy machine is slow now and then
				start = time.Now()
				File(src, &diag.List{})
				took = min(took, time.Since(start))
			}
			if took > time.Second {
				t.Errorf("refused after %v", took)
			}
		})
	}
}

// shrinking opens parentheses on lines each of which stands less deep than the one before, and deeper than the statement.
func shrinking() string {
	var b strings.Builder
	b.WriteString("let a =\n")
	for i := 10; i > 0; i-- {
		b.WriteString(strings.Repeat(" ", i) + strings.Repeat("(", 40) + "\n")
	}
	return b.String()
}

func TestWhatIsJustWithinTheLimitsIsRead(t *testing.T) {
	text := strings.Repeat("a { ", MaxDepth) + "let b = " + strings.Repeat("(", MaxDepth) + "1" + strings.Repeat(")", MaxDepth) + strings.Repeat(" }", MaxDepth)
	if _, all := read("x.headcap", text); len(all) != 0 {
		t.Errorf("%+v", all)
	}
}

// Many statements that each leave a parenthesis open are not deep.
func TestOpenParenthesesEndWithTheirStatements(t *testing.T) {
	_, all := read("x.headcap", strings.Repeat("a (b\n", MaxDepth+10))
	if len(all) != MaxDepth+10 || all[0].Code != "unclosed-parenthesis" {
		t.Errorf("%d complaints, the first %+v", len(all), all[0])
	}
}

// A file that is no source at all does not bury its reader.
func TestComplaintsOfOneFileAreLimited(t *testing.T) {
	for _, text := range []string{
		strings.Repeat("@ ?\n", 20_000), strings.Repeat("\xff \x01", 20_000), strings.Repeat("} ", 20_000), strings.Repeat("a { 5 }\n", 20_000),
		strings.Repeat("a \"\n", 20_000), strings.Repeat("{ }", 20_000), strings.Repeat("a (\n", 20_000), strings.Repeat("a,,", 20_000),
	} {
		start := time.Now()
		_, all := read("x.headcap", text)
		if len(all) != most+1 || time.Since(start) > 5*time.Second {
			t.Errorf("%.10q: %d complaints in %v", text, len(all), time.Since(start))
		}
	}
}

// No text takes time out of proportion to its length.
func TestReadingTakesLinearTime(t *testing.T) {
	for _, piece := range []string{
		"a\n\n\n", "a,\n\n", "a \"b\n", "/* ", "a {\n\n}\n", "(\n", "a 1,2,", "5 3/16", "x x ", "“", "a (\n \n", "} a {\n", "-", "a.", "12 mm ", "*/",
	} {
		start := time.Now()
		read("x.headcap", strings.Repeat(piece, 120_000/len(piece)))
		if took := time.Since(start); took > 4*time.Second {
			t.Errorf("%q many times over: %v", piece, took)
		}
	}
}

func TestTheLexerReadsAsTheGrammarWantsIt(t *testing.T) {
	lx, err := definition{}.Lex("x.headcap", strings.NewReader("panel 2 {\n  centre bud // so\n}\n"))
	if err != nil {
		t.Fatal(err)
	}
	names := map[int]string{}
	for name, n := range (definition{}).Symbols() {
		names[int(n)] = name
	}
	var got []string
	for {
		tok, err := lx.Next()
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, names[int(tok.Type)])
		if tok.EOF() {
			break
		}
	}
	if want := "Word Number OpenBrace Word Word EOL CloseBrace EOF"; strings.Join(got, " ") != want {
		t.Errorf("got %s, want %s", strings.Join(got, " "), want)
	}
	if _, err := (definition{}).Lex("x", failing{}); err == nil {
		t.Error("a reader's failure is lost")
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, io.ErrClosedPipe }
