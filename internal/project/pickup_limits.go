package project

import "fitup/internal/project/quantity"

// pickupRules are the limits of what pick-ups are judged by.
func pickupRules() []Rule {
	angle := func(d float64) float64 { v, _ := quantity.Degrees(d).Get(); return v }
	const ours = "set by fitup, a rule of thumb"
	length, turn := quantity.Length, quantity.Angle
	return []Rule{
		{Key: "pickup_sides", Kind: length, Value: 3, Source: practice, About: "how far a pick-up of one side may be from the other side's, mirrored about the centre line: wheel centres, upper ends of springs, brackets of rods"},
		{Key: "caster", Kind: turn, Value: angle(0.5), Source: practice, About: "how far the caster may be from the one wanted, and that of one side from the other's"},
		{Key: "spring_lean", Kind: turn, Value: angle(30), Source: practice + "; a spring loses with the square of the cosine", About: "largest angle at ride height between a spring and the way its lower end moves"},
		{Key: "spring_ride", Kind: length, Value: 10, Source: ours, About: "how far from the ride height wanted a wheel may settle on its spring"},
		{Key: "spring_bind", Kind: length, Value: 6, Source: practice, About: "least that the coil of a spring still has to go at full bump before its turns touch"},
		{Key: "spring_seated", Kind: length, Value: 5, Source: ours, About: "least that a spring is still pressed by at full droop, so that it stays on its seats"},
		{Key: "damper_room", Kind: length, Value: 5, Source: ours, About: "least that a damper still has to go at full bump, and at full droop"},
		{Key: "stop_room", Kind: length, Value: 10, Source: ours, About: "least wheel travel between where the bump stop touches and where coil or damper would be home"},
		{Key: "tower_place", Kind: length, Value: 3, Source: practice, About: "how far the top of a tower may stand from where it is to be"},
		{Key: "rod_give", Kind: length, Value: 1, Source: ours + "; the bush maker's figure wins", About: "how much longer or shorter the travel may make a rod that has no give of its own"},
		{Key: "rod_joint", Kind: turn, Value: angle(15), Source: practice + "; the joint maker's figure wins", About: "how far the travel may turn a joint or bush of a rod that has no max_angle of its own"},
		{Key: "rod_sides", Kind: length, Value: 2, Source: practice, About: "largest difference of the length of a rod left and right"},
		{Key: "bar_square", Kind: turn, Value: angle(1), Source: practice, About: "how far the axis of an anti-roll bar may be from straight across and level"},
		{Key: "bar_sides", Kind: length, Value: 3, Source: practice, About: "largest difference left and right of an anti-roll bar's arms, and of its drop links"},
		{Key: "bar_twist", Kind: turn, Value: angle(1), Source: ours, About: "largest twist of an anti-roll bar at ride height on level ground"},
		{Key: "bar_shear", Kind: quantity.Stress, Value: 700, Source: "DIN 2091, torsion bars not preset, from memory; the bar maker's figure wins", About: "largest shear at the surface of an anti-roll bar with one wheel at full bump and the other at full droop"},
		{Key: "bar_link", Kind: turn, Value: angle(35), Source: practice, About: "least angle of a drop link to the plane of its arm and the bar's axis over the travel, so that it cannot fold over"},
	}
}
