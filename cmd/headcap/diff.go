package main

import (
	"fmt"
	"strings"
)

// contextLines is how many lines that stayed are shown round a change.
const contextLines = 3

// longestTable bounds the table of lines against lines; a longer change is shown as one: all out, all in.
const longestTable = 4 << 20

// An edit is one line of a difference: kept (' '), taken out ('-') or put in ('+').
type edit struct {
	sign byte
	line string
}

// unified shows what changes from was to now in the unified form, empty where nothing does.
func unified(name, was, now string) string {
	if was == now {
		return ""
	}
	edits := compareLines(strings.SplitAfter(was, "\n"), strings.SplitAfter(now, "\n"))
	var b strings.Builder
	fmt.Fprintf(&b, "--- %s\n+++ %s, formatted\n", name, name)
	wasLine, nowLine := 1, 1
	for i := 0; i < len(edits); {
		if edits[i].sign == ' ' {
			wasLine, nowLine, i = wasLine+1, nowLine+1, i+1
			continue
		}
		begin := max(0, i-contextLines)
		end, kept := i, 0
		for end < len(edits) && kept <= 2*contextLines {
			if edits[end].sign == ' ' {
				kept++
			} else {
				kept = 0
			}
			end++
		}
		end -= max(0, kept-contextLines)
		writeHunk(&b, edits[begin:end], wasLine-(i-begin), nowLine-(i-begin))
		for ; i < end; i++ {
			if edits[i].sign != '+' {
				wasLine++
			}
			if edits[i].sign != '-' {
				nowLine++
			}
		}
	}
	return b.String()
}

func writeHunk(b *strings.Builder, edits []edit, wasLine, nowLine int) {
	var wasCount, nowCount int
	for _, e := range edits {
		if e.sign != '+' {
			wasCount++
		}
		if e.sign != '-' {
			nowCount++
		}
	}
	// a side without lines is named by the line before it
	if wasCount == 0 {
		wasLine--
	}
	if nowCount == 0 {
		nowLine--
	}
	fmt.Fprintf(b, "@@ -%d,%d +%d,%d @@\n", wasLine, wasCount, nowLine, nowCount)
	for _, e := range edits {
		b.WriteByte(e.sign)
		b.WriteString(e.line)
		if !strings.HasSuffix(e.line, "\n") {
			b.WriteString("\n\\ No newline at end of file\n")
		}
	}
}

// compareLines gives the lines of both, with as many kept as can be in order (a longest common subsequence).
func compareLines(was, now []string) []edit {
	was, now = withoutEmptyEnd(was), withoutEmptyEnd(now)
	head := 0
	for head < len(was) && head < len(now) && was[head] == now[head] {
		head++
	}
	tail := 0
	for tail < len(was)-head && tail < len(now)-head && was[len(was)-1-tail] == now[len(now)-1-tail] {
		tail++
	}
	out := signed(nil, ' ', was[:head])
	a, b := was[head:len(was)-tail], now[head:len(now)-tail]
	if (len(a)+1)*(len(b)+1) > longestTable {
		out = signed(signed(out, '-', a), '+', b)
	} else {
		out = common(out, a, b)
	}
	return signed(out, ' ', was[len(was)-tail:])
}

// withoutEmptyEnd drops what SplitAfter finds after the last end of line.
func withoutEmptyEnd(lines []string) []string {
	if n := len(lines); n > 0 && lines[n-1] == "" {
		return lines[:n-1]
	}
	return lines
}

func signed(out []edit, sign byte, lines []string) []edit {
	for _, l := range lines {
		out = append(out, edit{sign, l})
	}
	return out
}

// common walks the table of the lengths of common subsequences of what follows.
func common(out []edit, a, b []string) []edit {
	width := len(b) + 1
	length := make([]int32, (len(a)+1)*width)
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				length[i*width+j] = length[(i+1)*width+j+1] + 1
			} else {
				length[i*width+j] = max(length[(i+1)*width+j], length[i*width+j+1])
			}
		}
	}
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		switch {
		case a[i] == b[j]:
			out = append(out, edit{' ', a[i]})
			i, j = i+1, j+1
		case length[(i+1)*width+j] >= length[i*width+j+1]:
			out = append(out, edit{'-', a[i]})
			i++
		default:
			out = append(out, edit{'+', b[j]})
			j++
		}
	}
	return signed(signed(out, '-', a[i:]), '+', b[j:])
}
