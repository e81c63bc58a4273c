package uncertain

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever is worked out from numbers has the same ± from those that stand for them,
// so their covariance is the same: of each, of sums and of differences.
func TestFactoredNumbersShareWhatTheyShared(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := new(Sources)
		n := rapid.IntRange(1, 6).Draw(rt, "numbers")
		var ids []ID
		for i := range rapid.IntRange(1, 9).Draw(rt, "sources") {
			id, err := s.Add(Source{Label: fmt.Sprint(i), U: rapid.Float64Range(0.1, 3).Draw(rt, "u")})
			require.NoError(rt, err)
			ids = append(ids, id)
		}
		var numbers []Number
		for range n {
			var parts []Part
			for _, id := range ids {
				parts = append(parts, Part{id, rapid.Float64Range(-2, 2).Draw(rt, "c")})
			}
			numbers = append(numbers, s.Number(rapid.Float64Range(-9, 9).Draw(rt, "v"), parts...))
		}
		into := new(Sources)
		got, err := Factored(into, func(int) string { return "x" }, numbers...)
		require.NoError(rt, err)
		require.LessOrEqual(rt, into.Len(), n)
		for i := range numbers {
			assert.Equal(rt, numbers[i].V, got[i].V)
			assert.InDelta(rt, numbers[i].U(), got[i].U(), 4e-5)
			for j := range numbers {
				assert.InDelta(rt, numbers[i].Plus(numbers[j]).U(), got[i].Plus(got[j]).U(), 4e-5)
				assert.InDelta(rt, numbers[i].Minus(numbers[j].Times(2)).U(), got[i].Minus(got[j].Times(2)).U(), 4e-5)
			}
		}
	})
}

// What rests on few repeats stays as wide: Student's factor of 2 degrees of freedom
// (t 95 % is 4.3027).
func TestFactoredNumbersKeepStudentsFactor(t *testing.T) {
	s := new(Sources)
	few, err := s.With(10, Source{Label: "scatter", U: 1, DoF: 2})
	require.NoError(t, err)
	got, err := Factored(new(Sources), func(int) string { return "x" }, few)
	require.NoError(t, err)
	assert.Greater(t, few.Expanded(), 4.0)
	assert.InDelta(t, few.Expanded(), got[0].Expanded(), 1e-9)
	got, err = Factored(new(Sources), func(int) string { return "x" }, Exact(3), few)
	require.NoError(t, err)
	assert.Zero(t, got[0].Expanded(), "what is exact stays so")
}
