package settled

import (
	"math"
	"slices"
	"strings"
	"testing"

	"headcap/compiler/cut"
	"headcap/compiler/emit/internal/sample"
	"headcap/compiler/geom"
)

func TestMillimetresArePrintedFromWholeNumbers(t *testing.T) {
	for nm, want := range map[int64]string{
		0: "0.000", 1_000: "0.001", -1_000: "-0.001", 999_000: "0.999", 1_000_000: "1.000", -30_400_000: "-30.400",
		12_345_678_000: "12345.678", geom.Reach: "1000.000",
	} {
		if got := string(AppendMM(nil, nm)); got != want {
			t.Errorf("%d nm is printed %s, not %s", nm, got, want)
		}
	}
}

func TestWhatCannotBeCutIsRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*cut.Face)
		want   string
	}{
		{"a gap", func(f *cut.Face) { f.Pieces[0].Shape.Outer.Segments[0].P0.X += 1000 }, "the next begins at"},
		{"a corner off the grid", func(f *cut.Face) {
			s := f.Pieces[0].Shape.Outer.Segments
			s[1].P3.X += 1
			s[2].P0.X += 1
		}, "off the grid of one micrometre"},
		{"a control point off the grid", func(f *cut.Face) { f.Pieces[1].Shape.Holes[0].Segments[2].P2.Y -= 500 }, "off the grid"},
		{"beyond reach", func(f *cut.Face) {
			s := f.Pieces[0].Shape.Outer.Segments
			s[1].P3.Y, s[2].P0.Y = math.MinInt64/1000*1000, math.MinInt64/1000*1000
		}, "more than one metre"},
		{"open", func(f *cut.Face) { f.Pieces[0].Shape.Outer.Closed = false }, "not a closed outline"},
		{"a contour of nothing", func(f *cut.Face) { f.Pieces[1].Shape.Holes[0].Segments = nil }, "not a closed outline"},
		{"a line without length", func(f *cut.Face) {
			c := &f.Pieces[0].Shape.Outer
			at := c.Segments[2].P0
			c.Segments = slices.Insert(c.Segments, 2, geom.Segment{P0: at, P3: at, Line: true})
		}, "a line without length"},
		{"no pieces", func(f *cut.Face) { f.Pieces = nil }, "no piece"},
		{"two alike", func(f *cut.Face) { f.Pieces[1].ID = f.Pieces[0].ID }, "two pieces have the id"},
		{"no film", func(f *cut.Face) { f.Film = "" }, "must be named"},
		{"no width", func(f *cut.Face) { f.Width = 0 }, "width of 0 nm"},
		{"a width off the grid", func(f *cut.Face) { f.Width = 30_162_500 }, "not a whole number of micrometres"},
		{"a height of kilometres", func(f *cut.Face) { f.Height = math.MaxInt64 }, "between nothing and one metre"},
		{"a newline in the title", func(f *cut.Face) { f.Title = "Eels\nand ledgers" }, "U+000A"},
		{"a title that runs backwards", func(f *cut.Face) { f.Title = "Eels \u202eand ledgers" }, "U+202E"},
		{"an isolate in an id", func(f *cut.Face) { f.Pieces[0].ID += "\u2066" }, "U+2066"},
		{"a line separator", func(f *cut.Face) { f.Volume = "a\u2028b" }, "U+2028"},
		{"bytes that are no text", func(f *cut.Face) { f.Title = "\xff" }, "not UTF-8"},
	} {
		t.Run(strings.ReplaceAll(c.name, " ", "_"), func(t *testing.T) {
			f := sample.Cover(false)
			c.change(&f)
			if err := Check(f); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want an error with %q", err, c.want)
			}
		})
	}
	if err := Check(sample.Cover(true)); err != nil {
		t.Errorf("a good face: %v", err)
	}
}

// square is a ring with corners in micrometres.
func square(corners ...int64) []geom.Point {
	var out []geom.Point
	for i := 0; i < len(corners); i += 2 {
		out = append(out, geom.Point{X: corners[i] * Grid, Y: corners[i+1] * Grid})
	}
	return out
}

func TestDoubledPointsAndClosedTipsAreTakenOut(t *testing.T) {
	for _, c := range []struct {
		name     string
		in, want []geom.Point
	}{
		{"nothing to do", square(0, 0, 9, 0, 9, 9), square(0, 0, 9, 0, 9, 9)},
		{"doubled", square(0, 0, 9, 0, 9, 0, 9, 9), square(0, 0, 9, 0, 9, 9)},
		{"doubled across the end", square(0, 0, 9, 0, 9, 9, 0, 0), square(0, 0, 9, 0, 9, 9)},
		{"a tip", square(0, 0, 9, 0, 20, 0, 9, 0, 9, 9), square(0, 0, 9, 0, 9, 9)},
		{"a long tip", square(0, 0, 9, 0, 20, 0, 30, 1, 20, 0, 9, 0, 9, 9), square(0, 0, 9, 0, 9, 9)},
		{"a tip at the beginning", square(-5, 0, 0, 0, 9, 0, 9, 9, 0, 0), square(0, 0, 9, 0, 9, 9)},
		{"a tip at the end", square(0, 0, 9, 0, 9, 9, 0, 0, -5, 0), square(0, 0, 9, 0, 9, 9)},
		{"nothing but a tip", square(0, 0, 9, 0), square(0, 0, 9, 0)},
	} {
		got := tidy(slices.Clone(c.in))
		if a, b := got.DoubleArea(), Ring(c.want).DoubleArea(); len(got) != len(c.want) || a != b {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

func TestARingThatFlatteningClosesIsRefused(t *testing.T) {
	// A sliver 0.8 µm high in its middle: to 2 µm it is its chord there and back.
	a, b := geom.Point{}, geom.Point{X: geom.Millimetre}
	p := cut.Piece{ID: "sliver", Shape: geom.Shape{Outer: geom.Contour{Closed: true, Segments: []geom.Segment{
		{P0: a, P1: geom.Point{X: 333_000, Y: 1000}, P2: geom.Point{X: 667_000, Y: 1000}, P3: b},
		geom.Line(b, a),
	}}}}
	if _, err := Rings(p, Tolerance); err == nil || !strings.Contains(err.Error(), "nothing is left") {
		t.Errorf("got %v", err)
	}
}

func TestAContourThatRunsTheWrongWayIsRefused(t *testing.T) {
	outer, hole := sample.Cover(false).Pieces[0], sample.Cover(false).Pieces[1]
	outer.Shape.Outer = outer.Shape.Outer.Reverse()
	hole.Shape.Holes[0] = hole.Shape.Holes[0].Reverse()
	for _, p := range []cut.Piece{outer, hole} {
		if _, err := Rings(p, Tolerance); err == nil || !strings.Contains(err.Error(), "the wrong way") {
			t.Errorf("%s: %v", p.ID, err)
		}
	}
}

func TestRingsStayWithinToleranceAndMoveWithTheirPiece(t *testing.T) {
	for _, p := range sample.Cover(false).Pieces {
		rings, err := Rings(p, Tolerance)
		if err != nil {
			t.Fatal(err)
		}
		// Far enough to make every coordinate negative, where a careless rounding goes the other way.
		const dx, dy = -77_777_000, -123_456_000
		moved := p
		moved.Shape = geom.Shape{Outer: shift(p.Shape.Outer, geom.Point{X: -dx, Y: -dy})}
		for _, h := range p.Shape.Holes {
			moved.Shape.Holes = append(moved.Shape.Holes, shift(h, geom.Point{X: -dx, Y: -dy}))
		}
		there, err := Rings(moved, Tolerance)
		if err != nil {
			t.Fatal(err)
		}
		for i, r := range rings {
			if r.DoubleArea() == 0 || (r.DoubleArea() > 0) != (i == 0) {
				t.Errorf("%s: ring %d has the area %d", p.ID, i, r.DoubleArea())
			}
			for j, q := range r {
				if q.X%Grid != 0 || q.Y%Grid != 0 || q == r[(j+1)%len(r)] {
					t.Errorf("%s: %v is off the grid, or doubled", p.ID, q)
				}
				if d := distance(q, Contours(p.Shape)[i]); d > 720 {
					t.Errorf("%s: the corner %v is %.0f nm from its curve", p.ID, q, d)
				}
				next := r[(j+1)%len(r)]
				mid := geom.Point{X: (q.X + next.X) / 2, Y: (q.Y + next.Y) / 2}
				if d := distance(mid, Contours(p.Shape)[i]); d > float64(Tolerance)+720 {
					t.Errorf("%s: a side at %v leaves its curve by %.0f nm", p.ID, mid, d)
				}
				if (geom.Point{X: q.X + dx, Y: q.Y + dy}) != there[i][j] {
					t.Fatalf("%s: corner %d moved from %v to %v", p.ID, j, q, there[i][j])
				}
			}
		}
	}
}

// distance from a point to a contour that is taken in four thousand chords a curve, in nanometres.
func distance(p geom.Point, c geom.Contour) float64 {
	best := math.Inf(1)
	for _, s := range c.Segments {
		const n = 4000
		x0, y0 := s.At(0)
		for k := 1; k <= n; k++ {
			x1, y1 := s.At(float64(k) / n)
			dx, dy := x1-x0, y1-y0
			t := ((float64(p.X)-x0)*dx + (float64(p.Y)-y0)*dy) / (dx*dx + dy*dy)
			t = min(max(t, 0), 1)
			best = min(best, math.Hypot(float64(p.X)-x0-t*dx, float64(p.Y)-y0-t*dy))
			x0, y0 = x1, y1
		}
	}
	return best
}

func TestAreaOfATriangleAndLengthRoundIt(t *testing.T) {
	r := Ring(square(0, 0, 3000, 0, 3000, 4000))
	if r.DoubleArea() != 12_000_000 || r.Length() != 12*geom.Millimetre {
		t.Errorf("twice the area is %d, the length %d", r.DoubleArea(), r.Length())
	}
}
