package resolve

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"headcap/compiler/model"
	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
	"headcap/lang/vocab"
)

// An item is a statement that holds for a volume, with what its block holds.
type item struct {
	s     *ast.Statement
	w     *vocab.Word
	m     vocab.Match
	scope *scope
	from  model.From
	org   source.Origin
	key   string
	kids  []*item
	// spoilt says that not all of its block was understood: what it would be without that is not what was meant.
	spoilt bool
}

// gather lists the statements of a layer that hold, with `when` settled by the facts. Without facts what stands in a
// `when` is left out: nothing from which a measure is reckoned may stand there.
func (b *builder) gather(l layer) []*item {
	node := b.set.Origins.Node(l.origin)
	counts := map[string]int{}
	return b.list(l, node.Path, counts)
}

func (b *builder) list(l layer, path string, counts map[string]int) []*item {
	var out []*item
	held := false
	for _, s := range l.statements {
		f := b.set.fits[s]
		if f == nil {
			b.lost = append(b.lost, s.Word)
			held = true // perhaps a `when` that was not understood: its `otherwise` is not taken either
			continue
		}
		switch f.word.Name {
		case "when":
			if held = b.vague; b.facts == nil || held {
				continue
			}
			if held = b.holds(l, s, f); held {
				out = append(out, b.list(layer{s.Block.Statements, l.scope, l.origin, l.from}, path, counts)...)
			}
			continue
		case "otherwise":
			if b.facts != nil && !held {
				out = append(out, b.list(layer{s.Block.Statements, l.scope, l.origin, l.from}, path, counts)...)
			}
			continue
		}
		it := &item{s: s, w: f.word, m: f.match, scope: l.scope, from: l.from, key: keyOf(f)}
		name := s.Word
		for _, a := range s.Args {
			if a.Kind == ast.Word || a.Kind == ast.Number {
				name += " " + a.Text
			}
		}
		if counts[path+"/"+name]++; counts[path+"/"+name] > 1 {
			name += "#" + strconv.Itoa(counts[path+"/"+name])
		}
		at := s.WordSpan
		if len(s.Args) > 0 {
			at = at.Join(s.Args[len(s.Args)-1].Span)
		}
		file := "bundled"
		if l.scope.file != nil {
			file = l.scope.file.Source.Path
		}
		p := path + "/" + name
		it.org = b.set.Origins.Add(source.Node{File: file, Path: strings.TrimPrefix(p, "/")}, at, b.set.Origins.Parent(l.origin))
		if s.Block != nil && f.word.Name != "volume" {
			it.kids = b.list(layer{s.Block.Statements, l.scope, it.org, l.from}, p, map[string]int{})
			it.spoilt = !b.set.understood(s.Block.Statements)
		}
		out = append(out, it)
	}
	return out
}

// keyOf makes the key of a keyed statement from what the table says.
func keyOf(f *fitted) string {
	var k []string
	for _, name := range f.word.Key {
		if n, ok := strings.CutPrefix(name, "?"); ok {
			if f.match.Has(n) {
				k = append(k, n)
			}
			continue
		}
		if w := f.match.Word(name); w != "" {
			k = append(k, w)
		}
	}
	return f.word.Name + " " + strings.Join(k, " ")
}

// merge puts items together as the vocabulary says: once, keyed or many. What comes later is the stronger.
func merge(items []*item) []*item {
	var out []*item
	for _, it := range items {
		switch it.w.Merge {
		case vocab.Many:
			out = append(out, it)
			continue
		}
		i := slices.IndexFunc(out, func(o *item) bool { return o.key == it.key })
		if i < 0 {
			out = append(out, it)
			continue
		}
		if it.w.Merge == vocab.Once || it.m.Has("only") {
			out[i] = it
			continue
		}
		both := *it
		both.kids = append(slices.Clone(out[i].kids), it.kids...)
		both.spoilt = it.spoilt || out[i].spoilt
		out[i] = &both
	}
	for i, it := range out {
		// The blocks of a face are layers, which are put together once its panels are counted.
		if it.kids != nil && it.w.Opens != vocab.Spine && it.w.Opens != vocab.Cover {
			c := *it
			c.kids = merge(it.kids)
			out[i] = &c
		}
	}
	return out
}

// panels replaces the panel statements of one block by one item for each panel, keyed by its number. `rest` is what the
// block does not name.
func (b *builder) panels(items []*item, n int) []*item {
	named := map[int]bool{}
	for _, it := range items {
		if it.w.Name == "panel" && it.m.Word("rest") == "" {
			for _, p := range b.panelNumbers(it) {
				named[p] = true
			}
		}
	}
	var out []*item
	for _, it := range items {
		if it.w.Name != "panel" {
			out = append(out, it)
			continue
		}
		var which []int
		if it.m.Word("rest") != "" {
			for p := 1; p <= n; p++ {
				if !named[p] {
					which = append(which, p)
				}
			}
		} else {
			which = b.panelNumbers(it)
		}
		for _, p := range which {
			if (p < 1 || p > n) && (b.lostOf("bands") || b.lostOf("hubs")) {
				continue // how many there are was not understood
			}
			if p < 1 || p > n {
				b.add(diag.Diagnostic{
					Code: "no-such-panel", At: it.s.WordSpan.Join(it.s.Args[len(it.s.Args)-1].Span),
					Message: fmt.Sprintf("there is no panel %d: %s", p, panelCount(n)),
					Try:     []string{fmt.Sprintf("panels are counted from the head, 1 to %d", n)},
				})
				continue
			}
			one := it
			if len(which) > 1 || it.m.Word("rest") != "" {
				old := b.set.Origins.Node(it.org).Path
				one = b.renamed(it, old, old+"."+strconv.Itoa(p))
			}
			c := *one
			c.key = "panel " + strconv.Itoa(p)
			out = append(out, &c)
		}
	}
	return out
}

// renamed gives a statement that stands for several panels, and what it holds, a node for one of them: so that a piece can
// be told from its like in the next panel.
func (b *builder) renamed(it *item, old, name string) *item {
	c := *it
	node := b.set.Origins.Node(it.org)
	node.Path = name + strings.TrimPrefix(node.Path, old)
	c.org = b.set.Origins.Add(node, b.set.Origins.Span(it.org), b.set.Origins.Parent(it.org))
	c.kids = make([]*item, len(it.kids))
	for i, k := range it.kids {
		c.kids[i] = b.renamed(k, old, name)
	}
	return &c
}

func panelCount(n int) string {
	if n == 1 {
		return "without bands the spine is one panel"
	}
	return fmt.Sprintf("%d bands make %d panels", n-1, n)
}

func (b *builder) panelNumbers(it *item) []int {
	var out []int
	if it.m.Has("from") {
		from, to := count(it.m.Word("from")), count(it.m.Word("to"))
		for p := from; p <= to && p <= from+100; p++ {
			out = append(out, p)
		}
		return out
	}
	for _, c := range it.m.Every("panel") {
		out = append(out, count(c.Arg.Text))
	}
	return out
}

// count reads a whole number that the vocabulary has let pass.
func count(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return 1 << 20 // more figures than an int holds: out of any range
	}
	return n
}

// holds settles a condition.
func (b *builder) holds(l layer, s *ast.Statement, f *fitted) bool {
	if f.match.Has("n") {
		n := count(f.match.Word("n"))
		if f.match.Word("side") == "under" {
			return b.facts.Number < n
		}
		return b.facts.Number > n
	}
	than, ok := b.lengthOf(&item{s: s, w: f.word, m: f.match, scope: l.scope}, "than")
	if !ok {
		return false
	}
	thing, how := f.match.Word("thing"), f.match.Word("how")
	if (how == "thinner" || how == "thicker") && thing != "block" {
		b.odd(s, thing, how)
		return false
	}
	at := s.WordSpan.Join(s.Args[len(s.Args)-1].Span)
	is := tested(*b.facts, thing, how)
	holds := falls(is, how, than)
	if b.facts.Planned != nil {
		if was := tested(*b.facts.Planned, thing, how); falls(was, how, than) != holds {
			b.add(diag.Diagnostic{
				Severity: diag.Warning, Code: "branch-changed", At: at,
				Message: fmt.Sprintf("the %s measures %s on the covered book and was planned at %s: this falls the other way now", thing, is.As(than.Shown()), was.As(than.Shown())),
				Try:     []string{"look at the preview again", "choose a threshold that stands clear of both"},
			})
			return holds
		}
	}
	if d := is.Sub(than).Millimetres(); d > -0.5 && d < 0.5 {
		b.add(diag.Diagnostic{
			Severity: diag.Warning, Code: "near-threshold", At: at,
			Message: fmt.Sprintf("the %s measures %s, within 0.5mm of %s: measuring again may change which way this falls", thing, is.As(than.Shown()), than),
			Try:     []string{"choose a threshold that stands clear of the measure"},
		})
	}
	return holds
}

// tested gives the measure that a condition is about.
func tested(f model.Facts, thing, how string) unit.Length {
	switch how {
	case "thinner", "thicker":
		return f.BlockThick
	case "shorter", "taller":
		return map[string]unit.Length{"spine": f.SpineTall, "block": f.BlockTall, "boards": f.BoardTall}[thing]
	}
	return map[string]unit.Length{"spine": f.SpineWide, "block": f.BlockWide, "boards": f.BoardWide}[thing]
}

func falls(is unit.Length, how string, than unit.Length) bool {
	switch how {
	case "narrower", "shorter", "thinner":
		return is.Cmp(than) < 0
	}
	return is.Cmp(than) > 0
}

func (b *builder) odd(s *ast.Statement, thing, how string) {
	b.add(diag.Diagnostic{
		Code: "odd-test", At: s.Args[1].Span, Message: fmt.Sprintf("a %s is narrower or wider, shorter or taller; only the block is %s", strings.TrimSuffix(thing, "s"), how),
		Try: []string{"when " + thing + " narrower than …"},
	})
}
