package layout

import (
	"fmt"
	"math/big"
)

// A Run is a length that whole groups are to fill: Pitch is that of a group, in nanometres, and the space between its
// stamps gives Least (negative or nothing) to Most, as shares of it. Floor is how short a group may become before two of
// its stamps stand nearer than they may.
type Run struct {
	Length      int64
	Pitch       int64
	Least, Most *big.Rat
	Floor       int64
}

// holds says whether n groups fill the run within what the space gives.
func (r Run) holds(n int64) bool {
	if n < 1 || r.Length < n*r.Floor {
		return false
	}
	least := new(big.Rat).Mul(big.NewRat(n*r.Pitch, 1), new(big.Rat).Add(big.NewRat(1, 1), r.Least))
	most := new(big.Rat).Mul(big.NewRat(n*r.Pitch, 1), new(big.Rat).Add(big.NewRat(1, 1), r.Most))
	l := big.NewRat(r.Length, 1)
	return l.Cmp(least) >= 0 && l.Cmp(most) <= 0
}

// Whole gives every number of groups that fills the run, the least first.
func (r Run) Whole() []int64 {
	var out []int64
	if r.Length <= 0 || r.Pitch <= 0 {
		return nil
	}
	one := big.NewRat(1, 1)
	perGroup := func(give *big.Rat) *big.Rat {
		return new(big.Rat).Mul(big.NewRat(r.Pitch, 1), new(big.Rat).Add(one, give))
	}
	from := quotient(r.Length, perGroup(r.Most))
	to := quotient(r.Length, perGroup(r.Least)) + 1
	for n := max(1, from); n <= min(to, mostRepeats); n++ {
		if r.holds(n) {
			out = append(out, n)
		}
	}
	return out
}

// mostRepeats bounds the work on one run: no cover holds as many stamps.
const mostRepeats = 5_000

func quotient(l int64, by *big.Rat) int64 {
	if by.Sign() <= 0 {
		return mostRepeats
	}
	q := new(big.Rat).Quo(big.NewRat(l, 1), by)
	return min(mostRepeats, new(big.Int).Div(q.Num(), q.Denom()).Int64())
}

// Best is the number of groups that changes the pitch least, by |ln(L/np)|, among those inside the give; 0 where none is.
func (r Run) Best() int64 {
	best := int64(0)
	for _, n := range r.Whole() {
		if best == 0 || nearer(r, n, best) {
			best = n
		}
	}
	return best
}

// nearer compares |ln(L/np)|, which is less where the greater of L and np is the smaller multiple of the other: exact, by
// cross-multiplication.
func nearer(r Run, n, m int64) bool {
	bigger := func(n int64) *big.Rat {
		a, b := big.NewRat(r.Length, n*r.Pitch), big.NewRat(n*r.Pitch, r.Length)
		if a.Cmp(b) > 0 {
			return a
		}
		return b
	}
	return bigger(n).Cmp(bigger(m)) < 0
}

// Smallest is the length from which on every run fits: that of ⌈(1−a)/(a+b)⌉ groups at their shortest, where the space
// gives −a to +b.
func (r Run) Smallest() (groups int64) {
	give := new(big.Rat).Sub(r.Most, r.Least)
	if give.Sign() <= 0 {
		return mostRepeats
	}
	q := new(big.Rat).Quo(new(big.Rat).Add(big.NewRat(1, 1), r.Least), give)
	n := new(big.Int).Div(new(big.Int).Add(q.Num(), new(big.Int).Sub(q.Denom(), big.NewInt(1))), q.Denom())
	return max(1, n.Int64())
}

// change is L/(np) − 1.
func (r Run) change(n int64) float64 { return float64(r.Length)/float64(n*r.Pitch) - 1 }

// strain is how far n groups are from their natural pitch, alike for too long and too short: it orders as |ln(L/np)| does.
func (r Run) strain(n int64) float64 {
	l, np := float64(r.Length), float64(n*r.Pitch)
	return max(l/np, np/l) - 1
}

// Miss tells why no whole number of groups fits, with both neighbours.
func (r Run) Miss(what string) string {
	n := r.Length / max(1, r.Pitch)
	least, _ := r.Least.Float64()
	most, _ := r.Most.Float64()
	gives := fmt.Sprintf("the space gives %+.0f %% to %+.0f %%", least*100, most*100)
	if n < 1 {
		return fmt.Sprintf("a run of %s does not hold one %s, %s long (%+.1f %%); %s", mmText(r.Length), what, mmText(r.Pitch), r.change(1)*100, gives)
	}
	over, lack := r.Length-n*r.Pitch, (n+1)*r.Pitch-r.Length
	return fmt.Sprintf("%d × %s leave %s over (%+.1f %%), %d lack %s (%+.1f %%); %s", n, what, mmText(over), r.change(n)*100, n+1, mmText(lack), r.change(n+1)*100, gives)
}

// at places the middle of the i-th of n parts of a length, rounded to the grid of a micrometre by integers.
func at(start, length, i, n int64) int64 {
	return micrometre(start + divRound((2*i+1)*length, 2*n))
}

// edge places the boundary before the i-th of n parts.
func edge(start, length, i, n int64) int64 { return micrometre(start + divRound(i*length, n)) }

// divRound divides, half away from zero; a cover's nanometres times mostRepeats stay far inside 64 bits.
func divRound(a, b int64) int64 {
	if a < 0 {
		return -divRound(-a, b)
	}
	return (a + b/2) / b
}
