package finding

import (
	"strings"

	"fitup/internal/project"
)

// names are the shapes of everything that a job can wait for: findings first,
// then facts. A star stands for a name or a number. A test holds them against
// what builds have; a new finding wants its row here, or a slip in a hold that
// ends in "?" would pass for a finding that this build has not.
func names() []string {
	return []string{
		"line.*.joint.*.min", "line.*.joint.*.max", "line.*.joint.*.speed", "line.*.joint.*.torque", "line.*.joint.*.structure",
		"line.*.shaft.*.mismatch", "line.*.shaft.*.inertia.drive", "line.*.shaft.*.inertia.coast", "line.*.shaft.*.whirl", "line.*.shaft.*.torque",
		"line.*.shaft.*.read", "line.*.shaft.*.agree", "line.*.shaft.*.agree.above", "line.*.powertrain.read", "line.*.powertrain.agree", "line.*.powertrain.agree.above",
		"line.*.pinion.read", "line.*.pinion.agree", "line.*.pinion.agree.above", "line.*.first.read", "line.*.first.agree", "line.*.first.agree.above", "powertrain.across.read", "powertrain.across.agree",
		"line.*.residual", "line.*.equivalent", "line.*.half_shafts", "line.*.shaft.*.shear", "line.*.travel.joint.*.max", "line.*.travel.slip.bottom", "line.*.travel.slip.pull",
		"line.*.travel.reach", "line.*.travel.strain", "line.*.half_shaft.*.*",
		"mount.*.lifts", "mount.*.captive", "mount.*.solid", "mounts.sag", "mounts.rock", "mounts.isolation",
		"clearance.*", "clearance.*.rocked", "clearance.*.moving", "axle.*.height", "cuts.*.stock",
		"bracket.*.fits", "bracket.*.pad_plate.*", "bracket.*.rail_plate.*", "bracket.*.bending", "bracket.*.weld", "bracket.*.weld_size", "bracket.*.bolts",
		"bracket.*.welded", "bracket.*.place", "bracket.*.lean", "bracket.*.foot", "match.*.place", "match.*.lean", "match.*.foot",
		"drift.powertrain", "drift.line.*.**", "drift.measure.*",

		"bracket.*", "bracket.*.given", "measure.*", "weld.*.*", "welds.given", "welds.finished", "welds.finished.in", "welds.inspected", "readings.tacked", "readings.welded",
		"fasteners.marked", "fasteners.recheck", "fasteners.recheck.first", "fasteners.recheck.last", EngineOut,
	}
}

// EngineOut is the fact that nothing on the engine-out list is open.
const EngineOut = "engine_out.open"

// MayBe reports whether some build can have what the pattern names.
func MayBe(pattern string) bool {
	pattern = strings.TrimSuffix(pattern, ".planned") // a finding by the plan beside the one by readings
	for _, n := range names() {
		if meet(pattern, n) {
			return true
		}
	}
	return false
}

// meet reports whether two patterns can stand for one id.
func meet(p, q string) bool {
	a, moreP, inP := strings.Cut(p, ".")
	b, moreQ, inQ := strings.Cut(q, ".")
	switch {
	case a == "**" && !inP || b == "**" && !inQ:
		return a != "" && b != ""
	case a != b && a != "*" && b != "*" || inP != inQ:
		return false
	}
	return !inP || meet(moreP, moreQ)
}

// Meant ends a sentence about an id that nothing has with the name that comes
// nearest, if one is near: of the ids that this build has, or else of what a
// build can have.
func Meant(id string, have []string) string {
	near, ok := project.Nearest(id, have)
	if !ok {
		near, ok = project.Nearest(id, names())
	}
	if !ok {
		return ""
	}
	return "; did you mean " + project.Printable(near) + "?"
}

// Matches compares an id with a pattern, part by part: "*" stands for any one
// part of it and "**" at its end for all that follows.
func Matches(pattern, id string) bool {
	if star := strings.IndexByte(pattern, '*'); star < 0 || !strings.HasPrefix(id, pattern[:star]) {
		return pattern == id
	}
	for {
		p, morePattern, inPattern := strings.Cut(pattern, ".")
		part, moreID, inID := strings.Cut(id, ".")
		switch {
		case p == "**" && !inPattern:
			return part != ""
		case p != "*" && p != part:
			return false
		case !inPattern || !inID:
			return inPattern == inID
		}
		pattern, id = morePattern, moreID
	}
}
