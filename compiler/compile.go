// Package compiler is the way from a source to files: the only place that knows the order of the rooms.
package compiler

import (
	"context"
	"io/fs"

	"headcap/compiler/agree"
	"headcap/compiler/cut"
	"headcap/compiler/cutprep"
	"headcap/compiler/drawing"
	"headcap/compiler/layout"
	"headcap/compiler/load"
	"headcap/compiler/measure"
	"headcap/compiler/model"
	"headcap/compiler/resolve"
	"headcap/lang/diag"
	"headcap/lang/source"
)

// Options of a compilation.
type Options struct {
	Pictures bool // previews as PNG beside those as SVG
}

// A File is one file of the result. Name is slash-separated, below the output folder of the source; Volume is the key of
// the volume that it belongs to, empty for what belongs to the whole.
type File struct {
	Name   string
	Volume string
	Data   []byte
}

// A Volume of the result. Clean says that it has no error: all its files are in Files.
type Volume struct {
	Key, Title, Folder string
	Clean              bool
}

// A Result is what a compilation yields. Whole says that every volume is clean, and what belongs to all of them is in Files
// too. Reckoned lists what was assumed, Summary closes a build, Asked is every file that was asked for, missing ones too.
type Result struct {
	Files    []File
	Volumes  []Volume
	Whole    bool
	Reckoned []string
	Summary  []string
	Asked    []string
}

// A book is a volume on its way through the rooms.
type book struct {
	model  model.Volume
	widths measure.Widths
	design model.Design
	spine  measure.Spine
	plan   *layout.Plan
	set    []agree.Setting // of the plan's slots
	faces  []drawing.Face
	cuts   []cut.Face
	open   bool // a question is open: it is previewed and not cut
}

// A shelf is everything that a source describes, on its way through the rooms.
type shelf struct {
	set    *resolve.Set
	books  []*book
	shared []agree.Shared
	list   *diag.List
}

// Compile turns the source at entry into files. It reads through fsys alone and writes nothing.
func Compile(ctx context.Context, fsys fs.FS, entry string, o Options) (*Result, *diag.List) {
	s := laidOut(fsys, entry)
	if err := s.cut(ctx); err != nil {
		return &Result{Asked: s.set.Asked}, s.list
	}
	return s.result(ctx, o), s.list
}

// Check compiles as far as there is anything to complain of.
func Check(ctx context.Context, fsys fs.FS, entry string) *diag.List {
	s := laidOut(fsys, entry)
	_ = s.cut(ctx) // a cancelled check has told what it found
	return s.list
}

// laidOut takes a source as far as drawings at fixed places.
func laidOut(fsys fs.FS, entry string) *shelf {
	s := measured(fsys, entry)
	faces := load.Faces(fsys, &s.set.Shelf, s.set.Origins, s.list)
	art := layout.NewArt(s.set.Origins, s.list)
	var slots []agree.Slot
	var places []agree.Place
	for i, b := range s.books {
		b.plan = layout.New(layout.Volume{
			Index: i, Model: b.model, Design: b.design, Widths: b.widths, Spine: b.spine, Counts: !b.open && !b.design.Apart,
		}, faces, art, s.set.Origins, s.list)
		slots = append(slots, b.plan.Slots...)
		places = append(places, b.plan.Places...)
	}
	settings, letters := agree.Letters(slots, &s.set.Shelf, s.set.Origins, s.list)
	heights, emblems := agree.Emblems(places, &s.set.Shelf, s.set.Origins, s.list)
	s.shared = append(letters, emblems...)
	for _, b := range s.books {
		n, m := len(b.plan.Slots), len(b.plan.Places)
		b.set = settings[:n]
		b.faces = b.plan.Faces(b.set, heights[:m])
		settings, heights = settings[n:], heights[m:]
	}
	return s
}

// measured takes a source as far as bands and panels.
func measured(fsys fs.FS, entry string) *shelf {
	s := &shelf{list: &diag.List{}}
	s.set = resolve.Files(entry, reader(fsys, s.list), newLibrary(s.list), s.list)
	for i, v := range s.set.Shelf.Volumes {
		b := &book{model: v, widths: measure.Of(v, s.set.Origins, s.list)}
		b.design = s.set.Design(i, b.widths.Facts())
		b.spine = measure.Divide(v, b.widths, b.design.Spine.Bands, s.set.Origins, s.list)
		first, end := s.leader(i)
		if first != nil && len(b.spine.Bands) == len(first.spine.Bands) {
			b.spine = measure.Range(v, b.widths, b.design.Spine.Bands, first.spine, end)
		}
		b.spine = measure.Covered(v, b.widths, b.design.Spine.Bands, b.spine, s.set.Origins, s.list)
		if first == nil || !s.list.Spoilt(first.model.Key) {
			measure.OffPlan(v, b.spine, s.set.Origins, s.list)
		}
		b.open = len(b.widths.Open) > 0
		s.books = append(s.books, b)
		for _, q := range b.widths.Open {
			s.list.Add(diag.Diagnostic{
				Severity: diag.Advice, Code: "open-question", At: s.set.Origins.Span(q.Origin), Volume: v.Key,
				Message: agree.VolumeName(v) + " is previewed and not cut: " + q.What,
			})
		}
	}
	return s
}

// leader gives the volume that a volume ranges with, the first of its series, and from which end; nil for none. It stands
// before the others on the shelf, so that it has been measured.
func (s *shelf) leader(i int) (*book, string) {
	v := s.set.Shelf.Volumes[i]
	if v.Series < 0 {
		return nil, ""
	}
	series := s.set.Shelf.Series[v.Series]
	if series.Range == "" || series.Volumes[0] == i {
		return nil, ""
	}
	return s.books[series.Volumes[0]], series.Range
}

// cut makes the drawings ready for the blade, the volumes beside each other: each is a function of itself alone.
func (s *shelf) cut(ctx context.Context) error {
	return each(ctx, len(s.books), func(i int) error {
		b := s.books[i]
		if s.list.Spoilt(b.model.Key) {
			return nil
		}
		for _, f := range b.faces {
			cuts, err := cutprep.Face(f, b.model.Slug, agree.VolumeName(b.model), b.film, s.set.Origins)
			if err != nil {
				return &fault{b, err}
			}
			b.cuts = append(b.cuts, cuts...)
		}
		return nil
	}, s.list, s.set.Origins)
}

// A fault is geometry that could not be cut: an input out of range.
type fault struct {
	b   *book
	err error
}

func (f *fault) Error() string { return f.err.Error() }

func (f *fault) diagnostic(origins *source.Origins) diag.Diagnostic {
	return diag.Diagnostic{Code: "uncuttable", At: origins.Span(f.b.model.Origin), Volume: f.b.model.Key, Message: f.err.Error()}
}

// film gives what cutting needs to know of a film that stands on the volume.
func (b *book) film(name string) cutprep.Film {
	if f := b.filmModel(name); f != nil {
		return cutprep.Film{Name: f.Name, Colour: f.Colour, Transfer: f.Transfer}
	}
	return cutprep.Film{Name: name, Colour: "#808080"}
}

func (b *book) filmModel(name string) *model.Film {
	for _, f := range b.design.Films() {
		if f.Name == name {
			return f
		}
	}
	return nil
}
