package project

import "fitup/internal/spell"

// Nearest returns the candidate that takes the fewest changes of a letter to
// get from word (Levenshtein distance), when that is few enough to be a slip.
func Nearest(word string, candidates []string) (string, bool) {
	best, at := "", len(word)/3+2
	for _, c := range candidates {
		if d, ok := spell.Nearer(word, c, at); ok {
			best, at = c, d
		}
	}
	return best, best != ""
}
