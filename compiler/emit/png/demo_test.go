package png

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"headcap/compiler/emit/preview"
	"headcap/compiler/geom"
)

// An invented series, with its decoration drawn here: frames, fillets, leaves and letters of plain strokes.

func mm(v float64) int64 { return int64(math.Round(v * 1e6)) }

func at(x, y float64) geom.Point { return geom.Point{X: mm(x), Y: mm(y)} }

func colour(s string) preview.Colour {
	c, err := preview.ParseColour(s)
	if err != nil {
		panic(err)
	}
	return c
}

func bar(x, y, w, h float64) geom.Shape {
	return geom.Shape{Outer: geom.Rect(mm(x), mm(y), mm(x+w), mm(y+h))}
}

func frame(x, y, w, h, t float64) geom.Shape {
	s := bar(x, y, w, h)
	s.Holes = []geom.Contour{geom.Rect(mm(x+t), mm(y+t), mm(x+w-t), mm(y+h-t)).Reverse()}
	return s
}

// leaf points from (x, y) at an angle in degrees.
func leaf(x, y, long, bulge, deg float64) geom.Shape {
	sin, cos := geom.SinCos(deg)
	p := func(u, v float64) geom.Point { return at(x+cos*u-sin*v, y+sin*u+cos*v) }
	b := long * bulge
	return geom.Shape{Outer: geom.Contour{Closed: true, Segments: []geom.Segment{
		geom.Cubic(p(0, 0), p(long*.25, -b*.95), p(long*.68, -b*.9), p(long, 0)),
		geom.Cubic(p(long, 0), p(long*.68, b*.9), p(long*.25, b*.95), p(0, 0)),
	}}}
}

func lozenge(x, y, w, h float64) geom.Shape {
	return geom.Shape{Outer: geom.Polygon(at(x, y-h/2), at(x+w/2, y), at(x, y+h/2), at(x-w/2, y))}
}

func disc(x, y, r float64) geom.Shape { return geom.Shape{Outer: geom.Circle(at(x, y), mm(r))} }

// strokes are letters as bars on a field 1 high: x, y, width, height.
var strokes = map[rune][][4]float64{
	'E': {{0, 0, .16, 1}, {0, 0, .58, .09}, {0, .44, .46, .09}, {0, .91, .62, .09}, {.52, 0, .06, .24}, {.56, .76, .06, .24}, {-.06, 0, .2, .06}, {-.06, .94, .2, .06}},
	'F': {{0, 0, .16, 1}, {0, 0, .58, .09}, {0, .44, .46, .09}, {.52, 0, .06, .24}, {-.06, 0, .2, .06}, {-.08, .94, .32, .06}},
	'L': {{0, 0, .16, 1}, {0, .91, .58, .09}, {.52, .72, .06, .28}, {-.08, 0, .32, .06}, {-.06, .94, .2, .06}},
	'T': {{.26, 0, .16, 1}, {0, 0, .68, .09}, {0, 0, .06, .26}, {.62, 0, .06, .26}, {.18, .94, .32, .06}},
	'H': {{0, 0, .16, 1}, {.54, 0, .16, 1}, {0, .45, .6, .09}, {-.08, 0, .32, .06}, {-.08, .94, .32, .06}, {.46, 0, .32, .06}, {.46, .94, .32, .06}},
	'I': {{0, 0, .16, 1}, {-.08, 0, .32, .06}, {-.08, .94, .32, .06}},
}

var advance = map[rune]float64{'E': .82, 'F': .78, 'L': .78, 'T': .86, 'H': .96, 'I': .40, ' ': .5}

func text(s string, cap, cx, cy float64) []geom.Shape {
	var wide float64
	for _, r := range s {
		wide += advance[r] * cap
	}
	x := cx - (wide-cap*.2)/2
	var out []geom.Shape
	for _, r := range s {
		for _, b := range strokes[r] {
			out = append(out, bar(x+b[0]*cap, cy-cap/2+b[1]*cap, b[2]*cap, b[3]*cap))
		}
		x += advance[r] * cap
	}
	return out
}

// emblem is eight leaves round a disc.
func emblem(x, y, r float64) (gold, copper []geom.Shape) {
	for i := range 8 {
		long := r
		if i%2 == 1 {
			long = r * .72
		}
		sin, cos := geom.SinCos(float64(45 * i))
		gold = append(gold, leaf(x+cos*r*.3, y+sin*r*.3, long-r*.3, .30, float64(45*i)))
	}
	return gold, []geom.Shape{disc(x, y, r*.17)}
}

func bands() []preview.Band {
	var out []preview.Band
	for _, y := range []float64{37, 74, 111, 148, 185} {
		out = append(out, preview.Band{Centre: mm(y), Width: mm(5)})
	}
	return out
}

func films(finish preview.Finish, gold, copper []geom.Shape) []preview.Film {
	return []preview.Film{
		{Name: "old gold", Colour: colour("#b3924f"), Finish: finish, Shapes: gold},
		{Name: "copper", Colour: colour("#b4653f"), Finish: finish, Shapes: copper},
	}
}

func spineOf(w float64, lines []string, finish preview.Finish) preview.Face {
	var gold, copper []geom.Shape
	edges := []float64{0, 37, 74, 111, 148, 185, 234}
	for _, y := range edges[1:6] {
		gold = append(gold, bar(1.9, y-5.7, w-3.8, .7), bar(1.9, y+5, w-3.8, .7))
	}
	gold = append(gold, bar(1.9, 3.6, w-3.8, .7), bar(1.9, 229.6, w-3.8, .7))
	for i := range 6 {
		top, foot := edges[i]+7.5, edges[i+1]-7.5
		if i == 0 {
			top = 6
		}
		if i == 5 {
			foot = 227
		}
		cx, cy := w/2, (top+foot)/2
		switch i {
		case 1:
			for k, l := range lines {
				gold = append(gold, text(l, 4, cx, cy+(float64(k)-float64(len(lines)-1)/2)*6.5)...)
			}
		case 3:
			gold = append(gold, lozenge(cx, cy, 2.6, 4.4))
			if w > 20 {
				gold = append(gold, lozenge(cx-5.4, cy, 1.6, 2.7), lozenge(cx+5.4, cy, 1.6, 2.7))
			}
		default:
			gold = append(gold, frame(2.9, top, w-5.8, foot-top, .7))
			for _, sx := range []float64{-1, 1} {
				for _, sy := range []float64{-1, 1} {
					gold = append(gold, leaf(cx+sx*(w/2-4.2), cy+sy*((foot-top)/2-1.3), 3.2, .28, geom.Atan2Deg(-sy, -sx)))
				}
			}
			g, c := emblem(cx, cy, min(7.4, w*.22))
			gold, copper = append(gold, g...), append(copper, c...)
		}
	}
	return preview.Face{Width: mm(w), Height: mm(234), Bands: bands(), Films: films(finish, gold, copper)}
}

func frontOf(w, h float64, finish preview.Finish) *preview.Face {
	const x0, y0 = 19.0, 9.5
	fw, fh := w-x0-9.5, h-2*y0
	var gold, copper []geom.Shape
	gold = append(gold, frame(x0, y0, fw, fh, 1.2), frame(x0+2.2, y0+2.2, fw-4.4, fh-4.4, .6),
		frame(x0+13.4, y0+13.4, fw-26.8, fh-26.8, .6), frame(x0+15, y0+15, fw-30, fh-30, 1))
	// A roll of leaves round the border.
	run := func(ax, ay, bx, by float64, n int) {
		deg := geom.Atan2Deg(by-ay, bx-ax)
		for i := range n {
			t := (float64(i) + .5) / float64(n)
			x, y := ax+(bx-ax)*t, ay+(by-ay)*t
			gold = append(gold, lozenge(x, y, 2.4, 2.4))
			for _, d := range []float64{-32, 32, 148, 212} {
				sin, cos := geom.SinCos(deg + d)
				gold = append(gold, leaf(x+cos*1.9, y+sin*1.9, 4.9, .28, deg+d))
			}
		}
	}
	l, r, t, b := x0+8.1, x0+fw-8.1, y0+8.1, y0+fh-8.1
	run(l+6, t, r-6, t, 6)
	run(l+6, b, r-6, b, 6)
	run(l, t+6, l, b-6, 13)
	run(r, t+6, r, b-6, 13)
	for _, x := range []float64{l, r} {
		for _, y := range []float64{t, b} {
			for d := 45.0; d < 360; d += 90 {
				sin, cos := geom.SinCos(d)
				gold = append(gold, leaf(x+cos*.8, y+sin*.8, 4.4, .3, d))
			}
		}
	}
	cx, cy := x0+fw/2, h/2-6
	g, c := emblem(cx, cy, 27)
	gold, copper = append(gold, g...), append(copper, c...)
	for i := range 12 {
		sin, cos := geom.SinCos(float64(30*i) + 15)
		copper = append(copper, disc(cx+cos*31, cy+sin*31, 1.1))
	}
	gold = append(gold, text("THE FLEET", 7, cx, cy+52)...)
	return &preview.Face{Width: mm(w), Height: mm(h), Joint: mm(8), Bands: bands(), Films: films(finish, gold, copper)}
}

func volume(number string, w float64, leather string, round bool, finish preview.Finish, title string, lines ...string) preview.Book {
	return preview.Book{
		Number: number, Title: title, Leather: colour(leather), Round: round,
		Spine: spineOf(w, lines, finish),
		Front: frontOf(154, 234, finish),
		ForeEdge: &preview.ForeEdge{
			Thickness: mm(w - 6), Height: mm(228), Board: mm(3), Leather: mm(1), Squares: mm(3),
		},
	}
}

const (
	green  = "#1f3d33"
	maroon = "#5a2226"
	tan    = "#8a5a34"
)

func series() []preview.Book {
	return []preview.Book{
		volume("1", 34, green, true, preview.Matt, "Felt", "FELT"),
		volume("2", 58, green, true, preview.Matt, "The Fleet & the <Tithe>", "THE FLEET", "THE TITHE"),
		volume("3", 14, green, true, preview.Matt, "Lee"),
		volume("4", 47, maroon, true, preview.Satin, "The Hill", "THE", "HILL"),
		volume("5", 28, tan, false, preview.Bright, "Fife", "FIFE"),
	}
}

// TestDemo writes the series as pictures to look at, to the folder that PREVIEW_DEMO names.
func TestDemo(t *testing.T) {
	dir := os.Getenv("PREVIEW_DEMO")
	if dir == "" {
		t.Skip("set PREVIEW_DEMO to a folder to have pictures written there")
	}
	books := series()
	scenes := map[string]preview.Scene{"row": preview.Row(books), "volume4": withBack(books[3])}
	for _, i := range []int{0, 1, 2, 4} {
		scenes["volume"+books[i].Number] = preview.Volume(books[i])
	}
	for name, s := range scenes {
		text, err := preview.SVG(s, name)
		if err != nil {
			t.Fatal(err)
		}
		picture, err := PNG(s, 1400)
		if err != nil {
			t.Fatal(err)
		}
		for ext, data := range map[string][]byte{".svg": text, ".png": picture} {
			if err := os.WriteFile(filepath.Join(dir, name+ext), data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func BenchmarkVolume(b *testing.B) {
	s := preview.Volume(series()[1])
	for b.Loop() {
		if _, err := PNG(s, 1400); err != nil {
			b.Fatal(err)
		}
	}
}
