package mounts

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/ui/pane"
)

// foldItems are how a mount that is one plate is cut and folded, and how it differs from
// the mirrored one.
func foldItems(w int, b *assess.Bracket, v pane.View) []pane.Item {
	t := figures(w, v)
	t.Out = append(t.Out, pane.Heading(v.Theme.Cut(v.Theme.Plain(project.Printable(b.Label+" mount, "+string(b.Plates.Kind))), t.W)))
	for _, r := range b.PlateRows() {
		t.Row(t.Cells(r.Label, t.number(r.Kind, r.V)), said(r.Label, r.Words))
	}
	t.matches(b.Spec.Match, b.PlateMatches())
	return t.Out
}

// matches are how what is made after the other side's differs from its mirror image.
func (t *table) matches(of string, rows []assess.MatchRow) {
	if len(rows) == 0 {
		return
	}
	t.Heading("differs from the mirrored "+strings.ReplaceAll(of, "_", " ")+" by", "")
	for _, r := range rows {
		t.Row(t.Cells(r.Label, t.number(r.Kind, r.By)), []string{
			"From " + t.number(r.Kind, r.Mirror) + " to " + t.number(r.Kind, r.Made) + ", for this side's own pad and rail."})
	}
}
