package parse

import (
	"fmt"
	"strings"

	"headcap/lang/diag"
	"headcap/lang/source"
)

// repairs is what must be done to a row of tokens so that every brace has its partner.
type repairs struct {
	drop   map[int]bool // closing braces to pass over
	insert map[int]int  // how many closing braces to put in before a token; at the number of tokens, at the end
}

// A brace is an open brace that waits for its partner.
type brace struct {
	token  int
	indent int32 // of the line it stands on
	line   int
	inside bool // something in its block has been read
	flush  bool // that stands on a line of its own and no deeper, so that indentation tells nothing of this block
}

// balance finds the braces that have no partner, complains of each once, and says how to go on. Where all braces have
// partners it looks no further: indentation is the author's affair. Only in a stretch that does not balance is it taken for
// a witness.
func balance(src *source.File, tokens []Token, told *complaints) repairs {
	r := repairs{drop: map[int]bool{}, insert: map[int]int{}}
	var open []int
	depth := make([]int32, len(tokens)) // after the token; strays do not count
	last := 0                           // where the last whole outermost block begins
	for i, t := range tokens {
		switch t.Kind {
		case OpenBrace:
			if len(open) == 0 {
				last = i
			}
			open = append(open, i)
		case CloseBrace:
			if len(open) == 0 {
				stray := strayIn(tokens, last, i, r.drop)
				r.drop[stray] = true
				tellStray(src, tokens[stray], told)
				last = i + 1
				break
			}
			open = open[:len(open)-1]
		}
		depth[i] = int32(len(open))
	}
	if len(open) == 0 {
		return r
	}
	if i := len(tokens) - 1; tokens[i].Kind == Comment && !closedComment(tokens[i].Text) {
		r.insert[len(tokens)] = len(open) // the comment has swallowed them, and has been told of
		return r
	}
	closeByIndent(src, tokens, open[0], len(open), depth, r, told)
	return r
}

func closedComment(text string) bool {
	return text[1] == '/' || len(text) >= 4 && text[len(text)-2:] == "*/"
}

// strayIn finds the closing brace that is one too many: in the block from token from on, one that begins its line deeper
// than the line of the brace it would close, or else the one at token at, which has nothing left to close.
func strayIn(tokens []Token, from, at int, dropped map[int]bool) int {
	var open []Token
	for i := from; i < at; i++ {
		switch t := tokens[i]; t.Kind {
		case OpenBrace:
			open = append(open, t)
		case CloseBrace:
			if dropped[i] || len(open) == 0 {
				return at
			}
			if t.first && t.indent > open[len(open)-1].indent {
				return i
			}
			open = open[:len(open)-1]
		}
	}
	return at
}

func tellStray(src *source.File, t Token, told *complaints) {
	at := source.Span{File: src, Start: t.Start, End: t.End()}
	told.add(diag.Diagnostic{
		Code: "stray-brace", At: at,
		Message: "this } closes nothing",
		Try:     []string{"take it away", "or put the { that it should close after a word before it"},
		Fix:     &diag.Fix{At: at},
	})
}

// closeByIndent puts in missing closing braces from token from on, where lines stand no deeper than the line that opened
// their block, and the rest at the end. It never puts in one that would leave a later brace without a partner.
func closeByIndent(src *source.File, tokens []Token, from, missing int, depth []int32, r repairs, told *complaints) {
	spare := make([]int32, len(tokens)) // how many blocks are open at least, from here on
	for i, least := len(tokens)-1, int32(missing); i >= from; i-- {
		least = min(least, depth[i])
		spare[i] = least
	}
	var open []brace
	line, put := 0, 0
	shut := func(before int) {
		b := open[len(open)-1]
		open = open[:len(open)-1]
		r.insert[before]++
		put++
		tellMissing(src, tokens, b.token, before, told)
	}
	may := func(i int) bool { return len(open) > 0 && put < missing && int32(put) < spare[i] }
	for i := from; i < len(tokens); i++ {
		t := tokens[i]
		if t.first {
			line++
		}
		if n := len(open); n > 0 && !open[n-1].inside && !t.Kind.blank() && t.Kind != CloseBrace {
			b := &open[n-1]
			b.inside, b.flush = true, t.first && t.indent <= b.indent
		}
		if t.first {
			for may(i) {
				b := open[len(open)-1]
				deeper := t.indent > b.indent || t.Kind == CloseBrace && t.indent == b.indent
				if b.line == line || b.flush || deeper {
					break
				}
				shut(i)
			}
		}
		switch {
		case t.Kind == OpenBrace:
			open = append(open, brace{token: i, indent: t.indent, line: line})
		case t.Kind == CloseBrace && len(open) > 0:
			open = open[:len(open)-1]
		}
	}
	for len(open) > 0 {
		shut(len(tokens))
	}
}

// tellMissing complains of a block that is not closed, and points at the line before which it should be.
func tellMissing(src *source.File, tokens []Token, opened, before int, told *complaints) {
	if told.full() {
		return
	}
	t := tokens[opened]
	line, _ := src.Position(t.Start)
	text := src.Line(line)
	shut := text[:len(text)-len(strings.TrimLeftFunc(text, isBlank))] + "}\n"
	d := diag.Diagnostic{
		Code: "missing-brace", At: source.Span{File: src, Start: t.Start, End: t.End()},
		Message: "the block that begins here is not closed",
	}
	at := len(src.Text)
	if before < len(tokens) {
		next := tokens[before]
		at = strings.LastIndexByte(src.Text[:next.Start], '\n') + 1
		line, _ = src.Position(next.Start)
		d.Notes = []diag.Note{{
			At:   source.Span{File: src, Start: next.Start, End: next.End()},
			Text: "this line is no deeper than the one that began the block",
		}}
		d.Try = []string{fmt.Sprintf("put } on a line of its own before line %d", line)}
	} else {
		if at > 0 && src.Text[at-1] != '\n' {
			shut = "\n" + shut
		}
		last := tokens[opened]
		for _, t := range tokens[opened:] {
			if !t.Kind.blank() {
				last = t
			}
		}
		d.Notes = []diag.Note{{At: source.Span{File: src, Start: last.Start, End: last.End()}, Text: "the file ends here"}}
		d.Try = []string{"put } at the end of the block"}
	}
	d.Fix = &diag.Fix{At: source.Span{File: src, Start: at, End: at}, With: shut}
	told.add(d)
}
