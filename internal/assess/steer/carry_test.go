package steer

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// besides are builds beside that of a file, one a standard uncertainty up for each
// value of which it states a ±.
func besides(t *testing.T, b *project.Build) []finding.Beside[*project.Build] {
	t.Helper()
	stated := finding.StatedIn(b, new(uncertain.Sources))
	var out []finding.Beside[*project.Build]
	for i := range stated.Each {
		by := stated.Each[i].Error()
		varied, err := b.Varied(stated.Each[i].Path, by.U())
		require.NoError(t, err)
		out = append(out, finding.Beside[*project.Build]{V: varied, By: by})
	}
	return out
}

// off is a steering shaft of three joints with a support bearing, everything that can
// have a ± a little off by the numbers of by and with the halves of half.
func off(by, half [20]float64) string {
	n := 0
	num := func(v float64) string {
		v += by[n]
		s := fmt.Sprintf("%.12f", v)
		if h := half[n]; h > 0 {
			s = fmt.Sprintf("%q", fmt.Sprintf("%.12f mm ± %g", v, h))
		}
		n++
		return s
	}
	at := func(x, y, z float64) string { return "[" + num(x) + ", " + num(y) + ", " + num(z) + "]" }
	angle := func(v float64) string {
		v += by[n]
		s := fmt.Sprintf("%.12f deg", v)
		if h := half[n]; h > 0 {
			s += fmt.Sprintf(" ± %g", h)
		}
		n++
		return fmt.Sprintf("%q", s)
	}
	return "[steering]\ncolumn = " + at(980, -320, 440) + "\ncolumn_axis = [-0.9, 0, -0.36]\ninput = " + at(90, -330, -60) +
		"\ninput_axis = " + at(-80, -10, -70) + "\nshorten = 60\n[[steering.joint]]\n[[steering.joint]]\nat = " + at(540, -345, 220) +
		"\n[[steering.joint]]\n[[steering.shaft]]\nyoke_offset = " + angle(6) + "\nteeth = 36\n[[steering.shaft]]\nphase = \"in phase\"\nslip_closed = " +
		num(440) + "\nslip_open = " + num(560) + "\n[[steering.bearing]]\nat = " + at(628, -338, 260) + "\n"
}

// Every ± of what a steering shaft is made of reaches each of its numbers, by what the
// number moves between files that differ by a thousandth, and by no more (JCGM 100:2008,
// 5.1.3, note 2). Each one by itself, so that none makes up for another.
func TestEachStatedValueReachesTheSteering(t *testing.T) {
	numbers := func(r *Result) map[string]finding.Number {
		out := map[string]finding.Number{"ripple": r.Ripple, "least": r.Least, "gain": r.Gain, "shorten": r.Shorten, "bearing": r.Bearings[0].Off}
		for i, j := range r.Joints {
			out[fmt.Sprint("joint ", i)] = j.Angle
		}
		for i, x := range r.Shafts {
			out[fmt.Sprint("length ", i)] = x.Length
		}
		out["bottom"], out["pull"] = r.Shafts[1].Bottom, r.Shafts[1].Pull
		return out
	}
	plain := numbers(run(t, off([20]float64{}, [20]float64{})))
	const count, step, h = 18, 1e-3, 0.01
	for i := range count {
		var by, half [20]float64
		half[i] = h
		f, err := project.Parse("x.toml", []byte("format = 3\n"+off([20]float64{}, half)))
		require.NoError(t, err)
		open := numbers(Of(f.Build, besides(t, f.Build)))
		by[i] = step
		up := numbers(run(t, off(by, [20]float64{})))
		by[i] = -step
		down := numbers(run(t, off(by, [20]float64{})))
		for name, n := range open {
			want := math.Abs(up[name].V-down[name].V) / (2 * step) * h / math.Sqrt(3)
			assert.InDelta(t, plain[name].V, n.V, 1e-9, name)
			assert.InDelta(t, want, n.Number.U(), 0.02*want+1e-9, "%s with a ± on number %d", name, i)
		}
	}
}

// What the yokes could save moves with what is left when they are set: it is not as sure
// as if that were known, and no more than all there is.
func TestWhatTheYokesSaveIsOpen(t *testing.T) {
	var half [20]float64
	for i := range 18 {
		half[i] = 1
	}
	f, err := project.Parse("x.toml", []byte("format = 3\n"+off([20]float64{}, half)))
	require.NoError(t, err)
	r := Of(f.Build, besides(t, f.Build))
	assert.Positive(t, r.Least.Expanded())
	assert.InDelta(t, r.Ripple.V-r.Least.V, r.Gain.V, 1e-12)
	assert.LessOrEqual(t, r.Gain.V+r.Gain.Expanded(), r.Ripple.V+r.Ripple.Expanded()+1e-12)
	assert.Positive(t, of(t, r, finding.SteeringPhase).Uncertainty)
}

// Where what is left with the yokes set is less sure than the ripple as it is, the most
// that could be saved is the most that there is: without that cap more would be.
func TestNoMoreIsSavedThanThereIs(t *testing.T) {
	capped := 0
	for _, h := range []float64{2, 5, 8, 10} {
		text := line([]float64{20, 20}, []float64{30}, fmt.Sprintf("yoke_offset = \"24 deg ± %g\"\nteeth = 36", h))
		f, err := project.Parse("x.toml", []byte("format = 3\n"+text))
		require.NoError(t, err)
		r := Of(f.Build, besides(t, f.Build))
		most := r.Ripple.V + r.Ripple.Expanded()
		plain := r.Ripple.LessOf(r.Least)
		if plain.V+plain.Expanded() <= most+1e-9 {
			continue
		}
		capped++
		assert.InDelta(t, most, r.Gain.V+r.Gain.Expanded(), 1e-9)
	}
	assert.Positive(t, capped)
}

// A value that cannot be off by its ± leaves nothing that could be judged.
func TestWhatCannotBeVariedIsNotKnown(t *testing.T) {
	f, err := project.Parse("x.toml", []byte("format = 3\n"+off([20]float64{}, [20]float64{})))
	require.NoError(t, err)
	by, err := new(uncertain.Sources).With(0, uncertain.Half("a point", 1))
	require.NoError(t, err)
	r := Of(f.Build, []finding.Beside[*project.Build]{{By: by}})
	assert.Contains(t, r.Why, "within the ±")
	for _, x := range r.Findings {
		assert.Equal(t, finding.NotKnown, x.Status, strings.Join([]string{x.ID, x.Missing}, ": "))
	}
}
