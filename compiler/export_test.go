package compiler

import (
	"context"
	"io/fs"

	"headcap/compiler/drawing"
	"headcap/compiler/measure"
	"headcap/compiler/model"
	"headcap/lang/diag"
)

// A Laid is a volume as measured and drawn, for the tests that hold its figures against those of the handbooks, and what
// is written against what was laid out.
type Laid struct {
	Model  model.Volume
	Widths measure.Widths
	Design model.Design
	Spine  measure.Spine
	Faces  []drawing.Face
}

func (s *shelf) laid() []Laid {
	var out []Laid
	for _, b := range s.books {
		out = append(out, Laid{b.model, b.widths, b.design, b.spine, b.faces})
	}
	return out
}

// LaidOut takes a source as far as drawings.
func LaidOut(fsys fs.FS, entry string) ([]Laid, *diag.List) {
	s := laidOut(fsys, entry)
	return s.laid(), s.list
}

// CompileLaid is Compile, and shows what was laid out on the way.
func CompileLaid(fsys fs.FS, entry string, o Options) (*Result, []Laid, *diag.List) {
	s := laidOut(fsys, entry)
	ctx := context.Background()
	if err := s.cut(ctx); err != nil {
		return nil, nil, s.list
	}
	return s.result(ctx, o), s.laid(), s.list
}
