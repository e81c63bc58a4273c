package seat

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// slowSettle is Settle by general matrices, a fresh start for each load, and the
// stiffness found by pushing and turning the body one way after another.
func slowSettle(b Body, pads []Isolator, load Load) (Settled, error) {
	if err := checkPads(b, pads, load); err != nil {
		return Settled{}, err
	}
	s := newSlowSprung(b, pads, load)
	pos := slowPosition{turn: quat.Number{Real: 1}}
	left := s.residual(pos)
	size := s.norm(left)
	steps := 0
	for ; steps < maxSteps && size > balanced*1e-3; steps++ {
		move, err := s.solve(pos, left)
		if err != nil {
			return Settled{}, fmt.Errorf("%s mounts: %w", namesOf(mountsOf(pads)), err)
		}
		next, nextLeft, nextSize := s.line(pos, move, size)
		if nextSize >= size {
			break
		}
		pos, left, size = next, nextLeft, nextSize
	}
	if size > balanced || 2*math.Acos(min(1, math.Abs(pos.turn.Real))) > maxTurn {
		return Settled{}, ErrSoft
	}
	if !s.stable(pos) {
		return Settled{}, ErrTips
	}
	out := Settled{Drop: -pos.shift.Z}
	for i, pad := range pads {
		d := r3.Add(pos.shift, pos.swing(s.arms[i]))
		out.Pads = append(out.Pads, Pad{Moved: d, Force: pad.spring(d)})
	}
	return out, nil
}

// slowPosition is where the body is: its centre moved by shift, mm, and turned.
type slowPosition struct {
	shift r3.Vec
	turn  quat.Number // of length 1
}

// swing returns how far the tip of an arm r from the centre moves by turning.
// Written so that small turns keep all their digits.
func (p slowPosition) swing(r r3.Vec) r3.Vec {
	v := r3.Vec{X: p.turn.Imag, Y: p.turn.Jmag, Z: p.turn.Kmag}
	return r3.Scale(2, r3.Cross(v, r3.Add(r3.Scale(p.turn.Real, r), r3.Cross(v, r))))
}

// by returns the slowPosition after a further shift and turn (rotation vector).
func (p slowPosition) by(m [6]float64) slowPosition {
	w := r3.Vec{X: m[3], Y: m[4], Z: m[5]}
	a := r3.Norm(w)
	half := 0.5
	if a > 1e-9 {
		half = math.Sin(a/2) / a
	}
	q := quat.Mul(quat.Number{Real: math.Cos(a / 2), Imag: half * w.X, Jmag: half * w.Y, Kmag: half * w.Z}, p.turn)
	return slowPosition{
		shift: r3.Add(p.shift, r3.Vec{X: m[0], Y: m[1], Z: m[2]}),
		turn:  quat.Scale(1/quat.Abs(q), q),
	}
}

// slowSprung is the body on its springs with the load on it.
type slowSprung struct {
	body   Body
	pads   []Isolator
	arms   []r3.Vec // from the centre to the pads before anything moves
	force  r3.Vec
	moment r3.Vec
	reach  float64 // mm, to weigh moments against forces
}

func newSlowSprung(b Body, pads []Isolator, load Load) *slowSprung {
	s := &slowSprung{body: b, pads: pads, force: load.Force(b), moment: load.Torque, arms: make([]r3.Vec, len(pads))}
	for i, p := range pads {
		s.arms[i] = r3.Sub(p.Frame.At, b.Centre)
	}
	_, s.reach = middle(mountsOf(pads))
	return s
}

// residual is the force and, about the centre, the moment out of balance.
func (s *slowSprung) residual(p slowPosition) [6]float64 {
	f, m := s.force, s.moment
	for i, pad := range s.pads {
		d := p.swing(s.arms[i])
		r := r3.Add(s.arms[i], d)
		sf := pad.spring(r3.Add(p.shift, d))
		f = r3.Add(f, sf)
		m = r3.Add(m, r3.Cross(r, sf))
	}
	return [6]float64{f.X, f.Y, f.Z, m.X, m.Y, m.Z}
}

func (s *slowSprung) norm(r [6]float64) float64 {
	n := 0.0
	for i, v := range r {
		if i >= 3 {
			v /= s.reach
		}
		n += v * v
	}
	return math.Sqrt(n)
}

// stiffness is minus the derivative of residual by shift and turn: 6×6, in
// N/mm, N and N·mm.
func (s *slowSprung) stiffness(p slowPosition) *mat.Dense {
	k := mat.NewDense(6, 6, nil)
	for j := range 6 {
		var m [6]float64
		m[j] = 1
		u, w := r3.Vec{X: m[0], Y: m[1], Z: m[2]}, r3.Vec{X: m[3], Y: m[4], Z: m[5]}
		var df, dm r3.Vec
		for i, pad := range s.pads {
			d := p.swing(s.arms[i])
			r := r3.Add(s.arms[i], d)
			f := pad.spring(r3.Add(p.shift, d))
			swing := r3.Cross(w, r)
			g := pad.spring(r3.Add(u, swing))
			df = r3.Add(df, g)
			dm = r3.Add(dm, r3.Add(r3.Cross(swing, f), r3.Cross(r, g)))
		}
		for i, v := range [6]float64{df.X, df.Y, df.Z, dm.X, dm.Y, dm.Z} {
			k.Set(i, j, -v)
		}
	}
	return k
}

// scaled is stiffness with turns counted as travel at reach: all in N/mm.
func (s *slowSprung) scaled(p slowPosition) *mat.Dense {
	k := s.stiffness(p)
	k.Apply(func(i, j int, v float64) float64 {
		if i >= 3 {
			v /= s.reach
		}
		if j >= 3 {
			v /= s.reach
		}
		return v
	}, k)
	return k
}

func (s *slowSprung) solve(p slowPosition, left [6]float64) ([6]float64, error) {
	for i := 3; i < 6; i++ {
		left[i] /= s.reach
	}
	var lu mat.LU
	lu.Factorize(s.scaled(p))
	if c := lu.Cond(); !(c < 1e13) {
		return [6]float64{}, errors.New("nothing holds the powertrain against one way of turning; set the pads apart")
	}
	var x mat.VecDense
	if err := lu.SolveVecTo(&x, false, mat.NewVecDense(6, left[:])); err != nil {
		return [6]float64{}, err
	}
	var m [6]float64
	for i := range m {
		m[i] = x.AtVec(i)
		if i >= 3 {
			m[i] /= s.reach
		}
	}
	return m, nil
}

// line takes as much of the step as brings the powertrain nearer to balance.
func (s *slowSprung) line(p slowPosition, move [6]float64, size float64) (slowPosition, [6]float64, float64) {
	if t := math.Sqrt(move[3]*move[3] + move[4]*move[4] + move[5]*move[5]); t > 0.2 {
		for i := range move {
			move[i] *= 0.2 / t
		}
	}
	var next slowPosition
	var left [6]float64
	for range straighten {
		next = p.by(move)
		left = s.residual(next)
		if n := s.norm(left); n < size {
			return next, left, n
		}
		for i := range move {
			move[i] /= 2
		}
	}
	return p, left, size
}

// stable reports whether any small push is answered by a push back.
func (s *slowSprung) stable(p slowPosition) bool {
	k := s.scaled(p)
	sym := mat.NewSymDense(6, nil)
	for i := range 6 {
		for j := i; j < 6; j++ {
			sym.SetSym(i, j, (k.At(i, j)+k.At(j, i))/2)
		}
	}
	var c mat.Cholesky
	return c.Factorize(sym)
}

// On random builds under random loads, one powertrain ready for all of them
// comes to rest where the slow form has it, or fails for the same reason.
func TestSettleIsThatOfTheSlowForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, pads := drawBody(t), drawPads(t)
		soft := rapid.SampledFrom([]float64{1, 1, 30, 1e-3}).Draw(t, "rates by")
		pads = scaled(pads, soft)
		h, err := Hang(b, pads)
		require.NoError(t, err)
		for range 4 {
			l := drawLoad(t)
			want, wantErr := slowSettle(b, pads, l)
			got, err := h.Settle(l)
			require.Equal(t, wantErr, err)
			if err != nil {
				continue
			}
			assert.InDelta(t, want.Drop, got.Drop, 1e-9*(1+math.Abs(want.Drop)))
			for i, p := range got.Pads {
				assertVec(t, want.Pads[i].Force, p.Force, 1e-9*b.Weight()+1e-9*r3.Norm(want.Pads[i].Force))
				assertVec(t, want.Pads[i].Moved, p.Moved, 1e-9*(1+r3.Norm(want.Pads[i].Moved)))
			}
			alone, err := Settle(b, pads, l)
			require.NoError(t, err)
			require.Equal(t, alone, got, "what was asked before leaves nothing behind")
		}
	})
}

func BenchmarkHungSettle(b *testing.B) {
	h, err := Hang(example, threePads(Rates{X: 150, Y: 150, Z: 400}))
	require.NoError(b, err)
	load := Load{Torque: r3.Vec{X: -1224e3}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := h.Settle(load); err != nil {
			b.Fatal(err)
		}
	}
}

// With other rates at one pad it rests as if it had been hung so.
func TestHungWithOtherRates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, pads := drawBody(t), drawPads(t)
		h, err := Hang(b, pads)
		require.NoError(t, err)
		i, l := rapid.IntRange(0, len(pads)-1).Draw(t, "pad"), drawLoad(t)
		before, errBefore := h.Settle(l)
		k := rapid.Float64Range(80, 1500)
		rates := Rates{X: k.Draw(t, "x"), Y: k.Draw(t, "y"), Z: k.Draw(t, "z")}
		other, err := h.With(i, rates)
		require.NoError(t, err)
		got, gotErr := other.Settle(l)
		again, errAgain := h.Settle(l)
		require.Equal(t, before, again, "the first is as it was")
		require.Equal(t, errBefore, errAgain)
		pads[i].Rates = rates
		want, wantErr := Settle(b, pads, l)
		require.Equal(t, wantErr, gotErr)
		require.Equal(t, want, got)
		forces := make([]r3.Vec, len(pads))
		require.Equal(t, wantErr, other.Forces(l, forces))
		for k, p := range want.Pads {
			require.Equal(t, p.Force, forces[k])
		}
	})
	h, err := Hang(example, threePads(Rates{X: 150, Y: 150, Z: 400}))
	require.NoError(t, err)
	_, err = h.With(1, Rates{X: 1, Y: 1})
	require.ErrorContains(t, err, "the vertical rate is 0 N/mm")
}

// The stiffness is minus the slope of what is out of balance, by differences.
func TestStiffnessIsTheSlopeOfTheBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, pads := drawBody(t), drawPads(t)
		h, err := Hang(b, pads)
		require.NoError(t, err)
		l := drawLoad(t)
		d := dead{l.Force(b), l.Torque}
		g := rapid.Float64Range(-1, 1)
		pos := position{turn: quat.Number{Real: 1}}.by([6]float64{20 * g.Draw(t, "x"), 20 * g.Draw(t, "y"), 20 * g.Draw(t, "z"), 0.2 * g.Draw(t, "a"), 0.2 * g.Draw(t, "b"), 0.2 * g.Draw(t, "c")})
		k := h.scaled(pos)
		for j := range 6 {
			step := 1e-4 // mm
			if j >= 3 {
				step /= h.reach
			}
			var move [6]float64
			move[j] = step
			up := h.residual(d, pos.by(move))
			move[j] = -step
			down := h.residual(d, pos.by(move))
			for i := range 6 {
				slope := -(up[i] - down[i]) / 2e-4 // N/mm, a turn as travel at reach
				if i >= 3 {
					slope /= h.reach
				}
				require.InDelta(t, slope, k[i][j], 1e-5*k.norm(), "%d %d", i, j)
			}
		}
	})
}
