package hung

import (
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Row is a row of the placement as it was measured.
type Row struct {
	project.RowInfo
	Is finding.Number // mm or rad, as the row has it; or why it is not known
}

// Off is by how much a row was measured to be more than it is planned.
type Off struct {
	project.RowInfo
	By finding.Number // mm or rad
}

// Values lists the rows as they were measured.
func (p *Powertrain) Values(l *finding.List) {
	for _, r := range p.Rows {
		name := "powertrain.measured." + strings.TrimPrefix(r.Name, "placement.")
		l.Number(name, r.Kind, r.Is)
		if r.Is.Known {
			l.Uncertainty(name, r.Kind, r.Is)
		}
	}
	for _, x := range p.Axles {
		x.values(l)
	}
}

// rows are those that are measured against the plan: all that are written, and the tilt.
func rows() (out []project.RowInfo) {
	for _, r := range project.PlacementRows() {
		if r.Row != seat.Lift {
			out = append(out, r)
		}
	}
	return out
}

// rowAt is what a row reads of a powertrain in a pose.
func rowAt(s seat.Supports, r seat.Row, p geom.Pose) float64 {
	if r == seat.Tilt {
		return p.Slope().Rad()
	}
	v, err := s.Value(s.Placement(p), r)
	if err != nil {
		return math.NaN()
	}
	return v
}

// Against is how it was measured to hang against a plan: the rows that are known.
func (p *Powertrain) Against(planned seat.Placement) []Off {
	var out []Off
	pose, err := p.supports.V.Pose(planned)
	if !p.supports.Known || err != nil {
		return nil
	}
	for _, r := range p.Rows {
		if r.Is.Known {
			out = append(out, Off{r.RowInfo, r.Is.Less(rowAt(p.supports.V, r.Row, pose))})
		}
	}
	return out
}

// Measured is a plan with the rows that were measured in their places.
func (p *Powertrain) Measured(planned seat.Placement) seat.Placement {
	for _, r := range p.Rows {
		if r.Is.Known && r.Row != seat.Tilt {
			if at := planned.At(r.Row); at != nil {
				*at = r.Is.V
			}
		}
	}
	return planned
}

// Beyond reports whether the row was measured elsewhere than planned, beyond its ±.
func (o Off) Beyond() bool { return math.Abs(o.By.V) > o.By.Expanded() }

// Apart says in one clause how it was measured to hang against a plan, by the row that is
// farthest beyond its ±; "" where no row is known.
func (p *Powertrain) Apart(planned seat.Placement) (says string, beyond bool) {
	off := p.Against(planned)
	if len(off) == 0 || p.Why != "" {
		return "", false
	}
	if o, ok := Worst(off); ok {
		return "it hangs " + o.Text(p.build.Units) + " than planned", true
	}
	return "it hangs where planned, as measured", false
}

// Worst is the row that is farthest beyond its ±; false where none is.
func Worst(of []Off) (Off, bool) {
	worst, most := Off{}, 1.0
	for _, o := range of {
		if far := math.Abs(o.By.V) / max(o.By.Expanded(), 1e-12); far > most {
			worst, most = o, far
		}
	}
	return worst, most > 1
}

// Text says a row's difference, such as "6.0 ± 2.0 mm lower at the rear mount".
func (o Off) Text(u quantity.Units) string {
	way := words[o.Row][0]
	if o.By.V < 0 {
		way = words[o.Row][1]
	}
	return differs(o.Kind, o.By, u) + " " + way
}

var words = map[seat.Row][2]string{
	seat.LeftFront:  {"higher at the left front mount", "lower at the left front mount"},
	seat.RightFront: {"higher at the right front mount", "lower at the right front mount"},
	seat.Rear:       {"higher at the rear mount", "lower at the rear mount"},
	seat.Tilt:       {"more down to the rear", "less down to the rear"},
	seat.Setback:    {"farther back", "farther forward"},
	seat.Offset:     {"farther right", "farther left"},
	seat.Heading:    {"with its rear to the right", "with its rear to the left"},
}

// PlacedFinding holds where it was measured to hang against where it is planned. The plan is
// no limit: it is said by how much the two differ, and where that is beyond its ±, which
// findings come out otherwise as measured, which differ asks: names of findings, for a
// placement. False where nothing was measured to a mark.
func (p *Powertrain) PlacedFinding(planned finding.Maybe[seat.Placement], differ func(measured seat.Placement) []string) (finding.Finding, bool) {
	if !p.Marked {
		return finding.Finding{}, false
	}
	f := p.finding(finding.PowertrainPlaced, "powertrain as measured, against planned")
	f.Kind, f.Source = quantity.Length, "as measured less as planned; the plan is no limit"
	var off []Off
	if planned.Known {
		off = p.Against(planned.V)
	}
	switch {
	case p.Why != "":
		f.Unknown(p.Why)
	case !planned.Known:
		f.Unknown("where it is planned to hang is not in the file yet: " + planned.Why)
	case len(off) == 0:
		f.Unknown("too little was measured to its marks to say where any of its mounts hangs: measure heights and tapes to more of them")
	}
	if f.Status == finding.NotKnown && f.Missing != "" {
		f.Says = finding.Say(finding.NotYet(f.Missing))
		return f, true
	}
	var beyond []string
	largest := finding.Number{}
	for _, o := range off {
		if o.Beyond() {
			beyond = append(beyond, o.Text(p.build.Units))
		}
		if o.Kind.Long() && (!largest.Known || math.Abs(o.By.V) > math.Abs(largest.V)) {
			largest = o.By
		}
	}
	if largest.Known {
		f.Figure(largest.Sized())
	}
	f.Status = finding.OK
	if len(beyond) == 0 {
		f.Says = finding.Say("It hangs where it is planned to, as far as was measured.")
		return f, true
	}
	says := "It hangs " + strings.Join(beyond, ", ") + " than planned."
	changed := differ(p.Measured(planned.V))
	if len(changed) > 0 {
		f.Status = finding.Tight
		says += " As measured these come out otherwise than as planned: " + strings.Join(changed, ", ") + ". Move it where it is planned, or plan it where it hangs."
	} else {
		says += " No finding comes out otherwise for that."
	}
	f.Says = finding.Say(says)
	return f, true
}
