package bracket

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func square4() Adapter {
	return Adapter{Name: "left", Bosses: []r2.Vec{{X: -60, Y: 40}, {X: 60, Y: 40}, {X: 60, Y: -40}, {X: -60, Y: -40}},
		Hole: 11, Pad: []Hole{{Diameter: 13}}, Edge: 20, Thickness: 12, Yield: 235}
}

// By hand: 4 kN pull at the middle of four bosses, 1 kN on each. Two of them 60 mm beyond
// the upright line through the pad bend the plate there by 2·1000·60 N·mm, and it is
// 120 − 13 mm wide by 12 thick: 120000 / (107·144/6) = 46.7 MPa of 235.
func TestAnAdapterByHand(t *testing.T) {
	r, err := square4().Ready()
	require.NoError(t, err)
	got, shares, err := r.Under(Load{Force: r3.Vec{Z: 4000}})
	require.NoError(t, err)
	for _, s := range shares {
		assert.InDelta(t, 1000, s.Tension, 1e-9)
	}
	assert.InEpsilon(t, 120000.0/(107*144/6)/235, got.Utilisation, 1e-9)
	assert.InDelta(t, 107, got.Width, 1e-9)
	assert.InDelta(t, 0, got.At, 1e-9)
	assert.False(t, got.Through)
	// A pad that hangs out 100 mm beyond two bosses bends the plate beside them by all of it:
	// 4 kN by 100 mm at the line through them, 160 mm wide less two holes of 11.
	out := square4()
	for i := range out.Bosses {
		out.Bosses[i].Y += 140
	}
	r, err = out.Ready()
	require.NoError(t, err)
	got, _, err = r.Under(Load{Force: r3.Vec{Z: 4000}})
	require.NoError(t, err)
	line := r.plate.netAcross(r2.Vec{Y: 1}, 100)
	assert.InEpsilon(t, 160-22, line, 1e-9)
	assert.GreaterOrEqual(t, got.Utilisation, 4000*100/(line*144/6)/235)
	assert.Less(t, got.Utilisation, 1.35*4000*100/(line*144/6)/235) // a line a little turned has less plate
	// A thick plate on bosses that are near is pressed through first: 2π hinges.
	near := square4()
	near.Bosses = []r2.Vec{{X: -22, Y: 22}, {X: 22, Y: 22}, {X: 22, Y: -22}, {X: -22, Y: -22}}
	near.Edge = 80
	r, err = near.Ready()
	require.NoError(t, err)
	got, _, err = r.Under(Load{Force: r3.Vec{Z: 4000}})
	require.NoError(t, err)
	assert.True(t, got.Through)
	assert.InEpsilon(t, 4000/(2*math.Pi*235*144/4), got.Utilisation, 1e-9)
}

// The edge runs round every outer hole just as far off as it is to be, and the plate is as
// large as its bosses and that.
func TestAnAdaptersOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Adapter{Name: "left", Hole: 11, Edge: rapid.Float64Range(15, 40).Draw(t, "edge"), Thickness: 12, Yield: 235}
		for i := range rapid.IntRange(3, 6).Draw(t, "n") {
			s, c := math.Sincos(float64(i)*1.1 + rapid.Float64Range(0, 0.3).Draw(t, "turn"))
			d := rapid.Float64Range(60, 150).Draw(t, "r")
			a.Bosses = append(a.Bosses, r2.Vec{X: d * c, Y: d * s})
		}
		p, err := a.Plate()
		if err != nil {
			t.Fatal(err)
		}
		f, err := p.Figures()
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(f.Edge+a.Hole/2-a.Edge) > 1e-6 {
			t.Fatalf("%g mm from the edge, want %g", f.Edge+a.Hole/2, a.Edge)
		}
		for i, q := range p.Outline {
			w, x := p.Outline[(i+1)%len(p.Outline)], p.Outline[(i+2)%len(p.Outline)]
			if r2.Cross(r2.Sub(w, q), r2.Sub(x, w)) <= 0 {
				t.Fatal("the outline is not convex")
			}
		}
	})
}

// What is beyond a line holds the load against turning about it, whichever bosses there
// are: all bosses beyond one line have the moment of the load about it.
func TestAnAdapterIsInBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := square4()
		for i := range a.Bosses {
			a.Bosses[i].Y += 150
			a.Bosses[i].X += rapid.Float64Range(-20, 20).Draw(t, "x")
		}
		r, err := a.Ready()
		if err != nil {
			t.Fatal(err)
		}
		l := Load{Force: r3.Vec{X: rapid.Float64Range(-4000, 4000).Draw(t, "fx"), Y: rapid.Float64Range(-4000, 4000).Draw(t, "fy"), Z: rapid.Float64Range(-4000, 4000).Draw(t, "fz")},
			At: r3.Vec{Z: rapid.Float64Range(0, 60).Draw(t, "z")}}
		got, _, err := r.Under(l)
		if err != nil {
			t.Fatal(err)
		}
		// The line through the lower two bosses, 110 mm from the pad: the load turns the pad's
		// side about it, and nothing but the upper bosses holds that.
		want := math.Abs(l.Force.Z*110 + l.Force.Y*l.At.Z)
		limit := r.plate.netAcross(r2.Vec{Y: 1}, 110) * a.Thickness * a.Thickness / 6 * a.Yield
		if got.Utilisation < want/limit*(1-1e-9) {
			t.Fatalf("%g used, and the line through two bosses uses %g", got.Utilisation, want/limit)
		}
	})
}

func TestAdaptersThatAreNone(t *testing.T) {
	a := square4()
	a.Edge = 5
	_, err := a.Plate()
	require.ErrorContains(t, err, "make edge more")
	a = square4()
	a.Bosses[1] = a.Bosses[0]
	_, err = a.Ready()
	require.ErrorContains(t, err, "run into each other")
	a = square4()
	a.Bosses = a.Bosses[:2]
	r, err := a.Ready()
	require.NoError(t, err)
	_, _, err = r.Under(Load{Force: r3.Vec{Y: 1000}, At: r3.Vec{Z: 12}})
	require.ErrorContains(t, err, "stand in one line")
	apart, of := Plate{Holes: []Hole{{Diameter: 11}, {At: r2.Vec{X: 30}, Diameter: 13}, {At: r2.Vec{X: 100}, Diameter: 11}}}.LeastPitch()
	assert.Equal(t, []float64{30, 13}, []float64{apart, of})
}
