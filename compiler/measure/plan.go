package measure

import (
	"fmt"
	"math/big"
	"slices"

	"headcap/compiler/model"
	"headcap/lang/unit"
)

// A datum is what a plan of bands divides, and how far below the head of the board that begins: the block, under the square
// at the head; or the board itself, where that is all that was said.
type datum struct {
	name  string
	tall  *Term
	head  *Term // nil where the board is divided
	shown unit.Unit
}

func datumOf(v model.Volume, w Widths) datum {
	d := datum{name: "block", tall: w.BlockTall, head: w.Head, shown: w.SpineTall.Length.Shown()}
	switch {
	case w.BlockTall.Length.Sign() == 0:
		return datum{name: "board", tall: w.BoardTall, shown: d.shown}
	case v.Cover != nil:
		// The cover is so much more than the block, half of it at the head.
		d.head = part("over block at head", d.shown, 2, plus(w.BoardTall), minus(w.BlockTall))
	}
	return d
}

// below adds to what stands over the block at the head, where there is any.
func (d datum) below(name string, pieces ...piece) *Term {
	if d.head != nil {
		pieces = slices.Insert(pieces, 0, plus(d.head))
	}
	t := sum(name, d.shown, pieces...)
	t.Why = "the " + d.name + " is divided"
	return t
}

func bandName(i int) string { return fmt.Sprintf("band %d", i+1) }

// divided gives the centres of bands that divide their datum: D1, D2 (Zaehnsdorf 1890, p. 20; Cockerell 1901, pp. 98-99)
// and D8 (Adam 1903, p. 42).
func (d datum) divided(b model.Bands) []*Term {
	headName, tailName := "head longer by", "tail longer by"
	if b.Between {
		headName, tailName = "mark at head", "mark at tail"
	}
	head, tail := given(headName, b.Said(b.Head)), given(tailName, b.Said(b.Tail))
	pieces := []piece{plus(d.tall)}
	var first []piece
	if b.Head.Sign() > 0 {
		pieces, first = append(pieces, minus(head)), []piece{plus(head)}
	}
	if b.Tail.Sign() > 0 {
		pieces = append(pieces, minus(tail))
	}
	one := part(fmt.Sprintf("one part of %d", b.Count+1), d.shown, int64(b.Count+1), pieces...)
	total, down := new(big.Rat), new(big.Rat)
	for _, s := range b.Shares {
		total.Add(total, s)
	}
	var out []*Term
	for i := range b.Count {
		upTo := times(int64(i+1), one)
		if b.How == model.Sharing {
			down.Add(down, b.Shares[i])
			upTo = share(new(big.Rat).Quo(down, total), d.tall)
		}
		out = append(out, d.hung(b, d.below(bandName(i), append(slices.Clone(first), upTo)...)))
	}
	return out
}

// hung sets a false band with its upper edge at its mark (Zaehnsdorf 1890, p. 88: "fixed upon the back just under the holes
// made with the compasses"); a sewn one stands centred on it.
func (d datum) hung(b model.Bands, mark *Term) *Term {
	if !b.False {
		return mark
	}
	wide := given("bands, wide", b.Wide)
	t := sum(mark.Name, d.shown, plus(mark), share(half, wide))
	t.How = mark.How + t.How[len(mark.Name):]
	t.Parts = append(slices.Clone(mark.Parts), wide)
	t.Why = mark.Why + ", and the upper edge of a false band is at its mark"
	return t
}

// stations gives the centres of bands whose places were said.
func (d datum) stations(b model.Bands) []*Term {
	var out []*Term
	for i, l := range b.Stations {
		f := b.Said(l)
		f.Note = "below the head of the board"
		if b.OfBlock {
			f.Note = "below the head of the block"
		}
		station := given(bandName(i), f)
		station.Length = l.As(d.shown)
		if b.How == model.UpperEdges || b.OfBlock {
			station.Name = "its station"
			var pieces []piece
			if b.OfBlock && d.head != nil {
				pieces = append(pieces, plus(d.head))
			}
			pieces = append(pieces, plus(station))
			if b.How == model.UpperEdges {
				station.Name = "its upper edge"
				pieces = append(pieces, share(half, given("bands, wide", b.Wide)))
			}
			station = sum(bandName(i), d.shown, pieces...)
			station.Why = f.Note
		}
		out = append(out, station)
	}
	return out
}

// defaultKettle is where the kettle stitch is sewn: "about a quarter of an inch from either end" (Cockerell 1901, p. 99).
var defaultKettle = model.Figure{Length: quarterInch, Note: "a quarter of an inch from either end: Cockerell 1901, p. 99"}

var quarterInch = unit.FromRat(big.NewRat(25_400_000, 4), unit.Inch)

// marks gives what is marked on the back of the block before sewing, from its head: the kettle stitches, and each band, which
// takes two lines where it is sewn on a double cord or tape (Cockerell 1901, pp. 99-100).
func (d datum) marks(b model.Bands, centres []*Term) []*Term {
	if d.head == nil {
		return nil
	}
	atHead, atTail := defaultKettle, defaultKettle
	if b.Between {
		atHead, atTail = b.Said(b.Head), b.Said(b.Tail)
	}
	fromTail := given("kettle stitch from tail", atTail)
	out := []*Term{given("kettle stitch, head", atHead)}
	for i, c := range centres {
		if slices.Contains(b.Without, i+1) {
			continue
		}
		name := "mark of " + c.Name
		on := []piece{plus(c), minus(d.head)}
		switch {
		case b.Double != nil:
			tape := given("tape", *b.Double)
			out = append(out,
				sum(name+", upper", d.shown, append(slices.Clone(on), share(new(big.Rat).Neg(half), tape))...),
				sum(name+", lower", d.shown, append(slices.Clone(on), share(half, tape))...))
		case b.False || b.How == model.UpperEdges:
			out = append(out, sum(name, d.shown, append(on, share(new(big.Rat).Neg(half), given("bands, wide", b.Wide)))...))
		default:
			out = append(out, sum(name, d.shown, on...))
		}
	}
	return append(out, sum("kettle stitch, tail", d.shown, plus(d.tall), minus(fromTail)))
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
