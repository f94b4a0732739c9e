package geom

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// A reference drawing is two operands of straight-edged shapes, and one that is grown and drawn along.
type referenceDrawing struct {
	name  string
	a, b  []Operand
	by    int64
	width int64
	join  string
	plain []Shape
}

// referenceDrawings are n borders, text lines and random shapes by turns.
//
// GEOS leaves out some of what lies beside an edge that is shorter than the distance or not much longer, at an inner
// corner, unless joins are round: SVG 2 (13.5) has all of it. So mitred and bevelled lines are narrow.
func referenceDrawings(t *testing.T, n int) []referenceDrawing {
	rnd := rand.New(rand.NewSource(21))
	between := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	lines := strings.Fields(fiftyWords)
	out := make([]referenceDrawing, n)
	for i := range out {
		d := &out[i]
		switch i % 3 {
		case 0:
			d.name = "border"
			corners := 24 + rnd.Intn(40)
			for k := range 3 + rnd.Intn(6) {
				r := between(2, 4)
				d.a = append(d.a, Operand{Path: Path{stampRing(between(3.5, 5)*float64(k), between(-1, 1), r, between(0, 90), corners)}})
				if k%2 == 0 {
					d.b = append(d.b, Operand{Path: Path{stampRing(5*float64(k), between(-5, 5), r, between(0, 90), corners)}})
				}
			}
		case 1:
			d.name = "text line"
			d.a = word(lines[rnd.Intn(len(lines))], 0, 0, between(-0.6, 0.2))
			d.b = word(lines[rnd.Intn(len(lines))], between(-2, 2), between(-4, 4), between(-0.6, 0.2))
			d.a, d.b = chordsOfAll(d.a, 20_000), chordsOfAll(d.b, 20_000)
		case 2:
			d.name = "random shapes"
			for range 1 + rnd.Intn(4) {
				d.a = append(d.a, Operand{Path: Path{starAround(rnd, between(0, 20), between(0, 20), between(3, 10), 6+rnd.Intn(20))}})
				d.b = append(d.b, Operand{Path: Path{starAround(rnd, between(0, 20), between(0, 20), between(3, 10), 6+rnd.Intn(20))}})
			}
		}
		d.plain = withoutShallow(t, fused(t, d.a))
		d.by = int64(between(-0.6, 1) * mm)
		d.width = int64(between(0.05, 1.5) * mm)
		d.join = []string{"round", "mitre", "bevel"}[rnd.Intn(3)]
		if d.join != "round" {
			least := shortestEdge(d.plain) / 4
			d.by, d.width = max(min(d.by, least), -least), min(d.width, 2*least)
		}
	}
	return out
}

// withoutShallow is shapes without the corners that GEOS leaves out before it buffers: those that are nearer to the line
// between their neighbours than a hundredth of the distance.
func withoutShallow(t *testing.T, shapes []Shape) []Shape {
	t.Helper()
	var rings Path
	for _, c := range Paths(shapes) {
		p := Points(c, 1)
		for i := 0; i < len(p) && len(p) > 3; {
			a, b, e := toVec(p[(i+len(p)-1)%len(p)]), toVec(p[i]), toVec(p[(i+1)%len(p)])
			if off := math.Abs(e.minus(a).cross(b.minus(a))); off < 12_000*e.minus(a).length() {
				p = append(p[:i], p[i+1:]...)
				i = max(i-1, 0)
				continue
			}
			i++
		}
		rings = append(rings, Polygon(p...))
	}
	return fused(t, []Operand{{Path: rings, Rule: Positive}})
}

func shortestEdge(shapes []Shape) int64 {
	least := math.Inf(1)
	for _, c := range Paths(shapes) {
		for _, s := range c.Segments {
			least = min(least, toVec(s.P3).minus(toVec(s.P0)).length())
		}
	}
	return int64(least)
}

func fused(t *testing.T, in []Operand) []Shape {
	t.Helper()
	s, err := Fuse(in, 2000)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestAreasAreThoseOfGEOS compares unions, differences, offsets and strokes with GEOS 3.11 or later (libgeos.org), called
// through Shapely, to a thousandth of a square millimetre.
func TestAreasAreThoseOfGEOS(t *testing.T) {
	t.Parallel()
	drawings := referenceDrawings(t, 500)
	type task struct {
		A     [][][][2]float64 `json:"a"`
		B     [][][][2]float64 `json:"b"`
		Plain [][][][2]float64 `json:"plain"`
		By    float64          `json:"by"`
		Width float64          `json:"width"`
		Join  string           `json:"join"`
	}
	polygons := func(shapes []Shape) (out [][][][2]float64) {
		for _, s := range shapes {
			out = append(out, millimetres(s.Path()))
		}
		return out
	}
	each := func(in []Operand) (out [][][][2]float64) {
		for k := range in { // a letter may be of two shapes
			out = append(out, polygons(fused(t, in[k:k+1]))...)
		}
		return out
	}
	tasks := make([]task, len(drawings))
	for i := range drawings {
		d := &drawings[i]
		tasks[i] = task{each(d.a), each(d.b), polygons(d.plain), float64(d.by) / mm, float64(d.width) / mm, d.join}
	}
	var want [][4]float64
	askGEOS(t, "reference.py", tasks, &want)
	if len(want) != len(drawings) {
		t.Fatalf("%d answers to %d drawings", len(want), len(drawings))
	}
	for i := range drawings {
		d := &drawings[i]
		for k, got := range d.areas(t) {
			if math.Abs(got-want[i][k]) > 1e-3 {
				t.Errorf("drawing %d, %s, %s, by %d, width %d, %s joins: %.6f mm², GEOS has %.6f",
					i, d.name, [...]string{"union", "difference", "offset", "stroke"}[k], d.by, d.width, d.join, got, want[i][k])
			}
		}
	}
}

// areas is those of the union, the difference, the offset and the stroke, in square millimetres.
func (d *referenceDrawing) areas(t *testing.T) (out [4]float64) {
	t.Helper()
	const limit, tol = 1000, 100
	a, b := fused(t, d.a), fused(t, d.b)
	for k, make := range [...]func() ([]Shape, error){
		func() ([]Shape, error) { return Fuse(append(d.a[:len(d.a):len(d.a)], d.b...), 2000) },
		func() ([]Shape, error) {
			return Boolean(Without, Operand{Path: Paths(a)}, Operand{Path: Paths(b)}, 2000)
		},
		func() ([]Shape, error) { return Offset(d.plain, d.by, joinsByName[d.join], limit, tol) },
		func() ([]Shape, error) {
			return Stroke(Paths(d.plain), Pen{Width: d.width, Join: joinsByName[d.join], MitreLimit: limit}, tol)
		},
	} {
		shapes, err := make()
		if err != nil {
			t.Fatal(err)
		}
		out[k] = totalArea(shapes) / mm2
	}
	return out
}

// millimetres is the corners of the contours of a path whose edges are straight.
func millimetres(p Path) [][][2]float64 {
	var out [][][2]float64
	for _, c := range p {
		ring := make([][2]float64, 0, len(c.Segments))
		for _, s := range c.Segments {
			ring = append(ring, [2]float64{float64(s.P0.X) / mm, float64(s.P0.Y) / mm})
		}
		out = append(out, ring)
	}
	return out
}

// askGEOS gives a task to a script in testdata, which hands it to GEOS through Shapely, and reads the answer. Where
// Shapely is not installed the test is skipped, but not in CI.
func askGEOS(t *testing.T, script string, task, answer any) {
	t.Helper()
	python := "/usr/bin/python3"
	if _, err := os.Stat(python); err != nil {
		python = "python3"
	}
	if out, err := exec.Command(python, "-c", "import shapely.geometry").CombinedOutput(); err != nil {
		msg := fmt.Sprintf("the reference needs Shapely (on Debian, apt-get install python3-shapely): %v %s", err, out)
		if os.Getenv("CI") == "true" {
			t.Fatal(msg)
		}
		t.Skip(msg)
	}
	in, err := json.Marshal(task)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "testdata/"+script)
	cmd.Stdin = bytes.NewReader(in)
	var out, complaints bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaints
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", script, err, complaints.String())
	}
	if err := json.Unmarshal(out.Bytes(), answer); err != nil {
		t.Fatal(err)
	}
}
