package ui

import (
	"fmt"
	"os"
	"regexp"
	"strconv"
	"testing"

	"fitup/internal/book"
	small "fitup/internal/project/example"
	"fitup/internal/project/starter"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/pane/driveline"
	"fitup/internal/ui/pane/frame"
	"fitup/internal/ui/pane/jobs"
	"fitup/internal/ui/pane/mounts"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the book says of what is worked out, the screen says too: every number with a point
// in these chapters stands on a page of a pane, in a finding, there perhaps with a digit
// fewer, or in the file itself. Cuts and plates are those of the cut sheet, which has them in full.
func TestTheBookSaysNothingThatTheScreenDoesNot(t *testing.T) {
	annotated, err := os.ReadFile("../../testdata/example.toml")
	require.NoError(t, err)
	chapters := []string{"readings", "driveline", "loads", "room", "frame", "rails", "subframe", "steering", "pickups", "jobs", "out", "weld", "fasteners", "findings"}
	for name, src := range map[string][]byte{"demo": starter.Demo(), "example": annotated, "subframe": []byte(small.Subframe), "pick-ups": []byte(small.Pickups())} {
		d := drive(t, src, 200, 60)
		said, from := d.saysAll(string(src)), book.Origin{Hash: "0", Date: "2026-01-31"}
		cs, err := book.Chapters(nil, d.m.now, book.PaperSizes()[0], from, chapters...)
		require.NoError(t, err)
		found := 0
		for _, c := range cs {
			for _, n := range decimals.FindAllString(book.Markdown([]book.Chapter{c}, from), -1) {
				found++
				v, err := strconv.ParseFloat(n, 64)
				require.NoError(t, err)
				assert.True(t, said[n] || said[fmt.Sprintf("%.1f", v)], "%s: only the book's chapter %s says %s", name, c.Key, n)
			}
		}
		assert.Greater(t, found, 100, name)
	}
}

var decimals = regexp.MustCompile(`\d+\.\d+`)

// saysAll are the numbers with a point that the screen says anywhere, or that the file has.
func (d *driver) saysAll(file string) map[string]bool {
	out := map[string]bool{}
	take := func(lines ...string) {
		for _, l := range lines {
			for _, n := range decimals.FindAllString(ansi.Strip(l), -1) {
				out[n] = true
			}
		}
	}
	v := d.m.view(d.m.focus)
	for _, l := range []pane.Leaves{mounts.New().Leaves, driveline.New().Leaves, frame.New().Leaves, jobs.New().Leaves} {
		for _, page := range l.Pages {
			for _, it := range page.Items(190, v) {
				take(it.Text...)
				take(it.More...)
				take(it.Advice...)
			}
		}
	}
	_, _, lines := newFindings(d.m).draw(d.m, 190, 5000)
	take(lines...)
	for _, n := range regexp.MustCompile(`\d+(\.\d+)?`).FindAllString(file, -1) {
		v, err := strconv.ParseFloat(n, 64)
		require.NoError(d.t, err)
		take(fmt.Sprintf("%.1f %.2f", v, v))
	}
	return out
}
