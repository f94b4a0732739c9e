package parse

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
)

var update = flag.Bool("update", false, "rewrite the expected trees")

func read(path, text string) (*ast.File, []diag.Diagnostic) {
	var list diag.List
	f := File(source.NewFile(path, text), &list)
	return f, list.All()
}

var (
	wantsMark = regexp.MustCompile(`// wants (.*)`)
	wantsText = regexp.MustCompile("\"(?:\\\\.|[^\"\\\\])*\"|`[^`]*`")
)

// Every mistake in the files of testdata/wants is told on its line, and nothing else is.
func TestMistakesAreToldWhereTheyStand(t *testing.T) {
	for _, path := range glob(t, "testdata/wants/*.headcap") {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text := readFile(t, path)
			_, all := read(path, text)
			found := map[int][]string{}
			for _, d := range all {
				line, _ := d.At.File.Position(d.At.Start)
				found[line] = append(found[line], d.Code+": "+d.Message)
			}
			for i, line := range strings.Split(text, "\n") {
				got := found[i+1]
				var wants []string
				if m := wantsMark.FindStringSubmatch(line); m != nil {
					wants = wantsText.FindAllString(m[1], -1)
				}
				for _, w := range wants {
					pattern, err := strconv.Unquote(w)
					if err != nil {
						t.Fatalf("%d: %s: %v", i+1, w, err)
					}
					at := indexMatch(regexp.MustCompile(pattern), got)
					if at < 0 {
						t.Errorf("%d: nothing like %s is told; got %q", i+1, w, got)
						continue
					}
					got = append(got[:at:at], got[at+1:]...)
				}
				for _, g := range got {
					t.Errorf("%d: unexpected: %s", i+1, g)
				}
			}
		})
	}
}

func indexMatch(re *regexp.Regexp, in []string) int {
	for i, s := range in {
		if re.MatchString(s) {
			return i
		}
	}
	return -1
}

// The files of testdata/tree hold a source, the tree it reads into, and what is told of it.
func TestTrees(t *testing.T) {
	for _, path := range glob(t, "testdata/tree/*.txt") {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txt"), func(t *testing.T) {
			in, want, ok := strings.Cut(readFile(t, path), "---\n")
			if !ok && !*update {
				t.Fatal("no line of --- after the source")
			}
			f, all := read("x.headcap", in)
			var b strings.Builder
			printTree(&b, "", f.Statements)
			for _, d := range all {
				line, column := d.At.File.Position(d.At.Start)
				fmt.Fprintf(&b, "%d:%d: %s: %s [%s]\n", line, column, d.Severity, d.Message, d.Code)
				for _, n := range d.Notes {
					line, column := n.At.File.Position(n.At.Start)
					fmt.Fprintf(&b, "  %d:%d: %s\n", line, column, n.Text)
				}
			}
			if got := b.String(); got != want {
				if *update {
					writeFile(t, path, in+"---\n"+got)
					return
				}
				t.Errorf("got\n%swant\n%s", got, want)
			}
		})
	}
}

func printTree(b *strings.Builder, indent string, statements []*ast.Statement) {
	for _, s := range statements {
		fmt.Fprintf(b, "%s%s%s", indent, s.Word, argsText(s.Args))
		if s.Block == nil {
			b.WriteByte('\n')
			continue
		}
		b.WriteString(" {\n")
		printTree(b, indent+"  ", s.Block.Statements)
		b.WriteString(indent + "}\n")
	}
}

var kindMarks = map[ast.Kind]string{
	ast.Word: "", ast.Dotted: "dotted:", ast.String: "text:", ast.Number: "number:", ast.Measure: "measure:", ast.Date: "date:",
	ast.Colour: "colour:", ast.Comma: "", ast.Operator: "sign:",
}

func argsText(args []ast.Arg) string {
	var b strings.Builder
	for _, a := range args {
		if a.Kind == ast.Group {
			fmt.Fprintf(&b, " (%s )", argsText(a.Args))
		} else {
			fmt.Fprintf(&b, " %s%s", kindMarks[a.Kind], strings.ReplaceAll(a.Text, " ", "_"))
		}
	}
	return b.String()
}

func glob(t *testing.T, pattern string) []string {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	if err != nil || len(paths) == 0 {
		t.Fatalf("no %s: %v", pattern, err)
	}
	return paths
}

func readFile(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func writeFile(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A fix mends what it is offered for, and brings no new complaint.
func TestFixesMend(t *testing.T) {
	for _, text := range sources(t) {
		for _, line := range strings.Split(text, "\n") {
			mendAll(t, line)
		}
		mendAll(t, text)
	}
}

func mendAll(t *testing.T, text string) {
	t.Helper()
	_, before := read("x.headcap", text)
	for _, d := range before {
		if d.Fix == nil {
			continue
		}
		mended := text[:d.Fix.At.Start] + d.Fix.With + text[d.Fix.At.End:]
		_, after := read("x.headcap", mended)
		if count(after, d.Code) >= count(before, d.Code) && d.Code != "curly-quote" {
			t.Errorf("%s: %q is not mended as %q", d.Code, text, mended)
		}
		if len(after) > len(before) {
			t.Errorf("%s: %q has more to complain of than %q", d.Code, mended, text)
		}
	}
}

func count(all []diag.Diagnostic, code string) int {
	n := 0
	for _, d := range all {
		if d.Code == code {
			n++
		}
	}
	return n
}
