package parse

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"headcap/lang/diag"
	"headcap/lang/source"
	"headcap/lang/unit"
)

// A scanner parts a text into tokens by looking at the text alone, not at what the words mean. It never fails: what is no
// token is Odd. Every byte falls into exactly one token.
type scanner struct {
	src  *source.File
	text string
	pos  int
	told *complaints

	prev    Kind // the last token that is no blank; EOL where there is none
	prevEnd int
	indent  int32
	fresh   bool // nothing but blanks on this line so far
	curly   curlyQuotes
}

// curlyQuotes counts the strings in curly quotes, so that one piece of advice does for a whole pasted file.
type curlyQuotes struct {
	n     int
	first source.Span
}

func newScanner(src *source.File, told *complaints) *scanner {
	return &scanner{src: src, text: src.Text, told: told, prev: EOL, fresh: true}
}

func (s *scanner) span(start, end int) source.Span {
	return source.Span{File: s.src, Start: start, End: end}
}

// next takes the token at pos, which is not the end.
func (s *scanner) next() Token {
	start := s.pos
	kind, end := s.scan()
	t := Token{Kind: kind, Text: s.text[start:end], Start: start, indent: s.indent}
	s.pos = end
	switch kind {
	case EOL:
		s.fresh, s.indent = true, 0
	case Space:
		if s.fresh {
			s.indent = widen(s.indent, t.Text)
		}
		t.indent = s.indent
	case Comment, Odd:
		if i := strings.LastIndexByte(t.Text, '\n'); i >= 0 && s.fresh { // what follows stands on the comment's last line
			s.indent = widen(0, t.Text[i+1:])
		}
	default:
		t.first, s.fresh = s.fresh, false
		s.prev, s.prevEnd = kind, end
	}
	return t
}

// widen adds the width of blank to a column, a tab going on to the next multiple of four: a choice, and it matters only
// where braces do not balance and a file mixes tabs and spaces.
func widen(column int32, blank string) int32 {
	for _, r := range blank {
		if r == '\t' {
			column += 4 - column%4
		} else if r != '\ufeff' {
			column++
		}
	}
	return column
}

var marks = map[byte]Kind{
	',': Comma, ';': Semicolon, '{': OpenBrace, '}': CloseBrace, '(': OpenParen, ')': CloseParen,
	'*': Operator, '/': Operator, '=': Operator, '-': Operator, '+': Operator,
}

// scan finds the kind and the end of the token at pos.
func (s *scanner) scan() (Kind, int) {
	rest := s.text[s.pos:]
	switch c := rest[0]; {
	case c == '\n':
		return EOL, s.pos + 1
	case strings.HasPrefix(rest, "\r\n"):
		return EOL, s.pos + 2
	case strings.HasPrefix(rest, "//"):
		return Comment, s.pos + lineEnd(rest)
	case strings.HasPrefix(rest, "/*"):
		return s.blockComment()
	case strings.HasPrefix(rest, "*/"):
		return s.odd(2)
	case s.numberHere():
		return s.number()
	case marks[c] != 0:
		return marks[c], s.pos + 1
	case c == '#':
		return s.colour()
	}
	if n := len(rest) - len(strings.TrimLeftFunc(rest, isBlank)); n > 0 {
		return Space, s.pos + n
	}
	if _, ok := quoteAt(rest); ok {
		return s.quoted()
	}
	switch r, size := utf8.DecodeRuneInString(rest); {
	case r == '×':
		return Operator, s.pos + size
	case r == '−' || r == '–' || r == '—':
		s.told.add(diag.Diagnostic{
			Code: "odd-character", At: s.span(s.pos, s.pos+size),
			Message: fmt.Sprintf("%c is a dash, not a minus", r),
			Try:     []string{"write -", `write "to" between two ends`},
			Fix:     &diag.Fix{At: s.span(s.pos, s.pos+size), With: "-"},
		})
		return Operator, s.pos + size
	case isLetter(r):
		return s.word()
	case r == '\ufeff' && s.pos == 0:
		return Space, size
	}
	return s.odd(0)
}

// lineEnd is the length of what is left of the line, its end not counted.
func lineEnd(text string) int {
	i := strings.IndexByte(text, '\n')
	switch {
	case i < 0:
		return len(text)
	case i > 0 && text[i-1] == '\r':
		return i - 1
	}
	return i
}

func (s *scanner) blockComment() (Kind, int) {
	if i := strings.Index(s.text[s.pos+2:], "*/"); i >= 0 {
		return Comment, s.pos + 2 + i + 2
	}
	s.told.add(diag.Diagnostic{
		Code: "unclosed-comment", At: s.span(s.pos, s.pos+2),
		Message: "this comment is never closed: all that follows is taken for a part of it",
		Try:     []string{"put */ where it ends", "begin a comment of one line with //"},
	})
	return Comment, len(s.text)
}

func isLetter(r rune) bool { return unicode.IsLetter(r) || r == '_' }

// wordPart is the length of letters, figures and single hyphens between them.
func wordPart(text string) int {
	end := 0
	for i, r := range text {
		switch {
		case isLetter(r) && r != utf8.RuneError, unicode.IsDigit(r), unicode.IsMark(r):
			end = i + utf8.RuneLen(r)
		case r == '-' && end == i:
		default:
			return end
		}
	}
	return end
}

// word takes a word, a dotted name, or the x of a size.
func (s *scanner) word() (Kind, int) {
	rest := s.text[s.pos:]
	if s.timesHere() {
		return Operator, s.pos + 1
	}
	n := wordPart(rest)
	kind := Word
	for n < len(rest) && rest[n] == '.' {
		r, _ := utf8.DecodeRuneInString(rest[n+1:])
		if !isLetter(r) {
			break
		}
		kind = Dotted
		n += 1 + wordPart(rest[n+1:])
	}
	return kind, s.pos + n
}

// timesHere says whether the x here parts the measures of a size. It does after a figure, where a figure, a parenthesis or
// (after a space) a name follows; after a parenthesis, where a figure or a parenthesis follows. Any other x is a word.
func (s *scanner) timesHere() bool {
	rest := s.text[s.pos:]
	if rest[0] != 'x' || s.prev != Number && s.prev != Measure && s.prev != CloseParen {
		return false
	}
	after := strings.TrimLeft(rest[1:], " \t\r\n\u00a0\u2009\u202f")
	if n, _ := unit.Scan(after); n > 0 || strings.HasPrefix(after, "(") {
		return true
	}
	line := strings.TrimLeftFunc(rest[1:], isBlank)
	r, _ := utf8.DecodeRuneInString(line)
	return len(line) < len(rest[1:]) && isLetter(r) && s.prev != CloseParen
}

// colour takes # and three or six figures to the base of sixteen.
func (s *scanner) colour() (Kind, int) {
	rest := s.text[s.pos+1:]
	n := wordPart(rest)
	if n == 0 {
		return s.odd(1)
	}
	hex := strings.Trim(rest[:n], "0123456789abcdefABCDEF") == ""
	if !hex || n != 3 && n != 6 {
		s.told.add(diag.Diagnostic{
			Code: "bad-colour", At: s.span(s.pos, s.pos+1+n),
			Message: fmt.Sprintf("#%s is no colour", rest[:n]),
			Try:     []string{"a colour is # and six figures of 0 to 9 and a to f: #8a6a2f", "a comment begins with //"},
		})
		return Odd, s.pos + 1 + n
	}
	return Colour, s.pos + 1 + n
}

// odd takes n bytes that belong to no token, or with n zero all the odd characters here, and complains once.
func (s *scanner) odd(n int) (Kind, int) {
	rest := s.text[s.pos:]
	silent := false // the check of characters has spoken
	if n == 0 {
		r, size := utf8.DecodeRuneInString(rest)
		silent = hidden(r) != "" || r == utf8.RuneError && size == 1
		for n = size; n < len(rest); n += size {
			next, size2 := utf8.DecodeRuneInString(rest[n:])
			if next != r || size2 != size {
				break
			}
		}
	}
	if !silent {
		try, with, fix := oddHelp(rest)
		if strings.HasPrefix(rest, "*/") {
			try = "no comment is open here: take it out"
		}
		at := s.span(s.pos, s.pos+n)
		d := diag.Diagnostic{
			Code: "odd-character", At: at,
			Message: fmt.Sprintf("%s belongs to no statement", at.Text()),
			Try:     []string{try},
		}
		if fix {
			if next, _ := utf8.DecodeRuneInString(rest[n:]); with == "" && !isBlank(next) {
				with = " " // what stood on either side stays apart
			}
			d.Fix = &diag.Fix{At: at, With: with}
		}
		s.told.add(d)
	}
	return Odd, s.pos + n
}

// quoted takes a string.
func (s *scanner) quoted() (Kind, int) {
	rest := s.text[s.pos:]
	q, _ := quoteAt(rest)
	n, closed := q.length(rest)
	if q.single && (!closed || s.prev == Word && s.prevEnd == s.pos) { // an apostrophe
		return s.odd(q.size)
	}
	if !closed {
		n = q.size + textOf(rest[q.size:n])
	}
	at := s.span(s.pos, s.pos+n)
	switch {
	case !closed:
		s.told.add(diag.Diagnostic{
			Code: "unclosed-string", At: at,
			Message: "this text is not closed before the end of its line",
			Try:     []string{`put " after its last word`, `a " inside a text is written \"`},
		})
	case q.single:
		body, _ := q.body(rest)
		d := diag.Diagnostic{Code: "single-quotes", At: at, Message: "text stands in double quotes", Try: []string{`"` + body + `"`}}
		if !strings.ContainsAny(body, `"\`) {
			d.Fix = &diag.Fix{At: at, With: `"` + body + `"`}
		}
		s.told.add(d)
	case q.curly:
		if s.curly.n++; s.curly.n == 1 {
			s.curly.first = at
		}
	}
	s.checkString(at, q.size)
	return String, s.pos + n
}

// textOf is how much of an unclosed string is taken for text: a comment, and the braces, semicolons and parentheses at the
// end of the line, are more likely meant for what they are, and taking them too would make more mistakes of one.
func textOf(body string) int {
	if i := strings.Index(body, " //"); i >= 0 {
		body = body[:i]
	}
	return len(strings.TrimRight(body, " \t{};)"))
}

// checkString complains of escapes that mean nothing, and of tabs, which have no width on a spine.
func (s *scanner) checkString(at source.Span, from int) {
	text := at.Text()
	for i := from; i < len(text); i++ {
		switch text[i] {
		case '\t':
			tab := s.span(at.Start+i, at.Start+i+1)
			s.told.add(diag.Diagnostic{
				Code: "hidden-character", At: tab, Message: "a tab stands in this text",
				Try: []string{"write a space"}, Fix: &diag.Fix{At: tab, With: " "},
			})
		case '\\':
			i++
			if i < len(text) && !strings.ContainsRune(`"\`, rune(text[i])) {
				s.told.add(diag.Diagnostic{
					Code: "bad-escape", At: s.span(at.Start+i-1, at.Start+i+1),
					Message: `after \ in a text stands " or \`,
					Try:     []string{`write \\ for a \ in the text`},
				})
			}
		}
	}
}

// finish gives the advice that is given once a file.
func (s *scanner) finish() {
	if s.curly.n == 0 {
		return
	}
	d := diag.Diagnostic{
		Severity: diag.Advice, Code: "curly-quote", At: s.curly.first,
		Message: "curly quotes are taken as plain ones",
		Try:     []string{"headcap format makes them plain"},
	}
	if s.curly.n > 1 {
		d.Message += fmt.Sprintf(" (in %d places)", s.curly.n)
	}
	t := Token{Kind: String, Text: s.curly.first.Text()}
	if c := t.Canonical(); c != t.Text {
		d.Fix = &diag.Fix{At: s.curly.first, With: c}
	}
	s.told.add(d)
}
