package assembly

import (
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// However the leg leans, one edge of its gusset lies on the leg's side for as long as it
// is meant to, and the other on the face that the leg stands on.
func TestGussetsLieInTheirCorner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-60, 60)
		shape := stockOf(t, rapid.SampledFrom([]string{"SHS 60x60x4 cold", "RHS 80x40x4 cold"}).Draw(t, "section"))
		face := bracket.Face{Point: r3.Vec{Y: -380, Z: -75}, Normal: r3.Vec{X: f.Draw(t, "toe") / 600, Y: 1, Z: f.Draw(t, "lean") / 600}}
		foot := r3.Add(face.Point, r3.Scale(-r3.Dot(face.Normal, r3.Vec{X: 20})/r3.Dot(face.Normal, face.Normal), face.Normal))
		foot = r3.Add(foot, r3.Vec{X: 20})
		site := Site{Pad: bracket.Face{Point: r3.Vec{X: f.Draw(t, "x"), Y: -120, Z: f.Draw(t, "z")}, Normal: r3.Vec{Z: 1}}, Rail: face, Foot: foot}
		m := Member{Name: Leg, Shape: shape, Ends: [2]End{{Kind: Square, At: site.Pad.Point}, {Kind: Rail, At: foot, Face: face}}}
		s, err := Assembly{Name: "left", Members: []Member{m}, Pad: site.Pad.Point, Perch: Leg}.Solve()
		require.NoError(t, err)
		over := rapid.Bool().Draw(t, "over")
		sheets, err := s.Gussets(Gusset{On: Leg, Over: over, Along: 70, Down: 50, Thickness: 6, Snipe: 8, Inward: 15, Up: r3.Vec{Z: 1}})
		require.NoError(t, err)
		require.Len(t, sheets, 2)
		p := &s.Parts[0]
		n := r3.Unit(face.Normal)
		for _, sheet := range sheets {
			at := func(q r2.Vec) r3.Vec { return sheet.Pose.Point(r3.Vec{X: q.X, Y: q.Y}) }
			o := sheet.Plate.Outline
			require.Len(t, o, 6)
			for _, k := range []int{4, 5} { // on the face, but for how the middle of the side lies to it
				slant := r3.Dot(n, r3.Sub(sheet.Pose.At, foot))
				assert.InDelta(t, slant, r3.Dot(n, r3.Sub(at(o[k]), foot)), 1e-9)
			}
			assert.InDelta(t, 50, r2.Norm(o[4]), 1e-9)
			for _, k := range []int{0, 1} {
				d := r3.Sub(at(o[k]), p.Cut.Pad.At)
				assert.InDelta(t, shape.H/2, max(r3.Dot(d, p.Cut.V), -r3.Dot(d, p.Cut.V)), 1e-9)
			}
			if over {
				assert.Positive(t, sheet.Pose.Y.Z)
			} else {
				assert.Negative(t, sheet.Pose.Y.Z)
			}
			_, err := sheet.Plate.Figures()
			assert.NoError(t, err)
		}
		middle := r3.Scale(0.5, r3.Add(sheets[0].Pose.At, sheets[1].Pose.At))
		assert.InDelta(t, 0, r3.Dot(n, r3.Sub(middle, foot)), 1e-6, "the corner is on the face")
		assert.InDelta(t, 30, r3.Norm(r3.Sub(sheets[0].Pose.At, sheets[1].Pose.At)), 1e-9)
	})
}

// A gusset that cannot be is refused by what it stands on.
func TestGussetsThatCannotBe(t *testing.T) {
	arm, brace := stockOf(t, "SHS 60x60x4 cold"), stockOf(t, "SHS 40x40x4 cold")
	site := Site{Pad: bracket.Face{Point: r3.Vec{Y: -220}, Normal: r3.Vec{Z: 1}}, PadPlate: 10, Rail: bracket.Face{Point: r3.Vec{Y: -380}, Normal: r3.Vec{Y: 1}}}
	members, err := BracedArm(site, arm, brace, 50, 80, 95, r3.Vec{Y: 1})
	require.NoError(t, err)
	s, err := Assembly{Name: "left", Members: members, Pad: site.Pad.Point, Perch: Arm}.Solve()
	require.NoError(t, err)
	good := Gusset{On: Arm, Over: true, Along: 60, Down: 40, Thickness: 6, Snipe: 8, Up: r3.Vec{Z: 1}}
	_, err = s.Gussets(good)
	require.NoError(t, err)
	for want, spoil := range map[string]func(*Gusset){
		"into the brace":                func(g *Gusset) { g.Over = false },
		"which is no member":            func(g *Gusset) { g.On = "tie" },
		"more than 0 is wanted of each": func(g *Gusset) { g.Down = 0 },
		"which is 210.0 mm long":        func(g *Gusset) { g.Along = 300 },
		"leaves too little":             func(g *Gusset) { g.Snipe = 35 },
	} {
		g := good
		spoil(&g)
		_, err := s.Gussets(g)
		assert.ErrorContains(t, err, want)
		var part *geom.PartError
		assert.ErrorAs(t, err, &part)
	}
}
