package diag

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"headcap/lang/source"
)

// Render writes diagnostics for a terminal: place, severity, message and code; the line with the span underlined; the
// lines of the notes; and what to try.
//
//	tollbook.headcap:31:14: error: no stamp is named "budd" [unknown-stamp]
//	   31 |       centre budd
//	      |              ^^^^
//	    9 | stamp bud {
//	      |       ~~~ note: defined here
//	   try: bud
//
// A span of several lines is underlined to the end of its first. Characters that cannot be seen are shown as �, so that no
// text in a source can steer the terminal. With colour the severity and the underlining are coloured.
func Render(w io.Writer, all []Diagnostic, colour bool) error {
	r := renderer{colour: colour}
	for _, d := range all {
		r.diagnostic(d)
	}
	_, err := io.WriteString(w, r.b.String())
	return err
}

type renderer struct {
	b      strings.Builder
	colour bool
}

// The colours of a terminal, as its escape sequences number them.
const (
	bold   = "1"
	red    = "1;31"
	yellow = "1;33"
	blue   = "1;34"
)

func (s Severity) colour() string {
	switch s {
	case Error:
		return red
	case Warning:
		return yellow
	}
	return blue
}

func (r *renderer) paint(code, text string) string {
	if !r.colour || text == "" {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

func (r *renderer) diagnostic(d Diagnostic) {
	if d.At.Known() {
		r.b.WriteString(r.paint(bold, place(d.At)+":") + " ")
	}
	fmt.Fprintf(&r.b, "%s %s", r.paint(d.Severity.colour(), d.Severity.String()+":"), visible(d.Message))
	if d.Code != "" {
		fmt.Fprintf(&r.b, " [%s]", d.Code)
	}
	r.b.WriteByte('\n')
	shown := source.Span{}
	if d.At.Known() {
		r.line(d.At)
		r.under(d.At, '^', d.Severity.colour(), "")
		shown = d.At
	}
	for _, n := range d.Notes {
		if !n.At.Known() {
			fmt.Fprintf(&r.b, "   note: %s\n", visible(n.Text))
			continue
		}
		if n.At.File != shown.File {
			fmt.Fprintf(&r.b, "   %s:\n", place(n.At))
		}
		if n.At.File != shown.File || lineOf(n.At) != lineOf(shown) {
			r.line(n.At)
		}
		r.under(n.At, '~', blue, " note: "+visible(n.Text))
		shown = n.At
	}
	for _, t := range d.Try {
		fmt.Fprintf(&r.b, "   try: %s\n", visible(t))
	}
}

func place(s source.Span) string {
	line, column := s.File.Position(s.Start)
	return fmt.Sprintf("%s:%d:%d", visible(s.File.Path), line, column)
}

func lineOf(s source.Span) int {
	line, _ := s.File.Position(s.Start)
	return line
}

// line writes the line on which a span begins.
func (r *renderer) line(s source.Span) {
	v := viewOf(s)
	fmt.Fprintf(&r.b, "%5d | %s\n", lineOf(s), v.text)
}

// under underlines a span.
func (r *renderer) under(s source.Span, mark rune, colour, text string) {
	v := viewOf(s)
	pad := strings.Repeat(" ", max(5, len(strconv.Itoa(lineOf(s)))))
	fmt.Fprintf(&r.b, "%s | %s%s\n", pad, strings.Repeat(" ", v.before), r.paint(colour, strings.Repeat(string(mark), v.width)+text))
}

// A view is a line as it is shown, and where the span lies on it, in columns of the terminal.
type view struct {
	text          string
	before, width int
}

// The most columns of a line that are shown, and how many of them stand before the span where it lies farther out: a
// choice, so that one long line does not fill the screen.
const (
	maxColumns  = 160
	leadColumns = 40
)

const tabWidth = 4 // a choice; tabs are shown as blanks, since the gutter moves their stops

// viewOf lays out the line on which a span begins.
func viewOf(s source.Span) view {
	number := lineOf(s)
	first := s.File.LineStart(number)
	var cells []string // what is shown, column by column; empty for the second half of a wide character
	start, end := -1, -1
	for i, c := range s.File.Line(number) {
		if start < 0 && first+i >= s.Start {
			start = len(cells)
		}
		if end < 0 && first+i >= s.End {
			end = len(cells)
		}
		cells = appendCells(cells, c)
	}
	if start < 0 {
		start = len(cells)
	}
	if end < 0 {
		end = len(cells)
	}
	return cut(cells, start, max(end-start, 1))
}

// cut leaves of a long line what stands round the span.
func cut(cells []string, start, width int) view {
	from, to := 0, len(cells)
	lead, trail := "", ""
	if to > maxColumns {
		if start+width > maxColumns {
			from, lead = max(start-leadColumns, 0), "…"
		}
		if to-from > maxColumns {
			to, trail = from+maxColumns, "…"
		}
	}
	if from == 0 {
		lead = ""
	}
	before := start - from + len([]rune(lead))
	return view{
		text:   strings.TrimRight(lead+strings.Join(cells[from:to], "")+trail, " "),
		before: before,
		width:  max(1, min(width, to-start)),
	}
}

// appendCells puts a character into the columns it takes on a terminal.
func appendCells(cells []string, c rune) []string {
	switch {
	case c == '\t':
		return append(cells, slices.Repeat([]string{" "}, tabWidth-len(cells)%tabWidth)...)
	case !shows(c):
		return append(cells, "�")
	case unicode.In(c, unicode.Mn, unicode.Me) && len(cells) > 0:
		cells[len(cells)-1] += string(c)
		return cells
	case wide(c):
		return append(cells, string(c), "")
	}
	return append(cells, string(c))
}

// shows says whether a character is seen, and does nothing but be seen.
func shows(c rune) bool { return unicode.IsGraphic(c) }

// visible makes text safe for a terminal.
func visible(text string) string {
	return strings.Map(func(c rune) rune {
		if !shows(c) {
			return unicode.ReplacementChar
		}
		return c
	}, text)
}

// wideRanges are the scripts whose characters take two columns: the wide and full ones of Unicode's report 11, by block.
var wideRanges = [][2]rune{
	{0x1100, 0x115F},
	{0x2E80, 0xA4CF},
	{0xAC00, 0xD7A3},
	{0xF900, 0xFAFF},
	{0xFE30, 0xFE6F},
	{0xFF00, 0xFF60},
	{0xFFE0, 0xFFE6},
	{0x1F300, 0x1FAFF},
	{0x20000, 0x3FFFD},
}

func wide(c rune) bool {
	return slices.ContainsFunc(wideRanges, func(r [2]rune) bool { return c >= r[0] && c <= r[1] })
}
