package measure

import (
	"headcap/compiler/model"
	"headcap/lang/unit"
)

// A Cut is what is cut from stock before a book is covered: so many pieces of one size. Thick is nil where that is the
// binder's choice.
type Cut struct {
	Name             string
	Count            int
	Tall, Wide       *Term
	Thick            *Term
	GrainHeadToTail  bool
	NickAtBackCorner *Term // of each board, so much each way; nil for none
}

// CutList lists boards, the spine piece of a case, and the sheet of leather. A cover that is given as a face says nothing of
// its boards and joints, and has no list.
func CutList(v model.Volume, w Widths) []Cut {
	if v.Spoilt || v.Cover != nil {
		return nil
	}
	shown := w.BoardTall.Length.Shown()
	boards := Cut{Name: "boards", Count: 2, Tall: w.BoardTall, Wide: w.BoardWide, Thick: w.Boards, GrainHeadToTail: true}
	// The leather goes over the book as it is planned: once it is covered, nothing of this is cut any more.
	spine := w.SpineWide
	if spine.Plan != nil {
		spine = spine.Plan
	}
	out := []Cut{boards}
	joint := given("joint", v.Bound.JointWidth)
	if v.Bound.Kind == model.Case {
		joint = w.Gap
		spine = w.spinePiece(spine, shown)
		out = append(out, Cut{Name: "spine piece", Count: 1, Tall: w.BoardTall, Wide: spine, GrainHeadToTail: true})
	} else {
		// Cockerell 1901, p. 153: the corners at the joint are nicked, so that the leather can be set over the headband.
		out[0].NickAtBackCorner = given("nick", v.Bound.Nick)
	}
	turnIn := given("turn-in", v.Bound.TurnIn)
	// B12: the boards and what is between them, and a turn-in on every side.
	return append(out, Cut{
		Name: "sheet of leather", Count: 1,
		Tall: sum("leather sheet, tall", shown, plus(w.BoardTall), times(2, turnIn)),
		Wide: sum("leather sheet, wide", shown, times(2, w.BoardWide), times(2, joint), plus(spine), times(2, turnIn)),
	})
}

// spinePiece is as wide as the back that it lies over, without the leather: straight across a flat one (N1).
func (w Widths) spinePiece(face *Term, shown unit.Unit) *Term {
	over := w.Shoulders
	switch {
	case w.OverRound != nil:
		over = w.OverRound
	case w.Round:
		over = face
	}
	return sum("spine piece, wide", shown, plus(over))
}
