package parse

import (
	"io"

	"github.com/alecthomas/participle/v2/lexer"

	"headcap/lang/source"
)

// definition is our scanner as the grammar's library wants it: the tokens of the statements of a text, mended.
type definition struct{}

var (
	_ lexer.Definition       = definition{}
	_ lexer.StringDefinition = definition{}
)

// symbol is the number by which the grammar knows a kind.
func symbol(k Kind) lexer.TokenType { return lexer.TokenType(k) + 1 }

// Symbols gives the names of the kinds for use in the grammar.
func (definition) Symbols() map[string]lexer.TokenType {
	m := map[string]lexer.TokenType{"EOF": lexer.EOF}
	for k, name := range kindNames {
		m[name] = symbol(Kind(k))
	}
	return m
}

// Lex reads all of r.
func (d definition) Lex(name string, r io.Reader) (lexer.Lexer, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	return d.LexString(name, string(text))
}

// LexString tells nothing of what had to be mended; File does.
func (d definition) LexString(name, text string) (lexer.Lexer, error) {
	return d.lex(source.NewFile(name, text), &complaints{}), nil
}

// lex reads a source, complaining of what it mends. A source that is refused gives no tokens.
func (definition) lex(src *source.File, told *complaints) lexer.Lexer {
	tokens, ok := scan(src, told)
	if !ok {
		return &stream{}
	}
	return &stream{tokens: statements(src, tokens, told)}
}

// A stream hands tokens to the grammar one by one. A position holds an offset only: File knows its lines.
type stream struct{ tokens []Token }

// Next takes the next token.
func (s *stream) Next() (lexer.Token, error) {
	if len(s.tokens) == 0 {
		return lexer.EOFToken(lexer.Position{}), nil
	}
	t := s.tokens[0]
	s.tokens = s.tokens[1:]
	return lexer.Token{Type: symbol(t.Kind), Value: t.Text, Pos: lexer.Position{Offset: t.Start}}, nil
}

// token is a token as the grammar hands it back.
func token(t lexer.Token) Token {
	return Token{Kind: Kind(t.Type - 1), Text: t.Value, Start: t.Pos.Offset}
}
