package rules

import (
	"slices"
	"strings"
	"unicode"
)

// fold makes words comparable: small letters, single spaces, no marks.
func fold(s string) string { return strings.Join(fields(s), " ") }

// fields is the words of a text in small letters, without punctuation.
func fields(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// contains tells whether the words stand one after another in the text.
func contains(text, words []string) bool { return index(text, words) >= 0 }

// index is where the words first stand one after another in the text, or -1.
func index(text, words []string) int {
	if len(words) == 0 {
		return -1
	}
	for i := 0; i+len(words) <= len(text); i++ {
		if slices.Equal(text[i:i+len(words)], words) {
			return i
		}
	}
	return -1
}

// distance is how many letters must change, go or come to make one word of the
// other (Levenshtein).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		last := row[0]
		row[0] = i + 1
		for j := range y {
			keep := last
			if x[i] != y[j] {
				keep++
			}
			last = row[j+1]
			row[j+1] = min(keep, row[j]+1, last+1)
		}
	}
	return row[len(y)]
}
