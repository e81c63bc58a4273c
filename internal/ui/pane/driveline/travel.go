package driveline

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// The columns of the travel leaf behind the name: a value and where it is met.
const (
	valueWidth = 8
	whereWidth = 12
)

// travelItems are the worst of a line between bump and droop.
func travelItems(w int, l *assess.Line, v pane.View) []pane.Item {
	t := l.Travel
	if t == nil {
		return wrapped(w, theme.Text, project.Printable(l.Name)+" line: nothing is known of its suspension yet. On the data page, under this line, give its kind, bump, droop "+
			"and where its parts stand at ride height: then its joints are followed from full droop to full bump.")
	}
	r := travelRows{w: w, v: v, line: l.Name}
	r.add(heading(r.cells(project.Printable(l.Name)+" line", "largest", "at")))
	if l.Direct && len(t.HalfShafts) == 0 {
		r.out = append(r.out, wrapped(w, theme.Doubt, "No half shaft yet. On the data page, under this line's suspension, begin one: "+
			"its output in the powertrain's own frame, and outer, pivot_a, pivot_b and ball where they stand at ride height.")...)
	}
	if t.Why != "" {
		r.out = append(r.out, wrapped(w, theme.Doubt, "Not followed: "+t.Why+".")...)
	}
	r.live(l, t)
	for _, h := range t.HalfShafts {
		r.halfShaft(h)
	}
	if t.Caution != "" {
		r.out = append(r.out, wrapped(w, theme.Dim, t.Caution)...)
	}
	return r.out
}

// wrapped is text over as many lines as it takes; the cursor passes it by.
func wrapped(w int, role theme.Role, text string) []pane.Item {
	return []pane.Item{says(role, theme.Wrap(project.Printable(text), w-2)...)}
}

// travelRows builds the rows of the travel leaf.
type travelRows struct {
	w    int
	v    pane.View
	line string // its name
	out  []pane.Item
}

func (r *travelRows) add(it pane.Item) { r.out = append(r.out, it) }

func (r *travelRows) cells(name, value, where string) string {
	return r.v.Theme.Pad(name, nameWidth) + r.v.Theme.PadLeft(value, valueWidth) + r.v.Theme.PadLeft(where, whereWidth)
}

// live are the rows of an axle that moves as a whole. Without its findings
// there is nothing to show: a differential that stays where it is has none.
func (r *travelRows) live(l *assess.Line, t *assess.Travel) {
	if _, ok := r.v.A.Finding(finding.TravelReach(r.line)); !ok {
		return
	}
	r.add(heading("angle of each joint, in " + quantity.UnitName(quantity.Angle, r.v.Units())))
	for i, j := range l.Joints {
		var at *assess.TravelExtreme
		if i < len(t.Worst) {
			at = &t.Worst[i].Extreme
		}
		r.finding(fmt.Sprintf("joint %d", j.Number), finding.TravelJoint(r.line, j.Number), at)
	}
	r.add(heading("room in the slip joint, in " + quantity.UnitName(quantity.Length, r.v.Units())))
	var shortest, longest *assess.TravelExtreme
	if t.Slip != nil {
		shortest, longest = &t.Slip.Shortest, &t.Slip.Longest
	}
	r.finding("to bottom", finding.SlipBottom(r.line), shortest)
	r.finding("to pull out", finding.SlipPull(r.line), longest)
	r.add(heading("travel of the axle, in " + quantity.UnitName(quantity.Length, r.v.Units())))
	r.reach(t)
	if _, ok := r.v.A.Finding(finding.TravelStrain(r.line)); ok {
		var at *assess.TravelExtreme
		if t.Reach != nil {
			at = &t.Strain
		}
		r.finding("bushes give", finding.TravelStrain(r.line), at)
	}
	r.straps(t)
}

// straps are the limiting straps, with the longest that holds the shaft.
func (r *travelRows) straps(t *assess.Travel) {
	if len(t.Straps) == 0 {
		return
	}
	r.add(heading("limiting straps, in " + quantity.UnitName(quantity.Length, r.v.Units())))
	for i := range t.Straps {
		s := &t.Straps[i]
		would := ""
		if s.Longest.Known && !s.Free {
			would = "of " + r.v.Cell(quantity.Length, s.Longest, r.v.Digits(quantity.Length))
		}
		for _, x := range []struct{ name, id, where string }{{project.Printable(s.Name), finding.StrapLength(r.line, s.ID), would}, {"  slack", finding.StrapSlack(r.line, s.ID), ""}} {
			if f, ok := r.v.A.Finding(x.id); ok {
				r.row(x.name, f, x.where)
			}
		}
	}
	for _, x := range [][2]string{{"one before other", finding.StrapsEven(r.line)}, {"droop left", finding.StrapsDroop(r.line)}} {
		r.finding(x[0], x[1], nil)
	}
	if t.Held != "" {
		it := &r.out[len(r.out)-1]
		it.Advice = append(it.Advice, "The droop ends at "+t.Held+".")
	}
}

// reach is how far the axle gets, and where it binds.
func (r *travelRows) reach(t *assess.Travel) {
	f, _ := r.v.A.Finding(finding.TravelReach(r.line))
	where := ""
	if t.Reach != nil && len(t.Reach.Binds) > 0 {
		where = "it binds"
	}
	r.row("in all", f, where)
	if t.Reach == nil {
		return
	}
	it := &r.out[len(r.out)-1]
	length := func(x float64) string {
		return r.v.Number(quantity.Length, assess.Exact(x), r.v.Digits(quantity.Length))
	}
	it.Advice = append(it.Advice, "From ride height it bumps "+length(t.Reach.Bump)+" and droops "+length(t.Reach.Droop)+".")
}

func (r *travelRows) halfShaft(h assess.HalfShaftTravel) {
	r.add(heading("half shaft " + project.Printable(h.Name) + ", in " + quantity.UnitName(quantity.Angle, r.v.Units()) +
		" and " + quantity.UnitName(quantity.Length, r.v.Units())))
	for _, x := range []struct {
		name, id string
		at       assess.TravelExtreme
	}{
		{"inner joint", finding.HalfShaftInner(r.line, h.ID), h.Inner}, {"outer joint", finding.HalfShaftOuter(r.line, h.ID), h.Outer},
		{"shortens", finding.HalfShaftIn(r.line, h.ID), h.PlungeIn}, {"lengthens", finding.HalfShaftOut(r.line, h.ID), h.PlungeOut},
	} {
		at := &x.at
		if h.Why != "" {
			at = nil
		}
		r.finding(x.name, x.id, at)
	}
}

// finding is the row of a finding, with where its value is met.
func (r *travelRows) finding(name, id string, at *assess.TravelExtreme) {
	f, ok := r.v.A.Finding(id)
	if !ok {
		return
	}
	where := ""
	if at != nil && f.HasValue {
		where = r.where(*at)
	}
	r.row(name, f, where)
}

func (r *travelRows) row(name string, f assess.Finding, where string) {
	st := pane.Status(f.Status)
	s := r.cells(name, r.v.Cell(f.Kind, finding.Given(f.Value, f.HasValue), r.v.Digits(f.Kind)), where) + " " + r.v.Theme.Sign(st)
	if word := " " + f.Status.String(); theme.Width(s)+theme.Width(word) <= r.w-2 {
		s += word
	}
	r.add(pane.Item{Text: []string{s}, Role: st.Role(), Advice: about(f, r.v), Stop: true, Subject: f.ID})
}

// where is a height of the axle in one word: how far from ride height, and
// which way.
func (r *travelRows) where(e assess.TravelExtreme) string {
	s := strings.TrimPrefix(r.v.Cell(quantity.Length, assess.Exact(e.Rise), r.v.Digits(quantity.Length)), "-")
	switch {
	case e.Rise > 0:
		return s + " bump"
	case e.Rise < 0:
		return s + " droop"
	}
	return "ride height"
}
