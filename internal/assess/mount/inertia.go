package mount

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/modes"

	"gonum.org/v1/gonum/spatial/r3"
)

// inertiaWithin is the factor by which estimated moments of inertia may be off either
// way: pieces of one density in place of castings, steel and hollow cases (common
// practice, no source).
const inertiaWithin = 1.3

// caseStays is what is taken for granted where a transfer case is turned whose mass, or
// where that is, is not in the file.
const caseStays = "the centre of mass stays where it is as the transfer case is turned, whose own mass and centre_of_mass are not both given"

// inertia are the moments of inertia of the powertrain, own frame, as far as they are
// known without where it stands.
type inertia struct {
	j         modes.Inertia // kg·mm², own frame
	estimated bool
	why       string
}

// inertiaOf takes the moments of inertia from the file, or estimates them from the
// pieces of the powertrain, each as heavy as it is large.
func (p *Prepared) inertiaOf() inertia {
	given := p.build.Powertrain.Inertia
	switch {
	case given.Known():
		// Along the crankshaft, level across it and upright; a crankshaft across lies
		// along the own frame's Y.
		j := modes.Inertia{XX: given.Roll.V(), YY: given.Pitch.V(), ZZ: given.Yaw.V()}
		if p.transaxle() {
			j.XX, j.YY = j.YY, j.XX
		}
		return inertia{j: p.withTheCase(j)}
	case given.Begun():
		for _, q := range []struct {
			key   string
			known bool
		}{{"roll", given.Roll.Known()}, {"pitch", given.Pitch.Known()}, {"yaw", given.Yaw.Known()}} {
			if !q.known {
				return inertia{why: "powertrain.inertia." + q.key + " is not in the file yet; give all three, or none to have them estimated"}
			}
		}
	}
	j, ok := p.ofPieces()
	if !ok {
		return inertia{why: "powertrain.inertia.roll is not in the file yet, nor pieces of the powertrain to estimate it from"}
	}
	return inertia{j: j, estimated: true}
}

// withTheCase is what moments of inertia that are given become as the transfer case is
// turned, with the powertrain's centre of mass where that takes it. Of two bodies of the
// masses m and M-m whose centres are d apart, J = J₁ + J₂ + m(M-m)/M·(d²·1 - d⊗d) about the
// common centre (Steiner, twice); what the case turns by is d alone, its own moments are
// taken to be those about its middle as before.
func (p *Prepared) withTheCase(j modes.Inertia) modes.Inertia {
	t := &p.build.Powertrain
	c, all := &t.Case, t.Mass.Or(0)
	if m := c.Mass.Or(0); c.Turns() && c.Turned.Or(0) != 0 && c.Weighed() && t.CentreOfMass.Known && m > 0 && m < all {
		shift := c.Shifted()
		is := r3.Scale(all/(all-m), r3.Sub(r3.Add(c.Centre.At, shift), t.CentreOfMass.At)) // from the rest's centre to the case's
		was := r3.Sub(is, shift)
		both := m * (all - m) / all
		for _, x := range []struct {
			d    r3.Vec
			sign float64
		}{{is, both}, {was, -both}} {
			d := x.d
			j.XX += x.sign * (d.Y*d.Y + d.Z*d.Z)
			j.YY += x.sign * (d.Z*d.Z + d.X*d.X)
			j.ZZ += x.sign * (d.X*d.X + d.Y*d.Y)
			j.XY += x.sign * d.X * d.Y
			j.YZ += x.sign * d.Y * d.Z
			j.ZX += x.sign * d.Z * d.X
		}
	}
	return j
}

// ofPieces is the inertia about the centre of mass of boxes, rods and balls of one
// density that weigh together what the powertrain does (closed forms of solid bodies and
// the theorem of parallel axes).
func (p *Prepared) ofPieces() (modes.Inertia, bool) {
	t := p.build.Powertrain
	if !t.CentreOfMass.Known || !(t.Mass.V() > 0) {
		return modes.Inertia{}, false
	}
	var sum modes.Inertia
	volume := 0.0
	turned := geom.Identity()
	add := func(v float64, at r3.Vec, own modes.Inertia) {
		d := r3.Sub(turned.Point(at), t.CentreOfMass.At)
		own = own.Turned(turned)
		volume += v
		sum.XX += v * (own.XX + d.Y*d.Y + d.Z*d.Z)
		sum.YY += v * (own.YY + d.Z*d.Z + d.X*d.X)
		sum.ZZ += v * (own.ZZ + d.X*d.X + d.Y*d.Y)
		sum.XY += v * (own.XY + d.X*d.Y)
		sum.YZ += v * (own.YZ + d.Y*d.Z)
		sum.ZX += v * (own.ZX + d.Z*d.X)
	}
	for _, x := range t.Parts {
		r := x.Radius.V()
		turned = x.Turned.Pose()
		switch {
		case x.From.Known && x.To.Known && x.Radius.Known():
			axis := r3.Sub(x.To.At, x.From.At)
			if l := r3.Norm(axis); l > 0 {
				add(math.Pi*r*r*l, middleOf(x.From.At, x.To.At), rodInertia(r3.Scale(1/l, axis), l, r))
			}
		case x.From.Known && x.To.Known:
			d := r3.Sub(x.To.At, x.From.At)
			a, b, c := math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)
			add(a*b*c, middleOf(x.From.At, x.To.At), modes.Block(1, a, b, c))
		case x.At.Known && r > 0:
			add(4*math.Pi/3*r*r*r, x.At.At, modes.Inertia{XX: 0.4 * r * r, YY: 0.4 * r * r, ZZ: 0.4 * r * r})
		}
	}
	if !(volume > 0) {
		return modes.Inertia{}, false
	}
	by := t.Mass.V() / volume
	for _, v := range []*float64{&sum.XX, &sum.YY, &sum.ZZ, &sum.XY, &sum.YZ, &sum.ZX} {
		*v *= by
	}
	return sum, geom.Finite(sum.XX, sum.YY, sum.ZZ)
}

func middleOf(a, b r3.Vec) r3.Vec { return r3.Scale(0.5, r3.Add(a, b)) }

// rodInertia is that of a round rod of mass 1 along u, of length 1: r²/2 about it and
// r²/4 + l²/12 across.
func rodInertia(u r3.Vec, l, r float64) modes.Inertia {
	across, along := r*r/4+l*l/12, r*r/2
	d := across - along // off the tensor's diagonal stands −d·uᵢuⱼ, which is the product with its sign turned
	return modes.Inertia{
		XX: across - d*u.X*u.X, YY: across - d*u.Y*u.Y, ZZ: across - d*u.Z*u.Z,
		XY: d * u.X * u.Y, YZ: d * u.Y * u.Z, ZX: d * u.Z * u.X,
	}
}

// axesOf are the axes of the six ways with the powertrain at a pose: X along the
// crankshaft, Z up by the powertrain.
func (p *Prepared) axesOf(pose geom.Pose) geom.Pose {
	axes := pose
	axes.At = r3.Vec{}
	if p.transaxle() {
		axes.X, axes.Y = pose.Y, r3.Scale(-1, pose.X)
	}
	return axes
}

// inertiaTold is how the moments of inertia are told: along the axes of the six ways.
func (s *Shaking) inertiaTold(j modes.Inertia, p *Prepared) {
	s.Inertia = [3]finding.Number{finding.Exact(j.XX), finding.Exact(j.YY), finding.Exact(j.ZZ)}
	if p.transaxle() {
		s.Inertia[0], s.Inertia[1] = s.Inertia[1], s.Inertia[0]
	}
}
