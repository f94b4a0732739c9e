package main

import (
	"context"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"strings"

	"headcap/cmd/headcap/publish"
	"headcap/compiler"
	"headcap/lang/diag"
)

type buildCommand struct {
	Files []string `arg:"" name:"file" help:"Sources, each with an output folder of its own."`
	Out   string   `short:"o" placeholder:"DIR" help:"Write below DIR, rather than in a folder out beside the source."`
	Root  string   `placeholder:"DIR" help:"The project's folder, outside which nothing is read: the source's own unless given."`
}

func (buildCommand) Help() string {
	return `Every volume's files are written whole, or none of that volume's when it has an error; then what was written for it before stays. Files that others put there are never touched.

Example:

  headcap build fen.headcap

writes out/fen/dunmarrow-fen/01-eels-and-ledgers/spine.gold.svg and its like.`
}

func (c *buildCommand) Run(ctx context.Context, t terminal) error {
	var builds []*build
	into := map[string]string{}
	for _, file := range c.Files {
		p, err := openProject(file, c.Root)
		if err != nil {
			return err
		}
		defer p.close()
		b := &build{project: p, out: filepath.Join(p.dir, "out", p.name())}
		if c.Out != "" {
			b.out = filepath.Join(c.Out, p.name())
		}
		key, err := filepath.Abs(strings.ToLower(b.out))
		if err != nil {
			return err
		}
		if other, ok := into[key]; ok {
			return fmt.Errorf("%s and %s would both be written to %s: build them apart, each with a -o of its own", other, file, b.out)
		}
		into[key] = file
		builds = append(builds, b)
	}
	var worst error
	for _, b := range builds {
		err := b.run(ctx, t)
		switch {
		case ctx.Err() != nil:
			return errors.New("stopped: nothing more was written")
		case err != nil && !errors.Is(err, errProblems):
			fmt.Fprintf(t.err, "headcap: %v\n", err)
			worst = errSaid
		case err != nil && worst == nil:
			worst = err
		}
	}
	return worst
}

// A build is one source on its way to its output folder.
type build struct {
	project *project
	out     string
}

// run compiles and writes. The folder is held from before the source is read, so that of two builds at once the later one
// does not put older files over newer ones.
func (b *build) run(ctx context.Context, t terminal) (err error) {
	folder, err := publish.Open(b.out)
	if errors.Is(err, publish.ErrBusy) {
		return fmt.Errorf("%s: %w; nothing was written", b.out, err)
	}
	if err != nil {
		return fmt.Errorf("%s cannot be written to: %w", b.out, err)
	}
	defer func() {
		if closing := folder.Close(); closing != nil {
			err = fmt.Errorf("%s: %w", b.out, closing)
		}
	}()

	result, list := compiler.Compile(ctx, b.project, b.project.entry, compiler.Options{Pictures: true})
	all := b.project.located(list.All())
	if err := diag.Render(t.err, all, t.colour); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	report, err := folder.Publish(ctx, toPublish(result))
	b.tell(t, report)
	if err != nil {
		return fmt.Errorf("%s: %w", b.out, err)
	}
	tellSpoilt(t, result, report)
	tellList(t, "reckoned, not measured:", result.Reckoned)
	for _, line := range result.Summary {
		fmt.Fprintln(t.out, line)
	}
	switch {
	case len(report.Refused) > 0:
		return b.inTheWay(report.Refused)
	case countErrors(all) > 0:
		return errProblems
	}
	return nil
}

func toPublish(r *compiler.Result) publish.Build {
	out := publish.Build{Whole: r.Whole}
	for _, v := range r.Volumes {
		out.Volumes = append(out.Volumes, publish.Volume{Key: v.Key, Folder: v.Folder, Clean: v.Clean})
	}
	for _, f := range r.Files {
		out.Files = append(out.Files, publish.File{Path: f.Name, Volume: f.Volume, Data: f.Data})
	}
	return out
}

// tell says what was written, a line a folder.
func (b *build) tell(t terminal, r publish.Report) {
	for _, group := range byFolder(r.Written) {
		fmt.Fprintf(t.out, "wrote %s in %s\n", strings.Join(group.names, ", "), b.shown(group.dir))
	}
	for _, group := range byFolder(r.Removed) {
		fmt.Fprintf(t.out, "removed %s from %s\n", strings.Join(group.names, ", "), b.shown(group.dir))
	}
	for _, name := range r.Left {
		fmt.Fprintf(t.out, "left %s: it is no longer made, but somebody changed it\n", b.shown(name))
	}
	switch n := len(r.Unchanged); {
	case n == 1:
		fmt.Fprintln(t.out, "1 file is as it was")
	case n > 1:
		fmt.Fprintf(t.out, "%d files are as they were\n", n)
	}
}

func (b *build) shown(name string) string { return filepath.Join(b.out, filepath.FromSlash(name)) }

// tellSpoilt names the volumes that were not written because of errors.
func tellSpoilt(t terminal, r *compiler.Result, report publish.Report) {
	for _, v := range r.Volumes {
		if !v.Clean {
			fmt.Fprintf(t.err, "nothing of «%s» was written, since it has errors; what was written for it before stays\n", v.Title)
		}
	}
	if len(r.Volumes) == 0 && len(report.Written) == 0 {
		fmt.Fprintln(t.err, "nothing was written")
	}
}

func tellList(t terminal, heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintln(t.out, heading)
	for _, line := range lines {
		fmt.Fprintf(t.out, "  %s\n", line)
	}
}

// inTheWay says which files held a volume back, and what to do.
func (b *build) inTheWay(refused []publish.Refusal) error {
	var s strings.Builder
	s.WriteString("files stand in the way that headcap did not write, or that were changed since; what they belong to was not written:")
	for _, r := range refused {
		for _, name := range r.Paths {
			fmt.Fprintf(&s, "\n  %s", b.shown(name))
		}
	}
	s.WriteString("\ntry: move them away, or delete them, and build again")
	return errors.New(s.String())
}

// A folderGroup is the files of one folder.
type folderGroup struct {
	dir   string
	names []string
}

// byFolder groups sorted paths by their folders.
func byFolder(paths []string) []folderGroup {
	var out []folderGroup
	for _, p := range paths {
		if n := len(out); n == 0 || out[n-1].dir != path.Dir(p) {
			out = append(out, folderGroup{dir: path.Dir(p)})
		}
		last := &out[len(out)-1]
		last.names = append(last.names, path.Base(p))
	}
	return out
}
