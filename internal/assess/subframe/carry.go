package subframe

import (
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/rigid"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// What a subframe puts on its mounts, for screening: the loads of its two wheels, shared
// by its corners as if all were alike.

// Wheel is a wheel that a subframe carries.
type Wheel struct {
	Why  string  // what of it is not known; "" when nothing is
	At   r3.Vec  // its centre at ride height, vehicle axes, mm
	Load float64 // what it carries there, N
	// Spring is where its spring pushes on what moves with the wheel, and which way, a unit
	// vector; Ratio how much the spring shortens for each mm of the wheel.
	Spring, Way r3.Vec
	Ratio       float64
	Tower       bool // the spring stands on a tower of the rail
}

// Carried is what a subframe carries.
type Carried struct {
	Why    string // why nothing is known of it; "" when something is
	Wheels [2]Wheel
	Radius float64 // of the tyre, mm
	Driven bool    // its wheels are driven
}

// Load is what a corner puts on its mount in one load case, N, vehicle axes.
type Load struct {
	Name  string
	Force r3.Vec
}

// CornerAt is where a corner of the subframe is, or is to be, with what it may be off by,
// and what is to be said of that; or why it has no place.
func (s *Subframe) CornerAt(path string) (at project.Point, says, why string) {
	pose, half, named := s.settled()
	if !pose.Known {
		if why = s.SetWhy; why == "" {
			why = s.Why
		}
		return project.Point{}, "", why
	}
	for _, p := range s.spec.Points {
		if p.At != path {
			continue
		}
		if !p.Bench.Known {
			break
		}
		own := max(p.Bench.Half.X, p.Bench.Half.Y, p.Bench.Half.Z) + half
		says = "its pad is where " + finding.SpokenPoint(path) + " hangs, which is where it is to be"
		if named != "" {
			says = "its pad is where " + finding.SpokenPoint(path) + " is" + map[bool]string{true: " to be: nothing proves yet that it hangs there", false: " as it hangs"}[s.Set.Known]
		}
		return project.Point{At: pose.V.Point(p.Bench.At), Known: true, Half: r3.Vec{X: own, Y: own, Z: own}}, says, ""
	}
	return project.Point{}, "", s.offBenchWhy(path)
}

// offBenchWhy says that a point of the subframe was not measured on the bench, and where
// in the file that belongs.
func (s *Subframe) offBenchWhy(path string) string {
	i := slices.IndexFunc(s.spec.Points, func(p project.SubframePoint) bool { return p.At == path })
	return fmt.Sprintf("where %s is on the bench is not in the file yet: subframe.%s.point.%d.bench", finding.SpokenPoint(path), s.spec.Name, i+1)
}

// corners are where it is fixed to the frame.
func (s *Subframe) corners() (paths []string, at []r3.Vec, why string) {
	any := false
	for _, p := range s.spec.Points {
		any = any || p.Corner
	}
	for _, p := range s.spec.Points {
		if p.At == "" || any && !p.Corner {
			continue
		}
		q, _, why := s.CornerAt(p.At)
		if why != "" {
			return nil, nil, why
		}
		paths, at = append(paths, p.At), append(at, q.At)
	}
	return paths, at, ""
}

// push is a force on the subframe and where it acts.
type push struct{ force, at r3.Vec }

// hard is a load case: how many times its weight everything weighs, and the forces along
// and across the vehicle as parts of what the wheels then carry.
type hard struct {
	name                string
	bump, along, across float64
	pulls               bool // along at the wheels' centres, as the axle drives it, and not at the floor
}

// cases are the load factors of the build, and its combined cases without torque.
func (s *Subframe) cases(driven bool) []hard {
	b := s.build
	out := []hard{{name: "at rest", bump: 1}}
	add := func(name string, bump, braking, cornering float64) {
		switch {
		case cornering > 0:
			out = append(out, hard{name: name + " right", bump: bump, along: braking, across: cornering}, hard{name: name + " left", bump: bump, along: braking, across: -cornering})
		default:
			out = append(out, hard{name: name, bump: bump, along: braking})
		}
	}
	braking := b.Load("braking").Value
	add("braking", 1, braking, 0)
	add("cornering", 1, 0, b.Load("cornering").Value)
	add("bump", b.Load("bump").Value, 0, 0)
	for _, c := range b.LoadCases {
		if c.Braking.Or(0) != 0 || c.Cornering.Or(0) != 0 || c.Bump.Or(1) != 1 {
			add(project.Printable(c.Name), c.Bump.Or(1), c.Braking.Or(0), c.Cornering.Or(0))
		}
	}
	if driven {
		out = append(out, hard{name: "pulling away as hard as it brakes", bump: 1, along: -braking, pulls: true})
	}
	return out
}

// pushes are what the wheels put on the subframe in a case. onFrame: the springs stand on
// the frame, and what carries the wheel takes their push; else the subframe has both their
// ends. The whole of the axle stands on the outer wheel in a corner.
func (c hard) pushes(in *Carried, onFrame [2]bool) (out []push) {
	all := in.Wheels[0].Load + in.Wheels[1].Load
	for i := range in.Wheels {
		w := &in.Wheels[i]
		load := c.bump * w.Load
		switch outer := map[bool]int{true: 0, false: 1}[c.across > 0]; { // the floor pushes to the right in a turn to the right
		case c.across == 0:
		case i == outer:
			load = c.bump * all
		default:
			load = 0
		}
		floor := r3.Sub(w.At, r3.Vec{Z: in.Radius})
		along := floor
		if c.pulls {
			along = w.At
		}
		out = append(out, push{r3.Vec{Y: c.across * load, Z: load}, floor}, push{r3.Vec{X: c.along * load}, along})
		if onFrame[i] {
			out = append(out, push{r3.Scale(load/w.Ratio, w.Way), w.Spring})
		}
	}
	return out
}

// loadRests is what all of it rests on.
var loadRests = []string{
	"its wheels' loads are shared by all corners as if each were as stiff as the others every way",
	"brakes and side forces push at the floor with their factor times what the wheel carries then; in a corner all of the axle stands on its outer wheel",
	"what braking throws onto the axle, dampers, the anti-roll bar, the subframe's own weight and what of the powertrain stands on it are not in it",
}

// Loads are what each corner puts on its mount, by its path, or why that is not known.
func (s *Subframe) Loads(in *Carried) (of map[string][]Load, rests []string, why string) {
	if in.Why != "" {
		return nil, nil, in.Why
	}
	paths, at, why := s.corners()
	if why != "" {
		return nil, nil, why
	}
	for _, w := range in.Wheels {
		if w.Why != "" {
			return nil, nil, w.Why
		}
	}
	tower := [2]bool{in.Wheels[0].Tower, in.Wheels[1].Tower}
	stands := []struct {
		on   [2]bool
		says string
	}{{tower, ""}}
	if !tower[0] || !tower[1] { // nobody says where the springs stand
		stands[0].says = ", springs on the subframe"
		stands = append(stands, struct {
			on   [2]bool
			says string
		}{[2]bool{true, true}, ", springs on the frame"})
	}
	of = map[string][]Load{}
	for _, c := range s.cases(in.Driven) {
		for _, st := range stands {
			sum := make([]r3.Vec, len(at))
			for _, p := range c.pushes(in, st.on) {
				each, err := rigid.Share(at, p.force, p.at, r3.Vec{})
				if err != nil {
					return nil, nil, fmt.Sprintf("what the corners of the %s carry is not known: three of them at least that are not on one line hold it; [[subframe.%s.point]] with corner = true for each", s.called(), s.Name)
				}
				for i := range each {
					sum[i] = r3.Add(sum[i], each[i])
				}
			}
			for i, path := range paths {
				of[path] = append(of[path], Load{c.name + st.says, sum[i]})
			}
		}
	}
	rests = append([]string{}, loadRests...)
	if len(stands) > 1 {
		rests = append(rests, "springs without a tower on the rail are looked at standing on the subframe and on the frame, and the worse counts")
	}
	return of, rests, ""
}

// Named returns the subframe of that name; nil for none.
func (r *Result) Named(name string) *Subframe {
	for _, s := range r.Each {
		if s.Name == name {
			return s
		}
	}
	return nil
}

// Pickup is the name of the pick-ups of the wheels that it carries.
func (s *Subframe) Pickup() string {
	if s.spec.Pickup != "" {
		return s.spec.Pickup
	}
	return s.Name
}
