package preview

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"headcap/compiler/geom"
)

func hex(t *testing.T, s string) Colour {
	t.Helper()
	c, err := ParseColour(s)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestParseColour(t *testing.T) {
	if c := hex(t, "#1F3d33"); c != (Colour{0x1f, 0x3d, 0x33}) || c.String() != "#1f3d33" {
		t.Errorf("#1F3d33 is %v", c)
	}
	for _, s := range []string{"", "#123", "1f3d33", "#1f3d3g", "#+12345", "#1f3d334"} {
		if c, err := ParseColour(s); err == nil {
			t.Errorf("%q is taken for %v", s, c)
		}
	}
}

// The colours that these leathers and films were seen to take on, when the numbers were chosen.
func TestLightOnLeatherAndFilm(t *testing.T) {
	for _, c := range []struct{ leather, glow string }{
		{"#1f3d33", "#729085"}, {"#5a2226", "#b47677"}, {"#8a5a34", "#ffcfa8"},
	} {
		if got := hex(t, c.leather).glow().String(); got != c.glow {
			t.Errorf("light on %s is %s, want %s", c.leather, got, c.glow)
		}
	}
	gold := hex(t, "#b3924f")
	if got := gold.lit(1.15).String(); got != "#d6b168" {
		t.Errorf("old gold at 115 %% is %s", got)
	}
	if got := gold.lit(0.85).String(); got != "#917437" {
		t.Errorf("old gold at 85 %% is %s", got)
	}
	if got := gold.lit(1); got != gold {
		t.Errorf("old gold at 100 %% is %v", got)
	}
}

func TestPowersAgreeWithTheLibrary(t *testing.T) {
	near := func(name string, x, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-14*max(1, want) {
			t.Errorf("%s of %v is %v, want %v", name, x, got, want)
		}
	}
	for i := range 2001 {
		x := float64(i) / 1000
		near("cube root", x, root(x, 3), math.Cbrt(x))
		near("fifth root", x, root(x, 5), math.Pow(x, 0.2))
		near("power 0.9", x, power09(x), math.Pow(x, 0.9))
		near("power 1.2", x, power12(x), math.Pow(x, 1.2))
		near("decay", 5*x, decay(5*x), math.Exp(-5*x))
	}
	for _, x := range []float64{1e-300, 1e-9, 7e11} {
		if got, want := root(x, 5), math.Pow(x, 0.2); math.Abs(got/want-1) > 1e-14 {
			t.Errorf("fifth root of %v is %v, want %v", x, got, want)
		}
	}
}

// at is a gradient's opacity at a part of its way.
func at(g *Linear, u float64) float64 {
	for i, s := range g.Stops[1:] {
		if before := g.Stops[i]; u <= s.At {
			return before.Opacity + (s.Opacity-before.Opacity)*(u-before.At)/(s.At-before.At)
		}
	}
	return g.Stops[len(g.Stops)-1].Opacity
}

func TestShadeOfTheRound(t *testing.T) {
	for _, c := range []struct {
		width float64
		want  [7]float64 // at 0, the shoulder, 1/4, 1/2, 3/4, the other shoulder, 1
	}{
		{14, [7]float64{.43, .03, .06, .12, .20, .26, .62}},
		{28, [7]float64{.42, 0, .03, .12, .26, .40, .76}},
		{58, [7]float64{.53, .08, .01, .12, .34, .65, .88}},
	} {
		w := mm(c.width)
		sheen, shade := roundLight(w, true, Colour{})
		s := float64(shoulder(w)) / float64(w)
		for i, u := range []float64{0, s, .25, .5, .75, 1 - s, 1} {
			if got := at(shade, u); math.Abs(got-c.want[i]) > 0.011 {
				t.Errorf("a back of %v mm has shade %.3f at %.3f, want %.2f", c.width, got, u, c.want[i])
			}
		}
		if left, right := at(sheen, 0.28), at(sheen, 0.8); left < 0.15 || right > 0.02 {
			t.Errorf("a back of %v mm shines %.3f on the lit side and %.3f on the other", c.width, left, right)
		}
	}
}

func TestFlatBackIsShadedEvenly(t *testing.T) {
	_, shade := roundLight(mm(40), false, Colour{})
	if d := at(shade, 0.9) - at(shade, 0.1); d > 0.1 {
		t.Errorf("the shade of a flat back differs by %.3f from side to side", d)
	}
	_, round := roundLight(mm(40), true, Colour{})
	if d := at(round, 0.9) - at(round, 0.1); d < 0.3 {
		t.Errorf("the shade of a round back differs by only %.3f from side to side", d)
	}
}

func TestShiningFilmHasMoreContrast(t *testing.T) {
	contrast := func(f Finish) float64 {
		g := Film{Colour: hex(t, "#b3924f"), Finish: f}.onSpine(mm(30), true)
		lo, hi := 2.0, 0.0
		for _, s := range g.Stops {
			l := s.Colour.oklab().L
			lo, hi = min(lo, l), max(hi, l)
		}
		return hi - lo
	}
	if m, s, b := contrast(Matt), contrast(Satin), contrast(Bright); m >= s || s >= b {
		t.Errorf("contrasts of matt, satin and bright are %.3f, %.3f, %.3f", m, s, b)
	}
}

func TestGrainClosesAtTheRimOfItsTile(t *testing.T) {
	tile := pebbles()
	var inside int
	starts := map[geom.Point]bool{}
	for _, c := range tile {
		starts[c.Segments[0].P0] = true
	}
	for _, c := range tile {
		p := c.Segments[0].P0
		if p.X >= 0 && p.X < mm(grainTile) && p.Y >= 0 && p.Y < mm(grainTile) {
			inside++
		}
		// A pebble whose outline crosses the left rim is there again on the right.
		crosses := false
		for _, s := range c.Segments {
			crosses = crosses || (s.P0.X < 0) != (s.P3.X < 0)
		}
		if q := (geom.Point{X: p.X + mm(grainTile), Y: p.Y}); crosses && !starts[q] {
			t.Errorf("the pebble at %v is not repeated at %v", p, q)
		}
	}
	if inside < grainAcross*grainAcross-2 || inside > grainAcross*grainAcross+2 {
		t.Errorf("%d pebbles begin in the tile", inside)
	}
}

// A strip of squeezed grain must show at its edge the same place of the skin as the strip beside it, or a seam is seen.
func TestSqueezedGrainHasNoSeams(t *testing.T) {
	b := Book{Round: true, Spine: Face{Width: mm(58), Height: mm(200)}}
	items := drawnOver(b, rectangle(0, 0, mm(58), mm(200)))
	strips := items[2].(Group).Items
	if len(strips) < 6 {
		t.Fatalf("%d fills of grain", len(strips))
	}
	// The place of the skin at a place of the picture, by the inverse of the pattern's transform.
	skinAt := func(set geom.Transform, x, y float64) (u, v float64) {
		x, y = x-float64(set.E), y-float64(set.F)
		det := set.A*set.D - set.B*set.C
		return (set.D*x - set.C*y) / det, (set.A*y - set.B*x) / det
	}
	for i := 2; i < len(strips); i++ {
		left, right := strips[i-2].(Fill), strips[i].(Fill)
		seam := float64(right.Outline.Path[0].Segments[0].P0.X)
		u0, v0 := skinAt(left.Paint.(*Pattern).Set, seam, 0)
		u1, v1 := skinAt(right.Paint.(*Pattern).Set, seam, 0)
		if math.Abs(u0-u1) > 1000 || math.Abs(v0-v1) > 1000 {
			t.Errorf("at %.1f mm the skin jumps from %.0f, %.0f to %.0f, %.0f nm", seam/1e6, u0, v0, u1, v1)
		}
	}
}

// Functions of the library that give other last bits on other processors.
func TestNoProcessorsOwnFunctions(t *testing.T) {
	same := map[string]bool{"Sqrt": true, "Round": true, "Frexp": true, "Ldexp": true, "Pi": true}
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("the package's files: %d, %v", len(files), err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := s.X.(*ast.Ident); ok && x.Name == "math" && !same[s.Sel.Name] {
					t.Errorf("%s uses math.%s", name, s.Sel.Name)
				}
			}
			return true
		})
	}
}
