package publish

import (
	"errors"
	"os"
	"path/filepath"
)

// ReplaceSource writes a file of the author's anew, whole or not at all; a symbolic link stays one, and the rights of the
// file stay as they are.
func ReplaceSource(name string, data []byte) error {
	name, err := filepath.EvalSymlinks(name)
	if err != nil {
		return err
	}
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(filepath.Dir(name))
	if err != nil {
		return err
	}
	defer root.Close()
	f := &Folder{root: root, disk: rootDisk{root}}
	base := filepath.Base(name)
	temp, err := f.writeTemp(base, data)
	if err == nil {
		err = root.Chmod(temp, info.Mode().Perm())
	}
	if err == nil {
		err = root.Rename(temp, base)
	}
	if err != nil {
		if temp != "" {
			_ = root.Remove(temp)
		}
		return err
	}
	return syncFolder(root, ".")
}

// StartProject makes a new folder with one source file and an empty folder for artwork. A folder, or anything else, that
// stands there already is left alone, and is an error.
func StartProject(dir, source string, text []byte, art string) error {
	if err := os.Mkdir(dir, 0o777); err != nil {
		return err
	}
	err := os.WriteFile(filepath.Join(dir, source), text, 0o666)
	if err == nil {
		err = os.Mkdir(filepath.Join(dir, art), 0o777)
	}
	if err != nil {
		_ = os.Remove(filepath.Join(dir, source))
		return errors.Join(err, os.Remove(dir))
	}
	return nil
}
