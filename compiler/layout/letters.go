package layout

import (
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
	}
}
