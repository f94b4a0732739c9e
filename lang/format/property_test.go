package format

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// sources are all the sources and cases of the repository that a formatter may meet.
func sources(t testing.TB) []string {
	t.Helper()
	var out []string
	for _, root := range []string{"testdata", "../parse/testdata/wants", "../parse/testdata/tree", "../../examples", "../../stdlib", "../../testdata"} {
		err := filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if ext := filepath.Ext(path); ext == ".headcap" || ext == ".txt" && strings.HasPrefix(root, "../parse") || root == "testdata" && ext == ".txt" {
				out = append(out, readFile(t, path))
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// squeezed is what a text says, without what the formatter may change: blanks, semicolons, and the form of quotes and of x.
func squeezed(text string) string {
	text = strings.NewReplacer("“", `"`, "”", `"`, "„", `"`, "×", "x", ";", "").Replace(text)
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '\ufeff' {
			return -1
		}
		return r
	}, text)
}

// sound checks what holds of the form of every text, and says whether it was formatted.
func sound(t testing.TB, text string) bool {
	t.Helper()
	got, err := Source(text)
	if err != nil {
		if got != text {
			t.Fatalf("%v, and yet %q became %q", err, text, got)
		}
		return false
	}
	a, b := squeezed(text), squeezed(got)
	if slices.ContainsFunc(strings.Split(text, "\n"), func(l string) bool { return len(l) > maxColumns }) {
		a, b = sorted(a), sorted(b) // the comment of a line that was parted may have moved
	}
	if a != b {
		t.Fatalf("%q became %q", text, got)
	}
	if strings.Contains(got, "\n\n\n") && !strings.Contains(text, "/*") || strings.HasPrefix(got, "\n") || got != "" && !strings.HasSuffix(got, "\n") {
		t.Fatalf("%q became %q", text, got)
	}
	if again, err := Source(got); again != got || err != nil {
		t.Fatalf("%q became %q, and then %q (%v)", text, got, again, err)
	}
	return true
}

func sorted(s string) string {
	r := []rune(s)
	slices.Sort(r)
	return string(r)
}

func TestEverySourceIsFormatted(t *testing.T) {
	for _, text := range sources(t) {
		if !sound(t, text) {
			t.Errorf("left as it is:\n%s", text)
		}
	}
}

func TestTruncatedSources(t *testing.T) {
	left, n := 0, 0
	for _, text := range sources(t) {
		for i := 0; i < len(text); i += 1 + len(text)/15 {
			for _, piece := range []string{text[:i], text[i:]} {
				if n++; !sound(t, piece) {
					left++
				}
			}
		}
	}
	if left*20 > n {
		t.Errorf("%d of %d truncated sources were left as they are", left, n)
	}
}

func TestScrambledSources(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	texts := sources(t)
	left := 0
	const n = 500
	for range n {
		if !sound(t, scramble(random, texts[random.IntN(len(texts))])) {
			left++
		}
	}
	if left*10 > n {
		t.Errorf("%d of %d scrambled sources were left as they are", left, n)
	}
}

// scramble takes a few pieces out of a text, doubles them, or changes their places.
func scramble(random *rand.Rand, text string) string {
	for range 1 + random.IntN(4) {
		if len(text) < 4 {
			break
		}
		i := random.IntN(len(text))
		j := min(len(text), i+1+random.IntN(12))
		switch random.IntN(4) {
		case 0:
			text = text[:i] + text[j:]
		case 1:
			text = text[:j] + text[i:]
		case 2:
			rest := text[:i] + text[j:]
			k := random.IntN(len(rest) + 1)
			text = rest[:k] + text[i:j] + rest[k:]
		case 3:
			text = text[:i] + "{}()\"',;x-+*/=#5 \n\\."[random.IntN(20):][:1] + text[i+1:]
		}
	}
	return text
}

// Blanks of any kind and number make no difference to the form.
func TestTheFormDoesNotDependOnBlanks(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 17))
	want := "volume 1 \"Turf\" {\n  spine {\n    panel 2 { centre bud }  // so\n    bands at 1in, (2in - 3mm), 5 3/16in below head\n  }\n}\n"
	for range 300 {
		var b strings.Builder
		for _, line := range strings.SplitAfter(want, "\n") {
			b.WriteString(strings.Repeat(" ", random.IntN(4)))
			fixed := false // in a text or a comment
			for _, r := range strings.TrimLeft(line, " ") {
				fixed = fixed != (r == '"') || r == '/' && strings.HasSuffix(b.String(), "/")
				switch {
				case r == ' ' && !fixed:
					b.WriteString([]string{" ", "  ", "\t", "\u00a0 "}[random.IntN(4)])
				case r == '\n':
					b.WriteString([]string{"\n", " \n", "\r\n", "\t\r\n"}[random.IntN(4)])
				default:
					b.WriteRune(r)
				}
			}
		}
		if got, err := Source(b.String()); got != want || err != nil {
			t.Fatalf("%q became\n%s%v", b.String(), got, err)
		}
	}
}

func FuzzSource(f *testing.F) {
	for _, text := range sources(f) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { sound(t, text) })
}
