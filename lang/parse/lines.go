package parse

import (
	"strings"

	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// A liner makes of the tokens of a text those of its statements: no blanks, lines joined where one goes on, every brace and
// parenthesis with its partner. What had to be mended is complained of here, so that the grammar after it takes anything.
type liner struct {
	src    *source.File
	told   *complaints
	in     []Token
	out    []Token
	parens []Token // open ones
	indent int32   // of the line on which the statement began
	joined bool    // the line before goes on
	ahead  int     // where next has looked
	deep   bool    // parentheses stand too deep for the grammar
}

// statements reads the tokens of a text into those of its statements; none where its parentheses are too deep.
func statements(src *source.File, in []Token, told *complaints) []Token {
	l := &liner{src: src, told: told, in: in, out: make([]Token, 0, len(in)/2+1)}
	mend := balance(src, in, told)
	for i, t := range in {
		for range mend.insert[i] {
			l.closeBlock(t)
		}
		if !mend.drop[i] {
			l.take(i, t)
		}
		if l.deep {
			return nil
		}
	}
	end := Token{Kind: EOL, Start: len(src.Text)}
	for range mend.insert[len(in)] {
		l.closeBlock(end)
	}
	l.endStatement()
	return l.out
}

func (l *liner) span(t Token) source.Span {
	return source.Span{File: l.src, Start: t.Start, End: t.End()}
}

// last is the token before the next one to be put out; an EOL where there is none.
func (l *liner) last() Token {
	if len(l.out) == 0 {
		return Token{Kind: EOL}
	}
	return l.out[len(l.out)-1]
}

func (l *liner) put(t Token) {
	if atStart(l.last().Kind) {
		l.indent = t.indent
	}
	l.joined = false
	l.out = append(l.out, t)
}

// atStart says whether a statement begins after a token of this kind.
func atStart(k Kind) bool { return k == EOL || k == Semicolon || k == OpenBrace || k == CloseBrace }

// next is the first token after in[i] that is no blank; an EOL where there is none.
func (l *liner) next(i int) Token {
	for l.ahead = max(l.ahead, i+1); l.ahead < len(l.in); l.ahead++ {
		if t := l.in[l.ahead]; !t.Kind.blank() {
			return t
		}
	}
	return Token{Kind: EOL}
}

// begin looks at the first token of a line: parentheses end with a line that is no deeper than their statement.
func (l *liner) begin(t Token) {
	if t.first && len(l.parens) > 0 && t.Kind != CloseParen && t.indent <= l.indent {
		l.endStatement()
		l.put(Token{Kind: EOL, Start: t.Start})
	}
}

func (l *liner) take(i int, t Token) {
	l.begin(t)
	switch t.Kind {
	case Space, Comment, Odd:
	case EOL:
		l.endLine(i, t)
	case Semicolon, OpenBrace, CloseBrace:
		l.endStatement()
		l.put(t)
	case OpenParen:
		l.parens = append(l.parens, t)
		if len(l.parens) == MaxDepth+1 {
			l.deep = true
			l.told.add(tooDeep(l.span(t)))
		}
		l.put(t)
	case CloseParen:
		l.closeParen(t)
	case Comma:
		l.comma(t)
	default:
		if len(l.parens) > 0 && l.last().Kind.operand() {
			l.partMinus(i, t)
			return
		}
		l.partName(t)
	}
}

// closeBlock closes a block that its author left open, before the token t.
func (l *liner) closeBlock(t Token) {
	l.endStatement()
	l.put(Token{Kind: CloseBrace, Start: t.Start})
	l.put(Token{Kind: EOL, Start: t.Start})
}

// endLine ends the statement at the end of a line, unless it goes on: in parentheses, and after an operator.
func (l *liner) endLine(i int, t Token) {
	last := l.last()
	if len(l.parens) > 0 || l.joined || atStart(last.Kind) {
		return
	}
	next := l.next(i)
	switch {
	case last.Kind == Operator:
		l.joined = true
		return
	case next.Kind == OpenBrace:
		d := diag.Diagnostic{
			Code: "brace-apart", At: l.span(next),
			Message: "the { of a block stands on the line of its word",
			Notes:   []diag.Note{{At: l.span(last), Text: "the statement ends on this line"}},
			Try:     []string{"put it at the end of the line before"},
		}
		if strings.TrimSpace(l.src.Text[last.End():next.Start]) == "" { // no comment between
			d.Fix = &diag.Fix{At: source.Span{File: l.src, Start: last.End(), End: next.End()}, With: " {"}
		}
		l.told.add(d)
		l.joined = true
		return
	case last.Kind == Comma && (!begins(next.Kind) || next.indent > l.indent && next.Kind == Word):
		l.tellComma(last, nil)
		l.joined = true
		return
	}
	l.endStatement()
	l.put(t)
}

// begins says whether a token may stand where the statement before it has ended.
func begins(k Kind) bool { return k == Word || atStart(k) }

func (l *liner) comma(t Token) {
	if l.last().Kind != Comma {
		l.put(t)
		return
	}
	l.told.add(diag.Diagnostic{
		Code: "empty-item", At: l.span(t),
		Message: "nothing stands between these two commas",
		Try:     []string{"take one away"},
		Fix:     &diag.Fix{At: l.span(t)},
	})
}

func (l *liner) tellComma(t Token, fix *diag.Fix) {
	l.told.add(diag.Diagnostic{
		Code: "trailing-comma", At: l.span(t),
		Message: "a comma at the end would take the next statement into the list",
		Try:     []string{"take it away", "a list that goes over several lines stands in parentheses: (…)"},
		Fix:     fix,
	})
}

// endStatement closes what the statement left open: parentheses, and a list.
func (l *liner) endStatement() {
	for n := len(l.parens); n > 0; n-- {
		l.dropComma()
		open := l.parens[n-1]
		l.told.add(diag.Diagnostic{
			Code: "unclosed-parenthesis", At: l.span(open),
			Message: "this ( is not closed in its statement",
			Notes:   []diag.Note{{At: l.span(l.last()), Text: "the statement ends here"}},
			Try:     []string{"put ) where it ends", "lines that belong to it stand deeper than the line it began on"},
		})
		l.put(Token{Kind: CloseParen, Start: l.last().End()})
		l.parens = l.parens[:n-1]
	}
	if last := l.last(); last.Kind == Comma {
		if !l.joined {
			l.tellComma(last, &diag.Fix{At: l.span(last)})
		}
		l.dropComma()
	}
}

// dropComma takes back a comma after the last item. In parentheses, where it does no harm, that is all.
func (l *liner) dropComma() {
	if l.last().Kind == Comma {
		l.out = l.out[:len(l.out)-1]
	}
}

func (l *liner) closeParen(t Token) {
	if len(l.parens) == 0 {
		l.told.add(diag.Diagnostic{
			Code: "stray-parenthesis", At: l.span(t),
			Message: "this ) closes nothing",
			Try:     []string{"take it away"},
			Fix:     &diag.Fix{At: l.span(t)},
		})
		return
	}
	l.dropComma()
	l.parens = l.parens[:len(l.parens)-1]
	l.put(t)
}

// partMinus puts out a token after an operand in parentheses, where a sign is an operator: (foot -4mm) is a difference. A
// minus that is not free of what it parts is complained of, since names may hold hyphens.
func (l *liner) partMinus(i int, t Token) {
	op, rest := t, Token{}
	if (t.Kind == Number || t.Kind == Measure) && strings.ContainsRune("+-", rune(t.Text[0])) {
		op = Token{Kind: Operator, Text: t.Text[:1], Start: t.Start}
		rest = Token{Kind: t.Kind, Text: t.Text[1:], Start: t.Start + 1}
	}
	if op.Kind != Operator || op.Text != "-" {
		l.put(op)
		if rest.Text != "" {
			l.put(rest)
		}
		return
	}
	before, after := l.last(), rest
	if after.Text == "" {
		after = l.next(i)
	}
	tight := l.span(before)
	if after.Kind.operand() || after.Kind == OpenParen {
		tight = tight.Join(l.span(after))
	}
	left, right := before.End() == op.Start, after.Start == op.End()
	if left || right {
		l.tellMinus(tight, op, left, right)
	}
	l.put(op)
	if rest.Text != "" {
		l.put(rest)
	}
}

// partName puts out a token, and in parentheses parts a name that ends in a measure: (foot-4mm) was meant for a difference.
func (l *liner) partName(t Token) {
	name, measure, ok := endsInMeasure(t.Text)
	if t.Kind != Word && t.Kind != Dotted || len(l.parens) == 0 || !ok {
		l.put(t)
		return
	}
	word := Token{Kind: t.Kind, Text: name, Start: t.Start}
	op := Token{Kind: Operator, Text: "-", Start: word.End()}
	l.tellMinus(l.span(t), op, true, true)
	l.put(word)
	l.put(op)
	l.put(Token{Kind: Measure, Text: measure, Start: op.End()})
}

func endsInMeasure(word string) (name, measure string, ok bool) {
	i := strings.LastIndexByte(word, '-')
	if i < 0 {
		return "", "", false
	}
	q, err := unit.ParseQuantity(word[i+1:])
	return word[:i], word[i+1:], err == nil && q.Unit != unit.None
}

func (l *liner) tellMinus(at source.Span, op Token, left, right bool) {
	with := "-"
	if left {
		with = " " + with
	}
	if right {
		with += " "
	}
	l.told.add(diag.Diagnostic{
		Code: "minus-spaces", At: at,
		Message: "a word may hold a hyphen, so a minus stands free",
		Try:     []string{"put spaces round the minus"},
		Fix:     &diag.Fix{At: l.span(op), With: with},
	})
}
