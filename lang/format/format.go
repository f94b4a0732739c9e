// Package format writes a source in its one canonical form: blocks set in by two blanks, one blank between arguments, none
// before a comma, comments at the ends of neighbouring lines in one column, at most one empty line, straight quotes. Lines
// stay in their order and hold what they held, but that a line with whole blocks on it that is too long is parted.
//
// It works on tokens, not on the tree, so that a comment cannot be lost and a source with mistakes can be formatted too.
package format

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/parse"
	"headcap/lang/source"
)

// maxColumns is the most that a line with whole blocks on it may take before it is parted: a choice. A comment at its end
// does not count.
const maxColumns = 100

const indent = "  "

// Source gives the canonical form of a text. Should that not read as the text does, statement for statement and comment for
// comment, or not be canonical itself, the text is given back unchanged with an error: this happens only to texts with
// mistakes, where indentation was the one witness of what was meant.
func Source(text string) (string, error) {
	src := source.NewFile("", text)
	outline, err := parse.ReadOutline(src)
	if err != nil {
		return text, fmt.Errorf("left as it is: %w", err)
	}
	out := source.NewFile("", print(outline))
	again, err := parse.ReadOutline(out)
	if err != nil || print(again) != out.Text || !same(src, out) {
		return text, errors.New("left as it is: the mistakes in it would read otherwise in another form; mend them first")
	}
	return out.Text, nil
}

// A row is a line of the result: what stands on it, and the comment at its end.
type row struct{ code, comment string }

func print(o parse.Outline) string {
	var rows []row
	for _, line := range o.Lines {
		if len(line.Tokens) == 0 {
			if len(rows) > 0 && rows[len(rows)-1] != (row{}) {
				rows = append(rows, row{})
			}
			continue
		}
		rows = append(rows, rowsOf(line, !o.Mended)...)
	}
	if n := len(rows); n > 0 && rows[n-1] == (row{}) {
		rows = rows[:n-1]
	}
	var b strings.Builder
	for len(rows) > 0 {
		n := 1
		if rows[0].comment != "" {
			n = slices.IndexFunc(rows, func(r row) bool { return r.comment == "" })
			if n < 0 {
				n = len(rows)
			}
		}
		lineUp(&b, rows[:n])
		rows = rows[n:]
	}
	return b.String()
}

// lineUp writes neighbouring rows, with the comments at their ends in one column.
func lineUp(b *strings.Builder, rows []row) {
	column := 0
	for _, r := range rows {
		column = max(column, lastWidth(r.code))
	}
	for _, r := range rows {
		b.WriteString(r.code)
		if r.comment != "" {
			b.WriteString(strings.Repeat(" ", column-lastWidth(r.code)+2) + r.comment)
		}
		b.WriteByte('\n')
	}
}

// lastWidth is the width of the last line of code; a comment within it may have several.
func lastWidth(code string) int {
	return utf8.RuneCountInString(code[strings.LastIndexByte(code, '\n')+1:])
}

// rowsOf makes the rows of a line.
func rowsOf(line parse.Line, mayPart bool) []row {
	tokens, comment := line.Tokens, ""
	if last := tokens[len(tokens)-1]; len(tokens) > 1 && strings.HasPrefix(last.Text, "//") {
		tokens, comment = tokens[:len(tokens)-1], last.Canonical()
	}
	depth := line.Depth
	if first := tokens[0].Kind; line.Continues && first != parse.CloseParen && first != parse.OpenBrace {
		depth++
	}
	codes := []string{code(depth, tokens)}
	if mayPart && lastWidth(codes[0]) > maxColumns && whole(tokens) {
		codes = part(depth, tokens)
	}
	rows := make([]row, len(codes))
	for i, c := range codes {
		rows[i].code = c
	}
	rows[0].comment = comment
	return rows
}

// whole says whether all braces on the line have their partners there, and it holds no comment of several lines.
func whole(tokens []parse.Token) bool {
	depth := 0
	for _, t := range tokens {
		switch {
		case t.Kind == parse.OpenBrace:
			depth++
		case t.Kind == parse.CloseBrace && depth == 0, strings.Contains(t.Text, "\n"):
			return false
		case t.Kind == parse.CloseBrace:
			depth--
		}
	}
	return depth == 0
}

// part writes the statements of a line each on its own, and opens the blocks of those that are still too long.
func part(depth int, tokens []parse.Token) []string {
	var out []string
	for _, s := range statements(tokens) {
		line := code(depth, s)
		open := slices.IndexFunc(s, func(t parse.Token) bool { return t.Kind == parse.OpenBrace })
		if utf8.RuneCountInString(line) <= maxColumns || open < 0 {
			out = append(out, line)
			continue
		}
		shut := len(s) - 1 // a block ends its statement
		out = append(out, code(depth, s[:open+1]))
		out = append(out, part(depth+1, s[open+1:shut])...)
		out = append(out, code(depth, s[shut:]))
	}
	return out
}

// statements parts the tokens of a line, whose braces are whole, at semicolons and after blocks.
func statements(tokens []parse.Token) [][]parse.Token {
	var out [][]parse.Token
	depth, from := 0, 0
	cut := func(to, next int) {
		if to > from {
			out = append(out, tokens[from:to])
		}
		from = next
	}
	for i, t := range tokens {
		switch t.Kind {
		case parse.OpenBrace:
			depth++
		case parse.CloseBrace:
			if depth--; depth == 0 && i+1 < len(tokens) && tokens[i+1].Kind != parse.Semicolon {
				cut(i+1, i+1)
			}
		case parse.Semicolon:
			if depth == 0 {
				cut(i, i+1)
			}
		}
	}
	cut(len(tokens), len(tokens))
	return out
}

// code writes tokens on one line.
func code(depth int, tokens []parse.Token) string {
	var b strings.Builder
	b.WriteString(strings.Repeat(indent, depth))
	var last, previous parse.Token // previous is no comment, and not last
	for i, t := range tokens {
		if t.Kind == parse.Semicolon && idle(tokens, i) {
			continue
		}
		if last.Text != "" && apart(previous, last, t) {
			b.WriteByte(' ')
		}
		b.WriteString(text(tokens, i))
		if last.Kind != parse.Comment {
			previous = last
		}
		last = t
	}
	return b.String()
}

// idle says whether a semicolon parts no statements: it stands at the end of its line or block, or at the beginning.
func idle(tokens []parse.Token, i int) bool {
	next, previous := after(tokens, i).Kind, before(tokens, i).Kind
	if previous == parse.Operator || previous == parse.Comma { // the line would go on
		return false
	}
	return next == parse.Space || next == parse.CloseBrace || next == parse.Semicolon || previous == parse.Space || previous == parse.OpenBrace
}

// after is the next token that is no comment, before the last one; an empty one (of kind Space) where there is none.
func after(tokens []parse.Token, i int) parse.Token {
	for _, t := range tokens[i+1:] {
		if t.Kind != parse.Comment {
			return t
		}
	}
	return parse.Token{}
}

func before(tokens []parse.Token, i int) parse.Token {
	for _, t := range slices.Backward(tokens[:i]) {
		if t.Kind != parse.Comment {
			return t
		}
	}
	return parse.Token{}
}

// text is the token as it is written; a × becomes the x that reads the same, where it does.
func text(tokens []parse.Token, i int) string {
	t := tokens[i]
	if t.Kind != parse.Operator || t.Text != "×" {
		return t.Canonical()
	}
	next := after(tokens, i)
	figure := next.Kind == parse.Number || next.Kind == parse.Measure
	if figure && strings.ContainsAny(next.Text[:1], "+-") {
		return t.Text
	}
	switch before(tokens, i).Kind {
	case parse.Number, parse.Measure:
		if figure || next.Kind == parse.OpenParen || next.Kind == parse.Word || next.Kind == parse.Dotted {
			return "x"
		}
	case parse.CloseParen:
		if figure || next.Kind == parse.OpenParen {
			return "x"
		}
	}
	return t.Text
}

// apart says whether a blank stands between the tokens a and b on a line; previous stands before a.
func apart(previous, a, b parse.Token) bool {
	touching := a.End() == b.Start
	switch {
	case a.Kind == parse.Odd || b.Kind == parse.Odd: // who knows what was meant
		return !touching
	case a.Kind == parse.OpenParen, b.Kind == parse.Comma, b.Kind == parse.Semicolon, b.Kind == parse.CloseParen:
		return false
	case a.Kind == parse.Operator && (a.Text == "-" || a.Text == "+") && !ends(previous.Kind): // the sign of what follows
		return !touching
	}
	return true
}

// ends says whether a sign after a token of this kind stands between two operands.
func ends(k parse.Kind) bool {
	switch k {
	case parse.Word, parse.Dotted, parse.String, parse.Number, parse.Measure, parse.Date, parse.Colour, parse.CloseParen:
		return true
	}
	return false
}

// same says whether two sources read the same: token for token but for what parts statements, comment for comment, and in
// the trees that the parser makes of them.
func same(a, b *source.File) bool {
	aTokens, aComments := gist(a)
	bTokens, bComments := gist(b)
	return slices.Equal(aTokens, bTokens) && slices.Equal(aComments, bComments) && slices.EqualFunc(tree(a), tree(b), sameStatement)
}

// A mark is a token without its place.
type mark struct {
	kind parse.Kind
	text string
}

func gist(src *source.File) (tokens, comments []mark) {
	for _, t := range parse.Tokens(src) {
		m := mark{t.Kind, t.Canonical()}
		switch t.Kind {
		case parse.Space, parse.EOL, parse.Semicolon:
		case parse.Comment:
			comments = append(comments, m)
		case parse.Operator:
			tokens = append(tokens, mark{t.Kind, t.Value()})
		default:
			tokens = append(tokens, m)
		}
	}
	return tokens, comments
}

func tree(src *source.File) []*ast.Statement {
	var list diag.List
	return parse.File(src, &list).Statements
}

func sameStatement(a, b *ast.Statement) bool {
	if a.Word != b.Word || !slices.EqualFunc(a.Args, b.Args, sameArg) || (a.Block == nil) != (b.Block == nil) {
		return false
	}
	return a.Block == nil || slices.EqualFunc(a.Block.Statements, b.Block.Statements, sameStatement)
}

func sameArg(a, b ast.Arg) bool {
	return a.Kind == b.Kind && a.Text == b.Text && slices.EqualFunc(a.Args, b.Args, sameArg)
}
