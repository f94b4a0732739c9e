package preview

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"headcap/compiler/geom"
)

var idStem = regexp.MustCompile(`^[a-z][a-z0-9-]*$`)

// SVG is the scene as SVG text, in millimetres, the same on every processor. Every id begins with ids, so that several
// pictures can stand in one page. There is no script, no style, and nothing that is fetched or embedded: it is drawn
// under the strictest content security policy. Group names become ids and the class "grain" marks what a page may leave
// out when it shows the picture small.
func SVG(s Scene, ids string) ([]byte, error) {
	if !idStem.MatchString(ids) {
		return nil, fmt.Errorf("preview: the ids of a picture cannot begin with %q: a small letter, then small letters, figures and hyphens", ids)
	}
	w := &writer{ids: ids, made: map[string]string{}, count: map[byte]int{}, uses: map[*Outline]int{}}
	countUses(s.Items, w.uses, map[*Tile]bool{})
	var ground string
	if s.Ground != nil {
		ground = fmt.Sprintf("<rect%s fill=\"%v\"/>\n", boxAttributes(s.View), *s.Ground)
	}
	body, err := w.items(s.Items)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="%s %s %s %s" width="%smm" height="%smm" role="img">`,
		length(s.View.Min.X), length(s.View.Min.Y), length(s.View.Width()), length(s.View.Height()), length(s.View.Width()), length(s.View.Height()))
	fmt.Fprintf(&out, "\n<title>%s</title>\n<desc>%s</desc>\n<defs>\n%s</defs>\n%s%s</svg>\n", escaped(s.Title), escaped(s.Desc), w.defs.String(), ground, body)
	return out.Bytes(), nil
}

// escaped is text between tags; what XML cannot hold becomes U+FFFD.
func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder takes everything
	return b.String()
}

// countUses counts how often each outline is written; a tile is written once however often it is used.
func countUses(items []Item, uses map[*Outline]int, seen map[*Tile]bool) {
	for _, i := range items {
		switch i := i.(type) {
		case Group:
			if i.Clip != nil {
				uses[i.Clip]++
			}
			countUses(i.Items, uses, seen)
		case Fill:
			uses[i.Outline]++
			if p, ok := i.Paint.(*Pattern); ok && !seen[p.Tile] {
				seen[p.Tile] = true
				countUses(p.Tile.Items, uses, seen)
			}
		case Stroke:
			uses[i.Outline]++
		}
	}
}

// A writer collects definitions while the picture is written, in the order of their first use. A definition with the
// same text as an earlier one is that one.
type writer struct {
	ids   string
	defs  bytes.Buffer
	made  map[string]string // text to id
	count map[byte]int
	uses  map[*Outline]int
}

// define gives the id of the element <name …rest, made once.
func (w *writer) define(kind byte, name, rest string) string {
	text := name + rest
	if id, ok := w.made[text]; ok {
		return id
	}
	w.count[kind]++
	id := w.ids + "-" + string(kind) + strconv.Itoa(w.count[kind])
	w.made[text] = id
	fmt.Fprintf(&w.defs, "<%s id=\"%s\"%s\n", name, id, rest)
	return id
}

func (w *writer) items(items []Item) (string, error) {
	var b strings.Builder
	for _, i := range items {
		var text string
		var err error
		switch i := i.(type) {
		case Group:
			text, err = w.group(i)
		case Fill:
			var fill string
			fill, err = w.fill(i.Paint)
			text = w.shape(i.Outline, fill)
		case Stroke:
			text = w.shape(i.Outline, fmt.Sprintf(` fill="none" stroke="%v" stroke-width="%s"%s`, i.Paint.Colour, length(i.Width), opacity("stroke-opacity", i.Paint.Opacity)))
		case Shadow:
			text = w.shadow(i)
		default:
			err = fmt.Errorf("preview: cannot write a %T", i)
		}
		if err != nil {
			return "", err
		}
		b.WriteString(text)
	}
	return b.String(), nil
}

func (w *writer) group(g Group) (string, error) {
	var attributes string
	if g.Name != "" {
		if !idStem.MatchString(g.Name) {
			return "", fmt.Errorf("preview: a group cannot be named %q", g.Name)
		}
		attributes += ` id="` + w.ids + "-" + g.Name + `"`
	}
	if g.Grain {
		attributes += ` class="grain"`
	}
	if g.Move != (geom.Point{}) {
		attributes += fmt.Sprintf(` transform="translate(%s %s)"`, length(g.Move.X), length(g.Move.Y))
	}
	if g.Clip != nil {
		id := w.define('c', "clipPath", ">"+w.shape(g.Clip, "")+"</clipPath>")
		attributes += ` clip-path="url(#` + id + `)"`
	}
	if g.Fade != nil {
		gradient, err := w.fill(g.Fade.Opacity)
		if err != nil {
			return "", err
		}
		area := boxAttributes(g.Fade.Box)
		id := w.define('f', "mask", ` maskUnits="userSpaceOnUse"`+area+"><rect"+area+gradient+"/></mask>")
		attributes += ` mask="url(#` + id + `)"`
	}
	inside, err := w.items(g.Items)
	if err != nil {
		return "", err
	}
	return "<g" + attributes + ">\n" + inside + "</g>\n", nil
}

// shape is an outline with these attributes, by reference where the picture uses it several times.
func (w *writer) shape(o *Outline, attributes string) string {
	data := ` d="` + pathData(o.Path) + `"`
	if w.uses[o] > 1 {
		return `<use href="#` + w.define('o', "path", data+"/>") + `"` + attributes + "/>\n"
	}
	return "<path" + data + attributes + "/>\n"
}

func (w *writer) shadow(s Shadow) string {
	reach := 3 * s.Blur // beyond three deviations nothing is seen
	area := box(s.Box.Min.X-reach, s.Box.Min.Y-reach, s.Box.Width()+2*reach, s.Box.Height()+2*reach)
	id := w.define('b', "filter", ` filterUnits="userSpaceOnUse"`+boxAttributes(area)+`><feGaussianBlur stdDeviation="`+length(s.Blur)+`"/></filter>`)
	return fmt.Sprintf("<rect%s fill=\"%v\"%s filter=\"url(#%s)\"/>\n", boxAttributes(s.Box), s.Paint.Colour, opacity("opacity", s.Paint.Opacity), id)
}

// fill is the attributes that fill a shape with a paint.
func (w *writer) fill(p Paint) (string, error) {
	switch p := p.(type) {
	case Solid:
		return fmt.Sprintf(` fill="%v"%s`, p.Colour, opacity("fill-opacity", p.Opacity)), nil
	case *Linear:
		id := w.define('l', "linearGradient", fmt.Sprintf(` gradientUnits="userSpaceOnUse" x1="%s" y1="%s" x2="%s" y2="%s">%s</linearGradient>`,
			length(p.From.X), length(p.From.Y), length(p.To.X), length(p.To.Y), stops(p.Stops)))
		return ` fill="url(#` + id + `)"`, nil
	case *Radial:
		id := w.define('r', "radialGradient", fmt.Sprintf(` gradientUnits="userSpaceOnUse" cx="0" cy="0" r="1" gradientTransform="matrix(%s 0 0 %s %s %s)">%s</radialGradient>`,
			length(p.RX), length(p.RY), length(p.Centre.X), length(p.Centre.Y), stops(p.Stops)))
		return ` fill="url(#` + id + `)"`, nil
	case *Pattern:
		inside, err := w.items(p.Tile.Items)
		if err != nil {
			return "", err
		}
		tile := w.define('t', "pattern", fmt.Sprintf(" width=\"%s\" height=\"%s\" patternUnits=\"userSpaceOnUse\">\n%s</pattern>", length(p.Tile.Width), length(p.Tile.Height), inside))
		id := w.define('p', "pattern", fmt.Sprintf(` href="#%s" patternTransform="matrix(%s %s %s %s %s %s)"/>`,
			tile, decimal(p.Set.A, 6), decimal(p.Set.B, 6), decimal(p.Set.C, 6), decimal(p.Set.D, 6), length(p.Set.E), length(p.Set.F)))
		return ` fill="url(#` + id + `)"` + opacity("fill-opacity", p.Opacity), nil
	}
	return "", fmt.Errorf("preview: cannot write a paint of %T", p)
}

func stops(list []Stop) string {
	var b strings.Builder
	for _, s := range list {
		fmt.Fprintf(&b, `<stop offset="%s" stop-color="%v"%s/>`, decimal(s.At, 4), s.Colour, opacity("stop-opacity", s.Opacity))
	}
	return b.String()
}

func opacity(name string, v float64) string {
	if v >= 1 {
		return ""
	}
	return " " + name + `="` + decimal(v, 3) + `"`
}

func boxAttributes(b geom.Box) string {
	return fmt.Sprintf(` x="%s" y="%s" width="%s" height="%s"`, length(b.Min.X), length(b.Min.Y), length(b.Width()), length(b.Height()))
}

// hundredth is the step of lengths in the text, in nanometres: 0.01 mm, a tenth of a pixel when a picture is enlarged
// to 10 pixels to the millimetre.
const hundredth = 10_000

// hundredths is a length in steps of the text, rounded half away from zero.
func hundredths(nm int64) int64 {
	if nm < 0 {
		return -hundredths(-nm)
	}
	return (nm + hundredth/2) / hundredth
}

// length is a length in millimetres.
func length(nm int64) string { return string(appendFixed(nil, hundredths(nm), 2)) }

// decimal is a number with so many decimals at most.
func decimal(v float64, places int) string {
	scale := 1.0
	for range places {
		scale *= 10
	}
	return string(appendFixed(nil, int64(math.Round(float64(v*scale))), places))
}

// appendFixed writes v with its last places figures as decimals, as short as SVG allows: no zeros that say nothing.
func appendFixed(b []byte, v int64, places int) []byte {
	if v == 0 {
		return append(b, '0')
	}
	if v < 0 {
		b, v = append(b, '-'), -v
	}
	for places > 0 && v%10 == 0 {
		v, places = v/10, places-1
	}
	figures := strconv.FormatInt(v, 10)
	if whole := len(figures) - places; whole > 0 {
		b = append(b, figures[:whole]...)
		if places > 0 {
			b = append(append(b, '.'), figures[whole:]...)
		}
		return b
	}
	b = append(b, '.')
	for range places - len(figures) {
		b = append(b, '0')
	}
	return append(b, figures...)
}

// pathData is a path's d attribute: relative commands between points that were rounded where they stand, so that
// rounding never adds up.
func pathData(p geom.Path) string {
	var b []byte
	for _, c := range p {
		if len(c.Segments) == 0 {
			continue
		}
		start := c.Segments[0].P0
		at := [2]int64{hundredths(start.X), hundredths(start.Y)}
		b = append(b, 'M')
		b = appendFixed(b, at[0], 2)
		b = appendNumber(b, at[1])
		for i, s := range c.Segments {
			if c.Closed && s.Line && s.P3 == start && i == len(c.Segments)-1 {
				break // z draws it
			}
			b, at = appendSegment(b, s, at)
		}
		if c.Closed {
			b = append(b, 'z')
		}
	}
	return string(b)
}

func appendSegment(b []byte, s geom.Segment, at [2]int64) ([]byte, [2]int64) {
	to := [2]int64{hundredths(s.P3.X), hundredths(s.P3.Y)}
	dx, dy := to[0]-at[0], to[1]-at[1]
	if q, ok := raisedFrom(s); ok {
		b = appendFixed(append(b, 'q'), hundredths(q.X)-at[0], 2)
		for _, v := range [...]int64{hundredths(q.Y) - at[1], dx, dy} {
			b = appendNumber(b, v)
		}
		return b, to
	}
	if !s.Line {
		ax, ay := hundredths(s.P1.X)-at[0], hundredths(s.P1.Y)-at[1]
		bx, by := hundredths(s.P2.X)-at[0], hundredths(s.P2.Y)-at[1]
		b = appendFixed(append(b, 'c'), ax, 2)
		for _, v := range [...]int64{ay, bx, by, dx, dy} {
			b = appendNumber(b, v)
		}
		return b, to
	}
	switch {
	case dx == 0 && dy == 0:
	case dy == 0:
		b = appendFixed(append(b, 'h'), dx, 2)
	case dx == 0:
		b = appendFixed(append(b, 'v'), dy, 2)
	default:
		b = appendNumber(appendFixed(append(b, 'l'), dx, 2), dy)
	}
	return b, to
}

// raisedFrom is the control point of the quadratic curve that a cubic was raised from, where it was: the text is a third
// shorter for it. The two ends must agree on that point to within the rounding of the cubic's own.
func raisedFrom(s geom.Segment) (geom.Point, bool) {
	if s.Line {
		return geom.Point{}, false
	}
	x0, x1 := 3*s.P1.X-s.P0.X, 3*s.P2.X-s.P3.X
	y0, y1 := 3*s.P1.Y-s.P0.Y, 3*s.P2.Y-s.P3.Y
	const rounding = 6
	if max(x0-x1, x1-x0) > rounding || max(y0-y1, y1-y0) > rounding {
		return geom.Point{}, false
	}
	return geom.Point{X: (x0 + x1) / 4, Y: (y0 + y1) / 4}, true
}

// appendNumber sets a space before a number that needs one.
func appendNumber(b []byte, v int64) []byte {
	if v >= 0 {
		b = append(b, ' ')
	}
	return appendFixed(b, v, 2)
}
