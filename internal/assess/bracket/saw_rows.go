package bracket

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// readable is the least tilt or swing that is worth another setting: what a saw's scale
// does not show is left out. Common practice, no source.
const readable = 0.2 * geom.Deg

// adder takes down a row of numbers by its name below that of the piece.
type adder func(label, name string, k quantity.Kind, v float64, words string)

// onceRows are the way to cut an end with one swing and the blade upright, on a saw that
// does not tilt: how far from the nearest corner the way lies in which it leans out most,
// and the swing. A cut that is square to two sides has none; end is its name, from where
// the tube is seen from.
func onceRows(c *geombracket.Cut, rail bool, end, key, from string, add adder) {
	x := &c.Pad
	if rail {
		x = &c.Rail
	}
	s := x.Saw[x.Best]
	compound := s.Mitre.Abs() > readable && s.Tilt.Abs() > readable
	corner, by := c.LongFrom(rail)
	if x.Angle.Abs() < level || !x.Rolled && !compound && corner != geombracket.NoCorner {
		return
	}
	way, of := "clockwise", "of its "+corner.String()+" corner"
	if by < 0 {
		way = "anticlockwise"
	}
	if corner == geombracket.NoCorner {
		of = "of its top"
	}
	add(end+" clock of the cut", key+".clock", quantity.Angle, by.Abs().Rad(), way+" "+of+", seen from "+from+": there it reaches out most")
	if !x.Rolled && compound {
		add(end+" in one swing", key+".once", quantity.Angle, x.Roll.Swing.Rad(), "blade upright, "+x.Roll.Long.String()+"; "+rolledBy(x.Roll, from))
	}
}

// rolledBy says how the tube is turned for one swing, with how far.
func rolledBy(r geombracket.RollCut, from string) string {
	words := strings.Replace(rollWords(r), "from the pad", "from "+from, 1)
	if r.Corner == geombracket.NoCorner {
		return words
	}
	return strings.Replace(words, " then ", fmt.Sprintf(" then %.1f° ", r.Roll.Abs().Degrees()), 1)
}

// onPlateRows say where the middle of a cut lands on a plate, from two of its edges by
// name. The plate's middle is that of the pose but for how far it is set up or down.
func onPlateRows(w *PlateWork, pose geom.Pose, at r3.Vec, end, key string, add adder) {
	if w == nil {
		return
	}
	o := pose.Own(at)
	add(end+", plate's "+toward(r3.Scale(-1, pose.X))+" edge", key+".from_side", quantity.Length, w.Spec.Width.V()/2+o.X, "from there to the middle of the cut")
	add(end+", plate's "+toward(r3.Scale(-1, pose.Y))+" edge", key+".from_edge", quantity.Length, w.Middle+o.Y, "the same")
}

// landsOn are the places of a single leg on its plates.
func (b *Bracket) landsOn(add adder) {
	for i, f := range []geombracket.Face{{Point: b.Leg.Pad.Point, Normal: b.Leg.Pad.Normal}, {Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal}} {
		w, at, up, key := b.PadPlate, b.Cut.Pad.At, b.Leg.Up, "pad"
		if i == 1 {
			w, at, up, key = b.RailPlate, b.Cut.Rail.At, r3.Vec{}, "rail"
			if b.Saddle != nil {
				continue
			}
		}
		pose, err := geombracket.FacePose(b.Label+" "+key+" plate", f, up)
		if err != nil { // as it is drawn
			if pose, err = geombracket.FacePose("", f, r3.Vec{X: -1}); err != nil {
				continue
			}
		}
		onPlateRows(w, pose, at, key, key, add)
	}
}

// perchRow is where the middle of a pad's plate lies along the member under it.
func (b *Bracket) perchRow(i int, add adder) {
	s := &b.Members.Solved
	p := &s.Parts[i]
	if s.Perch != p.Name || s.Perch == "" {
		return
	}
	side, _ := p.Looking(b.Members.Pad.Normal)
	u, v := p.Half(side), 0.0
	switch side {
	case geombracket.Left:
		u = -u
	case geombracket.Top:
		u, v = 0, u
	case geombracket.Bottom:
		u, v = 0, -u
	}
	from, _ := p.Cut.Line(u, v)
	add("pad's middle along it", "perch_along", quantity.Length, math.Abs(s.PerchAlong-from), "from its first cut, along the middle of its "+side.String()+" side")
}
