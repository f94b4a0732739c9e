package geom

import "testing"

// The drawings below are in millimetres.
var limbDrawings = []struct {
	name, path string
	limb       float64 // the width of the thinnest limb under 2 mm; 0 where there is none
	gap        float64
}{
	{"a square", "M0 0H10V10H0Z", 0, 0},
	{"a disc", "M0 5A5 5 0 0 1 10 5A5 5 0 0 1 0 5Z", 0, 0},
	{"a star", "M10 0L12 7L19 7L13.5 11L16 18L10 14L4 18L6.5 11L1 7L8 7Z", 0, 0},
	{"a sharp tip", "M0 0H30L0 3Z", 0, 0},
	{"a dumbbell", "M0 0H10V4.5H20V0H30V10H20V5.5H10V10H0Z", 1, 0},
	{"a thin piece", "M0 0H10V1.5H0Z", 1.5, 0},
	{"a big piece and a thin one", "M0 0H10V10H0ZM20 0H30V0.7H20Z", 0.7, 0},
	{"a frame of one width", "M0 0H30V20H0ZM0.8 0.8V19.2H29.2V0.8Z", 0.8, 0},
	{"a frame with one thin side", "M0 0H30V20H0ZM3 3V17H29.4V3Z", 0.6, 0},
	{"a tail that runs out", "M0 0H10V4H20V4.2H10V10H0Z", 0, 0},
	{"a bead on a thread", "M0 0H10V4.9H14V4.2H15.6V5.8H14V5.1H10V10H0Z", 0.2, 0},
	{"an hourglass", "M0 0H10A8 8 0 0 0 10 9H0A6 6 0 0 0 0 0Z", 0, 0},
	{"a waist", "M0 0C4 5.6 6 5.6 10 0V10C6 4.4 4 4.4 0 10Z", 1.6, 0},
	{"a thin loop about an eyelet at the end of a tail", "M0 0H10V4H14V3H18V7H14V6H10V10H0ZM14.5 3.5V6.5H17.5V3.5Z", 0.5, 0},
	{"two squares side by side", "M0 0H10V10H0ZM10.4 0H20V10H10.4Z", 0, 0.4},
	{"two squares corner to corner", "M0 0H10V10H0ZM10.3 10.4H20V20H10.3Z", 0, 0.5},
	{"a slit within", "M0 0H20V20H0ZM5 9V10.1H15V9Z", 0, 1.1},
	{"a pinhole", "M0 0H20V20H0ZM9.5 10A.5 .5 0 0 0 10.5 10A.5 .5 0 0 0 9.5 10Z", 0, 1},
	{"a notch that runs out", "M0 0H20V20H10.2L10 5L9.8 20H0Z", 0, 0},
	{"a slot with a wider end", "M0 0H20V20H10.25V15H13V9H7V15H9.75V20H0Z", 0, 0.5},
}

func TestThinnestLimbAndNarrowestGap(t *testing.T) {
	for _, c := range limbDrawings {
		s := shapesOf(t, c.path)
		for _, m := range []struct {
			what string
			find func([]Shape, int64, int64) (int64, Point, bool, error)
			all  func([]Shape, int64) ([]Point, error)
			want float64
			in   bool // whether the place must be in the shapes
		}{
			{"limb", ThinnestLimb, LimbsUnder, c.limb, true},
			{"gap", NarrowestGap, GapsUnder, c.gap, false},
		} {
			width, at, found, err := m.find(s, 2*Millimetre, Micrometre)
			if err != nil {
				t.Fatal(err)
			}
			if found != (m.want > 0) {
				t.Errorf("%s: %s of %d at %v, want %v mm", c.name, m.what, width, at, m.want)
				continue
			}
			if !found {
				continue
			}
			if off := float64(width) - m.want*1e6; off < -2000 || off > 3000 {
				t.Errorf("%s: %s of %d nm, want %v mm", c.name, m.what, width, m.want)
			}
			inside := false
			for _, shape := range s {
				inside = inside || Contains(shape, at, 100)
			}
			if inside != m.in {
				t.Errorf("%s: the %s is said to be at %v", c.name, m.what, at)
			}
			for w, want := range map[float64]bool{m.want + 0.01: true, m.want - 0.01: false} {
				points, err := m.all(s, int64(w*1e6))
				if err != nil {
					t.Fatal(err)
				}
				if (len(points) > 0) != want {
					t.Errorf("%s: %d %ss under %v mm", c.name, len(points), m.what, w)
				}
			}
		}
	}
}

func TestLimbsAreFoundOneByOne(t *testing.T) {
	comb := "M0 0H22V3H0Z" // with teeth 0.5 mm wide, each with a foot
	for _, x := range []string{"1", "6", "11", "16"} {
		comb += "M" + x + " 2h.5v6h2v3h-4v-3h1.5Z"
	}
	points, err := LimbsUnder(shapesOf(t, comb), 600_000)
	if err != nil {
		t.Fatal(err)
	}
	if len(points) != 4 {
		t.Errorf("four teeth: %v", points)
	}
	for _, p := range points {
		if p.Y < 3e6 || p.Y > 8e6 {
			t.Errorf("a tooth at %v", p)
		}
	}
}

func TestLimbsOfNothing(t *testing.T) {
	if _, _, found, err := ThinnestLimb(nil, Millimetre, 10); found || err != nil {
		t.Error("nothing has a limb")
	}
	if _, _, found, err := NarrowestGap(nil, Millimetre, 10); found || err != nil {
		t.Error("nothing has a gap")
	}
	if _, _, _, err := ThinnestLimb(nil, Millimetre, 0); err == nil {
		t.Error("no tolerance")
	}
}
