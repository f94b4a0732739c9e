// Package listing writes pieces.txt: the outlines of the pieces as text that is small in a diff. It is for reading and
// for review; the blade gets the SVG or the DXF.
//
// Pieces of one film on one face that have the same outline, wherever they stand, are listed once:
//
//	shape "K3Q7A" size 4.000 2.001 area 4.002000 outline 9.658 rings 1 segments 3
//	piece "01-eels/spine/gold/panel-1.centre-emblem/1"
//	piece "01-eels/spine/gold/panel-3.centre-emblem/1"
//	at 0.0000 14.0005, 0.0000 62.0005
//	outer 4.002000 at 2.000 0.000
//	l 2.000 2.001
//	l -4.000 0.000
//	l 2.000 -2.001
//
// The shape's mark comes first, then the size of its box and its measures; then the pieces, by id; then, in one line and in
// the order of the ids, where they are: the middle of each one's box, counted to the right from the middle of the face and
// down from its head. Most things on a spine stand about its middle, so a wider spine moves few of these. Lengths are in
// millimetres to the micrometre, and places exact to half of one, since that is where the middle of an odd box lies.
// A piece that is only moved changes its at line and no other.
//
// Then each contour, with its area (a hole's is negative) and where it begins, from the upper left corner of the box; and a
// line for each segment, relative to where the segment begins, as the reader sees the face (a transfer film is not
// reflected here):
//
//	l dx dy                      a straight line
//	c dx1 dy1 dx2 dy2 dx dy      a cubic: its two control points and its end
//
// Every step is the difference of two points on the grid, so steps add up without drifting. Box, area and outline are those
// of the straight-sided rings in the DXF file.
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

// Write writes the faces in the order given, and the shapes of each by the first id that has them. It refuses what the
// writers of cut files refuse.
func Write(w io.Writer, faces []cut.Face) error {
	text := []byte("pieces, in millimetres, from the middle of the face and down from its head\n")
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
	b = append(b, " area "...)
	b = appendArea(b, s.doubleArea)
	b = append(b, " outline "...)
	b = settled.AppendMM(b, s.outline)
	b = append(b, " rings "...)
	b = strconv.AppendInt(b, int64(s.rings), 10)
	b = append(b, " segments "...)
	b = strconv.AppendInt(b, int64(s.segments), 10)
	return append(b, '\n')
}

// A shape is an outline and the pieces that have it.
type shape struct {
	header, contours string
	ids              []string
	places           []place
}

// A place is the middle of a box in half micrometres, from the middle of the face and from its head.
type place struct{ x, y int64 }

// appendFace appends one face, its totals before its shapes.
func appendFace(b []byte, f cut.Face) ([]byte, error) {
	shapes, total, err := shapesOf(f)
	if err != nil {
		return nil, err
	}
	b = fmt.Appendf(b, "\nface %q %q %q", f.Volume, f.Face, f.Film)
	if f.Transfer {
		b = append(b, " transfer"...)
	}
	b = append(b, "\nframe "...)
	b = appendPair(b, geom.Point{X: f.Width, Y: f.Height})
	b = fmt.Appendf(b, " pieces %d", len(f.Pieces))
	b = total.append(b)
	for _, s := range shapes {
		b = append(b, '\n')
		b = append(b, s.header...)
		for _, id := range s.ids {
			b = fmt.Appendf(b, "piece %q\n", id)
		}
		before := "at "
		for _, at := range s.places {
			b = append(b, before...)
			b = appendHalves(b, at.x)
			b = append(b, ' ')
			b = appendHalves(b, at.y)
			before = ", "
		}
		b = append(b, '\n')
		b = append(b, s.contours...)
	}
	return b, nil
}

// shapesOf a face, by the first id of each, and the sum of its pieces. Two pieces have one shape where all that is written
// of them is the same but for their ids and places.
func shapesOf(f cut.Face) ([]*shape, sum, error) {
	pieces := slices.Clone(f.Pieces)
	slices.SortFunc(pieces, func(a, b cut.Piece) int { return cmp.Compare(a.ID, b.ID) })
	var shapes []*shape
	var total sum
	known := map[[2]string]*shape{}
	for _, p := range pieces {
		rings, err := settled.Rings(p, settled.Tolerance)
		if err != nil {
			return nil, sum{}, err
		}
		its, box := sumOf(p, rings), settled.Bounds(rings)
		total.add(its)
		written := [2]string{string(appendHeader(nil, p, box, its)), string(appendContours(nil, p, box, rings))}
		s := known[written]
		if s == nil {
			s = &shape{header: written[0], contours: written[1]}
			known[written] = s
			shapes = append(shapes, s)
		}
		s.ids = append(s.ids, p.ID)
		s.places = append(s.places, place{
			x: (box.Min.X + box.Max.X - f.Width) / settled.Grid,
			y: (box.Min.Y + box.Max.Y) / settled.Grid,
		})
	}
	return shapes, total, nil
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

func appendHeader(b []byte, p cut.Piece, box geom.Box, its sum) []byte {
	b = fmt.Appendf(b, "shape %q size ", p.Mark)
	b = appendPair(b, geom.Point{X: box.Width(), Y: box.Height()})
	return its.append(b)
}

func appendContours(b []byte, p cut.Piece, box geom.Box, rings []settled.Ring) []byte {
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

// appendHalves appends a number of half micrometres in millimetres, exactly. There is never a negative zero.
func appendHalves(b []byte, halves int64) []byte {
	if halves < 0 {
		b = append(b, '-')
		halves = -halves
	}
	b = strconv.AppendInt(b, halves/2000, 10)
	return fmt.Appendf(b, ".%04d", halves%2000*5)
}
