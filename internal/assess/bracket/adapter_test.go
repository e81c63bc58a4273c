package bracket

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// adapterOf is the adapter plate of a mount.
func adapterOf(r *legs, name string) *Adapter {
	for _, a := range r.Adapters {
		if a.Name == name {
			return a
		}
	}
	return nil
}

var adapterIDs = []func(string) string{finding.AdapterFlat, finding.AdapterEdge, finding.AdapterPitch, finding.AdapterEngaged, finding.AdapterBending, finding.AdapterBolts}

// An adapter plate lies on its bosses, has its holes over them and its pad where the
// powertrain's is, and is judged: its bosses, holes and thread, the plate and its bolts.
func TestAnAdapterIsLaidAndJudged(t *testing.T) {
	r := runLegs(t, kind(t, "adapter_plate"), loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})...)
	a := adapterOf(&r, "left_front")
	require.NotNil(t, a)
	require.Empty(t, a.Why)
	for _, id := range adapterIDs {
		f := r.Result.last(id("left_front"))
		assert.Equal(t, finding.OK, f.Status, "%s: %s %s", id("left_front"), f.Missing, f.Advice())
		assert.True(t, finding.AboutBracket(f.ID, "left_front"))
	}
	b := a.of.ready.mount
	for i, p := range b.Adapter.Bosses {
		hole := a.Plate.Holes[i].At
		over := a.Pose.Point(r3.Vec{X: hole.X, Y: hole.Y})
		assert.InDelta(t, 8+a.Below[i], r3.Norm(r3.Sub(over, p.At)), 0.02, "the spacer is between hole %d and its boss", i+1)
	}
	pad := a.Pose.Point(r3.Vec{Z: a.Plate.Thickness})
	assert.InDelta(t, 0, r3.Norm(r3.Sub(pad, b.At.At)), 1e-9)
	for _, key := range []string{"width", "stack", "hole.4.left", "boss.4.below", "pad.low", "torque", "mass", "bolts.tension", "bends_at"} {
		assert.True(t, slices.ContainsFunc(r.Values, func(v finding.Value) bool { return v.Name == "adapter.left_front."+key }), key)
	}
}

// By hand: three kilonewtons down at a pad in the middle of a square of bosses, 20 mm off
// their face, tip the plate: 60 N·m over bosses 80 mm apart. Two of them pull with 375 N
// each, and all carry 750 N across.
func TestAnAdaptersBoltsByHand(t *testing.T) {
	text := strings.Replace(kind(t, "adapter_plate"), "[[-70, -220, 75], [60, -220, 80], [70, -220.1, -15], [-60, -220, -20]]", "[[-60, -220, 80], [60, -220, 80], [60, -220, 0], [-60, -220, 0]]", 1)
	r := runLegs(t, text)
	a := adapterOf(&r, "left_front")
	require.Empty(t, a.Why)
	r.loads.Mounts = []MountLoad{{Mount: "left_front", At: r.pose.V.Point(a.of.ready.mount.At.At), Cases: []Case{{"down", r.pose.V.Dir(r3.Vec{Z: -3000})}}}}
	r.judgeAdapter(a)
	assert.InDelta(t, 375, a.Bolt.Tension, 0.01)
	assert.InDelta(t, 750, a.Bolt.Shear, 0.01)
	// The plate is tipped about its own underside: 3000·12 N·mm over 80 mm pull 225 N at each of
	// two, 40 mm beyond the level line through the pad, where 164 mm of plate less a hole of 13 are.
	assert.InEpsilon(t, 2*225*40/((164-13)*144/6.0)/235, a.Bends.Utilisation, 1e-6)
}

// What is not in the file is asked for by its path; what is too weak is over.
func TestAnAdapterThatIsNotWholeOrTooWeak(t *testing.T) {
	for name, c := range map[string]struct {
		old, new string
		id       func(string) string
		status   finding.Status
		says     string
	}{
		"no edge":      {"edge = 22\n", "", finding.AdapterFlat, finding.NotKnown, "mount.left_front.adapter.edge"},
		"no hole":      {"hole = 11\n", "", finding.AdapterFlat, finding.NotKnown, "mount.left_front.adapter.hole"},
		"no thickness": {"thickness = 12\nspacer", "spacer", finding.AdapterFlat, finding.NotKnown, "mount.left_front.adapter.thickness"},
		"no pitch":     {"hole = 13\n", "hole = 13\nacross = 2\n", finding.AdapterFlat, finding.NotKnown, "adapter.pad.pitch_across"},
		"no block":     {"block = \"cast iron\"\n", "", finding.AdapterEngaged, finding.NotKnown, "adapter.block"},
		"no thread":    {"thread = \"M10\"\n", "", finding.AdapterBolts, finding.NotKnown, "adapter.bolts.thread"},
		"no class":     {"class = \"8.8\"\n", "", finding.AdapterBolts, finding.NotKnown, "adapter.bolts.class"},
		"a boss back":  {"-220.1, -15", "-219, -15", finding.AdapterFlat, finding.Over, "stands back: a washer"},
		"thin":         {"thickness = 12\nspacer", "thickness = 2\nspacer", finding.AdapterBending, finding.Over, "thicker adapter plate"},
		"near edge":    {"edge = 22", "edge = 12", finding.AdapterEdge, finding.Over, "tear out"},
		"holes meet":   {"hole = 13\n", "hole = 13\nacross = 2\npitch_across = 24\n", finding.AdapterPitch, finding.Over, "between two of its holes"},
		"short bolts":  {"engaged = 22", "engaged = 12", finding.AdapterEngaged, finding.Over, "strip"},
		"light metal":  {"engaged = 22\nblock = \"cast iron\"", "engaged = 19\nblock = \"aluminium\"", finding.AdapterEngaged, finding.Over, "strip"},
		"wrong class":  {"class = \"8.8\"\n", "class = \"grade 8\"\n", finding.AdapterBolts, finding.NotKnown, "does not go with the thread"},
	} {
		t.Run(name, func(t *testing.T) {
			text := kind(t, "adapter_plate")
			require.Contains(t, text, c.old)
			r := runLegs(t, strings.Replace(text, c.old, c.new, 1), loadsOf(70, r3.Vec{X: 2500, Y: 5000, Z: -6000})...)
			f := r.Result.last(c.id("left_front"))
			require.Equal(t, c.status, f.Status, "%s %s", f.Missing, f.Advice())
			assert.Contains(t, f.Missing+f.Advice(), c.says)
			if c.status == finding.NotKnown {
				assert.False(t, f.HasValue)
			}
		})
	}
}

// On the other side of the vehicle the same adapter, mirrored, is the same.
func TestAMirroredAdapterIsTheSame(t *testing.T) {
	text := kind(t, "adapter_plate")
	flip := strings.NewReplacer(`mount.left_front.adapter`, `mount.right_front.adapter`, "-220, 75]", "220, 75]", "-220, 80]", "220, 80]", "-220.1, -15]", "220.1, -15]",
		"-220, -20]", "220, -20]", `facing = "left"`, `facing = "right"`).Replace(text)
	loads := loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})
	left := runLegs(t, text, loads...)
	a := adapterOf(&left, "left_front")
	r := runLegs(t, flip, loads...)
	b := adapterOf(&r, "right_front")
	require.Empty(t, b.Why)
	assert.InEpsilon(t, a.Bend.Of.V, b.Bend.Of.V, 0.002) // the pads' heights tilt both alike
	assert.InEpsilon(t, a.Bolt.Of.V, b.Bolt.Of.V, 0.002)
	assert.InEpsilon(t, a.Figure.Mass, b.Figure.Mass, 1e-9)
	for i := range a.Bosses {
		assert.InDelta(t, a.Bosses[i].X, -b.Bosses[i].X, 1e-9)
		assert.InDelta(t, a.Bosses[i].Y, b.Bosses[i].Y, 1e-9)
	}
	assert.Less(t, math.Abs(a.Bolt.Tension-b.Bolt.Tension), 5.0)
}
