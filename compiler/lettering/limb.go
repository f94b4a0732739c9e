package lettering

import (
	"cmp"
	"fmt"
	"slices"

	"headcap/compiler/geom"

	"github.com/go-text/typesetting/font"
)

// A knownLimb is the thinnest limb of one glyph, in millionths of the cap height. Those of the bundled faces' common
// glyphs stand in a table, since measuring them anew would take longer than all else that is done with letters.
type knownLimb struct {
	id   uint16
	limb int32
}

//go:generate go test -run TestLimbTables -timeout 30m -update .

const (
	notMeasured = 0

	// Limbs are measured once, with the capitals 10 mm tall.
	limbCap = 10 * geom.Millimetre
	// thickestLimb is how far a thinnest limb is looked for: what has none up to a fifth of the cap height (a full stop,
	// the stem of an I) counts as having that.
	thickestLimb = limbCap / 5
	// limbBracket is how closely a limb is found, and limbDoubt by how much more geom may see it as wider than it is.
	limbBracket = limbCap / 2000
	limbDoubt   = 5 * geom.Micrometre
	// Where a thinner limb turns up than the thinnest that was found, widths are tried one by one, from firstWidth on in
	// steps of widthStep hundredths: from thin to thick, since a neck is not seen as one at a width that the parts on both
	// sides of it do not have either.
	firstWidth = limbCap * 3 / 100
	widthStep  = 115
)

// thinnest is the thinnest limb of all the glyphs, in millionths of the cap height.
func (f *Face) thinnest(lines [][]placed) (int64, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	out := thickestLimb * million / limbCap
	for _, glyphs := range lines {
		for _, p := range glyphs {
			if p.g.limb == notMeasured {
				l, err := f.limbOf(p.id, p.g)
				if err != nil {
					return 0, err
				}
				p.g.limb = l
			}
			out = min(out, p.g.limb)
		}
	}
	return out, nil
}

func (f *Face) limbOf(id font.GID, g *glyph) (int64, error) {
	i, known := slices.BinarySearchFunc(f.limbs, id, func(k knownLimb, id font.GID) int { return cmp.Compare(font.GID(k.id), id) })
	if known {
		return int64(f.limbs[i].limb), nil
	}
	return f.measureLimb(id, g)
}

// measureLimb measures a glyph's thinnest limb on its outline.
func (f *Face) measureLimb(id font.GID, g *glyph) (int64, error) {
	shapes, err := fused(mapped(g.path, func(q geom.Point) geom.Point {
		return geom.Point{X: mulDiv(q.X, limbCap, f.capHeight), Y: mulDiv(q.Y, limbCap, f.capHeight)}
	}), 0)
	if err == nil {
		var width int64
		if width, err = thinnestLimbOf(shapes); err == nil {
			return width * million / limbCap, nil
		}
	}
	return 0, fmt.Errorf("measuring the limbs of glyph %d of face %q: %w", id, f.name, err)
}

// thinnestLimbOf is a width that no limb of the shapes is under, and little less than that of the thinnest.
func thinnestLimbOf(shapes []geom.Shape) (int64, error) {
	width, _, found, err := geom.ThinnestLimb(shapes, thickestLimb, limbBracket)
	if err != nil {
		return 0, err
	}
	if !found {
		width = thickestLimb
	}
	under, err := geom.LimbsUnder(shapes, width*97/100)
	if err != nil {
		return 0, err
	}
	if len(under) > 0 {
		if width, err = fromThin(shapes, width); err != nil {
			return 0, err
		}
	} else if !found {
		return thickestLimb, nil
	}
	return max(width-limbBracket-limbDoubt, limbBracket), nil
}

// fromThin looks for the thinnest limb from thin to thick, up to a width.
func fromThin(shapes []geom.Shape, most int64) (int64, error) {
	low, high := int64(0), int64(firstWidth)
	for found := false; !found && low < most; {
		under, err := geom.LimbsUnder(shapes, high)
		if err != nil {
			return 0, err
		}
		if found = len(under) > 0; !found {
			low, high = high, min(high*widthStep/100, most)
		}
	}
	for high-low > limbBracket {
		middle := (low + high) / 2
		under, err := geom.LimbsUnder(shapes, middle)
		if err != nil {
			return 0, err
		}
		if len(under) > 0 {
			high = middle
		} else {
			low = middle
		}
	}
	return high, nil
}
