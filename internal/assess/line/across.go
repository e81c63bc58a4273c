package line

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Across judges the crankshaft of a transaxle, which lies across the vehicle:
// whether it was read, and whether that agrees with where the powertrain is
// planned to stand. Nothing else of a line of half shafts can take a gauge.
func Across(in Input, at Place) []finding.Finding {
	a := &judge{Prepared: &Prepared{Input: in}, Place: at}
	a.across()
	return a.Findings
}

func (a *judge) across() {
	if a.Build.Powertrain.Layout != project.Transaxle {
		return
	}
	t := a.Readings.Gauge[project.TargetAcross]
	read := finding.Finding{ID: project.TargetAcross + ".read", Title: "reading of the crankshaft, across", Kind: quantity.Angle, Basis: finding.Read}
	if len(t.Set) == 0 {
		read.Unknown("no reading of the crankshaft yet (of the powertrain, with its left or its right end lower)")
		read.Says = finding.Say(finding.NotYet(read.Missing))
		a.Findings = append(a.Findings, read)
		return
	}
	r := a.Build.Readings[t.Set[0]]
	basis := finding.Read
	if r.After.Proves() {
		basis = finding.Proved
	}
	m := t.Mean
	moved := m.Known && a.carryAcross(&m, r)
	if !m.Known {
		read.Unknown("the reading of the crankshaft: " + m.Why)
		if r.Lower == "" {
			read.Missing = fmt.Sprintf("the reading of the crankshaft has no direction; which end is lower, left or right? (reading.%d.lower)", t.Set[0]+1)
		}
		read.Says = finding.Say(finding.NotYet(read.Missing))
		a.Findings = append(a.Findings, read)
		return
	}
	if moved {
		basis = finding.Planned
	}
	read.Basis, read.Moved = basis, moved
	read.Figure(m.Sized())
	read.Source = "angle gauge"
	read.Assumes = append([]string{"the vehicle level from side to side"}, t.Assumes...)
	read.Says = finding.Asked(read, func() map[finding.Status]string {
		return map[finding.Status]string{finding.OK: "There is a usable reading: " + fallsTo(m.V) + "."}
	})
	a.Findings = append(a.Findings, read)
	if !a.Pose.Known {
		return
	}
	planned := fallRight(a.Pose.V.Y)
	gap := finding.Finding{ID: project.TargetAcross + ".agree", Title: "crankshaft across, read against planned", Basis: basis, Moved: moved, Assumes: read.Assumes}
	gap.Judge(m.Apart(finding.Exact(planned)), a.Build.Limit("plan_gap"), false)
	gap.Says = finding.Asked(gap, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "The reading and the model agree.",
			finding.Tight: "The reading and the model nearly disagree; read again.",
			finding.Over: fmt.Sprintf("The reading says %s, the model %s: check which end was lower, what the gauge stood on, whether the vehicle stood level, and the heights in the file.",
				fallsTo(m.V), fallsTo(planned)),
		}
	})
	a.Findings = append(a.Findings, gap)
}

// carryAcross adds what the model says has changed since the reading, and
// reports whether the powertrain was moved. A move that the model cannot follow
// leaves nothing known.
func (a *judge) carryAcross(m *finding.Number, r project.Reading) bool {
	then, ok := r.Placed.Seat()
	supports, _, err := a.Build.Seat()
	if !r.Placed.Elsewhere(a.Build.Placement) {
		return false
	}
	var was geom.Pose
	if ok && err == nil {
		was, err = supports.Pose(then)
	}
	if !ok || err != nil || !a.Pose.Known {
		*m = finding.Missing("the powertrain moved since, and the model does not reach to it; read it again")
		return true
	}
	*m = m.Less(fallRight(was.Y) - fallRight(a.Pose.V.Y))
	return true
}

// fallRight is how far an axis that points to the right falls that way, rad.
func fallRight(y r3.Vec) float64 { return math.Atan2(-y.Z, math.Hypot(y.X, y.Y)) }

func fallsTo(v float64) string {
	way := "right"
	if v < 0 {
		way = "left"
	}
	return fmt.Sprintf("%.2f° down to the %s", geom.Angle(v).Abs().Degrees(), way)
}
