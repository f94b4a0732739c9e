package lettering

import (
	"cmp"
	"fmt"
	"slices"

	"headcap/compiler/geom"

	"github.com/go-text/typesetting/font"
)

// knownLimbs are the number of a glyph and its limbSteps, the last of which are left out where they are all alike. Those of
// the bundled faces' common glyphs stand in a table, since measuring them anew would take longer than all else that is done
// with letters.
type knownLimbs []int32

//go:generate go test -run TestLimbTables -timeout 30m -update .

const (
	// Limbs are measured once, with the capitals 10 mm tall.
	limbCap = 10 * geom.Millimetre
	// thickestLimb is how far a thinnest limb is looked for: what has none up to a fifth of the cap height (a full stop,
	// the stem of an I) counts as having that.
	thickestLimb = limbCap / 5
	// limbBracket is how closely a limb is found, and limbDoubt by how much more geom may see it as wider than it is.
	limbBracket = limbCap / 2000
	limbDoubt   = 5 * geom.Micrometre
	// widthStep is the share of a width by which the next is wider, where there is no waist.
	widthStep = 16
	// seenWithin is the share of its width above a limb's width at which it is surely seen. (A choice: an even stroke that
	// tapers by an eighth is seen over that eighth.)
	seenWithin = 25
	// hairline is how wide openings are kept while limbs are measured: just enough that letters do not grow together
	// there, which would be limbs that no finished letter has.
	hairline = limbCap / 500
	// leastLeap is the least gain of a limb beyond its growth that is worth a stage, in millionths of the cap height: at
	// caps of 4 mm, a growth by 5 µm. (A choice.)
	leastLeap = million / 400
)

// thinnest are the thinnest limbs of all the glyphs of two lines.
func (f *Face) thinnest(lines ...setting) (limbSteps, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var out limbSteps
	for i := range out {
		out[i] = thickestLimb * million / limbCap
	}
	for _, line := range lines {
		for _, p := range line.glyphs {
			if p.g.limbs == nil {
				l, err := f.limbsOf(p.id, p.g)
				if err != nil {
					return limbSteps{}, err
				}
				p.g.limbs = &l
			}
			for i, l := range p.g.limbs {
				out[i] = min(out[i], l)
			}
		}
	}
	return out, nil
}

func (f *Face) limbsOf(id font.GID, g *glyph) (limbSteps, error) {
	i, known := slices.BinarySearchFunc(f.limbs, id, func(k knownLimbs, id font.GID) int { return cmp.Compare(font.GID(k[0]), id) })
	if !known {
		return f.measureLimbs(id, g)
	}
	var out limbSteps
	steps := f.limbs[i][1:]
	for j := range out {
		out[j] = int64(steps[min(j, len(steps)-1)])
	}
	return out, nil
}

// measureLimbs measures a glyph's thinnest limbs on its outline. What a limb has beyond its growth never falls, so where
// it is the same at two growths it is not looked at between them.
func (f *Face) measureLimbs(id font.GID, g *glyph) (limbSteps, error) {
	fail := func(err error) (limbSteps, error) {
		return limbSteps{}, fmt.Errorf("measuring the limbs of glyph %d of face %q: %w", id, f.name, err)
	}
	drawn, err := fused(scaled(g.path, limbCap, f.capHeight), 0)
	if err != nil {
		return fail(err)
	}
	var out limbSteps
	last := len(out) - 1
	if out[0], err = limbWhenGrown(drawn, 0, 0); err != nil {
		return fail(err)
	}
	if out[last], err = limbWhenGrown(drawn, limbGrowths[last], out[0]); err != nil {
		return fail(err)
	}
	var between func(i, j int) error
	between = func(i, j int) error {
		if out[j] < out[i]+leastLeap {
			for k := i; k <= j; k++ {
				out[k] = min(out[i], out[j])
			}
			return nil
		}
		if j == i+1 {
			return nil
		}
		middle := (i + j) / 2
		if out[middle], err = limbWhenGrown(drawn, limbGrowths[middle], out[i]); err != nil {
			return err
		}
		out[middle] = min(out[middle], out[j])
		if err := between(middle, j); err != nil {
			return err
		}
		return between(i, middle)
	}
	if err := between(0, last); err != nil {
		return fail(err)
	}
	return out, nil
}

// limbWhenGrown is the thinnest limb of shapes that are limbCap tall when they are grown by a share of that, in millionths,
// less twice the growth. It is grown with round joins, which come out less far than the mitres of finished letters, and
// never over the middle of an opening. It is known to be no less than least.
func limbWhenGrown(drawn []geom.Shape, share, least int64) (int64, error) {
	by := limbCap * share / million
	shapes := drawn
	if by > 0 {
		var err error
		if shapes, err = (growth{by: by, open: hairline, join: geom.RoundJoin}).grow(drawn, limbCap); err != nil {
			return 0, err
		}
	}
	width, err := thinnestLimbOf(shapes, limbCap*least/million+2*by, thickestLimb+2*by)
	return (width - 2*by) * million / limbCap, err
}

// thinnestLimbOf is a width that no limb of the shapes is under, and little less than that of the thinnest; most where
// none is as thin as that, and about least where none is known to be thinner. Widths are tried from thin to thick, since at
// one that the parts on both sides of a limb do not have either it is not seen as a limb: from waist to waist, and where
// these are far apart at steps between them, for limbs that taper.
func thinnestLimbOf(shapes []geom.Shape, least, most int64) (int64, error) {
	var err error
	thin := func(w int64) bool {
		var under []geom.Point
		if err == nil {
			under, err = geom.LimbsUnder(shapes, w)
		}
		return len(under) > 0
	}
	closeIn := func(low, high int64) int64 {
		for high-low > limbBracket {
			if middle := (low + high) / 2; thin(middle) {
				high = middle
			} else {
				low = middle
			}
		}
		return max(high-limbBracket-limbDoubt, limbBracket)
	}
	widths := append(waists(shapes, most), most)
	clear := max(widths[0], least) - limbBracket - limbDoubt
	for _, w := range widths {
		w = max(w, least)
		for next := clear + clear/widthStep; next < w; next += next / widthStep {
			if thin(next) {
				return closeIn(clear, next), err
			}
			clear = next
		}
		for _, high := range [2]int64{w + limbBracket + limbDoubt, w + w/seenWithin} {
			if high <= clear+limbBracket || high >= most {
				continue
			}
			if thin(high) {
				return closeIn(max(clear, w-limbBracket-limbDoubt), high), err
			}
			clear = high
		}
	}
	return most, err
}

// waists are the widths, up to most, at which the ink between two edges is narrowest: one of them is that of the thinnest
// limb. Others are those of serifs, which only end in a tip.
func waists(shapes []geom.Shape, most int64) []int64 {
	var out []int64
	for _, discs := range discsAlong(wallsOf(shapes, true), limbCap, most/2) {
		for _, m := range midlines(discs) {
			for i, d := range m.discs {
				if d.radius <= m.discs[max(i-1, 0)].radius && d.radius <= m.discs[min(i+1, len(m.discs)-1)].radius {
					out = append(out, 2*d.radius)
				}
			}
		}
	}
	slices.Sort(out)
	return out
}
