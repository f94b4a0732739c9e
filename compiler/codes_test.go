package compiler

import (
	"context"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"headcap/lang/diag"
	"headcap/lang/vocab"
)

const entry = "book.headcap"

func checked(text string, beside map[string]string) (*diag.List, string) {
	fsys := fstest.MapFS{entry: {Data: []byte(text)}}
	for name, data := range beside {
		fsys[name] = &fstest.MapFile{Data: []byte(data)}
	}
	list := Check(context.Background(), fsys, entry)
	var shown strings.Builder
	if err := diag.Render(&shown, list.All(), false); err != nil {
		return list, err.Error()
	}
	return list, shown.String()
}

// alsoTold are the messages that a wrong example cannot do without.
var alsoTold = map[string][]string{
	"too-many":   {"odd-character"},    // it takes a hundred of them
	"bad-colour": {"missing-argument"}, // the reader of the text takes it away, and then it is missing
	"own-size":   {"open-question"},    // only a volume that is not measured may take its own without a word
}

func TestWrongExamplesYieldTheirMessageAndNoOther(t *testing.T) {
	for _, c := range vocab.Chapters {
		if c.Without != "" {
			continue
		}
		t.Run(c.Code, func(t *testing.T) {
			list, shown := checked(c.Wrong, c.Files)
			t.Log(shown)
			found := false
			for _, d := range list.All() {
				switch {
				case d.Code == c.Code:
					found = true
					if !slices.Contains(c.Severities, d.Severity) {
						t.Errorf("it is told as %s", d.Severity)
					}
				case !slices.Contains(alsoTold[c.Code], d.Code):
					t.Errorf("%s is told too", d.Code)
				}
			}
			if !found {
				t.Error("it is not told")
			}
		})
	}
}

func TestRightExamplesAreClean(t *testing.T) {
	for _, c := range vocab.Chapters {
		if c.Without != "" {
			continue
		}
		list, shown := checked(c.Right, c.Files)
		if list.Errors() || slices.ContainsFunc(list.All(), func(d diag.Diagnostic) bool { return d.Code == c.Code }) {
			t.Errorf("%s:\n%s", c.Code, shown)
		}
	}
}

func TestEveryCodeHasAChapterAndEveryChapterACode(t *testing.T) {
	used := codesIn(t, "../lang", ".")
	kinds := kindsOfThing()
	if !slices.Contains(kinds, "stamp") {
		t.Fatalf("the kinds of thing that can be named are %q", kinds)
	}
	for code, at := range used {
		stem, cut := strings.CutSuffix(code, "*")
		if !cut {
			if _, ok := vocab.Code(code); !ok {
				t.Errorf("%s: the code %s has no chapter", at, code)
			}
			continue
		}
		for _, k := range kinds {
			used[stem+k] = at
			if _, ok := vocab.Code(stem + k); !ok {
				t.Errorf("%s: the code %s has no chapter", at, stem+k)
			}
		}
	}
	for _, code := range vocab.Codes() {
		if used[code] == "" {
			t.Errorf("nothing uses the code %s", code)
		}
	}
}

// kindsOfThing are the types of capture in the vocabulary that name a thing.
func kindsOfThing() []string {
	figures := []string{
		"length", "count", "number", "percent", "angle", "string", "strings", "date", "colour", "value", "new", "weight", "density",
	}
	var out []string
	for _, w := range vocab.All {
		for _, m := range regexp.MustCompile(`<\w+:(\w+)[:>]`).FindAllStringSubmatch(strings.Join(w.Forms, " "), -1) {
			if !slices.Contains(figures, m[1]) && !slices.Contains(out, m[1]) {
				out = append(out, m[1])
			}
		}
	}
	return out
}

// codesIn finds every code that the sources under some folders give to a message, each with a place that does: as the
// field Code of a literal, assigned to such a field, or handed to a function as its parameter code. A code that is put
// together from parts ends with a star.
func codesIn(t *testing.T, roots ...string) map[string]string {
	t.Helper()
	files := token.NewFileSet()
	var trees []*ast.File
	for _, root := range roots {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
			if err == nil && f.Name.Name != "vocab" { // the chapters themselves are no use of a code
				trees = append(trees, f)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	params := map[string]int{} // of functions with a parameter code, by room and name: which one it is
	for _, f := range trees {
		for _, d := range f.Decls {
			if d, ok := d.(*ast.FuncDecl); ok {
				if i := paramCode(d.Type); i >= 0 {
					params[f.Name.Name+"."+d.Name.Name] = i
				}
			}
		}
	}
	found := map[string]string{}
	for _, f := range trees {
		ast.Inspect(f, func(n ast.Node) bool {
			var code ast.Expr
			switch n := n.(type) {
			case *ast.KeyValueExpr:
				if k, ok := n.Key.(*ast.Ident); ok && k.Name == "Code" {
					code = n.Value
				}
			case *ast.AssignStmt:
				for i, l := range n.Lhs {
					if s, ok := l.(*ast.SelectorExpr); ok && s.Sel.Name == "Code" && len(n.Rhs) == len(n.Lhs) {
						code = n.Rhs[i]
					}
				}
			case *ast.CallExpr:
				if i, ok := params[f.Name.Name+"."+called(n)]; ok && i < len(n.Args) {
					code = n.Args[i]
				}
			}
			if text := codeText(code); text != "" {
				found[text] = files.Position(n.Pos()).String()
			}
			return true
		})
	}
	return found
}

// paramCode is the number of a function's parameter code, a string; -1 where it has none.
func paramCode(f *ast.FuncType) int {
	i := 0
	for _, p := range f.Params.List {
		typ, _ := p.Type.(*ast.Ident)
		for _, name := range p.Names {
			if name.Name == "code" && typ != nil && typ.Name == "string" {
				return i
			}
			i++
		}
	}
	return -1
}

func called(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

// codeText is the code that an expression says outright, or the beginning of one and a star.
func codeText(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.BasicLit:
		if text, err := strconv.Unquote(e.Value); err == nil && e.Kind == token.STRING && text != "" {
			return text
		}
	case *ast.BinaryExpr:
		if text := codeText(e.X); text != "" && e.Op == token.ADD {
			return text + "*"
		}
	}
	return ""
}
