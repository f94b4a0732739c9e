// Package parse reads a source into its syntax tree, and into tokens for the formatter. A text goes through five hands:
// its characters are looked over, it is parted into tokens, the tokens are mended into statements with their braces and
// parentheses in pairs, a grammar makes a tree of them, and the tree is made into an ast.File. No text stops the reading:
// each mistake is told where it stands, and reading goes on past it.
//
// Numbers are handed on as text: what is a unit, and what it may measure, is for others to say.
package parse

import (
	"errors"
	"fmt"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
)

// File reads a source. It always gives a tree, of what could be read; a source beyond the limits gives an empty one.
func File(src *source.File, list *diag.List) *ast.File {
	told := &complaints{list: list}
	tree := &ast.File{Source: src}
	peeking, err := lexer.Upgrade(definition{}.lex(src, told))
	if err != nil { // our stream gives none
		told.add(unexpected(src, err))
		return tree
	}
	doc, err := grammar().ParseFromLexer(peeking)
	if err != nil {
		told.add(unexpected(src, err))
	}
	if doc != nil {
		b := &builder{src: src, told: told}
		tree.Statements = b.statements(doc.Entries)
	}
	return tree
}

// unexpected makes a complaint of an error of the grammar. The tokens are mended so that there should be none; should there
// be one all the same, the author learns the place, and nothing is passed over in silence.
func unexpected(src *source.File, err error) diag.Diagnostic {
	d := diag.Diagnostic{
		Code: "unexpected", At: source.Span{File: src},
		Message: fmt.Sprintf("the reading stops here: %v", err),
		Try:     []string{"write the statement anew"},
	}
	var at participle.Error
	if errors.As(err, &at) {
		o := max(0, min(at.Position().Offset, len(src.Text)))
		d.At.Start, d.At.End = o, o
		d.Message = "the reading stops here: " + at.Message()
	}
	return d
}
