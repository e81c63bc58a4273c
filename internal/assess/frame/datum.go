package frame

import (
	"slices"

	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// upright turns the places found from distances over where left and right have
// come out the wrong way round, and lays the centre line along X; false where neither
// rails nor axles say which side is which.
func (n *network) upright() bool {
	x := n.net.Problem().Start
	at := func(path string) (r3.Vec, bool) {
		i, ok := n.index[path]
		if !ok {
			return r3.Vec{}, false
		}
		return n.net.Where(i, x), true
	}
	s := n.build.Survey
	front, rear, side, ok := frontRear(s, at)
	if !ok {
		return false
	}
	along := r3.Unit(level(r3.Sub(rear, front)))
	right := r3.Vec{X: -along.Y, Y: along.X} // where +Y goes when +X is along
	if r3.Dot(right, side) < 0 {
		right = r3.Scale(-1, right)
	}
	n.net.Turn(func(p r3.Vec) r3.Vec {
		d := r3.Sub(p, front)
		return r3.Vec{X: r3.Dot(d, along), Y: r3.Dot(d, right), Z: p.Z}
	})
	return true
}

func level(p r3.Vec) r3.Vec { return r3.Vec{X: p.X, Y: p.Y} }

// frontRear returns two places on the centre line, front and rear, and a direction
// to the right: by the axles, or else by the rails' first and last pairs.
func frontRear(s project.Survey, at func(path string) (r3.Vec, bool)) (front, rear, side r3.Vec, ok bool) {
	middle := func(l, r string) (m, side r3.Vec, ok bool) {
		a, okA := at(l)
		b, okB := at(r)
		return level(r3.Scale(0.5, r3.Add(a, b))), level(r3.Sub(b, a)), okA && okB
	}
	if len(s.FrontAxle) == 2 && len(s.RearAxle) == 2 {
		f, side, okF := middle(s.FrontAxle[0], s.FrontAxle[1])
		r, _, okR := middle(s.RearAxle[0], s.RearAxle[1])
		if okF && okR {
			return f, r, side, f != r
		}
	}
	if k := len(s.Left) - 1; k >= 1 && len(s.Right) == len(s.Left) {
		f, side, okF := middle(s.Left[0], s.Right[0])
		r, _, okR := middle(s.Left[k], s.Right[k])
		return f, r, side, okF && okR && f != r
	}
	return r3.Vec{}, r3.Vec{}, r3.Vec{}, false
}

// axes turn places into the survey's datum.
type axes struct {
	of    []string // the points it goes by
	place func(at func(string) r3.Vec, p r3.Vec) r3.Vec
}

func (n *network) axes() axes {
	s := n.build.Survey
	same := axes{place: func(_ func(string) r3.Vec, p r3.Vec) r3.Vec { return p }}
	if !n.free || s.Datum == project.FreeDatum {
		return same
	}
	has := func(at func(string) r3.Vec) func(string) (r3.Vec, bool) {
		return func(p string) (r3.Vec, bool) {
			if _, ok := n.index[p]; !ok {
				return r3.Vec{}, false
			}
			return at(p), true
		}
	}
	x := n.fit.X
	here := func(p string) r3.Vec { return n.net.Where(n.index[p], x) }
	if _, _, _, ok := frontRear(s, has(here)); !ok {
		return same
	}
	of, _, _ := n.lineOf()
	rails := s.Datum == project.RailsDatum && len(s.Left) > 1 && n.has(s.Left) && n.has(s.Right)
	if k := len(s.Left) - 1; rails {
		of = append(slices.Clone(of), s.Left[0], s.Right[0], s.Left[k], s.Right[k])
	}
	return axes{of, func(at func(string) r3.Vec, p r3.Vec) r3.Vec {
		front, rear, _, _ := frontRear(s, has(at))
		along := r3.Unit(r3.Sub(rear, front))
		if k := len(s.Left) - 1; rails {
			l := r3.Unit(level(r3.Sub(at(s.Left[k]), at(s.Left[0]))))
			r := r3.Unit(level(r3.Sub(at(s.Right[k]), at(s.Right[0]))))
			along = r3.Unit(r3.Add(l, r))
		}
		d := r3.Sub(p, front)
		return r3.Vec{X: r3.Dot(d, along), Y: along.X*d.Y - along.Y*d.X, Z: p.Z}
	}}
}
