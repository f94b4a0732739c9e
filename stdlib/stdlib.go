// Package stdlib is the bundled set: films, leathers, stamps, rolls, panel plans and cover designs, written in the language
// itself and read when they are named.
package stdlib

import (
	"embed"
	"io/fs"
	"strings"
	"sync"
)

//go:embed *.headcap
var files embed.FS

// A Piece is the text of one definition, and the file that it stands in.
type Piece struct {
	Kind, Name string
	File       string
	Text       string
}

// Kinds are the words that begin a definition.
var Kinds = []string{"film", "leather", "stamp", "roll", "pattern"}

// Faces are the bundled faces.
var Faces = []string{"serif", "slab"}

type index struct {
	pieces []Piece
	byName map[string]int
}

// load finds the definitions by their first lines alone: each begins at the left margin with its kind and name, and ends
// before the next line that begins there.
var load = sync.OnceValue(func() *index {
	ix := &index{byName: map[string]int{}}
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		panic("stdlib: the bundled set cannot be listed: " + err.Error())
	}
	for _, e := range entries {
		text, err := files.ReadFile(e.Name())
		if err != nil {
			panic("stdlib: " + err.Error())
		}
		ix.add(e.Name(), string(text))
	}
	return ix
})

func (ix *index) add(file, text string) {
	var at *Piece
	start := 0
	for pos := 0; pos < len(text); {
		end := strings.IndexByte(text[pos:], '\n') + 1
		if end == 0 {
			end = len(text) - pos
		}
		line := text[pos : pos+end]
		if c := line[0]; c >= 'a' && c <= 'z' {
			if at != nil {
				at.Text = text[start:pos]
				ix.put(*at)
				at = nil
			}
			kind, rest, _ := strings.Cut(line, " ")
			for _, k := range Kinds {
				if k == kind {
					name := strings.Fields(rest)[0]
					at, start = &Piece{Kind: kind, Name: name, File: file}, pos
				}
			}
		}
		pos += end
	}
	if at != nil {
		at.Text = text[start:]
		ix.put(*at)
	}
}

func (ix *index) put(p Piece) {
	key := p.Kind + " " + p.Name
	if _, twice := ix.byName[key]; twice {
		panic("stdlib: two of " + key)
	}
	ix.byName[key] = len(ix.pieces)
	ix.pieces = append(ix.pieces, p)
}

// Find gives a definition by kind and name.
func Find(kind, name string) (Piece, bool) {
	ix := load()
	i, ok := ix.byName[kind+" "+name]
	if !ok {
		return Piece{}, false
	}
	return ix.pieces[i], true
}

// Names lists the names of a kind in the order in which they stand.
func Names(kind string) []string {
	if kind == "face" {
		return Faces
	}
	var out []string
	for _, p := range load().pieces {
		if p.Kind == kind {
			out = append(out, p.Name)
		}
	}
	return out
}
