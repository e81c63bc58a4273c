package assembly

import (
	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r3"
)

// RailFoot is where a crossmember stands on one rail.
type RailFoot struct {
	Name string       // left rail
	Face bracket.Face // looks to the crossmember
	Foot r3.Vec       // on that face: where a leg's axis meets it, or the middle of what lies on it
}

// Span is where a crossmember stands: under its pad, between two rails, the left one
// first.
type Span struct {
	Pad       bracket.Face // looks to what stands on it
	PadPlate  float64      // plate and weld gap between the pad's face and the beam, mm
	Rails     [2]RailFoot
	RailPlate float64
	// Ears or Sockets hold its ends, which run on Past mm past their bolts; where both are
	// nil it stands on the rails itself.
	Ears    *Ears
	Sockets *Sockets
	Past    float64
}

// beam is the middle line of what lies flat under the pad's plate, left to right, and
// how its sections stand.
func (s *Span) beam(part string, shape section.Shape) (middle, d, up r3.Vec, err error) {
	n, err := geom.Unit(s.Pad.Normal)
	if err != nil {
		return middle, d, n, geom.PartFault("member", part, "the pad's face does not say which way it looks")
	}
	if d, err = geom.Unit(r3.Sub(r3.Vec{Y: 1}, r3.Scale(n.Y, n))); err != nil {
		return middle, d, n, geom.PartFault("member", part, "the pad looks across the vehicle; a crossmember lies under a pad that looks up or down")
	}
	return r3.Sub(s.Pad.Point, r3.Scale(s.PadPlate+shape.H/2, n)), d, n, nil
}

// StraightCrossmember is a beam from rail to rail, flat under the pad's plate. It ends
// at the rails' faces where they look to each other; where they look up or down it
// lies on them and runs on past its feet by past mm. After it come its ears or sockets.
func StraightCrossmember(s Span, shape section.Shape, past float64) ([]Member, error) {
	middle, d, up, err := s.beam(Beam, shape)
	if err != nil {
		return nil, err
	}
	if !(past >= 0) || !geom.LoadOK(past) {
		return nil, geom.PartFault("member", Beam, "it cannot run on %g mm past its feet", past)
	}
	m := Member{Name: Beam, Shape: shape, Up: up}
	for k, r := range s.Rails {
		n, err := geom.Unit(r.Face.Normal)
		if err != nil {
			return nil, geom.PartFault("member", Beam, "the face of the %s does not say which way it looks", r.Name)
		}
		e := End{Kind: Rail, Face: r.Face, Plate: s.RailPlate, On: r.Name}
		if across := r3.Dot(n, d); across > 0.5 || across < -0.5 {
			e.At = r3.Add(middle, r3.Scale(r3.Dot(n, r3.Sub(r.Face.Point, middle))/across, d))
		} else {
			e.Kind, e.Past = Lies, past
			e.At = r3.Add(middle, r3.Scale(r3.Dot(r3.Sub(r.Foot, middle), d), d))
		}
		m.Ends[k] = e
	}
	out := []Member{m}
	for k := range s.Rails {
		held, err := s.hold(&out[0], k, r3.Cross(d, up))
		if err != nil {
			return nil, err
		}
		out = append(out, held...)
	}
	return out, nil
}

// DroppedCrossmember is a beam under the pad's plate, between mm long from knee to
// knee, and a leg from each knee down or up to its rail. The pad is over its middle. After
// them come its ears or sockets.
func DroppedCrossmember(s Span, shape section.Shape, between float64) ([]Member, error) {
	if !geom.LengthOK(between) {
		return nil, geom.PartFault("member", Beam, "it is %g mm from knee to knee; more than 0 is wanted", between)
	}
	middle, d, up, err := s.beam(Beam, shape)
	if err != nil {
		return nil, err
	}
	x := r3.Cross(d, up) // fore and aft: the knees turn about it
	out := []Member{{Name: LeftLeg, Shape: shape}, {Name: Beam, Shape: shape, Up: up}, {Name: RightLeg, Shape: shape}}
	for k, r := range s.Rails {
		knee := r3.Add(middle, r3.Scale((float64(k)-0.5)*between, d))
		foot := End{Kind: Rail, At: r.Foot, Face: r.Face, Plate: s.RailPlate, On: r.Name}
		if s.Ears != nil { // the leg goes to their bolt, which stands off the foot
			if n, err := geom.Unit(r.Face.Normal); err == nil {
				if n, err = earsWay(n, x); err == nil {
					foot.Kind, foot.At = Bolted, r3.Add(r.Foot, r3.Scale(s.Ears.Out, n))
				}
			}
		}
		way := r3.Sub(foot.At, knee) // left to right, as the beam runs
		if k == 0 {
			way = r3.Scale(-1, way)
		}
		leg := &out[2*k]
		leg.Up = r3.Cross(x, way)
		leg.Ends[k] = foot
		leg.Ends[1-k] = End{Kind: Mitre, At: knee, Host: Beam}
		out[1].Ends[k] = End{Kind: Mitre, At: knee, Host: leg.Name}
	}
	for k := range s.Rails {
		held, err := s.hold(&out[2*k], k, x)
		if err != nil {
			return nil, err
		}
		out = append(out, held...)
	}
	return out, nil
}
