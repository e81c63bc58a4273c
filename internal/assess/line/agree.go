package line

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// axesFindings says for each axis whether it was read, and whether the reading
// and the model agree.
func (a *judge) axesFindings() []finding.Finding {
	axes := a.out.Axes
	out := make([]finding.Finding, 0, 2*len(axes))
	apart := new(string)
	for i := range axes {
		out = append(out, a.axisFinding(i))
		for _, gap := range [...]func() (finding.Finding, bool){
			func() (finding.Finding, bool) { return a.gapFinding(i, apart) },
			func() (finding.Finding, bool) { return a.gapAbove(i) },
		} {
			f, ok := gap()
			if !ok {
				continue
			}
			if *apart == "" && f.Status != finding.OK {
				*apart = axes[i].the()
			}
			out = append(out, f)
		}
	}
	return out
}

func axisName(line string, x *Axis) string {
	if x.Target == project.TargetPowertrain {
		return line + ".powertrain"
	}
	return x.Target
}

// axisFinding says whether axis i was read and can be used.
func (a *judge) axisFinding(i int) finding.Finding {
	x, n := &a.out.Axes[i], &a.names.axes[i].read
	f := finding.Finding{ID: n.id, Title: n.title, Kind: quantity.Slope, Basis: x.Basis, Moved: x.Moved}
	if !x.Read.Known {
		f.Unknown(x.Read.Why)
		f.Basis = finding.Read
		f.Says = func() string { return finding.NotYet(x.Read.Why) }
		return f
	}
	f.Figure(x.Read)
	f.Source, f.Assumes = "angle gauge", a.axisAssumes(x)
	if x.marked != nil {
		f.Source = "tape and level, to marks and points"
	}
	if x.Doubt != "" {
		f.Status = finding.Tight
	}
	f.Says = x.usable
	return f
}

// usable says how far a reading of the axis can be used.
func (x *Axis) usable() string {
	switch {
	case x.Doubt != "":
		return x.Doubt
	case x.Moved:
		return "The old reading, with what the model says has changed. " + x.since() + ". A plan on the screen moves no iron: move it there and read again, or go back to where it hung and the reading counts again."
	case x.Hung:
		return "Read with the axle hanging, and brought to ride height by the travel model; read again with the vehicle on its wheels."
	}
	if x.marked != nil {
		return "What was measured to marks and points says how it lies; no gauge was put on it."
	}
	return "There is a usable reading."
}

// titled is the axis as a title begins with it, with its line where there are
// several.
func (x *Axis) titled() string {
	if x.line == "" {
		return x.Label
	}
	return x.line + " " + x.Label
}

// gapFinding holds the slope read of axis i against the slope planned, false
// where there are not both. apart is what gapAdvice asks for, known when all
// axes were looked at.
func (a *judge) gapFinding(i int, apart *string) (finding.Finding, bool) {
	x, n := &a.out.Axes[i], &a.names.axes[i].agree
	if !x.Read.Known || !x.Planned.Known {
		return finding.Finding{}, false
	}
	f := finding.Finding{ID: n.id, Title: n.title, Basis: x.Basis, Moved: x.Moved, Assumes: a.axisAssumes(x)}
	f.Judge(x.Read.Apart(x.Planned), a.Build.Limit("plan_gap"), false)
	is := f.Status
	f.Says = func() string { return a.gapAdvice(is, x, *apart) }
	return f, true
}

// gapAbove holds the direction of axis i that was read by tape from above
// against the one planned, false where there are not both.
func (a *judge) gapAbove(i int) (finding.Finding, bool) {
	x, n := &a.out.Axes[i], &a.names.axes[i].above
	if !x.Plan.Known || !x.Heading.Known {
		return finding.Finding{}, false
	}
	f := finding.Finding{ID: n.id, Title: n.title, Basis: finding.Read, Moved: x.Moved}
	if x.Moved || x.Hung {
		f.Basis = finding.Planned
	}
	f.Judge(x.Plan.Apart(x.Heading), a.Build.Limit("plan_gap"), false)
	f.Says = finding.Asked(f, aboveAdvice)
	return f, true
}

func aboveAdvice() map[finding.Status]string {
	return map[finding.Status]string{
		finding.OK:    "As seen from above, the tape and the model are near each other.",
		finding.Tight: "As seen from above, the tape and the model nearly disagree; measure again.",
		finding.Over:  "As seen from above, the tape contradicts the model: check to which side the rear end stands, the length it was measured over, and the points in the file.",
	}
}

// gapAdvice says what it means that reading and plan are as near or as far as
// they are. apart is an axis of the line whose reading does not bear the plan
// out: agreement elsewhere then is no agreement of the line.
func (a *judge) gapAdvice(is finding.Status, x *Axis, apart string) string {
	carried := x.Moved || x.Hung
	switch is {
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
	return ""
}

func (a *judge) gapOver(x *Axis) string {
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
	if likely := a.likely(x); likely != "" {
		s += ". " + likely + " If not"
	}
	return s + ": check " + strings.Join(checks[:len(checks)-1], ", ") + ", and " + checks[len(checks)-1] + "."
}

// axisAssumes is what the slope of an axis takes for granted.
func (a *judge) axisAssumes(x *Axis) []string {
	out := x.Assumes
	if a.Light || x.Reading < 0 {
		return out
	}
	out = out[:len(out):len(out)] // several findings have it
	r := &a.Build.Readings[x.Reading]
	if x.Hung {
		out = append(out, x.the()+" brought from full droop to ride height by the travel model")
	}
	if x.rides && r.Stood == "" {
		out = append(out, "read with the vehicle on its wheels")
	}
	return out
}

// likely is what was likely done wrong with a reading that contradicts the model, found by
// trying it: a sentence, "" where nothing that is tried makes the two agree.
func (a *judge) likely(x *Axis) string {
	if x.Reading < 0 || x.Hung {
		return ""
	}
	tries := finding.GaugeTries(a.Build.Readings[x.Reading], 0)
	for i := range tries {
		tries[i].Value += x.Read.V
	}
	const parts = 3 // of what may lie between a reading and the model
	near := max(x.Read.U(), a.Build.Limit("plan_gap").Value/parts)
	return finding.Misread{Kind: quantity.Slope, Value: x.Read.V, Tries: tries, Fits: func(v float64) (float64, bool) {
		w := (v - x.Planned.V) / near
		return w, math.Abs(w) <= parts
	}}.Likely(a.Build.Units)
}
