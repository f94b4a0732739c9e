package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"headcap/cmd/headcap/publish"
)

// artFolder is where a starter keeps drawings of its own.
const artFolder = "art"

// starter is what a new source holds; TITLE stands for the title.
//
//go:embed starter.headcap.txt
var starter string

type newCommand struct {
	Name string `arg:"" help:"What to call it: letters, figures and hyphens."`
}

func (newCommand) Help() string {
	return `Writes NAME/NAME.headcap and a folder NAME/art for drawings of your own. The thickness in it is marked as estimated, so that nothing is cut before you have measured.

Example:

  headcap new tollbook`
}

func (c *newCommand) Run(t terminal) error {
	if err := properName(c.Name); err != nil {
		return err
	}
	file := filepath.Join(c.Name, c.Name+extension)
	text := strings.ReplaceAll(starter, "TITLE", titleFrom(c.Name))
	err := publish.StartProject(c.Name, c.Name+extension, []byte(text), artFolder)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already, and was left alone", c.Name)
	}
	if err != nil {
		return fmt.Errorf("%s cannot be made: %w", c.Name, err)
	}
	fmt.Fprintf(t.out, "wrote %s\nnext: write in what you measured, then\n  headcap build %s\n", file, file)
	return nil
}

// properName refuses what would not be one plain folder, of the same name everywhere.
func properName(name string) error {
	first, _ := utf8.DecodeRuneInString(name)
	for _, r := range name {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' || r == utf8.RuneError {
			return fmt.Errorf("«%s» cannot be a name: letters, figures and hyphens only, since a folder and a file are called by it", name)
		}
	}
	switch {
	case !unicode.IsLetter(first) && !unicode.IsDigit(first):
		return fmt.Errorf("«%s» cannot be a name: it wants a letter or a figure first", name)
	case publish.IsDeviceName(name):
		return fmt.Errorf("«%s» cannot be a name: some machines call a device by it", name)
	case len(name) > 100:
		return errors.New("that name is too long: 100 letters at most")
	}
	return nil
}

// titleFrom makes a title of a name: tollbook-of-wexmoor becomes Tollbook Of Wexmoor, for the author to mend.
func titleFrom(name string) string {
	words := strings.FieldsFunc(name, func(r rune) bool { return r == '-' })
	for i, w := range words {
		r, size := utf8.DecodeRuneInString(w)
		words[i] = string(unicode.ToTitle(r)) + w[size:]
	}
	return strings.Join(words, " ")
}
