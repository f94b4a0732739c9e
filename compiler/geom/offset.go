package geom

import (
	"fmt"
	"slices"
)

// A PenError says what is wrong with a pen, or with the joins of an offset.
type PenError struct{ Msg string }

func (e *PenError) Error() string { return e.Msg }

// The accuracy of an offset or a stroke is shared out so: a quarter of the tolerance may be lost by fitting what lies
// beside a curve, at points three times as close to it, and twice a quarter by the engine.
const (
	fitShare    = 4
	flatShare   = 12
	engineShare = 4
)

// Offset grows shapes by d nanometres, or shrinks them where d is negative: outwards from outer contours and into holes,
// or the other way. Corners that the line goes round are joined as a stroke's are (SVG 2, 13.5); a mitre longer than
// mitreLimit times |d| becomes a bevel, and a limit of 0 is SVG's 4. The result lies within tol of the true offset, but
// for holes narrower than half of tol, which are filled, and pieces as narrow that shrinking leaves, which are dropped.
// Beside a line it is a line and beside a curve a curve, and every segment has the Tag of the one that it lies beside, or of the
// one before its join.
//
// Shapes must not overlap each other: they are what Boolean, Fuse or Offset gives. Errors are those of Boolean and
// *PenError.
func Offset(shapes []Shape, d int64, join Join, mitreLimit float64, tol int64) ([]Shape, error) {
	if tol < 1 {
		return nil, &ToleranceError{tol}
	}
	limit, err := mitre(mitreLimit)
	if err != nil {
		return nil, err
	}
	p := Paths(shapes)
	for _, c := range p {
		if err := inOrder(c.Segments); err != nil {
			return nil, err
		}
	}
	if d == 0 {
		return shapes, nil
	}
	w := newSideline(float64(max(d, -d)), join, limit, tol)
	o := Operand{Rule: Positive}
	if d < 0 {
		o.Rule = Negative
	}
	for _, c := range p {
		legs := walk(c, w.r, w.flat)
		if len(legs) == 0 {
			continue
		}
		if d < 0 {
			legs = backwards(legs)
		}
		w.follow(legs, true)
		o.Path = append(o.Path, w.contour())
	}
	out, err := Fuse([]Operand{o}, max(tol/engineShare, 1))
	if err != nil {
		return nil, err
	}
	if d < 0 {
		return slices.DeleteFunc(out, func(s Shape) bool { return isSliver(s.Outer, tol) }), nil
	}
	return withoutSlits(out, tol)
}

// isSliver says whether a ring is narrower on average than half the tolerance. Where a line beside a curve is fitted to
// run past its own neighbour by less than the tolerance, the two enclose something that is not there.
func isSliver(c Contour, tol int64) bool {
	area := SignedArea(c)
	return float64(4*max(area, -area)) < float64(float64(tol)*Length(c, tol))
}

// withoutSlits fills the holes that are slivers, with what may stand in them.
func withoutSlits(shapes []Shape, tol int64) ([]Shape, error) {
	var slits Path
	for _, s := range shapes {
		for _, h := range s.Holes {
			if isSliver(h, tol) {
				slits = append(slits, h)
			}
		}
	}
	if len(slits) == 0 {
		return shapes, nil
	}
	return Fuse([]Operand{{Path: Paths(shapes)}, {Path: slits}}, max(tol/engineShare, 1))
}

func newSideline(r float64, join Join, limit float64, tol int64) *sideline {
	return &sideline{
		r: r, join: join, limit: limit,
		flat: max(float64(tol)/flatShare, 1), fit: max(float64(tol)/fitShare, 3), close: max(float64(tol)/fitShare, 1),
	}
}

// mitre is the limit of mitres as SVG has it, where 0 says nothing.
func mitre(limit float64) (float64, error) {
	if limit == 0 {
		return 4, nil
	}
	if limit >= 1 && limit-limit == 0 {
		return limit, nil
	}
	return 0, &PenError{fmt.Sprintf("a mitre limit of %v: the length of a mitre cannot be less than the width, 1 is the least", limit)}
}
