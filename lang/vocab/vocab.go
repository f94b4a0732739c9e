// Package vocab is the vocabulary: every word of the language once, as data. What a word means, where it may stand, what it
// takes, its default and a sentence about it stand in one table; checking, suggestions and the manual all come from it.
package vocab

import (
	"slices"
	"strings"
	"sync"
)

// Place is where a statement stands: the file itself, or the block of a word.
type Place string

// The places.
const (
	File    Place = "file"
	Film    Place = "film"
	Leather Place = "leather"
	Stamp   Place = "stamp"
	Roll    Place = "roll"
	Series  Place = "series"
	Volume  Place = "volume"
	Binding Place = "binding"
	Covered Place = "covered"
	Spine   Place = "spine"
	Cover   Place = "cover" // front and back
	Panel   Place = "panel"
	Frame   Place = "frame"
	Letter  Place = "letter"
	Same    Place = "same" // the block of `when`, `otherwise` and `group` holds what the block around it holds
	Either  Place = "either"
)

// Merge says what becomes of a statement when the same word comes again, in the same block or from a pattern or series.
type Merge uint8

// The ways of merging: a later one replaces; the same key is added to; each adds.
const (
	Once Merge = iota
	Keyed
	Many
)

// A Word is one word in the places where it has one meaning. Forms are what may follow it, in the notation of form.go;
// Key names the captures that make the key of a
// Keyed word; after a question mark only whether there was such a capture counts. Opens is the place that its block is, empty where it takes
// none; Must says that it wants a block.
type Word struct {
	Name    string
	Also    []string
	In      []Place
	Forms   []string
	Opens   Place
	Must    bool
	Merge   Merge
	Key     []string
	Doc     string
	Default string
	Example string

	forms []node
}

// Spelling gives the word's name for a spelling of it: British and American, and the trade's doubles.
var spellings = func() map[string]string {
	m := map[string]string{}
	for i := range All {
		for _, a := range All[i].Also {
			m[a] = All[i].Name
		}
	}
	for i := range All {
		delete(m, All[i].Name)
	}
	return m
}()

// byPlace holds the words of each place, byName those of each name.
var (
	byPlace = map[Place]map[string]*Word{}
	byName  = map[string][]*Word{}
	literal = map[string]bool{} // every fixed word, of arguments too
)

func init() {
	for i := range All {
		w := &All[i]
		for _, f := range w.Forms {
			literals(f)
		}
		literal[w.Name] = true
		for _, a := range w.Also {
			literal[a] = true
		}
		byName[w.Name] = append(byName[w.Name], w)
		for _, p := range w.In {
			if byPlace[p] == nil {
				byPlace[p] = map[string]*Word{}
			}
			if byPlace[p][w.Name] != nil {
				panic("vocab: " + w.Name + " stands twice in " + string(p))
			}
			byPlace[p][w.Name] = w
		}
	}
}

// Find gives the word as it may stand in a place, and nil where it may not.
func Find(p Place, word string) *Word {
	if s, ok := spellings[word]; ok && byPlace[p][word] == nil {
		word = s
	}
	return byPlace[p][word]
}

// Known says whether the word stands anywhere, and in which places.
func Known(word string) []Place {
	if s, ok := spellings[word]; ok {
		word = s
	}
	var out []Place
	for _, w := range byName[word] {
		out = append(out, w.In...)
	}
	return out
}

// Reserved says whether a name is a word of the language, so that nothing of the author's may be called by it.
func Reserved(name string) bool { return literal[name] }

// Words lists the words of a place in the order of the table.
func Words(p Place) []string {
	var out []string
	for i := range All {
		if slices.Contains(All[i].In, p) {
			out = append(out, All[i].Name)
		}
	}
	return out
}

// Fit matches the arguments of a statement against the forms of its word. It gives what was captured, or a Misfit.
func (w *Word) Fit(args []Arg) (Match, *Misfit) {
	forms := w.compiled()
	if len(forms) == 0 {
		if len(args) == 0 {
			return Match{}, nil
		}
		return Match{}, &Misfit{At: 0}
	}
	s := state{args: args}
	for i := range forms {
		if m, ok := s.match(forms[i], i); ok {
			return m, nil
		}
	}
	slices.Sort(s.want)
	return Match{}, &Misfit{At: s.far, Want: slices.Compact(s.want)}
}

// compiling guards the forms, which are read when their word is first met: most programs use few of them.
var compiling sync.Mutex

func (w *Word) compiled() []node {
	compiling.Lock()
	defer compiling.Unlock()
	if w.forms == nil {
		for _, f := range w.Forms {
			w.forms = append(w.forms, compile(f))
		}
	}
	return w.forms
}

// Usage prints the forms of a word for people, one a line.
func (w *Word) Usage() []string {
	if len(w.Forms) == 0 {
		return []string{w.Name}
	}
	out := make([]string, len(w.Forms))
	for i, f := range w.Forms {
		out[i] = strings.TrimSpace(w.Name + " " + humane(f))
	}
	return out
}
