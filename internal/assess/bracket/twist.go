package bracket

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
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

// whatToDo says what makes up for a pad that stands off its place, in the order in which
// it is least work.
func (c *BuiltCheck) whatToDo(limit float64, u quantity.Units) string {
	mm := func(v float64) string { return quantity.Format(quantity.Length, math.Abs(v), u, 1) }
	var parts []string
	aside := r3.Norm(c.aside)
	switch off := c.Off.V; {
	case off < -limit/2:
		parts = append(parts, fmt.Sprintf("it stands %s short of its place: a shim of that thickness under the isolator makes up for it", mm(off)))
	case off > limit/2:
		parts = append(parts, fmt.Sprintf("it stands %s beyond its place, toward the isolator, and no shim takes that away: take it off a shim or a packing that is there, or cut the mount and make it again", mm(off)))
	}
	if aside > limit/2 {
		parts = append(parts, fmt.Sprintf("it stands %s aside, toward the %s: slot its holes by that the other way, if the isolator's maker allows, or cut it and set it again", mm(aside), toward(c.aside)))
	}
	if len(parts) == 0 {
		return "The pad stands off its place: shim it or slot its holes, if the isolator's maker allows, or cut and make it again before the weld."
	}
	return "The pad stands off its place: " + strings.Join(parts, "; ") + ". All that before the finish weld."
}
