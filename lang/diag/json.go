package diag

import (
	"encoding/json"
	"io"

	"headcap/lang/source"
)

// jsonPlace is a stretch of a file. Lines and columns count from 1, columns in characters; the end is the place after the
// last character.
type jsonPlace struct {
	Path      string `json:"path"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"endLine"`
	EndColumn int    `json:"endColumn"`
}

type jsonNote struct {
	At   *jsonPlace `json:"at,omitempty"`
	Text string     `json:"text"`
}

type jsonFix struct {
	At   *jsonPlace `json:"at"`
	With string     `json:"with"`
}

type jsonDiagnostic struct {
	Severity string     `json:"severity"`
	Code     string     `json:"code"`
	Message  string     `json:"message"`
	At       *jsonPlace `json:"at,omitempty"`
	Volume   string     `json:"volume,omitempty"`
	Notes    []jsonNote `json:"notes,omitempty"`
	Try      []string   `json:"try,omitempty"`
	Fix      *jsonFix   `json:"fix,omitempty"`
}

// JSON writes diagnostics as one array of objects, in the order given, for programs to read:
//
//	severity  "error", "warning" or "advice"
//	code      what it is, in words joined by hyphens
//	message   what was seen and what was wanted, one line
//	at        its place: path, line, column, endLine, endColumn, from 1, columns in characters; left out where it has none
//	volume    the key of the volume it concerns; left out where it concerns the whole file
//	notes     further places, each with at and text; left out where there are none
//	try       what to try, each one line; left out where there is nothing
//	fix       one replacement that mends the matter: at, and with, the new text; left out where there is none
//
// Members may be added to this in time; none will change its meaning.
func JSON(w io.Writer, all []Diagnostic) error {
	out := make([]jsonDiagnostic, 0, len(all))
	for _, d := range all {
		j := jsonDiagnostic{
			Severity: d.Severity.String(), Code: d.Code, Message: d.Message, At: jsonAt(d.At), Volume: d.Volume, Try: d.Try,
		}
		for _, n := range d.Notes {
			j.Notes = append(j.Notes, jsonNote{jsonAt(n.At), n.Text})
		}
		if d.Fix != nil {
			j.Fix = &jsonFix{jsonAt(d.Fix.At), d.Fix.With}
		}
		out = append(out, j)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

func jsonAt(s source.Span) *jsonPlace {
	if !s.Known() {
		return nil
	}
	p := &jsonPlace{Path: s.File.Path}
	p.Line, p.Column = s.File.Position(s.Start)
	p.EndLine, p.EndColumn = s.File.Position(s.End)
	return p
}
