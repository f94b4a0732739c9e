package settled

import (
	"fmt"
	"math"

	"headcap/compiler/cut"
	"headcap/compiler/geom"
)

// Tolerance is how far the straight sides of a DXF outline may leave the curve: 2 µm, a choice. Chords lie inside of what
// bulges: at 5 µm they take up to 0.17 % off the area of thin lettering, at 2 µm less than 0.1 %. A drag knife's own offset
// is set in hundredths of a millimetre, and finer sides only make the file longer. Putting the corners on the grid adds
// at most 0.71 µm.
const Tolerance = 2 * geom.Micrometre

// A Ring is a closed outline of straight sides with its corners on the grid. The first corner is not repeated.
type Ring []geom.Point

// Rings are the straight-sided outlines of a piece that Check accepts, the outer one first, of positive area, and the holes
// of negative. They are found as seen from the piece's own first point, so a piece that is moved by whole micrometres
// keeps its rings, moved alike.
func Rings(p cut.Piece, tol int64) ([]Ring, error) {
	contours := Contours(p.Shape)
	from := p.Shape.Outer.Segments[0].P0
	rings := make([]Ring, len(contours))
	for i, c := range contours {
		flat := geom.Points(shift(c, from), tol)
		for j, q := range flat {
			flat[j] = geom.Point{X: from.X + toGrid(q.X), Y: from.Y + toGrid(q.Y)}
		}
		rings[i] = tidy(flat)
		switch area := rings[i].DoubleArea(); {
		case area == 0:
			return nil, fmt.Errorf("piece %s, contour %d: nothing is left of it when it is made of straight sides", p.ID, i)
		case (area > 0) != (i == 0):
			return nil, fmt.Errorf("piece %s, contour %d: it runs the wrong way for an outer contour or a hole", p.ID, i)
		}
	}
	return rings, nil
}

// shift is the contour seen from a point.
func shift(c geom.Contour, from geom.Point) geom.Contour {
	out := geom.Contour{Closed: c.Closed, Segments: make([]geom.Segment, len(c.Segments))}
	for i, s := range c.Segments {
		for _, p := range []*geom.Point{&s.P0, &s.P1, &s.P2, &s.P3} {
			p.X -= from.X
			p.Y -= from.Y
		}
		out.Segments[i] = s
	}
	return out
}

// toGrid rounds to the nearest micrometre, a half always upwards, so that the result doesn't depend on the sign.
func toGrid(nm int64) int64 {
	nm += Grid / 2
	rest := nm % Grid
	if rest < 0 {
		rest += Grid
	}
	return nm - rest
}

// tidy takes out the corners that putting points on the grid has doubled, and the tips that it has closed: where a ring
// runs out and straight back over the same line there is nothing to cut. It uses the points given.
func tidy(points []geom.Point) Ring {
	r := points[:0]
	for _, p := range points {
		switch n := len(r); {
		case n > 0 && r[n-1] == p:
		case n > 1 && r[n-2] == p:
			r = r[:n-1]
		default:
			r = append(r, p)
		}
	}
	// The same where the end of the list meets its beginning.
	for n := len(r); n > 2; n = len(r) {
		switch {
		case r[n-1] == r[0]:
			r = r[:n-1]
		case r[n-2] == r[0]:
			r = r[:n-2]
		case r[n-1] == r[1]:
			r = r[1 : n-1]
		default:
			return Ring(r)
		}
	}
	return Ring(r)
}

// DoubleArea is twice the area in square micrometres, exactly: positive for an outer ring in the face's own axes. A ring
// within Reach and of fewer than two million corners cannot overflow it.
func (r Ring) DoubleArea() int64 {
	var sum int64
	for i, p := range r {
		q := r[(i+1)%len(r)]
		sum += p.X/Grid*(q.Y/Grid) - q.X/Grid*(p.Y/Grid)
	}
	return sum
}

// Length of the ring in nanometres, to the nearest micrometre. Every term is one correctly rounded square root of a whole
// number, so the sum is the same on every processor.
func (r Ring) Length() int64 {
	sum := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		dx, dy := (q.X-p.X)/Grid, (q.Y-p.Y)/Grid
		sum += math.Sqrt(float64(dx*dx + dy*dy))
	}
	return int64(math.Round(sum)) * Grid
}

// Bounds of rings, of which there is at least one.
func Bounds(rings []Ring) geom.Box {
	box := geom.Box{Min: rings[0][0], Max: rings[0][0]}
	for _, r := range rings {
		for _, p := range r {
			box.Min.X, box.Min.Y = min(box.Min.X, p.X), min(box.Min.Y, p.Y)
			box.Max.X, box.Max.Y = max(box.Max.X, p.X), max(box.Max.Y, p.Y)
		}
	}
	return box
}
