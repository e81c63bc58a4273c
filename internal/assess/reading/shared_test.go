package reading

import (
	"math"
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a tape is off by for each metre is the same along every metre of it: two lengths
// taped with it share that (JCGM 100:2008, 5.2.2: the covariance is the product of their
// sensitivities to what they share), so of the difference of equal lengths it drops out.
// What it is good for at each end is each measurement's own.
func TestWhatATapeIsOffByForEachMetreIsShared(t *testing.T) {
	f, err := project.Parse("t", []byte(`format = 3
[tool.tape]
accuracy = "0.3 mm"
per_metre = "0.6 mm"
[[measure]]
of = "left"
with = "tool.tape"
lengths = [4000]
[[measure]]
of = "right"
with = "tool.tape"
lengths = [4000]
[[measure]]
of = "by itself"
with = "tool.tape"
lengths = [4000]
plus_minus = "2 mm"
`))
	require.NoError(t, err)
	all := Measure(f.Build).List
	end, along := 0.3/math.Sqrt(3), 0.6*4/math.Sqrt(3)
	assert.InDelta(t, math.Hypot(end, along), all[0].Mean.U(), 1e-9)
	assert.InDelta(t, math.Sqrt2*end, all[0].Mean.LessOf(all[1].Mean).U(), 1e-9)
	assert.InDelta(t, math.Sqrt(2*end*end+4*along*along), all[0].Mean.Plus(all[1].Mean.Number).U(), 1e-9)
	assert.InDelta(t, 2/math.Sqrt(3), all[2].Mean.U(), 1e-9, "its own ± is all of it")
	assert.InDelta(t, math.Hypot(2/math.Sqrt(3), math.Hypot(end, along)), all[0].Mean.LessOf(all[2].Mean).U(), 1e-9)
}
