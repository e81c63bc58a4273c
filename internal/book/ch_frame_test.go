package book

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/example"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// chapterText is what a chapter says, as Markdown.
func chapterText(t *testing.T, a *assess.Assessment, key string) string {
	t.Helper()
	cs, err := Chapters(nil, a, PaperSizes()[0], from, key)
	require.NoError(t, err)
	return strings.ReplaceAll(Markdown(cs, from), `\`, "")
}

// The demo's frame stands 3.1 mm out of square; the book says it, which tape was slipped
// and which to take next, and shows the frame from above.
func TestBookOfTheFrame(t *testing.T) {
	a := assessed(t, string(starter.Demo()))
	text := chapterText(t, a, "frame")
	f, ok := a.Finding(finding.FrameSquare)
	require.True(t, ok)
	for _, s := range []string{
		"left rail ahead of the right | 3.0 mm ± 0.4 mm", f.Title + " | over", "reads 10.4 mm more than the others say. It alone explains",
		"To measure next: ", "The frame from above, the front at the left: errors 20 times", "is for qualified people",
	} {
		assert.Contains(t, text, s)
	}
	for _, l := range a.Frame.Now.Lines {
		assert.Contains(t, text, "| "+l.Name+" | ")
	}
	for _, p := range a.Frame.Now.Points() {
		assert.Contains(t, text, "| "+p.Name+" | ")
	}
}

// A subframe that was hung turned by 0.4° has corners that move as the bench says.
func TestBookOfASubframe(t *testing.T) {
	a := assessed(t, example.Hung(0.4))
	text := chapterText(t, a, "subframe")
	for _, p := range a.Subframes[0].Points {
		assert.Contains(t, text, sentence(assess.SubframeMoves(p, a.Build.Units)), p.Name)
	}
	assert.Contains(t, text, "turned, rear to the right | 0.40°")
	assert.Contains(t, text, "Front subframe from above")
}

// Each of these chapters has every finding of its trade, and its caution.
func TestChassisChaptersHaveTheirFindings(t *testing.T) {
	t.Parallel()
	all, err := os.ReadFile(filepath.Join("..", "..", "testdata", "example.toml"))
	require.NoError(t, err)
	for _, c := range []struct {
		build, key, caution string
		by                  finding.Trade
	}{
		{string(all), "rails", "screening figures", finding.RailTrade},
		{string(all), "steering", assess.SteeringCaution, finding.SteerTrade},
		{example.Pickups(), "pickups", assess.PickupCaution, finding.PickupTrade},
		{example.Piped, "room", "Heat: ", finding.ClearTrade},
		{example.Hung(0.4), "subframe", "qualified people", finding.SubframeTrade},
		{string(starter.Demo()), "frame", "qualified people", finding.FrameTrade},
	} {
		a := assessed(t, c.build)
		text := chapterText(t, a, c.key)
		assert.Contains(t, text, c.caution, c.key)
		n := 0
		for _, f := range a.Findings {
			if f.By == c.by {
				n++
				assert.Regexp(t, `\| `+regexp.QuoteMeta(f.Title)+` \| `+f.Status.String(), text, c.key)
			}
		}
		assert.Positive(t, n, c.key)
	}
}

// What one side alone has is none on the other, and not "not known".
func TestPickupRowsOfALoneRod(t *testing.T) {
	text := chapterText(t, assessed(t, example.Pickups()), "pickups")
	assert.Regexp(t, `lateral rod, length \| 860\.1 mm \| none`, text)
}
