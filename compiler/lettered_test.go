package compiler_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"headcap/compiler"
	"headcap/compiler/drawing"
	"headcap/compiler/geom"
	"headcap/lang/diag"
)

// lettered gives the lettering on a face, in the order in which it was set.
func lettered(l compiler.Laid, face string) []drawing.Shape {
	var out []drawing.Shape
	for _, f := range l.Faces {
		for _, s := range f.Shapes {
			if f.Name == face && s.Kind == drawing.Letters {
				out = append(out, s)
			}
		}
	}
	return out
}

// spine lays out a book of nine inches with something on its spine, 35 mm wide.
func spine(t *testing.T, text string) (compiler.Laid, *diag.List) {
	t.Helper()
	laid, list := compiler.LaidOut(files(fmt.Sprintf(`language 1
volume "Lettered" {
  author "H. Sallow"
  cover 235mm x 150mm
  spine strip 35mm
  spine { %s }
}`, text)), entry)
	return laid[0], list
}

// tells says whether a list has a message of a code, and gives it.
func tells(list *diag.List, code string) (diag.Diagnostic, bool) {
	all := list.All()
	i := slices.IndexFunc(all, func(d diag.Diagnostic) bool { return d.Code == code })
	if i < 0 {
		return diag.Diagnostic{}, false
	}
	return all[i], true
}

// The sayings of the handbooks on lettering, by the ids of the check values.
func TestLetteringKeepsToTheHandbooks(t *testing.T) {
	// "Spaces between words are counted as a letter; thus in THE WORKS, W will be the centre letter", Cockerell 1901/1910,
	// p. 219. In a pillar, where every letter has a place of its own, that is to be seen.
	t.Run("L1", func(t *testing.T) {
		l, list := spine(t, `letter "The Works" { way pillar; cap 4mm }`)
		if list.Errors() {
			t.Fatal(shown(list))
		}
		letters := lettered(l, "spine")
		i := slices.IndexFunc(letters, func(s drawing.Shape) bool { return s.Text == "W" })
		if len(letters) != 8 || i != 3 {
			t.Fatalf("%d letters, the W at %d", len(letters), i)
		}
		middle := l.Faces[0].Height / 2
		if got := letters[i].Place.F - letters[i].Cap/2; got < middle-1000 || got > middle+1000 {
			t.Errorf("the middle of the W stands at %.3f mm, and that of the spine at %.3f", mm(got), mm(middle))
		}
	})
}

// A pillar's letters stand upright in one column, one under another at 1.35 caps, a space taking the place of a letter.
func TestAPillarStandsUpright(t *testing.T) {
	l, list := spine(t, `bands 2 equal; panel 2 { letter "Eels, a Few" { way pillar; cap 3mm to 20mm; capitals } }`)
	if list.Errors() {
		t.Fatal(shown(list))
	}
	letters := lettered(l, "spine")
	var text strings.Builder
	places := []int64{0, 1, 2, 3, 4, 6, 8, 9, 10}
	for i, s := range letters {
		text.WriteString(s.Text)
		b := geom.EmptyBox()
		for _, a := range s.Art {
			b = b.Union(s.Place.Shape(a).Bounds())
		}
		if p := s.Place; p.A != 1 || p.B != 0 || p.C != 0 || p.D != 1 {
			t.Errorf("%s is turned: %v", s.Text, p)
		}
		if off := b.Centre().X - l.Faces[0].Width/2; off < -1000 || off > 1000 {
			t.Errorf("%s stands %d nm beside the middle", s.Text, off)
		}
		down := s.Place.F - letters[0].Place.F
		if want := places[i] * s.Cap * 135 / 100; down < want-2000 || down > want+2000 {
			t.Errorf("%s stands %.3f mm below the first letter, and place %d is at %.3f", s.Text, mm(down), places[i], mm(want))
		}
	}
	if text.String() != "Eels,aFew" {
		t.Errorf("it reads %q", text.String())
	}
}

// The widest letter holds a pillar to the width, and the height all of them; below the least the next way is tried.
func TestAPillarIsHeldByItsWidestLetter(t *testing.T) {
	caps := func(text string) (int64, string) {
		laid, list := compiler.LaidOut(files(fmt.Sprintf(`language 1
volume "Lettered" { cover 235mm x 150mm; margin 0mm; spine strip 6mm; spine { letter "%s" { way pillar; cap 3mm to 20mm } } }`, text)), entry)
		if list.Errors() {
			return 0, shown(list)
		}
		return lettered(laid[0], "spine")[0].Cap, ""
	}
	narrow, _ := caps("ILL")
	wide, _ := caps("WILL")
	if narrow == 0 || wide == 0 || narrow <= wide {
		t.Errorf("caps of %d nm without a W and %d with one", narrow, wide)
	}
	if _, told := caps("The Title Is so Very Long That Nothing of It Could Ever Be Read in a Pillar"); !strings.Contains(told, "letters-too-small") || !strings.Contains(told, "way down") {
		t.Error(told)
	}
	l, list := spine(t, `letter "Illimitable" { way pillar; cap 3mm to 60mm }`)
	if got := lettered(l, "spine"); len(got) != 11 {
		t.Error(shown(list))
	} else if tall, room := got[10].Place.F-got[0].Place.F+got[0].Cap, l.Faces[0].Clear[0].Height()*10/12; tall > room || tall < room-200_000 {
		t.Errorf("it stands %.3f mm tall in %.3f", mm(tall), mm(room))
	}
	l, list = spine(t, `letter "MMMM" { way pillar; way across; cap 3mm to 60mm }`)
	if got := lettered(l, "spine"); list.Errors() || len(got) != 4 {
		t.Errorf("a pillar that fits is not taken first: %d pieces; %s", len(got), shown(list))
	}
	l, list = spine(t, `bands 9 equal; panel 2 { letter "MMMM" { way pillar; way across; cap 3mm to 60mm } }`)
	if got := lettered(l, "spine"); list.Errors() || len(got) != 1 {
		t.Errorf("across is not tried where a pillar fails: %d pieces; %s", len(got), shown(list))
	}
}
