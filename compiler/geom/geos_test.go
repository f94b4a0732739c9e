package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A bufferCase is a drawing that GEOS buffers too, in millimetres.
type bufferCase struct {
	Kind   string         `json:"kind"` // offset, edges or stroke
	Rings  [][][2]float64 `json:"rings"`
	Closed bool           `json:"closed"`
	By     float64        `json:"by"` // the distance, or half the width
	Cap    string         `json:"cap"`
	Join   string         `json:"join"`
}

var (
	capsByName  = map[string]Cap{"butt": Butt, "round": RoundCap, "square": SquareCap}
	joinsByName = map[string]Join{"mitre": Mitre, "round": RoundJoin, "bevel": Bevel}
)

// onMicrons rounds to whole micrometres, which GEOS's doubles and our grid both hold to the nanometre.
func onMicrons(x, y float64) [2]float64 {
	return [2]float64{math.Round(x*1000) / 1000, math.Round(y*1000) / 1000}
}

// bufferCases draws stars, stars with holes, dense wavy outlines, zigzags and closed tangles, from a seed.
func bufferCases(n int) []bufferCase {
	rnd := rand.New(rand.NewPCG(7, 11))
	between := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	pick := func(s ...string) string { return s[rnd.IntN(len(s))] }
	star := func(cx, cy, small, large float64, tips int) (out [][2]float64) {
		for i := range 2 * tips {
			r := between(0.8, 1) * large
			if i%2 == 1 {
				r = between(0.8, 1) * small
			}
			s, c := math.Sincos((float64(i) + between(-0.2, 0.2)) * math.Pi / float64(tips))
			out = append(out, onMicrons(cx+r*c, cy+r*s))
		}
		return out
	}
	wavy := func() (out [][2]float64) {
		a, b, k := between(0.1, 0.5), between(0.02, 0.1), float64(3+rnd.IntN(5))
		for i := range 90 {
			t := float64(i) * math.Pi / 45
			r := 12 * (1 + a*math.Cos(k*t) + b*math.Sin(2*k*t+1))
			out = append(out, onMicrons(r*math.Cos(t), r*math.Sin(t)))
		}
		return out
	}
	tangle := func() (out [][2]float64) {
		for range 4 + rnd.IntN(8) {
			out = append(out, onMicrons(between(-20, 20), between(-20, 20)))
		}
		return out
	}
	out := make([]bufferCase, n)
	for i := range out {
		c := &out[i]
		c.Join, c.Cap = pick("round", "mitre", "bevel"), pick("butt", "round", "square")
		switch i % 5 {
		case 0:
			c.Kind, c.By = "offset", between(-2, 3)
			c.Rings = [][][2]float64{star(0, 0, 7, 15, 5+rnd.IntN(7))}
		case 1:
			c.Kind, c.By = "offset", between(-1, 2.5)
			c.Rings = [][][2]float64{star(0, 0, 11, 17, 6+rnd.IntN(5)), star(-4, 0, 1, 3, 4), star(4, 1, 0.5, 2, 3)}
		case 2:
			c.Kind, c.By, c.Join = "edges", between(-4, 6), "round"
			c.Rings = [][][2]float64{wavy()}
		case 3:
			c.Kind, c.By = "stroke", between(0.1, 2)
			c.Rings = [][][2]float64{tangle()}
		case 4:
			c.Kind, c.By, c.Closed = "stroke", between(0.1, 2), true
			c.Rings = [][][2]float64{tangle()}
		}
		c.By = math.Round(c.By*1000) / 1000
	}
	return out
}

func (c bufferCase) path() Path {
	var out Path
	for i, ring := range c.Rings {
		var points []Point
		for _, p := range ring {
			points = append(points, Point{int64(math.Round(p[0] * 1e6)), int64(math.Round(p[1] * 1e6))})
		}
		k := Polygon(points...)
		if c.Kind == "stroke" && !c.Closed {
			k = Contour{Segments: k.Segments[:len(points)-1]}
		}
		if i > 0 {
			k = k.Reverse()
		}
		out = append(out, k)
	}
	return out
}

func (c bufferCase) area() (float64, error) {
	by := int64(math.Round(c.By * 1e6))
	const limit, tol = 1000, 100
	if c.Kind == "stroke" {
		s, err := Stroke(c.path(), Pen{Width: 2 * by, Cap: capsByName[c.Cap], Join: joinsByName[c.Join], MitreLimit: limit}, tol)
		return totalArea(s) / mm2, err
	}
	s, err := Fuse([]Operand{{Path: c.path(), Rule: Positive}}, tol)
	if err != nil {
		return 0, err
	}
	s, err = Offset(s, by, joinsByName[c.Join], limit, tol)
	return totalArea(s) / mm2, err
}

// TestOffsetsAndStrokesHaveTheAreasOfGEOS compares with GEOS 3.11 or later, through Shapely, to a thousandth of a square
// millimetre.
func TestOffsetsAndStrokesHaveTheAreasOfGEOS(t *testing.T) {
	cases := bufferCases(100)
	var areas []float64
	askGEOS(t, "buffer.py", cases, &areas)
	if len(areas) != len(cases) {
		t.Fatalf("%d areas for %d cases", len(areas), len(cases))
	}
	for i, c := range cases {
		got, err := c.area()
		if err != nil {
			t.Errorf("case %d: %v", i, err)
			continue
		}
		if math.Abs(got-areas[i]) > 1e-3 {
			t.Errorf("case %d, %s %s %s by %v: %.6f mm², GEOS has %.6f", i, c.Kind, c.Cap, c.Join, c.By, got, areas[i])
		}
	}
}
