package travel

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	suspension "fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// HalfShaft is a half shaft between bump and droop of its wheel, wherever
// the powertrain can stand when the shaft hangs on it. The hub's axis is taken
// as straight across the vehicle at ride height.
type HalfShaft struct {
	Name   string // as the file has it
	ID     string // part of its findings' ids
	Why    string // why it is not moved, when it is not
	Points []suspension.ShaftPoint
	Inner0 r3.Vec  // inner joint with the powertrain as built, vehicle axes
	Ride   float64 // length at ride height with the powertrain as built, mm
	// Angles in rad; plunges from the length at ride height, mm, not negative.
	Inner, Outer, PlungeIn, PlungeOut Extreme

	Assumes []string             // what it rests on that nobody has measured
	Stands  []ShaftStand         // where its inner end can be found, as built first
	Shaft   suspension.HalfShaft // without its inner end

	rates  finding.Estimate
	spread [4]float64 // how much further those four reach with estimated rates of the mounts at their softest
}

// ShaftStand is where a half shaft's inner joint stands, and which way the
// output it sits on points outboard; vehicle axes, mm.
type ShaftStand struct {
	Name        string // "" for as built
	Inner, Axis r3.Vec
	Soft        bool // with estimated rates of the mounts at their softest
}

// Outer0 is the outer joint at ride height, vehicle axes, mm.
func (s *HalfShaft) Outer0() r3.Vec { return s.Shaft.Outer }

// halfShaft is a half shaft of the file as far as it is the same wherever the
// powertrain stands.
type halfShaft struct {
	file        project.HalfShaft
	name, id    string
	key         string // "line.rear.suspension.half_shaft.1."
	lacks       error  // what the file lacks to move it
	bump, droop float64
	path        suspension.WheelPath
	hubs        []suspension.Hub // over the wheel's travel, as far as it gets
	binds       error            // why it gets no further
	toPinion    geom.Angle       // of the differential in plan
	limits      [4]shaftLimit
	rates       finding.Estimate // of the mounts it may hang on
}

// halfShaftsOf makes the half shafts of a line ready.
func halfShaftsOf(l project.Line, hung bool, rates finding.Estimate) []halfShaft {
	taken := map[string]bool{}
	var out []halfShaft
	for i, file := range l.Suspension.HalfShaft {
		n := needs{prefix: "line." + l.Name + ".suspension."}
		h := halfShaft{file: file, rates: rates, name: finding.NameOr(file.Name, "half shaft", i), id: finding.IDOf(file.Name, i, taken),
			bump: n.length(l.Suspension.Bump, "bump"), droop: n.length(l.Suspension.Droop, "droop"), toPinion: quantity.AsAngle(l.Pinion.Heading)}
		h.key = n.prefix + "half_shaft." + strconv.Itoa(i+1) + "."
		n.prefix = h.key
		n.point(file.Outer, "outer")
		pivotA, pivotB := n.point(file.PivotA, "pivot_a"), n.point(file.PivotB, "pivot_b")
		if !hung {
			n.point(file.Inner, "inner")
		}
		h.lacks = n.err()
		h.path = suspension.SwingArm{PivotA: pivotA, PivotB: pivotB}
		if file.Ball.Known {
			h.path = suspension.ControlArm{PivotA: pivotA, PivotB: pivotB, Ball: file.Ball.At}
		}
		if h.lacks == nil {
			h.hubs, h.binds = suspension.HalfShaft{Outer: file.Outer.At, Path: h.path}.Hubs(h.droop, h.bump, travelSteps)
		}
		h.limits = h.limitsOf(l, hung)
		out = append(out, h)
	}
	return out
}

// halfShafts moves the half shafts of a line. The differential of one that is
// hung stands wherever the powertrain does; where is nil for one on the chassis.
func (p *Prepared) halfShafts(where *Stands) shaftsMoved {
	out := make([]HalfShaft, 0, len(p.shafts))
	found := make([]finding.Finding, 0, 4*len(p.shafts))
	for i := range p.shafts {
		h := &p.shafts[i]
		s := HalfShaft{Name: h.name, ID: h.id}
		if err := h.move(&s, where, p.build.Units); err != nil {
			s = HalfShaft{Name: h.name, ID: h.id, Why: err.Error()}
		}
		found = append(found, h.findings(&s, p.build.Units)...)
		out = append(out, s)
	}
	return shaftsMoved{out, found}
}

// move takes the half shaft through its wheel's travel.
func (h *halfShaft) move(s *HalfShaft, where *Stands, u quantity.Units) error {
	if h.lacks != nil {
		return h.lacks
	}
	if where == nil {
		h.fixedStand(s)
	} else if err := h.hungStands(s, where, u); err != nil {
		return err
	}
	s.Shaft = suspension.HalfShaft{Outer: h.file.Outer.At, OuterAxis: r3.Vec{Y: h.outboard(s)}, Path: h.path, Lock: quantity.AsAngle(h.file.Lock)}
	s.Assumes = append(s.Assumes, "the hub's axis straight across the vehicle at ride height: camber and toe are not in it")
	if h.file.Ball.Known {
		s.Assumes = append(s.Assumes, "a hub that stays parallel to itself as it rises")
	}
	return h.sweep(s)
}

// outboard is 1 for a shaft to the right, -1 for one to the left.
func (h *halfShaft) outboard(s *HalfShaft) float64 {
	return math.Copysign(1, h.file.Outer.At.Y-s.Stands[0].Inner.Y)
}

// fixedStand is the one of a differential on the chassis.
func (h *halfShaft) fixedStand(s *HalfShaft) {
	across := r3.Cross(r3.Vec{Z: 1}, geom.Direction(0, h.toPinion))
	s.Stands = []ShaftStand{{Inner: h.file.Inner.At}}
	s.Stands[0].Axis = r3.Scale(h.outboard(s), across)
	s.Assumes = append(s.Assumes, "the differential's outputs level and square to its pinion")
}

// hungStands are those of a differential that hangs on the powertrain: its
// outputs lie along the powertrain's own Y axis.
func (h *halfShaft) hungStands(s *HalfShaft, where *Stands, u quantity.Units) error {
	if !where.Built.Known {
		return errors.New(where.Built.Why)
	}
	if !h.file.Output.Known {
		return errors.New(h.lacksOutput(where.Built.V, u))
	}
	s.Stands = make([]ShaftStand, len(where.All))
	for k, p := range where.All {
		s.Stands[k] = ShaftStand{Name: p.Name, Inner: p.Pose.Point(h.file.Output.At), Axis: p.Pose.Y, Soft: p.Soft}
	}
	out := h.outboard(s)
	for k := range s.Stands {
		s.Stands[k].Axis = r3.Scale(out, s.Stands[k].Axis)
	}
	s.Assumes = append(s.Assumes, where.Assumes...)
	return nil
}

// lacksOutput asks for the inner joint in the frame that it moves with, and
// turns one that was given in the vehicle's axes into it.
func (h *halfShaft) lacksOutput(built geom.Pose, u quantity.Units) string {
	why := h.key + "output is not in the file yet"
	if !h.file.Inner.Known {
		return why + " (the inner joint hangs on the powertrain, so it is given in the powertrain's own frame)"
	}
	own := built.Own(h.file.Inner.At)
	num := func(v float64) string {
		return strconv.FormatFloat(quantity.InUnit(quantity.Length, v, u), 'f', 2, 64)
	}
	return fmt.Sprintf("%s: the inner joint hangs on the powertrain, and inner stays behind when that moves; if it was measured with the powertrain where it stands now, write output = [%s, %s, %s] in its place",
		why, num(own.X), num(own.Y), num(own.Z))
}

// sweep fills in the points as built and the worst over all stands.
func (h *halfShaft) sweep(s *HalfShaft) error {
	var soft [4]Extreme
	for k, st := range s.Stands {
		shaft := s.Shaft
		shaft.Inner, shaft.InnerAxis = st.Inner, st.Axis
		points, err := shaft.Along(h.hubs)
		if err == nil {
			err = h.binds
		}
		if err != nil {
			return err
		}
		if k == 0 {
			ride, err := shaft.At(0)
			if err != nil {
				return err
			}
			s.Points, s.Inner0, s.Ride = points, st.Inner, ride.Length
		}
		for _, p := range points {
			in, out := s.Ride-p.Length, p.Length-s.Ride
			for e, v := range [4]float64{p.InnerAngle.Rad(), p.OuterAngle.Rad(), in, out} {
				x := Extreme{Value: v, Rise: p.Rise, Under: st.Name}
				soft[e].Most(x)
				if !st.Soft {
					s.worst(e).Most(x)
				}
			}
		}
	}
	for e := range soft {
		s.rates, s.spread[e] = h.rates, soft[e].Value-s.worst(e).Value
	}
	return nil
}

// worst is the extreme of that number: inner and outer angle, plunge in and out.
func (s *HalfShaft) worst(e int) *Extreme {
	return [4]*Extreme{&s.Inner, &s.Outer, &s.PlungeIn, &s.PlungeOut}[e]
}
