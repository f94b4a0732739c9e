package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"headcap/cmd/headcap/publish"
	"headcap/lang/format"
)

// largestSource is the size of the largest source that is read, as in the language.
const largestSource = 8 << 20

type formatCommand struct {
	Files []string `arg:"" name:"file" help:"Sources, written anew where their form is another; - is standard input, to standard output."`
	Check bool     `help:"Write nothing; name the files whose form is another, and end with status 1 if there are any."`
	Diff  bool     `help:"Write nothing; show what would change."`
}

func (formatCommand) Help() string {
	return `Comments are kept, and the meaning does not change. A source with mistakes in it is formatted as far as it can be read.

Example:

  headcap format fen.headcap
  headcap format --diff - < fen.headcap`
}

func (c *formatCommand) Run(ctx context.Context, t terminal) error {
	var worst error
	for _, file := range c.Files {
		if ctx.Err() != nil {
			return errors.New("stopped")
		}
		err := c.one(file, t)
		switch {
		case errors.Is(err, errProblems):
			if worst == nil {
				worst = err
			}
		case err != nil:
			fmt.Fprintf(t.err, "headcap: %v\n", err)
			worst = errSaid
		}
	}
	return worst
}

// one formats one file.
func (c *formatCommand) one(file string, t terminal) error {
	name := file
	if file == "-" {
		name = "standard input"
	}
	was, err := readSource(file, t.in)
	if err != nil {
		return err
	}
	now, err := format.Source(was)
	if err != nil {
		fmt.Fprintf(t.err, "%s: %v\n", name, err)
		return errProblems
	}
	if c.Diff {
		if _, err := io.WriteString(t.out, unified(name, was, now)); err != nil {
			return err
		}
	}
	switch {
	case c.Check && now != was:
		if !c.Diff {
			fmt.Fprintln(t.out, name)
		}
		return errProblems
	case c.Check || c.Diff:
		return nil
	case file == "-":
		_, err := io.WriteString(t.out, now)
		return err
	case now == was:
		return nil
	}
	if err := publish.ReplaceSource(file, []byte(now)); err != nil {
		return fmt.Errorf("%s cannot be written: %w", file, err)
	}
	return nil
}

// readSource reads a source for formatting, which needs nothing but its text.
func readSource(file string, stdin io.Reader) (string, error) {
	in, name := stdin, "standard input"
	if file != "-" {
		info, err := os.Stat(file)
		switch {
		case err != nil:
			return "", plainly(file, err)
		case info.IsDir():
			return "", fmt.Errorf("%s is a folder: name the source in it", file)
		case !info.Mode().IsRegular():
			return "", fmt.Errorf("%s cannot be a source: %w", file, errDevice)
		}
		f, err := os.Open(file)
		if err != nil {
			return "", plainly(file, err)
		}
		defer f.Close()
		in, name = f, file
	}
	text, err := io.ReadAll(io.LimitReader(in, largestSource+1))
	switch {
	case err != nil:
		return "", fmt.Errorf("reading %s: %w", name, err)
	case len(text) > largestSource:
		return "", fmt.Errorf("%s is larger than %d MiB, the most that a source may be", name, largestSource>>20)
	}
	return string(text), nil
}
