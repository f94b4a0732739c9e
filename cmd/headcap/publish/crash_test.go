package publish

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var errCrash = errors.New("the machine stopped")

// failing is a disk that stops at its n-th step, and takes no step after it. A write that it stops at leaves half.
// With once, only that step fails, as when a disk is full for a moment.
type failing struct {
	disk
	n    *int
	once bool
}

func (d *failing) step() error {
	*d.n--
	if *d.n == 0 || *d.n < 0 && !d.once {
		return errCrash
	}
	return nil
}

func (d *failing) after(do func() error) error {
	if err := d.step(); err != nil {
		return err
	}
	return do()
}

func (d *failing) mkdir(dir string) error {
	return d.after(func() error { return d.disk.mkdir(dir) })
}

func (d *failing) rename(from, to string) error {
	return d.after(func() error { return d.disk.rename(from, to) })
}

func (d *failing) remove(name string) error {
	return d.after(func() error { return d.disk.remove(name) })
}

func (d *failing) syncFolder(dir string) error {
	return d.after(func() error { return d.disk.syncFolder(dir) })
}

func (d *failing) create(name string) (w writer, err error) {
	err = d.after(func() error { w, err = d.disk.create(name); return err })
	return failingWriter{w, d}, err
}

type failingWriter struct {
	writer
	d *failing
}

func (w failingWriter) Write(data []byte) (int, error) {
	if err := w.d.step(); err != nil {
		n, _ := w.writer.Write(data[:len(data)/2])
		return n, err
	}
	return w.writer.Write(data)
}

func (w failingWriter) Sync() error { return w.d.after(w.writer.Sync) }

func (w failingWriter) Close() error { return errors.Join(w.writer.Close(), w.d.step()) }

// onlyWhole checks that every file is one of the old build or of the new one, whole, or a leftover of ours.
func onlyWhole(t *testing.T, when, dir string, builds ...Build) {
	t.Helper()
	for name, text := range tree(t, dir) {
		ok := strings.HasPrefix(filepath.Base(name), ".headcap")
		for _, b := range builds {
			want, is := contents(b)[name]
			ok = ok || is && text == want
		}
		if !ok {
			t.Errorf("%s: %s holds %q, neither the old nor the new", when, name, text)
		}
	}
}

// next changes some files of twoVolumes("a"), leaves one as it was, drops one and adds one.
func next() Build {
	b := twoVolumes("b")
	b.Files[0].Data = []byte("a spine.gold.svg")
	b.Files[1].Path = "01-eels/front.gold.svg"
	return b
}

// At every step of a build the machine stops, or the disk fails once; the files are whole, and the next build goes through
// as if nothing had been.
func TestCrashAtEveryStep(t *testing.T) {
	for _, once := range []bool{false, true} {
		for step := 1; ; step++ {
			if step > 500 {
				t.Fatal("the build never goes through")
			}
			when := fmt.Sprintf("stopped at step %d, once %v", step, once)
			dir := filepath.Join(t.TempDir(), "out")
			mustPublish(t, dir, twoVolumes("a"))

			n := step
			var rep Report
			f, err := open(dir, func(r *os.Root) disk { return &failing{rootDisk{r}, &n, once} })
			if err == nil {
				rep, err = f.Publish(t.Context(), next())
				f.root.Close()
				f.lock.release()
			}
			onlyWhole(t, when, dir, twoVolumes("a"), next())
			if n > 0 {
				if err != nil {
					t.Fatalf("without a fault: %v", err)
				}
				wantTree(t, dir, contents(next()))
				break
			}
			if err == nil && !once && len(rep.Written) == 0 {
				t.Errorf("%s: no error, and nothing written", when)
			}
			rep = mustPublish(t, dir, next())
			if len(rep.Refused) != 0 {
				t.Errorf("%s: the next build refused %v", when, rep.Refused)
			}
			wantTree(t, dir, contents(next()))
			names := []string{}
			for name := range contents(next()) {
				names = append(names, name)
			}
			wantManifest(t, dir, names...)
		}
	}
}

// After a crash another source may be built than the one that was under way.
func TestCrashThenBackToTheOldSource(t *testing.T) {
	for step := 1; ; step++ {
		dir := filepath.Join(t.TempDir(), "out")
		mustPublish(t, dir, twoVolumes("a"))
		n := step
		f, err := open(dir, func(r *os.Root) disk { return &failing{rootDisk{r}, &n, false} })
		if err == nil {
			_, _ = f.Publish(t.Context(), next())
			f.root.Close()
			f.lock.release()
		}
		if rep := mustPublish(t, dir, twoVolumes("a")); len(rep.Refused) != 0 {
			t.Errorf("stopped at step %d: refused %v", step, rep.Refused)
		}
		wantTree(t, dir, contents(twoVolumes("a")))
		if n > 0 {
			return
		}
	}
}

// childFolder names the environment variable that makes this test program a builder, for the test below to kill.
const childFolder = "HEADCAP_TEST_PUBLISH_INTO"

// gaveUp is the builder's exit status when a build fails.
const gaveUp = 7

func TestMain(m *testing.M) {
	if dir := os.Getenv(childFolder); dir != "" {
		builder(dir)
	}
	os.Exit(m.Run())
}

// bulky is a build whose files take a while to write.
func bulky(content string) Build {
	b := Build{Whole: true}
	for v := range 4 {
		volume(&b, fmt.Sprintf("0%d-volume", v+1), strings.Repeat(content, 100_000), "spine.gold.svg", "front.gold.svg")
	}
	return b
}

func builder(dir string) {
	fmt.Println("ready")
	for i := 0; ; i++ {
		f, err := Open(dir)
		if err == nil {
			_, err = f.Publish(context.Background(), bulky(string(rune('a'+i%2))))
		}
		if err == nil {
			err = f.Close()
		}
		if err != nil {
			fmt.Println(err)
			os.Exit(gaveUp)
		}
	}
}

func TestKilledAtAnyMoment(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Skip(err)
	}
	dir := filepath.Join(t.TempDir(), "out")
	kills := 12
	if testing.Short() {
		kills = 5
	}
	for range kills {
		cmd := exec.Command(self)
		cmd.Env = append(os.Environ(), childFolder+"="+dir)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Skip("cannot start a child here: ", err)
		}
		ready := make([]byte, len("ready\n"))
		if _, err := out.Read(ready); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.IntN(40_000)) * time.Microsecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = cmd.Wait()
		if cmd.ProcessState.ExitCode() == gaveUp {
			t.Fatal("the builder ended by itself")
		}
		if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
			continue
		}
		wholeBulky(t, dir)
	}
	rep := mustPublish(t, dir, bulky("c"))
	if len(rep.Refused) != 0 {
		t.Errorf("the last build refused %v", rep.Refused)
	}
	if got := tree(t, dir); len(got) != 8 {
		t.Errorf("the last build leaves %d files, wanted 8", len(got))
	}
}

// wholeBulky is onlyWhole for bulky builds, whose content is too long to print.
func wholeBulky(t *testing.T, dir string) {
	t.Helper()
	a, b := contents(bulky("a")), contents(bulky("b"))
	for name, text := range tree(t, dir) {
		if text != a[name] && text != b[name] && !strings.HasPrefix(filepath.Base(name), ".headcap") {
			t.Errorf("%s has %d bytes, and is neither the old nor the new", name, len(text))
		}
	}
}
