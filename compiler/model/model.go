// Package model is the resolved description of a shelf of books: names found, defaults put in, patterns and series merged,
// lengths exact, and every figure with the place it came from. It holds no geometry that is placed.
package model

import (
	"headcap/lang/source"
	"headcap/lang/unit"
)

// From says where a figure came from, the strongest claim first.
type From uint8

// The sources of a figure.
const (
	Default   From = iota // nobody said it: a named default
	Said                  // stated by the author, for this volume
	OfSeries              // stated for the series
	OfPattern             // stated by a pattern
	Estimated             // stated, but an estimate
	OfFirst               // the first volume's of a series that ranges
	OnBook                // measured again on the covered book
	Agreed                // as the set, or the fit, gave it
)

// A Figure is a length and where it came from. Name is how the default is called, or what was said.
type Figure struct {
	Length unit.Length
	From   From
	Note   string
	Origin source.Origin
}

// A Volume is one book before it is measured.
type Volume struct {
	Key     string // unique in the shelf, and stable: the number in its series, or the title
	Folder  string // where its files go: series slug and its own
	Slug    string
	Series  int    // index into Shelf.Series, -1 for none
	Number  int    // 0 for none
	Name    string // what the volume is called in the source
	Origin  source.Origin
	Block   Block
	Bound   Binding
	Cover   *Cover
	Margin  *Figure
	Back    Back
	Covered *Covered
	Leather Leather
	Open    []Open // questions that are still open: nothing is cut
	Spoilt  bool   // what it is measured by was not all said, or not understood: nothing is reckoned from what is left
}

// An Open question previews and never cuts.
type Open struct {
	What   string
	Origin source.Origin
}

// Title is a volume's title: as written, short where there is no room, or broken by the author.
type Title struct {
	Text  string
	Short string
	Lines []string
}

// Block is the text block as measured.
type Block struct {
	Tall, Wide, Thick Figure
	Readings          []unit.Length // of the thickness, where several were taken
}

// Kind of binding.
type Kind uint8

// The bindings: boards made apart as a case, or laced on.
const (
	Case Kind = iota
	Laced
)

func (k Kind) String() string {
	if k == Laced {
		return "laced"
	}
	return "case"
}

// Joint of a laced binding.
type Joint uint8

// The joints.
const (
	French Joint = iota
	Backed
)

// Binding holds what joins the boards to the book.
type Binding struct {
	Kind             Kind
	Boards           Figure
	Head, Tail, Fore Figure // squares
	Gap              Figure // of a case
	Joint            Joint
	JointWidth       Figure  // of a laced binding
	Shoulder         *Figure // its depth, where the boards butt on it
	Lining           Figure
	TurnIn           Figure // of the leather, over the edges of the boards
	Nick             Figure // each way, at the back corners of laced boards
	Origin           source.Origin
}

// Cover is a face given outright: as it is, or as so much over the block.
type Cover struct {
	Tall, Wide Figure
	Over       *Figure
}

// Shape of the spine.
type Shape uint8

// The shapes of a spine.
const (
	ShapeUnsaid Shape = iota
	Flat
	Round
)

// Back is what was said of the spine's shape and measure.
type Back struct {
	Shape   Shape
	Strip   *Figure // over the round
	Caliper *Figure // straight across
}

// Covered is what was measured again on the covered book, over the leather: it beats the plan.
type Covered struct {
	Date           string
	Strip, Caliper *Figure
	Stations       []unit.Length // of the bands, from the head of the board
	UpperEdges     bool          // the stations are of their upper edges
	BandsOrigin    source.Origin
}

// BackUnsaid says whether nothing told how wide the spine would be, before the book was covered.
func (v Volume) BackUnsaid() bool {
	return v.Block.Thick.Length.Sign() == 0 && v.Back.Strip == nil && v.Back.Caliper == nil
}

// SpineUnsaid says whether nothing tells how wide the spine is.
func (v Volume) SpineUnsaid() bool {
	on := v.Covered
	return v.BackUnsaid() && (on == nil || on.Strip == nil && on.Caliper == nil)
}

// Leather of a volume.
type Leather struct {
	Name   string
	Colour string
	Thick  Figure
	Batch  string
}

// Way of lettering.
type Way uint8

// The ways: across the spine, down it or up it, or a pillar of upright letters, one under another.
const (
	WayUnsaid Way = iota
	Across
	Down
	Up
	Pillar
)

func (w Way) String() string { return [...]string{"", "across", "down", "up", "pillar"}[w] }

// Film is a film and what it bears. Lengths are in nanometres.
type Film struct {
	Name     string
	Colour   string
	Finish   string
	Width    int64 // on the roll, 0 where unknown
	Long     int64 // of a sheet
	Transfer bool
	Limits   Limits
	Carries  []string
}

// Limits of a film: the narrowest limb and gap, in ornament and in letters, and the smallest free piece.
type Limits struct{ Stroke, LetterStroke, Gap, LetterGap, Piece int64 }

// A Series is a set of volumes.
type Series struct {
	Title   string
	Slug    string
	Range   string // "", head or tail
	Volumes []int
}

// A FaceFile is a face from a file of the author's.
type FaceFile struct {
	Key    string // as Letter.Face says it
	File   string
	Origin source.Origin
}

// Shelf is all that a file describes.
type Shelf struct {
	Series  []Series
	Volumes []Volume
	Faces   []FaceFile
}

// Facts are the measures of a volume that a design may test and reckon with. Planned are those before the covered book was
// measured, nil where it was not.
type Facts struct {
	BlockTall, BlockWide, BlockThick unit.Length
	BoardTall, BoardWide             unit.Length
	SpineWide, SpineTall             unit.Length
	Number                           int
	Planned                          *Facts
}
