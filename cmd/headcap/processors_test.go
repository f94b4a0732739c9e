package main

import (
	"image"
	"image/png"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// A processor that the examples are built on. Where it is not the machine's own, qemu plays it.
type processor struct {
	name string
	env  []string // for the go command
	play []string // a program to run ours with, none to run it as it is
}

var processors = []processor{
	{"386", []string{"GOARCH=386"}, nil},
	{"amd64-v3", []string{"GOARCH=amd64", "GOAMD64=v3"}, []string{"qemu-x86_64", "-cpu", "max"}},
	{"arm64", []string{"GOARCH=arm64"}, []string{"qemu-aarch64"}},
}

// TestSameBytesOnEveryProcessor builds the examples as other processors do. The files must be the same byte for byte, and
// pictures the same within one grey level, since a colour is not for the blade. It takes minutes, so it runs only where the
// environment says CI=true.
func TestSameBytesOnEveryProcessor(t *testing.T) {
	if os.Getenv("CI") != "true" {
		t.Skip("needs CI=true, and qemu-user: it compiles the program for other processors, which takes minutes")
	}
	if runtime.GOOS != "linux" || runtime.GOARCH != "amd64" {
		t.Skip("needs linux on amd64, as CI has")
	}
	root := moduleRoot(t)
	sources := exampleSources(t, root)
	own := compileFor(t, root, processor{name: "amd64"})
	want := buildWith(t, []string{own}, sources, "GOMAXPROCS=1")
	t.Run("again, with eight at once", func(t *testing.T) {
		sameFiles(t, want, buildWith(t, []string{own}, sources, "GOMAXPROCS=8"))
	})
	for _, p := range processors {
		t.Run(p.name, func(t *testing.T) {
			program := compileFor(t, root, p)
			if len(p.play) > 0 {
				if _, err := exec.LookPath(p.play[0]); err != nil {
					t.Fatalf("%v: install qemu-user", err)
				}
			}
			sameFiles(t, want, buildWith(t, append(slices.Clone(p.play), program), sources))
		})
	}
}

// exampleSources lists the examples: all but what is there to be used by others.
func exampleSources(t *testing.T, root string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(filepath.Join(root, "examples"), func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && d.Name() == "out" {
			return fs.SkipDir
		}
		if filepath.Ext(name) == extension {
			text, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			if strings.Contains("\n"+string(text), "\nvolume ") || strings.Contains("\n"+string(text), "\nseries ") {
				out = append(out, name)
			}
		}
		return nil
	})
	if err != nil || len(out) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	return out
}

func compileFor(t *testing.T, root string, p processor) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "headcap")
	cmd := exec.Command("go", "build", "-buildvcs=false", "-o", program, "./cmd/headcap")
	cmd.Dir = root
	cmd.Env = append(append(os.Environ(), "CGO_ENABLED=0", "GOOS=linux"), p.env...)
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("compiling for %s: %v\n%s", p.name, err, text)
	}
	return program
}

// buildWith builds the sources and gives the folder of what was written.
func buildWith(t *testing.T, program, sources []string, env ...string) string {
	t.Helper()
	dir := t.TempDir()
	args := append(slices.Clone(program[1:]), "build", "-o", dir)
	cmd := exec.Command(program[0], append(args, sources...)...)
	cmd.Env = append(os.Environ(), env...)
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %v\n%s", program, err, text)
	}
	return dir
}

// sameFiles compares what two builds wrote. Manifests tell the hashes of pictures too, so they are left out.
func sameFiles(t *testing.T, want, got string) {
	t.Helper()
	names := filesBelow(t, want)
	if other := filesBelow(t, got); !slices.Equal(names, other) {
		t.Fatalf("wrote %v, wanted %v", other, names)
	}
	for _, name := range names {
		a, err := os.ReadFile(filepath.Join(want, name))
		if err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(filepath.Join(got, name))
		switch {
		case err != nil:
			t.Error(err)
		case string(a) == string(b) || filepath.Base(name) == "headcap.manifest":
		case filepath.Ext(name) == ".png":
			samePicture(t, name, readPicture(t, want, name), readPicture(t, got, name))
		default:
			t.Errorf("%s differs", name)
		}
	}
}

func filesBelow(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			rel, _ := filepath.Rel(dir, name)
			out = append(out, rel)
		}
		return err
	})
	if err != nil || len(out) == 0 {
		t.Fatalf("nothing was written: %v", err)
	}
	return out
}

func readPicture(t *testing.T, dir, name string) image.Image {
	t.Helper()
	f, err := os.Open(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := png.Decode(f)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return m
}

func samePicture(t *testing.T, name string, a, b image.Image) {
	t.Helper()
	if a.Bounds() != b.Bounds() {
		t.Errorf("%s: %v, wanted %v", name, b.Bounds(), a.Bounds())
		return
	}
	near := func(a, b uint32) bool { return max(a, b)-min(a, b) <= 0x101 } // one level of 255, in sixteen bits
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y++ {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x++ {
			ar, ag, ab, aa := a.At(x, y).RGBA()
			br, bg, bb, ba := b.At(x, y).RGBA()
			if !near(ar, br) || !near(ag, bg) || !near(ab, bb) || !near(aa, ba) {
				t.Errorf("%s: at %d, %d %v, wanted %v", name, x, y, b.At(x, y), a.At(x, y))
				return
			}
		}
	}
}
