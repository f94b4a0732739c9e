package reread

import (
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
)

// A DXF is what a DXF cut file holds.
type DXF struct {
	Version  string
	Units    int    // $INSUNITS
	Metric   int    // $MEASUREMENT
	Extents  Box    // as the header says
	Frame    Point  // $LIMMAX, the size of the face
	Layer    string // of every outline
	Outlines []Ring
}

// A pair is a group code and its value.
type pair struct {
	code  int
	value string
}

var layerName = regexp.MustCompile(`^[A-Z0-9_-]{1,31}$`)

// ReadDXF reads a DXF cut file and refuses anything that such a file must not hold: any entity but closed LWPOLYLINEs of
// straight sides on one layer, text that is not ASCII, handles that stand twice, are not below the seed, or point nowhere.
func ReadDXF(r io.Reader) (*DXF, error) {
	pairs, err := readPairs(r)
	if err != nil {
		return nil, err
	}
	if err := checkHandles(pairs); err != nil {
		return nil, err
	}
	out := &DXF{}
	section, layers := "", map[string]bool{}
	for i := 0; i < len(pairs); {
		// A record runs from its group code 0 to the next.
		j := i + 1
		for j < len(pairs) && pairs[j].code != 0 {
			j++
		}
		kind, record := pairs[i].value, pairs[i+1:j]
		i = j
		switch {
		case kind == "SECTION":
			section = value(record, 2)
			if section == "HEADER" {
				if err := out.header(record[1:]); err != nil {
					return nil, err
				}
			}
		case kind == "ENDSEC" || kind == "EOF":
			section = ""
		case section == "TABLES" && kind == "LAYER":
			layers[value(record, 2)] = true
		case section == "ENTITIES":
			if err := out.entity(kind, record); err != nil {
				return nil, fmt.Errorf("entity %d: %w", len(out.Outlines), err)
			}
		}
	}
	if last := pairs[len(pairs)-1]; last.value != "EOF" {
		return nil, errors.New("it has no end")
	}
	if !layers[out.Layer] || !layerName.MatchString(out.Layer) {
		return nil, fmt.Errorf("the layer %q is not in the table, or not a plain name", out.Layer)
	}
	return out, nil
}

func readPairs(r io.Reader) ([]pair, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	text := string(data)
	for i := range len(text) {
		if c := text[i]; c != '\n' && (c < ' ' || c > '~') {
			return nil, fmt.Errorf("byte %d is not printable ASCII", i)
		}
	}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines)%2 != 0 {
		return nil, errors.New("a group code without a value")
	}
	pairs := make([]pair, 0, len(lines)/2)
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(lines[i])
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
		pairs = append(pairs, pair{code, lines[i+1]})
	}
	if pairs[0].code != 0 {
		return nil, errors.New("it begins inside a record")
	}
	return pairs, nil
}

// checkHandles sees that each handle stands once and below the seed, and that every pointer finds one.
func checkHandles(pairs []pair) error {
	own, seed := map[uint64]bool{}, uint64(0)
	var pointers []uint64
	for i, p := range pairs {
		switch p.code {
		case 5, 105, 330, 340, 350, 360, 390:
		default:
			continue
		}
		h, err := strconv.ParseUint(p.value, 16, 64)
		switch {
		case err != nil:
			return err
		case i > 0 && pairs[i-1] == pair{9, "$HANDSEED"}:
			seed = h
		case p.code > 105:
			pointers = append(pointers, h)
		case own[h] || h == 0:
			return fmt.Errorf("the handle %X is nothing or stands twice", h)
		default:
			own[h] = true
		}
	}
	for h := range own {
		if h >= seed {
			return fmt.Errorf("the handle %X is not below the seed, %X", h, seed)
		}
	}
	for _, h := range pointers {
		if h != 0 && !own[h] {
			return fmt.Errorf("the pointer %X points nowhere", h)
		}
	}
	return nil
}

// value of the first pair of a record with this code.
func value(record []pair, code int) string {
	for _, p := range record {
		if p.code == code {
			return p.value
		}
	}
	return ""
}

// header reads the variables that matter to a cutter.
func (d *DXF) header(record []pair) error {
	for len(record) > 0 {
		if record[0].code != 9 {
			return fmt.Errorf("group code %d stands for no variable", record[0].code)
		}
		name, n := record[0].value, 1
		for n < len(record) && record[n].code != 9 {
			n++
		}
		v := record[1:n]
		record = record[n:]
		var err error
		switch name {
		case "$ACADVER":
			d.Version = value(v, 1)
		case "$INSUNITS":
			d.Units, err = strconv.Atoi(value(v, 70))
		case "$MEASUREMENT":
			d.Metric, err = strconv.Atoi(value(v, 70))
		case "$EXTMIN":
			d.Extents.Min, err = corner(v)
		case "$EXTMAX":
			d.Extents.Max, err = corner(v)
		case "$LIMMAX":
			d.Frame, err = corner(v)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

func corner(v []pair) (Point, error) {
	p, err := points(value(v, 10) + " " + value(v, 20))
	if err != nil {
		return Point{}, err
	}
	return p[0], nil
}

// entity reads one outline.
func (d *DXF) entity(kind string, record []pair) error {
	if kind != "LWPOLYLINE" {
		return fmt.Errorf("a %s", kind)
	}
	var ring Ring
	for i, p := range record {
		switch p.code {
		case 5, 330, 90, 100:
		case 8:
			if len(d.Outlines) > 0 && p.value != d.Layer {
				return fmt.Errorf("a second layer, %q", p.value)
			}
			d.Layer = p.value
		case 70:
			if p.value != "1" {
				return fmt.Errorf("flags %s: it is not just closed", p.value)
			}
		case 10:
			if i+1 == len(record) || record[i+1].code != 20 {
				return errors.New("an x without its y")
			}
			at, err := corner(record[i : i+2])
			if err != nil {
				return err
			}
			ring = append(ring, at)
		case 20:
		default:
			return fmt.Errorf("group code %d", p.code)
		}
	}
	if value(record, 90) != strconv.Itoa(len(ring)) || value(record, 70) == "" {
		return fmt.Errorf("%d corners where %s are promised, or no flags", len(ring), value(record, 90))
	}
	d.Outlines = append(d.Outlines, ring)
	return nil
}
