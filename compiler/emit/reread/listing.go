package reread

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
)

// A Listing is what pieces.txt says of one face, in the axes of the face: its pieces by their ids.
type Listing struct {
	Volume, Face, Film string
	Transfer           bool
	Frame              Point
	Area, Outline      float64
	Pieces             []ListedPiece
	Shapes             int // how many are listed

	rings, segments, pieces int // as the totals have them
}

// A ListedPiece is a piece as it is listed, where it stands: Corner is the upper left one of its box. Rings hold the areas
// of its rings, holes negative, and Contours its curves where they stand on the face.
type ListedPiece struct {
	ID, Mark      string
	Corner, Size  Point
	Area, Outline float64
	Rings         []float64
	Contours      [][]Curve
}

// Box of what is listed, as the reader sees the face.
func (l *Listing) Box() Box {
	var corners []Ring
	for _, p := range l.Pieces {
		corners = append(corners, Ring{p.Corner, {p.Corner.X + p.Size.X, p.Corner.Y + p.Size.Y}})
	}
	return Bounds(corners)
}

// A listedShape is an entry as it is read: the outline as it stands in its own box, and who has it where.
type listedShape struct {
	outline         ListedPiece
	rings, segments int // as its header has them
	ids             []string
	middles         []Point
}

// ReadListing reads pieces.txt, and refuses one whose counts and totals are not those of what it lists.
func ReadListing(r io.Reader) ([]*Listing, error) {
	var out []*Listing
	reader := listingReader{}
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<24) // the places of all pieces of a shape are one line
	for n := 1; lines.Scan(); n++ {
		line := lines.Text()
		word, rest, _ := strings.Cut(line, " ")
		var err error
		switch {
		case n == 1 || line == "":
			continue
		case word == "face":
			if err = reader.endFace(); err == nil {
				reader.face = &Listing{}
				out = append(out, reader.face)
				rest, reader.face.Transfer = strings.CutSuffix(rest, " transfer")
				_, err = fmt.Sscanf(rest, "%q %q %q", &reader.face.Volume, &reader.face.Face, &reader.face.Film)
			}
		case reader.face == nil:
			err = errors.New("it stands before the first face")
		default:
			err = reader.line(word, rest)
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %q: %w", n, line, err)
		}
	}
	if err := lines.Err(); err != nil {
		return nil, err
	}
	return out, reader.endFace()
}

// A listingReader holds the face and the shape that are being read.
type listingReader struct {
	face  *Listing
	shape *listedShape
	at    Point // where the next segment begins
}

// line reads any line of a face but its first.
func (r *listingReader) line(word, rest string) error {
	scan := func(format string, a ...any) error {
		_, err := fmt.Sscanf(rest, format, a...)
		return err
	}
	f, s := r.face, r.shape
	switch {
	case word == "frame":
		return scan("%g %g pieces %d area %g outline %g rings %d segments %d",
			&f.Frame.X, &f.Frame.Y, &f.pieces, &f.Area, &f.Outline, &f.rings, &f.segments)
	case word == "shape":
		if err := r.endShape(); err != nil {
			return err
		}
		s = &listedShape{}
		r.shape = s
		o := &s.outline
		return scan("%q size %g %g area %g outline %g rings %d segments %d",
			&o.Mark, &o.Size.X, &o.Size.Y, &o.Area, &o.Outline, &s.rings, &s.segments)
	case s == nil:
		return errors.New("it stands before the first shape")
	case word == "piece":
		var id string
		err := scan("%q", &id)
		s.ids = append(s.ids, id)
		return err
	case word == "at" && s.middles == nil:
		for place := range strings.SplitSeq(rest, ", ") {
			var p Point
			if _, err := fmt.Sscanf(place, "%g %g", &p.X, &p.Y); err != nil {
				return err
			}
			s.middles = append(s.middles, p)
		}
		return nil
	case word == "outer" || word == "hole":
		var area float64
		s.outline.Contours = append(s.outline.Contours, nil)
		err := scan("%g at %g %g", &area, &r.at.X, &r.at.Y)
		s.outline.Rings = append(s.outline.Rings, area)
		return err
	case (word == "l" || word == "c") && len(s.outline.Contours) > 0:
		return r.segment(word == "l", rest)
	}
	return errors.New("an unknown line, or one out of place")
}

func (r *listingReader) segment(line bool, rest string) error {
	steps, err := points(rest)
	if err != nil {
		return err
	}
	if want := map[bool]int{true: 1, false: 3}[line]; len(steps) != want {
		return fmt.Errorf("%d points, not %d", len(steps), want)
	}
	c := Curve{Line: line, P: [4]Point{r.at, r.at, r.at, r.at}}
	for i, s := range steps {
		c.P[4-len(steps)+i] = Point{r.at.X + s.X, r.at.Y + s.Y}
	}
	if c.Line {
		c.P[2] = c.P[3]
	}
	r.at = c.P[3]
	contours := r.shape.outline.Contours
	last := &contours[len(contours)-1]
	*last = append(*last, c)
	return nil
}

// endShape sets the pieces of a shape down where they stand.
func (r *listingReader) endShape() error {
	s := r.shape
	r.shape = nil
	if s == nil {
		return nil
	}
	segments := 0
	for _, c := range s.outline.Contours {
		segments += len(c)
	}
	if len(s.ids) == 0 || len(s.ids) != len(s.middles) || len(s.outline.Contours) != s.rings || segments != s.segments {
		return fmt.Errorf("the shape before it has %d pieces at %d places, %d rings and %d segments, where %d and %d are told",
			len(s.ids), len(s.middles), len(s.outline.Contours), segments, s.rings, s.segments)
	}
	r.face.Shapes++
	for i, m := range s.middles {
		p := s.outline
		p.ID = s.ids[i]
		p.Corner = Point{r.face.Frame.X/2 + m.X - p.Size.X/2, m.Y - p.Size.Y/2}
		p.Contours = make([][]Curve, len(s.outline.Contours))
		for k, contour := range s.outline.Contours {
			for _, c := range contour {
				for j := range c.P {
					c.P[j].X, c.P[j].Y = c.P[j].X+p.Corner.X, c.P[j].Y+p.Corner.Y
				}
				p.Contours[k] = append(p.Contours[k], c)
			}
		}
		r.face.Pieces = append(r.face.Pieces, p)
	}
	return nil
}

// endFace puts the pieces of a face in the order of their ids and holds them to its totals.
func (r *listingReader) endFace() error {
	if err := r.endShape(); err != nil || r.face == nil {
		return err
	}
	f := r.face
	slices.SortFunc(f.Pieces, func(a, b ListedPiece) int { return cmp.Compare(a.ID, b.ID) })
	var area, outline float64
	var rings, segments int
	for i, p := range f.Pieces {
		if i > 0 && p.ID == f.Pieces[i-1].ID {
			return fmt.Errorf("the piece %q is listed twice", p.ID)
		}
		area, outline, rings = area+p.Area, outline+p.Outline, rings+len(p.Rings)
		for _, c := range p.Contours {
			segments += len(c)
		}
	}
	// Each area was rounded to a millionth of a square millimetre, and each outline's total to a micrometre.
	n := float64(len(f.Pieces))
	if len(f.Pieces) != f.pieces || rings != f.rings || segments != f.segments ||
		math.Abs(area-f.Area) > 1e-6*(n+1) || math.Abs(outline-f.Outline) > 1e-6 {
		return fmt.Errorf("the pieces of %s, %s are %d of %d, with %f mm² of %f, %f mm round of %f, %d rings of %d and %d segments of %d",
			f.Face, f.Film, len(f.Pieces), f.pieces, area, f.Area, outline, f.Outline, rings, f.rings, segments, f.segments)
	}
	return nil
}
