package agree

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// A Shared is a size that a series has agreed on, and the volume that set it; -1 where the size was written.
type Shared struct {
	Series int
	Key    string
	What   string
	Size   int64
	SetBy  int
}

// Letters decides how every slot is set. The settings stand in the order of the slots.
func Letters(slots []Slot, shelf *model.Shelf, origins *source.Origins, list *diag.List) ([]Setting, []Shared) {
	whole(slots)
	fits := make([]fit, len(slots))
	reached := make([]bool, len(slots))
	told := make([]bool, len(slots))
	for i := range slots {
		s := &slots[i]
		f, ok, err := s.best()
		if err != nil {
			told[i] = true
			s.fault(err, shelf, origins, list)
			continue
		}
		fits[i], reached[i] = f, ok
	}
	out := make([]Setting, len(slots))
	var shared []Shared
	done := map[string]bool{}
	caps := make([]int64, len(slots))
	for i := range slots {
		caps[i] = fits[i].cap
	}
	for i := range slots {
		s := &slots[i]
		if !s.Letter.Same || s.Series < 0 {
			continue
		}
		group := fmt.Sprintf("%d %s", s.Series, s.Key)
		if done[group] {
			continue
		}
		done[group] = true
		sh, ok := share(slots, fits, reached, s.Series, s.Key)
		if !ok {
			continue
		}
		shared = append(shared, sh)
		thin(slots, fits, reached, sh, shelf, origins, list)
		for j := range slots {
			o := &slots[j]
			if o.Series == s.Series && o.Key == s.Key && o.Letter.Same && reached[j] && !o.Apart {
				if caps[j] < sh.Size && !told[j] {
					ownSize(o, caps[j], sh, shelf, origins, list)
				}
				caps[j] = min(caps[j], sh.Size)
			}
		}
	}
	for i := range slots {
		s, f := &slots[i], fits[i]
		if told[i] {
			continue
		}
		if !reached[i] {
			s.tooSmall(f, shelf, origins, list)
			continue
		}
		out[i] = Setting{OK: true, Way: f.way, Cap: caps[i], Text: f.text, Lines: f.lines, Style: f.style, Leading: times(s.leading(f.way), caps[i])}
		out[i].Style.Cap = caps[i]
		s.notes(out[i], shelf, origins, list)
		s.gaps(out[i], shelf, origins, list)
		s.advise(out[i], shelf, origins, list)
	}
	faces(slots, shelf, origins, list)
	return out, shared
}

// whole gives the slots of a shared size one text to look for the thinnest limb in, so that all are grown alike.
func whole(slots []Slot) {
	texts := map[string][]string{}
	group := func(s *Slot) string { return fmt.Sprintf("%d %s", s.Series, s.Key) }
	for i := range slots {
		if s := &slots[i]; s.Letter.Same && s.Series >= 0 {
			for _, t := range s.Texts {
				texts[group(s)] = append(texts[group(s)], t.Text)
			}
		}
	}
	for i := range slots {
		if s := &slots[i]; s.Letter.Same && s.Series >= 0 {
			s.Whole = strings.Join(texts[group(s)], " ")
		}
	}
}

// share finds the size of a group: the one that is written, else the largest that every slot that counts can take.
func share(slots []Slot, fits []fit, reached []bool, series int, key string) (Shared, bool) {
	sh := Shared{Series: series, Key: key, SetBy: -1}
	for i := range slots {
		s := &slots[i]
		if s.Series != series || s.Key != key || !s.Letter.Same || !s.Counts || !reached[i] {
			continue
		}
		sh.What = s.Where
		if sh.Size == 0 || fits[i].cap < sh.Size {
			sh.Size, sh.SetBy = fits[i].cap, s.Volume
			if s.Letter.Most.Nanometres() == fits[i].cap {
				sh.SetBy = -1
			}
		}
	}
	return sh, sh.Size > 0
}

// thin advises where one volume alone holds the size of the whole set down by more than a fifth: Cockerell (1901, pp.
// 220-221) would rather make a compromise with the thin volume than spoil the set.
func thin(slots []Slot, fits []fit, reached []bool, sh Shared, shelf *model.Shelf, origins *source.Origins, list *diag.List) {
	if sh.SetBy < 0 {
		return
	}
	var next int64
	var at *Slot
	for i := range slots {
		s := &slots[i]
		if s.Series != shelf.Volumes[sh.SetBy].Series || s.Key != sh.Key || !s.Letter.Same || !s.Counts || !reached[i] {
			continue
		}
		if s.Volume == sh.SetBy {
			at = s
			continue
		}
		if next == 0 || fits[i].cap < next {
			next = fits[i].cap
		}
	}
	if at == nil || next*4 <= sh.Size*5 {
		return
	}
	v := shelf.Volumes[sh.SetBy]
	list.Add(diag.Diagnostic{
		Severity: diag.Advice, Code: "thin-volume", At: origins.Span(v.Origin),
		Message: fmt.Sprintf("%s alone holds the lettering of the set (%s) at %s caps; without it %s would fit", VolumeName(v), at.Where, show(sh.Size, at.Letter.Least), show(next, at.Letter.Least)),
		Try:     []string{"say `apart` in this volume, and it takes a size of its own", "lines broken otherwise, or a shorter title, for this volume"},
	})
}

func ownSize(s *Slot, cap int64, sh Shared, shelf *model.Shelf, origins *source.Origins, list *diag.List) {
	v := shelf.Volumes[s.Volume]
	list.Add(diag.Diagnostic{
		Severity: diag.Warning, Code: "own-size", At: origins.Span(v.Origin), Volume: v.Key,
		Message: fmt.Sprintf("%s takes the lettering of %s at %s caps, where the set has %s", VolumeName(v), s.Where, show(cap, s.Letter.Least), show(sh.Size, s.Letter.Least)),
		Try:     []string{"right for a volume that stands apart; else a short title for it"},
	})
}

// tooSmall tells that no way and no count of lines reaches the least size, with the numbers and the nearest ways out.
func (s *Slot) tooSmall(f fit, shelf *model.Shelf, origins *source.Origins, list *diag.List) {
	v := shelf.Volumes[s.Volume]
	least := s.Letter.Least
	d := diag.Diagnostic{Code: "letters-too-small", At: origins.Span(s.Letter.Origin), Volume: v.Key}
	if via := origins.Parent(s.Letter.Origin); via != 0 {
		// What stands in a pattern is mended where the pattern is taken: a bundled one cannot be.
		d.Notes = append(d.Notes, diag.Note{At: origins.Span(via), Text: "taken from here, where a cap of your own may be said"})
	}
	text := ""
	if len(s.Texts) > 0 {
		text = s.Texts[0].Text
	}
	d.Message = fmt.Sprintf("«%s» needs %s caps in %s (%s of %s); the least is %s", text, show(f.cap, least), show(s.Width, least), s.Where, VolumeName(v), least)
	if f.cap == 0 {
		d.Message = fmt.Sprintf("«%s» does not fit %s of %s, %s wide and %s tall, at any size that can be cut", text, s.Where, VolumeName(v), show(s.Width, least), show(s.Height, least))
	}
	for n := s.Letter.LinesMost + 1; n <= s.Letter.LinesMost+2; n++ {
		o := *s
		o.Letter.LinesMost = n
		if g, ok, err := o.best(); err == nil && ok {
			d.Try = append(d.Try, fmt.Sprintf("allow %d lines: lines 1 to %d (gives %s)", n, n, show(g.cap, least)))
			break
		}
	}
	for _, way := range []model.Way{model.Down, model.Across} {
		o := *s
		o.Letter.Ways = []model.Way{way}
		if g, ok, err := o.best(); err == nil && ok && !s.Cover && !slices.Contains(s.ways(), way) {
			d.Try = append(d.Try, fmt.Sprintf("way %s (gives %s)", way, show(g.cap, least)))
		}
	}
	if o := *s; len(d.Try) == 0 && !s.Cover {
		o.Letter.Ways = []model.Way{model.Pillar}
		if g, ok, err := o.best(); err == nil && ok && !slices.Contains(s.ways(), model.Pillar) {
			d.Try = append(d.Try, fmt.Sprintf("way pillar (gives %s)", show(g.cap, least)))
		}
	}
	if len(d.Try) == 0 && !s.Cover {
		// "In such cases the lettering is best put on the side", Cockerell 1901/1910, p. 221.
		d.Try = append(d.Try, fmt.Sprintf("letter the front: front { letter %s }", s.said()))
	}
	if f.cap > 0 {
		d.Try = append(d.Try, fmt.Sprintf("cap %s, if the film still cuts it", show(f.cap, least)))
		if s.Letter.What == "title" {
			d.Try = append(d.Try, "a short title for this volume: title \"…\" short \"…\"")
		}
	}
	list.Add(d)
}

// notes passes on what the face has to say of the text: small capitals that it does not have, a script whose letters join.
func (s *Slot) notes(set Setting, shelf *model.Shelf, origins *source.Origins, list *diag.List) {
	p, err := s.Face.Proportions(set.Text, set.Style)
	if err != nil {
		return
	}
	for _, n := range p.Notes() {
		list.Add(diag.Diagnostic{Severity: diag.Warning, Code: n.Code, At: origins.Span(s.Letter.Origin), Volume: shelf.Volumes[s.Volume].Key, Message: n.Message})
	}
}

// gaps warns where letters, as set, still come closer than the film weeds.
func (s *Slot) gaps(set Setting, shelf *model.Shelf, origins *source.Origins, list *diag.List) {
	tell := func(text string, g int64, try string) {
		v := shelf.Volumes[s.Volume]
		list.Add(diag.Diagnostic{
			Severity: diag.Warning, Code: "letters-too-close", At: origins.Span(s.Letter.Origin), Volume: v.Key,
			Message: fmt.Sprintf("letters of «%s» in %s come within %s; %s weeds from %s", text, VolumeName(v), show(max(0, g), s.Letter.Least), s.Film.Name, show(s.Film.Limits.LetterGap, s.Letter.Least)),
			Try:     []string{try},
		})
	}
	drop := int64(0) // of the letter above, in a pillar
	for i, l := range set.Lines {
		if l == "" {
			continue
		}
		p, err := s.Face.Proportions(l, set.Style)
		if err != nil {
			return
		}
		if g, ok := p.GapAt(set.Cap); ok && g < s.Film.Limits.LetterGap {
			tell(l, g, "space the letters: spaced 12%")
			return
		}
		if set.Way != model.Pillar {
			continue
		}
		// Of two neighbours what hangs from the upper and what rises from the lower lie between them.
		if g := set.Leading - set.Cap - drop - p.Ascends(set.Cap); i > 0 && set.Lines[i-1] != "" && g < s.Film.Limits.LetterGap {
			tell(set.Text, g, "set them further apart: leading 1.8")
			return
		}
		drop = p.Descends(set.Cap)
	}
}

func (s *Slot) fault(err error, shelf *model.Shelf, origins *source.Origins, list *diag.List) {
	d := diag.Diagnostic{Code: "unusable-text", At: origins.Span(s.Letter.Origin), Message: err.Error(), Volume: shelf.Volumes[s.Volume].Key}
	if f, ok := fault(err); ok {
		d.Code, d.Message, d.Try = f.Code, f.Message, f.Try
	}
	list.Add(d)
}

// VolumeName is what people call a volume.
func VolumeName(v model.Volume) string {
	if v.Number > 0 {
		return fmt.Sprintf("volume %d", v.Number)
	}
	return fmt.Sprintf("«%s»", v.Name)
}

// show prints a length in the unit that the author used for another.
func show(nm int64, like unit.Length) string {
	l := unit.Nanometres(nm - nm%10_000)
	if like.Shown() != unit.Inch {
		return l.String()
	}
	return fmt.Sprintf("%.3fin", l.Millimetres()/25.4)
}

func times(r *big.Rat, n int64) int64 {
	return unit.FromRat(new(big.Rat).Mul(r, big.NewRat(n, 1)), unit.Millimetre).Nanometres()
}

// said is what the statement letters, as it is written.
func (s *Slot) said() string {
	if s.Letter.What != "" {
		return s.Letter.What
	}
	return fmt.Sprintf("%q", s.Letter.Text)
}
