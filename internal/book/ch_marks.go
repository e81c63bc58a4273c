package book

import (
	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// againstPlan says how a row was measured against the plan.
func (m *maker) againstPlan(o interface {
	Beyond() bool
	Text(u quantity.Units) string
}) string {
	if o.Beyond() {
		return o.Text(m.u) + " than planned"
	}
	return "as planned, within its ±"
}

// measuredHead heads the rows of what was measured to stand somewhere.
var measuredHead = []string{"row", "as measured", "against the plan", "the next"}

// axleMarks is where an axle was measured to stand, against where it is planned.
func (m *maker) axleMarks(s *Sheet, x *assess.Standing) {
	differs := map[string]string{}
	for i := range m.a.Build.Lines {
		for _, o := range x.AgainstPlan(&m.a.Build.Lines[i]) {
			differs[o.Key] = m.againstPlan(&o)
		}
	}
	var rows [][]string
	for _, r := range x.Rows {
		if r.Is.Known {
			rows = append(rows, []string{r.Label, m.number(r.Kind, r.Is), differs[r.Key]})
		}
	}
	if len(rows) > 0 {
		s.add("Axle of line "+finding.Spoken(x.Line)+" by gauge, tape and level"+after(m.a.Hung.After), written(1, measuredHead, rows))
	}
}

// marks is where the powertrain hangs by gauge, tape and level together, against where it is
// planned; nothing where nothing was measured to a mark.
func (m *maker) marks(s *Sheet) {
	h := m.a.Hung
	if h == nil || !h.Given {
		return
	}
	head := "Powertrain by gauge, tape and level"
	if h.Why != "" {
		s.add(head+after(h.After), text(0, "Where it hangs is not known: "+sentence(h.Why))...)
	}
	differs := map[string]string{}
	if _, at, err := m.a.Build.Seat(); err == nil {
		for _, o := range h.Against(at) {
			differs[o.Name] = m.againstPlan(&o)
		}
	}
	var rows [][]string
	for _, r := range h.Rows {
		if r.Is.Known {
			rows = append(rows, []string{r.Label, m.number(r.Kind, r.Is), differs[r.Name]})
		}
	}
	if len(rows) > 0 {
		s.add(head+after(h.After), written(1, measuredHead, rows))
	}
	for _, x := range h.Axles {
		m.axleMarks(s, x)
	}
	m.against(s, head+", whether it fits", func(f *assess.Finding) bool { return f.By == finding.HungTrade })
	rows = nil
	for _, t := range h.All {
		k := quantity.Length
		if t.Angle {
			k = quantity.Angle
		}
		rows = append(rows, m.residual(t.Name, k, t.Read, t.V, t.W, t.Redundancy, t.Detectable, t.Out))
	}
	if len(rows) > 0 {
		s.add(head+", what was measured", written(1, []string{"of, or from and to", "read", "off by", "in its own standard uncertainties", "a slip that would be found", "the next"}, rows))
	}
}
