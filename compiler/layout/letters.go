package layout

import (
	"fmt"

	"headcap/compiler/agree"
	"headcap/compiler/drawing"
	"headcap/compiler/geom"
	"headcap/compiler/model"
	"headcap/lang/diag"
)

// letters sets the lines of a text, or the letters of a pillar, in the middle of the room, or on a baseline that is said.
func (p *Plan) letters(pg *page, r *room, l model.Letter, slot agree.Slot, set agree.Setting) {
	n := int64(len(set.Lines))
	b := r.lettered()
	turn := geom.Identity()
	switch set.Way {
	case model.Down:
		turn = geom.Turn(90)
	case model.Up:
		turn = geom.Turn(-90)
	}
	first := set.Cap - (set.Cap+(n-1)*set.Leading)/2 // the first baseline below the middle
	mid := b.Centre()
	if l.Raised != nil {
		mid.Y -= share(l.Raised, r.box.Height())
	}
	if l.Baseline != nil && (set.Way == model.Across || set.Way == model.Pillar) {
		mid.Y = r.box.Min.Y + l.Baseline.Nanometres() - first
	}
	if n > 1 && !r.cover && (set.Way == model.Across || set.Way == model.Pillar) {
		mid.Y -= p.roomBelow(pg, r, l, set, mid.Y+first-set.Cap)
	}
	bottom := int64(0)
	for i, text := range set.Lines {
		if text == "" {
			continue // a space in a pillar
		}
		line, err := slot.Face.Set(text, set.Style, 0)
		if err != nil {
			pg.add(diag.Diagnostic{Code: "unusable-text", At: pg.origins.Span(l.Origin), Message: err.Error()})
			return
		}
		down := first + int64(i)*set.Leading
		t := geom.Move(0, down).Then(turn)
		at := snapped(geom.Point{X: mid.X + t.E, Y: mid.Y + t.F})
		t.E, t.F = at.X, at.Y
		pg.face.Shapes = append(pg.face.Shapes, drawing.Shape{
			Kind: drawing.Letters, Name: l.What, Film: pg.filmOf(r, l.Film), Place: t, Art: line.Shapes, Text: text, Cap: set.Cap, Origin: l.Origin,
		})
		bottom = max(bottom, boxOf(t, line.Shapes).Max.Y)
	}
	if above := pg.face.Height - bottom; !r.cover && l.What != "" && above < footReserve {
		pg.add(diag.Diagnostic{
			Severity: diag.Advice, Code: "low-lettering", At: pg.origins.Span(l.Origin),
			Message: fmt.Sprintf("the %s comes down to %s above the tail, where libraries mark their books: %s are kept for that", l.What, mmText(above), mmText(footReserve)),
			Try:     []string{"letter it in a panel above", "raised 10%"},
		})
	}
}

// footReserve is what is kept clear of title, author and number at the foot of a spine, for the marks of libraries: at least
// 30 mm, as reported of ISO 6357:1985. (The standard itself was not seen. Bailey 1916, p. 143, sets such marks 1 1/4 to 1 1/2
// inches above the tail.) A date or other text at the foot is no matter.
var footReserve = nm("30mm")

// roomBelow is how far lettering of several lines is raised, its head standing at top, so that more room is below it than
// between its lines: "leaving a little greater distance between the lowest letter and the bottom of the panel, than between
// the letters", Cockerell 1901/1910, p. 218. Little is a twentieth of what is between them, and above the lettering at least
// half of it is left (choices). Lettering that cannot be raised so, or whose place is said, stands where it is, and that is
// told where there is less room below it.
func (p *Plan) roomBelow(pg *page, r *room, l model.Letter, set agree.Setting, top int64) int64 {
	between := set.Leading - set.Cap
	below := p.seenFoot(pg, r) - (top + set.Cap + int64(len(set.Lines)-1)*set.Leading)
	if below > between {
		return 0
	}
	up := between + between/20 - below
	if l.Raised == nil && l.Baseline == nil && top-up >= r.clear().Min.Y && top-up-r.inner.Min.Y >= between/2 {
		return up
	}
	pg.add(diag.Diagnostic{
		Severity: diag.Advice, Code: "less-room-below", At: pg.origins.Span(l.Origin),
		Message: fmt.Sprintf("%s of «%s» leave %s below them in %s, and %s between them", rows(set.Way), set.Text, mmText(max(0, below)), r.name, mmText(between)),
		Try:     []string{"closer lines: leading 1.5", "a smaller most for the caps, or fewer lines", "set it higher: raised 5%"},
	})
	return 0
}

// seenFoot is where a panel is seen to end below: at its lowest line, else where the band begins that stands under it, else at
// the tail. The leather that is kept clear beside a band belongs to the panel for the eye.
func (p *Plan) seenFoot(pg *page, r *room) int64 {
	if r.foot < r.box.Max.Y {
		return r.foot
	}
	foot := pg.face.Height
	for _, b := range pg.face.Bands {
		if edge := b.Centre - b.Width/2; edge >= r.box.Max.Y {
			foot = min(foot, edge)
		}
	}
	return foot
}

func rows(w model.Way) string {
	if w == model.Pillar {
		return "the letters"
	}
	return "the lines"
}
