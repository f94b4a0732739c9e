package listing_test

import (
	"bytes"
	"errors"
	"io"
	"math"
	"runtime"
	"strings"
	"testing"

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

// frame is a face of one square frame, 4 mm outside and 2 mm inside, and a half disc whose true area is 0.42 mm².
func frame() cut.Face {
	at := func(x, y int64) geom.Point { return geom.Point{X: x * 1000, Y: y * 1000} }
	return cut.Face{
		Volume: "01-frames", Title: "Frames", Face: "spine", Film: "gold", Transfer: true,
		Width: 30_400_000, Height: 20_000_000,
		Pieces: []cut.Piece{
			{ID: "b", Mark: "k3", Shape: geom.Shape{
				Outer: geom.Rect(3_000_000, 5_000_000, 7_000_000, 9_000_000),
				Holes: []geom.Contour{geom.Rect(4_000_000, 6_000_000, 6_000_000, 8_000_000).Reverse()},
			}},
			{ID: "a", Shape: geom.Shape{Outer: geom.Contour{Closed: true, Segments: []geom.Segment{
				geom.Line(at(1000, 1000), at(2000, 1000)),
				geom.Cubic(at(2000, 1000), at(2000, 1700), at(1000, 1700), at(1000, 1000)),
			}}}},
		},
	}
}

func TestAListingIsThis(t *testing.T) {
	const want = `pieces, in millimetres, y down from the head

face "01-frames" "spine" "gold" transfer
frame 30.400 20.000
pieces 2 area 12.416418 outline 26.622 rings 3 segments 10

piece "a"
place 1.000 1.000
size 1.000 0.525 area 0.416418 outline 2.622 rings 1 segments 2
outer 0.416418 at 0.000 0.000
l 1.000 0.000
c 0.000 0.700 -1.000 0.700 -1.000 0.000

piece "b" mark "k3"
place 3.000 5.000
size 4.000 4.000 area 12.000000 outline 24.000 rings 2 segments 8
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

func TestAPieceThatMovesChangesOneLine(t *testing.T) {
	before := sample.Cover(false)
	for i := range before.Pieces {
		after := sample.Cover(false)
		s := &after.Pieces[i].Shape
		s.Outer = moved(s.Outer, 201_000, -1_333_000)
		for j, h := range s.Holes {
			s.Holes[j] = moved(h, 201_000, -1_333_000)
		}
		if lines := changed(t, write(t, before), write(t, after)); len(lines) != 1 || !strings.HasPrefix(lines[0], "place ") {
			t.Errorf("piece %d: these lines changed: %q", i, lines)
		}
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
	if err != nil || faces[0].Pieces[1].ID != f.Pieces[0].ID {
		t.Errorf("%v, %+v", err, faces)
	}
	f.Pieces[0].ID = "a\nplace 0.000 0.000"
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
