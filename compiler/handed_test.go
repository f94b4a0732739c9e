package compiler_test

import (
	"bytes"
	"fmt"
	"image"
	_ "image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
	"testing/fstest"

	"headcap/compiler"
	"headcap/compiler/emit/outside"
	"headcap/compiler/emit/reread"
)

// effBook is a book with an F on its spine and both its covers, in white on black so that a picture shows which is which.
const effBook = `language 1
film letters { colour #ffffff; finish matt%s }
stamp eff { path "M-11 -20H11V-13H-4V-4H6V3H-4V20H-11Z" }
volume "Effs" {
  block 120mm x 90mm x 30mm
  binding case { boards 3mm; squares 3mm; gap 7mm }
  leather black
  film letters
  spine { centre eff }
  front { centre eff }
  back { centre eff }
}
`

// The four ways in which a picture can stand to what the reader is to see.
const (
	likeness    = "its likeness"
	mirrorImage = "its mirror image"
	upended     = "upended"
	turned      = "turned about"
)

const perMM = float64(outside.DotsPerInch) / 25.4

// A view is what a preview shows of a face, in the pixels of a cut file: as it is, mirrored left to right, or head to tail,
// or both.
type view func(across, down bool) reread.Picture

// pose says how a picture stands to a view, and fails where it could be taken for two of the four, or none.
func pose(t *testing.T, p reread.Picture, v view) string {
	t.Helper()
	found := ""
	for _, as := range []string{likeness, mirrorImage, upended, turned} {
		l := p.Likeness(v(as == mirrorImage || as == turned, as == upended || as == turned))
		switch {
		case l > 0.9 && found != "":
			t.Fatalf("it is both %s and %s", found, as)
		case l > 0.9:
			found = as
		case l > 0.7:
			t.Errorf("it is hard to say whether it is %s: %.2f", as, l)
		}
	}
	if found == "" {
		t.Fatal("it is nothing like what is to be seen")
	}
	return found
}

// What the reader will see is the preview. A transfer is cut as its mirror image, since it is turned over onto the leather;
// a plain film as its likeness.
func TestHandedness(t *testing.T) {
	for _, film := range []struct{ name, transfer, want, upended, twice string }{
		{"plain", "", likeness, upended, mirrorImage},
		{"transfer", "; transfer", mirrorImage, turned, likeness},
	} {
		t.Run(film.name, func(t *testing.T) {
			files := fstest.MapFS{"effs.headcap": {Data: fmt.Appendf(nil, effBook, film.transfer)}}
			j := compiled(files, "effs.headcap", compiler.Options{Pictures: true})
			j.clean(t)
			folder := j.write(t)
			cuts := j.cuts(t, folder, j.laid[0])
			if len(cuts) != 3 {
				t.Fatalf("%d faces are cut", len(cuts))
			}
			dir := filepath.Join(folder, j.laid[0].Model.Folder)
			png, svg := readPreview(t, dir, "preview.png"), readPreview(t, dir, "preview.svg")
			for _, c := range cuts {
				t.Run(c.face, func(t *testing.T) {
					views := []view{png.face(t, c), svg.face(t, c)}
					handed(t, c, views, film.want, film.upended, film.twice)
				})
			}
		})
	}
}

// handed sees that both cut files of a face stand to its views as wanted, and that the two mistakes which closedness,
// areas and boxes don't show would be found.
func handed(t *testing.T, c cutFile, views []view, want, upended, twice string) {
	w, h := c.listing.Frame.X, c.listing.Frame.Y
	dxf := func(rings []reread.Ring) reread.Picture { return reread.Draw(rings, w, h, perMM, true) }
	is := func(what, want string, picture func(t *testing.T) reread.Picture) {
		t.Run(what, func(t *testing.T) {
			p := picture(t)
			for _, v := range views {
				if got := pose(t, p, v); got != want {
					t.Errorf("it is %s, not %s", got, want)
				}
			}
		})
	}
	is("svg", want, func(t *testing.T) reread.Picture {
		return reread.Draw(outside.SVG(t, c.svg).Rings(0.001), w, h, perMM, false)
	})
	is("svg by librsvg", want, func(t *testing.T) reread.Picture { return outside.Raster(t, c.svg) })
	is("dxf", want, func(t *testing.T) reread.Picture { return dxf(outside.DXF(t, c.dxf).Outlines) })
	is("dxf by ezdxf", want, func(t *testing.T) reread.Picture { return dxf(outside.EzdxfOutlines(t, c.dxf)) })

	moved := func(to func(p reread.Point) reread.Point) func(t *testing.T) reread.Picture {
		return func(t *testing.T) reread.Picture { return dxf(reread.Each(outside.DXF(t, c.dxf).Outlines, to)) }
	}
	is("y the wrong way", upended, moved(func(p reread.Point) reread.Point { return reread.Point{X: p.X, Y: h - p.Y} }))
	is("mirrored again", twice, moved(func(p reread.Point) reread.Point { return reread.Point{X: w - p.X, Y: p.Y} }))
}

var (
	previewView = regexp.MustCompile(`<svg [^>]*viewBox="(\S+) (\S+) (\S+) (\S+)"`)
	previewFace = `<g id="[a-z]+-%s"(?: transform="translate\((\S+) (\S+)\)")?`
)

// A previewed volume: its picture, what that shows, in millimetres, and the text that says where the faces are.
type previewed struct {
	picture image.Image
	left    float64
	head    float64
	pixels  float64 // to a millimetre
	text    []byte
}

// readPreview reads a preview, one that is SVG as librsvg draws it.
func readPreview(t *testing.T, folder, name string) previewed {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(folder, "preview.svg"))
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(folder, name))
	if filepath.Ext(name) == ".svg" {
		resolution := fmt.Sprint(outside.DotsPerInch)
		data, err = exec.Command(outside.Need(t, "rsvg-convert"), "-d", resolution, "-p", resolution, filepath.Join(folder, name)).Output()
	}
	if err != nil {
		t.Fatal(err)
	}
	m, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	out := previewed{picture: m, text: text}
	found := previewView.FindSubmatch(text)
	if found == nil {
		t.Fatal("the preview has no view")
	}
	out.left, out.head = number(t, found[1]), number(t, found[2])
	out.pixels = float64(m.Bounds().Dx()) / number(t, found[3])
	return out
}

func number(t *testing.T, text []byte) (v float64) {
	t.Helper()
	if _, err := fmt.Sscan(string(text), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// joint is the gap of the case in effBook: beside it stands the front, and it is not cut.
const joint = 7

// face cuts one face out of a preview.
func (p previewed) face(t *testing.T, c cutFile) view {
	t.Helper()
	at := regexp.MustCompile(fmt.Sprintf(previewFace, c.face)).FindSubmatch(p.text)
	if at == nil {
		t.Fatalf("the preview has no %s", c.face)
	}
	var x, y float64
	if len(at[1]) > 0 {
		x, y = number(t, at[1]), number(t, at[2])
	}
	if c.face == "front" {
		x += joint
	}
	w, h := c.listing.Frame.X, c.listing.Frame.Y
	return func(across, down bool) reread.Picture {
		out := reread.Picture{W: int(math.Ceil(w * perMM)), H: int(math.Ceil(h * perMM))}
		for row := range out.H {
			for column := range out.W {
				u, v := (float64(column)+0.5)/perMM, (float64(row)+0.5)/perMM
				if across {
					u = w - u
				}
				if down {
					v = h - v
				}
				r, g, b, _ := p.picture.At(int((x+u-p.left)*p.pixels), int((y+v-p.head)*p.pixels)).RGBA()
				out.Film = append(out.Film, r+g+b > 3*0x8000 && u >= 0 && u < w && v >= 0 && v < h)
			}
		}
		return out
	}
}
