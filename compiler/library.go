package compiler

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"runtime"
	"sync"

	"headcap/compiler/load"
	"headcap/compiler/resolve"
	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/parse"
	"headcap/lang/source"
	"headcap/stdlib"
)

// A library gives the bundled definitions, each parsed when it is first named.
type library struct {
	list   *diag.List
	parsed map[string]*ast.Statement
}

func newLibrary(list *diag.List) *library {
	return &library{list: list, parsed: map[string]*ast.Statement{}}
}

func (l *library) Find(kind, name string) *ast.Statement {
	key := kind + " " + name
	if s, ok := l.parsed[key]; ok {
		return s
	}
	p, ok := stdlib.Find(kind, name)
	if !ok {
		l.parsed[key] = nil
		return nil
	}
	file := parse.File(source.NewFile("bundled/"+p.File, p.Text), l.list)
	var s *ast.Statement
	if len(file.Statements) > 0 {
		s = file.Statements[0]
	}
	l.parsed[key] = s
	return s
}

func (l *library) Names(kind string) []string { return stdlib.Names(kind) }

// most is the largest source that is read, in bytes; the parser refuses the same with a message, so one more is read.
const most = 8<<20 + 1

// reader reads and parses sources through fsys.
func reader(fsys fs.FS, list *diag.List) resolve.Get {
	return func(path string) (*ast.File, error) {
		data, err := readSource(fsys, path)
		if err != nil {
			msg := load.Missing(path, err)
			if near := load.Near(fsys, path); near != "" {
				msg += "; there is " + near
			}
			return nil, errors.New(msg)
		}
		return parse.File(source.NewFile(path, data), list), nil
	}
}

func readSource(fsys fs.FS, path string) (string, error) {
	f, err := fsys.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, most))
	return string(data), err
}

// each runs f for every number under n, several at a time, and adds the faults in the order of the numbers. Its error is
// that of the context.
func each(ctx context.Context, n int, f func(i int) error, list *diag.List, origins *source.Origins) error {
	errs := make([]error, n)
	var wg sync.WaitGroup
	gate := make(chan struct{}, runtime.GOMAXPROCS(0))
	for i := range n {
		gate <- struct{}{}
		if ctx.Err() != nil {
			<-gate
			break
		}
		wg.Add(1)
		go func() {
			defer wg.Done()
			defer func() { <-gate }()
			errs[i] = f(i)
		}()
	}
	wg.Wait()
	for _, err := range errs {
		var ft *fault
		if errors.As(err, &ft) {
			list.Add(ft.diagnostic(origins))
		}
	}
	return ctx.Err()
}
