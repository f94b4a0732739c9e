package lettering

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"headcap/compiler/geom"

	"codeberg.org/go-fonts/latin-modern/lmmonoproplt10bold"
	"codeberg.org/go-fonts/stix/stix2textsemibold"
	"github.com/go-text/typesetting/font/opentype"
)

func bundledFace(t testing.TB, name string) *Face {
	t.Helper()
	f, err := Bundled(name)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// code is the code of a fault, or what else went wrong.
func code(err error) string {
	var f *Fault
	if errors.As(err, &f) {
		return f.Code
	}
	if err != nil {
		return "error without a code: " + err.Error()
	}
	return ""
}

func TestBundledFacesOpenOnce(t *testing.T) {
	for _, name := range BundledNames() {
		if first, again := bundledFace(t, name), bundledFace(t, name); first != again {
			t.Errorf("%s was opened twice", name)
		}
	}
	_, err := Bundled("fraktur")
	if code(err) != "unknown-face" || !strings.Contains(err.Error(), "serif and slab") {
		t.Errorf("an unknown face: %v", err)
	}
}

func TestMetricsComeFromTheDrawnLetters(t *testing.T) {
	for _, c := range []struct {
		name       string
		cap, x, em int64
		smcp, kern bool
	}{
		{"serif", 657 * 64, 473 * 64, 1000 * 64, true, true},
		{"slab", 611 * 64, 436 * 64, 1000 * 64, false, true},
	} {
		f := bundledFace(t, c.name)
		h, em := f.CapShare()
		x, em2 := f.XHeight()
		if h != c.cap || x != c.x || em != c.em || em2 != c.em {
			t.Errorf("%s: cap height %d, x height %d of %d, %d; want %d, %d of %d", c.name, h, x, em, em2, c.cap, c.x, c.em)
		}
		if f.HasFeature("smcp") != c.smcp || f.HasFeature("kern") != c.kern || f.HasFeature("foo") || f.HasFeature("x") {
			t.Errorf("%s has small capitals: %v, kerning: %v", c.name, f.HasFeature("smcp"), f.HasFeature("kern"))
		}
		if len(f.Hash()) != 64 {
			t.Errorf("%s has the hash %q", c.name, f.Hash())
		}
	}
}

func TestFontFilesThatCannotBeUsed(t *testing.T) {
	whole := stix2textsemibold.TTF
	damaged := slices.Clone(whole)
	for i := 300; i < len(damaged); i += 7 {
		damaged[i] ^= 0x5A
	}
	for _, c := range []struct {
		name string
		data []byte
		says string
	}{
		{"nothing", nil, "cut short"},
		{"a picture", []byte("\x89PNG\r\n\x1a\n and so on"), "no font file"},
		{"a collection", []byte("ttcf\x00\x01\x00\x00\x00\x00\x00\x02"), "collection"},
		{"a web font", []byte("wOF2\x00\x01\x00\x00\x00\x00\x00\x02"), "web pages"},
		{"its head alone", whole[:2000], "cannot be used"},
		{"damaged", damaged, "cannot be used"},
	} {
		_, err := Open("mine", c.data)
		if code(err) != "bad-font" || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), `"mine"`) {
			t.Errorf("%s: %v; want words of %q", c.name, err, c.says)
		}
	}
}

func FuzzOpenAndSet(f *testing.F) {
	f.Add([]byte("\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00"), "A")
	f.Add(lmmonoproplt10bold.TTF, "AV fi")
	f.Fuzz(func(t *testing.T, data []byte, text string) {
		face, err := Open("fuzzed", data)
		if err != nil {
			return
		}
		_, _ = face.set(text, Style{})
	})
}

func TestTextThatCannotBeSet(t *testing.T) {
	f := bundledFace(t, "slab")
	for _, c := range []struct{ text, code, says string }{
		{"T\u0001", "bad-text", "U+0001"},
		{"two\nlines", "bad-text", "U+000A"},
		{"a\u202eb", "bad-text", "U+202E"},
		{"a\u2067b", "bad-text", "U+2067"},
		{"a\u200eb", "bad-text", "U+200E"},
		{"soft\u00adhyphen", "bad-text", "U+00AD"},
		{"\xff", "bad-text", "UTF-8"},
		{"", "no-ink", "nothing to cut"},
		{"   ", "no-ink", "nothing to cut"},
		{"tree 木", "missing-glyph", `'木' (U+6728)`},
		{strings.Repeat("m", mostRunes+1), "bad-text", "1000"},
	} {
		_, err := f.Proportions(c.text, Style{})
		if code(err) != c.code || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v; want %s with %q", c.text, err, c.code, c.says)
		}
	}
	for _, s := range []Style{{SpacedMille: -1}, {SpacedMille: 5000}, {Capitals: true, SmallCapitals: true}, {ThickenTo: -1}} {
		if _, err := f.Proportions("A", s); code(err) != "bad-lettering" {
			t.Errorf("%+v: %v", s, err)
		}
	}
	for _, cap := range []int64{-1, 0, 999, mostCap + 1} {
		if _, err := f.Set("A", Style{Cap: cap}, 0); code(err) != "bad-lettering" {
			t.Errorf("a cap height of %d: %v", cap, err)
		}
	}
	if _, err := f.Set("A", Style{Cap: geom.Millimetre / 2, ThickenTo: geom.Millimetre / 2}, 0); code(err) != "too-small-to-thicken" {
		t.Errorf("half a millimetre of cap with limbs of half a millimetre: %v", err)
	}
}

// shapedAs lists glyphs as hb-shape prints them, in font units.
func shapedAs(t *testing.T, f *Face, text string, s Style) string {
	t.Helper()
	runes, err := f.runes(text, s)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, r := range runs(runes) {
		glyphs, err := f.shape(runes, r, s)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range glyphs {
			word := strconv.Itoa(int(g.id)) + "=" + strconv.Itoa(g.cluster)
			if g.dx != 0 || g.dy != 0 {
				word += "@" + strconv.FormatInt(g.dx/gridPerUnit, 10) + "," + strconv.FormatInt(g.dy/gridPerUnit, 10)
			}
			out = append(out, word+"+"+strconv.FormatInt(g.advance/gridPerUnit, 10))
		}
	}
	return "[" + strings.Join(out, "|") + "]"
}

// needs skips a test whose tool is missing; where all tools are promised (CI is set) it fails instead.
func needs(t *testing.T, tool string) string {
	t.Helper()
	path, err := exec.LookPath(tool)
	if err == nil {
		return path
	}
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is missing", tool)
	}
	t.Skipf("%s is missing", tool)
	return ""
}

// TestShapingIsThatOfHarfBuzz compares glyphs, kerning and ligatures with the reference shaper.
func TestShapingIsThatOfHarfBuzz(t *testing.T) {
	hb := needs(t, "hb-shape")
	files := map[string][]byte{"serif": stix2textsemibold.TTF, "slab": lmmonoproplt10bold.TTF}
	for _, c := range []struct {
		face, text, features string
		style                Style
		script               string
	}{
		{"serif", "AVATAR To Wy. LT", "", Style{}, "Latn"},
		{"serif", "office fjord waffle", "", Style{}, "Latn"},
		{"serif", "office fjord waffle", "-liga,-clig", Style{SpacedMille: 80}, "Latn"},
		{"serif", "The Long Causeway", "smcp", Style{SmallCapitals: true}, "Latn"},
		{"serif", "way yo. Tyre f. rd ov", "smcp", Style{SmallCapitals: true}, "Latn"},
		{"serif", "way yo. Tyre f. rd ov", "", Style{}, "Latn"},
		{"serif", "É Ünal Å ñ ç", "", Style{}, "Latn"},
		{"serif", "e\u0301 A\u030a", "", Style{}, "Latn"},
		{"serif", "1847–1902 & Co.", "", Style{}, "Latn"},
		{"serif", "ΩΔΗ Αθήνα, Τέλος", "", Style{}, "Grek"},
		{"serif", "Война и мир", "", Style{}, "Cyrl"},
		{"slab", "AVATAR fi waffle", "", Style{}, "Latn"},
		{"slab", "DYKES AND SLUICES", "case", Style{Capitals: true}, "Latn"},
	} {
		font := t.TempDir() + "/font.otf"
		if err := os.WriteFile(font, files[c.face], 0o600); err != nil {
			t.Fatal(err)
		}
		args := []string{"--no-glyph-names", "--script=" + c.script, "--language=und", "--direction=ltr", "--features=" + c.features, font, c.text}
		want, err := exec.Command(hb, args...).Output()
		if err != nil {
			t.Fatal(err)
		}
		// hb-shape counts clusters in characters of the text as given, as we do.
		if got := shapedAs(t, bundledFace(t, c.face), c.text, c.style); got != strings.TrimSpace(string(want)) {
			t.Errorf("%s %q\n got %s\nwant %s", c.face, c.text, got, want)
		}
	}
}

// TestShapingOfScriptsFromTheRight needs a face that has them, in TrueType outlines.
func TestShapingOfScriptsFromTheRight(t *testing.T) {
	const path = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"
	hb := needs(t, "hb-shape")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Skipf("the face with Hebrew and Arabic is missing: %v", err)
	}
	f, err := Open("dejavu", data)
	if err != nil {
		t.Fatal(err)
	}
	for script, text := range map[string]string{"Hebr": "שָׁלוֹם", "Arab": "كتاب الأدب", "Latn": "AVATAR fi To"} {
		want, err := exec.Command(hb, "--no-glyph-names", "--script="+script, "--language=und", path, text).Output()
		if err != nil {
			t.Fatal(err)
		}
		if got := shapedAs(t, f, text, Style{}); got != strings.TrimSpace(string(want)) {
			t.Errorf("%q\n got %s\nwant %s", text, got, want)
		}
	}
	p, err := f.Proportions("كتاب", Style{SpacedMille: 100})
	if err != nil {
		t.Fatal(err)
	}
	if n := p.Notes(); len(n) != 1 || n[0].Code != "joined-script" {
		t.Errorf("spaced Arabic is told of by %v", n)
	}
}

func TestVariableFontsAreTold(t *testing.T) {
	ld, err := opentype.NewLoader(bytes.NewReader(lmmonoproplt10bold.TTF))
	if err != nil {
		t.Fatal(err)
	}
	tables := []opentype.Table{{Tag: opentype.MustNewTag("fvar"), Content: make([]byte, 16)}}
	for _, tag := range ld.Tables() {
		content, err := ld.RawTable(tag)
		if err != nil {
			t.Fatal(err)
		}
		tables = append(tables, opentype.Table{Tag: tag, Content: content})
	}
	f, err := Open("mine", opentype.WriteTTF(tables))
	if err != nil {
		t.Fatal(err)
	}
	if n := f.Notes(); len(n) != 1 || n[0].Code != "variable-font" {
		t.Errorf("a variable font is told of by %v", n)
	}
	p, err := f.Proportions("A", Style{})
	if err != nil || len(p.Notes()) != 1 {
		t.Errorf("and on its lines by %v (%v)", p.Notes(), err)
	}
}

func TestKerningBringsLettersCloser(t *testing.T) {
	width := func(text string) int64 {
		p, err := bundledFace(t, "serif").Proportions(text, Style{})
		if err != nil {
			t.Fatal(err)
		}
		return p.Width(geom.Millimetre * 10)
	}
	// The V, its neighbours H and their sides are the same in both lines; only the pair AV is kerned.
	if av, ha := width("HAVH"), width("HAH")+width("HVH")-width("HH"); av >= ha {
		t.Errorf("AV takes %d nm, unkerned %d", av, ha)
	}
}

func TestCapitals(t *testing.T) {
	f := bundledFace(t, "serif")
	runes, err := f.runes("Straße, ﬁnis", Style{Capitals: true})
	if err != nil || string(runes) != "STRASSE, FINIS" {
		t.Errorf("capitals of Straße, finis: %q, %v", string(runes), err)
	}
}

func TestMissingSmallCapitalsAreTold(t *testing.T) {
	notes := func(face, text string, s Style) []Note {
		p, err := bundledFace(t, face).Proportions(text, s)
		if err != nil {
			t.Fatal(err)
		}
		return p.Notes()
	}
	small := Style{SmallCapitals: true}
	if n := notes("serif", "The Fen, 4", small); len(n) != 0 {
		t.Errorf("serif has small capitals, and says %v", n)
	}
	n := notes("slab", "Fenne", small)
	if len(n) != 1 || n[0].Code != "no-small-capitals" || !strings.Contains(n[0].Message, "for e, n:") {
		t.Errorf("slab has no small capitals, and says %v", n)
	}
	if n := notes("slab", "FEN 4", small); len(n) != 0 {
		t.Errorf("a text without small letters needs no small capitals; it says %v", n)
	}
}

func TestRunsOfTwoDirections(t *testing.T) {
	text := []rune("ab אב 12 גד cd")
	var seen []string
	for _, r := range runs(text) {
		mark := "›"
		if r.leftward {
			mark = "‹"
		}
		seen = append(seen, mark+string(text[r.start:r.end]))
	}
	// Hebrew runs from the right, the number inside it from the left.
	if got, want := strings.Join(seen, "|"), "›ab |‹ גד|›12|‹אב |› cd"; got != want {
		t.Errorf("runs as seen: %s, want %s", got, want)
	}
}
