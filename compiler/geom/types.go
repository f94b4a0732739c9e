// Package geom is plane geometry for a blade: points, curves, outlines, and the operations that turn overlapping
// shapes into outlines that can be cut. Every point stands on a grid of one nanometre, x to the right and y down,
// and no coordinate may exceed one metre. Nothing here knows what the outlines are for.
package geom

import "fmt"

// Units of the grid.
const (
	Nanometre  int64 = 1
	Micrometre int64 = 1_000
	Millimetre int64 = 1_000_000

	// Reach is the largest coordinate that the Boolean engine takes, either way from the origin: one metre.
	Reach = 1_000 * Millimetre
)

// A Point stands on the grid of one nanometre. Y runs down.
type Point struct{ X, Y int64 }

// A Segment runs from P0 to P3: a straight line (Line, P1 and P2 are not read) or a cubic Bézier curve. Tag is opaque:
// whatever the caller gave a segment is found again on every part of it that an operation leaves.
type Segment struct {
	P0, P1, P2, P3 Point
	Line           bool
	Tag            int32
}

// A Contour is a chain of segments, each beginning where the one before ended. A closed contour ends where it began.
type Contour struct {
	Segments []Segment
	Closed   bool
}

// A Path is any number of contours; what is inside is for a Rule to say.
type Path []Contour

// A Shape is one connected region: an outer contour and the holes in it. Outer contours run with the interior on their
// right as x is turned towards y (a positive area by the shoelace formula in our axes), holes the other way. No contour
// of a shape crosses itself or another; an island inside a hole is a shape of its own.
type Shape struct {
	Outer Contour
	Holes []Contour
}

// Rule says which winding numbers are inside.
type Rule uint8

// The four fill rules.
const (
	NonZero Rule = iota
	EvenOdd
	Positive
	Negative
)

// Op is a Boolean operation.
type Op uint8

// The operations. Without is the first operand without the second; From is the second without the first.
const (
	Union Op = iota
	Intersection
	Without
	From
	Exclusive
)

// An Operand is a path and the rule that says what is inside it.
type Operand struct {
	Path Path
	Rule Rule
}

// A RangeError says that an input lies beyond Reach.
type RangeError struct{ At Point }

func (e *RangeError) Error() string {
	return fmt.Sprintf("a point at %d, %d nm lies more than one metre from the origin", e.At.X, e.At.Y)
}

// A Box is the smallest upright rectangle round something. The zero Box is empty only where Empty says so.
type Box struct{ Min, Max Point }

// Width and Height of the box.
func (b Box) Width() int64  { return b.Max.X - b.Min.X }
func (b Box) Height() int64 { return b.Max.Y - b.Min.Y }

// Cap says how an open stroke ends.
type Cap uint8

// Join says how a stroke or an offset turns a corner.
type Join uint8

// Caps and joins, as SVG 2, 13.5, names them.
const (
	Butt Cap = iota
	RoundCap
	SquareCap
)

const (
	Mitre Join = iota
	RoundJoin
	Bevel
)

// A Pen draws a line along a path. MitreLimit is SVG's: the longest mitre as a share of the width. Dash lengths are in
// nanometres, an even count or none; Start is how far into the pattern the line begins.
type Pen struct {
	Width      int64
	Cap        Cap
	Join       Join
	MitreLimit float64
	Dash       []int64
	Start      int64
}

// A Transform maps (x, y) to (A·x + C·y + E, B·x + D·y + F), E and F in nanometres.
type Transform struct {
	A, B, C, D float64
	E, F       int64
}
