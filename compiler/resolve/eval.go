package resolve

import (
	"fmt"
	"math/big"
	"slices"

	"headcap/compiler/model"
	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
	"headcap/lang/vocab"
)

// A builder makes the model of one volume, or of one definition.
type builder struct {
	set    *Set
	facts  *model.Facts
	volume string // its key, for the diagnostics
	lets   []map[string]*item
	emblem *definition // the volume's
	depth  int
	vague  bool     // the measures are not known, since not all that was said of them was understood
	lost   []string // the words of statements that were not understood, as far as they were met
}

// lostOf says whether a statement of a word may have been among those that were not understood.
func (b *builder) lostOf(word string) bool {
	return slices.ContainsFunc(b.lost, func(l string) bool { return l == word || vocab.Known(l) == nil })
}

func (b *builder) add(d diag.Diagnostic) {
	d.Volume = b.volume
	b.set.list.Add(d)
}

// within runs f where the lets of a merged block can be seen.
func (b *builder) within(items []*item, f func()) {
	m := map[string]*item{}
	for _, it := range items {
		if it.w.Name == "let" {
			m[it.m.Word("name")] = it
		}
	}
	b.lets = append(b.lets, m)
	f()
	b.lets = b.lets[:len(b.lets)-1]
}

// A value is what arithmetic yields: a length in nanometres, an angle in degrees, a share, or a plain number.
type value struct {
	num   *big.Rat
	dim   string // "", length, angle, percent, weight, density
	shown unit.Unit
}

// lengthOf gives a captured length; ok is false where it was not captured or cannot be reckoned (and that has been told).
func (b *builder) lengthOf(it *item, name string) (unit.Length, bool) {
	c, ok := it.m.Get(name)
	if !ok {
		return unit.Length{}, false
	}
	l, ok := b.length(it, c.Arg)
	if !ok || c.Arg.Kind == ast.Measure {
		return l, ok // what is written outright has been held against its bounds
	}
	return l, b.bounded(c, l)
}

// bounded holds a reckoned length against the bounds that the vocabulary gives.
func (b *builder) bounded(c vocab.Capture, l unit.Length) bool {
	for _, side := range []struct {
		bound, word, try string
		sign             int
	}{{c.Least, "little", "least", -1}, {c.Most, "much", "most", 1}} {
		q, err := unit.ParseQuantity(side.bound)
		if limit, ok := q.Length(); err == nil && ok && l.Cmp(limit) == side.sign {
			b.add(diag.Diagnostic{
				Code: "out-of-range", At: c.Arg.Span, Message: fmt.Sprintf("%s comes out at %s, too %s: %s is the %s", c.Arg.Span.Text(), l, side.word, side.bound, side.try),
				Try: []string{"at " + side.try + " " + side.bound},
			})
			return false
		}
	}
	return true
}

func (b *builder) length(it *item, a ast.Arg) (unit.Length, bool) {
	v, ok := b.eval(it.scope, a)
	if !ok {
		return unit.Length{}, false
	}
	if v.dim != "length" {
		b.add(diag.Diagnostic{Code: "wrong-unit", At: a.Span, Message: fmt.Sprintf("«%s» is %s, and a length is wanted", a.Span.Text(), valueName(v)), Try: it.w.Usage()})
		return unit.Length{}, false
	}
	return unit.FromRat(v.num, v.shown), true
}

func (b *builder) lengthPtr(it *item, name string) *unit.Length {
	if l, ok := b.lengthOf(it, name); ok {
		return &l
	}
	return nil
}

// ratio gives a captured share (as a fraction, 55% being 11/20) or plain number.
func (b *builder) ratio(it *item, name string) *big.Rat {
	c, ok := it.m.Get(name)
	if !ok {
		return nil
	}
	v, ok := b.eval(it.scope, c.Arg)
	if !ok || v.dim != "" && v.dim != "percent" {
		return nil
	}
	return v.num
}

// degrees gives a captured angle, 0 where there is none. Only the drawing of stamps and the turning of centres use it.
func (b *builder) degrees(it *item, name string) float64 {
	c, ok := it.m.Get(name)
	if !ok {
		return 0
	}
	v, ok := b.eval(it.scope, c.Arg)
	if !ok {
		return 0
	}
	f, _ := v.num.Float64()
	return f
}

// plain gives a captured number as a float.
func (b *builder) plain(it *item, name string, otherwise float64) float64 {
	if r := b.ratio(it, name); r != nil {
		f, _ := r.Float64()
		return f
	}
	return otherwise
}

// figure gives a captured length as a Figure.
func (b *builder) figure(it *item, name string, note string) (model.Figure, bool) {
	l, ok := b.lengthOf(it, name)
	if !ok {
		return model.Figure{}, false
	}
	return model.Figure{Length: l, From: it.from, Note: note, Origin: it.org}, true
}

func valueName(v value) string {
	switch v.dim {
	case "length":
		return "a length"
	case "angle":
		return "an angle"
	case "percent":
		return "a share"
	}
	return "a plain number"
}

func (b *builder) eval(sc *scope, a ast.Arg) (value, bool) {
	switch a.Kind {
	case ast.Number, ast.Measure:
		q, err := unit.ParseQuantity(a.Text)
		if err != nil {
			return value{}, false // told by the check
		}
		return quantity(q), true
	case ast.Word:
		return b.named(sc, a)
	case ast.Dotted:
		return b.measure(a)
	case ast.Group:
		return b.group(sc, a)
	}
	return value{}, false
}

func quantity(q unit.Quantity) value {
	if l, ok := q.Length(); ok {
		return value{l.Rat(), "length", q.Unit}
	}
	switch q.Unit {
	case unit.Degree:
		return value{q.Value, "angle", q.Unit}
	case unit.Percent:
		return value{new(big.Rat).Quo(q.Value, big.NewRat(100, 1)), "percent", q.Unit}
	case unit.GSM:
		return value{q.Value, "weight", q.Unit}
	case unit.PPI:
		return value{q.Value, "density", q.Unit}
	}
	return value{q.Value, "", q.Unit}
}

// named finds a let: the innermost block first, then the file in which the name was written.
func (b *builder) named(sc *scope, a ast.Arg) (value, bool) {
	if b.depth > 32 {
		b.add(diag.Diagnostic{Code: "cyclic-let", At: a.Span, Message: fmt.Sprintf("«%s» is reckoned from itself", a.Text), Try: []string{"give one of these names a plain measure"}})
		return value{}, false
	}
	b.depth++
	defer func() { b.depth-- }()
	for i := len(b.lets) - 1; i >= 0; i-- {
		if it := b.lets[i][a.Text]; it != nil {
			c, _ := it.m.Get("value")
			return b.eval(it.scope, c.Arg)
		}
	}
	if s := sc.lets[a.Text]; s != nil && b.set.fits[s] != nil {
		c, _ := b.set.fits[s].match.Get("value")
		return b.eval(sc, c.Arg)
	}
	if sc.file == nil || !sc.any[a.Text] || sc.lets[a.Text] == nil {
		b.add(diag.Diagnostic{Code: "unknown-name", At: a.Span, Message: fmt.Sprintf("«%s» is not named where this is read", a.Text), Try: []string{"put the `let` in this block, in one around it, or at the top of the file"}})
	}
	return value{}, false
}

func (b *builder) measure(a ast.Arg) (value, bool) {
	if b.facts == nil {
		b.add(diag.Diagnostic{Code: "too-early", At: a.Span, Message: fmt.Sprintf("«%s» is not known yet: the measures are reckoned from this", a.Text), Try: []string{"use it in the design of spine, front or back"}})
		return value{}, false
	}
	if b.vague {
		return value{}, false
	}
	f := b.facts
	l := map[string]unit.Length{
		"spine.width": f.SpineWide, "spine.tall": f.SpineTall, "board.wide": f.BoardWide, "board.tall": f.BoardTall,
		"block.wide": f.BlockWide, "block.tall": f.BlockTall, "block.thick": f.BlockThick,
	}[a.Text]
	return value{l.Rat(), "length", l.Shown()}, true
}

// group reckons what stands in parentheses: * and / before + and −. A fraction of a measure is one token already, so it
// binds before all of them.
func (b *builder) group(sc *scope, a ast.Arg) (value, bool) {
	args := a.Args
	pos := 0
	wrong := func(at source.Span, msg string) (value, bool) {
		b.add(diag.Diagnostic{Code: "bad-sum", At: at, Message: msg, Try: []string{"(spine.width - 2 * 3mm)"}})
		return value{}, false
	}
	operand := func() (value, bool) {
		if pos >= len(args) {
			return wrong(a.Span, "something is missing at the end of this sum")
		}
		x := args[pos]
		pos++
		if x.Kind == ast.Operator && x.Text == "-" && pos < len(args) {
			v, ok := b.eval(sc, args[pos])
			pos++
			if !ok {
				return v, false
			}
			return value{new(big.Rat).Neg(v.num), v.dim, v.shown}, true
		}
		if x.Kind == ast.Operator || x.Kind == ast.Comma || x.Kind == ast.String {
			return wrong(x.Span, fmt.Sprintf("«%s» does not stand in a sum here", x.Span.Text()))
		}
		return b.eval(sc, x)
	}
	term := func() (value, bool) {
		v, ok := operand()
		for ok && pos < len(args) && args[pos].Kind == ast.Operator && (args[pos].Text == "*" || args[pos].Text == "/") {
			op := args[pos]
			pos++
			var r value
			if r, ok = operand(); !ok {
				break
			}
			v, ok = b.times(v, r, op)
		}
		return v, ok
	}
	v, ok := term()
	for ok && pos < len(args) {
		op := args[pos]
		if op.Kind != ast.Operator || op.Text != "+" && op.Text != "-" {
			return wrong(op.Span, fmt.Sprintf("an operator is wanted before «%s»", op.Span.Text()))
		}
		pos++
		var r value
		if r, ok = term(); !ok {
			break
		}
		if v.dim != r.dim {
			return wrong(op.Span, fmt.Sprintf("%s and %s cannot be put together", valueName(v), valueName(r)))
		}
		n := new(big.Rat)
		if op.Text == "+" {
			n.Add(v.num, r.num)
		} else {
			n.Sub(v.num, r.num)
		}
		v = value{n, v.dim, v.shown}
	}
	if ok && (v.num.Num().BitLen() > 512 || v.num.Denom().BitLen() > 512) {
		return wrong(a.Span, "this sum grows beyond any measure")
	}
	return v, ok
}

func (b *builder) times(v, r value, op ast.Arg) (value, bool) {
	wrong := func(msg string) (value, bool) {
		b.add(diag.Diagnostic{Code: "bad-sum", At: op.Span, Message: msg, Try: []string{"(spine.width / 3)"}})
		return value{}, false
	}
	n := new(big.Rat)
	if op.Text == "/" {
		if r.num.Sign() == 0 {
			return wrong("this divides by nothing")
		}
		n.Quo(v.num, r.num)
		switch {
		case r.dim == "" || r.dim == "percent":
			return value{n, v.dim, v.shown}, true
		case r.dim == v.dim:
			return value{n, "", unit.None}, true
		}
		return wrong(fmt.Sprintf("%s cannot be divided by %s", valueName(v), valueName(r)))
	}
	n.Mul(v.num, r.num)
	switch {
	case r.dim == "" || r.dim == "percent":
		return value{n, v.dim, v.shown}, true
	case v.dim == "" || v.dim == "percent":
		return value{n, r.dim, r.shown}, true
	}
	return wrong(fmt.Sprintf("%s times %s is no measure", valueName(v), valueName(r)))
}
