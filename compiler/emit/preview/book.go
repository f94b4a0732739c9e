// Package preview draws bound books as they will look: the spine, the boards and the fore-edge of a volume, and a row of
// spines on its board. A picture is a Scene, a short list of filled outlines, which SVG writes as text and package png
// turns into pixels. Nothing here decides a place or a size of anything that is cut; it shows what it is given.
package preview

import "headcap/compiler/geom"

// A Book is what the picture needs to know of one volume. Lengths are in nanometres; every face is as the reader sees
// it, y down from the head and x from left to right.
type Book struct {
	Number, Title string
	Leather       Colour

	// Round says that the back is rounded. A flat back is shaded as one, and its headcaps are straight.
	Round bool

	Spine Face

	// Front and Back are left out of the picture where they are nil. The spine edge is the left of the front and the
	// right of the back.
	Front, Back *Face

	// ForeEdge is left out of the picture where it is nil.
	ForeEdge *ForeEdge
}

// A Face is one side of a book with what is on it. On a board the bands are those of the spine, where they run out over
// the joint.
type Face struct {
	Width, Height int64

	// Joint is the distance from the spine edge to the bottom of the groove before the board. It is read on boards
	// only, and a face without one has none drawn.
	Joint int64

	Bands []Band
	Films []Film
}

// A Band is a raised band across the spine: its middle, measured from the head, and its width.
type Band struct{ Centre, Width int64 }

// A Film is all that one film covers on one face: the outlines that will be cut, already fused, in reading order.
type Film struct {
	Name   string
	Colour Colour
	Finish Finish
	Shapes []geom.Shape
}

// Finish is how a film takes the light.
type Finish uint8

// The finishes, from the dullest.
const (
	Matt Finish = iota
	Satin
	Bright
)

// A ForeEdge is the book seen from the edge where it opens: the leaves between two boards. Thickness and Height are the
// block's own; Leather is the thickness of the covering on the outside of a board; Squares is how far the boards stand
// out beyond the block at head and tail.
type ForeEdge struct {
	Thickness, Height int64
	Board, Leather    int64
	Squares           int64
}

// mm is a length that was chosen by eye, in nanometres.
func mm(v float64) int64 { return nearest(float64(v * 1e6)) }
