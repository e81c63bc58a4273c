package assess

import (
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/line"
	"fitup/internal/assess/reading"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// To the line trade: where the powertrain stands, the readings, and where an axle
// hangs at full droop. From it: the chain of joints, which travel moves, mounts
// bend, and room is left round.

// What is known of a driveline goes by the same names here.
type (
	// Axis is the powertrain's, a shaft's or the pinion's centre line.
	Axis = line.Axis
	// Joint is one joint of a line.
	Joint = line.Joint
	// Shaft is one shaft between two joints.
	Shaft = line.Shaft
	// Motion is how unevenly a line runs.
	Motion = line.Motion
	// Rate is a number with where it comes from in words.
	Rate = line.Rate
	// OrderRow is one line of what a shaft maker asks.
	OrderRow = line.OrderRow
)

// Line is one driveline, at ride height and between bump and droop.
type Line struct {
	line.Line
	Travel *Travel // nil when the file has no suspension for it

	file *project.Line
}

// Order is the shaft order sheet of the line, at ride height.
func (l *Line) Order() []OrderRow { return line.Order(*l.file, &l.Line, halfShaftRows(*l.file, l)) }

// prepareLines prepares the lines of b. They serve any other place of the
// powertrain too, since their readings say where it stood.
func (p *Prepared) prepareLines(b *project.Build) {
	b = p.read(b)
	p.placeHung(b)
	p.linesByReadings(b)
}

// readAnew is prepareLines where all that was measured says what it did.
func (p *Prepared) readAnew(b *project.Build) { p.linesByReadings(p.read(b)) }

// read takes the readings of b, which is returned with them saying where it stood.
func (p *Prepared) read(b *project.Build) *project.Build {
	if _, placed, err := b.Seat(); err == nil {
		b = b.Placed(placed)
	}
	p.reads = p.sources.Fork()
	p.readings = reading.Of(b, p.reads, p.measured)
	return b
}

func (p *Prepared) linesByReadings(b *project.Build) {
	p.across = line.Input{Build: b, Readings: p.hangs.By(p.readings.Taken()), Stated: p.stated, Survey: p.places.shifts, Droop: hanging}
	p.lines = make([]*line.Prepared, len(b.Lines))
	for i, l := range b.Lines {
		p.lines[i] = line.Prepare(p.across, l)
	}
}

// linePlace is where the powertrain stands, as lines take it.
func (a *Assessment) linePlace() line.Place {
	return line.Place{Build: a.Build, Pose: a.Pose, Beside: a.beside, Light: !a.asks(OfTravel), Angles: a.aim.angles}
}

// across judges a crankshaft that lies across.
func (a *Assessment) across() {
	if a.Build.Powertrain.Layout == project.Transaxle {
		a.take(finding.LineTrade, line.Across(a.ready.across, a.linePlace()))
	}
}

// lines works out the lines that the file has.
func (a *Assessment) lines() {
	a.Lines = make([]Line, 0, len(a.Build.Lines))
	found, plans := len(a.Findings), len(a.Plans)
	defer func() {
		if len(a.ready.open) > 0 {
			a.asBuilt = asBuilt{slices.Clone(a.Lines), slices.Clone(a.Findings[found:]), slices.Clone(a.Plans[plans:])}
		}
	}()
	for i := range a.Build.Lines {
		l, n, planned := &a.Build.Lines[i], len(a.Findings), len(a.Plans)
		if a.as.leavesOut(l.Name) || a.aim.line != "" && a.aim.line != l.Name {
			a.Lines = append(a.Lines, Line{Line: line.Line{Name: l.Name}, file: l})
			continue
		}
		at := a.linePlace()
		at.To, at.PlansTo = a.Findings, a.Plans
		r := a.ready.lines[i].At(at)
		a.Lines = append(a.Lines, Line{Line: r.Line, file: l})
		out := &a.Lines[i]
		a.Findings, a.Plans = r.Findings, r.Plans
		a.took(finding.LineTrade, n)
		made(finding.LineTrade, a.Plans[planned:])
		switch {
		case !a.asks(OfTravel):
		case out.Direct: // hungShafts moves its half shafts
			out.Travel = &Travel{Kind: string(l.Suspension.Kind)}
		default:
			a.travel(i, r.Chain, out)
		}
		a.take(finding.LineTrade, r.Agree)
	}
}

// chain is the line as the file has it when the powertrain stands at pose.
func (a *Assessment) chain(l project.Line, pose finding.Maybe[geom.Pose]) (shaft.Chain, error) {
	for i := range a.Build.Lines {
		if a.Build.Lines[i].Name == l.Name {
			return a.ready.lines[i].Chain(pose)
		}
	}
	return shaft.Chain{}, fmt.Errorf("line.%s is not in the file", l.Name)
}

func (l *Line) values(list *finding.List) {
	l.Line.Values(list)
	if l.Travel != nil {
		l.Travel.Values("line."+l.Name, list)
	}
	for _, r := range l.Order() {
		if r.Name != "" {
			list.Number(r.Name, r.Kind, r.Value)
		}
	}
}

// halfShaftRows are the lines of the order sheet on the half shafts.
func halfShaftRows(l project.Line, out *Line) []line.OrderRow {
	if out.Travel == nil {
		return nil
	}
	var rows []line.OrderRow
	for i, h := range out.Travel.HalfShafts {
		id := fmt.Sprintf("line.%s.order.half_shaft.%s.", l.Name, h.ID)
		row := func(label, key string, k quantity.Kind, v float64, judgedBy ...string) {
			m := finding.Exact(v)
			if h.Why != "" {
				m = finding.Missing(h.Why)
			}
			rows = append(rows, line.OrderRow{Label: label, Name: id + key, Kind: k, Value: m, JudgedBy: judgedBy})
		}
		row("half shaft "+h.Name+", joint centre to joint centre", "length", quantity.Length, h.Ride)
		row("  shortest between bump and droop", "shortest", quantity.Length, h.Ride-h.PlungeIn.Value)
		row("  longest between bump and droop", "longest", quantity.Length, h.Ride+h.PlungeOut.Value)
		file := l.Suspension.HalfShaft[i]
		if v, ok := file.Closed.Get(); ok {
			row("  at ride height, drawn out of home by", "from_closed", quantity.Length, h.Ride-v)
		}
		if v, ok := file.Open.Get(); ok {
			row("  at ride height, left to fully drawn out", "to_open", quantity.Length, v-h.Ride)
		}
		row("  inner joint, largest angle", "inner", quantity.Angle, h.Inner.Value, finding.HalfShaftInner(l.Name, h.ID))
		row("  outer joint, largest angle", "outer", quantity.Angle, h.Outer.Value, finding.HalfShaftOuter(l.Name, h.ID))
	}
	return rows
}

// ResidualOf is what a line leaves over at a speed, as line.ResidualOf.
func ResidualOf(equivalent, speed float64) float64 { return line.ResidualOf(equivalent, speed) }
