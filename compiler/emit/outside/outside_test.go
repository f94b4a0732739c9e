package outside_test

import (
	"os"
	"path/filepath"
	"testing"

	"headcap/compiler/cut"
	"headcap/compiler/emit/dxf"
	"headcap/compiler/emit/internal/sample"
	"headcap/compiler/emit/listing"
	"headcap/compiler/emit/outside"
	"headcap/compiler/emit/reread"
	"headcap/compiler/emit/svg"
)

// written writes a face three ways into a folder of the test's own.
func written(t *testing.T, f cut.Face) (svgPath, dxfPath, listingPath string) {
	t.Helper()
	dir := t.TempDir()
	write := func(name string, do func(*os.File) error) string {
		path := filepath.Join(dir, name)
		out, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		defer out.Close()
		if err := do(out); err != nil {
			t.Fatal(err)
		}
		return path
	}
	return write("face.svg", func(w *os.File) error { return svg.Write(w, f) }),
		write("face.dxf", func(w *os.File) error { return dxf.Write(w, f, dxf.Options{}) }),
		write("pieces.txt", func(w *os.File) error { return listing.Write(w, []cut.Face{f}) })
}

func forBothFilms(t *testing.T, do func(t *testing.T, svgPath, dxfPath, listingPath string)) {
	for _, transfer := range []bool{false, true} {
		name := map[bool]string{false: "plain", true: "transfer"}[transfer]
		t.Run(name, func(t *testing.T) {
			s, d, l := written(t, sample.Cover(transfer))
			do(t, s, d, l)
		})
	}
}

func TestLibxml2FindsNothingStrange(t *testing.T) {
	forBothFilms(t, func(t *testing.T, s, _, _ string) { outside.CheckSVG(t, s) })
}

func TestLibrsvgDrawsItsSize(t *testing.T) {
	forBothFilms(t, func(t *testing.T, s, _, _ string) { outside.Raster(t, s) })
}

func TestChromiumDrawsWhatLibrsvgDraws(t *testing.T) {
	forBothFilms(t, func(t *testing.T, s, _, _ string) {
		if l := outside.Raster(t, s).Likeness(outside.RasterChromium(t, s)); l < 0.97 {
			t.Errorf("the two pictures share %.1f %% of their film", 100*l)
		}
	})
}

func TestHostileNamesHarmNoReader(t *testing.T) {
	f := sample.Cover(true)
	f.Title, f.Face, f.Film = `</title><script>alert("&amp;")</script>`, `"front" &<`, `gold'"/>&#0;`
	s, d, l := written(t, f)
	t.Run("svg", func(t *testing.T) { outside.CheckSVG(t, s) })
	t.Run("dxf", func(t *testing.T) { outside.CheckDXF(t, d) })
	t.Run("listing", func(t *testing.T) {
		if got := outside.Listing(t, l)[0]; got.Face != f.Face || got.Film != f.Film {
			t.Errorf("the listing reads %q, %q", got.Face, got.Film)
		}
	})
}

func TestEzdxfRepairsNothing(t *testing.T) {
	forBothFilms(t, func(t *testing.T, _, d, _ string) { outside.CheckDXF(t, d) })
}

func TestGDALMeasuresWhatIsListed(t *testing.T) {
	forBothFilms(t, func(t *testing.T, _, d, l string) { outside.CheckMeasures(t, d, outside.Listing(t, l)[0]) })
}

func TestSVGAndDXFAgree(t *testing.T) {
	forBothFilms(t, func(t *testing.T, s, d, _ string) { outside.CheckAgree(t, s, d) })
}

// The same pieces on a plain film and on a transfer, in the four pictures that a face can be taken for. Only one of them
// is right for each file, so a y that runs the wrong way, a reflection left out or one made twice is found.
func TestHandedness(t *testing.T) {
	const alike, perMM = 0.95, float64(outside.DotsPerInch) / 25.4
	face := sample.Cover(false)
	width, height := float64(face.Width)/1e6, float64(face.Height)/1e6
	across := func(p reread.Point) reread.Point { return reread.Point{X: width - p.X, Y: p.Y} }
	down := func(p reread.Point) reread.Point { return reread.Point{X: p.X, Y: height - p.Y} }
	seen := asSeen(face)
	draw := func(rings []reread.Ring) reread.Picture { return reread.Draw(rings, width, height, perMM, false) }
	poses := map[string]reread.Picture{
		"as it is":     draw(seen),
		"mirrored":     draw(reread.Each(seen, across)),
		"upended":      draw(reread.Each(seen, down)),
		"turned about": draw(reread.Each(reread.Each(seen, across), down)),
	}
	// pose gives the one name of a picture, so that a wrong transform can't pass for the right one.
	pose := func(t *testing.T, p reread.Picture) string {
		t.Helper()
		found := "nothing known"
		for name, q := range poses {
			if l := p.Likeness(q); l > alike {
				if found != "nothing known" {
					t.Fatalf("it looks %s and %s", found, name)
				}
				found = name
			} else if l > 0.6 {
				t.Errorf("the sample is too symmetrical: likeness %.2f to what is %s", l, name)
			}
		}
		return found
	}
	for _, film := range []struct {
		name     string
		transfer bool
		want     string
		wrong    [2]string // upended by a wrong y, mirrored once too often or not at all
	}{
		{"plain", false, "as it is", [2]string{"upended", "mirrored"}},
		{"transfer", true, "mirrored", [2]string{"turned about", "as it is"}},
	} {
		s, d, _ := written(t, sample.Cover(film.transfer))
		outlines := outside.DXF(t, d).Outlines
		inDXF := func(rings []reread.Ring) reread.Picture { return reread.Draw(rings, width, height, perMM, true) }
		check := func(name string, picture func(*testing.T) reread.Picture, want string) {
			t.Run(film.name+"/"+name, func(t *testing.T) {
				if got := pose(t, picture(t)); got != want {
					t.Errorf("the face stands %s, not %s", got, want)
				}
			})
		}
		check("svg", func(t *testing.T) reread.Picture { return outside.Raster(t, s) }, film.want)
		check("svg re-read", func(t *testing.T) reread.Picture {
			return draw(outside.SVG(t, s).Rings(0.001))
		}, film.want)
		check("dxf re-read", func(*testing.T) reread.Picture { return inDXF(outlines) }, film.want)
		check("dxf by ezdxf", func(t *testing.T) reread.Picture { return inDXF(outside.EzdxfOutlines(t, d)) }, film.want)

		// What the mistakes would give is told apart.
		swapped, twice := reread.Each(outlines, down), reread.Each(outlines, across)
		check("y swapped", func(*testing.T) reread.Picture { return inDXF(swapped) }, film.wrong[0])
		check("mirrored again", func(*testing.T) reread.Picture { return inDXF(twice) }, film.wrong[1])
	}
}

// asSeen draws the face without any of the writers: its curves in sixteen chords each, y down, x to the right.
func asSeen(f cut.Face) []reread.Ring {
	var out []reread.Ring
	for _, p := range f.Pieces {
		for _, c := range append(p.Shape.Holes, p.Shape.Outer) {
			var r reread.Ring
			for _, s := range c.Segments {
				for k := range 16 {
					x, y := s.At(float64(k) / 16)
					r = append(r, reread.Point{X: x / 1e6, Y: y / 1e6})
				}
			}
			out = append(out, r)
		}
	}
	return out
}
