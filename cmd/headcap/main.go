// Headcap compiles book covers written as text into files for the blade.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"syscall"

	"github.com/alecthomas/kong"
)

// Exit statuses.
const (
	statusClean    = 0 // nothing to complain of
	statusProblems = 1 // errors in a source
	statusUsage    = 2 // wrong usage, or a file that cannot be read or written
	statusFault    = 3 // a fault of ours
)

// errProblems says that a source has errors, which were told already.
var errProblems = errors.New("the source has errors")

// errSaid says that something could not be read or written, which was told already.
var errSaid = errors.New("something could not be done")

// commands is the program as its user sees it.
type commands struct {
	Build   buildCommand   `cmd:"" help:"Compile sources and write the cut files of every volume."`
	Check   checkCommand   `cmd:"" help:"Say what is wrong with sources, and write nothing."`
	Format  formatCommand  `cmd:"" help:"Bring sources into the one canonical form."`
	Explain explainCommand `cmd:"" help:"Show how each measure of a volume came about."`
	New     newCommand     `cmd:"" help:"Write a starter source with its art folder."`
	Words   wordsCommand   `cmd:"" help:"The manual of the language: its words, and the codes of messages."`
}

// A terminal is what the program reads and what it prints on.
type terminal struct {
	in     io.Reader
	out    io.Writer
	err    io.Writer
	colour bool // of what is printed on err
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // whoever interrupts twice means at once
	status := run(ctx, os.Args[1:], terminal{os.Stdin, os.Stdout, os.Stderr, wantsColour(os.Stderr)})
	os.Exit(status)
}

// wantsColour follows https://no-color.org and leaves whatever is no terminal plain.
func wantsColour(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0 && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

// run is the whole program, from its arguments to its exit status.
func run(ctx context.Context, args []string, t terminal) int {
	return guarded(t.err, func() int { return dispatch(ctx, args, t) })
}

// guarded turns a panic into a plain message. Files are written whole or not at all, so none can have been spoilt.
func guarded(stderr io.Writer, do func() int) (status int) {
	defer func() {
		if fault := recover(); fault != nil {
			fmt.Fprintf(stderr, "headcap: a fault of ours, not of your source: %v\n%sPlease report it, with the source and these lines. No file was left half written.\n", fault, whence())
			status = statusFault
		}
	}()
	return do()
}

// whence lists where in our own rooms a panic came from, the innermost call first.
func whence() string {
	var pcs [64]uintptr
	frames := runtime.CallersFrames(pcs[:runtime.Callers(1, pcs[:])])
	var b strings.Builder
	panicked := false
	for n := 0; n < 6; {
		frame, more := frames.Next()
		if panicked && strings.HasPrefix(frame.Function, "headcap/") {
			file := frame.File[strings.LastIndex(frame.File, "/")+1:]
			fmt.Fprintf(&b, "  in %s (%s:%d)\n", frame.Function, file, frame.Line)
			n++
		}
		panicked = panicked || frame.Function == "runtime.gopanic"
		if !more {
			break
		}
	}
	return b.String()
}

// exited carries the status with which kong wants to end, after --help.
type exited int

func dispatch(ctx context.Context, args []string, t terminal) (status int) {
	out := &checkedWriter{w: t.out}
	t.out = out
	defer func() {
		if stop := recover(); stop != nil {
			code, ok := stop.(exited)
			if !ok {
				panic(stop)
			}
			status = int(code)
		}
		if out.err != nil && status == statusClean {
			fmt.Fprintf(t.err, "headcap: writing what was to be printed: %v\n", out.err)
			status = statusUsage
		}
	}()
	var c commands
	parser := kong.Must(&c,
		kong.Name("headcap"),
		kong.Description("Book covers written as text, compiled into files for the blade.\n\nExample:\n\n  headcap new tollbook\n  headcap build tollbook/tollbook.headcap"),
		kong.Writers(t.out, t.err),
		kong.Exit(func(code int) { panic(exited(code)) }),
		kong.ConfigureHelp(kong.HelpOptions{NoExpandSubcommands: true, WrapUpperBound: 100}),
	)
	command, err := parser.Parse(args)
	if err != nil {
		fmt.Fprintf(t.err, "headcap: %v\n%s\n", err, hint(err))
		return statusUsage
	}
	command.BindTo(ctx, (*context.Context)(nil))
	switch err := command.Run(t); {
	case err == nil:
		return statusClean
	case errors.Is(err, errProblems):
		return statusProblems
	case errors.Is(err, errSaid):
		return statusUsage
	default:
		fmt.Fprintf(t.err, "headcap: %v\n", err)
		return statusUsage
	}
}

// hint says where to read how the command that was meant is used.
func hint(err error) string {
	var wrong *kong.ParseError
	if errors.As(err, &wrong) && wrong.Context != nil {
		if node := wrong.Context.Selected(); node != nil {
			return fmt.Sprintf("try: headcap %s --help", node.Name)
		}
	}
	return "try: headcap --help"
}

// A checkedWriter remembers that something could not be printed, so that a full disk is not taken for success.
type checkedWriter struct {
	w   io.Writer
	err error
}

func (c *checkedWriter) Write(b []byte) (int, error) {
	n, err := c.w.Write(b)
	if c.err == nil {
		c.err = err
	}
	return n, err
}
