package compiler_test

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"testing/fstest"

	"headcap/compiler"
	"headcap/compiler/drawing"
	"headcap/compiler/geom"
	"headcap/compiler/model"
	"headcap/lang/source"
	"headcap/stdlib"
)

// ownRolls are of kinds that the bundled set has none of: groups of two and of three, slack at the ends, no corner.
const ownRolls = `
stamp sprig { path "M-0.5 2L-1.8 -2L1.2 -1.4L0.6 2Z" }
stamp pearl { circle 2mm }
roll pairs { repeat sprig, pearl; pitch 5mm; space -2% to +8%; corner pearl }
roll threes { repeat pearl, sprig, pearl; pitch 4mm; space -3% to +9%; middle pearl; corner room 0mm to 2mm; corner pearl }
roll loose { repeat sprig; pitch 6mm; slack at ends; corner pearl }
roll bare { repeat pearl; pitch 3mm; space -2% to +10% }
`

// A rollJob is a cover with one roll round it, and nothing cut.
func rollJobs(t *testing.T) []compiler.Laid {
	t.Helper()
	var out []compiler.Laid
	for _, name := range append(stdlib.Names("roll"), "pairs", "threes", "loose", "bare") {
		laid, said := compiler.LaidOut(fstest.MapFS{"roll.headcap": {Data: []byte("language 1\n" + ownRolls + `
volume "Round" {
  cover 300mm x 220mm
  block 290mm x 215mm x 30mm
  leather black
  film gold
  front { frame outer { inset 12mm; roll ` + name + ` } }
}
`)}}, "roll.headcap")
		for _, d := range said.All() {
			if d.Severity == 0 {
				t.Errorf("roll %s: %s", name, d.Message)
			}
		}
		out = append(out, laid...)
	}
	return out
}

// A placed stamp of a run, with the middle of its box.
type placed struct {
	drawing.Shape
	box    geom.Box
	middle geom.Point
}

// A border is what one roll statement sets round one frame.
type border struct {
	where   string
	roll    *model.Roll
	units   []placed
	corners []placed
	centre  geom.Point // of its frame
}

// borders finds the rolls of a volume and what they set. A statement that serves several panels has a border in each.
func borders(v compiler.Laid) []*border {
	rolls := map[source.Origin]*model.Roll{}
	take := func(frames []model.Frame) {
		for _, f := range frames {
			for _, c := range f.Stack {
				if c.Roll != nil {
					rolls[c.Origin] = c.Roll
				}
			}
		}
	}
	take(v.Design.Spine.Whole.Frames)
	for _, p := range v.Design.Spine.Panels {
		take(p.Frames)
	}
	for _, c := range []*model.CoverDesign{v.Design.Front, v.Design.Back} {
		if c != nil {
			take(c.Frames)
		}
	}
	var out []*border
	byKey := map[string]*border{}
	for _, f := range v.Faces {
		for _, s := range f.Shapes {
			roll := rolls[s.Origin]
			if roll == nil || s.Kind != drawing.Unit && s.Kind != drawing.Corner {
				continue
			}
			p := placed{Shape: s, box: boxOf(s)}
			p.middle = p.box.Centre()
			where, centre := f.Name, geom.Point{X: f.Width / 2, Y: f.Height / 2}
			for _, panel := range v.Spine.Panels {
				if f.Name == "spine" && p.middle.Y > panel.Head.Nanometres() && p.middle.Y < panel.Tail.Nanometres() {
					where = fmt.Sprintf("panel %d", panel.Number)
					centre.Y = (panel.Head.Nanometres() + panel.Tail.Nanometres()) / 2
				}
			}
			key := fmt.Sprint(where, s.Origin)
			b := byKey[key]
			if b == nil {
				b = &border{where: fmt.Sprintf("%s on the %s of «%s»", roll.Name, where, v.Model.Name), roll: roll, centre: centre}
				byKey[key] = b
				out = append(out, b)
			}
			if s.Kind == drawing.Unit {
				b.units = append(b.units, p)
			} else {
				b.corners = append(b.corners, p)
			}
		}
	}
	return out
}

func TestRunsHoldWholeRepeats(t *testing.T) {
	check := func(t *testing.T, v compiler.Laid) (runs int) {
		for _, b := range borders(v) {
			t.Run(b.where, func(t *testing.T) {
				b.mirrored(t)
				for _, across := range []bool{true, false} {
					for _, far := range []bool{true, false} {
						b.side(t, across, far)
						runs++
					}
				}
			})
		}
		return runs
	}
	runs := 0
	forExamples(t, func(t *testing.T, j *job) {
		for _, v := range j.laid {
			runs += check(t, v)
		}
	})
	if runs == 0 {
		t.Error("no example has a roll")
	}
	for _, v := range rollJobs(t) {
		if check(t, v) == 0 {
			t.Errorf("there is no roll on «%s»", v.Model.Name)
		}
	}
}

// near says whether two lengths are the same on the grid of the files: two roundings, half a micrometre each, and what a
// box loses on the grid of a nanometre.
func near(a, b int64) bool { return max(a-b, b-a) <= micrometre+10 }

// mirrored sees that the border is its own image in both reflections about its frame's middle: a stamp for each stamp, of
// the other hand unless it stands on the axis.
func (b *border) mirrored(t *testing.T) {
	t.Helper()
	for _, u := range slices.Concat(b.units, b.corners) {
		x, y := 2*b.centre.X-u.middle.X, 2*b.centre.Y-u.middle.Y
		for _, image := range []geom.Point{{X: x, Y: u.middle.Y}, {X: u.middle.X, Y: y}} {
			if !slices.ContainsFunc(slices.Concat(b.units, b.corners), func(o placed) bool {
				onAxis := near(image.X, u.middle.X) && near(image.Y, u.middle.Y)
				return o.Name == u.Name && near(o.middle.X, image.X) && near(o.middle.Y, image.Y) && (onAxis || o.Place.Det()*u.Place.Det() < 0)
			}) {
				t.Errorf("the %s at %.3f, %.3f mm has no image at %.3f, %.3f", u.Name, mm(u.middle.X), mm(u.middle.Y), mm(image.X), mm(image.Y))
			}
		}
	}
}

// side looks at one run: its stamps stand at one pitch inside the give, from corner to corner, with half a space at each
// end and no part of a repeat left over.
func (b *border) side(t *testing.T, across, far bool) {
	t.Helper()
	along := func(p geom.Point) int64 {
		if across {
			return p.X
		}
		return p.Y
	}
	beyond := func(p geom.Point) bool {
		if across {
			return (p.Y > b.centre.Y) == far
		}
		return (p.X > b.centre.X) == far
	}
	middle := along(b.centre)
	var at, beads []int64
	var tie *placed
	for i, u := range b.units {
		if (math.Abs(u.Place.A) > 0.5) != across || !beyond(u.middle) {
			continue
		}
		switch {
		case b.roll.Middle != nil && u.Name == b.roll.Middle.Name && near(along(u.middle), middle):
			tie = &b.units[i]
		case b.roll.Between != nil && u.Name == b.roll.Between.Name:
			beads = append(beads, along(u.middle))
		default:
			at = append(at, along(u.middle))
		}
	}
	if len(at) < 2 || (b.roll.Middle != nil) != (tie != nil) {
		t.Fatalf("%d stamps, and a middle: %v", len(at), tie != nil)
	}
	slices.Sort(at)
	half := int64(0) // of what stands in the middle
	if tie != nil {
		half = (tie.box.Max.X - tie.box.Min.X) / 2
		if !across {
			half = (tie.box.Max.Y - tie.box.Min.Y) / 2
		}
	}
	// The pitch over all of the run, so that no rounding adds up.
	n := int64(len(at))
	pitch := float64(at[n-1]-at[0]-2*half) / float64(n-1)
	least, _ := b.roll.Least.Float64()
	most, _ := b.roll.Most.Float64()
	if b.roll.Slack {
		least, most = 0, 0
	}
	own := float64(b.roll.Pitch.Nanometres())
	if pitch < own*(1+least)-micrometre || pitch > own*(1+most)+micrometre {
		t.Errorf("stamps stand at %.4f mm; the roll's pitch is %.4f and gives %v to %v", pitch/1e6, own/1e6, least, most)
	}
	for i, u := range at {
		want := float64(at[0]) + float64(i)*pitch
		if u > middle {
			want += float64(2 * half)
		}
		if !near(u, int64(math.Round(want))) {
			t.Errorf("stamp %d of %d stands at %.4f mm, not at %.4f", i+1, n, mm(u), want/1e6)
		}
	}
	for _, u := range beads {
		from := float64(u - at[0])
		if u > middle && tie != nil {
			from -= float64(2 * half)
		}
		if steps := from/pitch - 0.5; math.Abs(steps-math.Round(steps))*pitch > 2*micrometre {
			t.Errorf("the %s at %.4f mm does not stand between two stamps", b.roll.Between.Name, mm(u))
		}
	}
	b.ends(t, across, far, at, pitch)
}

// ends sees that half a pitch and the corner room, the same everywhere, part the first stamp from the corner.
func (b *border) ends(t *testing.T, across, far bool, at []int64, pitch float64) {
	t.Helper()
	for _, c := range b.corners {
		line := geom.Point{X: c.Place.E, Y: c.Place.F}
		if across && (c.middle.Y > b.centre.Y) != far || !across && (c.middle.X > b.centre.X) != far {
			continue
		}
		// A corner takes its box along the run, the longer arm on both of its sides.
		reach := max(inward(line.X, c.box.Min.X, c.box.Max.X, b.centre.X), inward(line.Y, c.box.Min.Y, c.box.Max.Y, b.centre.Y))
		from, first := line.X, at[0]
		if !across {
			from = line.Y
		}
		end := from + reach
		if from > at[0] {
			end, first = from-reach, at[len(at)-1]
		}
		room := math.Abs(float64(first-end)) - pitch/2
		least, most := float64(b.roll.RoomLeast.Nanometres()), float64(b.roll.RoomMost.Nanometres())
		if b.roll.Slack {
			most = pitch
		}
		if room < least-2*micrometre || room > most+2*micrometre {
			t.Errorf("%.4f mm are left over beside a corner, where the roll gives %v to %v", room/1e6, b.roll.RoomLeast, b.roll.RoomMost)
		}
	}
}

// inward is how far a box from least to most reaches from a point towards the middle.
func inward(from, least, most, middle int64) int64 {
	if from < middle {
		return most - from
	}
	return from - least
}
