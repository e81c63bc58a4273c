package assess

import (
	"strconv"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// listValues puts every number a screen can show under a dotted name.
func (a *Assessment) listValues() []Value {
	var l valueList
	for _, r := range a.Rows {
		l.measure(r.Name, r.Kind, r.Now)
	}
	if a.Pose.Known {
		l.add("placement.roll", quantity.Angle, a.Pose.V.Roll().Rad())
		p := a.Build.Powertrain
		for _, pt := range []struct {
			name  string
			at    r3.Vec
			known bool
		}{
			{"pads.left_front", p.Pads.LeftFront.At, p.Pads.LeftFront.Known},
			{"pads.right_front", p.Pads.RightFront.At, p.Pads.RightFront.Known},
			{"pads.rear", p.Pads.Rear.At, p.Pads.Rear.Known},
			{"output", p.Output.At, p.Output.Known},
			{"centre_of_mass", p.CentreOfMass.At, p.CentreOfMass.Known},
		} {
			if pt.known {
				l.point(pt.name, a.Pose.V.Point(pt.at))
			}
		}
	}
	for _, line := range a.Lines {
		l.line(line)
	}
	a.Statics.values(&a.Isolators, &l)
	for _, c := range a.Clearances {
		c.values(&l)
	}
	a.Moving.values("clearance.powertrain.moving", &l)
	for _, r := range a.RideLevel {
		r.values(&l)
	}
	for i := range a.Brackets {
		a.Brackets[i].values(&l)
	}
	for i := range a.Cuts {
		a.Cuts[i].values(&l)
	}
	for _, f := range a.Findings {
		l.finding(f)
	}
	for i, r := range a.Build.Readings {
		l.reading("reading."+strconv.Itoa(i+1), r, a.gauge.slope[i])
	}
	l.jobs(a)
	count := a.Count()
	for _, s := range []Status{OK, Tight, Over, NotKnown} {
		l.add("findings."+strings.ReplaceAll(s.String(), " ", "_"), quantity.Number, float64(count[s]))
	}
	return l
}

type valueList []Value

// reading lists what was read, what it amounts to and where the powertrain hung
// then.
func (l *valueList) reading(name string, r project.Reading, slope Measure) {
	v, ok := r.Shown.Get()
	*l = append(*l, Value{name + ".shown", quantity.Angle, v, ok})
	l.measure(name+".slope", quantity.Slope, slope)
	if r.InPlan() {
		l.add(name+".aside", quantity.Offset, r.Aside.V())
		l.add(name+".over", quantity.Length, r.Over.V())
	}
	p, ok := r.Placed.Seat()
	if !ok {
		return
	}
	for _, row := range placementRows {
		for _, info := range project.PlacementRows() {
			if info.Row == row.row {
				l.add(name+strings.Replace(info.Name, "placement", ".placed", 1), info.Kind, *row.at(&p))
			}
		}
	}
}

func (l *valueList) add(name string, k quantity.Kind, v float64) {
	*l = append(*l, Value{name, k, v, true})
}

func (l *valueList) measure(name string, k quantity.Kind, m Measure) {
	*l = append(*l, Value{name, k, m.V, m.Known})
}

func (l *valueList) point(name string, p r3.Vec) {
	l.add(name+".station", quantity.Length, p.X)
	l.add(name+".offset", quantity.Offset, p.Y)
	l.add(name+".height", quantity.Length, p.Z)
}

func (l *valueList) line(line Line) {
	id := "line." + line.Name
	l.measure(id+".speed", quantity.Speed, line.Speed.Measure)
	l.measure(id+".speed.redline", quantity.Speed, line.ByRedline.Measure)
	l.measure(id+".speed.top_speed", quantity.Speed, line.ByRoad.Measure)
	l.measure(id+".torque", quantity.Torque, line.Torque.Measure)
	for _, x := range line.Axes {
		name := x.Target
		if x.Target == project.TargetPowertrain {
			name = id + "." + x.Target
		}
		l.measure(name+".slope.planned", quantity.Slope, x.Planned)
		l.measure(name+".heading.planned", quantity.Heading, x.Heading)
		l.measure(name+".slope.read", quantity.Slope, x.Read)
		l.measure(name+".slope.as_read", quantity.Slope, x.Raw)
		l.measure(name+".heading.read", quantity.Heading, x.Plan)
		l.add(name+".readings", quantity.Number, float64(x.Count))
	}
	for _, j := range line.Joints {
		l.joint(id+".joint."+strconv.Itoa(j.Number), j)
	}
	for _, s := range line.Shafts {
		l.shaft(id+".shaft."+strconv.Itoa(s.Number), s)
	}
	l.motion(id+".planned", line.Planned)
	l.motion(id+".read", line.Read)
	if line.Travel != nil {
		line.Travel.values(id, l)
	}
	for _, r := range line.Order {
		if r.Name != "" {
			l.measure(r.Name, r.Kind, r.Value)
		}
	}
}

func (l *valueList) joint(name string, j Joint) {
	if j.At.Known {
		l.point(name+".at", j.At.V)
	}
	l.measure(name+".angle.planned", quantity.Angle, j.Planned)
	l.measure(name+".angle.read", quantity.Angle, j.Read)
	l.uncertainty(name+".angle.read", quantity.Angle, j.Read)
	l.measure(name+".load.torque", quantity.Torque, j.Load.Torque)
	l.measure(name+".load.peak", quantity.Torque, j.Load.Peak)
	l.measure(name+".load.couple_driver", quantity.Torque, j.Load.Driver)
	l.measure(name+".load.couple_driven", quantity.Torque, j.Load.Driven)
}

func (l *valueList) shaft(name string, s Shaft) {
	l.measure(name+".length", quantity.Length, s.Length)
	l.measure(name+".mismatch.planned", quantity.Angle, s.MismatchPlanned)
	l.measure(name+".mismatch.read", quantity.Angle, s.MismatchRead)
	l.uncertainty(name+".mismatch.read", quantity.Angle, s.MismatchRead)
	if !s.Tube.Given {
		return
	}
	l.measure(name+".tube.whirl", quantity.Speed, s.Tube.Whirl)
	l.measure(name+".tube.safe", quantity.Speed, s.Tube.Safe)
	l.measure(name+".tube.mass", quantity.Mass, s.Tube.Mass)
	l.measure(name+".tube.shear", quantity.Stress, s.Tube.Shear)
	l.measure(name+".tube.twist", quantity.Angle, s.Tube.Twist)
	l.measure(name+".tube.unbalance", quantity.Unbalance, s.Tube.Unbalance)
}

func (l *valueList) motion(name string, m Motion) {
	ratio := func(key string, v float64) { *l = append(*l, Value{name + "." + key, quantity.Number, v, m.Known}) }
	angle := func(key string, v float64) { *l = append(*l, Value{name + "." + key, quantity.Angle, v, m.Known}) }
	ratio("ratio.max", m.Max)
	ratio("ratio.min", m.Min)
	ratio("ratio.second_order", m.Second)
	ratio("ratio.fourth_order", m.Fourth)
	angle("swing", m.Swing)
	angle("equivalent", m.Equivalent)
	l.uncertainty(name+".equivalent", quantity.Angle, Measure{U: m.U, Known: m.Known})
	angle("equivalent.small_angle", m.SmallAngle)
	l.measure(name+".residual", quantity.AngularAcceleration, m.Residual)
	l.uncertainty(name+".residual", quantity.AngularAcceleration, m.Residual)
	for i := range m.Drive {
		l.measure(name+".inertia.drive."+strconv.Itoa(i+1), quantity.AngularAcceleration, m.Drive[i])
		l.measure(name+".inertia.coast."+strconv.Itoa(i+1), quantity.AngularAcceleration, m.Coast[i])
	}
	for _, b := range m.Best {
		l.add(name+".best_yoke."+strconv.Itoa(b.Shaft), quantity.Angle, b.Offset)
		l.add(name+".best_yoke."+strconv.Itoa(b.Shaft)+".turn", quantity.Angle, b.Turn)
		l.measure(name+".best_yoke."+strconv.Itoa(b.Shaft)+".residual", quantity.AngularAcceleration, b.Residual)
	}
}

// uncertainty lists the standard uncertainty and the expanded one.
func (l *valueList) uncertainty(name string, k quantity.Kind, m Measure) {
	*l = append(*l,
		Value{name + ".standard_uncertainty", k, m.U, m.Known},
		Value{name + ".uncertainty", k, m.Expanded(), m.Known})
}

func (l *valueList) finding(f Finding) {
	*l = append(*l, Value{f.ID + ".value", f.Kind, f.Value, f.HasValue})
	if f.Uncertainty > 0 {
		l.add(f.ID+".uncertainty", Unsigned(f.Kind), f.Uncertainty)
	}
	if f.HasLimit {
		l.add(f.ID+".limit", f.Kind, f.Limit)
		*l = append(*l, Value{f.ID + ".margin", f.Kind, f.Margin, f.HasValue})
	}
}

// Unsigned is the kind of a width of values of kind k, such as an uncertainty:
// it reaches both ways and so has no direction.
func Unsigned(k quantity.Kind) quantity.Kind {
	switch k {
	case quantity.Slope, quantity.Heading:
		return quantity.Angle
	case quantity.Offset:
		return quantity.Length
	}
	return k
}
