package scene

import (
	"math"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// recorder is a pen that keeps what it is asked to draw.
type recorder struct {
	lines, polygons [][]r2.Vec
	circles         []float64
	order           []string // signs and texts as they come
	notes           []Note
}

func (p *recorder) Line(points []r2.Vec, _ Style)    { p.lines = append(p.lines, points) }
func (p *recorder) Polygon(points []r2.Vec, _ Style) { p.polygons = append(p.polygons, points) }
func (p *recorder) Arc(_ r2.Vec, r float64, from, to float64, _ Style) {
	if to-from == 2*math.Pi {
		p.circles = append(p.circles, r)
	}
}
func (p *recorder) Sign(r2.Vec, Style) { p.order = append(p.order, "sign") }
func (p *recorder) Text(n Note) {
	p.order, p.notes = append(p.order, n.Texts[0]), append(p.notes, n)
}

func label(m Mark) []string { return []string{m.Label} }

func TestViewsOfAPoint(t *testing.T) {
	p := r3.Vec{X: 1, Y: 2, Z: 3}
	assert.Equal(t, r2.Vec{X: 1, Y: 3}, FromLeft.at(p))
	assert.Equal(t, r2.Vec{X: 1, Y: 2}, FromAbove.at(p))
	assert.Equal(t, r2.Vec{X: 2, Y: 3}, FromBehind.at(p))
}

func TestWhatViewsShow(t *testing.T) {
	s := Scene{
		Strokes: []Stroke{
			{Role: RoleRail, Points: []r3.Vec{{}, {X: 1}}},
			{Role: RoleRail, Across: true, Points: []r3.Vec{{}, {Y: 1}, {Y: 1, Z: 1}}},
			{Role: RoleShaft, Points: []r3.Vec{{}, {X: 1}, {X: 2}, {X: 3}}},
		},
		Circles: []Circle{{RoleWheel, r3.Vec{}, 330}, {RoleBody, r3.Vec{}, 50}},
	}
	for v, want := range map[View]struct {
		lines   []int
		circles []float64
	}{
		FromLeft:   {[]int{2, 4}, []float64{330, 50}},
		FromAbove:  {[]int{2, 4}, []float64{50}},
		FromBehind: {[]int{3}, []float64{50}},
	} {
		var p recorder
		s.Flat(v).Draw(&p, label)
		var lines []int
		for _, l := range p.lines {
			lines = append(lines, len(l))
		}
		assert.Equal(t, want.lines, lines, v)
		assert.Equal(t, want.circles, p.circles, v)
	}
}

// A rectangular box has four corners from every side.
func TestOutlineOfABox(t *testing.T) {
	b := solid(RoleBody, "box", geom.Identity(), r3.Vec{X: 3, Y: 2, Z: 1})
	assert.Equal(t, []r2.Vec{{X: -3, Y: -1}, {X: 3, Y: -1}, {X: 3, Y: 1}, {X: -3, Y: 1}}, outline(FromLeft, b))
}

// Every corner lies within the outline, which turns left all the way round and
// has no point that is no corner.
func TestOutlineHoldsAllCorners(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(-1000, 1000)
		var b Solid
		for i := range b.Corners {
			b.Corners[i] = r3.Vec{X: num.Draw(t, "x"), Y: num.Draw(t, "y"), Z: num.Draw(t, "z")}
		}
		v := Views()[rapid.IntRange(0, 2).Draw(t, "view")]
		edge := outline(v, b)
		for i, p := range edge {
			q := edge[(i+1)%len(edge)]
			for _, c := range b.Corners {
				if turn(p, q, v.at(c)) < -1e-6 {
					t.Fatalf("%v lies outside %v to %v", v.at(c), p, q)
				}
			}
		}
	})
}

func TestBoundsCloser(t *testing.T) {
	s := Scene{
		Strokes: []Stroke{
			{Role: RoleRail, Points: []r3.Vec{{X: -900}, {X: 4000}}},
			{Role: RoleChassis, Points: []r3.Vec{{X: -800}, {X: 3000, Z: 700}}},
			{Role: RoleShaft, Points: []r3.Vec{{X: 100, Z: 10}, {X: 1600, Z: -90}}},
		},
		Circles: []Circle{{RoleWheel, r3.Vec{X: 0}, 400}, {RoleChassis, r3.Vec{X: 2500}, 40}, {RoleBody, r3.Vec{X: 50}, 30}},
		Marks:   []Mark{{Role: RolePad, At: r3.Vec{X: 200, Z: 60}}, {Role: RoleChassis, At: r3.Vec{X: 2600, Z: 60}}},
	}
	f := s.Flat(FromLeft)
	box, ok := f.Bounds(false)
	require.True(t, ok)
	assert.Equal(t, r2.Box{Min: r2.Vec{X: -900, Y: -400}, Max: r2.Vec{X: 4000, Y: 700}}, box)
	box, ok = f.Bounds(true)
	require.True(t, ok)
	assert.Equal(t, r2.Box{Min: r2.Vec{X: 20, Y: -90}, Max: r2.Vec{X: 1600, Y: 60}}, box)
	_, ok = Scene{}.Flat(FromLeft).Bounds(false)
	assert.False(t, ok)
}

// All signs come before the first text, and the joint worst off has the first
// choice of a place; joints of later lines have their texts under them.
func TestOrderOfTexts(t *testing.T) {
	s := Scene{Marks: []Mark{
		{Role: RoleJoint, Label: "J1", Status: assess.OK},
		{Role: RolePad, Label: "rear"},
		{Role: RoleJoint, Label: "J2", Status: assess.Over, Line: 1},
		{Role: RoleJoint, Label: "J3", Status: assess.Tight},
	}}
	var p recorder
	s.Flat(FromLeft).Draw(&p, label)
	assert.Equal(t, []string{"sign", "sign", "sign", "sign", "J2", "J3", "J1", "rear"}, p.order)
	assert.Equal(t, []Side{Under, Over, Over, Corner}, []Side{p.notes[0].Beside, p.notes[1].Beside, p.notes[2].Beside, p.notes[3].Beside})
}

// What is drawn stays within the bounds of the drawing, in every view.
func TestDemoStaysWithinItsBounds(t *testing.T) {
	_, s := sceneOf(t, starter.Demo())
	for _, v := range Views() {
		f := s.Flat(v)
		box, ok := f.Bounds(false)
		require.True(t, ok)
		var p recorder
		f.Draw(&p, label)
		require.NotEmpty(t, p.lines)
		for _, l := range append(p.lines, p.polygons...) {
			for _, at := range l {
				require.False(t, math.IsNaN(at.X+at.Y))
				assert.True(t, at.X >= box.Min.X && at.X <= box.Max.X && at.Y >= box.Min.Y && at.Y <= box.Max.Y, "%v: %v", v, at)
			}
		}
	}
}
