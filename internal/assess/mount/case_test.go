package mount

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fitup/internal/geom/modes"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A case that is turned takes centre of mass and moments of inertia with it as the points do
// that both consist of, summed one by one.
func TestATurnedCaseTakesMassAlong(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 8))
	type point struct {
		m  float64
		at r3.Vec
	}
	centre := func(all []point) (m float64, at r3.Vec) {
		for _, p := range all {
			m, at = m+p.m, r3.Add(at, r3.Scale(p.m, p.at))
		}
		return m, r3.Scale(1/m, at)
	}
	about := func(all []point) (j modes.Inertia) {
		_, c := centre(all)
		for _, p := range all {
			d := r3.Sub(p.at, c)
			j.XX, j.YY, j.ZZ = j.XX+p.m*(d.Y*d.Y+d.Z*d.Z), j.YY+p.m*(d.Z*d.Z+d.X*d.X), j.ZZ+p.m*(d.X*d.X+d.Y*d.Y)
			j.XY, j.YZ, j.ZX = j.XY+p.m*d.X*d.Y, j.YZ+p.m*d.Y*d.Z, j.ZX+p.m*d.Z*d.X
		}
		return j
	}
	for range 20 {
		var rest []point
		for range 5 {
			rest = append(rest, point{20 + 60*dice.Float64(), r3.Vec{X: 1000 * dice.Float64(), Y: 400*dice.Float64() - 200, Z: 400*dice.Float64() - 200}})
		}
		own := point{30 + 60*dice.Float64(), r3.Vec{X: 1100, Y: 300*dice.Float64() - 150, Z: 200*dice.Float64() - 100}}
		before := append([]point{own}, rest...)
		m, at := centre(before)
		b := &project.Build{}
		w := &b.Powertrain
		w.Mass.SetV(m)
		w.CentreOfMass = project.Point{At: at, Known: true}
		w.Case = project.ClockedCase{About: project.Point{At: r3.Vec{X: 1010, Y: 20, Z: -10}, Known: true}, Centre: project.Point{At: own.at, Known: true}, Lines: []string{"front"}}
		w.Case.Mass.SetV(own.m)
		move, err := b.MovableNamed("powertrain.transfer_case.turned")
		require.NoError(t, err)
		by := 2*dice.Float64() - 1
		turned, err := b.With(project.Move{Of: move, To: by})
		require.NoError(t, err)
		sin, cos := math.Sincos(by)
		d := r3.Sub(own.at, w.Case.About.At)
		own.at = r3.Add(w.Case.About.At, r3.Vec{X: d.X, Y: d.Y*cos - d.Z*sin, Z: d.Y*sin + d.Z*cos})
		after := append([]point{own}, rest...)
		_, want := centre(after)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want, turned.Powertrain.CentreOfMass.At)), 1e-9)
		assert.Equal(t, at, w.CentreOfMass.At, "the build before stays as it is")
		got, is := (&Prepared{build: turned}).withTheCase(about(before)), about(after)
		for _, x := range [][2]float64{{is.XX, got.XX}, {is.YY, got.YY}, {is.ZZ, got.ZZ}, {is.XY, got.XY}, {is.YZ, got.YZ}, {is.ZX, got.ZX}} {
			assert.InDelta(t, x[0], x[1], 1e-6*is.XX)
		}
		back, err := turned.With(project.Move{Of: move, To: 0})
		require.NoError(t, err)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(at, back.Powertrain.CentreOfMass.At)), 1e-9)
	}
}

// Moments of inertia that are estimated are those of the pieces as they are turned: a quarter
// turn is the same as the piece with its width and its height changed.
func TestPiecesThatAreTurnedAreEstimatedSo(t *testing.T) {
	parse := func(text string) *Prepared {
		f, err := project.Parse("x.toml", []byte(strings.Replace(text, "[powertrain.pads]", "mass = 300\ncentre_of_mass = [500, 0, 0]\n[powertrain.pads]", 1)))
		require.NoError(t, err)
		return &Prepared{build: f.Build}
	}
	turned, ok := parse(strings.Replace(example.Lifted, "step = \"5 deg\"", "step = \"5 deg\"\nturned = \"90 deg\"", 1)).ofPieces()
	require.True(t, ok)
	// About (0, 0): y of -320 to 110 is z of -320 to 110 then, and z of -190 to 90 is y of -90 to 190.
	want, ok := parse(strings.Replace(strings.Replace(example.Lifted, "[1010, -320, -190]", "[1010, -90, -320]", 1), "[1260, 110, 90]", "[1260, 190, 110]", 1)).ofPieces()
	require.True(t, ok)
	for _, x := range [][2]float64{{want.XX, turned.XX}, {want.YY, turned.YY}, {want.ZZ, turned.ZZ}, {want.XY, turned.XY}, {want.YZ, turned.YZ}, {want.ZX, turned.ZX}} {
		assert.InDelta(t, x[0], x[1], 1e-6*want.XX)
	}
}

// What is taken for granted of a turned case is said as long as it is.
func TestWhatIsTakenForGrantedOfATurnedCase(t *testing.T) {
	for more, said := range map[string]bool{"": false, "turned = \"10 deg\"": true, "turned = \"10 deg\"\nmass = \"70 kg\"": true, "turned = \"10 deg\"\nmass = \"70 kg\"\ncentre_of_mass = [1120, -90, -40]": false} {
		f, err := project.Parse("x.toml", []byte(strings.Replace(example.Lifted, "step = \"5 deg\"", "step = \"5 deg\"\n"+more, 1)))
		require.NoError(t, err)
		p := &Prepared{build: f.Build}
		assert.Equal(t, said, len(p.solidAssumes()) > 0 && p.solidAssumes()[0] == caseStays, more)
		on := p.shakeAssumes(&Shaking{})
		assert.Equal(t, said, strings.Contains(strings.Join(on, "\n"), caseStays), more)
	}
}
