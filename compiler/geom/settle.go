package geom

// Rings smaller than these are not written: no blade can cut them out. Both are choices; the area is a square of 0.1 mm.
const (
	leastArea  = 1e10 // square nanometres
	leastWidth = 5e3  // nanometres; a ring is as wide as twice its area over its length
)

// Settle puts shapes on multiples of grid (usually one micrometre) as they are written to a file. Lines and curves have
// their end and control points rounded; curves are then searched for crossings as chords within half the grid. Where
// something crosses or falls together, the outlines are fused again on the coarse grid, and where a curve would still
// cross another or itself its chords are written, their ends on the grid. So what is read back from the file, at the same
// fineness, has no crossing, no doubled point and no ring without area. Outlines move by less than twice the grid.
//
// Rings of less than 0.01 mm² and rings narrower on average than 5 µm are left out: an outer one with all that it holds,
// a hole is filled.
//
// Errors are those of Boolean, with *ToleranceError for a grid below one nanometre.
func Settle(shapes []Shape, grid int64) ([]Shape, error) {
	if grid < 1 {
		return nil, &ToleranceError{grid}
	}
	path := Paths(shapes)
	for i := range path {
		if err := inOrder(path[i].Segments); err != nil {
			return nil, err
		}
		path[i] = roundedContour(path[i], grid)
	}
	l := layer{unit: grid, rules: nil}
	fine := max(grid/2, 1)
	if err := l.add(path, fine); err != nil {
		return nil, err
	}
	l.rules = append(l.rules, Positive)
	a := &arrangement{layer: l, op: Union, first: 1}
	if err := a.build(); err != nil {
		return nil, err
	}
	rings, err := a.rings()
	if err != nil {
		return nil, err
	}
	var kept [][]ring
	for _, shape := range rings {
		if !a.worthCutting(&shape[0]) {
			continue
		}
		large := shape[:1:1]
		for i := range shape[1:] {
			if a.worthCutting(&shape[i+1]) {
				large = append(large, shape[i+1])
			}
		}
		kept = append(kept, large)
	}
	r := recovery{arrangement: a, tol: grid, check: fine}
	return r.shapes(kept)
}

func roundedContour(c Contour, grid int64) Contour {
	round := func(p Point) Point { return Point{nearest(p.X, grid) * grid, nearest(p.Y, grid) * grid} }
	out := Contour{Closed: c.Closed, Segments: make([]Segment, 0, len(c.Segments))}
	for _, s := range c.Segments {
		s.P0, s.P3 = round(s.P0), round(s.P3)
		if s.Line {
			s.P1, s.P2 = Point{}, Point{}
		} else {
			s.P1, s.P2 = round(s.P1), round(s.P2)
		}
		out.Segments = append(out.Segments, s)
	}
	return out
}

// worthCutting says whether a ring is large and wide enough to be written.
func (a *arrangement) worthCutting(g *ring) bool {
	var area, length float64
	a.along(g.chains, func(_ int32, _ bool, from, to pix) {
		area += float64(side(g.least, from, to)) / 2
		length += vec{float64(to.x) - float64(from.x), float64(to.y) - float64(from.y)}.length()
	})
	area, length = float64(max(area, -area)*float64(a.unit)*float64(a.unit)), float64(length*float64(a.unit))
	return area >= leastArea && 2*area >= leastWidth*length
}
