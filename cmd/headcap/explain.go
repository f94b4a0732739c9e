package main

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"headcap/compiler"
	"headcap/lang/diag"
)

type explainCommand struct {
	File     string `arg:"" help:"A source."`
	Volume   string `arg:"" optional:"" help:"A volume, by its number or its title; every one unless given."`
	Quantity string `arg:"" optional:"" help:"A measure, such as \"spine width\"; every one unless given."`
	Root     string `placeholder:"DIR" help:"The project's folder, outside which nothing is read: the source's own unless given."`
	JSON     bool   `name:"json" help:"Print the measures as JSON."`
}

func (explainCommand) Help() string {
	return `Each measure is shown term by term, with where each term came from: measured, taken from the series, or a default by its name. At the end of a volume stands what is to be cut for it of board and leather, and how much of each face its film covers.

Example:

  headcap explain fen.headcap 4 "spine width"

As JSON:

  { "volumes": [ { "volume", "number", "title", "quantities": [ … ], "cut": [ … ], "film": [ … ] } ] }

A quantity has "name", "nanometres" (whole), "shown" (in its author's unit), "state" (where it came from), and, where there are any, "how" (its sum), "note", "parts" (quantities, by the names in the sum) and "planned" (a quantity). What is cut has "name", "count", and the quantities "tall", "wide", "thick" and "nick", and "grain". Film has "film", "face", "area" (square millimetres) and "share" (of the face). Members may be added; none changes its meaning.`
}

func (c *explainCommand) Run(ctx context.Context, t terminal) error {
	p, err := openProject(c.File, c.Root)
	if err != nil {
		return err
	}
	defer p.close()
	explained, list := compiler.Explain(ctx, p, p.entry, c.Volume, c.Quantity)
	all := p.located(list.All())
	if err := diag.Render(t.err, all, t.colour); err != nil {
		return err
	}
	if c.JSON {
		out := json.NewEncoder(t.out)
		out.SetEscapeHTML(false)
		out.SetIndent("", "  ")
		err = out.Encode(explained)
	} else {
		err = explained.WriteText(t.out)
	}
	switch {
	case err != nil:
		return err
	case countErrors(all) > 0:
		return errProblems
	case len(explained.Volumes) == 0 && c.Quantity != "":
		return fmt.Errorf("no volume that was asked for has a measure «%s»: leave it out to see them all", c.Quantity)
	case len(explained.Volumes) == 0 && c.Volume != "":
		return fmt.Errorf("%s has no volume «%s»; there is: %s", c.File, c.Volume, strings.Join(explained.All, ", "))
	}
	return nil
}
