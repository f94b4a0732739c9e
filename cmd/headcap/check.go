package main

import (
	"context"
	"errors"
	"fmt"

	"headcap/compiler"
	"headcap/lang/diag"
)

type checkCommand struct {
	Files  []string `arg:"" name:"file" help:"Sources."`
	Root   string   `placeholder:"DIR" help:"The project's folder, outside which nothing is read: the source's own unless given."`
	JSON   bool     `name:"json" help:"Print the complaints as JSON, on standard output."`
	Strict bool     `help:"Take warnings for errors. Advice stays advice."`
}

func (checkCommand) Help() string {
	return `Ends with status 0 when there is no error, 1 when there is one.

Example:

  headcap check --strict fen.headcap`
}

func (c *checkCommand) Run(ctx context.Context, t terminal) error {
	var all []diag.Diagnostic
	for _, file := range c.Files {
		p, err := openProject(file, c.Root)
		if err != nil {
			return err
		}
		defer p.close()
		list := compiler.Check(ctx, p, p.entry)
		if ctx.Err() != nil {
			return errors.New("stopped")
		}
		all = append(all, p.located(list.All())...)
	}
	if c.Strict {
		for i := range all {
			if all[i].Severity == diag.Warning {
				all[i].Severity = diag.Error
			}
		}
	}
	if c.JSON {
		if err := diag.JSON(t.out, all); err != nil {
			return err
		}
	} else {
		if err := diag.Render(t.err, all, t.colour); err != nil {
			return err
		}
		if len(all) == 0 {
			fmt.Fprintln(t.out, "nothing to complain of")
		}
	}
	if countErrors(all) > 0 {
		return errProblems
	}
	return nil
}
