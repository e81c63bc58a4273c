package support

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func plain(t *testing.T) *project.Build {
	t.Helper()
	f, err := project.Parse("a.toml", []byte("format = 3\n"))
	require.NoError(t, err)
	return f.Build
}

func most(loads []Load, of func(r3.Vec) float64) (float64, string) {
	best, name := math.Inf(-1), ""
	for _, l := range loads {
		if v := of(l.Force); v > best {
			best, name = v, l.Name
		}
	}
	return best, name
}

// By hand: a shaft of 800 mm held 50 mm ahead of its end, and one of 1000 mm behind, of 3
// and 4 kg of tube. Both as heavy again: 3 + 4 kg hang there, by 800/750: 73.2 N. Couples of
// 20 and 60 N·m are held by 25 and 60 N at the joint, by the same lever 90.7 N.
func TestACarrierBearingByHand(t *testing.T) {
	s := Bearing{Axis: r3.Vec{X: 1}, Ahead: 50, Spans: [2]Span{{Tube: 3, Length: 800, Couple: 20000}, {Tube: 4, Length: 1000, Couple: 60000}}}
	loads, err := s.Loads(plain(t))
	require.NoError(t, err)
	hangs := 7 * 9.80665 * 800 / 750
	turned := (25 + 60.0) * 800 / 750
	down, name := most(loads, func(f r3.Vec) float64 { return -f.Z })
	assert.InDelta(t, max(3*hangs, 2*hangs+turned), down, 1e-9)
	assert.Contains(t, []string{"bump", "full torque over a bump, its couples down"}, name)
	aside, name := most(loads, func(f r3.Vec) float64 { return f.Y })
	assert.InDelta(t, turned, aside, 1e-9)
	assert.Contains(t, name, "full torque")
	for _, l := range loads {
		assert.InDelta(t, 0, l.Force.X, 1e-9, "%s: the shaft slides in it", l.Name)
		if l.Name == "at rest" {
			assert.InDelta(t, -hangs, l.Force.Z, 1e-9)
		}
	}
	s.Ahead = 500
	_, err = s.Loads(plain(t))
	require.ErrorContains(t, err, "500 mm ahead of the joint")
	s.Ahead, s.Axis = 0, r3.Vec{Z: 1}
	_, err = s.Loads(plain(t))
	require.ErrorContains(t, err, "stands upright")
	s.Axis = r3.Vec{X: 1}
	s.Spans[1].Length = 0
	_, err = s.Loads(plain(t))
	require.Error(t, err)
}

// By hand: 60 kg in the middle of four mounts 400 mm apart, low range 2 : 1 behind 1500 N·m.
// Each carries 147.1 N at rest. Another 1500 N·m have to come from the mounts, and turn the
// case the other way than a standard engine turns: up on the left and down on the right,
// 200 mm from the middle, by 1500000/(4·200) N at each.
func TestATransferCaseByHand(t *testing.T) {
	c := Case{Mass: 60, Centre: r3.Vec{X: 1800, Y: 0, Z: -60}, Forward: Turned(1500e3, 2), Back: -Turned(1500e3, 2)}
	for _, x := range []float64{1600, 2000} {
		for _, y := range []float64{-200, 200} {
			c.Held = append(c.Held, r3.Vec{X: x, Y: y, Z: -60})
		}
	}
	all, err := c.Loads(plain(t))
	require.NoError(t, err)
	require.Len(t, all, 4)
	weight := 60 * 9.80665 / 4
	for i, y := range []float64{-1, 1, -1, 1} {
		for _, l := range all[i] {
			switch {
			case l.Name == "at rest":
				assert.InDelta(t, -weight, l.Force.Z, 1e-9)
			case strings.HasPrefix(l.Name, "full torque, its"):
				assert.InDelta(t, -weight-y*1500e3/800, l.Force.Z, 1e-6)
			case strings.HasPrefix(l.Name, "full torque, reverse"):
				assert.InDelta(t, -weight+y*1500e3/800, l.Force.Z, 1e-6)
			case strings.HasPrefix(l.Name, "overrun, its"):
				assert.InDelta(t, -weight+0.5*y*1500e3/800, l.Force.Z, 1e-6)
			case l.Name == "rebound":
				assert.InDelta(t, 0.5*weight, l.Force.Z, 1e-9)
			case l.Name == "bump":
				assert.InDelta(t, -3*weight, l.Force.Z, 1e-9)
			case l.Name == "braking":
				assert.InDelta(t, -weight, l.Force.X, 1e-9)
			}
		}
	}
	assert.Zero(t, Turned(1500e3, 1), "a drop case of 1 : 1 wants nothing")
	c.Held = c.Held[:2]
	_, err = c.Loads(plain(t))
	require.ErrorContains(t, err, "three mounts at least")
}

// What all mounts carry together is what acts on the case, in every case: force and turn.
func TestATransferCaseIsInBalance(t *testing.T) {
	c := Case{Mass: 60, Centre: r3.Vec{X: 1790, Y: 22, Z: -75}, Held: []r3.Vec{{X: 1700, Y: -180, Z: -40}, {X: 1740, Y: 190, Z: -30}, {X: 1990, Y: 10, Z: -90}},
		Forward: -900e3, Back: 700e3, Couple: 60e3}
	all, err := c.Loads(plain(t))
	require.NoError(t, err)
	for k := range all[0] {
		sum, turn := r3.Vec{}, r3.Vec{}
		for i, at := range c.Held {
			f := all[i][k].Force
			sum, turn = r3.Add(sum, f), r3.Add(turn, r3.Cross(r3.Sub(at, c.Centre), f))
		}
		name := all[0][k].Name
		if name != "rebound" {
			assert.LessOrEqual(t, sum.Z, -60*9.80665+1e-9, name)
		}
		want := r3.Vec{}
		if strings.Contains(name, "overrun") {
			want.X = 450e3
			assert.InDelta(t, 60e3*0.5, math.Hypot(turn.Y, turn.Z), 1e-4, name)
		} else if strings.Contains(name, "torque") {
			want.X = -900e3
			if strings.Contains(name, "reverse") {
				want.X = 700e3
			}
			assert.InDelta(t, 60e3, math.Hypot(turn.Y, turn.Z), 1e-4, name)
		} else {
			assert.InDelta(t, 0, math.Hypot(turn.Y, turn.Z), 1e-4, name)
		}
		assert.InDelta(t, want.X, turn.X, 1e-4, name)
	}
}
