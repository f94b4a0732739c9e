// Package source holds texts and places in them: files, spans, and origins that stay the same while a file is edited.
package source

import (
	"sort"
	"strings"
	"unicode/utf8"
)

// A File is one source text. Path is slash-separated and relative to the project's root; Text is as read.
type File struct {
	Path  string
	Text  string
	lines []int // offsets at which lines begin
}

// NewFile makes a File and finds its lines.
func NewFile(path, text string) *File {
	f := &File{Path: path, Text: text, lines: make([]int, 1, strings.Count(text, "\n")+1)}
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' {
			f.lines = append(f.lines, i+1)
		}
	}
	return f
}

// Lines is the number of lines.
func (f *File) Lines() int { return len(f.lines) }

// Position gives the line and column of an offset, both from 1; columns count characters.
func (f *File) Position(offset int) (line, column int) {
	offset = max(0, min(offset, len(f.Text)))
	i := sort.SearchInts(f.lines, offset+1) - 1
	return i + 1, utf8.RuneCountInString(f.Text[f.lines[i]:offset]) + 1
}

// LineStart gives the offset at which a line, from 1, begins; for a line beyond the last, the end of the text.
func (f *File) LineStart(n int) int {
	if n > len(f.lines) {
		return len(f.Text)
	}
	return f.lines[max(n, 1)-1]
}

// Line gives the text of a line, from 1, without its end.
func (f *File) Line(n int) string {
	if n < 1 || n > len(f.lines) {
		return ""
	}
	end := len(f.Text)
	if n < len(f.lines) {
		end = f.lines[n]
	}
	return strings.TrimRight(f.Text[f.lines[n-1]:end], "\r\n")
}

// A Span is a stretch of a file, in bytes, End not included. The zero Span is nowhere.
type Span struct {
	File       *File
	Start, End int
}

// Known says whether the span is anywhere.
func (s Span) Known() bool { return s.File != nil }

// Text is what the span covers.
func (s Span) Text() string {
	if s.File == nil {
		return ""
	}
	return s.File.Text[s.Start:s.End]
}

// Join is the smallest span that covers both; they must lie in one file.
func (s Span) Join(t Span) Span {
	switch {
	case s.File == nil:
		return t
	case t.File != s.File:
		return s
	}
	return Span{s.File, min(s.Start, t.Start), max(s.End, t.End)}
}
