package compiler_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"headcap/compiler"
	"headcap/compiler/drawing"
	"headcap/compiler/emit/reread"
	"headcap/compiler/ornament"
)

const (
	micrometre = 1_000 // in nanometres
	// What is written stands on a grid of a micrometre: each edge is half of one off at most, and a size both together.
	written = 0.00102 // millimetres; the last digits for the flattening of curves
)

// saltings is a series of our own beside the example: plain, with little on it, and one volume that clearly sets the size
// of the titles.
var saltings = sync.OnceValue(func() *job { return compiled(os.DirFS("../testdata/jobs"), "saltings.headcap", compiler.Options{}) })

var inPanelRest = regexp.MustCompile(`^panel-rest-(\d+)-(centre|frame)-`)

// panelPieces gives the rings of the pieces of one kind that stand in the panels of `panel rest`, by the number of the panel.
func panelPieces(t *testing.T, c cutFile, v compiler.Laid, kind string) map[int][]reread.Ring {
	t.Helper()
	out := map[int][]reread.Ring{}
	for _, p := range v.Spine.Panels {
		for _, rings := range c.asSeen(t, func(id string) bool {
			m := inPanelRest.FindStringSubmatch(id)
			return m != nil && m[1] == fmt.Sprint(p.Number) && m[2] == kind
		}) {
			b := reread.Bounds(rings)
			if b.Min.Y < p.Head.Millimetres() || b.Max.Y > p.Tail.Millimetres() {
				t.Errorf("a %s stands at %v, outside panel %d", kind, b, p.Number)
			}
			out[p.Number] = append(out[p.Number], rings...)
		}
	}
	return out
}

// On the spines of the five volumes: the emblem at its stamp's own size, the frame at the spine's width less the insets,
// and everything at the same height above the tail, which is what they stand on.
func TestFiveSpinesAgree(t *testing.T) {
	for _, j := range []*job{example(t, "fen"), saltings()} {
		t.Run(j.name, func(t *testing.T) { spinesAgree(t, j) })
	}
}

func spinesAgree(t *testing.T, j *job) {
	j.clean(t)
	folder := j.write(t)
	if len(j.laid) != 5 {
		t.Fatalf("%d volumes", len(j.laid))
	}
	// Clear leather at the joints, where no margin is said.
	const joint = 1.5
	above := map[string]float64{} // of edges that all volumes share, above the tail
	same := func(v compiler.Laid, what string, mm float64) {
		t.Helper()
		if was, ok := above[what]; ok && math.Abs(was-mm) > written {
			t.Errorf("volume %d: %s stands %.4f mm above the tail, and %.4f in an earlier one", v.Model.Number, what, mm, was)
		}
		above[what] = mm
	}
	for _, v := range j.laid {
		t.Run(fmt.Sprintf("volume %d", v.Model.Number), func(t *testing.T) {
			c := j.cuts(t, folder, v)[0]
			tall, wide := c.listing.Frame.Y, c.listing.Frame.X
			for _, b := range v.Spine.Bands {
				same(v, fmt.Sprintf("band %d", b.Number), v.Spine.Tall.Sub(b.Centre.Length).Millimetres())
			}

			emblems := panelPieces(t, c, v, "centre")
			frames := panelPieces(t, c, v, "frame")
			if len(emblems) != 4 || len(frames) != 4 {
				t.Fatalf("%d emblems in %d frames", len(emblems), len(frames))
			}
			own, err := ornament.Draw(v.Design.Emblem)
			if err != nil {
				t.Fatal(err)
			}
			ownWide, ownTall := mm(own.Box.Width()), mm(own.Box.Height())
			if said := v.Design.Emblem.Tall; said != nil && math.Abs(ownTall-said.Millimetres()) > written {
				t.Errorf("the stamp %s is %.4f mm tall, and says %s", v.Design.Emblem.Name, ownTall, said)
			}
			for n, rings := range emblems {
				b := reread.Bounds(rings)
				if w, h := b.Max.X-b.Min.X, b.Max.Y-b.Min.Y; math.Abs(w-ownWide) > written || math.Abs(h-ownTall) > written {
					t.Errorf("the emblem of panel %d is %.4f by %.4f mm, and its stamp %.4f by %.4f", n, w, h, ownWide, ownTall)
				}
				if middle := (b.Min.X + b.Max.X) / 2; math.Abs(middle-wide/2) > written {
					t.Errorf("the emblem of panel %d stands %.4f mm from the left, of %.3f", n, middle, wide)
				}
			}
			for n, rings := range frames {
				b, p := reread.Bounds(rings), v.Spine.Panels[n-1]
				inset := v.Design.Spine.Panels[n].Frames[0].Sides.Millimetres()
				if got, want := b.Max.X-b.Min.X, v.Spine.Wide.Millimetres()-2*(joint+inset); math.Abs(got-want) > written {
					t.Errorf("the frame of panel %d is %.4f mm wide, not %.4f", n, got, want)
				}
				if got, want := b.Max.Y-b.Min.Y, p.Tail.Sub(p.Head).Millimetres()-2*inset; math.Abs(got-want) > written {
					t.Errorf("the frame of panel %d is %.4f mm tall, not %.4f", n, got, want)
				}
				if left, right := b.Min.X, wide-b.Max.X; math.Abs(left-right) > written {
					t.Errorf("the frame of panel %d leaves %.4f mm on its left and %.4f on its right", n, left, right)
				}
				same(v, fmt.Sprintf("the tail of frame %d", n), tall-b.Max.Y)
				if n > 1 {
					same(v, fmt.Sprintf("the head of frame %d", n), tall-b.Min.Y)
				}
			}

			var baselines []float64
			for _, s := range v.Faces[0].Shapes {
				if s.Kind == drawing.Letters && s.Name == "title" {
					baselines = append(baselines, float64(v.Faces[0].Height-s.Place.F)/1e6)
				}
			}
			if len(baselines) == 0 {
				t.Fatal("there is no title")
			}
			for i, b := range baselines {
				same(v, fmt.Sprintf("baseline %d of a title of %d", i+1, len(baselines)), b)
			}
		})
	}
}

// Stamps of runs and corners are turned and mirrored, and never scaled: what is left of their places once they are taken
// to the origin has the singular values 1 and 1.
func TestStampsOfRunsAndCornersKeepTheirSize(t *testing.T) {
	found := 0
	look := func(t *testing.T, j *job) {
		for _, v := range j.laid {
			for _, f := range v.Faces {
				for _, s := range f.Shapes {
					if s.Kind != drawing.Unit && s.Kind != drawing.Corner {
						continue
					}
					found++
					p := s.Place
					least, most := singular(p.A, p.B, p.C, p.D)
					if math.Abs(least-1) > 1e-12 || math.Abs(most-1) > 1e-12 || math.Abs(math.Abs(p.Det())-1) > 1e-12 {
						t.Errorf("%s of %s on the %s of «%s» is scaled by %v to %v", s.Kind, s.Name, f.Name, v.Model.Name, least, most)
					}
				}
			}
		}
	}
	forExamples(t, look)
	look(t, &job{laid: rollJobs(t)})
	if found < 100 {
		t.Errorf("only %d stamps stand in runs and corners", found)
	}
}

// singular gives the singular values of a matrix of two by two.
func singular(a, b, c, d float64) (least, most float64) {
	// The sum and the difference of the singular values are the lengths of these two.
	sum, difference := math.Hypot(a+d, b-c), math.Hypot(a-d, b+c)
	return math.Abs(sum-difference) / 2, (sum + difference) / 2
}

var blockThick = regexp.MustCompile(`(volume (\d) .*block .* x )([0-9.]+)mm`)

// widened gives a source in which the block of one volume is 0.4 mm thicker.
func widened(t *testing.T, source string, number int) string {
	t.Helper()
	lines := strings.Split(source, "\n")
	for i, l := range lines {
		m := blockThick.FindStringSubmatchIndex(l)
		if m == nil || l[m[4]:m[5]] != fmt.Sprint(number) {
			continue
		}
		var thick float64
		if _, err := fmt.Sscan(l[m[6]:m[7]], &thick); err != nil {
			t.Fatal(err)
		}
		lines[i] = l[:m[6]] + fmt.Sprintf("%.1f", thick+0.4) + l[m[7]:]
		return strings.Join(lines, "\n")
	}
	t.Fatalf("volume %d says no block on its line", number)
	return ""
}

// setBy finds who sets the size of the titles, in what a build says at its end.
func setBy(t *testing.T, r *compiler.Result) (line string, volume int) {
	t.Helper()
	for _, l := range r.Summary {
		if strings.HasPrefix(l, "lettering of panel 2") {
			_, by, _ := strings.Cut(l, "set by volume ")
			_, _ = fmt.Sscan(by, &volume) // none where it is the most that is allowed
			return l, volume
		}
	}
	t.Fatalf("the build does not say who sets the titles: %q", r.Summary)
	return "", 0
}

// changedFiles lists the files that are not the same, by name, and whose they are.
func changedFiles(t *testing.T, a, b *compiler.Result) map[string]string {
	t.Helper()
	before, after := withoutPictures(a), withoutPictures(b)
	if len(before) != len(after) {
		t.Fatalf("%d files, then %d", len(before), len(after))
	}
	out := map[string]string{}
	for i, f := range before {
		if g := after[i]; f.Name != g.Name || f.Volume != g.Volume {
			t.Fatalf("%s became %s", f.Name, g.Name)
		} else if !bytes.Equal(f.Data, g.Data) {
			out[f.Name] = f.Volume
		}
	}
	return out
}

func withoutPictures(r *compiler.Result) []compiler.File {
	return slices.DeleteFunc(slices.Clone(r.Files), func(f compiler.File) bool { return strings.HasSuffix(f.Name, ".png") })
}

// changedLines counts the lines of the new text that are not in the longest common run of lines with the old, or those
// that are lost, whichever are more.
func changedLines(before, after []byte) int {
	a, b := strings.Split(string(before), "\n"), strings.Split(string(after), "\n")
	common := make([]int, len(b)+1)
	for _, x := range a {
		diagonal := 0
		for k, y := range b {
			keep := common[k+1]
			if x == y {
				common[k+1] = diagonal + 1
			} else {
				common[k+1] = max(common[k+1], common[k])
			}
			diagonal = keep
		}
	}
	return max(len(a), len(b)) - common[len(b)]
}

// titleCaps gives the height of the title's capitals in each volume.
func titleCaps(j *job) []int64 {
	var out []int64
	for _, v := range j.laid {
		for _, s := range v.Faces[0].Shapes {
			if s.Kind == drawing.Letters && s.Name == "title" {
				out = append(out, s.Cap)
				break
			}
		}
	}
	return out
}

// A block that measures 0.4 mm more changes its own volume's files and no other's, and few lines of its listing, unless the
// set took the size of its titles from it.
func TestWideningOneVolume(t *testing.T) {
	few := 0 // volumes whose title is not bound by the width
	for _, before := range []*job{example(t, "fen"), saltings()} {
		t.Run(before.name, func(t *testing.T) {
			before.clean(t)
			source, err := fs.ReadFile(before.files, before.name)
			if err != nil {
				t.Fatal(err)
			}
			for i := range before.laid {
				t.Run(fmt.Sprintf("volume %d", i+1), func(t *testing.T) {
					after := compiled(fstest.MapFS{before.name: {Data: []byte(widened(t, string(source), i+1))}}, before.name, compiler.Options{})
					after.clean(t)
					if _, setter := setBy(t, before.result); setter == i+1 {
						sizeChanges(t, before, after, i)
						return
					}
					changed := changedFiles(t, before.result, after.result)
					for name, volume := range changed {
						if volume != "" && volume != before.laid[i].Model.Key {
							t.Errorf("%s changed too", name)
						}
					}
					name := listingOf(before.laid[i])
					if changed[name] == "" {
						t.Errorf("%s did not change", name)
					}
					if titleCaps(after)[i] != titleCaps(before)[i] {
						return // it is as large as its own width lets it be
					}
					few++
					if lines := changedLines(before.file(t, name), after.file(t, name)); lines >= mostLines {
						t.Errorf("%d lines of %s changed", lines, name)
					}
				})
			}
		})
	}
	// Or nothing above has been tried.
	if few < 8 {
		t.Errorf("the listings of only %d volumes were compared", few)
	}
	plain := saltings()
	if caps := titleCaps(plain); slices.Min(caps) != slices.Max(caps) {
		t.Errorf("the titles' capitals are %v", caps)
	}
	if _, setter := setBy(t, plain.result); setter != 3 {
		t.Errorf("volume %d sets the size of the titles", setter)
	}
}

func listingOf(v compiler.Laid) string { return v.Model.Folder + "/pieces.txt" }

// mostLines is how many lines of a listing may change with the width of its spine: that of the face, those of what is as
// wide as the spine, and one for each kind of stamp that stands at its edges.
const mostLines = 40

// sizeChanges sees what comes of widening the volume that sets the size of the titles: they grow as far as the next that
// sets it lets them, in every volume that had that size and in no other, and the build says so.
func sizeChanges(t *testing.T, before, after *job, setter int) {
	t.Helper()
	told, _ := setBy(t, before.result)
	line, by := setBy(t, after.result)
	if line == told || by == 0 {
		t.Errorf("the build says %q, as before, or names no volume", line)
	}
	was, is := titleCaps(before), titleCaps(after)
	shared := was[setter]
	if by != setter+1 {
		// Another one sets it now, and may have held it at the same size before.
		if is[by-1] < shared {
			t.Errorf("volume %d sets %d nm, less than before", by, is[by-1])
		}
	} else if is[setter] <= shared {
		t.Errorf("the titles' capitals were %v and are %v", was, is)
	}
	changed := changedFiles(t, before.result, after.result)
	for i, v := range before.laid {
		if must := i == setter || is[i] != was[i]; must != (changed[listingOf(v)] != "") {
			t.Errorf("volume %d: it has to change: %v; its listing did: %v", i+1, must, !must)
		}
		if was[i] == shared && is[i] != is[by-1] {
			t.Errorf("volume %d: the titles' capitals are %d nm, where the set has %d", i+1, is[i], is[by-1])
		}
		if was[i] != shared && is[i] != was[i] {
			t.Errorf("volume %d: its title stood apart and changed with the set", i+1)
		}
	}
}
