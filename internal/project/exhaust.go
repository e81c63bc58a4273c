package project

import (
	"math"
	"slices"

	"fitup/internal/geom"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pipe is a run of the exhaust that hangs on the chassis, vehicle axes, or with Own one
// that is fixed to the powertrain, in its own frame.
type Pipe struct {
	Name       string           `toml:"name" doc:"what the pipe is: tail pipe, pipe past the gearbox" need:"yes"`
	From       string           `toml:"from" doc:"the name of the pipe on the powertrain that it goes on from by a flexible joint; left out where there is none"`
	Points     []Point          `toml:"points" doc:"the corners of its centre line, from the engine on: [station, offset, height] each" how:"Plumb line, level and tape to where the middles of its straight lengths would meet." need:"yes"`
	Bend       quantity.LengthQ `toml:"bend" doc:"radius of its bends, to the centre line; mitred corners when left out" min:"0" exact:"yes" how:"The bender's figure, or a template on the inside of the bend and half the diameter." from:"the centre of the bend"`
	Diameter   quantity.LengthQ `toml:"diameter" doc:"its outside diameter" min:"0" how:"Caliper over the pipe; of a silencer or a flange where it is widest." from:"outside to outside" need:"yes"`
	HeatGap    quantity.LengthQ `toml:"heat_gap" doc:"room wanted for its heat to anything that is near; limits.heat_gap when left out" min:"0" exact:"yes" how:"The maker's figure of what lies near, such as a fuel line; less behind a shield." from:"the pipe's surface"`
	HeatSource string           `toml:"heat_source" doc:"where that figure is from"`
}

// OwnPipe is a run of the exhaust that is fixed to the powertrain, in its own frame.
type OwnPipe struct {
	Name       string           `toml:"name" doc:"what the pipe is: manifold, down pipe" need:"yes"`
	Points     []Point          `toml:"points" doc:"the corners of its centre line from the engine on, own frame" how:"With the powertrain level on its stand, to where the middles of its straight lengths would meet." need:"yes"`
	Bend       quantity.LengthQ `toml:"bend" doc:"radius of its bends, to the centre line; mitred corners when left out" min:"0" exact:"yes" how:"The bender's figure, or a template on the inside of the bend and half the diameter." from:"the centre of the bend"`
	Diameter   quantity.LengthQ `toml:"diameter" doc:"its outside diameter" min:"0" how:"Caliper over the pipe; of a manifold where it is widest." from:"outside to outside" need:"yes"`
	HeatGap    quantity.LengthQ `toml:"heat_gap" doc:"room wanted for its heat to anything that is near; limits.heat_gap when left out" min:"0" exact:"yes" how:"The maker's figure of what lies near, such as a starter; less behind a shield." from:"the pipe's surface"`
	HeatSource string           `toml:"heat_source" doc:"where that figure is from"`
}

// Pipe is the pipe as one of the chassis is written.
func (p OwnPipe) Pipe() Pipe {
	return Pipe{Name: p.Name, Points: p.Points, Bend: p.Bend, Diameter: p.Diameter, HeatGap: p.HeatGap, HeatSource: p.HeatSource}
}

// checkExhaust finds pipes that cannot be.
func (b *binder) checkExhaust(build *Build, root *tomltext.Node) {
	var names []string
	for i, p := range build.Powertrain.Exhaust {
		n := entryOf(root.Child("powertrain").Child("exhaust"), i)
		b.checkPipe(n, p.Pipe(), names)
		names = append(names, p.Name)
	}
	own := slices.Clone(names)
	for i, p := range build.Exhaust {
		n := entryOf(root.Child("exhaust"), i)
		b.checkPipe(n, p, names)
		names = append(names, p.Name)
		if c := n.Child("from"); c != nil && !slices.Contains(own, p.From) {
			hint := meant(p.From, own)
			if hint == "" {
				hint = "; add it, with its points in the powertrain's own frame, or leave from out"
			}
			b.fault(c.Pos, c.Path, "there is no [[powertrain.exhaust]] called %q%s", Printable(p.From), hint)
		}
	}
}

func (b *binder) checkPipe(n *tomltext.Node, p Pipe, names []string) {
	switch {
	case p.Name == "":
		b.fault(n.Pos, n.Path, "the pipe has no name; want name = what it is, such as \"down pipe\"")
	case slices.Contains(names, p.Name):
		b.fault(n.Pos, n.Path, "there are two pipes called %q; each needs a name of its own", Printable(p.Name))
	}
	if c := n.Child("diameter"); c != nil && p.Diameter.Known() && p.Diameter.V() == 0 {
		b.fault(c.Pos, c.Path, "a pipe has a diameter above 0")
	}
	c := n.Child("points")
	if c == nil {
		return
	}
	if len(p.Points) == 1 {
		b.fault(c.Pos, c.Path, "a pipe of one point has no length; want two points at least, from the engine on")
	}
	b.checkBends(c, p)
}

// checkBends looks whether the bends of a pipe fit into its legs.
func (b *binder) checkBends(c *tomltext.Node, p Pipe) {
	bend := p.Bend.Or(0)
	before := 0.0 // of the leg, by the bend at its other end
	for i := 1; i < len(p.Points); i++ {
		if !p.Points[i-1].Known || !p.Points[i].Known {
			before = 0
			continue
		}
		leg := r3.Sub(p.Points[i].At, p.Points[i-1].At)
		long := r3.Norm(leg)
		if long < leastShaft {
			at := entryOf(c, i)
			b.fault(at.Pos, at.Path, "points %d and %d of the pipe are one place", i, i+1)
			return
		}
		takes := 0.0
		if i+1 < len(p.Points) && p.Points[i+1].Known {
			turn := geom.Between(leg, r3.Sub(p.Points[i+1].At, p.Points[i].At))
			if turn > 179*geom.Deg {
				at := entryOf(c, i)
				b.fault(at.Pos, at.Path, "the pipe turns back on itself at point %d; a return bend is two corners of 90 degrees", i+1)
				return
			}
			takes = bend * math.Tan(turn.Rad()/2)
		}
		if before+takes > long+1e-6 {
			at := entryOf(c, i)
			b.fault(at.Pos, at.Path, "bends of %s take %s of the %s from point %d to point %d; a smaller bend, or corners farther apart",
				b.length(bend), b.length(before+takes), b.length(long), i, i+1)
			return
		}
		before = takes
	}
}

// length spells a length in the units of the file.
func (b *binder) length(v float64) string { return quantity.Format(quantity.Length, v, b.units, 1) }

// OpeningAxes returns the middle of the opening in a flat surface, and half of its width
// and of its height as vectors in that surface, vehicle axes, mm: across is to the right,
// or of one that faces sideways to the rear, and up is up, or of a level one to the rear.
// False where the file has no such opening, or its corners are the wrong way round.
func (c ChassisPart) OpeningAxes() (middle, across, up r3.Vec, ok bool) {
	if len(c.Opening) != 2 || !c.Opening[0].Known || !c.Opening[1].Known || !c.On.Known {
		return middle, across, up, false
	}
	n, known := c.Facing.Vector()
	if c.Normal.Known {
		n, known = c.Normal.At, r3.Norm(c.Normal.At) > geom.Tiny
	}
	if !known {
		return middle, across, up, false
	}
	n = r3.Unit(n)
	a := r3.Cross(r3.Vec{Z: 1}, n)
	if r3.Norm(a) < 1e-6 {
		a = r3.Vec{Y: 1}
	}
	a = r3.Unit(a)
	if math.Abs(a.Y) >= math.Abs(a.X) && a.Y < 0 || math.Abs(a.Y) < math.Abs(a.X) && a.X < 0 {
		a = r3.Scale(-1, a)
	}
	u := r3.Unit(r3.Cross(n, a))
	if math.Abs(u.Z) > 0.02 && u.Z < 0 || math.Abs(u.Z) <= 0.02 && u.X < 0 {
		u = r3.Scale(-1, u)
	}
	d := r3.Sub(c.Opening[1].At, c.Opening[0].At)
	w, h := r3.Dot(d, a), r3.Dot(d, u)
	middle = r3.Scale(0.5, r3.Add(c.Opening[0].At, c.Opening[1].At))
	middle = r3.Sub(middle, r3.Scale(r3.Dot(r3.Sub(middle, c.On.At), n), n))
	return middle, r3.Scale(w/2, a), r3.Scale(h/2, u), w > leastShaft && h > leastShaft
}

// checkOpening refuses an opening that is none.
func (b *binder) checkOpening(n *tomltext.Node, c ChassisPart) {
	at := n.Child("opening")
	if at == nil {
		return
	}
	switch surface := c.Facing != "" || c.Normal.Known; {
	case len(c.Opening) != 2:
		b.fault(at.Pos, at.Path, "an opening has two corners: lower left and upper right, in a floor front left and rear right; read %d", len(c.Opening))
	case !surface && (c.From.Known || c.To.Known || c.At.Known):
		b.fault(at.Pos, at.Path, "an opening is in a flat surface by on and facing, and not in a box, a rod or a ball")
	default:
		if _, _, _, ok := c.OpeningAxes(); !ok && surface && c.On.Known && c.Opening[0].Known && c.Opening[1].Known {
			b.fault(at.Pos, at.Path, "the corners of the opening are the wrong way round, or it has no width: the first is the lower left one and the second the upper right one, in a floor front left and rear right, in a side front below and rear above")
		}
	}
}
