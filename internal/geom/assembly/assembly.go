package assembly

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r3"
)

// EndKind is what a member ends at.
type EndKind uint8

// The kinds of ends.
const (
	Square   EndKind = iota // cut square at a point
	Pad                     // at the pad, or under the pad's plate
	Rail                    // on a rail, or on a plate there
	OnMember                // on a flat side of another member, or coped round one that is round
	Mitre                   // against the end of another member, each cut half way
	Lies                    // cut square past a face that one of its sides lies on
	Pin                     // cut square past the bolt that goes through it, which carries the pad
	Bolted                  // cut square past a bolt that goes through it and through others
	Inside                  // cut square past a bolt in a socket: a member that it slides into
)

// End is where a member begins or ends.
type End struct {
	Kind EndKind
	// At is where the member's axis meets what it ends at; Square, Pad, Rail and
	// Mitre. Of one that Lies it is a place on the axis over the middle of its foot, of
	// one that a bolt goes through that of the bolt's axis.
	At r3.Vec
	// Face looks to the member; Pad, Rail and Lies, and where ears or a socket hold it
	// before a rail.
	Face bracket.Face
	// Plate is what lies between face and member, mm: a plate and its weld gap.
	Plate float64
	// Host is the member that it ends on, OnMember, Mitre and Inside, and Along where the
	// two axes meet: mm along the host's axis from the host's first cut, OnMember.
	Host  string
	Along float64
	// Past is how far one that Lies runs on past its foot, or any other past its bolt, mm.
	Past float64
	// On is what it stands on, in words: left rail. Rail and Lies, and where ears or a
	// socket hold it before that.
	On string
	// Bolt names the bolt of one that is Bolted: all with the same are on one. Turns
	// tells what turns on it from the ears beside.
	Bolt  string
	Turns bool
	// Ball says that the end is free to turn on a ball joint.
	Ball bool
}

// Member is a straight piece of stock.
type Member struct {
	Name  string
	Shape section.Shape
	Ends  [2]End
	// Up is the way the section's side H looks, as nearly as it can; zero for
	// vehicle up. Roll turns the section from there, clockwise seen from the
	// first end.
	Up   r3.Vec
	Roll geom.Angle
}

// Assembly is a mount of several members.
type Assembly struct {
	Name    string
	Members []Member
	Pad     r3.Vec // middle of the pad, where the load comes in
	// Perch is the member on whose side the pad's plate lies; empty where the
	// pad stands on ends of members.
	Perch string
	Saw   *bracket.SawLimit
}

// Part is a member that is cut.
type Part struct {
	Member
	Cut bracket.Cut
	// Host is the index of the member that each end stands on, -1 for none, and
	// Side the flat side of it.
	Host [2]int
	Side [2]bracket.Side
	// Copes are those of ends on round members; nil for any other.
	Copes [2]*Cope
	// Packing is what is wanted between the face and the plate of an end that Lies, mm.
	Packing [2]float64
}

// Solved is an assembly whose members are cut.
type Solved struct {
	Assembly
	Parts []Part
	// PerchAlong is how far from the first cut along its axis the pad lies over
	// the member that carries it, mm.
	PerchAlong float64
	perch      int // index of that member, -1 for none
}

func (a *Assembly) bad(m *Member, format string, args ...any) error {
	return geom.PartFault("member", m.Name, format, args...)
}

// Solve cuts the members, or says why there is no such assembly.
func (a Assembly) Solve() (Solved, error) {
	s := Solved{Assembly: a, Parts: make([]Part, len(a.Members)), perch: -1}
	index := map[string]int{}
	for i := range a.Members {
		m := &a.Members[i]
		switch _, twice := index[m.Name]; {
		case m.Name == "":
			return s, geom.PartFault("assembly", a.Name, "member %d has no name; give each its own", i+1)
		case twice:
			return s, a.bad(m, "there are two of that name; give each its own")
		}
		index[m.Name] = i
	}
	if len(a.Members) == 0 {
		return s, geom.PartFault("assembly", a.Name, "it has no members")
	}
	state := make([]uint8, len(a.Members)) // 1 while it is worked on, 2 when it is cut
	for i := range a.Members {
		if err := s.cut(i, index, state); err != nil {
			return s, err
		}
	}
	if a.Perch != "" {
		if err := s.seat(index); err != nil {
			return s, err
		}
	}
	if err := s.meet(); err != nil {
		return s, err
	}
	if err := s.clearOfRails(); err != nil {
		return s, err
	}
	err := s.collide()
	return s, err
}

// cut cuts a member after those that it stands on.
func (s *Solved) cut(i int, index map[string]int, state []uint8) error {
	m := &s.Members[i]
	switch state[i] {
	case 2:
		return nil
	case 1:
		return s.bad(m, "it stands on a member that stands on it; end one of them on the rail, the pad or at a point")
	}
	state[i] = 1
	p := Part{Member: *m, Host: [2]int{-1, -1}}
	var at [2]r3.Vec
	for k := range m.Ends {
		e := &p.Ends[k]
		if e.Kind == Mitre || e.Kind == Inside {
			h, ok := index[e.Host]
			if !ok || h == i {
				return s.bad(m, "it is to meet %q, which is no other member of this mount", e.Host)
			}
			p.Host[k] = h
		}
		if e.Kind != OnMember {
			at[k] = e.At
			continue
		}
		h, ok := index[e.Host]
		if !ok || h == i {
			return s.bad(m, "it ends on %q, which is no other member of this mount", e.Host)
		}
		if err := s.cut(h, index, state); err != nil {
			return err
		}
		c := &s.Parts[h].Cut
		if !(e.Along >= 0 && e.Along <= c.Length) {
			return s.bad(m, "it would meet %s %.1f mm from that one's first end, which is off its %.1f mm; bring the two together", e.Host, e.Along, c.Length)
		}
		p.Host[k] = h
		at[k] = r3.Add(c.Pad.At, r3.Scale(e.Along, c.Axis))
	}
	d, err := geom.Unit(r3.Sub(at[1], at[0]))
	if err != nil || r3.Norm(r3.Sub(at[1], at[0])) < 1 {
		return s.bad(m, "both its ends are at the same place, so it has no length; move one of them")
	}
	leg, err := s.leg(&p, at, d)
	if err != nil {
		return err
	}
	if p.Cut, err = leg.Cut(); err != nil {
		return err
	}
	for k := range p.Ends {
		if err := s.ends(&p, k); err != nil {
			return err
		}
	}
	s.Parts[i], state[i] = p, 2
	return nil
}

// ends refuses an end of a part that was cut where it does not lie wholly on what it
// stands on.
func (s *Solved) ends(p *Part, k int) error {
	switch {
	case p.Ends[k].Kind == OnMember && p.Copes[k] != nil:
		return s.landsRound(p, k)
	case p.Ends[k].Kind == OnMember:
		return s.lands(p, k)
	case p.Ends[k].Kind == Lies:
		return s.packs(p, k)
	}
	return nil
}

// leg is a member as the saw's geometry knows it; at are the places that its axis
// goes through, d the way from its first end to its second.
func (s *Solved) leg(p *Part, at [2]r3.Vec, d r3.Vec) (bracket.Leg, error) {
	l := bracket.Leg{Name: p.Name, Shape: p.Shape, Saw: s.Saw, Axis: d}
	for k, in := range [2]r3.Vec{d, r3.Scale(-1, d)} { // from the end into the member
		f, err := s.endFace(p, k, at[k], in)
		if err != nil {
			return l, err
		}
		plate := p.Ends[k].Plate
		switch p.Ends[k].Kind {
		case Lies, Bolted, Inside:
			plate = 0
		}
		if k == 0 {
			l.Pad, l.PadPlate = f, plate
		} else {
			l.Rail, l.RailPlate = f, plate
		}
	}
	// The plates and the hosts may leave nothing between them.
	if r3.Dot(d, r3.Sub(l.Rail.Point, l.Pad.Point)) < 1 {
		return l, s.bad(&p.Member, "nothing is left of it between what it ends at; move its ends apart")
	}
	l.Up = p.Up
	if p.Roll != 0 {
		pose, err := bracket.FacePose(p.Name, bracket.Face{Normal: d}, p.Up)
		if err != nil {
			return l, s.bad(&p.Member, "the direction meant as up lies along it; choose one across it")
		}
		sin, cos := math.Sincos(p.Roll.Rad())
		// V is the pose's y; U, to the right of it seen from the first end, is d × V.
		l.Up = r3.Add(r3.Scale(cos, pose.Y), r3.Scale(sin, r3.Cross(d, pose.Y)))
	}
	return l, nil
}

// endFace is the face that an end is cut to, before its plate; in is the way from the
// end, which goes through at, into the member.
func (s *Solved) endFace(p *Part, k int, at, in r3.Vec) (bracket.Face, error) {
	e, f := &p.Ends[k], bracket.Face{Point: at, Normal: in}
	switch e.Kind {
	case Pad, Rail:
		f.Normal = e.Face.Normal
		return f, s.standsOn(p, e, in)
	case OnMember:
		if s.Parts[p.Host[k]].isRound() {
			return s.onRound(p, k, at, in)
		}
		side, n, err := facing(&s.Parts[p.Host[k]], in)
		if err != nil {
			return f, s.bad(&p.Member, "%v", err)
		}
		p.Side[k] = side
		if lean := geom.Between(n, in); lean > bracket.Steepest {
			return f, s.bad(&p.Member, "it runs along %s (%.1f° from square) and cannot stand on it; move its other end away from that", e.Host, lean.Degrees())
		}
		half := s.Parts[p.Host[k]].Half(side)
		return bracket.Face{Point: r3.Add(at, r3.Scale(half/r3.Dot(n, in), in)), Normal: n}, nil
	case Mitre:
		n, err := s.mitred(p, k, in)
		f.Normal = n
		return f, err
	case Lies, Pin, Bolted, Inside:
		f.Point = r3.Sub(at, r3.Scale(e.Past, in))
	case Square:
	}
	return f, nil
}

// standsOn refuses an end at a pad or on a rail that comes at its face from behind, runs
// along it or meets it elsewhere.
func (s *Solved) standsOn(p *Part, e *End, in r3.Vec) error {
	what := [...]string{Pad: "the pad", Rail: "the rail"}[e.Kind]
	n, err := geom.Unit(e.Face.Normal)
	if err != nil {
		return s.bad(&p.Member, "the face of %s does not say which way it looks", what)
	}
	lean := geom.Between(n, in)
	if lean > 90*geom.Deg {
		return s.bad(&p.Member, "it comes at %s from behind its face; turn the face or move its other end", what)
	}
	if lean > bracket.Steepest {
		return s.bad(&p.Member, "it runs along the face of %s (%.1f° from square) and cannot stand on it; move its other end off that face", what, lean.Degrees())
	}
	off := r3.Dot(n, r3.Sub(e.Face.Point, e.At))
	if math.Abs(off) > 0.01 {
		return s.bad(&p.Member, "its axis is to meet %s %.1f mm off its face; give a place on the face", what, math.Abs(off))
	}
	return nil
}

// Half is how far a side lies from the axis, mm.
func (p *Part) Half(side bracket.Side) float64 {
	b, h := p.sizes()
	if side == bracket.Top || side == bracket.Bottom {
		return h / 2
	}
	return b / 2
}

// sizes are those of the section across, along U and V.
func (p *Part) sizes() (b, h float64) {
	if k := p.Shape.Kind; k == section.RoundTube || k == section.RoundBar {
		return p.Shape.H, p.Shape.H
	}
	return p.Shape.B, p.Shape.H
}

// Looking is the side of a member that looks most along a direction, and which way
// that side looks.
func (p *Part) Looking(d r3.Vec) (side bracket.Side, looks r3.Vec) {
	most := math.Inf(-1)
	for k := bracket.Bottom; k <= bracket.Right; k++ {
		n := p.outward(k)
		if v := r3.Dot(n, d); v > most+1e-9 {
			side, looks, most = k, n, v
		}
	}
	return side, looks
}

// outward is the way a side of a member looks.
func (p *Part) outward(side bracket.Side) r3.Vec {
	switch side {
	case bracket.Top:
		return p.Cut.V
	case bracket.Bottom:
		return r3.Scale(-1, p.Cut.V)
	case bracket.Right:
		return p.Cut.U
	}
	return r3.Scale(-1, p.Cut.U)
}

// facing is the flat side of a host that looks most to a member which leaves it
// along a direction.
func facing(host *Part, out r3.Vec) (bracket.Side, r3.Vec, error) {
	switch host.Shape.Kind {
	case section.RectTube, section.FlatBar, section.Channel, section.Angle:
	default:
		return 0, r3.Vec{}, geom.PartFault("member", host.Name, "a %s has no flat side to lie on; take a box tube or a flat bar, or join there with a plate", host.Shape.Kind)
	}
	side, normal := host.Looking(out)
	if !host.Cut.HasSide(side) {
		return 0, r3.Vec{}, geom.PartFault("member", host.Name, "it is open on its %s side, where that member would stand; turn it by its roll", side)
	}
	return side, normal, nil
}

// lands refuses a member whose end lies beside the side of its host.
func (s *Solved) lands(p *Part, k int) error {
	host := &s.Parts[p.Host[k]]
	c, side := &host.Cut, p.Side[k]
	across, width := c.U, host.Shape.B
	if side == bracket.Left || side == bracket.Right {
		across, width = c.V, host.Shape.H
	}
	half, n := host.Half(side), host.outward(side)
	u, v := r3.Dot(n, c.U)*half, r3.Dot(n, c.V)*half
	for _, q := range p.Cut.Outline(k == 1, 2) {
		d := r3.Sub(q, c.Pad.At)
		if t := math.Abs(r3.Dot(across, d)); t > width/2+0.01 {
			return s.bad(&p.Member, "it lands %.1f mm beyond the edge of %s, whose %s side is %.1f mm wide; take a narrower one, or turn it", t-width/2, host.Name, side, width)
		}
		along := r3.Dot(c.Axis, d)
		if from, to := c.Line(u, v); along < from-0.01 || along > to+0.01 {
			return s.bad(&p.Member, "it lands %.1f mm beyond the end of %s; move it along", max(from-along, along-to), host.Name)
		}
	}
	return nil
}

// seat finds where the pad lies over the member that carries its plate.
func (s *Solved) seat(index map[string]int) error {
	i, ok := index[s.Perch]
	if !ok {
		return geom.PartFault("assembly", s.Name, "the pad's plate is to lie on %q, which is no member of this mount", s.Perch)
	}
	p := &s.Parts[i]
	s.perch, s.PerchAlong = i, r3.Dot(p.Cut.Axis, r3.Sub(s.Pad, p.Cut.Pad.At))
	if !(s.PerchAlong >= 0 && s.PerchAlong <= p.Cut.Length) {
		return s.bad(&p.Member, "the pad lies %.1f mm beyond its end; make it longer", max(-s.PerchAlong, s.PerchAlong-p.Cut.Length))
	}
	return nil
}
