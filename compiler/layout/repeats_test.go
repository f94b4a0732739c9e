package layout_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"headcap/compiler/layout"
)

// thousandths of a whole, as a share.
func thousandths(n int64) *big.Rat { return big.NewRat(n, 1000) }

// draws is how many runs each law is tried on; they are the same ones every time.
const draws = 5_000

// A give is a pitch in nanometres and what the space gives, −a to +b in thousandths, more than nothing in all.
type give struct{ pitch, a, b int64 }

func anyGive(r *rand.Rand) give {
	a := r.Int64N(300)
	least := max(0, 5-a)
	return give{500_000 + r.Int64N(40_000_000), a, least + r.Int64N(300)}
}

func (g give) run(length int64) layout.Run {
	return layout.Run{Length: length, Pitch: g.pitch, Least: thousandths(-g.a), Most: thousandths(g.b)}
}

// fits says whether n groups fill the length, in whole numbers.
func (g give) fits(length, n int64) bool {
	return n*g.pitch*(1000-g.a) <= length*1000 && length*1000 <= n*g.pitch*(1000+g.b)
}

// always is ⌈(1−a)/(a+b)⌉: from so many groups at their shortest on, every run fits.
func (g give) always() int64 { return max(1, (1000-g.a+g.a+g.b-1)/(g.a+g.b)) }

// trying runs a law on drawn cases, until one breaks it.
func trying(t *testing.T, law func(t *testing.T, r *rand.Rand, g give)) {
	for seed := range uint64(draws) {
		r := rand.New(rand.NewPCG(seed, 1))
		law(t, r, anyGive(r))
		if t.Failed() {
			t.Fatalf("with the seed %d", seed)
		}
	}
}

// n groups reach from np(1−a) to np(1+b), and n+1 begin where n end at the latest when n(a+b) ≥ 1−a.
func TestEveryLongEnoughRunFits(t *testing.T) {
	trying(t, func(t *testing.T, r *rand.Rand, g give) {
		shortest := (g.always()*g.pitch*(1000-g.a) + 999) / 1000
		run := g.run(shortest + r.Int64N(50*g.pitch)*r.Int64N(2))
		if got := run.Smallest(); got != g.always() {
			t.Errorf("%+v: every run of %d groups fits, it says; %d by hand", g, got, g.always())
		}
		if n := run.Best(); n < 1 || !g.fits(run.Length, n) {
			t.Errorf("%+v: %d groups in %d", g, n, run.Length)
		}
	})
}

// One group fewer, and there is a length that nothing fills: just over what those take at their longest.
func TestTheLawIsSharp(t *testing.T) {
	trying(t, func(t *testing.T, r *rand.Rand, g give) {
		n := g.always()
		between := (n-1)*g.pitch*(1000+g.b)/1000 + 1
		if n < 2 || between*1000 >= n*g.pitch*(1000-g.a) {
			return // one group always fits, or the two meet
		}
		if n := g.run(between).Best(); n != 0 {
			t.Errorf("%+v: %d groups in %d", g, n, between)
		}
	})
}

func TestAllWholeNumbersThatFitAreFoundAndTheNearestTaken(t *testing.T) {
	trying(t, func(t *testing.T, r *rand.Rand, g give) {
		run := g.run(1 + r.Int64N(60*g.pitch))
		var want []int64
		for n := int64(1); n < 120; n++ {
			if g.fits(run.Length, n) {
				want = append(want, n)
			}
		}
		if got := run.Whole(); !slices.Equal(got, want) {
			t.Errorf("%+v: %v, and by trying each %v", run, got, want)
		}
		change := func(n int64) float64 { return math.Abs(math.Log(float64(run.Length) / float64(n*g.pitch))) }
		best := run.Best()
		if (best == 0) != (len(want) == 0) {
			t.Errorf("%+v: the best is %d of %v", run, best, want)
		}
		for _, n := range want {
			if change(n) < change(best)-1e-12 {
				t.Errorf("%+v: %d changes the pitch by %v, and %d by %v", run, best, change(best), n, change(n))
			}
		}
	})
}

// 5 stamps stretch by 9.3 % and 6 are crowded by 8.9 %: less in hundredths, but 1.093 is nearer to 1 as a multiple than
// 0.911, whose inverse is 1.098. So it stretches.
func TestTheChangeIsCountedAsARatio(t *testing.T) {
	r := layout.Run{Length: 54_660_000, Pitch: 10_000_000, Least: thousandths(-200), Most: thousandths(200)}
	if n := r.Best(); n != 5 {
		t.Errorf("%d stamps", n)
	}
	r.Length = 54_800_000 // 1.096 and 0.9133, whose inverse is 1.0949
	if n := r.Best(); n != 6 {
		t.Errorf("%d stamps", n)
	}
}

func TestStampsNeverStandNearerThanTheyMay(t *testing.T) {
	r := layout.Run{Length: 54_800_000, Pitch: 10_000_000, Least: thousandths(-200), Most: thousandths(200), Floor: 9_200_000}
	if n := r.Best(); n != 5 {
		t.Errorf("%d stamps of 9.2 mm at the least in 54.8 mm", n)
	}
}

func TestWhatDoesNotCloseIsToldWithBothNeighbours(t *testing.T) {
	for _, c := range []struct {
		run  layout.Run
		want string
	}{
		{
			layout.Run{Length: 111_100_000, Pitch: 9_000_000, Least: thousandths(-10), Most: thousandths(20)},
			"12 × leaf leave 3.1mm over (+2.9 %), 13 lack 5.9mm (-5.0 %); the space gives -1 % to +2 %",
		},
		{
			layout.Run{Length: 7_000_000, Pitch: 9_000_000, Least: new(big.Rat), Most: thousandths(20)},
			"a run of 7mm does not hold one leaf, 9mm long (-22.2 %); the space gives +0 % to +2 %",
		},
	} {
		if c.run.Best() != 0 {
			t.Errorf("%+v fits", c.run)
		}
		if got := c.run.Miss("leaf"); got != c.want {
			t.Errorf("%q\nnot\n%q", got, c.want)
		}
	}
}

func TestEveryMissCarriesItsNumbers(t *testing.T) {
	trying(t, func(t *testing.T, r *rand.Rand, g give) {
		run := g.run(g.pitch + r.Int64N(10*g.pitch))
		if run.Best() != 0 {
			return
		}
		n, p := run.Length/g.pitch, g.pitch
		told := run.Miss("leaf")
		for _, want := range []string{
			fmt.Sprintf("%d × leaf", n), fmt.Sprintf("%d lack", n+1),
			fmt.Sprintf("(%+.1f %%)", float64(run.Length)/float64(n*p)*100-100), fmt.Sprintf("(%+.1f %%)", float64(run.Length)/float64((n+1)*p)*100-100),
		} {
			if !strings.Contains(told, want) {
				t.Errorf("%q does not say %q", told, want)
			}
		}
	})
}
