package compiler_test

import (
	"fmt"
	"math"
	"regexp"
	"testing"

	"headcap/compiler/emit/outside"
	"headcap/compiler/emit/reread"
	"headcap/compiler/geom"
	"headcap/compiler/model"
)

// finest is what the grid of the files may take off a limb or a gap: a micrometre for the two edges, and the flattening.
const finest = 2 * micrometre

// slack is what openings inside letters may lack of the film's gap: they are kept along the middle line between two edges,
// which is known to some micrometres.
const slack = 10 * micrometre

var letterID = regexp.MustCompile(`^(panel-[a-z0-9-]+?-)?letter-`)

// What is lettered can be cut and weeded: measured on the written SVG of every example.
func TestLettersKeepToTheFilmsLimits(t *testing.T) {
	forExamples(t, func(t *testing.T, j *job) {
		folder := j.write(t)
		found := 0
		for _, v := range j.laid {
			for _, c := range j.cuts(t, folder, v) {
				limits := limitsOf(t, v.Design.Films(), c.film)
				letters := c.letters(t)
				found += len(letters)
				for i, l := range letters {
					thin, err := geom.LimbsUnder([]geom.Shape{l.shape}, limits.LetterStroke-finest)
					if err != nil {
						t.Fatal(err)
					}
					for _, p := range thin {
						t.Errorf("%s: %s is thinner than %.3f mm near %.3f, %.3f", c.svg, l.id, mm(limits.LetterStroke), mm(p.X), mm(p.Y))
					}
					slits, err := geom.GapsUnder([]geom.Shape{l.shape}, limits.LetterGap-slack)
					if err != nil {
						t.Fatal(err)
					}
					for _, p := range slits {
						t.Errorf("%s: %s has a slit near %.3f, %.3f, and the film weeds %.3f mm", c.svg, l.id, mm(p.X), mm(p.Y), mm(limits.LetterGap))
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
	shape geom.Shape
	rings []reread.Ring // flattened finely
	box   reread.Box
}

// letters reads the pieces of lettering of a cut SVG, as the reader sees them.
func (c cutFile) letters(t *testing.T) []letter {
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
