package line

import (
	"fmt"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// axesFindings says for each axis whether it was read, and whether the reading
// and the model agree.
func (a *judge) axesFindings(l *Line) (out []finding.Finding) {
	type gap struct{ slope, above *finding.Finding }
	gaps := make([]gap, len(l.Axes))
	apart := ""
	for i, x := range l.Axes {
		name := axisName("line."+l.Name, x)
		g := gap{a.gapFinding(name, x), a.gapAbove(name, x)}
		gaps[i] = g
		if apart == "" && (g.slope != nil && g.slope.Status != finding.OK || g.above != nil && g.above.Status != finding.OK) {
			apart = x.the()
		}
	}
	for i, x := range l.Axes {
		out = append(out, a.axisFinding(axisName("line."+l.Name, x), x))
		if g := gaps[i].slope; g != nil {
			g.Says = finding.Say(a.gapAdvice(*g, x, apart))
			out = append(out, *g)
		}
		if g := gaps[i].above; g != nil {
			out = append(out, *g)
		}
	}
	return out
}

func axisName(line string, x Axis) string {
	if x.Target == project.TargetPowertrain {
		return line + ".powertrain"
	}
	return x.Target
}

// axisFinding says whether an axis was read and can be used.
func (a *judge) axisFinding(name string, x Axis) finding.Finding {
	f := finding.Finding{ID: name + ".read", Title: "reading of " + x.the() + x.ofLine(), Kind: quantity.Slope, Basis: x.Basis, Moved: x.Moved}
	if !x.Read.Known {
		f.Unknown(x.Read.Why)
		f.Basis = finding.Read
		f.Says = finding.Say(finding.NotYet(x.Read.Why))
		return f
	}
	f.Figure(x.Read)
	f.Source, f.Assumes = "angle gauge", a.axisAssumes(x)
	says := "There is a usable reading."
	switch {
	case x.Doubt != "":
		f.Status, says = finding.Tight, x.Doubt
	case x.Moved:
		says = "The old reading, with what the model says has changed. " + x.Since + ". A plan on the screen moves no iron: move it there and read again, or go back to where it hung and the reading counts again."
	case x.Hung:
		says = "Read with the axle hanging, and brought to ride height by the travel model; read again with the vehicle on its wheels."
	}
	f.Says = finding.Say(says)
	return f
}

// titled is the axis as a title begins with it, with its line where there are
// several.
func (x Axis) titled() string {
	if x.line == "" {
		return x.Label
	}
	return x.line + " " + x.Label
}

// gapFinding holds a slope read against the slope planned, nil where there are
// not both.
func (a *judge) gapFinding(name string, x Axis) *finding.Finding {
	if !x.Read.Known || !x.Planned.Known {
		return nil
	}
	f := &finding.Finding{ID: name + ".agree", Title: x.titled() + " slope, read against planned", Basis: x.Basis, Moved: x.Moved, Assumes: a.axisAssumes(x)}
	f.Judge(finding.Known(geom.Angle(x.Read.V-x.Planned.V).Abs().Rad(), x.Read.U), a.Build.Limit("plan_gap"), false)
	return f
}

// gapAbove holds a direction read by tape from above against the one planned, nil
// where there are not both.
func (a *judge) gapAbove(name string, x Axis) *finding.Finding {
	if !x.Plan.Known || !x.Heading.Known {
		return nil
	}
	f := &finding.Finding{ID: name + ".agree.above", Title: x.titled() + " from above, read against planned", Basis: finding.Read, Moved: x.Moved}
	if x.Moved || x.Hung {
		f.Basis = finding.Planned
	}
	f.Judge(finding.Known(geom.Angle(x.Plan.V-x.Heading.V).Abs().Rad(), x.Plan.U), a.Build.Limit("plan_gap"), false)
	f.Says = finding.Asked(*f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "As seen from above, the tape and the model are near each other.",
			finding.Tight: "As seen from above, the tape and the model nearly disagree; measure again.",
			finding.Over:  "As seen from above, the tape contradicts the model: check to which side the rear end stands, the length it was measured over, and the points in the file.",
		}
	})
	return f
}

// gapAdvice says what it means that reading and plan are as near or as far as
// they are. apart is an axis of the line whose reading does not bear the plan
// out: agreement elsewhere then is no agreement of the line.
func (a *judge) gapAdvice(f finding.Finding, x Axis, apart string) string {
	carried := x.Moved || x.Hung
	switch f.Status {
	case finding.OK:
		switch {
		case carried:
			return "The old reading and the modelled change come out near the plan; that is the model against itself. Read again."
		case x.Doubt != "":
			return "Their mean is near the plan, but the two readings of " + x.the() + " are not near each other; take a third."
		case apart != "":
			return fmt.Sprintf("Here the reading is near the plan; that of %s is not, so the plan of this line does not hold yet.", apart)
		}
		return "The reading and the model agree."
	case finding.Tight:
		return "The reading and the model nearly disagree; read again."
	case finding.Over:
		return a.gapOver(x)
	}
	return finding.NotYet(f.Missing)
}

func (a *judge) gapOver(x Axis) string {
	s := "The reading contradicts the model"
	if x.Moved {
		return s + " by as much as it did where it hung: the move is not what is wrong. Read again where it stands now, and check the points in the file."
	}
	checks := []string{"which end was lower", "what the gauge stood on", "whether the vehicle stood level", "the points in the file"}
	if _, placed := a.Build.Placement.Seat(); placed && x.Reading >= 0 && x.Target != project.TargetFrame {
		if _, noted := a.Build.Readings[x.Reading].Placed.Seat(); !noted && x.hangsOnPowertrain {
			checks = append([]string{"whether the powertrain was moved after it was read (the reading does not say where it stood)"}, checks...)
		}
	}
	return s + ": check " + strings.Join(checks[:len(checks)-1], ", ") + ", and " + checks[len(checks)-1] + "."
}

// axisAssumes is what the slope of an axis takes for granted.
func (a *judge) axisAssumes(x Axis) []string {
	out := x.Assumes
	if x.Reading < 0 {
		return out
	}
	r := a.Build.Readings[x.Reading]
	if x.Hung {
		out = append(out, x.the()+" brought from full droop to ride height by the travel model")
	}
	if x.rides && r.Stood == "" {
		out = append(out, "read with the vehicle on its wheels")
	}
	return out
}
