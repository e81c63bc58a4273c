package assembly

import (
	"math"
	"slices"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/frame"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r3"
)

// Frame is an assembly whose stiffness is worked out, for one load case after
// another.
type Frame struct {
	solved *Solved
	ready  *frame.Ready
	unit   [6]*frame.Result
	pieces [][]piece // of each part, from its first end to its second
}

// piece is a stretch of a part between two nodes.
type piece struct {
	member   int     // of the frame
	from, to float64 // mm along the part's axis
}

// unitLoad is what the frame is solved under, N; moments are a unitLoad at a
// unitArm.
const (
	unitLoad = 1000.0
	unitArm  = 100.0
)

// station is a place on a part's axis where something is fixed to it.
type station struct {
	along float64
	node  int
}

// Frame works out the stiffness: the parts on their middle lines, stiff arms
// from there to the faces they stand on, held where they stand on a rail. An
// assembly that can move without bending is a frame.MechanismError.
func (s *Solved) Frame() (*Frame, error) {
	f := frame.Frame{Name: s.Name, Nodes: []frame.Node{{Name: "the pad", At: s.Pad}}}
	stations, err := s.stations(&f)
	if err != nil {
		return nil, err
	}
	out := &Frame{solved: s, pieces: make([][]piece, len(s.Parts))}
	for i := range s.Parts {
		if err := s.members(&f, i, stations[i], out); err != nil {
			return nil, err
		}
	}
	if out.ready, err = frame.Prepare(&f); err != nil {
		return nil, err
	}
	for k := range out.unit {
		load := frame.NodeLoad{Node: 0}
		way := [3]r3.Vec{{X: unitLoad}, {Y: unitLoad}, {Z: unitLoad}}[k%3]
		if k < 3 {
			load.Force = way
		} else {
			load.Moment = r3.Scale(unitArm, way)
		}
		if out.unit[k], err = out.ready.Solve(frame.Case{Name: "a push on the pad", Nodes: []frame.NodeLoad{load}}); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// stations makes the nodes: of each part those at its ends, where others stand on
// it, and under the pad. The first node of the frame is the pad.
func (s *Solved) stations(f *frame.Frame) ([][]station, error) { //nolint:gocyclo // a case for each kind of end
	stations := make([][]station, len(s.Parts))
	at := func(i int, along float64) r3.Vec {
		return r3.Add(s.Parts[i].Cut.Pad.At, r3.Scale(along, s.Parts[i].Cut.Axis))
	}
	add := func(i int, along float64, name string, held frame.Six) {
		for _, k := range stations[i] {
			if math.Abs(k.along-along) < 1e-3 {
				return
			}
		}
		stations[i] = append(stations[i], station{along, len(f.Nodes)})
		f.Nodes = append(f.Nodes, frame.Node{Name: name, At: at(i, along), Held: held})
	}
	if s.perch >= 0 {
		stations[s.perch] = append(stations[s.perch], station{s.PerchAlong, 0})
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		for k, along := range [2]float64{0, p.Cut.Length} {
			if p.Ends[k].Kind == Pad {
				stations[i] = append(stations[i], station{along, 0})
			}
		}
	}
	for i := range s.Parts { // hosts before those that stand on them
		p := &s.Parts[i]
		for k := range p.Host {
			if h := p.Host[k]; h >= 0 {
				add(h, p.Ends[k].Along, p.Name+" on "+s.Parts[h].Name, frame.Six{})
			}
		}
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		for k, along := range [2]float64{0, p.Cut.Length} {
			switch p.Ends[k].Kind {
			case Square:
				add(i, along, "the free end of "+p.Name, frame.Six{})
			case Rail:
				held := frame.Welded
				if p.Ends[k].Ball {
					held = frame.Ball
				}
				for _, x := range stations[i] {
					if math.Abs(x.along-along) < 1e-3 {
						return nil, s.bad(&p.Member, "something stands on it right where it meets the rail; stand that on the rail")
					}
				}
				add(i, along, "the foot of "+p.Name, held)
			case OnMember:
				h := p.Host[k]
				for _, x := range stations[h] {
					if math.Abs(x.along-p.Ends[k].Along) < 1e-3 {
						stations[i] = append(stations[i], station{along, x.node})
						break
					}
				}
			case Pad:
			}
		}
	}
	for i := range stations {
		slices.SortStableFunc(stations[i], func(a, b station) int {
			if a.along < b.along {
				return -1
			}
			return 1
		})
	}
	return stations, nil
}

// members makes the stretches of a part between its stations.
func (s *Solved) members(f *frame.Frame, i int, stations []station, out *Frame) error {
	p := &s.Parts[i]
	stock, err := frame.Stock(p.Shape)
	if err != nil {
		return err
	}
	for k := 1; k < len(stations); k++ {
		a, b := stations[k-1], stations[k]
		if b.along-a.along < 1e-3 {
			continue
		}
		m := frame.Member{
			Name: p.Name, Ends: [2]int{a.node, b.node}, Section: stock, Up: p.Cut.V,
			Material: frame.Material{E: section.SteelE, G: section.SteelG, Density: section.SteelDensity},
		}
		for e, x := range [2]station{a, b} {
			at := r3.Add(p.Cut.Pad.At, r3.Scale(x.along, p.Cut.Axis))
			m.Offset[e] = r3.Sub(at, f.Nodes[x.node].At)
		}
		if p.Ends[0].Ball && p.Ends[0].Kind != Rail && k == 1 {
			m.Free[0] = frame.Hinge
		}
		if p.Ends[1].Ball && p.Ends[1].Kind != Rail && k == len(stations)-1 {
			m.Free[1] = frame.Hinge
		}
		out.pieces[i] = append(out.pieces[i], piece{len(f.Members), a.along, b.along})
		f.Members = append(f.Members, m)
	}
	return nil
}

// Under is the frame under a force (N, vehicle axes) that acts at a place (mm) and
// is handed to the pad.
func (f *Frame) Under(force, at r3.Vec) (*frame.Result, error) {
	m := r3.Cross(r3.Sub(at, f.solved.Pad), force)
	terms := make([]frame.Term, 6)
	for k, v := range [6]float64{force.X, force.Y, force.Z, m.X, m.Y, m.Z} {
		by := unitLoad
		if k >= 3 {
			by *= unitArm
		}
		terms[k] = frame.Term{Result: f.unit[k], Times: v / by}
	}
	return f.ready.Sum("a load on the pad", terms...)
}

// Stress is the worst screening stress along a part, and how far from its first
// cut that is, mm.
func (f *Frame) Stress(r *frame.Result, part int) (worst frame.Stress, at float64, err error) {
	for i, p := range f.pieces[part] {
		s, err := r.WorstOf(p.member)
		if err != nil {
			return worst, 0, err
		}
		if i == 0 || s.Equivalent > worst.Equivalent {
			worst, at = s, p.from+s.At
		}
	}
	return worst, at, nil
}

// AtEnd is what acts on a part at one of its cuts, vehicle axes, about where its
// axis meets the cut.
func (f *Frame) AtEnd(r *frame.Result, part, end int) (r3.Vec, frame.Push) {
	pieces := f.pieces[part]
	if end == 0 {
		return r.AtEnd(pieces[0].member, 0)
	}
	return r.AtEnd(pieces[len(pieces)-1].member, 1)
}

// swayed is the effective length of a part as a strut over its own: one end held,
// the other free to go aside, which is the worst of all frames.
const swayed = 2

// Strut is how much of what it takes as a strut a part uses: pressure over its
// buckling resistance after EN 1993-1-1, 6.3.1.2, curve c, at twice its length,
// and the bending stress beside it, larger by 1/(1 − N/Ncr), over the yield (MPa).
// A part that is not pressed anywhere uses nothing. γM1 is 1. A screening figure.
func (f *Frame) Strut(r *frame.Result, part int, yield float64) (float64, error) {
	if !(yield >= 10 && yield <= 3000) {
		return 0, geom.PartFault("member", f.solved.Parts[part].Name, "a yield of %g MPa is no metal; S235 has 235", yield)
	}
	p := &f.solved.Parts[part]
	props := p.Cut.Section
	pressed, bent := 0.0, 0.0
	for _, q := range f.pieces[part] {
		for _, x := range [2]float64{0, q.to - q.from} {
			pressed = max(pressed, -r.Inside(q.member, x).Axial)
			s, err := r.StressAt(q.member, x)
			if err != nil {
				return 0, err
			}
			bent = max(bent, math.Abs(s.BendY)+math.Abs(s.BendZ))
		}
	}
	if pressed <= 0 {
		return 0, nil
	}
	euler, err := bracket.Buckling(p.Name, section.SteelE, math.Min(props.Iy, props.Iz), p.Cut.Length, swayed)
	if err != nil {
		return 0, err
	}
	holds := Chi(props.Area*yield/euler) * props.Area * yield
	used := pressed / holds
	if pressed < euler {
		used += bent / yield / (1 - pressed/euler)
	}
	return used, nil
}

// Chi is the reduction of a strut's resistance by its slenderness squared, A fy
// over its Euler load: EN 1993-1-1, 6.3.1.2, curve c (α = 0.49).
func Chi(slenderness2 float64) float64 {
	const alpha = 0.49
	l := math.Sqrt(max(0, slenderness2))
	if l <= 0.2 {
		return 1
	}
	phi := 0.5 * (1 + alpha*(l-0.2) + l*l)
	return min(1, 1/(phi+math.Sqrt(phi*phi-l*l)))
}
