package unit

import (
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

func length(t *testing.T, text string) Length {
	t.Helper()
	q, err := ParseQuantity(text)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	l, ok := q.Length()
	if !ok {
		t.Fatalf("%s is no length", text)
	}
	return l
}

func TestLengthsAreExactAndPrintInTheirUnit(t *testing.T) {
	for _, c := range []struct {
		text  string
		nm    string // as a fraction
		shown string
	}{
		{"12.5mm", "12500000", "12.5mm"},
		{"12.50mm", "12500000", "12.5mm"},
		{".5mm", "500000", "0.5mm"},
		{"10mm", "10000000", "10mm"},
		{"100cm", "1000000000", "100cm"},
		{"1/3mm", "1000000/3", "0.333mm"},
		{"1/4in", "6350000", "1/4in"},
		{"5 3/16in", "131762500", "5 3/16in"},
		{"5  3/16in", "131762500", "5 3/16in"},
		{"5-3/16in", "131762500", "5 3/16in"},
		{"5\u00a03/16in", "131762500", "5 3/16in"},
		{"5 3⁄16in", "131762500", "5 3/16in"},
		{"-5 3/16in", "-131762500", "-5 3/16in"},
		{"½in", "12700000", "1/2in"},
		{"8½in", "215900000", "8 1/2in"},
		{"8 ½in", "215900000", "8 1/2in"},
		{"8-½in", "215900000", "8 1/2in"},
		{"1.0625in", "26987500", "1 1/16in"},
		{"63/64in", "25003125", "63/64in"},
		{"1/3in", "25400000/3", "0.333in"},
		{"1/128in", "198437.5", "0.008in"},
		{"7in", "177800000", "7in"},
		{"0in", "0", "0in"},
		{"-1/4in", "-6350000", "-1/4in"},
		{"72pt", "25400000", "72pt"},
		{"1pt", "3175000/9", "1pt"},
		{"86um", "86000", "86um"},
		{"4mil", "101600", "4mil"},
		{"-0.0001mm", "-100", "0mm"},
	} {
		l := length(t, c.text)
		want, _ := new(big.Rat).SetString(c.nm)
		if l.Rat().Cmp(want) != 0 {
			t.Errorf("%s is %s nm, want %s", c.text, l.Rat().RatString(), c.nm)
		}
		if l.String() != c.shown {
			t.Errorf("%s prints as %s, want %s", c.text, l, c.shown)
		}
	}
}

func TestQuantitiesThatAreNoLengths(t *testing.T) {
	for _, c := range []struct {
		text, value string
		unit        Unit
		shown       string
	}{
		{"-1%", "-1", Percent, "-1%"},
		{"+8%", "8", Percent, "8%"},
		{"45deg", "45", Degree, "45deg"},
		{"-22.5deg", "-22.5", Degree, "-22.5deg"},
		{"0.45", "0.45", None, "0.45"},
		{"3/4", "3/4", None, "0.75"},
		{"1/3", "1/3", None, "1/3"},
		{"5", "5", None, "5"},
		{"½", "1/2", None, "0.5"},
		{"90gsm", "90", GSM, "90gsm"},
		{"400ppi", "400", PPI, "400ppi"},
	} {
		q, err := ParseQuantity(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		want, _ := new(big.Rat).SetString(c.value)
		if q.Value.Cmp(want) != 0 || q.Unit != c.unit || q.String() != c.shown {
			t.Errorf("%s: got %s %q, prints as %s", c.text, q.Value.RatString(), q.Unit, q)
		}
		if _, ok := q.Length(); ok {
			t.Errorf("%s should be no length", c.text)
		}
	}
}

func TestUnknownUnitsAreSuggested(t *testing.T) {
	for _, c := range []struct{ text, unit, suggest string }{
		{"12mn", "mn", "mm"},
		{"12m", "m", "mm"},
		{"12mmm", "mmm", "mm"},
		{"12MM", "MM", "mm"},
		{"3ni", "ni", "in"},
		{"5inch", "inch", "in"},
		{"5ins", "ins", "in"},
		{"45°", "°", "deg"},
		{"45degs", "degs", "deg"},
		{"86µm", "µm", "um"},
		{`5"`, `"`, "in"},
		{"5 3/16”", "”", "in"},
		{"4thou", "thou", "mil"},
		{"12Points", "Points", "pt"},
		{"2oz", "oz", ""},
		{"3ft", "ft", ""},
		{"1q", "q", ""},
		{"7km", "km", ""},
	} {
		_, err := ParseQuantity(c.text)
		var unknown UnknownUnitError
		if !errors.As(err, &unknown) || unknown.Text != c.unit || unknown.Suggest != c.suggest {
			t.Errorf("%s: got %#v, want unit %q and suggestion %q", c.text, err, c.unit, c.suggest)
		}
	}
}

func TestBadNumbers(t *testing.T) {
	for _, text := range []string{
		"", "mm", "-", "+mm", "--1mm", "1/0in", "5 3/0in", "1.2.3mm", "12,5mm", "5 3/16", "8 ½", "1e3mm2", "5 mm", "1mm ", " 1mm",
		"1234567890123456789012345mm", "0x10mm", "1/2/3in", "½½in", "1.5 1/2in", "1_0mm", "٣mm", "\xff", "1\xffmm",
	} {
		_, err := ParseQuantity(text)
		var bad BadNumberError
		if !errors.As(err, &bad) {
			t.Errorf("%q: got %v, want a BadNumberError", text, err)
		}
	}
}

func TestScanPartsNumberUnitAndSize(t *testing.T) {
	for _, c := range []struct {
		text         string
		number, unit int
	}{
		{"228mm x 150mm", 3, 2},
		{"228mmx150mm", 3, 2},
		{"228mmx 150mm", 3, 2},
		{"228x150", 3, 0},
		{"12x", 2, 1},
		{"9 1/4inx6 1/4in", 5, 2},
		{"5 3/16in", 6, 2},
		{"5 3/16", 1, 0},
		{"5-3/16in", 6, 2},
		{"5-3in", 1, 0},
		{"8½in", 3, 2},
		{"8 ½", 1, 0},
		{"70%", 2, 1},
		{"45°", 2, 2},
		{`5 3/16"x6"`, 6, 1},
		{"½″", 2, 3},
		{"12,5mm", 2, 0},
		{"2026-05-03", 4, 0},
		{"5mm-3mm", 1, 2},
		{"12max3", 2, 3},
		{"leaf", 0, 0},
		{"", 0, 0},
		{".", 0, 0},
		{"-5", 0, 0},
	} {
		if n, u := Scan(c.text); n != c.number || u != c.unit {
			t.Errorf("%q: got %d, %d; want %d, %d", c.text, n, u, c.number, c.unit)
		}
	}
}

func TestTheZeroLengthIsNoMillimetres(t *testing.T) {
	var z Length
	if z.String() != "0mm" || z.Sign() != 0 || z.Cmp(MM(0)) != 0 || z.Nanometres() != 0 || z.Shown() != Millimetre {
		t.Errorf("zero length: %s %d %v", z, z.Sign(), z.Shown())
	}
	if got := z.Add(length(t, "1/4in")).Sub(MM(6)); got.String() != "0.35mm" {
		t.Errorf("0 + 1/4in - 6mm = %s", got)
	}
}

func TestLengthsAreNotChangedByWhatIsMadeOfThem(t *testing.T) {
	a := MM(3)
	r := a.Rat()
	r.SetInt64(9)
	a.Add(MM(1))
	a.Neg()
	a.DivInt(7)
	a.MulRat(big.NewRat(5, 3))
	src := big.NewRat(5, 1)
	b := FromRat(src, Percent)
	src.SetInt64(6)
	if a.Cmp(MM(3)) != 0 || b.Nanometres() != 5 || b.Shown() != Millimetre {
		t.Errorf("a = %s, b = %d nm shown in %v", a, b.Nanometres(), b.Shown())
	}
}

func TestRoundingIsHalfAwayFromZero(t *testing.T) {
	for _, c := range []struct{ num, den, want int64 }{
		{1, 2, 1}, {-1, 2, -1}, {3, 2, 2}, {-3, 2, -2}, {49, 100, 0}, {-49, 100, 0}, {5, 1, 5}, {1, 3, 0}, {2, 3, 1},
	} {
		if got := FromRat(big.NewRat(c.num, c.den), Millimetre).Nanometres(); got != c.want {
			t.Errorf("%d/%d nm rounds to %d, want %d", c.num, c.den, got, c.want)
		}
	}
	if got := Nanometres(-1500).Micrometres(); got != -2 {
		t.Errorf("-1500 nm is %d um", got)
	}
	huge := MM(math.MaxInt64)
	if huge.Nanometres() != math.MaxInt64 || huge.Neg().Nanometres() != math.MinInt64 {
		t.Error("a length beyond all measure is not held at the end")
	}
}

// Seven sevenths make a whole, and what is shown in another unit is the same length.
func TestArithmeticIsExact(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		l := FromRat(big.NewRat(random.Int64N(1e12)-5e11, random.Int64N(1e6)+1), Inch)
		n := random.Int64N(40) + 1
		part, sum := l.DivInt(n), Length{}
		for range n {
			sum = sum.Add(part)
		}
		if sum.Cmp(l) != 0 || part.MulRat(big.NewRat(n, 1)).Cmp(l) != 0 || l.Sub(l).Sign() != 0 || l.Neg().Neg().As(Point).Cmp(l) != 0 {
			t.Fatalf("%s in %d parts of %s is %s", l.Rat(), n, part.Rat(), sum.Rat())
		}
	}
}

// What prints as a fraction, or has no more than three decimals, reads back as the same length.
func TestPrintedLengthsReadBack(t *testing.T) {
	for sixtyFourths := int64(-200); sixtyFourths <= 200; sixtyFourths++ {
		l := FromRat(new(big.Rat).Mul(big.NewRat(sixtyFourths, 64), big.NewRat(nmPerInch, 1)), Inch)
		if back := length(t, l.String()); back.Cmp(l) != 0 {
			t.Errorf("%d/64 in prints as %s, which reads as %s nm", sixtyFourths, l, back.Rat().RatString())
		}
	}
	for thousandths := int64(-2500); thousandths <= 2500; thousandths += 7 {
		for _, u := range []Unit{Millimetre, Centimetre, Point, Micrometre, Mil} {
			l, _ := Quantity{Value: big.NewRat(thousandths, 1000), Unit: u}.Length()
			if back := length(t, l.String()); back.Cmp(l) != 0 {
				t.Errorf("%d/1000 %s prints as %s", thousandths, u, l)
			}
		}
	}
}

func TestMillimetresAsFloat(t *testing.T) {
	if got := length(t, "5 3/16in").Millimetres(); got != 131.7625 {
		t.Errorf("5 3/16in is %v mm", got)
	}
}

func FuzzParseQuantity(f *testing.F) {
	for _, s := range []string{"12.5mm", "5 3/16in", "8½in", "-1%", "3/4", "1/0in", "228mmx150mm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, u := Scan(text)
		if n < 0 || u < 0 || n+u > len(text) {
			t.Fatalf("Scan(%q) = %d, %d", text, n, u)
		}
		q, err := ParseQuantity(text)
		if (err == nil) != (q.Value != nil) {
			t.Fatalf("ParseQuantity(%q) = %v, %v", text, q, err)
		}
		if err == nil {
			_ = q.String()
		}
	})
}

// A figure printed finely is within a twentieth of a micrometre of what it is, in every
func TestFineFiguresCanBeReckonedWith(t *testing.T) {
	third := MM(100).DivInt(3)
	for _, u := range []Unit{Millimetre, Centimetre, Inch, Point, Micrometre, Mil} {
		text := third.As(u).Fine()
		q, err := ParseQuantity(text)
		l, ok := q.Length()
		if err != nil || !ok {
			t.Fatalf("%s: %v", text, err)
		}
		if d := l.Sub(third).Nanometres(); d > 50 || d < -50 {
			t.Errorf("%s is %d nm out", text, d)
		}
	}
	if got := Nanometres(6_350_000).As(Inch).Fine(); got != "1/4in" {
		t.Errorf("a quarter of an inch prints as %s", got)
	}
}
