package parse

import (
	"fmt"
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"

	"headcap/lang/ast"
	"headcap/lang/diag"
	"headcap/lang/source"
)

// A builder makes what the grammar found into the tree, and complains of what the grammar takes and the language does not.
type builder struct {
	src  *source.File
	told *complaints
}

func (b *builder) span(t Token) source.Span {
	return source.Span{File: b.src, Start: t.Start, End: t.End()}
}

func (b *builder) spanOf(t lexer.Token) source.Span { return b.span(token(t)) }

func (b *builder) statements(entries []*entry) []*ast.Statement {
	var out []*ast.Statement
	for _, e := range entries {
		if e.Stray != nil {
			b.stray(e.Stray)
			continue
		}
		out = append(out, b.statement(e.Statement))
	}
	return out
}

func (b *builder) statement(s *statement) *ast.Statement {
	at := b.spanOf(s.Word)
	out := &ast.Statement{Word: s.Word.Value, WordSpan: at, Args: b.arguments(s.Args.list), Block: b.block(s.Block), Span: at}
	for _, a := range out.Args {
		out.Span = out.Span.Join(a.Span)
	}
	if out.Block != nil {
		out.Span = out.Span.Join(out.Block.Span)
	}
	return out
}

func (b *builder) block(k *block) *ast.Block {
	if k == nil {
		return nil
	}
	return &ast.Block{Statements: b.statements(k.Entries), Span: b.spanOf(k.Open).Join(b.spanOf(k.Close))}
}

// stray complains of what stands where a statement should begin, and of the mistakes in it. It is no part of the tree.
func (b *builder) stray(s *stray) {
	d := diag.Diagnostic{Code: "not-a-statement"}
	if s.Bare != nil {
		d.At = b.spanOf(s.Bare.Open)
		d.Message = "a block has a word before it, on the same line"
		d.Try = []string{"write the word that the block belongs to", "take the braces away"}
		b.told.add(d)
		b.block(s.Bare)
		return
	}
	args := b.raw(s.Args.list, false)
	d.At = args[0].Span
	d.Message = fmt.Sprintf("a statement begins with a word, not with %s", kindWords[args[0].Kind])
	d.Try = []string{"write the word that it belongs to", "or put it on the line of that word"}
	b.told.add(d)
	b.block(s.Block)
}

// kindWords names the kinds of argument in messages.
var kindWords = map[ast.Kind]string{
	ast.Word: "a word", ast.Dotted: "a name in another file", ast.String: "a text", ast.Number: "a number",
	ast.Measure: "a measure", ast.Date: "a date", ast.Colour: "a colour", ast.Comma: "a comma", ast.Operator: "a sign",
	ast.Group: "a parenthesis",
}

var argKinds = map[Kind]ast.Kind{
	Word: ast.Word, Dotted: ast.Dotted, String: ast.String, Number: ast.Number, Measure: ast.Measure, Date: ast.Date,
	Colour: ast.Colour, Comma: ast.Comma, Operator: ast.Operator,
}

// arguments makes the arguments of a statement.
func (b *builder) arguments(args []argument) []ast.Arg {
	out := b.lists(b.partMeasures(b.joinUnits(b.raw(args, true))))
	return b.arithmetic(b.operands(out))
}

// inside makes what stands in parentheses.
func (b *builder) inside(args []argument) []ast.Arg {
	return b.operands(b.lists(b.partMeasures(b.joinUnits(b.raw(args, true)))))
}

// raw makes each argument by itself. Empty parentheses are told of and left out where told is set.
func (b *builder) raw(args []argument, tell bool) []ast.Arg {
	out := make([]ast.Arg, 0, len(args))
	for _, a := range args {
		if a.group == nil {
			t := token(a.token)
			out = append(out, ast.Arg{Kind: argKinds[t.Kind], Text: t.Value(), Span: b.span(t)})
			continue
		}
		g := ast.Arg{Kind: ast.Group, Args: b.inside(a.group.args), Span: b.spanOf(a.token).Join(b.spanOf(a.group.close))}
		if len(a.group.args) == 0 && tell {
			b.told.add(diag.Diagnostic{
				Code: "empty-parentheses", At: g.Span,
				Message: "nothing stands in these parentheses",
				Try:     []string{"take them away"},
				Fix:     &diag.Fix{At: g.Span},
			})
			continue
		}
		out = append(out, g)
	}
	return out
}

// apart are the units that may be taken for one where they stand apart from their figure. "in" is a word of the language
// too, and is taken for the unit only where nothing follows that it could be said of.
var apart = map[string]bool{"mm": true, "cm": true, "in": true, "pt": true, "deg": true, "um": true, "mil": true, "gsm": true, "ppi": true}

// joinUnits mends measures that are written in more than one piece: 12 mm.
func (b *builder) joinUnits(args []ast.Arg) []ast.Arg {
	out := args[:0]
	for i, a := range args {
		n := len(out)
		if a.Kind != ast.Word || !apart[a.Text] || n == 0 || out[n-1].Kind != ast.Number || !b.near(out[n-1], a) || a.Text == "in" && !ends(args[i+1:]) {
			out = append(out, a)
			continue
		}
		from := n - 1
		if n > 1 && out[n-2].Kind == ast.Number && strings.Contains(out[n-1].Text, "/") && b.near(out[n-2], out[n-1]) {
			from-- // 5 3/16 in
		}
		m := ast.Arg{Kind: ast.Measure, Span: out[from].Span.Join(a.Span)}
		for _, part := range out[from:] {
			m.Text += part.Text + " "
		}
		m.Text = strings.TrimSuffix(m.Text, " ") + a.Text
		b.told.add(diag.Diagnostic{
			Code: "unit-apart", At: m.Span,
			Message: "a measure is its figure and its unit in one piece",
			Try:     []string{m.Text},
			Fix:     &diag.Fix{At: m.Span, With: m.Text},
		})
		out = append(out[:from], m)
	}
	return out
}

// ends says whether nothing more is said here, before a comma or a sign.
func ends(rest []ast.Arg) bool {
	return len(rest) == 0 || rest[0].Kind == ast.Comma || rest[0].Kind == ast.Operator
}

// near says whether only blanks part two arguments.
func (b *builder) near(x, y ast.Arg) bool {
	return strings.TrimFunc(b.src.Text[x.Span.End:y.Span.Start], isBlank) == ""
}

// partMeasures puts a comma between two measures side by side, having told of it.
func (b *builder) partMeasures(args []ast.Arg) []ast.Arg {
	out := make([]ast.Arg, 0, len(args))
	for i, a := range args {
		if i > 0 && a.Kind == ast.Measure && args[i-1].Kind == ast.Measure {
			gap := source.Span{File: b.src, Start: args[i-1].Span.End, End: args[i-1].Span.End}
			b.told.add(diag.Diagnostic{
				Code: "measures-side-by-side", At: a.Span,
				Message: "two measures side by side",
				Notes:   []diag.Note{{At: args[i-1].Span, Text: "the first of them"}},
				Try:     []string{"put a comma between them"},
				Fix:     &diag.Fix{At: gap, With: ","},
			})
			out = append(out, ast.Arg{Kind: ast.Comma, Text: ",", Span: gap})
		}
		out = append(out, a)
	}
	return out
}

// lists takes a comma away before which there is nothing.
func (b *builder) lists(args []ast.Arg) []ast.Arg {
	if len(args) == 0 || args[0].Kind != ast.Comma {
		return args
	}
	b.told.add(diag.Diagnostic{
		Code: "empty-item", At: args[0].Span,
		Message: "nothing stands before this comma",
		Try:     []string{"take it away"},
		Fix:     &diag.Fix{At: args[0].Span},
	})
	return args[1:]
}

// operands takes a sign away that has nothing to work on. A = with nothing before it is left to those who know of names.
func (b *builder) operands(args []ast.Arg) []ast.Arg {
	out := make([]ast.Arg, 0, len(args))
	for i, a := range args {
		lacks := ""
		switch {
		case a.Kind != ast.Operator:
		case i+1 == len(args) || args[i+1].Kind == ast.Comma || args[i+1].Kind == ast.Operator && !unary(args[i+1].Text):
			lacks = "after"
		case !unary(a.Text) && a.Text != "=" && (len(out) == 0 || out[len(out)-1].Kind == ast.Comma || out[len(out)-1].Kind == ast.Operator):
			lacks = "before"
		}
		if lacks == "" {
			out = append(out, a)
			continue
		}
		b.told.add(diag.Diagnostic{
			Code: "missing-operand", At: a.Span,
			Message: fmt.Sprintf("nothing stands %s this %s", lacks, a.Text),
			Try:     []string{"write what it works on", "or take it away"},
		})
	}
	return out
}

func unary(sign string) bool { return sign == "-" || sign == "+" }

// arithmetic puts parentheses round a reckoning that stands without, having told of it.
func (b *builder) arithmetic(args []ast.Arg) []ast.Arg {
	if !slices.ContainsFunc(args, sign) {
		return args
	}
	var out []ast.Arg
	for i := 0; i < len(args); {
		end, signs := reckoning(args[i:])
		if !signs {
			out = append(out, args[i])
			i++
			continue
		}
		g := ast.Arg{Kind: ast.Group, Args: args[i : i+end : i+end], Span: args[i].Span.Join(args[i+end-1].Span)}
		text := "(" + g.Span.Text() + ")"
		b.told.add(diag.Diagnostic{
			Code: "needs-parentheses", At: g.Span,
			Message: "reckoning stands in parentheses",
			Try:     []string{text},
			Fix:     &diag.Fix{At: g.Span, With: text},
		})
		out = append(out, g)
		i += end
	}
	return out
}

// sign says whether an argument reckons with those beside it. The = of a name and the x of a size do not.
func sign(a ast.Arg) bool { return a.Kind == ast.Operator && strings.Contains("+-*/", a.Text) }

// reckoning is how many of args at their beginning are one reckoning, and whether a sign is among them.
func reckoning(args []ast.Arg) (n int, signs bool) {
	want := true // an operand, or a sign before one
	for n < len(args) {
		a := args[n]
		switch {
		case sign(a) && (!want || unary(a.Text)):
			signs, want = true, true
		case want && !sign(a) && a.Kind != ast.Comma && a.Kind != ast.Operator:
			want = false
		default:
			return n, signs
		}
		n++
	}
	return n, signs
}
