package parse

import (
	"fmt"

	"headcap/lang/diag"
	"headcap/lang/source"
)

// most is the most that is told of one file: beyond it, what is read is no source, or hardly one.
const most = 100

// Codes are the codes of all that the reading of a text may complain of, for the manual.
var Codes = []string{
	"bad-colour", "bad-date", "bad-escape", "brace-apart", "curly-quote", "decimal-comma", "empty-item", "empty-parentheses",
	"hidden-character", "inch-mark", "measures-side-by-side", "minus-spaces", "missing-brace", "missing-operand",
	"needs-parentheses", "not-a-statement", "not-utf8", "odd-character", "single-quotes", "stray-brace", "stray-parenthesis",
	"too-deep", "too-large", "too-many", "trailing-comma", "unclosed-comment", "unclosed-parenthesis", "unclosed-string",
	"unexpected", "unit-apart",
}

// complaints hands on what the reading of one file has to complain of, up to the most. The zero value hands on nothing.
type complaints struct {
	list *diag.List
	n    int
}

func (c *complaints) full() bool { return c.n >= most }

func (c *complaints) add(d diag.Diagnostic) {
	c.n++
	if c.list == nil || c.n > most {
		return
	}
	c.list.Add(d)
	if c.n == most {
		c.list.Add(diag.Diagnostic{
			Code: "too-many", At: source.Span{File: d.At.File, Start: d.At.End, End: d.At.End},
			Message: fmt.Sprintf("%d mistakes in this file so far: the others are not told", most),
			Try:     []string{"mend these first", "see whether this is a Headcap source at all"},
		})
	}
}
