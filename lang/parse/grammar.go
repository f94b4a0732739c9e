package parse

import (
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar. It knows one form of statement and no word of the trade. The tokens come with their braces and parentheses
// in pairs, and what begins with no word is a stray, so that no text fails and every mistake in it can be told.
type (
	document struct {
		Entries []*entry `parser:"( EOL | Semicolon | @@ )*"`
	}

	entry struct {
		Statement *statement `parser:"  @@"`
		Stray     *stray     `parser:"| @@"`
	}

	// A statement ends with its line, at a semicolon, or with its block.
	statement struct {
		Word  lexer.Token `parser:"@Word"`
		Args  arguments   `parser:"@@?"`
		Block *block      `parser:"@@?"`
	}

	// A stray stands where a statement should begin.
	stray struct {
		Args  arguments `parser:"(  @@"`
		Block *block    `parser:"   @@?"`
		Bare  *block    `parser:" | @@ )"`
	}

	// The arguments of a statement, at least one. They parse themselves.
	arguments struct{ list []argument }

	// An argument is one token, or what stands from one parenthesis to the other.
	argument struct {
		token lexer.Token
		group *group // nil for one token
	}

	group struct {
		args  []argument
		close lexer.Token
	}

	block struct {
		Open    lexer.Token `parser:"@OpenBrace"`
		Entries []*entry    `parser:"( EOL | Semicolon | @@ )*"`
		Close   lexer.Token `parser:"@CloseBrace"`
	}
)

// Parse reads arguments by hand. The grammar's own way would be a choice of ten alternatives for each token, and the library
// copies its state to try each: most of the time of reading went there.
func (a *arguments) Parse(in *lexer.PeekingLexer) (err error) {
	if a.list, err = readArguments(in); err == nil && len(a.list) == 0 {
		return participle.NextMatch
	}
	return err
}

func readArguments(in *lexer.PeekingLexer) ([]argument, error) {
	var out []argument
	for {
		switch t := in.Peek(); Kind(t.Type - 1) {
		case Word, Dotted, String, Number, Measure, Date, Colour, Comma, Operator:
			out = append(out, argument{token: *in.Next()})
		case OpenParen:
			open := *in.Next()
			args, err := readArguments(in)
			if err != nil {
				return nil, err
			}
			shut := *in.Next()
			if Kind(shut.Type-1) != CloseParen {
				return nil, participle.Errorf(open.Pos, "this parenthesis is not closed")
			}
			out = append(out, argument{token: open, group: &group{args, shut}})
		default:
			return out, nil
		}
	}
}

// grammar builds the parser when it is first wanted.
var grammar = sync.OnceValue(func() *participle.Parser[document] {
	return participle.MustBuild[document](participle.Lexer(definition{}))
})
