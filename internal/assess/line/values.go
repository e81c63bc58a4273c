package line

import (
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Values lists what is known of a line, but for its travel and its order sheet.
func (line *Line) Values(l *finding.List) {
	id := "line." + line.Name
	l.Number(id+".speed", quantity.Speed, line.Speed.Number)
	l.Number(id+".speed.redline", quantity.Speed, line.ByRedline.Number)
	l.Number(id+".speed.top_speed", quantity.Speed, line.ByRoad.Number)
	l.Number(id+".torque", quantity.Torque, line.Torque.Number)
	for _, x := range line.Axes {
		name := x.Target
		if x.Target == project.TargetPowertrain {
			name = id + "." + x.Target
		}
		l.Number(name+".slope.planned", quantity.Slope, x.Planned)
		l.Number(name+".heading.planned", quantity.Heading, x.Heading)
		l.Number(name+".slope.read", quantity.Slope, x.Read)
		l.Number(name+".slope.as_read", quantity.Slope, x.Raw)
		l.Number(name+".heading.read", quantity.Heading, x.Plan)
		l.Add(name+".readings", quantity.Count, float64(x.Count))
		if x.Count > 1 {
			l.Add(name+".slope.apart", quantity.Angle, x.Apart)
		}
	}
	for _, j := range line.Joints {
		listJoint(l, id+".joint."+strconv.Itoa(j.Number), j)
	}
	for _, s := range line.Shafts {
		listShaft(l, id+".shaft."+strconv.Itoa(s.Number), s)
	}
	listMotion(l, id+".planned", line.Planned)
	listMotion(l, id+".read", line.Read)
}

func listJoint(l *finding.List, name string, j Joint) {
	if j.At.Known {
		l.Point(name+".at", j.At.V)
	}
	l.Number(name+".angle.planned", quantity.Angle, j.Planned)
	l.Number(name+".angle.read", quantity.Angle, j.Read)
	l.Uncertainty(name+".angle.read", quantity.Angle, j.Read)
	l.Number(name+".load.torque", quantity.Torque, j.Load.Torque)
	l.Number(name+".load.peak", quantity.Torque, j.Load.Peak)
	l.Number(name+".load.couple_driver", quantity.Torque, j.Load.Driver)
	l.Number(name+".load.couple_driven", quantity.Torque, j.Load.Driven)
}

func listShaft(l *finding.List, name string, s Shaft) {
	l.Number(name+".length", quantity.Length, s.Length)
	if s.LengthRead.Known {
		l.Number(name+".length.read", quantity.Length, s.LengthRead)
		l.Uncertainty(name+".length.read", quantity.Length, s.LengthRead)
	}
	l.Number(name+".mismatch.planned", quantity.Angle, s.MismatchPlanned)
	l.Number(name+".mismatch.read", quantity.Angle, s.MismatchRead)
	l.Uncertainty(name+".mismatch.read", quantity.Angle, s.MismatchRead)
	if !s.Tube.Given {
		return
	}
	l.Number(name+".tube.whirl", quantity.Speed, s.Tube.Whirl)
	l.Number(name+".tube.safe", quantity.Speed, s.Tube.Safe)
	l.Number(name+".tube.mass", quantity.Mass, s.Tube.Mass)
	l.Number(name+".tube.shear", quantity.Stress, s.Tube.Shear)
	l.Number(name+".tube.twist", quantity.Angle, s.Tube.Twist)
	l.Number(name+".tube.unbalance", quantity.Unbalance, s.Tube.Unbalance)
}

func listMotion(l *finding.List, name string, m Motion) {
	ratio := func(key string, v float64) { l.Put(name+"."+key, quantity.Number, v, m.Known) }
	angle := func(key string, v float64) { l.Put(name+"."+key, quantity.Angle, v, m.Known) }
	ratio("ratio.max", m.Max)
	ratio("ratio.min", m.Min)
	ratio("ratio.second_order", m.Second)
	ratio("ratio.fourth_order", m.Fourth)
	angle("swing", m.Swing)
	l.Number(name+".equivalent", quantity.Angle, m.Equivalent)
	l.Uncertainty(name+".equivalent", quantity.Angle, m.Equivalent)
	angle("equivalent.small_angle", m.SmallAngle)
	l.Number(name+".residual", quantity.AngularAcceleration, m.Residual)
	l.Uncertainty(name+".residual", quantity.AngularAcceleration, m.Residual)
	for i := range m.Drive {
		l.Number(name+".inertia.drive."+strconv.Itoa(i+1), quantity.AngularAcceleration, m.Drive[i])
		l.Number(name+".inertia.coast."+strconv.Itoa(i+1), quantity.AngularAcceleration, m.Coast[i])
	}
	for _, b := range m.Best {
		l.Add(name+".best_yoke."+strconv.Itoa(b.Shaft), quantity.Angle, b.Offset)
		l.Add(name+".best_yoke."+strconv.Itoa(b.Shaft)+".turn", quantity.Angle, b.Turn)
		l.Number(name+".best_yoke."+strconv.Itoa(b.Shaft)+".residual", quantity.AngularAcceleration, b.Residual)
	}
}
