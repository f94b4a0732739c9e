package geom

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
)

// spell writes a path with absolute commands in units of a thousand nanometres, so that two spellings can be compared.
func spell(p Path) string {
	var b strings.Builder
	at := func(q Point) string { return fmt.Sprintf("%g,%g", float64(q.X)/1000, float64(q.Y)/1000) }
	for _, c := range p {
		fmt.Fprintf(&b, "M%s", at(c.Segments[0].P0))
		for _, s := range c.Segments {
			if s.Line {
				fmt.Fprintf(&b, " L%s", at(s.P3))
			} else {
				fmt.Fprintf(&b, " C%s %s %s", at(s.P1), at(s.P2), at(s.P3))
			}
		}
		if c.Closed {
			b.WriteString(" Z")
		}
		b.WriteString("\n")
	}
	return b.String()
}

func TestPathDataSpellings(t *testing.T) {
	for _, c := range []struct{ name, data, same string }{
		{"nothing", "", ""},
		{"white space only", " \t\r\n\f ", ""},
		{"moveto alone", "M 5 5", ""},
		{"moveto that closes", "M5 5Z", "M5,5 L5,5 Z\n"},
		{"pairs after M are lines", "M0 0 10 0 10 10", "M0,0 L10,0 L10,10\n"},
		{"pairs after m are relative lines", "m1 1 10 0 0 10", "M1,1 L11,1 L11,11\n"},
		{"a first m counts from the origin", "m 5 5 l 1 0", "M5,5 L6,5\n"},
		{"numbers run together", "M.5.5-1-1L1e1-2.5E-1+3+4", "M0.5,0.5 L-1,-1 L10,-0.25 L3,4\n"},
		{"commas and spaces", "M 0 , 0\tL\n1,2 3 ,4,5 6", "M0,0 L1,2 L3,4 L5,6\n"},
		{"H V h v repeat", "M1 1H5 7V3 4h-1 -1v2 2", "M1,1 L5,1 L7,1 L7,3 L7,4 L6,4 L5,4 L5,6 L5,8\n"},
		{"C and c", "M0 0C1 2 3 4 5 6c1 0 2 0 3 0", "M0,0 C1,2 3,4 5,6 C6,6 7,6 8,6\n"},
		{"S mirrors the arm before", "M0 0C1 2 3 4 5 5S8 8 9 5", "M0,0 C1,2 3,4 5,5 C7,6 8,8 9,5\n"},
		{"s after s", "M0 0c1 2 3 4 5 5s3 3 4 0 1 1 2 2", "M0,0 C1,2 3,4 5,5 C7,6 8,8 9,5 C10,2 10,6 11,7\n"},
		{"S after a line has no arm", "M0 0L5 5S8 8 9 5", "M0,0 L5,5 C5,5 8,8 9,5\n"},
		{"S after Q has no arm", "M0 0Q3 3 6 0S8 8 9 5", "M0,0 C2,2 4,2 6,0 C6,0 8,8 9,5\n"},
		{"Q is a cubic", "M0 0Q3 3 6 0", "M0,0 C2,2 4,2 6,0\n"},
		{"T mirrors the arm before", "M0 0Q3 3 6 0T12 0 18 0", "M0,0 C2,2 4,2 6,0 C8,-2 10,-2 12,0 C14,2 16,2 18,0\n"},
		{"t after a move has no arm", "M6 6t3 0", "M6,6 C6,6 7,6 9,6\n"},
		{"Z returns to the beginning", "M1 1H5V5zl1 1", "M1,1 L5,1 L5,5 L1,1 Z\nM1,1 L2,2\n"},
		{"Z where the end meets the beginning", "M1 1H5V5L1 1Z", "M1,1 L5,1 L5,5 L1,1 Z\n"},
		{"m after Z counts from the beginning", "M1 1H5V5zm2 2h1", "M1,1 L5,1 L5,5 L1,1 Z\nM3,3 L4,3\n"},
		{"two subpaths", "M0 0L1 1M2 2L3 3", "M0,0 L1,1\nM2,2 L3,3\n"},
		{"a line of no length is kept", "M4 4l0 0", "M4,4 L4,4\n"},
		{"arc without a radius is a line", "M0 0A0 5 0 0 1 9 9", "M0,0 L9,9\n"},
		{"arc that ends where it begins is nothing", "M0 0A5 5 0 0 1 0 0L3 3", "M0,0 L3,3\n"},
		{"exponents", "M1e0 1E+0L2e-1 0.1e1", "M1,1 L0.2,1\n"},
	} {
		p, err := ParsePath(c.data, 1000)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if got := spell(p); got != c.same {
			t.Errorf("%s: %q gives\n%swant\n%s", c.name, c.data, got, c.same)
		}
	}
}

func TestPathDataArcFlagsNeedNoSpace(t *testing.T) {
	spaced, err := ParsePath("M0 0 A 25 25 -30 0 1 50 -25 A 5 5 0 1 0 60 -20", 1000)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []string{
		"M0 0A25 25-30 0150-25A5 5 0 1060-20",
		"M0,0a25,25 -30 01 50,-25 5,5,0,1,0,10,5",
		"M0 0A25 25 -30 0 1 50-25 5 5 0 10 60-20",
	} {
		p, err := ParsePath(d, 1000)
		if err != nil {
			t.Errorf("%s: %v", d, err)
		}
		if spell(p) != spell(spaced) {
			t.Errorf("%s gives\n%swant\n%s", d, spell(p), spell(spaced))
		}
	}
}

func TestPathDataThatIsWrong(t *testing.T) {
	for _, c := range []struct {
		data   string
		offset int
		msg    string
		before string // what is drawn all the same
	}{
		{"L5 5", 0, "begins with M", ""},
		{"10 10", 0, "begins with M", ""},
		{"M5", 2, "end of the data", ""},
		{"M0 0L1 1 2", 10, "wanted a number for L, found the end", "M0,0 L1,1\n"},
		{"M0 0L1 1 X3", 9, `a command.*found 'X'`, "M0,0 L1,1\n"},
		{"M0 0L1 1,", 9, "wanted a number", "M0,0 L1,1\n"},
		{"M0 0L,1 1", 5, "wanted a number", ""},
		{"M0 0L1,,1", 7, "wanted a number", ""},
		{"M0 0L1 1Z 5 5", 10, "a command", "M0,0 L1,1 L0,0 Z\n"},
		{"M0 0L1. 5", 6, "wanted a number", ""},
		{"M0 0L1 1A5 5 0 2 1 9 9", 15, "a flag of an arc", "M0,0 L1,1\n"},
		{"M0 0A5 5 0 0", 12, "a flag of an arc", ""},
		{"M0 0L1 1e", 8, "a command", "M0,0 L1,1\n"},
		{"M0 0L1 1L1e99 0", 9, "too large", "M0,0 L1,1\n"},
		{"M0 0L1 1L1e999 0", 9, "too large", "M0,0 L1,1\n"},
		{"M0 0L1 1 é", 9, "'é'", "M0,0 L1,1\n"},
		{"M0 0L1 1\x00", 8, `'\\x00'`, "M0,0 L1,1\n"},
		{"M0 0L1 1--2 3", 8, "a command", "M0,0 L1,1\n"},
	} {
		p, err := ParsePath(c.data, 1000)
		pe, ok := err.(*PathError)
		if !ok {
			t.Errorf("%q: error %v", c.data, err)
			continue
		}
		if pe.Offset != c.offset || !matches(c.msg, pe.Msg) {
			t.Errorf("%q: at %d: %s; want %d: %s", c.data, pe.Offset, pe.Msg, c.offset, c.msg)
		}
		if got := spell(p); got != c.before {
			t.Errorf("%q draws\n%swant\n%s", c.data, got, c.before)
		}
	}
}

func TestRelativeStepsDoNotGatherRounding(t *testing.T) {
	p, err := ParsePath("m0 0"+strings.Repeat("l.3333333333 0", 30_000), 1)
	if err != nil {
		t.Fatal(err)
	}
	if end := p[0].Segments[29_999].P3; end != (Point{10_000, 0}) {
		t.Errorf("30,000 thirds come to %v", end)
	}
}

// TestArcsLieOnTheirEllipse checks arcs against the implicit equation of an ellipse with the given radii and tilt whose
// centre is found from the two ends alone, for both flags.
func TestArcsLieOnTheirEllipse(t *testing.T) {
	for _, c := range []struct {
		rx, ry, tilt float64
		to           vec
	}{
		{5, 5, 0, vec{5, 5}},
		{8, 3, 30, vec{4, 2}},
		{8, 3, -75, vec{2, -3}},
		{1, 2, 10, vec{20, 5}},
		{40, 25, 120, vec{-31, 12}},
		{10, 10, 45, vec{20, 0}}, // a half circle exactly
	} {
		for flags := range 4 {
			large, sweep := flags&1, flags>>1
			d := fmt.Sprintf("M0 0A%g %g %g %d %d %g %g", c.rx, c.ry, c.tilt, large, sweep, c.to.x, c.to.y)
			p, err := ParsePath(d, Millimetre)
			if err != nil {
				t.Fatal(err)
			}
			segments := p[0].Segments
			if end := segments[len(segments)-1].P3; end != c.to.times(1e6).grid() {
				t.Errorf("%s ends at %v", d, end)
			}
			checkArc(t, d, segments, c.rx, c.ry, c.tilt, c.to, large == 1, sweep == 1)
		}
	}
}

func checkArc(t *testing.T, d string, segments []Segment, rx, ry, tilt float64, to vec, large, sweep bool) {
	t.Helper()
	s, c := math.Sincos(tilt * math.Pi / 180)
	level := func(v vec) vec { return vec{(c*v.x + s*v.y) / rx, (c*v.y - s*v.x) / ry} }
	q := level(to)
	k := max(1, q.length()/2)
	q = q.times(1 / k)
	h := math.Sqrt(max(0, 1-q.dot(q)/4))
	n := vec{-q.y, q.x}.unit().times(h)
	if large == sweep {
		n = n.times(-1)
	}
	centre := q.times(0.5).plus(n)
	turned, last := 0.0, vec{}.minus(centre)
	for _, seg := range segments {
		for i := 1; i <= 20; i++ {
			u := float64(i) / 20
			v := level(seg.at(u, 1-u).times(1e-6)).times(1 / k).minus(centre)
			if math.Abs(v.length()-1) > 5e-6 {
				t.Errorf("%s: %v off the ellipse", d, v.length()-1)
				return
			}
			turned += math.Atan2(last.cross(v), last.dot(v))
			last = v
		}
	}
	if half := math.Abs(math.Abs(turned)-math.Pi) < 1e-6; !half && (math.Abs(turned) > math.Pi) != large {
		t.Errorf("%s turns by %v", d, turned)
	}
	if (turned > 0) != sweep {
		t.Errorf("%s turns the wrong way: %v", d, turned)
	}
}

func matches(pattern, s string) bool { return regexp.MustCompile(pattern).MatchString(s) }

func FuzzParsePath(f *testing.F) {
	for _, d := range []string{"M0 0L1 1Z", "m.5.5-1-1a25 25-30 0150-25z", "M0 0C1 2 3 4 5 6S1 1 2 2Q1 1 3 3T9 9H1V2", "M1e9 1e-9L,", "M0 0A1 1 0 11 1e-8 0"} {
		f.Add(d)
	}
	f.Fuzz(func(t *testing.T, d string) {
		p, err := ParsePath(d, Millimetre)
		if err != nil && err.(*PathError).Offset > len(d) {
			t.Fatalf("an error past the end: %v", err)
		}
		for _, c := range p {
			for i, s := range c.Segments {
				if i > 0 && c.Segments[i-1].P3 != s.P0 {
					t.Fatalf("%q: segment %d begins at %v and not at %v", d, i, s.P0, c.Segments[i-1].P3)
				}
			}
			if c.Closed && c.Segments[len(c.Segments)-1].P3 != c.Segments[0].P0 {
				t.Fatalf("%q: a closed contour does not end where it began", d)
			}
		}
	})
}
