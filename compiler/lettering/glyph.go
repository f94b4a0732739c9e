package lettering

import (
	"fmt"
	"math"

	"headcap/compiler/geom"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
)

// gridPerUnit divides the font's unit. Outlines are held in whole 64ths: most fonts draw on whole units, TrueType's
// implied points on halves, and what is finer (at 5 mm caps, a step of 0.1 µm) is rounded,
// which also takes away the last bits of the library's float32, where processors may differ.
const gridPerUnit = 64

// mostUnits bounds coordinates, in the font's units: OpenType's are 16-bit numbers, and moves may add up.
const mostUnits = 1 << 17

// A glyph is one glyph's outline in 64ths of a unit, y down, the baseline at y = 0.
type glyph struct {
	path    geom.Path
	box     geom.Box
	corners [][]corner // of the outline, as polylines
	reach   [4][]reach // how far it comes out to each side, when grown
	limbs   *limbSteps // thinnest limbs; nil before they were asked for
}

func (g *glyph) empty() bool { return len(g.path) == 0 }

// glyph loads a glyph or finds it loaded. The caller holds f.mu, or has the face to itself.
func (f *Face) glyph(id font.GID) (*glyph, error) {
	if g, ok := f.glyphs[id]; ok {
		return g, nil
	}
	outline, ok := f.font.Face().GlyphDataOutline(id)
	if !ok {
		return nil, fmt.Errorf("glyph %d has no outline that can be read", id)
	}
	path, err := toPath(outline.Segments)
	if err != nil {
		return nil, fmt.Errorf("glyph %d: %w", id, err)
	}
	g := &glyph{path: path}
	if !g.empty() {
		g.box = path.Bounds()
		sense := windingSense(path)
		g.corners = corners(path, sense)
		g.reach = reaches(path, g.box, sense)
	}
	f.glyphs[id] = g
	return g, nil
}

// toFontGrid is a font's coordinate in 64ths of a unit.
func toFontGrid(v float32) (int64, error) {
	x := float64(v)
	if !(math.Abs(x) <= mostUnits) {
		return 0, fmt.Errorf("a coordinate of %v units is out of all reason", v)
	}
	return int64(math.Round(float64(x * gridPerUnit))), nil
}

// toPath turns the font's drawing over (y down) and closes its contours. CFF's cubics are kept as they are, TrueType's
// parabolas become the same curves as cubics.
func toPath(segments []opentype.Segment) (geom.Path, error) {
	var (
		path   geom.Path
		open   geom.Contour
		at     geom.Point
		failed error
	)
	point := func(p opentype.SegmentPoint) geom.Point {
		x, err := toFontGrid(p.X)
		y, err2 := toFontGrid(p.Y)
		if err == nil {
			err = err2
		}
		if err != nil {
			failed = err
		}
		return geom.Point{X: x, Y: -y}
	}
	draw := func(s geom.Segment) {
		if s.P0 != s.P3 || !s.Line && (s.P1 != s.P0 || s.P2 != s.P0) {
			open.Segments = append(open.Segments, s)
		}
		at = s.P3
	}
	finish := func() {
		if n := len(open.Segments); n > 0 {
			if first := open.Segments[0].P0; first != at {
				draw(geom.Line(at, first))
			}
			open.Closed = true
			path = append(path, open)
		}
		open = geom.Contour{}
	}
	for _, s := range segments {
		switch s.Op {
		case opentype.SegmentOpMoveTo:
			finish()
			at = point(s.Args[0])
		case opentype.SegmentOpLineTo:
			draw(geom.Line(at, point(s.Args[0])))
		case opentype.SegmentOpQuadTo:
			control, end := point(s.Args[0]), point(s.Args[1])
			draw(geom.Cubic(at, twoThirds(at, control), twoThirds(end, control), end))
		case opentype.SegmentOpCubeTo:
			draw(geom.Cubic(at, point(s.Args[0]), point(s.Args[1]), point(s.Args[2])))
		}
	}
	finish()
	return path, failed
}

// twoThirds is the point two thirds of the way from a to b.
func twoThirds(a, b geom.Point) geom.Point {
	return geom.Point{X: roundDiv(a.X+2*b.X, 3), Y: roundDiv(a.Y+2*b.Y, 3)}
}
