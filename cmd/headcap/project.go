package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"headcap/cmd/headcap/publish"
	"headcap/lang/diag"
	"headcap/lang/source"
)

// extension is how the name of a source ends.
const extension = ".headcap"

// What a project refuses to open.
var (
	errOutside = errors.New("it lies outside the project's folder (--root names a larger one)")
	errDevice  = errors.New("it is no plain file")
)

// A project is one source and the folder that it may read from: nothing outside is opened, by whatever path or link. It is
// the file system that the compiler sees.
type project struct {
	entry string // the source, slash-separated below the root
	dir   string // the real folder of the source
	shown string // the root, as it is written in front of paths in messages
	root  *os.Root

	mu     sync.Mutex
	opened map[string]bool
}

// openProject finds the project of a source: its real folder, or the root if that is given. The caller closes it.
func openProject(file, root string) (*project, error) {
	real, err := filepath.EvalSymlinks(file)
	if errors.Is(err, fs.ErrNotExist) && !strings.HasSuffix(file, extension) {
		if _, err := os.Stat(file + extension); err == nil {
			return nil, fmt.Errorf("there is no file %s\ntry: %s%s", file, file, extension)
		}
	}
	if err != nil {
		return nil, plainly(file, err)
	}
	info, err := os.Stat(real)
	switch {
	case err != nil:
		return nil, plainly(file, err)
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder: name the source in it", file)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s cannot be a source: %w", file, errDevice)
	}
	p := &project{entry: filepath.Base(real), dir: filepath.Dir(real), shown: filepath.Dir(real), opened: map[string]bool{}}
	if root != "" {
		p.shown = filepath.Clean(root)
		if p.entry, err = below(root, real); err != nil {
			return nil, err
		}
	}
	if p.root, err = os.OpenRoot(p.shown); err != nil {
		return nil, plainly(p.shown, err)
	}
	return p, nil
}

// below gives the slash-separated path of a real file below a folder.
func below(root, real string) (string, error) {
	realRoot, err := filepath.EvalSymlinks(root)
	if err != nil {
		return "", plainly(root, err)
	}
	if realRoot, err = filepath.Abs(realRoot); err != nil {
		return "", err
	}
	if real, err = filepath.Abs(real); err != nil {
		return "", err
	}
	rel, err := filepath.Rel(realRoot, real)
	if err != nil || !filepath.IsLocal(rel) {
		return "", fmt.Errorf("%s lies outside %s, the root that was given", real, root)
	}
	return filepath.ToSlash(rel), nil
}

// plainly says in plain words why a file cannot be used.
func plainly(file string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no file %s", file)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s may not be read: no permission", file)
	}
	return fmt.Errorf("%s cannot be read: %w", file, err)
}

func (p *project) close() { p.root.Close() }

// name is what the source is called, and the folder of its own below the output folder.
func (p *project) name() string {
	return strings.TrimSuffix(filepath.Base(filepath.FromSlash(p.entry)), extension)
}

// path gives a path of the project as the user would write it.
func (p *project) path(name string) string { return filepath.Join(p.shown, filepath.FromSlash(name)) }

// Open opens a plain file or a folder of the project for reading.
func (p *project) Open(name string) (fs.File, error) {
	refuse := func(err error) (fs.File, error) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	if !fs.ValidPath(name) || strings.ContainsAny(name, `\:`) {
		return refuse(errOutside)
	}
	for part := range strings.SplitSeq(name, "/") {
		if publish.IsDeviceName(part) {
			return refuse(errDevice)
		}
	}
	info, err := p.root.Stat(name) // before opening: to open a pipe would wait for its other end
	switch {
	case leadsOut(err):
		return refuse(errOutside)
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular() && !info.IsDir():
		return refuse(errDevice)
	}
	f, err := p.root.Open(name)
	if err != nil {
		return nil, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.opened[name] = true
	return f, nil
}

// has says whether a file of the project was opened by this name.
func (p *project) has(name string) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.opened[name]
}

// leadsOut says whether a link led out of the root. The error of package os has no name, only a text.
func leadsOut(err error) bool {
	var path *fs.PathError
	return errors.As(err, &path) && path.Err.Error() == "path escapes from parent"
}

// located gives the diagnostics with the paths of the project's own files as the user would write them, so that an editor
// or a terminal finds them from where it stands. Bundled files keep their names.
func (p *project) located(all []diag.Diagnostic) []diag.Diagnostic {
	if p.shown == "." {
		return all
	}
	moved := map[*source.File]*source.File{}
	move := func(s *source.Span) {
		if s.File == nil || !p.has(s.File.Path) {
			return
		}
		if moved[s.File] == nil {
			moved[s.File] = source.NewFile(p.path(s.File.Path), s.File.Text)
		}
		s.File = moved[s.File]
	}
	out := make([]diag.Diagnostic, len(all))
	for i, d := range all {
		move(&d.At)
		notes := make([]diag.Note, len(d.Notes))
		for j, n := range d.Notes {
			move(&n.At)
			notes[j] = n
		}
		d.Notes = notes
		if d.Fix != nil {
			fix := *d.Fix
			move(&fix.At)
			d.Fix = &fix
		}
		out[i] = d
	}
	return out
}

// countErrors is the number of errors among diagnostics.
func countErrors(all []diag.Diagnostic) int {
	n := 0
	for _, d := range all {
		if d.Severity == diag.Error {
			n++
		}
	}
	return n
}
