package reread

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// An SVG is what a cut SVG holds.
type SVG struct {
	Width, Height float64 // millimetres
	Title, Desc   string
	Group         string // the id of its one group
	Paths         []Path
}

// A Path is a piece.
type Path struct {
	ID, Fill string
	Contours [][]Curve
}

// A Curve is a cubic, or a straight line with its control points at its ends.
type Curve struct {
	Line bool
	P    [4]Point
}

// attributesOf are the attributes that each element of a cut SVG has, and all that it has.
var attributesOf = map[string][]string{
	"svg":   {"height", "viewBox", "width", "xmlns", "xmlns:xlink"},
	"title": {},
	"desc":  {},
	"g":     {"id"},
	"path":  {"d", "fill", "fill-rule", "id"},
}

var (
	safeID   = regexp.MustCompile(`^[a-z][a-z0-9-]*$`)
	plainHex = regexp.MustCompile(`^#[0-9a-fA-F]{6}$`)
	number   = regexp.MustCompile(`^(-?[1-9][0-9]*|-?0)\.[0-9]{3}$`)
)

// ReadSVG reads a cut SVG and refuses anything that such a file must not hold.
func ReadSVG(r io.Reader) (*SVG, error) {
	d := xml.NewDecoder(r)
	out := &SVG{}
	ids := map[string]bool{}
	var open []string
	var text strings.Builder
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
		switch t := token.(type) {
		case xml.StartElement:
			name := t.Name.Local
			if t.Name.Space != "http://www.w3.org/2000/svg" {
				return nil, fmt.Errorf("element %s is not SVG", name)
			}
			attributes, err := attributes(t)
			if err != nil {
				return nil, err
			}
			open = append(open, name)
			text.Reset()
			if err := out.take(strings.Join(open, "/"), attributes, ids); err != nil {
				return nil, err
			}
		case xml.EndElement:
			switch t.Name.Local {
			case "title":
				out.Title = text.String()
			case "desc":
				out.Desc = text.String()
			}
			open = open[:len(open)-1]
			text.Reset()
		case xml.CharData:
			in := ""
			if len(open) > 0 {
				in = open[len(open)-1]
			}
			if in != "title" && in != "desc" && strings.TrimSpace(string(t)) != "" {
				return nil, fmt.Errorf("text %q outside title and desc", t)
			}
			text.Write(t)
		case xml.Directive:
			return nil, errors.New("there is a document type")
		}
	}
	if out.Width == 0 || out.Group == "" {
		return nil, errors.New("it has no svg element or no group")
	}
	return out, nil
}

// attributes of an element, all of those that it must have and no other.
func attributes(t xml.StartElement) (map[string]string, error) {
	want, known := attributesOf[t.Name.Local]
	if !known {
		return nil, fmt.Errorf("element %s", t.Name.Local)
	}
	got := map[string]string{}
	var names []string
	for _, a := range t.Attr {
		name := a.Name.Local
		if a.Name.Space != "" {
			name = a.Name.Space + ":" + name
		}
		got[name] = a.Value
		names = append(names, name)
	}
	slices.Sort(names)
	if !slices.Equal(names, want) {
		return nil, fmt.Errorf("element %s has the attributes %q, not %q", t.Name.Local, names, want)
	}
	return got, nil
}

// take reads one element, which stands where its path of names says.
func (s *SVG) take(where string, a map[string]string, ids map[string]bool) error {
	if id, ok := a["id"]; ok {
		if !safeID.MatchString(id) || ids[id] {
			return fmt.Errorf("the id %q is unsafe or stands twice", id)
		}
		ids[id] = true
	}
	switch where {
	case "svg":
		for name, side := range map[string]*float64{"width": &s.Width, "height": &s.Height} {
			value, ok := strings.CutSuffix(a[name], "mm")
			if !ok || !number.MatchString(value) {
				return fmt.Errorf("%s is %q", name, a[name])
			}
			*side, _ = strconv.ParseFloat(value, 64)
		}
		if want := fmt.Sprintf("0.000 0.000 %.3f %.3f", s.Width, s.Height); a["viewBox"] != want {
			return fmt.Errorf("the viewBox is %q, not %q", a["viewBox"], want)
		}
	case "svg/title", "svg/desc":
	case "svg/g":
		if s.Group != "" {
			return errors.New("there are two groups")
		}
		s.Group = a["id"]
	case "svg/g/path":
		if !plainHex.MatchString(a["fill"]) || a["fill-rule"] != "evenodd" {
			return fmt.Errorf("path %s has the fill %q by the rule %q", a["id"], a["fill"], a["fill-rule"])
		}
		contours, err := pathData(a["d"])
		if err != nil {
			return fmt.Errorf("path %s: %w", a["id"], err)
		}
		s.Paths = append(s.Paths, Path{ID: a["id"], Fill: a["fill"], Contours: contours})
	default:
		return fmt.Errorf("an element at %s", where)
	}
	return nil
}

// pathData reads the commands M, L, C and Z, each on its own line, and closes each contour with the line that Z draws.
func pathData(d string) ([][]Curve, error) {
	var out [][]Curve
	var contour []Curve
	var first, at Point
	drawing := false
	for line := range strings.SplitSeq(d, "\n") {
		if line == "" {
			return nil, errors.New("an empty line")
		}
		p, err := points(line[1:])
		if err != nil {
			return nil, err
		}
		command := line[:1]
		if want := map[string]int{"M": 1, "L": 1, "C": 3, "Z": 0}; !strings.Contains("MLCZ", command) || len(p) != want[command] || drawing == (command == "M") {
			return nil, fmt.Errorf("the command %q, or its place", line)
		}
		switch command {
		case "M":
			first, at, contour, drawing = p[0], p[0], nil, true
			continue
		case "L":
			contour = append(contour, Curve{Line: true, P: [4]Point{at, at, p[0], p[0]}})
		case "C":
			contour = append(contour, Curve{P: [4]Point{at, p[0], p[1], p[2]}})
		case "Z":
			if at != first {
				contour = append(contour, Curve{Line: true, P: [4]Point{at, at, first, first}})
			}
			out, drawing = append(out, contour), false
			continue
		}
		at = p[len(p)-1]
	}
	if drawing || len(out) == 0 {
		return nil, errors.New("a contour that is not closed, or none")
	}
	return out, nil
}

// points reads pairs of numbers with three decimals, one space between each.
func points(s string) ([]Point, error) {
	if s == "" {
		return nil, nil
	}
	fields := strings.Split(s, " ")
	if len(fields)%2 != 0 {
		return nil, fmt.Errorf("half a point in %q", s)
	}
	values := make([]float64, len(fields))
	for i, f := range fields {
		if !number.MatchString(f) || f == "-0.000" {
			return nil, fmt.Errorf("the number %q", f)
		}
		values[i], _ = strconv.ParseFloat(f, 64)
	}
	out := make([]Point, len(values)/2)
	for i := range out {
		out[i] = Point{values[2*i], values[2*i+1]}
	}
	return out, nil
}

// Rings of the whole file, flattened to within tol millimetres by halving each curve until it is flat.
func (s *SVG) Rings(tol float64) []Ring {
	var out []Ring
	for _, p := range s.Paths {
		out = append(out, p.Rings(tol)...)
	}
	return out
}

// Rings of one path.
func (p Path) Rings(tol float64) []Ring {
	var out []Ring
	for _, c := range p.Contours {
		var r Ring
		for _, curve := range c {
			r = curve.flatten(r, tol, 0)
		}
		out = append(out, r)
	}
	return out
}

// flatten appends the curve's points but the last, which is the next curve's first.
func (c Curve) flatten(r Ring, tol float64, depth int) Ring {
	p := c.P
	bend := max(
		math.Hypot(p[0].X-2*p[1].X+p[2].X, p[0].Y-2*p[1].Y+p[2].Y),
		math.Hypot(p[1].X-2*p[2].X+p[3].X, p[1].Y-2*p[2].Y+p[3].Y),
	)
	// The chord of a cubic leaves it by at most 3/4 of its greater second difference.
	if c.Line || 0.75*bend <= tol || depth > 24 {
		return append(r, p[0])
	}
	mid := func(a, b Point) Point { return Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2} }
	ab, bc, cd := mid(p[0], p[1]), mid(p[1], p[2]), mid(p[2], p[3])
	abc, bcd := mid(ab, bc), mid(bc, cd)
	m := mid(abc, bcd)
	r = Curve{P: [4]Point{p[0], ab, abc, m}}.flatten(r, tol, depth+1)
	return Curve{P: [4]Point{m, bcd, cd, p[3]}}.flatten(r, tol, depth+1)
}
