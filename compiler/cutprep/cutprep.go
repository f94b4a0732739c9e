// Package cutprep makes a face ready for the blade: lines become outlines, all that touches in one film becomes one, curves
// stay curves, and everything is settled on the grid of the files. It moves nothing and reflects nothing.
package cutprep

import (
	"crypto/sha256"
	"encoding/base32"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"

	"headcap/compiler/cut"
	"headcap/compiler/drawing"
	"headcap/compiler/geom"
	"headcap/lang/source"
)

// Tolerances of the cut.
const (
	flat  = 2 * geom.Micrometre // to which curves are flattened while shapes are fused
	reach = 5 * geom.Micrometre // gaps up to this are closed before: tiles that meant to touch
	grid  = geom.Micrometre     // of the files
	mitre = 4                   // as in SVG
)

// Film is what cutting needs to know of a film.
type Film struct {
	Name     string
	Colour   string
	Transfer bool
}

// Face gives what each film gets on a face, in the order in which the films first appear on it. volume is its slug, title
// what people call it.
func Face(f drawing.Face, volume, title string, films func(name string) Film, origins *source.Origins) ([]cut.Face, error) {
	var out []cut.Face
	for _, name := range filmsOf(f) {
		shapes, err := fused(f, name)
		if err != nil {
			return nil, fmt.Errorf("%s, %s of %s: %w", f.Name, name, title, err)
		}
		film := films(name)
		c := cut.Face{Volume: volume, Title: title, Face: f.Name, Film: name, Colour: film.Colour, Transfer: film.Transfer, Width: f.Width, Height: f.Height}
		c.Pieces = pieces(f, shapes, volume+"/"+f.Name+"/"+name, origins)
		if len(c.Pieces) > 0 {
			out = append(out, c)
		}
	}
	return out, nil
}

func filmsOf(f drawing.Face) []string {
	var out []string
	for _, s := range f.Shapes {
		if !slices.Contains(out, s.Film) {
			out = append(out, s.Film)
		}
	}
	return out
}

// fused outlines everything of one film, closes gaps, fuses and settles. Tags are the shapes' indices from 1.
func fused(f drawing.Face, film string) ([]geom.Shape, error) {
	var ops []geom.Operand
	for i, s := range f.Shapes {
		if s.Film != film {
			continue
		}
		p := geom.Path{}
		if s.Line != nil {
			line, err := geom.Stroke(geom.Path{s.Line.Along}, geom.Pen{Width: s.Line.Width, Join: geom.Mitre, MitreLimit: mitre}, flat)
			if err != nil {
				return nil, err
			}
			p = geom.Paths(line)
		} else {
			for _, a := range s.Art {
				p = append(p, s.Place.Shape(a).Path()...)
			}
		}
		for _, c := range p {
			for k := range c.Segments {
				c.Segments[k].Tag = int32(i + 1)
			}
		}
		ops = append(ops, geom.Operand{Path: p, Rule: geom.NonZero})
	}
	ops, err := geom.CloseGaps(ops, reach, flat)
	if err != nil {
		return nil, err
	}
	shapes, err := geom.Fuse(ops, flat)
	if err != nil {
		return nil, err
	}
	return geom.Settle(shapes, grid)
}

// pieces names what came out: by the first statement in reading order that it is made of, and its number among those.
func pieces(f drawing.Face, shapes []geom.Shape, prefix string, origins *source.Origins) []cut.Piece {
	type found struct {
		first int
		box   geom.Box
		piece cut.Piece
	}
	var all []found
	for _, s := range shapes {
		seen := map[int32]bool{}
		var tags []int32
		for _, c := range s.Path() {
			for _, g := range c.Segments {
				if g.Tag > 0 && !seen[g.Tag] {
					seen[g.Tag] = true
					tags = append(tags, g.Tag)
				}
			}
		}
		slices.Sort(tags)
		p := found{box: s.Bounds(), piece: cut.Piece{Shape: s, Mark: mark(s)}}
		for i, t := range tags {
			o := f.Shapes[t-1].Origin
			if i == 0 {
				p.first = int(t)
			}
			if !slices.Contains(p.piece.Origins, o) {
				p.piece.Origins = append(p.piece.Origins, o)
			}
		}
		all = append(all, p)
	}
	slices.SortStableFunc(all, func(a, b found) int {
		if a.first != b.first {
			return a.first - b.first
		}
		if a.box.Min.X != b.box.Min.X {
			return sign(a.box.Min.X - b.box.Min.X)
		}
		return sign(a.box.Min.Y - b.box.Min.Y)
	})
	count := map[string]int{}
	out := make([]cut.Piece, len(all))
	for i, p := range all {
		name := "piece"
		if len(p.piece.Origins) > 0 {
			name = nodeName(origins.Node(p.piece.Origins[0]).Path)
		}
		id := prefix + "/" + name
		count[id]++
		p.piece.ID = fmt.Sprintf("%s/%d", id, count[id])
		out[i] = p.piece
	}
	return out
}

func sign(v int64) int {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// nodeName makes the path of a statement fit for an id: what stands in it apart from letters, figures, points and hyphens
// becomes a hyphen, and what leads to the face is left out.
func nodeName(path string) string {
	parts := strings.Split(path, "/")
	for i := len(parts) - 1; i >= 0; i-- {
		head, _, _ := strings.Cut(parts[i], " ")
		if head == "spine" || head == "front" || head == "back" || head == "pattern" {
			parts = parts[i+1:]
			break
		}
	}
	var out strings.Builder
	for _, r := range strings.Join(parts, ".") {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '.' || r == '-' {
			out.WriteRune(r)
		} else {
			out.WriteByte('-')
		}
	}
	if out.Len() == 0 {
		return "piece"
	}
	return out.String()
}

// mark is a short mark of a piece's outline wherever it stands: five letters and figures that are not mistaken for each
// other.
func mark(s geom.Shape) string {
	h := sha256.New()
	box := s.Bounds()
	put := func(p geom.Point) {
		var b [16]byte
		binary.LittleEndian.PutUint64(b[:8], uint64(p.X-box.Min.X))
		binary.LittleEndian.PutUint64(b[8:], uint64(p.Y-box.Min.Y))
		h.Write(b[:])
	}
	for _, c := range s.Path() {
		for _, g := range c.Segments {
			put(g.P0)
			if !g.Line {
				put(g.P1)
				put(g.P2)
			}
			put(g.P3)
		}
	}
	return base32.NewEncoding("ABCDEFGHJKLMNPQRSTUVWXYZ23456789").EncodeToString(h.Sum(nil))[:5]
}
