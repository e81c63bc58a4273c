package drawing

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/sketch"
	"fitup/internal/ui/theme"
)

// hungSubframe draws a subframe from above when the cursor is on it: where it is to
// hang dashed, where it hangs with its errors exaggerated, its points' ± as ellipses.
// False where the cursor is elsewhere, or it has no place.
func hungSubframe(w, h int, v pane.View) (pane.Frame, bool) {
	rest, ok := strings.CutPrefix(v.Subject, "subframe.")
	if !ok || w < 20 || h < 5 {
		return pane.Frame{}, false
	}
	name, _, _ := strings.Cut(rest, ".")
	plan := v.A.SubframePlan(name)
	if len(plan.Points) == 0 {
		return pane.Frame{}, false
	}
	d := &surveyDrawing{c: sketch.New(w, h, v.Theme.Glyphs.Name == theme.ASCII().Name), plan: plan, v: v, hangs: name}
	d.fit(w, h)
	d.draw()
	f := pane.Frame{Title: fmt.Sprintf("Sketch: %s subframe from above, errors %s%d", finding.Spoken(name), v.Theme.Times, exaggerated), Text: d.c.Lines(style(v))}
	f.Note = "dashed: where it is to hang; front at the left"
	for _, s := range v.A.Subframes {
		for _, p := range s.Points {
			if s.Name == name && p.Corner && v.Subject == finding.SubframeCorner(name, p.Path) {
				f.Note = v.Theme.Plain(p.Name + ": " + assess.SubframeMoves(p, v.Units()))
			}
		}
	}
	return f, true
}
