package compiler_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"headcap/compiler"
	"headcap/lang/unit"
)

// coveredBook is a flat case 35 wide over its leather, with bands planned at 41, 79, 117, 155 and 193 below the head.
const coveredBook = `language 1
volume "Turf" {
  block 228mm x 150mm x 28mm
  binding case { boards 2.5mm; squares 3mm; gap 7mm }
  leather tan 1mm
  %s
  spine { bands 5 equal; bands wide 4mm, clear 2mm each side; fillet 0.8mm beside bands }
}
`

// What was measured on the covered book beats the plan: the film is drawn to it.
func TestTheCoveredBookBeatsItsPlan(t *testing.T) {
	for _, c := range []struct {
		covered string
		wide    string
		bands   string
		told    []string
	}{
		{"", "35mm", "41 79 117 155 193", nil},
		{"covered 2026-05-03 { spine caliper 35.6mm }", "35.6mm", "41 79 117 155 193", nil},
		{"covered 2026-05-03 { spine strip 35.7mm }", "35.7mm", "41 79 117 155 193", nil},
		{"covered 2026-05-03 { spine strip 36.01mm }", "36.01mm", "41 79 117 155 193", []string{"warning covered-differs"}},
		{"covered 2026-05-03 { spine strip 36mm }", "36mm", "41 79 117 155 193", nil},
		{"covered 2026-05-03 { spine strip 38mm; spine caliper 36mm }", "38mm", "41 79 117 155 193", []string{"warning covered-differs"}},
		{"covered 2026-05-03 { bands at 41.4mm, 79mm, 116.2mm, 155mm, 193mm below head }", "35mm", "41.4 79 116.2 155 193", nil},
		{"covered 2026-05-03 { bands upper edges at 39mm, 77mm, 115mm, 153mm, 191.5mm }", "35mm", "41 79 117 155 193.5", nil},
		{"covered 2026-05-03 { bands at 41mm, 79mm, 117mm, 156.2mm, 194.2mm below head }", "35mm", "41 79 117 156.2 194.2", []string{"warning covered-differs"}},
		{"covered 2026-05-03 { bands at 41mm, 79mm, 117mm, 155mm below head }", "35mm", "41 79 117 155 193", []string{"error wrong-count"}},
		{"covered 2026-05-03 { bands at 41mm, 79mm, 117mm, 193mm, 155mm below head }", "35mm", "41 79 117 155 193", []string{"error bands-out-of-order"}},
	} {
		laid, list := compiler.LaidOut(files(fmt.Sprintf(coveredBook, c.covered)), entry)
		var told, bands []string
		for _, d := range list.All() {
			told = append(told, fmt.Sprint(d.Severity, " ", d.Code))
		}
		for i, b := range laid[0].Spine.Bands {
			centre := b.Centre.Length.As(unit.Millimetre)
			bands = append(bands, strings.TrimSuffix(centre.String(), "mm"))
			if drawn := laid[0].Faces[0].Bands[i].Centre; drawn != centre.Nanometres() {
				t.Errorf("%s: band %d is drawn at %d", c.covered, i+1, drawn)
			}
		}
		if wide := laid[0].Widths.SpineWide.Length.String(); wide != c.wide || laid[0].Faces[0].Width != laid[0].Widths.SpineWide.Length.Nanometres() {
			t.Errorf("%s: the spine is %s wide", c.covered, wide)
		}
		if got := strings.Join(bands, " "); got != c.bands {
			t.Errorf("%s: bands at %s", c.covered, got)
		}
		if !slices.Equal(told, c.told) {
			t.Errorf("%s: told %q", c.covered, told)
		}
	}
}

// Explain and the end of a build tell the difference from the plan in numbers, for each figure.
func TestTheDifferenceFromThePlanIsTold(t *testing.T) {
	const again = "covered 2026-05-03 { spine strip 35.6mm; bands at 40.8mm, 79mm, 117mm, 155mm, 193mm below head }"
	source := files(fmt.Sprintf(coveredBook, again))
	text := explained(t, source)
	text = strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"spine, wide 35.6mm measured on the covered book: 2026-05-03, 0.6mm more than planned as planned 35mm = straight across + 2 × leather",
		"band 1 40.8mm measured on the covered book: 2026-05-03, 0.2mm less than planned as planned 41mm = ",
		"band 2 79mm measured on the covered book: 2026-05-03, as planned as planned",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("explain does not say %q:\n%s", want, text)
		}
	}
	result, _ := compiler.Compile(context.Background(), source, entry, compiler.Options{})
	want := "«Turf» as covered on 2026-05-03: spine, wide 35.6mm (planned 35mm, 0.6mm more than planned); band 1 40.8mm (planned 41mm, 0.2mm less than planned); "
	if !slices.ContainsFunc(result.Summary, func(l string) bool { return strings.HasPrefix(l, want) }) {
		t.Errorf("a build ends with %q", result.Summary)
	}
}

// A strip over the covered round answers the question that a round spine leaves open; calipers alone do not.
func TestAStripOnTheCoveredBookSettlesARoundSpine(t *testing.T) {
	const laced = `language 1
volume "Turf" { block 228mm x 150mm x 28mm; binding laced { boards 3mm }; leather tan; covered 2026-05-03 { spine %s } }
`
	for measure, open := range map[string]bool{"strip 43mm": false, "caliper 35.8mm": true} {
		laid, _ := compiler.LaidOut(files(fmt.Sprintf(laced, measure)), entry)
		if got := len(laid[0].Widths.Open) > 0; got != open {
			t.Errorf("%s: open is %v", measure, got)
		}
	}
}

// Volumes that range with a covered first one take its stations as they are, and one that is covered itself keeps its own.
func TestRangingVolumesFollowTheCoveredFirst(t *testing.T) {
	const set = `language 1
series "Fen" {
  range from head
  spine { bands 2 equal }
  volume 1 "One" { block 228mm x 150mm x 28mm; covered 2026-05-03 { bands at 79.5mm, 155.2mm below head } }
  volume 2 "Two" { block 228mm x 150mm x 30mm }
  volume 3 "Three" { block 228mm x 150mm x 30mm; covered 2026-06-03 { bands at 79.1mm, 155mm below head } }
}
`
	laid, list := compiler.LaidOut(files(set), entry)
	var got []string
	for _, l := range laid {
		for _, b := range l.Spine.Bands {
			got = append(got, b.Centre.Length.String())
		}
	}
	if want := []string{"79.5mm", "155.2mm", "79.5mm", "155.2mm", "79.1mm", "155mm"}; !slices.Equal(got, want) || list.Errors() {
		t.Errorf("bands at %q; told\n%s", got, shown(list))
	}
}
