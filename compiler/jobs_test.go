package compiler_test

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"headcap/compiler"
	"headcap/compiler/emit/outside"
	"headcap/compiler/emit/reread"
	"headcap/lang/diag"
)

// A job is a source that has been compiled.
type job struct {
	name   string // of the source, below its folder
	files  fs.FS
	result *compiler.Result
	laid   []compiler.Laid
	said   *diag.List
}

func compiled(files fs.FS, name string, o compiler.Options) *job {
	j := &job{name: name, files: files}
	j.result, j.laid, j.said = compiler.CompileLaid(files, name, o)
	return j
}

// clean sees that there is neither an error nor a warning; advice is allowed.
func (j *job) clean(t testing.TB) {
	t.Helper()
	for _, d := range j.said.All() {
		if d.Severity != diag.Advice {
			where := ""
			if d.At.File != nil {
				where = fmt.Sprintf("%s, byte %d: ", d.At.File.Path, d.At.Start)
			}
			t.Errorf("%s%s: %s [%s]", where, d.Severity, d.Message, d.Code)
		}
	}
	if j.result == nil || !j.result.Whole {
		t.Fatalf("%s does not build whole", j.name)
	}
}

// file gives the one file whose name ends so.
func (j *job) file(t testing.TB, end string) []byte {
	t.Helper()
	var found [][]byte
	for _, f := range j.result.Files {
		if strings.HasSuffix(f.Name, end) {
			found = append(found, f.Data)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%s has %d files …%s", j.name, len(found), end)
	}
	return found[0]
}

// write puts the result's files into a folder of the test's own.
func (j *job) write(t testing.TB) (folder string) {
	t.Helper()
	folder = t.TempDir()
	for _, f := range j.result.Files {
		to := filepath.Join(folder, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(to, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// A cutFile is one film on one face, as it was written.
type cutFile struct {
	svg, dxf   string // where they stand
	face, film string
	mirrored   bool
	listing    *reread.Listing
}

// cuts lists the cut files of a volume below the folder that write gave.
func (j *job) cuts(t testing.TB, folder string, v compiler.Laid) []cutFile {
	t.Helper()
	dir := filepath.Join(folder, filepath.FromSlash(v.Model.Folder))
	svgs, err := filepath.Glob(filepath.Join(dir, "*.svg"))
	if err != nil {
		t.Fatal(err)
	}
	listings := outside.Listing(t, filepath.Join(dir, "pieces.txt"))
	var out []cutFile
	for _, p := range svgs {
		base := strings.TrimSuffix(filepath.Base(p), ".svg")
		if base == "preview" {
			continue
		}
		c := cutFile{svg: p, dxf: strings.TrimSuffix(p, ".svg") + ".dxf"}
		base, c.mirrored = strings.CutSuffix(base, ".mirrored")
		c.face, c.film, _ = strings.Cut(base, ".")
		for _, l := range listings {
			if l.Face == c.face && l.Film == c.film {
				c.listing = l
			}
		}
		if c.listing == nil || c.listing.Transfer != c.mirrored {
			t.Fatalf("%s is not listed, or not as it is named", p)
		}
		out = append(out, c)
	}
	if len(out) == 0 || len(out) != len(listings) {
		t.Fatalf("%s has %d cut files and lists %d", dir, len(out), len(listings))
	}
	return out
}

// asSeen gives the rings of some pieces of the written SVG, as the reader sees the face: a mirrored file mirrored back. of
// says which, by what an id has after volume, face and film, such as "panel-rest-centre-emblem-2".
func (c cutFile) asSeen(t testing.TB, of func(id string) bool) [][]reread.Ring {
	t.Helper()
	s := outside.SVG(t, c.svg)
	var out [][]reread.Ring
	for _, p := range s.Paths {
		if !of(c.idOnFace(p.ID)) {
			continue
		}
		rings := p.Rings(0.00002)
		if c.mirrored {
			rings = reread.Each(rings, func(q reread.Point) reread.Point { return reread.Point{X: s.Width - q.X, Y: q.Y} })
		}
		out = append(out, rings)
	}
	return out
}

// idOnFace is what an id has after volume, face and film.
func (c cutFile) idOnFace(id string) string {
	_, rest, _ := strings.Cut(id, "-"+c.face+"-"+c.film+"-")
	return rest
}

// examplesFolder holds sources that are documentation and tests at once.
const examplesFolder = "../examples"

// exampleJobs compiles every example once, for all tests, with eight processors.
var exampleJobs = sync.OnceValues(func() ([]*job, error) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(8))
	var jobs []*job
	err := filepath.WalkDir(examplesFolder, func(p string, d fs.DirEntry, err error) error {
		if d != nil && d.IsDir() && d.Name() == "out" {
			return fs.SkipDir
		}
		if err != nil || d.IsDir() || path.Ext(p) != ".headcap" {
			return err
		}
		jobs = append(jobs, compiled(os.DirFS(filepath.Dir(p)), filepath.Base(p), compiler.Options{Pictures: true}))
		return nil
	})
	// What another file uses is no job of its own.
	used := map[string]bool{}
	for _, j := range jobs {
		for _, a := range j.result.Asked {
			used[a] = used[a] || a != j.name
		}
	}
	return slices.DeleteFunc(jobs, func(j *job) bool { return used[j.name] && len(j.result.Volumes) == 0 }), err
})

func examples(t testing.TB) []*job {
	t.Helper()
	jobs, err := exampleJobs()
	if err != nil {
		t.Fatal(err)
	}
	if len(jobs) < 3 {
		t.Fatalf("there are %d examples", len(jobs))
	}
	return jobs
}

// forExamples runs a test on each example that builds; one that does not has a test of its own.
func forExamples(t *testing.T, do func(t *testing.T, j *job)) {
	for _, j := range examples(t) {
		t.Run(strings.TrimSuffix(j.name, ".headcap"), func(t *testing.T) {
			if !j.result.Whole {
				t.Fatal("it does not build")
			}
			do(t, j)
		})
	}
}

// example gives one by the name of its source.
func example(t testing.TB, name string) *job {
	t.Helper()
	for _, j := range examples(t) {
		if j.name == name+".headcap" {
			return j
		}
	}
	t.Fatalf("there is no example %s", name)
	return nil
}
