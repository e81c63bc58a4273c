// Package support is what holds pieces of the drive that are no part of the powertrain: a
// transfer case in a case of its own, and carrier bearings. It says what they put on their
// brackets in every load case.
package support

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/rigid"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Load is what a bracket carries in one load case: N, vehicle axes.
type Load struct {
	Name  string
	Force r3.Vec
}

// state is one thing that happens to a piece of the drive.
type state struct {
	name  string
	pull  r3.Vec  // what its mass is pulled with, times its weight
	drive float64 // part of the largest torque; negative in reverse
	over  bool    // it is driven by the wheels, in first gear
}

// states are the load cases of the file, those that mounts of the powertrain are held
// against too, as far as they are anything to a support.
func states(b *project.Build) []state {
	factor := func(key string) float64 { return b.Loads[key].Value }
	down := r3.Vec{Z: -1}
	out := []state{
		{name: "at rest", pull: down},
		{name: "full torque", pull: down, drive: 1},
		{name: "full torque, reverse", pull: down, drive: -1},
		{name: "overrun", pull: down, drive: factor("overrun"), over: true},
		{name: "braking", pull: r3.Vec{X: -factor("braking"), Z: -1}},
		{name: "cornering to the left", pull: r3.Vec{Y: factor("cornering"), Z: -1}},
		{name: "cornering to the right", pull: r3.Vec{Y: -factor("cornering"), Z: -1}},
		{name: "bump", pull: r3.Vec{Z: -factor("bump")}},
		{name: "rebound", pull: r3.Vec{Z: factor("rebound")}},
	}
	for _, c := range b.LoadCases {
		s := state{name: c.Name, pull: r3.Vec{X: -c.Braking.Or(0), Z: -c.Bump.Or(1)}, drive: c.Drive.Or(0)}
		sides := []float64{0}
		if v := c.Cornering.Or(0); v > 0 {
			sides = []float64{v, -v}
		}
		for _, side := range sides {
			s.pull.Y = side
			out = append(out, s)
			if s.drive > 0 {
				back := s
				back.name, back.drive = s.name+", reverse", -s.drive
				out = append(out, back)
			}
		}
	}
	return out
}

// square are four directions square to an axis, the first two as nearly up and down as
// can be, with words.
func square(axis r3.Vec) (out [4]r3.Vec, words [4]string, err error) {
	u, err := geom.Unit(axis)
	if err != nil {
		return out, words, fmt.Errorf("the shaft ahead of the bearing has no direction")
	}
	up, err := geom.Unit(r3.Sub(r3.Vec{Z: 1}, r3.Scale(u.Z, u)))
	if err != nil {
		return out, words, fmt.Errorf("the shaft ahead of the bearing stands upright")
	}
	aside := r3.Cross(up, u)
	return [4]r3.Vec{up, r3.Scale(-1, up), aside, r3.Scale(-1, aside)}, [4]string{"up", "down", "aside", "to the other side"}, nil
}

// tubeShare is how much heavier a shaft is taken to be than its bare tube: yokes, crosses
// and a slip joint, together as heavy as the tube (common practice, no source).
const tubeShare = 2

// Bearing is a carrier bearing at the end of one shaft, just ahead of the joint to the next.
type Bearing struct {
	Axis  r3.Vec  // along the shaft that it holds
	Ahead float64 // of the joint to the next one, mm
	Spans [2]Span
}

// Span is a shaft on one side of the joint behind a carrier bearing.
type Span struct {
	Tube   float64 // mass of its bare tube, kg
	Length float64 // joint to joint, mm
	Couple float64 // what its two joints turn it with together, square to it, under full torque, N·mm
}

// BearingRests are what the loads of a carrier bearing rest on.
var BearingRests = []string{
	"shafts twice as heavy as their bare tubes, for yokes, crosses and slip joint (common practice, no source); half of each hangs on the bearing",
	"the couples that joint angles make under torque at their largest, all at once and whichever way they look; they come twice a turn",
	"no imbalance, and no thrust of a slip joint that sticks under torque",
}

// Loads are what the bearing puts on its bracket in every load case: half of both shafts,
// and the couples of their joints (Schmelz, Seherr-Thoss and Aucktor, Universal Joints and
// Driveshafts, from memory: T·tan β on the driving side, T·sin β on the driven one), each
// held by a pair of forces a shaft's length apart; the shaft held turns about its other joint.
func (s *Bearing) Loads(b *project.Build) ([]Load, error) {
	ways, words, err := square(s.Axis)
	if err != nil {
		return nil, err
	}
	if !(s.Ahead >= 0 && s.Ahead <= s.Spans[0].Length/2) {
		return nil, fmt.Errorf("the bearing would be %.0f mm ahead of the joint that it is to hold, on a shaft of %.0f mm; want its bracket's pad near that end", s.Ahead, s.Spans[0].Length)
	}
	lever := s.Spans[0].Length / (s.Spans[0].Length - s.Ahead) // the joint hangs out behind it
	weight, force := 0.0, 0.0
	for _, x := range s.Spans {
		f, err := shaft.OnSupport(x.Couple, x.Length)
		if err != nil {
			return nil, err
		}
		weight += tubeShare * x.Tube / 2 * geom.Gravity * lever
		force += f * lever
	}
	var out []Load
	for _, c := range states(b) {
		c.pull.X = 0 // the shaft slides in it, and is held at its ends
		hangs := r3.Scale(weight, c.pull)
		if c.drive == 0 {
			out = append(out, Load{c.name, hangs})
			continue
		}
		for i, way := range ways {
			out = append(out, Load{c.name + ", its couples " + words[i], r3.Add(hangs, r3.Scale(math.Abs(c.drive)*force, way))})
		}
	}
	return out, nil
}

// Case is a transfer case on its own mounts.
type Case struct {
	Mass   float64  // kg
	Centre r3.Vec   // vehicle axes, mm
	Held   []r3.Vec // its mounts, the same
	// Forward and Back are what turns it about an axis along the vehicle under full torque,
	// right-hand about X: what its range multiplies comes from its mounts. N·mm.
	Forward, Back float64
	Couple        float64 // of the first joints of the lines that begin at it, square to the vehicle, N·mm
}

// CaseRests are what the loads of a transfer case rest on.
var CaseRests = []string{
	"a stiff case on mounts that are all alike, each holding it by a force alone",
	"its shafts along the vehicle, and gear torque as if the wheels never slipped",
	"the couples that joint angles make under torque at their largest, all at once and whichever way they look",
}

// Turned is what a case's range puts on its mounts about X, N·mm: with the torque t into it
// and its reduction r its output turns with r·t, and (r − 1)·t has to come from the mounts
// (balance of the case: a drop case of 1 : 1 wants nothing).
func Turned(t, r float64) float64 { return (1 - r) * t }

// Loads are what the case puts on each of its mounts in every load case, in their order.
func (c *Case) Loads(b *project.Build) ([][]Load, error) {
	out := make([][]Load, len(c.Held))
	add := func(name string, pull, turn r3.Vec) error {
		each, err := rigid.Share(c.Held, r3.Scale(c.Mass*geom.Gravity, pull), c.Centre, turn)
		if err != nil {
			return fmt.Errorf("three mounts at least that are not on one line hold a transfer case; it has %d: %w", len(c.Held), err)
		}
		for i, f := range each {
			out[i] = append(out[i], Load{name, f})
		}
		return nil
	}
	for _, s := range states(b) {
		if s.drive == 0 {
			if err := add(s.name, s.pull, r3.Vec{}); err != nil {
				return nil, err
			}
			continue
		}
		turn := s.drive * c.Forward
		switch {
		case s.over:
			turn = -s.drive * c.Forward
		case s.drive < 0:
			turn = -s.drive * c.Back
		}
		for _, way := range []struct {
			of  r3.Vec
			say string
		}{{r3.Vec{Y: 1}, "nose up"}, {r3.Vec{Y: -1}, "nose down"}, {r3.Vec{Z: 1}, "nose aside"}, {r3.Vec{Z: -1}, "nose to the other side"}} {
			if err := add(s.name+", its joints' couples "+way.say, s.pull, r3.Add(r3.Vec{X: turn}, r3.Scale(math.Abs(s.drive)*c.Couple, way.of))); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}
