// Package resolve turns syntax trees and the vocabulary into the model: it checks every statement against the table, finds
// names, merges patterns, series and volumes, puts in defaults, and settles conditions once a volume's widths are known.
// It draws nothing and measures nothing.
package resolve

import (
	"slices"

	"headcap/compiler/model"
	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
	"headcap/lang/vocab"
)

// Library gives the bundled definitions, read when they are named. Find answers nil for a name that it does not hold.
type Library interface {
	Find(kind, name string) *ast.Statement
	Names(kind string) []string
}

// Get gives the tree of a file by its path, or says why it can't (missing is true where there is no such file). Trees are
// given once each; their syntax errors are in the list already.
type Get func(path string) (file *ast.File, err error)

// A definition is something with a name in a file, or in the bundled set.
type definition struct {
	s     *ast.Statement
	scope *scope
}

// A scope is a file with the names it gives.
type scope struct {
	file  *ast.File // nil for the bundled set
	names map[string]map[string]*definition
	uses  map[string]*scope
	lets  map[string]*ast.Statement
	any   map[string]bool // every let anywhere in the file, for the check of names
	lost  map[string]bool // names, and kinds of thing, that a definition may have meant which was not understood
}

func newScope(f *ast.File) *scope {
	return &scope{file: f, names: map[string]map[string]*definition{}, uses: map[string]*scope{}, lets: map[string]*ast.Statement{}, any: map[string]bool{}, lost: map[string]bool{}}
}

// fitted is a statement that the vocabulary understood.
type fitted struct {
	word  *vocab.Word
	match vocab.Match
}

// Set is a resolved set of files: the shelf, and what is needed to settle the designs of its volumes.
type Set struct {
	Shelf   model.Shelf
	Origins *source.Origins
	Asked   []string // every file that was asked for, missing ones too, in order

	list    *diag.List
	lib     Library
	get     Get
	scopes  map[string]*scope
	bundled *scope
	fits    map[*ast.Statement]*fitted
	checked map[*ast.Statement]bool
	known   map[string]*definition // bundled ones that were found
	stamps  map[*ast.Statement]*model.Stamp
	rolls   map[*ast.Statement]*model.Roll
	films   map[*ast.Statement]*model.Film
	busy    map[*ast.Statement]bool
	vols    []*volume
	faces   map[string]bool
}

// volume keeps what its design is made of.
type volume struct {
	index  int
	layers []layer // series, then volume
}

// A layer is the block of a series or a volume.
type layer struct {
	statements []*ast.Statement
	scope      *scope
	origin     source.Origin
	from       model.From
}

// Files resolves the file at entry and all that it uses.
func Files(entry string, get Get, lib Library, list *diag.List) *Set {
	set := &Set{
		Origins: source.NewOrigins(),
		list:    list, lib: lib, get: get,
		scopes:  map[string]*scope{},
		bundled: newScope(nil),
		fits:    map[*ast.Statement]*fitted{},
		checked: map[*ast.Statement]bool{},
		known:   map[string]*definition{},
		stamps:  map[*ast.Statement]*model.Stamp{},
		rolls:   map[*ast.Statement]*model.Roll{},
		films:   map[*ast.Statement]*model.Film{},
		busy:    map[*ast.Statement]bool{},
		faces:   map[string]bool{},
	}
	sc := set.open(entry, source.Span{}, nil)
	if sc == nil {
		return set
	}
	set.shelf(sc)
	return set
}

// open reads a file and the files that it uses. trail is the chain of files that led here.
func (set *Set) open(path string, at source.Span, trail []*ast.File) *scope {
	if sc, ok := set.scopes[path]; ok {
		for i, f := range trail {
			if sc != nil && f == sc.file {
				names := ""
				for _, g := range trail[i:] {
					names += g.Source.Path + " → "
				}
				set.list.Add(diag.Diagnostic{
					Code: "cyclic-use", At: at,
					Message: "these files use each other in a circle: " + names + path,
					Try:     []string{"put what both need into a third file"},
				})
				return nil
			}
		}
		return sc
	}
	set.Asked = append(set.Asked, path)
	file, err := set.get(path)
	if err != nil {
		set.list.Add(diag.Diagnostic{Code: "missing-file", At: at, Message: err.Error(), Try: []string{"files are looked for beside the source that names them"}})
		set.scopes[path] = nil
		return nil
	}
	sc := newScope(file)
	set.scopes[path] = sc
	set.collect(sc, append(trail[:len(trail):len(trail)], file))
	set.check(sc, vocab.File, file.Statements)
	if len(file.Statements) > 0 && file.Statements[0].Word != "language" {
		s := file.Statements[0]
		set.list.Add(diag.Diagnostic{
			Code: "no-language", At: s.WordSpan, Message: "a file begins by saying its language level",
			Try: []string{"language 1"}, Fix: &diag.Fix{At: source.Span{File: s.Span.File, Start: s.WordSpan.Start, End: s.WordSpan.Start}, With: "language 1\n\n"},
		})
	}
	return sc
}

// kinds are the words that give names at the top of a file.
var kinds = map[string]bool{"stamp": true, "roll": true, "film": true, "leather": true, "face": true, "pattern": true}

// collect notes the names that a file gives.
func (set *Set) collect(sc *scope, trail []*ast.File) {
	ast.Walk(sc.file.Statements, func(s *ast.Statement) bool {
		if s.Word == "let" && len(s.Args) > 0 {
			sc.any[s.Args[0].Text] = true
		}
		return true
	})
	for _, s := range sc.file.Statements {
		w := s.Word
		if w == "tool" {
			w = "stamp"
		}
		if len(s.Args) == 0 || s.Args[0].Kind != ast.Word && s.Word != "use" {
			sc.lost[w] = true
			continue
		}
		name, at := s.Args[0].Text, s.Args[0].Span
		if vocab.Known(w) == nil {
			sc.lost[name] = true
		}
		switch {
		case kinds[w]:
			if w != "leather" && w != "film" && !set.mayName(s.Args[0]) {
				continue
			}
			if set.twice(sc, w, name, at) {
				continue
			}
			if sc.names[w] == nil {
				sc.names[w] = map[string]*definition{}
			}
			sc.names[w][name] = &definition{s, sc}
		case s.Word == "let":
			if old := sc.lets[name]; old != nil {
				set.duplicate("measure", name, at, old.Args[0].Span)
				continue
			}
			sc.lets[name] = s
		case s.Word == "use" && len(s.Args) == 3 && s.Args[0].Kind == ast.String:
			alias := s.Args[2].Text
			if sc.uses[alias] != nil {
				set.duplicate("file", alias, s.Args[2].Span, sc.uses[alias].file.Statements[0].Span)
				continue
			}
			if other := set.open(beside(sc.file.Source.Path, name), s.Args[0].Span, trail); other != nil {
				sc.uses[alias] = other
			}
		}
	}
}

func (set *Set) twice(sc *scope, kind, name string, at source.Span) bool {
	old := sc.names[kind][name]
	if old == nil {
		return false
	}
	set.duplicate(kind, name, at, old.s.Args[0].Span)
	return true
}

func (set *Set) duplicate(kind, name string, at, first source.Span) {
	set.list.Add(diag.Diagnostic{
		Code: "duplicate-name", At: at, Message: "there is a " + kind + " named «" + name + "» already",
		Notes: []diag.Note{{At: first, Text: "first named here"}},
		Try:   []string{"rename one of them, or take one away"},
	})
}

// find looks a name up: a name of the author's own wins over a bundled one.
func (set *Set) find(sc *scope, kind, name string) *definition {
	if alias, rest, ok := cutDot(name); ok {
		if other := sc.uses[alias]; other != nil {
			return other.names[kind][rest]
		}
		return nil
	}
	if d := sc.names[kind][name]; d != nil {
		return d
	}
	return set.fromLibrary(kind, name)
}

func (set *Set) fromLibrary(kind, name string) *definition {
	key := kind + " " + name
	if d, ok := set.known[key]; ok {
		return d
	}
	var d *definition
	if kind == "face" && slices.Contains(set.lib.Names("face"), name) {
		d = &definition{nil, set.bundled}
		set.known[key] = d
		return d
	}
	if s := set.lib.Find(kind, name); s != nil {
		d = &definition{s, set.bundled}
		set.known[key] = d
		set.check(set.bundled, vocab.File, []*ast.Statement{s})
		return d
	}
	set.known[key] = nil
	return nil
}

// names lists what can be named of a kind in a scope, own names first.
func (set *Set) names(sc *scope, kind string) []string {
	var out []string
	if sc.file != nil {
		for _, s := range sc.file.Statements {
			if len(s.Args) > 0 && sc.names[kind][s.Args[0].Text] != nil && sc.names[kind][s.Args[0].Text].s == s {
				out = append(out, s.Args[0].Text)
			}
		}
		for _, s := range sc.file.Statements {
			if s.Word == "use" && len(s.Args) == 3 {
				if other := sc.uses[s.Args[2].Text]; other != nil {
					for _, t := range other.file.Statements {
						if len(t.Args) > 0 && other.names[kind][t.Args[0].Text] != nil {
							out = append(out, s.Args[2].Text+"."+t.Args[0].Text)
						}
					}
				}
			}
		}
	}
	return append(out, set.lib.Names(kind)...)
}

func cutDot(name string) (alias, rest string, ok bool) {
	for i := 0; i < len(name); i++ {
		if name[i] == '.' {
			return name[:i], name[i+1:], true
		}
	}
	return "", name, false
}

// beside gives the path of a file named in another.
func beside(path, name string) string {
	for i := len(path) - 1; i >= 0; i-- {
		if path[i] == '/' {
			return path[:i+1] + name
		}
	}
	return name
}

// length makes a default.
func mm(text string) unit.Length {
	q, err := unit.ParseQuantity(text)
	l, ok := q.Length()
	if err != nil || !ok {
		panic("resolve: the default " + text + " is no length")
	}
	return l
}
