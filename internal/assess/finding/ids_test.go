package finding

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// The ids that files have. They never change.
func TestIDs(t *testing.T) {
	for got, want := range map[string]string{
		JointMin("rear", 1): "line.rear.joint.1.min", JointMax("rear", 2): "line.rear.joint.2.max",
		JointSpeed("rear", 3): "line.rear.joint.3.speed", JointTorque("rear", 1): "line.rear.joint.1.torque",
		ShaftMismatch("rear", 1): "line.rear.shaft.1.mismatch", ShaftDrive("rear", 2): "line.rear.shaft.2.inertia.drive",
		ShaftCoast("rear", 2): "line.rear.shaft.2.inertia.coast", ShaftWhirl("rear", 1): "line.rear.shaft.1.whirl",
		ShaftTorque("rear", 1): "line.rear.shaft.1.torque", ShaftShear("rear", 1): "line.rear.shaft.1.shear",
		Residual("front"): "line.front.residual", Equivalent("front"): "line.front.equivalent",
		TravelJoint("rear", 2): "line.rear.travel.joint.2.max", SlipBottom("rear"): "line.rear.travel.slip.bottom",
		SlipPull("rear"): "line.rear.travel.slip.pull", TravelReach("rear"): "line.rear.travel.reach",
		TravelStrain("rear"): "line.rear.travel.strain", HalfShaftInner("front", "left"): "line.front.half_shaft.left.inner",
		HalfShaftOuter("front", "left"): "line.front.half_shaft.left.outer", HalfShaftIn("front", "left"): "line.front.half_shaft.left.plunge_in",
		HalfShaftOut("front", "left"): "line.front.half_shaft.left.plunge_out", HalfShafts("front"): "line.front.half_shafts",
		MountLifts("rear"): "mount.rear.lifts", MountCaptive("rear"): "mount.rear.captive", MountSolid("rear"): "mount.rear.solid",
		MountsSag: "mounts.sag", MountsRock: "mounts.rock", MountsIsolation: "mounts.isolation", AxleHeight("front"): "axle.front.height",
		Clearance("sump"): "clearance.sump", Rocked(Clearance("sump")): "clearance.sump.rocked", Moving(Clearance("powertrain")): "clearance.powertrain.moving",
		AxisRead("line.rear.shaft.1"): "line.rear.shaft.1.read", AxisAgree(LineAxis("rear", "powertrain")): "line.rear.powertrain.agree",
		AxisAbove("line.rear.pinion"): "line.rear.pinion.agree.above",
		BracketFits("rear"):           "bracket.rear.fits", BracketBending("rear"): "bracket.rear.bending", BracketWeld("rear"): "bracket.rear.weld",
		BracketWelded("rear"): "bracket.rear.welded", BracketGusset("rear"): "bracket.rear.gusset", BracketWeldSize("rear"): "bracket.rear.weld_size", BracketBolts("rear"): "bracket.rear.bolts",
		PadPlateBending("rear"): "bracket.rear.pad_plate.bending", RailPlateBending("rear"): "bracket.rear.rail_plate.bending",
		PlateEdge("rear", "pad"): "bracket.rear.pad_plate.edge", PlateEdge("rear", "rail"): "bracket.rear.rail_plate.edge",
		BuiltPlace("rear", false): "bracket.rear.place", BuiltPlace("rear", true): "match.rear.place",
		BuiltLean("rear", false): "bracket.rear.lean", BuiltLean("rear", true): "match.rear.lean",
		BuiltFoot("rear", false): "bracket.rear.foot", BuiltFoot("rear", true): "match.rear.foot",
		Bracket("rear"): "bracket.rear", BracketGiven("rear"): "bracket.rear.given",
		Drift("line.rear.pinion"): "drift.line.rear.pinion", DriftMeasure("diagonal"): "drift.measure.diagonal", Stock("shs"): "cuts.shs.stock",
		EngineOut: "engine_out.open",
	} {
		assert.Equal(t, want, got)
		_, ok := RowOf(got)
		assert.True(t, ok, got)
		assert.True(t, MayBe(got), got)
	}
}

// No two shapes can stand for one id, so that an id has one row, and one that
// nothing goes by has none.
func TestShapesStayApart(t *testing.T) {
	for i, r := range Table() {
		got, ok := RowOf(r.Shape) // which matches itself: no shape begins with a star
		assert.True(t, ok && got == r, r.Shape)
		for _, s := range Table()[i+1:] {
			assert.False(t, meet(r.Shape, s.Shape), "%s and %s", r.Shape, s.Shape)
		}
		assert.NotContains(t, r.Shape, "**")
		assert.True(t, MayBe(r.Shape))
	}
	assert.Empty(t, TradeOf("line.rear.joint.1"))
	assert.False(t, MayBe("line.rear.joint.1"))
	assert.False(t, MayBe("line.rear.joint.1.structure"))
	assert.True(t, MayBe("drift.**"))
	assert.Equal(t, LineTrade, TradeOf("line.rear.joint.1.max.planned"))
	assert.True(t, MayBe("line.rear.joint.1.max.planned"))
	assert.Equal(t, TravelTrade, TradeOf("line.rear.travel.joint.1.max"))
	Table()[0].Trade = "another"
	assert.Equal(t, LineTrade, TradeOf(JointMin("rear", 1)), "the table is not to be written")
}

func TestAbout(t *testing.T) {
	assert.True(t, AboutBracket("bracket.rear.pad_plate.edge", "rear"))
	assert.True(t, AboutBracket("match.rear.foot", "rear"))
	assert.False(t, AboutBracket("bracket.rear", "rear"), "somebody else judges it")
	assert.False(t, AboutBracket("bracket.rear_left.fits", "rear"))
	assert.True(t, IsDrift("drift.line.rear.pinion"))
	assert.False(t, IsDrift("line.rear.pinion.read"))
	assert.True(t, IsStock("cuts.shs.stock"))
	assert.False(t, IsStock("cuts.shs.length"))
}

// A shape is filled in order, whatever the names are.
func TestFill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.StringMatching(`[a-z*]{1,5}`)
		a, b := part.Draw(t, "a"), part.Draw(t, "b")
		if got, want := fill("line.*.joint.*.max", a, b), strings.Join([]string{"line", a, "joint", b, "max"}, "."); got != want {
			t.Fatalf("%s, want %s", got, want)
		}
	})
}

func TestMeant(t *testing.T) {
	assert.Equal(t, "; did you mean line.rear.joint.1.max?", Meant("line.rear.joint.1.mux", []string{"line.rear.joint.1.min", "line.rear.joint.1.max"}))
	assert.Equal(t, "; did you mean mounts.sag?", Meant("mounts.sagg", nil))
	assert.Empty(t, Meant("mount.*.lifts", nil), "nobody means what was written already")
	assert.Empty(t, Meant("nonsense", nil))
}
