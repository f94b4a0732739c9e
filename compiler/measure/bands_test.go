package measure

import (
	"math/big"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

func ratios(ns ...int64) []*big.Rat {
	var out []*big.Rat
	for _, n := range ns {
		out = append(out, big.NewRat(n, 1))
	}
	return out
}

func stations(texts ...string) []unit.Length {
	var out []unit.Length
	for _, t := range texts {
		out = append(out, mm(t))
	}
	return out
}

func divided(v model.Volume, b model.Bands) (Spine, *diag.List) {
	w, list := measured(v)
	if b.Wide.Length.Sign() == 0 {
		b.Wide, b.Clear = said("4mm"), said("1mm")
	}
	return Divide(v, w, b, source.NewOrigins(), list), list
}

func centres(s Spine) string {
	var out []string
	for _, b := range s.Bands {
		out = append(out, strings.TrimSuffix(b.Centre.Length.As(unit.Millimetre).String(), "mm"))
	}
	return strings.Join(out, " ")
}

// Each plan puts the bands where it says, below the head of the board: the squares are added once, at head and tail.
func TestPlansOfBands(t *testing.T) {
	square := said("3mm")
	v := octavo() // block 240 tall, squares 3
	v.Block.Tall, v.Bound.Head, v.Bound.Tail = said("240mm"), square, square
	over := said("10mm")
	covered := v
	covered.Cover = &model.Cover{Over: &over}
	whole := v
	whole.Block = model.Block{}
	whole.Cover = &model.Cover{Tall: said("240mm"), Wide: said("150mm")}
	for _, c := range []struct {
		name string
		of   model.Volume
		b    model.Bands
		want string
	}{
		{"none", v, model.Bands{}, ""},
		{"equal", v, model.Bands{How: model.Equal, Count: 3}, "63 123 183"},
		{"the tail longer", v, model.Bands{How: model.Equal, Count: 3, Tail: mm("20mm")}, "58 113 168"},
		{"the head longer", v, model.Bands{How: model.Equal, Count: 3, Head: mm("20mm")}, "78 133 188"},
		{"both", v, model.Bands{How: model.Equal, Count: 3, Head: mm("10mm"), Tail: mm("30mm")}, "63 113 163"},
		{"sharing", v, model.Bands{How: model.Sharing, Count: 4, Shares: ratios(3, 5, 3, 2, 3)}, "48 123 168 198"},
		{"false, under their marks", v, model.Bands{How: model.Equal, Count: 3, False: true}, "65 125 185"},
		{"false, sharing", v, model.Bands{How: model.Sharing, Count: 4, Shares: ratios(3, 5, 3, 2, 3), False: true}, "50 125 170 200"},
		{"between marks", v, model.Bands{How: model.Equal, Between: true, Count: 2, Head: mm("10mm"), Tail: mm("20mm")}, "83 153"},
		{"at stations of the board", v, model.Bands{How: model.Stations, Count: 2, Stations: stations("50mm", "4in")}, "50 101.6"},
		{"at stations of the block", v, model.Bands{How: model.Stations, Count: 2, Stations: stations("50mm", "100mm"), OfBlock: true}, "53 103"},
		{"by upper edges", v, model.Bands{How: model.UpperEdges, Count: 2, Stations: stations("50mm", "100mm")}, "52 102"},
		{"by upper edges of the block", v, model.Bands{How: model.UpperEdges, Count: 2, Stations: stations("50mm", "100mm"), OfBlock: true}, "55 105"},
		{"without the second", v, model.Bands{How: model.Equal, Count: 3, Without: []int{2}}, "63 183"},
		{"under a cover over the block", covered, model.Bands{How: model.Equal, Count: 3}, "65 125 185"},
		{"on a face as it is", whole, model.Bands{How: model.Equal, Count: 3}, "60 120 180"},
	} {
		s, list := divided(c.of, c.b)
		if got := centres(s); got != c.want || list.Errors() {
			t.Errorf("%s: bands at %s, want %s; told %q", c.name, got, c.want, codes(list))
		}
		if len(s.Panels) != len(s.Bands)+1 {
			t.Errorf("%s: %d bands make %d panels", c.name, len(s.Bands), len(s.Panels))
		}
	}
}

// Panels and bands fill a spine from headcap to headcap: what is kept clear beside each band is the same on both sides.
func TestPanelsFillWhatBandsLeave(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		um := func(least, most int64, label string) model.Figure {
			return model.Figure{Length: unit.Nanometres(1000 * rapid.Int64Range(least, most).Draw(t, label)), From: model.Said}
		}
		v := octavo()
		v.Block.Tall = um(150_000, 400_000, "block")
		v.Bound.Head, v.Bound.Tail = um(0, 8_000, "square at head"), um(0, 8_000, "square at tail")
		b := model.Bands{How: model.Equal, Count: rapid.IntRange(1, 7).Draw(t, "bands"), Tail: um(0, 15_000, "tail longer").Length, Wide: um(1_000, 5_000, "band"), Clear: um(0, 3_000, "clear")}
		s, list := divided(v, b)
		if list.Errors() {
			t.Fatalf("told %q", codes(list))
		}
		sum := unit.MM(6) // the headcaps
		for _, p := range s.Panels {
			sum = sum.Add(p.Tail.Sub(p.Head))
		}
		beside := b.Wide.Length.Add(b.Clear.Length).Add(b.Clear.Length)
		for i, band := range s.Bands {
			sum = sum.Add(beside)
			above, below := band.Centre.Length.Sub(s.Panels[i].Tail), s.Panels[i+1].Head.Sub(band.Centre.Length)
			if above.Cmp(below) != 0 {
				t.Fatalf("band %d keeps %s clear above and %s below", i+1, above, below)
			}
		}
		if sum.Cmp(s.Tall) != 0 {
			t.Fatalf("all together are %s of %s", sum, s.Tall)
		}
	})
}

// What is marked on the block before it is sewn is counted from its head, without the square: the kettle stitches and the
// bands, two lines for each where they are double, and the upper edge of a false one.
func TestMarksOnTheBlock(t *testing.T) {
	v := octavo()
	v.Block.Tall, v.Bound.Head, v.Bound.Tail = said("240mm"), said("3mm"), said("3mm")
	tape := said("12mm")
	whole := v
	whole.Block, whole.Cover = model.Block{}, &model.Cover{Tall: said("240mm"), Wide: said("150mm")}
	for _, c := range []struct {
		name string
		of   model.Volume
		b    model.Bands
		want string
	}{
		{"sewn", v, model.Bands{How: model.Equal, Count: 2}, "6.35 80 160 233.65"},
		{"double", v, model.Bands{How: model.Equal, Count: 2, Double: &tape}, "6.35 74 86 154 166 233.65"},
		{"false", v, model.Bands{How: model.Equal, Count: 2, False: true}, "6.35 80 160 233.65"},
		{"between", v, model.Bands{How: model.Equal, Between: true, Count: 1, Head: mm("10mm"), Tail: mm("20mm")}, "10 115 220"},
		{"one left out", v, model.Bands{How: model.Equal, Count: 2, Without: []int{1}}, "6.35 160 233.65"},
		{"measured on the board", v, model.Bands{How: model.Stations, Count: 1, Stations: stations("50mm")}, ""},
		{"on a face as it is", whole, model.Bands{How: model.Equal, Count: 2}, ""},
	} {
		s, _ := divided(c.of, c.b)
		var got []string
		for _, m := range s.Marks {
			got = append(got, strings.TrimSuffix(m.Length.As(unit.Millimetre).String(), "mm"))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: marked at %s, want %s", c.name, strings.Join(got, " "), c.want)
		}
	}
}

func TestBandsThatDoNotFitAreTold(t *testing.T) {
	v := octavo()
	s, list := divided(v, model.Bands{How: model.Equal, Count: 5, Head: mm("120mm"), Tail: mm("120mm")})
	all := list.All()
	if len(all) != 1 || all[0].Code != "bands-do-not-fit" || !strings.Contains(all[0].Message, "0.449in too short") {
		t.Errorf("told %q", codes(list))
	}
	if s.Bands != nil {
		t.Errorf("there are %d bands", len(s.Bands))
	}
}

// Volumes that range from the tail have the stations of the first, counted from there; the head's panel takes the
// difference. From the head it is the other way about.
func TestVolumesRange(t *testing.T) {
	first := octavo()
	plan := model.Bands{How: model.Equal, Count: 4, Wide: said("4mm"), Clear: said("1mm")}
	lead, _ := divided(first, plan)
	for _, tall := range []string{"220mm", "9in", "240mm"} {
		v := first
		v.Block.Tall = said(tall)
		for _, end := range []string{"head", "tail"} {
			w, list := measured(v)
			s := Range(v, w, plan, lead, end)
			if list.Errors() {
				t.Fatalf("%s from the %s: told %q", tall, end, codes(list))
			}
			var off []string
			for i, b := range s.Bands {
				d := b.Centre.Length.Sub(lead.Bands[i].Centre.Length)
				if end == "tail" {
					d = s.Tall.Sub(b.Centre.Length).Sub(lead.Tall.Sub(lead.Bands[i].Centre.Length))
				}
				if d.Sign() != 0 {
					off = append(off, d.String())
				}
			}
			if off != nil || len(s.Bands) != 4 {
				t.Errorf("%s from the %s: %d bands, off by %q", tall, end, len(s.Bands), off)
			}
			other := []Panel{s.Panels[4], lead.Panels[4]}
			if end == "tail" {
				other = []Panel{s.Panels[0], lead.Panels[0]}
			}
			took := other[0].Tail.Sub(other[0].Head).Sub(other[1].Tail.Sub(other[1].Head))
			if took.Cmp(s.Tall.Sub(lead.Tall)) != 0 {
				t.Errorf("%s from the %s: the other panel takes %s of %s", tall, end, took, s.Tall.Sub(lead.Tall))
			}
		}
	}
}

// A margin that is said is kept at head and tail, and nothing at the sides (K3: common practice, no source).
func TestAMarginStandsForTheClearOnes(t *testing.T) {
	v := octavo()
	plain, _ := divided(v, model.Bands{})
	margin := said("1/4in")
	v.Margin = &margin
	wide, _ := divided(v, model.Bands{})
	edges := func(s Spine) []string {
		p := s.Panels[0]
		var out []string
		for _, l := range []unit.Length{p.Left, s.Wide.Sub(p.Right), p.Head, s.Tall.Sub(p.Tail)} {
			out = append(out, l.As(unit.Millimetre).String())
		}
		return out
	}
	if got := edges(plain); !slices.Equal(got, []string{"1.5mm", "1.5mm", "3mm", "3mm"}) {
		t.Errorf("without a margin %q is kept clear", got)
	}
	if got := edges(wide); !slices.Equal(got, []string{"0mm", "0mm", "6.35mm", "6.35mm"}) {
		t.Errorf("with a margin %q is kept clear", got)
	}
}
