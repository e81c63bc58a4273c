package project

import (
	"math"
	"slices"
	"strings"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// TorqueLink is a torque link or strut: it holds the powertrain beside its mounts, by
// pull and push along the line between its two joints.
type TorqueLink struct {
	Name     string           `toml:"*"`
	On       Point            `toml:"on" doc:"its joint on the powertrain, own frame" need:"yes"`
	To       Point            `toml:"to" doc:"its joint on frame or body" need:"yes"`
	Rate     quantity.RateQ   `toml:"rate" doc:"spring rate along its line, both bushes together" min:"0" how:"A known pull along it and a dial gauge: load over travel; or the maker's figure." from:"the unloaded link" need:"unless rate_on or rate_to"`
	RateOn   quantity.RateQ   `toml:"rate_on" doc:"of its bush on the powertrain alone, where the rate of the whole is not known" min:"0" how:"The maker's figure for the bush, square to its bolt." from:"the unloaded bush"`
	RateTo   quantity.RateQ   `toml:"rate_to" doc:"of its other bush alone, where the rate of the whole is not known" min:"0" how:"The maker's figure for the bush, square to its bolt." from:"the unloaded bush"`
	Dynamic  quantity.NumberQ `toml:"dynamic" doc:"how much stiffer its bushes are in vibration than under a steady load; 1.2 to 2 when left out" min:"0" how:"The maker's figure: rate in vibration over static rate." from:"1, which is as stiff as under a steady load"`
	Loss     quantity.NumberQ `toml:"loss" doc:"loss factor of its bushes, twice their damping ratio; 0.1 when left out" min:"0" how:"The maker's figure; natural rubber 0.05 to 0.15, filled more." from:"0, which is without damping"`
	Diameter quantity.LengthQ `toml:"diameter" doc:"across its rod, for the room round it" min:"0" how:"Caliper where the rod is thickest." from:"one side of the rod"`
	Eye      quantity.LengthQ `toml:"eye" doc:"across its eyes with their bushes, for the room round them; the rod's diameter when left out" min:"0" how:"Caliper across the larger eye." from:"one side of the eye"`
	Rating   quantity.ForceQ  `toml:"rating" doc:"the most it may carry along its line, push or pull: the weakest of rod, bushes and bolts" min:"0" how:"The maker's figure; of one of your own what its weakest part is good for." from:"no load"`
	Fitted   Fitted           `toml:"fitted" doc:"when its bolts are drawn tight: loaded, with the powertrain's weight on the mounts, or as built, with nothing on them; loaded when left out" how:"Loaded: drawn tight last, standing on its wheels. As built: drawn tight before the weight comes down, and then it carries part of it."`
}

// RollStop is a buffer that the powertrain meets after some free play.
type RollStop struct {
	Name     string           `toml:"*"`
	At       Point            `toml:"at" doc:"where it is met on the powertrain, own frame" need:"yes"`
	Mount    string           `toml:"mount" doc:"the mount that it is a part of, of a snubber or a rebound washer: its bracket carries the force then; a bracket of its own when left out" offers:"mounts"`
	Axis     Point            `toml:"axis" doc:"which way play counts, as a direction in vehicle axes; up when left out"`
	Play     quantity.LengthQ `toml:"play" doc:"how far the powertrain goes along the axis until it is met; it is met on the other side only when left out" min:"0" how:"Feeler gauge or a ball of clay between buffer and bracket." from:"where the powertrain stands, see fitted" need:"unless back"`
	Back     quantity.LengthQ `toml:"back" doc:"how far it goes against the axis until it is met; it is met along the axis only when left out" min:"0" how:"Feeler gauge or a ball of clay between buffer and bracket." from:"where the powertrain stands, see fitted" need:"unless play"`
	Rate     quantity.RateQ   `toml:"rate" doc:"spring rate once it is met" min:"0" how:"A known load on the buffer and a dial gauge; or the maker's figure." from:"the unloaded buffer" need:"yes"`
	Dynamic  quantity.NumberQ `toml:"dynamic" doc:"how much stiffer it is in vibration than under a steady load; 1.2 to 2 when left out" min:"0" how:"The maker's figure: rate in vibration over static rate." from:"1, which is as stiff as under a steady load"`
	Loss     quantity.NumberQ `toml:"loss" doc:"loss factor of its rubber, twice its damping ratio; 0.1 when left out" min:"0" how:"The maker's figure; natural rubber 0.05 to 0.15, filled more." from:"0, which is without damping"`
	Diameter quantity.LengthQ `toml:"diameter" doc:"across its buffers, for the room round them" min:"0" how:"Caliper across the rubber or its cup, whichever is wider." from:"one side of it"`
	Height   quantity.LengthQ `toml:"height" doc:"of a buffer, along the axis, for the room round it" min:"0" how:"From the face that is met to what the buffer stands on." from:"the face that is met"`
	Rating   quantity.ForceQ  `toml:"rating" doc:"the most that buffer and bracket may carry" min:"0" how:"The maker's figure; of one of your own what its weakest part is good for." from:"no load"`
	Fitted   Fitted           `toml:"fitted" doc:"when its play is as given: loaded, with the powertrain's weight on the mounts, or as built, with nothing on them; loaded when left out" how:"Loaded: measured standing on its wheels. As built: taken from the plan, before the weight has come down."`
}

// Fitted is when a link is drawn tight or a stop's play measured, as the file spells it.
type Fitted string

// The words the file uses.
const (
	FittedLoaded Fitted = "loaded"
	FittedBuilt  Fitted = "as built"
)

// Words lists them.
func (Fitted) Words() []string { return []string{string(FittedLoaded), string(FittedBuilt)} }

// Stiffness is the rate along the link: as given, or its two bushes one behind the other,
// 1/(1/a + 1/b); else the key that is missing.
func (l *TorqueLink) Stiffness() (rate float64, lacks string) {
	a, b := l.RateOn, l.RateTo
	switch {
	case l.Rate.Known():
		return l.Rate.V(), ""
	case a.Known() && b.Known():
		return 1 / (1/a.V() + 1/b.V()), ""
	case a.Known():
		return 0, "rate_to"
	case b.Known():
		return 0, "rate_on"
	}
	return 0, "rate"
}

// Way is which way a stop's play counts, of length 1.
func (s *RollStop) Way() r3.Vec {
	if !s.Axis.Known {
		return r3.Vec{Z: 1}
	}
	return r3.Unit(s.Axis.At)
}

// Sides are its free play along and against its axis, mm; +Inf on a side without one.
func (s *RollStop) Sides() (along, against float64) {
	along, against = math.Inf(1), math.Inf(1)
	if v, ok := s.Play.Get(); ok {
		along = v
	}
	if v, ok := s.Back.Get(); ok {
		against = v
	}
	return along, against
}

// checkHeld finds links and stops that cannot be.
func (b *binder) checkHeld(build *Build, root *tomltext.Node) {
	above := func(path, who string, values map[string]quantity.Gettable) {
		for _, key := range []string{"rate", "rate_on", "rate_to", "rating"} {
			if q := values[key]; q != nil {
				if v, ok := q.Get(); ok && v == 0 {
					b.fault(at(root, path+"."+key), path+"."+key, "%s of %s has to be more than 0", key, who)
				}
			}
		}
	}
	for i := range build.TorqueLinks {
		l := &build.TorqueLinks[i]
		path, who := "torque_link."+l.Name, "the "+strings.ReplaceAll(l.Name, "_", " ")+" torque link"
		above(path, who, map[string]quantity.Gettable{"rate": &l.Rate, "rate_on": &l.RateOn, "rate_to": &l.RateTo, "rating": &l.Rating})
		b.checkVibrates(path, who, l.Dynamic, l.Loss, root)
	}
	for i := range build.RollStops {
		s := &build.RollStops[i]
		path, who := "roll_stop."+s.Name, "the "+strings.ReplaceAll(s.Name, "_", " ")+" roll stop"
		above(path, who, map[string]quantity.Gettable{"rate": &s.Rate, "rating": &s.Rating})
		if s.Mount != "" && !slices.Contains(build.CarryingNames(), s.Mount) {
			b.fault(at(root, path+".mount"), path+".mount", "%s is a part of the mount %q, which carries nothing of the powertrain; want one of %s%s", who, Printable(s.Mount), strings.Join(build.CarryingNames(), ", "), meant(s.Mount, build.CarryingNames()))
		}
		if s.Axis.Known && r3.Norm(s.Axis.At) < 1e-6 {
			b.fault(at(root, path+".axis"), path+".axis", "%s has an axis without a direction; want three numbers that are not all 0", who)
		}
		b.checkVibrates(path, who, s.Dynamic, s.Loss, root)
	}
}
