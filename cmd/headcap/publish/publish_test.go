package publish

import (
	"context"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

// volume makes a volume with one file a name, below its folder, whose key is the folder's name.
func volume(b *Build, folder, content string, names ...string) {
	b.Volumes = append(b.Volumes, Volume{Key: folder, Folder: folder, Clean: true})
	for _, n := range names {
		b.Files = append(b.Files, File{Path: folder + "/" + n, Volume: folder, Data: []byte(content + " " + n)})
	}
}

// twoVolumes is a whole set: two volumes of two files, and the row.
func twoVolumes(content string) Build {
	b := Build{Whole: true}
	volume(&b, "01-eels", content, "spine.gold.svg", "spine.gold.dxf")
	volume(&b, "02-turf", content, "spine.gold.svg", "spine.gold.dxf")
	b.Files = append(b.Files, File{Path: "row.svg", Data: []byte(content + " row")})
	return b
}

func mustPublish(t *testing.T, dir string, b Build) Report {
	t.Helper()
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rep, err := f.Publish(t.Context(), b)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// tree reads every file below dir, the manifest left out.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || name == ManifestName {
			return err
		}
		text, err := os.ReadFile(filepath.Join(dir, name))
		out[name] = string(text)
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return out
}

func contents(b Build) map[string]string {
	out := map[string]string{}
	for _, f := range b.Files {
		out[f.Path] = string(f.Data)
	}
	return out
}

func wantTree(t *testing.T, dir string, want map[string]string) {
	t.Helper()
	if got := tree(t, dir); !maps.Equal(got, want) {
		t.Errorf("the folder holds\n%v\nwanted\n%v", got, want)
	}
}

// wantManifest checks that the manifest lists just these files, with the hashes of what stands there.
func wantManifest(t *testing.T, dir string, names ...string) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, ManifestName))
	if err != nil {
		t.Fatal(err)
	}
	m, err := parseManifest(ManifestName, string(text))
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(names)
	if got := slices.Sorted(maps.Keys(m)); !slices.Equal(got, names) {
		t.Errorf("the manifest lists %v, wanted %v", got, names)
	}
	for _, name := range names {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil || digestOf(data) != m[name] {
			t.Errorf("the manifest's hash of %s is not that of the file (%v)", name, err)
		}
	}
}

func TestFirstBuildMakesFolderFilesAndManifest(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out", "fen")
	b := twoVolumes("a")
	rep := mustPublish(t, dir, b)
	wantTree(t, dir, contents(b))
	wantManifest(t, dir, "01-eels/spine.gold.dxf", "01-eels/spine.gold.svg", "02-turf/spine.gold.dxf", "02-turf/spine.gold.svg", "row.svg")
	if len(rep.Written) != 5 || len(rep.Unchanged)+len(rep.Removed)+len(rep.Left)+len(rep.Refused) != 0 {
		t.Errorf("the report is %+v", rep)
	}
}

func TestManifestIsSortedAndHasAHeader(t *testing.T) {
	m := manifest{"b": digestOf([]byte("b")), "a/c": digestOf(nil)}
	const want = `# headcap manifest 1
e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  a/c
3e23e8160039594a33894f6564e1b1348bbd7a0088d42c4acb73eeaed59c009d  b
`
	if got := string(m.text()); got != want {
		t.Errorf("got\n%s", got)
	}
	back, err := parseManifest("m", strings.ReplaceAll(want, "\n", "\r\n"))
	if err != nil || !maps.Equal(back, m) {
		t.Errorf("read again, with CR LF: %v, %v", back, err)
	}
}

func TestManifestThatIsNotOursIsRefused(t *testing.T) {
	for name, text := range map[string]string{
		"later":   "# headcap manifest 2\n",
		"other":   "hello\n",
		"no hash": manifestHeader + "\nabc  a\n",
		"outside": manifestHeader + "\ne3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  ../a\n",
	} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, ManifestName), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		f, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Publish(t.Context(), twoVolumes("a")); err == nil {
			t.Errorf("%s: no error", name)
		}
		f.Close()
		wantTree(t, dir, map[string]string{})
	}
}

func TestUnchangedFilesAreNotRewritten(t *testing.T) {
	dir := t.TempDir()
	mustPublish(t, dir, twoVolumes("a"))
	old := time.Date(2001, 2, 3, 4, 5, 6, 0, time.UTC)
	all := append(slices.Collect(maps.Keys(tree(t, dir))), ManifestName)
	for _, name := range all {
		if err := os.Chtimes(filepath.Join(dir, name), old, old); err != nil {
			t.Fatal(err)
		}
	}
	next := twoVolumes("a")
	next.Files[0].Data = []byte("b")
	rep := mustPublish(t, dir, next)
	if !slices.Equal(rep.Written, []string{"01-eels/spine.gold.svg"}) || len(rep.Unchanged) != 4 {
		t.Errorf("the report is %+v", rep)
	}
	for _, name := range all {
		info, err := os.Stat(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		changed := name == ManifestName || name == "01-eels/spine.gold.svg"
		if info.ModTime().Equal(old) == changed {
			t.Errorf("%s: rewritten is %v, wanted %v", name, !changed, changed)
		}
	}
}

func TestVolumeWithAnErrorKeepsItsOldFiles(t *testing.T) {
	dir := t.TempDir()
	first := twoVolumes("a")
	mustPublish(t, dir, first)

	next := twoVolumes("b")
	next.Volumes[1].Clean = false
	next.Whole = false
	next.Files = next.Files[:2] // only the first volume's
	mustPublish(t, dir, next)

	want := contents(first)
	maps.Copy(want, contents(next))
	wantTree(t, dir, want)
	wantManifest(t, dir, slices.Collect(maps.Keys(want))...)
}

func TestFilesOfAVolumeWithAnErrorAreNotWrittenEvenIfGiven(t *testing.T) {
	dir := t.TempDir()
	b := twoVolumes("a")
	b.Volumes[0].Clean = false
	b.Whole = false
	mustPublish(t, dir, b)
	wantTree(t, dir, map[string]string{
		"02-turf/spine.gold.svg": "a spine.gold.svg",
		"02-turf/spine.gold.dxf": "a spine.gold.dxf",
	})
}

func TestFilmTakenOutOfAVolumeTakesItsFilesAlong(t *testing.T) {
	dir := t.TempDir()
	mustPublish(t, dir, twoVolumes("a"))
	next := twoVolumes("a")
	next.Files = slices.DeleteFunc(next.Files, func(f File) bool { return f.Path == "01-eels/spine.gold.dxf" })
	next.Volumes[1].Clean = false // the other volume's error has no say in it
	next.Whole = false
	rep := mustPublish(t, dir, next)
	if !slices.Equal(rep.Removed, []string{"01-eels/spine.gold.dxf"}) {
		t.Errorf("removed %v", rep.Removed)
	}
}

func TestRemovedVolume(t *testing.T) {
	dir := t.TempDir()
	mustPublish(t, dir, twoVolumes("a"))
	next := Build{Whole: true}
	volume(&next, "01-eels", "a", "spine.gold.svg", "spine.gold.dxf")

	// While anything has an error, what belongs to no volume stays: the volume may only have lost its title.
	broken := next
	broken.Whole = false
	if rep := mustPublish(t, dir, broken); len(rep.Removed) != 0 {
		t.Errorf("removed %v while the set has an error", rep.Removed)
	}
	rep := mustPublish(t, dir, next)
	if want := []string{"02-turf/spine.gold.dxf", "02-turf/spine.gold.svg", "row.svg"}; !slices.Equal(rep.Removed, want) {
		t.Errorf("removed %v, wanted %v", rep.Removed, want)
	}
	wantTree(t, dir, contents(next))
	if _, err := os.Stat(filepath.Join(dir, "02-turf")); !errors.Is(err, fs.ErrNotExist) {
		t.Error("the empty folder of the removed volume is still there")
	}
}

func TestRemovedVolumeLeavesWhatIsNotOurs(t *testing.T) {
	dir := t.TempDir()
	mustPublish(t, dir, twoVolumes("a"))
	changed := filepath.Join(dir, "02-turf", "spine.gold.svg")
	notes := filepath.Join(dir, "02-turf", "notes.txt")
	for _, name := range []string{changed, notes} {
		if err := os.WriteFile(name, []byte("by hand"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	next := Build{Whole: true}
	volume(&next, "01-eels", "a", "spine.gold.svg", "spine.gold.dxf")
	rep := mustPublish(t, dir, next)
	want := contents(next)
	want["02-turf/spine.gold.svg"] = "by hand"
	want["02-turf/notes.txt"] = "by hand"
	wantTree(t, dir, want)
	wantManifest(t, dir, slices.Collect(maps.Keys(contents(next)))...)
	if !slices.Equal(rep.Left, []string{"02-turf/spine.gold.svg"}) {
		t.Errorf("left %v", rep.Left)
	}
}

func TestForeignFileInTheWayHoldsBackItsVolumeOnly(t *testing.T) {
	for _, how := range []string{"never ours", "changed since", "a folder", "a link", "a file for a folder"} {
		t.Run(how, func(t *testing.T) {
			dir := t.TempDir()
			at := filepath.Join(dir, "01-eels", "spine.gold.svg")
			first := contents(Build{})
			if how == "changed since" {
				mustPublish(t, dir, twoVolumes("a"))
				first = tree(t, dir)
			} else if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
				t.Fatal(err)
			}
			var err error
			switch how {
			case "a folder":
				err = os.Mkdir(at, 0o777)
			case "a link":
				if runtime.GOOS == "windows" {
					t.Skip("links need a privilege here")
				}
				err = os.Symlink("nowhere", at)
			case "a file for a folder":
				err = errors.Join(os.Remove(filepath.Dir(at)), os.WriteFile(filepath.Dir(at), []byte("by hand"), 0o666))
			default:
				err = os.WriteFile(at, []byte("by hand"), 0o666)
			}
			if err != nil {
				t.Fatal(err)
			}
			rep := mustPublish(t, dir, twoVolumes("b"))
			if len(rep.Refused) == 0 || rep.Refused[0].Volume != "01-eels" || !slices.Contains(rep.Refused[0].Paths, "01-eels/spine.gold.svg") {
				t.Errorf("refused %v", rep.Refused)
			}
			if want := []string{"02-turf/spine.gold.dxf", "02-turf/spine.gold.svg"}; !slices.Equal(rep.Written, want) {
				t.Errorf("wrote %v, wanted %v: the row waits until the set is whole", rep.Written, want)
			}
			switch how {
			case "never ours", "changed since":
				first["01-eels/spine.gold.svg"] = "by hand"
				for _, f := range twoVolumes("b").Files[2:4] {
					first[f.Path] = string(f.Data)
				}
				wantTree(t, dir, first)
			}
		})
	}
}

func TestLostManifestAdoptsEqualFiles(t *testing.T) {
	dir := t.TempDir()
	mustPublish(t, dir, twoVolumes("a"))
	if err := os.Remove(filepath.Join(dir, ManifestName)); err != nil {
		t.Fatal(err)
	}
	if rep := mustPublish(t, dir, twoVolumes("a")); len(rep.Unchanged) != 5 || len(rep.Refused) != 0 {
		t.Errorf("the report is %+v", rep)
	}
	mustPublish(t, dir, twoVolumes("b"))
	wantTree(t, dir, contents(twoVolumes("b")))
}

func TestDeletedFileIsWrittenAgain(t *testing.T) {
	dir := t.TempDir()
	mustPublish(t, dir, twoVolumes("a"))
	if err := os.Remove(filepath.Join(dir, "row.svg")); err != nil {
		t.Fatal(err)
	}
	if rep := mustPublish(t, dir, twoVolumes("a")); !slices.Equal(rep.Written, []string{"row.svg"}) {
		t.Errorf("wrote %v", rep.Written)
	}
}

func TestSecondBuilderIsTurnedAway(t *testing.T) {
	dir := t.TempDir()
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Open(dir); !errors.Is(err, ErrBusy) {
		t.Errorf("the second got %v, wanted ErrBusy", err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	f, err = Open(dir)
	if err != nil {
		t.Fatalf("after the first closed: %v", err)
	}
	f.Close()
	wantTree(t, dir, map[string]string{}) // the lock is gone too
}

func TestFolderThatNothingIsPublishedIntoGoesAway(t *testing.T) {
	base := t.TempDir()
	mustPublish(t, filepath.Join(base, "out", "fen"), Build{Volumes: []Volume{{Key: "1", Folder: "01-eels"}}})
	if entries, _ := os.ReadDir(base); len(entries) != 0 {
		t.Errorf("left %v", entries)
	}
}

func TestCancelledBuildWritesNothing(t *testing.T) {
	dir := t.TempDir()
	first := twoVolumes("a")
	mustPublish(t, dir, first)
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	ctx, cancel := context.WithCancel(t.Context())
	f.disk = &cancelling{f.disk, cancel}
	if _, err := f.Publish(ctx, twoVolumes("b")); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	want := contents(first)
	want[lockName] = ""
	wantTree(t, dir, want)
}

// cancelling cancels the build as its first file is made.
type cancelling struct {
	disk
	cancel context.CancelFunc
}

func (c *cancelling) create(name string) (writer, error) {
	c.cancel()
	return c.disk.create(name)
}

func TestNamesThatAreRefused(t *testing.T) {
	for _, paths := range [][]string{
		{"a/spine.svg", "A/Spine.svg"},
		{"a", "a/b"},
		{"a", "A/b"},
		{"a", "a"},
		{"../a"},
		{"/a"},
		{"a//b"},
		{`a\b`},
		{"a:b"},
		{"a."},
		{"a /b"},
		{"nul"},
		{"a/COM1.svg"},
		{"a\nb"},
		{"headcap.manifest"},
		{"Headcap.Manifest"},
		{".headcap.lock"},
		{".headcap-0011223344556677.tmp"},
		{""},
	} {
		dir := t.TempDir()
		var b Build
		b.Whole = true
		for _, p := range paths {
			b.Files = append(b.Files, File{Path: p})
		}
		f, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Publish(t.Context(), b); err == nil {
			t.Errorf("%q was taken", paths)
		}
		f.Close()
		wantTree(t, dir, map[string]string{})
	}
}

func TestNameThatDiffersByCaseFromAKeptFile(t *testing.T) {
	dir := t.TempDir()
	b := Build{Whole: true}
	volume(&b, "Turf", "a", "spine.svg")
	mustPublish(t, dir, b)
	next := Build{Volumes: []Volume{{Key: "old", Folder: "Turf"}}}
	volume(&next, "turf", "b", "spine.svg")
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.Publish(t.Context(), next); err == nil {
		t.Error("turf was written beside Turf")
	}
}

func TestLinkLeadingOutOfTheFolderIsNotFollowed(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need a privilege here")
	}
	dir, outside := t.TempDir(), t.TempDir()
	if err := os.Symlink(outside, filepath.Join(dir, "01-eels")); err != nil {
		t.Fatal(err)
	}
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.Publish(t.Context(), twoVolumes("a")); err == nil {
		t.Error("no error")
	}
	wantTree(t, outside, map[string]string{})
}

func TestReportIsSorted(t *testing.T) {
	b := twoVolumes("a")
	slices.Reverse(b.Files)
	rep := mustPublish(t, t.TempDir(), b)
	if !slices.IsSorted(rep.Written) {
		t.Errorf("written: %v", rep.Written)
	}
	if !reflect.DeepEqual(rep, Report{Written: rep.Written}) {
		t.Errorf("the report is %+v", rep)
	}
}
