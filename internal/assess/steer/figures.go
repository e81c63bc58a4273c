package steer

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// frame is what the figures of a build and of those beside it are taken in: the
// directions along which sizes are looked at, and which shaft a bearing is on. Sizes
// go by two components, since they have a kink at zero and their components have none.
type frame struct {
	joints   [][2]r3.Vec // of each joint: towards which side it works, and square to that
	bearings []support
	turns    []geom.Angle // of each shaft's lower yoke, to where it is to be set
}

type support struct {
	shaft int // counted from 1
	along float64
	sides [2]r3.Vec
	known bool
}

// frameOf makes the frame by a build that can be worked out.
func frameOf(b *project.Build, c shaft.Chain) *frame {
	f := &frame{}
	axes, _ := c.Line().Axes() // the mechanism of it was made
	for i := range c.Joints {
		u := axes[i]
		to := swing(u, axes[i+1])
		if r3.Norm(to) < 1e-9 {
			to = square(u)
		}
		to = r3.Unit(to)
		f.joints = append(f.joints, [2]r3.Vec{to, r3.Cross(u, to)})
	}
	for _, x := range b.Steering.Bearings {
		f.bearings = append(f.bearings, nearest(c, x.At))
	}
	return f
}

// swing is the angle from u to v as a vector square to u: as long as the angle (rad),
// towards v.
func swing(u, v r3.Vec) r3.Vec {
	across := r3.Sub(v, r3.Scale(r3.Dot(u, v), u))
	size := r3.Norm(across)
	if size < 1e-15 {
		return r3.Vec{}
	}
	return r3.Scale(geom.Between(u, v).Rad()/size, across)
}

func square(u r3.Vec) r3.Vec {
	e := r3.Vec{Z: 1}
	if math.Abs(u.Z) > 0.9 {
		e = r3.Vec{Y: 1}
	}
	return r3.Unit(r3.Sub(e, r3.Scale(r3.Dot(e, u), u)))
}

// nearest is the shaft that a bearing is nearest to.
func nearest(c shaft.Chain, at project.Point) support {
	best := support{}
	least := math.Inf(1)
	for i := 1; i < len(c.Joints) && at.Known; i++ {
		from, to := c.Joints[i-1].At, c.Joints[i].At
		d := r3.Sub(to, from)
		t := min(1, max(0, r3.Dot(r3.Sub(at.At, from), d)/r3.Norm2(d)))
		off := r3.Norm(r3.Sub(at.At, r3.Add(from, r3.Scale(t, d))))
		if off < least {
			u := r3.Unit(d)
			e := square(u)
			least, best = off, support{shaft: i, along: t, sides: [2]r3.Vec{e, r3.Cross(u, e)}, known: true}
		}
	}
	return best
}

// figures are all numbers of a build that carry a ±, always in the same order: the
// ripple's two components, two of each joint, of each shaft its length and what is
// left at either end of its slip joint, two of each bearing, and the two components that
// are left of the ripple with the yokes turned to where they are to be set.
func (f *frame) figures(b *project.Build) ([]float64, error) {
	c, _, why := chainOf(b)
	if why != "" {
		return nil, errors.New(why)
	}
	m, err := shaft.NewMechanism(c)
	if err != nil {
		return nil, fmt.Errorf("the steering shaft cannot turn: %w", err)
	}
	if len(c.Joints) != len(f.joints) {
		return nil, errors.New("another number of joints")
	}
	shafts := m.Shafts()
	k := shafts[len(shafts)-1].DriveVector
	out := []float64{real(k), imag(k)}
	for i, sides := range f.joints {
		s := swing(shafts[i].Axis, shafts[i+1].Axis)
		out = append(out, r3.Dot(s, sides[0]), r3.Dot(s, sides[1]))
	}
	for i := 1; i < len(c.Joints); i++ {
		long := r3.Norm(r3.Sub(c.Joints[i].At, c.Joints[i-1].At))
		x := b.Steering.Shaft(i - 1)
		out = append(out, long, long-x.SlipClosed.Or(0), x.SlipOpen.Or(0)-long)
	}
	for i, s := range f.bearings {
		var off r3.Vec
		if s.known {
			off = r3.Sub(b.Steering.Bearings[i].At.At, c.Joints[s.shaft-1].At)
			u := shafts[s.shaft].Axis
			off = r3.Sub(off, r3.Scale(r3.Dot(off, u), u))
		}
		out = append(out, r3.Dot(off, s.sides[0]), r3.Dot(off, s.sides[1]))
	}
	c.Yokes = slices.Clone(c.Yokes)
	for i, turn := range f.turns {
		c.Yokes[i] += turn
	}
	if err := m.Set(c); err != nil {
		return nil, fmt.Errorf("with its yokes set: %w", err)
	}
	shafts = m.Shafts()
	k = shafts[len(shafts)-1].DriveVector
	return append(out, real(k), imag(k)), nil
}

// shafts are those of the file, with no figures yet.
func (r *Result) shafts(c shaft.Chain) {
	for i := 1; i < len(c.Joints); i++ {
		x := r.build.Steering.Shaft(i - 1)
		yoke, known := x.Yoke()
		r.Shafts = append(r.Shafts, Shaft{From: c.Joints[i-1].At, To: c.Joints[i].At, Radius: x.Diameter.Or(0) / 2,
			Slips: slips(x), Yoke: yoke, YokeKnown: known, Teeth: int(x.Teeth.Or(0)),
			Bottom: finding.Missing(fmt.Sprintf("steering.shaft.%d.slip_closed is not in the file yet", i)),
			Pull:   finding.Missing(fmt.Sprintf("steering.shaft.%d.slip_open is not in the file yet", i))})
	}
}

// slips reports whether the file has something of a shaft's slip joint.
func slips(x project.SteeringShaft) bool { return x.SlipClosed.Known() || x.SlipOpen.Known() }

// jointLimit is how far a joint may be bent: by its maker, or by the limits.
func (r *Result) jointLimit(j project.SteeringJoint) project.Rule {
	limit := r.build.Limit("steering_joint")
	if v, ok := j.MaxAngle.Get(); ok {
		limit.Value, limit.Source, limit.Changed = v, finding.MakersFigure, false
	}
	return limit
}

// fill makes joints and bearings of the figures, and gives shafts theirs.
func (r *Result) fill(f *frame, all []uncertain.Number) {
	s := &r.build.Steering
	size := func(i int) finding.Number { return finding.Size(uncertain.Norm(all[i], all[i+1])) }
	next := 2
	for i, j := range s.Joints {
		p, _ := s.JointAt(i)
		r.Joints = append(r.Joints, Joint{At: p.At, Angle: size(next), Limit: r.jointLimit(j)})
		next += 2
	}
	for i := 1; i < len(s.Joints); i++ {
		x := s.Shaft(i - 1)
		out := &r.Shafts[i-1]
		out.Length = finding.Of(all[next])
		if x.SlipClosed.Known() {
			out.Bottom = finding.Of(all[next+1])
		}
		if x.SlipOpen.Known() {
			out.Pull = finding.Of(all[next+2])
		}
		next += 3
	}
	for i, b := range f.bearings {
		x := Bearing{At: s.Bearings[i].At.At, Shaft: b.shaft, Along: b.along, Off: finding.Missing(fmt.Sprintf("steering.bearing.%d.at is not in the file yet", i+1))}
		switch {
		case b.known:
			x.Off = size(next)
		case s.Bearings[i].At.Known:
			x.Off = finding.Missing("with one joint there is no shaft for a bearing")
		}
		if b.known {
			r.Bearings = append(r.Bearings, x)
		} else {
			r.Bearings = append(r.Bearings, Bearing{Off: x.Off})
		}
		next += 2
	}
}
