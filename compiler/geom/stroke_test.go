package geom

import (
	"math"
	"slices"
	"testing"
)

func strokeOf(t testing.TB, d string, pen Pen, tol int64) []Shape {
	t.Helper()
	p, err := ParsePath(d, Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Stroke(p, pen, tol)
	if err != nil {
		t.Fatal(err)
	}
	if err := topology(s, 100); err != nil {
		t.Errorf("%s: %v", d, err)
	}
	return s
}

func TestStrokeAreas(t *testing.T) {
	const w = 2 * Millimetre
	for _, c := range []struct {
		name, path string
		pen        Pen
		area       float64 // mm²
		nodes      int     // 0: any
	}{
		{"a line", "M0 0H10", Pen{Width: w}, 20, 4},
		{"a line with square caps", "M0 0H10", Pen{Width: w, Cap: SquareCap}, 24, 4},
		{"a line with round caps", "M0 0H10", Pen{Width: w, Cap: RoundCap}, 20 + math.Pi, 8},
		{"a slanted line", "M0 0L6 8", Pen{Width: w}, 20, 4},
		{"a slanted line with square caps", "M0 0L6 8", Pen{Width: w, Cap: SquareCap}, 24, 4},
		{"a frame with mitres", "M0 0H20V10H0Z", Pen{Width: w}, 60 * 2, 8},
		{"a frame with bevels", "M0 0H20V10H0Z", Pen{Width: w, Join: Bevel}, 60*2 - 4*0.5, 12},
		{"a frame with round joins", "M0 0H20V10H0Z", Pen{Width: w, Join: RoundJoin}, 60*2 - 4 + math.Pi, 12},
		{"an open right angle", "M0 0H10V10", Pen{Width: w}, 40, 6},
		{"a mitre at the limit", "M0 0H10V10", Pen{Width: w, MitreLimit: math.Sqrt2}, 40, 6},
		{"a mitre above the limit", "M0 0H10V10", Pen{Width: w, MitreLimit: 1.41}, 39.5, 7},
		// The mitre adds outside the corner what the two sides share inside it.
		{"a mitre of an acute corner", "M0 0H10L0 5", Pen{Width: w, MitreLimit: 10}, 2 * (10 + math.Sqrt(125)), 6},
		{"there and back", "M0 0H10H0", Pen{Width: w}, 20, 4},
		{"there and back, round", "M0 0H10H0", Pen{Width: w, Join: RoundJoin}, 20 + math.Pi/2, 0},
		{"a crossing", "M0 5H10M5 0V10", Pen{Width: w}, 36, 12},
		{"a figure of eight", "M0 0L10 10V0L0 10Z", Pen{Width: w, Join: Bevel}, 0, 0},
		{"a dot", "M5 5Z", Pen{Width: w, Cap: RoundCap}, math.Pi, 4},
		{"a square dot", "M5 5l0 0", Pen{Width: w, Cap: SquareCap}, 4, 4},
		{"no dot", "M5 5l0 0", Pen{Width: w}, 0, 0},
		{"no width", "M0 0H10", Pen{}, 0, 0},
		{"a half circle", "M0 0A10 10 0 0 1 20 0", Pen{Width: w}, math.Pi * 20, 12},
		{"a ring", "M0 0A10 10 0 0 1 20 0A10 10 0 0 1 0 0Z", Pen{Width: w}, math.Pi * 40, 24},
		{"a ring narrower than the pen", "M0 0A.5 .5 0 0 1 1 0A.5 .5 0 0 1 0 0Z", Pen{Width: w}, math.Pi * 1.5 * 1.5, 8},
	} {
		got := strokeOf(t, c.path, c.pen, 2000)
		if c.name == "a figure of eight" {
			if len(got) != 1 || len(got[0].Holes) != 2 {
				t.Errorf("%s: %v", c.name, got)
			}
			continue
		}
		if a := totalArea(got) / mm2; math.Abs(a-c.area) > 0.01 {
			t.Errorf("%s: %v mm², want %v", c.name, a, c.area)
		}
		if n := nodes(got); c.nodes > 0 && n > c.nodes || !curved(got) && c.nodes > 0 && n != c.nodes {
			t.Errorf("%s: %d nodes, want %d", c.name, n, c.nodes)
		}
	}
}

func curved(shapes []Shape) bool {
	for _, c := range Paths(shapes) {
		for _, s := range c.Segments {
			if !s.Line {
				return true
			}
		}
	}
	return false
}

func TestAFrameHasFourAndFourCorners(t *testing.T) {
	got := strokeOf(t, "M0 0H200V300H0Z", Pen{Width: 1_500_000}, 2000)
	if len(got) != 1 || len(got[0].Holes) != 1 {
		t.Fatalf("%d shapes", len(got))
	}
	want := map[Point]bool{}
	for _, r := range []Contour{Rect(-750_000, -750_000, 200_750_000, 300_750_000), Rect(750_000, 750_000, 199_250_000, 299_250_000)} {
		for _, s := range r.Segments {
			want[s.P0] = true
		}
	}
	for _, c := range got[0].Path() {
		if len(c.Segments) != 4 {
			t.Errorf("%d corners", len(c.Segments))
		}
		for _, s := range c.Segments {
			if !s.Line || !want[s.P0] {
				t.Errorf("a corner at %v", s.P0)
			}
		}
	}
}

func TestAStrokeThatEndsInACurlIsWhole(t *testing.T) {
	// The curve turns by 94° in its last nanometre, far more sharply than half the width: so its chord is gone by there,
	// and the butt end is square to another direction.
	c := Contour{Segments: []Segment{Cubic(Point{0, 0}, Point{0, 0}, Point{6401, -16}, Point{6400, 0})}}
	got, err := Stroke(Path{c}, Pen{Width: 10_000}, 2000)
	if err != nil {
		t.Fatal(err)
	}
	for x := int64(100); x < 6400; x += 100 {
		if !slices.ContainsFunc(got, func(s Shape) bool { return Contains(s, Point{x, -4}, 100) }) {
			t.Errorf("not covered at %d", x)
		}
	}
}

func TestDashes(t *testing.T) {
	const w = Millimetre
	dash := func(mm ...float64) []int64 {
		var out []int64
		for _, l := range mm {
			out = append(out, int64(l*1e6))
		}
		return out
	}
	for _, c := range []struct {
		name, path string
		pen        Pen
		pieces     int
		area       float64
	}{
		{"a dashed line", "M0 0H20", Pen{Dash: dash(3, 2)}, 4, 12},
		{"begun within a dash", "M0 0H20", Pen{Dash: dash(3, 2), Start: 1e6}, 5, 12},
		{"begun within a gap", "M0 0H20", Pen{Dash: dash(3, 2), Start: 4e6}, 4, 12},
		{"begun before the pattern", "M0 0H20", Pen{Dash: dash(3, 2), Start: -1e6}, 4, 12},
		{"a dash longer than the line", "M0 0H20", Pen{Dash: dash(30, 2)}, 1, 20},
		{"a gap at first, then a dash to the end", "M0 0H20", Pen{Dash: dash(30, 12), Start: 30e6}, 1, 8},
		{"dashes of nothing with round caps", "M0 0H20", Pen{Dash: dash(0, 5), Cap: RoundCap}, 4, 4 * math.Pi / 4},
		{"dashes of nothing with square caps", "M0 0L12 16", Pen{Dash: dash(0, 5), Cap: SquareCap}, 4, 4},
		{"all nothing is solid", "M0 0H20", Pen{Dash: dash(0, 0)}, 1, 20},
		{"round a corner", "M0 0H4V4", Pen{Dash: dash(5, 5)}, 1, 5},
		{"a closed frame joins where it begins", "M0 0H10V10H0Z", Pen{Dash: dash(6, 4), Start: 3e6}, 4, 4*6 - 4*0},
		{"a closed frame of one dash", "M0 0H10V10H0Z", Pen{Dash: dash(50, 4)}, 1, 40},
		{"each contour begins anew", "M0 0H4M0 9H4", Pen{Dash: dash(3, 9)}, 2, 6},
		{"along a curve", "M0 0A10 10 0 0 1 20 0", Pen{Dash: dash(math.Pi, math.Pi)}, 5, 5 * math.Pi},
		{"four lengths", "M0 0H20", Pen{Dash: dash(1, 2, 3, 4)}, 4, 8},
	} {
		c.pen.Width = w
		got := strokeOf(t, c.path, c.pen, 2000)
		if a := totalArea(got) / mm2; len(got) != c.pieces || math.Abs(a-c.area) > 0.002 {
			t.Errorf("%s: %d pieces of %v mm², want %d of %v", c.name, len(got), a, c.pieces, c.area)
		}
	}
}

func TestStrokeRefuses(t *testing.T) {
	for pattern, pen := range map[string]Pen{
		"the width -1 nm.*negative": {Width: -1},
		"each dash needs a gap":     {Width: 1, Dash: []int64{1}},
		"dash or gap of -3":         {Width: 1, Dash: []int64{1, -3}},
		"mitre limit":               {Width: 1, MitreLimit: math.NaN()},
	} {
		if _, err := Stroke(Path{Rect(0, 0, 9, 9)}, pen, 1); !matches(pattern, errorText(err)) {
			t.Errorf("%v: %v", pen, err)
		}
	}
	broken := Path{{Segments: []Segment{Line(Point{0, 0}, Point{5, 5}), Line(Point{6, 6}, Point{9, 9})}}}
	if _, err := Stroke(broken, Pen{Width: 1}, 1); !matches("breaks off at 5, 5", errorText(err)) {
		t.Errorf("a broken path: %v", err)
	}
}

func TestAStrokesAreaTendsToLengthTimesWidth(t *testing.T) {
	for name, s := range testCurves {
		if name == "one_point" || name == "far" || name == "loop" || name == "cusp" {
			continue
		}
		c := Contour{Segments: []Segment{s}}
		length := Length(c, 10)
		for _, w := range []int64{1_000_000, 100_000, 10_000} {
			got, err := Stroke(Path{c}, Pen{Width: w}, 500)
			if err != nil {
				t.Fatal(err)
			}
			want := length * float64(w)
			if a := totalArea(got); math.Abs(a-want) > 2*length*200+want*1e-3 {
				t.Errorf("%s, %d wide: %v, length × width is %v", name, w, a, want)
			}
		}
	}
}
