package agree

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"headcap/compiler/lettering"
	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

func slab(t *testing.T) *lettering.Face {
	t.Helper()
	f, err := lettering.Bundled("slab")
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// nm is hundredths of a millimetre in nanometres.
func nm(hundredths int64) int64 { return hundredths * 10_000 }

func length(hundredths int64) unit.Length { return unit.Nanometres(nm(hundredths)) }

// shelf is a series of n volumes.
func shelf(n int) *model.Shelf {
	s := &model.Shelf{Series: []model.Series{{Title: "Set"}}}
	for i := range n {
		s.Volumes = append(s.Volumes, model.Volume{Key: fmt.Sprint("volume ", i+1), Number: i + 1})
		s.Series[0].Volumes = append(s.Series[0].Volumes, i)
	}
	return s
}

// film asks for nothing, so that a width is a plain multiple of the cap.
var film = &model.Film{Name: "thin", Limits: model.Limits{LetterGap: -finer}}

// title is a slot for a title of one size for the set, between 2 and 5 mm, on one line, in a panel of some width.
func title(t *testing.T, volume int, text string, width int64) Slot {
	return Slot{
		Volume: volume, Series: 0, Key: "spine/title", Where: "panel 2", Texts: []Text{{Text: text}}, Face: slab(t), Film: film,
		Letter: model.Letter{
			What: "title", Least: length(200), Most: length(500), LinesLeast: 1, LinesMost: 1, Same: true, Plain: true, Leading: big.NewRat(7, 4),
		},
		Way: model.Across, Width: width, Height: nm(3000), Counts: true,
	}
}

// widthAt is how wide a text stands at a cap.
func widthAt(t *testing.T, s Slot, cap int64) int64 {
	t.Helper()
	p, err := s.Face.Proportions(s.Texts[0].Text, s.style(s.Texts[0].Text))
	if err != nil {
		t.Fatal(err)
	}
	return p.Width(cap)
}

func codes(list *diag.List) string {
	var out []string
	for _, d := range list.All() {
		out = append(out, fmt.Sprintf("%s %s", d.Severity, d.Code))
	}
	return strings.Join(out, ", ")
}

func letters(slots []Slot, n int) ([]Setting, []Shared, *diag.List) {
	list := &diag.List{}
	out, shared := Letters(slots, shelf(n), source.NewOrigins(), list)
	return out, shared, list
}

// L18: widths 31, 29, 30 and 14, and a title that needs 24 at size 5. "It is generally better to make some compromise with
// the lettering of the thin volume, than to spoil the lettering of the whole set by using too small a letter throughout",
// Cockerell 1901/1910, pp. 220-221 (the rule; the figures are derived): size 5 for three, and 2.92 or another break for the
// fourth.
func TestTheThinVolumeIsFlagged(t *testing.T) {
	set := func(change func(thin *Slot)) ([]Setting, []Shared, *diag.List) {
		var slots []Slot
		needs := widthAt(t, title(t, 0, "MARGINALIA", 0), nm(500))
		for i, w := range []int64{31, 29, 30, 14} {
			slots = append(slots, title(t, i, "MARGINALIA", needs*w/24))
		}
		change(&slots[3])
		return letters(slots, 4)
	}
	sizes := func(out []Setting) string {
		var s []string
		for _, o := range out {
			s = append(s, fmt.Sprintf("%.2f", float64(o.Cap)/1e6))
		}
		return strings.Join(s, " ")
	}
	for _, c := range []struct {
		name, sizes, told string
		setBy             int
		change            func(thin *Slot)
	}{
		{"unsaid, it holds the set down, and that is told", "2.91 2.91 2.91 2.91", "advice thin-volume", 3, func(*Slot) {}},
		{"apart, it takes a size of its own", "5.00 5.00 5.00 2.91", "", -1, func(s *Slot) { s.Apart, s.Counts = true, false }},
		{"estimated, it does not hold the set down", "5.00 5.00 5.00 2.91", "warning own-size", -1, func(s *Slot) { s.Counts = false }},
		{"under the least it fails, and the set stands", "5.00 5.00 5.00 0.00", "error letters-too-small", -1, func(s *Slot) { s.Letter.Least = length(350) }},
		{"with a short title it takes the set's", "5.00 5.00 5.00 5.00", "", -1, func(s *Slot) {
			s.Letter.Least = length(350)
			s.Texts = append(s.Texts, Text{Text: "NOTA"})
		}},
	} {
		out, shared, list := set(c.change)
		if got := sizes(out); got != c.sizes || codes(list) != c.told {
			t.Errorf("%s: caps %s, told %q; want %s, %q", c.name, got, codes(list), c.sizes, c.told)
		}
		if len(shared) != 1 || shared[0].SetBy != c.setBy {
			t.Errorf("%s: %v; volume %d sets the size", c.name, shared, c.setBy)
		}
	}
}

func TestSizesDoNotHangOnTheOrderOfVolumes(t *testing.T) {
	r := rand.New(rand.NewPCG(220, 221))
	texts := []string{"TURF", "EELS AND LEDGERS", "A BITTERN IN THE REEDS", "DYKES"}
	for range 20 {
		var slots []Slot
		for i, text := range texts {
			s := title(t, i, text, nm(3500+r.Int64N(3000)))
			s.Letter.LinesMost = 3
			slots = append(slots, s)
		}
		out, _, _ := letters(slices.Clone(slots), 4)
		turned := slices.Clone(slots)
		slices.Reverse(turned)
		back, _, _ := letters(turned, 4)
		slices.Reverse(back)
		for i := range out {
			if !out[i].OK || out[i].Cap != back[i].Cap || !slices.Equal(out[i].Lines, back[i].Lines) {
				t.Fatalf("%s: %d nm on %q, and in the other order %d on %q", texts[i], out[i].Cap, out[i].Lines, back[i].Cap, back[i].Lines)
			}
		}
	}
}

// A way is tried where the one before it does not reach the least size, and no sooner.
func TestWaysAreTriedInOrder(t *testing.T) {
	for _, c := range []struct {
		name  string
		width int64
		ways  []model.Way
		want  model.Way
		ok    bool
	}{
		{"across where it reaches", 3000, []model.Way{model.Across, model.Down}, model.Across, true},
		{"down where across does not", 500, []model.Way{model.Across, model.Down}, model.Down, true},
		{"down first where it is said first", 3000, []model.Way{model.Down, model.Across}, model.Down, true},
		{"not at all where only across is allowed", 500, []model.Way{model.Across}, model.WayUnsaid, false},
	} {
		s := title(t, 0, "MARGINALIA", nm(c.width))
		s.Letter.Ways, s.Height = c.ways, nm(4000)
		out, _, list := letters([]Slot{s}, 1)
		if out[0].OK != c.ok || out[0].Way != c.want {
			t.Errorf("%s: ok %v, %s; told %q", c.name, out[0].OK, out[0].Way, codes(list))
		}
		if !c.ok && (len(list.All()) != 1 || !strings.Contains(strings.Join(list.All()[0].Try, "\n"), "way down")) {
			t.Errorf("%s: %+v does not say that down would do", c.name, list.All())
		}
	}
}

// Of the allowed counts of lines the one with the largest size is taken, unless fewer lines come within a tenth of it.
func TestMoreLinesMustBeWorthATenth(t *testing.T) {
	s := title(t, 0, "REEDS AND SEDGES", nm(4000))
	s.Letter.Most = length(2000)
	for most, want := range map[int]int{1: 1, 2: 2, 3: 3, 9: 3} {
		s.Letter.LinesMost = most
		if out, _, list := letters([]Slot{s}, 1); len(out[0].Lines) != want {
			t.Errorf("of up to %d lines %q are taken; told %q", most, out[0].Lines, codes(list))
		}
	}
	s.Letter.LinesMost, s.Letter.Most = 3, length(210) // one line reaches the most already
	if out, _, _ := letters([]Slot{s}, 1); len(out[0].Lines) != 1 {
		t.Errorf("%q are taken where one line is as large", out[0].Lines)
	}
	s.Letter.LinesLeast = 2
	if out, _, _ := letters([]Slot{s}, 1); len(out[0].Lines) != 2 {
		t.Errorf("%q are taken where two lines are the least", out[0].Lines)
	}
}

func TestAnInitialStaysWithItsName(t *testing.T) {
	for text, want := range map[string]string{
		"E. MARRABLE":          "E. MARRABLE",
		"J. K. SALLOW AND SON": "J. K. SALLOW|AND|SON",
		"ST. IVES":             "ST.|IVES",
		"PLATES A.":            "PLATES|A.",
	} {
		if got := strings.Join(together(strings.Fields(text)), "|"); got != want {
			t.Errorf("%s is broken at %s", text, got)
		}
	}
}

// Lines are broken so that the widest is as narrow as can be.
func TestBreaksAreTheNarrowest(t *testing.T) {
	r := rand.New(rand.NewPCG(217, 219))
	for range 200 {
		m := 2 + r.IntN(6)
		words := make([]string, m)
		sizes := make([]int64, m)
		for i := range words {
			sizes[i] = 1 + r.Int64N(9)
			words[i] = strings.Repeat("M", int(sizes[i]))
		}
		widths := make([][]int64, m)
		for i := range widths {
			widths[i] = make([]int64, m+1)
			for j := i + 1; j <= m; j++ {
				widths[i][j] = widths[i][j-1] + sizes[j-1] + 1
			}
		}
		n := 1 + r.IntN(m)
		got := broken(words, widths, n)
		widest := func(cuts []int) (w int64) {
			for k := range len(cuts) - 1 {
				w = max(w, widths[cuts[k]][cuts[k+1]])
			}
			return w
		}
		least := int64(1 << 40)
		var try func(cuts []int)
		try = func(cuts []int) {
			if len(cuts) == n {
				least = min(least, widest(append(slices.Clone(cuts), m)))
				return
			}
			for next := cuts[len(cuts)-1] + 1; next < m; next++ {
				try(append(slices.Clone(cuts), next))
			}
		}
		try([]int{0})
		cuts := []int{0}
		for _, l := range got {
			cuts = append(cuts, cuts[len(cuts)-1]+len(strings.Fields(l)))
		}
		if len(got) != n || cuts[n] != m || widest(cuts) != least {
			t.Fatalf("%q on %d lines is broken as %q, %d wide; %d would do", words, n, got, widest(cuts), least)
		}
	}
}

func emblem(volume int, width, height int64) Place {
	return Place{
		Volume: volume, Key: "spine/emblem", Where: "panel 3", Centre: model.Centre{Emblem: true, Fill: big.NewRat(4, 5)},
		ArtW: nm(1200), ArtH: nm(1500), Width: nm(width), Height: nm(height), Counts: true,
	}
}

// One height serves the set: the largest at which no stamp takes more than its share of its clear box, either way.
func TestEmblemsShareOneHeight(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(p []Place)
		want   string
		told   string
	}{
		{"the narrowest sets it", func([]Place) {}, "20.00 20.00 20.00", ""},
		{"the lowest sets it", func(p []Place) { p[2].Height = nm(2000) }, "16.00 16.00 16.00", ""},
		{"held under the most", func(p []Place) { setMost(p, 1800) }, "18.00 18.00 18.00", ""},
		{"each its own", func(p []Place) { each(p) }, "20.00 30.00 32.00", ""},
		{"apart", func(p []Place) { p[0].Apart, p[0].Counts = true, false }, "20.00 30.00 30.00", ""},
		{"estimated", func(p []Place) { p[0].Counts = false }, "20.00 30.00 30.00", "warning own-size"},
		{"under the least", func(p []Place) { setLeast(p, 2200, 6000) }, "0.00 30.00 30.00", "error emblem-too-small"},
	} {
		places := []Place{emblem(0, 2000, 4000), emblem(1, 3000, 4000), emblem(2, 4000, 4000)}
		c.change(places)
		list := &diag.List{}
		out, _ := Emblems(places, shelf(3), source.NewOrigins(), list)
		var got []string
		for _, h := range out {
			got = append(got, fmt.Sprintf("%.2f", float64(h)/1e6))
		}
		if s := strings.Join(got, " "); s != c.want || codes(list) != c.told {
			t.Errorf("%s: %s tall, told %q; want %s, %q", c.name, s, codes(list), c.want, c.told)
		}
	}
}

func setMost(p []Place, most int64) {
	l := length(most)
	for i := range p {
		p[i].Centre.Most = &l
	}
}

func setLeast(p []Place, least, most int64) {
	l, m := length(least), length(most)
	for i := range p {
		p[i].Centre.Least, p[i].Centre.Most = &l, &m
	}
}

func each(p []Place) {
	for i := range p {
		p[i].Centre.Each = true
	}
}
