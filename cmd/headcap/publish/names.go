package publish

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode"
)

// checkNames refuses paths that would not be the same one file on every kind of disk.
func checkNames(b Build) error {
	files := map[string]string{}   // folded path to path
	folders := map[string]string{} // folded folder to a path in it
	for _, f := range b.Files {
		if err := checkName(f.Path); err != nil {
			return err
		}
		if old, ok := files[fold(f.Path)]; ok {
			if old == f.Path {
				return fmt.Errorf("%s is asked for twice", old)
			}
			return fmt.Errorf("%s and %s differ by capitals only, and many disks take them for one file", old, f.Path)
		}
		files[fold(f.Path)] = f.Path
		for dir := path.Dir(f.Path); dir != "."; dir = path.Dir(dir) {
			folders[fold(dir)] = f.Path
		}
	}
	for _, f := range b.Files {
		if in, ok := folders[fold(f.Path)]; ok {
			return fmt.Errorf("%s would be a file, and the folder of %s", f.Path, in)
		}
	}
	return nil
}

// checkName refuses a path that leads out of the folder, is one of our own names, or cannot stand on every disk.
func checkName(name string) error {
	if !fs.ValidPath(name) || name == "." {
		return fmt.Errorf("%q is not a path below the output folder", name)
	}
	for _, part := range strings.Split(name, "/") {
		switch {
		case strings.ContainsAny(part, `\:*?"<>|`), strings.ContainsFunc(part, unicode.IsControl):
			return fmt.Errorf("%q has a character that not every disk takes", name)
		case strings.HasSuffix(part, "."), strings.HasSuffix(part, " "):
			return fmt.Errorf("a part of %q ends in a point or a space, which not every disk keeps", name)
		case IsDeviceName(part):
			return fmt.Errorf("a part of %q is the name of a device on some machines", name)
		case fold(part) == ManifestName, strings.HasPrefix(fold(part), ".headcap"):
			return fmt.Errorf("%q is a name that the build keeps for itself", name)
		}
	}
	return nil
}

// deviceNames are the names that Windows keeps for devices, in every folder and with any ending
// (Microsoft, "Naming Files, Paths, and Namespaces").
var deviceNames = []string{
	"con", "prn", "aux", "nul", "conin$", "conout$",
	"com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9", "com¹", "com²", "com³",
	"lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9", "lpt¹", "lpt²", "lpt³",
}

// IsDeviceName says whether a file or folder of this name would be a device on some machines.
func IsDeviceName(base string) bool {
	stem, _, _ := strings.Cut(fold(base), ".")
	return slices.Contains(deviceNames, strings.TrimRight(stem, " "))
}

// fold makes equal what a disk that ignores capitals takes for equal.
func fold(name string) string {
	return strings.ToLower(strings.ToUpper(name))
}
