package assembly

import (
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

// Frame works out the stiffness with all feet held: the parts on their middle lines,
// those of channels and angles
// through their centroids, stiff arms from there to the faces they stand on. An assembly that can move without
// bending is a frame.MechanismError.
func (s *Solved) Frame() (*Frame, error) { return s.FrameOn(Held) }

// FrameOn is the same with the feet fixed another way.
func (s *Solved) FrameOn(fixed Fixing) (*Frame, error) {
	f := frame.Frame{Name: s.Name, Nodes: []frame.Node{{Name: "the pad", At: s.Pad}}}
	stations, err := s.stations(&f, fixed)
	if err != nil {
		return nil, err
	}
	out := &Frame{solved: s, pieces: make([][]piece, len(s.Parts))}
	for i := range s.Parts {
		if err := s.members(&f, i, stations[i], fixed, out); err != nil {
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

// members makes the stretches of a part between its stations.
func (s *Solved) members(f *frame.Frame, i int, stations []station, fixed Fixing, out *Frame) error {
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
			at := r3.Add(p.Cut.Off(p.Cut.Pad.At, p.Cut.Centroid), r3.Scale(x.along, p.Cut.Axis))
			m.Offset[e] = r3.Sub(at, f.Nodes[x.node].At)
		}
		if k == 1 {
			m.Free[0] = s.turns(i, 0, fixed)
		}
		if k == len(stations)-1 {
			m.Free[1] = s.turns(i, 1, fixed)
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
