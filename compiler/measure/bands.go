package measure

import (
	"fmt"
	"math/big"

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
	Head, Tail  unit.Length // below the head of the board
	Left, Right unit.Length // from the left side of the spine
	AfterBand   bool        // a band stands at its head
	BeforeBand  bool        // a band stands at its tail
}

// Spine is a spine divided.
type Spine struct {
	Bands  []Band
	Panels []Panel
	Wide   unit.Length
	Tall   unit.Length
}

// Divide places the bands of a volume and finds its panels.
func Divide(v model.Volume, w Widths, b model.Bands, origins *source.Origins, list *diag.List) Spine {
	shown := w.SpineTall.Length.Shown()
	s := Spine{Wide: w.SpineWide.Length, Tall: w.SpineTall.Length}
	if v.Spoilt {
		return s
	}
	head := w.Head
	if v.Cover != nil {
		// The cover is so much more than the block, half of it at the head.
		over := w.BoardTall.Length.Sub(w.BlockTall.Length)
		if w.BlockTall.Length.Sign() == 0 {
			over = unit.MM(0)
		}
		head = given("cover over block at head", model.Figure{Length: over.DivInt(2)})
	}
	block := w.BlockTall
	if block.Length.Sign() == 0 {
		block = w.BoardTall
	}
	at := func(i int, t *Term) {
		for _, gone := range b.Without {
			if gone == i+1 {
				return
			}
		}
		t.Name = fmt.Sprintf("band %d", i+1)
		t.Length = t.Length.As(shown)
		s.Bands = append(s.Bands, Band{Number: i + 1, Centre: t, Wide: b.Wide.Length})
	}
	switch b.How {
	case model.Equal, model.Sharing:
		// D1, D2: the block is divided, and the square added at the head (Zaehnsdorf 1890, p. 20; Cockerell 1901, pp. 98-99).
		parts, err := Run(block.Length, division(b))
		if err != nil {
			list.Add(diag.Diagnostic{
				Code: "bands-do-not-fit", At: origins.Span(b.Origin), Volume: v.Key,
				Message: fmt.Sprintf("%d bands do not divide the block, %s tall%s: it is %v", b.Count, block.Length, longer(b), err),
				Try:     []string{"fewer bands, or less added at head and tail", "shares that are more than nothing"},
			})
			break
		}
		down := unit.MM(0)
		for i := range b.Count {
			down = down.Add(parts[i])
			t := &Term{Length: head.Length.Add(down), Parts: []*Term{head, block}}
			if b.How == model.Sharing {
				t.How = fmt.Sprintf("%s + %s, by its share of the block's %s", head.Name, down.As(shown), block.Length)
			} else {
				t.How = fmt.Sprintf("%s + %s, %d of %d equal parts of the block's %s%s", head.Name, down.As(shown), i+1, b.Count+1, block.Length, longer(b))
			}
			at(i, t)
		}
	case model.Stations, model.UpperEdges:
		for i, st := range b.Stations {
			t := &Term{Length: st, How: fmt.Sprintf("%s below the head of the board, as said", st)}
			if b.OfBlock {
				t.Length = t.Length.Add(head.Length)
				t.How = fmt.Sprintf("%s below the head of the block, as said, and the square", st)
				t.Parts = []*Term{head}
			}
			if b.How == model.UpperEdges {
				t.Length = t.Length.Add(b.Wide.Length.DivInt(2))
				t.How += fmt.Sprintf(", and half the band's %s", b.Wide.Length)
			}
			at(i, t)
		}
	}
	s.panels(w, b)
	return s
}

// division gives the slots between band centres, from the head.
func division(b model.Bands) []Slot {
	slots := make([]Slot, b.Count+1)
	for i := range slots {
		slots[i].Share = big.NewRat(1, 1)
		if b.How == model.Sharing {
			slots[i].Share = b.Shares[i]
		}
	}
	slots[0].Size = b.Head
	slots[b.Count].Size = slots[b.Count].Size.Add(b.Tail)
	return slots
}

func longer(b model.Bands) string {
	switch {
	case b.Head.Sign() > 0 && b.Tail.Sign() > 0:
		return fmt.Sprintf(", once head and tail are %s and %s longer", b.Head, b.Tail)
	case b.Tail.Sign() > 0:
		return fmt.Sprintf(", once the tail is %s longer", b.Tail)
	case b.Head.Sign() > 0:
		return fmt.Sprintf(", once the head is %s longer", b.Head)
	}
	return ""
}

// panels finds what is clear between the bands.
func (s *Spine) panels(w Widths, b model.Bands) {
	left := w.JointClear.Length
	right := s.Wide.Sub(left)
	keep := b.Wide.Length.DivInt(2).Add(b.Clear.Length)
	top := w.CapClear.Length
	for i := 0; i <= len(s.Bands); i++ {
		bottom := s.Tall.Sub(w.CapClear.Length)
		if i < len(s.Bands) {
			bottom = s.Bands[i].Centre.Length.Sub(keep)
		}
		p := Panel{Number: i + 1, Head: top, Tail: bottom, Left: left, Right: right, AfterBand: i > 0, BeforeBand: i < len(s.Bands)}
		s.Panels = append(s.Panels, p)
		if i < len(s.Bands) {
			top = s.Bands[i].Centre.Length.Add(keep)
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
	for _, f := range first.Bands {
		l := f.Centre.Length
		how := "the first volume's, from the head"
		if end == "tail" {
			l = s.Tall.Sub(first.Tall.Sub(f.Centre.Length))
			how = fmt.Sprintf("the first volume's, %s above the tail", first.Tall.Sub(f.Centre.Length))
		}
		s.Bands = append(s.Bands, Band{Number: f.Number, Centre: &Term{Name: f.Centre.Name, Length: l, How: how}, Wide: b.Wide.Length})
	}
	s.panels(w, b)
	return s
}
