package mounts

import (
	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// adapterItems are how the plate between block and isolator is cut, and what there is to
// say of it.
func adapterItems(w int, a *assess.Adapter, v pane.View) []pane.Item {
	t := figures(w, v)
	t.Out = append(t.Out, pane.Heading(v.Theme.Cut(v.Theme.Plain(project.Printable(a.Label+" adapter plate")), t.W)))
	if a.Why != "" {
		t.Out = append(t.Out, pane.Says(w, theme.Text, project.Printable(a.Why)+".")...)
	}
	for _, r := range a.Rows() {
		t.Row(t.Cells(r.Label, t.number(r.Kind, r.V)), said(r.Label, r.Words))
	}
	for _, r := range []struct{ id, label string }{
		{finding.AdapterFlat(a.Name), "bosses out of one plane"}, {finding.AdapterEdge(a.Name), "hole centre to edge"},
		{finding.AdapterPitch(a.Name), "hole centre to hole centre"}, {finding.AdapterEngaged(a.Name), "thread in the block"},
		{finding.AdapterBending(a.Name), "plate, screening use"}, {finding.AdapterBolts(a.Name), "its bolts, screening use"},
	} {
		for _, f := range pane.Findings(v, r.id) {
			value := "-"
			if f.HasValue {
				value = t.number(f.Kind, f.Value)
			}
			t.Row(t.Cells(r.label, value), nil, f)
		}
	}
	return t.Out
}
