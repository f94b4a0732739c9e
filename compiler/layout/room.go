// Package layout puts the design of a volume in its place: lines and rolls round panels and covers, stamps in corners and
// centres, lettering in what is left. It decides places, never what the blade does.
package layout

import (
	"fmt"

	"headcap/compiler/drawing"
	"headcap/compiler/geom"
	"headcap/compiler/measure"
	"headcap/compiler/model"
	"headcap/compiler/ornament"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// Choices of air, tried by eye on covers of 140 × 216 mm and spines of 18 to 55 mm.
var (
	airAfterFillet = nm("1.7mm") // from lines beside a band to a frame
	airInPanel     = nm("1.2mm") // from a frame to what stands in it, in a panel
	airOnCover     = nm("4mm")   // the same on a cover
	airByRoll      = nm("1.5mm") // between a roll and the line beside it
	panelInset     = nm("1.5mm")
	coverInset     = nm("10mm")
	cornerAir      = nm("1mm") // from the inner line to a stamp in the corner
	titleSide      = nm("1.8mm")
)

func nm(text string) int64 {
	q, err := unit.ParseQuantity(text)
	l, ok := q.Length()
	if err != nil || !ok {
		panic("layout: " + text + " is no length")
	}
	return l.Nanometres()
}

// Art draws stamps, each once.
type Art struct {
	drawn map[string]ornament.Art
	bad   map[string]bool
	own   map[string]bool
	list  *diag.List
	names *source.Origins
}

// NewArt makes a store of drawn stamps that tells of what cannot be drawn.
func NewArt(origins *source.Origins, list *diag.List) *Art {
	return &Art{drawn: map[string]ornament.Art{}, bad: map[string]bool{}, own: map[string]bool{}, list: list, names: origins}
}

// Of gives a drawn stamp; ok is false where it cannot be drawn, which has been told.
func (a *Art) Of(s *model.Stamp) (art ornament.Art, ok bool) {
	if art, ok = a.drawn[s.Key]; ok || a.bad[s.Key] {
		return art, ok
	}
	art, err := ornament.Draw(s)
	if err != nil {
		a.bad[s.Key] = true
		at := s.Origin
		if d, is := err.(*ornament.DrawError); is && d.Mark != nil {
			at = d.Mark.Origin
		}
		a.list.Add(diag.Diagnostic{Code: "undrawable-stamp", At: a.names.Span(at), Message: err.Error()})
		return ornament.Art{}, false
	}
	a.drawn[s.Key] = art
	return art, true
}

// A page is a face of a volume while it is being laid out.
type page struct {
	face    drawing.Face
	key     string // of the volume
	cover   bool
	art     *Art
	origins *source.Origins
	list    *diag.List
	film    string // in force
}

// A room is a panel or a cover: its clear box, what stands in it, and the box that its lines leave.
type room struct {
	name    string
	box     geom.Box
	cover   bool
	fillets []model.Fillet
	frames  []model.Frame
	centre  *model.Centre
	letters []model.Letter
	film    *model.Film
	at      source.Origin
	above   bool // a band stands at its head
	below   bool
	inner   geom.Box // what fillets and frames leave
	foot    int64    // where the lowest line above the box's own foot begins; the foot where there is none
	lines   bool     // there are lines, so air is kept from them
}

func (p *page) add(d diag.Diagnostic) {
	d.Volume = p.key
	p.list.Add(d)
}

// rooms lists the rooms of a spine from the head.
func spineRooms(d model.Design, s measure.Spine) []room {
	var out []room
	if w := d.Spine.Whole; w.Centre != nil || w.Frames != nil || w.Letters != nil {
		b := box(s.Panels[0].Left, s.Panels[0].Head, s.Panels[0].Right, s.Panels[len(s.Panels)-1].Tail)
		out = append(out, room{name: "the spine", box: b, frames: w.Frames, centre: w.Centre, letters: w.Letters, film: w.Film, at: w.Origin})
	}
	for _, p := range s.Panels {
		m := d.Spine.Panels[p.Number]
		r := room{
			name: fmt.Sprintf("panel %d", p.Number), box: box(p.Left, p.Head, p.Right, p.Tail), fillets: append(d.Spine.Whole.Fillets[:len(d.Spine.Whole.Fillets):len(d.Spine.Whole.Fillets)], m.Fillets...),
			frames: m.Frames, centre: m.Centre, letters: m.Letters, film: m.Film, at: m.Origin, above: p.AfterBand, below: p.BeforeBand,
		}
		if r.film == nil {
			r.film = d.Spine.Whole.Film
		}
		out = append(out, r)
	}
	return out
}

func coverRoom(name string, c *model.CoverDesign, w, h int64) room {
	return room{
		name: name, cover: true, box: geom.Box{Max: geom.Point{X: w, Y: h}},
		frames: c.Frames, centre: c.Centre, letters: c.Letters, film: c.Film, at: c.Origin,
	}
}

func box(l, t, r, b unit.Length) geom.Box {
	return geom.Box{Min: geom.Point{X: l.Nanometres(), Y: t.Nanometres()}, Max: geom.Point{X: r.Nanometres(), Y: b.Nanometres()}}
}

// clear is the box for what floats in the room: inside its lines, with air.
func (r *room) clear() geom.Box {
	switch {
	case !r.lines:
		return r.inner
	case r.cover:
		return r.inner.Inset(airOnCover)
	}
	return r.inner.Inset(airInPanel)
}

// lettered is the box for lettering.
func (r *room) lettered() geom.Box {
	b := r.clear()
	if r.cover {
		// A title held to about half the field looks set, not stretched (0.52 by eye; a little more where it is framed).
		w := b.Width() * 6 / 10
		return geom.Box{Min: geom.Point{X: b.Centre().X - w/2, Y: b.Min.Y}, Max: geom.Point{X: b.Centre().X + w/2, Y: b.Max.Y}}
	}
	if b.Width() > 4*titleSide && !r.lines {
		b.Min.X += titleSide
		b.Max.X -= titleSide
	}
	air := b.Height() / 12
	b.Min.Y += air
	b.Max.Y -= air
	return b
}
