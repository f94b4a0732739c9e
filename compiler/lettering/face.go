// Package lettering sets lines of letters: it opens font faces, shapes text, reckons how wide and how heavy a line comes
// out at a cap height before anything is drawn, and gives the fused outlines. It never says what letters are cut from.
package lettering

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"headcap/compiler/geom"

	"codeberg.org/go-fonts/latin-modern/lmmonoproplt10bold"
	"codeberg.org/go-fonts/stix/stix2textsemibold"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/font/opentype/tables"
	"github.com/go-text/typesetting/harfbuzz"
)

// A Face is one font face, opened once. It may be used from several goroutines at a time.
type Face struct {
	name  string
	data  []byte
	notes []Note
	hash  func() string

	upem      int64
	capHeight int64 // grid units of the face, see gridPerUnit
	xHeight   int64

	mu     sync.Mutex // guards the shaping library, which keeps caches, and all that is kept below
	font   *harfbuzz.Font
	glyphs map[font.GID]*glyph
	cuts   map[cutSize]geom.Path
	limbs  []knownLimbs
}

// A Fault is what keeps text from being set. Code is a few words joined by hyphens, as diagnostics have; Try are ways out.
type Fault struct {
	Code    string
	Message string
	Try     []string
}

func (f *Fault) Error() string { return f.Message }

// A Note is something that the author should hear although the text can be set.
type Note struct{ Code, Message string }

// bundle is a face that comes with the program, parsed when it is first named.
type bundle struct {
	name string
	open func() (*Face, error)
}

func bundled(name string, data []byte, limbs []knownLimbs) bundle {
	return bundle{name, sync.OnceValues(func() (*Face, error) {
		f, err := Open(name, data)
		if err == nil {
			f.limbs = limbs
		}
		return f, err
	})}
}

// bundles are the bundled faces: serif a sturdy book face with true small capitals, slab one of even strokes for the
// smallest sizes.
var bundles = []bundle{
	bundled("serif", stix2textsemibold.TTF, serifLimbs),
	bundled("slab", lmmonoproplt10bold.TTF, slabLimbs),
}

// BundledNames are the names that Bundled knows.
func BundledNames() []string {
	names := make([]string, len(bundles))
	for i, b := range bundles {
		names[i] = b.name
	}
	return names
}

// Bundled gives a bundled face: serif (STIX Two Text SemiBold) or slab (Latin Modern Mono Prop Light Bold).
func Bundled(name string) (*Face, error) {
	for _, b := range bundles {
		if b.name == name {
			return b.open()
		}
	}
	names := BundledNames()
	return nil, &Fault{
		Code:    "unknown-face",
		Message: fmt.Sprintf("no face named %q is bundled; there are %s", name, strings.Join(names, " and ")),
		Try:     names,
	}
}

// mostFontBytes bounds a font file. The largest text face with every alphabet that we know of has 24 MB (a choice).
const mostFontBytes = 32 << 20

// Open opens a font file (TrueType or OpenType, one face) that was read already. The data must not change afterwards.
func Open(name string, data []byte) (*Face, error) {
	bad := func(format string, args ...any) error {
		return &Fault{
			Code:    "bad-font",
			Message: fmt.Sprintf("the font of face %q ", name) + fmt.Sprintf(format, args...),
			Try:     []string{"an .otf or .ttf file with one face"},
		}
	}
	switch {
	case len(data) > mostFontBytes:
		return nil, bad("has %d bytes; %d is the most", len(data), mostFontBytes)
	case len(data) < 12:
		return nil, bad("is empty or cut short")
	}
	switch magic := string(data[:4]); magic {
	case "OTTO", "true", "\x00\x01\x00\x00":
	case "ttcf":
		return nil, bad("is a collection of several faces; a single one is wanted")
	case "wOFF", "wOF2":
		return nil, bad("is packed for web pages; the plain font file is wanted")
	default:
		return nil, bad("is no font file that we can read: it begins with %q", magic)
	}

	f := &Face{name: name, data: data, glyphs: map[font.GID]*glyph{}, cuts: map[cutSize]geom.Path{}}
	f.hash = sync.OnceValue(func() string {
		sum := sha256.Sum256(data)
		return hex.EncodeToString(sum[:])
	})
	err := guard(func() error {
		ld, err := opentype.NewLoader(bytes.NewReader(data))
		if err != nil {
			return err
		}
		parsed, err := font.NewFont(ld)
		if err != nil {
			return err
		}
		if ld.HasTable(opentype.MustNewTag("fvar")) {
			f.notes = append(f.notes, Note{
				Code: "variable-font",
				Message: fmt.Sprintf("the font of face %q is a variable one: it is set in its default cut, and kerning may be lost; "+
					"a static font keeps it", name),
			})
		}
		f.upem = int64(parsed.Upem())
		f.font = newShaper(font.NewFace(parsed))
		return f.measure()
	})
	if err != nil {
		return nil, bad("cannot be used: %v", err)
	}
	return f, nil
}

// newShaper readies a face for shaping, past a fault of the shaping library (v0.3.5) that loses kerning: its quick test
// whether a lookup may concern a glyph is filled from the ranges of a coverage table, and as soon as one of its three
// masks is full the rest of the ranges is passed over, so that their glyphs are never looked up. While the test is filled
// every such table is made to begin with a range of all glyphs, which fills the masks truly; then it gets its own first
// range back. The test lets too much through and costs a little time; it loses nothing.
func newShaper(face *font.Face) *harfbuzz.Font {
	var restore []func()
	widen := func(c tables.Coverage) {
		if c, ok := c.(tables.Coverage2); ok && len(c.Ranges) > 0 {
			first := &c.Ranges[0]
			own := *first
			first.StartGlyphID, first.EndGlyphID = 0, math.MaxUint16
			restore = append(restore, func() { *first = own })
		}
	}
	for _, l := range face.GSUB.Lookups {
		for _, s := range l.Subtables {
			widen(s.Cov())
		}
	}
	for _, l := range face.GPOS.Lookups {
		for _, s := range l.Subtables {
			widen(s.Cov())
		}
	}
	shaper := harfbuzz.NewFont(face)
	for _, undo := range slices.Backward(restore) {
		undo()
	}
	return shaper
}

// measure finds the heights of capitals and small letters: on the drawn H and x, since what the font says of itself is
// often a round figure; where there is none, as in faces for other scripts, what the font says.
func (f *Face) measure() error {
	if f.upem < 16 || f.upem > 16384 {
		return fmt.Errorf("it counts %d units to the em; 16 to 16384 are allowed", f.upem)
	}
	heightOf := func(r rune, said font.LineMetric) (int64, error) {
		if gid, ok := f.font.Face().NominalGlyph(r); ok && gid != 0 {
			g, err := f.glyph(gid)
			if err != nil {
				return 0, err
			}
			if !g.empty() {
				return -g.box.Min.Y, nil
			}
		}
		return toFontGrid(f.font.Face().LineMetric(said))
	}
	var err error
	if f.capHeight, err = heightOf('H', font.CapHeight); err != nil {
		return err
	}
	if f.xHeight, err = heightOf('x', font.XHeight); err != nil {
		return err
	}
	if em := f.upem * gridPerUnit; f.capHeight < em/10 || f.capHeight > 2*em {
		return fmt.Errorf("its capitals are %d/%d of the em tall", f.capHeight/gridPerUnit, f.upem)
	}
	return nil
}

// guard turns a panic of the shaping library into an error. The library checks most of a font's tables when it reads
// them, not all: a damaged font file must not end the program.
func guard(do func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("it is damaged (%v)", p)
		}
	}()
	return do()
}

// Name is the name under which the face was opened.
func (f *Face) Name() string { return f.name }

// Hash is the SHA-256 of the font file, in hexadecimal.
func (f *Face) Hash() string { return f.hash() }

// Notes are what there is to say about the face itself.
func (f *Face) Notes() []Note { return slices.Clone(f.notes) }

// CapShare is the height of the capital H over the em, both in 1/64 of the font's units.
func (f *Face) CapShare() (height, em int64) { return f.capHeight, f.upem * gridPerUnit }

// XHeight is the height of the small x over the em, both in 1/64 of the font's units.
func (f *Face) XHeight() (height, em int64) { return f.xHeight, f.upem * gridPerUnit }

// HasFeature says whether the font has an OpenType feature, such as smcp or kern. Its kerning may stand in a table that
// is older than features; HasFeature does not see that.
func (f *Face) HasFeature(tag string) bool {
	if len(tag) != 4 {
		return false
	}
	t := opentype.MustNewTag(tag)
	has := func(l font.Layout) bool {
		return slices.ContainsFunc(l.Features, func(x font.Feature) bool { return x.Tag == t })
	}
	return has(f.font.Face().GSUB.Layout) || has(f.font.Face().GPOS.Layout)
}
