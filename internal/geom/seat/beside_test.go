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

var none = math.Inf(1)

func drawLinks(t *rapid.T) (out []Link) {
	for range rapid.IntRange(0, 2).Draw(t, "links") {
		on := drawVec(t, 500, "on")
		dir := r3.Add(drawVec(t, 1, "dir"), r3.Vec{X: 1.5})
		out = append(out, Link{Name: "link", On: on, To: r3.Add(on, r3.Scale(rapid.Float64Range(60, 300).Draw(t, "length"), r3.Unit(dir))),
			Rate: rapid.Float64Range(50, 1500).Draw(t, "rate"), Built: rapid.Bool().Draw(t, "built")})
	}
	return out
}

func drawStops(t *rapid.T, pads int) (out []Stop) {
	for range rapid.IntRange(0, 4).Draw(t, "stops") {
		g := rapid.Float64Range(0, 4)
		q := Stop{Name: "stop", At: drawVec(t, 500, "at"), Axis: r3.Add(drawVec(t, 1, "axis"), r3.Vec{Z: 1.5}), Forward: g.Draw(t, "forward"), Backward: g.Draw(t, "backward"),
			Rate: rapid.Float64Range(100, 4000).Draw(t, "rate"), Built: rapid.Bool().Draw(t, "built"), Pad: rapid.IntRange(0, pads).Draw(t, "pad")}
		switch rapid.IntRange(0, 3).Draw(t, "sides") {
		case 0:
			q.Forward = none
		case 1:
			q.Backward = none
		}
		out = append(out, q)
	}
	return out
}

// Forces and moments of everything, each found anew from where the body has come to, sum
// to nothing; what carries nothing at rest does so; no stop pulls; a stop that has play
// left does nothing.
func TestLinksAndStopsBalance(t *testing.T) {
	met := 0
	rapid.Check(t, func(t *rapid.T) {
		b, pads, l := drawBody(t), drawPads(t), drawLoad(t)
		links, stops := drawLinks(t), drawStops(t, len(pads))
		h, err := HangHeld(b, pads, links, stops)
		require.NoError(t, err)
		rest, err := h.Settle(Resting())
		require.NoError(t, err)
		for i, q := range links {
			if !q.Built {
				assert.InDelta(t, 0, rest.Links[i].Pull, 1e-6)
			}
		}
		for i, q := range stops {
			if !q.Built {
				assert.InDelta(t, 0, r3.Norm(rest.Stops[i].Force), 1e-6)
				assertNear(t, q.Forward, rest.Stops[i].Forward)
				assertNear(t, q.Backward, rest.Stops[i].Backward)
			}
		}
		s, err := h.Settle(l)
		require.NoError(t, err)
		c := s.Motion.Point(b.Centre)
		force, moment := l.Force(b), l.Torque
		at := func(p r3.Vec) r3.Vec { return s.Motion.Point(p) }
		add := func(p, f r3.Vec) {
			force, moment = r3.Add(force, f), r3.Add(moment, r3.Cross(r3.Sub(at(p), c), f))
		}
		for _, p := range pads {
			d := p.Frame.OwnDir(r3.Sub(at(p.Frame.At), p.Frame.At))
			add(p.Frame.At, p.Frame.Dir(r3.Vec{X: -p.Rates.X * d.X, Y: -p.Rates.Y * d.Y, Z: -p.Rates.Z * d.Z}))
		}
		for i, q := range links {
			line := r3.Sub(at(q.On), q.To)
			free := r3.Norm(r3.Sub(q.On, q.To))
			if !q.Built {
				free = r3.Norm(r3.Sub(rest.Motion.Point(q.On), q.To))
			}
			pull := q.Rate * (r3.Norm(line) - free)
			assert.InDelta(t, pull, s.Links[i].Pull, 1e-6)
			add(q.On, r3.Scale(-pull, r3.Unit(line)))
		}
		for i, q := range stops {
			from := q.At
			if !q.Built {
				from = rest.Motion.Point(q.At)
			}
			u := r3.Unit(q.Axis)
			x := r3.Dot(u, r3.Sub(at(q.At), from))
			over := math.Max(0, x-q.Forward) + math.Min(0, x+q.Backward)
			assert.InDelta(t, over, s.Stops[i].Pressed, 1e-7)
			add(q.At, r3.Scale(-q.Rate*over, u))
			assert.GreaterOrEqual(t, -r3.Dot(s.Stops[i].Force, u)*s.Stops[i].Pressed, 0.0)
			if over != 0 {
				met++
			}
		}
		assert.Less(t, r3.Norm(force), 1e-5)
		assert.Less(t, r3.Norm(moment), 1e-2)
		got, stopped, err := h.Beside(l, nil)
		require.NoError(t, err)
		assert.Equal(t, s.Links, got)
		assert.Equal(t, s.Stops, stopped)
	})
	assert.NotZero(t, met)
}

func assertNear(t require.TestingT, want, got float64) {
	if math.IsInf(want, 1) {
		assert.True(t, math.IsInf(got, 1))
		return
	}
	assert.InDelta(t, want, got, 1e-6)
}

// The place of least energy, found by descending to it, is where the body rests: the same
// for mounts, links that turn with it and stops with free play.
func TestLinksAndStopsAgainstAMinimiser(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, pads, l := drawBody(t), drawPads(t), drawLoad(t)
		links, stops := drawLinks(t), drawStops(t, len(pads))
		for i := range links {
			links[i].Built = true
		}
		for i := range stops {
			stops[i].Built = true
		}
		l.Torque = r3.Vec{}
		arm, pull := drawVec(t, 400, "arm"), drawVec(t, 600, "pull")
		const reach = 500.0
		moved := func(x []float64) geom.Pose {
			turn := geom.Orient(geom.Angle(x[3]/reach), geom.Angle(x[4]/reach), geom.Angle(x[5]/reach), r3.Vec{})
			turn.At = r3.Add(r3.Sub(b.Centre, turn.Dir(b.Centre)), r3.Vec{X: x[0], Y: x[1], Z: x[2]})
			return turn
		}
		potential := func(x []float64) float64 {
			m := moved(x)
			e := energy(b, pads, l, m) - 2*r3.Dot(pull, r3.Sub(m.Dir(arm), arm))
			for _, q := range links {
				d := r3.Norm(r3.Sub(m.Point(q.On), q.To)) - r3.Norm(r3.Sub(q.On, q.To))
				e += q.Rate * d * d / 2
			}
			for _, q := range stops {
				x := r3.Dot(r3.Unit(q.Axis), r3.Sub(m.Point(q.At), q.At))
				over := math.Max(0, math.Max(x-q.Forward, -x-q.Backward))
				e += q.Rate * over * over / 2
			}
			return e
		}
		slope := func(grad, x []float64) {
			y := append([]float64{}, x...)
			for i := range x {
				const h = 1e-5
				y[i] = x[i] + h
				d := potential(y)
				y[i] = x[i] - h
				grad[i], y[i] = (d-potential(y))/(2*h), x[i]
			}
		}
		got, err := optimize.Minimize(optimize.Problem{Func: potential, Grad: slope}, make([]float64, 6),
			&optimize.Settings{GradientThreshold: 1e-3, MajorIterations: 600}, &optimize.BFGS{})
		require.NotNil(t, got, "%v", err)
		m := moved(got.X)
		l.Torque = r3.Scale(2, r3.Cross(m.Dir(arm), pull)) // what the couple makes there
		h, err := HangHeld(b, pads, links, stops)
		require.NoError(t, err)
		s, err := h.Settle(l)
		require.NoError(t, err)
		for _, p := range []r3.Vec{b.Centre, pads[0].Frame.At, pads[1].Frame.At, pads[2].Frame.At} {
			assertVec(t, m.Point(p), s.Motion.Point(p), 2e-3)
		}
	})
}

// With links in it the stiffness is minus the slope of what is out of balance too.
func TestStiffnessOfLinks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, pads, links := drawBody(t), drawPads(t), drawLinks(t)
		h, err := HangHeld(b, pads, links, drawStops(t, len(pads)))
		require.NoError(t, err)
		met := make([]int8, len(h.buffers))
		for i := range met {
			met[i] = int8(rapid.IntRange(-1, 1).Draw(t, "met"))
			if b := &h.buffers[i]; met[i] > 0 && math.IsInf(b.Forward, 1) || met[i] < 0 && math.IsInf(b.Backward, 1) {
				met[i] = 0
			}
		}
		h = h.meeting(met)
		g := rapid.Float64Range(-1, 1)
		pos := unmoved().by([6]float64{20 * g.Draw(t, "x"), 20 * g.Draw(t, "y"), 20 * g.Draw(t, "z"), 0.1 * g.Draw(t, "a"), 0.1 * g.Draw(t, "b"), 0.1 * g.Draw(t, "c")})
		k := h.scaled(pos)
		for j := range 6 {
			step := 1e-4
			if j >= 3 {
				step /= h.reach
			}
			var move [6]float64
			move[j] = step
			up := h.residual(dead{}, pos.by(move))
			move[j] = -step
			down := h.residual(dead{}, pos.by(move))
			for i := range 6 {
				slope := -(up[i] - down[i]) / 2e-4
				if i >= 3 {
					slope /= h.reach
				}
				require.InDelta(t, slope, k[i][j], 1e-5*k.norm(), "%d %d", i, j)
			}
		}
	})
}

// wide is 200 kg with its centre midway between four pads of rate 200 N/mm up, 250 mm
// aside.
func wide() (Body, []Isolator) {
	var pads []Isolator
	for _, x := range [2]float64{-400, 400} {
		for _, y := range [2]float64{-250, 250} {
			pads = append(pads, Upright("pad", r3.Vec{X: x, Y: y}, Rates{X: 80, Y: 100, Z: 200}))
		}
	}
	return Body{Mass: 200}, pads
}

// A pair of roll stops by hand: until they are met T = kφ, and after that
// T = kφ + 2·c·r·(rφ − gap), with k = 800·250². The play counts from rest.
func TestRollStopsByHand(t *testing.T) {
	b, pads := wide()
	const k, r, gap, c = 800 * 250 * 250, 300.0, 0.4, 2000.0
	stops := []Stop{
		{Name: "left", At: r3.Vec{Y: -r}, Axis: r3.Vec{Z: -3}, Forward: gap, Backward: none, Rate: c},
		{Name: "right", At: r3.Vec{Y: r}, Axis: r3.Vec{Z: 1}, Forward: gap, Backward: none, Rate: c},
	}
	h, err := HangHeld(b, pads, nil, stops)
	require.NoError(t, err)
	turn := func(torque float64) (float64, Settled) {
		s, err := h.Settle(Load{Torque: r3.Vec{X: torque}})
		require.NoError(t, err)
		return s.Motion.Y.Z, s
	}
	phi, s := turn(0.9 * k * gap / r)
	assert.InEpsilon(t, 0.9*gap/r, phi, 1e-4)
	assert.Zero(t, s.Stops[0].Force)
	assert.InEpsilon(t, 0.1*gap, s.Stops[1].Forward, 1e-2)
	const torque = 3 * k * gap / r
	phi, s = turn(torque)
	want := (torque + 2*c*gap*r) / (k + 2*c*r*r)
	assert.InEpsilon(t, want, phi, 1e-4)
	assert.InEpsilon(t, c*(want*r-gap), -s.Stops[1].Force.Z, 1e-3)
	assert.InEpsilon(t, c*(want*r-gap), s.Stops[0].Force.Z, 1e-3)
	assert.InEpsilon(t, want*r-gap, s.Stops[0].Pressed, 1e-3)
	phi, s = turn(-torque) // the other way nothing stops it
	assert.InEpsilon(t, -torque/k, phi, 1e-4)
	assert.Zero(t, s.Stops[0].Force)
	assert.Zero(t, s.Stops[1].Force)
}

// A torque link level across the top, h above the pads' plane, with the sideways springs
// Σky = 400: it turns about a height where the two share, T = φ·(k + h²·kl·ky/(kl + ky)).
func TestTorqueLinkByHand(t *testing.T) {
	b, pads := wide()
	const k, up, kl, ky = 800 * 250 * 250, 350.0, 300.0, 400.0
	link := Link{Name: "upper", On: r3.Vec{Z: up}, To: r3.Vec{Y: 3000, Z: up}, Rate: kl}
	h, err := HangHeld(b, pads, []Link{link}, nil)
	require.NoError(t, err)
	const torque = 2e5
	s, err := h.Settle(Load{Torque: r3.Vec{X: torque}})
	require.NoError(t, err)
	phi := torque / (k + up*up*kl*ky/(kl+ky))
	assert.InEpsilon(t, phi, s.Motion.Y.Z, 2e-3)
	// It goes left at the top, away from its other joint, and the link is pulled.
	assert.InEpsilon(t, phi*up*kl*ky/(kl+ky), s.Links[0].Pull, 5e-3)
	assert.Positive(t, s.Links[0].Force.Y)
	assert.InEpsilon(t, s.Links[0].Pull/kl, s.Links[0].Longer, 1e-9)
}

// A rebound washer is met when its mount is pulled up, and its force is the mount's.
func TestReboundWasherIsAPartOfItsMount(t *testing.T) {
	b, pads := wide()
	var stops []Stop
	for i, p := range pads {
		stops = append(stops, Stop{Name: "rebound", At: p.Frame.At, Axis: r3.Vec{Z: 1}, Forward: 1, Backward: none, Rate: 1800, Pad: i + 1})
	}
	h, err := HangHeld(b, pads, nil, stops)
	require.NoError(t, err)
	s, err := h.Settle(Bump(-2)) // thrown up with three times its weight from rest
	require.NoError(t, err)
	rest := 200 * geom.Gravity / 4
	up := (3*rest/200 - 1) * 200 / 2000 // past the play, the springs share 200 to 1800
	for i, p := range s.Pads {
		assert.InDelta(t, up, s.Stops[i].Pressed, 1e-9)
		assert.InDelta(t, -2*rest, p.Force.Z, 1e-6, "all of what throws it")
		assert.True(t, p.Lifts)
	}
	forces := make([]r3.Vec, 4)
	require.NoError(t, h.Forces(Bump(-2), forces))
	assert.InDelta(t, -2*rest, forces[2].Z, 1e-6)
	other, err := h.With(0, Rates{X: 80, Y: 100, Z: 200})
	require.NoError(t, err)
	again, err := other.Settle(Bump(-2))
	require.NoError(t, err)
	assert.Equal(t, s, again)
}

// Hung below two mounts in one line, a link that is fitted as built is what holds it.
func TestALinkHoldsWhatHangsOnOneLine(t *testing.T) {
	b := Body{Mass: 180, Centre: r3.Vec{X: 30, Z: -60}}
	pads := []Isolator{
		Upright("left", r3.Vec{Y: -400}, Rates{X: 150, Y: 150, Z: 300}),
		Upright("right", r3.Vec{Y: 400}, Rates{X: 150, Y: 150, Z: 300}),
		Upright("middle", r3.Vec{Y: 10}, Rates{X: 50, Y: 50, Z: 100}),
	}
	link := Link{Name: "lower", On: r3.Vec{Z: -300}, To: r3.Vec{X: 200, Z: -300}, Rate: 400, Built: true}
	h, err := HangHeld(b, pads, []Link{link}, nil)
	require.NoError(t, err)
	s, err := h.Settle(Resting())
	require.NoError(t, err)
	assert.InEpsilon(t, 180*geom.Gravity*30/300, math.Abs(s.Links[0].Pull), 0.02, "the weight's lever over the link's")
	link.Built = false
	_, err = HangHeld(b, pads, []Link{link}, nil)
	require.ErrorIs(t, err, ErrOneLine)
}

// Far too soft for its torque without, it comes to rest on its stops.
func TestStopsCatchWhatWouldTurnOver(t *testing.T) {
	b, pads := wide()
	for i := range pads {
		pads[i].Rates = Rates{X: 8, Y: 10, Z: 20}
	}
	load := Load{Torque: r3.Vec{X: 6e6}}
	_, err := Settle(b, pads, load)
	require.Error(t, err)
	var stops []Stop
	for _, y := range [2]float64{-300, 300} {
		stops = append(stops, Stop{Name: "roll", At: r3.Vec{Y: y}, Axis: r3.Vec{Z: 1}, Forward: 5, Backward: 5, Rate: 2000})
	}
	h, err := HangHeld(b, pads, nil, stops)
	require.NoError(t, err)
	s, err := h.Settle(load)
	require.NoError(t, err)
	assert.Negative(t, s.Stops[0].Pressed)
	assert.Positive(t, s.Stops[1].Pressed)
}

func TestLinksAndStopsRefused(t *testing.T) {
	b, pads := wide()
	link := Link{Name: "upper", On: r3.Vec{Z: 300}, To: r3.Vec{Y: 300, Z: 300}, Rate: 300}
	stop := Stop{Name: "roll", At: r3.Vec{Y: 300}, Axis: r3.Vec{Z: 1}, Forward: 5, Backward: none, Rate: 300}
	nan := math.NaN()
	for want, change := range map[string]func(l *Link, s *Stop){
		"torque link upper: its two joints are in one place": func(l *Link, _ *Stop) { l.To = l.On },
		"torque link upper: a rate of 0 N/mm":                func(l *Link, _ *Stop) { l.Rate = 0 },
		"roll stop roll: its place is not a number":          func(_ *Link, s *Stop) { s.At.X = nan },
		"its axis has no direction":                          func(_ *Link, s *Stop) { s.Axis = r3.Vec{} },
		"roll stop roll: a rate of NaN":                      func(_ *Link, s *Stop) { s.Rate = nan },
		"less than nothing":                                  func(_ *Link, s *Stop) { s.Forward = -1 },
		"met on none":                                        func(_ *Link, s *Stop) { s.Forward = none },
		"of which there are 4":                               func(_ *Link, s *Stop) { s.Pad = 5 },
	} {
		l, s := link, stop
		change(&l, &s)
		_, err := HangHeld(b, pads, []Link{l}, []Stop{s})
		require.ErrorContains(t, err, want)
	}
}
