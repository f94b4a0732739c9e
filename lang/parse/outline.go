package parse

import (
	"errors"

	"headcap/lang/diag"
	"headcap/lang/source"
)

// An Outline is a source by its lines, for the formatter: what stands on each, and how deep in its blocks. Blocks are
// counted as the parser reads them, so that in a text whose braces do not balance each line stands as deep as the statement
// on it belongs.
type Outline struct {
	Lines []Line
	// Mended says that braces had to be put in or passed over.
	Mended bool
}

// A Line is one line of a source. A comment of several lines counts as part of the one it begins on.
type Line struct {
	Tokens    []Token // no blanks; comments too
	Depth     int     // the blocks round the line; a } that begins it is outside its own
	Continues bool    // it goes on with a statement of the line before
}

// ReadOutline reads the lines of a source. The error says why a source is refused.
func ReadOutline(src *source.File) (Outline, error) {
	var list diag.List
	tokens, ok := scan(src, &complaints{list: &list})
	if !ok {
		return Outline{}, errors.New(list.All()[0].Message)
	}
	mend := balance(src, tokens, &complaints{})
	l := &liner{src: src, told: &complaints{}, in: tokens}
	out := Outline{Mended: len(mend.drop)+len(mend.insert) > 0}
	var line Line
	depth := 0
	for i, t := range tokens {
		for range mend.insert[i] {
			l.closeBlock(t)
			depth--
		}
		l.begin(t)
		if t.first || t.Kind != Space && t.Kind != EOL && len(line.Tokens) == 0 {
			line.Depth, line.Continues = depth, !atStart(l.last().Kind)
		}
		switch {
		case t.Kind == EOL:
			out.Lines = append(out.Lines, line)
			line = Line{}
		case t.Kind != Space:
			line.Tokens = append(line.Tokens, t)
		}
		if mend.drop[i] {
			continue
		}
		switch t.Kind {
		case OpenBrace:
			depth++
		case CloseBrace:
			if depth--; leads(line) {
				line.Depth = depth
			}
		}
		l.take(i, t)
	}
	if l.deep {
		return Outline{}, errors.New(tooDeep(source.Span{}).Message)
	}
	if len(line.Tokens) > 0 {
		out.Lines = append(out.Lines, line)
	}
	return out, nil
}

// leads says whether nothing but closing braces stands on the line.
func leads(line Line) bool {
	for _, t := range line.Tokens {
		if t.Kind != CloseBrace {
			return false
		}
	}
	return true
}
