package geom

import (
	_ "embed"
	"math"
	"math/rand"
	"strings"
	"testing"
)

// The drawings that speed, curves and the sameness of points are tried on. They are made from seeds with nothing that
// differs between processors, so that the same drawing is made everywhere.

// towards is the point at a distance from a place in the direction of an angle in degrees, in millimetres.
func towards(x, y, distance, degrees float64) Point {
	s, c := SinCos(degrees)
	return pointAt(x+float64(distance*c), y+float64(distance*s))
}

// stampRing is a four-lobed outline of n corners about a place, turned by an angle in degrees.
func stampRing(x, y, r, turn float64, n int) Contour {
	p := make([]Point, n)
	for i := range p {
		a := float64(360*i) / float64(n)
		_, lobe := SinCos(4 * a)
		p[i] = towards(x, y, r*(0.72+float64(0.28*lobe)), a+turn)
	}
	return Polygon(p...)
}

// alongBorder calls put for n places round a rectangle of 150 by 230 mm, a little off the line.
func alongBorder(n int, rnd *rand.Rand, put func(x, y float64)) {
	const w, h = 150, 230
	for i := range n {
		d := float64(2*(w+h)*i) / float64(n)
		var x, y float64
		switch {
		case d < w:
			x = d
		case d < w+h:
			x, y = w, d-w
		case d < 2*w+h:
			x, y = 2*w+h-d, h
		default:
			y = 2*(w+h) - d
		}
		off := func() float64 { return 0.5 * (rnd.Float64() + rnd.Float64() + rnd.Float64() - 1.5) }
		put(x+off(), y+off())
	}
}

// stampBorder is a border of n stamps of 96 corners, of a size that grows smaller as they grow more.
func stampBorder(n int) []Operand {
	rnd := rand.New(rand.NewSource(1))
	r := 4 * 400 / float64(n)
	var out []Operand
	alongBorder(n, rnd, func(x, y float64) {
		out = append(out, Operand{Path: Path{stampRing(x, y, r, 60*rnd.Float64(), 96)}})
	})
	return out
}

// spline is the closed curve through the points, each arm a sixth of the way between the points beside its own.
func spline(p []Point) Contour {
	n := len(p)
	c := Contour{Closed: true}
	at := func(a, b, d Point) Point {
		return Point{a.X + (b.X-d.X)/6, a.Y + (b.Y-d.Y)/6}
	}
	for i := range p {
		a, b, d, e := p[(i+n-1)%n], p[i], p[(i+1)%n], p[(i+2)%n]
		c.Segments = append(c.Segments, Cubic(b, at(b, d, a), at(d, b, e), d))
	}
	return c
}

// ornament is a curly outline with a hole. With a curl above 0.8 it crosses itself.
func ornament(rnd *rand.Rand, x, y, r, curl float64) Path {
	lobes := float64(5 + rnd.Intn(4))
	turn, phase := 360*rnd.Float64(), 360*rnd.Float64()
	var outer, hole []Point
	for i := range int(lobes) * 4 {
		a := float64(90*i) / lobes
		s, c := SinCos(float64(lobes*a) + phase)
		s3, _ := SinCos(3 * a)
		k := float64(r * (0.62 + float64(0.33*s) + float64(0.05*s3)))
		outer = append(outer, towards(x, y, k, a+float64(curl/lobes*c*degreesInRadian)+turn))
	}
	for i := range 8 {
		a := float64(-45 * i)
		_, c := SinCos(4 * a)
		hole = append(hole, towards(x, y, float64(float64(r*0.17)*(1+float64(0.2*c))), a+turn))
	}
	return Path{spline(outer), spline(hole)}
}

const degreesInRadian = 180 / math.Pi

func ornamentBorder(n int, r, curl float64, seed int64) []Operand {
	rnd := rand.New(rand.NewSource(seed))
	var out []Operand
	alongBorder(n, rnd, func(x, y float64) {
		out = append(out, Operand{Path: ornament(rnd, x, y, r, curl)})
	})
	return out
}

// hardlyOverlapping is n pairs of discs, side by side, of which each overlaps the other by up to 3 µm.
func hardlyOverlapping(n int, seed int64) []Operand {
	rnd := rand.New(rand.NewSource(seed))
	var out []Operand
	for i := range n {
		r1, r2 := 1+float64(3*rnd.Float64()), 1+float64(3*rnd.Float64())
		x, y := float64(18*(i%8)), float64(18*(i/8))
		d := r1 + r2 - float64(rnd.Float64()*0.003)
		out = append(out,
			Operand{Path: Path{Circle(pointAt(x, y), int64(math.Round(r1*mm)))}},
			Operand{Path: Path{Circle(towards(x, y, d, 360*rnd.Float64()), int64(math.Round(r2*mm)))}})
	}
	return out
}

// drawnLetters are the outlines of letters of STIX Two Text SemiBold (SIL Open Font License 1.1) at 10 mm to the em, a
// letter a line, in micrometres.
//
//go:embed testdata/letters.txt
var drawnLetters string

// letterOutlines gives the outlines of drawnLetters by letter.
var letterOutlines = func() map[rune]Path {
	out := map[rune]Path{}
	for line := range strings.Lines(drawnLetters) {
		letter, data, _ := strings.Cut(strings.TrimSpace(line), " ")
		path, err := ParsePath(data, Micrometre)
		if err != nil {
			panic(err)
		}
		out[[]rune(letter)[0]] = path
	}
	return out
}()

const fiftyWords = `Leather Goatskin Calf Vellum Parchment Board Spine Hinge Joint Headband
Tailband Squares Fillet Pallet Gouge Roll Stamp Centrepiece Corner Border
Panel Raised Bands Label Title Author Volume Gilding Blocking Foil
Paring Sewing Thread Cord Tape Endpaper Flyleaf Marbled Sprinkled Quarter
Half Full Cover Turnin Lining Mull Backing Rounding Trimming Deckle`

// word is a word from the origin on, each letter an operand of its own. Letters stand a little apart, touch or overlap, by
// what gap says, in millimetres.
func word(text string, x, y, gap float64) []Operand {
	var out []Operand
	left := pointAt(x, y)
	for _, r := range text {
		p := letterOutlines[r]
		b := p.Bounds()
		out = append(out, Operand{Path: Move(left.X-b.Min.X, left.Y).Path(p)})
		left.X += b.Width() + int64(math.Round(gap*mm))
	}
	return out
}

// words is fifty words, set in ten lines of five; every third has letters that overlap.
func words() []Operand {
	var out []Operand
	for i, w := range strings.Fields(fiftyWords) {
		out = append(out, word(w, float64(60*(i%5)), float64(14*(i/5)), []float64{0.4, 0.15, -0.3}[i%3])...)
	}
	return out
}

// chordsOfAll is the operands with straight edges in place of curves.
func chordsOfAll(in []Operand, tol int64) []Operand {
	out := make([]Operand, len(in))
	for i, o := range in {
		out[i] = Operand{Path: chordsOf(o.Path, tol), Rule: o.Rule}
	}
	return out
}

func edgesOf(in []Operand) int {
	n := 0
	for _, o := range in {
		n += countSegments(o.Path)
	}
	return n
}

func TestGeneratedDrawings(t *testing.T) {
	if got := edgesOf(stampBorder(400)); got != 400*96 {
		t.Errorf("a border of 400 stamps has %d edges", got)
	}
	if n := len(strings.Fields(fiftyWords)); n != 50 {
		t.Errorf("fifty words are %d", n)
	}
	for _, r := range strings.Join(strings.Fields(fiftyWords), "") {
		if len(letterOutlines[r]) == 0 {
			t.Errorf("the letter %c is not drawn", r)
		}
	}
	lines, err := Fuse(words(), 2000)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(lines); n < 50 || n >= edgesOf(words())/10 {
		t.Errorf("fifty words are %d shapes", n)
	}
	discs, err := Fuse(hardlyOverlapping(32, 1), 20)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(discs); n < 32 || n > 36 { // an overlap of less than the tolerance may be missed
		t.Errorf("32 pairs of discs are %d shapes", n)
	}
}
