// Package spell tells how alike two words are, for "did you mean", and keeps a word
// from a file short enough to be said.
package spell

import "unicode/utf8"

// Clip keeps a name from a file short enough for one line.
func Clip(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

// Distance counts the letters to put in, take out or change to turn a into b
// (Levenshtein 1966).
func Distance(a, b string) int {
	d, _ := Nearer(a, b, len(a)+len(b)+1)
	return d
}

// Nearer is the distance of a and b where it is less than that; else false, mostly
// without having counted it.
func Nearer(a, b string, than int) (int, bool) {
	// No word can be turned into another by fewer letters than they differ in length.
	if d := utf8.RuneCountInString(a) - utf8.RuneCountInString(b); max(d, -d) >= than {
		return 0, false
	}
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range x {
		diag := row[0]
		row[0] = i + 1
		least := row[0]
		for j, s := range y {
			cost := diag
			if r != s {
				cost++
			}
			diag = row[j+1]
			row[j+1] = min(cost, row[j]+1, diag+1)
			least = min(least, row[j+1])
		}
		if least >= than { // it does not get less from one row to the next
			return 0, false
		}
	}
	d := row[len(y)]
	return d, d < than
}
