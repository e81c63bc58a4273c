package rail

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A hole of which too little is known can be anywhere and of any size: bending is not ok
// with it.
func TestAHoleThatIsNotKnownIsNoOK(t *testing.T) {
	require.Equal(t, finding.OK, found(t, result(t, plain), finding.RailBending("left")).Status)
	hole := "[[rails.left.hole]]\n"
	for name, c := range map[string]struct{ length, hole, want string }{
		"no size":      {plain, hole + "at = 1500\nin = \"web\"\n", "rails.left.hole.1.diameter"},
		"in what":      {plain, hole + "at = 1500\ndiameter = 20\n", "rails.left.hole.1.in"},
		"whole flange": {plain, hole + "at = 1500\ndiameter = 60\nin = \"top flange\"\n", "hole 1"},
		"in a tube":    {"[[rails.left.length]]\nsection = \"tube 100x5\"\n", hole + "at = 1500\ndiameter = 20\nin = \"web\"\n", "hole 1"},
	} {
		f := found(t, result(t, c.length+c.hole), finding.RailBending("left"))
		assert.Equal(t, finding.NotKnown, f.Status, name)
		assert.Contains(t, f.Missing, c.want, name)
	}
}

// At the narrow end of a taper the section is what the file says of it there, and a hole
// in it goes through that: a taper that ends under the load is stressed like a rail of its
// narrow end.
func TestATaperIsAsWeakAsItsEnd(t *testing.T) {
	length := func(s string) string { return "[[rails.left.length]]\nbend = 0\n" + s }
	narrow := length("to = 1500\nsection = \"channel 100x60x5\"\n") + length("section = \"channel 80x60x5\"\n")
	taper := length("to = 1500\nsection = \"channel 100x60x5\"\nto_section = \"channel 80x60x5\"\n") + length("section = \"channel 100x60x5\"\n")
	for _, hole := range []string{"", "[[rails.left.hole]]\nat = 1500\ndiameter = 20\nin = \"top flange\"\n"} {
		a, b := found(t, result(t, narrow+hole), finding.RailBending("left")), found(t, result(t, taper+hole), finding.RailBending("left"))
		assert.InEpsilon(t, a.Value, b.Value, 0.01, "own weight apart: %q", hole)
	}
}

// Where two steels meet, the weaker one says what the joint carries.
func TestAJointIsAsStrongAsItsWeakerSteel(t *testing.T) {
	use := func(first, second string) float64 {
		l := "[[rails.left.length]]\nbend = 0\nsection = \"channel 100x60x5\"\nsteel = \"%s\"\n%s"
		text := fmt.Sprintf(l, first, "to = 1500\n") + fmt.Sprintf(l, second, "") +
			"[[rails.left.splice]]\nat = 1500\nkind = \"butt\"\ncut = \"sloped\"\n"
		return found(t, result(t, text), finding.RailSplice("left", 1)).Value
	}
	weak := use("S235", "S235")
	assert.Greater(t, weak, 1.2*use("S355", "S355"))
	assert.InDelta(t, weak, use("S235", "S355"), 1e-9)
	assert.InDelta(t, weak, use("S355", "S235"), 1e-9)
}

// A sleeve that ends square stops all at once, as plates do.
func TestASleeveIsAStep(t *testing.T) {
	for _, section := range []string{"channel 100x60x5", "box 100x60x5"} {
		for ends, step := range map[string]bool{"square": true, "fish mouth": false} {
			r := result(t, "[[rails.left.length]]\nsection = \""+section+"\"\n[[rails.left.splice]]\nat = 1500\nkind = \"sleeve\"\nlength = 400\nplate = 5\nplate_ends = \""+ends+"\"\n")
			require.Empty(t, r.Of(project.LeftSide).Splices[0].Why)
			v := found(t, r, finding.RailStep("left")).Value
			if step {
				assert.Greater(t, v, 1.8, section) // another wall of the same, farther out
			} else {
				assert.Equal(t, 1.0, v, section)
			}
		}
	}
}

// A rail whose ends only plates hold is not judged in torsion by the rail beside them.
func TestTorsionOfAPlatedJointIsNotKnown(t *testing.T) {
	box := "[[rails.left.length]]\nsection = \"box 150x100x8\"\n"
	rates := "[vehicle]\nfront_rate = \"20 N/mm\"\nrear_rate = \"20 N/mm\""
	twist := func(more string) finding.Finding {
		f, err := project.Parse("test.toml", []byte(strings.Replace(strings.Replace(frame, "LEFT", box+more, 1), "[vehicle]", rates, 1)))
		require.NoError(t, err)
		return found(t, Prepare(f.Build, nil).At(Input{}), finding.RailTwist("left"))
	}
	joint := func(at int, kind string) string {
		return fmt.Sprintf("[[rails.left.splice]]\nat = %d\nkind = %q\nlength = 300\nplate = 5\nplate_ends = \"sloped\"\ncut = \"sloped\"\n", at, kind)
	}
	require.Equal(t, finding.OK, twist("").Status)
	assert.Equal(t, finding.OK, twist(joint(1500, "butt with plates")).Status)
	assert.Equal(t, finding.OK, twist(joint(3500, "fish plate")).Status, "behind the axles nothing twists")
	for _, kind := range []string{"fish plate", "sleeve"} {
		f := twist(joint(1500, kind))
		assert.Equal(t, finding.NotKnown, f.Status, kind)
		assert.Contains(t, f.Missing, "splice 1")
	}
	assert.Equal(t, finding.NotKnown, twist("[[rails.left.splice]]\nat = 1500\nkind = \"butt with plates\"\n").Status)
}

// A rail that a support would have to hold down is worked out on another support than it
// has.
func TestARailThatLiftsOffIsNoOK(t *testing.T) {
	f, err := project.Parse("test.toml", []byte(strings.Replace(strings.Replace(frame, "at = 1500\n", "at = 3900\n", 1), "LEFT", plain, 1)))
	require.NoError(t, err)
	r := Prepare(f.Build, nil).At(Input{})
	require.Negative(t, r.Of(project.LeftSide).Supports[0].Force)
	bending := found(t, r, finding.RailBending("left"))
	assert.Equal(t, finding.NotKnown, bending.Status)
	assert.Contains(t, bending.Missing, "front tower would have to hold the rail down")
}

// A joint that bends little can be sheared much; one of flat plates alone takes no shear.
func TestAShearedJointIsNoOK(t *testing.T) {
	splice := func(mass, plated string) (finding.Finding, Place) {
		more := "[[rails.left.splice]]\nat = 10\nkind = \"fish plate\"\nlength = 16\nplate = 5\nplate_ends = \"sloped\"\nplated = \"" + plated + "\"\n"
		text := strings.Replace(strings.Replace(frame, "at = 1500\n", "at = 15\n", 1), "200 kg", mass, 1)
		f, err := project.Parse("test.toml", []byte(strings.Replace(text, "LEFT", plain+more, 1)))
		require.NoError(t, err)
		r := Prepare(f.Build, nil).At(Input{})
		require.Empty(t, r.Of(project.LeftSide).Why)
		return found(t, r, finding.RailSplice("left", 1)), r.Of(project.LeftSide).Joints[0]
	}
	f, p := splice("200 kg", "outside")
	assert.Equal(t, finding.OK, f.Status)
	w := 1050 * 7850e-9 * 9.80665 // by hand: the front tower's force less the overhang in front of the joint
	force := 3 * ((w*4500*1250+100*9.80665*2985)/3000 - w*510)
	r := Prepare(build(t, plain+"[[rails.left.splice]]\nat = 10\nkind = \"fish plate\"\nlength = 16\nplate = 5\nplate_ends = \"sloped\"\n"), nil).At(Input{})
	s := r.Of(project.LeftSide).Splices[0]
	assert.InEpsilon(t, force/(100*5)*1.7320508/s.Yield, p.Sheared, 2e-3)
	f, _ = splice("5000 kg", "outside")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "the joint is sheared by")
	f, _ = splice("200 kg", "top and bottom")
	assert.Equal(t, finding.NotKnown, f.Status)
}
