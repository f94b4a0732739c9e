package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"
)

// A net finds the distance from a point to the nearest of many edges, up to its mesh.
type net struct {
	mesh  float64
	cells map[[2]int64][]int
	ends  [][2]vec
}

func newNet(shapes []Shape, tol int64, mesh float64) *net {
	n := &net{mesh: mesh, cells: map[[2]int64][]int{}}
	for _, c := range Paths(shapes) {
		p := Points(c, tol)
		for i := range p {
			a, b := toVec(p[i]), toVec(p[(i+1)%len(p)])
			n.ends = append(n.ends, [2]vec{a, b})
			steps := math.Ceil(b.minus(a).length()/mesh) + 1
			last := [2]int64{1 << 62, 0}
			for k := 0.0; k <= steps; k++ {
				q := between(a, b, k/steps)
				at := [2]int64{int64(math.Floor(q.x / mesh)), int64(math.Floor(q.y / mesh))}
				if at != last {
					n.cells[at] = append(n.cells[at], len(n.ends)-1)
				}
				last = at
			}
		}
	}
	return n
}

func (n *net) distance(p vec) float64 {
	best := math.Inf(1)
	x, y := int64(math.Floor(p.x/n.mesh)), int64(math.Floor(p.y/n.mesh))
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, e := range n.cells[[2]int64{x + dx, y + dy}] {
				a, d := n.ends[e][0], n.ends[e][1].minus(n.ends[e][0])
				f := 0.0
				if l := d.dot(d); l > 0 {
					f = min(max(p.minus(a).dot(d)/l, 0), 1)
				}
				best = min(best, p.minus(a.plus(d.times(f))).length())
			}
		}
	}
	return best
}

// deviation is the greatest distance of the boundary of one from that of the other, looked at from both.
func deviation(p, q []Shape) float64 { return max(farthest(p, q), farthest(q, p)) }

// farthest is the greatest distance of the boundary of p from that of q.
func farthest(p, q []Shape) float64 {
	worst := 0.0
	n := newNet(q, 20, 20e3)
	for _, c := range Paths(p) {
		for _, s := range c.Segments {
			for k := range 16 {
				worst = max(worst, n.distance(s.at(float64(k)/16, 1-float64(k)/16)))
			}
		}
	}
	return worst
}

// TestCurvesAreKept compares what is made at the usual tolerance with what is made a hundred times finer. Where the chords
// part what the curves join, or fill what the curves leave open, one boundary has a stretch that the other has not; a gap
// or a wall there is less than the tolerance wide. So discs are only looked at from their true boundary.
func TestCurvesAreKept(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		in    []Operand
		apart func(got, fine []Shape) float64
	}{
		{"border of ornaments", ornamentBorder(60, 9, 0.75, 1), deviation},
		{"border of smaller ornaments", ornamentBorder(100, 6, 0.6, 4), deviation},
		{"ornaments that cross themselves", ornamentBorder(30, 9, 2, 2), deviation},
		{"ornaments that cross themselves much", ornamentBorder(20, 9, 4, 5), deviation},
		{"discs that overlap by up to 3 µm", hardlyOverlapping(64, 1), func(got, fine []Shape) float64 { return farthest(fine, got) }},
		{"50 words", words(), deviation},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			got, err := Fuse(c.in, 2000)
			if err != nil {
				t.Fatal(err)
			}
			fine, err := Fuse(c.in, 20)
			if err != nil {
				t.Fatal(err)
			}
			if err := topology(got, 500); err != nil {
				t.Error(err)
			}
			off := c.apart(got, fine)
			if off > 2000 {
				t.Errorf("the boundary is off by %.0f nm", off)
			}
			a, err := arrange(Union, c.in, nil, 20)
			if err != nil {
				t.Fatal(err)
			}
			segments, nodes := edgesOf(c.in), countSegments(Paths(got))
			crossings := len(a.nodes) - len(a.loops) // every loop has a node at its least point
			if float64(nodes) > 1.3*float64(segments+2*crossings) {
				t.Errorf("%d segments from %d and %d crossings", nodes, segments, crossings)
			}
			t.Logf("off by %.0f nm; %d segments from %d and %d crossings", off, nodes, segments, crossings)
		})
	}
}

// Discs that all but touch, and that overlap by up to 3 µm: there the chords may say two rings where the curves cross.
func TestDiscsThatHardlyOverlap(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	for n := range 100 {
		r1, r2 := 1+4*rnd.Float64(), 1+4*rnd.Float64()
		over := float64(n%31)/10 - 0.05
		s, c := math.Sincos(rnd.Float64() * 2 * math.Pi)
		d := r1 + r2 - over/1000
		a := Operand{Path: Path{Circle(Point{}, int64(r1*mm))}}
		b := Operand{Path: Path{Circle(pointAt(d*c, d*s), int64(r2*mm))}}
		for op := Union; op <= Exclusive; op++ {
			got, err := Boolean(op, a, b, 2000)
			if err != nil {
				t.Fatal(err)
			}
			if err := topology(got, 500); err != nil {
				t.Fatalf("discs of %g and %g mm, over by %g µm, operation %d: %v", r1, r2, over, op, err)
			}
			fine, err := Boolean(op, a, b, 20)
			if err != nil {
				t.Fatal(err)
			}
			if off := regionArea(got) - regionArea(fine); math.Abs(off) > 2000*2*mm {
				t.Errorf("discs of %g and %g mm, over by %g µm, operation %d: area off by %.0f nm²", r1, r2, over, op, off)
			}
			if op != Union {
				continue
			}
			// The other way round says nothing where the chords part what the curves join: the gap between them
			// is then inside.
			if d := farthest(fine, got); d > 2000 {
				t.Errorf("discs of %g and %g mm, over by %g µm: off by %.0f nm", r1, r2, over, d)
			}
			nodes := 0
			for _, k := range Paths(got) {
				nodes += len(k.Segments)
			}
			if float64(nodes) > 1.3*(16+2*2) {
				t.Errorf("discs of %g and %g mm, over by %g µm: %d segments", r1, r2, over, nodes)
			}
		}
	}
}

// A curve that nothing meets comes back as it was, and a cut one as two parts of it.
func TestUntouchedCurvesAreTheSame(t *testing.T) {
	c := ornament(rand.New(rand.NewSource(6)), 3, 4, 5, 0.75)
	got, err := Fuse([]Operand{{Path: c, Rule: EvenOdd}}, 2000)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]bool{}
	for _, k := range c {
		for _, s := range k.Segments {
			want[fmt.Sprint(s)], want[fmt.Sprint(s.Reverse())] = true, true
		}
	}
	for _, k := range Paths(got) {
		for _, s := range k.Segments {
			if !want[fmt.Sprint(s)] {
				t.Fatalf("%v is not in the input", s)
			}
		}
	}
}

// The true crossing of two curves, not that of their chords, is where they part.
func TestCrossingsAreThoseOfTheCurves(t *testing.T) {
	a, b := Operand{Path: Path{Circle(Point{}, 5*Millimetre)}}, Operand{Path: Path{Circle(Point{4 * Millimetre, 0}, 5*Millimetre)}}
	for _, op := range []Op{Union, Intersection, Without, Exclusive} {
		got, err := Boolean(op, a, b, 2000)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, k := range Paths(got) {
			for _, s := range k.Segments {
				if s.P0.X == 2*Millimetre {
					found++
					if y := math.Abs(float64(s.P0.Y)) - math.Sqrt(21)*mm; math.Abs(y) > 30 {
						t.Errorf("operation %d: they cross at %v, %.0f nm from the circles", op, s.P0, y)
					}
				}
			}
		}
		if found < 2 {
			t.Errorf("operation %d: crossings not found", op)
		}
	}
}

// Curves that run along each other: the same again, moved or turned by a hair, cut into other parts, run the other way.
func TestCurvesThatNearlyCoincide(t *testing.T) {
	rnd := rand.New(rand.NewSource(10))
	n := 20
	if testing.Short() {
		n = 8
	}
	for i := range n {
		p := ornament(rnd, 0, 0, 6, 0.75)[:1]
		var q Path
		switch i % 4 {
		case 0:
			q = shifted(p, rnd.Int63n(6000)-3000, rnd.Int63n(6000)-3000)
		case 1:
			q = turned(p, (rnd.Float64()-0.5)*0.05)
		case 2: // cut into other parts, and a bite taken out
			c := Contour{Closed: true}
			for _, s := range p[0].Segments {
				at := 0.2 + 0.6*rnd.Float64()
				a, b := s.Sub(0, at), s.Sub(at, 1)
				c.Segments = append(c.Segments, a, b)
			}
			q = Path{c.Reverse(), box(0, 0, 3, 3)}
		case 3:
			c := Contour{Closed: true}
			c.Segments = append(c.Segments, p[0].Segments[3:]...)
			c.Segments = append(c.Segments, Line(c.Segments[len(c.Segments)-1].P3, c.Segments[0].P0))
			q = Path{c}
		}
		for op := Union; op <= Exclusive; op++ {
			a, b := Operand{Path: p}, Operand{Path: q}
			got, err := Boolean(op, a, b, 2000)
			if err != nil {
				t.Fatal(err)
			}
			if err := topology(got, 500); err != nil {
				t.Fatalf("pair %d, operation %d: %v", i, op, err)
			}
			fine, err := Boolean(op, a, b, 100)
			if err != nil {
				t.Fatal(err)
			}
			length := 0.0
			for _, c := range append(p, q...) {
				for _, s := range c.Segments {
					length += toVec(s.P3).minus(toVec(s.P0)).length()
				}
			}
			if off := math.Abs(regionArea(got) - regionArea(fine)); off > 2000*length {
				t.Errorf("pair %d, operation %d: area off by %g mm²", i, op, off/1e12)
			}
			settledShapes := settled(t, got, Micrometre)
			reread(t, settledShapes, Micrometre)
			if t.Failed() {
				t.Fatalf("pair %d, operation %d", i, op)
			}
		}
	}
}
