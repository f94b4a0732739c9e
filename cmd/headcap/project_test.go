package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"headcap/lang/diag"
	"headcap/lang/source"
)

// books lays out a folder with a source in sub, and something to reach for outside of it.
func books(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"sub/fen.headcap": "language 1\n", "sub/art/eel.svg": "<svg/>", "secret": "x"} {
		name = filepath.Join(dir, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(name), 0o777), os.WriteFile(name, []byte(text), 0o666)); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func open(t *testing.T, file, root string) *project {
	t.Helper()
	p, err := openProject(file, root)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.close)
	return p
}

func TestProjectReadsItsOwnFolderOnly(t *testing.T) {
	dir := books(t)
	if runtime.GOOS != "windows" {
		for link, to := range map[string]string{"up": "../secret", "absolute": filepath.Join(dir, "secret"), "inside": "art/eel.svg"} {
			if err := os.Symlink(to, filepath.Join(dir, "sub", link)); err != nil {
				t.Fatal(err)
			}
		}
	}
	p := open(t, filepath.Join(dir, "sub", "fen.headcap"), "")
	for _, name := range []string{"../secret", "/etc/passwd", filepath.ToSlash(dir) + "/secret", "art/../../secret", `..\secret`, `C:\secret`, "C:secret", "up", "absolute"} {
		if runtime.GOOS == "windows" && (name == "up" || name == "absolute") {
			continue
		}
		if _, err := fs.ReadFile(p, name); !errors.Is(err, errOutside) {
			t.Errorf("%s: %v, wanted %v", name, err, errOutside)
		}
	}
	for _, name := range []string{"nul", "art/COM1.svg", "con"} {
		if _, err := fs.ReadFile(p, name); !errors.Is(err, errDevice) {
			t.Errorf("%s: %v, wanted %v", name, err, errDevice)
		}
	}
	if _, err := fs.ReadFile(p, "art/owl.svg"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing file: %v", err)
	}
	for _, name := range []string{"fen.headcap", "art/eel.svg", "inside"} {
		if runtime.GOOS == "windows" && name == "inside" {
			continue
		}
		if _, err := fs.ReadFile(p, name); err != nil {
			t.Error(err)
		}
	}
}

func TestRootWidensTheProject(t *testing.T) {
	dir := books(t)
	p := open(t, filepath.Join(dir, "sub", "fen.headcap"), dir)
	if p.entry != "sub/fen.headcap" || p.name() != "fen" {
		t.Errorf("the entry is %s, its name %s", p.entry, p.name())
	}
	if _, err := fs.ReadFile(p, "secret"); err != nil {
		t.Error(err)
	}
	if _, err := openProject(filepath.Join(dir, "sub", "fen.headcap"), filepath.Join(dir, "sub", "art")); err == nil {
		t.Error("a source outside the root was opened")
	}
}

func TestLinkedSourceHasTheFolderOfTheRealOne(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need a privilege here")
	}
	dir := books(t)
	link := filepath.Join(dir, "link.headcap")
	if err := os.Symlink("sub/fen.headcap", link); err != nil {
		t.Fatal(err)
	}
	p := open(t, link, "")
	if p.name() != "fen" || filepath.Base(p.dir) != "sub" {
		t.Errorf("%s in %s, wanted fen in sub", p.name(), p.dir)
	}
}

func TestPlacesAreToldFromWhereTheUserStands(t *testing.T) {
	dir := books(t)
	p := open(t, filepath.Join(dir, "sub", "fen.headcap"), "")
	text, err := fs.ReadFile(p, "fen.headcap")
	if err != nil {
		t.Fatal(err)
	}
	own, bundled := source.NewFile("fen.headcap", string(text)), source.NewFile("films.headcap", "film gold\n")
	at := func(f *source.File) source.Span { return source.Span{File: f, Start: 0, End: 4} }
	given := []diag.Diagnostic{{At: at(own), Notes: []diag.Note{{At: at(bundled)}, {At: at(own)}}, Fix: &diag.Fix{At: at(own)}}}
	got := p.located(given)[0]
	want := filepath.Join(dir, "sub", "fen.headcap")
	if got.At.File.Path != want || got.Notes[1].At.File != got.At.File || got.Fix.At.File != got.At.File {
		t.Errorf("placed at %s, wanted %s", got.At.File.Path, want)
	}
	if got.Notes[0].At.File != bundled {
		t.Error("a bundled file was given a place on the disk")
	}
	if given[0].At.File != own || given[0].Fix.At.File != own || given[0].Notes[1].At.File != own {
		t.Error("what was given is changed")
	}
}
