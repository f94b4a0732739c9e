package png

import (
	"image"
	"math"

	"headcap/compiler/geom"
)

// sub is the parts of a pixel that corners are rounded to, each way.
const sub = 256

// A ratio takes nanometres to pixels.
type ratio struct{ pixels, nm int64 }

// A grid is where pixels lie on the scene. The two ratios are those of a tile, whose texels need not be quite square.
type grid struct {
	origin geom.Point
	x, y   ratio
}

// A dot is a point in parts of a pixel.
type dot struct{ x, y int64 }

func (g grid) dot(p, move geom.Point) dot {
	return dot{
		roundedQuotient((p.X+move.X-g.origin.X)*g.x.pixels*sub, g.x.nm),
		roundedQuotient((p.Y+move.Y-g.origin.Y)*g.y.pixels*sub, g.y.nm),
	}
}

// roundedQuotient is a/b to the nearest whole number, b positive.
func roundedQuotient(a, b int64) int64 {
	q := (2*a + b) / (2 * b)
	if (2*a+b)%(2*b) < 0 {
		q--
	}
	return q
}

// perMM is how many pixels lie on a millimetre across.
func (g grid) perMM() float64 { return float64(g.x.pixels) * 1e6 / float64(g.x.nm) }

// tolerance is how far a chord may leave its curve: a tenth of a pixel.
func (g grid) tolerance() int64 { return max(g.x.nm/(10*g.x.pixels), 1) }

// rings are the contours of a path as closed polygons on the grid.
func (g grid) rings(p geom.Path, move geom.Point) [][]dot {
	out := make([][]dot, 0, len(p))
	for _, c := range p {
		points := geom.Points(c, g.tolerance())
		ring := make([]dot, len(points))
		for i, q := range points {
			ring[i] = g.dot(q, move)
		}
		out = append(out, ring)
	}
	return out
}

// ribbons are the outlines of a thin line along a path, each corner moved along the mean of its two sides.
func (g grid) ribbons(p geom.Path, move geom.Point, width int64) [][]dot {
	half := float64(width) / 2
	var out [][]dot
	for _, c := range p {
		points := geom.Points(c, g.tolerance())
		n := len(points)
		if n < 2 {
			continue
		}
		left, right := make([]dot, n), make([]dot, n)
		for i, q := range points {
			before, after := points[(i+n-1)%n], points[(i+1)%n]
			if !c.Closed && i == 0 {
				before = q
			}
			if !c.Closed && i == n-1 {
				after = q
			}
			x, y := sideways(before, q, after)
			dx, dy := int64(math.Round(float64(x*half))), int64(math.Round(float64(y*half)))
			left[i] = g.dot(geom.Point{X: q.X + dx, Y: q.Y + dy}, move)
			right[n-1-i] = g.dot(geom.Point{X: q.X - dx, Y: q.Y - dy}, move)
		}
		if c.Closed {
			out = append(out, left, right)
		} else {
			out = append(out, append(left, right...))
		}
	}
	return out
}

// sideways is the unit normal at q of a line from before over q to after.
func sideways(before, q, after geom.Point) (x, y float64) {
	unit := func(a, b geom.Point) (float64, float64) {
		dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
		l := math.Sqrt(float64(dx*dx) + float64(dy*dy))
		if l == 0 {
			return 0, 0
		}
		return dx / l, dy / l
	}
	ax, ay := unit(before, q)
	bx, by := unit(q, after)
	dx, dy := ax+bx, ay+by
	l := math.Sqrt(float64(dx*dx) + float64(dy*dy))
	if l == 0 {
		return -ay, ax
	}
	return -dy / l, dx / l
}

// A mask says how much of each pixel of an area lies inside an outline, 0 to full.
type mask struct {
	area  image.Rectangle
	cover []uint16
}

func (m *mask) row(y, x0, x1 int) []uint16 {
	start := (y-m.area.Min.Y)*m.area.Dx() - m.area.Min.X
	return m.cover[start+x0 : start+x1]
}

// A tally adds up the signed area that lies to the right of the edges of polygons, pixel by pixel: summed along a row it
// is the winding number times the part of the pixel inside. One buffer serves every outline of a picture.
type tally struct {
	area   image.Rectangle
	stride int
	sums   []int32
}

// cover is the mask of polygons, non-zero, on the part of an area that they touch; nil where they don't.
func (t *tally) cover(rings [][]dot, area image.Rectangle) *mask {
	area = area.Intersect(extent(rings))
	if area.Empty() {
		return nil
	}
	t.reset(area)
	for _, r := range rings {
		for i, a := range r {
			t.edge(a, r[(i+1)%len(r)])
		}
	}
	m := &mask{area, make([]uint16, area.Dx()*area.Dy())}
	for y := range area.Dy() {
		t.sum(y, m.cover[y*area.Dx():(y+1)*area.Dx()])
	}
	return m
}

// extent is the pixels that polygons touch.
func extent(rings [][]dot) image.Rectangle {
	first := true
	var lo, hi dot
	for _, r := range rings {
		for _, d := range r {
			if first {
				lo, hi, first = d, d, false
				continue
			}
			lo = dot{min(lo.x, d.x), min(lo.y, d.y)}
			hi = dot{max(hi.x, d.x), max(hi.y, d.y)}
		}
	}
	if first {
		return image.Rectangle{}
	}
	return image.Rect(int(lo.x>>8), int(lo.y>>8), int((hi.x+sub-1)>>8), int((hi.y+sub-1)>>8))
}

func (t *tally) reset(area image.Rectangle) {
	t.area, t.stride = area, area.Dx()+1
	if need := t.stride * area.Dy(); cap(t.sums) < need {
		t.sums = make([]int32, need)
	} else {
		t.sums = t.sums[:need]
		clear(t.sums)
	}
}

// sum turns row y of the tally into coverage. A pixel quite inside counts 2·sub², which is twice full.
func (t *tally) sum(y int, out []uint16) {
	row := t.sums[y*t.stride : y*t.stride+len(out)]
	var s int32
	for i, v := range row {
		s += v
		c := s
		if c < 0 {
			c = -c
		}
		out[i] = uint16(min(c>>1, full))
	}
}

// edge adds one side of a polygon.
func (t *tally) edge(a, b dot) {
	top, bottom := int64(t.area.Min.Y)*sub, int64(t.area.Max.Y)*sub
	if a.y == b.y || max(a.y, b.y) <= top || min(a.y, b.y) >= bottom {
		return
	}
	left := int64(t.area.Min.X) * sub
	// xAt is worked out from the ends of the whole side, so that what one row leaves at is where the next begins.
	xAt := func(y int64) int64 {
		switch y {
		case a.y:
			return a.x
		case b.y:
			return b.x
		}
		return a.x + floorQuotient((b.x-a.x)*(y-a.y), b.y-a.y)
	}
	step := int64(1)
	if b.y < a.y {
		step = -1
	}
	y := min(max(a.y, top), bottom)
	end := min(max(b.y, top), bottom)
	x := xAt(y)
	for y != end {
		var next int64
		if step > 0 {
			next = min((y>>8+1)<<8, end)
		} else {
			next = max(((y-1)>>8)<<8, end)
		}
		row := int((min(y, next) - top) >> 8)
		nx := xAt(next)
		t.slope(row, x-left, y, nx-left, next)
		x, y = nx, next
	}
}

// slope adds the part of a side that lies in one row of pixels; x counts from the left of the area.
func (t *tally) slope(row int, ax, ay, bx, by int64) {
	sums := t.sums[row*t.stride : (row+1)*t.stride]
	last := int64(t.stride-1) << 8
	switch {
	case max(ax, bx) <= 0:
		sums[0] += int32((by - ay) * 2 * sub)
		return
	case min(ax, bx) >= last:
		return
	}
	for ax>>8 != bx>>8 {
		// To the border of the column that it is in.
		var border, column int64
		if bx > ax {
			column = ax >> 8
			border = (column + 1) << 8
		} else {
			column = (ax - 1) >> 8
			border = column << 8
		}
		if bx < ax && border < bx {
			break
		}
		y := ay + floorQuotient((by-ay)*(border-ax), bx-ax)
		put(sums, column, ax+border-2*(column<<8), y-ay)
		ax, ay = border, y
	}
	column := min(ax, bx) >> 8
	put(sums, column, ax+bx-2*(column<<8), by-ay)
}

// put adds a part of a side that lies in one pixel; twice is the sum of the distances of its ends from the pixel's left.
func put(sums []int32, column, twice, dy int64) {
	switch {
	case column < 0:
		sums[0] += int32(dy * 2 * sub)
	case column >= int64(len(sums)-1):
	default:
		sums[column] += int32(dy * (2*sub - twice))
		sums[column+1] += int32(dy * twice)
	}
}

// floorQuotient is a/b rounded down.
func floorQuotient(a, b int64) int64 {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}
