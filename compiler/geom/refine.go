package geom

// Where curves run close beside each other, their chords may cross where they do not, or the other way round: a gap or a
// lens thinner than the tolerance, but many times as long, would come or go. So chords are cut finer where they do not
// settle whether and where the curves meet, and only there.
const (
	finest     = 16 // into as many parts at most, which come 256 times closer to the curve
	closeToPix = 1  // nanometres; chords as close as this to their curve are not cut
)

// A refiner looks at pairs of edges of a layer in whole nanometres.
type refiner struct {
	*layer
	tol  int64
	sag  []float64 // by edge: how far its curve leaves it at most; zero for straight ones
	cuts []uint32  // by edge: bit j says that it is to be cut at j sixteenths
}

// refine cuts the chords of curves, flattened to tol, where that tells more. What it does depends on the points alone, so
// that what lies on each other stays so.
func (l *layer) refine(tol int64) {
	r := refiner{layer: l, tol: tol}
	if !l.curved() || !r.measure() {
		return
	}
	margin := int32(min(tol+1, 1<<29))
	tree := newHierarchy(l.at, l.loops, margin)
	tree.pairs(func(a, b int32) {
		p, q := &tree.runs[a], &tree.runs[b]
		for i := p.from; i < p.to; i++ {
			box := edgeBounds(l.at[i], l.at[i+1])
			box = bounds{box.minX - margin, box.minY - margin, box.maxX + margin, box.maxY + margin}
			if !box.meets(&tree.levels[0][b]) {
				continue
			}
			box = bounds{box.minX - margin, box.minY - margin, box.maxX + margin, box.maxY + margin}
			for j := q.from; j < q.to; j++ {
				if i != j && box.touches(l.at[j], l.at[j+1]) && (r.sag[i] > 0 || r.sag[j] > 0) && r.near(i, j) && !goesOn(r.at, i, j, r.sag[i], r.sag[j]) {
					r.pair(r.piece(i, p.loop), r.piece(j, q.loop))
				}
			}
		}
	})
	r.cut()
}

func (l *layer) curved() bool {
	for k := range l.loops {
		for i := range l.loops[k].segments {
			if !l.loops[k].segments[i].Line {
				return true
			}
		}
	}
	return false
}

// measure finds how far each curve leaves its chords, and says whether any does.
func (r *refiner) measure() (curved bool) {
	r.sag, r.cuts = make([]float64, len(r.at)), make([]uint32, len(r.at))
	for k := range r.loops {
		q := &r.loops[k]
		for i := q.first; i < q.last; i++ {
			if s := q.segment(r.src[i]); !s.Line {
				r.sag[i] = s.sagitta(r.t[i], r.ends(q, i))
				curved = curved || r.sag[i] > 0
			}
		}
	}
	return curved
}

// sagitta is the most by which a cubic may leave its chord from t0 to t1: an eighth of the square of the step times the
// greatest second derivative.
func (s *Segment) sagitta(t0, t1 float64) float64 {
	return float64(float64(0.75*float64((t1-t0)*(t1-t0))) * s.bent(t0, t1))
}

// bent is a sixth of the greatest second derivative of a cubic from t0 to t1, which is that at one of the two.
func (s *Segment) bent(t0, t1 float64) float64 {
	a, b, c, d := toVec(s.P0), toVec(s.P1), toVec(s.P2), toVec(s.P3)
	p, q := a.minus(b).plus(c.minus(b)), b.minus(c).plus(d.minus(c))
	return max(p.times(1-t0).plus(q.times(t0)).length(), p.times(1-t1).plus(q.times(t1)).length())
}

// goesOn says whether of two edges one follows on the other and their curves, which leave them by so much at most, meet in
// no other point. It spares looking closer at what almost all neighbours are.
func goesOn(at []pix, i, j int32, sagI, sagJ float64) bool {
	if i > j {
		i, j, sagI, sagJ = j, i, sagJ, sagI
	}
	if j != i+1 {
		return false
	}
	b := place(at[j])
	u, v := b.minus(place(at[i])), place(at[j+1]).minus(b)
	return u.dot(v) > 0 && float64(256*float64(sagI*sagI)) <= u.dot(u) && float64(256*float64(sagJ*sagJ)) <= v.dot(v)
}

func (r *refiner) near(i, j int32) bool {
	reach := toGrid(r.sag[i]+r.sag[j]) + 2
	a, b, c, d := r.at[i], r.at[i+1], r.at[j], r.at[j+1]
	return int64(max(a.x, b.x))+reach >= int64(min(c.x, d.x)) && int64(max(c.x, d.x))+reach >= int64(min(a.x, b.x)) &&
		int64(max(a.y, b.y))+reach >= int64(min(c.y, d.y)) && int64(max(c.y, d.y))+reach >= int64(min(a.y, b.y))
}

// A piece is a part of an edge, from lo to hi sixteenths of the step that it takes on its source.
type piece struct {
	edge   int32
	lo, hi int64
	a, b   pix
	sag    float64
	source *Segment
	k0, k1 int64 // the edge runs from k0 to k1, of n steps on its source
	n      int64
}

func (r *refiner) piece(i, loop int32) piece {
	q := &r.loops[loop]
	p := piece{edge: i, hi: finest, a: r.at[i], b: r.at[i+1], sag: r.sag[i], source: q.segment(r.src[i])}
	if p.sag > 0 {
		p.n = int64(p.source.chords(r.tol))
		p.k0, p.k1 = toGrid(float64(r.t[i]*float64(p.n))), toGrid(float64(r.ends(q, i)*float64(p.n)))
	}
	return p
}

// at is the parameter at so many sixteenths, and its complement to one, both as they are for the curve run backwards.
func (p *piece) at(sixteenths int64) (t, u float64) {
	n := p.n * finest
	k := p.k0*finest + (p.k1-p.k0)*sixteenths
	return float64(k) / float64(n), float64(n-k) / float64(n)
}

func (p *piece) point(sixteenths int64) (float64, pix) {
	t, u := p.at(sixteenths)
	g := p.source.at(t, u).grid()
	return t, pix{int32(g.X), int32(g.Y)}
}

func (p *piece) divisible() bool { return p.hi-p.lo > 1 && p.sag > closeToPix }

func (p *piece) halves() [2]piece {
	left, right := *p, *p
	mid := (p.lo + p.hi) / 2
	_, at := p.point(mid)
	left.hi, right.lo, left.b, right.a = mid, mid, at, at
	left.sag, right.sag = p.sag/4, p.sag/4
	return [2]piece{left, right}
}

// A trial is the cuts of two edges, and over how many sixteenths they leave open how the curves lie.
type trial struct {
	cuts [2]uint32
	open int64
}

// pair cuts two edges where that tells how their curves lie to each other. Where curves run along each other nearer than
// the finest chords tell, over a quarter of an edge, it leaves them alone.
func (r *refiner) pair(p, q piece) {
	var t trial
	t.compare(&p, &q)
	if t.open < finest/4 {
		r.cuts[p.edge] |= t.cuts[0]
		r.cuts[q.edge] |= t.cuts[1]
	}
}

func (t *trial) compare(p, q *piece) {
	if plain(p, q) {
		return
	}
	cutP, cutQ := p.divisible(), q.divisible()
	if !cutP && !cutQ {
		if p.sag == 0 {
			p = q
		}
		t.open += p.hi - p.lo
		return
	}
	ps, qs := [2]piece{*p}, [2]piece{*q}
	nP, nQ := 1, 1
	if cutP {
		t.cuts[0] |= 1 << ((p.lo + p.hi) / 2)
		ps, nP = p.halves(), 2
	}
	if cutQ {
		t.cuts[1] |= 1 << ((q.lo + q.hi) / 2)
		qs, nQ = q.halves(), 2
	}
	for i := range nP {
		for j := range nQ {
			t.compare(&ps[i], &qs[j])
		}
	}
}

// plain says whether the chords of two pieces tell how the curves lie: too far apart to meet, meeting in a common end
// and nowhere else, crossing once and well away from their ends, or the same. What cannot be told for want of length is
// not.
func plain(p, q *piece) bool {
	if p.a == p.b || q.a == q.b {
		return true
	}
	forward, back := p.a == q.a && p.b == q.b, p.a == q.b && p.b == q.a
	if forward || back {
		return sameCurve(p.source, q.source) || p.sag == 0 && q.sag == 0
	}
	u, v := place(p.b).minus(place(p.a)), place(q.b).minus(place(q.a))
	lu, lv := u.length(), v.length()
	// From any point of a curve the others lie in directions that differ from the chord's by no more than the angle
	// whose sine is four times the sagitta over the chord.
	spread := 4 * (float64(p.sag*lv) + float64(q.sag*lu))
	turn := u.cross(v)
	asunder := max(turn, -turn) > spread
	narrow := spread < float64(0.7*lu)*lv
	if joined(p.a, q.a) || joined(p.b, q.b) {
		return asunder || u.dot(v) < 0 && narrow
	}
	if joined(p.a, q.b) || joined(p.b, q.a) {
		return asunder || u.dot(v) > 0 && narrow
	}
	reach := p.sag + q.sag + 1
	s1, s2, s3, s4 := side(p.a, p.b, q.a), side(p.a, p.b, q.b), side(q.a, q.b, p.a), side(q.a, q.b, p.b)
	crossing := (s1 > 0) != (s2 > 0) && (s3 > 0) != (s4 > 0)
	if !crossing {
		return chordsApart(p, q, reach)
	}
	clear := min(abs64(s1), abs64(s2)) > toGrid(float64(reach*lu)) && min(abs64(s3), abs64(s4)) > toGrid(float64(reach*lv))
	return asunder && clear
}

// joined says whether two ends are the same but for rounding.
func joined(a, b pix) bool {
	return abs64(int64(a.x)-int64(b.x)) <= 2 && abs64(int64(a.y)-int64(b.y)) <= 2
}

func sameCurve(s, t *Segment) bool {
	if s.Line || t.Line {
		return s.Line && t.Line
	}
	return s.P0 == t.P0 && s.P1 == t.P1 && s.P2 == t.P2 && s.P3 == t.P3 ||
		s.P0 == t.P3 && s.P1 == t.P2 && s.P2 == t.P1 && s.P3 == t.P0
}

// chordsApart says whether two chords that do not cross are more than reach from each other.
func chordsApart(p, q *piece, reach float64) bool {
	a, b, c, d := place(p.a), place(p.b), place(q.a), place(q.b)
	return offChord(a, c, d) > reach && offChord(b, c, d) > reach && offChord(c, a, b) > reach && offChord(d, a, b) > reach
}

// offChord is the distance of p from the chord between a and b, the same to the last bit from b to a.
func offChord(p, a, b vec) float64 {
	if a.x > b.x || a.x == b.x && a.y > b.y {
		a, b = b, a
	}
	d := b.minus(a)
	f := min(max(p.minus(a).dot(d)/d.dot(d), 0), 1)
	return p.minus(a.plus(d.times(f))).length()
}

// cut puts the points at which edges are to be cut into the layer.
func (r *refiner) cut() {
	more := 0
	for _, c := range r.cuts {
		for ; c != 0; c &= c - 1 {
			more++
		}
	}
	if more == 0 {
		return
	}
	n := len(r.at) + more
	out := layer{at: make([]pix, 0, n), src: make([]int32, 0, n), t: make([]float64, 0, n)}
	for k := range r.loops {
		q := &r.loops[k]
		first := int32(len(out.at))
		for i := q.first; i <= q.last; i++ {
			out.at, out.src, out.t = append(out.at, r.at[i]), append(out.src, r.src[i]), append(out.t, r.t[i])
			if r.cuts[i] == 0 {
				continue
			}
			p := r.piece(i, int32(k))
			for j := int64(1); j < finest; j++ {
				if r.cuts[i]&(1<<j) == 0 {
					continue
				}
				if t, at := p.point(j); at != out.at[len(out.at)-1] && at != r.at[i+1] {
					out.at, out.src, out.t = append(out.at, at), append(out.src, r.src[i]), append(out.t, t)
				}
			}
		}
		q.first, q.last = first, int32(len(out.at))-1
	}
	r.at, r.src, r.t = out.at, out.src, out.t
}
