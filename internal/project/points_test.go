package project

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

const surveyed = `format = 3
[vehicle]
axle_height = "-90 mm ± 2"
tyre_diameter = "740 ± 4"
[rails.left]
points = [["-450 ± 3", "-380 ± 1", 0], "point.middle", [4200, -386, 12]]
[tool.tape]
accuracy = "0.5 mm"
per_metre = "0.2 mm"
repeat = "1 mm"
[tool.stick]
repeat = "2 mm"
[point.middle]
station = "1500 ± 2"
offset = "381 mm ± 1 left"
height = "1 ± 0.5"
[point.hanger]
from = "rails.left.top"
station = "3905 mm ± 2"
offset = [885, 886, 884]
height = "-26 mm ± 1"
with = "tool.tape"
[point.bolt]
from = "point.hanger"
station = 12
offset = "3 mm right"
height = -64
with = "tool.tape"
[point.axle]
from = "floor"
station = 3300
offset = 0
height = 371
with = "tool.stick"
[point.wiper]
from = "chassis.bonnet"
station = 310
offset = "120 mm left"
height = -40
[point.behind]
from = "chassis.cross member.rear"
station = "5 ± 1"
offset = "0 ± 1"
height = "0 ± 1"
[point.later]
[point.half]
station = 4
[line.rear.pinion]
at = "point.bolt"
[[chassis]]
name = "bonnet"
on = [0, 0, "680 ± 3"]
facing = "down"
[[chassis]]
name = "cross member"
from = ["2360 ± 1.5", -380, -80]
to = [2300, 380, -20]
`

func TestPointsArePlaced(t *testing.T) {
	f, err := Parse("b.toml", []byte(surveyed))
	require.NoError(t, err)
	b := f.Build
	// Between (1500, -381, 1) and (4200, -386, 12), 2405 of 2700 mm along.
	y, z := -381-5*2405.0/2700, 1+11*2405.0/2700
	for name, want := range map[string]r3.Vec{
		"point.middle": {X: 1500, Y: -381, Z: 1}, "point.hanger": {X: 3905, Y: y + 885, Z: z - 26},
		"point.bolt": {X: 3917, Y: y + 888, Z: z - 90}, "point.axle": {X: 3300, Z: -90 - 370 + 371},
		"point.wiper": {X: 310, Y: -120, Z: 640}, "point.behind": {X: 2365},
	} {
		p, ok := b.PointNamed(name)
		require.True(t, ok && p.Known, "%s: %s", name, p.Why)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want, p.At)), 1e-9, "%s: %v", name, p.At)
	}
	at := b.Lines[0].Pinion.At
	bolt, _ := b.PointNamed("point.bolt")
	assert.True(t, at.Known && at.At == bolt.At && at.Half == b.HalfWidths(bolt), "%+v", at)
	assert.Equal(t, "point.bolt", at.Ref)
	assert.Equal(t, r3.Vec{X: 1500, Y: -381, Z: 1}, b.Rails.Left.Points[1].At, "rails too")
	for name, why := range map[string]string{"point.later": "nothing of point.later is measured yet", "point.half": "not in the file yet: point.half.offset, point.half.height"} {
		p, ok := b.PointNamed(name)
		assert.True(t, ok && !p.Known && p.Why == why, p.Why)
	}
	axle, _ := b.PointNamed("point.axle")
	assert.Len(t, axle.Assumes, 1)
	_, ok := b.PointNamed("point.none")
	assert.False(t, ok)
}

// What is not said of one thing is not claimed of the whole.
func TestHalfWidthsOfPoints(t *testing.T) {
	f, err := Parse("b.toml", []byte(surveyed))
	require.NoError(t, err)
	b := f.Build
	half := func(name string) r3.Vec { p, _ := b.PointNamed(name); return b.HalfWidths(p) }
	assert.Equal(t, r3.Vec{X: 2, Y: 1, Z: 0.5}, half("point.middle"))
	// The ± behind the station stands; the offset has a tool and repeats within
	// it, but the rail's end says nothing of itself, and of the height neither.
	assert.Equal(t, r3.Vec{X: 2}, half("point.hanger"))
	assert.InDelta(t, 2+0.5+0.2*0.012+1, half("point.bolt").X, 1e-12)
	assert.Zero(t, half("point.axle"), "a stick of which only the scatter is known")
	assert.Equal(t, r3.Vec{}, half("point.wiper"))
	assert.Equal(t, r3.Vec{X: 2.5, Y: 1, Z: 1}, half("point.behind"))
	tape := Term{Value: 2000, Tool: "tool.tape", Repeats: []float64{1995, 2000, 2005}}
	got, stated := b.TermHalf(tape)
	assert.True(t, stated)
	assert.InDelta(t, 0.5+0.4+5, got, 1e-12, "repeats farther apart than the tool says")
	got, _ = b.TermHalf(Term{Value: 2000, Tool: "tool.tape", Half: 0.1})
	assert.Equal(t, 0.1, got, "its own ± comes first")
}

// How a point moves with each thing that it rests on, held against the file read
// again with that number changed.
func TestTermsSayHowAPointMoves(t *testing.T) {
	f, err := Parse("b.toml", []byte(surveyed))
	require.NoError(t, err)
	checked := 0
	for _, m := range f.Build.Points {
		p, _ := f.Build.PointNamed(m.Path())
		by := map[string]r3.Vec{}
		value := map[string]float64{}
		for _, term := range p.Terms {
			by[term.Path], value[term.Path] = r3.Add(by[term.Path], term.Dir), term.Value
		}
		for path, dir := range by {
			const step = 0.25
			doc, err := f.Doc().Set(path, fmt.Sprintf("%.6f", value[path]+step))
			require.NoError(t, err, path)
			next, err := f.With(doc)
			require.NoError(t, err, path)
			q, _ := next.Build.PointNamed(m.Path())
			moved := r3.Scale(1/step, r3.Sub(q.At, p.At))
			assert.InDelta(t, 0, r3.Norm(r3.Sub(moved, dir)), 1e-6, "%s by %s: %v, not %v", m.Name, path, moved, dir)
			checked++
		}
	}
	assert.Greater(t, checked, 25)
}

// A file that was changed a piece at a time says what it says when it is read whole,
// also where only the measured point changed and its name stands elsewhere.
func TestPointsFollowAnEdit(t *testing.T) {
	f, err := Parse("b.toml", []byte(surveyed))
	require.NoError(t, err)
	was := f.Build.Lines[0].Pinion.At.At
	doc, err := f.Doc().Set("point.middle.height", "11")
	require.NoError(t, err)
	next, err := f.With(doc)
	require.NoError(t, err)
	whole, err := Parse("b.toml", doc.Bytes())
	require.NoError(t, err)
	assert.Equal(t, whole.Build.Lines[0].Pinion.At, next.Build.Lines[0].Pinion.At)
	assert.Greater(t, next.Build.Lines[0].Pinion.At.At.Z, was.Z)
	assert.Equal(t, was, f.Build.Lines[0].Pinion.At.At, "the file before stays as it was")
	assert.Equal(t, 1.0, f.Build.Rails.Left.Points[1].At.Z)
	gone, err := f.Doc().Remove("point.bolt")
	require.NoError(t, err)
	_, err = f.With(gone)
	assert.ErrorContains(t, err, "there is no [point.bolt] in this file")
}

func TestCoordinateShapes(t *testing.T) {
	assert.Equal(t, QuantityShape, ShapeAt("point.a.station"))
	assert.True(t, IsPath("point.a.offset") && IsCoordinate("point.a.offset") && !IsCoordinate("point.a.from"))
	k, ok := KindAt("point.a.offset[1]")
	assert.True(t, ok && k.Signed())
	f, err := Parse("b.toml", []byte(surveyed))
	require.NoError(t, err)
	assert.Contains(t, f.Build.Datums(), "chassis.cross member.rear")
	assert.Contains(t, f.Build.Datums(), "chassis.bonnet")
	assert.Contains(t, f.Build.Datums(), "point.bolt")
	assert.NotContains(t, strings.Join(f.Build.Datums(), " "), "bonnet.")
}

// What a tool may be off by and how far it strays are two errors: 0.6 and 0.8 mm leave a
// coordinate as open as one of 1 mm does. Four repeats within 0.8 mm stray half as much,
// √(0.6² + 0.4²) = 0.721 mm; such that lie 1.2 mm to either side count as they lie. A ±
// that was typed is one error as it stands.
func TestErrorOfATool(t *testing.T) {
	f, err := Parse("x.toml", []byte(`format = 3
[tool.tape]
accuracy = "0.6 mm"
repeat = "0.8 mm"
[point.once]
station = 100
offset = "0 mm ± 1.4"
height = 10
with = "tool.tape"
[point.often]
station = [99.5, 100, 100, 100.5]
offset = [98.8, 101.2]
height = "10 mm"
with = "tool.tape"
`))
	require.NoError(t, err)
	half := map[string]float64{}
	for _, v := range f.Build.StatedValues() {
		half[v.Path] = v.Half
	}
	assert.InDeltaMapValues(t, map[string]float64{"point.once.station": 1, "point.once.offset": 1.4, "point.once.height": 1,
		"point.often.station": math.Hypot(0.6, 0.4), "point.often.offset": math.Hypot(0.6, 1.2), "point.often.height": 1}, half, 1e-9)
	bound, _ := f.Build.PointNamed("point.once")
	assert.InDelta(t, 1.4, f.Build.HalfWidths(bound).X, 1e-9, "how far it may be off at the most is shown as it was")
}
