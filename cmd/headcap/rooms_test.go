package main

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// roomsTable says of every room what it may open: the other rooms of this module, then after "with" the modules of others
// that are opened here and in no other room. An arrow that is not in the table is a decision: change the table in the
// commit that says why. A room marked "tests:" is opened by tests only.
const roomsTable = `
lang/source:
lang/unit:
lang/diag:   lang/source
lang/ast:    lang/source
lang/parse:  lang/ast lang/diag lang/source lang/unit  with github.com/alecthomas/participle/v2
lang/format: lang/ast lang/diag lang/parse lang/source
lang/vocab:  lang/ast lang/diag lang/unit

compiler/geom:
compiler/model:     lang/source lang/unit
compiler/drawing:   compiler/geom lang/source lang/unit
compiler/cut:       compiler/geom lang/source lang/unit
compiler/artwork:   compiler/geom lang/diag lang/source
compiler/lettering: compiler/geom lang/diag lang/source lang/unit  with github.com/go-text/typesetting codeberg.org/go-fonts/latin-modern codeberg.org/go-fonts/stix
compiler/resolve:   compiler/model lang/ast lang/diag lang/source lang/unit lang/vocab
compiler/load:      compiler/artwork compiler/lettering compiler/model lang/diag lang/source
compiler/measure:   compiler/model lang/diag lang/source lang/unit
compiler/agree:     compiler/geom compiler/lettering compiler/measure compiler/model lang/diag lang/source lang/unit
compiler/ornament:  compiler/geom compiler/model lang/unit
compiler/layout:    compiler/agree compiler/drawing compiler/geom compiler/lettering compiler/measure compiler/model compiler/ornament lang/diag lang/source lang/unit
compiler/cutprep:   compiler/cut compiler/drawing compiler/geom lang/diag lang/source lang/unit

compiler/emit/internal/settled: compiler/cut compiler/geom
compiler/emit/svg:     compiler/cut compiler/emit/internal/settled compiler/geom lang/source lang/unit  with github.com/ajstarks/svgo
compiler/emit/dxf:     compiler/cut compiler/emit/internal/settled compiler/geom lang/source lang/unit  with github.com/yofu/dxf
compiler/emit/listing: compiler/cut compiler/drawing compiler/emit/internal/settled compiler/geom compiler/measure compiler/model lang/source lang/unit
compiler/emit/preview: compiler/cut compiler/drawing compiler/geom compiler/measure compiler/model lang/source lang/unit  with github.com/lucasb-eyer/go-colorful
compiler/emit/png:     compiler/emit/preview compiler/geom  with golang.org/x/image

tests: compiler/emit/internal/sample: compiler/cut compiler/geom
tests: compiler/emit/reread:
tests: compiler/emit/outside: compiler/emit/reread

stdlib:
compiler: lang/* compiler/* stdlib

cmd/headcap/publish:
cmd/headcap: compiler lang/* cmd/headcap/*  with github.com/alecthomas/kong
`

// testModules are opened by tests, in any room.
var testModules = []string{"pgregory.net/rapid", "github.com/rogpeppe/go-internal"}

// machinePackages touch disk, clock, chance, network, terminal or the machine itself: only the program's rooms may.
var machinePackages = []string{
	"os", "net", "time", "syscall", "unsafe", "log", "flag", "plugin", "path/filepath",
	"math/rand", "crypto/rand", "runtime/debug", "expvar", "testing",
}

// purePackages stand below one of machinePackages, and touch nothing.
var purePackages = []string{"net/url"}

// A roomRule is a line of the table.
type roomRule struct {
	opens     []string
	modules   []string
	testsOnly bool
}

func parseRooms(t *testing.T, table string) map[string]roomRule {
	t.Helper()
	rooms := map[string]roomRule{}
	for line := range strings.Lines(table) {
		line, testsOnly := strings.CutPrefix(strings.TrimSpace(line), "tests:")
		if line == "" {
			continue
		}
		name, rest, ok := strings.Cut(line, ":")
		name = strings.TrimSpace(name)
		if _, twice := rooms[name]; !ok || twice {
			t.Fatalf("the table's line %q has no colon, or its room stands there twice", line)
		}
		opens, modules, _ := strings.Cut(rest, "  with ")
		rooms[name] = roomRule{strings.Fields(opens), strings.Fields(modules), testsOnly}
	}
	return rooms
}

// within says whether name is the package or module p or stands below it; a p such as lang/* takes all below lang.
func within(name, p string) bool {
	if below, ok := strings.CutSuffix(p, "/*"); ok {
		return strings.HasPrefix(name, below+"/")
	}
	return name == p || strings.HasPrefix(name, p+"/")
}

func withinAny(name string, list []string) bool {
	return slices.ContainsFunc(list, func(p string) bool { return within(name, p) })
}

// breaches reads the imports of every Go file below the module's root and tells each that the table does not allow.
func breaches(module fs.FS, name string, rooms map[string]roomRule) ([]string, error) {
	var out []string
	err := fs.WalkDir(module, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == "out" || len(d.Name()) > 1 && d.Name()[0] == '.') {
			return fs.SkipDir
		}
		if d.IsDir() || path.Ext(file) != ".go" {
			return nil
		}
		text, err := fs.ReadFile(module, file)
		if err != nil {
			return err
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file, text, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, imp := range tree.Imports {
			opened, err := strconv.Unquote(imp.Path.Value)
			if err != nil {
				return err
			}
			if why := breach(file, opened, name, rooms); why != "" {
				out = append(out, fmt.Sprintf("%s imports %s: %s", file, opened, why))
			}
		}
		if _, ok := rooms[path.Dir(file)]; !ok {
			out = append(out, fmt.Sprintf("%s stands in %s, which is no room of the table", file, path.Dir(file)))
		}
		return nil
	})
	return out, err
}

// breach says what is wrong with one import, or nothing.
func breach(file, opened, module string, rooms map[string]roomRule) string {
	room := path.Dir(file)
	rule, known := rooms[room]
	if !known {
		return "" // told once a file
	}
	test := strings.HasSuffix(file, "_test.go")
	if inner, ours := strings.CutPrefix(opened, module+"/"); ours {
		switch {
		case test || rule.testsOnly:
			return "" // a test may look at any room; the language forbids circles
		case rooms[inner].testsOnly:
			return "that room is for tests only"
		case !slices.Contains(rule.opens, inner) && !slices.ContainsFunc(rule.opens, func(p string) bool {
			return strings.HasSuffix(p, "/*") && within(inner, p)
		}):
			return room + " may not open that room"
		}
		return ""
	}
	if first, _, _ := strings.Cut(opened, "/"); strings.Contains(first, ".") {
		if withinAny(opened, rule.modules) || test && withinAny(opened, testModules) {
			return ""
		}
		return "that module is not for " + room
	}
	if !test && !rule.testsOnly && !within(room, "cmd") && withinAny(opened, machinePackages) && !withinAny(opened, purePackages) {
		return "only the program's rooms touch the machine"
	}
	return ""
}

// moduleRoot finds the folder of go.mod above the test's own.
func moduleRoot(t *testing.T) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("there is no go.mod above the test's folder")
		}
		dir = up
	}
}

func TestEveryRoomOpensOnlyWhatTheTableAllows(t *testing.T) {
	found, err := breaches(os.DirFS(moduleRoot(t)), "headcap", parseRooms(t, roomsTable))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		t.Error(f)
	}
}

// A module that two rooms open has no keeper.
func TestEveryModuleHasOneRoom(t *testing.T) {
	at := map[string]string{}
	for name, rule := range parseRooms(t, roomsTable) {
		for _, m := range rule.modules {
			if other, ok := at[m]; ok {
				t.Errorf("%s is opened in %s and in %s", m, name, other)
			}
			at[m] = name
		}
	}
}

func TestBreachesAreSeen(t *testing.T) {
	rooms := parseRooms(t, `
		low:
		high: low  with example.org/lib
		tests: help: low
		all: high lib/*
		lib/a:
		cmd/x: all
	`)
	file := func(imports ...string) *fstest.MapFile {
		text := "package p\n"
		for _, i := range imports {
			text += "import _ " + strconv.Quote(i) + "\n"
		}
		return &fstest.MapFile{Data: []byte(text)}
	}
	found, err := breaches(fstest.MapFS{
		"low/up.go":             file("m/high"),
		"low/fine.go":           file("fmt", "math", "net/url"),
		"low/disk.go":           file("os/exec", "net/http", "time"),
		"low/module.go":         file("example.org/lib/sub"),
		"low/disk_test.go":      file("os", "m/high", "m/help", "pgregory.net/rapid"),
		"low/module_test.go":    file("example.org/lib"),
		"low/testdata/x.go":     file("m/high"),
		"high/fine.go":          file("m/low", "example.org/lib/sub"),
		"high/other.go":         file("example.org/library"),
		"high/help.go":          file("m/help"),
		"all/fine.go":           file("m/high", "m/lib/a"),
		"all/deep.go":           file("m/low"),
		"cmd/x/fine.go":         file("os", "m/all"),
		"attic/new.go":          file("fmt"),
		"help/fine.go":          file("os", "m/low"),
		".hidden/notlooked.go":  file("m/high"),
		"low/windows_only.go":   {Data: []byte("//go:build windows\n\npackage p\n\nimport _ \"os\"\n")},
		"low/not_go.txt":        {Data: []byte("import os")},
		"out/x/made_by_test.go": file("m/high"),
	}, "m", rooms)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"all/deep.go imports m/low: all may not open that room",
		"attic/new.go stands in attic, which is no room of the table",
		"high/help.go imports m/help: that room is for tests only",
		"high/other.go imports example.org/library: that module is not for high",
		"low/disk.go imports os/exec: only the program's rooms touch the machine",
		"low/disk.go imports net/http: only the program's rooms touch the machine",
		"low/disk.go imports time: only the program's rooms touch the machine",
		"low/module.go imports example.org/lib/sub: that module is not for low",
		"low/module_test.go imports example.org/lib: that module is not for low",
		"low/up.go imports m/high: low may not open that room",
		"low/windows_only.go imports os: only the program's rooms touch the machine",
	}
	if !slices.Equal(found, want) {
		t.Errorf("told\n%s\nwanted\n%s", strings.Join(found, "\n"), strings.Join(want, "\n"))
	}
}
