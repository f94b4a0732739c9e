package publish

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// Names of ours in an output folder, beside what the build asks for.
const (
	// ManifestName is the list of the files that are ours, with their hashes.
	ManifestName = "headcap.manifest"

	lockName   = ".headcap.lock"
	intentName = ".headcap.intent"
	tempPrefix = ".headcap-"
	tempSuffix = ".tmp"
)

// ErrBusy says that another build is writing into the folder.
var ErrBusy = errors.New("another build is writing there")

// A Folder is an output folder held by one builder.
type Folder struct {
	dir   string
	root  *os.Root
	lock  *lock
	disk  disk
	owned []string // folders that Open made, the innermost first
}

// Open takes the output folder for one builder, making it if need be, and sweeps what a crash left there. Nobody else
// can open it until Close. If somebody has it already the error is ErrBusy.
func Open(dir string) (*Folder, error) {
	return open(dir, func(r *os.Root) disk { return rootDisk{r} })
}

func open(dir string, newDisk func(*os.Root) disk) (*Folder, error) {
	made, err := makeFolders(dir)
	if err != nil {
		return nil, err
	}
	f := &Folder{dir: dir, owned: made}
	f.lock, err = takeLock(filepath.Join(dir, lockName))
	if err != nil {
		f.removeOwned()
		return nil, err
	}
	f.root, err = os.OpenRoot(dir)
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	f.disk = newDisk(f.root)
	if err := errors.Join(f.sweep(), f.settle()); err != nil {
		return nil, errors.Join(fmt.Errorf("clearing up after an interrupted build in %s: %w", dir, err), f.Close())
	}
	return f, nil
}

// Close gives the folder free. A folder that Open made and nothing was published into goes away again.
func (f *Folder) Close() error {
	var err error
	if f.root != nil {
		err = f.root.Close()
	}
	err = errors.Join(err, f.lock.release())
	f.removeOwned()
	return err
}

// makeFolders makes dir and what is missing above it, and says which folders it made, the innermost first.
func makeFolders(dir string) ([]string, error) {
	var missing []string
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		_, err := os.Stat(at)
		if err == nil || !errors.Is(err, fs.ErrNotExist) || filepath.Dir(at) == at {
			break
		}
		missing = append(missing, at)
	}
	return missing, os.MkdirAll(dir, 0o777)
}

// removeOwned removes the folders that Open made, as far as they are empty.
func (f *Folder) removeOwned() {
	for _, dir := range f.owned {
		if os.Remove(dir) != nil {
			return
		}
	}
}

// sweep removes temporary files of builds that did not come to their end.
func (f *Folder) sweep() error {
	return fs.WalkDir(f.root.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.Type().IsRegular() && isTemp(d.Name()) {
			return f.disk.remove(name)
		}
		return nil
	})
}

func isTemp(base string) bool {
	middle, ok := strings.CutPrefix(base, tempPrefix)
	if !ok {
		return false
	}
	middle, ok = strings.CutSuffix(middle, tempSuffix)
	_, err := hex.DecodeString(middle)
	return ok && err == nil && len(middle) == 16
}

// state is how a file on the disk stands to what is wanted in its place.
type state uint8

const (
	same    state = iota // it is there and has the wanted content
	other                // it is not there, or has older content that we wrote
	foreign              // it is not ours to overwrite
)

// compare looks at the file in place of one that is to have the content sum.
func (f *Folder) compare(name string, sum digest, ours manifest) (state, error) {
	info, err := f.root.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return other, nil
	case isNotFolder(err), err == nil && !info.Mode().IsRegular():
		return foreign, nil
	case err != nil:
		return 0, fmt.Errorf("looking at %s: %w", name, err)
	}
	file, err := f.root.Open(name)
	if err != nil {
		return 0, fmt.Errorf("reading %s to compare: %w", name, err)
	}
	defer file.Close()
	is, err := digestFrom(file)
	if err != nil {
		return 0, fmt.Errorf("reading %s to compare: %w", name, err)
	}
	if is == sum {
		return same, nil
	}
	if was, ok := ours[name]; ok && was == is {
		return other, nil
	}
	return foreign, nil
}

// writeTemp makes a complete file under a temporary name beside its place. The name is given even with an error, so that
// what was begun can be removed.
func (f *Folder) writeTemp(name string, data []byte) (temp string, err error) {
	dir := path.Dir(name)
	if err := f.disk.mkdir(dir); err != nil {
		return "", err
	}
	var random [8]byte
	rand.Read(random[:])
	temp = path.Join(dir, tempPrefix+hex.EncodeToString(random[:])+tempSuffix)
	w, err := f.disk.create(temp)
	if err != nil {
		return "", err
	}
	_, err = w.Write(data)
	if err == nil {
		err = w.Sync()
	}
	return temp, errors.Join(err, w.Close())
}

// replace writes a file of our own through a temporary one.
func (f *Folder) replace(name string, data []byte) error {
	temp, err := f.writeTemp(name, data)
	if err == nil {
		err = f.disk.rename(temp, name)
	}
	if err != nil && temp != "" {
		_ = f.disk.remove(temp)
	}
	if err != nil {
		return err
	}
	return f.disk.syncFolder(path.Dir(name))
}

// syncFolders flushes the folders of the names, and every folder above them, the innermost first.
func (f *Folder) syncFolders(names []string) error {
	dirs := map[string]bool{}
	for _, name := range names {
		for dir := path.Dir(name); !dirs[dir]; dir = path.Dir(dir) {
			dirs[dir] = true
		}
	}
	var list []string
	for dir := range dirs {
		list = append(list, dir)
	}
	slices.SortFunc(list, func(a, b string) int {
		if n := strings.Count(b, "/") - strings.Count(a, "/"); n != 0 {
			return n
		}
		return strings.Compare(b, a) // "." last
	})
	for _, dir := range list {
		if err := f.disk.syncFolder(dir); err != nil {
			return err
		}
	}
	return nil
}

// removeEmptyFolders removes dir and the folders above it, as far as they are empty.
func (f *Folder) removeEmptyFolders(dir string) {
	for ; dir != "."; dir = path.Dir(dir) {
		entries, err := fs.ReadDir(f.root.FS(), dir)
		if err != nil || len(entries) > 0 || f.disk.remove(dir) != nil {
			return
		}
	}
}

// disk is what changes the folder: small, so that a test can let it fail at every step.
type disk interface {
	mkdir(dir string) error
	create(name string) (writer, error)
	rename(from, to string) error
	remove(name string) error
	syncFolder(dir string) error
}

type writer interface {
	io.Writer
	Sync() error
	Close() error
}

// rootDisk changes a folder, and nothing outside it: a symbolic link that leads out is refused.
type rootDisk struct{ root *os.Root }

func (d rootDisk) mkdir(dir string) error       { return d.root.MkdirAll(dir, 0o777) }
func (d rootDisk) rename(from, to string) error { return d.root.Rename(from, to) }
func (d rootDisk) remove(name string) error     { return d.root.Remove(name) }
func (d rootDisk) syncFolder(dir string) error  { return syncFolder(d.root, dir) }
func (d rootDisk) create(name string) (writer, error) {
	return d.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
}
