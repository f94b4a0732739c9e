package listing_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"headcap/compiler/cut"
	"headcap/compiler/emit/internal/sample"
	"headcap/compiler/emit/listing"
	"headcap/compiler/emit/reread"
	"headcap/compiler/geom"
)

func write(t testing.TB, faces ...cut.Face) string {
	t.Helper()
	var b bytes.Buffer
	if err := listing.Write(&b, faces); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// frame is a face of one square frame, 4 mm outside and 2 mm inside, a half disc whose true area is 0.42 mm², and the two
// emblems of the package's documentation.
func frame() cut.Face {
	at := func(x, y int64) geom.Point { return geom.Point{X: x * 1000, Y: y * 1000} }
	return cut.Face{
		Volume: "01-frames", Title: "Frames", Face: "spine", Film: "gold", Transfer: true,
		Width: 30_400_000, Height: 90_000_000,
		Pieces: []cut.Piece{
			{ID: "b", Mark: "k3", Shape: geom.Shape{
				Outer: geom.Rect(3_000_000, 5_000_000, 7_000_000, 9_000_000),
				Holes: []geom.Contour{geom.Rect(4_000_000, 6_000_000, 6_000_000, 8_000_000).Reverse()},
			}},
			{ID: "a", Shape: geom.Shape{Outer: geom.Contour{Closed: true, Segments: []geom.Segment{
				geom.Line(at(1000, 1000), at(2000, 1000)),
				geom.Cubic(at(2000, 1000), at(2000, 1700), at(1000, 1700), at(1000, 1000)),
			}}}},
			{ID: "01-eels/spine/gold/panel-3.centre-emblem/1", Mark: "K3Q7A", Shape: emblem(at(15200, 61000))},
			{ID: "01-eels/spine/gold/panel-1.centre-emblem/1", Mark: "K3Q7A", Shape: emblem(at(15200, 13000))},
		},
	}
}

// emblem is a triangle with its tip at a point.
func emblem(tip geom.Point) geom.Shape {
	right := geom.Point{X: tip.X + 2_000_000, Y: tip.Y + 2_001_000}
	left := geom.Point{X: tip.X - 2_000_000, Y: right.Y}
	return geom.Shape{Outer: geom.Contour{Closed: true, Segments: []geom.Segment{
		geom.Line(tip, right), geom.Line(right, left), geom.Line(left, tip),
	}}}
}

func TestAListingIsThis(t *testing.T) {
	const want = `pieces, in millimetres, from the middle of the face and down from its head

face "01-frames" "spine" "gold" transfer
frame 30.400 90.000 pieces 4 area 20.422778 outline 45.941 rings 5 segments 16

shape "K3Q7A" size 4.000 2.001 area 4.002000 outline 9.658 rings 1 segments 3
piece "01-eels/spine/gold/panel-1.centre-emblem/1"
piece "01-eels/spine/gold/panel-3.centre-emblem/1"
at 0.0000 14.0005, 0.0000 62.0005
outer 4.002000 at 2.000 0.000
l 2.000 2.001
l -4.000 0.000
l 2.000 -2.001

shape "" size 1.000 0.525 area 0.418778 outline 2.625 rings 1 segments 2
piece "a"
at -13.7000 1.2625
outer 0.418778 at 0.000 0.000
l 1.000 0.000
c 0.000 0.700 -1.000 0.700 -1.000 0.000

shape "k3" size 4.000 4.000 area 12.000000 outline 24.000 rings 2 segments 8
piece "b"
at -10.2000 7.0000
outer 16.000000 at 0.000 0.000
l 4.000 0.000
l 0.000 4.000
l -4.000 0.000
l 0.000 -4.000
hole -4.000000 at 1.000 1.000
l 0.000 2.000
l 2.000 0.000
l 0.000 -2.000
l -2.000 0.000
`
	if got := write(t, frame()); got != want {
		t.Errorf("got\n%s", got)
	}
}

// changed counts the lines of two listings that are not alike, where both have as many.
func changed(t *testing.T, a, b string) (lines []string) {
	t.Helper()
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	if len(x) != len(y) {
		t.Fatalf("%d lines became %d", len(x), len(y))
	}
	for i := range x {
		if x[i] != y[i] {
			lines = append(lines, y[i])
		}
	}
	return lines
}

func moved(c geom.Contour, dx, dy int64) geom.Contour {
	out := geom.Contour{Closed: c.Closed}
	for _, s := range c.Segments {
		for _, p := range []*geom.Point{&s.P0, &s.P1, &s.P2, &s.P3} {
			p.X, p.Y = p.X+dx, p.Y+dy
		}
		out.Segments = append(out.Segments, s)
	}
	return out
}

// shift moves one piece of a face.
func shift(f cut.Face, piece int, dx, dy int64) cut.Face {
	f.Pieces = slices.Clone(f.Pieces)
	s := &f.Pieces[piece].Shape
	s.Outer = moved(s.Outer, dx, dy)
	s.Holes = slices.Clone(s.Holes)
	for j, h := range s.Holes {
		s.Holes[j] = moved(h, dx, dy)
	}
	return f
}

// One stamp alone, one of two that are alike, and each of several that have little in common.
func TestAPieceThatMovesChangesOneLine(t *testing.T) {
	for _, before := range []cut.Face{sample.Cover(false), frame(), sample.Crowded(40)} {
		for i := range before.Pieces {
			after := shift(before, i, 201_000, -1_333_000)
			if lines := changed(t, write(t, before), write(t, after)); len(lines) != 1 || !strings.HasPrefix(lines[0], "at ") {
				t.Errorf("piece %s: these lines changed: %q", before.Pieces[i].ID, lines)
			}
		}
	}
}

// Whatever pieces a face has, each is listed once, and pieces that are alike with one shape between them.
func TestPiecesThatAreAlikeAreListedTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := sample.Cover(rapid.Bool().Draw(t, "transfer"))
		f.Pieces = nil
		drawings := []geom.Shape{sample.LetterF(), sample.Ring(geom.Point{}), sample.Star(geom.Point{}), emblem(geom.Point{})}
		used := map[int]bool{}
		places := map[string]geom.Point{}
		for i := range rapid.IntRange(1, 12).Draw(t, "pieces") {
			which := rapid.IntRange(0, len(drawings)-1).Draw(t, "which")
			x, y := rapid.Int64Range(-90_000, 90_000).Draw(t, "x")*1000, rapid.Int64Range(-90_000, 90_000).Draw(t, "y")*1000
			id := fmt.Sprintf("p/%d", i)
			f.Pieces = append(f.Pieces, cut.Piece{ID: id, Shape: drawings[which]})
			f = shift(f, i, x, y)
			used[which] = true
			places[id] = f.Pieces[i].Shape.Outer.Segments[0].P0
		}
		var b bytes.Buffer
		if err := listing.Write(&b, []cut.Face{f}); err != nil {
			t.Fatal(err)
		}
		faces, err := reread.ReadListing(&b)
		if err != nil {
			t.Fatal(err)
		}
		if l := faces[0]; len(l.Pieces) != len(f.Pieces) || l.Shapes != len(used) {
			t.Fatalf("%d pieces of %d shapes are listed, not %d of %d", len(l.Pieces), l.Shapes, len(f.Pieces), len(used))
		}
		for _, p := range faces[0].Pieces {
			if want, ok := places[p.ID]; !ok || !near(p.Contours[0][0].P[0], want) {
				t.Errorf("%s begins at %v, not %v", p.ID, p.Contours[0][0].P[0], want)
			}
		}
	})
}

func TestPiecesOfOneOutlineAndTwoMarksAreListedApart(t *testing.T) {
	f := frame()
	f.Pieces[2].Mark = "other"
	if n := strings.Count(write(t, f), "\nshape "); n != 4 {
		t.Errorf("%d shapes", n)
	}
}

// A wider spine keeps the places of what stands about its middle.
func TestAWiderFaceChangesOneLineWhereAllStandsAboutItsMiddle(t *testing.T) {
	f := frame()
	f.Pieces = f.Pieces[2:]
	wider := f
	wider.Width += 400_000
	for i := range wider.Pieces {
		wider = shift(wider, i, 200_000, 0)
	}
	if lines := changed(t, write(t, f), write(t, wider)); len(lines) != 1 || !strings.HasPrefix(lines[0], "frame 30.800 ") {
		t.Errorf("these lines changed: %q", lines)
	}
}

func TestTheOrderOfPiecesDoesNotShow(t *testing.T) {
	f := sample.Cover(false)
	f.Pieces[0], f.Pieces[2] = f.Pieces[2], f.Pieces[0]
	if write(t, f) != write(t, sample.Cover(false)) {
		t.Error("the listing follows the order of the pieces, not their ids")
	}
	if f.Pieces[0].ID != sample.Cover(false).Pieces[2].ID {
		t.Error("the pieces that were handed in have been sorted")
	}
}

func TestAListingReadsBackAsItsPieces(t *testing.T) {
	f := sample.Cover(true)
	faces, err := reread.ReadListing(strings.NewReader(write(t, f, frame())))
	if err != nil {
		t.Fatal(err)
	}
	if len(faces) != 2 || !faces[0].Transfer || faces[0].Film != "gold" || len(faces[0].Pieces) != 3 {
		t.Fatalf("%+v", faces)
	}
	for i, p := range faces[0].Pieces {
		want := f.Pieces[2-i] // by id
		contours := append([]geom.Contour{want.Shape.Outer}, want.Shape.Holes...)
		if p.ID != want.ID || p.Mark != want.Mark || len(p.Contours) != len(contours) {
			t.Fatalf("piece %d: %+v", i, p)
		}
		for j, c := range contours {
			for k, s := range c.Segments {
				got := p.Contours[j][k]
				if got.Line != s.Line || !near(got.P[0], s.P0) || !near(got.P[3], s.P3) ||
					!s.Line && (!near(got.P[1], s.P1) || !near(got.P[2], s.P2)) {
					t.Errorf("%s, contour %d, segment %d: %v, not %v", p.ID, j, k, got, s)
				}
			}
		}
	}
}

func near(p reread.Point, q geom.Point) bool {
	return math.Abs(p.X-float64(q.X)/1e6) < 1e-9 && math.Abs(p.Y-float64(q.Y)/1e6) < 1e-9
}

func TestNamesAreQuoted(t *testing.T) {
	f := frame()
	f.Pieces[0].ID = `sp"ine \ 1 <&> é`
	faces, err := reread.ReadListing(strings.NewReader(write(t, f)))
	if err != nil || faces[0].Pieces[3].ID != f.Pieces[0].ID {
		t.Errorf("%v, %+v", err, faces)
	}
	f.Pieces[0].ID = "a\nat 0.0000 0.0000"
	if err := listing.Write(io.Discard, []cut.Face{f}); err == nil {
		t.Error("an id of two lines is taken")
	}
}

// full is a disk without room.
type full struct{}

var errFull = errors.New("no room")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestAWriterThatFailsIsTold(t *testing.T) {
	if err := listing.Write(full{}, []cut.Face{frame()}); !errors.Is(err, errFull) {
		t.Error(err)
	}
}

func TestAFaceThatIsNotSettledWritesNothing(t *testing.T) {
	bad := frame()
	bad.Pieces[0].Shape.Outer.Closed = false
	var b bytes.Buffer
	if err := listing.Write(&b, []cut.Face{frame(), bad}); err == nil || b.Len() > 0 {
		t.Errorf("%v, and %d bytes", err, b.Len())
	}
}

func TestTheSameBytesEachTime(t *testing.T) {
	want := write(t, sample.Cover(true), frame())
	for _, processors := range []int{1, 8} {
		before := runtime.GOMAXPROCS(processors)
		got := write(t, sample.Cover(true), frame())
		runtime.GOMAXPROCS(before)
		if got != want {
			t.Errorf("another listing with %d processors", processors)
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	faces := []cut.Face{sample.Crowded(2000)}
	b.SetBytes(int64(len(write(b, faces...))))
	for b.Loop() {
		if err := listing.Write(io.Discard, faces); err != nil {
			b.Fatal(err)
		}
	}
}
