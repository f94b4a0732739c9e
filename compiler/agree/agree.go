// Package agree decides what the volumes of a series share: the size of lettering and of emblems, and for each volume the
// way its lettering runs and the lines that it takes. Everything is a closed form of what fits; nothing is tried out.
package agree

import (
	"headcap/compiler/lettering"
	"headcap/compiler/model"
)

// A Slot is a place for lettering: one statement in one volume, with the room that is left for it, in nanometres.
type Slot struct {
	Volume int // index into the shelf
	Series int // -1 for none
	Key    string
	Where  string // for people: panel 2, front
	Letter model.Letter
	Texts  []Text // what may be set, the first that fits
	Face   *lettering.Face
	Film   *model.Film
	Way    model.Way // of the volume, where the statement says none
	Width  int64
	Height int64
	Counts bool // measured, and not apart: it has a say in a shared size
	Apart  bool // it takes its own size, whatever the set has
	Cover  bool // on a cover lettering always runs across
	Bands  int  // raised on the spine
	Whole  string
}

// Text is a text that may be set: broken by the author where Lines says so.
type Text struct {
	Text  string
	Lines []string
}

// A Setting is how a slot is set.
type Setting struct {
	OK      bool
	Way     model.Way
	Cap     int64 // finished
	Text    string
	Lines   []string // in a pillar, its letters: an empty one stands for a space
	Style   lettering.Style
	Leading int64 // from baseline to baseline
}

// A Place is a place for an emblem or centre with `fill`, in nanometres.
type Place struct {
	Volume        int
	Series        int
	Key           string
	Where         string
	Centre        model.Centre
	ArtW, ArtH    int64 // the stamp's own box, turned
	Width, Height int64 // the clear box
	Counts        bool
	Apart         bool
}
