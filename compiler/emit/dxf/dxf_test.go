package dxf

import (
	"bytes"
	"errors"
	"io"
	"math"
	"runtime"
	"strings"
	"sync"
	"testing"

	"headcap/compiler/cut"
	"headcap/compiler/emit/internal/sample"
	"headcap/compiler/emit/reread"
	"headcap/compiler/geom"
)

func text(t testing.TB, f cut.Face, o Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, f, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func read(t testing.TB, f cut.Face, o Options) *reread.DXF {
	t.Helper()
	d, err := reread.ReadDXF(strings.NewReader(text(t, f, o)))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A triangle at 1, 1 mm, its long side at the head, in a frame of 10 by 20 mm.
func triangle(transfer bool) cut.Face {
	at := func(x, y int64) geom.Point { return geom.Point{X: x * 100_000, Y: y * 100_000} }
	return cut.Face{
		Volume: "01-t", Face: "spine", Film: "gold", Colour: "#c9a227", Transfer: transfer,
		Width: 10 * geom.Millimetre, Height: 20 * geom.Millimetre,
		Pieces: []cut.Piece{{ID: "t", Shape: geom.Shape{Outer: geom.Polygon(at(10, 10), at(40, 10), at(10, 25))}}},
	}
}

func TestAnOutlineIsThis(t *testing.T) {
	const plain = `0
LWPOLYLINE
5
19
330
13
100
AcDbEntity
8
GOLD
100
AcDbPolyline
90
3
70
1
10
1.000
20
19.000
10
4.000
20
19.000
10
1.000
20
17.500
0
ENDSEC
`
	if got := text(t, triangle(false), Options{}); !strings.Contains(got, plain) {
		t.Errorf("the file does not hold this outline:\n%s", got[strings.Index(got, "ENTITIES"):])
	}
	mirrored := strings.NewReplacer("1.000\n20", "9.000\n20", "4.000\n20", "6.000\n20").Replace(plain)
	if got := text(t, triangle(true), Options{}); !strings.Contains(got, mirrored) {
		t.Errorf("the file does not hold the mirrored outline:\n%s", got[strings.Index(got, "ENTITIES"):])
	}
}

func TestHeaderSaysMillimetresAndTrueExtents(t *testing.T) {
	d := read(t, triangle(false), Options{})
	want := reread.Box{Min: reread.Point{X: 1, Y: 17.5}, Max: reread.Point{X: 4, Y: 19}}
	if d.Version != "AC1015" || d.Units != 4 || d.Metric != 1 || d.Extents != want || (d.Frame != reread.Point{X: 10, Y: 20}) {
		t.Errorf("%+v", d)
	}
}

func TestPiecesKeepReadingOrderOuterBeforeHoles(t *testing.T) {
	d := read(t, sample.Cover(false), Options{})
	var areas []int
	for _, r := range d.Outlines {
		areas = append(areas, int(r.Area()))
	}
	if len(areas) != 4 || areas[0] != 130 || areas[1] != 28 || areas[2] != 7 || areas[3] != 15 {
		t.Errorf("the outlines have %v mm²", areas)
	}
}

func TestAFinerToleranceGivesMoreSides(t *testing.T) {
	sides := func(tol int64) (n int) {
		for _, r := range read(t, sample.Cover(false), Options{Tolerance: tol}).Outlines {
			n += len(r)
		}
		return n
	}
	if a, b, c := sides(0), sides(2*geom.Micrometre), sides(geom.Micrometre); a != b || c <= b {
		t.Errorf("%d sides by default, %d at 2 µm, %d at 1 µm", a, b, c)
	}
	for _, tol := range []int64{-1, 1, 999} {
		if err := Write(io.Discard, triangle(false), Options{Tolerance: tol}); err == nil {
			t.Errorf("a tolerance of %d nm is taken", tol)
		}
	}
}

func TestLayerNamesArePlain(t *testing.T) {
	for film, want := range map[string]string{
		"gold": "GOLD", "dull gold 2": "DULL-GOLD-2", "gold_leaf": "GOLD_LEAF", "  gold!": "GOLD", "or d’été": "OR-D-T",
		"χρυσός": "FILM", "0": "FILM-0", "waste": "FILM-WASTE", "gold\n0\nSECTION": "GOLD-0-SECTION",
		"abcdefghijklmnopqrstuvwxyz1234567890": "ABCDEFGHIJKLMNOPQRSTUVWXYZ12345",
		"abcdefghijklmnopqrstuvwxyz1234 67890": "ABCDEFGHIJKLMNOPQRSTUVWXYZ1234",
	} {
		if got := LayerName(film); got != want {
			t.Errorf("the film %q is on the layer %q, not %q", film, got, want)
		}
	}
}

func TestNamesOfPeopleStayOutOfTheFile(t *testing.T) {
	f := triangle(false)
	f.Title, f.Film, f.Pieces[0].ID = `<&"'> né`, `go"ld né`, "né/1"
	if d := read(t, f, Options{}); d.Layer != "GO-LD-N" { // the reader takes ASCII alone
		t.Errorf("the layer is %q", d.Layer)
	}
	f.Title = "two\nlines"
	if err := Write(io.Discard, f, Options{}); err == nil {
		t.Error("a title of two lines is taken")
	}
}

func TestAFaceThatIsNotSettledWritesNothing(t *testing.T) {
	f := triangle(false)
	f.Width += 500
	var b bytes.Buffer
	if err := Write(&b, f, Options{}); err == nil || b.Len() > 0 {
		t.Errorf("%v, and %d bytes", err, b.Len())
	}
}

func TestTheStreamRefusesWhatBreaksAFile(t *testing.T) {
	for name, write := range map[string]func(*stream){
		"a newline":    func(s *stream) { s.WriteString(2, "gold\n0\nEOF") },
		"no ASCII":     func(s *stream) { s.WriteString(2, "é") },
		"not a number": func(s *stream) { s.WriteFloat(40, math.NaN()) },
		"infinity":     func(s *stream) { s.WriteFloat(40, math.Inf(-1)) },
	} {
		var b bytes.Buffer
		s := newStream(&b)
		write(s)
		if err := s.flush(); err == nil || b.Len() > 0 {
			t.Errorf("%s: %v, and %q", name, err, b.String())
		}
	}
	var b bytes.Buffer
	s := newStream(&b)
	for _, v := range []float64{0, -0.125, 100, 1e21, 1e-7} {
		s.WriteFloat(40, v)
	}
	s.WriteHex(5, 0x2AF)
	const want = "40\n0.0\n40\n-0.125\n40\n100.0\n40\n1000000000000000000000.0\n40\n0.0000001\n5\n2AF\n"
	if err := s.flush(); err != nil || b.String() != want {
		t.Errorf("%v, %q", err, b.String())
	}
}

// full is a disk without room.
type full struct{}

var errFull = errors.New("no room")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestAWriterThatFailsIsTold(t *testing.T) {
	if err := Write(full{}, sample.Crowded(300), Options{}); !errors.Is(err, errFull) {
		t.Error(err)
	}
}

// The drawing library keeps its default layer in a package variable: two files at once must not share it.
func TestTheSameBytesEachTimeAndSideBySide(t *testing.T) {
	want := map[bool]string{}
	for _, transfer := range []bool{false, true} {
		want[transfer] = text(t, sample.Cover(transfer), Options{})
	}
	for _, processors := range []int{1, 8} {
		before := runtime.GOMAXPROCS(processors)
		var all sync.WaitGroup
		for i := range 16 {
			all.Go(func() {
				var b bytes.Buffer
				if err := Write(&b, sample.Cover(i%2 == 0), Options{}); err != nil || b.String() != want[i%2 == 0] {
					t.Errorf("another file with %d processors: %v", processors, err)
				}
			})
		}
		all.Wait()
		runtime.GOMAXPROCS(before)
	}
}

func BenchmarkWrite(b *testing.B) {
	f := sample.Crowded(2000)
	b.SetBytes(int64(len(text(b, f, Options{}))))
	for b.Loop() {
		if err := Write(io.Discard, f, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
