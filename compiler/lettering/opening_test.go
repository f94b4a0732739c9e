package lettering

import (
	"testing"

	"headcap/compiler/geom"
)

const basicLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789&"

// Every basic letter has limbs of the width asked for, in all of its stages of thickening, and keeps its outer extents to
// the point though its openings are kept.
func TestBasicLettersReachTheirWidth(t *testing.T) {
	for _, face := range BundledNames() {
		for _, cap := range []int64{3 * mm, 3940 * um, 5500 * um, 8 * mm} {
			s := Style{Cap: cap, ThickenTo: 505 * um, LeastGap: 255 * um, LeastGapAt: cap}
			for _, r := range basicLetters {
				l := setLine(t, face, string(r), s)
				under, err := geom.LimbsUnder(l.Shapes, s.ThickenTo-5*um)
				if err != nil {
					t.Fatal(err)
				}
				if len(under) > 0 {
					t.Errorf("%s %c at %d nm has thinner limbs at %v", face, r, cap, under)
				}
				b := geom.BoundsOf(l.Shapes)
				if !near(b.Width(), l.Width, 2*um) || !near(-b.Min.Y, l.Cap+l.Above, 2*um) || !near(b.Max.Y, l.Below, 2*um) {
					t.Errorf("%s %c at %d nm fills %v, reckoned as %d wide, %d above and %d below", face, r, cap, b, l.Width, l.Above, l.Below)
				}
			}
		}
	}
}

// narrowestOpening is the narrowest gap within the letters of a line, or most.
func narrowestOpening(t *testing.T, l Line, most int64) int64 {
	t.Helper()
	gap, _, found, err := geom.NarrowestGap(l.Shapes, most, um)
	if err != nil {
		t.Fatal(err)
	}
	if !found {
		return most
	}
	return gap
}

// Growing leaves of every opening as much as is asked for, or all that was drawn. Letters of one title are grown alike: here
// as the thinnest of all capitals and figures asks for.
func TestOpeningsStayOpen(t *testing.T) {
	const whole = "ABCDEFGHIJKLMNOPQRSTUVWXYZ 0123456789"
	for _, c := range []struct {
		face, text string
		caps       []int64
	}{
		{"serif", "EFKMRSWX5", []int64{3500 * um, 3940 * um}},
		{"serif", "ABCDGHJPQUZ0123469&", []int64{4500 * um}},
		{"slab", "EFGMS3456A", []int64{3500 * um, 4500 * um}},
	} {
		for _, cap := range c.caps {
			s := Style{Cap: cap, ThickenTo: 505 * um, LeastGap: 255 * um, LeastGapAt: cap, Whole: whole}
			for _, r := range c.text {
				l := setLine(t, c.face, string(r), s)
				open := narrowestOpening(t, l, s.LeastGap)
				if open > s.LeastGap-10*um {
					continue
				}
				drawn := setLine(t, c.face, string(r), Style{Cap: l.Nominal})
				if d := narrowestOpening(t, drawn, s.LeastGap); open < d-10*um {
					t.Errorf("%s %c at %d nm is open by %d, and was drawn open by %d", c.face, r, cap, open, d)
				}
			}
		}
	}
}

// The serifs of E come as near to each other as a fourteenth of its height. Grown without regard to that they would meet,
// and the neck between them would be a fifth of a millimetre.
func TestTheInnerSerifsOfEDoNotMeet(t *testing.T) {
	for _, c := range []struct{ cap, open int64 }{
		{3940 * um, 250 * um},
		{4500 * um, 250 * um},
		{3200 * um, 200 * um}, // as drawn: there was no more
	} {
		s := Style{Cap: c.cap, ThickenTo: 500 * um, Whole: "KEEPER"}
		l := setLine(t, "serif", "E", s)
		if len(l.Shapes) != 1 || len(l.Shapes[0].Holes) != 0 {
			t.Fatalf("an E of %d nm is %d pieces, with %d holes", c.cap, len(l.Shapes), len(l.Shapes[0].Holes))
		}
		if open := narrowestOpening(t, l, 300*um); open < c.open-10*um {
			t.Errorf("an E of %d nm is open by %d nm; %d are wanted", c.cap, open, c.open)
		}
	}
	// Where there is room for all of the growth, nothing is kept back.
	f := bundledFace(t, "serif")
	p := proportions(t, "serif", "H", Style{ThickenTo: 500 * um})
	num, den := p.ratio(6 * mm)
	drawn, err := fused(scaled(p.line.glyphs[0].g.path, num, den*p.cap), 0)
	if err != nil {
		t.Fatal(err)
	}
	g := growth{by: p.Grown(6 * mm), open: p.opening, limb: p.thicken}
	kept, err := g.grow(drawn, 6*mm)
	if err != nil {
		t.Fatal(err)
	}
	plain, err := geom.Offset(drawn, g.by, geom.Mitre, mitreLimit, curveTolerance)
	if err != nil {
		t.Fatal(err)
	}
	if kept[0].Area() != plain[0].Area() {
		t.Errorf("an H of %s that has room for its growth has another area: %v and %v", f.Name(), kept[0].Area(), plain[0].Area())
	}
}

// Where limbs and openings have no room beside each other, limbs come first. It is known that accents on capitals stand so
// close that at 4 mm this leaves less than a weedable gap, and that a small ring fills.
func TestLimbsComeBeforeOpenings(t *testing.T) {
	for _, c := range []struct {
		face, text string
		cap        int64
		from, to   int64
	}{
		{"serif", "&", 3500 * um, 140 * um, 200 * um},
		{"serif", "É", 3940 * um, 110 * um, 200 * um},
		{"serif", "É", 6 * mm, 250 * um, 255 * um},
	} {
		s := Style{Cap: c.cap, ThickenTo: 505 * um, LeastGap: 255 * um, LeastGapAt: c.cap}
		l := setLine(t, c.face, c.text, s)
		if open := narrowestOpening(t, l, s.LeastGap); open < c.from || open > c.to {
			t.Errorf("%s of %d nm is open by %d nm, not by %d to %d", c.text, c.cap, open, c.from, c.to)
		}
		under, err := geom.LimbsUnder(l.Shapes, s.ThickenTo-5*um)
		if err != nil {
			t.Fatal(err)
		}
		if len(under) > 0 {
			t.Errorf("%s of %d nm has thinner limbs at %v", c.text, c.cap, under)
		}
	}
	l := setLine(t, "slab", "Å", Style{Cap: 3940 * um, ThickenTo: 505 * um})
	for _, s := range l.Shapes {
		if b := s.Bounds(); b.Max.Y < -3*mm && len(s.Holes) > 0 {
			t.Errorf("the ring of Å has a pinhole, in %v", b)
		}
	}
}

// Narrow counters are kept open as the ways into others are.
func TestNarrowCountersStayOpen(t *testing.T) {
	bar := func(x0, y0, x1, y1 int64) geom.Contour { return geom.Rect(x0*um, y0*um, x1*um, y1*um) }
	for _, c := range []struct {
		name       string
		tall, left int64 // the counter, and what is left of it
	}{
		{"as much as is wanted", 360, 250},
		{"all that was drawn", 200, 200},
	} {
		drawn := []geom.Shape{{Outer: bar(0, 0, 3000, 2000+c.tall), Holes: []geom.Contour{bar(1000, 1000, 2000, 1000+c.tall).Reverse()}}}
		grown, err := growth{by: 100 * um, open: 250 * um, limb: 500 * um}.grow(drawn, 4*mm)
		if err != nil {
			t.Fatal(err)
		}
		if len(grown) != 1 || len(grown[0].Holes) != 1 {
			t.Fatalf("%s: %v", c.name, grown)
		}
		if b := (geom.Path{grown[0].Holes[0]}).Bounds(); !near(b.Height(), c.left*um, 4*um) {
			t.Errorf("%s: of a counter of %d µm %d nm are left", c.name, c.tall, b.Height())
		}
	}
}
