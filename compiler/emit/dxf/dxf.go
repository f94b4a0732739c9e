// Package dxf writes the DXF cut file of one film on one face: R2000, in millimetres, closed polylines of straight sides
// on one layer. Every reader gives such a file the same area and box, which cannot be said of bulges or splines.
package dxf

import (
	"fmt"
	"io"
	"strings"
	"sync"

	yofu "github.com/yofu/dxf"
	"github.com/yofu/dxf/block"
	"github.com/yofu/dxf/drawing"
	"github.com/yofu/dxf/table"

	"headcap/compiler/cut"
	"headcap/compiler/emit/internal/settled"
	"headcap/compiler/geom"
)

// Options of a file. The zero value is the default that the listing measures.
type Options struct {
	// Tolerance is how far the straight sides may leave the curve, in nanometres; zero is 2 µm. Putting the corners on
	// the grid of one micrometre adds at most 0.71 µm.
	Tolerance int64
}

// library guards the drawing library from NewDrawing to the end of the write: its default layer and line types are
// package variables, and a second drawing would change the handles that the first one writes.
var library sync.Mutex

// Write writes the face as a DXF file: y' = height − y, so that it looks as the SVG does, and a transfer film reflected,
// once. The outlines stand in the order of the pieces, the outer one of each before its holes. It refuses a face that
// has not been settled on the grid of one micrometre.
func Write(w io.Writer, f cut.Face, o Options) error {
	rings, err := place(f, o)
	if err != nil {
		return fmt.Errorf("writing a DXF: %w", err)
	}
	library.Lock()
	defer library.Unlock()
	if err := write(w, sections(f, rings)); err != nil {
		return fmt.Errorf("writing a DXF: %w", err)
	}
	return nil
}

// place gives the rings of a face where they stand in the file.
func place(f cut.Face, o Options) ([]settled.Ring, error) {
	if err := settled.Check(f); err != nil {
		return nil, err
	}
	tol := o.Tolerance
	if tol == 0 {
		tol = settled.Tolerance
	}
	if tol < settled.Grid {
		return nil, fmt.Errorf("a tolerance of %d nm is finer than the grid of the file, one micrometre", tol)
	}
	across := settled.Across(f)
	var out []settled.Ring
	for _, p := range f.Pieces {
		rings, err := settled.Rings(p, tol)
		if err != nil {
			return nil, err
		}
		for _, r := range rings {
			for i, q := range r {
				r[i] = geom.Point{X: across(q.X), Y: f.Height - q.Y}
			}
		}
		out = append(out, rings...)
	}
	return out, nil
}

// sections are the library's tables and blocks with our own sections round them. The library's header has no
// $MEASUREMENT and its extents always take in the origin; its objects lack owners and its third block lacks a layout, both
// of which readers would have to mend.
func sections(f cut.Face, rings []settled.Ring) []drawing.Section {
	d := yofu.NewDrawing()
	objects := &objects{}
	layer := table.NewLayer(LayerName(f.Film), yofu.DefaultColor, yofu.DefaultLineType)
	layer.SetPlotStyle(&objects.normal)
	d.Layers["0"].SetPlotStyle(&objects.normal)
	tables := d.Sections[drawing.TABLES].(table.Tables)
	tables.AddLayer(layer)

	model, paper := table.NewBlockRecord("*Model_Space"), table.NewBlockRecord("*Paper_Space")
	records := tables[len(tables)-1]
	records.Clear()
	records.Add(model)
	records.Add(paper)

	return []drawing.Section{
		&header{extents: settled.Bounds(rings), frame: geom.Point{X: f.Width, Y: f.Height}},
		classes{},
		tables,
		block.Blocks{block.NewBlock(model.Name(), ""), block.NewBlock(paper.Name(), "")},
		&outlines{rings: rings, layer: layer, owner: model},
		objects,
	}
}

// write does what the library's WriteTo does, through a formatter that keeps no copy of the file. The header comes first
// and gets its handle last, since it tells the next one free.
func write(w io.Writer, sections []drawing.Section) error {
	next := 1
	for _, s := range sections[1:] {
		s.SetHandle(&next)
	}
	sections[0].SetHandle(&next)
	out := newStream(w)
	for _, s := range sections {
		s.Format(out)
	}
	out.WriteString(0, "EOF")
	return out.flush()
}

// LayerName is the name of a film's layer: capital letters, figures, hyphens and underscores, at most 31 of them, which
// is what the oldest readers take. What stands between is one hyphen. Layer 0 is every reader's own, and WASTE is for
// cuts that are no outline, so a film of either name is called FILM-0 or FILM-WASTE.
func LayerName(film string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToUpper(film) {
		if r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' {
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			b.WriteRune(r)
			gap = false
			continue
		}
		gap = true
	}
	name := b.String()
	switch name {
	case "":
		return "FILM"
	case "0", "WASTE":
		return "FILM-" + name
	}
	return strings.TrimRight(name[:min(len(name), 31)], "-")
}
