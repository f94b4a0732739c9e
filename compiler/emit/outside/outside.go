// Package outside asks programs that are not ours what they find in our cut files: libxml2, librsvg, Chromium, ezdxf and GDAL. It is
// for tests, of the writers and of whole builds. Where a program is not installed the test is skipped and told what to
// install; where the environment says CI=true it fails instead, so that no check is lost there in silence.
package outside

import (
	"fmt"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"headcap/compiler/emit/reread"
)

// packages says what to install for each program, on Debian.
var packages = map[string]string{
	"xmllint":          "libxml2-utils",
	"rsvg-convert":     "librsvg2-bin",
	"chromium":         "chromium",
	"/usr/bin/python3": "python3-ezdxf",
	"ogrinfo":          "gdal-bin",
}

// Need gives the path of a program, or ends the test.
func Need(t testing.TB, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		without(t, program)
	}
	return path
}

// needEzdxf gives the path of the Python that has ezdxf, or ends the test.
func needEzdxf(t testing.TB) string {
	t.Helper()
	python := Need(t, "/usr/bin/python3")
	if exec.Command(python, "-c", "import ezdxf").Run() != nil {
		without(t, python)
	}
	return python
}

func without(t testing.TB, program string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is missing: install %s", program, packages[program])
	}
	t.Skipf("%s is missing: install %s to run this check", program, packages[program])
}

// run gives what a program prints, and fails where the program does.
func run(t testing.TB, program string, arguments ...string) string {
	t.Helper()
	var problems strings.Builder
	c := exec.Command(program, arguments...)
	c.Stderr = &problems
	out, err := c.Output()
	if err != nil || problems.Len() > 0 {
		t.Fatalf("%s: %v\n%s%s", filepath.Base(program), err, out, problems.String())
	}
	return string(out)
}

// SVG re-reads a cut SVG, or ends the test.
func SVG(t testing.TB, path string) *reread.SVG {
	t.Helper()
	f := open(t, path)
	defer f.Close()
	s, err := reread.ReadSVG(f)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return s
}

// DXF re-reads a DXF cut file, or ends the test.
func DXF(t testing.TB, path string) *reread.DXF {
	t.Helper()
	f := open(t, path)
	defer f.Close()
	d, err := reread.ReadDXF(f)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return d
}

// Listing re-reads pieces.txt, or ends the test.
func Listing(t testing.TB, path string) []*reread.Listing {
	t.Helper()
	f := open(t, path)
	defer f.Close()
	l, err := reread.ReadListing(f)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return l
}

func open(t testing.TB, path string) *os.File {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// CheckSVG checks cut SVGs: as plain XML with nothing in it that a cut file must not hold, by our own reader and by
// libxml2, and without crossings, doubled points or rings of no area.
func CheckSVG(t testing.TB, paths ...string) {
	t.Helper()
	for _, path := range paths {
		// Half a micrometre: what flattening and a cusp may make of two curves that only touch.
		for _, fault := range reread.Faults(SVG(t, path).Rings(0.0005), 0.0005) {
			t.Errorf("%s: %s", path, fault)
		}
	}
	xmllint := Need(t, "xmllint")
	run(t, xmllint, append([]string{"--noout"}, paths...)...)
	const strangers = `count(//*[not(local-name()="svg" or local-name()="g" or local-name()="path" or local-name()="title" or local-name()="desc")])` +
		` + count(//@transform|//@style|//@class)`
	for _, path := range paths {
		if n := strings.TrimSpace(run(t, xmllint, "--xpath", strangers, path)); n != "0" {
			t.Errorf("%s: %s elements or attributes that a cut file must not hold", path, n)
		}
	}
}

// DotsPerInch is CSS's own: a pixel is 1/96 inch.
const DotsPerInch = 96

// Raster draws a cut SVG with librsvg and sees that the picture has the size that the file claims.
func Raster(t testing.TB, path string) reread.Picture {
	t.Helper()
	rsvg := Need(t, "rsvg-convert")
	s := SVG(t, path)
	to := filepath.Join(t.TempDir(), "raster.png")
	resolution := strconv.Itoa(DotsPerInch)
	run(t, rsvg, "-d", resolution, "-p", resolution, path, "-o", to)
	picture := develop(t, to)
	if w, h := pixels(s); picture.W != w || picture.H != h {
		t.Errorf("%s: drawn %d by %d pixels, not %d by %d", path, picture.W, picture.H, w, h)
	}
	return picture
}

// RasterChromium draws a cut SVG with Chromium, in a window of the size that the file claims.
func RasterChromium(t testing.TB, path string) reread.Picture {
	t.Helper()
	chromium := Need(t, "chromium")
	full, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	w, h := pixels(SVG(t, path))
	dir := t.TempDir()
	to := filepath.Join(dir, "raster.png")
	// It prints about buses and fonts whatever comes of it, so only its failing and its picture count.
	said, err := exec.Command(chromium, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--default-background-color=00000000",
		fmt.Sprintf("--window-size=%d,%d", w, h), "--screenshot="+to, "file://"+filepath.ToSlash(full)).CombinedOutput()
	if err != nil {
		t.Fatalf("chromium: %v\n%s", err, said)
	}
	return develop(t, to)
}

// pixels is the size of a cut SVG's picture. The quotient of a whole number of micrometres is only just above a whole
// pixel by its own rounding.
func pixels(s *reread.SVG) (w, h int) {
	of := func(mm float64) int { return int(math.Ceil(mm*DotsPerInch/25.4 - 1e-9)) }
	return of(s.Width), of(s.Height)
}

func develop(t testing.TB, path string) reread.Picture {
	t.Helper()
	f := open(t, path)
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return reread.Develop(img)
}

// audit prints, for each file, a line of what ezdxf makes of it: errors, repairs, $INSUNITS, $MEASUREMENT, entities, and
// how many of them are no closed LWPOLYLINE without bulges.
const audit = `
import sys, ezdxf
from ezdxf import recover
for path in sys.argv[1:]:
    doc, found = recover.readfile(path)
    strict = ezdxf.readfile(path).audit()
    drawn = list(doc.modelspace())
    odd = [e for e in drawn if e.dxftype() != "LWPOLYLINE" or not e.closed or e.has_arc or e.has_width]
    print(len(found.errors) + len(strict.errors), len(found.fixes) + len(strict.fixes), doc.header["$INSUNITS"],
          doc.header["$MEASUREMENT"], len(drawn), len(odd), doc.dxfversion)
    for e in list(found.errors) + list(found.fixes):
        print(e.message, file=sys.stderr)
`

// CheckDXF checks DXF cut files: by our own reader, without crossings, doubled points or rings of no area, with true
// extents; and by ezdxf, whose audit must find no errors and nothing to repair, millimetres, and only closed LWPOLYLINEs.
func CheckDXF(t testing.TB, paths ...string) {
	t.Helper()
	var want []string
	for _, path := range paths {
		d := DXF(t, path)
		for _, fault := range reread.Faults(d.Outlines, 0) {
			t.Errorf("%s: %s", path, fault)
		}
		if box := reread.Bounds(d.Outlines); box != d.Extents {
			t.Errorf("%s: the header's extents are %v, not %v", path, d.Extents, box)
		}
		if d.Units != 4 || d.Metric != 1 || d.Version != "AC1015" {
			t.Errorf("%s: units %d, measurement %d, version %s", path, d.Units, d.Metric, d.Version)
		}
		want = append(want, fmt.Sprintf("0 0 4 1 %d 0 AC1015", len(d.Outlines)))
	}
	said := strings.Split(strings.TrimSpace(run(t, needEzdxf(t), append([]string{"-c", audit}, paths...)...)), "\n")
	for i, path := range paths {
		if i >= len(said) || said[i] != want[i] {
			t.Errorf("%s: ezdxf says %q, not %q", path, said[min(i, len(said)-1)], want[i])
		}
	}
}

// points prints each corner that ezdxf reads, a blank line after each outline.
const points = `
import sys, ezdxf
for e in ezdxf.readfile(sys.argv[1]).modelspace():
    for x, y in e.get_points("xy"):
        print(repr(x), repr(y))
    print()
`

// EzdxfOutlines are the outlines of a DXF file as ezdxf reads them.
func EzdxfOutlines(t testing.TB, path string) []reread.Ring {
	t.Helper()
	var out []reread.Ring
	for block := range strings.SplitSeq(strings.TrimSpace(run(t, needEzdxf(t), "-c", points, path)), "\n\n") {
		var r reread.Ring
		for line := range strings.SplitSeq(block, "\n") {
			var p reread.Point
			if _, err := fmt.Sscan(line, &p.X, &p.Y); err != nil {
				t.Fatalf("ezdxf said %q: %v", line, err)
			}
			r = append(r, p)
		}
		out = append(out, r)
	}
	return out
}

// A Measured is what GDAL finds of one outline.
type Measured struct {
	Layer  string
	Closed bool
	Area   float64 // square millimetres
	Box    reread.Box
}

// Measure has GDAL measure every outline of a DXF file.
func Measure(t testing.TB, path string) []Measured {
	t.Helper()
	const question = "select Layer, ST_IsClosed(geometry) as closed, ST_Area(ST_MakePolygon(geometry)) as area," +
		" ST_MinX(geometry) as x0, ST_MinY(geometry) as y0, ST_MaxX(geometry) as x1, ST_MaxY(geometry) as y1 from entities"
	var out []Measured
	for line := range strings.SplitSeq(run(t, Need(t, "ogrinfo"), "-q", "-dialect", "SQLITE", "-sql", question, path), "\n") {
		if strings.HasPrefix(line, "OGRFeature") {
			out = append(out, Measured{})
			continue
		}
		field, value, ok := strings.Cut(strings.TrimSpace(line), " = ")
		if !ok || len(out) == 0 {
			continue
		}
		m := &out[len(out)-1]
		name, _, _ := strings.Cut(field, " ")
		if name == "Layer" {
			m.Layer = value
			continue
		}
		v, err := strconv.ParseFloat(value, 64)
		if err != nil {
			t.Fatalf("%s: GDAL says %q", path, line)
		}
		switch name {
		case "closed":
			m.Closed = v == 1
		case "area":
			m.Area = v
		case "x0":
			m.Box.Min.X = v
		case "y0":
			m.Box.Min.Y = v
		case "x1":
			m.Box.Max.X = v
		case "y1":
			m.Box.Max.Y = v
		}
	}
	return out
}

// CheckMeasures has GDAL measure a DXF file and compares it with what the listing says of the same face: every outline
// closed, the area of every ring and of the layer to 1e-3 mm², the box to 1e-6 mm.
func CheckMeasures(t testing.TB, dxf string, l *reread.Listing) {
	t.Helper()
	measured := Measure(t, dxf)
	var found, listed []float64
	var corners []reread.Ring
	for i, m := range measured {
		if !m.Closed || m.Layer != measured[0].Layer {
			t.Errorf("%s: outline %d on layer %s is open (to GDAL), or on a second layer", dxf, i, m.Layer)
		}
		found = append(found, m.Area)
		corners = append(corners, reread.Ring{m.Box.Min, m.Box.Max})
	}
	area, sum := 0.0, 0.0
	for _, p := range l.Pieces {
		whole := 0.0
		for _, a := range p.Rings {
			listed = append(listed, math.Abs(a))
			whole += a
		}
		if math.Abs(whole-p.Area) > 1e-5 {
			t.Errorf("%s: piece %s is listed with %f mm², and its rings with %f", dxf, p.ID, p.Area, whole)
		}
		area += whole
	}
	if len(found) != len(listed) || math.Abs(area-l.Area) > 1e-3 {
		t.Fatalf("%s: GDAL finds %d outlines of the %d listed; %f mm² are listed in all, and %f by the rings",
			dxf, len(found), len(listed), l.Area, area)
	}
	slices.Sort(found)
	slices.Sort(listed)
	for i := range found {
		if math.Abs(found[i]-listed[i]) > 1e-3 {
			t.Errorf("%s: GDAL measures %f mm² where %f are listed", dxf, found[i], listed[i])
		}
	}
	// The sum that GDAL gives, less the holes that the listing names.
	for _, a := range found {
		sum += a
	}
	for _, p := range l.Pieces {
		for _, a := range p.Rings {
			sum += 2 * min(a, 0)
		}
	}
	if math.Abs(sum-l.Area) > 1e-3 {
		t.Errorf("%s: GDAL measures %f mm² on the layer where %f are listed", dxf, sum, l.Area)
	}
	box, want := reread.Bounds(corners), inFile(l)
	for _, d := range differences(box, want) {
		if math.Abs(d) > 1e-6 {
			t.Errorf("%s: GDAL finds the box %v where %v is listed", dxf, box, want)
			break
		}
	}
}

func differences(a, b reread.Box) [4]float64 {
	return [4]float64{a.Min.X - b.Min.X, a.Min.Y - b.Min.Y, a.Max.X - b.Max.X, a.Max.Y - b.Max.Y}
}

// inFile is the listed box where a DXF file has it: y upwards, a transfer mirrored.
func inFile(l *reread.Listing) reread.Box {
	b := l.Box()
	b.Min.Y, b.Max.Y = l.Frame.Y-b.Max.Y, l.Frame.Y-b.Min.Y
	if l.Transfer {
		b.Min.X, b.Max.X = l.Frame.X-b.Max.X, l.Frame.X-b.Min.X
	}
	return b
}

// CheckAgree compares the two cut files of one face: frames alike, areas within 0.1 %, boxes within the DXF's tolerance
// of 2 µm, and pictures that share their film.
func CheckAgree(t testing.TB, svg, dxf string) {
	t.Helper()
	s, d := SVG(t, svg), DXF(t, dxf)
	if (reread.Point{X: s.Width, Y: s.Height}) != d.Frame {
		t.Errorf("%s is %v by %v mm, and %s %v", svg, s.Width, s.Height, dxf, d.Frame)
	}
	rings := s.Rings(0.0001)
	a, b := reread.Area(rings), reread.Area(d.Outlines)
	if math.Abs(a-b) > 0.001*a {
		t.Errorf("%s encloses %f mm², %s %f", svg, a, dxf, b)
	}
	// 2 µm and the rounding of a corner to the grid.
	const tolerance = 0.003
	box := reread.Bounds(rings)
	box.Min.Y, box.Max.Y = s.Height-box.Max.Y, s.Height-box.Min.Y
	for _, off := range differences(box, reread.Bounds(d.Outlines)) {
		if math.Abs(off) > tolerance {
			t.Errorf("%s has the box %v, %s %v", svg, box, dxf, reread.Bounds(d.Outlines))
			break
		}
	}
	const perMM = 8
	if l := reread.Draw(rings, s.Width, s.Height, perMM, false).Likeness(reread.Draw(d.Outlines, s.Width, s.Height, perMM, true)); l < 0.98 {
		t.Errorf("%s and %s share %.1f %% of their film", svg, dxf, 100*l)
	}
}
