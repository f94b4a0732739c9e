package vocab

import "strings"

// textChapters are of the text as such: its characters, quotes, comments, and how much of it there is.
var textChapters = []Chapter{
	{
		Code: "not-utf8", Severities: anError,
		Doc:   "The file holds bytes that are no text in UTF-8, so it cannot be said which letter was meant, and a wrong letter would be cut as it stands. Save the file as UTF-8 in your editor.",
		Wrong: "language 1\nstamp pearl { about \"no wider than a pearl\"; circle 2mm } // caf\xe9\n",
		Right: "language 1\nstamp pearl { about \"no wider than a pearl\"; circle 2mm } // café\n",
	},
	{
		Code: "hidden-character", Severities: anError,
		Doc:   "A character stands here that nobody sees: one that turns the direction of the text, a space of no width, a tab in a title. Such text reads one way on the screen and comes off the blade another. Take it out.",
		Wrong: "language 1\nstamp pearl { about \"a\u200b pearl\"; circle 2mm }\n",
		Right: "language 1\nstamp pearl { about \"a pearl\"; circle 2mm }\n",
	},
	{
		Code: "odd-character", Severities: anError,
		Doc:   "A character stands here that means nothing between words and measures; often it comes from another notation, or a dash came in for a minus. It is passed over, and nothing is cut until it is gone. The message says what is written instead.",
		Wrong: "language 1\nstamp pearl { circle: 2mm }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\n",
	},
	{
		Code: "unclosed-string", Severities: anError,
		Doc:   "A text begins here and its line ends before it is closed. Where it was to end can only be guessed, and a title is cut to the letter. Put \" after its last word.",
		Wrong: "language 1\nstamp pearl {\n  about \"a pearl\n  circle 2mm\n}\n",
		Right: "language 1\nstamp pearl {\n  about \"a pearl\"\n  circle 2mm\n}\n",
	},
	{
		Code: "single-quotes", Severities: anError,
		Doc:   "A text stands in single quotes. They look like an apostrophe and like a foot mark, so texts take double ones. Write \"…\".",
		Wrong: "language 1\nstamp pearl { about 'a pearl'; circle 2mm }\n",
		Right: "language 1\nstamp pearl { about \"a pearl\"; circle 2mm }\n",
	},
	{
		Code: "curly-quote", Severities: anAdvice,
		Doc:   "Texts here stand in curly quotes, as a word processor writes them. They are read as plain ones, and nothing is wrong; `headcap format` makes them plain, so that the next hand need not wonder.",
		Wrong: "language 1\nstamp pearl { about “a pearl”; circle 2mm }\n",
		Right: "language 1\nstamp pearl { about \"a pearl\"; circle 2mm }\n",
	},
	{
		Code: "bad-escape", Severities: anError,
		Doc:   "In a text \\ makes the \" or \\ after it a plain one, and nothing else may follow it. Write \\\\ where a \\ is meant.",
		Wrong: "language 1\nstamp pearl { about \"black\\white\"; circle 2mm }\n",
		Right: "language 1\nstamp pearl { about \"black\\\\white\"; circle 2mm }\n",
	},
	{
		Code: "empty-text", Severities: anError,
		Doc:   "This text says nothing, so there is nothing to set or to call the thing by. Write what it should say, or take the statement away.",
		Wrong: "language 1\nstamp pearl { about \"\"; circle 2mm }\n",
		Right: "language 1\nstamp pearl { about \"a pearl\"; circle 2mm }\n",
	},
	{
		Code: "unclosed-comment", Severities: anError,
		Doc:   "A comment begins here and is never closed, so all that follows is taken for a part of it and would not be cut. Put */ where it ends, or begin a comment of one line with //.",
		Wrong: "language 1\n/* the smallest stamp\nstamp pearl { circle 2mm }\n",
		Right: "language 1\n/* the smallest stamp */\nstamp pearl { circle 2mm }\n",
	},
	{
		Code: "too-large", Severities: anError,
		Doc:     "The file is larger than any library needs: a source has at most 8 MiB and 400,000 words, figures and marks, so that it is read within a second or two. Part it into several files and bring them together with `use`.",
		Without: "it would fill the manual",
	},
	{
		Code: "too-deep", Severities: anError,
		Doc:   "More than 64 blocks or parentheses stand inside one another. No binding needs that; most often a closing one was forgotten, again and again. Close those that are done.",
		Wrong: "language 1\nlet edge = " + strings.Repeat("(", 65) + "7mm" + strings.Repeat(")", 65) + "\n",
		Right: "language 1\nlet edge = (7mm)\n",
	},
	{
		Code: "too-many", Severities: anError,
		Doc:   "A hundred mistakes have been told of this file, and the rest are kept back. Mend these first; if there are so many, see whether this is a Headcap source at all.",
		Wrong: "language 1\n" + strings.Repeat("?!", 50) + "\n",
		Right: "language 1\n",
	},
}

// markChapters are of commas, braces and parentheses.
var markChapters = []Chapter{
	{
		Code: "trailing-comma", Severities: anError,
		Doc:   "The line ends with a comma, which would take the next statement into the list. Take the comma away; a list that goes over several lines stands in parentheses.",
		Wrong: "language 1\npattern fen for spine {\n  without bands 2, 3,\n  bands 5 equal\n}\n",
		Right: "language 1\npattern fen for spine {\n  without bands 2, 3\n  bands 5 equal\n}\n",
	},
	{
		Code: "empty-item", Severities: anError,
		Doc:   "There is a comma with nothing before it: an item is missing from the list, or the comma is one too many. Write the item, or take the comma away.",
		Wrong: "language 1\npattern fen for spine { bands 5 equal; without bands 2,, 3 }\n",
		Right: "language 1\npattern fen for spine { bands 5 equal; without bands 2, 3 }\n",
	},
	{
		Code: "brace-apart", Severities: anError,
		Doc:   "A statement ends with its line, so the { of its block stands on the line of its word. Put it at the end of the line before.",
		Wrong: "language 1\nstamp pearl\n{\n  circle 2mm\n}\n",
		Right: "language 1\nstamp pearl {\n  circle 2mm\n}\n",
	},
	{
		Code: "missing-brace", Severities: anError,
		Doc:   "The block that begins here is not closed, so what was meant to follow it would count as a part of it. The lines' own indentation shows where it should end: put a } there.",
		Wrong: "language 1\nstamp pearl {\n  circle 2mm\nstamp bead { circle 1mm }\n",
		Right: "language 1\nstamp pearl {\n  circle 2mm\n}\nstamp bead { circle 1mm }\n",
	},
	{
		Code: "stray-brace", Severities: anError,
		Doc:   "This } closes nothing. Take it away; or the block that it should close lacks its { after a word.",
		Wrong: "language 1\nstamp pearl { circle 2mm } }\n",
		Right: "language 1\nstamp pearl { circle 2mm }\n",
	},
	{
		Code: "unclosed-parenthesis", Severities: anError,
		Doc:   "This ( is not closed before its statement ends. Put ) where the sum or the list ends; lines that belong to it stand deeper than the line that it began on.",
		Wrong: "language 1\nlet edge = (7mm - 1mm\n",
		Right: "language 1\nlet edge = (7mm - 1mm)\n",
	},
	{
		Code: "stray-parenthesis", Severities: anError,
		Doc:   "This ) closes nothing. Take it away, or open the parenthesis that it should close.",
		Wrong: "language 1\nlet edge = 7mm)\n",
		Right: "language 1\nlet edge = 7mm\n",
	},
	{
		Code: "empty-parentheses", Severities: anError,
		Doc:   "Nothing stands in these parentheses. Take them away, or write what was to stand in them.",
		Wrong: "language 1\nlet edge = 7mm ()\n",
		Right: "language 1\nlet edge = 7mm\n",
	},
	{
		Code: "not-a-statement", Severities: anError,
		Doc:   "Every statement begins with a word that says what it is about; a figure, a text or a block alone does not say what it is for. Write the word, or put the rest on the line of its word.",
		Wrong: "language 1\npattern fen for spine {\n  bands 5 equal\n  5mm\n}\n",
		Right: "language 1\npattern fen for spine {\n  bands 5 equal\n  bands wide 5mm\n}\n",
	},
	{
		Code: "unexpected", Severities: anError,
		Doc:     "The reading stopped here, at something that none of the other messages is about. Write the statement anew, and please tell us of it.",
		Without: "the reading is made so that nobody should ever see this",
	},
}
