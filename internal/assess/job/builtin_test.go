package job

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project/joblist"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// waits is what steps of the built-in list wait for: ids of findings and facts, one for
// each thing that can be wrong, and "!" behind what has to be read after tacking. In the
// words of the trade: nothing is tacked at angles that are over, nothing is finished on
// readings that are not proved, an engine is not started that shakes its frame.
var waits = map[string]string{
	"diagonals":          "frame.survey.fit frame.survey.hidden frame.taped.fit frame.taped.diagonals frame.taped.square frame.taped.wheelbase",
	"pinion-point":       "line.rear.pinion.read",
	"rail-thickness":     "rail.left.bending rail.right.details",
	"rails-again":        "drift.frame drift.floor frame.square frame.diagonals frame.twist frame.change",
	"read-hung":          "line.rear.powertrain.read line.rear.shaft.1.read line.rear.pinion.read",
	"agree":              "line.rear.powertrain.agree line.rear.shaft.1.agree line.rear.pinion.agree line.rear.powertrain.agree.above line.rear.shaft.1.agree.above line.rear.pinion.agree.above",
	"choose-angles":      "line.rear.joint.1.min line.rear.joint.2.max line.rear.shaft.1.mismatch",
	"choose-travel":      "line.rear.travel.joint.2.max line.rear.travel.slip.bottom line.rear.travel.slip.pull line.rear.travel.reach",
	"half-shaft-travel":  "line.rear.half_shaft.left.inner",
	"steering-room":      "room.steering",
	"suspension-room":    "pickup.rear.wheels pickup.rear.left.rod.lower.give pickup.rear.rod.lower.length pickup.rear.bar.square pickup.rear.left.bar.link room.suspension",
	"towers":             "pickup.rear.left.spring.bind pickup.rear.spring.sides pickup.rear.left.damper.bump pickup.rear.left.stop pickup.rear.left.tower room.towers",
	"cut-first":          "line.rear.joint.1.max line.rear.shaft.1.mismatch bracket.rear.room bracket.rear.room.rocked",
	"tack-first":         "line.rear.joint.1.max",
	"bolt-first":         "line.rear.joint.1.max",
	"read-first":         "line.rear.powertrain.read",
	"repeat-readings":    "line.rear.powertrain.read line.rear.pinion.read",
	"prove-joints":       "line.rear.joint.1.min! line.rear.joint.1.max! line.rear.shaft.1.mismatch!",
	"prove-even":         "line.rear.residual! line.rear.shaft.1.inertia.drive!",
	"cut-second":         "line.rear.joint.1.max line.rear.shaft.1.mismatch bracket.rear.room bracket.rear.room.rocked",
	"tack-second":        "line.rear.joint.1.max torque_link.stay.load roll_stop.front.load roll_stop.front.play",
	"bolt-second":        "line.rear.joint.1.max torque_link.stay.load roll_stop.front.load roll_stop.front.play",
	"read-tacked":        "line.rear.pinion.read! line.rear.shaft.1.read! line.rear.powertrain.agree line.rear.shaft.1.agree line.rear.pinion.agree",
	"support-member":     "bracket.rear.out bracket.rear.room bracket.rear.room.rocked",
	"torque-strut":       "torque_link.stay.load torque_link.stay.room torque_link.stay.moving",
	"support-fix":        "line.rear.joint.1.max",
	"support-bolt":       "line.rear.joint.1.max",
	"carrier-bearing":    "line.rear.joint.1.max",
	"front-line":         "line.front.joint.1.max",
	"prove-supported":    "line.rear.pinion.read! line.rear.joint.1.max! line.rear.shaft.1.mismatch!",
	"column":             "steering.ripple room.steering",
	"subframe-square":    "subframe.front.square room.subframe",
	"subframe-brackets":  "brackets.subframe room.subframe",
	"subframe-tack":      "subframe.front.square brackets.subframe",
	"subframe-again":     "subframe.front.square!",
	"front-caster":       "pickup.front.left.caster pickup.front.caster",
	"mark-weld-out":      "welds.given",
	"subframe-weld":      "subframe.front.square! brackets.subframe",
	"weld-in":            "welds.finished.in",
	"read-welded":        "readings.welded drift.frame frame.change",
	"weld-out":           "welds.finished",
	"inspect-welds":      "welds.inspected",
	"engine-in":          "engine_out.open",
	"torque-mounts":      "fasteners.marked",
	"front-height":       "axle.front.height",
	"prove-final":        "line.rear.pinion.read! line.rear.joint.1.min! line.rear.joint.1.max! line.rear.shaft.1.mismatch! readings.welded welds.inspected",
	"steering-checked":   "steering.ripple pickup.front.left.caster pickup.front.caster",
	"measure-shaft":      "line.rear.joint.1.max line.rear.shaft.1.mismatch",
	"slip-length":        "line.rear.travel.slip.bottom line.rear.travel.slip.pull",
	"carrier-length":     "line.rear.travel.slip.bottom line.rear.travel.slip.pull",
	"half-shaft-lengths": "line.rear.half_shaft.left.in",
	"order-shaft":        "line.rear.shaft.1.whirl line.rear.shaft.1.torque line.rear.joint.1.torque",
	"first-start":        "mounts.shake.idle mounts.shake.cruise torque_link.stay.load roll_stop.front.load roll_stop.front.play",
	"on-stands":          "line.rear.joint.1.max! line.rear.shaft.1.mismatch!",
	"welds-carry":        "welds.finished",
	"all-marked":         "fasteners.marked",
	"first-drive":        "line.rear.joint.1.max! line.rear.shaft.1.mismatch! line.rear.residual readings.welded welds.inspected fasteners.marked",
	"after-50-bolts":     "fasteners.recheck.first",
	"after-500-bolts":    "fasteners.recheck.last",
	"after-500-angles":   "line.rear.joint.1.max line.rear.shaft.1.mismatch drift.frame",
}

// finishes are what every finish weld waits for besides.
const finishes = "line.rear.pinion.read! line.rear.joint.1.min! line.rear.joint.1.max! line.rear.shaft.1.mismatch! line.rear.equivalent! bracket.rear.bending adapter.rear.edge torque_link.stay.load torque_link.stay.room torque_link.stay.moving roll_stop.front.load roll_stop.front.play roll_stop.front.room roll_stop.front.moving"

// Every step of the built-in list is held by what it waits for, one thing after the
// other, and by nothing that has no place in the table here.
func TestStepsAreHeldByWhatTheyWaitFor(t *testing.T) {
	for _, id := range joblist.IDs() {
		step, _ := joblist.Find(id)
		text := "[[job]]\nid = \"" + id + "\"\nfrom = \"" + id + "\"\n"
		want := strings.Fields(waits[id])
		if step.Finish {
			want = append(want, strings.Fields(finishes)...)
		}
		for _, what := range want {
			what, proved := strings.CutSuffix(what, "!")
			wrong := finding.Finding{ID: what, Title: what, Status: finding.Over, Basis: finding.Proved}
			if proved { // all is well with it, but not by readings after tacking
				wrong.Status, wrong.Basis = finding.OK, finding.Read
			}
			if strings.HasPrefix(what, "room.") || strings.HasPrefix(what, "brackets.") { // all that share that name
				wrong.ID, wrong.Group = "clearance.thing", what
			}
			findings, facts := []finding.Finding{wrong}, []finding.Fact(nil)
			if isFact(what) {
				findings, facts = nil, []finding.Fact{{ID: what, Title: what, Status: finding.NotKnown}}
			}
			r, b := of(t, text, findings, facts...)
			assert.Empty(t, r.NoSuch(what), id)
			require.Len(t, b.Jobs, 1, id)
			held := false
			for _, h := range r.Jobs[0].Holds {
				held = held || h.Holds() && (h.ID == wrong.ID || what == finding.EngineOut)
			}
			assert.True(t, held, "%s waits for %s", id, what)
		}
		_, b := of(t, text, nil)
		for _, pattern := range b.Jobs[0].Hold {
			assert.True(t, inTable(pattern, want), "%s: nothing here tries %s", id, pattern)
		}
	}
	for id := range waits {
		_, ok := joblist.Find(id)
		assert.True(t, ok, id)
	}
}

func isFact(id string) bool {
	for _, front := range []string{"welds.", "fasteners.", "readings.", finding.EngineOut} {
		if strings.HasPrefix(id, front) {
			return true
		}
	}
	return false
}

// inTable reports whether one of those is what a pattern names, as proved as it asks.
func inTable(pattern string, those []string) bool {
	proved := strings.HasSuffix(strings.TrimSuffix(pattern, "?"), "@proved")
	for _, what := range those {
		id, asked := strings.CutSuffix(what, "!")
		if proved == asked && (names(pattern, id) || strings.TrimSuffix(pattern, "?") == id) {
			return true
		}
	}
	return false
}
