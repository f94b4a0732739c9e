package resolve

import (
	"fmt"
	"math/big"
	"strings"

	"headcap/compiler/model"
	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
)

// cyclic guards the definitions that lean on others; it tells of a circle and answers true.
func (set *Set) cyclic(d *definition, at source.Span) bool {
	if !set.busy[d.s] {
		return false
	}
	name := d.s.Args[0].Text
	msg := fmt.Sprintf("«%s» is like itself, perhaps by way of others", name)
	if by := at.Text(); by != name {
		msg = fmt.Sprintf("«%s» is like «%s», and that is like it in turn", by, name)
	}
	set.list.Add(diag.Diagnostic{Code: "cyclic-like", At: at, Message: msg, Try: []string{"let one of them stand alone"}})
	return true
}

func (set *Set) nodeOf(d *definition, kind string) source.Origin {
	file := "bundled"
	if d.scope.file != nil {
		file = d.scope.file.Source.Path
	}
	return set.Origins.Add(source.Node{File: file, Path: kind + " " + d.s.Args[0].Text}, d.s.WordSpan.Join(d.s.Args[0].Span), 0)
}

// stamp resolves a stamp by name; nil where it is not understood, which has been told.
func (set *Set) stamp(sc *scope, name string) *model.Stamp {
	d := set.find(sc, "stamp", name)
	if d == nil || set.fits[d.s] == nil {
		return nil
	}
	if st, ok := set.stamps[d.s]; ok {
		return st
	}
	if set.cyclic(d, d.s.Args[0].Span) {
		return nil
	}
	set.busy[d.s] = true
	defer delete(set.busy, d.s)
	f := set.fits[d.s]
	org := set.nodeOf(d, "stamp")
	node := set.Origins.Node(org)
	st := &model.Stamp{Name: d.s.Args[0].Text, Key: node.File + ":" + node.Path, Origin: org}
	b := &builder{set: set}
	if base := f.match.Word("base"); base != "" {
		if st.Like = set.stamp(d.scope, base); st.Like == nil {
			set.stamps[d.s] = nil
			return nil
		}
		st.Mirrored = f.match.Has("mirrored")
	}
	if d.s.Block != nil {
		items := b.gather(layer{d.s.Block.Statements, d.scope, org, model.Said})
		for _, it := range items {
			switch it.w.Name {
			case "about":
				st.About = it.m.Word("text")
			case "tall":
				st.Tall = b.lengthPtr(it, "tall")
			case "wide":
				st.Wide = b.lengthPtr(it, "wide")
			case "drawn":
				if it.m.Has("stroke") {
					st.Stroke, st.Gap = b.lengthPtr(it, "stroke"), b.lengthPtr(it, "gap")
				} else {
					st.From, st.To = b.lengthPtr(it, "from"), b.lengthPtr(it, "to")
				}
			}
		}
		st.Marks = b.marks(items)
	}
	switch {
	case d.s.Block != nil && !set.understood(d.s.Block.Statements):
		st = nil // part of it was not understood, and that has been told
	case len(st.Marks) == 0 && st.Like == nil:
		set.list.Add(diag.Diagnostic{Code: "empty-stamp", At: d.s.Args[0].Span, Message: fmt.Sprintf("the stamp «%s» draws nothing", st.Name), Try: []string{"leaf 8mm", `path "M0 0L4 0L2 5Z"`}})
		st = nil
	}
	set.stamps[d.s] = st
	return st
}

func (b *builder) marks(items []*item) []model.Mark {
	var out []model.Mark
	for _, it := range items {
		m := model.Mark{Which: it.w.Name, Origin: it.org}
		nm := func(name string) int64 {
			l, _ := b.lengthOf(it, name)
			return l.Nanometres()
		}
		m.X, m.Y = nm("x"), nm("y")
		m.Turned = b.degrees(it, "turned")
		switch it.w.Name {
		case "path":
			m.Data = joined(it, "data")
		case "line":
			m.Data, m.B, m.Cap = joined(it, "data"), nm("width"), it.m.Word("cap")
		case "circle":
			m.A = nm("across")
		case "ring":
			m.A, m.B = nm("across"), nm("width")
		case "oval", "lozenge", "bar":
			m.A, m.B = nm("tall"), nm("wide")
		case "leaf":
			m.A = nm("long")
			m.Right = b.plain(it, "right", 0.28)
			m.Left = b.plain(it, "left", m.Right)
		case "petal":
			m.A, m.B = nm("long"), nm("wide")
		case "mirror":
			m.Head = it.m.Has("axis") && it.m.Word("axis") == "head"
		case "around":
			m.Times = count(it.m.Word("times"))
		case "turned":
		case "group", "cut":
			m.Marks = b.marks(it.kids)
		default:
			continue
		}
		out = append(out, m)
	}
	return out
}

// joined gives a text that may stand in several pieces in parentheses.
func joined(it *item, name string) string {
	c, _ := it.m.Get(name)
	if c.Arg.Kind != ast.Group {
		return c.Arg.Text
	}
	var parts []string
	for _, a := range c.Arg.Args {
		parts = append(parts, a.Text)
	}
	return strings.Join(parts, "")
}

// roll resolves a roll by name.
func (set *Set) roll(sc *scope, name string) *model.Roll {
	d := set.find(sc, "roll", name)
	if d == nil || set.fits[d.s] == nil {
		return nil
	}
	if r, ok := set.rolls[d.s]; ok {
		return r
	}
	if set.cyclic(d, d.s.Args[0].Span) {
		return nil
	}
	set.busy[d.s] = true
	defer delete(set.busy, d.s)
	b := &builder{set: set}
	var items []*item
	items, ok := b.like(d, "roll")
	if !ok {
		set.rolls[d.s] = nil
		return nil
	}
	r := &model.Roll{Name: d.s.Args[0].Text, Origin: set.nodeOf(d, "roll"), Least: big.NewRat(-1, 100), Most: big.NewRat(8, 100), RoomMost: mm("2.2mm")}
	good := true
	stamp := func(it *item, name string) *model.Stamp {
		st := set.stamp(it.scope, it.m.Word(name))
		good = good && st != nil
		return st
	}
	b.within(items, func() {
		for _, it := range merge(items) {
			switch it.w.Name {
			case "repeat":
				r.Group = nil
				for _, c := range it.m.Every("stamp") {
					if st := set.stamp(it.scope, c.Arg.Text); st != nil {
						r.Group = append(r.Group, st)
					} else {
						good = false
					}
				}
			case "pitch":
				r.Pitch, _ = b.lengthOf(it, "pitch")
			case "space":
				r.Least, r.Most = b.ratio(it, "least"), b.ratio(it, "most")
			case "touch":
				r.Touch, _ = b.lengthOf(it, "touch")
			case "between":
				r.Between = stamp(it, "stamp")
			case "middle":
				r.Middle = stamp(it, "stamp")
			case "corner":
				if it.m.Has("stamp") {
					r.Corner, r.Facing = stamp(it, "stamp"), it.m.Word("facing")
				} else {
					r.RoomLeast, _ = b.lengthOf(it, "least")
					r.RoomMost, _ = b.lengthOf(it, "most")
				}
			case "overhang":
				r.Overhang, _ = b.lengthOf(it, "by")
			case "alternate":
				r.Alternate = true
			case "joined":
				r.Joined = true
			case "slack":
				r.Slack = true
			case "depth":
				r.Depth = b.lengthPtr(it, "depth")
			}
		}
	})
	at := d.s.Args[0].Span
	switch {
	case !good || r.Least == nil || r.Most == nil || d.s.Block != nil && !set.understood(d.s.Block.Statements):
		r = nil
	case len(r.Group) == 0:
		set.list.Add(diag.Diagnostic{Code: "empty-roll", At: at, Message: fmt.Sprintf("the roll «%s» repeats nothing", r.Name), Try: []string{"repeat leaf, bud"}})
		r = nil
	case r.Pitch.Sign() == 0:
		set.list.Add(diag.Diagnostic{Code: "no-pitch", At: at, Message: fmt.Sprintf("the roll «%s» says no pitch", r.Name), Try: []string{"pitch 9mm"}})
		r = nil
	}
	set.rolls[d.s] = r
	return r
}

// like gathers the statements of a definition after those of what it is like.
func (b *builder) like(d *definition, kind string) ([]*item, bool) {
	var items []*item
	f := b.set.fits[d.s]
	if base := f.match.Word("base"); base != "" {
		bd := b.set.find(d.scope, kind, base)
		if bd == nil || b.set.fits[bd.s] == nil || bd.s != d.s && b.set.cyclic(bd, d.s.Args[0].Span) {
			return nil, false
		}
		if bd.s == d.s {
			b.set.cyclic(d, d.s.Args[0].Span)
			return nil, false
		}
		b.set.busy[bd.s] = true
		more, ok := b.like(bd, kind)
		delete(b.set.busy, bd.s)
		if !ok {
			return nil, false
		}
		items = more
	}
	if d.s.Block != nil {
		items = append(items, b.gather(layer{d.s.Block.Statements, d.scope, b.set.nodeOf(d, kind), model.OfPattern})...)
	}
	return items, true
}

// Limits that hold where a film does not say: choices from the bench.
var (
	leastStroke       = mm("0.8mm").Nanometres()
	leastLetterStroke = mm("0.5mm").Nanometres()
	leastGap          = mm("0.6mm").Nanometres()
	leastLetterGap    = mm("0.25mm").Nanometres()
	leastPiece        = mm("2mm").Nanometres()
)

// film resolves a film by name.
func (set *Set) film(sc *scope, name string) *model.Film {
	d := set.find(sc, "film", name)
	if d == nil || set.fits[d.s] == nil {
		return nil
	}
	if f, ok := set.films[d.s]; ok {
		return f
	}
	if set.cyclic(d, d.s.Args[0].Span) {
		return nil
	}
	set.busy[d.s] = true
	defer delete(set.busy, d.s)
	b := &builder{set: set}
	items, ok := b.like(d, "film")
	if !ok {
		set.films[d.s] = nil
		return nil
	}
	f := &model.Film{Name: d.s.Args[0].Text, Colour: "#b3924f", Finish: "matt", Limits: model.Limits{
		Stroke: leastStroke, LetterStroke: leastLetterStroke, Gap: leastGap, LetterGap: leastLetterGap, Piece: leastPiece,
	}}
	nm := func(it *item, name string, into *int64) {
		if l, ok := b.lengthOf(it, name); ok {
			*into = l.Nanometres()
		}
	}
	for _, it := range merge(items) {
		switch it.w.Name {
		case "colour":
			f.Colour = it.m.Word("colour")
		case "finish":
			f.Finish = it.m.Word("finish")
		case "width":
			nm(it, "width", &f.Width)
		case "sheet":
			nm(it, "wide", &f.Width)
			nm(it, "long", &f.Long)
		case "transfer":
			f.Transfer = true
		case "least":
			nm(it, "piece", &f.Limits.Piece)
			nm(it, "stroke", &f.Limits.Stroke)
			nm(it, "gap", &f.Limits.Gap)
			if it.m.Has("stroke") {
				nm(it, "letters", &f.Limits.LetterStroke)
			} else if it.m.Has("gap") {
				nm(it, "letters", &f.Limits.LetterGap)
			}
		case "carries":
			for _, c := range it.m.Every("film") {
				f.Carries = append(f.Carries, c.Arg.Text)
			}
		}
	}
	set.films[d.s] = f
	return f
}

// thousandths rounds a share to whole thousandths.
func thousandths(r *big.Rat) int64 {
	n := new(big.Rat).Mul(r, big.NewRat(1000, 1))
	n.Add(n, big.NewRat(1, 2))
	return new(big.Int).Div(n.Num(), n.Denom()).Int64()
}
