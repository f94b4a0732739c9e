package reread

import (
	"math"
	"strings"
	"testing"
)

func square(x, y, side float64) Ring {
	return Ring{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}
}

func TestAreaTakesHolesOffAndIslandsOn(t *testing.T) {
	rings := []Ring{square(0, 0, 10), square(1, 1, 8), square(2, 2, 2), square(20, 0, 1)}
	if a := Area(rings); math.Abs(a-(100-64+4+1)) > 1e-9 {
		t.Errorf("the area is %f", a)
	}
}

func TestFaultsAreFound(t *testing.T) {
	bow := Ring{{0, 0}, {4, 4}, {4, 0}, {0, 3}}
	for _, c := range []struct {
		name  string
		rings []Ring
		want  string // nothing for none
	}{
		{"a frame", []Ring{square(0, 0, 10), square(1, 1, 8)}, ""},
		{"two that touch at a corner", []Ring{square(0, 0, 1), square(1, 1, 1)}, ""},
		{"a doubled point", []Ring{{{0, 0}, {1, 0}, {1, 0}, {1, 1}}}, "twice"},
		{"a doubled last point", []Ring{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, "twice"},
		{"no area", []Ring{{{0, 0}, {1, 0}, {2, 0}}}, "no area"},
		{"two points", []Ring{{{0, 0}, {1, 0}}}, "no area"},
		{"a bow", []Ring{bow}, "cross"},
		{"two that cross", []Ring{square(0, 0, 2), square(1, 1, 2)}, "cross"},
		{"two that share a side", []Ring{square(0, 0, 2), square(2, 0.5, 1)}, "cross"},
		{"a tip there and back", []Ring{{{0, 0}, {5, 0}, {2, 0}, {2, 2}}}, "cross"},
	} {
		got := strings.Join(Faults(c.rings, 0), "; ")
		if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q", c.name, got)
		}
	}
	if got := Faults([]Ring{bow}, 5); got != nil {
		t.Errorf("a crossing is not so deep: %q", got)
	}
}

const goodSVG = `<?xml version="1.0"?>
<svg width="10.000mm" height="5.000mm" viewBox="0.000 0.000 10.000 5.000" xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">
<title>T</title>
<desc>D</desc>
<g id="film-gold">
<path d="M1.000 1.000
L2.000 1.000
C2.000 2.000 1.000 2.000 1.000 1.000
Z" id="piece-1" fill="#c9a227" fill-rule="evenodd" />
</g>
</svg>
`

func TestACutSVGIsRead(t *testing.T) {
	s, err := ReadSVG(strings.NewReader(goodSVG))
	if err != nil {
		t.Fatal(err)
	}
	// The curve's own area is 3/5 of its control polygon's: 3/5 of one square millimetre.
	if a := Area(s.Rings(0.0001)); math.Abs(a-0.6) > 0.0002 || s.Width != 10 || s.Title != "T" || s.Desc != "D" {
		t.Errorf("area %f, %+v", a, s)
	}
}

func TestAnSVGThatIsNoCutFileIsRefused(t *testing.T) {
	for name, change := range map[string][2]string{
		"a transform":            {`<g id="film-gold">`, `<g id="film-gold" transform="scale(-1 1)">`},
		"a style":                {`<g id="film-gold">`, `<g id="film-gold" style="fill:red">`},
		"a stroke":               {`fill-rule="evenodd"`, `fill-rule="evenodd" stroke="#000000"`},
		"the other rule":         {`evenodd`, `nonzero`},
		"a named colour":         {`#c9a227`, `gold`},
		"text":                   {`</g>`, `<text>F</text></g>`},
		"a script":               {`<title>T</title>`, `<script>1</script>`},
		"a document type":        {`<svg`, `<!DOCTYPE svg><svg`},
		"a group in a group":     {`</g>`, `<g id="x"></g></g>`},
		"two alike":              {`piece-1`, `film-gold`},
		"an id of two words":     {`piece-1`, `piece 1`},
		"inches":                 {`10.000mm`, `10.000in`},
		"another scale":          {`10.000 5.000"`, `20.000 10.000"`},
		"an exponent":            {`L2.000`, `L2e0`},
		"two decimals":           {`L2.000`, `L2.00`},
		"a negative zero":        {`L2.000`, `L-0.000`},
		"a relative command":     {`L2.000`, `l2.000`},
		"an arc":                 {`L2.000 1.000`, `A1.000 1.000 0.000 0.000 2.000 1.000`},
		"an open contour":        {"\nZ", ""},
		"two commands on a line": {"\nZ", " Z"},
	} {
		if !strings.Contains(goodSVG, change[0]) {
			t.Fatalf("%s: nothing to change", name)
		}
		if s, err := ReadSVG(strings.NewReader(strings.Replace(goodSVG, change[0], change[1], 1))); err == nil {
			t.Errorf("%s is taken: %+v", name, s)
		}
	}
}

// dxf is a file of one triangle: group codes and values, a pair to a field.
const dxf = "0 SECTION|2 HEADER|9 $ACADVER|1 AC1015|9 $INSUNITS|70 4|9 $MEASUREMENT|70 1|" +
	"9 $EXTMIN|10 1.000|20 1.000|30 0.000|9 $EXTMAX|10 3.000|20 2.000|30 0.000|9 $HANDSEED|5 4|0 ENDSEC|" +
	"0 SECTION|2 TABLES|0 TABLE|2 LAYER|5 1|0 LAYER|5 2|330 1|2 GOLD|0 ENDTAB|0 ENDSEC|" +
	"0 SECTION|2 ENTITIES|0 LWPOLYLINE|5 3|330 1|100 AcDbEntity|8 GOLD|100 AcDbPolyline|90 3|70 1|" +
	"10 1.000|20 1.000|10 3.000|20 1.000|10 1.000|20 2.000|0 ENDSEC|0 EOF"

func lines(fields string) *strings.Reader {
	var b strings.Builder
	for field := range strings.SplitSeq(fields, "|") {
		code, value, _ := strings.Cut(field, " ")
		b.WriteString(code + "\n" + value + "\n")
	}
	return strings.NewReader(b.String())
}

func TestADXFCutFileIsRead(t *testing.T) {
	d, err := ReadDXF(lines(dxf))
	if err != nil {
		t.Fatal(err)
	}
	if d.Layer != "GOLD" || d.Units != 4 || len(d.Outlines) != 1 || Area(d.Outlines) != 1 || d.Extents != Bounds(d.Outlines) {
		t.Errorf("%+v", d)
	}
}

func TestADXFThatIsNoCutFileIsRefused(t *testing.T) {
	for name, change := range map[string][2]string{
		"an open outline":       {"70 1|10", "70 0|10"},
		"a bulge":               {"20 1.000|10 3.000", "20 1.000|42 0.5|10 3.000"},
		"a spline":              {"0 LWPOLYLINE", "0 SPLINE"},
		"a corner too few":      {"90 3", "90 4"},
		"an x without its y":    {"10 3.000|20 1.000", "10 3.000"},
		"six decimals":          {"10 3.000|20 1", "10 3.000001|20 1"},
		"no number":             {"10 3.000|20 1", "10 NaN|20 1"},
		"a layer that is not":   {"2 GOLD", "2 SILVER"},
		"a layer of two words":  {"GOLD", "DULL GOLD"},
		"a handle twice":        {"5 3", "5 2"},
		"a handle past the end": {"5 3", "5 4"},
		"a pointer to nothing":  {"330 1|100", "330 9|100"},
		"letters beyond ASCII":  {"2 GOLD", "2 GÖLD"},
		"no end":                {"|0 EOF", ""},
	} {
		if !strings.Contains(dxf, change[0]) {
			t.Fatalf("%s: nothing to change", name)
		}
		if d, err := ReadDXF(lines(strings.Replace(dxf, change[0], change[1], 1))); err == nil {
			t.Errorf("%s is taken: %+v", name, d)
		}
	}
}

func TestPicturesShowWhichWayIsUp(t *testing.T) {
	corner := []Ring{square(0, 0, 1)}
	down, up := Draw(corner, 4, 2, 2, false), Draw(corner, 4, 2, 2, true)
	if down.W != 8 || down.H != 4 || !down.Film[0] || down.Film[3*8] || !up.Film[3*8] || up.Film[0] {
		t.Errorf("%v\n%v", down, up)
	}
	if l := down.Likeness(down); l != 1 {
		t.Errorf("a picture is like itself by %f", l)
	}
	if l := down.Likeness(up); l != 0 {
		t.Errorf("two pictures that share nothing are alike by %f", l)
	}
}

const goodListing = `pieces, in millimetres, from the middle of the face and down from its head

face "v" "spine" "gold" transfer
frame 10.000 20.000 pieces 2 area 4.000000 outline 13.656 rings 2 segments 6

shape "AB" size 2.000 2.000 area 2.000000 outline 6.828 rings 1 segments 3
piece "a"
piece "c"
at -1.0000 4.0000, 2.5005 8.0000
outer 2.000000 at 0.000 0.000
l 2.000 0.000
l -2.000 2.000
l 0.000 -2.000
`

func TestAListingIsRead(t *testing.T) {
	faces, err := ReadListing(strings.NewReader(goodListing))
	if err != nil {
		t.Fatal(err)
	}
	l := faces[0]
	if len(l.Pieces) != 2 || l.Shapes != 1 || !l.Transfer || l.Pieces[0].Corner != (Point{3, 3}) {
		t.Fatalf("%+v", l)
	}
	if c := l.Pieces[1]; c.ID != "c" || c.Mark != "AB" || math.Abs(c.Corner.X-6.5005) > 1e-9 || c.Contours[0][1].P[0] != (Point{c.Corner.X + 2, 7}) {
		t.Errorf("%+v", c)
	}
}

func TestAListingThatIsNotTrueToItselfIsRefused(t *testing.T) {
	for name, change := range map[string][2]string{
		"a place too few":       {", 2.5005 8.0000", ""},
		"a piece too few":       {"piece \"c\"\n", ""},
		"a piece twice":         {`piece "c"`, `piece "a"`},
		"two lines of places":   {"outer", "at 1.0000 1.0000\nouter"},
		"a segment too few":     {"l 0.000 -2.000\n", ""},
		"a step too many":       {"l 2.000 0.000", "l 2.000 0.000 1.000 1.000"},
		"another total":         {"area 4.0", "area 5.0"},
		"another count":         {"pieces 2", "pieces 3"},
		"a ring too few":        {"rings 1", "rings 2"},
		"a line of no kind":     {"outer", "inner"},
		"a piece without shape": {"shape \"AB\" size 2.000 2.000 area 2.000000 outline 6.828 rings 1 segments 3\n", ""},
		"no face":               {"face \"v\" \"spine\" \"gold\" transfer\n", ""},
	} {
		if !strings.Contains(goodListing, change[0]) {
			t.Fatalf("%s: nothing to change", name)
		}
		if l, err := ReadListing(strings.NewReader(strings.Replace(goodListing, change[0], change[1], 1))); err == nil {
			t.Errorf("%s is taken: %+v", name, l[0])
		}
	}
}
