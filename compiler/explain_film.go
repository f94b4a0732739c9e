package compiler

import (
	"fmt"

	"headcap/compiler/cut"
)

// A FilmShare is how much of a face one film covers: in square millimetres, and as a share of the face.
type FilmShare struct {
	Film  string  `json:"film"`
	Face  string  `json:"face"`
	Area  float64 `json:"area"`
	Share float64 `json:"share"`
}

// squareMM is a square millimetre in the square nanometres of areas.
const squareMM = 1e12

func filmShare(c cut.Face) FilmShare {
	out := FilmShare{Film: c.Film, Face: c.Face}
	for _, p := range c.Pieces {
		out.Area += p.Shape.Area() / squareMM
	}
	if face := float64(c.Width) * float64(c.Height) / squareMM; face > 0 {
		out.Share = out.Area / face
	}
	return out
}

func (f FilmShare) String() string {
	return fmt.Sprintf("%s on %s, %.1f square mm: %.1f%% of its face", f.Film, f.Face, f.Area, 100*f.Share)
}
