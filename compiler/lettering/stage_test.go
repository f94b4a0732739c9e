package lettering

import (
	"testing"

	"headcap/compiler/geom"
)

// A joint whose waist fills: the limb is known as ever more beyond its growth.
func TestStagesFollowTheLimb(t *testing.T) {
	limbs := limbSteps{48_000, 48_000, 55_000, 69_000, 75_000, 75_000, 75_000}
	const thick = 500 * um
	p := Proportions{stages: stagesOf(limbs, thick), thicken: thick, least: leastThickened(limbs, thick)}
	// As drawn, then the three leaps and what follows each, and the first limb.
	if len(p.stages) != 1+1+2*3 {
		t.Errorf("there are %d stages", len(p.stages))
	}
	before := p.Nominal(15 * mm)
	for cap := 15 * mm; cap >= p.least; cap -= 7_919 {
		k, g := p.Nominal(cap), p.Grown(cap)
		if k > before || before-k > 10_000 {
			t.Fatalf("from %d to %d nm the nominal height goes from %d to %d", cap+7_919, cap, before, k)
		}
		before = k
		if !near(k+2*g, cap, 1) {
			t.Fatalf("drawn at %d and grown by %d: %d, wanted %d", k, g, k+2*g, cap)
		}
		// The limb as it is known at a growth, and at a little more.
		known := func(g int64) int64 {
			l := limbs[0]
			for i, at := range limbGrowths {
				if g*million >= at*k {
					l = limbs[i]
				}
			}
			return l*k/million + 2*g
		}
		switch {
		case known(g+2) < thick:
			t.Fatalf("at %d nm letters grow by %d, and the limb is %d", cap, g, known(g))
		case g > 2 && known(g-2) >= thick:
			t.Fatalf("at %d nm letters grow by %d, and less would do", cap, g)
		}
	}
	if even := stagesOf(limbSteps{70_000, 70_000, 70_000, 70_000, 70_000, 70_000, 70_000}, thick); len(even) != 2 {
		t.Errorf("a limb that only grows has %d stages", len(even))
	}
}

// The thinnest place of K is the waist of its joint. It fills sooner than limbs grow, and so at the sizes of titles the K
// asks for no more than other letters do.
func TestTheJointOfKDoesNotSetTheGrowth(t *testing.T) {
	s := Style{ThickenTo: 500 * um}
	with, without := proportions(t, "serif", "KERBS", s), proportions(t, "serif", "HERBS", s)
	for _, cap := range []int64{3500 * um, 3940 * um, 4300 * um} {
		if a, b := with.Grown(cap), without.Grown(cap); a != b {
			t.Errorf("at %d nm KERBS grows by %d nm, HERBS by %d", cap, a, b)
		}
	}
	if a, b := with.Grown(7500*um), without.Grown(7500*um); a <= b {
		t.Errorf("at 7.5 mm the waist is still open, but KERBS grows by %d nm, HERBS by %d", a, b)
	}
}

func TestLimbsAreMeasuredOnlyToThicken(t *testing.T) {
	f, err := Open("mine", bundledFace(t, "slab").data)
	if err != nil {
		t.Fatal(err)
	}
	set := func(s Style) (measured int) {
		s.Cap = 4 * geom.Millimetre
		if _, err := f.Set("I.", s, 0); err != nil {
			t.Fatal(err)
		}
		for _, g := range f.glyphs {
			if g.limbs != nil {
				measured++
			}
		}
		return measured
	}
	if n := set(Style{}); n != 0 {
		t.Errorf("the limbs of %d glyphs were measured for letters that are set as drawn", n)
	}
	if n := set(Style{ThickenTo: 300 * um}); n != 2 {
		t.Errorf("the limbs of %d glyphs were measured to thicken two", n)
	}
}
