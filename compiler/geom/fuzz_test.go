package geom

import (
	"math"
	"testing"
)

// A reader takes small numbers from fuzzed bytes.
type reader struct{ data []byte }

func (r *reader) next() int64 {
	if len(r.data) == 0 {
		return 0
	}
	b := r.data[0]
	r.data = r.data[1:]
	return int64(b)
}

// path reads a path of a few contours, whose numbers count by unit.
func (r *reader) path(unit int64) Path {
	var p Path
	for range 1 + r.next()%3 {
		point := func() Point { return Point{(r.next() - 128) * unit, (r.next() - 128) * unit} }
		c := Contour{Closed: true}
		first := point()
		at := first
		for range 1 + r.next()%7 {
			kind := r.next()
			end := point()
			if kind%3 == 0 {
				c.Segments = append(c.Segments, Cubic(at, point(), point(), end))
			} else {
				c.Segments = append(c.Segments, Line(at, end))
			}
			c.Segments[len(c.Segments)-1].Tag = int32(kind % 4)
			at = end
		}
		c.Segments = append(c.Segments, Line(at, first))
		p = append(p, c)
	}
	return p
}

func FuzzBoolean(f *testing.F) {
	f.Add([]byte{0, 0, 1, 130, 130, 4, 1, 150, 130, 1, 150, 150, 1, 130, 150, 1, 128, 128, 2, 0, 140, 140, 3, 1, 160, 140, 1, 160, 160, 1, 140, 160})
	f.Add([]byte{4, 0, 1, 10, 10, 3, 3, 200, 10, 90, 250, 250, 90, 0, 250, 250, 4, 1, 120, 20, 3, 3, 20, 200, 250, 20, 20, 250})
	f.Add([]byte("a few bytes of text make a drawing that no one would make by hand, with loops and cusps"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r := reader{data}
		rule, op := Rule(r.next()%4), Op(r.next()%5)
		units := [...]int64{1, 3, 50, 1000, 40_000, 3_999_999} // from nanometres to as far as it reaches
		unit, other := units[r.next()%6], units[r.next()%6]
		tol := max(2000, max(unit, other)/4) // of the largest drawings fewer chords will do
		a, b := Operand{r.path(unit), rule}, Operand{r.path(other), NonZero}
		got, err := Boolean(op, a, b, tol)
		if err != nil {
			t.Fatal(err)
		}
		if err := topology(got, tol/4); err != nil {
			t.Fatalf("%v\n%v\n%v", err, a, b)
		}
		// The oracle knows only straight edges: it is asked about the chords.
		pa, pb := chordsOf(a.Path, tol), chordsOf(b.Path, tol)
		if chords := countSegments(pa) + countSegments(pb); rule == NonZero && chords < 80 {
			want := oracle(pa, pb)
			flat, err := Boolean(op, Operand{pa, rule}, Operand{pb, rule}, tol)
			if err != nil {
				t.Fatal(err)
			}
			if off := math.Abs(regionArea(flat) - want.of[op][rule]); off > want.length+16 {
				t.Fatalf("area %.0f, want %.0f nm²\n%v\n%v", regionArea(flat), want.of[op][rule], pa, pb)
			}
			if off := math.Abs(regionArea(got) - want.of[op][rule]); off > 2*float64(tol)*want.length+16 {
				t.Fatalf("area with curves %.0f, want %.0f nm²\n%v\n%v", regionArea(got), want.of[op][rule], a, b)
			}
		}
		closed, err := CloseGaps([]Operand{a, b}, 5000, tol)
		if err != nil {
			t.Fatal(err)
		}
		fused, err := Fuse(closed, tol)
		if err != nil {
			t.Fatal(err)
		}
		if err := topology(fused, tol/4); err != nil {
			t.Fatalf("after closing gaps: %v\n%v\n%v", err, a, b)
		}
		out, err := Settle(fused, Micrometre)
		if err != nil {
			t.Fatal(err)
		}
		if countSegments(chordsOf(Paths(out), Micrometre/2)) > 2000 {
			return // the check would take too long
		}
		if err := topology(out, Micrometre/2); err != nil {
			t.Fatalf("settled: %v\n%v\n%v", err, a, b)
		}
	})
}

func chordsOf(p Path, tol int64) Path {
	var out Path
	for _, c := range p {
		if q := Points(c, tol); len(q) > 0 {
			out = append(out, Polygon(q...))
		}
	}
	return out
}

func countSegments(p Path) int {
	n := 0
	for _, c := range p {
		n += len(c.Segments)
	}
	return n
}

// FuzzOffset grows or shrinks what a drawing covers, and draws along it.
func FuzzOffset(f *testing.F) {
	f.Add([]byte{1, 40, 1, 1, 9, 0, 1, 130, 130, 4, 1, 150, 130, 1, 150, 150, 1, 130, 150, 1, 128, 128})
	f.Add([]byte{0, 200, 2, 0, 3, 2, 0, 10, 10, 3, 3, 200, 10, 90, 250, 250, 90, 0, 250, 250, 4, 1, 120, 20})
	f.Add([]byte("a line drawn along a few bytes of text turns back on itself and crosses what it was"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r := reader{data}
		unit := [...]int64{50, 1000, 40_000}[r.next()%3]
		d := (r.next() - 128) * unit / 4
		if d == 0 {
			d = unit
		}
		join, cap := Join(r.next()%3), Cap(r.next()%3)
		dash := r.next()
		path := r.path(unit)
		const tol, fine = 2000, 125 // what the engine flattens by when it looks for crossings itself
		shapes, err := Fuse([]Operand{{Path: path}}, tol)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Offset(shapes, d, join, 4, tol)
		if err != nil {
			t.Fatal(err)
		}
		if err := topology(got, fine); err != nil {
			t.Fatalf("offset by %d: %v\n%v", d, err, path)
		}
		// The offset may be off by the tolerance along its outline, and the outline of the smaller one is the longest.
		if grown := regionArea(got) - regionArea(shapes); d > 0 && grown < -2*tol*perimeter(shapes)-16 || d < 0 && grown > 2*tol*perimeter(got)+16 {
			t.Fatalf("offset by %d the area changes by %.0f nm²\n%v", d, grown, path)
		}
		pen := Pen{Width: max(d, -d), Cap: cap, Join: join}
		if dash > 200 {
			pen.Dash = []int64{dash * unit / 8, unit * 4}
		}
		for i := range path {
			if n := len(path[i].Segments); i%2 == 1 && n > 1 {
				path[i] = Contour{Segments: path[i].Segments[:n-1]}
			}
		}
		line, err := Stroke(path, pen, tol)
		if err != nil {
			t.Fatal(err)
		}
		if err := topology(line, fine); err != nil {
			t.Fatalf("drawn along with %v: %v\n%v", pen, err, path)
		}
	})
}

// FuzzSettle puts shapes on grids from a nanometre to a tenth of a millimetre.
func FuzzSettle(f *testing.F) {
	f.Add([]byte{2, 1, 0, 1, 130, 130, 4, 1, 150, 130, 1, 150, 150, 1, 130, 150, 1, 128, 128})
	f.Add([]byte{3, 2, 2, 0, 10, 10, 3, 3, 200, 10, 90, 250, 250, 90, 0, 250, 250, 4, 1, 120, 20})
	f.Add([]byte("what is written stands on whole micrometres, and what is read again has no crossing"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r := reader{data}
		grid := [...]int64{1, 1000, 7, 100_000}[r.next()%4]
		unit := [...]int64{3, 700, 9999, 300_001}[r.next()%4]
		path := r.path(unit)
		shapes, err := Fuse([]Operand{{Path: path, Rule: EvenOdd}}, max(2000, unit/4))
		if err != nil {
			t.Fatal(err)
		}
		got, err := Settle(shapes, grid)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range Paths(got) {
			for _, s := range c.Segments {
				for _, p := range [...]Point{s.P0, s.P1, s.P2, s.P3} {
					if p.X%grid != 0 || p.Y%grid != 0 {
						t.Fatalf("%v is off the grid of %d nm\n%v", p, grid, path)
					}
				}
			}
		}
		fine := max(grid/2, 1)
		if countSegments(chordsOf(Paths(got), fine)) > 2000 {
			return // the check would take too long
		}
		if err := topology(got, fine); err != nil {
			t.Fatalf("on a grid of %d nm: %v\n%v", grid, err, path)
		}
	})
}
