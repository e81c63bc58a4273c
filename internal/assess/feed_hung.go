package assess

import (
	"fitup/internal/assess/finding"
	"fitup/internal/assess/hung"
	"fitup/internal/geom/rigid"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// To the trade that fits what was measured of the powertrain: what the gauge and the tape
// said of it and of the shafts behind it, and what was measured to its marks, on the
// survey's own sources. From it: slopes and headings with what all of that knows of them.

// Hung is where the powertrain hangs by what was measured of it.
type Hung = hung.Powertrain

// placeHung fits what was measured of the powertrain. b says where it stood for what does
// not say so itself.
func (p *Prepared) placeHung(b *project.Build) {
	in := hung.Input{Build: b, Reads: p.reads, Bias: p.readings.Bias()}
	for i, m := range p.measured.List {
		if !m.Surveys() || !b.ToPowertrain(&m.Measurement) {
			continue
		}
		in.Lines = append(in.Lines, hung.Line{
			Name: m.Of, Index: m.Index, As: m.Line(), From: m.From, To: m.To, At: m.At, Value: m.Mean, After: m.After, Stood: m.Stood, Placed: b.Measurements[i].Placed,
		})
	}
	if len(in.Lines) == 0 {
		p.hangs = hung.Of(in)
		return
	}
	in.From, in.Place = p.placing()
	in.Readings = p.readOf(b, in.Place)
	if supports, at, err := b.Seat(); err == nil {
		if pose, err := supports.Pose(at); err == nil {
			in.Start.V, in.Start.Known = pose, true
		}
	}
	p.hangs = hung.Of(in)
}

// readOf are the readings that say how the powertrain lies, its own first, and those of
// shafts from it to a point that was measured.
func (p *Prepared) readOf(b *project.Build, place func(path string) [3]finding.Number) (out []hung.Reading) {
	add := func(x hung.Reading, t finding.Taken, m finding.Number) {
		if x.Value, x.Set = m, t.Set; m.Known {
			out = append(out, x)
		}
	}
	own := p.readings.Gauge(project.TargetPowertrain)
	add(hung.Reading{Target: project.TargetPowertrain, Kind: rigid.Along, Name: "the powertrain's slope by gauge"}, own, own.Level)
	across := p.readings.Gauge(project.TargetAcross)
	add(hung.Reading{Target: project.TargetAcross, Kind: rigid.Across, Name: "the crankshaft's slope across by gauge"}, across, finding.Number{Number: across.Mean.Times(-1), Known: across.Mean.Known})
	above := p.readings.Tape(project.TargetPowertrain)
	add(hung.Reading{Target: project.TargetPowertrain, Tape: true, Kind: rigid.Aim, Name: "the powertrain's direction by tape from above"}, above, above.Mean)
	for i := range b.Lines {
		l := &b.Lines[i]
		begins, end, ok := firstShaft(b, l)
		if !ok {
			continue
		}
		t := p.readings.Gauge(l.ShaftTarget(1))
		add(hung.Reading{Target: l.ShaftTarget(1), Kind: rigid.Fall, Name: "the " + l.Name + " shaft's slope by gauge", Own: begins, End: place(end)}, t, t.Level)
	}
	return out
}

// firstShaft is where the first shaft of a line begins on the powertrain, and the point of
// the file where it ends; false where that is not measured but planned, or the line does
// not begin at the powertrain.
func firstShaft(b *project.Build, l *project.Line) (begins r3.Vec, end string, ok bool) {
	n := l.JointCount()
	output := l.Output
	if !output.Known {
		output = b.Powertrain.Output
	}
	if n < 2 || l.DrivingTarget() != project.TargetPowertrain || !output.Known {
		return r3.Vec{}, "", false
	}
	at := l.Joint(1).At
	if n == 2 && l.Pinion.At.Known {
		at = l.Pinion.At
	}
	return output.At, at.Ref, at.Known && at.Ref != ""
}
