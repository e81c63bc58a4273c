package book

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A page begins with no less than the last rows of a table and what is noted under it, at
// whatever height the page before ends.
func TestNoPageHasARowAlone(t *testing.T) {
	for above := range 60 {
		rows := [][]string{}
		for i := range 30 {
			rows = append(rows, []string{fmt.Sprintf("row %d", i), "value"})
		}
		var items []Item
		for i := range above {
			items = append(items, text(0, fmt.Sprintf("line %d", i))...)
		}
		chapter := Chapter{Key: "room", Title: "Room", Sections: []Section{
			{Head: "", Items: items},
			{Head: "A table", Items: append([]Item{grid([]string{"name", "is"}, rows)}, text(0, "a note under it")...)},
			{Head: "Texts", Items: append(text(0, "one"), append(text(0, "two"), text(0, "three")...)...)},
		}}
		pages := Pages([]Chapter{chapter}, PaperSizes()[0], Origin{})
		require.NotEmpty(t, pages)
		for _, p := range pages {
			said := p.String()
			if strings.Contains(said, "row 29") {
				assert.Contains(t, said, "row 26", "with %d lines above", above)
				assert.Contains(t, said, "a note under it", "with %d lines above", above)
			}
			if strings.Contains(said, "three") {
				assert.Contains(t, said, "two", "with %d lines above", above)
			}
		}
	}
}

// What many things share is said once, and nothing of it is lost.
func TestWhatManySayIsSaidOnce(t *testing.T) {
	var g gathered
	for i := range 40 {
		g.add("not known", fmt.Sprintf("m%d bracket", i), fmt.Sprintf("m%d bracket is not known", i))
	}
	g.add("over", "rear joint 1", "rear joint 1 is over")
	g.add("over", "rear joint 2", "rear joint 2 is over")
	singly, together := g.said()
	assert.Equal(t, []string{"rear joint 1 is over", "rear joint 2 is over"}, singly)
	require.Len(t, together, 1)
	assert.True(t, strings.HasPrefix(together[0], "Not known (40): m0 bracket; m1 bracket; "), together[0])
	for i := range 40 {
		assert.Contains(t, together[0]+";", fmt.Sprintf(" m%d bracket", i))
	}
}
