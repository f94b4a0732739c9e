package measure

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

func mm(text string) unit.Length {
	q, err := unit.ParseQuantity(text)
	l, ok := q.Length()
	if err != nil || !ok {
		panic(text)
	}
	return l
}

func said(text string) model.Figure { return model.Figure{Length: mm(text), From: model.Said} }

func byDefault(text, note string) model.Figure { return model.Figure{Length: mm(text), Note: note} }

// octavo is a case of nine inches by six, flat, with squares of an eighth of an inch.
func octavo() model.Volume {
	square := said("1/8in")
	return model.Volume{
		Key:     "octavo",
		Block:   model.Block{Tall: said("9in"), Wide: said("6in"), Thick: said("30mm")},
		Bound:   model.Binding{Boards: byDefault("2.5mm", "common practice"), Head: square, Tail: square, Fore: square, Gap: said("7mm"), JointWidth: said("1/8in")},
		Leather: model.Leather{Thick: byDefault("1mm", "a choice")},
	}
}

func measured(v model.Volume) (Widths, *diag.List) {
	list := &diag.List{}
	return Of(v, source.NewOrigins(), list), list
}

func codes(list *diag.List) []string {
	var out []string
	for _, d := range list.All() {
		out = append(out, fmt.Sprintf("%s %s", d.Severity, d.Code))
	}
	return out
}

// A figure is told in its author's unit, with what it was made of, each part with where it came from.
func TestFiguresTellHowTheyWereComeBy(t *testing.T) {
	w, _ := measured(octavo())
	var out strings.Builder
	Print(&out, "", w.BoardTall, w.SpineWide)
	want := `boards, tall                       9 1/4in  = block, tall + square at head + square at tail
  block, tall                          9in  said of this volume
  square at head                     1/8in  said of this volume
  square at tail                     1/8in  said of this volume
spine, wide                     1.456693in  = straight across + 2 × leather
  straight across               1.377953in  = block, thick + 2 × boards
    block, thick                      30mm  said of this volume
    boards                           2.5mm  by default: common practice
  leather                              1mm  by default: a choice
`
	if out.String() != want {
		t.Errorf("told\n%s\nwanted\n%s", out.String(), want)
	}
}

// What nobody said is listed once, however many figures it is part of; what was said is not.
func TestReckonedListsWhatWasAssumed(t *testing.T) {
	v := octavo()
	v.Block.Thick = model.Figure{Length: mm("30mm"), From: model.Estimated, Note: "300 leaves of 100um"}
	w, _ := measured(v)
	got := w.Reckoned()
	want := []string{"block, thick 30mm (estimated: 300 leaves of 100um)", "boards 2.5mm (by default: common practice)", "leather 1mm (by default: a choice)"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// A flat spine is reckoned, a round one wants a strip, and without one the volume is open.
func TestARoundSpineWantsAStrip(t *testing.T) {
	strip := said("40mm")
	for _, c := range []struct {
		name  string
		back  model.Back
		kind  model.Kind
		wide  string
		round bool
		open  int
	}{
		{"a case", model.Back{}, model.Case, "37mm", false, 0},
		{"a case said to be round", model.Back{Shape: model.Round}, model.Case, "44.416mm", true, 1},
		{"a case with a strip", model.Back{Strip: &strip}, model.Case, "40mm", true, 0},
		{"a case with a strip said to be flat", model.Back{Strip: &strip, Shape: model.Flat}, model.Case, "40mm", false, 0},
		{"laced", model.Back{}, model.Laced, "44.416mm", true, 1},
		{"laced, said to be flat", model.Back{Shape: model.Flat}, model.Laced, "37mm", false, 0},
		{"laced, by calipers alone", model.Back{Caliper: &strip}, model.Laced, "50.462mm", true, 1},
	} {
		v := octavo()
		v.Back, v.Bound.Kind = c.back, c.kind
		w, list := measured(v)
		if got := w.SpineWide.Length.As(unit.Millimetre).String(); got != c.wide || w.Round != c.round || len(w.Open) != c.open {
			t.Errorf("%s: %s wide, round %v, %d open; want %s, %v, %d", c.name, got, w.Round, len(w.Open), c.wide, c.round, c.open)
		}
		if list.Errors() {
			t.Errorf("%s: told %q", c.name, codes(list))
		}
	}
}

// Whatever is left out of a volume that was not understood, nothing is told of it here.
func TestASpoiltVolumeIsSilent(t *testing.T) {
	v := octavo()
	v.Spoilt, v.Block, v.Bound.Gap = true, model.Block{}, said("100mm")
	w, list := measured(v)
	s := Divide(v, w, model.Bands{How: model.Equal, Count: 5, Wide: said("3mm"), Clear: said("2mm")}, source.NewOrigins(), list)
	if s.Bands != nil || s.Panels != nil || len(list.All()) > 0 {
		t.Errorf("%d bands, %d panels, told %q", len(s.Bands), len(s.Panels), codes(list))
	}
}

func TestBoardsThatComeOutAtNothingAreTold(t *testing.T) {
	v := octavo()
	v.Bound.Gap = said("200mm")
	if _, list := measured(v); !slices.Contains(codes(list), "error no-room") {
		t.Errorf("told %q", codes(list))
	}
}
