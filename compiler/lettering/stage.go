package lettering

import (
	"math/big"

	"headcap/compiler/geom"
)

// Thickening to a width T goes in stages, from large letters to small. With l the thinnest limb, as a share of the nominal
// cap height k, a growth by g gives it the width l·k + 2g at least, so g = (T − l·k)/2 while l·k is under T. But some limbs
// are only the waist of a joint, which fills as it grows: where the arms of K meet the stem, the thinnest limb is a
// twentieth of k at first, and after a growth by a fiftieth of k it is as if it had been a thirteenth. So l is known for
// several growths γ, as shares of k, as what the limb has beyond its own growth there; and as it never falls when letters
// grow more, what is known at one growth holds up to the next. At the next, l leaps; until the letters are so small that
// even then the limb asks for more, they are grown by γ·k. Thus C = k + 2g is
//
//	C = k·(1 − l) + T   while the growth follows the limb,
//	C = k·(1 + 2γ)      while it stays the same share.
//
// A stage is one of these: k = (C − less)·million/over for the heights C with C·per < below. The first of all leaves
// letters as they are drawn.
type stage struct{ less, over, below, per int64 }

var asDrawn = stage{over: million, below: mostCap + 1, per: 1}

// limbGrowths are the growths at which limbs are known, in millionths of the cap height: from nothing to where the waists of
// both bundled faces are filled, at steps that cost a letter of 4 mm at most 0.02 mm.
var limbGrowths = [...]int64{0, 5_000, 10_000, 15_000, 20_000, 25_000, 30_000}

// limbSteps are thinnest limbs at each of limbGrowths, less twice the growth, in millionths of the cap height.
type limbSteps [len(limbGrowths)]int64

// stagesOf are the stages of thickening to a width.
func stagesOf(limbs limbSteps, thicken int64) []stage {
	out := []stage{asDrawn}
	for i, l := range limbs {
		g := limbGrowths[i]
		below := thicken * (million + 2*g)
		if i > 0 {
			if l == limbs[i-1] {
				continue
			}
			out = append(out, stage{over: million + 2*g, below: below, per: limbs[i-1] + 2*g})
		}
		out = append(out, stage{less: thicken, over: million - l, below: below, per: l + 2*g})
	}
	return out
}

// stageAt is the stage of a finished cap height: the last that it is small enough for.
func (p *Proportions) stageAt(c int64) stage {
	out := p.stages[0]
	for _, s := range p.stages[1:] {
		if c*s.per >= s.below {
			break
		}
		out = s
	}
	return out
}

// top is the greatest height of a stage, in whole micrometres.
func (s stage) top() int64 {
	c := (s.below - 1) / s.per
	return c - c%geom.Micrometre
}

// leastThickened is the least finished height at which the growth is at most k/mostGrowth: k ≥ T/(l + 2/mostGrowth), and
// C = k·(1 − l) + T.
func leastThickened(limbs limbSteps, thicken int64) int64 {
	l := limbs[len(limbs)-1]
	k := ceilDiv(big.NewInt(thicken*million), big.NewInt(l+2*million/mostGrowth))
	return thicken + ceilDiv(big.NewInt(k*(million-l)), big.NewInt(million))
}
