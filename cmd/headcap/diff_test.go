package main

import (
	"strings"
	"testing"
)

func TestUnifiedShowsChangesWithThreeLinesRound(t *testing.T) {
	lines := func(s string) string { return strings.ReplaceAll(s, " ", "\n") }
	for _, c := range []struct{ name, was, now, want string }{
		{"nothing", "a\n", "a\n", ""},
		{"one line", lines("a b c d e f g h i "), lines("a b c d E f g h i "), "@@ -2,7 +2,7 @@\n b\n c\n d\n-e\n+E\n f\n g\n h\n"},
		{"two far apart", lines("a b c d e f g h i j k l "), lines("A b c d e f g h i j k L "), "@@ -1,4 +1,4 @@\n-a\n+A\n b\n c\n d\n@@ -9,4 +9,4 @@\n i\n j\n k\n-l\n+L\n"},
		{"two that meet", lines("a b c d e f g h "), lines("A b c d e f g H "), "@@ -1,8 +1,8 @@\n-a\n+A\n b\n c\n d\n e\n f\n g\n-h\n+H\n"},
		{"put in", "", "a\n", "@@ -0,0 +1,1 @@\n+a\n"},
		{"taken out", lines("a b "), "b\n", "@@ -1,2 +1,1 @@\n-a\n b\n"},
		{"end of line missing", "a\nb", "a\nb\n", "@@ -1,2 +1,2 @@\n a\n-b\n\\ No newline at end of file\n+b\n"},
	} {
		want := c.want
		if want != "" {
			want = "--- f\n+++ f, formatted\n" + want
		}
		if got := unified("f", c.was, c.now); got != want {
			t.Errorf("%s:\n%s\nwanted\n%s", c.name, got, want)
		}
	}
}

func TestUnifiedOfLargeChangeIsBounded(t *testing.T) {
	was, now := strings.Repeat("a\n", 5000), strings.Repeat("b\n", 5000)
	if got := unified("f", was, now); strings.Count(got, "\n-a") != 5000 || strings.Count(got, "\n+b") != 5000 {
		t.Error("not every line is shown")
	}
}
