package geom

// Fit draws a polyline that has no curves to remember (a trace, a flattened outline) with as few cubics and lines as stay
// within tol of its points and of the middles of its edges. Corners are found first, where the direction turns by more
// than cornerDeg degrees, and are kept to the point; between corners the curve has one tangent everywhere. An edge that
// could not be a chord of a curve within tol is kept as the straight line it is.
//
// tol should be at least three times the tolerance at which the polyline was made, or its own facets are fitted.
func Fit(points []Point, closed bool, tol int64, cornerDeg float64) Contour {
	p := distinct(points, closed)
	out := Contour{Closed: closed}
	if len(p) < 2 {
		if len(p) == 1 {
			out.Segments = []Segment{Line(p[0], p[0])}
		}
		return out
	}
	f := newFitter(p, closed, float64(max(tol, 1)), cornerDeg)
	f.findCorners()
	f.findStraights()
	for _, r := range f.runs() {
		out.Segments = append(out.Segments, fitRun(r.points, nil, r.leave, r.reach, f.tol)...)
	}
	return out
}

// distinct drops points equal to the one before, round the end as well where closed.
func distinct(points []Point, closed bool) []Point {
	var out []Point
	for _, p := range points {
		if len(out) == 0 || p != out[len(out)-1] {
			out = append(out, p)
		}
	}
	for closed && len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}

// A fitter looks over a polyline before it is fitted. Edge i runs from point i to the next.
type fitter struct {
	at        []vec
	closed    bool
	tol       float64
	cornerCos float64
	straight  []bool // by edge
	corner    []bool // by point
}

func newFitter(p []Point, closed bool, tol, cornerDeg float64) *fitter {
	f := &fitter{closed: closed, tol: tol, at: make([]vec, len(p)), straight: make([]bool, len(p)), corner: make([]bool, len(p))}
	_, f.cornerCos = SinCos(min(max(cornerDeg, 0), 180))
	for i, q := range p {
		f.at[i] = toVec(q)
	}
	return f
}

func (f *fitter) point(i int) vec { n := len(f.at); return f.at[((i%n)+n)%n] }

// edges is how many edges there are.
func (f *fitter) edges() int {
	if f.closed {
		return len(f.at)
	}
	return len(f.at) - 1
}

// findCorners marks the points where the polyline turns by more than the given angle. Edges shorter than the tolerance
// have no direction worth the name, so the turn is seen from the nearest points further off than that; of several marked
// points that close together the sharpest is the corner.
func (f *fitter) findCorners() {
	n := len(f.at)
	sharp := make([]float64, n) // 1 − cosine of the turn, or 0
	for i := range f.at {
		if !f.closed && (i == 0 || i == n-1) {
			f.corner[i] = true
			continue
		}
		a, b := f.at[i].minus(f.point(f.away(i, -1))).unit(), f.point(f.away(i, 1)).minus(f.at[i]).unit()
		if cos := a.dot(b); cos < f.cornerCos {
			sharp[i] = 1 - cos
		}
	}
	for i := range f.at {
		if sharp[i] == 0 {
			continue
		}
		f.corner[i] = true
		for _, step := range []int{-1, 1} {
			for j := i + step; f.within(j) && j-i < n && i-j < n && f.point(j).minus(f.at[i]).length() < 2*f.tol; j += step {
				s := sharp[(j+n)%n]
				if s > sharp[i] || (s == sharp[i] && step < 0) {
					f.corner[i] = false
				}
			}
		}
	}
}

// findStraights marks the edges that are no chords. A chord of a smooth curve that turns by a at one end and by b at the
// other stands off the curve by about length·(a + b)/16; where that is more than the tolerance, whoever made the
// polyline would have put a point between. The turn at a corner says nothing: there the other end counts for both.
func (f *fitter) findStraights() {
	for i := range f.edges() {
		d := f.point(i + 1).minus(f.point(i))
		atBegin, atEnd := f.corner[i], f.corner[(i+1)%len(f.at)]
		turn := 0.0
		if !atBegin {
			turn += bend(f.point(i).minus(f.point(i-1)), d)
		}
		if !atEnd {
			turn += bend(d, f.point(i+2).minus(f.point(i+1)))
		}
		if atBegin != atEnd {
			turn *= 2
		}
		f.straight[i] = float64(d.length()*turn) > 16*f.tol
	}
}

// bend is the sine of half the turn from a to b, doubled: the turn itself in radians where it is small.
func bend(a, b vec) float64 { return b.unit().minus(a.unit()).length() }

func (f *fitter) within(i int) bool { return f.closed || (i >= 0 && i < len(f.at)) }

// away is the nearest point before (step −1) or after i that is at least the tolerance away from it; the last one that
// there is where all are nearer.
func (f *fitter) away(i, step int) int {
	j := i + step
	for range f.at {
		if !f.within(j+step) || f.point(j).minus(f.point(i)).length() >= f.tol {
			break
		}
		j += step
	}
	return j
}

// A smoothRun is a stretch without a corner, and the unit directions at its ends.
type smoothRun struct {
	points       []vec
	leave, reach vec
}

func (f *fitter) runs() []smoothRun {
	n := len(f.at)
	var breaks []int
	for i := range f.at {
		if f.corner[i] || f.straight[i] || f.straight[(i+n-1)%n] {
			breaks = append(breaks, i)
		}
	}
	if len(breaks) == 0 {
		t := tangentAt(f.point(f.away(0, -1)), f.at[0], f.point(f.away(0, 1)))
		return []smoothRun{{append(append([]vec{}, f.at...), f.at[0]), t, t}}
	}
	var out []smoothRun
	for k, begin := range breaks {
		end := breaks[(k+1)%len(breaks)]
		if end <= begin {
			end += n
		}
		if !f.closed && end >= n {
			break // an open polyline does not run on from its end to its beginning
		}
		r := smoothRun{}
		for i := begin; i <= end; i++ {
			r.points = append(r.points, f.point(i))
		}
		r.leave, r.reach = endTangent(r.points, f.tol), endTangent(reversed(r.points), f.tol).times(-1)
		if before := (begin + n - 1) % n; f.straight[before] && !f.corner[begin] {
			r.leave = f.at[begin].minus(f.at[before]).unit()
		}
		if after := end % n; f.straight[after] && !f.corner[after] {
			r.reach = f.point(after + 1).minus(f.at[after]).unit()
		}
		out = append(out, r)
	}
	return out
}

func reversed(p []vec) []vec {
	out := make([]vec, len(p))
	for i, v := range p {
		out[len(p)-1-i] = v
	}
	return out
}

// tangentAt is the direction at b of the parabola through a, b and c.
func tangentAt(a, b, c vec) vec {
	u, v := b.minus(a), c.minus(b)
	lu, lv := u.length(), v.length()
	if t := u.unit().times(lv).plus(v.unit().times(lu)); !t.isZero() {
		return t.unit()
	}
	return v.unit()
}

// endTangent is the direction at the beginning of the circle through the first points that are further apart than tol.
func endTangent(p []vec, tol float64) vec {
	far := func(i int) int {
		j := i + 1
		for j+1 < len(p) && p[j].minus(p[i]).length() < tol {
			j++
		}
		return j
	}
	b := far(0)
	u := p[b].minus(p[0])
	if b+1 >= len(p) {
		return u.unit()
	}
	v := p[far(b)].minus(p[b])
	lu, lv := u.length(), v.length()
	if u.dot(v) <= 0 || lu == 0 || lv == 0 {
		return u.unit()
	}
	return u.unit().times(float64(2*lu) + lv).minus(v.unit().times(lu)).unit()
}

// fitRun fits cubics to points that turn no corner, each by least squares on its two arms (Schneider, Graphics Gems,
// 1990) and as long as it can be: how far it reaches is found by halving, in as many fits as the count has bits. Along
// is nil, or the parameters of the points on a curve that is much like this one.
func fitRun(p []vec, along []float64, leave, reach vec, tol float64) []Segment {
	var out []Segment
	for {
		if s, ok := fitOne(p, along, leave, reach, tol); ok {
			return append(out, s)
		}
		good, bad := 1, len(p)-1 // the curve reaches good, not bad
		best, at := Line(p[0].grid(), p[1].grid()), p[1].minus(p[0]).unit()
		for bad-good > 1 {
			cut := (good + bad) / 2
			t := tangentAt(p[awayIn(p, cut, -1, tol)], p[cut], p[awayIn(p, cut, 1, tol)])
			if s, ok := fitOne(p[:cut+1], along, leave, t, tol); ok {
				good, best, at = cut, s, t
			} else {
				bad = cut
			}
		}
		out = append(out, best)
		p, leave = p[good:], at
		if along != nil {
			along = along[good:]
		}
	}
}

// fitOne is the one cubic along the points, sought from the parameters given and, where those lead nowhere, from the
// lengths.
func fitOne(p []vec, along []float64, leave, reach vec, tol float64) (Segment, bool) {
	if len(p) == 2 {
		return Line(p[0].grid(), p[1].grid()), true
	}
	if along != nil {
		if c := newCubicFit(p, along, leave, reach, tol); c.fit() {
			return c.segment(), true
		}
	}
	c := newCubicFit(p, chordLengths(p), leave, reach, tol)
	if c.fit() {
		return c.segment(), true
	}
	return Segment{}, false
}

// awayIn is the nearest point before or after i at least tol away, or the end.
func awayIn(p []vec, i, step int, tol float64) int {
	j := i + step
	for j+step >= 0 && j+step < len(p) && p[j].minus(p[i]).length() < tol {
		j += step
	}
	return j
}
