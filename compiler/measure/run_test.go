package measure

import (
	"errors"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"headcap/lang/unit"
)

func slot(size int64) Slot { return Slot{Size: unit.MM(size)} }

func (s Slot) grows(n int64) Slot   { s.Grow = big.NewRat(n, 1); return s }
func (s Slot) shrinks(n int64) Slot { s.Shrink = big.NewRat(n, 1); return s }
func (s Slot) shares(n int64) Slot  { s.Share = big.NewRat(n, 1); return s }

func (s Slot) from(least int64) Slot { l := unit.MM(least); s.Least = &l; return s }
func (s Slot) upTo(most int64) Slot  { l := unit.MM(most); s.Most = &l; return s }

// texts gives lengths in millimetres, exactly.
func texts(l []unit.Length) string {
	var out []string
	for _, v := range l {
		out = append(out, new(big.Rat).Quo(v.Rat(), unit.MM(1).Rat()).RatString())
	}
	return strings.Join(out, " ")
}

// The cases are worked by hand from CSS Flexible Box Layout Module Level 1, section 9.7, "Resolving Flexible Lengths": the
// steps that each takes stand beside it. There a shrink factor is multiplied by the size; here it is not, so the cases say
// size times factor.
func TestRunResolvesFlexibleLengths(t *testing.T) {
	for _, c := range []struct {
		name   string
		length int64
		slots  []Slot
		want   string // in millimetres; or what is lacking, or left over
	}{
		{"nothing is left", 100, []Slot{slot(60), slot(40)}, "60 40"},
		// Free space 40, factors 1 and 3.
		{"growing in proportion", 100, []Slot{slot(30).grows(1), slot(30).grows(3)}, "40 60"},
		// Free space 60, a third of it each: exact, with nothing rounded.
		{"thirds stay exact", 100, []Slot{slot(0).grows(1), slot(0).grows(1), slot(0).grows(1)}, "100/3 100/3 100/3"},
		// Free space −40; scaled factors 60·1 and 80·2, so 40·60/220 and 40·160/220.
		{"shrinking by size and factor", 100, []Slot{slot(60).shrinks(60), slot(80).shrinks(160)}, "540/11 560/11"},
		{"a slot without a factor keeps its size", 100, []Slot{slot(30), slot(20).grows(1)}, "30 70"},
		// Round 1: 50 + 50; the first is 20 over its most: violation −20, so it is frozen. Round 2: the second takes 70.
		{"one at its most", 100, []Slot{slot(0).grows(1).upTo(30), slot(0).grows(1)}, "30 70"},
		// Round 1: 50 + 50; the first is 20 under its least: violation +20, frozen. Round 2: 30.
		{"one at its least", 100, []Slot{slot(0).grows(1).from(70), slot(0).grows(1)}, "70 30"},
		// Round 1: 40 each; the first goes to 60 (+20), the second to 10 (−30): −10, so only the one at its most is frozen.
		// Round 2: 110 for two, 55 each; the first is 5 under its least, frozen at 60. Round 3: the last takes 50.
		{"both, and more is taken than given", 120, []Slot{slot(0).grows(1).from(60), slot(0).grows(1).upTo(10), slot(0).grows(1)}, "60 10 50"},
		// Round 1: 40 each; 70 (+30) and 30 (−10): +20, so only the one at its least is frozen. Round 2: 50 for two, 25 each,
		// and the one that was over its most no longer is.
		{"both, and more is given than taken", 120, []Slot{slot(0).grows(1).from(70), slot(0).grows(1).upTo(30), slot(0).grows(1)}, "70 25 25"},
		// Round 1: 40 each; 50 (+10) and 30 (−10): 0, so all are frozen.
		{"both, and as much is taken as given", 120, []Slot{slot(0).grows(1).from(50), slot(0).grows(1).upTo(30), slot(0).grows(1)}, "50 30 40"},
		// The hypothetical sizes are 100 and 100, over 180, so it shrinks; the first has a size under its least and is frozen
		// before the first round. Then −20 on the second.
		{"a size under its least", 180, []Slot{slot(50).grows(1).shrinks(50).from(100), slot(100).grows(1).shrinks(100)}, "100 80"},
		// The hypothetical sizes are 100 and 50, under 180, so it grows; the first is frozen at its most. Then +30.
		{"a size over its most", 180, []Slot{slot(150).grows(1).shrinks(150).upTo(100), slot(50).grows(1).shrinks(50)}, "100 80"},
		// Free space −50, 25 each; the first would be −5, under a least of none: frozen at 0, +5. Round 2: −30 on the second.
		{"nothing shrinks below nothing", 50, []Slot{slot(20).shrinks(1), slot(80).shrinks(1)}, "0 50"},
		{"shares take what the sizes leave", 234, []Slot{slot(10), slot(12).shares(1), slot(0).shares(3)}, "10 65 159"},
		{"no room", 20, []Slot{slot(15), slot(10)}, "short 5"},
		{"no room above the least", 50, []Slot{slot(40).shrinks(1).from(30), slot(40).shrinks(1).from(25)}, "short 5"},
		{"nothing may take it", 100, []Slot{slot(40).grows(1).upTo(45), slot(50)}, "over 5"},
		{"no slots", 7, nil, "over 7"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Run(unit.MM(c.length), c.slots)
			said := texts(got)
			var wrong *RunError
			switch {
			case errors.As(err, &wrong) && wrong.Short.Sign() > 0:
				said = "short " + texts([]unit.Length{wrong.Short})
			case wrong != nil:
				said = "over " + texts([]unit.Length{wrong.Over})
			}
			if said != c.want {
				t.Errorf("%q, not %q", said, c.want)
			}
		})
	}
}

// anyRun draws a length and slots, some of them at odds with it.
func anyRun(r *rand.Rand) (unit.Length, []Slot) {
	length := func(most int64) unit.Length {
		return unit.MM(1).MulRat(big.NewRat(r.Int64N(most*10), []int64{10, 3, 7, 254}[r.IntN(4)]))
	}
	slots := make([]Slot, 1+r.IntN(7))
	for i := range slots {
		s := &slots[i]
		s.Size = length(100)
		if r.IntN(4) > 0 {
			s.Grow, s.Shrink = big.NewRat(r.Int64N(5), 1), big.NewRat(r.Int64N(5), 1)
		}
		if r.IntN(2) == 0 {
			l := length(60)
			s.Least = &l
		}
		if r.IntN(2) == 0 {
			l := length(150)
			if s.Least != nil {
				l = l.Add(*s.Least)
			}
			s.Most = &l
		}
	}
	return length(600), slots
}

// What comes out fills the length to the last fraction and keeps every least and most; and one rate serves all, so that
// each slot is its size and factor times that rate, or stands at the limit on the way there. What fails lacks, or leaves,
// just what it says.
func TestRunIsExactAndFair(t *testing.T) {
	missed := 0
	const draws = 5_000
	for seed := range uint64(draws) {
		if t.Failed() {
			t.Fatalf("with the seed %d", seed-1)
		}
		length, slots := anyRun(rand.New(rand.NewPCG(seed, 1)))
		got, err := Run(length, slots)
		var wrong *RunError
		if errors.As(err, &wrong) {
			missed++
			checkMiss(t, length, slots, wrong)
			continue
		}
		sum := unit.MM(0)
		for i, l := range got {
			sum = sum.Add(l)
			if s := slots[i]; l.Sign() < 0 || s.Least != nil && l.Cmp(*s.Least) < 0 || s.Most != nil && l.Cmp(*s.Most) > 0 {
				t.Errorf("slot %d of %s is %s", i, texts(got), l)
			}
		}
		if sum.Cmp(length) != 0 {
			t.Errorf("%s is %s together, not %s", texts(got), sum, length)
		}
		checkRate(t, slots, got)
	}
	if missed < draws/10 || missed > draws*9/10 {
		t.Errorf("%d of %d drawn runs do not fit: they no longer try both", missed, draws)
	}
}

// limits are where a slot may go from its size at all.
func limits(s Slot) (least, most unit.Length, bounded bool) {
	start := clamp(s, s.Size)
	least, most, bounded = start, start, true
	if s.Shrink != nil && s.Shrink.Sign() > 0 {
		least = unit.MM(0)
		if s.Least != nil {
			least = *s.Least
		}
	}
	if s.Grow != nil && s.Grow.Sign() > 0 {
		bounded = s.Most != nil
		if bounded {
			most = *s.Most
		}
	}
	return least, most, bounded
}

func checkMiss(t *testing.T, length unit.Length, slots []Slot, e *RunError) {
	least, most, bounded := unit.MM(0), unit.MM(0), true
	for _, s := range slots {
		l, m, b := limits(s)
		least, most, bounded = least.Add(l), most.Add(m), bounded && b
	}
	short, over := least.Sub(length), length.Sub(most)
	if e.Short.Sign() > 0 && e.Short.Cmp(short) != 0 || e.Short.Sign() <= 0 && (!bounded || e.Over.Cmp(over) != 0) {
		t.Errorf("%v, where the slots take %s to %s (no most: %v) of %s", e, least, most, !bounded, length)
	}
}

// checkRate finds, for each slot that grew or shrank, at which rate, and sees that a slot at a limit would have gone on.
func checkRate(t *testing.T, slots []Slot, got []unit.Length) {
	var rate *big.Rat // millimetres to a factor of one
	moved := func(s Slot, l unit.Length) *big.Rat {
		d := l.Sub(s.Size)
		f := s.Grow
		if d.Sign() < 0 {
			f = s.Shrink
		}
		if d.Sign() == 0 || f == nil || f.Sign() == 0 {
			return nil
		}
		return new(big.Rat).Quo(d.Rat(), f)
	}
	free := func(s Slot, l unit.Length) bool {
		return l.Sign() > 0 && (s.Least == nil || l.Cmp(*s.Least) > 0) && (s.Most == nil || l.Cmp(*s.Most) < 0)
	}
	for i, s := range slots {
		if r := moved(s, got[i]); r != nil && free(s, got[i]) {
			if rate != nil && rate.Cmp(r) != 0 {
				t.Errorf("%s: two rates, %s and %s", texts(got), rate.FloatString(6), r.FloatString(6))
			}
			rate = r
		}
	}
	if rate == nil {
		return
	}
	for i, s := range slots {
		f := s.Grow
		if rate.Sign() < 0 {
			f = s.Shrink
		}
		want := s.Size
		if f != nil {
			want = want.Add(unit.FromRat(new(big.Rat).Mul(rate, f), unit.Millimetre))
		}
		if want = clamp(s, want); want.Cmp(got[i]) != 0 {
			t.Errorf("slot %d of %s is not %s, which it is at the rate of the others", i, texts(got), want)
		}
	}
}
