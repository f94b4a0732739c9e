package geom

import (
	"math"
	"slices"
)

// How limbs are found. A set shrunk by half a width falls apart where it is thinner than that width. So shapes are shrunk
// twice, by half of a lesser and of a greater width, and the second is grown back to the size of the first and a hair
// further. What of the first this does not cover is a residue. One that touches the regrown set twice or more, or
// encloses a hole, joins what lies on either side of it: a limb between the two widths. One that touches nothing is a
// piece that has gone altogether: a limb too. One that touches once is what any corner leaves, or a tip.
//
// Between widths far apart a pinch between two points is missed, since what is regrown from either side meets in it: a
// neck of width n between sides of radius r leaves a residue only from n + n²/4r on. Shrinking by half a width b gives
// the sides that much more radius and takes b from the neck, so from b on the pinch is seen at n + (n − b)²/2b. That is
// why widths are looked at in pairs on a ladder, and why it is also looked whether shapes keep their pieces and holes.
//
// What lies beyond a neck may be too thin itself, and the neck then touches once, or not at all, at the greater widths. So
// the search goes up the ladder from the bottom.
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

	// Each rung is so many times the one below: a bead wider by less than that than the neck it hangs on may be missed. A
	// choice, as is how far down the ladder goes: to a twenty-fifth.
	rungStep = 1.5
	rungs    = 8
	// mostHalvings bounds the search between two rungs; 16 take a quarter of a millimetre to 4 nm.
	mostHalvings = 16
)

// ThinnestLimb is the width of the narrowest limb of the shapes below most, and a point in it; found is false where
// there is none. A limb is a neck between two parts or a piece that is thin all over; a corner or a tip that runs out is
// none. The width is found to within tol and 2 µm. Missed may be a limb that is less than a micrometre thinner than most,
// and one that only carries a bead hardly wider than itself. Errors are those of Boolean.
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

// LimbsUnder gives a point in each limb thinner than w that shows at that width, and in the thinnest of those that show
// only at lesser ones, being hidden in a tip or a pinch: so at least one where ThinnestLimb finds any.
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
	in    []Box             // where a residue counts; nil is everywhere
	known map[int64][]Shape // the shapes shrunk by half of some widths
}

func newLimbSearch(shapes []Shape, tol int64) *limbSearch {
	s := &limbSearch{tol: tol, known: map[int64][]Shape{}}
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
	shown, hidden, err := s.suspects(most)
	if err != nil || len(shown)+len(hidden) == 0 {
		return 0, Point{}, false, err
	}
	near, err := s.near(append(boxesOf(shown), hidden...), most)
	if err != nil {
		return 0, Point{}, false, err
	}
	for _, l := range ladder(most) {
		limbs, err := near.limbs(l.low, l.high)
		if err != nil {
			return 0, Point{}, false, err
		}
		if len(limbs) > 0 {
			return near.closeIn(l.low, l.high, limbs)
		}
	}
	return 0, Point{}, false, nil
}

// all gives the limbs that show at once, and the first in each place where one is hidden.
func (s *limbSearch) all(most int64) ([]Point, error) {
	shown, hidden, err := s.suspects(most)
	if err != nil {
		return nil, err
	}
	var out []Point
	for _, r := range shown {
		out = append(out, r.at())
	}
	hidden = slices.DeleteFunc(hidden, func(b Box) bool { return slices.ContainsFunc(out, b.holds) })
	if len(hidden) == 0 {
		return out, nil
	}
	near, err := s.near(hidden, most)
	if err != nil {
		return nil, err
	}
	for _, l := range ladder(most) {
		limbs, err := near.limbs(l.low, l.high)
		if err != nil {
			return nil, err
		}
		for _, r := range limbs {
			p := r.at()
			rest := slices.DeleteFunc(slices.Clone(hidden), func(b Box) bool { return b.holds(p) })
			if len(rest) < len(hidden) {
				out, hidden = append(out, p), rest
			}
		}
		if len(hidden) == 0 {
			break
		}
	}
	return out, nil
}

// suspects are the limbs below most that show at once, and the places where one may be hidden.
func (s *limbSearch) suspects(most int64) (shown []residue, hidden []Box, err error) {
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
	var deep []residue
	for _, r := range left {
		if r.limb() {
			shown = append(shown, r)
		} else if r.depth() > float64(cornerDepth*float64(most))+float64(slack) {
			deep = append(deep, r)
		}
	}
	return shown, append(boxesOf(deep), s.changed(shrunk, shown)...), nil
}

// A look is a pair of widths between which limbs are looked for.
type look struct{ low, high int64 }

// ladder is the looks to take from thin to thick, the last of them at most itself. Each goes down past the rung below to
// the one below that, so that a pinch just short of a rung is seen on the next.
func ladder(most int64) []look {
	widths := []int64{most}
	w := float64(most)
	for range rungs {
		w /= rungStep
		widths = append(widths, toGrid(w))
	}
	widths = append(widths, 0, 0)
	slices.Reverse(widths)
	var out []look
	for i := 2; i < len(widths); i++ {
		out = append(out, look{widths[i-2], widths[i]})
	}
	// Two short steps for a pinch only just thinner than most.
	return append(out, look{most - most/6, most}, look{most - most/64, most})
}

// closeIn halves the widths between low, up to which there is no limb, and high, under which there are these. It goes on
// with the neighbourhoods of those that are left.
func (s *limbSearch) closeIn(low, high int64, limbs []residue) (width int64, at Point, found bool, err error) {
	fewer := math.MaxInt
	if s.in != nil {
		fewer = len(s.in)
	}
	for range mostHalvings {
		if high-low <= max(s.tol, 2) {
			break
		}
		if len(limbs) < fewer {
			fewer = len(limbs)
			if s, err = s.near(boxesOf(limbs), high); err != nil {
				return 0, Point{}, false, err
			}
		}
		middle := (low + high) / 2
		left, err := s.limbs(low, middle)
		if err != nil {
			return 0, Point{}, false, err
		}
		if len(left) > 0 {
			limbs, high = left, middle
		} else {
			low = middle
		}
	}
	return high, limbs[0].at(), true, nil
}

// boxesOf are the places of residues, a little wider than they are.
func boxesOf(residues []residue) []Box {
	out := make([]Box, len(residues))
	for i, r := range residues {
		out[i] = r.shape.Bounds().Inset(-2 * slack)
	}
	return out
}

func (b Box) holds(p Point) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// near is a search of the neighbourhoods of some places only. What is shrunk by up to half of most at a point and regrown
// by up to as much depends on nothing further off than most, so within the place itself cutting it out changes nothing.
func (s *limbSearch) near(places []Box, most int64) (*limbSearch, error) {
	var windows Path
	for _, b := range places {
		windows = append(windows, windowRound(b, most+2*slack))
	}
	cut, err := Boolean(Intersection, Operand{Path: s.path}, Operand{Path: windows}, 1)
	return &limbSearch{path: Paths(cut), tol: s.tol, in: places, known: map[int64][]Shape{}}, err
}

// changed gives the bounds of each shape that is not in one piece with all its holes when shrunk, and shows no limb that
// would be the reason.
func (s *limbSearch) changed(shrunk []Shape, limbs []residue) []Box {
	pieces, holes := make([]int, len(s.holes)), make([]int, len(s.holes))
	for _, p := range shrunk {
		i := p.Outer.Segments[0].Tag
		pieces[i]++
		holes[i] += len(p.Holes)
	}
	for _, r := range limbs {
		i := r.of()
		pieces[i], holes[i] = 1, s.holes[i]
	}
	boxes := make([]Box, len(s.holes))
	for i := range boxes {
		boxes[i] = EmptyBox()
	}
	for _, c := range s.path {
		if i := c.Segments[0].Tag; pieces[i] != 1 || holes[i] != s.holes[i] {
			boxes[i] = boxes[i].Union(Path{c}.Bounds())
		}
	}
	return slices.DeleteFunc(boxes, Box.Empty)
}

// counts says whether a residue lies in the places searched.
func (s *limbSearch) counts(r residue) bool {
	at := r.at()
	return s.in == nil || slices.ContainsFunc(s.in, func(b Box) bool { return b.holds(at) })
}

// limbs are the limbs between the widths low and high, in the places searched.
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
	return slices.DeleteFunc(left, func(r residue) bool { return !r.limb() || !s.counts(r) }), nil
}

// A limbLine draws lines beside outlines that are chords of something smooth.
type limbLine struct {
	sideline
	rule Rule
	out  Path
}

func (s *limbSearch) line(r float64, rule Rule) *limbLine {
	flat := float64(min(s.tol, finestLook))
	return &limbLine{sideline: sideline{r: r, join: RoundJoin, flat: flat, close: flat, polygon: true}, rule: rule}
}

func (l *limbLine) add(c Contour) {
	legs := walk(c, l.r, l.flat)
	if l.rule == Negative {
		legs = backwards(legs)
	}
	l.follow(eased(legs, l.r, l.flat), true)
	l.out = append(l.out, l.contour())
}

func (l *limbLine) operand() Operand { return Operand{Path: l.out, Rule: l.rule} }

// shrunk is the shapes without all that is within half of w of their outlines.
func (s *limbSearch) shrunk(w int64) ([]Shape, error) {
	if known, ok := s.known[w]; ok {
		return known, nil
	}
	line := s.line(float64(w)/2, Negative)
	for _, c := range s.path {
		line.add(c)
	}
	out, err := Fuse([]Operand{line.operand()}, 1)
	if err != nil {
		return nil, err
	}
	s.known[w] = out
	return out, nil
}

// grownEdge is the tag of the regrown outline in a residue; other tags are those of the shapes.
const grownEdge = -1

// residues are the parts of the outlines from, which are the shapes shrunk by half of low, that the shapes shrunk by half
// of high and regrown do not cover.
func (s *limbSearch) residues(from Path, low int64, shrunk []Shape, high int64) ([]residue, error) {
	line := s.line(float64(high-low)/2+float64(slack), Positive)
	for _, c := range Paths(shrunk) {
		// A shrunk outline has points at every crossing of its many sidelines. Fewer will do.
		points := Points(c, 1)
		if fewer := thinnedOut(points, line.flat); len(fewer) > 2 {
			points = fewer
		}
		line.add(tagged(Polygon(points...), grownEdge))
	}
	left, err := Boolean(Without, Operand{Path: from}, line.operand(), 1)
	if err != nil {
		return nil, err
	}
	out := make([]residue, len(left))
	for i, shape := range left {
		out[i] = residue{shape}
	}
	return out, nil
}
