package vocab

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"headcap/lang/diag"
)

// A Chapter is what the manual says of a message: what it means, why it matters to a binder and what to do. Wrong is a
// whole source that yields the message and Right the same mended; Files are what stands beside them, by name. Where there
// is no example, Without says why.
type Chapter struct {
	Code       string
	Severities []diag.Severity
	Doc        string
	Wrong      string
	Right      string
	Files      map[string]string
	Without    string
}

// Chapters are the messages' chapters, in the order in which a source is read and a book is made.
var Chapters = slices.Concat(textChapters, markChapters, wordChapters, nameChapters, figureChapters, bookChapters, designChapters, letterChapters, adviceChapters)

// The severities of most messages.
var (
	anError  = []diag.Severity{diag.Error}
	aWarning = []diag.Severity{diag.Warning}
	anAdvice = []diag.Severity{diag.Advice}
)

// Code gives the manual's chapter of a message code; ok is false for a code that no message has.
func Code(code string) (text string, ok bool) {
	i := slices.IndexFunc(Chapters, func(c Chapter) bool { return c.Code == code })
	if i < 0 {
		return "", false
	}
	c := Chapters[i]
	var out strings.Builder
	fmt.Fprintf(&out, "%s: %s\n", c.Code, severityList(c.Severities))
	fmt.Fprintf(&out, "  %s\n", c.Doc)
	if c.Without != "" {
		fmt.Fprintf(&out, "  No example: %s.\n", c.Without)
		return out.String(), true
	}
	for _, name := range c.fileNames() {
		fmt.Fprintf(&out, "  Beside it, %s:\n%s", name, setIn(c.Files[name]))
	}
	fmt.Fprintf(&out, "  Wrong:\n%s", setIn(c.Wrong))
	fmt.Fprintf(&out, "  Right:\n%s", setIn(c.Right))
	return out.String(), true
}

// Codes lists the codes that messages have, in the order of their chapters.
func Codes() []string {
	out := make([]string, len(Chapters))
	for i, c := range Chapters {
		out[i] = c.Code
	}
	return out
}

func (c *Chapter) fileNames() []string {
	var out []string
	for name := range c.Files {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

func severityList(all []diag.Severity) string {
	var out []string
	for _, s := range all {
		out = append(out, s.String())
	}
	return strings.Join(out, " or ")
}

// setIn sets a source in, and shows what in it cannot be seen.
func setIn(text string) string {
	var out strings.Builder
	for line := range strings.Lines(text) {
		out.WriteString("    ")
		for i, r := range strings.TrimSuffix(line, "\n") {
			switch {
			case r == utf8.RuneError && !strings.HasPrefix(line[i:], "\uFFFD"):
				fmt.Fprintf(&out, "<byte %02X>", line[i])
			case !unicode.IsGraphic(r):
				fmt.Fprintf(&out, "<U+%04X>", r)
			default:
				out.WriteRune(r)
			}
		}
		out.WriteByte('\n')
	}
	return out.String()
}
