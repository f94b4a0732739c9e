package measure

import (
	"fmt"
	"math/big"
	"slices"

	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// A Band stands on the face of the spine; Centre is below the head of the board.
type Band struct {
	Number int
	Centre *Term
	Wide   unit.Length
}

// A Panel is the clear box between bands: what the leather, the bands' feet and the headcaps leave for film.
type Panel struct {
	Number      int
	Tall        *Term
	Head, Tail  unit.Length // below the head of the board
	Left, Right unit.Length // from the left side of the spine
	AfterBand   bool        // a band stands at its head
	BeforeBand  bool        // a band stands at its tail
}

// Spine is a spine divided. Marks are made on the back of the block before it is sewn, and are counted from its head.
type Spine struct {
	Bands     []Band
	Marks     []*Term
	Panels    []Panel
	PanelWide *Term
	Wide      unit.Length
	Tall      unit.Length
}

// Divide places the bands of a volume and finds its panels.
func Divide(v model.Volume, w Widths, b model.Bands, origins *source.Origins, list *diag.List) Spine {
	s := Spine{Wide: w.SpineWide.Length, Tall: w.SpineTall.Length}
	if v.Spoilt {
		return s
	}
	d := datumOf(v, w)
	var centres []*Term
	switch b.How {
	case model.Equal, model.Sharing:
		if _, err := Run(d.tall.Length, division(b)); err != nil {
			list.Add(diag.Diagnostic{
				Code: "bands-do-not-fit", At: origins.Span(b.Origin), Volume: v.Key,
				Message: fmt.Sprintf("%d bands do not divide the %s, %s tall%s: it is %v", b.Count, d.name, d.tall.Length, longer(b), err),
				Try:     []string{"fewer bands, or less added at head and tail", "shares that are more than nothing"},
			})
			break
		}
		centres = d.divided(b)
		s.Marks = d.marks(b, centres)
	case model.Stations, model.UpperEdges:
		centres = d.stations(b)
		if b.OfBlock {
			s.Marks = d.marks(b, centres)
		}
	}
	for i, t := range centres {
		if !slices.Contains(b.Without, i+1) {
			s.Bands = append(s.Bands, Band{Number: i + 1, Centre: t, Wide: b.Wide.Length})
		}
	}
	s.panels(w, b)
	return s
}

// panels finds what is clear between the bands: outside the headcaps, the bands' feet and the leather kept clear beside them.
func (s *Spine) panels(w Widths, b model.Bands) {
	shown := s.Tall.Shown()
	s.PanelWide = sum("panels, wide", shown, plus(w.SpineWide), times(-2, w.JointClear))
	wide, clear := given("bands, wide", b.Wide), given("clear beside a band", b.Clear)
	beside := func(name string, centre *Term, way int64) *Term {
		r := big.NewRat(way, 1)
		return sum(name, shown, plus(centre), share(new(big.Rat).Mul(half, r), wide), share(r, clear))
	}
	top := w.CapClear
	for i := range len(s.Bands) + 1 {
		name := fmt.Sprintf("panel %d", i+1)
		bottom := sum(name+", to", shown, plus(w.SpineTall), minus(w.CapClear))
		if i < len(s.Bands) {
			bottom = beside(name+", to", s.Bands[i].Centre, -1)
		}
		s.Panels = append(s.Panels, Panel{
			Number: i + 1, Tall: sum(name+", tall", shown, plus(bottom), minus(top)), Head: top.Length, Tail: bottom.Length,
			Left: w.JointClear.Length, Right: w.JointClear.Length.Add(s.PanelWide.Length), AfterBand: i > 0, BeforeBand: i < len(s.Bands),
		})
		if i < len(s.Bands) {
			top = beside(fmt.Sprintf("panel %d, from", i+2), s.Bands[i].Centre, 1)
		}
	}
}

// Range gives a spine the stations of another, counted from one end: so volumes of unequal height stand with their lines
// running on (Zaehnsdorf 1890, p. 123), and the panel at the other end takes the difference.
func Range(v model.Volume, w Widths, b model.Bands, first Spine, end string) Spine {
	s := Spine{Wide: w.SpineWide.Length, Tall: w.SpineTall.Length}
	if v.Spoilt {
		return s
	}
	shown := s.Tall.Shown()
	theirs := &Term{Name: "first volume, tall", Length: first.Tall, Figure: model.Figure{From: model.OfFirst}}
	var centres []*Term
	for _, f := range first.Bands {
		c := &Term{Name: "first volume's " + f.Centre.Name, Length: f.Centre.Length, Figure: model.Figure{From: model.OfFirst}}
		t := sum(f.Centre.Name, shown, plus(c))
		t.Why = "counted from the head"
		if end == "tail" {
			t = sum(f.Centre.Name, shown, plus(w.SpineTall), minus(theirs), plus(c))
			t.Why = fmt.Sprintf("%s above the tail, as there", first.Tall.Sub(f.Centre.Length))
		}
		centres = append(centres, t)
		s.Bands = append(s.Bands, Band{Number: f.Number, Centre: t, Wide: b.Wide.Length})
	}
	s.Marks = datumOf(v, w).marks(b, centres)
	s.panels(w, b)
	return s
}
