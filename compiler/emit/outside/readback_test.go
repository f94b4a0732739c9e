package outside_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"testing"

	"headcap/compiler/cut"
	"headcap/compiler/emit/dxf"
	"headcap/compiler/emit/listing"
	"headcap/compiler/emit/reread"
	"headcap/compiler/emit/svg"
	"headcap/compiler/geom"
)

// faceFrom makes a face of any bytes: pieces of lines and curves that run anywhere on the grid, between −65 and 65 mm.
// They may cross themselves, which is not for the writers to see.
func faceFrom(data []byte, transfer bool) cut.Face {
	f := cut.Face{
		Volume: "v", Face: "spine", Film: "gold", Colour: "#c9a227", Transfer: transfer,
		Width: 60_001_000, Height: 40_003_000,
	}
	number := func() int64 {
		if len(data) < 3 {
			data = nil
			return 0
		}
		n := int64(int16(binary.LittleEndian.Uint16(data)))*2000 + int64(data[2]%2)*1000
		data = data[3:]
		return n
	}
	point := func() geom.Point { return geom.Point{X: number(), Y: number()} }
	for len(data) > 24 && len(f.Pieces) < 8 {
		first := point()
		at := first
		c := geom.Contour{Closed: true}
		for n := data[0]%8 + 1; n > 0; n-- {
			s := geom.Segment{P0: at, P3: point()}
			if s.Line = n%2 == 0; !s.Line {
				s.P1, s.P2 = point(), point()
			} else if s.P3 == at {
				continue
			}
			c.Segments = append(c.Segments, s)
			at = s.P3
		}
		if at != first {
			c.Segments = append(c.Segments, geom.Line(at, first))
		}
		if geom.SignedArea(c) < 0 {
			c = c.Reverse()
		}
		f.Pieces = append(f.Pieces, cut.Piece{ID: fmt.Sprint(len(f.Pieces)), Shape: geom.Shape{Outer: c}})
	}
	return f
}

// FuzzFilesReadBack writes a face three ways and finds every point again where it belongs.
func FuzzFilesReadBack(f *testing.F) {
	f.Add([]byte("a face of two pieces, the first of them with curves in it and the other without"), false)
	f.Add([]byte("the same once more, but on a transfer film, with a tail of bytes that make it long"), true)
	f.Add(bytes.Repeat([]byte{0xff, 0x80, 0x01, 0x7f}, 40), true)
	f.Fuzz(func(t *testing.T, data []byte, transfer bool) {
		face := faceFrom(data, transfer)
		var s, d, l bytes.Buffer
		if err := svg.Write(&s, face); err != nil {
			return // no piece, or one without a contour
		}
		err := dxf.Write(&d, face, dxf.Options{})
		if wrong := listing.Write(&l, []cut.Face{face}); (err == nil) != (wrong == nil) {
			t.Fatalf("the DXF: %v; the listing: %v", err, wrong)
		}
		drawn, problem := reread.ReadSVG(&s)
		if problem != nil {
			t.Fatal(problem)
		}
		if len(drawn.Paths) != len(face.Pieces) {
			t.Fatalf("%d paths for %d pieces", len(drawn.Paths), len(face.Pieces))
		}
		for i, p := range face.Pieces {
			sameCurves(t, p.Shape.Outer, drawn.Paths[i].Contours[0], func(x int64) int64 {
				if transfer {
					return face.Width - x
				}
				return x
			})
		}
		if err != nil {
			return // a ring of no area, or one that is turned about when it is flattened
		}
		outlines, problem := reread.ReadDXF(&d)
		if problem != nil {
			t.Fatal(problem)
		}
		listed, problem := reread.ReadListing(&l)
		if problem != nil {
			t.Fatal(problem)
		}
		for i, p := range face.Pieces {
			sameCurves(t, p.Shape.Outer, listed[0].Pieces[i].Contours[0], func(x int64) int64 { return x })
			if got, want := outlines.Outlines[i].Area(), math.Abs(listed[0].Pieces[i].Area); math.Abs(got-want) > 1e-5 {
				t.Errorf("piece %d: %f mm² in the DXF, %f listed", i, got, want)
			}
		}
	})
}

func sameCurves(t *testing.T, c geom.Contour, got []reread.Curve, across func(int64) int64) {
	t.Helper()
	if len(got) != len(c.Segments) {
		t.Fatalf("%d segments for %d", len(got), len(c.Segments))
	}
	at := func(p reread.Point, q geom.Point) bool {
		return math.Abs(p.X-float64(across(q.X))/1e6) < 1e-9 && math.Abs(p.Y-float64(q.Y)/1e6) < 1e-9
	}
	for i, s := range c.Segments {
		g := got[i].P
		if got[i].Line != s.Line || !at(g[0], s.P0) || !at(g[3], s.P3) || !s.Line && (!at(g[1], s.P1) || !at(g[2], s.P2)) {
			t.Fatalf("segment %d is %v, not %v", i, g, s)
		}
	}
}
