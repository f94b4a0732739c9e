package layout

import (
	"fmt"
	"math"
	"math/big"

	"headcap/compiler/drawing"
	"headcap/compiler/geom"
	"headcap/compiler/model"
	"headcap/compiler/ornament"
	"headcap/lang/diag"
)

// A wheel is a roll with its stamps drawn. Along a run u goes from its start and v from the run's line inwards, so that
// outwards is −v, as an upright stamp has its head.
type wheel struct {
	roll   *model.Roll
	group  []piece
	corner *piece
	middle *piece
	bead   *piece // between the stamps
	out    int64  // how far the units stand out from the line
	in     int64
	spaces int64 // the least space between two neighbours at the natural pitch
	own    bool  // the group is its own mirror image
	each   bool  // it is not, but every stamp of it is: then the run may turn back at any stamp
}

type piece struct {
	stamp *model.Stamp
	art   []geom.Shape
	t     geom.Transform // turned as asked, before it is placed
	box   geom.Box
}

// depth is how deep a roll is: what its units need on both sides of its line.
func (p *page) depth(r *model.Roll, facing string) (int64, bool) {
	w, ok := p.wheel(r, facing)
	if !ok {
		return 0, false
	}
	return w.out + w.in, true
}

func (p *page) wheel(r *model.Roll, facing string) (wheel, bool) {
	w := wheel{roll: r}
	flip := geom.Identity()
	if facing == "in" {
		flip = geom.MirrorY()
	}
	get := func(s *model.Stamp, t geom.Transform) (*piece, bool) {
		if s == nil {
			return nil, true
		}
		art, ok := p.art.Of(s)
		if !ok {
			return nil, false
		}
		return &piece{s, art.Shapes, t, boxOf(t, art.Shapes)}, true
	}
	var ok bool
	for i, s := range r.Group {
		t := flip
		if r.Alternate && i%2 == 1 {
			t = t.Then(geom.MirrorY())
		}
		var q *piece
		if q, ok = get(s, t); !ok {
			return w, false
		}
		w.group = append(w.group, *q)
	}
	if r.Alternate && len(w.group)%2 == 1 {
		// An odd group comes back to its beginning only after two turns.
		n := len(w.group)
		for i := range n {
			q := w.group[i]
			q.t = q.t.Then(geom.MirrorY())
			q.box = boxOf(q.t, q.art)
			w.group = append(w.group, q)
		}
	}
	turned := geom.Identity()
	if r.Facing != "" {
		turned = turnedToCorner(r.Facing)
	}
	if w.corner, ok = get(r.Corner, turned); !ok {
		return w, false
	}
	if w.middle, ok = get(r.Middle, flip); !ok {
		return w, false
	}
	if w.bead, ok = get(r.Between, flip); !ok {
		return w, false
	}
	w.level()
	for i, q := range w.group {
		w.out, w.in = max(w.out, -q.box.Min.Y), max(w.in, q.box.Max.Y)
		next := w.group[(i+1)%len(w.group)]
		space := r.Pitch.Nanometres() - (q.box.Width()+next.box.Width())/2
		if i == 0 || space < w.spaces {
			w.spaces = space
		}
	}
	if w.middle != nil {
		w.out, w.in = max(w.out, -w.middle.box.Min.Y), max(w.in, w.middle.box.Max.Y)
	}
	if w.corner != nil {
		w.out = max(w.out, -w.corner.box.Min.X, -w.corner.box.Min.Y)
	}
	if d := r.Depth; d != nil {
		if extra := d.Nanometres() - w.out - w.in; extra > 0 {
			w.out += extra / 2
			w.in += extra - extra/2
		}
	}
	w.own = p.mirrored(w.group)
	w.each = !w.own && w.middle == nil
	for _, q := range w.group {
		w.each = w.each && p.art.Symmetric(q.stamp)
	}
	return w, true
}

// level sets the stamps of a group of several with their middles on the run's line, so that a low one stands in the middle
// of its taller neighbours. A single unit, and what stands in the middle or between, keeps to the line that it is drawn
// about: the line may be part of the drawing.
func (w *wheel) level() {
	several := false
	for _, q := range w.group {
		several = several || q.stamp.Key != w.group[0].stamp.Key
	}
	if !several {
		return
	}
	for i := range w.group {
		q := &w.group[i]
		up := micrometre(q.box.Centre().Y)
		q.t = q.t.Then(geom.Move(0, -up))
		q.box.Min.Y -= up
		q.box.Max.Y -= up
	}
}

// mirrored says whether a group is its own mirror image along the run.
func (p *page) mirrored(group []piece) bool {
	for i, q := range group {
		o := group[len(group)-1-i]
		if q.stamp.Key != o.stamp.Key || q.t != o.t || !p.art.Symmetric(q.stamp) {
			return false
		}
	}
	return true
}

// Symmetric says whether a stamp is its own mirror image, left to right, but for what the eye does not see: half a
// hundredth of its area.
func (a *Art) Symmetric(s *model.Stamp) bool {
	if own, ok := a.own[s.Key]; ok {
		return own
	}
	art, ok := a.Of(s)
	own := false
	if ok {
		c := art.Box.Min.X + art.Box.Max.X
		back := geom.MirrorX().Then(geom.Move(c, 0))
		diff, err := geom.Boolean(geom.Exclusive, operand(art), geom.Operand{Path: back.Path(geom.Paths(art.Shapes)), Rule: geom.NonZero}, 10*geom.Micrometre)
		own = err == nil && area(diff) <= area(art.Shapes)/200
	}
	a.own[s.Key] = own
	return own
}

func operand(a ornament.Art) geom.Operand {
	return geom.Operand{Path: geom.Paths(a.Shapes), Rule: geom.NonZero}
}

func area(shapes []geom.Shape) float64 {
	total := 0.0
	for _, s := range shapes {
		total += s.Area()
	}
	return total
}

// A side is one run of a border: from where, which way, and what fills it.
type side struct {
	length int64 // between the corners, or of a half of it: room taken off
	groups int64 // whole groups, or stamps of each half
	offset int64 // what is left over at its beginning
}

// border sets a roll round a box, whose edge is the roll's outer edge. Top and bottom are mirror images, so are left and
// right, and each run is its own mirror image.
func (p *page) border(r *room, b geom.Box, c course, film string) {
	w, ok := p.wheel(c.roll, c.facing)
	if !ok {
		return
	}
	reach := w.in // without a corner stamp the corner is left open
	if w.corner != nil {
		reach = max(w.corner.box.Max.X, w.corner.box.Max.Y)
	}
	across := b.Width() - 2*(w.out+reach)
	down := b.Height() - 2*(w.out+reach)
	room, sides, ok := p.solve(w, across, down, c, r)
	if !ok {
		return
	}
	line := w.out
	for i, s := range sides {
		start := w.out + reach + room + s.offset
		// From the run's own coordinates to the face: the left side is the top's image in the diagonal.
		to := geom.Identity()
		span := b.Width()
		if i == 1 {
			to = geom.Transform{B: 1, C: 1}
			span = b.Height()
		}
		put := func(q *piece, kind drawing.Kind, u int64, back bool) {
			t := q.t
			mid := q.box.Centre().X
			if back {
				t = t.Then(geom.MirrorX())
				mid = -mid
			}
			for _, far := range []bool{false, true} {
				v := t.Then(to)
				at := geom.Point{X: b.Min.X + u - mid, Y: b.Min.Y + line}
				if i == 1 {
					at = geom.Point{X: b.Min.X + line, Y: b.Min.Y + u - mid}
				}
				if far && i == 0 {
					v = v.Then(geom.MirrorY())
					at.Y = b.Max.Y - line
				} else if far {
					v = v.Then(geom.MirrorX())
					at.X = b.Max.X - line
				}
				p.stamp(kind, q.stamp, q.art, v, at, film, c.origin)
			}
		}
		w.fill(s, start, span, put)
	}
	if w.corner != nil {
		for _, q := range quarters {
			at := geom.Point{X: b.Min.X + line, Y: b.Min.Y + line}
			if q.A < 0 {
				at.X = b.Max.X - line
			}
			if q.D < 0 {
				at.Y = b.Max.Y - line
			}
			p.stamp(drawing.Corner, w.corner.stamp, w.corner.art, w.corner.t.Then(q), at, film, c.origin)
		}
	}
}

// fill places the units of a run that begins at start in a side of the given span; its second half is the image of the
// first, so the run is symmetric to the nanometre.
func (w *wheel) fill(s side, start, span int64, put func(q *piece, kind drawing.Kind, u int64, back bool)) {
	both := func(q *piece, u int64) {
		put(q, drawing.Unit, u, false)
		put(q, drawing.Unit, span-u, true)
	}
	n := int64(len(w.group))
	if w.halves() {
		half := s.length
		for i := range s.groups {
			both(&w.group[i%n], at(start, half, i, s.groups))
			if w.bead != nil && i > 0 {
				both(w.bead, edge(start, half, i, s.groups))
			}
		}
		switch {
		case w.middle != nil:
			put(w.middle, drawing.Unit, span/2, false)
		case w.bead != nil:
			put(w.bead, drawing.Unit, span/2, false)
		}
		return
	}
	total := s.groups * n
	if w.each {
		total = s.groups
	}
	for i := range (total + 1) / 2 {
		q := &w.group[i%n]
		if 2*i+1 == total {
			put(q, drawing.Unit, span/2, false)
		} else {
			both(q, at(start, s.length, i, total))
		}
		if w.bead != nil && i > 0 {
			both(w.bead, edge(start, s.length, i, total))
		}
	}
	if w.bead != nil && total%2 == 0 {
		put(w.bead, drawing.Unit, span/2, false)
	}
}

// halves says whether a run is solved in halves: where something stands in the middle, or neither the group nor all its
// stamps are their own mirror images.
func (w *wheel) halves() bool { return w.middle != nil || !w.own && !w.each }

// run gives the rule for a run of the whole length between corners.
func (w *wheel) run(length int64) Run {
	r := w.roll
	n := int64(len(w.group))
	if w.each {
		n = 1
	}
	out := Run{Length: length, Pitch: n * r.Pitch.Nanometres(), Least: r.Least, Most: r.Most}
	if reach := r.Overhang.Nanometres(); r.Joined && reach > 0 {
		// A joint stays closed while the pitch has not taken more than both overhangs.
		if most := big.NewRat(2*reach, r.Pitch.Nanometres()); most.Cmp(out.Most) < 0 {
			out.Most = most
		}
	}
	if w.halves() {
		out.Pitch = r.Pitch.Nanometres()
		if w.middle != nil {
			out.Length -= w.middle.box.Width()
		}
		out.Length /= 2
	}
	if !r.Joined {
		shortest := r.Pitch.Nanometres() - w.spaces + r.Touch.Nanometres()
		out.Floor = shortest * (out.Pitch / r.Pitch.Nanometres())
	}
	return out
}

// solve chooses the room after the corners and the counts of both pairs of sides together: the least difference of pitch
// first, then the least change, then the least room. A run that may turn back at any stamp rather has one in its middle
// than two of a kind side by side.
func (p *page) solve(w wheel, across, down int64, c course, r *room) (room int64, sides [2]side, ok bool) {
	if w.roll.Slack {
		return p.slack(w, across, down, c, r)
	}
	least, most := w.roll.RoomLeast.Nanometres(), w.roll.RoomMost.Nanometres()
	const steps = 22
	best := score{math.Inf(1)}
	for i := range int64(steps + 1) {
		free := micrometre(least + (most-least)*i/steps)
		x, y := w.run(across-2*free), w.run(down-2*free)
		for _, n := range x.Whole() {
			for _, m := range y.Whole() {
				cx, cy := x.change(n), y.change(m)
				sc := score{math.Floor(math.Abs(cx-cy) * 200), 0, math.Max(x.strain(n), y.strain(m)), float64(free)}
				if w.each {
					sc[1] = float64(2 - n%2 - m%2)
				}
				if sc.less(best) {
					best = sc
					room, sides, ok = free, [2]side{{length: x.Length, groups: n}, {length: y.Length, groups: m}}, true
				}
			}
		}
		if most == least {
			break
		}
	}
	if !ok {
		p.miss(w, across, down, c, r)
		return 0, sides, false
	}
	x, y := w.run(across-2*room), w.run(down-2*room)
	if d := math.Abs(x.change(sides[0].groups) - y.change(sides[1].groups)); d > 0.03 {
		p.add(diag.Diagnostic{
			Severity: diag.Advice, Code: "uneven-pitch", At: p.origins.Span(c.origin),
			Message: fmt.Sprintf("the roll «%s» stands at %s on the short sides of %s and at %s on the long ones, %.1f %% apart", w.roll.Name, mmText(x.Length/max(1, sides[0].groups)), r.name, mmText(y.Length/max(1, sides[1].groups)), d*100),
			Try:     []string{"another inset, so that both close alike"},
		})
	}
	return room, sides, true
}

// A score orders the ways in which a border closes: the difference of pitch of the two pairs in half hundredths, which
// look the same; the runs that have two of a kind in their middle; the greater change; the room.
type score [4]float64

func (s score) less(o score) bool {
	for i := range s {
		if s[i] != o[i] {
			return s[i] < o[i]
		}
	}
	return false
}

// slack keeps the pitch and leaves what is over at the ends.
func (p *page) slack(w wheel, across, down int64, c course, r *room) (int64, [2]side, bool) {
	var sides [2]side
	for i, l := range []int64{across, down} {
		run := w.run(l)
		n := run.Length / max(1, run.Pitch)
		if n < 1 {
			p.miss(w, across, down, c, r)
			return 0, sides, false
		}
		over := run.Length - n*run.Pitch
		if !w.halves() {
			over /= 2
		}
		sides[i] = side{n * run.Pitch, n, over}
	}
	return 0, sides, true
}

func (p *page) miss(w wheel, across, down int64, c course, r *room) {
	d := diag.Diagnostic{Code: "repeats-do-not-close", At: p.origins.Span(c.origin), Notes: []diag.Note{{At: p.origins.Span(w.roll.Origin), Text: "the roll"}}}
	what := w.group[0].stamp.Name
	if len(w.group) > 1 {
		what = "a group of " + what + " and what follows"
	}
	where, length := "across", across
	if len(w.run(across).Whole()) > 0 {
		where, length = "down", down
	}
	run := w.run(length)
	d.Message = fmt.Sprintf("the roll «%s» does not close %s %s: %s", w.roll.Name, where, r.name, run.Miss(what))
	if n := run.Length / max(1, run.Pitch); n >= 1 {
		d.Try = append(d.Try, fmt.Sprintf("let the space give more: space %s to %+.0f%%", percent(w.roll.Least), math.Ceil(run.change(n)*100)))
		over := run.Length - n*run.Pitch
		if !w.halves() {
			over /= 2 // half of it at each end
		}
		d.Try = append(d.Try, fmt.Sprintf("more room at the corners: corner room 0mm to %s", mmText(over+10_000)))
	}
	d.Try = append(d.Try, "slack at ends, which always closes", "another inset")
	p.add(d)
}

func percent(r *big.Rat) string {
	f, _ := r.Float64()
	return fmt.Sprintf("%+.0f%%", f*100)
}
