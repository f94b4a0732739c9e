package lettering

import (
	"slices"
	"testing"

	"headcap/compiler/geom"
)

// at is a polygon with corners in hundredths of a millimetre, as an outer contour.
func at(t *testing.T, corners ...[2]int64) geom.Shape {
	t.Helper()
	var points []geom.Point
	for _, c := range corners {
		points = append(points, geom.Point{X: c[0] * 10 * um, Y: c[1] * 10 * um})
	}
	c := geom.Polygon(points...)
	if geom.SignedArea(c) < 0 {
		c = c.Reverse()
	}
	return geom.Shape{Outer: c}
}

// narrowest are the least widths along the middle lines between the edges of shapes, in micrometres, from the least on.
func narrowest(shapes []geom.Shape, ink bool) []int64 {
	var out []int64
	for _, discs := range discsAlong(wallsOf(shapes, ink), 4*mm, mm/2) {
		for _, m := range midlines(discs) {
			least := slices.MinFunc(m.discs, func(a, b disc) int { return int(a.radius - b.radius) })
			out = append(out, 2*least.radius/um)
		}
	}
	slices.Sort(out)
	return out
}

func TestNarrowPlaces(t *testing.T) {
	upright := at(t, [2]int64{0, 0}, [2]int64{100, 0}, [2]int64{100, 300}, [2]int64{0, 300})
	ring := at(t, [2]int64{0, 0}, [2]int64{200, 0}, [2]int64{200, 200}, [2]int64{0, 200})
	ring.Holes = []geom.Contour{at(t, [2]int64{60, 60}, [2]int64{60, 140}, [2]int64{140, 140}, [2]int64{140, 60}).Outer.Reverse()}
	for _, c := range []struct {
		name    string
		shapes  []geom.Shape
		out, in []int64
	}{
		{name: "a bar", shapes: []geom.Shape{at(t, [2]int64{0, 0}, [2]int64{300, 0}, [2]int64{300, 40}, [2]int64{0, 40})}, in: []int64{400}},
		{name: "two uprights", shapes: []geom.Shape{upright, at(t, [2]int64{130, 0}, [2]int64{230, 0}, [2]int64{230, 300}, [2]int64{130, 300})}, out: []int64{300}},
		{name: "corner to corner", shapes: []geom.Shape{upright, at(t, [2]int64{130, 340}, [2]int64{260, 340}, [2]int64{260, 640}, [2]int64{130, 640})}, out: []int64{500}},
		{name: "corner to side", shapes: []geom.Shape{upright, at(t, [2]int64{120, 150}, [2]int64{260, 80}, [2]int64{260, 220})}, out: []int64{200}},
		{name: "the corner of an L", shapes: []geom.Shape{at(t, [2]int64{0, 0}, [2]int64{110, 0}, [2]int64{110, 200}, [2]int64{300, 200}, [2]int64{300, 310}, [2]int64{0, 310})}},
		{name: "a crotch of 25°", shapes: []geom.Shape{at(t, [2]int64{0, 0}, [2]int64{250, 0}, [2]int64{300, 225}, [2]int64{350, 0}, [2]int64{600, 0}, [2]int64{600, 400}, [2]int64{0, 400})}},
		{name: "a slot", shapes: []geom.Shape{at(t, [2]int64{0, 0}, [2]int64{150, 0}, [2]int64{150, 200}, [2]int64{180, 200}, [2]int64{180, 0}, [2]int64{330, 0}, [2]int64{330, 400}, [2]int64{0, 400})}, out: []int64{300}},
		{name: "a counter behind serifs", shapes: []geom.Shape{at(t,
			[2]int64{0, 0}, [2]int64{140, 0}, [2]int64{140, 110}, [2]int64{110, 110}, [2]int64{110, 300}, [2]int64{290, 300}, [2]int64{290, 110}, [2]int64{170, 110},
			[2]int64{170, 0}, [2]int64{400, 0}, [2]int64{400, 420}, [2]int64{0, 420},
		)}, out: []int64{300}},
		{name: "a ring", shapes: []geom.Shape{ring}, in: []int64{600, 600, 600, 600}},
	} {
		if got := narrowest(c.shapes, false); !slices.Equal(got, c.out) {
			t.Errorf("%s: outside it is %d µm at its narrow places, not %d", c.name, got, c.out)
		}
		if got := narrowest(c.shapes, true); !slices.Equal(got, c.in) {
			t.Errorf("%s: inside it is %d µm at its narrow places, not %d", c.name, got, c.in)
		}
	}
}
