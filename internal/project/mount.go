package project

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"fitup/internal/geom/seat"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// ChassisPart is a piece of the vehicle that the powertrain has to keep clear
// of, vehicle axes. Its keys say its shape: from and to a box, with a radius a
// rod, at a point, with a radius a ball, on and facing a flat surface.
type ChassisPart struct {
	Name      string           `toml:"name" doc:"what the piece is: crossmember, steering shaft, bonnet line" need:"yes"`
	From      Point            `toml:"from" doc:"one corner of a box, or one end of a rod"`
	To        Point            `toml:"to" doc:"the opposite corner, or the other end"`
	At        Point            `toml:"at" doc:"a point, or the centre of a ball"`
	Radius    quantity.LengthQ `toml:"radius" doc:"of a rod or a ball" min:"0" how:"Half the diameter, by caliper or string round it." from:"its own centre line"`
	On        Point            `toml:"on" doc:"a point on a flat surface, such as a firewall, a bonnet or a floor"`
	Facing    Facing           `toml:"facing" doc:"which way the flat surface faces, towards the powertrain: up, down, front, rear, left or right" how:"Stand on the surface and look away from it."`
	Normal    Point            `toml:"normal" doc:"the same as a direction, when it faces none of those ways"`
	Opening   []Point          `toml:"opening" doc:"an opening in a flat surface, such as a tunnel in floor or firewall: its lower left corner and its upper right one, in a floor front left and rear right; the surface is a sheet then" how:"Level, plumb line and tape to the two corners of the cut edge."`
	Gap       quantity.LengthQ `toml:"gap" doc:"room wanted to the powertrain as built; limits.gap when left out" min:"0" how:"Decide: what heat, tools and movement want." from:"the part's surface"`
	GapRocked quantity.LengthQ `toml:"gap_rocked" doc:"room wanted with the powertrain sagged and rocked; limits.gap_rocked when left out" min:"0" how:"Decide: what must be left when all moves." from:"the part's surface"`
	GapMoving quantity.LengthQ `toml:"gap_moving" doc:"room wanted to shafts and axles over their travel; limits.gap_moving when left out" min:"0" how:"Decide: what must be left to what turns." from:"the part's surface"`
	Carries   []string         `toml:"carries" doc:"lines whose shafts it holds, such as a crossmember with a carrier bearing: its room to them is not asked" offers:"lines"`
	Of        Belongs          `toml:"of" doc:"what it belongs to: steering, spring tower, suspension, subframe or other; by the words of its name when left out. The steps of the job list that look at that wait for the room to it" how:"Look what it moves with or holds."`
}

// Mount is one mount of the powertrain: its isolator. One that is called
// left_front, right_front or rear stands at the pad of that name.
type Mount struct {
	Name       string           `toml:"*"`
	At         Point            `toml:"at" doc:"its pad, powertrain's own frame, with an adapter on the face of its bosses; not for the three pads of [powertrain.pads]" need:"unless corner or carries"`
	Corner     string           `toml:"corner" doc:"the corner of a subframe that it holds to its rail, such as point.sub_lf: then it carries nothing of the powertrain, and its pad is where that corner is" offers:"points" own:"yes"`
	Carries    string           `toml:"carries" doc:"what it holds where that is nothing of the powertrain: transfer case, or a joint with a carrier bearing just ahead of it such as line.rear.joint.2; its pad is in vehicle axes then, given with its bracket" how:"Look what hangs on it." offers:"carriable" own:"yes"`
	FitUpOnly  bool             `toml:"fit_up_only" doc:"true when the powertrain stands on this pad at fit-up only, and on other mounts afterwards" how:"Yes for a pad that is only stood on while it is fitted up."`
	RateUp     quantity.RateQ   `toml:"rate_up" doc:"spring rate up and down; of a solid mount, that of its bracket" min:"0" how:"A known load on it and a dial gauge: load over travel; or the maker's figure." from:"the unloaded mount" in:"rubber"`
	RateAcross quantity.RateQ   `toml:"rate_across" doc:"spring rate from side to side" min:"0" how:"A known load from the side and a dial gauge; or the maker's figure." from:"the unloaded mount" in:"rubber"`
	RateAlong  quantity.RateQ   `toml:"rate_along" doc:"spring rate fore and aft" min:"0" how:"A known load fore and aft and a dial gauge; or the maker's figure." from:"the unloaded mount" in:"rubber"`
	RateAxis   Point            `toml:"rate_axis" doc:"which way rate_up looks, as a direction in vehicle axes, when the mount leans; up when left out" in:"rubber"`
	AlongAxis  Point            `toml:"along_axis" doc:"which way rate_along looks, as a direction square to rate_axis; fore and aft when left out" in:"rubber"`
	Hardness   quantity.NumberQ `toml:"hardness" doc:"of its rubber, IRHD or Shore A, when the rates are not known" min:"0" how:"Shore A gauge on flat rubber, or the figure moulded into it." from:"the gauge's own scale" in:"rubber"`
	Thickness  quantity.LengthQ `toml:"thickness" doc:"of its rubber between the two plates" min:"0" how:"Caliper between the two plates, unloaded." from:"plate to plate" in:"rubber"`
	Diameter   quantity.LengthQ `toml:"diameter" doc:"of round rubber, where it is bonded" min:"0" how:"Caliper over the rubber where it is bonded." from:"edge to edge" in:"rubber"`
	Length     quantity.LengthQ `toml:"length" doc:"of square-cut rubber, where it is bonded" min:"0" how:"Caliper over the rubber where it is bonded." from:"edge to edge" in:"rubber"`
	Width      quantity.LengthQ `toml:"width" doc:"of square-cut rubber, where it is bonded" min:"0" how:"Caliper over the rubber where it is bonded." from:"edge to edge" in:"rubber"`
	Dynamic    quantity.NumberQ `toml:"dynamic" doc:"how much stiffer its rubber is in vibration than under a steady load; 1.2 to 2 when left out" min:"0" how:"The maker's figure: rate in vibration over static rate." from:"1, which is as stiff as under a steady load" in:"rubber"`
	Loss       quantity.NumberQ `toml:"loss" doc:"loss factor of its rubber, twice its damping ratio; 0.1 when left out" min:"0" how:"The maker's figure; natural rubber 0.05 to 0.15, filled or hydraulic more." from:"0, which is without damping" in:"rubber"`
	Holds      Holds            `toml:"holds" doc:"what holds its two halves when the rubber fails: captive, bonded only or solid" how:"Look what is left when the rubber tears: caught in each other, nothing, or no rubber at all."`
	Leg        Leg              `toml:"leg" doc:"its bracket: a straight leg from the pad to a frame rail"`
	Bracket    MountBracket     `toml:"bracket" doc:"its bracket where it is of several members, or of a ready kind"`
	Members    []MountMember    `toml:"member" doc:"a straight piece of its bracket, beside those that the kind begins with"`
	Adapter    MountAdapter     `toml:"adapter" doc:"a flat plate on bosses of the block that carries its pad; the pad's place is given on the face of the bosses, and the plate and its spacers are added to it"`
	Built      BuiltMount       `toml:"built" doc:"what was measured on the finished mount"`

	NoPlace string `toml:"-"` // why the corner that it holds, or its pad on an adapter, has no place, where it has none
}

// OldPowertrain is what comes out of the vehicle.
type OldPowertrain struct {
	Name         string         `toml:"name" doc:"engine and gearbox that come out"`
	Mass         quantity.MassQ `toml:"mass" doc:"engine, gearbox, clutch and fluids" min:"0" how:"Crane scale as it comes out, with its fluids." from:"an empty hook"`
	CentreOfMass Point          `toml:"centre_of_mass" doc:"where it stood, vehicle axes"`
}

// Layout is where the drive leaves the powertrain, as the file spells it.
type Layout string

// Holds is what keeps the halves of a mount together, as the file spells it.
type Holds string

// Facing is the way a flat surface faces, as the file spells it.
type Facing string

// Belongs is what a piece of the vehicle belongs to, as the file spells it.
type Belongs string

// The words the file uses.
const (
	OfSteering   Belongs = "steering"
	OfTower      Belongs = "spring tower"
	OfSuspension Belongs = "suspension"
	OfSubframe   Belongs = "subframe"
	OfOther      Belongs = "other"

	Longitudinal Layout = "longitudinal"
	Transaxle    Layout = "transaxle"

	Captive    Holds = "captive"
	BondedOnly Holds = "bonded only"
	SolidMount Holds = "solid"
)

// Words lists the layouts.
func (Layout) Words() []string { return []string{string(Longitudinal), string(Transaxle)} }

// Words lists what a piece can belong to.
func (Belongs) Words() []string {
	return []string{string(OfSteering), string(OfTower), string(OfSuspension), string(OfSubframe), string(OfOther)}
}

// belongs are words of a name that say what a piece belongs to, those first that say it
// more closely; common names of the trade, no source.
var belongs = []struct {
	of   Belongs
	says []string
}{
	{OfSubframe, []string{"subframe"}},
	{OfSteering, []string{"steering", "column", "rack", "drag link", "tie rod", "track rod", "relay rod", "pitman arm", "drop arm", "idler arm"}},
	{OfTower, []string{"tower", "strut", "spring", "damper", "shock absorber", "coil"}},
	{OfSuspension, []string{"suspension", "tension rod", "radius rod", "radius arm", "lateral rod", "anti roll bar", "sway bar", "wishbone", "control arm", "trailing arm", "lower arm", "upper arm"}},
}

// Belongs is what the piece belongs to: as the file says, or by the words of its name.
func (c *ChassisPart) Belongs() Belongs {
	if c.Of != "" {
		return c.Of
	}
	name := " " + strings.Join(strings.FieldsFunc(strings.ToLower(c.Name), func(r rune) bool { return !unicode.IsLetter(r) }), " ") + " "
	for _, b := range belongs {
		for _, s := range b.says {
			if strings.Contains(name, " "+s+" ") {
				return b.of
			}
		}
	}
	return OfOther
}

// Words lists what can hold a mount.
func (Holds) Words() []string {
	return []string{string(Captive), string(BondedOnly), string(SolidMount)}
}

// Words lists the ways a surface can face.
func (Facing) Words() []string { return []string{"up", "down", "front", "rear", "left", "right"} }

// Vector returns the direction in vehicle axes; false for no word.
func (f Facing) Vector() (r3.Vec, bool) {
	v, ok := map[Facing]r3.Vec{
		"up": {Z: 1}, "down": {Z: -1}, "front": {X: -1}, "rear": {X: 1}, "left": {Y: -1}, "right": {Y: 1},
	}[f]
	return v, ok
}

// Seat returns the layout as geometry knows it: a propshaft where the file
// says nothing.
func (l Layout) Seat() seat.Layout {
	if l == Transaxle {
		return seat.Transaxle
	}
	return seat.Longitudinal
}

// Construction returns what holds the mount as geometry knows it.
func (h Holds) Construction() seat.Construction {
	switch h {
	case Captive:
		return seat.Interlocked
	case BondedOnly:
		return seat.BondedOnly
	case SolidMount:
		return seat.Solid
	}
	return seat.ConstructionUnknown
}

// Begun reports whether the file says anything about the mount's rubber or
// what holds it.
func (m Mount) Begun() bool {
	return m.Rubber() || m.Holds != ""
}

// Rubber reports whether the file says anything about the mount's spring.
func (m Mount) Rubber() bool {
	return m.RateUp.Known() || m.RateAcross.Known() || m.RateAlong.Known() || m.Hardness.Known() ||
		m.Thickness.Known() || m.Diameter.Known() || m.Length.Known() || m.Width.Known()
}

// Axes returns which way rate_up and rate_along look, vehicle axes, of any
// length. An axis that is left out is as near to up, or to fore and aft, as the
// other lets it be; the error says when that leaves it open.
func (m Mount) Axes() (up, along r3.Vec, err error) {
	up, along = r3.Vec{Z: 1}, r3.Vec{X: 1}
	square := func(to, of r3.Vec, give string) (r3.Vec, error) {
		if r3.Norm(of) == 0 {
			return to, errors.New("0, 0, 0 is no direction")
		}
		u := r3.Unit(of)
		if to = r3.Sub(to, r3.Scale(r3.Dot(to, u), u)); r3.Norm(to) < 0.05 || math.IsNaN(to.X) {
			return to, fmt.Errorf("which way the mount's other rates look is left open; give %s too", give)
		}
		return to, nil
	}
	switch {
	case m.RateAxis.Known && m.AlongAxis.Known:
		up, along = m.RateAxis.At, m.AlongAxis.At
	case m.RateAxis.Known:
		up = m.RateAxis.At
		along, err = square(along, up, "along_axis")
	case m.AlongAxis.Known:
		along = m.AlongAxis.At
		up, err = square(up, along, "rate_axis")
	}
	return up, along, err
}

// Isolator returns the mount as springs at a pad, vehicle axes, mm, with rates
// along its own axes.
func (m Mount) Isolator(label string, at r3.Vec, rates seat.Rates) (seat.Isolator, error) {
	up, along, err := m.Axes()
	if err != nil {
		return seat.Isolator{}, fmt.Errorf("%s mount: %w", label, err)
	}
	return seat.Leaning(label, at, up, along, rates)
}

// PadNames are the mounts whose places are in [powertrain.pads], in the order
// they are worked through.
func PadNames() []string { return []string{"left_front", "right_front", "rear"} }

// Pad returns the pad of that name.
func (p Pads) Pad(name string) Point {
	switch name {
	case "left_front":
		return p.LeftFront
	case "right_front":
		return p.RightFront
	case "rear":
		return p.Rear
	}
	return Point{}
}

// Mount returns what the file says about the mount of that name.
func (b *Build) Mount(name string) Mount {
	for i := range b.Mounts {
		if b.Mounts[i].Name == name {
			return b.Mounts[i]
		}
	}
	return Mount{Name: name}
}

// CarryingMounts returns the mounts the powertrain stands on once it is built
// in, those of the pads first, each with its pad.
func (b *Build) CarryingMounts() []Mount {
	out := make([]Mount, 0, len(b.Mounts)+len(PadNames()))
	for _, name := range b.CarryingNames() {
		m := b.Mount(name)
		if slices.Contains(PadNames(), name) {
			m.At = b.Powertrain.Pads.Pad(name)
		}
		out = append(out, m)
	}
	return out
}

// CarryingNames are the names of those mounts.
func (b *Build) CarryingNames() []string {
	out := make([]string, 0, len(b.Mounts)+len(PadNames()))
	for _, name := range PadNames() {
		if !b.Mount(name).FitUpOnly {
			out = append(out, name)
		}
	}
	for i := range b.Mounts {
		if m := &b.Mounts[i]; !m.FitUpOnly && m.Corner == "" && !m.Support() && !slices.Contains(PadNames(), m.Name) {
			out = append(out, m.Name)
		}
	}
	return out
}

// CornerNames are the names of the mounts that hold corners of subframes.
func (b *Build) CornerNames() (out []string) {
	for i := range b.Mounts {
		if b.Mounts[i].Corner != "" {
			out = append(out, b.Mounts[i].Name)
		}
	}
	return out
}

// PadPath is where the file has the place of a mount.
func (m Mount) PadPath() string {
	if m.Corner != "" {
		return "mount." + m.Name + ".corner"
	}
	if m.Support() {
		return "mount." + m.Name + ".bracket.pad"
	}
	if slices.Contains(PadNames(), m.Name) {
		return "powertrain.pads." + m.Name
	}
	return "mount." + m.Name + ".at"
}

// NoPad says why its pad has no place, where it has none.
func (m Mount) NoPad() string {
	if m.NoPlace != "" {
		return "not in the file yet: " + m.NoPlace
	}
	return m.PadPath() + " is not in the file yet"
}
