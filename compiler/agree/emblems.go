package agree

import (
	"fmt"
	"math/big"

	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// Emblems decides how tall each centre with `fill` stands: one height for a series and statement, the largest at which no
// stamp takes more than its share of the clear box, in every volume that counts; or each its own. The heights stand in the
// order of the places, 0 where there is none.
func Emblems(places []Place, shelf *model.Shelf, origins *source.Origins, list *diag.List) ([]int64, []Shared) {
	own := make([]int64, len(places))
	for i, p := range places {
		own[i] = p.most()
	}
	out := make([]int64, len(places))
	var shared []Shared
	done := map[string]bool{}
	for i, p := range places {
		if p.Series < 0 || p.Centre.Each || p.Apart {
			out[i] = p.height(own[i], shelf, origins, list)
			continue
		}
		group := fmt.Sprintf("%d %s", p.Series, p.Key)
		if done[group] {
			continue
		}
		done[group] = true
		sh := Shared{Series: p.Series, Key: p.Key, What: "the emblem of " + p.Where, SetBy: -1}
		for j, o := range places {
			if o.Series != p.Series || o.Key != p.Key || o.Centre.Each || !o.Counts || own[j] < o.least() {
				continue
			}
			if sh.Size == 0 || own[j] < sh.Size {
				sh.Size, sh.SetBy = own[j], o.Volume
			}
		}
		if sh.Size > 0 {
			shared = append(shared, sh)
		}
		for j, o := range places {
			if o.Series != p.Series || o.Key != p.Key || o.Centre.Each || o.Apart {
				continue
			}
			h := own[j]
			if sh.Size > 0 && h > sh.Size {
				h = sh.Size
			} else if sh.Size > 0 && h < sh.Size && h >= o.least() {
				v := shelf.Volumes[o.Volume]
				list.Add(diag.Diagnostic{
					Severity: diag.Warning, Code: "own-size", At: origins.Span(o.Centre.Origin), Volume: v.Key,
					Message: fmt.Sprintf("the emblem stands %s tall in %s of %s, where the set has %s", tall(h), o.Where, VolumeName(v), tall(sh.Size)),
					Try:     []string{"right for a volume that stands apart; else a stamp of other proportions"},
				})
			}
			out[j] = o.height(h, shelf, origins, list)
		}
	}
	return out, shared
}

// most is the greatest height at which the stamp takes no more than its share, held under what the statement allows.
func (p Place) most() int64 {
	if p.ArtW <= 0 || p.ArtH <= 0 || p.Width <= 0 || p.Height <= 0 {
		return 0
	}
	byHeight := new(big.Rat).Mul(p.Centre.Fill, big.NewRat(p.Height, 1))
	byWidth := new(big.Rat).Mul(p.Centre.Fill, big.NewRat(p.Width, 1))
	byWidth.Mul(byWidth, big.NewRat(p.ArtH, p.ArtW))
	if byWidth.Cmp(byHeight) < 0 {
		byHeight = byWidth
	}
	h := new(big.Int).Div(byHeight.Num(), byHeight.Denom()).Int64()
	if m := p.Centre.Most; m != nil {
		h = min(h, m.Nanometres())
	} else if m := p.Centre.Least; m != nil {
		h = min(h, m.Nanometres())
	}
	if m := p.Centre.Most; m != nil && h == m.Nanometres() {
		return h
	}
	return h - h%step
}

func (p Place) least() int64 {
	if p.Centre.Least == nil {
		return 1
	}
	return p.Centre.Least.Nanometres()
}

// height gives the height, or tells that the least does not fit.
func (p Place) height(h int64, shelf *model.Shelf, origins *source.Origins, list *diag.List) int64 {
	if h >= p.least() && h > 0 {
		return h
	}
	v := shelf.Volumes[p.Volume]
	f, _ := p.Centre.Fill.Float64()
	list.Add(diag.Diagnostic{
		Code: "emblem-too-small", At: origins.Span(p.Centre.Origin), Volume: v.Key,
		Message: fmt.Sprintf("%.0f%% of %s in %s, %s wide and %s tall, is a stamp %s tall; the least is %s", f*100, p.Where, VolumeName(v), tall(p.Width), tall(p.Height), tall(h), tall(p.least())),
		Try:     []string{"allow a smaller one, or a larger share", "leave it out of this volume with `when`"},
	})
	return 0
}

func tall(nm int64) string { return unit.Nanometres(nm - nm%step).String() }
