// Package cut is what the blade gets: closed outlines of one film, in reading order.
package cut

import (
	"headcap/compiler/geom"
	"headcap/lang/source"
)

// A Piece is one connected bit of film: an outer contour and its holes. ID is volume/face/film/first origin in reading
// order/ordinal; Mark is a short mark of the hash of its outline, the same wherever the same piece is printed.
type Piece struct {
	ID      string
	Mark    string
	Shape   geom.Shape
	Origins []source.Origin
}

// A Face is all that one film gets on one face of a volume (its spine, front or back), seen as the reader sees it: y down
// from the head, x from left to right. Width and Height are the face's own, in nanometres, and the frame of the file.
type Face struct {
	Volume   string // the volume's slug, such as 01-eels-and-ledgers
	Title    string // for people
	Face     string // spine, front, back
	Film     string // the film's name, such as gold
	Colour   string // #rrggbb, for the eye only
	Transfer bool   // cut mirrored: the writer reflects it, once
	Width    int64
	Height   int64
	Pieces   []Piece
}
