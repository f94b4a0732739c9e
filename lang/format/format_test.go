package format

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the expected forms")

// The files of testdata hold a source, and its canonical form.
func TestForms(t *testing.T) {
	paths, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no testdata: %v", err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txt"), func(t *testing.T) {
			in, want, ok := strings.Cut(readFile(t, path), "---\n")
			if !ok && !*update {
				t.Fatal("no line of --- after the source")
			}
			got, err := Source(in)
			if err != nil {
				t.Fatal(err)
			}
			if got != want {
				if *update {
					if err := os.WriteFile(path, []byte(in+"---\n"+got), 0o644); err != nil {
						t.Fatal(err)
					}
				} else {
					t.Errorf("got\n%swant\n%s", got, want)
				}
			}
			if again, err := Source(got); again != got || err != nil {
				t.Errorf("formatted twice it is another:\n%s%v", again, err)
			}
		})
	}
}

func readFile(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestLineEndsQuotesAndTheByteOrderMark(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", ""},
		{"\n\n", ""},
		{"\ufefflanguage   1", "language 1\n"},
		{"a\r\n\r\n\r\n\r\nb  \r\n", "a\n\nb\n"},
		{"/* one\r\n   two */ a\r\n", "/* one\n   two */ a\n"},
		{"// so \t\r\n", "// so\n"},
		{"title “The Reeds”, „Two“, \"three”\n", "title \"The Reeds\", \"Two\", \"three\"\n"},
		{"title \"it holds “these”\"\n", "title \"it holds “these”\"\n"},
		{"title “a \\\" mark”\n", "title “a \\\" mark”\n"},
		{"wide (foot)×3mm ×2\n", "wide (foot) x 3mm x 2\n"},
		{"leaf × bud\n", "leaf × bud\n"}, // an x would be a word
		{"a;\nb;;c\n;d\n", "a\nb; c\nd\n"},
		{"a { b;c; }\n", "a { b; c }\n"},
		{"a { b };c\n", "a { b }; c\n"},
	} {
		if got, err := Source(c.in); got != c.want || err != nil {
			t.Errorf("%q became %q, want %q (%v)", c.in, got, c.want, err)
		}
	}
}

// What is too deep or too large is left as it is.
func TestTextsBeyondTheLimitsAreLeft(t *testing.T) {
	for _, text := range []string{strings.Repeat("a {\n", 100), strings.Repeat("(", 100), strings.Repeat("a\n", 5<<20)} {
		if got, err := Source(text); got != text || err == nil {
			t.Errorf("%.10q…: %v", text, err)
		}
	}
}

func BenchmarkSource(b *testing.B) {
	text := strings.Repeat("volume 1 \"Turf\" { emblem spade; block 228mm x 151mm x 19mm }  // no longer\n", 500)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := Source(text); err != nil {
			b.Fatal(err)
		}
	}
}
