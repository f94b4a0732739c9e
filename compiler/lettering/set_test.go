package lettering

import (
	"fmt"
	"slices"
	"sync"
	"testing"

	"headcap/compiler/geom"
)

const mm, um = geom.Millimetre, geom.Micrometre

func setLine(t testing.TB, face, text string, s Style) Line {
	t.Helper()
	l, err := bundledFace(t, face).Set(text, s, 7)
	if err != nil {
		t.Fatalf("%s %q: %v", face, text, err)
	}
	return l
}

func proportions(t testing.TB, face, text string, s Style) Proportions {
	t.Helper()
	p, err := bundledFace(t, face).Proportions(text, s)
	if err != nil {
		t.Fatalf("%s %q: %v", face, text, err)
	}
	return p
}

// limbs are the thinnest limbs of a text.
func limbs(t testing.TB, face, text string) limbSteps {
	t.Helper()
	f := bundledFace(t, face)
	line, err := f.set(text, Style{})
	if err != nil {
		t.Fatal(err)
	}
	l, err := f.thinnest(line)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func near(a, b, within int64) bool { return max(a-b, b-a) <= within }

// lines are set by most tests: plain, spaced, thickened; with slanting corners (A, W, K), round ends (S, O) and marks
// that stand out on every side.
var lines = []struct {
	face, text string
	style      Style
}{
	{"serif", "THE LONG CAUSEWAY", Style{Cap: 4300 * um, SpacedMille: 80, ThickenTo: 500 * um}},
	{"serif", "Dykes and Sluices", Style{Cap: 5 * mm, SpacedMille: 60, ThickenTo: 500 * um}},
	{"serif", "Turf", Style{Cap: 12 * mm, ThickenTo: 500 * um}},
	{"serif", "WAVY", Style{Cap: 4 * mm, SpacedMille: 200, ThickenTo: 600 * um}},
	{"serif", "A Bittern in the Reeds", Style{Cap: 6 * mm, SpacedMille: 50, SmallCapitals: true, ThickenTo: 450 * um}},
	{"serif", "K", Style{Cap: 6 * mm, ThickenTo: 500 * um}},
	{"serif", "“Ångström, 1868.”", Style{Cap: 5 * mm}},
	{"serif", "WAVY", Style{Cap: 4 * mm, SpacedMille: 60, LeastGap: 250 * um, LeastGapAt: 3 * mm, ThickenTo: 500 * um}},
	{"slab", "5", Style{Cap: 5 * mm}},
	{"slab", "H. SALLOW", Style{Cap: 3500 * um, SpacedMille: 60}},
	{"slab", "H. Sallow & Co.", Style{Cap: 3500 * um, SpacedMille: 120, ThickenTo: 500 * um}},
}

func TestExtentsAreThoseOfTheOutlines(t *testing.T) {
	for _, c := range lines {
		l := setLine(t, c.face, c.text, c.style)
		b := geom.BoundsOf(l.Shapes)
		if !near(b.Width(), l.Width, 2*um) {
			t.Errorf("%q is %d nm wide, reckoned as %d", c.text, b.Width(), l.Width)
		}
		if !near(-b.Min.X, b.Max.X, 3*um) {
			t.Errorf("%q runs from %d to %d: not about its middle", c.text, b.Min.X, b.Max.X)
		}
		if !near(-b.Min.Y, l.Cap+l.Above, 2*um) || !near(b.Max.Y, l.Below, 2*um) {
			t.Errorf("%q stands from %d to %d, reckoned as %d and %d", c.text, b.Min.Y, b.Max.Y, -l.Cap-l.Above, l.Below)
		}
	}
}

func TestFlatCapitalsAreAsTallAsAsked(t *testing.T) {
	for _, face := range BundledNames() {
		for _, cap := range []int64{2 * mm, 4300 * um, 7001 * um, 25 * mm} {
			for _, thick := range []int64{0, 300 * um, 500 * um} {
				b := geom.BoundsOf(setLine(t, face, "H", Style{Cap: cap, ThickenTo: thick}).Shapes)
				if !near(-b.Min.Y, cap, um) || !near(b.Max.Y, 0, um) {
					t.Errorf("%s H of %d nm thickened to %d stands from %d to %d", face, cap, thick, b.Min.Y, b.Max.Y)
				}
			}
		}
	}
}

func TestThickenedLimbsReachTheirWidth(t *testing.T) {
	for _, c := range lines {
		if c.style.ThickenTo == 0 {
			continue
		}
		l := setLine(t, c.face, c.text, c.style)
		under, err := geom.LimbsUnder(l.Shapes, c.style.ThickenTo-5*um)
		if err != nil {
			t.Fatal(err)
		}
		if len(under) > 0 {
			t.Errorf("%q thickened to %d nm has thinner limbs at %v", c.text, c.style.ThickenTo, under)
		}
	}
}

func TestLinesOfOneTextGrowAlike(t *testing.T) {
	title := "KINGDOMS OF THE FEN"
	s := Style{Cap: 4 * mm, ThickenTo: 500 * um}
	alone := setLine(t, "serif", "OF THE FEN", s)
	s.Whole = title
	if one, two := setLine(t, "serif", "KINGDOMS", s), setLine(t, "serif", "OF THE FEN", s); one.Grown != two.Grown {
		t.Errorf("two lines of a title are grown by %d and %d nm", one.Grown, two.Grown)
	}
	if with := setLine(t, "serif", "OF THE FEN", s); with.Grown <= alone.Grown {
		t.Errorf("the S elsewhere in the title is thinner, but the line grows by %d nm as alone by %d", with.Grown, alone.Grown)
	}
}

func TestWidthRisesAndCapForIsItsInverse(t *testing.T) {
	for _, c := range lines {
		p := proportions(t, c.face, c.text, c.style)
		before := int64(0)
		for cap := p.LeastThickened(); cap < 30*mm; cap += 137_219 {
			if w := p.Width(cap); w < before {
				t.Fatalf("%q is narrower at %d nm than below", c.text, cap)
			} else {
				before = w
			}
		}
		for w := 7 * mm; w < 400*mm; w = w*17/13 + 311 {
			cap := p.CapFor(w)
			switch {
			case cap == 0:
				if least := p.LeastThickened() + um; p.Width(least) <= w {
					t.Errorf("%q: nothing fits %d nm, but %d does", c.text, w, least)
				}
			case cap%um != 0 || p.Width(cap) > w:
				t.Errorf("%q: caps of %d nm are said to fit %d, and take %d", c.text, cap, w, p.Width(cap))
			case cap < mostCap && p.Width(cap+um) <= w:
				t.Errorf("%q: caps of %d nm fit %d, but a micrometre more does too", c.text, cap, w)
			}
		}
	}
}

func TestThickeningEndsWhereTheLetterIsThickEnough(t *testing.T) {
	s := Style{ThickenTo: 500 * um}
	p := proportions(t, "serif", "HUE", s)
	limb := limbs(t, "serif", "HUE")[0]
	from := (s.ThickenTo*million + limb - 1) / limb
	if p.Grown(from) != 0 || p.Nominal(from) != from {
		t.Errorf("at %d nm the limb is thick enough, and yet it grows by %d", from, p.Grown(from))
	}
	if g := p.Grown(from - 10*um); g <= 0 || g > um {
		t.Errorf("just below, it grows by %d nm", g)
	}
	if a, b := p.Width(from-1), p.Width(from); !near(a, b, 20) {
		t.Errorf("the width jumps from %d to %d", a, b)
	}
	for _, cap := range []int64{2 * mm, 4 * mm, from, 20 * mm} {
		if c := p.Nominal(cap) + 2*p.Grown(cap); !near(c, cap, 1) {
			t.Errorf("drawn at %d and grown by %d: %d, wanted %d", p.Nominal(cap), p.Grown(cap), c, cap)
		}
	}
}

func TestSpacesBetweenLettersAreSharesOfTheCap(t *testing.T) {
	at := func(spaced, thick int64) int64 {
		p := proportions(t, "slab", "HI HI", Style{SpacedMille: spaced, ThickenTo: thick})
		return p.Width(4 * mm)
	}
	// Five characters, the space among them, have four gaps of 8 % of 4 mm.
	for _, thick := range []int64{0, 600 * um} {
		if d := at(80, thick) - at(0, thick); !near(d, 4*320*um, 1) {
			t.Errorf("spaced 8 %%, thickened to %d, the line is wider by %d nm", thick, d)
		}
	}
}

func TestGapsBetweenLetters(t *testing.T) {
	gap := func(text string, s Style) (int64, bool) {
		p := proportions(t, "serif", text, s)
		return p.GapAt(4 * mm)
	}
	if _, ok := gap("H", Style{}); ok {
		t.Error("one letter has a gap to another")
	}
	plain, _ := gap("HH", Style{})
	spaced, _ := gap("HH", Style{SpacedMille: 100})
	if !near(spaced-plain, 400*um, 2) || plain < 50*um || plain > 500*um {
		t.Errorf("gaps of %d, and %d spaced by 0.4 mm", plain, spaced)
	}
	// Where every letter is one piece, the gaps between letters are those between the shapes.
	for _, text := range []string{"THE LONG CAUSEWAY", "TOAST ROAD", "ToAVo"} {
		for _, s := range []Style{
			{Cap: 4300 * um, SpacedMille: 80, ThickenTo: 500 * um},
			{Cap: 8 * mm, SpacedMille: 50},
		} {
			p := proportions(t, "serif", text, s)
			said, ok := p.GapAt(s.Cap)
			measured, found := shapeGap(setLine(t, "serif", text, s).Shapes)
			if !ok || !found || !near(said, measured, 4*um) {
				t.Errorf("%q has a gap of %d nm, said to be %d", text, measured, said)
			}
		}
	}
	// Grown by more than half of their gap they run together.
	if g, ok := gap("HH", Style{ThickenTo: 900 * um}); !ok || g != 0 {
		t.Errorf("letters that run together have a gap of %d, %v", g, ok)
	}
}

func TestTightPairsAreOpened(t *testing.T) {
	s := Style{SpacedMille: 80, ThickenTo: 500 * um}
	text, limit := "WAVY QUICK MINX", 250*um
	tight := proportions(t, "serif", text, s)
	if g, _ := tight.GapAt(4300 * um); g >= limit {
		t.Fatalf("the gap is %d without opening: nothing is shown", g)
	}
	s.LeastGap, s.LeastGapAt = limit, 4300*um
	opened := proportions(t, "serif", text, s)
	if g, _ := opened.GapAt(4300 * um); g < limit || g > limit+um {
		t.Errorf("opened to %d nm, the gap is %d", limit, g)
	}
	before := limit
	for _, cap := range []int64{5 * mm, 7 * mm, 9 * mm, 20 * mm} {
		g, _ := opened.GapAt(cap)
		if g < before {
			t.Errorf("at caps of %d nm the gap shrinks to %d", cap, g)
		}
		before = g
	}
	// Only what was too tight is opened.
	with, without := proportions(t, "serif", "HIH", s), proportions(t, "serif", "HIH", Style{SpacedMille: 80, ThickenTo: 500 * um})
	if with.Width(4*mm) != without.Width(4*mm) {
		t.Errorf("letters that stood far enough apart were moved: %d nm, %d before", with.Width(4*mm), without.Width(4*mm))
	}
}

// shapeGap is the least distance between two shapes.
func shapeGap(shapes []geom.Shape) (int64, bool) {
	const far = 1e18
	best := far
	edges := make([]letterEdges, len(shapes))
	for i, s := range shapes {
		g := glyph{corners: corners(geom.Path{s.Outer}, 1)}
		edges[i] = g.edges(0, func(p geom.Point) geom.Point { return p })
	}
	for i, a := range edges {
		for _, b := range edges[:i] {
			if boxGap(a.box, b.box) < best {
				best = a.gap(b, 0, best)
			}
		}
	}
	return int64(best), best < far
}

func TestLinesAreFusedAndDoNotCross(t *testing.T) {
	for _, c := range lines {
		l := setLine(t, c.face, c.text, c.style)
		var edges [][2]geom.Point
		for _, s := range l.Shapes {
			if s.Area() <= 0 {
				t.Errorf("%q has a shape of area %v", c.text, s.Area())
			}
			for _, c := range append(slices.Clone(s.Holes), s.Outer) {
				ring := geom.Points(c, um)
				for i, p := range ring {
					edges = append(edges, [2]geom.Point{p, ring[(i+1)%len(ring)]})
				}
			}
		}
		for i, a := range edges {
			for _, b := range edges[:i] {
				if boxGap(boxOf(a[0], a[1]), boxOf(b[0], b[1])) == 0 &&
					side(a[0], a[1], b[0])*side(a[0], a[1], b[1]) < 0 && side(b[0], b[1], a[0])*side(b[0], b[1], a[1]) < 0 {
					t.Fatalf("%q crosses itself near %v", c.text, a[0])
				}
			}
		}
	}
}

func TestEverySegmentCarriesTheTag(t *testing.T) {
	for _, s := range setLine(t, "serif", "Bog", Style{Cap: 4 * mm, ThickenTo: 500 * um}).Shapes {
		for _, c := range append(slices.Clone(s.Holes), s.Outer) {
			for _, seg := range c.Segments {
				if seg.Tag != 7 {
					t.Fatalf("tag %d", seg.Tag)
				}
			}
		}
	}
}

func TestCurvesAreKept(t *testing.T) {
	l := setLine(t, "serif", "O", Style{Cap: 5 * mm})
	if len(l.Shapes) != 1 || len(l.Shapes[0].Holes) != 1 {
		t.Fatalf("an O is %d shapes", len(l.Shapes))
	}
	for _, s := range l.Shapes[0].Outer.Segments {
		if s.Line {
			t.Errorf("the O has a straight piece from %v to %v", s.P0, s.P3)
		}
	}
}

func TestGlyphStandsAtItsEm(t *testing.T) {
	f := bundledFace(t, "serif")
	shapes, err := f.Glyph('H', 10*mm, 3)
	if err != nil {
		t.Fatal(err)
	}
	cap, em := f.CapShare()
	if b := geom.BoundsOf(shapes); !near(b.Height(), 10*mm*cap/em, 2) || b.Max.Y != 0 || b.Min.X <= 0 {
		t.Errorf("an H at 10 mm to the em fills %v", b)
	}
	if shapes[0].Outer.Segments[0].Tag != 3 {
		t.Error("it does not carry the tag")
	}
	if _, err := f.Glyph('木', mm, 0); code(err) != "missing-glyph" {
		t.Errorf("a glyph that is missing: %v", err)
	}
}

func TestFacesMayBeUsedAtOnce(t *testing.T) {
	f, err := Open("mine", bundledFace(t, "slab").data)
	if err != nil {
		t.Fatal(err)
	}
	f.limbs = slabLimbs
	var wait sync.WaitGroup
	got := make([]string, 4)
	for i := range got {
		wait.Go(func() {
			l, err := f.Set("AVID", Style{Cap: 4 * mm, ThickenTo: 500 * um}, 0)
			got[i] = fmt.Sprint(l, err)
		})
	}
	wait.Wait()
	for _, g := range got[1:] {
		if g != got[0] {
			t.Error("the same line came out in two ways")
		}
	}
}

func BenchmarkSetThickenedTitle(b *testing.B) {
	for b.Loop() {
		setLine(b, lines[0].face, lines[0].text, lines[0].style)
	}
}

// BenchmarkSetFirstTitle sets a title with nothing of its letters kept from another.
func BenchmarkSetFirstTitle(b *testing.B) {
	data := bundledFace(b, "serif").data
	for b.Loop() {
		f, err := Open("fresh", data)
		if err != nil {
			b.Fatal(err)
		}
		f.limbs = serifLimbs
		if _, err := f.Set(lines[0].text, lines[0].style, 0); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkProportions(b *testing.B) {
	for b.Loop() {
		p := proportions(b, lines[0].face, lines[0].text, lines[0].style)
		p.CapFor(30 * mm)
	}
}

// BenchmarkMeasureLimbs is what the tables of the bundled faces save: the limbs of the letters of one title.
func BenchmarkMeasureLimbs(b *testing.B) {
	data := bundledFace(b, "serif").data
	for b.Loop() {
		f, err := Open("fresh", data)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := f.Proportions(lines[0].text, lines[0].style); err != nil {
			b.Fatal(err)
		}
	}
}
