package seat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// drawnHung is a powertrain on three to five pads, and somewhere that it is moved to.
func drawnHung(t *rapid.T) (*Hung, position) {
	number := func(what string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, what) }
	var pads []Isolator
	for _, at := range []r3.Vec{{Y: -300}, {Y: 300}, {X: 1000}, {X: 500, Y: 200, Z: 90}, {X: 200, Y: -250}}[:rapid.IntRange(3, 5).Draw(t, "pads")] {
		at = r3.Add(at, r3.Vec{X: number("x", -100, 100), Y: number("y", -100, 100), Z: number("z", -100, 100)})
		pads = append(pads, Upright("pad", at, Rates{X: number("along", 20, 400), Y: number("across", 20, 400), Z: number("up", 20, 400)}))
	}
	h, err := Hang(Body{Mass: 300, Centre: r3.Vec{X: number("centre", 300, 600), Z: number("high", -100, 300)}}, pads)
	require.NoError(t, err)
	var m [6]float64
	for i := range m {
		m[i] = number("move", -1, 1) * [2]float64{20, 0.2}[i/3]
	}
	return h, position{turn: quat.Number{Real: 1}}.by(m)
}

// What softens says is never less than what a way of moving is softer or stiffer by, and
// what it lets pass holds.
func TestStiffnessDiffersNoMoreThanSaid(t *testing.T) {
	passed := 0
	rapid.Check(t, func(t *rapid.T) {
		h, at := drawnHung(t)
		before, now := h.scaled(position{turn: quat.Number{Real: 1}}), h.scaled(at)
		most := h.softens(at)
		x := rapid.SliceOfN(rapid.Float64Range(-1, 1), 6, 6).Draw(t, "way")
		length, work, least := 0.0, 0.0, 0.0
		for i := range 6 {
			length += x[i] * x[i]
			for j := range 6 {
				work += x[i] * (now[i][j] - before[i][j]) * x[j]
				least += x[i] * before[i][j] * x[j]
			}
		}
		if length == 0 {
			return
		}
		assert.LessOrEqual(t, math.Abs(work)/length, most*(1+1e-9))
		assert.LessOrEqual(t, h.least, least/length*(1+1e-9))
		if most < h.least {
			passed++
			assert.True(t, now.holds())
		}
	})
	assert.NotZero(t, passed)
}

// The balance is the same, to rounding, as by the stiffness of where the body is at
// every step.
func TestShownStepsLeadWhereNewtonDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, _ := drawnHung(t)
		load := Load{Name: "some", Accel: r3.Vec{Y: rapid.Float64Range(-1, 1).Draw(t, "g")}, Torque: r3.Vec{X: rapid.Float64Range(-8e5, 8e5).Draw(t, "torque")}}
		pos, _, _, err := h.balance(load)
		d := dead{load.Force(h.body), load.Torque}
		plain := position{turn: quat.Number{Real: 1}}
		for range 12 {
			soft := h.softness(plain)
			plain = plain.by(h.turning(h.step(&soft, h.residual(d, plain))))
		}
		k := h.scaled(plain)
		if left := h.norm(h.residual(d, plain)); !(left < balanced) {
			t.Skip("steps without care for their length do not get there")
		}
		if err != nil {
			require.True(t, !k.holds() || 2*math.Acos(math.Abs(plain.turn.Real)) > maxTurn, err)
			return
		}
		assert.Less(t, r3.Norm(r3.Sub(pos.shift, plain.shift)), 1e-8)
		assert.InDelta(t, 1, math.Abs(quat.Mul(pos.turn, quat.Conj(plain.turn)).Real), 1e-12)
		assert.True(t, k.holds())
	})
}
