package geom

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// A print is the hash of a result, down to the last bit.
type print struct{ hash.Hash }

func (p print) numbers(v ...int64) {
	for _, n := range v {
		binary.Write(p, binary.LittleEndian, n)
	}
}

func (p print) floats(v ...float64) {
	for _, f := range v {
		binary.Write(p, binary.LittleEndian, math.Float64bits(f))
	}
}

func (p print) points(v ...Point) {
	for _, q := range v {
		p.numbers(q.X, q.Y)
	}
}

func (p print) contour(c Contour) {
	p.numbers(int64(len(c.Segments)))
	for _, s := range c.Segments {
		straight := int64(0)
		if s.Line {
			straight = 1
		}
		p.numbers(straight, int64(s.Tag))
		p.points(s.P0, s.P1, s.P2, s.P3)
	}
}

func (p print) shapes(shapes []Shape, err error) {
	if err != nil {
		fmt.Fprint(p, err)
	}
	for _, s := range shapes {
		p.numbers(int64(1 + len(s.Holes)))
		for _, c := range s.Path() {
			p.contour(c)
		}
	}
}

// numbered gives every segment of an operand the operand's number.
func numbered(in []Operand) []Operand {
	for i, o := range in {
		for _, c := range o.Path {
			for k := range c.Segments {
				c.Segments[k].Tag = int32(i)
			}
		}
	}
	return in
}

// drawings are those whose results are compared, small enough for a processor that is only imitated.
func drawings() []namedDrawing {
	rnd := rand.New(rand.NewSource(31))
	var stars, tiles []Operand
	for range 12 {
		stars = append(stars, Operand{Path: Path{starAround(rnd, 15*rnd.Float64(), 15*rnd.Float64(), 8, 5+rnd.Intn(30))}, Rule: Rule(rnd.Intn(4))})
	}
	for i, p := range squares(4, 7, 0) {
		s, c := SinCos(float64(11 + i%2))
		turn := Transform{A: c, B: s, C: -s, D: c}
		tiles = append(tiles, Operand{Path: turn.Path(Path{p})})
	}
	return []namedDrawing{
		{"border", numbered(stampBorder(400)[:50])},
		{"ornaments", numbered(ornamentBorder(60, 9, 0.75, 2)[:8])},
		{"ornaments that cross themselves", numbered(ornamentBorder(60, 9, 2, 3)[:5])},
		{"discs", numbered(hardlyOverlapping(12, 4))},
		{"words", numbered(words()[:30])},
		{"stars", numbered(stars)},
		{"tiles", numbered(tiles)},
	}
}

type namedDrawing struct {
	name string
	in   []Operand
}

// results are the prints of every operation on the drawings, by name, and of what has no drawing.
func results(drawings []namedDrawing) []string {
	var out []string
	add := func(drawing, operation string, put func(p print)) {
		p := print{sha256.New()}
		put(p)
		out = append(out, fmt.Sprintf("%s, %s: %x", drawing, operation, p.Sum(nil)[:12]))
	}
	for _, d := range drawings {
		fused, err := Fuse(d.in, 2000)
		add(d.name, "fused", func(p print) { p.shapes(fused, err) })
		for op := Union; op <= Exclusive; op++ {
			add(d.name, fmt.Sprint("operation ", op), func(p print) {
				var sides [2]Path
				for i, o := range d.in {
					sides[i%2] = append(sides[i%2], o.Path...)
				}
				for _, rule := range rules {
					p.shapes(Boolean(op, Operand{sides[0], rule}, Operand{sides[1], rule}, 2000))
				}
			})
		}
		add(d.name, "gaps closed", func(p print) {
			closed, err := CloseGaps(d.in, 5000, 2000)
			if err == nil {
				var shapes []Shape
				shapes, err = Fuse(closed, 2000)
				p.shapes(shapes, err)
			}
		})
		add(d.name, "settled", func(p print) { p.shapes(Settle(fused, Micrometre)) })
		for _, by := range []int64{300_000, -150_000} {
			for join := Mitre; join <= Bevel; join++ {
				add(d.name, fmt.Sprintf("grown by %d, join %d", by, join), func(p print) { p.shapes(Offset(fused, by, join, 4, 2000)) })
			}
		}
		add(d.name, "drawn along", func(p print) {
			p.shapes(Stroke(Paths(fused), Pen{Width: 400_000, Cap: RoundCap, Join: RoundJoin, Dash: []int64{3_000_000, 1_000_000}}, 2000))
			p.shapes(Stroke(Paths(fused), Pen{Width: 250_000}, 2000))
		})
		add(d.name, "limbs and gaps", func(p print) {
			some := fused[:min(len(fused), 3)]
			for _, search := range []func([]Shape, int64) ([]Point, error){LimbsUnder, GapsUnder} {
				at, err := search(some, 700_000)
				p.points(at...)
				fmt.Fprint(p, err)
			}
		})
		add(d.name, "measured, fitted and in arcs", func(p print) {
			for _, c := range Paths(fused) {
				p.floats(SignedArea(c), Length(c, 1000))
				p.contour(Fit(Points(c, 1000), true, 5000, 30))
				for _, s := range c.Segments {
					for _, a := range Arcs(s, 5000) {
						p.points(a.From, a.To)
						p.floats(a.Bulge)
					}
				}
			}
			b := BoundsOf(fused)
			p.points(b.Min, b.Max)
		})
	}
	add("numbers", "angles and lengths", func(p print) {
		for i := -2000; i <= 2000; i++ {
			a := float64(i) * 0.3137
			s, c := SinCos(a)
			p.floats(s, c, Atan2Deg(s*3, c*7), ArcCosDeg(c), Hypot(a, s))
		}
	})
	add("numbers", "path data", func(p print) {
		path, err := ParsePath("M1 2A30.5 17 12.3 1 0 44 60Q7.5 3.3 1 1T5 9A3 3 0 0 1 4 4Z", 123_457)
		fmt.Fprint(p, err)
		for _, c := range path {
			p.contour(Turn(33.3).Then(Scale(1.7)).Contour(c))
		}
	})
	return out
}

// resultsWanted is set in the environment of the programs that TestSamePointsOnEveryProcessor runs.
const resultsWanted = "GEOM_RESULTS"

// It prints what a program built for another processor has to say.
func TestResultsOfThisProcessor(t *testing.T) {
	if os.Getenv(resultsWanted) == "" {
		t.Skip("for TestSamePointsOnEveryProcessor")
	}
	for _, r := range results(drawings()) {
		fmt.Println("= " + r)
	}
}

// A target is a kind of processor, and what runs a program for it. The kinds that an amd64 runs too need nothing there:
// programs of the Go runtime for 386 do not live long in qemu 7.2.
type target struct {
	name string
	env  []string
	run  []string
}

var targets = []target{
	{"amd64", []string{"GOOS=linux", "GOARCH=amd64", "GOAMD64=v1"}, onAmd64("qemu-x86_64")},
	{"amd64-v3", []string{"GOOS=linux", "GOARCH=amd64", "GOAMD64=v3"}, onAmd64("qemu-x86_64", "-cpu", "max")},
	{"386", []string{"GOOS=linux", "GOARCH=386"}, onAmd64("qemu-i386")},
	{"arm64", []string{"GOOS=linux", "GOARCH=arm64"}, []string{"qemu-aarch64"}},
	{"riscv64", []string{"GOOS=linux", "GOARCH=riscv64"}, []string{"qemu-riscv64"}},
	{"s390x", []string{"GOOS=linux", "GOARCH=s390x"}, []string{"qemu-s390x"}},
	{"wasip1", []string{"GOOS=wasip1", "GOARCH=wasm"}, []string{"node", "--no-warnings", "--stack-size=4096", "testdata/wasip1.mjs"}},
}

// onAmd64 is nothing on an amd64, and elsewhere what it is given.
func onAmd64(run ...string) []string {
	if runtime.GOOS == "linux" && runtime.GOARCH == "amd64" {
		return nil
	}
	return run
}

// TestSamePointsOnEveryProcessor compares results with those of this test built for other processors, which qemu-user
// and Node imitate. It takes some minutes, and runs where CI is true or GEOM_PROCESSORS is set.
func TestSamePointsOnEveryProcessor(t *testing.T) {
	ci := os.Getenv("CI") == "true"
	if !ci && os.Getenv("GEOM_PROCESSORS") == "" {
		t.Skip("set GEOM_PROCESSORS to run it")
	}
	want := results(drawings())
	for _, p := range targets {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			if len(p.run) > 0 {
				if _, err := exec.LookPath(p.run[0]); err != nil {
					msg := fmt.Sprintf("%s is not installed (on Debian, apt-get install qemu-user nodejs)", p.run[0])
					if ci {
						t.Fatal(msg)
					}
					t.Skip(msg)
				}
			}
			program := filepath.Join(t.TempDir(), "geom.test")
			build := exec.Command("go", "test", "-c", "-o", program, ".")
			build.Env = append(append(os.Environ(), "CGO_ENABLED=0", "GOFLAGS="), p.env...)
			if out, err := build.CombinedOutput(); err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			command := slices.Concat(p.run, []string{program, "-test.run", "^TestResultsOfThisProcessor$"})
			run := exec.Command(command[0], command[1:]...)
			run.Env = append(os.Environ(), resultsWanted+"=1")
			out, err := run.CombinedOutput()
			if err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			var got []string
			for line := range bytes.Lines(out) {
				if r, ok := strings.CutPrefix(strings.TrimSpace(string(line)), "= "); ok {
					got = append(got, r)
				}
			}
			compareResults(t, got, want)
		})
	}
}

func compareResults(t *testing.T, got, want []string) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d results, not %d", len(got), len(want))
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%s, and here %s", got[i], want[i])
		}
	}
}

// However many processors work on them, and whenever, results are the same.
func TestSamePointsOnAnyNumberOfProcessors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	all := drawings()
	some := []namedDrawing{all[0], all[3], all[4]}
	want := results(some)
	runtime.GOMAXPROCS(8)
	compareResults(t, results(some), want)
}

// In whatever order operands and contours are given, and wherever contours begin, results are the same.
func TestSamePointsInAnyOrder(t *testing.T) {
	rnd := rand.New(rand.NewSource(32))
	for _, d := range drawings() {
		closed := func(in []Operand) ([]Shape, error) {
			out, err := CloseGaps(in, 5000, 2000)
			if err != nil {
				return nil, err
			}
			return Fuse(out, 2000)
		}
		fused := func(in []Operand) ([]Shape, error) { return Fuse(in, 2000) }
		settled := func(in []Operand) ([]Shape, error) {
			out, err := Fuse(in, 2000)
			if err != nil {
				return nil, err
			}
			rnd.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
			return Settle(out, Micrometre)
		}
		for name, f := range map[string]func([]Operand) ([]Shape, error){"fused": fused, "gaps closed": closed, "settled": settled} {
			want, err := f(d.in)
			if err != nil {
				t.Fatal(err)
			}
			for range 3 {
				got, err := f(stirred(rnd, d.in))
				if err != nil {
					t.Fatal(err)
				}
				if !sameShapes(got, want) {
					t.Errorf("%s, %s: the result depends on the order of the input", d.name, name)
					break
				}
			}
		}
	}
}

// stirred is the operands in another order, their contours too and begun elsewhere.
func stirred(rnd *rand.Rand, in []Operand) []Operand {
	out := slices.Clone(in)
	rnd.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	for i := range out {
		path := slices.Clone(out[i].Path)
		rnd.Shuffle(len(path), func(i, j int) { path[i], path[j] = path[j], path[i] })
		for k := range path {
			path[k].Segments = slices.Clone(path[k].Segments)
			rotate(path[k].Segments, rnd.Intn(len(path[k].Segments)))
		}
		out[i].Path = path
	}
	return out
}
