package ast

import (
	"strings"
	"testing"
)

func TestWalkGoesOuterFirstAndLeavesOutBlocks(t *testing.T) {
	leaf := func(w string) *Statement { return &Statement{Word: w} }
	tree := []*Statement{
		{Word: "spine", Block: &Block{Statements: []*Statement{
			leaf("bands"), {Word: "panel", Block: &Block{Statements: []*Statement{leaf("centre")}}},
		}}},
		leaf("front"),
	}
	var seen []string
	Walk(tree, func(s *Statement) bool {
		seen = append(seen, s.Word)
		return s.Word != "panel"
	})
	if got := strings.Join(seen, " "); got != "spine bands panel front" {
		t.Errorf("walked %s", got)
	}
}
