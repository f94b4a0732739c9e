package compiler

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"headcap/compiler/cut"
	"headcap/compiler/geom"
)

const fiveVolumes = "fen.headcap"

// written puts files on the disk as the program does: each written, synced and closed, the folder once.
func written(tb testing.TB, files []File) {
	tb.Helper()
	dir := tb.TempDir()
	for _, f := range files {
		name := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			tb.Fatal(err)
		}
		w, err := os.Create(name)
		if err != nil {
			tb.Fatal(err)
		}
		if _, err := w.Write(f.Data); err != nil {
			tb.Fatal(err)
		}
		if err := w.Sync(); err != nil {
			tb.Fatal(err)
		}
		if err := w.Close(); err != nil {
			tb.Fatal(err)
		}
	}
}

func build(tb testing.TB) {
	r, list := Compile(context.Background(), os.DirFS("../examples/fen"), fiveVolumes, Options{Pictures: true})
	if list.Errors() {
		tb.Fatal(list.All())
	}
	written(tb, r.Files)
}

// floor is the least that any compiler would have to do for the same files: move the finished outlines, print them, picture
// them and write them, without having searched for anything.
func floor(tb testing.TB, s *shelf) {
	for _, b := range s.books {
		for i, c := range b.cuts {
			moved := make([]cut.Piece, len(c.Pieces))
			for k, p := range c.Pieces {
				p.Shape = geom.Move(0, 0).Shape(p.Shape)
				moved[k] = p
			}
			b.cuts[i].Pieces = moved
		}
	}
	written(tb, s.result(context.Background(), Options{Pictures: true}).Files)
}

func ready(tb testing.TB) *shelf {
	s := laidOut(os.DirFS("../examples/fen"), fiveVolumes)
	if err := s.cut(context.Background()); err != nil || s.list.Errors() {
		tb.Fatal(err, s.list.All())
	}
	return s
}

func BenchmarkFiveVolumes(b *testing.B) {
	for b.Loop() {
		build(b)
	}
}

func BenchmarkFiveVolumesFloor(b *testing.B) {
	s := ready(b)
	for b.Loop() {
		floor(b, s)
	}
}

// TestBuildStaysNearItsFloor: a build takes at most ten times what it would take to write what it found, had it been known.
// Both are timed in turns on the same machine, and the best of each counts, so a busy machine hardly matters.
func TestBuildStaysNearItsFloor(t *testing.T) {
	if testing.Short() {
		t.Skip("times whole builds")
	}
	s := ready(t)
	best := func(was time.Duration, f func()) time.Duration {
		start := time.Now()
		f()
		return min(was, time.Since(start))
	}
	whole, least := time.Hour, time.Hour
	for range 3 {
		whole = best(whole, func() { build(t) })
		least = best(least, func() { floor(t, s) })
	}
	ratio := float64(whole) / float64(least)
	t.Logf("a build takes %.1f times its floor", ratio)
	if ratio > 10 {
		t.Errorf("a build takes %.1f times its floor, more than 10", ratio)
	}
}
