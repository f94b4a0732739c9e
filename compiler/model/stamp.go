package model

import (
	"math/big"

	"headcap/lang/source"
	"headcap/lang/unit"
)

// A Stamp is one device as described: the marks that draw it, in order.
type Stamp struct {
	Name     string // as it is called, bundled or the author's own
	Key      string // unique: the file and the name
	About    string
	Like     *Stamp // drawn as another is, mirrored or not
	Mirrored bool
	Marks    []Mark
	Tall     *unit.Length // brought to this size; nil: as drawn
	Wide     *unit.Length
	Stroke   *unit.Length // the narrowest film it was drawn for
	Gap      *unit.Length
	From, To *unit.Length // the sizes at which it serves
	Origin   source.Origin
}

// A Mark is one drawing statement. Which is the word; its measures are in nanometres about the stamp's origin.
type Mark struct {
	Which  string // path, line, circle, ring, oval, lozenge, bar, leaf, petal, mirror, around, turned, group, cut
	Data   string
	A, B   int64 // tall and wide, across and line width, long and wide
	Right  float64
	Left   float64
	X, Y   int64
	Turned float64
	Times  int
	Head   bool // mirror head to tail
	Cap    string
	Marks  []Mark // of group and cut
	Origin source.Origin
}

// A Roll is a run of stamps.
type Roll struct {
	Name      string
	Group     []*Stamp
	Pitch     unit.Length
	Least     *big.Rat // what the space gives, as shares of the pitch: least is 0 or negative
	Most      *big.Rat
	Touch     unit.Length
	Between   *Stamp
	Middle    *Stamp
	Corner    *Stamp
	Facing    string // of the corner: in, out, or as it is drawn
	RoomLeast unit.Length
	RoomMost  unit.Length
	Overhang  unit.Length
	Alternate bool
	Joined    bool
	Slack     bool
	Depth     *unit.Length
	Origin    source.Origin
}
