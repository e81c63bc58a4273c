package theme

import (
	"regexp"
	"strconv"
	"strings"
)

// Two marks of no width say where the terminal's own cursor belongs: Caret stands
// before the cell in which text is typed, Point before the row that the cursor is
// on. They are taken out of a frame before it goes to the terminal. As codes
// (SGR 10, ECMA-48) they would choose the font that it has anyway.
const (
	Caret = "\x1b[10m"
	Point = "\x1b[10;10m"
)

// Pointer is the mark before a row that has the cursor.
func (g Glyphs) Pointer() string { return Point + g.Focus + " " }

// Hit is the mark on the lines of the row of a list on which the cursor can stand,
// counted from 0: what a click chooses.
func Hit(row int) string { return "\x1b[10;10;" + strconv.Itoa(row+100) + "m" }

// Target is a row of a list where it is drawn.
type Target struct{ X, Y, Row int }

// Targets finds the rows of lists in drawn lines.
func Targets(lines []string) []Target {
	var out []Target
	hits := hits()
	for y, l := range lines {
		if !strings.Contains(l, "\x1b[10;10;") {
			continue
		}
		for _, at := range hits.FindAllStringSubmatchIndex(l, -1) {
			if n, err := strconv.Atoi(l[at[2]:at[3]]); err == nil {
				out = append(out, Target{Width(l[:at[0]]), y, n - 100})
			}
		}
	}
	return out
}

func hits() *regexp.Regexp { return regexp.MustCompile("\x1b\\[10;10;([0-9]+)m") }

// Spot finds where the cursor belongs in drawn lines: in the text that is typed on
// the row with the cursor, or else on that row, or else in a text that is typed.
func Spot(lines []string) (x, y int, ok bool) {
	onRow := false
	for i, l := range lines {
		if !strings.Contains(l, "\x1b[10") {
			continue
		}
		row, typed := strings.LastIndex(l, Point), strings.LastIndex(l, Caret)
		switch {
		case row >= 0 && typed > row, row < 0 && typed >= 0 && !onRow:
			x, y, ok = Width(l[:typed]), i, true
		case row >= 0:
			x, y, ok = Width(l[:row]), i, true
		}
		onRow = onRow || row >= 0
	}
	return x, y, ok
}

// Unmarked takes the marks out of lines.
func Unmarked(lines []string) {
	for i, l := range lines {
		if !strings.Contains(l, "\x1b[10") {
			continue
		}
		lines[i] = strings.NewReplacer(Caret, "", Point, "").Replace(l)
		if strings.Contains(l, "\x1b[10;10;") {
			lines[i] = hits().ReplaceAllString(lines[i], "")
		}
	}
}
