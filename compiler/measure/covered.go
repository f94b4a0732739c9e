package measure

import (
	"fmt"
	"slices"
	"strings"

	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// mostOff is how far the covered book may lie from its plan without a warning; a choice.
var mostOff = unit.MM(1)

// onBook puts what was measured over the leather of the covered book in place of what was planned: the strip is the face of
// a spine, and so are calipers across a flat one.
func (w *Widths) onBook(v model.Volume, shown unit.Unit) {
	c := v.Covered
	if c == nil {
		return
	}
	face := c.Strip
	switch {
	case c.Caliper == nil:
	case face == nil && !w.Round:
		face = c.Caliper
	default:
		plan := sum("straight across, over the leather", shown, plus(w.Shoulders), times(2, w.Leather))
		w.Shoulders = given(plan.Name, *c.Caliper)
		if !v.BackUnsaid() {
			w.Shoulders.Plan = plan
		}
	}
	if face != nil {
		plan := w.SpineWide
		w.SpineWide = given(plan.Name, *face)
		if !v.BackUnsaid() {
			w.SpineWide.Plan = plan
		}
	}
}

// Covered puts the stations that were measured on the covered book in place of the planned ones.
func Covered(v model.Volume, w Widths, b model.Bands, s Spine, origins *source.Origins, list *diag.List) Spine {
	c := v.Covered
	if v.Spoilt || c == nil || c.Stations == nil || list.Spoilt(v.Key) {
		return s
	}
	if len(c.Stations) != len(s.Bands) {
		planned := "no bands are planned"
		if len(s.Bands) > 0 {
			planned = fmt.Sprintf("%d bands are planned", len(s.Bands))
		}
		list.Add(diag.Diagnostic{
			Code: "wrong-count", At: origins.Span(c.BandsOrigin), Volume: v.Key,
			Message: fmt.Sprintf("%s, and %d were measured on the covered book", planned, len(c.Stations)),
			Try:     []string{"measure every band, from the head down", "say in the spine how many there are: bands " + fmt.Sprint(len(c.Stations)) + " equal"},
		})
		return s
	}
	shown := s.Tall.Shown()
	out := s
	out.Bands, out.Panels, out.Marks = nil, nil, nil // what was marked before sewing is done with
	for i, band := range s.Bands {
		f := model.Figure{Length: c.Stations[i], From: model.OnBook, Note: c.Date, Origin: c.BandsOrigin}
		centre := given(band.Centre.Name, f)
		if c.UpperEdges {
			centre = sum(band.Centre.Name, shown, plus(given("its upper edge", f)), share(half, given("bands, wide", b.Wide)))
		}
		centre.Plan = band.Centre
		out.Bands = append(out.Bands, Band{Number: band.Number, Centre: centre, Wide: band.Wide})
	}
	out.panels(w, b)
	return out
}

// OffPlan warns where bands stand far from their plan. It is another step, since a plan can hang on another volume's, which
// may not have been understood.
func OffPlan(v model.Volume, s Spine, origins *source.Origins, list *diag.List) {
	var centres []*Term
	for _, b := range s.Bands {
		centres = append(centres, b.Centre)
	}
	if off := farOff(centres...); off != nil {
		list.Add(offPlan(off, origins.Span(v.Covered.BandsOrigin), v.Key))
	}
}

// Again lists the figures that were measured again on the covered book, each with its plan.
func Again(w Widths, s Spine) []*Term {
	all := []*Term{w.SpineWide, w.Shoulders}
	for _, b := range s.Bands {
		all = append(all, b.Centre)
	}
	return slices.DeleteFunc(all, func(t *Term) bool { return t.Plan == nil })
}

// farOff picks the figures that lie further from their plan than they should.
func farOff(all ...*Term) []*Term {
	var out []*Term
	for _, t := range all {
		if t.Plan == nil {
			continue
		}
		if d := t.Length.Sub(t.Plan.Length); d.Cmp(mostOff) > 0 || d.Neg().Cmp(mostOff) > 0 {
			out = append(out, t)
		}
	}
	return out
}

func offPlan(off []*Term, at source.Span, volume string) diag.Diagnostic {
	var parts []string
	for _, t := range off {
		parts = append(parts, fmt.Sprintf("«%s» %s, %s", t.Name, t.Length, t.OffPlan()))
	}
	return diag.Diagnostic{
		Severity: diag.Warning, Code: "covered-differs", At: at, Volume: volume,
		Message: "the covered book is not as it was planned: " + strings.Join(parts, "; "),
		Try:     []string{"measure again; what is measured is taken", "look at the preview again"},
	}
}
