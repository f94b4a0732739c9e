// Package diag is what the compiler has to say about a source: one type for every phase and every surface.
package diag

import (
	"cmp"
	"slices"

	"headcap/lang/source"
)

// Severity says what follows from a diagnostic. After an error nothing of that volume is written; a warning is a likely
// mistake; advice is the craft's, and the binder may know better.
type Severity uint8

// The severities, the gravest first.
const (
	Error Severity = iota
	Warning
	Advice
)

func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	}
	return "advice"
}

// A Note is a further place that bears on a diagnostic.
type Note struct {
	At   source.Span
	Text string
}

// A Fix is one replacement that mends the matter.
type Fix struct {
	At   source.Span
	With string
}

// A Diagnostic says what was seen, what was wanted (Message) and what to try (Try, each one line). Code is a few words
// joined by hyphens, such as unknown-stamp: `headcap words CODE` is its chapter. Volume is the key of the volume that it
// concerns, empty where it concerns the whole file.
type Diagnostic struct {
	Severity Severity
	Code     string
	Message  string
	At       source.Span
	Notes    []Note
	Try      []string
	Fix      *Fix
	Volume   string
}

// A List gathers diagnostics. The zero List is ready.
type List struct {
	all   []Diagnostic
	index map[complaint]int // where in all
}

// A complaint is what makes two diagnostics the same.
type complaint struct {
	at            source.Span
	code, message string
}

// Add adds a diagnostic, unless the very same complaint stands there already.
func (l *List) Add(d Diagnostic) {
	c := complaint{d.At, d.Code, d.Message}
	if i, ok := l.index[c]; ok {
		if o := &l.all[i]; o.Volume != d.Volume {
			o.Volume = "" // it concerns more than one
		}
		return
	}
	if l.index == nil {
		l.index = map[complaint]int{}
	}
	l.index[c] = len(l.all)
	l.all = append(l.all, d)
}

// All gives the diagnostics sorted by file and place.
func (l *List) All() []Diagnostic {
	out := slices.Clone(l.all)
	slices.SortStableFunc(out, func(a, b Diagnostic) int {
		return cmp.Or(
			cmp.Compare(path(a.At), path(b.At)),
			cmp.Compare(a.At.Start, b.At.Start),
			cmp.Compare(a.Severity, b.Severity),
			cmp.Compare(a.Message, b.Message),
		)
	})
	return out
}

func path(s source.Span) string {
	if s.File == nil {
		return ""
	}
	return s.File.Path
}

// Attribute gives the diagnostics that concern no volume yet to the volume that of names, where it names one.
func (l *List) Attribute(of func(Diagnostic) string) {
	for i := range l.all {
		if l.all[i].Volume == "" {
			l.all[i].Volume = of(l.all[i])
		}
	}
}

// Count is the number of diagnostics of a severity.
func (l *List) Count(s Severity) int {
	n := 0
	for _, d := range l.all {
		if d.Severity == s {
			n++
		}
	}
	return n
}

// Errors says whether there is any error.
func (l *List) Errors() bool { return l.Count(Error) > 0 }

// Spoilt says whether there is an error that keeps the volume from being written: its own, or one of the whole file.
func (l *List) Spoilt(volume string) bool {
	for _, d := range l.all {
		if d.Severity == Error && (d.Volume == "" || d.Volume == volume) {
			return true
		}
	}
	return false
}
