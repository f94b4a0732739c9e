package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// plainSource names nothing that is bundled: the bundled set is read only where something of it is named.
const plainSource = `language 1
film mine { colour #9a7a3a; transfer }
leather skin { colour #553311 }
stamp s { lozenge 6mm x 4mm }
volume "Plain" {
  film mine
  leather skin
  block 210mm x 138mm x 34mm
  spine { bands 4 equal; panel 1, 2, 3, 4, 5 { frame { fillet 1mm }; centre s } }
}
`

// TestSmallSourcesStartQuickly weighs the whole process on a small source against a static program that says hello. The aim
// is five times as much; the test allows six, since the figure is two small times on a shared machine, each the least of
// many runs in turns.
func TestSmallSourcesStartQuickly(t *testing.T) {
	if testing.Short() {
		t.Skip("builds and times two programs")
	}
	dir := t.TempDir()
	hello := filepath.Join(dir, "hello.go")
	source := filepath.Join(dir, "plain.headcap")
	for name, text := range map[string]string{
		hello:  "package main\n\nimport \"fmt\"\n\nfunc main() { fmt.Println(\"hello\") }\n",
		source: plainSource,
	} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	build := func(what string) string {
		out := filepath.Join(dir, filepath.Base(what)+".exe")
		cmd := exec.Command("go", "build", "-o", out, what)
		cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
		if text, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		return out
	}
	small, ours := build(hello), build(".")
	spent := func(was time.Duration, args ...string) time.Duration {
		cmd := exec.Command(args[0], args[1:]...)
		if text, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		return min(was, cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime())
	}
	least, whole := time.Hour, time.Hour
	for range 40 {
		least = spent(least, small)
		whole = spent(whole, ours, "check", source)
	}
	ratio := float64(whole) / float64(max(least, time.Microsecond))
	t.Logf("a small source takes %.1f times a hello", ratio)
	if ratio > 6 {
		t.Errorf("a small source takes %.1f times a hello", ratio)
	}
}
