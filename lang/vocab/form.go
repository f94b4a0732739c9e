package vocab

import (
	"fmt"
	"slices"
	"strings"

	"headcap/lang/ast"
	"headcap/lang/unit"
)

// The notation of forms:
//
//	word            the word itself
//	,  x  =         themselves
//	<name:type>     something to capture; <name:a|b|c> one of these words, <name:=a> this one
//	<name:type:A..B> with the least and the most, either of which may be left out
//	[ … ]           perhaps
//	( … | … )       one of these
//	{ … }           one or more, with commas between; captures carry the number of their item
//
// Types: length, count, number, percent, angle, string, date, colour, value (anything that can be reckoned with), new (a
// name that is being given), and the name of a kind of thing (stamp, roll, film, leather, face, pattern, frame) for a name
// that must exist.

// Arg is what is matched.
type Arg = ast.Arg

type nodeKind uint8

const (
	nLit nodeKind = iota
	nCap
	nSeq
	nOpt
	nAlt
	nList
)

type node struct {
	kind  nodeKind
	text  string // of a literal; the name of a capture
	typ   string // of a capture
	words []string
	lo    string
	hi    string
	kids  []node
}

// literals notes the fixed words of a form.
func literals(form string) {
	for t := range strings.FieldsSeq(form) {
		inner, capture := strings.CutPrefix(t, "<")
		if !capture {
			if c := t[0]; c >= 'a' && c <= 'z' {
				literal[t] = true
			}
			continue
		}
		_, typ, _ := strings.Cut(strings.TrimSuffix(inner, ">"), ":")
		one := strings.HasPrefix(typ, "=")
		if !one && !strings.Contains(typ, "|") {
			continue
		}
		for w := range strings.SplitSeq(strings.TrimPrefix(typ, "="), "|") {
			literal[w] = true
		}
	}
}

// compile reads a form. The table is our own, so a fault in it ends the program at its start, in every test.
func compile(form string) node {
	toks := strings.Fields(form)
	p := 0
	var alt func(end string) node
	alt = func(end string) node {
		var alts []node
		cur := node{kind: nSeq}
		for ; ; p++ {
			if p == len(toks) {
				if end != "" {
					panic("vocab: no " + end + " in " + form)
				}
				break
			}
			t := toks[p]
			if t == end {
				break
			}
			switch {
			case t == "|":
				alts = append(alts, cur)
				cur = node{kind: nSeq}
			case t == "[":
				p++
				cur.kids = append(cur.kids, node{kind: nOpt, kids: []node{alt("]")}})
			case t == "(":
				p++
				cur.kids = append(cur.kids, alt(")"))
			case t == "{":
				p++
				cur.kids = append(cur.kids, node{kind: nList, kids: []node{alt("}")}})
			case strings.HasPrefix(t, "<"):
				cur.kids = append(cur.kids, capture(strings.Trim(t, "<>")))
			default:
				cur.kids = append(cur.kids, node{kind: nLit, text: t})
			}
		}
		if alts == nil {
			return cur
		}
		return node{kind: nAlt, kids: append(alts, cur)}
	}
	return alt("")
}

func capture(t string) node {
	f := strings.Split(t, ":")
	n := node{kind: nCap, text: f[0], typ: f[1]}
	if w, one := strings.CutPrefix(f[1], "="); one || strings.Contains(f[1], "|") {
		n.words, n.typ = strings.Split(w, "|"), "word"
	}
	if len(f) > 2 {
		n.lo, n.hi, _ = strings.Cut(f[2], "..")
	}
	return n
}

// A Capture is one argument that a form named. Least and Most are the bounds that the table gives, as measures.
type Capture struct {
	Name        string
	Type        string
	Arg         ast.Arg
	Item        int
	Least, Most string
}

// A Match is what a form captured. Form is the index of the form among the word's.
type Match struct {
	Form     int
	Captures []Capture
}

// Get gives the first capture of a name.
func (m *Match) Get(name string) (Capture, bool) {
	for _, c := range m.Captures {
		if c.Name == name {
			return c, true
		}
	}
	return Capture{}, false
}

// Has says whether something was captured by a name.
func (m *Match) Has(name string) bool { _, ok := m.Get(name); return ok }

// Word gives the text of a captured word or string, empty for none.
func (m *Match) Word(name string) string { c, _ := m.Get(name); return c.Arg.Text }

// Every gives all captures of a name.
func (m *Match) Every(name string) []Capture {
	var out []Capture
	for _, c := range m.Captures {
		if c.Name == name {
			out = append(out, c)
		}
	}
	return out
}

// A Misfit says how far a match came (the index of the argument that did not fit; the number of arguments where one is
// missing) and what was wanted there.
type Misfit struct {
	At   int
	Want []string
}

type state struct {
	args []ast.Arg
	far  int
	want []string
}

// match walks the form with backtracking; forms are short, so nothing cleverer is called for.
func (s *state) match(n node, form int) (Match, bool) {
	var caps []Capture
	item := 0
	var walk func(n node, at int, next func(at int) bool) bool
	seq := func(kids []node, at int, next func(at int) bool) bool {
		var step func(i, at int) bool
		step = func(i, at int) bool {
			if i == len(kids) {
				return next(at)
			}
			return walk(kids[i], at, func(at int) bool { return step(i+1, at) })
		}
		return step(0, at)
	}
	walk = func(n node, at int, next func(at int) bool) bool {
		switch n.kind {
		case nSeq:
			return seq(n.kids, at, next)
		case nOpt:
			mark := len(caps)
			if walk(n.kids[0], at, next) {
				return true
			}
			caps = caps[:mark]
			return next(at)
		case nAlt:
			for _, k := range n.kids {
				mark := len(caps)
				if walk(k, at, next) {
					return true
				}
				caps = caps[:mark]
			}
			return false
		case nList:
			var more func(at int) bool
			more = func(at int) bool {
				mark, i := len(caps), item
				if at < len(s.args) && s.args[at].Kind == ast.Comma {
					item++
					if walk(n.kids[0], at+1, more) {
						return true
					}
					caps, item = caps[:mark], i
				} else {
					s.miss(at, ",")
				}
				return next(at)
			}
			item = 0
			return walk(n.kids[0], at, more)
		case nLit:
			if at < len(s.args) && isLit(s.args[at], n.text) {
				return next(at + 1)
			}
			s.miss(at, n.text)
			return false
		}
		if at < len(s.args) && fits(n, s.args[at]) {
			caps = append(caps, Capture{n.text, n.typ, s.args[at], item, n.lo, n.hi})
			if next(at + 1) {
				return true
			}
			caps = caps[:len(caps)-1]
			return false
		}
		if n.words != nil {
			for _, w := range n.words {
				s.miss(at, w)
			}
		} else {
			s.miss(at, "<"+n.typ+">")
		}
		return false
	}
	ok := walk(n, 0, func(at int) bool {
		if at == len(s.args) {
			return true
		}
		s.miss(at, "the end")
		return false
	})
	return Match{form, slices.Clone(caps)}, ok
}

func (s *state) miss(at int, want string) {
	if at > s.far {
		s.far, s.want = at, nil
	}
	if at == s.far {
		s.want = append(s.want, want)
	}
}

func isLit(a ast.Arg, text string) bool {
	switch a.Kind {
	case ast.Word:
		t := a.Text
		if sp, ok := spellings[t]; ok {
			t = sp
		}
		return t == text || a.Text == text
	case ast.Comma:
		return text == ","
	case ast.Operator:
		return a.Text == text
	}
	return false
}

// fits says whether an argument may be of a capture's type by its form alone; units and names are looked at later, so that
// the message can say what is the matter with them.
func fits(n node, a ast.Arg) bool {
	if n.words != nil {
		return a.Kind == ast.Word && slices.ContainsFunc(n.words, func(w string) bool { return isLit(a, w) })
	}
	name := a.Kind == ast.Word && !literal[a.Text]
	switch n.typ {
	case "length":
		return a.Kind == ast.Measure && Dimension(a.Text) == "length" || a.Kind == ast.Group || name || a.Kind == ast.Dotted
	case "percent", "angle", "weight", "density":
		return a.Kind == ast.Measure && Dimension(a.Text) == n.typ || a.Kind == ast.Group || name
	case "number":
		return a.Kind == ast.Number || a.Kind == ast.Group || name
	case "count":
		return a.Kind == ast.Number && strings.Trim(a.Text, "0123456789") == ""
	case "value":
		return a.Kind == ast.Measure || a.Kind == ast.Number || a.Kind == ast.Group || name || a.Kind == ast.Dotted
	case "string":
		return a.Kind == ast.String
	case "strings":
		return a.Kind == ast.String || a.Kind == ast.Group && !slices.ContainsFunc(a.Args, func(b ast.Arg) bool { return b.Kind != ast.String })
	case "date":
		return a.Kind == ast.Date
	case "colour":
		return a.Kind == ast.Colour
	case "new":
		return a.Kind == ast.Word
	}
	// Bundled things may be called by a word of the language, as the leaf is; forms put the fixed words first.
	return a.Kind == ast.Word || a.Kind == ast.Dotted
}

// Dimension says what a measure's unit measures: length, percent, angle, weight (grammage), density (pages per inch), or
// "" for what is no unit of ours.
func Dimension(measure string) string {
	q, err := unit.ParseQuantity(measure)
	switch {
	case err != nil:
		return ""
	case q.Unit.IsLength():
		return "length"
	case q.Unit == unit.Percent:
		return "percent"
	case q.Unit == unit.Degree:
		return "angle"
	case q.Unit == unit.GSM:
		return "weight"
	case q.Unit == unit.PPI:
		return "density"
	}
	return ""
}

// humane prints a form for the manual.
func humane(form string) string {
	var out []string
	for _, t := range strings.Fields(form) {
		switch {
		case t == "{":
			continue
		case t == "}":
			out = append(out, "[, …]")
		case strings.HasPrefix(t, "<"):
			n := capture(strings.Trim(t, "<>"))
			switch {
			case n.words != nil:
				out = append(out, strings.Join(n.words, "/"))
			case n.typ == "string" || n.typ == "strings":
				out = append(out, `"…"`)
			case n.typ == "new":
				out = append(out, "NAME")
			default:
				out = append(out, strings.ToUpper(n.typ))
			}
		default:
			out = append(out, t)
		}
	}
	s := strings.Join(out, " ")
	for _, r := range []string{" ,", "[ ", " ]", "( ", " )"} {
		s = strings.ReplaceAll(s, r, strings.TrimSpace(r))
	}
	return s
}

// Wanted prints what a Misfit wanted, for a message.
func (m *Misfit) Wanted() string {
	var out []string
	for _, w := range m.Want {
		switch {
		case w == "the end":
			w = "the end of the line"
		case w == ",":
			w = "a comma"
		case strings.HasPrefix(w, "<"):
			w = kindName(strings.Trim(w, "<>"))
		default:
			w = "`" + w + "`"
		}
		out = append(out, w)
	}
	switch len(out) {
	case 0:
		return "nothing"
	case 1:
		return out[0]
	}
	return fmt.Sprintf("%s or %s", strings.Join(out[:len(out)-1], ", "), out[len(out)-1])
}

func kindName(t string) string {
	switch t {
	case "length":
		return "a length"
	case "percent":
		return "a share in %"
	case "angle":
		return "an angle in deg"
	case "number":
		return "a number"
	case "count":
		return "a whole number"
	case "value":
		return "a measure or number"
	case "string", "strings":
		return `a text in "…"`
	case "date":
		return "a date"
	case "colour":
		return "a colour"
	case "new":
		return "a name"
	case "weight":
		return "a weight in gsm"
	case "density":
		return "pages per inch (ppi)"
	}
	return "the name of a " + t
}
