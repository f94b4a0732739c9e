package source

import "testing"

func TestPositionsCountCharactersFromOne(t *testing.T) {
	f := NewFile("a", "one\r\nzwö drei\n\nfünf")
	for _, c := range []struct{ offset, line, column int }{
		{-1, 1, 1}, {0, 1, 1}, {3, 1, 4}, {4, 1, 5}, {5, 2, 1}, {7, 2, 3}, {9, 2, 4}, {14, 2, 9}, {15, 3, 1}, {16, 4, 1}, {21, 4, 5}, {99, 4, 5},
	} {
		if line, column := f.Position(c.offset); line != c.line || column != c.column {
			t.Errorf("%d is at %d:%d, want %d:%d", c.offset, line, column, c.line, c.column)
		}
	}
}

func TestLinesStandWithoutTheirEnds(t *testing.T) {
	f := NewFile("a", "one\r\ntwo\n\nfour")
	for i, want := range []string{"", "one", "two", "", "four", ""} {
		if got := f.Line(i); got != want {
			t.Errorf("line %d is %q, want %q", i, got, want)
		}
	}
	for i, want := range []int{0, 0, 5, 9, 10, 14} {
		if got := f.LineStart(i); got != want {
			t.Errorf("line %d begins at %d, want %d", i, got, want)
		}
	}
	if f.Lines() != 4 || NewFile("a", "").Lines() != 1 {
		t.Error("lines are counted wrongly")
	}
}

func TestSpansJoin(t *testing.T) {
	f, g := NewFile("a", "one two three"), NewFile("b", "four")
	two, three := Span{f, 4, 7}, Span{f, 8, 13}
	for _, c := range []struct {
		a, b Span
		want string
	}{
		{two, three, "two three"},
		{three, two, "two three"},
		{two, two, "two"},
		{Span{}, two, "two"},
		{two, Span{}, "two"},
		{two, Span{g, 0, 4}, "two"},
		{Span{}, Span{}, ""},
	} {
		if got := c.a.Join(c.b).Text(); got != c.want {
			t.Errorf("joined they cover %q, want %q", got, c.want)
		}
	}
	if (Span{}).Known() || !two.Known() {
		t.Error("only a span of a file is known")
	}
}

func TestOriginsAreThePairOfNodeAndParent(t *testing.T) {
	o := NewOrigins()
	f := NewFile("a", "one two")
	spine, frame := Node{"a", "volume 1/spine"}, Node{"a", "pattern fenland/frame"}
	first := o.Add(spine, Span{f, 0, 3}, 0)
	through := o.Add(frame, Span{f, 4, 7}, first)
	alone := o.Add(frame, Span{f, 0, 0}, 0)
	if first == 0 || through == alone || o.Add(frame, Span{}, first) != through {
		t.Errorf("origins %d, %d, %d", first, through, alone)
	}
	if o.Node(through) != frame || o.Parent(through) != first || o.Parent(first) != 0 || o.Span(through).Text() != "two" {
		t.Error("an origin has lost its node, its parent or its place")
	}
	if o.Node(0) != (Node{}) || o.Span(0).Known() {
		t.Error("the zero origin is somewhere")
	}
}
