package compiler_test

import (
	"bytes"
	"context"
	"runtime"
	"testing"

	"headcap/compiler"
	"headcap/compiler/emit/outside"
	"headcap/compiler/emit/reread"
)

// Every cut file of every example, read by programs that are not ours.
func TestOtherReadersFindNoFault(t *testing.T) {
	forExamples(t, func(t *testing.T, j *job) {
		folder := j.write(t)
		var cuts []cutFile
		var svgs, dxfs []string
		for _, v := range j.laid {
			for _, c := range j.cuts(t, folder, v) {
				cuts, svgs, dxfs = append(cuts, c), append(svgs, c.svg), append(dxfs, c.dxf)
			}
		}
		// No crossing, no doubled point, no ring of no area: with and without what is installed.
		for _, c := range cuts {
			for _, fault := range reread.Faults(outside.SVG(t, c.svg).Rings(0.0005), 0.0005) {
				t.Errorf("%s: %s", c.svg, fault)
			}
			for _, fault := range reread.Faults(outside.DXF(t, c.dxf).Outlines, 0) {
				t.Errorf("%s: %s", c.dxf, fault)
			}
		}
		t.Run("svg", func(t *testing.T) { outside.CheckSVG(t, svgs...) })
		t.Run("dxf", func(t *testing.T) { outside.CheckDXF(t, dxfs...) })
		t.Run("measures", func(t *testing.T) {
			for _, c := range cuts {
				outside.CheckMeasures(t, c.dxf, c.listing)
			}
		})
		t.Run("agree", func(t *testing.T) {
			for _, c := range cuts {
				outside.CheckAgree(t, c.svg, c.dxf)
			}
		})
	})
}

// The same bytes with one processor as with several, pictures and all.
func TestProcessorsChangeNoByte(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	runtime.GOMAXPROCS(1)
	forExamples(t, func(t *testing.T, j *job) {
		again, _ := compiler.Compile(context.Background(), j.files, j.name, compiler.Options{Pictures: true})
		if len(again.Files) != len(j.result.Files) {
			t.Fatalf("%d files, then %d", len(j.result.Files), len(again.Files))
		}
		for i, f := range j.result.Files {
			if g := again.Files[i]; f.Name != g.Name || !bytes.Equal(f.Data, g.Data) {
				t.Errorf("%s differs from %s", g.Name, f.Name)
			}
		}
	})
}
