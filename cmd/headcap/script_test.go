package main

import (
	"errors"
	"flag"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"headcap/cmd/headcap/publish"
)

var update = flag.Bool("update", false, "rewrite what the scripts expect; read the difference")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"headcap": main})
}

// TestScripts runs the program as a whole, as a user would.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                filepath.Join(moduleRoot(t), "testdata", "script"),
		UpdateScripts:      *update,
		RequireUniqueNames: true,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": wantStatus,
			"hold":   holdFolder,
		},
	})
}

// wantStatus runs a program and wants an exit status: status 2 headcap build.
func wantStatus(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) < 2 {
		ts.Fatalf("usage: status N program args…")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var ended *exec.ExitError
	if errors.As(err, &ended) {
		got = ended.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("%q ended with status %d, wanted %d", args[1:], got, want)
	}
}

// holdFolder keeps an output folder, as another builder would, until the script ends: hold out/fen.
func holdFolder(ts *testscript.TestScript, not bool, args []string) {
	if not || len(args) != 1 {
		ts.Fatalf("usage: hold folder")
	}
	folder, err := publish.Open(ts.MkAbs(args[0]))
	ts.Check(err)
	ts.Defer(func() { ts.Check(folder.Close()) })
}
