package diag

import "strings"

// longestWord bounds the work of Suggest on words that nobody meant.
const longestWord = 64

// Suggest gives the word of from that was most likely meant by word, empty where none is near. The distance counts letters
// wrong, missing, too many, and neighbours that changed places (optimal string alignment); a wrong first letter counts half
// a letter more, since it is the one that people seldom miss. A word of up to three letters may be one letter off, a longer
// one two, and never half or more of its letters. Capitals do not count. Of equals the first of from wins.
func Suggest(word string, from []string) string {
	w := []rune(strings.ToLower(word))
	if len(w) == 0 || len(w) > longestWord {
		return ""
	}
	best, least := "", 0
	for _, f := range from {
		c := []rune(strings.ToLower(f))
		if len(c) == 0 || len(c) > longestWord {
			continue
		}
		if d := halves(w, c); d <= allowed(w, c) && (best == "" || d < least) {
			best, least = f, d
		}
	}
	return best
}

// allowed is the most half letters by which two words may differ and still be taken for each other.
func allowed(a, b []rune) int {
	n := max(len(a), len(b))
	switch {
	case n == 1:
		return 0
	case n <= 3:
		return 2
	}
	return min(5, n-1)
}

// halves is the distance of two words in half letters.
func halves(a, b []rune) int {
	d := 2 * distance(a, b)
	if d > 0 && a[0] != b[0] {
		d++
	}
	return d
}

// distance is the optimal string alignment distance: the fewest single letters changed, put in, left out, or swapped with
// their neighbour, no letter twice.
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
