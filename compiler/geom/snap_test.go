package geom

import (
	"math/big"
	"math/rand"
	"slices"
	"testing"
)

// Half a unit is rounded up, below zero too: a pixel owns its left and lower sides.
func TestCrossingsAreRoundedToTheirPixel(t *testing.T) {
	tests := []struct{ p, q, r, s, want pix }{
		{pix{0, 0}, pix{1, 1}, pix{0, 1}, pix{1, 0}, pix{1, 1}},                 // at ½, ½
		{pix{-1, -1}, pix{0, 0}, pix{-1, 0}, pix{0, -1}, pix{0, 0}},             // at −½, −½
		{pix{0, 0}, pix{10, 4}, pix{5, -5}, pix{5, 5}, pix{5, 2}},               // on the grid
		{pix{0, 0}, pix{4, 1}, pix{2, 5}, pix{2, -5}, pix{2, 1}},                // ½ up
		{pix{0, 0}, pix{4, -1}, pix{2, 5}, pix{2, -5}, pix{2, 0}},               // −½ up
		{pix{1e9, 1e9}, pix{-1e9, -1e9}, pix{1e9, -1e9}, pix{-1e9, 1e9}, pix{}}, // as far as it reaches
	}
	for _, c := range tests {
		for _, swap := range []bool{false, true} {
			p, q, r, s := c.p, c.q, c.r, c.s
			if swap {
				p, q, r, s = s, r, q, p
			}
			if got := crossing(p, q, r, s); got != c.want {
				t.Errorf("%v–%v and %v–%v cross in %v, want %v", p, q, r, s, got, c.want)
			}
		}
	}
}

func TestCrossingAgainstRationals(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	at := func(size int64) pix {
		return pix{int32(rnd.Int63n(2*size+1) - size), int32(rnd.Int63n(2*size+1) - size)}
	}
	half := big.NewRat(1, 2)
	found := 0
	for found < 5000 {
		size := []int64{3, 50, 1e5, Reach}[rnd.Intn(4)]
		p, q, r, s := at(size), at(size), at(size), at(size)
		c1, c2, c3, c4 := side(p, q, r), side(p, q, s), side(r, s, p), side(r, s, q)
		if !((c1 > 0 && c2 < 0 || c1 < 0 && c2 > 0) && (c3 > 0 && c4 < 0 || c3 < 0 && c4 > 0)) {
			continue
		}
		found++
		// p + (q − p)·c3/(c3 − c4)
		f := new(big.Rat).SetFrac(big.NewInt(c3), new(big.Int).Sub(big.NewInt(c3), big.NewInt(c4)))
		round := func(a, b int32) int32 {
			v := new(big.Rat).Mul(f, big.NewRat(int64(b)-int64(a), 1))
			v.Add(v, big.NewRat(int64(a), 1)).Add(v, half)
			floor := new(big.Int).Div(v.Num(), v.Denom())
			return int32(floor.Int64())
		}
		if got, want := crossing(p, q, r, s), (pix{round(p.x, q.x), round(p.y, q.y)}); got != want {
			t.Fatalf("%v–%v and %v–%v cross in %v, want %v", p, q, r, s, got, want)
		}
	}
}

// hot is compared with clipping the edge to the half-open square, in whole numbers of half units.
func TestHotPixels(t *testing.T) {
	enters := func(a, b, p pix) bool {
		// The parameters for which a + (b − a)·f lies in [p − ½, p + ½) in both directions.
		lo, hi := big.NewRat(0, 1), big.NewRat(1, 1)
		loOpen, hiOpen := false, false
		for _, d := range [...][3]int32{{a.x, b.x, p.x}, {a.y, b.y, p.y}} {
			from, by, at := int64(d[0]), int64(d[1])-int64(d[0]), int64(d[2])
			if by == 0 {
				if from != at {
					return false
				}
				continue
			}
			in, out := big.NewRat(2*(at-from)-1, 2*by), big.NewRat(2*(at-from)+1, 2*by) // closed, open
			if by > 0 {
				if in.Cmp(lo) > 0 {
					lo, loOpen = in, false
				}
				if c := out.Cmp(hi); c < 0 {
					hi, hiOpen = out, true
				} else if c == 0 {
					hiOpen = true
				}
				continue
			}
			if c := out.Cmp(lo); c > 0 {
				lo, loOpen = out, true
			} else if c == 0 {
				loOpen = true
			}
			if in.Cmp(hi) < 0 {
				hi, hiOpen = in, false
			}
		}
		c := lo.Cmp(hi)
		return c < 0 || c == 0 && !loOpen && !hiOpen
	}
	const n = 5
	for ax := int32(0); ax <= n; ax++ {
		for by := int32(-n); by <= n; by++ {
			for bx := int32(0); bx <= n; bx++ {
				for _, ends := range [][2]pix{{{ax, 0}, {bx, by}}, {{bx, by}, {ax, 0}}} {
					a, b := ends[0], ends[1]
					if a == b {
						continue
					}
					for x := int32(-1); x <= n+1; x++ {
						for y := int32(-n - 1); y <= n+1; y++ {
							p := pix{x, y}
							if p == a || p == b {
								continue
							}
							if got, want := hot(a, b, p, side(a, b, p)), enters(a, b, p); got != want {
								t.Fatalf("edge %v–%v enters pixel %v: %v, want %v", a, b, p, got, want)
							}
						}
					}
				}
			}
		}
	}
}

// The hierarchy finds the same pairs as looking at all of them, also where long edges and short ones are mixed.
func TestHierarchyFindsAllPairs(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for range 30 {
		var l layer
		l.unit = 1
		for range 6 {
			size := []int64{50, 3000, 2_000_000}[rnd.Intn(3)]
			p := make([]Point, 3+rnd.Intn(40))
			for i := range p {
				p[i] = Point{rnd.Int63n(size), rnd.Int63n(size)}
			}
			if err := l.add(Path{Polygon(p...)}, 1); err != nil {
				t.Fatal(err)
			}
		}
		type pair struct{ i, j int32 }
		var want, got []pair
		var edges []int32
		for _, q := range l.loops {
			for i := q.first; i < q.last; i++ {
				edges = append(edges, i)
			}
		}
		for k, i := range edges {
			for _, j := range edges[k+1:] {
				box := edgeBounds(l.at[i], l.at[i+1])
				c1, c2 := side(l.at[i], l.at[i+1], l.at[j]), side(l.at[i], l.at[i+1], l.at[j+1])
				c3, c4 := side(l.at[j], l.at[j+1], l.at[i]), side(l.at[j], l.at[j+1], l.at[i+1])
				if box.touches(l.at[j], l.at[j+1]) && (c1 > 0) != (c2 > 0) && (c3 > 0) != (c4 > 0) && c1 != 0 && c2 != 0 && c3 != 0 && c4 != 0 {
					want = append(want, pair{i, j})
				}
			}
		}
		tree := newHierarchy(l.at, l.loops, 0)
		seen := map[pair]bool{}
		tree.pairs(func(ra, rb int32) {
			for i := tree.runs[ra].from; i < tree.runs[ra].to; i++ {
				for j := tree.runs[rb].from; j < tree.runs[rb].to; j++ {
					seen[pair{min(i, j), max(i, j)}] = true
				}
			}
		})
		for _, p := range want {
			if seen[p] {
				got = append(got, p)
			}
		}
		if !slices.Equal(got, want) {
			t.Fatalf("%d of %d crossing pairs found", len(got), len(want))
		}
	}
}

// One frame round many small stamps, and a few long diagonals through them: the time must not go with the product.
func BenchmarkUnevenLengths(b *testing.B) {
	in := stampBorder(400)
	in = append(in, Operand{Path: Path{box(-9, -9, 168, 248), box(-7, -7, 164, 244).Reverse()}})
	for i := range 20 {
		x := float64(i) * 7
		in = append(in, Operand{Path: Path{poly(x, -8, x+0.5, -8, 150-x, 238, 149.5-x, 238)}})
	}
	for b.Loop() {
		if _, err := Fuse(in, 2000); err != nil {
			b.Fatal(err)
		}
	}
}
