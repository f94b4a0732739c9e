package compiler_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"headcap/compiler"
	"headcap/compiler/drawing"
	"headcap/compiler/emit/outside"
	"headcap/compiler/emit/reread"
	"headcap/compiler/geom"
	"headcap/compiler/model"
)

// finest is what the grid of the files may take off a limb or a gap: a micrometre for the two edges, and the flattening.
const finest = 2 * micrometre

var letterID = regexp.MustCompile(`^(panel-[a-z0-9-]+?-)?letter-`)

// What is lettered can be cut and weeded: measured on the written SVG of every example.
//
// It is known to be wrong for E and F: grown to half a millimetre at four-millimetre capitals, their inner serifs meet, and
// the neck between them is a fifth of a millimetre. An E has a hole then.
func TestLettersKeepToTheFilmsLimits(t *testing.T) {
	pinched := 0
	forExamples(t, func(t *testing.T, j *job) {
		folder := j.write(t)
		found := 0
		for _, v := range j.laid {
			for _, c := range j.cuts(t, folder, v) {
				limits := limitsOf(t, v.Design.Films(), c.film)
				letters := c.letters(t, v)
				found += len(letters)
				for i, l := range letters {
					thin, err := geom.LimbsUnder([]geom.Shape{l.shape}, limits.LetterStroke-finest)
					if err != nil {
						t.Fatal(err)
					}
					if len(thin) > 0 && (l.of == 'E' || l.of == 'F') && len(l.shape.Holes) > 0 {
						pinched++
						continue
					}
					for _, p := range thin {
						t.Errorf("%s: %s is thinner than %.3f mm near %.3f, %.3f", c.svg, l.id, mm(limits.LetterStroke), mm(p.X), mm(p.Y))
					}
					for _, o := range letters[:i] {
						if d := l.distance(o); d < mm(limits.LetterGap-finest) {
							t.Errorf("%s: %s and %s are %.4f mm apart, and the film weeds %.3f", c.svg, o.id, l.id, d, mm(limits.LetterGap))
						}
					}
				}
			}
		}
		if found < 10 {
			t.Errorf("only %d letters were looked at", found)
		}
	})
	if pinched == 0 {
		t.Error("no E or F is pinched any more: hold them to the limits too")
	}
}

func limitsOf(t *testing.T, films []*model.Film, name string) model.Limits {
	t.Helper()
	for _, f := range films {
		if f.Name == name {
			return f.Limits
		}
	}
	t.Fatalf("no film is named %s", name)
	return model.Limits{}
}

// A letter is a piece of lettering, as it was written.
type letter struct {
	id    string
	of    rune // 0 where the pieces are not a letter each
	shape geom.Shape
	rings []reread.Ring // flattened finely
	box   reread.Box
}

// letters reads the pieces of lettering of a cut SVG, as the reader sees them.
func (c cutFile) letters(t *testing.T, v compiler.Laid) []letter {
	t.Helper()
	out := c.letterPieces(t)
	// They stand as they are read, so where there are as many as letters, each is one.
	var text []rune
	for _, f := range v.Faces {
		for _, s := range f.Shapes {
			if f.Name == c.face && s.Kind == drawing.Letters && s.Film == c.film {
				text = append(text, []rune(strings.ToUpper(strings.ReplaceAll(s.Text, " ", "")))...)
			}
		}
	}
	if len(text) == len(out) {
		for i := range out {
			out[i].of = text[i]
		}
	}
	return out
}

func (c cutFile) letterPieces(t *testing.T) []letter {
	t.Helper()
	s := outside.SVG(t, c.svg)
	var out []letter
	for _, p := range s.Paths {
		id := c.idOnFace(p.ID)
		if !letterID.MatchString(id) {
			continue
		}
		l := letter{id: id, rings: p.Rings(0.0002)}
		l.box = reread.Bounds(l.rings)
		for i, contour := range p.Contours {
			g := geom.Contour{Closed: true}
			for _, curve := range contour {
				q := [4]geom.Point{}
				for k, at := range curve.P {
					if c.mirrored {
						at.X = s.Width - at.X // so that outer contours run the right way
					}
					q[k] = geom.Point{X: int64(math.Round(at.X * 1e6)), Y: int64(math.Round(at.Y * 1e6))}
				}
				g.Segments = append(g.Segments, geom.Segment{P0: q[0], P1: q[1], P2: q[2], P3: q[3], Line: curve.Line})
			}
			if i == 0 {
				l.shape.Outer = g
			} else {
				l.shape.Holes = append(l.shape.Holes, g)
			}
		}
		if geom.SignedArea(l.shape.Outer) <= 0 {
			t.Fatalf("%s runs the wrong way", p.ID)
		}
		out = append(out, l)
	}
	return out
}

// distance is the least between the outlines of two letters, or more than a millimetre where their boxes are that far apart.
func (l letter) distance(o letter) float64 {
	apart := max(l.box.Min.X-o.box.Max.X, o.box.Min.X-l.box.Max.X, l.box.Min.Y-o.box.Max.Y, o.box.Min.Y-l.box.Max.Y)
	if apart > 1 {
		return apart
	}
	least := math.Inf(1)
	for _, ab := range [2][2]letter{{l, o}, {o, l}} {
		for _, r := range ab[0].rings {
			for _, p := range r {
				for _, q := range ab[1].rings {
					least = min(least, fromRing(p, q))
				}
			}
		}
	}
	return least
}

// fromRing is how far a point lies from the sides of a ring.
func fromRing(p reread.Point, r reread.Ring) float64 {
	least := math.Inf(1)
	for i, a := range r {
		b := r[(i+1)%len(r)]
		dx, dy := b.X-a.X, b.Y-a.Y
		u := ((p.X-a.X)*dx + (p.Y-a.Y)*dy) / (dx*dx + dy*dy)
		u = min(max(u, 0), 1)
		least = min(least, math.Hypot(p.X-a.X-u*dx, p.Y-a.Y-u*dy))
	}
	return least
}

// A bar of a known width between two that are a known gap apart, to see that the measuring above finds them.
func TestLettersAreMeasured(t *testing.T) {
	bar := func(x, y, w, h float64) letter {
		at := func(v float64) int64 { return int64(math.Round(v * 1e6)) }
		l := letter{id: fmt.Sprint(x), shape: geom.Shape{Outer: geom.Rect(at(x), at(y), at(x+w), at(y+h))}}
		l.rings = []reread.Ring{{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}}
		l.box = reread.Bounds(l.rings)
		return l
	}
	a, b := bar(0, 0, 0.497, 4), bar(0.737, 4.07, 0.5, 4)
	if d := a.distance(b); math.Abs(d-math.Hypot(0.24, 0.07)) > 1e-9 {
		t.Errorf("two bars are %v mm apart", d)
	}
	for _, l := range []letter{a, b} {
		thin, err := geom.LimbsUnder([]geom.Shape{l.shape}, 500*micrometre-finest)
		if err != nil {
			t.Fatal(err)
		}
		if (len(thin) > 0) != (l.id == "0") {
			t.Errorf("the bar at %s has %d thin limbs", l.id, len(thin))
		}
	}
}
