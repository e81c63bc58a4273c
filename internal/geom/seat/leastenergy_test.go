package seat

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// couple is a torque as two dead weights pulling opposite ways at the ends of
// an arm through the body's centre: a load that has a potential, which a torque
// of fixed direction has not.
type couple struct{ arm, pull r3.Vec }

// leastEnergy finds where a body rests by descending to the least of strain
// energy less the work of all loads, in three shifts and a turn by three
// angles. It knows nothing of force balance, stiffness matrices or Newton's
// method. It returns the motion and the torque the couple has in the end.
func leastEnergy(t require.TestingT, b Body, pads []Isolator, l Load, c couple) (geom.Pose, r3.Vec) {
	const reach = 500.0 // mm: turns are counted as travel there
	moved := func(x []float64) geom.Pose {
		turn := geom.Orient(geom.Angle(x[3]/reach), geom.Angle(x[4]/reach), geom.Angle(x[5]/reach), r3.Vec{})
		turn.At = r3.Add(r3.Sub(b.Centre, turn.Dir(b.Centre)), r3.Vec{X: x[0], Y: x[1], Z: x[2]})
		return turn
	}
	potential := func(x []float64) float64 {
		m := moved(x)
		return energy(b, pads, l, m) - 2*r3.Dot(c.pull, r3.Sub(m.Dir(c.arm), c.arm))
	}
	slope := func(grad, x []float64) {
		y := append([]float64{}, x...)
		for i := range x {
			const h = 1e-3
			d := 0.0
			for _, k := range [...]struct{ at, weight float64 }{{-2, 1}, {-1, -8}, {1, 8}, {2, -1}} { // Richardson
				y[i] = x[i] + k.at*h
				d += k.weight * potential(y)
			}
			y[i] = x[i]
			grad[i] = d / (12 * h)
		}
	}
	got, err := optimize.Minimize(optimize.Problem{Func: potential, Grad: slope}, make([]float64, 6),
		&optimize.Settings{GradientThreshold: 1e-5, MajorIterations: 400}, &optimize.BFGS{})
	require.NotNil(t, got, "%v", err)
	m := moved(got.X)
	return m, r3.Scale(2, r3.Cross(m.Dir(c.arm), c.pull))
}

// Least energy against balance of forces, on random builds with leaning
// mounts, under loads up to a few times the weight and torque.
func TestForcesAreThoseOfLeastEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, pads, l := drawBody(t), drawPads(t), drawLoad(t)
		c := couple{arm: drawVec(t, 400, "arm"), pull: drawVec(t, 800, "pull")}
		l.Torque = r3.Vec{}
		m, torque := leastEnergy(t, b, pads, l, c)
		l.Torque = torque
		s, err := Settle(b, pads, l)
		require.NoError(t, err)
		for i, p := range pads {
			d := p.Frame.OwnDir(r3.Sub(m.Point(p.Frame.At), p.Frame.At))
			want := p.Frame.Dir(r3.Vec{X: -p.Rates.X * d.X, Y: -p.Rates.Y * d.Y, Z: -p.Rates.Z * d.Z})
			assertVec(t, want, s.Pads[i].Force, 0.05+1e-4*r3.Norm(want), p.Name)
		}
	})
}

// A transverse engine on two upper mounts, held against its own torque by a
// link low behind it that is stiff along the vehicle and gives way upward. By
// balance of vertical forces at the three points the link would carry thousands
// of newtons up; it carries them along.
func TestALowerLinkPullsAlong(t *testing.T) {
	b := Body{Mass: 210, Centre: r3.Vec{X: 20, Y: -10, Z: 40}}
	pads := []Isolator{
		Upright("left", r3.Vec{X: 10, Y: -430, Z: 180}, Rates{X: 160, Y: 140, Z: 320}),
		Upright("right", r3.Vec{X: -15, Y: 410, Z: 200}, Rates{X: 150, Y: 130, Z: 300}),
		Upright("lower link", r3.Vec{X: 330, Y: 30, Z: -190}, Rates{X: 450, Y: 4, Z: 1}),
	}
	torque, err := Drive{Layout: Transaxle, Engine: 210e3, Gear: 3.5, Final: 3.9, Output: r3.Vec{Y: 1}}.Reaction()
	require.NoError(t, err)
	s, err := Settle(b, pads, Load{Name: "first gear", Torque: torque})
	require.NoError(t, err)
	link := s.Pads[2].Force
	// The couple of the link and the uppers over the height between them.
	assert.InDelta(t, 2866.5e3/380, link.X, 0.12*link.X)
	assert.Less(t, math.Abs(link.Y)+math.Abs(link.Z), 0.05*link.X)
	assert.Greater(t, torque.Y/330, 8000.0, "what upward forces at the three points would make of it")

	// The same by least energy: a couple of dead weights, corrected until it
	// makes the torque where the engine comes to rest.
	c := couple{arm: r3.Vec{Z: 300}}
	want := torque
	var m geom.Pose
	for range 12 {
		c.pull = r3.Scale(0.5, r3.Cross(want, r3.Scale(1/(300.0*300), c.arm)))
		var got r3.Vec
		m, got = leastEnergy(t, b, pads, Load{}, c)
		want = r3.Add(want, r3.Sub(torque, got))
		want.Z = 0
	}
	d := r3.Sub(m.Point(pads[2].Frame.At), pads[2].Frame.At)
	assert.InDelta(t, link.X, -450*d.X, 0.01*link.X)
	assert.InDelta(t, link.Z, -1*d.Z, 2)
}
