package fold

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Clamp is a tab of plate welded on a clamp round a tube: a sleeve split lengthwise,
// drawn together by bolts on either side. The tab stands on the middle of one half, along
// the tube or square across it.
type Clamp struct {
	Name      string
	From, To  r3.Vec       // places on the tube's axis, vehicle axes
	Tube      float64      // outside diameter of the tube
	Wall      float64      // of the sleeve
	Length    float64      // of the sleeve, along the tube
	Pad       bracket.Face // looks to what the tab carries
	Most      geom.Angle   // how far the tab may look another way than the pad
	Width     float64      // of the tab
	Thickness float64
	Past      float64        // from the middle of the pad to the tab's free end
	Holes     []bracket.Hole // of the pad, from its middle: x across, y away from the tube
	Density   float64
}

// Clamped is a clamp and its tab as they can be made.
type Clamped struct {
	Clamp
	// Pose has its origin on the tube's axis beneath the pad: X off the tube along the
	// tab, Y the way the pad looks, Z across the tab.
	Pose   geom.Pose
	Axis   r3.Vec     // of the tube, unit, vehicle axes
	Square bool       // the tab stands square across the tube, and not along it
	Lean   geom.Angle // of the tab from what the pad was to look
	Aside  float64    // how far the middle of the tab's thickness passes the axis, along Y
	Root   float64    // from the axis to where the tab leaves the sleeve, along X
	Reach  float64    // from the axis to the middle of the pad, along X
	Sheets []Sheet    // the tab
}

func (c *Clamp) bad(format string, args ...any) error {
	return geom.PartFault("clamp", c.Name, format, args...)
}

// outside is the radius of the sleeve.
func (c *Clamp) outside() float64 { return c.Tube/2 + c.Wall }

// Make places the tab on the sleeve and cuts it. It fails where the pad looks neither
// along the tube nor square to it, the tab misses the sleeve or has no length, or is
// wider than what it stands on.
func (c Clamp) Make() (*Clamped, error) {
	for _, v := range []float64{c.Tube, c.Wall, c.Length, c.Width, c.Thickness, c.Past} {
		if !geom.LengthOK(v) {
			return nil, c.bad("a size of %g mm is none; more than 0 is wanted of the tube, the sleeve's wall and length, and the tab's width, thickness and past", v)
		}
	}
	a, err := geom.Unit(r3.Sub(c.To, c.From))
	if err != nil {
		return nil, c.bad("the tube it goes round has no length; want its two ends apart")
	}
	n, err := geom.Unit(c.Pad.Normal)
	if err != nil {
		return nil, c.bad("its pad does not say which way it looks")
	}
	out := &Clamped{Clamp: c, Axis: a}
	if err := out.stand(a, n); err != nil {
		return nil, err
	}
	if err := out.cut(); err != nil {
		return nil, err
	}
	return out, nil
}

// stand finds which way the tab runs, and its pose.
func (c *Clamped) stand(a, n r3.Vec) error {
	to := geom.Between(n, a)
	along := geom.Angle(math.Min(to.Rad(), math.Pi-to.Rad())) // of the pad from the tube
	wanted := n
	if c.Square = along < 45*geom.Deg; c.Square {
		n = r3.Scale(math.Copysign(1, r3.Dot(n, a)), a)
	} else {
		n = r3.Unit(r3.Sub(n, r3.Scale(r3.Dot(n, a), a)))
	}
	if c.Lean = geom.Between(n, wanted); c.Lean > c.Most {
		return c.bad("its pad looks %.1f° from the tube it goes round; the tab stands along the tube or square across it: turn the pad with pad_facing or pad_normal", along.Degrees())
	}
	middle := r3.Sub(c.Pad.Point, r3.Scale(c.Thickness/2, n))
	off := r3.Sub(middle, c.From)
	off = r3.Sub(off, r3.Scale(r3.Dot(off, a), a)) // square off the axis
	x := off
	if !c.Square {
		c.Aside = r3.Dot(off, n)
		x = r3.Sub(off, r3.Scale(c.Aside, n))
	}
	if r3.Norm(x) < 1 {
		return c.bad("the middle of its pad lies on the tube's axis, so the tab has no length; move the pad off the tube")
	}
	c.Reach = r3.Norm(x)
	x = r3.Unit(x)
	c.Pose = geom.Pose{X: x, Y: n, Z: r3.Cross(x, n), At: r3.Sub(middle, r3.Add(r3.Scale(c.Reach, x), r3.Scale(c.Aside, n)))}
	r := c.outside()
	if math.Abs(c.Aside)+c.Thickness/2 > r/2 {
		return c.bad("the tab passes the tube's axis by %.1f mm and would stand beside the clamp and not on it; move the pad %.1f mm the way it looks, or back", math.Abs(c.Aside), math.Abs(c.Aside))
	}
	c.Root = math.Sqrt(r*r - c.Aside*c.Aside)
	return nil
}

// arcPieces is in how many the edge that lies on the sleeve is cut.
const arcPieces = 48

// cut is the tab flat: x across, y from the axis of the tube.
func (c *Clamped) cut() error {
	r, w := c.outside(), c.Width/2
	switch {
	case c.Reach-c.Root < 1:
		return c.bad("the middle of its pad lies %.1f mm from the tube's axis, inside the clamp of %.1f mm radius, so the tab has no length; move the pad off the tube, or take a smaller clamp", c.Reach, r)
	case c.Square && w > 0.9*r:
		return c.bad("a tab %.1f mm wide stands over a clamp of %.1f mm; make the tab no wider than %.1f mm", c.Width, 2*r, 1.8*r)
	case !c.Square && c.Width > c.Length:
		return c.bad("a tab %.1f mm wide stands over the ends of a clamp %.1f mm long; make the clamp longer, or the tab narrower", c.Width, c.Length)
	}
	tab := Sheet{Name: "tab", Count: 1, Up: "the one that the pad is on", Plate: bracket.Plate{Name: c.Name + " tab", Thickness: c.Thickness, Density: c.Density}}
	end := c.Reach + c.Past
	tab.Plate.Outline = []r2.Vec{{X: w, Y: end}, {X: -w, Y: end}}
	if c.Square {
		for i := range arcPieces + 1 {
			x := -w + 2*w*float64(i)/arcPieces
			tab.Plate.Outline = append(tab.Plate.Outline, r2.Vec{X: x, Y: math.Sqrt(r*r - x*x)})
		}
		low := math.Sqrt(r*r - w*w)
		tab.Drawn = []r2.Vec{{X: w, Y: end}, {X: -w, Y: end}, {X: -w, Y: low}, {X: w, Y: low}} // the rest is in the sleeve
	} else {
		tab.Plate.Outline = append(tab.Plate.Outline, r2.Vec{X: -w, Y: c.Root}, r2.Vec{X: w, Y: c.Root})
	}
	for _, h := range c.Holes {
		tab.Plate.Holes = append(tab.Plate.Holes, bracket.Hole{At: r2.Vec{X: h.At.X, Y: c.Reach + h.At.Y}, Diameter: h.Diameter})
	}
	tab.Pose = geom.Pose{X: c.Pose.Z, Y: c.Pose.X, Z: c.Pose.Y, At: c.Pose.Point(r3.Vec{Y: c.Aside})}
	c.Sheets = []Sheet{tab}
	if _, err := tab.Plate.Figures(); err != nil {
		return fmt.Errorf("clamp %s: %w", c.Name, err)
	}
	return nil
}

// Edge is the width of the tab's edge on the sleeve, straight across it, mm, and how far
// the middle of that is from the axis along the tab, the mean where it is an arc.
func (c *Clamped) Edge() (width, from float64) {
	r, w := c.outside(), c.Width/2
	if !c.Square {
		return c.Width, c.Root
	}
	return c.Width, (math.Sqrt(r*r-w*w) + r*r/w*math.Asin(w/r)) / 2
}

// Sleeve is the mass of the sleeve before it is split, kg.
func (c *Clamped) Sleeve() float64 {
	r, t := c.outside(), c.Tube/2
	return math.Pi * (r*r - t*t) * c.Length * section.DensityOr(c.Density)
}

// Rings are the ends of the sleeve's outside, n points each, vehicle axes.
func (c *Clamped) Rings(n int) (a, b []r3.Vec) {
	side := r3.Cross(c.Axis, c.Pose.X)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		q := r3.Add(c.Pose.At, r3.Scale(c.outside(), r3.Add(r3.Scale(cos, c.Pose.X), r3.Scale(sin, side))))
		a = append(a, r3.Sub(q, r3.Scale(c.Length/2, c.Axis)))
		b = append(b, r3.Add(q, r3.Scale(c.Length/2, c.Axis)))
	}
	return a, b
}

// Cantilever are the sections of the tab from where it leaves the sleeve to the middle of
// its pad; holes is what those there take of its width, mm.
func (c *Clamped) Cantilever(holes float64) (*Cantilever, error) {
	out := &Cantilever{Name: c.Name}
	add := func(x, counts, less float64, where string) error {
		if less >= c.Width-1 {
			return c.bad("its holes leave nothing of its width of %.1f mm", c.Width)
		}
		p, err := section.Shape{Name: c.Name, Kind: section.FlatBar, B: c.Width - less, H: c.Thickness}.Properties()
		if err != nil {
			return err
		}
		out.Stations = append(out.Stations, Station{At: c.Pose.Point(r3.Vec{X: x, Y: c.Aside}), Along: c.Pose.X, U: c.Pose.Z, V: c.Pose.Y,
			Section: p, Curved: 1, Where: where, Counts: counts})
		return nil
	}
	if err := add(c.Root, 0, 0, "at the clamp"); err != nil {
		return nil, err
	}
	for _, g := range gauss {
		if err := add(c.Root+g[0]*(c.Reach-c.Root), g[1]*(c.Reach-c.Root), 0, "between the clamp and its pad"); err != nil {
			return nil, err
		}
	}
	return out, add(c.Reach, 0, holes, "at its pad")
}

// Grip is what a clamp has to hold by friction, and what pulls its halves apart.
type Grip struct {
	Slip float64 // along the tube and round it together, at the tube's surface, N
	Pull float64 // of the half with the tab off the other, the tipping along the tube as a couple over half the sleeve's length, N
	Tip  float64 // tipping of the tab across the tube, the other way than round it, N·mm
}

// Under is what a force at a place, both in vehicle axes, asks of the clamp.
func (c *Clamped) Under(force, at r3.Vec) Grip {
	m := r3.Cross(r3.Sub(at, c.Pose.At), force)
	side := r3.Cross(c.Axis, c.Pose.X)
	return Grip{
		Slip: math.Hypot(r3.Dot(force, c.Axis), r3.Dot(m, c.Axis)/(c.Tube/2)),
		Pull: max(0, r3.Dot(force, c.Pose.X)) + math.Abs(r3.Dot(m, side))/(c.Length/2),
		Tip:  r3.Dot(m, c.Pose.X),
	}
}

// Holds is what friction holds of slip where bolts press the two halves together with so
// much in all (N) and pull takes of that: each half presses on the tube with the whole
// of it. friction is between sleeve and tube.
func Holds(press, pull, friction float64) float64 {
	return friction * 2 * max(0, press-pull)
}
