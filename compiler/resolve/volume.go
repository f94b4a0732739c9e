package resolve

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"unicode"

	"headcap/compiler/model"
	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
	"headcap/lang/vocab"
)

// shelf finds the series and volumes of the entry file, and reads what each volume is measured by.
func (set *Set) shelf(sc *scope) {
	folders := map[string]*ast.Statement{}
	for _, s := range sc.file.Statements {
		f := set.fits[s]
		if f == nil {
			continue
		}
		switch f.word.Name {
		case "series":
			set.series(sc, s, f, folders)
		case "volume":
			org := set.Origins.Add(source.Node{File: sc.file.Source.Path, Path: "volume " + volumeName(f)}, s.WordSpan.Join(s.Args[len(s.Args)-1].Span), 0)
			set.volume(sc, s, f, -1, nil, org, folders)
		case "face":
			a := s.Args[len(s.Args)-1]
			org := set.Origins.Add(source.Node{File: sc.file.Source.Path, Path: "face " + f.match.Word("name")}, a.Span, 0)
			set.faceFile(beside(sc.file.Source.Path, a.Text), org)
		}
	}
	set.attribute()
}

// attribute gives what was found in a volume's own block to that volume, so that its mistakes do not hold up the others.
func (set *Set) attribute() {
	type block struct {
		at  source.Span
		key string
	}
	var blocks []block
	for i, v := range set.vols {
		for _, l := range v.layers {
			if l.from == model.Said && len(l.statements) > 0 {
				first, last := l.statements[0].Span, l.statements[len(l.statements)-1].Span
				blocks = append(blocks, block{first.Join(last), set.Shelf.Volumes[i].Key})
			}
		}
	}
	set.list.Attribute(func(d diag.Diagnostic) string {
		for _, b := range blocks {
			if d.At.File == b.at.File && d.At.Start >= b.at.Start && d.At.End <= b.at.End {
				return b.key
			}
		}
		return ""
	})
}

func (set *Set) faceFile(path string, org source.Origin) {
	if !set.faces[path] {
		set.faces[path] = true
		set.Asked = append(set.Asked, path)
		set.Shelf.Faces = append(set.Shelf.Faces, model.FaceFile{Key: path, File: path, Origin: org})
	}
}

func volumeName(f *fitted) string {
	if n := f.match.Word("number"); n != "" {
		return n
	}
	return f.match.Word("title")
}

func (set *Set) series(sc *scope, s *ast.Statement, f *fitted, folders map[string]*ast.Statement) {
	title := f.match.Word("title")
	org := set.Origins.Add(source.Node{File: sc.file.Source.Path, Path: "series " + title}, s.WordSpan.Join(s.Args[0].Span), 0)
	index := len(set.Shelf.Series)
	set.Shelf.Series = append(set.Shelf.Series, model.Series{Title: title, Slug: Slug(title)})
	base := layer{s.Block.Statements, sc, org, model.OfSeries}
	numbers := map[string]*ast.Statement{}
	for _, v := range s.Block.Statements {
		fv := set.fits[v]
		if fv == nil || fv.word.Name != "volume" {
			continue
		}
		name := volumeName(fv)
		if old := numbers[name]; old != nil {
			set.list.Add(diag.Diagnostic{
				Code: "duplicate-volume", At: v.Args[0].Span, Message: "the series has a volume " + name + " already",
				Notes: []diag.Note{{At: old.Args[0].Span, Text: "here"}}, Try: []string{"number each volume once"},
			})
			continue
		}
		numbers[name] = v
		vorg := set.Origins.Add(source.Node{File: sc.file.Source.Path, Path: "series " + title + "/volume " + name}, v.WordSpan.Join(v.Args[len(v.Args)-1].Span), 0)
		set.volume(sc, v, fv, index, &base, vorg, folders)
	}
	if !slices.ContainsFunc(s.Block.Statements, func(v *ast.Statement) bool {
		return set.fits[v] == nil && (v.Word == "volume" || vocab.Known(v.Word) == nil)
	}) {
		set.gaps(numbers)
	}
	b := &builder{set: set}
	for _, it := range merge(b.gather(base)) {
		if it.w.Name == "range" {
			set.Shelf.Series[index].Range = it.m.Word("end")
		}
	}
}

// gaps warns where the numbers of a series leave one out: a volume that is missing from a set is a mistake more often than
// it is meant.
func (set *Set) gaps(numbers map[string]*ast.Statement) {
	var ns []int
	at := map[int]*ast.Statement{}
	for n, v := range numbers {
		k := count(n)
		switch old := at[k]; {
		case k >= 1<<20 || strings.Trim(n, "0123456789") != "":
		case old == nil:
			ns, at[k] = append(ns, k), v
		case v.WordSpan.Start < old.WordSpan.Start: // 2 and 02
			at[k] = v
		}
	}
	slices.Sort(ns)
	for i := 1; i < len(ns); i++ {
		if ns[i] != ns[i-1]+1 {
			set.list.Add(diag.Diagnostic{
				Severity: diag.Warning, Code: "number-gap", At: at[ns[i]].WordSpan.Join(at[ns[i]].Args[0].Span),
				Message: fmt.Sprintf("the series goes from volume %d to volume %d", ns[i-1], ns[i]), Try: []string{"check the numbers of its volumes"},
			})
		}
	}
}

func (set *Set) volume(sc *scope, s *ast.Statement, f *fitted, series int, base *layer, org source.Origin, folders map[string]*ast.Statement) {
	v := model.Volume{Series: series, Origin: org, Name: f.match.Word("title"), Number: 0}
	if n := f.match.Word("number"); n != "" {
		v.Number = count(n)
	}
	v.Slug = Slug(v.Name)
	if v.Number > 0 {
		v.Slug = strings.Trim(fmt.Sprintf("%02d-%s", v.Number, Slug(v.Name)), "-")
	}
	v.Folder = v.Slug
	if series >= 0 {
		v.Folder = set.Shelf.Series[series].Slug + "/" + v.Slug
		set.Shelf.Series[series].Volumes = append(set.Shelf.Series[series].Volumes, len(set.Shelf.Volumes))
	}
	if old := folders[v.Folder]; old != nil {
		set.list.Add(diag.Diagnostic{
			Code: "name-clash", At: s.Args[len(s.Args)-1].Span, Message: "two volumes would be written to the folder " + v.Folder,
			Notes: []diag.Note{{At: old.Args[len(old.Args)-1].Span, Text: "the other"}}, Try: []string{"number the volumes, or name them apart"},
		})
	}
	folders[v.Folder] = s
	v.Key = v.Folder
	vol := &volume{index: len(set.Shelf.Volumes)}
	if base != nil {
		vol.layers = append(vol.layers, *base)
	}
	vol.layers = append(vol.layers, layer{s.Block.Statements, sc, org, model.Said})
	b := &builder{set: set, volume: v.Key}
	items := b.volumeItems(vol)
	v.Spoilt = slices.ContainsFunc(vol.layers, func(l layer) bool { return !set.measurable(l.statements) })
	b.within(items, func() { b.measures(&v, items) })
	set.Shelf.Volumes = append(set.Shelf.Volumes, v)
	set.vols = append(set.vols, vol)
}

func (b *builder) volumeItems(vol *volume) []*item {
	var all []*item
	for _, l := range vol.layers {
		for _, it := range b.gather(l) {
			if it.w.Name != "volume" {
				all = append(all, it)
			}
		}
	}
	return merge(all)
}

// Slug makes a name for files: small letters a to z, figures and hyphens.
func Slug(title string) string {
	var out strings.Builder
	gap := false
	for _, r := range strings.ToLower(title) {
		if p, ok := plainLetter[r]; ok {
			r = p
		}
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			if gap && out.Len() > 0 {
				out.WriteByte('-')
			}
			gap = false
			out.WriteRune(r)
		case r == '\'' || r == '’' || unicode.Is(unicode.Mn, r):
		default:
			gap = true
		}
		if out.Len() > 60 {
			break
		}
	}
	if out.Len() == 0 {
		return "untitled"
	}
	return out.String()
}

// plainLetter strips the marks of the letters of western Europe, so that names of files stay readable.
var plainLetter = func() map[rune]rune {
	m := map[rune]rune{}
	for plain, marked := range map[rune]string{
		'a': "àáâãäåā", 'c': "ç", 'e': "èéêëē", 'i': "ìíîïī", 'n': "ñ", 'o': "òóôõöøō", 'u': "ùúûüū", 'y': "ýÿ", 's': "š", 'z': "ž",
	} {
		for _, r := range marked {
			m[r] = plain
		}
	}
	return m
}()

// Named defaults. Each is told by `explain` and listed after a build.
var (
	defaultBoards  = mm("2.5mm") // common practice, no source
	defaultSquares = mm("3mm")   // common practice, no source; an eighth of an inch in Bailey 1916, p. 36
	defaultGap     = mm("7mm")   // common practice, no source: 7 to 10 mm between flat pieces
	defaultFrench  = mm("1/8in") // Cockerell 1901, p. 176; Bailey 1916, p. 46
	defaultTurnIn  = mm("3/4in") // Zaehnsdorf 1890, p. 90, for an octavo; about an inch in Cockerell 1901, p. 154
	defaultNick    = mm("1/8in") // Cockerell 1901, p. 153, for an octavo
	defaultLeather = mm("1mm")   // a choice
	defaultBand    = mm("3mm")   // from memory
	defaultClear   = mm("2.5mm") // a choice: half a band's foot, the leather and a millimetre
)

func byDefault(l unit.Length, note string) model.Figure {
	return model.Figure{Length: l, Note: note}
}

// measures reads what a volume is measured by.
func (b *builder) measures(v *model.Volume, items []*item) {
	v.Bound = model.Binding{
		Boards: byDefault(defaultBoards, "common practice, no source"), Gap: byDefault(defaultGap, "common practice, no source: 7 to 10 mm"),
		JointWidth: byDefault(defaultFrench, "an eighth of an inch: Cockerell 1901, p. 176"), Lining: byDefault(unit.MM(0), "none"),
		TurnIn: byDefault(defaultTurnIn, "three quarters of an inch: Zaehnsdorf 1890, p. 90"), Nick: byDefault(defaultNick, "an eighth of an inch each way: Cockerell 1901, p. 153"),
	}
	v.Bound.Head = byDefault(defaultSquares, "common practice, no source")
	v.Bound.Tail, v.Bound.Fore = v.Bound.Head, v.Bound.Head
	v.Leather = model.Leather{Name: "brown", Thick: byDefault(defaultLeather, "a choice")}
	landscape, leather := false, false
	var block *item
	for _, it := range items {
		switch it.w.Name {
		case "block":
			block = it
			b.block(v, it)
		case "thick":
			b.thick(v, it)
		case "landscape":
			landscape = true
		case "binding":
			b.binding(v, it)
		case "cover":
			v.Cover = b.cover(it)
		case "margin":
			if f, ok := b.figure(it, "margin", "margin"); ok {
				v.Margin = &f
			}
		case "leather":
			leather = true
			b.leather(v, it)
		case "spine":
			b.back(v, it)
		case "covered":
			b.covered(v, it)
		}
	}
	if !leather {
		v.Leather.Colour = b.colourOf(b.set.find(b.set.bundled, "leather", "brown"))
	}
	if block == nil && v.Cover == nil && !v.Spoilt {
		v.Spoilt = true
		b.add(diag.Diagnostic{
			Code: "no-measures", At: b.set.Origins.Span(v.Origin), Message: "this volume says no measures",
			Try: []string{"block 228mm x 150mm x 28mm", "cover 9 1/4in x 6 1/4in, for a face as it is"},
		})
	}
	if block != nil && v.Block.Wide.Length.Cmp(v.Block.Tall.Length) > 0 && !landscape && !v.Spoilt {
		b.add(diag.Diagnostic{
			Code: "wider-than-tall", At: b.set.Origins.Span(block.org), Message: fmt.Sprintf("the block is wider (%s) than it is tall (%s): sizes are tall x wide x thick", v.Block.Wide.Length, v.Block.Tall.Length),
			Try: []string{"turn the figures round, or say `landscape`"},
		})
	}
	if block != nil && v.Block.Thick.Length.Sign() == 0 && !v.Spoilt {
		v.Spoilt = true
		b.add(diag.Diagnostic{
			Code: "no-thickness", At: b.set.Origins.Span(block.org), Message: "the block's thickness is not said",
			Try: []string{"block tall …, wide …, thick 28mm", "thick 410 pages of 105um estimated"},
		})
	}
}

// measurable says whether all that a block says of measures was understood. A word that is none may have meant a measure.
func (set *Set) measurable(statements []*ast.Statement) bool {
	for _, s := range statements {
		switch f := set.fits[s]; {
		case f == nil:
			if s.Block == nil && s.Word == "spine" || !slices.Contains(unmeasured, s.Word) {
				return false
			}
		case (f.word.Name == "binding" || f.word.Name == "covered") && s.Block != nil && !set.understood(s.Block.Statements):
			return false
		}
	}
	return true
}

// unmeasured are the words of a series or volume that say nothing of its measures.
var unmeasured = append([]string{"volume", "number", "range", "device"}, decidable...)

func (set *Set) understood(statements []*ast.Statement) bool {
	good := true
	ast.Walk(statements, func(s *ast.Statement) bool {
		good = good && set.fits[s] != nil
		return s.Word != "volume"
	})
	return good
}

func (b *builder) block(v *model.Volume, it *item) {
	read := func(name string, into *model.Figure) {
		if f, ok := b.figure(it, name, "block, "+name); ok {
			*into = f
		} else if it.m.Has(name) {
			v.Spoilt = true
		}
	}
	read("tall", &v.Block.Tall)
	read("wide", &v.Block.Wide)
	read("thick", &v.Block.Thick)
	b.estimate(v, it)
}

func (b *builder) estimate(v *model.Volume, it *item) {
	if it.m.Has("state") {
		v.Block.Thick.From = model.Estimated
		v.Open = append(v.Open, model.Open{What: "its thickness is estimated", Origin: it.org})
	}
}

// thick reads readings, of which the median is taken, or reckons an estimate from pages.
func (b *builder) thick(v *model.Volume, it *item) {
	if rs := it.m.Every("reading"); rs != nil {
		var ls []unit.Length
		for _, c := range rs {
			l, ok := b.length(it, c.Arg)
			if !ok {
				v.Spoilt = true
				return
			}
			ls = append(ls, l)
		}
		v.Block.Readings = ls
		sorted := slices.Clone(ls)
		slices.SortFunc(sorted, unit.Length.Cmp)
		n := len(sorted)
		l, note := sorted[n/2], "block, thick"
		if n%2 == 0 {
			l = sorted[n/2-1].Add(sorted[n/2]).DivInt(2)
		}
		if n > 1 {
			note = fmt.Sprintf("median of %d readings", n)
		}
		v.Block.Thick = model.Figure{Length: l, From: it.from, Note: note, Origin: it.org}
		// Common practice, no source: readings of one block that differ by more than half a millimetre want taking again.
		if spread := sorted[n-1].Sub(sorted[0]); spread.Cmp(mm("0.5mm")) > 0 {
			b.add(diag.Diagnostic{
				Severity: diag.Warning, Code: "wide-readings", At: b.set.Origins.Span(it.org),
				Message: fmt.Sprintf("the readings differ by %s; the median %s is taken", spread, l), Try: []string{"press the block and measure again"},
			})
		}
		b.estimate(v, it)
		return
	}
	pages := big.NewRat(int64(count(it.m.Word("pages"))), 1)
	var l unit.Length
	var note string
	leaves := new(big.Rat).SetInt64(int64((count(it.m.Word("pages")) + 1) / 2))
	switch {
	case it.m.Has("caliper"):
		c, ok := b.lengthOf(it, "caliper")
		if !ok {
			v.Spoilt = true
			return
		}
		l, note = c.MulRat(leaves), fmt.Sprintf("%s leaves of %s", leaves.RatString(), c)
	case it.m.Has("weight"):
		w, _ := it.m.Get("weight")
		bulk := b.ratio(it, "bulk")
		g, ok := b.eval(it.scope, w.Arg)
		if !ok || bulk == nil {
			v.Spoilt = true
			return
		}
		// Grammage times bulk is the caliper: g/m² × cm³/g = µm (ISO 534, as reported).
		caliper := unit.FromRat(new(big.Rat).Mul(new(big.Rat).Mul(g.num, bulk), big.NewRat(1000, 1)), unit.Micrometre)
		l, note = caliper.MulRat(leaves), fmt.Sprintf("%s leaves of %s by grammage and bulk", leaves.RatString(), caliper)
	default:
		p, _ := it.m.Get("ppi")
		d, ok := b.eval(it.scope, p.Arg)
		if !ok || d.num.Sign() <= 0 {
			v.Spoilt = true
			return
		}
		l = mm("1in").MulRat(new(big.Rat).Quo(pages, d.num))
		note = fmt.Sprintf("%s pages at %s to the inch", pages.RatString(), d.num.RatString())
	}
	v.Block.Thick = model.Figure{Length: l.As(unit.Millimetre), From: model.Estimated, Note: note, Origin: it.org}
	v.Open = append(v.Open, model.Open{What: "its thickness is estimated", Origin: it.org})
}

func (b *builder) binding(v *model.Volume, it *item) {
	v.Bound.Origin = it.org
	if it.m.Word("kind") == "laced" {
		v.Bound.Kind = model.Laced
	}
	set := func(into *model.Figure, k *item, name, note string) {
		if f, ok := b.figure(k, name, note); ok {
			*into = f
		}
	}
	for _, k := range it.kids {
		switch k.w.Name {
		case "boards":
			set(&v.Bound.Boards, k, "boards", "boards")
		case "squares":
			if k.m.Has("squares") {
				set(&v.Bound.Head, k, "squares", "squares")
				v.Bound.Tail, v.Bound.Fore = v.Bound.Head, v.Bound.Head
				continue
			}
			set(&v.Bound.Head, k, "head", "square at head")
			set(&v.Bound.Tail, k, "tail", "square at tail")
			set(&v.Bound.Fore, k, "fore", "square at fore-edge")
		case "gap":
			set(&v.Bound.Gap, k, "gap", "gap")
		case "joint":
			if k.m.Word("joint") == "backed" {
				v.Bound.Joint = model.Backed
				v.Bound.JointWidth = byDefault(unit.MM(0), "backed joint: the board butts on the shoulder")
			}
			set(&v.Bound.JointWidth, k, "width", "joint")
			if f, ok := b.figure(k, "shoulder", "shoulder"); ok {
				v.Bound.Shoulder = &f
			}
		case "lining":
			set(&v.Bound.Lining, k, "lining", "lining")
		case "turn-in":
			set(&v.Bound.TurnIn, k, "turn", "turn-in")
		case "nick":
			set(&v.Bound.Nick, k, "nick", "nick")
		}
	}
}

func (b *builder) cover(it *item) *model.Cover {
	if f, ok := b.figure(it, "extra", "cover over block"); ok {
		return &model.Cover{Over: &f}
	}
	t, ok1 := b.figure(it, "tall", "cover, tall")
	w, ok2 := b.figure(it, "wide", "cover, wide")
	if !ok1 || !ok2 {
		return nil
	}
	return &model.Cover{Tall: t, Wide: w}
}

func (b *builder) leather(v *model.Volume, it *item) {
	v.Leather.Name = it.m.Word("name")
	shade := it.m.Word("shade")
	v.Leather.Colour = b.leatherColourAt(it, v.Leather.Name, shade)
	if shade != "" {
		v.Leather.Name += " " + shade
	}
	if f, ok := b.figure(it, "thick", "leather"); ok {
		v.Leather.Thick = f
	}
	v.Leather.Batch = it.m.Word("batch")
	if other := it.m.Word("other"); other != "" {
		b.leatherColourAt(it, other, it.m.Word("othershade"))
		v.Open = append(v.Open, model.Open{What: "whether its leather is " + v.Leather.Name + " or " + strings.TrimSpace(other+" "+it.m.Word("othershade")) + " is still open", Origin: it.org})
	}
}

func (b *builder) leatherColourAt(it *item, name, shade string) string {
	d := b.set.find(it.scope, "leather", name)
	if shade != "" {
		if s := b.set.find(it.scope, "leather", name+"-"+shade); s != nil {
			d = s
		} else {
			c, _ := it.m.Get("name")
			b.add(diag.Diagnostic{Code: "no-shade", At: c.Arg.Span, Message: fmt.Sprintf("there is no %s %s leather", shade, name), Try: []string{fmt.Sprintf("leather %s-%s { colour #… }", name, shade)}})
		}
	}
	return b.colourOf(d)
}

func (b *builder) colourOf(d *definition) string {
	if d == nil || d.s.Block == nil {
		return "#6b4a2f"
	}
	for _, s := range d.s.Block.Statements {
		if f := b.set.fits[s]; f != nil && f.word.Name == "colour" {
			return f.match.Word("colour")
		}
	}
	return "#6b4a2f"
}

// back reads the shape or measure of a spine.
func (b *builder) back(v *model.Volume, it *item) {
	switch it.m.Word("shape") {
	case "flat":
		v.Back.Shape = model.Flat
	case "round":
		v.Back.Shape = model.Round
	}
	if f, ok := b.figure(it, "strip", "paper strip over the round"); ok {
		v.Back.Strip = &f
	}
	if f, ok := b.figure(it, "caliper", "calipers straight across"); ok {
		v.Back.Caliper = &f
	}
}
