package hung

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Standing is where an axle stands by what was measured of it, given by the joint at its
// pinion, which its own axes begin at.
type Standing struct {
	Line string                   // at whose end it is
	Pose finding.Maybe[geom.Pose] // as far as it is measured
	Rows []AxleRow                // none where nothing that was measured to it can be used

	powertrain *Powertrain // what it was found together with
}

// AxleRow is one of the six numbers that say where an axle stands.
type AxleRow struct {
	Key, Label string
	Kind       quantity.Kind
	Is         finding.Number // mm or rad, as a plan has it; or why it is not known
	words      [2]string      // more and less than planned
	of         func(geom.Pose) float64
}

func axleRows() []AxleRow {
	return []AxleRow{
		{Key: "station", Label: "joint at the pinion, along the vehicle", Kind: quantity.Length, words: [2]string{"farther back", "farther forward"},
			of: func(p geom.Pose) float64 { return p.At.X }},
		{Key: "offset", Label: "joint at the pinion, aside", Kind: quantity.Offset, words: [2]string{"farther right", "farther left"},
			of: func(p geom.Pose) float64 { return p.At.Y }},
		{Key: "height", Label: "joint at the pinion, height", Kind: quantity.Length, words: [2]string{"higher", "lower"},
			of: func(p geom.Pose) float64 { return p.At.Z }},
		{Key: "slope", Label: "pinion", Kind: quantity.Slope, words: [2]string{"more down to the rear", "less down to the rear"},
			of: func(p geom.Pose) float64 { return p.Slope().Rad() }},
		{Key: "heading", Label: "pinion from above", Kind: quantity.Heading, words: [2]string{"with its rear to the right", "with its rear to the left"},
			of: func(p geom.Pose) float64 { return p.Heading().Rad() }},
		{Key: "across", Label: "across, its right side high", Kind: quantity.Angle, words: [2]string{"with its right side high", "with its left side high"},
			of: func(p geom.Pose) float64 { return math.Asin(max(-1, min(1, p.Y.Z))) }},
	}
}

// rows are filled in by take, each as far as the fit fixes it.
func (x *Standing) rows(used bool, take func(shown func(geom.Pose) float64, into *finding.Number)) {
	if !used {
		return
	}
	x.Rows = axleRows()
	for i := range x.Rows {
		r := &x.Rows[i]
		r.Is = finding.Missing("too little was measured to marks on the axle to say")
		take(r.of, &r.Is)
	}
}

// values lists the rows as they were measured.
func (x *Standing) values(l *finding.List) {
	for _, r := range x.Rows {
		name := "line." + x.Line + ".axle.measured." + r.Key
		l.Number(name, r.Kind, r.Is)
		if r.Is.Known {
			l.Uncertainty(name, r.Kind, r.Is)
		}
	}
}

// PlannedAxle is where the axle of a line is planned: the joint at its pinion without a
// spacer and the pinion's axis, the axle level across. False where the file does not say
// where that joint is, or how its pinion slopes.
func PlannedAxle(l *project.Line) (geom.Pose, bool) {
	if !l.Pinion.At.Known || !l.Pinion.Slope.Known() {
		return geom.Pose{}, false
	}
	return geom.Orient(geom.Angle(l.Pinion.Slope.V()), geom.Angle(l.Pinion.Heading.Or(0)), 0, l.Pinion.At.At), true
}

// AxleOff is by how much a row was measured to be more than it is planned.
type AxleOff struct {
	AxleRow
	By finding.Number // mm or rad
}

// Beyond reports whether it was measured elsewhere than planned, beyond its ±.
func (o *AxleOff) Beyond() bool { return math.Abs(o.By.V) > o.By.Expanded() }

// Text says the difference, such as "6.0 ± 2.0 mm lower".
func (o *AxleOff) Text(u quantity.Units) string {
	return differs(o.Kind, o.By, u) + " " + o.words[map[bool]int{false: 0, true: 1}[o.By.V < 0]]
}

// Against is how the axle was measured to stand against a plan: the rows that are known.
func (x *Standing) Against(planned geom.Pose) []AxleOff {
	var out []AxleOff
	for _, r := range x.Rows {
		if r.Is.Known {
			out = append(out, AxleOff{r, r.Is.Less(r.of(planned))})
		}
	}
	return out
}

// AgainstPlan is Against where the line has the axle planned; none for another line's, and
// where it is not planned.
func (x *Standing) AgainstPlan(l *project.Line) []AxleOff {
	planned, ok := PlannedAxle(l)
	if l.Name != x.Line || !ok {
		return nil
	}
	return x.Against(planned)
}

// Measured is a line with the rows of its axle that were measured in the places of those
// that are planned. Its roll is in no plan.
func (x *Standing) Measured(l project.Line) project.Line {
	at := l.Pinion.At.At
	for _, r := range x.Rows {
		if !r.Is.Known {
			continue
		}
		switch r.Key {
		case "station":
			at.X = r.Is.V
		case "offset":
			at.Y = r.Is.V
		case "height":
			at.Z = r.Is.V
		case "slope":
			l.Pinion.Slope.SetV(r.Is.V)
		case "heading":
			l.Pinion.Heading.SetV(r.Is.V)
		}
	}
	l.Pinion.At = project.Point{At: at, Known: true}
	return l
}

// Why is why it is not known where the axle stands; "" where some of it is.
func (x *Standing) Why() string {
	switch {
	case x.powertrain.Why != "":
		return x.powertrain.Why
	case len(x.Rows) == 0:
		return "nothing that was measured to marks on the " + x.Line + " axle can be used"
	}
	for _, r := range x.Rows {
		if r.Is.Known {
			return ""
		}
	}
	return "too little was measured to marks on the " + x.Line + " axle to say where it stands: measure heights and tapes to more of them"
}

// PlacedFinding holds where an axle was measured to stand against where it is planned, as
// Powertrain.PlacedFinding does; differ names the findings that come out otherwise for the
// line as measured.
func (x *Standing) PlacedFinding(l *project.Line, differ func(measured project.Line) []string) finding.Finding {
	f := x.powertrain.finding(finding.AxlePlaced(x.Line), x.Line+" axle as measured, against planned")
	f.Kind, f.Source = quantity.Length, "as measured less as planned; the plan is no limit"
	planned, ok := PlannedAxle(l)
	switch why := x.Why(); {
	case why != "":
		f.Unknown(why)
	case !ok:
		f.Unknown("where it is planned to stand is not in the file yet: line." + x.Line + ".pinion.at and line." + x.Line + ".pinion.slope")
	}
	if f.Status == finding.NotKnown && f.Missing != "" {
		f.Says = finding.Say(finding.NotYet(f.Missing))
		return f
	}
	f.Assumes = append(f.Assumes[:len(f.Assumes):len(f.Assumes)], "planned level across")
	var beyond, open []string
	largest := finding.Number{}
	u := x.powertrain.build.Units
	for _, o := range x.Against(planned) {
		if o.Beyond() {
			beyond = append(beyond, o.Text(u))
		}
		if o.Kind.Long() && (!largest.Known || math.Abs(o.By.V) > math.Abs(largest.V)) {
			largest = o.By
		}
	}
	for _, r := range x.Rows {
		if !r.Is.Known {
			open = append(open, r.Label)
		}
	}
	if largest.Known {
		f.Figure(largest.Sized())
	}
	rest := ""
	if len(open) > 0 {
		rest = " Not measured yet: " + strings.Join(open, "; ") + "."
	}
	f.Status = finding.OK
	if len(open) > 0 {
		f.Status = finding.Tight
	}
	if len(beyond) == 0 {
		f.Says = finding.Say("It stands where it is planned to, as far as was measured." + rest)
		return f
	}
	says := "It stands " + strings.Join(beyond, ", ") + " than planned."
	if changed := differ(x.Measured(*l)); len(changed) > 0 {
		f.Status = finding.Tight
		says += " As measured these come out otherwise than as planned: " + strings.Join(changed, ", ") + ". Move it where it is planned, or plan it where it stands."
	} else {
		says += " No finding comes out otherwise for that."
	}
	f.Says = finding.Say(says + rest)
	return f
}

// differs is a difference with its ±, without its sign.
func differs(kind quantity.Kind, by finding.Number, u quantity.Units) string {
	k, digits := quantity.Length, 1
	if !kind.Long() {
		k, digits = quantity.Angle, 2
	}
	unit := quantity.UnitName(k, u)
	if unit != "deg" {
		unit = " " + unit
	} else {
		unit = "°"
	}
	if k == quantity.Length && unit == " in" {
		digits = 2
	}
	in := func(v float64) string {
		return fmt.Sprintf("%.*f", digits, quantity.InUnit(k, math.Abs(v), u))
	}
	return in(by.V) + " ± " + in(by.Expanded()) + unit
}

// farMark is how far the farthest two of some marks on one body are apart, mm.
func farMark(marks []project.Mark) (far float64) {
	for i := range marks {
		for j := range i {
			if marks[i].Own.Known && marks[j].Own.Known {
				far = max(far, r3.Norm(r3.Sub(marks[i].Own.At, marks[j].Own.At)))
			}
		}
	}
	return far
}
