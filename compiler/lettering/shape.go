package lettering

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"headcap/compiler/geom"

	"github.com/go-text/typesetting/bidi"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/harfbuzz"
	"github.com/go-text/typesetting/language"
)

// A Style says how a line is set.
type Style struct {
	// Cap is the finished height of a flat capital such as H in nanometres, measured on the letter as it is cut, grown
	// where ThickenTo asks for it. Proportions do not read it.
	Cap int64
	// SpacedMille is what is put between neighbouring letters, in thousandths of the finished cap height. Letters that
	// are spaced form no ligatures.
	SpacedMille int64
	// LeastGap is the least gap in nanometres between neighbouring letters, wanted at the finished cap height LeastGapAt
	// and above: pairs that would stand closer, kerned as for ink, are moved apart. 0 leaves all as they are. At the least
	// height that may come out it holds whatever height does; once that is known, a line made anew for it may be a little
	// narrower.
	LeastGap, LeastGapAt int64
	// Capitals sets small letters as capitals; SmallCapitals sets them as the face's own small capitals. Not both.
	Capitals, SmallCapitals bool
	// ThickenTo is the width in nanometres up to which the outlines are grown, evenly all round, until the thinnest limb
	// has it. Only openings of a letter stay as wide as LeastGap (a quarter of a millimetre where that is 0), or as they
	// are drawn, if limbs leave the room. 0 leaves the letters as they are drawn.
	ThickenTo int64
	// Whole is the whole text that the line is part of: the other lines of its title, or the titles of all volumes. The
	// thinnest limb is looked for in all of it, so that its lines are grown alike. Empty: the line stands alone.
	Whole string
}

// opening is how wide thickening leaves narrow openings of letters, where they are drawn as wide: an opening inside a
// letter is as short as a gap between two, and weeds as that does.
func (s Style) opening() int64 {
	if s.LeastGap > 0 {
		return s.LeastGap
	}
	return leastOpening
}

// leastOpening is the opening where no gap between letters is asked for: what common cutting film weeds between letters.
// (Common practice, no source.)
const leastOpening = geom.Millimetre / 4

// Bounds of what is set (choices): a line longer than any spine's, caps up to a poster's, letters a double cap apart.
const (
	mostRunes   = 1000
	mostCap     = 500_000_000
	mostSpacing = 2000
)

func (s Style) check() error {
	bad := func(message string) error { return &Fault{Code: "bad-lettering", Message: message} }
	switch {
	case s.SpacedMille < 0:
		return bad("letters cannot be set closer than the face has them: in film they would run into each other")
	case s.SpacedMille > mostSpacing:
		return bad("letters are spaced by more than two cap heights")
	case s.LeastGap < 0 || s.LeastGap > mostCap || s.LeastGap > 0 && (s.LeastGapAt < geom.Micrometre || s.LeastGapAt > mostCap):
		return bad("the gap between letters is asked for at a size that no letter has")
	case s.Capitals && s.SmallCapitals:
		return bad("lettering is asked for in capitals and in small capitals; choose one")
	case s.ThickenTo < 0 || s.ThickenTo > mostCap:
		return bad("limbs are thickened to a width that no letter has")
	}
	return nil
}

// A placed glyph stands with its origin at (x, y) in 64ths of a font unit, y down, and gaps spaces further right.
type placed struct {
	id   font.GID
	g    *glyph
	x, y int64
	gaps int64
	// letter counts the letters, from the left; the parts of one letter and its accents share a number.
	letter int
	joins  bool // of a script whose letters are written joined
}

// A setting is a shaped line, not yet scaled.
type setting struct {
	glyphs []placed // only those with ink
	notes  []Note
}

// set shapes a line.
func (f *Face) set(text string, s Style) (setting, error) {
	runes, err := f.runes(text, s)
	if err != nil {
		return setting{}, err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	var (
		out       setting
		x         int64
		gaps      int64
		letter    = -1
		unshrunk  []rune
		unspaced  bool
		runBefore = -1
	)
	for n, r := range runs(runes) {
		cursive := joins(r.script)
		unspaced = unspaced || cursive && s.SpacedMille > 0
		glyphs, err := f.shape(runes, r, s)
		if err != nil {
			return setting{}, err
		}
		cluster := -1
		for _, p := range glyphs {
			if n != runBefore || p.cluster != cluster {
				if letter >= 0 && !(cursive && n == runBefore) {
					gaps++
				}
				letter++
			}
			runBefore, cluster = n, p.cluster
			if s.SmallCapitals && f.staysSmall(runes[p.cluster], p.id) && !slices.Contains(unshrunk, runes[p.cluster]) {
				unshrunk = append(unshrunk, runes[p.cluster])
			}
			if !p.g.empty() {
				out.glyphs = append(out.glyphs, placed{
					id: p.id, g: p.g, x: x + p.dx, y: -p.dy, gaps: gaps, letter: letter, joins: cursive,
				})
			}
			x += p.advance
		}
	}
	if len(out.glyphs) == 0 {
		return setting{}, &Fault{Code: "no-ink", Message: fmt.Sprintf("the lettering %q has nothing to cut", text)}
	}
	if far := int64(mostUnits) * gridPerUnit * mostRunes; x > far || x < -far {
		return setting{}, &Fault{Code: "bad-font", Message: fmt.Sprintf("the line %q has no sensible width in face %q", text, f.name)}
	}
	out.notes = slices.Clone(f.notes)
	if len(unshrunk) > 0 {
		out.notes = append(out.notes, Note{
			Code: "no-small-capitals",
			Message: fmt.Sprintf("the face %q has no small capitals for %s: they are set as small letters",
				f.name, strings.Join(strings.Split(string(unshrunk), ""), ", ")),
		})
	}
	if unspaced {
		out.notes = append(out.notes, Note{
			Code:    "joined-script",
			Message: "letters that join are not spaced: it would tear them apart",
		})
	}
	return out, nil
}

// staysSmall says that a small letter was given its ordinary glyph.
func (f *Face) staysSmall(r rune, id font.GID) bool {
	if !unicode.IsLower(r) {
		return false
	}
	ordinary, ok := f.font.Face().NominalGlyph(r)
	return ok && ordinary == id
}

// runes are the characters to shape: checked, and as capitals where the style asks for them.
func (f *Face) runes(text string, s Style) ([]rune, error) {
	refuse := func(format string, args ...any) ([]rune, error) {
		return nil, &Fault{Code: "bad-text", Message: fmt.Sprintf("the lettering %q ", text) + fmt.Sprintf(format, args...)}
	}
	if !utf8.ValidString(text) {
		return refuse("is not valid UTF-8")
	}
	if s.Capitals {
		text = capitals.Replace(text)
	}
	var out []rune
	for _, r := range text {
		switch {
		case r == '\u200c' || r == '\u200d': // they only choose how letters join
		case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp):
			return refuse("holds the control character U+%04X, which cannot be set", r)
		}
		if s.Capitals {
			r = unicode.ToUpper(r)
		}
		out = append(out, r)
	}
	if len(out) > mostRunes {
		return refuse("is longer than %d characters", mostRunes)
	}
	return out, nil
}

// capitals holds the letters whose capital is more than one letter (Unicode's SpecialCasing, those of Latin).
var capitals = strings.NewReplacer(
	"ß", "SS", "ŉ", "ʼN", "ǰ", "J̌", "ﬀ", "FF", "ﬁ", "FI", "ﬂ", "FL", "ﬃ", "FFI", "ﬄ", "FFL", "ﬅ", "ST", "ﬆ", "ST",
)

// A run is a stretch of one script and one direction.
type run struct {
	start, end int
	script     language.Script
	leftward   bool
}

// runs parts a line into its runs, from left to right as they are seen.
func runs(text []rune) []run {
	var paragraph bidi.Paragraph
	segmented := paragraph.Segment(text, bidi.Neutral)
	parts := make([]bidi.Run, segmented.NumRuns())
	for i := range parts {
		parts[i] = segmented.Run(i)
	}
	inSightOrder(parts)
	var out []run
	for _, p := range parts {
		at := len(out)
		for i := p.Start; i < p.End; i++ {
			script := language.LookupScript(text[i])
			last := len(out) - 1
			switch {
			case last < at:
				out = append(out, run{i, i + 1, script, !p.IsLeftToRight()})
			case !script.Strong() || script == out[last].script:
				out[last].end++
			case !out[last].script.Strong(): // a run that began with spaces or marks
				out[last].script = script
				out[last].end++
			default:
				out = append(out, run{i, i + 1, script, !p.IsLeftToRight()})
			}
		}
		if !p.IsLeftToRight() {
			slices.Reverse(out[at:])
		}
	}
	return out
}

// inSightOrder puts runs into the order in which they are seen: from the highest level down, every stretch at that level
// or above is reversed (Unicode's bidirectional algorithm, rule L2).
func inSightOrder(parts []bidi.Run) {
	highest := bidi.Level(0)
	for _, p := range parts {
		highest = max(highest, p.Level)
	}
	for level := highest; level > 0; level-- {
		for i := 0; i < len(parts); i++ {
			j := i
			for j < len(parts) && parts[j].Level >= level {
				j++
			}
			slices.Reverse(parts[i:j])
			i = max(i, j-1)
		}
	}
}

// joins says whether the letters of a script are written joined.
func joins(s language.Script) bool {
	switch s {
	case language.Arabic, language.Syriac, language.Mongolian, language.Nko, language.Mandaic, language.Adlam:
		return true
	}
	return false
}

// A shaped glyph with its advance and shift in 64ths of a font unit, y up as fonts have it.
type shaped struct {
	id      font.GID
	g       *glyph
	cluster int
	advance int64
	dx, dy  int64
}

// shape turns a run into glyphs. Language is left open, so that the machine's own has no say.
func (f *Face) shape(text []rune, r run, s Style) ([]shaped, error) {
	buf := harfbuzz.NewBuffer()
	buf.Props = harfbuzz.SegmentProperties{Language: "und", Script: r.script, Direction: harfbuzz.LeftToRight}
	if r.leftward {
		buf.Props.Direction = harfbuzz.RightToLeft
	}
	var out []shaped
	err := guard(func() error {
		buf.AddRunes(text, r.start, r.end-r.start)
		buf.Shape(f.font, f.features(s))
		for i, info := range buf.Info {
			pos := buf.Pos[i]
			if info.Glyph == 0 || info.Glyph > 0xFFFF {
				return f.missing(text[info.Cluster])
			}
			g, err := f.glyph(info.Glyph)
			if err != nil {
				return err
			}
			out = append(out, shaped{
				id: info.Glyph, g: g, cluster: info.Cluster,
				advance: int64(pos.XAdvance) * gridPerUnit,
				dx:      int64(pos.XOffset) * gridPerUnit,
				dy:      int64(pos.YOffset) * gridPerUnit,
			})
		}
		return nil
	})
	if err != nil {
		if _, ok := err.(*Fault); ok {
			return nil, err
		}
		return nil, &Fault{Code: "bad-font", Message: fmt.Sprintf("the font of face %q cannot be used: %v", f.name, err)}
	}
	return out, nil
}

func (f *Face) missing(r rune) *Fault {
	return &Fault{
		Code:    "missing-glyph",
		Message: fmt.Sprintf("the face %q has no %q (U+%04X)", f.name, r, r),
		Try:     []string{"another face for this lettering", "another spelling"},
	}
}

// features are the OpenType features that differ from what every text gets.
func (f *Face) features(s Style) []harfbuzz.Feature {
	var out []harfbuzz.Feature
	set := func(value uint32, tags ...string) {
		for _, t := range tags {
			out = append(out, harfbuzz.Feature{Tag: opentype.MustNewTag(t), Value: value, End: harfbuzz.FeatureGlobalEnd})
		}
	}
	if s.SmallCapitals {
		set(1, "smcp")
	}
	if s.Capitals {
		set(1, "case") // hyphens and dashes at the height of capitals
	}
	if s.SpacedMille > 0 {
		set(0, "liga", "clig")
	}
	return out
}
