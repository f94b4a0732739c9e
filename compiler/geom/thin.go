package geom

// thinnedOut is a ring with as few of its points as keep the others within tol of it (Douglas and Peucker, 1973). It
// begins with the same point. Parts of a ring nearer to each other than tol may come to cross.
func thinnedOut(ring []Point, tol float64) []Point {
	n := len(ring)
	if n < 4 {
		return ring
	}
	// The ring is cut where it is furthest from its first point.
	far, furthest := 0, -1.0
	for i, p := range ring {
		if d := toVec(p).minus(toVec(ring[0])).length(); d > furthest {
			far, furthest = i, d
		}
	}
	keep := make([]bool, n)
	keep[0], keep[far] = true, true
	type span struct{ from, to int }
	work := []span{{0, far}, {far, n}}
	for len(work) > 0 {
		s := work[len(work)-1]
		work = work[:len(work)-1]
		a, b := toVec(ring[s.from]), toVec(ring[s.to%n])
		worst, off := -1, tol
		for i := s.from + 1; i < s.to; i++ {
			if d := offSegment(toVec(ring[i]), a, b); d > off {
				worst, off = i, d
			}
		}
		if worst >= 0 {
			keep[worst] = true
			work = append(work, span{s.from, worst}, span{worst, s.to})
		}
	}
	var out []Point
	for i, p := range ring {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}

// offSegment is the distance of p from the straight line between a and b.
func offSegment(p, a, b vec) float64 {
	d, w := b.minus(a), p.minus(a)
	if l := d.dot(d); l > 0 {
		w = w.minus(d.times(min(max(w.dot(d)/l, 0), 1)))
	}
	return w.length()
}
