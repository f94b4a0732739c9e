package agree

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
)

// An adviser has something to say of one slot.
type adviser struct {
	slot    *Slot
	shelf   *model.Shelf
	origins *source.Origins
	list    *diag.List
}

// advise says where lettering that can be cut goes against what the handbooks ask of it. Each saying is the craft's, and the
// binder may know better.
func (s *Slot) advise(set Setting, shelf *model.Shelf, origins *source.Origins, list *diag.List) {
	a := adviser{s, shelf, origins, list}
	if set.Way != model.Pillar {
		a.equalLines(set)
		a.endPoints(set)
	}
	a.romanFigures(set)
	a.lengthwise(set)
}

// words advises where the words are written: in the volume, or in the statement.
func (a adviser) words(code, message string, try ...string) {
	at := a.slot.Letter.Origin
	if a.slot.Letter.What != "" {
		at = a.shelf.Volumes[a.slot.Volume].Origin
	}
	a.list.Add(diag.Diagnostic{
		Severity: diag.Advice, Code: code, At: a.origins.Span(at), Volume: a.shelf.Volumes[a.slot.Volume].Key, Message: message, Try: try,
	})
}

// almostEqual is the difference of width, as a divisor of the wider line, under which two lines look equal: of 30 mm it is
// 0.3 mm at either end, less than the thinnest limb that film cuts. (A choice.)
const almostEqual = 50

// equalLines looks for neighbouring lines of equal length: "Two lines of equal length should not come together; long and
// short alternating as much as possible", Adam 1903, p. 151. A line's length is its width to the eye, and its count of letters
// to the gauge of a handbook, which gives every letter the room of an E (Cockerell 1901/1910, pp. 217 and 219).
func (a adviser) equalLines(set Setting) {
	s := a.slot
	try := []string{`break it otherwise: title broken "…", "…"`, "another number of lines"}
	for i := range len(set.Lines) - 1 {
		upper, lower := set.Lines[i], set.Lines[i+1]
		p, err := s.Face.Proportions(upper, set.Style)
		q, err2 := s.Face.Proportions(lower, set.Style)
		if err != nil || err2 != nil {
			return
		}
		wa, wb := p.Width(set.Cap), q.Width(set.Cap)
		switch n := utf8.RuneCountInString(upper); {
		case max(wa, wb)-min(wa, wb) <= max(wa, wb)/almostEqual:
			a.words("equal-lines", fmt.Sprintf("«%s» and «%s» come out equally long, %s and %s, one under the other", upper, lower, show(wa, s.Letter.Least), show(wb, s.Letter.Least)), try...)
		case n == utf8.RuneCountInString(lower):
			a.words("equal-lines", fmt.Sprintf("«%s» and «%s» have %d letters each, one under the other", upper, lower, n), try...)
		}
	}
}

// endPoints looks for full stops and commas at the end of a line: "Except for abbreviations, points are no longer used in the
// titles of books, not even at the end; neither is a comma placed after the author's name", Adam 1903, p. 149. Initials and
// abbreviations, up to three letters, keep theirs; and three points are no full stop.
func (a adviser) endPoints(set Setting) {
	for _, l := range set.Lines {
		mark := ""
		if rest, ends := strings.CutSuffix(l, "."); ends && lastLetters(rest) > 3 {
			mark = "full stop"
		} else if strings.HasSuffix(l, ",") {
			mark = "comma"
		}
		if mark != "" {
			a.words("point-at-end", fmt.Sprintf("the line «%s» ends with a %s", l, mark), "leave it out: the end of the line says as much")
		}
	}
}

// lastLetters counts the letters and figures at the end of a text.
func lastLetters(text string) int {
	for n := 0; ; n++ {
		r, size := utf8.DecodeLastRuneInString(text)
		if !unicode.In(r, unicode.L, unicode.M, unicode.N) {
			return n
		}
		text = text[:len(text)-size]
	}
}

// counted are the words after which a figure counts volumes or their parts; elsewhere, as in the name of a king, Roman
// figures are part of a title.
var counted = []string{"VOL", "VOLS", "VOLUME", "VOLUMES", "PART", "PARTS", "PT", "BOOK", "BOOKS", "BK", "NO", "NUMBER", "SERIES", "TOME", "SECTION"}

// romanFigures looks for volumes counted in Roman figures: "all figures should be in Arabic, since it is plainer than Roman",
// Bailey 1916, pp. 141-142.
func (a adviser) romanFigures(set Setting) {
	words := strings.Fields(set.Text)
	for i, word := range words {
		w := strings.TrimRight(word, ".,;:")
		tail, alone := word[len(w):], len(words) == 1
		if i > 0 && slices.Contains(counted, strings.TrimRight(strings.ToUpper(words[i-1]), ".")) {
			alone = true
			w = strings.ToUpper(w)
		}
		n := roman(w)
		if !alone || n == 0 || n == 1 && i+1 < len(words) && w == word { // the part I played
			continue
		}
		better := slices.Clone(words)
		better[i] = fmt.Sprint(n) + tail
		a.words("roman-figures", fmt.Sprintf("«%s» counts in Roman figures", set.Text), fmt.Sprintf("«%s»", strings.Join(better, " ")))
	}
}

// mostRoman keeps words such as MIX from being figures; no set has so many volumes.
const mostRoman = 399

// roman is the value of Roman figures in capitals, 0 for what is none.
func roman(w string) int {
	digit := func(d int, one, five, ten string) string {
		return [...]string{"", one, one + one, one + one + one, one + five, five, five + one, five + one + one, five + one + one + one, one + ten}[d]
	}
	for n := 1; n <= mostRoman; n++ {
		if w == digit(n/100, "C", "D", "M")+digit(n/10%10, "X", "L", "C")+digit(n%10, "I", "V", "X") {
			return n
		}
	}
	return 0
}

// lengthwise looks for lettering along a back with bands though it would reach its least size across: "this hardly looks well
// on a book with raised bands, and should be avoided unless necessary", Cockerell 1901/1910, pp. 219-220. It names no volume
// and no size, so that a set is told once.
func (a adviser) lengthwise(set Setting) {
	o := *a.slot
	if o.Cover || o.Bands == 0 || set.Way != model.Down && set.Way != model.Up {
		return
	}
	o.Letter.Ways = []model.Way{model.Across}
	if _, across, err := o.best(); err != nil || !across {
		return // it is necessary
	}
	a.list.Add(diag.Diagnostic{
		Severity: diag.Advice, Code: "lengthwise-between-bands", At: a.origins.Span(o.Letter.Origin), Volume: a.shelf.Volumes[o.Volume].Key,
		Message: fmt.Sprintf("lettering runs %s a back with %d raised bands, and across it there is room for it too", set.Way, o.Bands),
		Try:     []string{"way across", "right where the neighbours on the shelf are lettered so"},
	})
}

// faces says where lettering that is read together is in more than one face: "on no account whatever should letters of
// different design be introduced", Cockerell 1901/1910, p. 220; "Always use types from the same fount in a title", Adam 1903,
// p. 148. What is read together is what stands in one panel or on one cover.
func faces(slots []Slot, shelf *model.Shelf, origins *source.Origins, list *diag.List) {
	for i := range slots {
		for j := range i {
			a, b := &slots[j], &slots[i]
			if a.Volume != b.Volume || a.Where != b.Where || a.Face.Hash() == b.Face.Hash() {
				continue
			}
			list.Add(diag.Diagnostic{
				Severity: diag.Advice, Code: "two-faces", At: origins.Span(b.Letter.Origin), Volume: shelf.Volumes[b.Volume].Key,
				Message: fmt.Sprintf("%s is lettered in two faces, %s and %s", b.Where, a.Face.Name(), b.Face.Name()),
				Notes:   []diag.Note{{At: origins.Span(a.Letter.Origin), Text: "the other"}},
				Try:     []string{"one face for both: in " + a.Face.Name()},
			})
			break
		}
	}
}
