package layout

import (
	"fmt"
	"math/big"
	"strconv"

	"headcap/compiler/agree"
	"headcap/compiler/drawing"
	"headcap/compiler/geom"
	"headcap/compiler/lettering"
	"headcap/compiler/measure"
	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
)

// A Volume is what layout is given of a volume: measured, its design settled.
type Volume struct {
	Index  int
	Model  model.Volume
	Design model.Design
	Widths measure.Widths
	Spine  measure.Spine
	Counts bool // measured and not apart
}

// A Plan is a volume whose lines stand, and which knows what room they leave. Slots and Places ask for sizes; Faces sets
// what they were given.
type Plan struct {
	v       Volume
	pages   []*page
	rooms   [][]room
	shapes  [][][]drawing.Shape // of each room of each page
	Slots   []agree.Slot
	Places  []agree.Place
	slotAt  []where
	placeAt []where
}

// where says to which room a slot or place belongs.
type where struct{ page, room, letter int }

// Faces opens faces by the name that a letter statement has.
type Faces func(key string) *lettering.Face

// New lays the lines of a volume and lists what is to be agreed on.
func New(v Volume, faces Faces, art *Art, origins *source.Origins, list *diag.List) *Plan {
	p := &Plan{v: v}
	if v.Model.Spoilt {
		return p // without measures there are no faces
	}
	w, h := micrometre(v.Spine.Wide.Nanometres()), micrometre(v.Spine.Tall.Nanometres())
	cw, ch := micrometre(v.Widths.BoardWide.Length.Nanometres()), micrometre(v.Widths.BoardTall.Length.Nanometres())
	film := ""
	if v.Design.Film != nil {
		film = v.Design.Film.Name
	}
	add := func(name string, w, h int64, cover bool, rooms []room) {
		pg := &page{face: drawing.Face{Name: name, Width: w, Height: h}, key: v.Model.Key, cover: cover, art: art, origins: origins, list: list, film: film}
		var shapes [][]drawing.Shape
		for i := range rooms {
			pg.face.Shapes = nil
			pg.lines(&rooms[i])
			shapes = append(shapes, pg.face.Shapes)
		}
		p.pages, p.rooms, p.shapes = append(p.pages, pg), append(p.rooms, rooms), append(p.shapes, shapes)
		if cover {
			pg.face.Clear = []geom.Box{{Max: geom.Point{X: w, Y: h}}}
			pg.face.Clear[0] = pg.face.Clear[0].Inset(v.Widths.EdgeClear.Length.Nanometres())
			return
		}
		for _, s := range v.Spine.Panels {
			pg.face.Clear = append(pg.face.Clear, box(s.Left, s.Head, s.Right, s.Tail))
		}
		for _, b := range v.Spine.Bands {
			pg.face.Bands = append(pg.face.Bands, drawing.Band{Centre: b.Centre.Length.Nanometres(), Width: b.Wide.Nanometres()})
		}
	}
	rooms := grid(spineRooms(v.Design, v.Spine), w)
	p.crowded(rooms, origins, list)
	add("spine", w, h, false, rooms)
	if c := v.Design.Front; c != nil {
		add("front", cw, ch, true, []room{coverRoom("the front", c, cw, ch)})
	}
	if c := v.Design.Back; c != nil {
		add("back", cw, ch, true, []room{coverRoom("the back", c, cw, ch)})
	}
	for i, rs := range p.rooms {
		for j := range rs {
			p.ask(i, j, faces)
		}
	}
	return p
}

// crowded tells where something is to stand on a spine, or in a panel, that has no clear leather, and empties the room.
func (p *Plan) crowded(rooms []room, origins *source.Origins, list *diag.List) {
	told := false
	m := p.v.Model
	unknown := m.SpineUnsaid()
	for i := range rooms {
		r := &rooms[i]
		if unknown && !told && (r.fillets != nil || r.frames != nil || r.centre != nil || r.letters != nil) {
			told = true
			list.Add(diag.Diagnostic{
				Code: "no-spine-measure", At: origins.Span(m.Origin), Volume: m.Key,
				Message: "something is to stand on the spine, and nothing says how wide that is",
				Try:     []string{"block 228mm x 150mm x 28mm", "spine strip 41mm, over the round", "spine caliper 36mm, straight across"},
			})
		}
		if r.fillets == nil && r.frames == nil && r.centre == nil && r.letters == nil || r.box.Width() > 0 && r.box.Height() > 0 {
			continue
		}
		if !told {
			told = true
			d := diag.Diagnostic{Volume: p.v.Model.Key}
			if r.box.Width() <= 0 {
				d.Code, d.At = "spine-too-narrow", origins.Span(p.v.Model.Origin)
				d.Message = fmt.Sprintf("the spine is %s wide, and %s is kept clear at each joint: nothing is left", p.v.Spine.Wide, p.v.Widths.JointClear.Length)
				d.Try = []string{"measure block and boards again", "margin 3mm, which keeps head and tail clear and nothing at the joints"}
				if r.letters != nil {
					// "In such cases the lettering is best put on the side", Cockerell 1901/1910, p. 221.
					d.Try = append(d.Try, "letter the front: front { letter title }")
				}
			} else {
				d.Code, d.At = "panel-too-short", origins.Span(p.v.Design.Spine.Bands.Origin)
				if !d.At.Known() {
					d.At = origins.Span(p.v.Model.Origin)
				}
				d.Message = fmt.Sprintf("%s has no clear leather: it would run from %s to %s below the head", r.name, mmText(r.box.Min.Y), mmText(r.box.Max.Y))
				d.Try = []string{"fewer bands, narrower ones, or less kept clear beside them"}
			}
			list.Add(d)
		}
		*r = room{name: r.name, box: r.box, at: r.at, above: r.above, below: r.below}
	}
}

// grid puts the sides of spine rooms on the grid of the files, the same distance from both sides of the spine.
func grid(rooms []room, width int64) []room {
	for i := range rooms {
		b := &rooms[i].box
		b.Min.X = micrometre(b.Min.X)
		b.Max.X = width - b.Min.X
	}
	return rooms
}

// ask lists the lettering and the centres of a room whose size is not settled by the room alone.
func (p *Plan) ask(i, j int, faces Faces) {
	r, pg := &p.rooms[i][j], p.pages[i]
	film := r.film
	if film == nil {
		film = p.v.Design.Film
	}
	series := p.v.Model.Series
	for k, l := range r.letters {
		texts := p.texts(pg, l)
		face := faces(l.Face)
		if texts == nil || face == nil || film == nil {
			continue
		}
		b := r.lettered()
		p.Slots = append(p.Slots, agree.Slot{
			Volume: p.v.Index, Series: series, Key: pg.face.Name + "/" + l.What + l.Text, Where: r.name, Letter: l, Texts: texts,
			Face: face, Film: film, Way: p.v.Design.Way, Width: b.Width(), Height: b.Height(), Counts: p.v.Counts, Apart: p.v.Design.Apart, Cover: r.cover, Bands: len(p.v.Spine.Bands),
		})
		p.slotAt = append(p.slotAt, where{i, j, k})
	}
	if c := r.centre; c != nil && c.Fill != nil {
		st := p.stampOf(pg, c)
		if st == nil {
			return
		}
		art, ok := pg.art.Of(st)
		if !ok {
			return
		}
		turned := boxOf(geom.Turn(c.Turned), art.Shapes)
		b := r.clear()
		key := pg.face.Name + "/" + st.Name
		if c.Emblem {
			key = pg.face.Name + "/emblem"
		}
		p.Places = append(p.Places, agree.Place{
			Volume: p.v.Index, Series: series, Key: key, Where: r.name, Centre: *c, ArtW: turned.Width(), ArtH: turned.Height(),
			Width: b.Width(), Height: b.Height(), Counts: p.v.Counts, Apart: p.v.Design.Apart,
		})
		p.placeAt = append(p.placeAt, where{i, j, 0})
	}
}

// stampOf gives the stamp of a centre; an emblem is the volume's own.
func (p *Plan) stampOf(pg *page, c *model.Centre) *model.Stamp {
	if !c.Emblem {
		return c.Stamp
	}
	if p.v.Design.Emblem == nil && !p.v.Design.Spoilt {
		pg.add(diag.Diagnostic{
			Code: "no-emblem", At: pg.origins.Span(c.Origin), Message: fmt.Sprintf("%s has no emblem to set here", agree.VolumeName(p.v.Model)),
			Notes: []diag.Note{{At: pg.origins.Span(p.v.Model.Origin), Text: "the volume"}}, Try: []string{"emblem acorn"},
		})
	}
	return p.v.Design.Emblem
}

// texts gives what a letter statement may set in this volume.
func (p *Plan) texts(pg *page, l model.Letter) []agree.Text {
	d := p.v.Design
	missing := func(what, try string) []agree.Text {
		if d.Spoilt {
			return nil // it may have been said, and not understood
		}
		pg.add(diag.Diagnostic{
			Severity: diag.Warning, Code: "missing-in-one", At: pg.origins.Span(l.Origin), Message: fmt.Sprintf("%s has no %s to letter", agree.VolumeName(p.v.Model), what),
			Notes: []diag.Note{{At: pg.origins.Span(p.v.Model.Origin), Text: "the volume"}}, Try: []string{try},
		})
		return nil
	}
	switch l.What {
	case "":
		return []agree.Text{{Text: l.Text}}
	case "author":
		if d.Author == "" {
			return missing("author", `author "H. Sallow"`)
		}
		return []agree.Text{{Text: d.Author}}
	case "number":
		if d.Number == 0 {
			return missing("number", "number 1")
		}
		return []agree.Text{{Text: strconv.Itoa(d.Number)}}
	}
	if d.Title.Text == "" {
		return missing("title", `title "…"`)
	}
	out := []agree.Text{{Text: d.Title.Text, Lines: d.Title.Lines}}
	if d.Title.Short != "" {
		out = append(out, agree.Text{Text: d.Title.Short})
	}
	return out
}

// Faces sets centres and lettering at the sizes agreed on, and gives the faces of the volume in reading order: spine,
// front, back, each from the head down, lines before what stands in them.
func (p *Plan) Faces(settings []agree.Setting, heights []int64) []drawing.Face {
	for i, pg := range p.pages {
		for j := range p.rooms[i] {
			r := &p.rooms[i][j]
			pg.face.Shapes = p.shapes[i][j]
			if r.centre != nil {
				p.centre(pg, r, p.height(heights, i, j))
			}
			for k, set := range settings {
				if at := p.slotAt[k]; at.page == i && at.room == j && set.OK {
					p.letters(pg, r, r.letters[at.letter], p.Slots[k], set)
				}
			}
			p.shapes[i][j] = pg.face.Shapes
		}
		pg.face.Shapes = nil
		for _, s := range p.shapes[i] {
			pg.face.Shapes = append(pg.face.Shapes, s...)
		}
	}
	var out []drawing.Face
	for _, pg := range p.pages {
		out = append(out, pg.face)
	}
	return out
}

func (p *Plan) height(heights []int64, i, j int) int64 {
	for k, at := range p.placeAt {
		if at.page == i && at.room == j {
			return heights[k]
		}
	}
	return 0
}

// liftOnCover is the optical lift of a centre on a cover, as a share of its height: 2 to 2.5 % by eye, 4 % is too high.
var liftOnCover = big.NewRat(2, 100)

// centre sets a stamp in the middle of what is left: at its own size, or at the height agreed on.
func (p *Plan) centre(pg *page, r *room, height int64) {
	c := r.centre
	if c.Fill != nil && height == 0 {
		return // told already
	}
	st := p.stampOf(pg, c)
	if st == nil {
		return
	}
	art, ok := pg.art.Of(st)
	if !ok {
		return
	}
	t := geom.Turn(c.Turned)
	b := boxOf(t, art.Shapes)
	if c.Fill != nil && height != b.Height() {
		t = t.Then(geom.Scale(float64(height) / float64(b.Height())))
		b = boxOf(t, art.Shapes)
	}
	room := r.clear()
	if b.Width() > room.Width() || b.Height() > room.Height() {
		pg.add(diag.Diagnostic{
			Code: "centre-too-large", At: pg.origins.Span(c.Origin),
			Message: fmt.Sprintf("«%s» is %s tall and %s wide; %s of %s leaves %s x %s for it", st.Name, mmText(b.Height()), mmText(b.Width()), r.name, agree.VolumeName(p.v.Model), mmText(max(0, room.Height())), mmText(max(0, room.Width()))),
			Try:     []string{"a smaller stamp", fmt.Sprintf("let it be smaller here: centre %s fill 90%%", centreName(c)), "a smaller inset of the frame"},
		})
		return
	}
	lift := c.Raised
	if lift == nil && r.cover {
		lift = liftOnCover
	}
	mid := room.Centre()
	if lift != nil {
		mid.Y -= share(lift, r.box.Height())
	}
	pg.warnSize(st, c, b, r)
	pg.stamp(drawing.Stamp, st, art.Shapes, t, geom.Point{X: mid.X - b.Centre().X, Y: mid.Y - b.Centre().Y}, pg.filmOf(r, nil), c.Origin)
}

func centreName(c *model.Centre) string {
	if c.Emblem {
		return "emblem"
	}
	return c.Stamp.Name
}

// warnSize warns where a stamp stands outside the sizes that it is drawn for.
func (p *page) warnSize(s *model.Stamp, c *model.Centre, b geom.Box, r *room) {
	if s.From == nil || s.To == nil || c.Fill == nil {
		return
	}
	if h := b.Height(); h < s.From.Nanometres() || h > s.To.Nanometres() {
		p.add(diag.Diagnostic{
			Severity: diag.Warning, Code: "size-not-drawn-for", At: p.origins.Span(c.Origin),
			Message: fmt.Sprintf("«%s» stands %s tall in %s; it is drawn for %s to %s", s.Name, mmText(h), r.name, s.From, s.To),
			Try:     []string{fmt.Sprintf("centre %s fill … tall %s to %s", centreName(c), s.From, s.To)},
		})
	}
}

func share(r *big.Rat, of int64) int64 {
	n := new(big.Rat).Mul(r, big.NewRat(of, 1))
	return new(big.Int).Div(n.Num(), n.Denom()).Int64()
}
