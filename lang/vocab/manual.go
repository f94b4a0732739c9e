package vocab

import (
	"fmt"
	"slices"
	"strings"
)

// Manual gives the chapter of a word: every meaning that it has, with where it stands and what it takes. ok is false for
// a word that is none.
func Manual(word string) (text string, ok bool) {
	if s, is := spellings[word]; is {
		word = s
	}
	words := byName[word]
	if words == nil {
		return "", false
	}
	var out strings.Builder
	for i, w := range words {
		if i > 0 {
			out.WriteString("\n")
		}
		fmt.Fprintf(&out, "%s: in %s\n", w.Name, placeList(w.In))
		for _, u := range w.Usage() {
			fmt.Fprintf(&out, "    %s%s\n", u, block(w))
		}
		fmt.Fprintf(&out, "  %s\n", w.Doc)
		if w.Default != "" {
			fmt.Fprintf(&out, "  Default: %s.\n", w.Default)
		}
		if len(w.Also) > 0 {
			fmt.Fprintf(&out, "  Also written %s.\n", strings.Join(w.Also, ", "))
		}
		fmt.Fprintf(&out, "  Said again: %s.\n", again(w))
		if w.Opens != "" && w.Opens != Same && w.Opens != Either {
			fmt.Fprintf(&out, "  Its block holds: %s.\n", strings.Join(Words(w.Opens), ", "))
		}
		fmt.Fprintf(&out, "  Example: %s\n", w.Example)
	}
	return out.String(), true
}

func block(w *Word) string {
	switch {
	case w.Opens == "":
		return ""
	case w.Must:
		return " { … }"
	}
	return " [{ … }]"
}

func again(w *Word) string {
	switch w.Merge {
	case Once:
		return "the later one replaces the earlier"
	case Keyed:
		return "what has the same name or kind is added to or replaced; others stand beside it"
	}
	return "each adds"
}

func placeList(ps []Place) string {
	var out []string
	for _, p := range ps {
		switch p {
		case File:
			out = append(out, "the file itself")
		case Cover:
			out = append(out, "front and back")
		default:
			out = append(out, string(p))
		}
	}
	return strings.Join(out, ", ")
}

// Index lists all words by the place where they stand.
func Index() string {
	var out strings.Builder
	for _, p := range []Place{File, Film, Leather, Stamp, Roll, Series, Volume, Binding, Covered, Spine, Cover, Panel, Frame, Letter} {
		fmt.Fprintf(&out, "%s\n", placeList([]Place{p}))
		var seen []string
		for i := range All {
			w := &All[i]
			if slices.Contains(w.In, p) && !slices.Contains(seen, w.Name) {
				seen = append(seen, w.Name)
				first, _, _ := strings.Cut(w.Doc, ". ")
				fmt.Fprintf(&out, "  %-12s %s\n", w.Name, strings.TrimSuffix(first, "."))
			}
		}
	}
	return out.String()
}
