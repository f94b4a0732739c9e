package resolve_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"headcap/compiler/measure"
	"headcap/compiler/resolve"
	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/parse"
	"headcap/lang/source"
)

var update = flag.Bool("update", false, "rewrite the expected models and messages")

// bundle is a bundled set for the tests: a handful of pieces, so that no change to the real one moves them.
const bundle = `
film gold { colour #b3924f }
film silver { colour #c0c0c0 }
leather brown { colour #6b4a2f }
leather green { colour #2f5a3a }
leather green-dark { colour #1f3a2a }
stamp acorn { leaf 8mm }
stamp wren { circle 8mm }
roll beads { repeat acorn; pitch 9mm }
pattern two-band for spine { bands 2 equal; panel rest { centre acorn } }
pattern lined for cover { frame outer { inset 10mm; fillet 1mm } }
`

type library struct{ statements []*ast.Statement }

func (l library) Find(kind, name string) *ast.Statement {
	for _, s := range l.statements {
		if s.Word == kind && s.Args[0].Text == name {
			return s
		}
	}
	return nil
}

func (l library) Names(kind string) []string {
	var out []string
	if kind == "face" {
		return []string{"serif", "slab"}
	}
	for _, s := range l.statements {
		if s.Word == kind {
			out = append(out, s.Args[0].Text)
		}
	}
	return out
}

// The files of testdata hold sources, the first of them the entry; the model that comes of them, volume by volume; and what
// is told. A case says in its first line what it shows.
func TestModels(t *testing.T) {
	paths, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(paths) == 0 {
		t.Fatal("there are no cases", err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(path)
			if err != nil {
				t.Fatal(err)
			}
			files := map[string]string{}
			want := map[string]string{}
			entry := ""
			kept := a.Files[:0:0]
			for _, f := range a.Files {
				if !strings.HasSuffix(f.Name, ".headcap") {
					want[f.Name] = string(f.Data)
					continue
				}
				if entry == "" {
					entry = f.Name
				}
				files[f.Name] = string(f.Data)
				kept = append(kept, f)
			}
			shelf, told := resolved(files, entry)
			got := []txtar.File{{Name: "model", Data: []byte(shelf)}, {Name: "diag", Data: []byte(told)}}
			if *update {
				a.Files = kept
				for _, f := range got {
					if len(f.Data) > 0 {
						a.Files = append(a.Files, f)
					}
				}
				if err := os.WriteFile(path, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			for _, f := range got {
				if string(f.Data) != want[f.Name] {
					t.Errorf("the %s is\n%s\nwanted\n%s", f.Name, f.Data, want[f.Name])
				}
			}
		})
	}
}

// resolved gives the model of a set of files, and what is told of it.
func resolved(files map[string]string, entry string) (shelf, told string) {
	var list diag.List
	bundled := library{parse.File(source.NewFile("bundled", bundle), &list).Statements}
	get := func(path string) (*ast.File, error) {
		text, ok := files[path]
		if !ok {
			return nil, fmt.Errorf("there is no file %s", path)
		}
		return parse.File(source.NewFile(path, text), &list), nil
	}
	set := resolve.Files(entry, get, bundled, &list)
	var out strings.Builder
	for i, v := range set.Shelf.Volumes {
		d := set.Design(i, measure.Of(v, set.Origins, &list).Facts())
		dump(&out, set.Shelf, v, d)
	}
	var said strings.Builder
	for _, d := range list.All() {
		line, column := d.At.File.Position(d.At.Start)
		fmt.Fprintf(&said, "%s:%d:%d: %s %s", d.At.File.Path, line, column, d.Severity, d.Code)
		if d.Volume != "" {
			fmt.Fprintf(&said, " (%s)", d.Volume)
		}
		fmt.Fprintf(&said, ": %s\n", d.Message)
	}
	return out.String(), said.String()
}
