package assembly

import (
	"math"
	"slices"

	"fitup/internal/geom"
	"fitup/internal/geom/frame"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r3"
)

// Ears hold an end of a crossmember at each rail: two flat bars square on the rail's face,
// one before and one behind the end, with a bolt through all three. mm.
type Ears struct {
	Shape section.Shape // a flat bar: B is its thickness
	Out   float64       // of the bolt from the rail's face, square; not asked where the beam runs along that face
	Past  float64       // that the ears run on past the bolt
}

// Sockets hold one too: a tube on the rail's face that the end slides into, with a bolt
// through both. mm.
type Sockets struct {
	Shape  section.Shape
	Out    float64 // of the bolt from the rail's face, along the socket
	Length float64 // of the socket from the rail's face to its mouth
}

// SocketOf is what the socket at a rail is called.
func SocketOf(side string) string { return side + " socket" }

// EarsOf are the front ear and the rear one.
func EarsOf(side string) [2]string { return [2]string{side + " " + FrontEar, side + " " + RearEar} }

// sides are what the two rails' ears and sockets are called by.
var sides = [2]string{"left", "right"}

// hold turns an end that stands on a rail into one that ears or a socket hold, and
// returns those; m is the member, k the end of it, left first, rear the way rearward
// square to it. The end's place is where its axis meets the rail's face, or over its
// foot where it runs along that face, or that of its bolt where it is Bolted.
func (s *Span) hold(m *Member, k int, rear r3.Vec) ([]Member, error) {
	e := &m.Ends[k]
	if s.Ears == nil && s.Sockets == nil {
		return nil, nil
	}
	switch m.Shape.Kind {
	case section.RectTube, section.RoundTube:
	default:
		return nil, geom.PartFault("member", m.Name, "a %s is not held by a bolt through its end; take a tube", m.Shape.Kind)
	}
	n, err := geom.Unit(e.Face.Normal)
	if err != nil {
		return nil, geom.PartFault("member", m.Name, "the face of %s does not say which way it looks", e.On)
	}
	in, err := geom.Unit(r3.Sub(m.Ends[1-k].At, e.At)) // from the rail into the member
	if err != nil {
		return nil, geom.PartFault("member", m.Name, "both its ends are at the same place, so it has no length; move one of them")
	}
	if !geom.LengthOK(s.Past) {
		return nil, geom.PartFault("member", m.Name, "it runs on %g mm past its bolts; more than 0 is wanted", s.Past)
	}
	if s.Sockets != nil {
		return s.inSocket(m, k, in)
	}
	return s.betweenEars(m, k, n, in, rear)
}

func (s *Span) inSocket(m *Member, k int, in r3.Vec) ([]Member, error) {
	e, x, name := &m.Ends[k], s.Sockets, SocketOf(sides[k])
	switch {
	case e.Kind == Lies:
		return nil, geom.PartFault("member", m.Name, "it runs along the face of the %s and slides into no socket there; take ears or sleeves", e.On)
	case !geom.LengthOK(x.Out) || !geom.LengthOK(x.Length):
		return nil, geom.PartFault("member", name, "it is %g mm long, its bolt at %g mm; more than 0 is wanted of both", x.Length, x.Out)
	case x.Out >= x.Length:
		return nil, geom.PartFault("member", name, "its bolt would be %.1f mm past its mouth; make it longer", x.Out-x.Length)
	}
	foot := e.At
	socket := Member{Name: name, Shape: x.Shape, Up: m.Up, Ends: [2]End{
		{Kind: Rail, At: foot, Face: e.Face, Plate: e.Plate, On: e.On},
		{Kind: Square, At: r3.Add(foot, r3.Scale(x.Length, in))},
	}}
	*e = End{Kind: Inside, At: r3.Add(foot, r3.Scale(x.Out, in)), Face: e.Face, Plate: e.Plate, Host: name, Past: s.Past, On: e.On}
	return []Member{socket}, nil
}

func (s *Span) betweenEars(m *Member, k int, n, in, rear r3.Vec) ([]Member, error) {
	e, x := &m.Ends[k], s.Ears
	switch {
	case x.Shape.Kind != section.FlatBar:
		return nil, geom.PartFault("member", EarsOf(sides[k])[0], "a %s is no ear; take a flat bar", x.Shape.Kind)
	case !geom.LengthOK(x.Past):
		return nil, geom.PartFault("member", EarsOf(sides[k])[0], "it runs on %g mm past its bolt; more than 0 is wanted", x.Past)
	case e.Kind != Lies && !geom.LengthOK(x.Out):
		return nil, geom.PartFault("member", EarsOf(sides[k])[0], "its bolt is %g mm from the rail; more than 0 is wanted", x.Out)
	}
	at := e.At
	if e.Kind == Rail {
		at = r3.Add(at, r3.Scale(x.Out/max(r3.Dot(n, in), 1e-3), in))
	}
	way, err := earsWay(n, rear)
	if err != nil {
		return nil, geom.PartFault("member", EarsOf(sides[k])[0], "the face of the %s looks fore and aft; ears stand one behind the other", e.On)
	}
	up := r3.Cross(way, rear)
	if up.Z < -1e-9 || math.Abs(up.Z) <= 1e-9 && up.Y < 0 {
		up = r3.Scale(-1, up)
	}
	wide := m.Shape.B
	if m.Shape.Kind == section.RoundTube {
		wide = m.Shape.H
	}
	out := make([]Member, 2)
	for i, name := range EarsOf(sides[k]) {
		bolt := r3.Add(at, r3.Scale((float64(i)-0.5)*(wide+x.Shape.B), rear))
		foot := r3.Sub(bolt, r3.Scale(r3.Dot(n, r3.Sub(bolt, e.Face.Point))/r3.Dot(n, way), way))
		out[i] = Member{Name: name, Shape: x.Shape, Up: up, Ends: [2]End{
			{Kind: Rail, At: foot, Face: e.Face, Plate: e.Plate, On: e.On},
			{Kind: Bolted, At: bolt, Past: x.Past, Bolt: sides[k], On: e.On},
		}}
	}
	*e = End{Kind: Bolted, At: at, Face: e.Face, Plate: e.Plate, Past: s.Past, On: e.On, Bolt: sides[k], Turns: true}
	return out, nil
}

// earsWay is the way that ears stand off a face: they lie against the member's sides, to
// which rear is square, and stand as square on the face as that lets them.
func earsWay(n, rear r3.Vec) (r3.Vec, error) {
	way, err := geom.Unit(r3.Sub(n, r3.Scale(r3.Dot(n, rear), rear)))
	if err == nil && r3.Dot(way, n) < 0.5 {
		err = geom.PartFault("ears", "", "they would lie along the face")
	}
	return way, err
}

// clearOfRails refuses ends held by ears or a socket that reach into what those stand on,
// and what does not go into its socket.
func (s *Solved) clearOfRails() error {
	for i := range s.Parts {
		p := &s.Parts[i]
		for k := range p.Ends {
			e := &p.Ends[k]
			if e.Kind != Inside && !(e.Kind == Bolted && e.Turns) {
				continue
			}
			n, err := geom.Unit(e.Face.Normal)
			if err != nil {
				return s.bad(&p.Member, "the face of %s does not say which way it looks", e.On)
			}
			room := math.Inf(1)
			for end := range 2 { // of one that runs along the face, all of it
				for _, q := range p.Cut.Outline(end == 1, 4) {
					room = min(room, r3.Dot(n, r3.Sub(q, e.Face.Point))-e.Plate)
				}
			}
			if room < leastRoom {
				return s.bad(&p.Member, "it stands %.1f mm clear of the %s, and %g mm are wanted so that it goes in: set its bolt farther out, let it run less past that, or move the pad", room, e.On, leastRoom)
			}
			if e.Kind == Inside {
				if _, err := s.Fit(i, k); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// leastRoom is what an end wants to the rail that it is put between, mm. Common practice,
// no source.
const leastRoom = 1.0

// Play is the room that a member's end has in its socket, mm: in all, across its width and
// across its height, and how far it reaches in.
type Play struct{ Across, High, Reach float64 }

// Fit is the play of a member's end in its socket, or why it does not go in.
func (s *Solved) Fit(i, k int) (Play, error) {
	p := &s.Parts[i]
	host := &s.Parts[p.Host[k]]
	a, b := p.Shape, host.Shape
	if a.Kind != b.Kind {
		return Play{}, s.bad(&p.Member, "a %s has no fit in %s, which is a %s; take a piece of the same kind, a size larger", a.Kind, host.Name, b.Kind)
	}
	var f Play
	f.High = b.H - 2*b.T - a.H
	f.Across = f.High
	corner := 0.0
	if a.Kind == section.RectTube {
		f.Across = b.B - 2*b.T - a.B
		// Rounded outside in rounded inside: how much play the larger radius inside takes.
		if d := host.Cut.Section.Inner - p.Cut.Section.Outer; d > 0 {
			corner = 2 * d * (1 - 1/math.Sqrt2)
		}
	}
	tight := min(f.High, f.Across)
	switch {
	case tight < 0:
		return f, s.bad(&p.Member, "it does not go into %s: it is %.1f mm too large for the room inside; take a larger socket", host.Name, -tight)
	case tight < corner:
		return f, s.bad(&p.Member, "it does not go into %s: its corners are sharper than those inside and want %.1f mm of play, and there are %.1f mm; take a larger socket, or a hot finished one", host.Name, corner, tight)
	}
	mouth := r3.Dot(host.Cut.Axis, r3.Sub(host.Cut.Rail.At, p.Ends[k].At))
	f.Reach = mouth + p.Ends[k].Past
	return f, nil
}

// Through is a bolt through ears or a socket: by the member that turns on it.
type Through struct {
	Part, End int
	Ears      []int // the parts beside it; the socket where there are none
	Socket    int   // -1 where it is held by ears
}

// Through are the bolts through ears and sockets, those on the left first.
func (s *Solved) Through() (out []Through) {
	for i := range s.Parts {
		for k := range s.Parts[i].Ends {
			e := &s.Parts[i].Ends[k]
			switch {
			case e.Kind == Inside:
				out = append(out, Through{Part: i, End: k, Socket: s.Parts[i].Host[k]})
			case e.Kind == Bolted && e.Turns:
				x := Through{Part: i, End: k, Socket: -1}
				for j := range s.Parts {
					if o := &s.Parts[j].Ends[1]; o.Kind == Bolted && !o.Turns && o.Bolt == e.Bolt {
						x.Ears = append(x.Ears, j)
					}
				}
				out = append(out, x)
			}
		}
	}
	return out
}

// Jointed reports whether its members are held by bolts through ears or sockets.
func (s *Solved) Jointed() bool { return len(s.Through()) > 0 }

// Slides reports whether one of the ends that bolts hold can slide across the vehicle in a
// longer hole: one in a socket only where that lies across.
func (s *Solved) Slides() bool {
	all := s.Through()
	return len(all) == 0 || slices.ContainsFunc(all, func(x Through) bool {
		return x.Socket < 0 || math.Abs(s.Parts[x.Part].Cut.Axis.Y) > steepSocket
	})
}

// sliding is the bolt at the end that is free to go across the vehicle; false where none is.
func (s *Solved) sliding(fixed Fixing) (x Through, ok bool) {
	all := s.Through()
	switch {
	case len(all) == 0:
		return x, false
	case fixed == Sliding:
		return all[len(all)-1], true
	case fixed == SlidingFirst:
		return all[0], true
	}
	return x, false
}

// steepSocket is how much of its way across the vehicle a socket goes at least for what is
// in it to slide: in one that is nearly upright what it carries holds it down.
const steepSocket = 0.3

// turns is what an end that a bolt holds is free to do, along and about the member's own
// axes of package frame: y there is the way of the bolt.
func (s *Solved) turns(i, k int, fixed Fixing) (free frame.Six) {
	e := &s.Parts[i].Ends[k]
	if fixed == Held || e.Kind != Inside && !(e.Kind == Bolted && e.Turns) {
		return free
	}
	across := math.Abs(s.Parts[i].Cut.Axis.Y)
	free.TurnY = true
	free.TurnZ = e.Kind == Inside && across > steepSocket // its play; not against tipping fore and aft
	if x, ok := s.sliding(fixed); ok && x.Part == i && x.End == k {
		switch {
		case e.Kind == Inside:
			free.X = across > steepSocket
		case across > math.Sqrt2/2:
			free.X = true
		default:
			free.Z = true
		}
	}
	return free
}
