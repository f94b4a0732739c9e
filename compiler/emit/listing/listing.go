// Package listing writes pieces.txt: the outlines of the pieces as text that is small in a diff. It is for reading and
// for review; the blade gets the SVG or the DXF.
//
// A line for each segment, in millimetres, relative to where the segment begins, as the reader sees the face (a transfer
// film is not reflected here):
//
//	l dx dy                      a straight line
//	c dx1 dy1 dx2 dy2 dx dy      a cubic: its two control points and its end
//
// Each contour is measured from the piece's place, the upper left corner of its box, so a piece that is only moved
// changes its place line and no other. Box, area and outline are those of the straight-sided rings in the DXF file.
package listing

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"

	"headcap/compiler/cut"
	"headcap/compiler/emit/internal/settled"
	"headcap/compiler/geom"
)

// Write writes the faces in the order given and the pieces of each by their ids. It refuses what the writers of cut
// files refuse.
func Write(w io.Writer, faces []cut.Face) error {
	text := []byte("pieces, in millimetres, y down from the head\n")
	for _, f := range faces {
		err := settled.Check(f)
		if err == nil {
			text, err = appendFace(text, f)
		}
		if err != nil {
			return fmt.Errorf("writing the listing: %w", err)
		}
	}
	if _, err := w.Write(text); err != nil {
		return fmt.Errorf("writing the listing: %w", err)
	}
	return nil
}

// A sum is what a line of totals says: of a piece, or of a face.
type sum struct {
	doubleArea      int64 // square micrometres
	outline         int64 // nanometres
	rings, segments int
}

func (s *sum) add(o sum) {
	s.doubleArea += o.doubleArea
	s.outline += o.outline
	s.rings += o.rings
	s.segments += o.segments
}

func (s sum) append(b []byte) []byte {
	b = append(b, "area "...)
	b = appendArea(b, s.doubleArea)
	b = append(b, " outline "...)
	b = settled.AppendMM(b, s.outline)
	b = append(b, " rings "...)
	b = strconv.AppendInt(b, int64(s.rings), 10)
	b = append(b, " segments "...)
	b = strconv.AppendInt(b, int64(s.segments), 10)
	return append(b, '\n')
}

// appendFace appends one face, its totals before its pieces.
func appendFace(b []byte, f cut.Face) ([]byte, error) {
	pieces := slices.Clone(f.Pieces)
	slices.SortFunc(pieces, func(a, b cut.Piece) int { return cmp.Compare(a.ID, b.ID) })
	rings := make([][]settled.Ring, len(pieces))
	var total sum
	for i, p := range pieces {
		var err error
		if rings[i], err = settled.Rings(p, settled.Tolerance); err != nil {
			return nil, err
		}
		total.add(sumOf(p, rings[i]))
	}
	b = fmt.Appendf(b, "\nface %q %q %q", f.Volume, f.Face, f.Film)
	if f.Transfer {
		b = append(b, " transfer"...)
	}
	b = append(b, "\nframe "...)
	b = appendPair(b, geom.Point{X: f.Width, Y: f.Height})
	b = fmt.Appendf(b, "\npieces %d ", len(pieces))
	b = total.append(b)
	for i, p := range pieces {
		b = appendPiece(b, p, rings[i])
	}
	return b, nil
}

// sumOf a piece. Holes run the other way, so their areas take themselves off.
func sumOf(p cut.Piece, rings []settled.Ring) sum {
	s := sum{rings: len(rings)}
	for _, r := range rings {
		s.doubleArea += r.DoubleArea()
		s.outline += r.Length()
	}
	for _, c := range settled.Contours(p.Shape) {
		s.segments += len(c.Segments)
	}
	return s
}

func appendPiece(b []byte, p cut.Piece, rings []settled.Ring) []byte {
	box := settled.Bounds(rings)
	b = fmt.Appendf(b, "\npiece %q", p.ID)
	if p.Mark != "" {
		b = fmt.Appendf(b, " mark %q", p.Mark)
	}
	b = append(b, "\nplace "...)
	b = appendPair(b, box.Min)
	b = append(b, "\nsize "...)
	b = appendPair(b, geom.Point{X: box.Width(), Y: box.Height()})
	b = append(b, ' ')
	b = sumOf(p, rings).append(b)
	for i, c := range settled.Contours(p.Shape) {
		name := "outer "
		if i > 0 {
			name = "hole "
		}
		b = append(b, name...)
		b = appendArea(b, rings[i].DoubleArea())
		b = append(b, " at "...)
		b = appendPair(b, minus(c.Segments[0].P0, box.Min))
		b = append(b, '\n')
		for _, seg := range c.Segments {
			b = appendSegment(b, seg)
		}
	}
	return b
}

func appendSegment(b []byte, s geom.Segment) []byte {
	if s.Line {
		b = append(b, "l "...)
	} else {
		b = append(b, "c "...)
		b = appendPair(b, minus(s.P1, s.P0))
		b = append(b, ' ')
		b = appendPair(b, minus(s.P2, s.P0))
		b = append(b, ' ')
	}
	b = appendPair(b, minus(s.P3, s.P0))
	return append(b, '\n')
}

func minus(p, q geom.Point) geom.Point { return geom.Point{X: p.X - q.X, Y: p.Y - q.Y} }

func appendPair(b []byte, p geom.Point) []byte {
	b = settled.AppendMM(b, p.X)
	b = append(b, ' ')
	return settled.AppendMM(b, p.Y)
}

// appendArea appends half of a doubled area in square millimetres with six decimals; a half of the last one rounds away
// from nothing.
func appendArea(b []byte, double int64) []byte {
	if double < 0 {
		b = append(b, '-')
		double = -double
	}
	um := (double + 1) / 2
	b = strconv.AppendInt(b, um/1e6, 10)
	return fmt.Appendf(b, ".%06d", um%1e6)
}
