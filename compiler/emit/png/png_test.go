package png

import (
	"bytes"
	"image"
	"image/color"
	stdpng "image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"headcap/compiler/emit/preview"
	"headcap/compiler/geom"
)

// picture draws a scene and reads the file again.
func picture(t *testing.T, s preview.Scene, width int) image.Image {
	t.Helper()
	data, err := PNG(s, width)
	if err != nil {
		t.Fatal(err)
	}
	img, err := stdpng.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func nrgba(img image.Image, x, y int) color.NRGBA {
	return color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
}

// mean is the mean colour of a square round a place of the scene, in millimetres.
func mean(img image.Image, s preview.Scene, x, y, half float64) [3]float64 {
	scale := float64(img.Bounds().Dx()) / (float64(s.View.Width()) / 1e6)
	px := func(v float64, from int64) int { return int((v - float64(from)/1e6) * scale) }
	var sum [3]float64
	n := 0.0
	for j := px(y-half, s.View.Min.Y); j <= px(y+half, s.View.Min.Y); j++ {
		for i := px(x-half, s.View.Min.X); i <= px(x+half, s.View.Min.X); i++ {
			c := nrgba(img, i, j)
			sum[0], sum[1], sum[2], n = sum[0]+float64(c.R), sum[1]+float64(c.G), sum[2]+float64(c.B), n+1
		}
	}
	return [3]float64{sum[0] / n, sum[1] / n, sum[2] / n}
}

func isNear(got [3]float64, want preview.Colour, tol float64) bool {
	for i, v := range got {
		if math.Abs(v-float64(want[i])) > tol {
			return false
		}
	}
	return true
}

func TestVolumeInPixels(t *testing.T) {
	s := preview.Volume(series()[1])
	img := picture(t, s, 1000)
	want := int(math.Ceil(1000 * float64(s.View.Height()) / float64(s.View.Width())))
	if r := img.Bounds(); r.Dx() != 1000 || r.Dy() != want {
		t.Errorf("the picture is %d × %d, want 1000 × %d", r.Dx(), r.Dy(), want)
	}
	if c := nrgba(img, 2, 2); c != (color.NRGBA{0xd9, 0xd3, 0xc7, 0xff}) {
		t.Errorf("the ground is %v", c)
	}
	const front = 58 + 17 // where the front board begins, in mm
	for _, c := range []struct {
		what    string
		x, y, r float64
		want    string
		tol     float64
	}{
		{"leather on the board", front + 85, 75, 4, green, 12},
		{"leather on the back", 30, 64.5, 1.5, green, 12},
		{"gold on the board", front + 81.75, 93, 0.8, "#b3924f", 20},
		{"copper on the board", front + 81.75, 111, 1.5, "#b4653f", 20},
		{"leaves", 58 + 17 + 154 + 17 + 30, 120, 3, "#dccfae", 12},
	} {
		if got := mean(img, s, c.x, c.y, c.r); !isNear(got, colour(c.want), c.tol) {
			t.Errorf("%s is %.0f, want about %s", c.what, got, c.want)
		}
	}
}

func TestSamePictureEachTime(t *testing.T) {
	for _, s := range []preview.Scene{preview.Volume(series()[3]), preview.Row(series())} {
		a, errA := PNG(s, 300)
		b, errB := PNG(s, 300)
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("two pictures of %q differ (%v, %v)", s.Title, errA, errB)
		}
	}
}

// Without a ground the page shows through, and the shadow lies on it.
func TestWithoutGround(t *testing.T) {
	s := preview.Volume(series()[0])
	s.Ground = nil
	img := picture(t, s, 400)
	if c := nrgba(img, 1, 1); c.A != 0 {
		t.Errorf("the corner is %v", c)
	}
	scale := 400 / (float64(s.View.Width()) / 1e6)
	at := func(x, y float64) color.NRGBA { return nrgba(img, int((x+14)*scale), int((y+12)*scale)) }
	if c := at(17, 50); c.A != 0xff {
		t.Errorf("the back of the book is %v", c)
	}
	if c := at(36, 120); c.A < 20 || c.A > 200 || c.R > 8 {
		t.Errorf("the shadow beside the back is %v", c)
	}
}

func TestRefusedSizes(t *testing.T) {
	s := preview.Volume(series()[0])
	for _, width := range []int{-1, 0, 9000, math.MaxInt} {
		if _, err := PNG(s, width); err == nil {
			t.Errorf("a picture %d wide is drawn", width)
		}
	}
	if _, err := PNG(preview.Scene{}, 100); err == nil {
		t.Error("a scene with no view is drawn")
	}
}

// plainScene is 10 × 10 mm without a ground.
func plainScene(items ...preview.Item) preview.Scene {
	return preview.Scene{View: geom.Box{Max: at(10, 10)}, Items: items}
}

func square(x, y, w, h float64) *preview.Outline {
	return &preview.Outline{Path: geom.Path{geom.Rect(mm(x), mm(y), mm(x+w), mm(y+h))}}
}

var ink = preview.Solid{Colour: preview.Colour{200, 100, 50}, Opacity: 1}

func TestEdgesAreCovered(t *testing.T) {
	// Ten pixels of 1 mm: a square from 2.25 to 4.5 mm each way.
	img := picture(t, plainScene(preview.Fill{Outline: square(2.25, 2.25, 2.25, 2.25), Paint: ink}), 10)
	for _, c := range []struct {
		x, y int
		want float64
	}{{1, 3, 0}, {2, 3, .75}, {3, 3, 1}, {4, 3, .5}, {5, 3, 0}, {2, 2, .75 * .75}, {4, 2, .5 * .75}, {4, 4, .25}} {
		if a := nrgba(img, c.x, c.y).A; math.Abs(float64(a)-255*c.want) > 1 {
			t.Errorf("pixel %d, %d is covered %d/255, want %.1f", c.x, c.y, a, 255*c.want)
		}
	}
	if c := nrgba(img, 4, 4); c.R < 198 || c.G < 98 || c.B < 48 {
		t.Errorf("a corner has the colour %v", c)
	}
}

// The coverage of a polygon adds up to its area, whichever way its sides run and wherever it is cut off.
func TestCoverageAddsUpToTheArea(t *testing.T) {
	shapes := map[string][]dot{
		"steep":               {{300, 100}, {420, 2000}, {150, 1990}},
		"flat":                {{100, 300}, {2500, 420}, {2490, 150}},
		"backward":            {{2490, 150}, {2500, 420}, {100, 300}},
		"corners on the grid": {{256, 256}, {1024, 256}, {1024, 1280}, {256, 1024}},
		"star":                {{1200, 100}, {1300, 900}, {2200, 1000}, {1400, 1200}, {1100, 2300}, {1000, 1250}, {90, 1000}, {1050, 950}},
	}
	for name, ring := range shapes {
		var twice int64
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			twice += a.x*b.y - b.x*a.y
		}
		want := math.Abs(float64(twice)) / 2 / (sub * sub)
		var tally tally
		m := tally.cover([][]dot{ring}, image.Rect(0, 0, 12, 12))
		got := 0.0
		for _, c := range m.cover {
			got += float64(c) / full
		}
		// Crossings of pixel borders are rounded to 1/256 of a pixel.
		if math.Abs(got-want) > 0.02 {
			t.Errorf("%s: covered %.3f pixels, want %.3f", name, got, want)
		}
		// Seen through a window, each pixel is the same.
		window := image.Rect(2, 3, 6, 7)
		part := tally.cover([][]dot{ring}, window)
		if part == nil {
			continue
		}
		for y := part.area.Min.Y; y < part.area.Max.Y; y++ {
			for x := part.area.Min.X; x < part.area.Max.X; x++ {
				if a, b := part.row(y, x, x+1)[0], m.row(y, x, x+1)[0]; a != b {
					t.Fatalf("%s: pixel %d, %d is %d through the window and %d without", name, x, y, a, b)
				}
			}
		}
	}
}

func TestHoleStaysOpen(t *testing.T) {
	o := square(1, 1, 8, 8)
	o.Path = append(o.Path, geom.Rect(mm(3), mm(3), mm(7), mm(7)).Reverse())
	img := picture(t, plainScene(preview.Fill{Outline: o, Paint: ink}), 10)
	if c := nrgba(img, 5, 5); c.A != 0 {
		t.Errorf("the hole is %v", c)
	}
	if c := nrgba(img, 2, 5); c.A != 255 {
		t.Errorf("the rim is %v", c)
	}
}

func TestGroupMovesAndClips(t *testing.T) {
	img := picture(t, plainScene(preview.Group{
		Move: at(3, 0), Clip: square(0, 0, 2, 10),
		Items: []preview.Item{preview.Fill{Outline: square(-9, 4, 30, 2), Paint: ink}},
	}), 10)
	for x, want := range []uint8{0, 0, 0, 255, 255, 0, 0, 0, 0, 0} {
		if a := nrgba(img, x, 4).A; a != want {
			t.Errorf("pixel %d is covered %d, want %d", x, a, want)
		}
	}
}

func TestFadeLessensTheWholeGroup(t *testing.T) {
	fill := preview.Fill{Outline: square(0, 0, 10, 10), Paint: ink}
	fade := &preview.Linear{To: at(10, 0), Stops: []preview.Stop{{At: 0, Opacity: 1}, {At: 1, Opacity: 0}}}
	img := picture(t, plainScene(preview.Group{
		Fade:  &preview.Fade{Box: geom.Box{Max: at(10, 10)}, Opacity: fade},
		Items: []preview.Item{fill, fill}, // twice: the group fades, not its items
	}), 10)
	for x := range 10 {
		want := 255 * (1 - (float64(x)+0.5)/10)
		if a := nrgba(img, x, 5).A; math.Abs(float64(a)-want) > 1 {
			t.Errorf("pixel %d is covered %d, want %.1f", x, a, want)
		}
	}
}

func TestFullStaysFull(t *testing.T) {
	white := packed(full, full, full, full)
	for a := 0; a <= full; a += 13 {
		for _, w := range []uint32{0, 1, 77, 32767, 32768, 65535, 65536} {
			s := packed(uint16(a), uint16(a), uint16(a), uint16(a))
			if got := laid(white, s, w); got != white {
				t.Fatalf("white of alpha %d and weight %d on white is %x", a, w, uint64(got))
			}
		}
	}
}

func TestGrainIsLeftOutWhereItCannotBeSeen(t *testing.T) {
	grain := preview.Group{Grain: true, Items: []preview.Item{preview.Fill{Outline: square(0, 0, 10, 10), Paint: ink}}}
	if a := nrgba(picture(t, plainScene(grain), 11), 5, 5).A; a != 0 {
		t.Errorf("at 1.1 pixels to the millimetre there is grain: %d", a)
	}
	if a := nrgba(picture(t, plainScene(grain), 13), 5, 5).A; a != 255 {
		t.Errorf("at 1.3 pixels to the millimetre there is none: %d", a)
	}
}

func TestTilesRepeat(t *testing.T) {
	tile := &preview.Tile{Width: mm(2), Height: mm(2), Items: []preview.Item{
		preview.Fill{Outline: square(0, 0, 1, 2), Paint: preview.Solid{Opacity: 1}},
	}}
	p := &preview.Pattern{Tile: tile, Set: geom.Transform{A: 1, D: 1, E: mm(0.5)}, Opacity: 0.5}
	img := picture(t, plainScene(preview.Fill{Outline: square(0, 0, 10, 10), Paint: p}), 100)
	for _, c := range []struct {
		x    int
		want uint8
	}{{2, 0}, {10, 128}, {20, 0}, {30, 128}, {70, 128}, {82, 0}} {
		if a := nrgba(img, c.x, 50).A; max(a, c.want)-min(a, c.want) > 1 {
			t.Errorf("at %.1f mm the pattern is %d, want %d", float64(c.x)/10, a, c.want)
		}
	}
	tile.Items = []preview.Item{preview.Fill{Outline: square(0, 0, 1, 2), Paint: ink}}
	if _, err := PNG(plainScene(preview.Fill{Outline: square(0, 0, 10, 10), Paint: p}), 100); err == nil {
		t.Error("a coloured tile is drawn")
	}
}

func TestSoftEdgeKeepsItsAmount(t *testing.T) {
	for _, deviation := range []float64{0.2, 1, 2.5, 4, 9.3} {
		profile, start := softened(20.25, 61.5, deviation)
		var sum, moment float64
		for i, v := range profile {
			sum += float64(v)
			moment += float64(v) * (float64(start+i) + 0.5)
		}
		if got := sum / (1 << softBits); math.Abs(got-41.25) > 0.001 {
			t.Errorf("blurred by %v it is %.4f wide, want 41.25", deviation, got)
		}
		if middle := moment / sum; math.Abs(middle-40.875) > 0.01 {
			t.Errorf("blurred by %v its middle is at %.3f, want 40.875", deviation, middle)
		}
	}
}

// rsvg is the picture that librsvg makes of the SVG text.
func rsvg(t *testing.T, s preview.Scene, width int) image.Image {
	t.Helper()
	program, err := exec.LookPath("rsvg-convert")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("rsvg-convert is not installed, and this must not be skipped here")
		}
		t.Skip("rsvg-convert is not installed")
	}
	text, err := preview.SVG(s, "a")
	if err != nil {
		t.Fatal(err)
	}
	in, out := filepath.Join(t.TempDir(), "a.svg"), filepath.Join(t.TempDir(), "a.png")
	if err := os.WriteFile(in, text, 0o600); err != nil {
		t.Fatal(err)
	}
	if msg, err := exec.Command(program, "-w", strconv.Itoa(width), "-o", out, in).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, msg)
	}
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	img, err := stdpng.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// The two writers read a scene alike: our pixels are those that an independent program makes of our text.
func TestPixelsAgreeWithTheText(t *testing.T) {
	books := series()
	for _, c := range []struct {
		name  string
		scene preview.Scene
		width int
		most  float64 // mean difference in grey levels
	}{
		{"volume", preview.Volume(books[1]), 900, 1.6},
		{"satin with a back board", withBack(books[3]), 600, 1.6},
		{"flat and bright", preview.Volume(books[4]), 450, 1.6},
		{"row", preview.Row(books), 700, 1.6},
	} {
		t.Run(c.name, func(t *testing.T) {
			theirs := rsvg(t, c.scene, c.width)
			ours := picture(t, c.scene, c.width)
			if ours.Bounds() != theirs.Bounds() {
				t.Fatalf("ours is %v, theirs %v", ours.Bounds(), theirs.Bounds())
			}
			var sum, signed float64
			r := ours.Bounds()
			for y := range r.Dy() {
				for x := range r.Dx() {
					a, b := nrgba(ours, x, y), nrgba(theirs, x, y)
					for _, d := range []float64{float64(a.R) - float64(b.R), float64(a.G) - float64(b.G), float64(a.B) - float64(b.B)} {
						sum, signed = sum+math.Abs(d), signed+d
					}
				}
			}
			n := float64(3 * r.Dx() * r.Dy())
			if sum/n > c.most || math.Abs(signed/n) > 0.5 {
				t.Errorf("they differ by %.2f grey levels in the mean, %.2f with the sign; at most %.1f and 0.5 are allowed", sum/n, signed/n, c.most)
			}
			t.Logf("mean difference %.2f, with the sign %.2f", sum/n, signed/n)
		})
	}
}

func withBack(b preview.Book) preview.Scene {
	back := *b.Front
	back.Films = nil
	b.Back = &back
	return preview.Volume(b)
}
