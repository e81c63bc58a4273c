package frame

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Change is a number of the frame on the last occasion and the one before.
type Change struct {
	Name        string
	Kind        quantity.Kind
	Before, Now finding.Number
	By          finding.Number // now less before
}

// Changes lists what both occasions say of the frame, and what only the one before
// does.
func (r *Result) Changes() []Change {
	if r.Before == nil {
		return nil
	}
	var out []Change
	then := map[string]finding.Number{}
	for _, m := range r.Then.named() {
		then[m.Name] = m.Before
	}
	for _, m := range r.Frame.named() {
		if was := then[m.Name]; was.Known {
			out = append(out, Change{m.Name, m.Kind, was, m.Before, m.Before.LessOf(was)})
		}
	}
	return out
}

// named are the numbers of a frame that work on it can change, each as Before.
func (f *Frame) named() []Change {
	var out []Change
	add := func(name string, k quantity.Kind, m finding.Number) {
		out = append(out, Change{Name: name, Kind: k, Before: m})
	}
	add("one rail ahead of the other", quantity.Length, f.Square)
	add("the difference of the diagonals", quantity.Length, f.Diagonals.Difference)
	add("the twist", quantity.Length, f.Twist)
	for _, p := range f.Pairs {
		at := fmt.Sprintf(" at %s and %s", finding.SpokenPoint(p.Left), finding.SpokenPoint(p.Right))
		add("the width"+at, quantity.Length, p.Width)
		add("the middle"+at, quantity.Length, p.Offset)
		add("one mark ahead"+at, quantity.Length, p.Ahead)
		add("one rail lower"+at, quantity.Length, p.Lower)
	}
	for _, s := range []struct {
		name string
		rail Rail
	}{{"left", f.Left}, {"right", f.Right}} {
		add("the sag of the "+s.name+" rail", quantity.Length, s.rail.Sag)
		add("the sweep of the "+s.name+" rail", quantity.Length, s.rail.Sweep)
		add("the kick of the "+s.name+" rail", quantity.Length, s.rail.Kick)
	}
	for _, a := range f.Axles {
		add("the offset of the "+a.Name+" axle", quantity.Length, a.Offset)
		add("the turn of the "+a.Name+" axle", quantity.Angle, a.Turn)
	}
	add("the left wheelbase", quantity.Length, f.Wheelbase[0])
	add("the right wheelbase", quantity.Length, f.Wheelbase[1])
	return out
}

// changeFindings say how far welding pulled the frame: where it was surveyed tacked,
// and again welded. What came before the tacks is meant to change.
func (r *Result) changeFindings() []finding.Finding {
	if r.Before == nil || r.Now.After != project.Welded || r.Before.After != project.Tacked {
		return nil
	}
	f := r.finding(finding.FrameChange, "frame, largest change in welding")
	most, of := finding.Missing("neither survey says anything of the frame yet"), Change{}
	all := r.Changes()
	for _, c := range all {
		if c.Kind == quantity.Length && c.By.Known && (!most.Known || math.Abs(c.By.V)+c.By.Expanded() > math.Abs(most.V)+most.Expanded()) {
			most, of = c.By, c
		}
	}
	for _, c := range all {
		if c.Kind == quantity.Length && !c.Now.Known {
			most = finding.Missing(c.Name + " was measured before welding and not after it: " + c.Now.Why)
			break
		}
	}
	f.Judge(most.Sized(), r.build.Limit("weld_drift_length"), false)
	r.unchecked(&f)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		how := fmt.Sprintf(" Most changed %s: %s before, %s now.", of.Name, text(r.build, of.Kind, of.Before.V), text(r.build, of.Kind, of.Now.V))
		return verdicts("Welding left the frame as it was tacked."+how, "Welding pulled the frame."+how+" Look at it before anything more is welded.", how)
	})
	return []finding.Finding{f}
}
