package geom

import (
	"fmt"
	"hash/fnv"
	"testing"
)

// rosette is a curved outline about a place, made without anything that differs between processors.
func rosette(x, y, r int64, lobes int, turn float64) Contour {
	p := make([]Point, 4*lobes)
	for i := range p {
		s, c := SinCos(float64(i)*360/float64(len(p)) + turn)
		k := r
		if i%2 == 1 {
			k = r * 3 / 4
		}
		p[i] = Point{x + int64(float64(c*float64(k))), y + int64(float64(s*float64(k)))}
	}
	return spline(p)
}

// TestSamePointsEverywhere compares results with those of the machine on which they were written down, to the nanometre.
// It is run on several kinds of processor.
func TestSamePointsEverywhere(t *testing.T) {
	var in []Operand
	for i := range 24 {
		s, c := SinCos(float64(i) * 15.7)
		x, y := int64(float64(c*30e6)), int64(float64(s*40e6))
		in = append(in, Operand{Path: Path{rosette(x, y, 8_000_017, 5+i%3, float64(i)*7.1), Circle(Point{x, y}, 1_234_567).Reverse()}})
	}
	hash := func(shapes []Shape, err error) string {
		if err != nil {
			t.Fatal(err)
		}
		h := fnv.New64a()
		for _, c := range Paths(shapes) {
			for _, s := range c.Segments {
				fmt.Fprintln(h, s)
			}
		}
		return fmt.Sprintf("%d shapes %016x", len(shapes), h.Sum64())
	}
	fused, err := Fuse(in, 2000)
	if got, want := hash(fused, err), "1 shapes 11c98620d1a5921f"; got != want {
		t.Errorf("fused: %s, want %s", got, want)
	}
	shared, err := Boolean(Exclusive, Operand{Path: Paths(fused)}, Operand{Path: Path{rosette(0, 0, 35_000_000, 9, 3)}}, 500)
	if got, want := hash(shared, err), "12 shapes ad59b29e141ae9d5"; got != want {
		t.Errorf("exclusive: %s, want %s", got, want)
	}
	closed, err := CloseGaps(append(operands(turned(tilings[5].path, 0)), in...), 5000, 2000)
	if err != nil {
		t.Fatal(err)
	}
	joined, err := Fuse(closed, 2000)
	if got, want := hash(joined, err), "2 shapes 4ad71d8249e4e2a8"; got != want {
		t.Errorf("closed: %s, want %s", got, want)
	}
	written, err := Settle(shared, Micrometre)
	if got, want := hash(written, err), "12 shapes 5013b086e06bcab5"; got != want {
		t.Errorf("settled: %s, want %s", got, want)
	}
}
