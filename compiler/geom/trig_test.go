package geom

import (
	"math"
	"math/big"
	"testing"
)

// bigSine is the sine (or with odd false the cosine) of an angle in degrees to 200 bits, by its power series.
func bigSine(deg float64, odd bool) *big.Float {
	num := func(x float64) *big.Float { return new(big.Float).SetPrec(200).SetFloat64(x) }
	pi, _, err := big.ParseFloat("3.14159265358979323846264338327950288419716939937510582097494459230781640628620899", 10, 200, big.ToNearestEven)
	if err != nil {
		panic(err)
	}
	x := num(deg)
	x.Mul(x, pi).Quo(x, num(180))
	term, n := num(1), 0
	if odd {
		term, n = new(big.Float).SetPrec(200).Set(x), 1
	}
	sum := new(big.Float).SetPrec(200).Set(term)
	for range 120 {
		term.Mul(term, x).Mul(term, x).Quo(term, num(-float64((n+1)*(n+2))))
		n += 2
		sum.Add(sum, term)
	}
	return sum
}

func TestSinCosIsExactAtMultiplesOf15(t *testing.T) {
	for deg := -720; deg <= 720; deg += 15 {
		s, c := SinCos(float64(deg))
		wantS, _ := bigSine(float64(deg%360), true).Float64()
		wantC, _ := bigSine(float64(deg%360), false).Float64()
		if math.Abs(wantS) < 1e-30 {
			wantS = 0
		}
		if math.Abs(wantC) < 1e-30 {
			wantC = 0
		}
		// The series in 200 bits ends a hair off 1/2 and 1, and rounds to them.
		if s != wantS || c != wantC {
			t.Errorf("SinCos(%d) = %v, %v; want %v, %v", deg, s, c, wantS, wantC)
		}
	}
}

func TestSinCosIsWithinAUnitInTheLastPlace(t *testing.T) {
	worst := 0.0
	for i := range 2000 {
		deg := -370 + float64(i)*0.3717
		s, c := SinCos(deg)
		wantS, _ := bigSine(deg, true).Float64()
		wantC, _ := bigSine(deg, false).Float64()
		worst = max(worst, math.Abs(s-wantS), math.Abs(c-wantC))
	}
	if worst > 1.2e-16 {
		t.Errorf("SinCos is off by %g", worst)
	}
	for _, deg := range []float64{1e-9, 1e-3, 0.5, 5} {
		want, _ := bigSine(deg, true).Float64()
		if s, _ := SinCos(deg); math.Abs(s-want) > 2.3e-16*want {
			t.Errorf("SinCos(%v) = %v, want %v", deg, s, want)
		}
	}
}

func TestSinCosOfManyTurnsAndOfNothing(t *testing.T) {
	s, c := SinCos(360*123_456_789_012 + 30)
	if s != 0.5 || c != 0.86602540378443864676 {
		t.Errorf("a great many turns and 30°: %v, %v", s, c)
	}
	if s, c := SinCos(math.Inf(1)); !math.IsNaN(s) || !math.IsNaN(c) {
		t.Errorf("infinity has the sine %v and cosine %v", s, c)
	}
}

func TestSinCosMirrors(t *testing.T) {
	for i := range 400 {
		d := float64(i) * 0.25
		s, c := SinCos(d)
		if s2, c2 := SinCos(-d); s2 != -s || c2 != c {
			t.Errorf("mirrored in the x axis at %v", d)
		}
		if s2, c2 := SinCos(180 - d); s2 != s || c2 != -c {
			t.Errorf("mirrored in the y axis at %v", d)
		}
		if s2, c2 := SinCos(90 - d); s2 != c || c2 != s {
			t.Errorf("mirrored in the diagonal at %v", d)
		}
	}
}

func TestAtan2DegAndArcCosDeg(t *testing.T) {
	for i := -1799; i <= 1800; i++ {
		deg := float64(i) / 10
		s, c := SinCos(deg)
		if a := Atan2Deg(s, c); math.Abs(a-deg) > 1e-13 {
			t.Errorf("Atan2Deg at %v° gives %v", deg, a)
		}
		if a := ArcCosDeg(c); math.Abs(a-math.Abs(deg)) > 2e-13/max(0.01, math.Abs(s)) {
			t.Errorf("ArcCosDeg at %v° gives %v", deg, a)
		}
	}
	for _, c := range []struct{ y, x, want float64 }{
		{0, 0, 0}, {0, 1, 0}, {1, 1, 45}, {1, 0, 90}, {1, -1, 135}, {0, -1, 180}, {-1, -1, -135}, {-3, 0, -90}, {-2, 2, -45},
	} {
		if a := Atan2Deg(c.y, c.x); a != c.want {
			t.Errorf("Atan2Deg(%v, %v) = %v, want %v", c.y, c.x, a, c.want)
		}
	}
	if ArcCosDeg(1.0000001) != 0 || ArcCosDeg(-2) != 180 || ArcCosDeg(0) != 90 {
		t.Error("ArcCosDeg at and beyond its ends")
	}
}

func TestHypot(t *testing.T) {
	for _, c := range []struct{ x, y, want float64 }{{3, -4, 5}, {0, 0, 0}, {-7, 0, 7}, {3e200, 4e200, 5e200}, {3e-200, 4e-200, 5e-200}} {
		if h := Hypot(c.x, c.y); math.Abs(h-c.want) > 3e-16*c.want {
			t.Errorf("Hypot(%v, %v) = %v, want %v", c.x, c.y, h, c.want)
		}
	}
}
