package assess

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/hung"
	"fitup/internal/geom/rigid"
	"fitup/internal/geom/seat"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// To the trade that fits what was measured of the powertrain: what the gauge and the tape
// said of it and of the shafts behind it, and what was measured to its marks, on the
// survey's own sources. From it: slopes and headings with what all of that knows of them.

// Hung is where the powertrain hangs by what was measured of it.
type Hung = hung.Powertrain

// Standing is where an axle stands by what was measured of it.
type Standing = hung.Standing

// placeHung fits what was measured of the powertrain. b says where it stood for what does
// not say so itself.
func (p *Prepared) placeHung(b *project.Build) {
	in := hung.Input{Build: b, Reads: p.reads, Bias: p.readings.Bias()}
	for i, m := range p.measured.List {
		if !m.Surveys() || !b.ToPowertrain(&m.Measurement) && !b.ToAxle(&m.Measurement) {
			continue
		}
		in.Lines = append(in.Lines, hung.Line{
			Name: m.Of, Index: m.Index, As: m.Line(), From: m.From, To: m.To, At: m.At, Value: m.Mean, After: m.After, Stood: m.Stood, Placed: b.Measurements[i].Placed,
		})
	}
	if len(in.Lines) == 0 && !p.betweenPoints(b) {
		p.hangs = hung.Of(in)
		return
	}
	at := p.placingAll()
	in.From, in.Place = at.from, at.place
	in.Axles = axlesOf(b, in)
	in.Readings, in.Unread = p.readOf(b, in.Axles, in.Place)
	if supports, at, err := b.Seat(); err == nil {
		in.Supports = finding.Maybe[seat.Supports]{V: supports, Known: true}
		if pose, err := supports.Pose(at); err == nil {
			in.Start.V, in.Start.Known = pose, true
		}
	}
	p.hangs = hung.Of(in)
}

// hungAsPlanned is where the powertrain was measured to hang against where it stands here;
// plan makes planAlone.
func (a *Assessment) hungAsPlanned(plan func() [2][]Finding) []Finding {
	var planned finding.Maybe[seat.Placement]
	if _, at, err := a.Build.Seat(); err == nil {
		planned.V, planned.Known = at, true
	} else {
		planned.Why = err.Error()
	}
	f, ok := a.Hung.PlacedFinding(planned, func(at seat.Placement) []string { return a.otherwise(a.Build.Placed(at), plan()) })
	if !ok {
		return nil
	}
	return []Finding{f}
}

// axlesOf are the axles that something was measured to.
func axlesOf(b *project.Build, in hung.Input) (out []hung.Axle) {
	for i := range b.Lines {
		l := &b.Lines[i]
		if !slices.ContainsFunc(in.Lines, func(m hung.Line) bool {
			return slices.ContainsFunc([]string{m.From, m.To, m.At}, func(path string) bool {
				of, ok := b.AxleMarked(path)
				return ok && of == i
			})
		}) {
			continue
		}
		x := hung.Axle{Line: l.Name, Marks: l.MarksOnAxle()}
		if pose, ok := hung.PlannedAxle(l); ok {
			x.Start.V, x.Start.Known = pose, true
		}
		if ref := l.Pinion.At.Ref; ref != "" && !b.Loose(ref) {
			if at := in.Place(ref); at[2].Known && at[2].U() > 0 { // a height without a ± is a plan
				x.Joint = hung.End{Body: hung.AxleBody(len(out)), Path: ref, At: at}
			}
		}
		out = append(out, x)
	}
	return out
}

// axlesAsPlanned is where axles were measured to stand against where they are planned; plan
// makes planAlone.
func (a *Assessment) axlesAsPlanned(plan func() [2][]Finding) (out []Finding) {
	for _, x := range a.Hung.Axles {
		i := slices.IndexFunc(a.Build.Lines, func(l project.Line) bool { return l.Name == x.Line })
		if i < 0 {
			continue
		}
		out = append(out, x.PlacedFinding(&a.Build.Lines[i], func(measured project.Line) []string {
			b := *a.Build
			b.Lines = slices.Clone(b.Lines)
			b.Lines[i] = measured
			return a.otherwise(&b, plan())
		}))
	}
	return out
}

// otherwise are the findings of the plan, as planAlone has them, that come out otherwise in a
// build that differs in what is planned where something was measured: of its lines, and of
// the room round the powertrain.
func (a *Assessment) otherwise(b *project.Build, plan [2][]Finding) (out []string) {
	measured := a.linesAndRoom(b)
	for _, list := range plan {
		for _, f := range list {
			g, ok := measured.Finding(f.ID)
			if ok && f.HasLimit && f.Basis == finding.Planned && g.Basis == finding.Planned && f.Status != g.Status {
				out = append(out, fmt.Sprintf("%s (%s)", strings.TrimSuffix(f.Title, ", as planned"), g.Status))
			}
		}
	}
	return out
}

// planAlone are the findings of the lines and of the room as planned.
func (a *Assessment) planAlone() [2][]Finding {
	c := a.linesAndRoom(a.Build)
	return [2][]Finding{c.Findings, c.Plans}
}

// linesAndRoom assesses no more than those of a build that may have other lines.
func (a *Assessment) linesAndRoom(b *project.Build) *Assessment {
	p := a.ready
	if !sameLines(b, p.Build) {
		q := *p
		q.readAnew(b)
		p = &q
	}
	return p.at(b, (OfLines | OfRoom).whole())
}

// readOf are the readings that say how the powertrain lies, its own first, and those of
// shafts between it and points that were measured; and of those what no gauge was put on.
func (p *Prepared) readOf(b *project.Build, axles []hung.Axle, place func(path string) [3]finding.Number) (out, unread []hung.Reading) {
	add := func(x hung.Reading, t finding.Taken, m finding.Number) {
		if x.Value, x.Set = m, t.Set; m.Known {
			out = append(out, x)
		} else if len(t.Set) == 0 && x.Kind != rigid.Across {
			unread = append(unread, x)
		}
	}
	taped := func(x hung.Reading) {
		x.Tape = true
		t := p.readings.Tape(x.Target)
		add(x, t, t.Mean)
	}
	own := p.readings.Gauge(project.TargetPowertrain)
	add(hung.Reading{Target: project.TargetPowertrain, Kind: rigid.Along, Name: "the powertrain's slope by gauge"}, own, own.Level)
	across := p.readings.Gauge(project.TargetAcross)
	add(hung.Reading{Target: project.TargetAcross, Kind: rigid.Across, Name: "the crankshaft's slope across by gauge"}, across, finding.Number{Number: across.Mean.Times(-1), Known: across.Mean.Known})
	taped(hung.Reading{Target: project.TargetPowertrain, Kind: rigid.Aim, Name: "the powertrain's direction by tape from above"})
	for i := range b.Lines {
		l := &b.Lines[i]
		axle := slices.IndexFunc(axles, func(x hung.Axle) bool { return x.Line == l.Name })
		if axle >= 0 {
			x := hung.Reading{Target: l.PinionTarget(), Kind: rigid.Along, Body: hung.AxleBody(axle), Name: "the " + l.Name + " pinion's slope by gauge", Rides: true}
			t := p.readings.Gauge(x.Target)
			add(x, t, t.Level)
			tubes := p.readings.Gauge(l.AxleTarget())
			add(hung.Reading{Target: l.AxleTarget(), Kind: rigid.Across, Body: x.Body, Name: "the " + l.Name + " axle's slope across by gauge", Rides: true}, tubes,
				finding.Number{Number: tubes.Mean.Times(-1), Known: tubes.Mean.Known})
			x.Kind, x.Name = rigid.Aim, "the "+l.Name+" pinion's direction by tape from above"
			taped(x)
		}
		for n := 1; n < l.JointCount(); n++ {
			first, rides, ok := jointEnd(b, l, n-1)
			last, _, known := jointEnd(b, l, n)
			if axle >= 0 && n == l.JointCount()-1 {
				last, known = hung.End{Body: hung.AxleBody(axle), Own: l.BeforeSpacer(r3.Vec{}, r3.Vec{X: 1})}, true
			}
			if !ok || !known {
				continue
			}
			x := hung.Reading{Target: l.ShaftTarget(n), Kind: rigid.Fall, Name: shaftName(l, n) + " slope by gauge", Ends: [2]hung.End{first, last}, Rides: rides}
			measured, above := true, true
			for k := range x.Ends {
				if e := &x.Ends[k]; e.Path != "" {
					e.At = place(e.Path)
					measured = measured && e.At[2].Known && e.At[2].U() > 0 // a height without a ± is a plan
					for _, at := range e.At {
						above = above && at.Known && at.U() > 0
					}
				}
			}
			if !measured {
				continue
			}
			t := p.readings.Gauge(x.Target)
			add(x, t, t.Level)
			if !above {
				continue
			}
			x.Kind, x.Name = rigid.Course, shaftName(l, n)+" direction by tape from above"
			taped(x)
			x.Kind = rigid.Distance
			unread = append(unread, x)
		}
	}
	return out, unread
}

// shaftName is a shaft as a sentence has it.
func shaftName(l *project.Line, n int) string {
	if l.JointCount() == 2 {
		return "the " + l.Name + " shaft's"
	}
	return fmt.Sprintf("%s shaft %d's", l.Name, n)
}

// jointEnd is where joint n (from 0) of a line is, on the powertrain or at a point of the
// file, and whether it goes nowhere with the powertrain; false where that is not measured but
// planned.
func jointEnd(b *project.Build, l *project.Line, n int) (at hung.End, rides, ok bool) {
	if n == 0 && l.DrivingTarget() == project.TargetPowertrain {
		output := b.OutputOf(l)
		return hung.End{Own: l.BehindSpacer(output.At, l.OutputDir())}, false, output.Known
	}
	point := l.Joint(n).At
	if n == l.JointCount()-1 && l.Pinion.At.Known {
		point = l.Pinion.At
		if l.Pinion.Spacer.Or(0) > 0 { // it is not the joint that was measured
			return hung.End{}, true, false
		}
	}
	return hung.End{Path: point.Ref}, true, point.Known && point.Ref != ""
}

// betweenPoints reports whether a shaft was read both ends of which were measured, and not
// on the powertrain.
func (p *Prepared) betweenPoints(b *project.Build) bool {
	for i := range b.Lines {
		l := &b.Lines[i]
		for n := 1; n < l.JointCount(); n++ {
			_, rides, ok := jointEnd(b, l, n-1)
			if _, _, known := jointEnd(b, l, n); ok && known && rides && len(p.readings.Gauge(l.ShaftTarget(n)).Set) > 0 {
				return true
			}
		}
	}
	return false
}
