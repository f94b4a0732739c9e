package lettering

import (
	"fmt"
	"math/big"
	"slices"

	"headcap/compiler/geom"
)

// Proportions tell everything of a line that layout needs before it is drawn, as closed forms of the finished cap height
// C, exact until the last rounding.
//
// The letters are drawn at a nominal cap height k and grown by g all round, so that C = k + 2g. In each stage of thickening
// k is a linear form of C. Every extent is a share of k, a share of g and a share of C (the spaces), and so piecewise linear
// in C.
type Proportions struct {
	face    *Face
	line    setting
	cap     int64 // 64ths of a font unit
	thicken int64
	opening int64
	spaced  int64
	least   int64
	stages  []stage
	left    []spacedReach
	right   []spacedReach
	rise    []spacedReach
	drop    []spacedReach
}

// A linear form (P·C + Q)/D in nanometres.
type linear struct{ p, q, d *big.Int }

// Proportions shapes a line and reckons its proportions.
func (f *Face) Proportions(text string, s Style) (Proportions, error) {
	if err := s.check(); err != nil {
		return Proportions{}, err
	}
	line, err := f.set(text, s)
	if err != nil {
		return Proportions{}, err
	}
	p := Proportions{
		face: f, line: line, cap: f.capHeight, thicken: s.ThickenTo, opening: s.opening(), spaced: s.SpacedMille,
		least: 1, stages: []stage{asDrawn},
	}
	if s.ThickenTo > 0 {
		whole := line
		if s.Whole != "" {
			if whole, err = f.set(s.Whole, s); err != nil {
				return Proportions{}, err
			}
		}
		limbs, err := f.thinnest(line, whole)
		if err != nil {
			return Proportions{}, err
		}
		p.stages = stagesOf(limbs, s.ThickenTo)
		p.least = leastThickened(limbs, s.ThickenTo)
	}
	if s.LeastGap > 0 {
		p.open(s.LeastGap, max(s.LeastGapAt, p.least))
	}
	p.left, p.right, p.rise, p.drop = p.hull(leftSide), p.hull(rightSide), p.hull(topSide), p.hull(bottomSide)
	return p, nil
}

// width, ascent and descent are the forms of which the greatest counts, in a stage. What is above the cap line and below
// the baseline of the finished letter is counted from those, which have moved by the growth themselves.
func (p *Proportions) width(s stage) []linear {
	var out []linear
	for _, l := range p.left {
		for _, r := range p.right {
			out = append(out, p.linear(s, l.out+r.out, l.grows+r.grows, r.gaps+l.gaps))
		}
	}
	return out
}

func (p *Proportions) ascent(s stage) []linear {
	var out []linear
	for _, t := range p.rise {
		out = append(out, p.linear(s, t.out-p.cap, t.grows-million, 0))
	}
	return out
}

func (p *Proportions) descent(s stage) []linear {
	var out []linear
	for _, b := range p.drop {
		out = append(out, p.linear(s, b.out, b.grows-million, 0))
	}
	return out
}

// A spacedReach is a reach on the line; gaps is how many spaces it is moved outwards by.
type spacedReach struct {
	reach
	gaps int64
}

// hull lists the places of the line that may lie outermost on a side, without those that another beats at every size.
func (p *Proportions) hull(side int) []spacedReach {
	var all []spacedReach
	for _, g := range p.line.glyphs {
		for _, r := range g.g.reach[side] {
			s := spacedReach{reach: r}
			switch side {
			case leftSide:
				s.out, s.gaps = r.out-g.x, -g.gaps
			case rightSide:
				s.out, s.gaps = r.out+g.x, g.gaps
			case topSide:
				s.out = r.out - g.y
			case bottomSide:
				s.out = r.out + g.y
			}
			all = append(all, s)
		}
	}
	var kept []spacedReach
	for i, r := range all {
		beaten := slices.ContainsFunc(all[:i], func(o spacedReach) bool { return p.beats(o, r) }) ||
			slices.ContainsFunc(all[i+1:], func(o spacedReach) bool { return p.beats(o, r) && !p.beats(r, o) })
		if !beaten {
			kept = append(kept, r)
		}
	}
	return kept
}

// beats says that a lies at least as far out as b at every growth from nothing to the most.
func (p *Proportions) beats(a, b spacedReach) bool {
	d := a.out - b.out
	return d >= 0 && a.gaps >= b.gaps && d*mostGrowth*million+p.cap*(a.grows-b.grows) >= 0
}

// linear is x·k/cap + m·g + n·spaced·C as a form in C, with g = (C − k)/2.
func (p *Proportions) linear(s stage, x, m, n int64) linear {
	num := func(factors ...int64) *big.Int {
		out := big.NewInt(1)
		for _, f := range factors {
			out.Mul(out, big.NewInt(f))
		}
		return out
	}
	// k = (C − less)·M/over, with M a million, and C − k = (C·(over − M) + less·M)/over.
	out := linear{
		p: num(x, million, 2*million),
		q: num(x, -s.less, million, 2*million),
		d: num(2*million, s.over, p.cap),
	}
	out.p.Add(out.p, num(m, s.over-million, p.cap))
	out.q.Add(out.q, num(m, s.less, million, p.cap))
	out.p.Add(out.p, num(n, p.spaced, 2*million/1000, s.over, p.cap))
	return out
}

// at is the form's value rounded up to a nanometre.
func (l linear) at(c int64) int64 {
	v := new(big.Int).Mul(l.p, big.NewInt(c))
	return ceilDiv(v.Add(v, l.q), l.d)
}

func ceilDiv(a, b *big.Int) int64 {
	q, m := new(big.Int).DivMod(a, b, new(big.Int))
	if m.Sign() != 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}

func greatest(forms []linear, c int64) int64 {
	out := forms[0].at(c)
	for _, l := range forms[1:] {
		out = max(out, l.at(c))
	}
	return out
}

// ratio is the nominal cap height as a fraction.
func (p *Proportions) ratio(c int64) (num, den int64) {
	s := p.stageAt(c)
	return max(c-s.less, 0) * million, s.over
}

// Nominal is the cap height in nanometres at which the letters are drawn, before they are grown to the finished height.
func (p *Proportions) Nominal(cap int64) int64 {
	num, den := p.ratio(cap)
	return roundDiv(num, den)
}

// Grown is by how many nanometres the outline is grown all round, but where it keeps narrow places open.
func (p *Proportions) Grown(cap int64) int64 { return (cap - p.Nominal(cap) + 1) / 2 }

// Width is the width of the line's ink in nanometres, rounded up, at a finished cap height.
func (p *Proportions) Width(cap int64) int64 { return greatest(p.width(p.stageAt(cap)), cap) }

// Ascends is how far the ink rises above the line of the capitals, in nanometres, rounded up; negative where all of it
// stays below.
func (p *Proportions) Ascends(cap int64) int64 { return greatest(p.ascent(p.stageAt(cap)), cap) }

// Descends is how far the ink falls below the baseline, in nanometres, rounded up; negative where all of it stays above.
func (p *Proportions) Descends(cap int64) int64 { return greatest(p.descent(p.stageAt(cap)), cap) }

// LeastThickened is the least cap height in nanometres at which the letters can be thickened as asked: below it they
// would be grown by more than a quarter of their own height all round, and be blots. It is 1 where nothing is thickened.
func (p *Proportions) LeastThickened() int64 { return p.least }

// Notes are what the author should hear about the line.
func (p *Proportions) Notes() []Note { return p.line.notes }

// CapFor is the greatest finished cap height, in whole micrometres (as nanometres), at which the line is at most width
// wide: the inverse of Width. It is 0 where no height will do.
func (p *Proportions) CapFor(width int64) int64 {
	c := p.greatestCap(width)
	if c < p.least || p.Width(c) > width {
		return 0
	}
	return c
}

// greatestCap goes through the stages from the largest letters to the smallest: in the first that holds a height that
// fits, no greater one does.
func (p *Proportions) greatestCap(width int64) int64 {
	c := int64(0)
	for i, s := range p.stages {
		c = min(fits(p.width(s), width), s.top())
		if p.stageAt(c) == p.stages[i] {
			break
		}
	}
	return c
}

// fits is the greatest height, floored to a micrometre, at which none of the rising forms exceeds width. The greatest of
// linear forms is convex, so nothing above it fits.
func fits(forms []linear, width int64) int64 {
	best := int64(mostCap)
	for _, l := range forms {
		if l.p.Sign() <= 0 {
			continue
		}
		v := new(big.Int).Mul(l.d, big.NewInt(width))
		v.Div(v.Sub(v, l.q), l.p)
		if v.Cmp(big.NewInt(best)) < 0 {
			best = max(v.Int64(), 0)
		}
	}
	return best - best%geom.Micrometre
}

// checkCap refuses heights at which the line cannot be drawn.
func (p *Proportions) checkCap(cap int64) error {
	switch {
	case cap < geom.Micrometre || cap > mostCap:
		return &Fault{Code: "bad-lettering", Message: fmt.Sprintf("a cap height of %d nm is out of all reason", cap)}
	case cap < p.least:
		return &Fault{
			Code: "too-small-to-thicken",
			Message: fmt.Sprintf("caps of %s mm cannot be thickened to %s mm: they would close up; %s mm is the least",
				millimetres(cap), millimetres(p.thicken), millimetres(p.least+geom.Micrometre-1)),
			Try: []string{"larger caps", "a face with stronger limbs", "thickening less"},
		}
	}
	return nil
}

// millimetres prints a length to the micrometre.
func millimetres(nm int64) string {
	return new(big.Rat).SetFrac64(nm/geom.Micrometre, 1000).FloatString(3)
}
