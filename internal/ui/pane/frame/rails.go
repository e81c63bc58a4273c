package frame

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
)

func railsPage() pane.Leaf { return pane.Leaf{Name: "rails", Items: railsItems, Key: shown} }

// railsItems are how far the rails are apart by station, before and after work, and
// how straight they run.
func railsItems(w int, v pane.View) []pane.Item {
	if !v.A.Frame.Given() {
		return noSurvey(w)
	}
	r := v.A.Frame
	f := &r.Frame
	t := pane.NewTable(w, 3, v)
	unit := quantity.UnitName(quantity.Length, v.Units())
	t.Heading("width, "+unit, "before", "is", "wanted")
	for i, p := range f.Pairs {
		before := ""
		if i < len(r.Then.Pairs) {
			before = t.Cell(quantity.Length, r.Then.Pairs[i].Width)
		}
		more := []string{sideways(p.Offset, v)}
		t.Named(fmt.Sprintf("%d: %s, %s", i+1, short(p.Left), short(p.Right)), []string{before, t.Cell(quantity.Length, p.Width), t.Cell(quantity.Length, p.Wanted)}, more,
			pane.Findings(v, finding.RailsWidth(i+1), finding.RailsOffset(i+1), finding.RailsSag(i+1))...)
	}
	t.Heading("along, "+unit, "sag", "sweep", "kick")
	for _, x := range []struct {
		name string
		rail assess.SurveyedRail
	}{{"left rail", f.Left}, {"right rail", f.Right}} {
		var more []string
		for _, m := range []assess.Number{x.rail.Sag, x.rail.Sweep, x.rail.Kick} {
			if !m.Known && m.Why != "" && (len(more) == 0 || more[0] != finding.Sentence(m.Why)) {
				more = append(more, finding.Sentence(m.Why))
			}
		}
		more = append(more, "Sag is how far it hangs below the line from its first point to its last, sweep how far it bows to the right of it, kick how much higher the last point lies.")
		t.Row(t.Cells(x.name, t.Cell(quantity.Length, x.rail.Sag), t.Cell(quantity.Length, x.rail.Sweep), t.Cell(quantity.Length, x.rail.Kick)), more)
	}
	return t.Out
}

// short is a point's name without what it is.
func short(path string) string { return finding.Spoken(strings.TrimPrefix(path, "point.")) }

// sideways says where the middle of a pair lies.
func sideways(m assess.Number, v pane.View) string {
	if !m.Known {
		return finding.Sentence(m.Why)
	}
	return fmt.Sprintf("Their middle lies %s to the %s.", v.Number(quantity.Length, m.Unsigned(), v.Digits(quantity.Length))+v.Around(quantity.Length, m, v.Digits(quantity.Length)), m.Sided("left", "right", ""))
}
