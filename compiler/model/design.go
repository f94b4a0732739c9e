package model

import (
	"math/big"

	"headcap/lang/source"
	"headcap/lang/unit"
)

// A Design is what stands on the faces of one volume, with its conditions settled. A nil Front or Back is bare leather.
type Design struct {
	Title       Title
	Author      string
	Number      int
	Emblem      *Stamp
	Film        *Film
	Way         Way
	Apart       bool
	Spoilt      bool // not all that is said of the volume was understood: what is missing may be that
	Spine       Spine
	Front, Back *CoverDesign
}

// Bands are the raised bands as described.
type Bands struct {
	How      BandPlan
	Count    int
	Head     unit.Length // head longer by
	Tail     unit.Length // tail longer by
	Between  bool        // head and tail are marks of the kettle stitch, and the bands divide what is between
	False    bool        // laid on under their marks, not sewn on them
	Double   *Figure     // each band's cord or tape, which takes two marks so far apart
	Shares   []*big.Rat
	Stations []unit.Length
	OfBlock  bool
	Wide     Figure
	Clear    Figure
	Without  []int
	From     From // who said the plan
	Origin   source.Origin
}

// Said makes a figure of a length of the plan.
func (b Bands) Said(l unit.Length) Figure {
	return Figure{Length: l, From: b.From, Note: "bands", Origin: b.Origin}
}

// BandPlan says how the bands are divided.
type BandPlan uint8

// The plans.
const (
	NoBands BandPlan = iota
	Equal
	Sharing
	Stations
	UpperEdges
)

// Spine is the design of a spine. Panels are keyed by their number from the head; Whole holds what stands on the spine as
// one panel.
type Spine struct {
	Bands  Bands
	Panels map[int]Panel
	Whole  Panel
}

// A Panel is what stands in a panel, or on a spine as a whole.
type Panel struct {
	Fillets []Fillet
	Frames  []Frame
	Centre  *Centre
	Letters []Letter
	Film    *Film
	Origin  source.Origin
}

// CoverDesign is what stands on a front or back.
type CoverDesign struct {
	Frames  []Frame
	Centre  *Centre
	Letters []Letter
	Film    *Film
	Origin  source.Origin
}

// A Fillet is plain lines beside bands, or at head or tail.
type Fillet struct {
	Widths []unit.Length // from the band outwards
	Gap    unit.Length
	Inset  unit.Length // at the sides
	Head   bool        // at the head only
	Tail   bool
	Film   *Film
	Origin source.Origin
}

// A Frame is a stack of lines, air and rolls from the outside in.
type Frame struct {
	Name   string
	Sides  *unit.Length // inset at the sides; nil for the default
	Ends   *unit.Length
	Inside string
	By     unit.Length
	Stack  []Course
	Plain  bool // lines stop short of the corners
	Corner []Corner
	Film   *Film
	Origin source.Origin
}

// A Course is one line, one roll or a piece of air in a frame.
type Course struct {
	Line   *unit.Length
	Air    *unit.Length
	Roll   *Roll
	Facing string
	Origin source.Origin
}

// A Corner is a stamp in a frame's four corners.
type Corner struct {
	Stamp  *Stamp
	Facing string
	Inset  *unit.Length
	Origin source.Origin
}

// A Centre is a stamp in the middle of what is left.
type Centre struct {
	Stamp       *Stamp
	Emblem      bool
	Fill        *big.Rat // share of the clear box; nil for the stamp's own size
	Each        bool
	Least, Most *unit.Length
	Turned      float64
	Raised      *big.Rat
	Origin      source.Origin
}

// A Letter is lettering.
type Letter struct {
	What        string // title, author, number, or "" for Text
	Text        string
	Face        string
	Least, Most unit.Length // of the cap
	LinesLeast  int
	LinesMost   int
	Same        bool
	Spaced      int64 // thousandths of the cap
	Thickened   *unit.Length
	Plain       bool     // not thickened at all
	Capitals    string   // "", small or mixed
	Leading     *big.Rat // from baseline to baseline, in caps; nil for the way's own
	Ways        []Way
	Raised      *big.Rat
	Baseline    *unit.Length
	Film        *Film
	Origin      source.Origin
}

// Films lists the films that a design names, the volume's own first.
func (d *Design) Films() []*Film {
	var out []*Film
	add := func(f *Film) {
		if f == nil {
			return
		}
		for _, o := range out {
			if o == f {
				return
			}
		}
		out = append(out, f)
	}
	parts := func(f *Film, frames []Frame, letters []Letter, fillets []Fillet) {
		add(f)
		for _, x := range frames {
			add(x.Film)
		}
		for _, x := range letters {
			add(x.Film)
		}
		for _, x := range fillets {
			add(x.Film)
		}
	}
	add(d.Film)
	parts(d.Spine.Whole.Film, d.Spine.Whole.Frames, d.Spine.Whole.Letters, d.Spine.Whole.Fillets)
	for i := range d.Spine.Bands.Count + 1 {
		p := d.Spine.Panels[i+1]
		parts(p.Film, p.Frames, p.Letters, p.Fillets)
	}
	for _, c := range []*CoverDesign{d.Front, d.Back} {
		if c != nil {
			parts(c.Film, c.Frames, c.Letters, nil)
		}
	}
	return out
}
