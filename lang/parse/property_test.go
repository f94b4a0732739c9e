package parse

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
)

// sources are texts to scramble: all that stand beside the tests.
func sources(t testing.TB) []string {
	t.Helper()
	var out []string
	for _, pattern := range []string{"testdata/wants/*.headcap", "testdata/tree/*.txt"} {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			t.Fatalf("no %s: %v", pattern, err)
		}
		for _, p := range paths {
			b, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, string(b))
		}
	}
	return out
}

// sound checks what holds of every reading, whatever the text.
func sound(t testing.TB, text string) {
	t.Helper()
	src := source.NewFile("x.headcap", text)
	var whole strings.Builder
	for _, tok := range Tokens(src) {
		if tok.Start != whole.Len() || tok.Text == "" {
			t.Fatalf("token %q at %d stands out of its place in %q", tok.Text, tok.Start, text)
		}
		whole.WriteString(tok.Text)
	}
	if whole.String() != text {
		t.Fatalf("the tokens of %q are not the text", text)
	}
	var list diag.List
	f := File(src, &list)
	for _, d := range list.All() {
		if d.Code == "unexpected" {
			t.Fatalf("the grammar gave up on %q: %s", text, d.Message)
		}
		if !slices.Contains(Codes, d.Code) {
			t.Fatalf("%s is not listed", d.Code)
		}
		spans := []source.Span{d.At}
		for _, n := range d.Notes {
			spans = append(spans, n.At)
		}
		if d.Fix != nil {
			spans = append(spans, d.Fix.At)
		}
		for _, s := range spans {
			within(t, text, s, source.Span{File: src, End: len(text)})
		}
		if d.Message == "" || len(d.Try) == 0 {
			t.Fatalf("%s says too little of %q", d.Code, text)
		}
	}
	soundStatements(t, text, f.Statements, source.Span{File: src, End: len(text)})
}

func within(t testing.TB, text string, s, outer source.Span) {
	t.Helper()
	if s.File != outer.File || s.Start > s.End || s.Start < outer.Start || s.End > outer.End {
		t.Fatalf("span %d to %d lies outside %d to %d in %q", s.Start, s.End, outer.Start, outer.End, text)
	}
}

func soundStatements(t testing.TB, text string, statements []*ast.Statement, outer source.Span) {
	t.Helper()
	at := outer.Start
	for _, s := range statements {
		within(t, text, s.Span, source.Span{File: outer.File, Start: at, End: outer.End})
		at = s.Span.End
		within(t, text, s.WordSpan, s.Span)
		if s.Word == "" || s.WordSpan.Text() != s.Word {
			t.Fatalf("word %q stands on %q in %q", s.Word, s.WordSpan.Text(), text)
		}
		soundArgs(t, text, s.Args, s.Span, 0)
		if s.Block != nil {
			within(t, text, s.Block.Span, s.Span)
			soundStatements(t, text, s.Block.Statements, s.Block.Span)
		}
	}
}

func soundArgs(t testing.TB, text string, args []ast.Arg, outer source.Span, depth int) {
	t.Helper()
	at := outer.Start
	for i, a := range args {
		within(t, text, a.Span, source.Span{File: outer.File, Start: at, End: outer.End})
		at = a.Span.End
		if i > 0 && a.Kind == ast.Measure && args[i-1].Kind == ast.Measure {
			t.Fatalf("two measures side by side in the tree of %q", text)
		}
		if depth == 0 && a.Kind == ast.Operator && a.Text != "=" && a.Text != "x" {
			t.Fatalf("a bare %s in the tree of %q", a.Text, text)
		}
		soundArgs(t, text, a.Args, a.Span, depth+1)
	}
}

func TestEveryReadingIsSound(t *testing.T) {
	for _, text := range sources(t) {
		sound(t, text)
	}
}

// The cases show every complaint but those of the limits, and the one that there should never be.
func TestEveryComplaintIsShownByACase(t *testing.T) {
	shown := map[string]bool{"too-deep": true, "too-large": true, "too-many": true, "unexpected": true}
	for _, text := range sources(t) {
		_, all := read("x.headcap", text)
		for _, d := range all {
			shown[d.Code] = true
		}
	}
	for _, c := range Codes {
		if !shown[c] {
			t.Errorf("no case shows %s", c)
		}
	}
}

func TestTruncatedSourcesAreRead(t *testing.T) {
	for _, text := range sources(t) {
		for i := 0; i < len(text); i += 23 {
			sound(t, text[:i])
			sound(t, text[i:])
		}
	}
}

func TestScrambledSourcesAreRead(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	texts := sources(t)
	for range 600 {
		sound(t, scramble(random, texts[random.IntN(len(texts))]))
	}
}

// scramble takes a few pieces out of a text, doubles them, or changes their places.
func scramble(random *rand.Rand, text string) string {
	b := []byte(text)
	for range 1 + random.IntN(5) {
		if len(b) < 4 {
			break
		}
		i := random.IntN(len(b))
		j := min(len(b), i+random.IntN(12))
		piece := append([]byte(nil), b[i:j]...)
		switch random.IntN(4) {
		case 0:
			b = append(b[:i:i], b[j:]...)
		case 1:
			b = append(b[:j:j], append(piece, b[j:]...)...)
		case 2:
			rest := append(b[:i:i], b[j:]...)
			k := random.IntN(len(rest) + 1)
			b = append(rest[:k:k], append(piece, rest[k:]...)...)
		case 3:
			b[i] = "{}()\"',;x-+*/=#5 \n\\."[random.IntN(20)]
		}
	}
	return string(b)
}

func FuzzFile(f *testing.F) {
	for _, text := range sources(f) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { sound(t, text) })
}

// The volume is what a binder writes in a week: the time is that of a save in watch mode on a file a hundred times as large.
func BenchmarkFile(b *testing.B) {
	text := strings.Repeat(benchmarkText, 100)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		var list diag.List
		File(source.NewFile("x.headcap", text), &list)
		if list.Errors() {
			b.Fatal(list.All()[0])
		}
	}
}

func BenchmarkTokens(b *testing.B) {
	src := source.NewFile("x.headcap", strings.Repeat(benchmarkText, 100))
	b.SetBytes(int64(len(src.Text)))
	for b.Loop() {
		Tokens(src)
	}
}

const benchmarkText = `volume 1 "The Wexmoor Tollbook" {
  author "E. Marrable"
  leather tan dark 0.9mm
  block 210mm x 138mm x 34mm  // tall x wide x thick, under a light nip
  binding case { boards 2.5mm; squares 3mm; gap 7mm }
  spine {
    bands 5 equal, tail longer by 12mm
    bands wide 5mm, clear 2.5mm each side
    panel 2 { letter title in serif { cap 4.5mm to 9mm; lines 1 to 3; spaced 6%; thickened to 0.5mm } }
    panel rest {
      frame { fillet 0.8mm inset 1.5mm }
      centre bud
    }
  }
  front {
    frame outer { inset 3/8in; fillet 1.2mm; roll hedge }
    centre wheatsheaf fill 55% tall 40mm to 90mm
  }
  back like front without wheatsheaf
}
`
