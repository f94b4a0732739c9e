package resolve

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
	"headcap/lang/vocab"
)

// check holds every statement against the vocabulary, once, and tells all that is wrong with it. What does not fit is
// left out of `fits`, so that nothing later speaks of it again.
func (set *Set) check(sc *scope, place vocab.Place, statements []*ast.Statement) {
	var before, bare *ast.Statement
	var inner vocab.Place // what the block of bare would hold
	for _, s := range statements {
		w := vocab.Find(place, s.Word)
		if w == nil && bare != nil && vocab.Find(inner, s.Word) != nil {
			set.unopened(bare)
			set.checked[s], before = true, s
			continue
		}
		set.statement(sc, place, s, before)
		before = s
		if bare = nil; w != nil && s.Block == nil {
			bare, inner = s, w.Opens
			if inner == vocab.Either {
				inner = vocab.Spine
				if slices.ContainsFunc(s.Args, func(a ast.Arg) bool { return a.Text == "cover" }) {
					inner = vocab.Cover
				}
			}
		}
	}
}

// unopened tells that the block of a statement is not opened, so that what stands after it seems misplaced: once, and not
// where the statement has been complained of already.
func (set *Set) unopened(bare *ast.Statement) {
	if set.fits[bare] == nil {
		return
	}
	delete(set.fits, bare)
	end := source.Span{File: bare.Span.File, Start: bare.Span.End, End: bare.Span.End}
	set.list.Add(diag.Diagnostic{
		Code: "missing-block", At: bare.Span, Message: "the block of this `" + bare.Word + "` is not opened, and what follows belongs into it",
		Try: []string{"put { at the end of this line"}, Fix: &diag.Fix{At: end, With: " {"},
	})
}

func (set *Set) statement(sc *scope, place vocab.Place, s *ast.Statement, before *ast.Statement) {
	if set.checked[s] {
		return
	}
	set.checked[s] = true
	w := vocab.Find(place, s.Word)
	if w == nil {
		set.unknownWord(place, s)
		return
	}
	if w.Name == "otherwise" && (before == nil || before.Word != "when") {
		if before != nil && vocab.Known(before.Word) == nil {
			return // its `when` may be what was misspelt
		}
		set.list.Add(diag.Diagnostic{Code: "lone-otherwise", At: s.WordSpan, Message: "`otherwise` stands right after the `when` that it answers", Try: []string{"move it there, or take it away"}})
		return
	}
	m, misfit := w.Fit(s.Args)
	good := misfit == nil
	if !good {
		set.misfit(w, s, misfit)
	} else {
		for i := range m.Captures {
			good = set.capture(sc, w, s, &m.Captures[i]) && good
		}
		good = good && set.ordered(&m)
	}
	switch {
	case s.Block != nil && w.Opens == "":
		set.list.Add(diag.Diagnostic{Code: "block-not-wanted", At: source.Span{File: s.Block.Span.File, Start: s.Block.Span.Start, End: s.Block.Span.Start + 1}, Message: "`" + w.Name + "` takes no block", Try: w.Usage()})
		good = false
	case s.Block == nil && w.Must && good:
		set.list.Add(diag.Diagnostic{Code: "missing-block", At: s.Span, Message: "`" + w.Name + "` wants a block in braces", Try: []string{w.Example}})
		good = false
	}
	if good && (w.Name == "let" || w.Name == "use") {
		c, _ := m.Get("name")
		good = set.mayName(c.Arg)
	}
	if good {
		set.fits[s] = &fitted{w, m}
	}
	if s.Block == nil || w.Opens == "" {
		return
	}
	inner := w.Opens
	switch inner {
	case vocab.Same:
		inner = place
	case vocab.Either:
		inner = vocab.Spine
		if m.Word("kind") == "cover" {
			inner = vocab.Cover
		}
		if misfit != nil {
			return // which of the two is not known, so nothing true can be said of what is in it
		}
	}
	if w.Name == "when" && (place == vocab.Series || place == vocab.Volume) {
		for _, t := range s.Block.Statements {
			if w := vocab.Find(place, t.Word); w != nil && !slices.Contains(decidable, w.Name) {
				set.list.Add(diag.Diagnostic{
					Code: "undecidable", At: t.WordSpan, Message: "`" + w.Name + "` cannot depend on a measure: the measures are reckoned from it",
					Try: []string{"say it outside the `when`"},
				})
			}
		}
	}
	set.check(sc, inner, s.Block.Statements)
}

// mayName refuses to call something of the author's by a word of the language.
func (set *Set) mayName(a ast.Arg) bool {
	if !vocab.Reserved(a.Text) {
		return true
	}
	set.list.Add(diag.Diagnostic{
		Code: "reserved-name", At: a.Span, Message: "«" + a.Text + "» is a word of the language, so nothing can be called that",
		Try: []string{"call it my-" + a.Text},
	})
	return false
}

// decidable are the words of a series or volume that may stand in a `when`.
var decidable = []string{"title", "author", "emblem", "film", "lettering", "apart", "spine", "front", "back", "when", "otherwise"}

func (set *Set) unknownWord(place vocab.Place, s *ast.Statement) {
	d := diag.Diagnostic{Code: "unknown-word", At: s.WordSpan}
	here := vocab.Words(place)
	if places := vocab.Known(s.Word); places != nil {
		d.Code = "misplaced-word"
		d.Message = fmt.Sprintf("`%s` does not stand in a %s", s.Word, placeName(place))
		var names []string
		for _, p := range places {
			if n := placeName(p); !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
		d.Try = []string{"it stands in: " + strings.Join(names, ", ")}
	} else {
		d.Message = fmt.Sprintf("a %s holds no `%s`", placeName(place), s.Word)
		if near := diag.Suggest(s.Word, here); near != "" {
			d.Try = []string{near}
			d.Fix = &diag.Fix{At: s.WordSpan, With: near}
		} else {
			d.Try = []string{"it can hold: " + strings.Join(here, ", ")}
		}
	}
	set.list.Add(d)
}

func placeName(p vocab.Place) string {
	if p == vocab.Cover {
		return "front or back"
	}
	return string(p)
}

// misfit tells what is wrong with the arguments, the commonest mistakes each in their own words.
func (set *Set) misfit(w *vocab.Word, s *ast.Statement, m *vocab.Misfit) {
	d := diag.Diagnostic{Try: w.Usage()}
	wants := func(kind string) bool { return slices.Contains(m.Want, "<"+kind+">") }
	if m.At >= len(s.Args) {
		d.Code = "missing-argument"
		d.At = source.Span{File: s.WordSpan.File, Start: s.WordSpan.Start, End: s.WordSpan.End}
		after := s.Word
		if n := len(s.Args); n > 0 {
			d.At = s.Args[n-1].Span
			after = d.At.Text()
		}
		d.Message = fmt.Sprintf("after «%s» %s is wanted", after, m.Wanted())
		set.list.Add(d)
		return
	}
	a := s.Args[m.At]
	if a.Span.Start == a.Span.End {
		return // a comma that the parser put between two measures, having told of them
	}
	d.At = a.Span
	text := a.Span.Text()
	switch {
	case a.Kind == ast.Number && (wants("length") || wants("percent") || wants("angle")):
		d.Code = "bare-length"
		units := []string{"mm", "in"}
		if !wants("length") {
			units = []string{"%"}
			if wants("angle") {
				units = []string{"deg"}
			}
		}
		d.Message = fmt.Sprintf("%s says no unit", text)
		d.Try = nil
		for _, u := range units {
			d.Try = append(d.Try, text+u)
		}
	case a.Kind == ast.Measure && vocab.Dimension(a.Text) == "":
		set.badMeasure(&d, a)
	case a.Kind == ast.Measure:
		d.Code = "wrong-unit"
		d.Message = fmt.Sprintf("%s is %s, and %s is wanted here", text, dimensionName(vocab.Dimension(a.Text)), m.Wanted())
	case wants("colour"):
		d.Code = "unexpected-argument"
		d.Message = fmt.Sprintf("«%s» does not fit here: a colour is wanted, in six hexadecimal figures", text)
		d.Try = []string{w.Example}
	default:
		d.Code = "unexpected-argument"
		d.Message = fmt.Sprintf("«%s» does not fit here: %s is wanted", text, m.Wanted())
		if a.Kind == ast.Word {
			var words []string
			for _, want := range m.Want {
				if !strings.HasPrefix(want, "<") && want != "the end" {
					words = append(words, want)
				}
			}
			if near := diag.Suggest(a.Text, words); near != "" {
				d.Try = []string{near}
				d.Fix = &diag.Fix{At: a.Span, With: near}
			}
		}
	}
	set.list.Add(d)
}

func dimensionName(dim string) string {
	switch dim {
	case "percent":
		return "a share"
	case "angle":
		return "an angle"
	case "weight":
		return "a weight"
	case "density":
		return "pages per inch"
	}
	return "a length"
}

// badMeasure tells of a measure that cannot be read.
func (set *Set) badMeasure(d *diag.Diagnostic, a ast.Arg) {
	_, err := unit.ParseQuantity(a.Text)
	d.Code = "unknown-unit"
	if e, ok := err.(unit.UnknownUnitError); ok {
		d.Message = fmt.Sprintf("«%s» is no unit", e.Text)
		number := strings.TrimSuffix(a.Text, e.Text)
		switch {
		case e.Text == "oz":
			d.Try = []string{"an ounce of leather is 1/64 in: write its thickness, such as 1mm or 3/64in"}
		case e.Suggest != "":
			d.Try = []string{number + e.Suggest}
			d.Fix = &diag.Fix{At: a.Span, With: number + e.Suggest}
		default:
			d.Try = []string{"units are " + strings.Join(unit.Names(), ", ")}
		}
		return
	}
	d.Code = "bad-number"
	d.Message = fmt.Sprintf("%s cannot be read as a measure", a.Span.Text())
	var bad unit.BadNumberError
	if errors.As(err, &bad) {
		d.Message += ": " + bad.Reason
	}
	d.Try = []string{"write one figure and its unit: 12.5mm, or 5 3/16in"}
}

// capture checks one captured argument: its range, and whether what it names exists.
func (set *Set) capture(sc *scope, w *vocab.Word, s *ast.Statement, c *vocab.Capture) bool {
	a := c.Arg
	switch c.Type {
	case "length", "percent", "angle", "number", "count", "value", "weight", "density":
		return set.figure(sc, w, c)
	case "stamp", "roll", "film", "leather", "face", "pattern":
		if set.find(sc, c.Type, a.Text) != nil {
			return true
		}
		set.unknownName(sc, c.Type, a)
		return false
	case "string", "strings":
		return set.text(a)
	}
	return true
}

func (set *Set) unknownName(sc *scope, kind string, a ast.Arg) {
	if sc.lost[kind] || sc.lost[a.Text] {
		return // a definition that was not understood may be the one
	}
	names := set.names(sc, kind)
	d := diag.Diagnostic{Code: "unknown-" + kind, At: a.Span, Message: fmt.Sprintf("no %s is named «%s»", kind, a.Text)}
	if alias, _, ok := cutDot(a.Text); ok && sc.uses[alias] == nil {
		d.Message = fmt.Sprintf("no file is used as «%s»", alias)
		d.Try = []string{fmt.Sprintf("use \"….headcap\" as %s", alias)}
		set.list.Add(d)
		return
	}
	switch near := diag.Suggest(a.Text, names); {
	case near != "":
		d.Try = []string{near}
		d.Fix = &diag.Fix{At: a.Span, With: near}
		if def := set.find(sc, kind, near); def != nil && def.scope.file != nil {
			d.Notes = []diag.Note{{At: def.s.Args[0].Span, Text: "defined here"}}
		}
	case len(names) > 0 && len(names) <= 12:
		d.Try = []string{"there is: " + strings.Join(names, ", ")}
	default:
		d.Try = []string{"`headcap words " + kind + "` lists the bundled ones"}
	}
	set.list.Add(d)
}

// figure checks the range of a number or measure, and that the names in it exist.
func (set *Set) figure(sc *scope, w *vocab.Word, c *vocab.Capture) bool {
	a := c.Arg
	switch a.Kind {
	case ast.Word:
		return set.letName(sc, a)
	case ast.Group:
		good := true
		for _, b := range a.Args {
			if b.Kind == ast.Word {
				good = set.letName(sc, b) && good
			} else if b.Kind == ast.Group {
				good = set.figure(sc, w, &vocab.Capture{Name: c.Name, Type: "value", Arg: b}) && good
			} else if b.Kind == ast.Measure && vocab.Dimension(b.Text) == "" {
				d := diag.Diagnostic{At: b.Span}
				set.badMeasure(&d, b)
				set.list.Add(d)
				good = false
			}
		}
		return good
	case ast.Dotted:
		if slices.Contains(measureNames, a.Text) {
			return true
		}
		d := diag.Diagnostic{Code: "unknown-measure", At: a.Span, Message: fmt.Sprintf("no measure is named «%s»", a.Text), Try: []string{"there is: " + strings.Join(measureNames, ", ")}}
		if near := diag.Suggest(a.Text, measureNames); near != "" {
			d.Try = []string{near}
			d.Fix = &diag.Fix{At: a.Span, With: near}
		}
		set.list.Add(d)
		return false
	}
	q, err := unit.ParseQuantity(a.Text)
	if err != nil {
		d := diag.Diagnostic{At: a.Span}
		set.badMeasure(&d, a)
		set.list.Add(d)
		return false
	}
	if w.Name == "boards" && q.Unit == unit.Point {
		set.list.Add(diag.Diagnostic{
			Code: "points-of-board", At: a.Span, Message: fmt.Sprintf("%s would be 1/72 in each; the points of a board are thousandths of an inch", a.Text),
			Try: []string{strings.TrimSuffix(a.Text, "pt") + "mil"}, Fix: &diag.Fix{At: a.Span, With: strings.TrimSuffix(a.Text, "pt") + "mil"},
		})
		return false
	}
	return set.inRange(c, q)
}

func (set *Set) inRange(c *vocab.Capture, q unit.Quantity) bool {
	outside := func(bound string, sign int) bool {
		if bound == "" {
			return false
		}
		b, err := unit.ParseQuantity(bound)
		if err != nil {
			panic("vocab: the bound " + bound + " cannot be read")
		}
		return compare(q, b) == sign
	}
	low, high := outside(c.Least, -1), outside(c.Most, 1)
	if !low && !high {
		return true
	}
	d := diag.Diagnostic{Code: "out-of-range", At: c.Arg.Span}
	if low {
		d.Message = fmt.Sprintf("%s is too little: %s is the least", c.Arg.Text, c.Least)
	} else {
		d.Message = fmt.Sprintf("%s is too much: %s is the most", c.Arg.Text, c.Most)
	}
	switch {
	case c.Least != "" && c.Most != "":
		d.Try = []string{"between " + c.Least + " and " + c.Most}
	case c.Least != "":
		d.Try = []string{"at least " + c.Least}
	default:
		d.Try = []string{"at most " + c.Most}
	}
	set.list.Add(d)
	return false
}

// ordered says whether the least of a pair that is written outright is no more than the most.
func (set *Set) ordered(m *vocab.Match) bool {
	for _, pair := range [][2]string{{"least", "most"}, {"from", "to"}} {
		low, ok1 := m.Get(pair[0])
		high, ok2 := m.Get(pair[1])
		if !ok1 || !ok2 {
			continue
		}
		a, err1 := unit.ParseQuantity(low.Arg.Text)
		b, err2 := unit.ParseQuantity(high.Arg.Text)
		if err1 != nil || err2 != nil || compare(a, b) <= 0 {
			continue
		}
		set.list.Add(diag.Diagnostic{
			Code: "least-over-most", At: low.Arg.Span.Join(high.Arg.Span), Message: fmt.Sprintf("the least, %s, is more than the most, %s", low.Arg.Text, high.Arg.Text),
			Try: []string{high.Arg.Text + " to " + low.Arg.Text},
		})
		return false
	}
	return true
}

func compare(a, b unit.Quantity) int {
	la, ok1 := a.Length()
	lb, ok2 := b.Length()
	if ok1 && ok2 {
		return la.Cmp(lb)
	}
	return new(big.Rat).Set(a.Value).Cmp(b.Value)
}

// measureNames are the measures that a design may reckon with.
var measureNames = []string{"spine.width", "spine.tall", "board.wide", "board.tall", "block.wide", "block.tall", "block.thick"}

func (set *Set) letName(sc *scope, a ast.Arg) bool {
	if sc.any[a.Text] || sc.file == nil {
		return true
	}
	if sc.lost["let"] || sc.lost[a.Text] {
		return false // a `let` that was not understood may be the one
	}
	var names []string
	for _, s := range sc.file.Statements {
		if s.Word == "let" && len(s.Args) > 0 {
			names = append(names, s.Args[0].Text)
		}
	}
	d := diag.Diagnostic{Code: "unknown-name", At: a.Span, Message: fmt.Sprintf("nothing is named «%s»: a measure, or a name given by `let`, is wanted here", a.Text)}
	if near := diag.Suggest(a.Text, names); near != "" {
		d.Try = []string{near}
		d.Fix = &diag.Fix{At: a.Span, With: near}
	} else {
		d.Try = []string{"let " + a.Text + " = 5mm"}
	}
	set.list.Add(d)
	return false
}

// text refuses what would be unsafe or invisible in a title: the parser has refused control characters already.
func (set *Set) text(a ast.Arg) bool {
	if a.Kind == ast.String && strings.TrimSpace(a.Text) == "" {
		set.list.Add(diag.Diagnostic{Code: "empty-text", At: a.Span, Message: "this text is empty", Try: []string{"write what it should say between the quotation marks"}})
		return false
	}
	return true
}
