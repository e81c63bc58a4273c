package project

import (
	"slices"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// Subframe is a front subframe or crossmember set that hangs in the frame until it is
// welded or bolted for good: its own points as measured once on the bench, how the
// gauge stands on it, and where it is to be. What was measured between its points and
// those of the vehicle stands in [[measure]].
type Subframe struct {
	Name   string          `toml:"*"`
	Wheels []string        `toml:"wheels" doc:"its wheel centres or hubs, left and right, such as point.sub_wl; both in its own list of points" offers:"points"`
	Slope  quantity.SlopeQ `toml:"slope" doc:"gauge along it where it hangs now, on what was level on the bench: 0.3 deg down to the rear; the gauge's own ± where it has none" how:"Gauge along it, on a face that lay level on the bench." from:"level"`
	Across quantity.AngleQ `toml:"across" doc:"gauge across it where it hangs now, with lower saying which side is lower; the gauge's own ± where it has none" min:"0" how:"Gauge across it, on a face that lay level on the bench." from:"level"`
	Lower  End             `toml:"lower" doc:"which side is lower as across was read: left or right" how:"Look which side is lower, not at the gauge."`
	Wanted SubframeWanted  `toml:"wanted" doc:"where it is to hang: square to the centre line, track centred, level across"`
	Pickup string          `toml:"pickup" doc:"the pick-ups of the wheels that it carries, for what its mounts carry; those of its own name when left out" offers:"pickups"`
	Points []SubframePoint `toml:"point" doc:"a point of the subframe as it was measured on the bench"`
	Parts  []SubframePart  `toml:"part" doc:"a piece of it, for the room to the powertrain; bench axes"`
	Note   string          `toml:"note" doc:"anything worth knowing" own:"yes"`
}

// SubframeWanted is where a subframe is to hang.
type SubframeWanted struct {
	Station quantity.LengthQ `toml:"station" doc:"of the middle between its wheel centres, or of its points where it has none; the axle line of the vehicle when left out" how:"Where the axle line is to be; from the drawing or the other axle by the wheelbase." from:"the vehicle's zero, to the rear"`
	Height  quantity.LengthQ `toml:"height" doc:"of the same; vehicle.axle_height when left out" how:"Where the wheel centres are to be at ride height." from:"the vehicle's zero, up"`
	Rake    quantity.SlopeQ  `toml:"rake" doc:"how it is to lean: 1 deg up to the rear; level when left out" how:"From its drawing, or as it stood under the vehicle it is from." from:"as it lay on the bench"`
}

// SubframePoint is a point of a subframe in its own axes, as they were on the bench.
type SubframePoint struct {
	At     string `toml:"at" doc:"the point as tape and level name it where it hangs: point.sub_lf" need:"yes" offers:"points" own:"yes"`
	Bench  Point  `toml:"bench" doc:"where it is in bench axes: to the rear, to the right, up" need:"yes"`
	Corner bool   `toml:"corner" doc:"whether the subframe is fixed to the frame there; where none is, all points count" how:"Look: brackets or mounts go on there."`
}

// SubframePart is a piece of a subframe: a box by from and to, a rod by those and a
// radius, a point by at, a ball by that and a radius.
type SubframePart struct {
	Name   string           `toml:"name" doc:"what the piece is" need:"yes"`
	From   Point            `toml:"from" doc:"one corner of the box around it, or one end of a rod, bench axes"`
	To     Point            `toml:"to" doc:"the opposite corner, or the other end, bench axes"`
	At     Point            `toml:"at" doc:"a point of it, or the centre of a ball, bench axes"`
	Radius quantity.LengthQ `toml:"radius" doc:"of the rod or the ball" min:"0" how:"Half the largest diameter, by caliper or string round it." from:"its own centre line"`
	Gap    quantity.LengthQ `toml:"gap" doc:"least room to the powertrain; limits.gap when left out" min:"0" how:"What that piece needs: more where hands, tools or heat are." from:"the nearest piece of the powertrain"`
}

// Hangs returns the subframe that a point belongs to, as an index of Subframes: its
// place is where that hangs, and no fixed point of the vehicle.
func (b *Build) Hangs(path string) (subframe int, ok bool) {
	if path == "" {
		return 0, false
	}
	for i, s := range b.Subframes {
		if slices.ContainsFunc(s.Points, func(p SubframePoint) bool { return p.At == path }) {
			return i, true
		}
	}
	return 0, false
}

// checkSubframes looks at the points of subframes: that there are such, each in one
// list only, and that the survey does not take them for the frame's.
func (b *binder) checkSubframes(build *Build, root *tomltext.Node) {
	list := root.Child("subframe")
	if list == nil {
		return
	}
	taken := map[string]string{}
	for _, s := range build.Subframes {
		n := list.Child(s.Name)
		if points := n.Child("point"); points != nil {
			for i, c := range points.Children {
				at := c.Child("at")
				if at == nil || i >= len(s.Points) || s.Points[i].At == "" {
					continue
				}
				path := s.Points[i].At
				b.checkPointNamed(build, at, path)
				switch is := taken[path]; {
				case is != "":
					b.fault(at.Pos, at.Path, "%s is a point of subframe.%s already; each point stands in one list, once", Printable(path), Printable(is))
				case build.Survey.names(path):
					b.fault(at.Pos, at.Path, "the survey has %s among the points of the frame; a point of a subframe hangs loose, so give it a name of its own", Printable(path))
				}
				taken[path] = s.Name
			}
		}
		b.checkWheels(s, n)
		if c := n.Child("pickup"); c != nil && s.Pickup != "" && build.Pickup(s.Pickup) == nil {
			b.fault(c.Pos, c.Path, "there are no pick-ups called %q; want the name of a table [pickup.NAME]", Printable(s.Pickup))
		}
	}
}

func (b *binder) checkWheels(s Subframe, n *tomltext.Node) {
	c := n.Child("wheels")
	if c == nil {
		return
	}
	if len(s.Wheels) != 2 || s.Wheels[0] == s.Wheels[1] {
		b.fault(c.Pos, c.Path, "there are two wheel centres, left and right; want wheels = [\"point.A\", \"point.B\"]")
		return
	}
	for i, path := range s.Wheels {
		if !slices.ContainsFunc(s.Points, func(p SubframePoint) bool { return p.At == path }) && i < len(c.Children) {
			b.fault(c.Children[i].Pos, c.Children[i].Path, "%s is no point of this subframe; add [[%s.point]] with at = %q and where it is on the bench", Printable(path), Printable(n.Path), Printable(path))
		}
	}
}

// names reports whether the survey has a point in one of its lists.
func (s Survey) names(path string) bool {
	for _, of := range [][]string{s.Points, s.Left, s.Right, s.FrontAxle, s.RearAxle} {
		if slices.Contains(of, path) {
			return true
		}
	}
	return false
}
