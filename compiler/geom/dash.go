package geom

// A dash is a stretch of a contour that the pen draws in one go. Along is the direction there, for dashes of no length.
type dash struct {
	contour Contour
	along   vec
}

// dashes cuts a contour into what the pen draws of it. Lengths along curves are measured on chords within tol/8 of them.
func dashes(c Contour, pen Pen, tol int64) []dash {
	period := int64(0)
	for _, d := range pen.Dash {
		period += d
	}
	if period == 0 || len(c.Segments) == 0 {
		return []dash{{c, vec{1, 0}}}
	}
	k := newCutter(pen, period)
	for _, s := range c.Segments {
		k.segment(s, max(tol/8, 1))
	}
	return k.finish(c)
}

// A cutter goes along a contour with the pattern in hand.
type cutter struct {
	pattern []int64
	at      int     // which length of the pattern; the even ones are drawn
	left    float64 // how much of it is left
	began   bool    // whether the contour began within a dash
	out     []dash
	open    *dash // the dash being drawn
	along   vec
}

func newCutter(pen Pen, period int64) *cutter {
	k := &cutter{pattern: pen.Dash, along: vec{1, 0}}
	start := pen.Start % period
	if start < 0 {
		start += period
	}
	for start > 0 && start >= k.pattern[k.at] {
		start -= k.pattern[k.at]
		k.at = (k.at + 1) % len(k.pattern)
	}
	k.left = float64(k.pattern[k.at] - start)
	k.began = k.drawn()
	if k.began {
		k.open = &dash{}
	}
	return k
}

func (k *cutter) drawn() bool { return k.at%2 == 0 }

// segment cuts one segment. The walk goes by its chords; t is where on the segment the next part begins.
func (k *cutter) segment(s Segment, tol int64) {
	t, from, a := 0.0, 0.0, s.P0
	s.FlattenTo(tol, func(u float64, b Point) {
		length := toVec(b).minus(toVec(a)).length()
		if length > 0 {
			k.along = toVec(b).minus(toVec(a)).unit()
		}
		gone := 0.0
		for length-gone > k.left {
			gone += k.left
			cut := from + float64((u-from)*(gone/length))
			k.part(s, t, cut)
			t = cut
			k.turnOver(s, cut)
		}
		k.left -= length - gone
		from, a = u, b
	})
	k.part(s, t, 1)
}

// part adds a part of a segment to the dash being drawn.
func (k *cutter) part(s Segment, t0, t1 float64) {
	if k.open == nil {
		return
	}
	p := s.Sub(t0, t1)
	if n := len(k.open.contour.Segments); n > 0 {
		if p.P0 == p.P3 && t0 != 0 {
			return
		}
		p.P0 = k.open.contour.Segments[n-1].P3
	}
	k.open.contour.Segments = append(k.open.contour.Segments, p)
}

// turnOver ends a dash or a gap at t on a segment, and the dashes and gaps of no length that follow.
func (k *cutter) turnOver(s Segment, t float64) {
	k.put()
	k.at = (k.at + 1) % len(k.pattern)
	k.left = float64(k.pattern[k.at])
	if !k.drawn() {
		return
	}
	k.open = &dash{along: k.along}
	if k.left == 0 {
		p := s.onGrid(t)
		k.open.contour.Segments = []Segment{{P0: p, P3: p, Line: true, Tag: s.Tag}}
	}
}

// put closes the dash being drawn.
func (k *cutter) put() {
	if k.open != nil {
		k.open.along = k.along
		k.out = append(k.out, *k.open)
	}
	k.open = nil
}

// finish gives the dashes of the contour. Where a closed contour ends within a dash and began within one, they are one.
func (k *cutter) finish(c Contour) []dash {
	if k.began && k.open != nil && len(k.out) == 0 {
		return []dash{{c, k.along}} // the contour ends before its first dash does
	}
	joined := c.Closed && k.began && k.open != nil
	k.put()
	if joined {
		last := len(k.out) - 1
		k.out[0].contour.Segments = append(k.out[last].contour.Segments, k.out[0].contour.Segments...)
		k.out = k.out[:last]
	}
	return k.out
}
