package compiler

import (
	"io/fs"

	"headcap/compiler/drawing"
	"headcap/compiler/measure"
	"headcap/compiler/model"
	"headcap/lang/diag"
)

// A Laid is a volume as measured and drawn, for the tests that hold its figures against those of the handbooks.
type Laid struct {
	Model  model.Volume
	Widths measure.Widths
	Spine  measure.Spine
	Faces  []drawing.Face
}

// LaidOut takes a source as far as drawings.
func LaidOut(fsys fs.FS, entry string) ([]Laid, *diag.List) {
	s := laidOut(fsys, entry)
	var out []Laid
	for _, b := range s.books {
		out = append(out, Laid{b.model, b.widths, b.spine, b.faces})
	}
	return out, s.list
}
