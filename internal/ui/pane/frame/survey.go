package frame

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

func surveyPage() pane.Leaf { return pane.Leaf{Name: "survey", Items: surveyItems, Key: shown} }

// noSurvey says how a survey is begun.
func noSurvey(w int) []pane.Item {
	return pane.Says(w, theme.Text, "No survey of the frame yet. Press m and type what was taped, such as point.rail_lf to point.rail_rr; "+
		"a tape along each rail, across each pair and over both diagonals is the least that proves a frame square. "+
		"On the data page, the survey's chapter says which points are the rails' and the axles'.")
}

// surveyItems are what the survey comes to, what was measured and where it places
// its points.
func surveyItems(w int, v pane.View) []pane.Item {
	if !v.A.Frame.Given() {
		return noSurvey(w)
	}
	s := v.A.Frame.Now
	t := pane.NewTable(w, 1, v)
	unit := quantity.UnitName(quantity.Length, v.Units())
	t.Heading("survey"+afterWords(string(s.After)), "")
	t.Row(t.Cells("largest misfit, in its own ±", value(t, finding.SurveyFit)), s.Mirrors, pane.Findings(v, finding.SurveyFit)...)
	t.Row(t.Cells("slip it could hide, "+unit, value(t, finding.SurveyHidden)), nil, pane.Findings(v, finding.SurveyHidden)...)
	if s.Why != "" {
		t.Out = append(t.Out, pane.Says(w, theme.Doubt, "Nothing is placed: "+s.Why+".")...)
	}
	for _, x := range s.Suspects {
		t.Out = append(t.Out, suspectItem(x, w, v))
	}
	if next := s.Next(); next != "" {
		t.Out = append(t.Out, pane.Item{Text: theme.Wrap(v.Theme.Plain("next: "+next), max(w-2, 1)), Stop: true, Subject: "survey.next", Role: theme.Accent,
			Advice: []string{"To measure next: " + next + ". It helps most to find a slip where one could hide best."}})
	}
	placeItems(t, unit)
	lineItems(t, unit)
	return t.Out
}

func afterWords(step string) string {
	if step == "" {
		return ""
	}
	return ", " + step
}

// value is the figure of a finding for a table.
func value(t *pane.Table, id string) string {
	f, ok := t.V.A.Finding(id)
	if !ok || !f.HasValue {
		return "-"
	}
	return t.Cell(f.Kind, assess.Exact(f.Value))
}

// suspectItem is a measurement that does not fit.
func suspectItem(x assess.Misfit, w int, v pane.View) pane.Item {
	k := quantity.Length
	if x.Line.As == project.SquareLine {
		k = quantity.Angle
	}
	off := assess.Exact(x.Off)
	way := " more"
	if x.Off < 0 {
		off, way = assess.Exact(-x.Off), " less"
	}
	head := v.Theme.Sign(theme.Over) + " " + x.Line.Name + " reads " + v.Number(k, off, v.Digits(k)) + way
	advice := []string{fmt.Sprintf("%s: %s%s than the others say, %.1f of its own standard uncertainties.", x.Line.Name, v.Number(k, off, v.Digits(k)), way, math.Abs(x.W))}
	switch {
	case x.Out:
		head += ", left out"
		advice = append(advice, "It alone explains what does not fit, and is left out until it is measured again.")
	case len(x.Alike) > 0:
		advice = append(advice, "A slip in it cannot be told from one in "+strings.Join(x.Alike, ", ")+".")
	}
	if x.Without.Known {
		advice = append(advice, "Without it one rail stands "+v.Number(quantity.Length, assess.Exact(math.Abs(x.Without.Square.V)), v.Digits(quantity.Length))+
			" ahead of the other, and the diagonals are "+v.Number(quantity.Length, assess.Exact(math.Abs(x.Without.Diagonals.V)), v.Digits(quantity.Length))+" apart.")
	}
	return pane.Item{Text: theme.Wrap(v.Theme.Plain(project.Printable(head)), max(w-2, 1)), Stop: true, Subject: finding.SurveyFit, Role: theme.Danger, Advice: advice}
}

// placeItems adds where the points lie.
func placeItems(t *pane.Table, unit string) {
	v := t.V
	points := v.A.Frame.Now.Points()
	if len(points) == 0 {
		return
	}
	if why := v.A.Frame.Now.Unplaced(); why != "" {
		t.Out = append(t.Out, pane.Says(t.W, theme.Doubt, "No places are given: "+why+".")...)
		return
	}
	u := pane.NewTable(t.W+2, 3, v)
	u.Heading("places, "+unit, "station", "right", "up")
	for _, p := range points {
		var cells, sure []string
		for k, m := range p.Place {
			cells = append(cells, u.Cell(quantity.Length, m))
			if m.Known {
				sure = append(sure, []string{"station", "right", "up"}[k]+" "+v.Number(quantity.Length, m, v.Digits(quantity.Length))+v.Around(quantity.Length, m, v.Digits(quantity.Length)))
			} else if !slices.Contains(sure, m.Why) {
				sure = append(sure, m.Why)
			}
		}
		u.Out = append(u.Out, pane.Item{Text: []string{u.Cells(p.Name, cells...)}, Stop: true, Subject: "survey." + p.Path, Advice: []string{p.Name + ": " + strings.Join(sure, ", ") + "."}})
	}
	t.Out = append(t.Out, u.Out...)
}

// lineItems adds what was measured, with how far it is from what the others say.
func lineItems(t *pane.Table, unit string) {
	v := t.V
	s := v.A.Frame.Now
	if len(s.Lines) == 0 {
		return
	}
	u := pane.NewTable(t.W+2, 2, v)
	u.Heading("measured, "+unit, "read", "off")
	for _, l := range s.Lines {
		k := quantity.Length
		if l.As == project.SquareLine {
			k = quantity.Angle
		}
		off := u.Cell(k, assess.Exact(-l.V))
		finds := "Nothing checks it: a slip in it of any size is hidden."
		if l.Redundancy > 0 {
			finds = fmt.Sprintf("%.1f of its own standard uncertainties; a slip of %s would be found four times in five.", math.Abs(l.W), v.Number(k, assess.Exact(l.Detectable), v.Digits(k)))
		}
		role := theme.Text
		if l.Out {
			off, finds, role = "out", "It is left out, because it does not fit the others.", theme.Danger
		}
		u.Out = append(u.Out, pane.Item{Text: []string{u.Cells(l.Name, u.Cell(k, assess.Exact(l.Value.V)), off)}, Stop: true, Role: role,
			Subject: fmt.Sprintf("survey.measure.%d", l.Index+1), Advice: []string{l.Name + ": " + finds}})
	}
	t.Out = append(t.Out, u.Out...)
}
