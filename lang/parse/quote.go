package parse

import (
	"strings"
	"unicode/utf8"
)

// A quote is how a string is quoted: by its opening mark, of size bytes, and the marks that may close it.
type quote struct {
	size   int
	closes string // any of these
	curly  bool   // taken, with advice
	single bool   // an error, since a foot mark and an apostrophe look the same
}

// quoteAt tells how a string at the beginning of text is quoted; ok is false where none begins.
func quoteAt(text string) (q quote, ok bool) {
	r, size := utf8.DecodeRuneInString(text)
	switch r {
	case '"':
		return quote{size: size, closes: `"`}, true
	case '“', '”', '„':
		return quote{size: size, closes: `“”"`, curly: true}, true
	case '\'', '‘', '’':
		return quote{size: size, closes: `'‘’`, single: true}, true
	}
	return quote{}, false
}

// length is the length of the string at the beginning of text, both marks counted; closed is false where its line ends
// before it.
func (q quote) length(text string) (n int, closed bool) {
	line := text
	if i := strings.IndexByte(text, '\n'); i >= 0 {
		line = strings.TrimSuffix(text[:i], "\r")
	}
	for i := q.size; i < len(line); {
		r, size := utf8.DecodeRuneInString(line[i:])
		switch {
		case r == '\\' && i+1 < len(line):
			_, escaped := utf8.DecodeRuneInString(line[i+1:])
			size += escaped
		case strings.ContainsRune(q.closes, r):
			return i + size, true
		}
		i += size
	}
	if q.closes == `"` { // typed straight, and closed by a hand that curls
		if i := strings.Index(line[q.size:], "”"); i >= 0 {
			return q.size + i + len("”"), true
		}
	}
	return len(line), false
}

// body is what stands between the marks, escapes and all.
func (q quote) body(text string) (body string, closed bool) {
	n, closed := q.length(text)
	if !closed {
		return text[q.size:], false
	}
	_, last := utf8.DecodeLastRuneInString(text[:n])
	return text[q.size : n-last], true
}

// unquote takes away the marks of a string, its escapes, and what cannot be seen.
func unquote(text string) string {
	q, ok := quoteAt(text)
	if !ok {
		return text
	}
	body, _ := q.body(text)
	if !strings.ContainsFunc(body, func(r rune) bool { return r == '\\' || hidden(r) != "" || r == '\t' || r == utf8.RuneError }) {
		return body
	}
	var b strings.Builder
	escaped := false
	for i, r := range body {
		bad := r == utf8.RuneError && !strings.HasPrefix(body[i:], "\uFFFD")
		switch {
		case r == '\\' && !escaped && i+1 < len(body):
			escaped = true
			continue
		case r == '\t':
			b.WriteByte(' ')
		case !bad && hidden(r) == "":
			b.WriteRune(r)
		}
		escaped = false
	}
	return b.String()
}
