package geom

import "slices"

// How limbs are found. A set shrunk by half a width falls apart where it is thinner than that width. So shapes are shrunk
// twice, by half of a lesser and of a greater width, and the second is grown back to the size of the first and a hair
// further. What of the first this does not cover is a residue. One that touches the regrown set twice or more, or
// encloses a hole, joins what lies on either side of it: a limb between the two widths. One that touches nothing is a
// piece that has gone altogether: a limb too. One that touches once is what any corner leaves, or a tip.
//
// Between widths far apart a pinch between two points is missed, since what is regrown from either side meets in it: a
// neck of width n between sides of radius r only leaves a residue from n + n²/4r on. Hence the ladder of widths, which
// brings that error down to nothing as it closes in; and a look at whether the shapes keep their pieces and holes.
const (
	// slack is how much further than shrunk the shapes are grown, so that rounding and chords leave no residue.
	slack = 3 * Micrometre
	// finestLook is the tolerance that the slack allows: shrinking, thinning out and growing use up one of it each.
	finestLook = 500 * Nanometre
	// grain is how much thinner than a width a limb has to be to count as thinner, so that a line drawn at the least
	// width allowed is not found too thin.
	grain = 1 * Micrometre

	// A residue that touches once and is no deeper than a corner of 45° leaves, (1/sin(22.5°) − 1)/2 of the width, is a
	// corner and cannot hide a thinner limb worth the name.
	cornerDepth = 0.80656296487637652786

	// Widths are looked for on a ladder from thin to thick: what lies beyond a neck may itself be too thin a few rungs
	// up, and the neck is then no neck. A choice: beads less than a quarter wider than the neck they hang on are missed.
	rungs    = 20
	rungStep = 1.25
	// mostHalvings bounds the search between two rungs; 16 take a quarter of a millimetre to 4 nm.
	mostHalvings = 16
)

// ThinnestLimb is the width of the narrowest limb of the shapes below most, and a point in it; found is false where
// there is none. A limb is a neck between two parts or a piece that is thin all over; a corner or a tip that runs out is
// none. The width is found to within tol and 2 µm. A limb less than a micrometre thinner than most may be missed. Errors are those of Boolean.
func ThinnestLimb(shapes []Shape, most, tol int64) (width int64, at Point, found bool, err error) {
	if tol < 1 {
		return 0, Point{}, false, &ToleranceError{tol}
	}
	return newLimbSearch(shapes, tol).thinnest(most - grain)
}

// NarrowestGap is the same for what lies between and within the shapes: the narrowest gap below most between two pieces,
// between two parts of one, or across a hole. A notch that runs out to a point is none.
func NarrowestGap(shapes []Shape, most, tol int64) (width int64, at Point, found bool, err error) {
	if tol < 1 {
		return 0, Point{}, false, &ToleranceError{tol}
	}
	around, err := complement(shapes, most)
	if err != nil {
		return 0, Point{}, false, err
	}
	return newLimbSearch(around, tol).thinnest(most - grain)
}

// LimbsUnder gives points in limbs thinner than w, and at least one where ThinnestLimb finds any; each limb has one, but
// a limb that is seen only by what it hides, or a pinch in a shape that has broader limbs, may have none of its own.
func LimbsUnder(shapes []Shape, w int64) ([]Point, error) {
	return newLimbSearch(shapes, finestLook).all(w - grain)
}

// GapsUnder gives points in gaps narrower than w, as LimbsUnder does in limbs: see NarrowestGap.
func GapsUnder(shapes []Shape, w int64) ([]Point, error) {
	around, err := complement(shapes, w)
	if err != nil {
		return nil, err
	}
	return newLimbSearch(around, finestLook).all(w - grain)
}

// complement is what is not covered, as far as gaps below most can reach round the shapes. Nothing lies around nothing.
func complement(shapes []Shape, most int64) ([]Shape, error) {
	box := BoundsOf(shapes)
	if box.Empty() {
		return nil, nil
	}
	frame := Path{windowRound(box, 3*most+Millimetre)}
	return Boolean(Without, Operand{Path: frame}, Operand{Path: Paths(shapes)}, finestLook)
}

// windowRound is a rectangle by so much larger than a box, as far as the grid goes.
func windowRound(b Box, by int64) Contour {
	return Rect(max(b.Min.X-by, -Reach), max(b.Min.Y-by, -Reach), min(b.Max.X+by, Reach), min(b.Max.Y+by, Reach))
}

// A limbSearch holds shapes by chords. The tag of a segment is the number of its shape.
type limbSearch struct {
	path  Path
	holes []int // by shape
	tol   int64
	in    []Box // where a residue counts; nil is everywhere
}

func newLimbSearch(shapes []Shape, tol int64) *limbSearch {
	s := &limbSearch{tol: tol}
	for i, shape := range shapes {
		s.holes = append(s.holes, len(shape.Holes))
		for _, c := range shape.Path() {
			if points := Points(c, min(tol, finestLook)); len(points) > 2 {
				s.path = append(s.path, tagged(Polygon(points...), int32(i)))
			}
		}
	}
	return s
}

func tagged(c Contour, tag int32) Contour {
	for i := range c.Segments {
		c.Segments[i].Tag = tag
	}
	return c
}

// thinnest looks at the greatest width first. Corners alone settle it; else it goes up the ladder in the neighbourhoods
// of what is more than a corner.
func (s *limbSearch) thinnest(most int64) (width int64, at Point, found bool, err error) {
	near, _, err := s.suspects(most)
	if err != nil || near == nil {
		return 0, Point{}, false, err
	}
	low := int64(0)
	for _, high := range ladder(most) {
		r, err := near.firstLimb(low, high)
		if err != nil {
			return 0, Point{}, false, err
		}
		if r != nil {
			return near.closeIn(low, high, r)
		}
		low = high
	}
	return 0, Point{}, false, nil
}

// ladder is the widths to look at, the last of them most. The last step is taken in three, so that a pinch that is only
// just thinner than most is not passed over: see above.
func ladder(most int64) []int64 {
	out := make([]int64, rungs)
	w := float64(most)
	for i := range out {
		w /= rungStep
		out[rungs-1-i] = toGrid(w)
	}
	return append(out, most-most/20, most-most/100, most)
}

// closeIn halves the widths between low, up to which there is no limb, and high, under which there is this one.
func (s *limbSearch) closeIn(low, high int64, limb *residue) (width int64, at Point, found bool, err error) {
	for range mostHalvings {
		if high-low <= max(s.tol, 2) {
			break
		}
		middle := (low + high) / 2
		r, err := s.firstLimb(low, middle)
		if err != nil {
			return 0, Point{}, false, err
		}
		if r != nil {
			limb, high = r, middle
		} else {
			low = middle
		}
	}
	return high, limb.at(), true, nil
}

// all gives the limbs that show at once, and the first in each neighbourhood where one is hidden.
func (s *limbSearch) all(most int64) ([]Point, error) {
	near, out, err := s.suspects(most)
	if err != nil || near == nil {
		return nil, err
	}
	hit := make([]bool, len(near.in))
	for _, p := range out {
		near.strike(hit, p)
	}
	low := int64(0)
	for _, high := range ladder(most) {
		if !slices.Contains(hit, false) {
			break
		}
		found, err := near.limbs(low, high)
		if err != nil {
			return nil, err
		}
		for _, r := range found {
			if p := r.at(); near.strike(hit, p) {
				out = append(out, p)
			}
		}
		low = high
	}
	return out, nil
}

// strike marks the neighbourhoods that hold p, and says whether there is one that was not marked.
func (s *limbSearch) strike(hit []bool, p Point) (fresh bool) {
	for i, b := range s.in {
		if b.holds(p) {
			fresh = fresh || !hit[i]
			hit[i] = true
		}
	}
	return fresh
}

func (b Box) holds(p Point) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// suspects is a search of the neighbourhoods in which there is or may be a limb below most, with the points of the limbs
// that show. A neighbourhood reaches so far round a residue that no residue within its box is changed by being cut out.
// It is nil where there is no limb.
func (s *limbSearch) suspects(most int64) (near *limbSearch, show []Point, err error) {
	if most < 2 || len(s.path) == 0 {
		return nil, nil, nil
	}
	shrunk, err := s.shrunk(most)
	if err != nil {
		return nil, nil, err
	}
	left, err := s.residues(s.path, 0, shrunk, most)
	if err != nil {
		return nil, nil, err
	}
	near = &limbSearch{tol: s.tol}
	explained := make([]bool, len(s.holes)) // shapes with a limb that shows
	for _, r := range left {
		switch {
		case r.limb():
			explained[r.of()] = true
			show = append(show, r.at())
		case r.depth() <= float64(cornerDepth*float64(most))+float64(slack):
			continue
		}
		near.in = append(near.in, r.shape.Bounds().Inset(-slack))
	}
	for i, box := range s.changed(shrunk) {
		if !box.Empty() && !explained[i] {
			near.in = append(near.in, box)
		}
	}
	if len(near.in) == 0 {
		return nil, nil, nil
	}
	var windows Path
	for _, b := range near.in {
		windows = append(windows, windowRound(b, 3*most))
	}
	cut, err := Boolean(Intersection, Operand{Path: s.path}, Operand{Path: windows}, 1)
	if err != nil {
		return nil, nil, err
	}
	near.path = Paths(cut)
	return near, show, nil
}

// changed gives the bounds of each shape that is not in one piece with all its holes when shrunk, and an empty box for
// the others.
func (s *limbSearch) changed(shrunk []Shape) []Box {
	pieces, holes := make([]int, len(s.holes)), make([]int, len(s.holes))
	for _, p := range shrunk {
		i := p.Outer.Segments[0].Tag
		pieces[i]++
		holes[i] += len(p.Holes)
	}
	out := make([]Box, len(s.holes))
	for i := range out {
		out[i] = EmptyBox()
	}
	for _, c := range s.path {
		if i := c.Segments[0].Tag; pieces[i] != 1 || holes[i] != s.holes[i] {
			out[i] = out[i].Union(Path{c}.Bounds())
		}
	}
	return out
}

// firstLimb is the first limb between the widths low and high, or nil.
func (s *limbSearch) firstLimb(low, high int64) (*residue, error) {
	found, err := s.limbs(low, high)
	if len(found) == 0 {
		return nil, err
	}
	return &found[0], err
}

// limbs are the limbs between the widths low and high, in the neighbourhoods searched.
func (s *limbSearch) limbs(low, high int64) ([]residue, error) {
	from := s.path
	if low > 0 {
		shrunk, err := s.shrunk(low)
		if err != nil {
			return nil, err
		}
		from = Paths(shrunk)
	}
	shrunk, err := s.shrunk(high)
	if err != nil {
		return nil, err
	}
	left, err := s.residues(from, low, shrunk, high)
	if err != nil {
		return nil, err
	}
	var out []residue
	for _, r := range left {
		if !r.limb() {
			continue
		}
		at := r.at()
		if slices.ContainsFunc(s.in, func(b Box) bool { return b.holds(at) }) {
			out = append(out, r)
		}
	}
	return out, nil
}

func (s *limbSearch) sideline(r float64) (*sideline, float64) {
	flat := float64(min(s.tol, finestLook))
	return &sideline{r: r, join: RoundJoin, flat: flat, polygon: true}, flat
}

// shrunk is the shapes without all that is within half of w of their outlines.
func (s *limbSearch) shrunk(w int64) ([]Shape, error) {
	line, flat := s.sideline(float64(w) / 2)
	o := Operand{Rule: Negative}
	for _, c := range s.path {
		line.follow(backwards(walk(c, line.r, flat)), true)
		o.Path = append(o.Path, line.contour())
	}
	return Fuse([]Operand{o}, 1)
}

// grownEdge is the tag of the regrown outline in a residue; other tags are those of the shapes.
const grownEdge = -1

// residues are the parts of the outlines from, which are the shapes shrunk by half of low, that the shapes shrunk by half
// of high and regrown do not cover.
func (s *limbSearch) residues(from Path, low int64, shrunk []Shape, high int64) ([]residue, error) {
	line, flat := s.sideline(float64(high-low)/2 + float64(slack))
	o := Operand{Rule: Positive}
	for _, c := range Paths(shrunk) {
		// A shrunk outline has points at every crossing of its many sidelines. Fewer will do.
		points := Points(c, 1)
		if fewer := thinnedOut(points, flat); len(fewer) > 2 {
			points = fewer
		}
		line.follow(walk(Polygon(points...), line.r, flat), true)
		o.Path = append(o.Path, tagged(line.contour(), grownEdge))
	}
	left, err := Boolean(Without, Operand{Path: from}, o, 1)
	if err != nil {
		return nil, err
	}
	out := make([]residue, len(left))
	for i, shape := range left {
		out[i] = residue{shape}
	}
	return out, nil
}
