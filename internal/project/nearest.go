package project

// Nearest returns the candidate that takes the fewest changes of a letter to
// get from word (Levenshtein distance), when that is few enough to be a slip.
func Nearest(word string, candidates []string) (string, bool) {
	best, at := "", len(word)/3+2
	for _, c := range candidates {
		if d := editDistance(word, c); d < at {
			best, at = c, d
		}
	}
	return best, best != ""
}

func editDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range x {
		diag := row[0]
		row[0] = i + 1
		for j, s := range y {
			cost := diag
			if r != s {
				cost++
			}
			diag = row[j+1]
			row[j+1] = min(cost, row[j]+1, diag+1)
		}
	}
	return row[len(y)]
}
