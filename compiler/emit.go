package compiler

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"headcap/compiler/agree"
	"headcap/compiler/cut"
	"headcap/compiler/emit/dxf"
	"headcap/compiler/emit/listing"
	"headcap/compiler/emit/png"
	"headcap/compiler/emit/preview"
	"headcap/compiler/emit/svg"
	"headcap/compiler/geom"
	"headcap/compiler/measure"
	"headcap/compiler/model"
)

// Pictures have four pixels to the millimetre, at which the grain of the leather shows, unless they would grow wider than
// this: a row of many volumes.
const (
	pixelsPerMillimetre = 4
	mostPixels          = 2400
)

// result writes every volume that is clean, and the rows where all are.
func (s *shelf) result(ctx context.Context, o Options) *Result {
	r := &Result{Asked: s.set.Asked, Whole: !s.list.Errors()}
	files := make([][]File, len(s.books))
	if err := each(ctx, len(s.books), func(i int) error {
		b := s.books[i]
		if s.list.Spoilt(b.model.Key) {
			return nil
		}
		var err error
		if files[i], err = b.files(o); err != nil {
			return &fault{b, err}
		}
		return nil
	}, s.list, s.set.Origins); err != nil {
		return &Result{Asked: s.set.Asked}
	}
	for i, b := range s.books {
		clean := !s.list.Spoilt(b.model.Key)
		r.Volumes = append(r.Volumes, Volume{Key: b.model.Key, Title: b.model.Name, Folder: b.model.Folder, Clean: clean})
		if clean {
			r.Files = append(r.Files, files[i]...)
		}
	}
	r.Whole = r.Whole && !s.list.Errors() && len(s.books) > 0
	if r.Whole {
		rows, err := s.rows(o)
		if err != nil {
			s.list.Add(err.diagnostic(s.set.Origins))
			r.Whole = false
		}
		r.Files = append(r.Files, rows...)
	}
	r.Reckoned = s.reckoned()
	r.Summary = s.summary()
	return r
}

// files gives the files of one volume.
func (b *book) files(o Options) ([]File, error) {
	var out []File
	put := func(name string, write func(w *bytes.Buffer) error) error {
		var buf bytes.Buffer
		if err := write(&buf); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		out = append(out, File{Name: b.model.Folder + "/" + name, Volume: b.model.Key, Data: buf.Bytes()})
		return nil
	}
	if !b.open {
		for _, c := range b.cuts {
			name := fileName(c)
			if err := put(name+".svg", func(w *bytes.Buffer) error { return svg.Write(w, c) }); err != nil {
				return nil, err
			}
			if err := put(name+".dxf", func(w *bytes.Buffer) error { return dxf.Write(w, c, dxf.Options{}) }); err != nil {
				return nil, err
			}
		}
		if len(b.cuts) > 0 {
			if err := put("pieces.txt", func(w *bytes.Buffer) error { return listing.Write(w, b.cuts) }); err != nil {
				return nil, err
			}
		}
	}
	book, err := b.picture()
	if err != nil {
		return nil, err
	}
	return out, pictures(preview.Volume(book), "preview", o, put)
}

func pictures(scene preview.Scene, name string, o Options, put func(string, func(*bytes.Buffer) error) error) error {
	if err := put(name+".svg", func(w *bytes.Buffer) error {
		data, err := preview.SVG(scene, "p")
		w.Write(data)
		return err
	}); err != nil || !o.Pictures {
		return err
	}
	pixels := int(min(mostPixels, scene.View.Width()*pixelsPerMillimetre/geom.Millimetre))
	return put(name+".png", func(w *bytes.Buffer) error {
		data, err := png.PNG(scene, pixels)
		w.Write(data)
		return err
	})
}

// fileName says what is in a cut file, and that it is mirrored where it is.
func fileName(c cut.Face) string {
	name := c.Face + "." + c.Film
	if c.Transfer {
		name += ".mirrored"
	}
	return name
}

// rows pictures each series as it will stand.
func (s *shelf) rows(o Options) ([]File, *fault) {
	var out []File
	for _, series := range s.set.Shelf.Series {
		if len(series.Volumes) == 0 {
			continue
		}
		first := s.books[series.Volumes[0]]
		var books []preview.Book
		for _, i := range series.Volumes {
			b, err := s.books[i].picture()
			if err != nil {
				return nil, &fault{s.books[i], err}
			}
			books = append(books, b)
		}
		put := func(name string, write func(w *bytes.Buffer) error) error {
			var buf bytes.Buffer
			if err := write(&buf); err != nil {
				return err
			}
			out = append(out, File{Name: series.Slug + "/" + name, Data: buf.Bytes()})
			return nil
		}
		if err := pictures(preview.Row(books), "row", o, put); err != nil {
			return nil, &fault{first, err}
		}
	}
	return out, nil
}

// picture makes the book that the preview draws, from the very pieces that are cut.
func (b *book) picture() (preview.Book, error) {
	leather, err := preview.ParseColour(b.model.Leather.Colour)
	if err != nil {
		return preview.Book{}, err
	}
	out := preview.Book{Title: b.model.Name, Leather: leather, Round: b.widths.Round}
	if b.model.Number > 0 {
		out.Number = fmt.Sprint(b.model.Number)
	}
	for _, f := range b.faces {
		face := preview.Face{Width: f.Width, Height: f.Height}
		for _, c := range b.cuts {
			if c.Face != f.Name {
				continue
			}
			film, err := b.filmPicture(c)
			if err != nil {
				return preview.Book{}, err
			}
			face.Films = append(face.Films, film)
		}
		for _, d := range b.faces[0].Bands {
			face.Bands = append(face.Bands, preview.Band{Centre: d.Centre, Width: d.Width})
		}
		switch f.Name {
		case "spine":
			out.Spine = face
		case "front":
			b.jointed(&face, true)
			out.Front = &face
		case "back":
			b.jointed(&face, false)
			out.Back = &face
		}
	}
	if t := b.model.Block.Thick.Length; t.Sign() > 0 && b.model.Block.Tall.Length.Sign() > 0 {
		out.ForeEdge = &preview.ForeEdge{
			Thickness: t.Nanometres(), Height: b.model.Block.Tall.Length.Nanometres(), Board: b.model.Bound.Boards.Length.Nanometres(),
			Leather: b.model.Leather.Thick.Length.Nanometres(), Squares: b.model.Bound.Head.Length.Nanometres(),
		}
	}
	return out, nil
}

// jointed widens the picture of a board by the joint, which is seen beside it at the spine edge and is no part of the face
// that is cut.
func (b *book) jointed(f *preview.Face, front bool) {
	if b.model.Cover != nil {
		return // a face as it is: its joint is not known
	}
	joint := b.model.Bound.Gap.Length
	if b.model.Bound.Kind == model.Laced {
		joint = b.model.Bound.JointWidth.Length
	}
	w := joint.Nanometres()
	f.Width += w
	f.Joint = w * 6 / 10 // the groove is deepest nearer the board
	if !front {
		return
	}
	for i := range f.Films {
		moved := make([]geom.Shape, len(f.Films[i].Shapes))
		for k, s := range f.Films[i].Shapes {
			moved[k] = geom.Move(w, 0).Shape(s)
		}
		f.Films[i].Shapes = moved
	}
}

func (b *book) filmPicture(c cut.Face) (preview.Film, error) {
	colour, err := preview.ParseColour(c.Colour)
	if err != nil {
		return preview.Film{}, err
	}
	out := preview.Film{Name: c.Film, Colour: colour}
	if f := b.filmModel(c.Film); f != nil {
		switch f.Finish {
		case "satin":
			out.Finish = preview.Satin
		case "bright":
			out.Finish = preview.Bright
		}
	}
	for _, p := range c.Pieces {
		out.Shapes = append(out.Shapes, p.Shape)
	}
	return out, nil
}

// reckoned lists what was assumed, with the volumes for which it was.
func (s *shelf) reckoned() []string {
	var lines []string
	who := map[string][]string{}
	for _, b := range s.books {
		for _, l := range b.widths.Reckoned() {
			if who[l] == nil {
				lines = append(lines, l)
			}
			who[l] = append(who[l], agree.VolumeName(b.model))
		}
	}
	for i, l := range lines {
		if len(who[l]) < len(s.books) {
			lines[i] = l + ": " + strings.Join(who[l], ", ")
		}
	}
	return lines
}

// summary closes a build: what was agreed on, and what is to be cut.
func (s *shelf) summary() []string {
	var out []string
	for _, a := range s.shared {
		line := fmt.Sprintf("%s: %.2f mm", a.What, float64(a.Size)/1e6)
		if strings.HasPrefix(a.What, "the emblem") {
			line += " tall"
		} else {
			line = "lettering of " + line + " caps"
		}
		if a.SetBy >= 0 {
			line += ", set by " + agree.VolumeName(s.set.Shelf.Volumes[a.SetBy])
		} else {
			line += ", the most that is allowed"
		}
		out = append(out, line)
	}
	for _, b := range s.books {
		var parts []string
		for _, t := range measure.Again(b.widths, b.spine) {
			parts = append(parts, fmt.Sprintf("%s %s (planned %s, %s)", t.Name, t.Length, t.Plan.Length.As(t.Length.Shown()), t.OffPlan()))
		}
		if parts != nil {
			out = append(out, fmt.Sprintf("%s as covered on %s: %s", agree.VolumeName(b.model), b.model.Covered.Date, strings.Join(parts, "; ")))
		}
	}
	var films []string
	count := map[string]int{}
	for _, b := range s.books {
		if b.open || s.list.Spoilt(b.model.Key) {
			continue
		}
		for _, c := range b.cuts {
			name := c.Film
			if c.Transfer {
				name += " (mirrored)"
			}
			if !slices.Contains(films, name) {
				films = append(films, name)
			}
			count[name+" "+c.Face]++
		}
	}
	for _, f := range films {
		var parts []string
		for _, face := range []string{"spine", "front", "back"} {
			if n := count[f+" "+face]; n > 0 {
				parts = append(parts, plural(n, face))
			}
		}
		out = append(out, "cut from "+f+", with a blade only: "+strings.Join(parts, ", "))
	}
	return out
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
