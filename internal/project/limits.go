package project

import (
	"reflect"

	"fitup/internal/project/quantity"
)

// Rule is one limit in force: its value, where it comes from and whether this
// build changed it.
type Rule struct {
	Key     string
	Kind    quantity.Kind
	Value   float64 // internal unit of Kind
	Source  string
	Changed bool
	About   string
	Part    bool // a part of something: above 0 and at most 1
}

const (
	practice   = "common practice, no source"
	ae7        = "SAE AE-7 as usually quoted, from memory: rule of thumb"
	speedTable = "driveline service literature, from memory: rule of thumb"
)

// Defaults returns the limits that hold when a file says nothing else. Adding a
// limit is adding a row here.
func Defaults() []Rule { //nolint:funlen // a table: one row a limit
	deg := func(d float64) float64 { v, _ := quantity.Degrees(d).Get(); return v }
	return append([]Rule{
		{Key: "joint_min", Kind: quantity.Angle, Value: deg(0.5), Source: practice,
			About: "smallest working angle of a universal joint: its needle bearings must roll"},
		{Key: "joint_max", Kind: quantity.Angle, Value: deg(3), Source: practice,
			About: "largest working angle of a universal joint for a quiet drive"},
		{Key: "mismatch", Kind: quantity.Angle, Value: deg(1), Source: practice,
			About: "largest difference between the two joint angles of one shaft"},
		{Key: "equivalent", Kind: quantity.Angle, Value: deg(3), Source: "driveline service literature, from memory: rule of thumb",
			About: "largest angle of the one joint that runs as unevenly as the whole line, where its speed is not known; a known speed takes it from residual"},
		{Key: "front_joint", Kind: quantity.Angle, Value: deg(1), Source: "common practice says close to zero; the figure is fitup's",
			About: "largest working angle of the joint ahead of a carrier bearing"},
		{Key: "even_joint", Kind: quantity.Angle, Value: deg(10), Source: "set by fitup, a rule of thumb; the joint maker's figure wins",
			About: "largest working angle of a double Cardan or constant-velocity joint, at ride height"},
		{Key: "lone_joint", Kind: quantity.Angle, Value: deg(2), Source: practice + ": the pinion looks along the shaft, a degree or two low for its axle's wind-up",
			About: "largest working angle of the one universal joint of a shaft whose other joint runs evenly, as a double Cardan joint does"},
		{Key: "joint_at_speed", Kind: quantity.Angle, Value: 0, Source: speedTable,
			About: "largest working angle of a universal joint, or of each half of a double Cardan joint, at the line's largest speed; 0 takes it from the table by speed"},
		{Key: "residual", Kind: quantity.AngularAcceleration, Value: 400, Source: ae7,
			About: "largest torsional acceleration that a line passes on, at its largest speed; 300 for a quiet car"},
		{Key: "inertia", Kind: quantity.AngularAcceleration, Value: 1000, Source: ae7,
			About: "largest torsional acceleration of a shaft between two joints, drive and coast"},
		{Key: "whirl_fraction", Kind: quantity.Number, Value: 0.7, Source: "shaft makers print 0.65 to 0.75; from memory",
			About: "part of its whirling speed that a shaft may be run at", Part: true},
		{Key: "tube_use", Kind: quantity.Number, Value: 0.75, Source: "set by fitup, screening: a quarter is left for shock, welds and fatigue",
			About: "part of its yield strength in shear that a shaft's tube may be loaded to by the largest torque", Part: true},
		{Key: "joint_travel", Kind: quantity.Angle, Value: deg(15), Source: "set by fitup, a rule of thumb; the joint maker's figure wins",
			About: "largest angle of a universal joint anywhere between bump and droop"},
		{Key: "even_joint_travel", Kind: quantity.Angle, Value: deg(20), Source: "set by fitup, a rule of thumb; the joint maker's figure wins",
			About: "largest angle of a double Cardan or constant-velocity joint anywhere between bump and droop"},
		{Key: "slip_room", Kind: quantity.Length, Value: 10, Source: practice,
			About: "least room left at either end of a slip joint between bump and droop"},
		{Key: "strap_slack", Kind: quantity.Length, Value: 25, Source: practice,
			About: "least that a limiting strap is longer than its ends are apart at ride height"},
		{Key: "strap_even", Kind: quantity.Length, Value: 5, Source: "set by fitup, a rule of thumb",
			About: "most that one strap of an axle comes taut before the other, in travel of the axle"},
		{Key: "plan_gap", Kind: quantity.Angle, Value: deg(0.5), Source: "set by fitup, a rule of thumb",
			About: "largest difference between a slope read and the slope planned"},
		{Key: "plan_moved", Kind: quantity.Angle, Value: deg(0.1), Source: "set by fitup, a rule of thumb",
			About: "how far a planned angle may move before a job ticked on it is to be proved again"},
		{Key: "plan_moved_length", Kind: quantity.Length, Value: 1, Source: "set by fitup, a rule of thumb",
			About: "the same for a planned length"},
		{Key: "weld_drift", Kind: quantity.Angle, Value: deg(0.3), Source: "set by fitup, a rule of thumb",
			About: "largest change of an angle from before welding to after it"},
		{Key: "weld_drift_length", Kind: quantity.Length, Value: 2, Source: "set by fitup, a rule of thumb",
			About: "largest change of a length from before welding to after it"},
		{Key: "gap", Kind: quantity.Length, Value: 12, Source: practice,
			About: "least room between powertrain and vehicle as built, where a part gives none of its own"},
		{Key: "gap_rocked", Kind: quantity.Length, Value: 5, Source: "set by fitup, a rule of thumb",
			About: "least room left with the powertrain sagged on its mounts and rocked by full torque either way"},
		{Key: "gap_moving", Kind: quantity.Length, Value: 12, Source: practice,
			About: "least room left to shafts and axles between bump and droop"},
		{Key: "gap_out", Kind: quantity.Length, Value: 3, Source: practice,
			About: "least room to what a crossmember passes as it is taken out"},
		{Key: "heat_gap", Kind: quantity.Length, Value: 25, Source: practice + "; behind a shield less will do, beside a fuel line more is asked",
			About: "least room between a pipe of the exhaust and anything else as built, where the pipe gives none of its own"},
		{Key: "sag", Kind: quantity.Length, Value: 8, Source: "set by fitup, a rule of thumb; the mount maker's figure wins",
			About: "most that any mount sinks under the powertrain's weight"},
		{Key: "rock", Kind: quantity.Angle, Value: deg(5), Source: "set by fitup, a rule of thumb",
			About: "largest angle that full torque in the lowest gear and range rocks the powertrain on its mounts"},
		{Key: "stop_play", Kind: quantity.Length, Value: 3, Source: "set by fitup, a rule of thumb; the maker's figure wins",
			About: "least free play of a roll stop with the powertrain at rest, so that it shakes without touching"},
		{Key: "isolation", Kind: quantity.Number, Value: 0.5, Source: "set by fitup, a rule of thumb; below 1 a mount isolates at all",
			About: "largest part of the engine's shaking, at idle and at cruise, that the mounts may pass to the frame"},
		{Key: "ride_height", Kind: quantity.Length, Value: 20, Source: "set by fitup, a rule of thumb",
			About: "largest change of ride height from the old powertrain to the new one"},
		{Key: "screening_use", Kind: quantity.Number, Value: 0.5, Source: "set by fitup, screening: half is left for fatigue, impact and workmanship",
			About: "largest part of its strength that a leg, its weld and its bolts may use in any load case", Part: true},
		{Key: "built_place", Kind: quantity.Length, Value: 1, Source: "set by fitup, a rule of thumb",
			About: "largest distance of a finished mount from where it is wanted"},
		{Key: "built_lean", Kind: quantity.Angle, Value: deg(0.5), Source: "set by fitup, a rule of thumb",
			About: "largest angle between the pad of a finished mount and the one that is wanted"},
		{Key: "survey_misfit", Kind: quantity.Number, Value: 3.29, Source: "Baarda's test: 1 in 1,000 of sound measurements is accused (normal distribution)",
			About: "how many of its own standard uncertainties a measurement of the survey may be from what the others say"},
		{Key: "survey_hidden", Kind: quantity.Length, Value: 10, Source: "set by fitup, a rule of thumb",
			About: "largest slip of a tape that the survey may hide: it finds a larger one four times in five"},
		{Key: "frame_square", Kind: quantity.Length, Value: 3, Source: practice,
			About: "how far one rail of the frame may stand ahead of the other"},
		{Key: "frame_diagonals", Kind: quantity.Length, Value: 5, Source: practice,
			About: "largest difference between the two diagonals of the frame"},
		{Key: "frame_offset", Kind: quantity.Length, Value: 3, Source: practice,
			About: "how far the middle between the rails, or of an axle, may lie beside the centre line"},
		{Key: "frame_twist", Kind: quantity.Length, Value: 5, Source: practice,
			About: "how much higher one corner of the frame may lie than the other three say"},
		{Key: "frame_sag", Kind: quantity.Length, Value: 3, Source: practice,
			About: "how much further one rail of the frame may hang below the line of its ends than the other does there"},
		{Key: "frame_width", Kind: quantity.Length, Value: 2, Source: "set by fitup, a rule of thumb",
			About: "how far the width over the rails may be from the one wanted there"},
		{Key: "frame_wheelbase", Kind: quantity.Length, Value: 5, Source: practice,
			About: "largest difference of the wheelbase left and right"},
		{Key: "steering_joint", Kind: quantity.Angle, Value: deg(30), Source: practice + "; the joint maker's figure wins",
			About: "largest angle of a joint of the steering shaft, where the joint has no max_angle of its own"},
		{Key: "steering_ripple", Kind: quantity.Number, Value: 5, Source: "set by fitup, a rule of thumb",
			About: "how many percent faster the steering may turn than the wheel anywhere in the turn"},
		{Key: "steering_phase", Kind: quantity.Number, Value: 1, Source: "set by fitup, a rule of thumb",
			About: "how many percent less ripple other yoke marks of the steering shaft would leave"},
		{Key: "steering_bearing", Kind: quantity.Length, Value: 2, Source: "set by fitup, a rule of thumb",
			About: "how far the centre of a support bearing may stand off the axis of its shaft"},
		{Key: "axle_square", Kind: quantity.Angle, Value: deg(0.25), Source: practice,
			About: "largest angle of an axle to the square of the centre line; of a rear axle it is the thrust angle"},
		{Key: "axle_toe", Kind: quantity.Angle, Value: deg(0.25), Source: practice,
			About: "largest toe of the two wheels of a solid axle together, in or out"},
		{Key: "rail_use", Kind: quantity.Number, Value: 0.5, Source: "set by fitup, screening: half is left for fatigue, holes, welds and workmanship",
			About: "largest part of its yield strength that a frame rail may use, bent over a bump or twisted by one wheel up", Part: true},
		{Key: "rail_step", Kind: quantity.Number, Value: 2, Source: "set by fitup, a rule of thumb: frames crack where a stiff piece ends all at once",
			About: "how many times stiffer in bending a rail may be on one side of a place than on the other"},
		{Key: "subframe_square", Kind: quantity.Angle, Value: deg(0.25), Source: practice,
			About: "largest angle of a front subframe to the square of the centre line before it is welded"},
		{Key: "subframe_place", Kind: quantity.Length, Value: 3, Source: practice,
			About: "how far a subframe may be from its place along the vehicle, across it and in height"},
		{Key: "subframe_level", Kind: quantity.Angle, Value: deg(0.25), Source: practice,
			About: "how far a subframe may lean to one side, or from its rake"},
		{Key: "subframe_corner", Kind: quantity.Length, Value: 3, Source: practice,
			About: "how far a corner of a subframe may be from where it is to be"},
	}, pickupRules()...)
}

// DefaultLoads returns the load cases that the mounts are held against when a
// file says nothing else: factors of the weight.
func DefaultLoads() []Rule {
	return []Rule{
		{Key: "braking", Kind: quantity.Number, Value: 1, Source: practice,
			About: "braking, times the weight"},
		{Key: "cornering", Kind: quantity.Number, Value: 1, Source: practice,
			About: "cornering either way, times the weight"},
		{Key: "bump", Kind: quantity.Number, Value: 3, Source: practice,
			About: "a bump that makes everything weigh this many times its weight"},
		{Key: "rebound", Kind: quantity.Number, Value: 0.5, Source: "set by fitup, a rule of thumb",
			About: "the frame dropping away, so that the powertrain pulls up on its mounts with this many times its weight; 0 is free fall"},
		{Key: "overrun", Kind: quantity.Number, Value: 0.5, Source: "set by fitup, a rule of thumb: drag of the engine and the jerk as it sets in",
			About: "part of the full torque that turns the powertrain the other way in every gear, on overrun", Part: true},
		{Key: "wheel_up", Kind: quantity.Length, Value: 150, Source: "set by fitup, a rule of thumb",
			About: "how far one wheel is lifted that twists the frame"},
		{Key: "friction", Kind: quantity.Number, Value: 0, Source: "not given: gear torque alone counts",
			About: "of tyre on ground, for the torque at which the wheels slip; 0 leaves that out"},
	}
}

// limitType is the type of the quantity that a limit is.
func limitType(key string, rules []Rule) (reflect.Type, bool) {
	for _, r := range rules {
		if r.Key != key {
			continue
		}
		switch r.Kind {
		case quantity.Angle:
			return reflect.TypeFor[quantity.AngleQ](), true
		case quantity.Length:
			return reflect.TypeFor[quantity.LengthQ](), true
		case quantity.AngularAcceleration:
			return reflect.TypeFor[quantity.AngularAccelerationQ](), true
		case quantity.Number:
			return reflect.TypeFor[quantity.NumberQ](), true
		case quantity.Stress:
			return reflect.TypeFor[quantity.StressQ](), true
		}
	}
	return nil, false
}

// Limit returns the rule in force for key. A key that is no limit gives a rule
// without a key.
func (b *Build) Limit(key string) Rule {
	if r, ok := b.Limits[key]; ok {
		return r
	}
	return ruleNamed(key, Defaults())
}

// Load returns the load factor in force for key, as Limit does.
func (b *Build) Load(key string) Rule {
	if r, ok := b.Loads[key]; ok {
		return r
	}
	return ruleNamed(key, DefaultLoads())
}

func ruleNamed(key string, rules []Rule) Rule {
	for _, r := range rules {
		if r.Key == key {
			return r
		}
	}
	return Rule{}
}
