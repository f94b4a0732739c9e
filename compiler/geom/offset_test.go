package geom

import (
	"math"
	"testing"
)

func totalArea(shapes []Shape) float64 {
	sum := 0.0
	for _, s := range shapes {
		sum += s.Area()
	}
	return sum
}

func nodes(shapes []Shape) int {
	n := 0
	for _, c := range Paths(shapes) {
		n += len(c.Segments)
	}
	return n
}

// shapesOf are the shapes of SVG path data in millimetres, filled by the non-zero rule.
func shapesOf(t testing.TB, d string) []Shape {
	t.Helper()
	p, err := ParsePath(d, Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Fuse([]Operand{{Path: p}}, 500)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func offsetOf(t testing.TB, s []Shape, d int64, join Join, tol int64) []Shape {
	t.Helper()
	out, err := Offset(s, d, join, 0, tol)
	if err != nil {
		t.Fatal(err)
	}
	if err := topology(out, 100); err != nil {
		t.Error(err)
	}
	for _, c := range Paths(out) {
		if !c.Closed || c.Segments[len(c.Segments)-1].P3 != c.Segments[0].P0 {
			t.Error("a contour is not closed")
		}
	}
	return out
}

const mm2 = 1e12 // square nanometres in a square millimetre

func TestOffsetOfASquare(t *testing.T) {
	square := shapesOf(t, "M0 0H20V20H0Z")
	for _, c := range []struct {
		name  string
		d     int64
		join  Join
		area  float64 // mm²
		nodes int
	}{
		{"grown with mitres", 3 * Millimetre, Mitre, 26 * 26, 4},
		{"grown with bevels", 3 * Millimetre, Bevel, 26*26 - 4*9/2.0, 8},
		{"grown round", 3 * Millimetre, RoundJoin, 20*20 + 4*20*3 + math.Pi*9, 12},
		{"shrunk", -3 * Millimetre, RoundJoin, 14 * 14, 4},
		{"left alone", 0, Mitre, 20 * 20, 4},
		{"shrunk to nothing", -10 * Millimetre, Mitre, 0, 0},
		{"shrunk past nothing", -11 * Millimetre, Mitre, 0, 0},
	} {
		got := offsetOf(t, square, c.d, c.join, 1000)
		if a := totalArea(got) / mm2; math.Abs(a-c.area) > 1e-3 {
			t.Errorf("%s: %v mm², want %v", c.name, a, c.area)
		}
		if n := nodes(got); n != c.nodes && !(c.join == RoundJoin && c.d > 0 && n <= c.nodes) {
			t.Errorf("%s: %d nodes, want %d: %v", c.name, n, c.nodes, got)
		}
	}
}

func TestOffsetOfASlantedSquareHasFourCorners(t *testing.T) {
	for deg := 1.0; deg < 90; deg += 7.3 {
		s := Turn(deg).Shape(Shape{Outer: Rect(-10e6, -10e6, 10e6, 10e6)})
		for _, d := range []int64{3e6, -3e6} {
			got := offsetOf(t, []Shape{s}, d, Mitre, 1000)
			side := 20 + 2*float64(d)/1e6
			if a := totalArea(got) / mm2; nodes(got) != 4 || math.Abs(a-side*side) > 4*side*1e-6 {
				t.Errorf("at %v° by %d: %d nodes, %v mm²", deg, d, nodes(got), a)
			}
		}
	}
}

func TestAHoleSmallerThanTheDistanceVanishes(t *testing.T) {
	for _, hole := range []string{
		"M9 9V11H11V9Z",
		"M9 10A1 1 0 0 0 11 10A1 1 0 0 0 9 10Z",
		"M8.6 9L9 11.3L10.2 9.8L11.3 11L11.1 8.8Z",
		"M10 10V10.001H10.001V10Z",
	} {
		s := shapesOf(t, "M0 0H20V20H0Z"+hole)
		if len(s) != 1 || len(s[0].Holes) != 1 {
			t.Fatalf("%s: no hole to begin with", hole)
		}
		for _, d := range []int64{1_500_000, 2_000_000, 5_000_000, 20_000_000} {
			got := offsetOf(t, s, d, RoundJoin, 2000)
			if len(got) != 1 || len(got[0].Holes) != 0 {
				t.Errorf("%s grown by %d: %v", hole, d, got)
			}
		}
	}
}

func TestOffsetOfACircleIsACircle(t *testing.T) {
	const r = 5
	s := []Shape{{Outer: Circle(Point{}, r*Millimetre)}}
	for _, d := range []float64{3, 0.1, -0.1, -3, -4.9} {
		got := offsetOf(t, s, int64(d*1e6), Mitre, 2000)
		if a, want := totalArea(got)/mm2, math.Pi*(r+d)*(r+d); math.Abs(a-want) > 2*math.Pi*(r+d)*0.0005+1e-6 {
			t.Errorf("by %v: %v mm², want %v", d, a, want)
		}
		if n := nodes(got); n > 16 {
			t.Errorf("by %v: %d nodes", d, n)
		}
		for _, p := range Points(got[0].Outer, 100) {
			if off := toVec(p).length() - (r+d)*1e6; math.Abs(off) > 2000 {
				t.Errorf("by %v: %v nm off the true circle", d, off)
				break
			}
		}
	}
}

func TestShrinkingCutsAtANeck(t *testing.T) {
	dumbbell := shapesOf(t, "M0 0H10V4H20V0H30V10H20V6H10V10H0Z")
	if got := offsetOf(t, dumbbell, -900_000, RoundJoin, 1000); len(got) != 1 {
		t.Errorf("a neck of 2 mm survives 0.9 mm: %d pieces", len(got))
	}
	got := offsetOf(t, dumbbell, -1_100_000, RoundJoin, 1000)
	// Each square is left with a bump towards the neck, between the arcs about the neck's two corners.
	const d = 1.1
	bump := 2 * (d - (math.Sqrt(d*d-1)+d*d*math.Asin(1/d))/2)
	if a := totalArea(got) / mm2; len(got) != 2 || math.Abs(a-2*(7.8*7.8+bump)) > 1e-3 {
		t.Errorf("a neck of 2 mm does not survive 1.1 mm: %d pieces, %v mm²", len(got), a)
	}
}

func TestACurlOfLessThanTheToleranceLeavesNoSlit(t *testing.T) {
	// A needle 5.6 mm long, with a curl of 70 nm at its root: the line fitted about it ran 100 nm past its neighbour and
	// left a hole in the needle.
	s := []Shape{{Outer: Contour{Closed: true, Segments: []Segment{
		Cubic(Point{-346, 0}, Point{0, -873992}, Point{0, 68}, Point{-1, 0}),
		Line(Point{-1, 0}, Point{0, -948}),
		Line(Point{0, -948}, Point{5618780, 0}),
		Line(Point{5618780, 0}, Point{0, 90}),
		Cubic(Point{0, 90}, Point{0, 0}, Point{0, 0}, Point{-346, 0}),
	}}}}
	got := offsetOf(t, s, 10_000, Mitre, 2000)
	if len(got) != 1 || len(got[0].Holes) != 0 {
		t.Errorf("%v", got)
	}
}

func TestTheTipOfANeedleIsGoneRound(t *testing.T) {
	// Its two curves leave the tip in directions 4e-6 apart, and that the wrong way round.
	tip := Point{4590338, -3070}
	s := []Shape{{Outer: Contour{Closed: true, Segments: []Segment{
		Cubic(Point{0, 0}, Point{3, -41}, Point{202, 0}, tip),
		Cubic(tip, Point{-3, -17}, Point{345, 20_000_000}, Point{0, 0}),
	}}}}
	const d = 1575148
	got := offsetOf(t, s, d, RoundJoin, 2000)
	if right := BoundsOf(got).Max.X; abs64(right-tip.X-d) > 2000 {
		t.Errorf("it ends at %d, want %d", right, tip.X+d)
	}
}

func TestACornerThatCurlsIsGoneRound(t *testing.T) {
	// The curve runs past the corner and back within a nanometre, so that it seems to turn by −270° and not by 90°.
	s := []Shape{{Outer: Contour{Closed: true, Segments: []Segment{
		Cubic(Point{-8446617, -435308}, Point{-6997991, 61}, Point{4042, -7}, Point{0, -40}),
		Line(Point{0, -40}, Point{0, 0}),
		Line(Point{0, 0}, Point{-12249, 16078528}),
		Line(Point{-12249, 16078528}, Point{-8446617, -435308}),
	}}}}
	const d = 2 * Millimetre
	got := offsetOf(t, s, d, RoundJoin, 2000)
	for _, deg := range []float64{-80, -45, -10} {
		sin, cos := SinCos(deg)
		if p := (vec{cos, sin}).times(float64(d - 3000)).grid(); !Contains(got[0], p, 100) {
			t.Errorf("%v, at %v° from the corner and nearer than the distance, is left out", p, deg)
		}
	}
}

func TestOffsetKeepsTags(t *testing.T) {
	c := Rect(0, 0, 10e6, 10e6)
	for i := range c.Segments {
		c.Segments[i].Tag = int32(i + 1)
	}
	got := offsetOf(t, []Shape{{Outer: c}}, 1e6, Mitre, 1000)
	seen := map[int32]int{}
	for _, s := range got[0].Outer.Segments {
		seen[s.Tag]++
	}
	for i := int32(1); i <= 4; i++ {
		if seen[i] != 1 {
			t.Errorf("tag %d stands on %d sides", i, seen[i])
		}
	}
}

func TestOffsetRefuses(t *testing.T) {
	s := []Shape{{Outer: Rect(0, 0, 10, 10)}}
	if _, err := Offset(s, 1, Mitre, 0.5, 10); !matches("mitre limit of 0.5", errorText(err)) {
		t.Errorf("a limit below 1: %v", err)
	}
	if _, err := Offset(s, 1, Mitre, 4, 0); !matches("tolerance of 0", errorText(err)) {
		t.Errorf("no tolerance: %v", err)
	}
	if _, err := Offset([]Shape{{Outer: Rect(0, 0, Reach, 10)}}, 1000, Mitre, 4, 10); !matches("more than one metre", errorText(err)) {
		t.Errorf("out of reach: %v", err)
	}
}

func errorText(err error) string {
	if err == nil {
		return "no error"
	}
	return err.Error()
}
