// Package settled is what the writers of cut files share: the grid of one micrometre on which their numbers stand, the
// refusal of a face that does not stand on it, the one reflection of a transfer film, and the straight-sided likeness
// of a piece that the DXF file holds and the listing measures.
package settled

import (
	"errors"
	"fmt"
	"strconv"
	"unicode"
	"unicode/utf8"

	"headcap/compiler/cut"
	"headcap/compiler/geom"
)

// Grid is the step of every number in a cut file, in nanometres: three decimals of a millimetre.
const Grid = geom.Micrometre

// Check refuses a face that no cut file may be made of: one that has not been settled on the grid, that is not closed
// outlines, that holds nothing, or whose names could not stand in a line of text. The writers mend nothing, since a
// number that is rounded alone can make two outlines cross.
func Check(f cut.Face) error {
	for _, s := range []string{f.Volume, f.Title, f.Face, f.Film} {
		if err := CheckText(s); err != nil {
			return err
		}
	}
	if f.Film == "" || f.Face == "" {
		return errors.New("the face and its film must be named")
	}
	for _, side := range []struct {
		name   string
		length int64
	}{{"width", f.Width}, {"height", f.Height}} {
		if side.length <= 0 || side.length > geom.Reach {
			return fmt.Errorf("%s, %s: a %s of %d nm is not between nothing and one metre", f.Face, f.Film, side.name, side.length)
		}
		if side.length%Grid != 0 {
			return fmt.Errorf("%s, %s: the %s, %d nm, is not a whole number of micrometres", f.Face, f.Film, side.name, side.length)
		}
	}
	if len(f.Pieces) == 0 {
		return fmt.Errorf("%s, %s: there is no piece to cut", f.Face, f.Film)
	}
	seen := make(map[string]bool, len(f.Pieces))
	for _, p := range f.Pieces {
		if err := CheckText(p.ID); err != nil {
			return err
		}
		if err := CheckText(p.Mark); err != nil {
			return err
		}
		if p.ID == "" || seen[p.ID] {
			return fmt.Errorf("%s, %s: two pieces have the id %q, or it is empty", f.Face, f.Film, p.ID)
		}
		seen[p.ID] = true
		for i, c := range Contours(p.Shape) {
			if err := checkContour(c); err != nil {
				return fmt.Errorf("piece %s, contour %d: %w", p.ID, i, err)
			}
		}
	}
	return nil
}

// Contours of a shape, the outer one first.
func Contours(s geom.Shape) []geom.Contour {
	return append([]geom.Contour{s.Outer}, s.Holes...)
}

func checkContour(c geom.Contour) error {
	n := len(c.Segments)
	if n == 0 || !c.Closed {
		return errors.New("it is not a closed outline")
	}
	for i, s := range c.Segments {
		if next := c.Segments[(i+1)%n]; s.P3 != next.P0 {
			return fmt.Errorf("segment %d ends at %d, %d nm and the next begins at %d, %d", i, s.P3.X, s.P3.Y, next.P0.X, next.P0.Y)
		}
		points := []geom.Point{s.P0, s.P1, s.P2, s.P3}
		if s.Line {
			points = []geom.Point{s.P0, s.P3}
			if s.P0 == s.P3 {
				return fmt.Errorf("segment %d is a line without length at %d, %d nm", i, s.P0.X, s.P0.Y)
			}
		}
		for _, p := range points {
			if p.X%Grid != 0 || p.Y%Grid != 0 {
				return fmt.Errorf("segment %d has a point at %d, %d nm, which is off the grid of one micrometre", i, p.X, p.Y)
			}
			if max(p.X, -p.X, p.Y, -p.Y) > geom.Reach {
				return fmt.Errorf("segment %d: %w", i, &geom.RangeError{At: p})
			}
		}
	}
	return nil
}

// CheckText refuses what could make a name say one thing and show another, or break the line that it stands in: control
// characters, direction overrides and isolates, the Unicode line and paragraph separators, and bytes that are no text.
func CheckText(s string) error {
	if !utf8.ValidString(s) {
		return fmt.Errorf("the name %q is not UTF-8 text", s)
	}
	for _, r := range s {
		override := r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069
		if unicode.IsControl(r) || override || r == 0x2028 || r == 0x2029 || r >= 0xFFFE && r <= 0xFFFF {
			return fmt.Errorf("the name %q holds %U, which cannot stand in a cut file", s, r)
		}
	}
	return nil
}

// Across says where an x of the face goes in a cut file. A transfer film is cut from behind, so its face is reflected
// here, left to right; nowhere else in the compiler is a face reflected. Any other film stays as the reader sees it.
func Across(f cut.Face) func(x int64) int64 {
	if f.Transfer {
		return func(x int64) int64 { return f.Width - x }
	}
	return func(x int64) int64 { return x }
}

// AppendMM appends a length on the grid in millimetres with three decimals, from whole numbers alone. There is never an
// exponent nor a negative zero.
func AppendMM(b []byte, nm int64) []byte {
	um := nm / Grid
	if um < 0 {
		b = append(b, '-')
		um = -um
	}
	b = strconv.AppendInt(b, um/1000, 10)
	part := um % 1000
	return append(b, '.', byte('0'+part/100), byte('0'+part/10%10), byte('0'+part%10))
}
