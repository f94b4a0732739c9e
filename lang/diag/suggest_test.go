package diag

import (
	"strings"
	"testing"
)

func TestSuggest(t *testing.T) {
	words := []string{"bands", "block", "board", "boards", "bud", "centre", "fillet", "film", "leaf", "leather", "mm", "cm", "spine", "title"}
	for _, c := range []struct{ word, want string }{
		{"budd", "bud"},       // one too many
		{"lether", "leather"}, // one missing
		{"center", "centre"},  // neighbours changed places
		{"filet", "fillet"},   //
		{"sipne", "spine"},    //
		{"Leaf", "leaf"},      // capitals do not count
		{"bord", "board"},     // nearer than boards
		{"boardss", "boards"}, //
		{"centerr", "centre"}, // two off
		{"mn", "mm"},          //
		{"pm", ""},            // the first letter of so short a word must be right
		{"b", ""},             //
		{"fuchsia", ""},       //
		{"", ""},              //
		{"xyz", ""},           //
		{"tilte", "title"},    //
		{"ﬁllet", "fillet"},   // a ligature is one letter wrong and one missing
		{"leatherette", ""},   //
		{"nnpine", "spine"},   // a wrong first letter and another
		{"bandz", "bands"},    //
		{"boarbs", "boards"},  //
		{"titel", "title"},    //
		{"bans", "bands"},     //
		{"lear", "leaf"},      //
		{"bun", "bud"},        //
		{"cen", ""},           // half of it is missing
		{"boardbord", ""},     //
		{strings.Repeat("bands", 1000), ""},
	} {
		if got := Suggest(c.word, words); got != c.want {
			t.Errorf("Suggest(%.20q) = %q, want %q", c.word, got, c.want)
		}
	}
}

func TestSuggestTakesTheFirstOfEquals(t *testing.T) {
	if got := Suggest("leab", []string{"leaf", "lead", "leap"}); got != "leaf" {
		t.Errorf("got %q", got)
	}
	if got := Suggest("leaf", []string{"leap", "leaf"}); got != "leaf" {
		t.Errorf("got %q", got)
	}
	if got := Suggest("leaf", nil); got != "" {
		t.Errorf("got %q", got)
	}
}
