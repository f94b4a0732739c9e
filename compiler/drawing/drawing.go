// Package drawing is one face of a volume with everything on it at its fixed place, before anything is made ready for the
// blade: stamps still are stamps, lines still are lines with a width.
package drawing

import (
	"headcap/compiler/geom"
	"headcap/lang/source"
)

// Kind is what a shape is to the binder.
type Kind uint8

// The kinds.
const (
	Stamp Kind = iota // a centre
	Unit              // a stamp of a run
	Corner
	Letters
	Fillet
)

func (k Kind) String() string { return [...]string{"stamp", "unit", "corner", "letters", "fillet"}[k] }

// A Shape is one thing that stands on a face. A stamp has Art, in its own coordinates and shared between its copies, and
// Place, which sets it on the face: a similarity whose linear part is a turn, perhaps a mirror, and for a centre with
// `fill` one scale. A fillet has Line, in the coordinates of the face.
type Shape struct {
	Kind   Kind
	Name   string
	Film   string
	Place  geom.Transform
	Art    []geom.Shape
	Line   *Line
	Text   string // of letters, as set
	Cap    int64  // finished cap height of letters
	Origin source.Origin
}

// A Line is drawn along a contour with a width; its corners are mitred, its ends square to it.
type Line struct {
	Along geom.Contour
	Width int64
}

// A Band is a raised band on the face.
type Band struct{ Centre, Width int64 }

// A Face is a spine, a front or a back: the reader looks at it, y runs down from the head and x from left to right.
type Face struct {
	Name          string // spine, front, back
	Width, Height int64
	Shapes        []Shape
	Bands         []Band
	Clear         []geom.Box // where film may stand
}
