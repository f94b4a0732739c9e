package stdlib_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"headcap/compiler/geom"
	"headcap/compiler/model"
	"headcap/compiler/ornament"
	"headcap/compiler/resolve"
	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/parse"
	"headcap/lang/source"
	"headcap/stdlib"
)

// bundled lends the bundled set to the resolver.
type bundled struct{ list *diag.List }

func (b bundled) Find(kind, name string) *ast.Statement {
	p, ok := stdlib.Find(kind, name)
	if !ok {
		return nil
	}
	return parse.File(source.NewFile(p.File, p.Text), b.list).Statements[0]
}

func (bundled) Names(kind string) []string { return stdlib.Names(kind) }

// sampler gives a roll of all the stamps of the bundled set, and all its rolls.
func sampler(t *testing.T) (*model.Roll, []*model.Roll) {
	t.Helper()
	var text strings.Builder
	fmt.Fprintf(&text, "language 1\nroll every { pitch 20mm; repeat %s }\n", strings.Join(stdlib.Names("stamp"), ", "))
	text.WriteString("volume \"Sampler\" {\n block 210mm x 138mm x 34mm\n front {\n")
	for i, name := range append([]string{"every"}, stdlib.Names("roll")...) {
		fmt.Fprintf(&text, "  frame f%d { roll %s }\n", i, name)
	}
	text.WriteString(" }\n}\n")
	list := &diag.List{}
	set := resolve.Files("sampler", func(path string) (*ast.File, error) {
		if path != "sampler" {
			return nil, errors.New("no such file")
		}
		return parse.File(source.NewFile(path, text.String()), list), nil
	}, bundled{list}, list)
	design := set.Design(0, model.Facts{})
	for _, d := range list.All() {
		t.Errorf("%s: %s [%s]", d.At.File.Path, d.Message, d.Code)
	}
	var rolls []*model.Roll
	for _, f := range design.Front.Frames {
		for _, c := range f.Stack {
			if c.Roll != nil {
				rolls = append(rolls, c.Roll)
			}
		}
	}
	if len(rolls) != 1+len(stdlib.Names("roll")) {
		t.Fatalf("%d rolls are understood of %d", len(rolls)-1, len(stdlib.Names("roll")))
	}
	return rolls[0], rolls[1:]
}

func draw(t *testing.T, s *model.Stamp) ornament.Art {
	t.Helper()
	art, err := ornament.Draw(s)
	if err != nil {
		t.Fatalf("%s: %v", s.Name, err)
	}
	return art
}

// What a stamp says of its limbs and gaps is so: the narrowest film that it names can cut it, and weed every piece. Lines
// that are fitted to half a hundredth of a millimetre may fall short by twice that.
func TestStampsKeepTheLimitsTheyName(t *testing.T) {
	const (
		short = 10 * geom.Micrometre
		piece = 2 * geom.Millimetre
	)
	every, _ := sampler(t)
	for _, s := range every.Group {
		t.Run(s.Name, func(t *testing.T) {
			t.Parallel()
			if s.About == "" {
				t.Error("no sentence about it")
			}
			if s.Stroke == nil || s.Gap == nil {
				t.Fatal("names no film")
			}
			art := draw(t, s)
			limbs, err := geom.LimbsUnder(art.Shapes, s.Stroke.Nanometres()-short)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range limbs {
				t.Errorf("a limb under %s at %s", s.Stroke, place(p))
			}
			gaps, err := geom.GapsUnder(art.Shapes, s.Gap.Nanometres()-short)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range gaps {
				t.Errorf("a gap under %s at %s", s.Gap, place(p))
			}
			for _, sh := range art.Shapes {
				if b := geom.BoundsOf([]geom.Shape{sh}); max(b.Width(), b.Height()) < piece && !joins(s) {
					t.Errorf("a piece of %.2f mm at %s", float64(max(b.Width(), b.Height()))/1e6, place(b.Centre()))
				}
			}
		})
	}
}

// joins says whether a stamp is the corner of a roll: its elbow is a small piece until the runs join it.
func joins(s *model.Stamp) bool { return strings.HasSuffix(s.Name, "-corner") }

func place(p geom.Point) string {
	return fmt.Sprintf("%.2f, %.2f mm", float64(p.X)/float64(geom.Millimetre), float64(p.Y)/float64(geom.Millimetre))
}

// A joined roll's units reach over each other when the space gives most; the others' lie a gap apart when it gives least,
// or say by touch how far they lie in one another.
func TestRollsJoinOrKeepApart(t *testing.T) {
	_, rolls := sampler(t)
	for _, r := range rolls {
		unit := draw(t, r.Group[0])
		if math.Abs(float64(unit.Box.Min.X+unit.Box.Max.X)) > 0.02e6 && r.Joined {
			t.Errorf("%s: the unit does not stand about the middle of its pitch: %.3f to %.3f mm", r.Name, float64(unit.Box.Min.X)/1e6, float64(unit.Box.Max.X)/1e6)
		}
		pitch := float64(r.Pitch.Nanometres())
		least, _ := r.Least.Float64()
		most, _ := r.Most.Float64()
		if r.Joined {
			if lap := 2*float64(r.Overhang.Nanometres()) - pitch*most; lap < 0.1e6 {
				t.Errorf("%s: at its widest the units overlap by %.2f mm", r.Name, lap/1e6)
			}
			continue
		}
		if space := pitch*(1+least) - float64(unit.Box.Width()); space < float64(r.Touch.Nanometres()) {
			t.Errorf("%s: at its narrowest the space is %.2f mm, which touch does not allow", r.Name, space/1e6)
		}
	}
}
