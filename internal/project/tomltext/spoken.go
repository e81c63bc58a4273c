package tomltext

import (
	"strconv"
	"strings"
)

// Spoken is a path of a node as a person writes it: entries of lists by their number
// from 1.
func Spoken(path string) string {
	var out strings.Builder
	for {
		before, rest, ok := strings.Cut(path, "[")
		out.WriteString(before)
		digits, after, closed := strings.Cut(rest, "]")
		i, err := strconv.Atoi(digits)
		if !ok || !closed || err != nil {
			return out.String()
		}
		out.WriteString("." + strconv.Itoa(i+1))
		path = after
	}
}
