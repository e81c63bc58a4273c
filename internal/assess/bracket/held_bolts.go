package bracket

import (
	"math"

	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/frame"

	"gonum.org/v1/gonum/spatial/r3"
)

// through is a bolt at an end of a crossmember, ready to be asked under many loads: what it
// bears on, one of them after the other.
type through struct {
	assembly.Through
	in []bored
}

// bored is a part at the hole of a through bolt.
type bored struct {
	part int
	name string
	bolt geombracket.ReadyBolt // one shear plane, bearing on one wall or ear
	net  netSection
}

// netSection is what is left of a part beside a hole: its area, and its moduli about the
// way of the bolt and about the way across that, mm² and mm³. Those are 0 of an ear.
type netSection struct{ area, about, across float64 }

// netOf is that of a tube with a hole through two walls that are opposite each other, or
// of a flat bar.
func netOf(p *assembly.Part, hole float64) netSection {
	props, t := p.Cut.Section, p.Shape.T
	switch {
	case t == 0:
		return netSection{area: (p.Shape.H - hole) * p.Shape.B}
	case round(p.Shape):
		r := (p.Shape.H - t) / 2
		return netSection{props.Area - 2*hole*t, (props.Iy - t*hole*hole*hole/6) / (p.Shape.H / 2), (props.Iz - 2*hole*t*r*r) / (p.Shape.H / 2)}
	}
	r := (p.Shape.B - t) / 2
	return netSection{props.Area - 2*hole*t, (props.Iy - t*hole*hole*hole/6) / (p.Shape.H / 2), (props.Iz - 2*hole*t*r*r) / (p.Shape.B / 2)}
}

// used is what a force along a part and moments about the bolt and across it use of the
// yield, MPa.
func (n *netSection) used(along, about, across, yield float64) float64 {
	s := math.Abs(along) / n.area
	if n.about > 0 {
		s += math.Abs(about)/n.about + math.Abs(across)/n.across
	}
	return s / yield
}

// throughs are the bolts at the ends of a crossmember, or what of them is missing.
func (b *Bracket) throughs() ([]through, error) {
	a, s := b.Members, &b.ready.kind.spec
	thread, err := b.pinThread()
	if err != nil {
		return nil, err
	}
	_, fu := b.Spec.Strengths()
	one := geombracket.Bolt{Name: b.Label + " through bolt", Thread: thread, Class: s.Pin.Class, K: s.Pin.TorqueK.V(), Share: s.Pin.Preload.V()}
	var out []through
	for _, x := range a.Solved.Through() {
		t := through{Through: x}
		add := func(part int, name string, end float64) error {
			p := &a.Solved.Parts[part]
			wall := p.Shape.T
			if wall == 0 {
				wall = p.Shape.B
			}
			bolt, err := one.Ready(geombracket.BoltJoint{Plate: wall, Fu: fu, Hole: s.Pin.Hole.V(), End: end, Side: p.Shape.H / 2})
			t.in = append(t.in, bored{part, name, bolt, netOf(p, s.Pin.Hole.V())})
			return err
		}
		p := &a.Solved.Parts[x.Part]
		if err := add(x.Part, p.Name+", "+endWords(p, x.End), p.Ends[x.End].Past); err != nil {
			return nil, err
		}
		for _, j := range x.Ears {
			if err := add(j, a.Solved.Parts[j].Name, a.Solved.Parts[j].Ends[1].Past); err != nil {
				return nil, err
			}
		}
		if x.Socket >= 0 {
			if err := add(x.Socket, a.Solved.Parts[x.Socket].Name, s.Socket.Length.V()-s.Socket.Out.V()); err != nil {
				return nil, err
			}
		}
		out = append(out, t)
	}
	return out, nil
}

// throughScreen holds the bolts through the ends of a crossmember: one shear plane at each
// ear or wall, bearing and tearing out there as a bolt in a plate's edge (EN 1993-1-8, table
// 3.4), and what is left of each part beside its hole.
func (b *Bracket) throughScreen(at r3.Vec) (screen, error) {
	bolts, err := b.throughs()
	if err != nil {
		return screen{}, err
	}
	b.Strength.Pin.Tighten = bolts[0].in[0].bolt.Tightening
	yield, _ := b.Spec.Strengths()
	return b.screenOfPins(at, b.rests(), func(x underLoad, take func(PinUse)) error {
		for i := range bolts {
			got, err := b.throughUse(x, &bolts[i], yield)
			if err != nil {
				return err
			}
			take(got)
		}
		return nil
	}), nil
}

// throughUse is where one of the bolts, and what it goes through, uses most.
func (b *Bracket) throughUse(x underLoad, t *through, yield float64) (most PinUse, err error) {
	parts := b.Members.Solved.Parts
	p := &parts[t.Part]
	_, push := x.frame.AtEnd(x.res, t.Part, t.End)
	for i := range t.in {
		in := &t.in[i]
		one := PinUse{Use: Use{At: in.name}}
		switch q := &parts[in.part]; {
		case i > 0 && t.Socket < 0: // an ear carries what the frame gives it
			_, ear := x.frame.AtEnd(x.res, in.part, 1)
			one.Along = math.Abs(r3.Dot(ear.Force, q.Cut.U))
			one.Across = math.Sqrt(max(0, r3.Norm2(ear.Force)-one.Along*one.Along))
			one.NetUsed = in.net.used(one.Across, 0, 0, yield)
		default:
			one.Across = b.onWall(p, t, push)
			one.NetUsed = in.net.used(r3.Dot(push.Force, q.Cut.Axis), r3.Dot(push.Moment, q.Cut.U), r3.Dot(push.Moment, q.Cut.V), yield)
		}
		got, err := in.bolt.Check(one.Across, one.Along)
		if err != nil {
			return most, err
		}
		if one.BoltUsed = got.Governs; i == 0 || one.governs() > most.governs() {
			most = one
		}
	}
	return most, nil
}

// onWall is what a bolt puts on one of the two walls that it goes through, N: half of what
// goes across it, and what the moments that do not turn about it come to on the two walls.
// In a socket its walls take those: a box all of the twist, and all but the tipping on the
// way from the bolt to where the tube is pressed on farthest off.
func (b *Bracket) onWall(p *assembly.Part, t *through, push frame.Push) float64 {
	u, axis := p.Cut.U, p.Cut.Axis
	along := r3.Dot(push.Force, u)
	half := math.Sqrt(max(0, r3.Norm2(push.Force)-along*along)) / 2
	apart := p.Shape.B - p.Shape.T
	if round(p.Shape) {
		apart = p.Shape.H - p.Shape.T
	}
	twist := r3.Dot(push.Moment, axis)
	if t.Socket < 0 {
		return half + math.Hypot(twist, r3.Dot(push.Moment, p.Cut.V))/apart
	}
	f, err := b.Members.Solved.Fit(t.Part, t.End)
	if err != nil {
		return math.Inf(1)
	}
	past := p.Ends[t.End].Past
	tips := math.Sqrt(max(0, r3.Norm2(push.Moment)-twist*twist))
	half += tips / max(past, f.Reach-past) / 2
	if round(p.Shape) {
		half += math.Abs(twist) / apart
	}
	return half
}
