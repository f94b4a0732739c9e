package main

import (
	"fmt"
	"strings"

	"headcap/lang/diag"
	"headcap/lang/vocab"
)

type wordsCommand struct {
	Word string `arg:"" optional:"" help:"A word of the language, or the code of a message; the list of words unless given."`
}

func (wordsCommand) Help() string {
	return `Example:

  headcap words pitch
  headcap words unknown-stamp`
}

func (c *wordsCommand) Run(t terminal) error {
	text, ok := vocab.Index(), true
	if c.Word != "" {
		if text, ok = vocab.Manual(c.Word); !ok {
			text, ok = vocab.Code(c.Word)
		}
	}
	if !ok {
		return noWord(c.Word)
	}
	_, err := fmt.Fprintln(t.out, strings.TrimRight(text, "\n"))
	return err
}

func noWord(word string) error {
	names := vocab.Codes()
	for i := range vocab.All {
		names = append(names, vocab.All[i].Name)
	}
	if near := diag.Suggest(word, names); near != "" {
		return fmt.Errorf("the language has no word, and messages no code, «%s»\ntry: headcap words %s", word, near)
	}
	return fmt.Errorf("the language has no word, and messages no code, «%s»\ntry: headcap words", word)
}
