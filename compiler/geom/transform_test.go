package geom

import "testing"

func TestQuarterTurnsAreExact(t *testing.T) {
	p := Point{3, 1}
	for deg, want := range map[float64]Point{90: {-1, 3}, 180: {-3, -1}, 270: {1, -3}, 360: {3, 1}, -90: {1, -3}} {
		if got := Turn(deg).Point(p); got != want {
			t.Errorf("turned by %v: %v, want %v", deg, got, want)
		}
	}
}

func TestMovingDoesNotChangeRounding(t *testing.T) {
	turn := Turn(33)
	far := turn.Then(Move(123_456_789, -987_654_321))
	for i := range int64(50) {
		p := Point{i * 7, i*i - 3}
		a, b := turn.Point(p), far.Point(p)
		if b.X-a.X != 123_456_789 || b.Y-a.Y != -987_654_321 {
			t.Errorf("%v went to %v and %v", p, a, b)
		}
	}
}

func TestNothingUndoesAFlattening(t *testing.T) {
	if _, ok := Scale(0).Inverse(); ok {
		t.Error("something undoes a scale of nothing")
	}
}
