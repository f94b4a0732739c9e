package preview

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strings"
	"testing"

	"headcap/compiler/geom"
)

// hostile is a title that would become markup if it were not escaped.
const hostile = `</title><script>x("&amp;")</script> & 'quoted'` + "\x07"

// sample is a volume that has everything on it.
func sample() Book {
	bands := []Band{{mm(30), mm(5)}, {mm(60), mm(5)}}
	square := func(x, y, w float64) geom.Shape { return geom.Shape{Outer: geom.Rect(mm(x), mm(y), mm(x+w), mm(y+w))} }
	hollow := square(30, 30, 20)
	hollow.Holes = []geom.Contour{geom.Circle(geom.Point{X: mm(40), Y: mm(40)}, mm(4)).Reverse()}
	films := []Film{
		{Name: "old gold & more", Colour: Colour{0xb3, 0x92, 0x4f}, Shapes: []geom.Shape{square(5, 5, 10), hollow}},
		{Name: "copper", Colour: Colour{0xb4, 0x65, 0x3f}, Finish: Bright, Shapes: []geom.Shape{square(5, 40, 10)}},
		{Name: "not used here"},
	}
	cover := Face{Width: mm(70), Height: mm(100), Joint: mm(8), Bands: bands, Films: films}
	return Book{
		Number: "7", Title: hostile, Leather: Colour{0x1f, 0x3d, 0x33}, Round: true,
		Spine:    Face{Width: mm(40), Height: mm(100), Bands: bands, Films: films},
		Front:    &cover,
		Back:     &cover,
		ForeEdge: &ForeEdge{Thickness: mm(34), Height: mm(94), Board: mm(3), Leather: mm(1), Squares: mm(3)},
	}
}

func scenes() map[string]Scene {
	flat := sample()
	flat.Round = false
	bare := Book{Title: "plain", Spine: Face{Width: mm(9), Height: mm(100)}, Front: &Face{Width: mm(60), Height: mm(100)}}
	onPage := Volume(sample())
	onPage.Ground = nil
	return map[string]Scene{
		"volume": Volume(sample()), "flat": Volume(flat), "bare": Volume(bare), "on-a-page": onPage,
		"row": Row([]Book{sample(), flat, bare}), "empty-row": Row(nil),
	}
}

func text(t *testing.T, s Scene, ids string) []byte {
	t.Helper()
	b, err := SVG(s, ids)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestSVGIsTheSameEachTime(t *testing.T) {
	for name, s := range scenes() {
		if !bytes.Equal(text(t, s, "a"), text(t, scenes()[name], "a")) {
			t.Errorf("%s: two texts of one picture differ", name)
		}
	}
}

// A picture may hold only what draws: nothing that runs, is fetched, or styles the page that it stands in.
func TestSVGHoldsOnlyWhatDraws(t *testing.T) {
	elements := map[string]bool{}
	for _, e := range strings.Fields(`svg title desc defs g path use rect clipPath mask filter feGaussianBlur
		linearGradient radialGradient stop pattern`) {
		elements[e] = true
	}
	reference := regexp.MustCompile(`url\(#([^)]*)\)|^#(.*)$`)
	number := regexp.MustCompile(`NaN|Inf|[eE][-+]?[0-9]`)
	for name, s := range scenes() {
		ids, wanted := map[string]bool{}, map[string]bool{}
		d := xml.NewDecoder(bytes.NewReader(text(t, s, "pic")))
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			start, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			if !elements[start.Name.Local] {
				t.Errorf("%s: <%s>", name, start.Name.Local)
			}
			for _, a := range start.Attr {
				switch {
				case a.Name.Local == "id":
					if ids[a.Value] || !strings.HasPrefix(a.Value, "pic-") {
						t.Errorf("%s: the id %q", name, a.Value)
					}
					ids[a.Value] = true
				case a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on"):
					t.Errorf("%s: the attribute %s", name, a.Name.Local)
				case a.Name.Local == "href" && !strings.HasPrefix(a.Value, "#"):
					t.Errorf("%s: a reference to %q", name, a.Value)
				case a.Name.Local == "d" && number.MatchString(a.Value):
					t.Errorf("%s: path data %q", name, a.Value)
				}
				if a.Name.Local == "fill" && strings.HasPrefix(a.Value, "#") {
					continue // a colour
				}
				if m := reference.FindStringSubmatch(a.Value); m != nil && !strings.Contains(a.Name.Local, "color") && a.Name.Local != "stroke" {
					wanted[m[1]+m[2]] = true
				}
			}
		}
		for id := range wanted {
			if !ids[id] {
				t.Errorf("%s: nothing has the id %q", name, id)
			}
		}
	}
}

func TestTitleIsEscaped(t *testing.T) {
	b := text(t, Volume(sample()), "a")
	if bytes.Contains(b, []byte("<script")) {
		t.Fatal("the title became markup")
	}
	var doc struct {
		Title string `xml:"title"`
		Desc  string `xml:"desc"`
	}
	if err := xml.Unmarshal(b, &doc); err != nil {
		t.Fatal(err)
	}
	if want := "Volume 7: " + strings.ReplaceAll(hostile, "\x07", "\ufffd"); doc.Title != want {
		t.Errorf("the title reads %q, want %q", doc.Title, want)
	}
	if want := "As it will look: back 70 × 100, spine 40 × 100, front 70 × 100, fore-edge 42 × 100 mm. Film: old gold & more, copper, not used here."; doc.Desc != want {
		t.Errorf("the description reads %q", doc.Desc)
	}
}

func TestIDsMustBeIDs(t *testing.T) {
	for _, ids := range []string{"", "1", "A", `a"`, "a b"} {
		if _, err := SVG(Row(nil), ids); err == nil {
			t.Errorf("ids may begin with %q", ids)
		}
	}
	if _, err := SVG(Scene{Items: []Item{Group{Name: "a\""}}}, "a"); err == nil {
		t.Error("a group may be named a\"")
	}
}

// The whole text of a small picture, to be read.
func TestSVGText(t *testing.T) {
	shared := rectangle(0, 0, mm(4), mm(2.5))
	var p pencil
	p.move(mm(1), mm(1))
	p.cubic(mm(1), mm(2), mm(-0.123), mm(0.006), mm(3), mm(3))
	p.quad(mm(4), mm(4), mm(5), mm(3))
	p.close()
	s := Scene{
		Title: "A & B", Desc: "<>", View: box(mm(-1), 0, mm(10), mm(5)), Ground: &Colour{0xff, 0, 0x80},
		Items: []Item{
			Shadow{box(0, 0, mm(4), mm(2)), mm(1), Solid{black, 0.5}},
			Group{Name: "one", Move: geom.Point{X: mm(1)}, Clip: shared, Items: []Item{
				Fill{shared, Solid{white, 1}},
				Fill{p.outline(), across(0, mm(4), Stop{0, white, 0}, Stop{1, black, 0.25})},
				Group{Grain: true, Items: []Item{Fill{shared, &Pattern{&Tile{mm(1), mm(2), []Item{Stroke{rectangle(0, 0, mm(1), mm(1)), mm(0.1), Solid{black, 1}}}}, turned(90, 2, 1), 0.5}}}},
			}},
		},
	}
	const want = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 0 10 5" width="10mm" height="5mm" role="img">
<title>A &amp; B</title>
<desc>&lt;&gt;</desc>
<defs>
<filter id="x-b1" filterUnits="userSpaceOnUse" x="-3" y="-3" width="10" height="8"><feGaussianBlur stdDeviation="1"/></filter>
<path id="x-o1" d="M0 0h4v2.5h-4z"/>
<clipPath id="x-c1"><use href="#x-o1"/>
</clipPath>
<linearGradient id="x-l1" gradientUnits="userSpaceOnUse" x1="0" y1="0" x2="4" y2="0"><stop offset="0" stop-color="#ffffff" stop-opacity="0"/><stop offset="1" stop-color="#000000" stop-opacity=".25"/></linearGradient>
<pattern id="x-t1" width="1" height="2" patternUnits="userSpaceOnUse">
<path d="M0 0h1v1h-1z" fill="none" stroke="#000000" stroke-width=".1"/>
</pattern>
<pattern id="x-p1" href="#x-t1" patternTransform="matrix(0 2 -1 0 0 0)"/>
</defs>
<rect x="-1" y="0" width="10" height="5" fill="#ff0080"/>
<rect x="0" y="0" width="4" height="2" fill="#000000" opacity=".5" filter="url(#x-b1)"/>
<g id="x-one" transform="translate(1 0)" clip-path="url(#x-c1)">
<use href="#x-o1" fill="#ffffff"/>
<path d="M1 1c0 1-1.12-.99 2 2q1 1 2 0z" fill="url(#x-l1)"/>
<g class="grain">
<use href="#x-o1" fill="url(#x-p1)" fill-opacity=".5"/>
</g>
</g>
</svg>
`
	if got := string(text(t, s, "x")); got != want {
		t.Errorf("the text is\n%s", got)
	}
}

func TestNumbersAreShort(t *testing.T) {
	for _, c := range []struct {
		nm   int64
		want string
	}{
		{0, "0"},
		{4_999, "0"},
		{-4_999, "0"},
		{5_000, ".01"},
		{-5_000, "-.01"},
		{100_000, ".1"},
		{1_000_000, "1"},
		{-10_050_000, "-10.05"},
		{1_500_000_000, "1500"},
	} {
		if got := length(c.nm); got != c.want {
			t.Errorf("%d nm is written %s, want %s", c.nm, got, c.want)
		}
	}
}

func TestFaceWithoutSizeIsLeftOut(t *testing.T) {
	b := sample()
	b.Spine.Width = 0
	b.ForeEdge = &ForeEdge{}
	s := Volume(b)
	if !strings.HasPrefix(s.Desc, "As it will look: back 70 × 100, front 70 × 100 mm. ") {
		t.Errorf("a spine of no width: %q", s.Desc)
	}
	text(t, s, "a")
	text(t, Row([]Book{b}), "a")
}
