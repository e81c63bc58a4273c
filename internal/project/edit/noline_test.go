package edit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWordsOfWhichOnePartIsAPoint(t *testing.T) {
	f := parse(t, "format = 3\n[point.rail_lf]\n[point.rail_rr]\n")
	for words, want := range map[string][2]string{
		"rail lf to rail rr":         {},
		"rail lf to rail lr":         {"", "there is no [point.rail_lr] in this file; did you mean rail lf? For a new point write point.rail_lr"},
		"rail rx over rail lf":       {"", "there is no [point.rail_rx] in this file; did you mean rail rr? For a new point write point.rail_rx"},
		"rail lf to rail lf":         {"", "nothing is measured from point.rail_lf to itself"},
		"rail lf to bulkhead":        {"it is no line of the survey, for there is no [point.bulkhead]: for a new point write point.bulkhead", ""},
		"point.rail_lf to point.new": {},
		"left front to right rear":   {},
		"width":                      {},
	} {
		note, err := NoLine(f, words)
		assert.Equal(t, want[0], note, words)
		if want[1] == "" {
			assert.NoError(t, err, words)
		} else {
			assert.EqualError(t, err, want[1], words)
		}
	}
}
