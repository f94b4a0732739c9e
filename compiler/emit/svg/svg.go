// Package svg writes the SVG cut file of one film on one face: true curves, in millimetres, one path for each piece.
package svg

import (
	"bufio"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	svgo "github.com/ajstarks/svgo/float"

	"headcap/compiler/cut"
	"headcap/compiler/emit/internal/settled"
	"headcap/compiler/geom"
)

var plainHex = regexp.MustCompile(`^#[0-9a-fA-F]{6}$`)

// Write writes the face as a plain cut SVG of its own size: svg, title, desc, one group and a path for each piece, its
// holes in the same path. A transfer film is reflected, once. It refuses a face that has not been settled on the grid of
// one micrometre, and names or a colour that cannot stand in such a file. Pieces keep their order.
func Write(w io.Writer, f cut.Face) error {
	if err := settled.Check(f); err != nil {
		return fmt.Errorf("writing a cut SVG: %w", err)
	}
	if !plainHex.MatchString(f.Colour) {
		return fmt.Errorf("writing a cut SVG: the colour %q of film %s is not of the form #rrggbb", f.Colour, f.Film)
	}
	// The drawing library drops the errors of its writer; bufio keeps the first and Flush tells it. Only Title, Desc and
	// Gid escape what they are given, so the names of people stand there alone, and the rest is spelt here.
	out := bufio.NewWriter(w)
	canvas := svgo.New(out)
	canvas.Decimals = 3
	width, height := millimetres(f.Width), millimetres(f.Height)
	canvas.StartviewUnit(width, height, "mm", 0, 0, width, height)
	canvas.Title(title(f))
	canvas.Desc(description(f))
	canvas.Gid("film-" + slug(f.Film))
	ids := make(identities, len(f.Pieces))
	across := settled.Across(f)
	for _, p := range f.Pieces {
		canvas.Path(outline(p.Shape, across), attribute("id", ids.of(p)), attribute("fill", f.Colour), `fill-rule="evenodd"`)
	}
	canvas.Gend()
	canvas.End()
	if err := out.Flush(); err != nil {
		return fmt.Errorf("writing a cut SVG: %w", err)
	}
	return nil
}

// millimetres is for the frame alone. A quotient of a whole number of micrometres is the float nearest to its three
// decimals, so it prints as just those.
func millimetres(nm int64) float64 { return float64(nm) / float64(geom.Millimetre) }

func title(f cut.Face) string {
	name := f.Title
	if name == "" {
		name = f.Volume
	}
	return name + ": " + f.Face + ", " + f.Film
}

func description(f cut.Face) string {
	size := string(settled.AppendMM(nil, f.Width)) + " mm wide and " + string(settled.AppendMM(nil, f.Height)) + " mm high"
	pieces := strconv.Itoa(len(f.Pieces)) + " pieces"
	if len(f.Pieces) == 1 {
		pieces = "1 piece"
	}
	if f.Transfer {
		return size + ", " + pieces + ". Mirrored for a transfer film: cut it as it stands."
	}
	return size + ", " + pieces + ". Not mirrored."
}

func attribute(name, value string) string { return name + `="` + value + `"` }

// outline is the path data of a shape, a command on each line. The straight side that closes a contour is left to Z: if
// it were drawn as well, the last corner would stand there twice.
func outline(s geom.Shape, across func(int64) int64) string {
	contours := settled.Contours(s)
	n := 0
	for _, c := range contours {
		n += len(c.Segments)
	}
	d := make([]byte, 0, 40*(n+len(contours)))
	point := func(p geom.Point) {
		d = settled.AppendMM(d, across(p.X))
		d = append(d, ' ')
		d = settled.AppendMM(d, p.Y)
	}
	for _, c := range contours {
		if len(d) > 0 {
			d = append(d, '\n')
		}
		d = append(d, 'M')
		point(c.Segments[0].P0)
		for i, seg := range c.Segments {
			switch {
			case !seg.Line:
				d = append(d, "\nC"...)
				point(seg.P1)
				d = append(d, ' ')
				point(seg.P2)
				d = append(d, ' ')
				point(seg.P3)
			case i < len(c.Segments)-1:
				d = append(d, "\nL"...)
				point(seg.P3)
			}
		}
		d = append(d, "\nZ"...)
	}
	return string(d)
}

// identities gives each piece of a file an id of its own that is safe as XML, as CSS and as the name of a layer.
type identities map[string]bool

// of spells a piece's id with small letters, figures and hyphens. Where two come out alike the later one is numbered.
func (ids identities) of(p cut.Piece) string {
	plain := "piece-" + slug(p.ID)
	id := plain
	for n := 2; ids[id]; n++ {
		id = plain + "-" + strconv.Itoa(n)
	}
	ids[id] = true
	return id
}

// slug keeps letters (as small ones) and figures of ASCII, and makes one hyphen of anything between them.
func slug(name string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(name) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			b.WriteRune(r)
			gap = false
			continue
		}
		gap = true
	}
	if b.Len() == 0 {
		return "unnamed"
	}
	return b.String()
}
