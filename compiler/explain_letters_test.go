package compiler_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"headcap/compiler"
)

// sizeOf explains the size of the one title of a source, and gives its parts by name.
func sizeOf(t *testing.T, text string) (compiler.Quantity, map[string]compiler.Quantity) {
	t.Helper()
	e, list := compiler.Explain(context.Background(), files("language 1\n"+text), entry, "", "letters")
	if len(e.Volumes) != 1 || len(e.Volumes[0].Quantities) != 1 {
		t.Fatalf("%+v\n%s", e, shown(list))
	}
	q := e.Volumes[0].Quantities[0]
	parts := map[string]compiler.Quantity{}
	for _, p := range q.Parts {
		parts[p.Name] = p
	}
	return q, parts
}

// on is a title across a spine with so much room for it, in one line.
func on(room, title, cap string) string {
	return fmt.Sprintf(`volume "%s" {
  cover 235mm x 150mm
  margin 0mm
  spine strip (%s + 2 * 1.8mm)
  spine { letter title { way across; lines 1; cap %s } }
}`, title, room, cap)
}

// The gauge of a handbook beside the size that is reckoned, by the ids of the check values.
func TestSizesAreExplainedAsTheHandbooksReckon(t *testing.T) {
	// CORIOLANUS across five eighths of an inch: "it will be illegible from the smallness of the type", Cockerell 1901/1910, p.
	// 219, fig. 95. Broken, or run lengthwise: there is but one word.
	t.Run("L2", func(t *testing.T) {
		text := on("5/8in", "Coriolanus", "3mm to 5mm")
		q, parts := sizeOf(t, text)
		if l := parts["to a letter"]; l.Nanometres != 1_587_500 || l.How != "room wide / 10" {
			t.Errorf("%+v", l)
		}
		if !strings.Contains(q.Note, "«Coriolanus», which fills the room wide decides, and the least is 3mm") {
			t.Error(q.Note)
		}
		_, list := compiler.LaidOut(files("language 1\n"+text), entry)
		if d, ok := tells(list, "letters-too-small"); !ok || !strings.Contains(strings.Join(d.Try, "\n"), "way down") {
			t.Error(shown(list))
		}
	})

	// A row of E's laid against the panel tells how many letters go in, Cockerell 1901/1910, p. 217: five of 4.8 mm in 25. The
	// cap is the one at which an E with its space takes that.
	t.Run("L3", func(t *testing.T) {
		_, parts := sizeOf(t, on("25mm", "Stevenson", "3mm to 4.65mm"))
		e := parts["an E and its space"]
		if got := float64(e.Nanometres) / 1e6; got < 4.7995 || got > 4.8005 || !strings.Contains(e.Note, "5 fit") {
			t.Errorf("%.4f mm: %s", got, e.Note)
		}
	})

	// The longest word decides, Cockerell 1901/1910, pp. 217-218: of STEVENSON nine letters want to go where five do.
	t.Run("L4", func(t *testing.T) {
		_, parts := sizeOf(t, on("25mm", "Stevenson", "3mm to 4.65mm"))
		if e := parts["an E and its space"]; !strings.HasSuffix(e.Note, "«Stevenson», has 9 letters: 5/9 = 0.5556 of the size") {
			t.Error(e.Note)
		}
		// The letters themselves come to much the same.
		if by := float64(parts["by the room wide"].Nanometres) / 4_650_000; by < 0.5 || by > 0.65 {
			t.Errorf("the size is %.4f of the most", by)
		}
	})
}

// What decides a size is said: the width by its line, the height, the most, the set.
func TestASizeSaysWhatDecidesIt(t *testing.T) {
	book := `volume "The Long Causeway" { cover 235mm x 150mm; spine strip 40mm; spine { bands 5 equal; panel 2 { letter title { way across; %s } } } }`
	for text, decides := range map[string]string{
		"lines 2; cap 2mm to 12mm":                      "«Causeway», which fills the room wide decides",
		"lines 3; cap 2mm to 12mm; leading 4":           "; the room tall decides",
		"lines 2; cap 2mm to 3mm":                       "; the most that is said decides",
		"way pillar; cap 0.5mm to 12mm; thickened none": "«Causeway», which fills the room wide decides", // across comes first
	} {
		q, parts := sizeOf(t, fmt.Sprintf(book, text))
		if !strings.Contains(q.Note, decides) {
			t.Errorf("%s: %s", text, q.Note)
		}
		least := min(parts["the most"].Nanometres, parts["by the room wide"].Nanometres, parts["by the room tall"].Nanometres)
		if q.Nanometres > least || q.Nanometres <= least-10_000 {
			t.Errorf("%s: %s of %+v", text, q.Shown, parts)
		}
	}
	e, _ := compiler.Explain(context.Background(), files(`language 1
pattern fen for spine { letter title { size same; cap 2mm to 6mm; lines 1; way across } }
series "Fen" {
  spine like fen
  volume 1 "Turf" { block 228mm x 150mm x 28mm }
  volume 2 "Causeways" { block 228mm x 150mm x 28mm }
}`), entry, "1", "letters")
	q := e.Volumes[0].Quantities[0]
	if !strings.HasSuffix(q.Note, "; the set decides") {
		t.Error(q.Note)
	}
	found := false
	for _, p := range q.Parts {
		found = found || p.Name == "of the set" && p.Nanometres == q.Nanometres && p.Note == "set by volume 2"
	}
	if !found {
		t.Errorf("%+v", q.Parts)
	}
}
