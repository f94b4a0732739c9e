package parse

import (
	"fmt"

	"headcap/lang/diag"
	"headcap/lang/source"
)

// The limits of a source, each a choice far beyond any library: they keep the reading within a second or two, and the
// grammar, which calls itself for each depth, within its stack.
const (
	MaxBytes  = 8 << 20
	MaxDepth  = 64      // of braces, and of parentheses
	MaxTokens = 500_000 // of any kind: blanks and line ends count, since they take as much room
)

// scan parts a source into tokens, and looks over its characters. ok is false where it is refused: too large or too deep to
// be read at all. It is refused as soon as that is known.
func scan(src *source.File, told *complaints) (tokens []Token, ok bool) {
	if len(src.Text) > MaxBytes {
		told.add(diag.Diagnostic{
			Code: "too-large", At: source.Span{File: src},
			Message: fmt.Sprintf("this file is of %.1f MiB; a source has at most %d MiB", float64(len(src.Text))/(1<<20), MaxBytes>>20),
			Try:     []string{partIt},
		})
		return nil, false
	}
	s := newScanner(src, told)
	tokens = make([]Token, 0, min(len(s.text)/4+16, 1<<16)) // a token and a blank have some eight characters
	var d depth
	for s.pos < len(s.text) {
		t := s.next()
		if tokens = append(tokens, t); len(tokens) > MaxTokens {
			told.add(diag.Diagnostic{
				Code: "too-large", At: s.span(t.Start, t.End()),
				Message: fmt.Sprintf("up to here this file has %d words, marks, blanks and line ends; a source has no more", MaxTokens),
				Try:     []string{partIt},
			})
			return nil, false
		}
		if d.after(t); d.braces > MaxDepth || d.parens > MaxDepth {
			told.add(tooDeep(s.span(t.Start, t.End())))
			return nil, false
		}
	}
	s.finish()
	checkCharacters(src, told)
	return tokens, true
}

const partIt = "part it into several files, and bring them together with use"

func tooDeep(at source.Span) diag.Diagnostic {
	what := "blocks"
	if at.Text() == "(" {
		what = "parentheses"
	}
	return diag.Diagnostic{
		Code: "too-deep", At: at,
		Message: fmt.Sprintf("more than %d %s stand inside one another", MaxDepth, what),
		Try:     []string{"close the ones that are done"},
	}
}

// depth counts what is open. Parentheses left open end with their statement; the count takes it to end with its block, or
// where a line is no deeper than the one with the first of them. The exact rule is for the liner, which counts again.
type depth struct {
	braces, parens int
	indent         int32
}

func (d *depth) after(t Token) {
	if t.first && t.indent <= d.indent {
		d.parens = 0
	}
	switch t.Kind {
	case OpenBrace:
		d.braces, d.parens = d.braces+1, 0
	case CloseBrace:
		d.braces, d.parens = max(d.braces-1, 0), 0
	case Semicolon:
		d.parens = 0
	case OpenParen:
		if d.parens == 0 {
			d.indent = t.indent
		}
		d.parens++
	case CloseParen:
		d.parens = max(d.parens-1, 0)
	}
}
