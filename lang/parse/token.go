package parse

import (
	"strings"
	"unicode/utf8"

	"headcap/lang/source"
)

// Kind is what a token is.
type Kind uint8

// The kinds of token. The first four mean nothing to the grammar but the end of a line; Odd is what belongs to no token,
// told and passed over.
const (
	Space Kind = iota // blanks, and a byte order mark
	EOL
	Comment
	Odd
	Word
	Dotted
	String
	Number
	Measure
	Date
	Colour
	Comma
	Operator
	Semicolon
	OpenBrace
	CloseBrace
	OpenParen
	CloseParen
)

// kindNames are the names by which the grammar calls the kinds, in their order.
var kindNames = [...]string{
	"Space", "EOL", "Comment", "Odd", "Word", "Dotted", "String", "Number", "Measure", "Date", "Colour", "Comma", "Operator",
	"Semicolon", "OpenBrace", "CloseBrace", "OpenParen", "CloseParen",
}

func (k Kind) String() string { return kindNames[k] }

// blank says whether a token of this kind stands between the tokens of a statement without being one.
func (k Kind) blank() bool { return k == Space || k == EOL || k == Comment || k == Odd }

// operand says whether arithmetic may be done with a token of this kind, or with what it ends.
func (k Kind) operand() bool {
	switch k {
	case Word, Dotted, Number, Measure, CloseParen:
		return true
	}
	return false
}

// A Token is a piece of a source, Text as it stands there.
type Token struct {
	Kind  Kind
	Text  string
	Start int // offset in bytes

	first  bool  // the first token on its line that is no blank
	indent int32 // how far its line is set in, in columns
}

// End is the offset after the token.
func (t Token) End() int { return t.Start + len(t.Text) }

// Tokens parts a source into tokens, blanks and comments too: put together again they are the source, whatever is in it.
func Tokens(src *source.File) []Token {
	s := newScanner(src, &complaints{})
	var out []Token
	for s.pos < len(s.text) {
		out = append(out, s.next())
	}
	return out
}

// Value is what the token says: a string without its quotes and escapes, a number as package unit reads it, and of the
// other tokens the text.
func (t Token) Value() string {
	switch t.Kind {
	case String:
		return unquote(t.Text)
	case Number, Measure:
		return plainNumber(t.Text)
	case Operator:
		return plainOperator(t.Text)
	}
	return t.Text
}

// Canonical is the token as the formatter writes it: straight quotes, single blanks in a number, and a comment without
// blanks at its end or carriage returns. It has the same kind and value.
func (t Token) Canonical() string {
	switch t.Kind {
	case String:
		q, ok := quoteAt(t.Text)
		if !ok || q.single {
			return t.Text
		}
		body, closed := q.body(t.Text)
		if !closed || strings.ContainsRune(body, '"') {
			return t.Text
		}
		return `"` + body + `"`
	case Number, Measure:
		return singleBlanks(t.Text)
	case Comment:
		return strings.TrimRight(strings.ReplaceAll(t.Text, "\r\n", "\n"), " \t\n") // an unclosed one takes line ends too
	}
	return t.Text
}

// singleBlanks makes what parts a whole number from its fraction one plain blank.
func singleBlanks(text string) string {
	if !strings.ContainsFunc(text, isBlank) {
		return text
	}
	return strings.Join(strings.FieldsFunc(text, isBlank), " ")
}

// plainNumber mends a number for package unit where its complaint has been made already: a decimal comma, an inch mark.
func plainNumber(text string) string {
	text = strings.Replace(singleBlanks(text), ",", ".", 1)
	if r, size := utf8.DecodeLastRuneInString(text); isInchMark(r) {
		text = text[:len(text)-size] + "in"
	}
	return text
}

func plainOperator(text string) string {
	switch text {
	case "×":
		return "x"
	case "−", "–", "—":
		return "-"
	}
	return text
}

// isBlank says whether r parts words on a line. The no-break and thin spaces come with pasted figures.
func isBlank(r rune) bool {
	switch r {
	case ' ', '\t', '\u00a0', '\u2009', '\u202f':
		return true
	}
	return false
}
