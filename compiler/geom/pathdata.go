package geom

import (
	"fmt"
	"math"
	"strconv"
)

// A PathError says where path data stopped making sense: Offset counts bytes from the beginning of the data.
type PathError struct {
	Offset int
	Msg    string
}

func (e *PathError) Error() string {
	return fmt.Sprintf("path data, character %d: %s", e.Offset+1, e.Msg)
}

// ParsePath reads SVG path data (SVG 2, section 9.3) with one user unit to unit nanometres. Every point is rounded from
// its own sum, so that relative commands do not gather rounding. A contour is Closed where Z closed it; a moveto that
// draws nothing leaves no contour, one that is closed at once leaves a line of no length. Arcs become cubics within
// 0.28 µm (SVG 2, appendix B.2.4).
//
// Where the data is wrong the error is a *PathError and the path is all that stood before it, as SVG asks.
func ParsePath(d string, unit int64) (Path, error) {
	p := pathParser{data: d, unit: float64(unit)}
	err := p.run()
	p.finish(false)
	if err != nil {
		return p.path, err
	}
	return p.path, nil
}

type pathParser struct {
	data string
	pos  int
	unit float64

	path    Path
	open    []Segment // the contour being drawn
	at      vec       // current point, in user units
	start   vec       // where the contour began, in user units
	control vec       // last control point of a curve, for S and T
	last    byte      // last command, upper case, for S and T
}

func (p *pathParser) run() *PathError {
	p.space()
	for first := true; p.pos < len(p.data); first = false {
		command := p.data[p.pos]
		if first && command != 'M' && command != 'm' {
			return p.fail(p.pos, "path data begins with M or m, not with %s", p.seen())
		}
		if _, known := arguments(command); !known {
			return p.fail(p.pos, "wanted a command (one of M L H V C S Q T A Z), found %s", p.seen())
		}
		p.pos++
		if err := p.command(command); err != nil {
			return err
		}
	}
	return nil
}

// arguments is how many numbers one use of a command takes.
func arguments(command byte) (n int, known bool) {
	switch command &^ 0x20 {
	case 'Z':
		return 0, true
	case 'H', 'V':
		return 1, true
	case 'M', 'L', 'T':
		return 2, true
	case 'S', 'Q':
		return 4, true
	case 'C':
		return 6, true
	case 'A':
		return 7, true
	}
	return 0, false
}

// command reads the arguments of a command, again and again for as long as they are repeated, and draws each.
func (p *pathParser) command(command byte) *PathError {
	n, _ := arguments(command)
	p.space()
	if n == 0 {
		p.close()
		return nil
	}
	for {
		var arg [7]float64
		for i := range n {
			if i > 0 {
				p.comma()
			}
			v, err := p.argument(command, i)
			if err != nil {
				return err
			}
			arg[i] = v
		}
		if err := p.draw(command, arg); err != nil {
			return err
		}
		p.space()
		if p.pos < len(p.data) && p.data[p.pos] == ',' {
			p.comma()
		} else if !p.numberAhead() {
			return nil
		}
		switch command { // more pairs after a moveto are linetos
		case 'M':
			command = 'L'
		case 'm':
			command = 'l'
		}
	}
}

func (p *pathParser) argument(command byte, i int) (float64, *PathError) {
	if command&^0x20 == 'A' && (i == 3 || i == 4) {
		if p.pos < len(p.data) && (p.data[p.pos] == '0' || p.data[p.pos] == '1') {
			p.pos++
			return float64(p.data[p.pos-1] - '0'), nil
		}
		return 0, p.fail(p.pos, "wanted a flag of an arc, 0 or 1, found %s", p.seen())
	}
	begin := p.pos
	end := numberEnd(p.data, begin)
	if end == begin {
		return 0, p.fail(begin, "wanted a number for %c, found %s", command, p.seen())
	}
	p.pos = end
	v, err := strconv.ParseFloat(p.data[begin:end], 64)
	if err != nil || math.Abs(float64(v*p.unit)) > float64(offGrid)/16 {
		return 0, p.fail(begin, "the number %s is too large to be a place on a sheet", p.data[begin:end])
	}
	return v, nil
}

// numberEnd is where the number that begins at i ends, or i where none does: a sign, digits with a point before the last
// of them, and an exponent.
func numberEnd(s string, i int) int {
	digits := func(j int) int {
		for j < len(s) && s[j] >= '0' && s[j] <= '9' {
			j++
		}
		return j
	}
	begin := i
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	end := digits(i)
	if end < len(s) && s[end] == '.' {
		if j := digits(end + 1); j > end+1 {
			end = j
		}
	}
	if end == i {
		return begin
	}
	if end < len(s) && (s[end] == 'e' || s[end] == 'E') {
		j := end + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if k := digits(j); k > j {
			end = k
		}
	}
	return end
}

func (p *pathParser) numberAhead() bool { return numberEnd(p.data, p.pos) > p.pos }

func (p *pathParser) space() {
	for p.pos < len(p.data) {
		switch p.data[p.pos] {
		case ' ', '\t', '\n', '\f', '\r':
			p.pos++
		default:
			return
		}
	}
}

// comma skips white space with at most one comma in it.
func (p *pathParser) comma() {
	p.space()
	if p.pos < len(p.data) && p.data[p.pos] == ',' {
		p.pos++
		p.space()
	}
}

func (p *pathParser) seen() string {
	if p.pos >= len(p.data) {
		return "the end of the data"
	}
	for _, r := range p.data[p.pos:] {
		return strconv.QuoteRune(r)
	}
	return ""
}

func (p *pathParser) fail(at int, format string, args ...any) *PathError {
	return &PathError{Offset: at, Msg: fmt.Sprintf(format, args...)}
}

// draw adds one command's segment. Points further out than the grid goes are refused before they are drawn.
func (p *pathParser) draw(command byte, arg [7]float64) *PathError {
	name := command &^ 0x20
	var from vec // what the arguments are counted from
	if command != name {
		from = p.at
	}
	point := func(i int) vec { return vec{arg[i], arg[i+1]}.plus(from) }
	to := p.at
	switch name {
	case 'H':
		to.x = from.x + arg[0]
	case 'V':
		to.y = from.y + arg[0]
	default:
		n, _ := arguments(command)
		to = point(n - 2)
	}
	if limit := float64(offGrid) / 16 / p.unit; math.Abs(to.x) > limit || math.Abs(to.y) > limit {
		return p.fail(p.pos, "the sum of relative steps leads too far out to be a place on a sheet")
	}
	control := to
	switch name {
	case 'M':
		p.finish(false)
		p.start = to
	case 'L', 'H', 'V':
		p.add(Line(p.place(p.at), p.place(to)))
	case 'C':
		control = point(2)
		p.cubic(point(0), control, to)
	case 'S':
		control = point(0)
		p.cubic(p.reflected('C', 'S'), control, to)
	case 'Q':
		control = point(0)
		p.quadratic(control, to)
	case 'T':
		control = p.reflected('Q', 'T')
		p.quadratic(control, to)
	case 'A':
		p.arc(arg[0], arg[1], arg[2], arg[3] != 0, arg[4] != 0, to)
	}
	p.at, p.control, p.last = to, control, name
	return nil
}

// reflected is the last control point mirrored in the current point, or the current point itself where the last command
// was neither of the two that leave such a control point.
func (p *pathParser) reflected(a, b byte) vec {
	if p.last != a && p.last != b {
		return p.at
	}
	return p.at.plus(p.at.minus(p.control))
}

func (p *pathParser) place(v vec) Point { return v.times(p.unit).grid() }
func (p *pathParser) add(s Segment)     { p.open = append(p.open, s) }

func (p *pathParser) cubic(c, d, to vec) {
	p.add(Cubic(p.place(p.at), p.place(c), p.place(d), p.place(to)))
}

func (p *pathParser) quadratic(c, to vec) {
	p.cubic(between(p.at, c, 2.0/3), between(to, c, 2.0/3), to)
}

// finish puts away the contour being drawn.
func (p *pathParser) finish(closed bool) {
	if len(p.open) > 0 {
		p.path = append(p.path, Contour{Segments: p.open, Closed: closed})
	}
	p.open = nil
}

func (p *pathParser) close() {
	start, at := p.place(p.start), p.place(p.at)
	if at != start || len(p.open) == 0 {
		p.add(Line(at, start))
	}
	p.finish(true)
	p.at, p.last = p.start, 'Z'
}

// arc draws an elliptical arc by the conversion of SVG 2, appendix B.2.4, with radii that are too small enlarged as B.2.5
// says. Radii of nothing make a line, and an arc that ends where it begins makes nothing.
func (p *pathParser) arc(rx, ry, tilt float64, large, sweep bool, to vec) {
	if p.at == to {
		return
	}
	rx, ry = math.Abs(rx), math.Abs(ry)
	if rx == 0 || ry == 0 {
		p.add(Line(p.place(p.at), p.place(to)))
		return
	}
	// The chord's half, turned level and scaled so that the ellipse is the unit circle.
	sin, cos := SinCos(tilt)
	level := func(v vec) vec {
		return vec{(float64(cos*v.x) + float64(sin*v.y)) / rx, (float64(cos*v.y) - float64(sin*v.x)) / ry}
	}
	half := level(p.at.minus(to).times(0.5))
	reach := half.length()
	if reach > 1 {
		rx, ry = float64(rx*reach), float64(ry*reach)
		half, reach = half.times(1/reach), 1
	}
	off := math.Sqrt(max(0, float64((1-reach)*(1+reach)))) / reach
	if large == sweep {
		off = -off
	}
	centre := vec{float64(off * half.y), float64(-off * half.x)}
	begin, end := half.minus(centre), half.times(-1).minus(centre)
	turn := Atan2Deg(begin.cross(end), begin.dot(end))
	if sweep && turn < 0 {
		turn += 360
	} else if !sweep && turn > 0 {
		turn -= 360
	}
	middle := between(p.at, to, 0.5)
	onSheet := func(v vec) Point {
		v = v.plus(centre)
		v = vec{float64(v.x * rx), float64(v.y * ry)}
		v = vec{float64(cos*v.x) - float64(sin*v.y), float64(sin*v.x) + float64(cos*v.y)}
		return p.place(v.plus(middle))
	}
	from := p.place(p.at)
	for _, c := range unitArc(begin, turn, float64(max(rx, ry)*p.unit), arcError) {
		p.add(Cubic(from, onSheet(c[1]), onSheet(c[2]), onSheet(c[3])))
		from = p.open[len(p.open)-1].P3
	}
	p.open[len(p.open)-1].P3 = p.place(to)
}
