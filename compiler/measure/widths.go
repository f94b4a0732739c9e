package measure

import (
	"fmt"
	"math/big"

	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// Widths are the measures of one volume that do not depend on its design.
type Widths struct {
	BlockTall, BlockWide, BlockThick *Term
	BoardTall, BoardWide             *Term // and so the face of a cover
	SpineTall, SpineWide             *Term // the face of the spine, over the leather
	Shoulders                        *Term // straight across the shoulders
	OverRound                        *Term // the estimated arc, before lining and leather; nil where it is not estimated
	Round                            bool
	Leather                          *Term
	EdgeClear                        *Term // what is kept clear at the edges of a cover
	CapClear                         *Term // at the head and tail of a spine
	JointClear                       *Term // at the sides of a spine, beside the joints
	Boards, Fore, Head, Tail, Gap    *Term
	InSight                          *Term        // how much of an estimated round is seen at once
	OnShelf                          *Term        // what the book takes of a shelf; nil where nothing says how thick it is
	Open                             []model.Open // with what the measuring leaves open
}

// Clear margins, each a choice (from memory): the leather moves at the joint, is folded at the headcap and worn at the
// edges, so film is kept off.
var (
	edgeClear  = unit.MM(2)
	jointClear = unit.Nanometres(1_500_000)
	capClear   = unit.MM(3)
)

func choice(name string, l unit.Length, note string) *Term {
	return given(name, model.Figure{Length: l, Note: note})
}

// Of measures a volume.
func Of(v model.Volume, origins *source.Origins, list *diag.List) Widths {
	shown := v.Block.Tall.Length.Shown()
	if v.Cover != nil && v.Cover.Over == nil {
		shown = v.Cover.Tall.Length.Shown()
	}
	w := Widths{
		BlockTall: given("block, tall", v.Block.Tall), BlockWide: given("block, wide", v.Block.Wide),
		BlockThick: given("block, thick", v.Block.Thick), Leather: given("leather", v.Leather.Thick),
		Boards: given("boards", v.Bound.Boards), Head: given("square at head", v.Bound.Head), Tail: given("square at tail", v.Bound.Tail),
		Fore: given("square at fore-edge", v.Bound.Fore), Gap: given("gap", v.Bound.Gap),
		EdgeClear:  choice("clear at the edge", edgeClear, "a choice"),
		CapClear:   choice("clear at the headcap", capClear, "a choice"),
		JointClear: choice("clear at the joint", jointClear, "a choice"),
		Open:       v.Open,
	}
	add := func(d diag.Diagnostic) {
		if v.Spoilt {
			return // what is missing has been told
		}
		d.Volume = v.Key
		list.Add(d)
	}
	if v.Margin != nil {
		w.EdgeClear = given("margin", *v.Margin)
		w.CapClear = w.EdgeClear
		// Common practice, no source (K3): a margin said outright is kept at head and tail, and nothing at the sides.
		w.JointClear = choice("clear at the joint", unit.MM(0), "the margin is said, and is kept at head and tail")
	}
	switch {
	case v.Cover != nil && v.Cover.Over != nil:
		over := given("over block", *v.Cover.Over)
		w.BoardTall = sum("cover, tall", shown, plus(w.BlockTall), plus(over))
		w.BoardWide = sum("cover, wide", shown, plus(w.BlockWide), plus(over))
	case v.Cover != nil:
		w.BoardTall, w.BoardWide = given("cover, tall", v.Cover.Tall), given("cover, wide", v.Cover.Wide)
	default:
		w.BoardTall = sum("boards, tall", shown, plus(w.BlockTall), plus(w.Head), plus(w.Tail))
		away := w.Gap // N3: the flat measure between board and spine piece
		if v.Bound.Kind == model.Laced {
			away = given("joint", v.Bound.JointWidth) // N4, N5
		}
		w.BoardWide = sum("boards, wide", shown, plus(w.BlockWide), plus(w.Fore), minus(away))
	}
	t := *w.BoardTall
	t.Name, t.How, t.Parts = "spine, tall", w.BoardTall.Name, []*Term{w.BoardTall}
	w.SpineTall = &t
	w.spine(v, shown)
	w.onBook(v, shown)
	if off := farOff(w.SpineWide, w.Shoulders); off != nil {
		add(offPlan(off, origins.Span(off[0].Figure.Origin), ""))
	}
	for _, c := range []*Term{w.BoardTall, w.BoardWide, w.SpineWide} {
		if c.Length.Sign() <= 0 && v.Block.Tall.Length.Sign() > 0 && v.Block.Thick.Length.Sign() > 0 {
			add(diag.Diagnostic{Code: "no-room", At: origins.Span(v.Origin), Message: fmt.Sprintf("«%s» comes out at %s, which is no size: %s", c.Name, c.Length, how(c)), Try: []string{"check the measures of block and binding"}})
		}
	}
	if v.Block.Thick.Length.Sign() > 0 {
		w.OnShelf = sum("on the shelf, thick", shown, plus(w.BlockThick), times(2, w.Boards), times(2, w.Leather)) // M2
	}
	w.plausible(v, origins, add)
	if s := v.Bound.Shoulder; s != nil && s.Length.Cmp(w.Boards.Length) < 0 {
		// "Should be a little deeper than the board set in it" (Adam 1903, p. 58); bevelled where it is not (Cockerell 1901, p. 132).
		over := w.Boards.Length.Sub(s.Length).As(s.Length.Shown())
		add(diag.Diagnostic{
			Severity: diag.Warning, Code: "shallow-shoulder", At: origins.Span(s.Origin),
			Message: fmt.Sprintf("the shoulder is %s deep and the board %s thick, which stands out by %s", s.Length, w.Boards.Length, over),
			Try:     []string{"bevel the board's edge there", "boards no thicker than the shoulder is deep"},
		})
	}
	return w
}

// spine reckons the face of the spine. A flat back is reckoned; a round one is measured with a strip of paper, and without
// one only previewed.
func (w *Widths) spine(v model.Volume, shown unit.Unit) {
	w.Round = v.Back.Shape == model.Round || v.Back.Shape == model.ShapeUnsaid && v.Bound.Kind == model.Laced && v.Cover == nil
	w.Shoulders = sum("straight across", shown, plus(w.BlockThick), times(2, w.Boards)) // N1, R3
	if v.Back.Caliper != nil {
		w.Shoulders = given("straight across", *v.Back.Caliper)
	}
	switch {
	case v.Back.Strip != nil:
		w.Round = v.Back.Shape != model.Flat
		w.SpineWide = given("spine, wide", *v.Back.Strip) // N6
	case w.Round:
		// A third of a circle (Zaehnsdorf 1890, p. 48) makes the arc 2π/(3√3) = 1.2092 of the chord; Cockerell (1901,
		// p. 310) wants the back flatter. So this is an estimate, for the preview only.
		w.OverRound = sum("over the round", shown, share(big.NewRat(12092, 10000), w.Shoulders))
		w.OverRound.Why = "as if the back were a third of a circle: Zaehnsdorf 1890, p. 48"
		// R6: within 35° of straight on, of the 60° to either side; a choice.
		w.InSight = sum("spine, in sight at once", shown, share(big.NewRat(35, 60), w.OverRound))
		w.InSight.Why = "35° to either side, a choice"
		// What is laid on the round lengthens the arc by its angle, 2π/3, times its thickness.
		angle := big.NewRat(20944, 10000)
		pieces := []piece{plus(w.OverRound)}
		if lining := given("lining", v.Bound.Lining); lining.Length.Sign() > 0 {
			pieces = append(pieces, share(angle, lining))
		}
		w.SpineWide = sum("spine, wide", shown, append(pieces, share(angle, w.Leather))...)
		if v.Covered != nil && v.Covered.Strip != nil {
			break // it is measured, over the leather
		}
		w.Open = append(w.Open[:len(w.Open):len(w.Open)], model.Open{What: "a round spine wants its measure, a strip of paper laid over the round", Origin: v.Origin})
	default:
		w.SpineWide = sum("spine, wide", shown, plus(w.Shoulders), times(2, w.Leather)) // N2
	}
}

// plausible checks arc against chord (R1, R2): the strip is as long as the calipers read at least, and at a half circle
// 1.57 times as long.
func (w *Widths) plausible(v model.Volume, origins *source.Origins, add func(diag.Diagnostic)) {
	strip := v.Back.Strip
	if v.Covered != nil && v.Covered.Strip != nil {
		strip = v.Covered.Strip
	}
	if strip == nil || w.Shoulders.Length.Sign() <= 0 || v.Block.Thick.Length.Sign() <= 0 && v.Back.Caliper == nil && w.Shoulders.Figure.From != model.OnBook {
		return
	}
	ratio := w.SpineWide.Length.Millimetres() / w.Shoulders.Length.Millimetres()
	d := diag.Diagnostic{Severity: diag.Warning, Code: "chord-or-arc", At: origins.Span(strip.Origin)}
	switch {
	case ratio < 0.995:
		d.Message = fmt.Sprintf("the strip over the round (%s) is shorter than the way straight across (%s: %s)", w.SpineWide.Length, w.Shoulders.Length, how(w.Shoulders))
		d.Try = []string{"measure again; a straight measure is said `spine caliper …`"}
	case ratio > 1.58:
		d.Message = fmt.Sprintf("the strip (%s) is %.2f times the way straight across (%s): more than a half circle", w.SpineWide.Length, ratio, w.Shoulders.Length)
		d.Try = []string{"measure again, from shoulder to shoulder"}
	case ratio > 1.22:
		d.Severity = diag.Advice
		d.Message = fmt.Sprintf("the strip (%s) is %.2f times the way straight across (%s): rounder than a third of a circle", w.SpineWide.Length, ratio, w.Shoulders.Length)
		d.Try = []string{"right if the back is that round"}
	default:
		return
	}
	add(d)
}

func how(t *Term) string {
	if t.How != "" {
		return t.How
	}
	return t.State()
}

// Facts gives what a design may test and reckon with.
func (w Widths) Facts() model.Facts {
	f := model.Facts{
		BlockTall: w.BlockTall.Length, BlockWide: w.BlockWide.Length, BlockThick: w.BlockThick.Length,
		BoardTall: w.BoardTall.Length, BoardWide: w.BoardWide.Length,
		SpineWide: w.SpineWide.Length, SpineTall: w.SpineTall.Length,
	}
	if w.SpineWide.Plan != nil {
		plan := f
		plan.SpineWide = w.SpineWide.Plan.Length
		f.Planned = &plan
	}
	return f
}

// Reckoned lists what was assumed, each once, for the end of a build.
func (w Widths) Reckoned() []string {
	var out []string
	seen := map[string]bool{}
	for _, t := range []*Term{w.BoardTall, w.BoardWide, w.SpineWide} {
		t.leaves(func(l *Term) {
			if !l.Assumed() || seen[l.Name] {
				return
			}
			seen[l.Name] = true
			line := l.Name + " " + l.Length.String()
			if l.Figure.From == model.Estimated {
				line += " (estimated: " + l.Figure.Note + ")"
			} else {
				line += " (by default: " + l.Figure.Note + ")"
			}
			out = append(out, line)
		})
	}
	return out
}
