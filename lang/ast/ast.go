// Package ast is the syntax tree: one form of statement, and nothing of what the words mean.
package ast

import "headcap/lang/source"

// A File is a parsed source.
type File struct {
	Source     *source.File
	Statements []*Statement
}

// A Statement is a word, its arguments, and perhaps a block.
type Statement struct {
	Word     string
	WordSpan source.Span
	Args     []Arg
	Block    *Block // nil for none
	Span     source.Span
}

// A Block is the statements between braces.
type Block struct {
	Statements []*Statement
	Span       source.Span // from brace to brace
}

// Kind is what an argument is.
type Kind uint8

// The kinds of argument.
const (
	Word     Kind = iota // leaf
	Dotted               // set.leaf
	String               // "title"; Text is without quotes and escapes
	Number               // 5, 0.45, 3/4
	Measure              // 12.5mm, 5 3/16in, 70%, 45deg; Text as written
	Date                 // 2026-05-03
	Colour               // #8a6a2f
	Comma                // ,
	Operator             // + - * / = x
	Group                // ( … ); Args holds what stands inside
)

// An Arg is one argument.
type Arg struct {
	Kind Kind
	Text string
	Span source.Span
	Args []Arg // of a Group
}

// Walk calls f for every statement, outer before inner; where f answers false, the block is left out.
func Walk(statements []*Statement, f func(*Statement) bool) {
	for _, s := range statements {
		if f(s) && s.Block != nil {
			Walk(s.Block.Statements, f)
		}
	}
}
