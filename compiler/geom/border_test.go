package geom

import (
	"fmt"
	"math"
	"testing"
)

func TestFusedBorder(t *testing.T) {
	in := stampBorder(400)
	got, err := Fuse(in, 2000)
	if err != nil {
		t.Fatal(err)
	}
	if err := topology(got, 2000); err != nil {
		t.Error(err)
	}
	// Fused in halves it is the same region.
	half := func(in []Operand) Operand {
		s, err := Fuse(in, 2000)
		if err != nil {
			t.Fatal(err)
		}
		return Operand{Path: Paths(s)}
	}
	again, err := Fuse([]Operand{half(in[:200]), half(in[200:])}, 2000)
	if err != nil {
		t.Fatal(err)
	}
	if off := regionArea(got) - regionArea(again); math.Abs(off) > 1e7 {
		t.Errorf("fused in halves the area differs by %.0f nm²", off)
	}
}

func BenchmarkFuseBorder(b *testing.B) {
	for _, n := range []int{100, 400, 1600, 3200} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			in := stampBorder(n)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Fuse(in, 2000); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFuseCurvedBorder(b *testing.B) {
	in := ornamentBorder(400, 4, 0.75, 1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Fuse(in, 2000); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCloseGapsOfBorder(b *testing.B) {
	in := stampBorder(400)
	for b.Loop() {
		if _, err := CloseGaps(in, 5000, 2000); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSettleBorder(b *testing.B) {
	shapes, err := Fuse(ornamentBorder(400, 4, 0.75, 1), 2000)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Settle(shapes, Micrometre); err != nil {
			b.Fatal(err)
		}
	}
}

// smallFace is five lozenges and five rectangles that stand apart, as a plain face has them.
func smallFace() []Operand {
	var out []Operand
	for i := range 5 {
		y := 20 * float64(i)
		out = append(out,
			Operand{Path: Path{poly(10, y, 16, y+8, 10, y+16, 4, y+8)}},
			Operand{Path: Path{box(30, y, 40, 12)}})
	}
	return out
}

// BenchmarkSmallFace is what writing a small face costs: most faces are small.
func BenchmarkSmallFace(b *testing.B) {
	in := smallFace()
	b.ReportAllocs()
	for b.Loop() {
		closed, err := CloseGaps(in, 5000, 2000)
		if err != nil {
			b.Fatal(err)
		}
		shapes, err := Fuse(closed, 2000)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := Settle(shapes, Micrometre); err != nil {
			b.Fatal(err)
		}
	}
}
