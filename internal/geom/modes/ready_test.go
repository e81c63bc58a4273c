package modes

import (
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// What is asked of a system that was looked over once is what the system itself says with
// its rates and moments of inertia changed.
func TestReadyIsTheSystemChanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawer{t}
		s := d.system()
		r, err := s.Ready(nil)
		if err != nil {
			t.Skip()
		}
		st, changed := State{Heavier: d.f(0.5, 2)}, s
		changed.Mounts, changed.Links = append([]Mount(nil), s.Mounts...), append([]Link(nil), s.Links...)
		j := &changed.Inertia
		for _, v := range []*float64{&j.XX, &j.YY, &j.ZZ, &j.XY, &j.YZ, &j.ZX} {
			*v *= st.Heavier
		}
		for i := range changed.Mounts {
			by := [3]float64{d.f(0.5, 2), d.f(0.5, 2), d.f(0.5, 2)}
			st.Stiffer = append(st.Stiffer, by)
			m := &changed.Mounts[i].Rates
			m.X, m.Y, m.Z = m.X*by[0], m.Y*by[1], m.Z*by[2]
		}
		for i := range changed.Links {
			by := d.f(0.5, 2)
			st.Stiffer = append(st.Stiffer, [3]float64{by, by, by})
			changed.Links[i].Rate *= by
		}
		for range s.Stops {
			st.Stiffer = append(st.Stiffer, [3]float64{1, 1, 1})
		}
		want, err := changed.Modes(geom.Identity(), nil)
		require.NoError(t, err)
		got, err := r.Frequencies(st)
		require.NoError(t, err)
		for i := range want {
			assert.InEpsilon(t, want[i].Frequency, got[i], 1e-6)
		}
		f := Shaking{Frequency: d.f(1, 60), Force: d.v(100), Torque: r3.Vec{X: 1e5}}
		answer, err := changed.Shake(f, nil)
		if err != nil {
			t.Skip() // at a natural frequency, undamped
		}
		up := Shaking{Frequency: f.Frequency, Force: r3.Vec{Z: 1}}
		bounce, err := changed.Shake(up, nil)
		require.NoError(t, err)
		passes, err := r.Passes(st, f, up)
		require.NoError(t, err)
		assert.InEpsilon(t, answer.Transmissibility, passes[0], 1e-6)
		assert.InEpsilon(t, bounce.Transmissibility, passes[1], 1e-6)
	})
}

func BenchmarkReadyPasses(b *testing.B) {
	s := block(150)
	r, err := s.Ready(nil)
	require.NoError(b, err)
	f := Shaking{Frequency: 25, Torque: r3.Vec{X: 1}}
	for b.Loop() {
		if _, err := r.Passes(State{}, f, f); err != nil {
			b.Fatal(err)
		}
	}
}
