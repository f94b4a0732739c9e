package compiler_test

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"headcap/compiler"
	"headcap/lang/format"
)

// TestFormattedSourcesCompileToTheSame holds the formatter to its word on every example: what it changes is to be seen, not
// to be cut.
func TestFormattedSourcesCompileToTheSame(t *testing.T) {
	sources, err := filepath.Glob("../examples/*/*.headcap")
	if err != nil || len(sources) == 0 {
		t.Fatal("no examples", err)
	}
	for _, path := range sources {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			ragged := bytes.ReplaceAll(text, []byte("  "), []byte("\t   "))
			ragged = bytes.ReplaceAll(ragged, []byte(", "), []byte(" ,"))
			formatted, err := format.Source(string(ragged))
			if err != nil {
				t.Fatal(err)
			}
			name := filepath.Base(path)
			want := filesOf(t, os.DirFS(filepath.Dir(path)), name)
			got := filesOf(t, fstest.MapFS{name: {Data: []byte(formatted)}}, name)
			if len(got) != len(want) {
				t.Fatalf("%d files, %d before it was formatted", len(got), len(want))
			}
			for i, f := range want {
				if got[i].Name != f.Name || !bytes.Equal(got[i].Data, f.Data) {
					t.Errorf("%s changed", f.Name)
				}
			}
		})
	}
}

func filesOf(t *testing.T, fsys fs.FS, name string) []compiler.File {
	t.Helper()
	r, list := compiler.Compile(context.Background(), fsys, name, compiler.Options{})
	if list.Errors() {
		t.Fatal(list.All())
	}
	return r.Files
}
