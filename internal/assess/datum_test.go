package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A line from a point that was typed to one that a survey places. The survey is held by
// points that were measured from a datum of which hardly anything is sure; so was the
// first point, or it was from another such datum.
const fromDatums = `format = 3
[tool.rule]
accuracy = "0.5 mm"
[point.d]
station = "%.6f mm ± 5"
offset = "%.6f mm ± 5"
height = 0
[point.g]
station = "%.6f mm ± 5"
offset = "%.6f mm ± 5"
height = 0
[point.a]
from = "point.d"
station = "%.6f mm ± 0.3"
offset = "%.6f mm ± 0.3"
height = 0
[point.b]
from = "point.d"
station = "%.6f mm ± 0.3"
offset = "%.6f mm ± 0.3"
height = 0
[point.c]
from = "point.d"
station = "%.6f mm ± 0.3"
offset = "%.6f mm ± 0.3"
height = 0
[point.f]
from = "point.%s"
station = "%.6f mm ± 0.3"
offset = "%.6f mm ± 0.3"
height = 0
[point.e]
[survey]
datum = "points"
points = ["point.a", "point.b", "point.c"]
[line.rear.first]
slope = "1 deg down to the rear"
[line.rear.pinion]
at = "point.e"
slope = "1 deg down to the rear"
[[line.rear.joint]]
at = "point.f"
[[line.rear.joint]]
`

// datumFile is what somebody writes down whose measurements are off by what off says, for
// each half-width.
func datumFile(off func(half float64) float64, datum string) string {
	e := r3.Vec{X: 2400, Y: 60}
	base := map[string]r3.Vec{"d": {X: 1000, Y: -300}, "g": {X: 300, Y: 250}}
	var args []any
	for _, name := range []string{"d", "g"} {
		args = append(args, base[name].X+off(5), base[name].Y+off(5))
	}
	held := map[string]r3.Vec{"a": {X: 900, Y: -350}, "b": {X: 950, Y: 400}, "c": {X: 3900, Y: -380}}
	for _, name := range []string{"a", "b", "c"} {
		p := r3.Sub(held[name], base["d"])
		args = append(args, p.X+off(0.3), p.Y+off(0.3))
	}
	f := r3.Sub(r3.Vec{X: 1100, Y: 40}, base[datum])
	args = append(args, datum, f.X+off(0.3), f.Y+off(0.3))
	text := fmt.Sprintf(fromDatums, args...)
	for _, name := range []string{"a", "b", "c"} {
		text += fmt.Sprintf("[[measure]]\nfrom = \"point.%s\"\nto = \"point.e\"\nwith = \"tool.rule\"\nlengths = [%.6f]\n", name, r3.Norm(r3.Sub(held[name], e))+off(0.5))
	}
	return text + fmt.Sprintf("[[measure]]\nfrom = \"point.a\"\nto = \"point.e\"\nas = \"height\"\nwith = \"tool.rule\"\nlengths = [%.6f]\n", off(0.5))
}

// What holds the survey counts once in what lies between a place of it and a point that
// was measured from the same datum, in which it drops out; and in full where that was
// measured from another: by the scatter of files that were written anew.
func TestADatumIsSharedByPlacesAndPoints(t *testing.T) {
	want := math.Hypot(1300, 20)
	for _, c := range []struct {
		datum       string
		atLeast, at float64 // of the standard uncertainty of the length, mm
	}{{"d", 0.2, 0.6}, {"g", 3.9, 4.4}} {
		dice := rand.New(rand.NewPCG(8, 3))
		length := func(off func(float64) float64) Number {
			a, err := Prepare(build(t, datumFile(off, c.datum))).besideNothing().At(nil, OfLines) // lines take it along
			require.NoError(t, err)
			require.Len(t, a.Lines, 1)
			l := a.Lines[0].Shafts[0].Length
			require.True(t, l.Known, l.Why)
			return l
		}
		stated := length(func(float64) float64 { return 0 })
		assert.InDelta(t, want, stated.V, 1e-5)
		assert.GreaterOrEqual(t, stated.U(), c.atLeast, c.datum)
		assert.LessOrEqual(t, stated.U(), c.at, c.datum)
		const runs = 120
		sum := 0.0
		for range runs {
			v := length(func(half float64) float64 { return (2*dice.Float64() - 1) * half }).V - want
			sum += v * v
		}
		assert.InDelta(t, 1, math.Sqrt(sum/runs)/stated.U(), 0.15, "from %s: %g", c.datum, stated.U())
	}
}

// At the ends of a datum's ±, by which findings are worked out, its points and the places
// of the survey that they hold stand elsewhere together.
func TestPlacesMoveWithTheirDatum(t *testing.T) {
	p := Prepare(build(t, datumFile(func(float64) float64 { return 0 }, "g")))
	at := func(b *project.Build, name string) r3.Vec {
		q, ok := b.PointNamed(name)
		require.True(t, ok && q.Known, name)
		return q.At
	}
	for path, moves := range map[string]map[string]float64{
		"point.d.station": {"point.a": 5, "point.e": 5, "point.f": 0}, "point.g.station": {"point.a": 0, "point.e": 0, "point.f": 5},
	} {
		i := slices.IndexFunc(p.open, func(o leftOpen) bool { return o.Path == path })
		require.GreaterOrEqual(t, i, 0, path)
		for k, end := range [2]float64{-1, 1} {
			q, err := p.open[i].at[k].made()
			require.NoError(t, err)
			for name, by := range moves {
				assert.InDelta(t, end*by, at(q.Build, name).X-at(p.Build, name).X, 1e-6, "%s by %s", name, path)
			}
		}
	}
	own := 0
	for _, s := range p.places.shifts {
		if s.Value == "" {
			own++
		}
	}
	assert.LessOrEqual(t, own, 3, "three coordinates of one place: the datum is none of the survey's own errors")
}
