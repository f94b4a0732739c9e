package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// numberRooms are the rooms whose numbers reach the blade: they must come out the same on every processor.
var numberRooms = []string{"compiler/geom", "compiler/trace", "compiler/lettering", "compiler/layout", "compiler/cutprep"}

// sameEverywhere are the functions of package math whose results the standard lays down to the last bit (IEEE 754), or
// that only look at bits. The others, such as Sin, Exp and Hypot, have assembly on some processors and differ there.
var sameEverywhere = []string{
	"Abs", "Ceil", "Copysign", "FMA", "Float32bits", "Float32frombits", "Float64bits", "Float64frombits", "Floor", "Frexp",
	"Inf", "IsInf", "IsNaN", "Ldexp", "Max", "Min", "Mod", "Modf", "NaN", "Nextafter", "Remainder", "Round", "RoundToEven",
	"Signbit", "Sqrt", "Trunc",
}

// rounders give a whole number, so that a conversion to an integer after them says what it means.
var rounders = []string{"Ceil", "Floor", "Round", "RoundToEven", "Trunc"}

// A numberFault is a place where a number may depend on the processor.
type numberFault struct {
	at   token.Position
	what string
}

const (
	mayFuse      = "product may be fused with a sum: write float64(x*y)"
	complexFuse  = "complex product may be fused: write it out in floats"
	notGuarded   = "float to integer without math.Round or the like: round it, or say in a comment on the line `// guarded: why`"
	notTheSame   = "math.%s differs between processors"
	tiedToTarget = "file is not for every processor"
)

// numberFaults looks through the syntax trees of one package. Go may compute x*y + z with one rounding, across statements
// and through calls that it inlines; only a conversion, or an assignment it cannot see through, keeps the product apart
// (The Go Programming Language Specification, "Floating-point operators"). So a product must go straight into a
// conversion, or into an operation that fuses with nothing.
func numberFaults(fset *token.FileSet, files []*ast.File, info *types.Info) []numberFault {
	var out []numberFault
	for _, file := range files {
		guarded := guardedLines(fset, file)
		var stack []ast.Node
		fault := func(n ast.Node, format string, args ...any) {
			out = append(out, numberFault{fset.Position(n.Pos()), fmt.Sprintf(format, args...)})
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if n == nil {
				stack = stack[:len(stack)-1]
				return true
			}
			switch n := n.(type) {
			case *ast.SelectorExpr:
				if f, ok := info.Uses[n.Sel].(*types.Func); ok && f.Pkg() != nil && f.Pkg().Path() == "math" && !slices.Contains(sameEverywhere, f.Name()) {
					fault(n, notTheSame, f.Name())
				}
			case *ast.BinaryExpr:
				switch {
				case n.Op != token.MUL || info.Types[n].Value != nil:
				case hasKind(info, n, types.IsComplex):
					fault(n, complexFuse)
				case hasKind(info, n, types.IsFloat) && !scales(info, n.X) && !scales(info, n.Y) && !keptApart(info, n, stack):
					fault(n, mayFuse)
				}
			case *ast.AssignStmt:
				if n.Tok == token.MUL_ASSIGN && hasKind(info, n.Lhs[0], types.IsFloat) && !scales(info, n.Rhs[0]) {
					fault(n, mayFuse)
				}
			case *ast.CallExpr:
				if bareConversion(info, n) && !guarded[fset.Position(n.Pos()).Line] {
					fault(n, notGuarded)
				}
			}
			stack = append(stack, n)
			return true
		})
	}
	return out
}

// guardedLines are the lines with a comment that says why a conversion on them is safe, or that follow one.
func guardedLines(fset *token.FileSet, file *ast.File) map[int]bool {
	lines := map[int]bool{}
	for _, group := range file.Comments {
		for _, c := range group.List {
			if strings.HasPrefix(c.Text, "// guarded:") {
				line := fset.Position(c.Pos()).Line
				lines[line] = true
				lines[fset.Position(group.End()).Line+1] = true
			}
		}
	}
	return lines
}

func hasKind(info *types.Info, e ast.Expr, kind types.BasicInfo) bool {
	t := info.TypeOf(e)
	if t == nil {
		return false
	}
	if p, ok := t.(*types.TypeParam); ok {
		t = p.Constraint()
	}
	switch t := t.Underlying().(type) {
	case *types.Basic:
		return t.Info()&kind != 0
	case *types.Interface: // of a type parameter: one float among its types is enough
		for i := range t.NumEmbeddeds() {
			if union, ok := t.EmbeddedType(i).(*types.Union); ok {
				for j := range union.Len() {
					if b, ok := union.Term(j).Type().Underlying().(*types.Basic); ok && b.Info()&kind != 0 {
						return true
					}
				}
			}
		}
	}
	return false
}

// scales says whether e is a constant power of two: a product with one is exact, and fusing it changes nothing.
func scales(info *types.Info, e ast.Expr) bool {
	v := info.Types[e].Value
	if v == nil {
		return false
	}
	f, exact := constant.Float64Val(constant.ToFloat(v))
	frac, _ := math.Frexp(f)
	return exact && math.Abs(frac) == 0.5
}

// keptApart says whether the value of the product n goes straight into something that cannot be fused with it. Its
// ancestors are given, the outermost first.
func keptApart(info *types.Info, n ast.Expr, ancestors []ast.Node) bool {
	for _, parent := range slices.Backward(ancestors) {
		switch p := parent.(type) {
		case *ast.ParenExpr:
			continue
		case *ast.UnaryExpr:
			continue // the sign of a product is part of it
		case *ast.BinaryExpr:
			switch p.Op {
			case token.ADD, token.SUB:
				return false
			}
			return true // a factor of another product, which is looked at for itself, a quotient or a comparison
		case *ast.CallExpr:
			if info.Types[p.Fun].IsType() {
				return true
			}
			from, _ := called(info, p)
			return from == "math" || from == "fmt" || from == "strconv" // none of them adds to what it is given
		}
		return false
	}
	return false
}

// bareConversion says whether the call turns a float into an integer, and nothing has rounded it before.
func bareConversion(info *types.Info, call *ast.CallExpr) bool {
	if len(call.Args) != 1 || !info.Types[call.Fun].IsType() || info.Types[call].Value != nil {
		return false
	}
	if !hasKind(info, call, types.IsInteger) || !hasKind(info, call.Args[0], types.IsFloat) {
		return false
	}
	return !rounded(info, call.Args[0]) && !(bounded(info, call.Args[0], "min") && bounded(info, call.Args[0], "max"))
}

// called gives the package and the name of the function that a call calls, the package empty for a built-in one.
func called(info *types.Info, call *ast.CallExpr) (from, name string) {
	switch fun := ast.Unparen(call.Fun).(type) {
	case *ast.Ident:
		if _, ok := info.Uses[fun].(*types.Builtin); ok {
			return "", fun.Name
		}
	case *ast.SelectorExpr:
		if f, ok := info.Uses[fun.Sel].(*types.Func); ok && f.Pkg() != nil {
			return f.Pkg().Path(), f.Name()
		}
	}
	return "?", ""
}

// rounded says whether e is a call of a rounder, perhaps under a limit.
func rounded(info *types.Info, e ast.Expr) bool {
	call, ok := ast.Unparen(e).(*ast.CallExpr)
	if !ok {
		return false
	}
	from, name := called(info, call)
	if from == "math" {
		return slices.Contains(rounders, name)
	}
	return from == "" && (name == "min" || name == "max") && slices.ContainsFunc(call.Args, func(a ast.Expr) bool { return rounded(info, a) })
}

// bounded says whether e is a constant limit, min or max, of something, perhaps under the other one.
func bounded(info *types.Info, e ast.Expr, limit string) bool {
	call, ok := ast.Unparen(e).(*ast.CallExpr)
	if !ok {
		return false
	}
	from, name := called(info, call)
	if from != "" || name != "min" && name != "max" {
		return false
	}
	return name == limit && slices.ContainsFunc(call.Args, func(a ast.Expr) bool { return info.Types[a].Value != nil }) ||
		slices.ContainsFunc(call.Args, func(a ast.Expr) bool { return bounded(info, a, limit) })
}

// checkPackage reads and types the files and looks through them.
func checkPackage(name string, fset *token.FileSet, sources map[string]any, imports types.Importer) ([]numberFault, error) {
	var files []*ast.File
	for file, text := range sources {
		tree, err := parser.ParseFile(fset, file, text, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, tree)
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}
	conf := types.Config{Importer: imports}
	if _, err := conf.Check(name, fset, files, info); err != nil {
		return nil, err
	}
	faults := numberFaults(fset, files, info)
	slices.SortFunc(faults, func(a, b numberFault) int {
		if c := strings.Compare(a.at.Filename, b.at.Filename); c != 0 {
			return c
		}
		return a.at.Offset - b.at.Offset
	})
	return faults, nil
}

// A listed package, as the go command tells of it.
type listed struct {
	ImportPath, Dir, Export                   string
	GoFiles, IgnoredGoFiles, SFiles, CgoFiles []string
}

// listPackages asks the go command for packages and all that they import, compiled for their types.
func listPackages(t *testing.T, root string, patterns ...string) map[string]listed {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles,IgnoredGoFiles,SFiles,CgoFiles"}, patterns...)...)
	cmd.Dir = root
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	text, err := cmd.Output()
	if errors.Is(err, exec.ErrNotFound) {
		t.Skip("needs the go command")
	}
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.Bytes())
	}
	out := map[string]listed{}
	for d := json.NewDecoder(bytes.NewReader(text)); ; {
		var p listed
		err := d.Decode(&p)
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		out[p.ImportPath] = p
	}
}

func exportsOf(fset *token.FileSet, packages map[string]listed) types.Importer {
	return importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) {
		p, ok := packages[path]
		if !ok || p.Export == "" {
			return nil, fmt.Errorf("no export data of %s", path)
		}
		return os.Open(p.Export)
	})
}

func TestNumbersAreTheSameOnEveryProcessor(t *testing.T) {
	root := moduleRoot(t)
	var patterns []string
	for _, room := range numberRooms {
		if names, _ := filepath.Glob(filepath.Join(root, room, "*.go")); len(names) > 0 {
			patterns = append(patterns, "./"+room)
		}
	}
	packages := listPackages(t, root, patterns...)
	fset := token.NewFileSet()
	imports := exportsOf(fset, packages)
	for _, pattern := range patterns {
		p := packages["headcap"+strings.TrimPrefix(pattern, ".")]
		for _, name := range slices.Concat(p.IgnoredGoFiles, p.SFiles, p.CgoFiles) {
			t.Errorf("%s/%s: %s", pattern, name, tiedToTarget)
		}
		sources := map[string]any{}
		for _, name := range p.GoFiles {
			sources[filepath.Join(p.Dir, name)] = nil
		}
		faults, err := checkPackage(p.ImportPath, fset, sources, imports)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults {
			name, _ := filepath.Rel(root, f.at.Filename)
			t.Errorf("%s:%d:%d: %s", name, f.at.Line, f.at.Column, f.what)
		}
	}
}

// planted has a fault on every line that wants one.
const planted = `package planted

import (
	"fmt"
	"math"
)

type length float64

type point struct{ x, y float64 }

func products(a, b, c float64, n int64, l length) (float64, point) {
	_ = a*b + c                     // wants "fused"
	_ = c - (a * b)                 // wants "fused"
	_ = c + -(a * b)                // wants "fused"
	_ = float64(a*b) + c
	_ = float64((a*b)) + c
	_ = float64(a*b + c)            // wants "fused"
	_ = math.FMA(a, b, c)
	_ = a*b/c + c
	_ = c + 2*a - a*0.25 + 3*a      // wants "fused"
	_ = math.Sqrt(a*b) + c
	_ = a*b < c
	_ = fmt.Sprint(a * b)
	_ = max(a*b, 0) + c             // wants "fused"
	_ = n*n + n
	_ = l*l + l                     // wants "fused"
	_ = float64(l*l)
	const third = 2.0 * 3 / 9
	p := a * b                      // wants "fused"
	p = float64(a * b * c)
	p *= c                          // wants "fused"
	p *= 2
	p += a * b                      // wants "fused"
	helper(a * b)                   // wants "fused"
	q := point{a * b, third}        // wants "fused"
	q.x = math.Float64frombits(7)
	return a * b, q                 // wants "fused"
}

func helper(float64) {}

func either[T int | float32](a, b, c T) T { return a*b + c } // wants "fused"

func whole(a complex128) complex128 { return a * a } // wants "complex"

func functions(a float64) {
	_ = math.Sin(a)                 // wants "math.Sin differs"
	_ = math.Hypot(a, a)            // wants "math.Hypot differs"
	f := math.Pow                   // wants "math.Pow differs"
	_ = f(math.Floor(a), math.Abs(a))
}

func integers(a float64, r []int) {
	_ = int(a)                      // wants "to integer"
	_ = int64(length(a))            // wants "to integer"
	_ = int64(math.Round(a))
	_ = int64((math.Floor(a)))
	_ = int64(min(math.Ceil(a), 9))
	_ = int64(max(min(a, 9), 0))
	_ = int64(min(a, 9))            // wants "to integer"
	_ = int64(max(a, min(a, 9)))    // wants "to integer"
	_ = int64(math.Sqrt(a))         // wants "to integer"
	_ = int(a) // guarded: a is a count
	// guarded: a is a count, as
	// was said above
	_ = int(a)
	_ = int64(2.0)
	_ = r[int(a)]                   // wants "to integer"
	_ = math.Float64bits(a)
}
`

func TestPlantedNumberFaultsAreSeen(t *testing.T) {
	fset := token.NewFileSet()
	packages := listPackages(t, moduleRoot(t), "math", "fmt")
	faults, err := checkPackage("planted", fset, map[string]any{"planted.go": planted}, exportsOf(fset, packages))
	if err != nil {
		t.Fatal(err)
	}
	told := map[int][]string{}
	for _, f := range faults {
		told[f.at.Line] = append(told[f.at.Line], f.what)
	}
	wants := regexp.MustCompile(`// wants "(.*)"`)
	for i, line := range strings.Split(planted, "\n") {
		got := told[i+1]
		want := wants.FindStringSubmatch(line)
		switch {
		case want == nil && len(got) > 0:
			t.Errorf("line %d: %s\n\ttold %q, wanted nothing", i+1, line, got)
		case want != nil && (len(got) != 1 || !strings.Contains(got[0], want[1])):
			t.Errorf("line %d: %s\n\ttold %q, wanted %q", i+1, line, got, want[1])
		}
	}
}
