package publish

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

func TestReplacedSourceKeepsItsRightsAndItsLink(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no rights of this kind here")
	}
	dir := t.TempDir()
	file, link := filepath.Join(dir, "a.headcap"), filepath.Join(dir, "link.headcap")
	if err := os.WriteFile(file, []byte("old"), 0o640); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("a.headcap", link); err != nil {
		t.Fatal(err)
	}
	if err := ReplaceSource(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	wantTree(t, dir, map[string]string{"a.headcap": "new", "link.headcap": "new"})
	if info, _ := os.Stat(file); info.Mode().Perm() != 0o640 {
		t.Errorf("the rights are %v now", info.Mode())
	}
	if info, _ := os.Lstat(link); info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link is a file now")
	}
}

func TestProjectIsNotStartedOverAnother(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "fen")
	if err := StartProject(dir, "fen.headcap", []byte("one"), "art"); err != nil {
		t.Fatal(err)
	}
	if err := StartProject(dir, "fen.headcap", []byte("two"), "art"); !errors.Is(err, fs.ErrExist) {
		t.Errorf("got %v", err)
	}
	wantTree(t, dir, map[string]string{"fen.headcap": "one"})
}
