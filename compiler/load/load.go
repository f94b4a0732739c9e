// Package load opens what a model names: font files beside the source, and the bundled faces.
package load

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"

	"headcap/compiler/lettering"
	"headcap/compiler/model"
	"headcap/lang/diag"
	"headcap/lang/source"
)

// most is the largest font file that is read: 32 MiB, a choice far above any book face.
const most = 32 << 20

// Faces opens every face that the shelf names. What cannot be opened is told, at the place that names it, and is nil.
func Faces(fsys fs.FS, shelf *model.Shelf, origins *source.Origins, list *diag.List) func(key string) *lettering.Face {
	faces := map[string]*lettering.Face{}
	for _, f := range shelf.Faces {
		at := origins.Span(f.Origin)
		data, err := read(fsys, f.File)
		if err != nil {
			d := diag.Diagnostic{Code: "missing-file", At: at, Message: Missing(f.File, err)}
			if near := Near(fsys, f.File); near != "" {
				d.Try = []string{near}
			} else {
				d.Try = []string{"faces are files beside the source: face old from \"fonts/old.otf\""}
			}
			list.Add(d)
			continue
		}
		face, err := lettering.Open(f.File, data)
		if err != nil {
			d := diag.Diagnostic{Code: "bad-face", At: at, Message: err.Error()}
			var fault *lettering.Fault
			if errors.As(err, &fault) {
				d.Code, d.Message, d.Try = fault.Code, fault.Message, fault.Try
			}
			list.Add(d)
			continue
		}
		for _, n := range face.Notes() {
			list.Add(diag.Diagnostic{Severity: diag.Warning, Code: n.Code, At: at, Message: n.Message})
		}
		faces[f.Key] = face
	}
	return func(key string) *lettering.Face {
		if f, ok := faces[key]; ok {
			return f
		}
		if slices.Contains(lettering.BundledNames(), key) {
			f, err := lettering.Bundled(key)
			if err != nil {
				panic("load: the bundled face " + key + " does not open: " + err.Error())
			}
			return f
		}
		return nil
	}
}

func read(fsys fs.FS, name string) ([]byte, error) {
	st, err := fs.Stat(fsys, name)
	if err != nil {
		return nil, err
	}
	if st.Size() > most {
		return nil, fmt.Errorf("it has %d MiB, and %d are the most that is read", st.Size()>>20, most>>20)
	}
	return fs.ReadFile(fsys, name)
}

// Missing words the failure to open a file for the binder, without what the machine says of it.
func Missing(name string, err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Sprintf("there is no file %s", name)
	case errors.Is(err, fs.ErrInvalid):
		return fmt.Sprintf("%s leads out of the project's folder, or is no name of a file in it", name)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Sprintf("%s may not be read", name)
	}
	return fmt.Sprintf("%s cannot be read: %v", name, err)
}

// Near names a file in the same folder that was probably meant.
func Near(fsys fs.FS, name string) string {
	if !fs.ValidPath(name) {
		return ""
	}
	entries, err := fs.ReadDir(fsys, path.Dir(name))
	if err != nil {
		return ""
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	near := diag.Suggest(path.Base(name), names)
	if near == "" {
		return ""
	}
	return path.Join(path.Dir(name), near)
}
