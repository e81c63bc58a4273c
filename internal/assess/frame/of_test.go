package frame

import (
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// of is Watched with nobody who watches it, which nothing ends.
func of(b *project.Build, lines []Line, from *uncertain.Sources) *Result {
	r, _ := Watched(Watch{}, b, lines, from)
	return r
}
