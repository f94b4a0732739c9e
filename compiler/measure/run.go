package measure

import (
	"fmt"
	"math/big"

	"headcap/lang/unit"
)

// A Slot is one part of a length that is to be shared out: a size, and how it may grow or shrink from there, or a share of
// what is left; a least and a most. Nil is none.
type Slot struct {
	Size         unit.Length
	Share        *big.Rat // of what the sizes leave; such a slot neither grows nor shrinks
	Grow, Shrink *big.Rat
	Least, Most  *unit.Length
}

// A RunError says by how much a length does not hold its slots, or is not filled by them.
type RunError struct {
	Short unit.Length // what is lacking
	Over  unit.Length // what cannot be placed
}

func (e *RunError) Error() string {
	if e.Short.Sign() > 0 {
		return fmt.Sprintf("%s too short", e.Short)
	}
	return fmt.Sprintf("%s too long, and nothing may take the rest", e.Over)
}

// Run shares a length among slots, exactly. Shares take what the sizes leave; without shares the slots grow, or shrink, in
// proportion. Slots that come under their least or over their most are fixed there and the rest is shared again: in each
// round only those at their most if the clamps together would take too little, else only those at their least (as CSS
// Flexible Box Layout Level 1, 9.7, resolves flexible lengths). What cannot be placed is a *RunError.
func Run(length unit.Length, slots []Slot) ([]unit.Length, error) {
	out := make([]unit.Length, len(slots))
	fixed := make([]bool, len(slots))
	for range len(slots) + 1 {
		left := length
		for i, s := range slots {
			if fixed[i] {
				left = left.Sub(out[i])
			} else {
				left = left.Sub(s.Size)
			}
		}
		flex, total := flexing(slots, fixed, left.Sign())
		for i, s := range slots {
			if fixed[i] {
				continue
			}
			out[i] = s.Size
			if f := flex(s); f != nil && total.Sign() > 0 {
				out[i] = s.Size.Add(left.MulRat(new(big.Rat).Quo(f, total)))
			}
		}
		clamped := unit.MM(0) // what the clamps give or take, all together
		for i, s := range slots {
			if !fixed[i] {
				clamped = clamped.Add(clamp(s, out[i]).Sub(out[i]))
			}
		}
		done := true
		for i, s := range slots {
			c := clamp(s, out[i])
			if fixed[i] || c.Cmp(out[i]) == 0 {
				continue
			}
			// A clamp that adds is one at the least.
			atLeast := c.Cmp(out[i]) > 0
			if clamped.Sign() == 0 || atLeast == (clamped.Sign() > 0) {
				out[i], fixed[i], done = c, true, false
			}
		}
		if done {
			break
		}
	}
	rest := length
	for _, l := range out {
		rest = rest.Sub(l)
	}
	switch rest.Sign() {
	case -1:
		return nil, &RunError{Short: rest.Neg().As(length.Shown())}
	case 1:
		return nil, &RunError{Over: rest.As(length.Shown())}
	}
	return out, nil
}

func clamp(s Slot, l unit.Length) unit.Length {
	if s.Least != nil && l.Cmp(*s.Least) < 0 {
		return *s.Least
	}
	if s.Least == nil && l.Sign() < 0 {
		return unit.MM(0)
	}
	if s.Most != nil && l.Cmp(*s.Most) > 0 {
		return *s.Most
	}
	return l
}

// flexing gives what a slot takes part with in this round, and the sum of it over the slots that are free.
func flexing(slots []Slot, fixed []bool, sign int) (flex func(Slot) *big.Rat, total *big.Rat) {
	flex = func(s Slot) *big.Rat { return s.Share }
	if total = sumOf(slots, fixed, flex); sign >= 0 && total.Sign() > 0 {
		return flex, total
	}
	flex = func(s Slot) *big.Rat { return s.Grow }
	if sign < 0 {
		flex = func(s Slot) *big.Rat { return s.Shrink }
	}
	return flex, sumOf(slots, fixed, flex)
}

func sumOf(slots []Slot, fixed []bool, of func(Slot) *big.Rat) *big.Rat {
	total := new(big.Rat)
	for i, s := range slots {
		if f := of(s); f != nil && !fixed[i] {
			total.Add(total, f)
		}
	}
	return total
}
