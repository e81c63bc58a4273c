package bracket

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// padPose is the pad's face as its plate lies on it: Z looks to the isolator, X and Y run
// along its edges.
func (b *Bracket) padPose() (geom.Pose, error) {
	if m := b.Plates; m != nil {
		x, z := m.Foot.X, m.Pad.Normal
		switch {
		case m.Box != nil:
			x = m.Box.Pose.Z
		case m.Clip != nil:
			x = m.Clip.Pose.Z
		}
		return geom.Pose{X: x, Y: r3.Cross(z, x), Z: z, At: m.Pad.Point}, nil
	}
	up := b.Leg.Up
	if up == (r3.Vec{}) || b.Members != nil {
		up = r3.Vec{Z: 1}
	}
	face := geombracket.Face{Point: b.Leg.Pad.Point, Normal: r3.Scale(-1, b.Leg.Pad.Normal)}
	pose, err := geombracket.FacePose(b.Label+" pad", face, up)
	if err != nil {
		pose, err = geombracket.FacePose(b.Label+" pad", face, r3.Vec{X: -1})
	}
	return pose, err
}

// turn is how far the pad of a finished mount is turned on its face, anticlockwise seen from
// the isolator: what was measured along an edge of it against the nearer of its edges.
func (b *Bracket) turn() (geom.Angle, error) {
	edge := b.ready.mount.Built.PadEdge
	if len(edge) != 2 {
		return 0, lacking("mount." + b.Name + ".built.pad_edge")
	}
	pose, err := b.padPose()
	if err != nil {
		return 0, err
	}
	d := pose.OwnDir(r3.Sub(edge[1].At, edge[0].At))
	if math.Hypot(d.X, d.Y) < 0.5*r3.Norm(d) {
		return 0, fmt.Errorf("the two points of mount.%s.built.pad_edge lie across the pad's face and not along an edge of it; measure them again", b.Name)
	}
	a := math.Atan2(d.Y, d.X)
	return geom.Angle(a - math.Round(a/(math.Pi/2))*math.Pi/2), nil
}

// twisted is how far the pad of a finished mount is turned on its face, and what that moves
// the outermost of its holes, or its corner.
func (b *Bracket) twisted() (twist, slot finding.Number) {
	a, err := b.turn()
	if err != nil {
		why := finding.Missing(strings.TrimSuffix(err.Error(), "."))
		return why, why
	}
	return finding.Exact(a.Abs().Rad()), finding.Exact(2 * b.padReach() * math.Sin(a.Abs().Rad()/2))
}

// padReach is how far the outermost hole of the pad is from its middle, or its corner where
// there is none but one, mm.
func (b *Bracket) padReach() float64 {
	p := b.Spec.PadPlate.MountPlate
	across, high := int(p.Across.Or(2)), int(p.High.Or(2))
	if b.Plates != nil {
		across, high = acrossOf("pad_plate", &p), highOf("pad_plate", &p)
	}
	if reach := math.Hypot(float64(across-1)*p.PitchAcross.V(), float64(high-1)*p.PitchHigh.V()) / 2; p.Hole.Known() && reach > 0 {
		return reach
	}
	if p.Width.Known() && p.Height.Known() {
		return math.Hypot(p.Width.V(), p.Height.V()) / 2
	}
	return b.padLength() / math.Sqrt2
}

// turnWords say which way the pad is turned.
func (b *Bracket) turnWords() string {
	if a, err := b.turn(); err == nil && a < 0 {
		return "clockwise seen from the isolator"
	}
	return "anticlockwise seen from the isolator"
}

// remedy is what a finished mount is put right by besides slots under the isolator, by how it
// is held.
type remedy struct {
	short, beyond string // its pad stands short of its place, or too far toward the isolator
	aside, turned string // it stands aside, or is turned on its face
	lean          string // it leans: words with the taper and the way that it is thick
	foot          string // its foot stands off its place
	before        string // when all that is to be done
}

func (b *Bracket) remedy() remedy {
	const lands = "see whether the pad still lands where it is wanted"
	out := remedy{
		short:  "a shim of that thickness under the isolator makes up for it",
		beyond: "no shim takes that away: take it off a shim or a packing that is there, or cut the mount and make it again",
		aside:  "or cut it and set it again", turned: "or cut its weld, turn it back and weld it again",
		lean: "a tapered shim of %s over its length makes up for it, thick toward the %s",
		foot: "before the weld, " + lands, before: "before the finish weld",
	}
	if b.Plates != nil && b.Plates.Clip != nil {
		out.aside, out.turned = "or loosen its clamp and slide it along its tube", "or loosen its clamp and turn it back"
		out.foot, out.before = "loosen its clamp, slide it along its tube until the pad is where it is wanted, and tighten it again", "before the clamp is tightened for good"
		return out
	}
	var s project.MountBracket
	if k := b.ready.kind; k != nil {
		s = k.spec
	}
	switch {
	case s.Kind == project.TwinEars:
		const anew = "no shim goes under a bolt: cut its ears off the rail and set them again, or plug their holes and drill them anew where there is metal enough to their edges"
		out.short, out.beyond = anew, anew
		out.lean = "packing washers on one side of the sleeve take up %s at most, and no more than the isolator's maker allows; else set the ear at the %s again"
	case s.Ears.Begun() && b.RailPlate == nil:
		out.aside, out.foot = "or cut its ears off the rail and set them again", "cut its ears off the rail and set them again, and "+lands
	case s.Sleeve.Begun():
		out.aside, out.foot = "or set it over by the play of its bolts", "set it over by the play of its bolts, cut no slot into the rail's flange, and "+lands
	case b.Plates != nil && b.bolted():
		out.aside, out.turned = "or loosen its bolts and set it over in slotted holes of its foot", "or loosen its bolts and turn it back"
		out.foot, out.before = "slot the holes of its foot where there is metal enough to the edge, and "+lands, "before its bolts are tightened for good"
	case b.bolted():
		out.aside, out.foot = "or loosen its bolts and set it over in slotted holes of its rail plate", "slot the holes of its rail plate where there is metal enough to the edge, and "+lands
	}
	return out
}

// whatToDo says what makes up for a pad that stands off its place, in the order in which
// it is least work.
func (c *BuiltCheck) whatToDo(limit float64, u quantity.Units, by remedy) string {
	mm := func(v float64) string { return quantity.Format(quantity.Length, math.Abs(v), u, 1) }
	var parts []string
	aside := r3.Norm(c.aside)
	switch off := c.Off.V; {
	case off < -limit/2:
		parts = append(parts, fmt.Sprintf("it stands %s short of its place: %s", mm(off), by.short))
	case off > limit/2:
		parts = append(parts, fmt.Sprintf("it stands %s beyond its place, toward the isolator, and %s", mm(off), by.beyond))
	}
	if aside > limit/2 {
		parts = append(parts, fmt.Sprintf("it stands %s aside, toward the %s: slot its holes by that the other way, if the isolator's maker allows, %s", mm(aside), toward(c.aside), by.aside))
	}
	if len(parts) == 0 {
		return "The pad stands off its place: shim it or slot its holes, if the isolator's maker allows, " + by.aside + ", " + by.before + "."
	}
	return "The pad stands off its place: " + strings.Join(parts, "; ") + ". All that " + by.before + "."
}
