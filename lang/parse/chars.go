package parse

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"headcap/lang/diag"
	"headcap/lang/source"
)

// hidden names a character that no one sees but that changes what is seen or read, empty for all others. Titles come from
// here onto the book, and a direction override would show a reviewer another text than the blade cuts.
func hidden(r rune) string {
	switch {
	case r == '\t' || r == '\n':
		return ""
	case r == '\r':
		return "carriage return without a line feed"
	case r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069:
		return "direction override"
	case r == 0x2028:
		return "line separator"
	case r == 0x2029:
		return "paragraph separator"
	case r == 0xFEFF:
		return "byte order mark"
	case r == 0x200B:
		return "zero-width space"
	case unicode.IsControl(r):
		return "control character"
	}
	return ""
}

// checkCharacters complains of what is no text, and of what hides, wherever it stands, comments too: one complaint for
// neighbours. A byte order mark may open the file, and a carriage return may stand before a line feed.
func checkCharacters(src *source.File, told *complaints) {
	text := src.Text
	var from int    // where the run of like characters began
	var name string // what they are, empty for none
	var sample rune // the first of them
	flush := func(end int) {
		if name != "" {
			told.add(characterTrouble(source.Span{File: src, Start: from, End: end}, name, sample))
		}
		name = ""
	}
	for i := 0; i < len(text) && !told.full(); {
		if c := text[i]; c >= ' ' && c < 0x7f || c == '\n' || c == '\t' { // nearly all of a source
			flush(i)
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		is := hidden(r)
		switch {
		case r == utf8.RuneError && size == 1:
			is = notText
		case r == '\r' && strings.HasPrefix(text[i:], "\r\n"), r == 0xFEFF && i == 0:
			is = ""
		}
		if is != name {
			flush(i)
			from, name, sample = i, is, r
		}
		i += size
	}
	flush(len(text))
}

const notText = "not UTF-8"

func characterTrouble(at source.Span, name string, r rune) diag.Diagnostic {
	if name == notText {
		return diag.Diagnostic{
			Code: "not-utf8", At: at,
			Message: fmt.Sprintf("this is not text in UTF-8 (byte 0x%02X)", at.Text()[0]),
			Try:     []string{"save the file as UTF-8"},
		}
	}
	return diag.Diagnostic{
		Code: "hidden-character", At: at,
		Message: fmt.Sprintf("a character that cannot be seen stands here: U+%04X, %s", r, name),
		Try:     []string{"take it out"},
		Fix:     &diag.Fix{At: at},
	}
}

// oddHelp is what to try for a character that comes from another notation.
func oddHelp(text string) (try, with string, fix bool) {
	switch r, _ := utf8.DecodeRuneInString(text); r {
	case ':':
		return "a value follows its word with a space: take the colon out", "", true
	case '[':
		return "write (", "(", true
	case ']':
		return "write )", ")", true
	case '%':
		return "write the figure and its % in one piece: 70%", "", false
	case '#':
		return "a comment begins with //, and a colour is # and six figures: #8a6a2f", "", false
	case '.':
		return "a dot stands between a file's name and a name in it, or in a number", "", false
	case '…':
		return "write out what is left out here", "", false
	case '\'', '‘', '’':
		return `text stands in double quotes: "…"`, "", false
	}
	return "take it out, or put text in quotes", "", false
}
