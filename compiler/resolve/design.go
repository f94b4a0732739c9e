package resolve

import (
	"fmt"
	"math/big"
	"slices"

	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// Design settles the conditions of a volume by its measures and gives what stands on its faces.
func (set *Set) Design(index int, facts model.Facts) model.Design {
	v, vol := set.Shelf.Volumes[index], set.vols[index]
	b := &builder{set: set, facts: &facts, volume: v.Key, vague: v.Spoilt}
	facts.Number = v.Number
	items := b.volumeItems(vol)
	d := model.Design{Title: model.Title{Text: v.Name}, Number: v.Number}
	for _, l := range vol.layers {
		d.Spoilt = d.Spoilt || !set.understood(l.statements)
	}
	var spine, front, back []*item
	b.within(items, func() {
		for _, it := range items {
			switch it.w.Name {
			case "title":
				d.Title = b.title(it)
			case "author":
				d.Author = it.m.Word("author")
			case "number":
				d.Number = count(it.m.Word("number"))
			case "emblem":
				b.emblem = set.find(it.scope, "stamp", it.m.Word("stamp"))
				d.Emblem = set.stamp(it.scope, it.m.Word("stamp"))
				d.Spoilt = d.Spoilt || d.Emblem == nil
			case "film":
				d.Film = set.film(it.scope, it.m.Word("film"))
			case "lettering":
				d.Way = wayOf(it.m.Word("way"))
			case "apart":
				d.Apart = true
			case "spine":
				if it.m.Form == 0 || it.kids != nil {
					spine = append(spine, it)
				}
			case "front":
				front = append(front, it)
			case "back":
				back = append(back, it)
			}
		}
		if d.Film == nil {
			d.Film = set.film(set.bundled, "gold")
		}
		if spine != nil {
			d.Spine = b.spine(b.layers(spine, "spine"))
		}
		d.Spine.Bands.Wide = orDefault(d.Spine.Bands.Wide, defaultBand, "from memory")
		d.Spine.Bands = b.onTape(d.Spine.Bands)
		d.Spine.Bands.Clear = orDefault(d.Spine.Bands.Clear, defaultClear, "a choice")
		fl := b.layers(front, "cover")
		if front != nil {
			d.Front = b.coverDesign(fl)
		}
		if back != nil {
			bl := b.layers(back, "cover")
			if slices.ContainsFunc(back, func(it *item) bool { return it.m.Has("same") }) {
				if front == nil && !d.Spoilt {
					b.add(diag.Diagnostic{Code: "no-front", At: set.Origins.Span(back[0].org), Message: "the back is to be like the front, and nothing is said of the front", Try: []string{"front like double-fillet"}})
				}
				bl = append(slices.Clone(fl), bl...)
			}
			d.Back = b.coverDesign(bl)
		}
	})
	return d
}

func orDefault(f model.Figure, l unit.Length, note string) model.Figure {
	if f.Note == "" {
		return byDefault(l, note)
	}
	return f
}

func wayOf(w string) model.Way {
	switch w {
	case "across":
		return model.Across
	case "down":
		return model.Down
	case "up":
		return model.Up
	case "pillar":
		return model.Pillar
	}
	return model.WayUnsaid
}

func (b *builder) title(it *item) model.Title {
	if ls := it.m.Every("line"); ls != nil {
		t := model.Title{}
		for i, c := range ls {
			t.Lines = append(t.Lines, c.Arg.Text)
			if i > 0 {
				t.Text += " "
			}
			t.Text += c.Arg.Text
		}
		return t
	}
	return model.Title{Text: it.m.Word("title"), Short: it.m.Word("short")}
}

// layers lists the blocks of a face, the weakest first: what the last `like` names, then each statement's own block, with
// what its `without` drops as a statement of its own at the end.
func (b *builder) layers(faces []*item, kind string) [][]*item {
	var out [][]*item
	for i := len(faces) - 1; i >= 0; i-- {
		name := faces[i].m.Word("pattern")
		if name == "" {
			continue
		}
		d := b.set.find(faces[i].scope, "pattern", name)
		if d == nil || b.set.fits[d.s] == nil {
			break
		}
		if got := b.set.fits[d.s].match.Word("kind"); got != kind {
			c, _ := faces[i].m.Get("pattern")
			b.add(diag.Diagnostic{Code: "wrong-pattern", At: c.Arg.Span, Message: fmt.Sprintf("the pattern «%s» is for a %s, and this is a %s", name, got, kind), Try: []string{"a pattern for a " + kind}})
			break
		}
		out = b.chain(d, faces[i].org, 0)
		break
	}
	for _, f := range faces {
		if f.kids != nil {
			out = append(out, f.kids)
		}
		if f.m.Has("stamp") {
			out = append(out, []*item{{s: f.s, w: f.w, m: f.m, scope: f.scope, from: f.from, org: f.org, key: "dropping"}})
		}
	}
	return out
}

// chain gives the blocks of a pattern and of what it is like, the farthest first. Origins are reached through the
// statement that named the pattern.
func (b *builder) chain(d *definition, via source.Origin, depth int) [][]*item {
	if depth > 32 {
		b.set.list.Add(diag.Diagnostic{Code: "cyclic-like", At: d.s.Args[0].Span, Message: fmt.Sprintf("the pattern «%s» is like itself, by way of others", d.s.Args[0].Text), Try: []string{"let one of them stand alone"}})
		return nil
	}
	var out [][]*item
	f := b.set.fits[d.s]
	if base := f.match.Word("base"); base != "" {
		if bd := b.set.find(d.scope, "pattern", base); bd != nil && b.set.fits[bd.s] != nil {
			out = b.chain(bd, via, depth+1)
		}
	}
	node := b.set.Origins.Node(b.set.nodeOf(d, "pattern"))
	org := b.set.Origins.Add(node, d.s.WordSpan.Join(d.s.Args[0].Span), via)
	if d.s.Block != nil {
		counts := map[string]int{}
		items := b.list(layer{d.s.Block.Statements, d.scope, org, model.OfPattern}, node.Path, counts)
		out = append(out, items)
	}
	return out
}

// merged puts layers together, drops what a `without` drops, and leaves the lets in.
func (b *builder) merged(layers [][]*item) []*item {
	var all []*item
	for _, l := range layers {
		all = append(all, l...)
	}
	drop := map[*definition]bool{}
	for _, it := range all {
		if it.key == "dropping" || it.w.Name == "without" {
			for _, c := range it.m.Every("stamp") {
				if d := b.set.find(it.scope, "stamp", c.Arg.Text); d != nil {
					drop[d] = true
				}
			}
		}
	}
	all = slices.DeleteFunc(all, func(it *item) bool { return it.key == "dropping" })
	return b.dropped(merge(all), drop)
}

// dropped leaves out the statements that draw one of the stamps.
func (b *builder) dropped(items []*item, drop map[*definition]bool) []*item {
	if len(drop) == 0 {
		return items
	}
	var out []*item
	for _, it := range items {
		if drop[b.drawn(it)] {
			continue
		}
		c := *it
		c.kids = b.dropped(it.kids, drop)
		out = append(out, &c)
	}
	return out
}

// drawn is the stamp that a centre or corner draws; an emblem is the volume's own.
func (b *builder) drawn(it *item) *definition {
	switch {
	case it.w.Name != "centre" && it.w.Name != "corner":
		return nil
	case it.m.Has("emblem"):
		return b.emblem
	case it.m.Has("stamp"):
		return b.set.find(it.scope, "stamp", it.m.Word("stamp"))
	}
	return nil
}

func (b *builder) spine(layers [][]*item) model.Spine {
	sp := model.Spine{Panels: map[int]model.Panel{}}
	var bandItems []*item
	for _, l := range layers {
		for _, it := range l {
			if it.w.Name == "bands" || it.w.Name == "let" || it.w.Name == "without" && it.m.Has("band") {
				bandItems = append(bandItems, it)
			}
		}
	}
	bandItems = merge(bandItems)
	b.within(bandItems, func() { sp.Bands = b.bands(bandItems) })
	n := sp.Bands.Count - len(sp.Bands.Without) + 1
	var expanded [][]*item
	for _, l := range layers {
		expanded = append(expanded, b.panels(l, n))
	}
	items := b.merged(expanded)
	b.within(items, func() {
		sp.Whole = b.panel(items, nil)
		for _, it := range items {
			if it.w.Name != "panel" {
				continue
			}
			var p int
			if _, err := fmt.Sscanf(it.key, "panel %d", &p); err != nil {
				continue
			}
			b.within(it.kids, func() { sp.Panels[p] = b.panel(it.kids, it) })
		}
	})
	return sp
}

func (b *builder) bands(items []*item) model.Bands {
	var bd model.Bands
	var without source.Origin
	for _, it := range items {
		if it.w.Name == "without" {
			without = it.org
			for _, c := range it.m.Every("band") {
				bd.Without = append(bd.Without, count(c.Arg.Text))
			}
			continue
		}
		if it.w.Name != "bands" {
			continue
		}
		if it.m.Has("wide") {
			if f, ok := b.figure(it, "wide", "bands"); ok {
				bd.Wide = f
			}
			if f, ok := b.figure(it, "clear", "clear beside a band"); ok {
				bd.Clear = f
			}
			continue
		}
		bd.Origin, bd.From = it.org, it.from
		bd.False, bd.Between = it.m.Word("seat") == "false", it.m.Has("first")
		bd.Double = nil
		if f, ok := b.figure(it, "double", "tape"); ok {
			bd.Double = &f
		}
		bd.Count = count(it.m.Word("count"))
		if !it.m.Has("count") {
			bd.Count = 0
		}
		switch {
		case it.m.Has("share"):
			bd.How = model.Sharing
			for _, c := range it.m.Every("share") {
				v, ok := b.eval(it.scope, c.Arg)
				if !ok {
					return b.noBands()
				}
				bd.Shares = append(bd.Shares, v.num)
			}
			if len(bd.Shares) != bd.Count+1 {
				b.add(diag.Diagnostic{
					Code: "wrong-shares", At: b.set.Origins.Span(it.org),
					Message: fmt.Sprintf("%d bands make %d panels, and %d shares are given", bd.Count, bd.Count+1, len(bd.Shares)),
					Try:     []string{"give one share for each panel, from the head"},
				})
				return b.noBands()
			}
		case it.m.Has("station"), it.m.Has("edge"):
			bd.How = model.Stations
			name := "station"
			if it.m.Has("edge") {
				bd.How, name = model.UpperEdges, "edge"
			}
			bd.OfBlock = it.m.Word("datum") == "block"
			var ok bool
			if bd.Stations, ok = b.stations(it, name); !ok {
				return b.noBands()
			}
			if bd.Count > 0 && bd.Count != len(bd.Stations) {
				b.add(diag.Diagnostic{Code: "wrong-count", At: b.set.Origins.Span(it.org), Message: fmt.Sprintf("%d bands are announced and %d are given", bd.Count, len(bd.Stations)), Try: []string{"give as many, or leave the number out"}})
			}
			bd.Count = len(bd.Stations)
		case bd.Count > 0:
			bd.How = model.Equal
			head, tail := "head", "tail"
			if bd.Between {
				head, tail = "first", "last"
			}
			bd.Head, _ = b.lengthOf(it, head)
			bd.Tail, _ = b.lengthOf(it, tail)
		default:
			bd.How = model.NoBands
		}
	}
	for _, w := range bd.Without {
		if w < 1 || w > bd.Count {
			b.add(diag.Diagnostic{Code: "no-such-band", At: b.set.Origins.Span(without), Message: fmt.Sprintf("there is no band %d to leave out: there are %d", w, bd.Count), Try: []string{"bands are counted from the head"}})
			bd.Without = nil
			break
		}
	}
	return bd
}

// stations reads the places of bands, which are given from the head down.
func (b *builder) stations(it *item, name string) ([]unit.Length, bool) {
	var out []unit.Length
	for _, c := range it.m.Every(name) {
		l, ok := b.length(it, c.Arg)
		if !ok {
			return nil, false
		}
		if n := len(out); n > 0 && l.Cmp(out[n-1]) <= 0 {
			b.add(diag.Diagnostic{Code: "bands-out-of-order", At: c.Arg.Span, Message: fmt.Sprintf("the band at %s does not stand below the one at %s", l, out[n-1]), Try: []string{"give the bands from the head down"}})
			return nil, false
		}
		out = append(out, l)
	}
	return out, true
}

// onTape makes bands as wide as the tape that they are sewn on, unless their width is said; a band is no narrower than that.
func (b *builder) onTape(bd model.Bands) model.Bands {
	switch {
	case bd.Double == nil:
	case bd.Wide.From == model.Default:
		bd.Wide = byDefault(bd.Double.Length, "as wide as the tape")
	case bd.Wide.Length.Cmp(bd.Double.Length) < 0:
		b.add(diag.Diagnostic{
			Severity: diag.Warning, Code: "band-under-tape", At: b.set.Origins.Span(bd.Wide.Origin),
			Message: fmt.Sprintf("the bands are said to be %s wide, and the tape or double cord under them is %s", bd.Wide.Length, bd.Double.Length),
			Try:     []string{"bands wide " + bd.Double.Length.String(), "leave the width out: it is the tape's then"},
		})
	}
	return bd
}

// noBands is what is known of bands where a mistake in them has been told.
func (b *builder) noBands() model.Bands {
	b.lost = append(b.lost, "bands")
	return model.Bands{}
}

// panel reads what stands in a panel, or on the whole spine.
func (b *builder) panel(items []*item, at *item) model.Panel {
	var p model.Panel
	if at != nil {
		p.Origin = at.org
	}
	for _, it := range items {
		switch it.w.Name {
		case "film":
			p.Film = b.set.film(it.scope, it.m.Word("film"))
		case "fillet":
			if f, ok := b.fillet(it); ok {
				p.Fillets = append(p.Fillets, f)
			}
		}
	}
	p.Frames, p.Centre, p.Letters = b.faceParts(items)
	return p
}

func (b *builder) coverDesign(layers [][]*item) *model.CoverDesign {
	items := b.merged(layers)
	var c model.CoverDesign
	b.within(items, func() {
		for _, it := range items {
			if it.w.Name == "film" {
				c.Film = b.set.film(it.scope, it.m.Word("film"))
			}
		}
		c.Frames, c.Centre, c.Letters = b.faceParts(items)
	})
	return &c
}

// faceParts reads frames, centre and lettering, which stand alike on panels and covers.
func (b *builder) faceParts(items []*item) (frames []model.Frame, centre *model.Centre, letters []model.Letter) {
	spoilt := map[string]bool{} // frames that were not understood: what leans on them is silent
	for _, it := range items {
		switch it.w.Name {
		case "frame":
			b.within(it.kids, func() {
				f, ok := b.frame(it)
				if !ok || it.spoilt || spoilt[f.Inside] {
					spoilt[f.Name] = true
					return
				}
				if f.Inside != "" && !slices.ContainsFunc(frames, func(o model.Frame) bool { return o.Name == f.Inside }) {
					if b.lostOf("frame") {
						return
					}
					b.add(diag.Diagnostic{Code: "unknown-frame", At: b.set.Origins.Span(f.Origin), Message: fmt.Sprintf("no frame before this one is named «%s»", f.Inside), Try: []string{"name the outer frame, and put it first: frame " + f.Inside + " { … }"}})
					return
				}
				frames = append(frames, f)
			})
		case "centre":
			centre = b.centre(it)
		case "letter":
			if it.m.Form == 0 {
				letters = nil
				continue
			}
			b.within(it.kids, func() {
				if l, ok := b.letter(it); ok && !it.spoilt {
					letters = append(letters, l)
				}
			})
		}
	}
	return frames, centre, letters
}

func (b *builder) lengths(it *item, name string) ([]unit.Length, bool) {
	var out []unit.Length
	for _, c := range it.m.Every(name) {
		l, ok := b.length(it, c.Arg)
		if !ok {
			return nil, false
		}
		out = append(out, l)
	}
	return out, true
}

var filletGap = mm("1mm") // tried by eye on covers of 140 × 216 mm

func (b *builder) fillet(it *item) (model.Fillet, bool) {
	ws, ok := b.lengths(it, "width")
	if !ok {
		return model.Fillet{}, false
	}
	f := model.Fillet{Widths: ws, Gap: filletGap, Head: it.m.Word("end") == "head", Tail: it.m.Word("end") == "tail", Origin: it.org}
	if l, ok := b.lengthOf(it, "gap"); ok {
		f.Gap = l
	}
	f.Inset, _ = b.lengthOf(it, "inset")
	return f, true
}

// frame reads the courses of a frame from the outside in.
func (b *builder) frame(it *item) (model.Frame, bool) {
	f := model.Frame{Name: it.m.Word("name"), Origin: it.org}
	for _, k := range it.kids {
		switch k.w.Name {
		case "inset":
			if l := b.lengthPtr(k, "inset"); l != nil {
				f.Sides, f.Ends = l, l
			} else {
				f.Sides, f.Ends = b.lengthPtr(k, "sides"), b.lengthPtr(k, "ends")
			}
		case "inside":
			f.Inside = k.m.Word("frame")
			var ok bool
			if f.By, ok = b.lengthOf(k, "by"); !ok {
				return f, false
			}
		case "fillet":
			ws, ok := b.lengths(k, "width")
			if !ok {
				return f, false
			}
			gap := filletGap
			if l, ok := b.lengthOf(k, "gap"); ok {
				gap = l
			}
			if l := b.lengthPtr(k, "inset"); l != nil && f.Sides == nil {
				f.Sides, f.Ends = l, l
			}
			for i := range ws {
				if i > 0 {
					f.Stack = append(f.Stack, model.Course{Air: &gap, Origin: k.org})
				}
				f.Stack = append(f.Stack, model.Course{Line: &ws[i], Origin: k.org})
			}
		case "air":
			if l := b.lengthPtr(k, "air"); l != nil {
				f.Stack = append(f.Stack, model.Course{Air: l, Origin: k.org})
			}
		case "roll":
			r := b.set.roll(k.scope, k.m.Word("roll"))
			if r == nil {
				return f, false
			}
			f.Stack = append(f.Stack, model.Course{Roll: r, Facing: k.m.Word("facing"), Origin: k.org})
		case "corner":
			if how := k.m.Word("how"); how != "" {
				f.Plain = how == "plain"
				continue
			}
			st := b.set.stamp(k.scope, k.m.Word("stamp"))
			if st == nil {
				return f, false
			}
			f.Corner = append(f.Corner, model.Corner{Stamp: st, Facing: k.m.Word("facing"), Inset: b.lengthPtr(k, "inset"), Origin: k.org})
		case "film":
			f.Film = b.set.film(k.scope, k.m.Word("film"))
		}
	}
	return f, true
}

func (b *builder) centre(it *item) *model.Centre {
	if it.m.Form == 0 {
		return nil
	}
	c := &model.Centre{Origin: it.org, Each: it.m.Has("each"), Emblem: it.m.Has("emblem")}
	if !c.Emblem {
		if c.Stamp = b.set.stamp(it.scope, it.m.Word("stamp")); c.Stamp == nil {
			return nil
		}
	}
	c.Fill = b.ratio(it, "fill")
	c.Least, c.Most = b.lengthPtr(it, "least"), b.lengthPtr(it, "most")
	if c.Fill == nil && c.Least != nil {
		c.Fill = big.NewRat(1, 1) // a size that is said: the whole clear box may be taken
	}
	c.Turned = b.degrees(it, "turned")
	c.Raised = b.ratio(it, "raised")
	return c
}

func (b *builder) letter(it *item) (model.Letter, bool) {
	l := model.Letter{
		What: it.m.Word("what"), Text: it.m.Word("text"), Face: "serif", Least: mm("3mm"), Most: mm("8mm"),
		LinesLeast: 1, LinesMost: 3, Spaced: 60, Origin: it.org,
	}
	if name := it.m.Word("face"); name != "" {
		d := b.set.find(it.scope, "face", name)
		switch {
		case d == nil:
			return l, false
		case d.s == nil:
			l.Face = name
		default:
			f := b.set.fits[d.s]
			if f == nil {
				return l, false
			}
			a := d.s.Args[len(d.s.Args)-1]
			path := beside(d.scope.file.Source.Path, f.match.Word("file"))
			b.set.faceFile(path, b.set.Origins.Add(source.Node{File: d.scope.file.Source.Path, Path: "face " + name}, a.Span, 0))
			l.Face = path
		}
	}
	good := true
	for _, k := range it.kids {
		switch k.w.Name {
		case "cap":
			var ok bool
			if l.Least, ok = b.lengthOf(k, "least"); !ok {
				good = false
			}
			l.Most = l.Least
			if m, ok := b.lengthOf(k, "most"); ok {
				l.Most = m
			}
			if l.Most.Cmp(l.Least) < 0 {
				b.add(diag.Diagnostic{Code: "least-over-most", At: b.set.Origins.Span(k.org), Message: fmt.Sprintf("the least, %s, is more than the most, %s", l.Least, l.Most), Try: []string{fmt.Sprintf("cap %s to %s", l.Most, l.Least)}})
				good = false
			}
		case "lines":
			l.LinesLeast = count(k.m.Word("least"))
			l.LinesMost = l.LinesLeast
			if k.m.Has("most") {
				l.LinesMost = max(l.LinesLeast, count(k.m.Word("most")))
			}
		case "size":
			l.Same = k.m.Word("size") == "same"
		case "spaced":
			if r := b.ratio(k, "spaced"); r != nil {
				l.Spaced = thousandths(r)
			}
		case "thickened":
			l.Thickened = b.lengthPtr(k, "thickened")
			l.Plain = l.Thickened == nil
		case "capitals":
			l.Capitals = k.m.Word("how")
		case "leading":
			if r := b.ratio(k, "leading"); r != nil {
				l.Leading = r
			}
		case "way":
			l.Ways = append(l.Ways, wayOf(k.m.Word("way")))
		case "raised":
			l.Raised = b.ratio(k, "raised")
		case "baseline":
			l.Baseline = b.lengthPtr(k, "baseline")
		}
	}
	return l, good
}
