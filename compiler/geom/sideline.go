package geom

import "math"

// A sideline is drawn at a fixed distance beside a walk, on the side that y turned towards x shows: outside an outer
// contour. It goes out along each edge and round each turn away from it; at a turn towards it it goes back to the walk's
// own point and out again. So it is the boundary of the walk, a quadrangle on every leg and a sector on every outward
// turn, all wound the same way, added up: where the winding of that sum is positive is what the distance covers,
// however the sidelines cross. (A shortcut across an inward turn is not safe: it leaves false holes where a hole is
// smaller than the distance.)
type sideline struct {
	r       float64 // the distance
	join    Join
	limit   float64 // the longest mitre, as a multiple of r
	flat    float64 // how far a chord may leave its arc
	fit     float64 // how far a cubic may leave an arc, or the true place beside a curve
	close   float64 // how far a chord may leave a curve that turns too sharply for the line
	polygon bool    // arcs are drawn by chords, and curves not fitted

	out []Segment
	at  Point
	on  bool // whether at is set
	tag int32
}

// same is how near two points of the sideline may be to count as one, in nanometres: two roundings to the grid and the
// angle that a curve's arms lose by theirs.
const same = 4

func (w *sideline) beside(p, direction vec) vec {
	return p.plus(vec{direction.y, -direction.x}.times(w.r))
}

func (w *sideline) lineTo(p vec) { w.lineToPoint(p.grid()) }

func (w *sideline) lineToPoint(p Point) {
	if w.on && p != w.at {
		s := Line(w.at, p)
		s.Tag = w.tag
		w.out = append(w.out, s)
	}
	w.at, w.on = p, true
}

// round draws an arc about c from where the line is, through turn degrees, to the point to.
func (w *sideline) round(c vec, from vec, turn float64, to vec) {
	sagitta := float64(w.r * (1 - cosOf(turn/2)))
	if sagitta <= w.flat {
		w.lineTo(to)
		return
	}
	if w.polygon {
		n := math.Ceil(math.Abs(turn) / chordTurn(w.r, w.flat))
		for k := 1.0; k < n; k++ {
			s, co := SinCos(float64(turn*k) / n)
			w.lineTo(c.plus(vec{float64(co*from.x) - float64(s*from.y), float64(s*from.x) + float64(co*from.y)}.times(w.r)))
		}
		w.lineTo(to)
		return
	}
	arcs := unitArc(from, turn, w.r, w.fit)
	for i, a := range arcs {
		end := c.plus(a[3].times(w.r))
		if i == len(arcs)-1 {
			end = to
		}
		w.cubicTo(c.plus(a[1].times(w.r)), c.plus(a[2].times(w.r)), end)
	}
}

func cosOf(deg float64) float64 { _, c := SinCos(deg); return c }

// chordTurn is the angle in degrees over which a chord leaves an arc of radius r by flat.
func chordTurn(r, flat float64) float64 { return 2 * ArcCosDeg(1-min(flat/r, 0.5)) }

func (w *sideline) cubicTo(p, q, to vec) {
	s := Cubic(w.at, p.grid(), q.grid(), to.grid())
	s.Tag = w.tag
	if s.P0 != s.P3 || s.P1 != s.P0 || s.P2 != s.P0 {
		w.out = append(w.out, s)
	}
	w.at = s.P3
}

// A turn is what the sideline does where one leg ends and the next begins.
type turn uint8

const (
	onward  turn = iota // the two directions are one
	inward              // back to the walk and out again
	outward             // round, or bevelled
	pointed             // by a mitre
)

// A vertex is a turn with the places where the line leaves the leg before, where it begins the leg after, and the tip of
// a mitre.
type vertex struct {
	kind         turn
	p            vec
	end, begin   vec
	tip          vec
	degrees      float64
	outOf        vec // the unit normal at end
	sharp        bool
	before, next leg
}

// doublesBack is the cosine of a turn so near to 180° that its side says nothing: at the tip of a needle two curves may
// pass each other by less than the grid. There the line goes round even if it seems to be the inside. That is never
// wrong, since all that is within the distance of a point of the walk is covered.
const doublesBack = -0.9

func (w *sideline) vertex(before, next leg) vertex {
	x := vertex{p: before.b, before: before, next: next}
	x.end, x.begin = w.beside(before.b, before.v), w.beside(next.a, next.u)
	x.outOf = vec{before.v.y, -before.v.x}
	x.sharp = before.node
	cross, dot := before.v.cross(next.u), before.v.dot(next.u)
	switch {
	case dot > 0 && x.end.minus(x.begin).length() <= same:
		x.kind, x.begin = onward, x.end
	case cross < 0 && (dot > doublesBack || x.sharp && w.join != RoundJoin):
		x.kind = inward
	default:
		x.kind = outward
		if x.degrees = Atan2Deg(cross, dot); x.degrees < 0 {
			x.degrees += 360
		}
		// The mitre is 1/cos(turn/2) times the distance long.
		half := cosOf(x.degrees / 2)
		if x.sharp && w.join == Mitre && float64(half*w.limit) >= 1-1e-12 {
			x.kind = pointed
			normal := x.outOf.plus(vec{next.u.y, -next.u.x})
			x.tip = x.p.plus(normal.times(w.r / (1 + dot)))
		}
	}
	return x
}

// turn draws what is between two legs. A mitre between straight legs is a corner of the line and nothing else.
func (w *sideline) turn(x vertex) {
	switch x.kind {
	case onward:
	case inward:
		w.lineTo(x.p)
		w.lineTo(x.begin)
	case pointed:
		w.lineTo(x.tip)
		if !x.next.line {
			w.lineTo(x.begin)
		}
	case outward:
		if x.sharp && w.join != RoundJoin {
			w.lineTo(x.begin)
			return
		}
		w.round(x.p, x.outOf, x.degrees, x.begin)
	}
}

// follow draws the line beside all the legs. The turn into the first leg is drawn where the walk is closed. An open one
// begins and ends square to the walk, also where a leg got another direction.
func (w *sideline) follow(legs []leg, closed bool) {
	first, last := legs[0], legs[len(legs)-1]
	legs = w.passable(legs)
	n := len(legs)
	turns := make([]vertex, n+1) // before each leg; the last is after all
	for i := 1; i < n; i++ {
		turns[i] = w.vertex(legs[i-1], legs[i])
	}
	if closed {
		turns[0] = w.vertex(legs[n-1], legs[0])
		turns[n] = turns[0]
	} else {
		turns[0] = w.vertex(leg{b: first.a, v: first.u}, legs[0])
		final := legs[n-1]
		final.node = false // no corner, even if its direction is not the walk's
		turns[n] = w.vertex(final, leg{a: last.b, u: last.v})
	}
	w.tag = legs[0].tag
	if closed {
		w.lineTo(turns[0].to(legs[0]))
	} else {
		w.lineTo(turns[0].end)
		w.turn(turns[0])
	}
	for i := 0; i < n; {
		w.tag = legs[i].tag
		j := i + 1
		if w.curved(legs[i]) && !w.polygon {
			for j < n && w.curved(legs[j]) && legs[j].source == legs[i].source && turns[j].kind == onward {
				j++
			}
			w.curve(legs[i:j], turns[i].to(legs[i]), turns[j].end)
		} else if turns[j].kind != pointed || !legs[i].line {
			w.lineTo(turns[j].end)
		}
		w.turn(turns[j])
		i = j
	}
}

// to is where the line beside the next leg begins.
func (x vertex) to(next leg) vec {
	if x.kind == pointed && next.line {
		return x.tip
	}
	return x.begin
}

// curved says whether the line beside a leg follows its curve.
func (w *sideline) curved(l leg) bool { return !l.line && (l.u != l.v || l.u != l.chord()) }

// passable makes ready for this side of a walk. Where a curve turns towards the line more sharply than the distance
// allows, the line beside it would run backwards and its quadrangles would be turned over; nothing that lies beside it
// there is outside everything else, so there the walk goes by the fewest chords that keep close to the curve, each with
// a spike to the curve at either end. (A spike for every leg would make millions of crossings round a small hole.)
func (w *sideline) passable(legs []leg) []leg {
	var out []leg
	for i := 0; i < len(legs); {
		j := i
		for j < len(legs) && w.turnedOver(legs[j]) && legs[j].source == legs[i].source {
			j++
		}
		if j == i {
			out = append(out, legs[i])
			i++
			continue
		}
		for i < j {
			k := i + 1
			for k < j && keepsClose(legs[i:k+1], w.close) {
				k++
			}
			l := legs[i]
			l.b, l.node = legs[k-1].b, legs[k-1].node
			l.u = l.chord()
			l.v = l.u
			out = append(out, l)
			i = k
		}
	}
	return out
}

func (w *sideline) turnedOver(l leg) bool {
	return !l.line && w.beside(l.b, l.v).minus(w.beside(l.a, l.u)).dot(l.chord()) <= 0
}

// keepsClose says whether one chord may stand for the legs: they stay within tol of it, and go its way.
func keepsClose(legs []leg, tol float64) bool {
	a := legs[0].a
	d := legs[len(legs)-1].b.minus(a).unit()
	for _, l := range legs {
		off := d.cross(l.b.minus(a))
		if max(off, -off) > tol || d.dot(l.chord()) < 0.5 {
			return false
		}
	}
	return true
}

// curve draws the line beside a run of one curve's legs: cubics fitted to its points, whose directions at the ends are
// the curve's own.
func (w *sideline) curve(legs []leg, begin, end vec) {
	points, along := []vec{begin}, []float64{legs[0].t0}
	for _, l := range legs {
		points, along = append(points, w.beside(l.b, l.v)), append(along, l.t1)
	}
	points[len(legs)] = end
	if len(points) == 2 || begin.minus(end).isZero() {
		w.lineTo(end)
		return
	}
	for _, s := range fitRun(points, along, legs[0].u, legs[len(legs)-1].v, w.fit) {
		if s.Line {
			w.lineToPoint(s.P3)
			continue
		}
		w.cubicTo(toVec(s.P1), toVec(s.P2), toVec(s.P3))
	}
}

// contour ends the line where it began and gives it out.
func (w *sideline) contour() Contour {
	if len(w.out) > 0 {
		w.lineToPoint(w.out[0].P0)
	}
	c := Contour{Segments: w.out, Closed: true}
	w.out, w.on = nil, false
	return c
}
