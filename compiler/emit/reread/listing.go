package reread

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
)

// A Listing is what pieces.txt says of one face, in the axes of the face.
type Listing struct {
	Volume, Face, Film string
	Transfer           bool
	Frame              Point
	Area, Outline      float64
	Pieces             []ListedPiece
}

// A ListedPiece is a piece as it is listed. Rings hold the areas of its rings, holes negative, and Contours its curves
// where they stand on the face.
type ListedPiece struct {
	ID, Mark      string
	Place, Size   Point
	Area, Outline float64
	Rings         []float64
	Contours      [][]Curve
}

// Box of what is listed, as the reader sees the face.
func (l *Listing) Box() Box {
	var corners []Ring
	for _, p := range l.Pieces {
		corners = append(corners, Ring{p.Place, {p.Place.X + p.Size.X, p.Place.Y + p.Size.Y}})
	}
	return Bounds(corners)
}

// ReadListing reads pieces.txt.
func ReadListing(r io.Reader) ([]*Listing, error) {
	var out []*Listing
	var face *Listing
	var piece *ListedPiece
	var at Point
	lines := bufio.NewScanner(r)
	for n := 1; lines.Scan(); n++ {
		line := lines.Text()
		word, rest, _ := strings.Cut(line, " ")
		if n == 1 || line == "" {
			continue
		}
		var err error
		scan := func(format string, a ...any) { _, err = fmt.Sscanf(rest, format, a...) }
		var rings, segments, pieces int
		switch {
		case word == "face":
			face = &Listing{}
			piece = nil
			out = append(out, face)
			rest, face.Transfer = strings.CutSuffix(rest, " transfer")
			scan("%q %q %q", &face.Volume, &face.Face, &face.Film)
		case face == nil:
			err = errors.New("it stands before the first face")
		case word == "frame":
			scan("%g %g", &face.Frame.X, &face.Frame.Y)
		case word == "pieces":
			scan("%d area %g outline %g rings %d segments %d", &pieces, &face.Area, &face.Outline, &rings, &segments)
		case word == "piece":
			face.Pieces = append(face.Pieces, ListedPiece{})
			piece = &face.Pieces[len(face.Pieces)-1]
			id, mark, marked := strings.Cut(rest, `" mark `)
			if marked {
				rest = id + `" ` + mark
				scan("%q %q", &piece.ID, &piece.Mark)
			} else {
				scan("%q", &piece.ID)
			}
		case piece == nil:
			err = errors.New("it stands before the first piece")
		case word == "place":
			scan("%g %g", &piece.Place.X, &piece.Place.Y)
		case word == "size":
			scan("%g %g area %g outline %g rings %d segments %d", &piece.Size.X, &piece.Size.Y, &piece.Area, &piece.Outline, &rings, &segments)
		case word == "outer" || word == "hole":
			var area float64
			scan("%g at %g %g", &area, &at.X, &at.Y)
			at.X, at.Y = at.X+piece.Place.X, at.Y+piece.Place.Y
			piece.Rings = append(piece.Rings, area)
			piece.Contours = append(piece.Contours, nil)
		case (word == "l" || word == "c") && len(piece.Contours) > 0:
			c := Curve{Line: word == "l", P: [4]Point{at, at, at, at}}
			steps, wrong := points(rest)
			if err = wrong; err != nil || len(steps) != map[string]int{"l": 1, "c": 3}[word] {
				return nil, fmt.Errorf("line %d: %q: %v", n, line, err)
			}
			for i, s := range steps {
				c.P[4-len(steps)+i] = Point{at.X + s.X, at.Y + s.Y}
			}
			if c.Line {
				c.P[2] = c.P[3]
			}
			at = c.P[3]
			last := &piece.Contours[len(piece.Contours)-1]
			*last = append(*last, c)
		default:
			err = errors.New("an unknown line")
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %q: %w", n, line, err)
		}
	}
	return out, lines.Err()
}
