package main

import (
	"context"
	"io"

	"headcap/compiler"
	"headcap/lang/diag"
)

type explainCommand struct {
	File     string `arg:"" help:"A source."`
	Volume   string `arg:"" optional:"" help:"A volume, by its number or its title; every one unless given."`
	Quantity string `arg:"" optional:"" help:"A measure, such as \"spine width\"; every one unless given."`
	Root     string `placeholder:"DIR" help:"The project's folder, outside which nothing is read: the source's own unless given."`
}

func (explainCommand) Help() string {
	return `Each measure is shown term by term, with where each term came from: measured, taken from the series, or a default by its name.

Example:

  headcap explain fen.headcap 4 "spine width"`
}

func (c *explainCommand) Run(ctx context.Context, t terminal) error {
	p, err := openProject(c.File, c.Root)
	if err != nil {
		return err
	}
	defer p.close()
	text, list := compiler.Explain(ctx, p, p.entry, c.Volume, c.Quantity)
	all := p.located(list.All())
	if err := diag.Render(t.err, all, t.colour); err != nil {
		return err
	}
	if _, err := io.WriteString(t.out, text); err != nil {
		return err
	}
	if countErrors(all) > 0 {
		return errProblems
	}
	return nil
}
