package frame

import (
	"math"
	"slices"
	"sync"

	"fitup/internal/geom/tape"

	"gonum.org/v1/gonum/spatial/r3"
)

// Plan is the survey seen from above, for a drawing that shows by how much its
// points are off: mm, X to the rear and Y to the driver's right, in the survey's
// datum.
type Plan struct {
	Points  []PlanPoint
	Members [][2]int // what is built between points: rails, cross lines, axles
	Tapes   []PlanTape
	Next    []int // the points of the measurement to take next: two, or of an offset the point and the ends of the string
}

// PlanPoint is a point where it is and where it would be with the frame square:
// both ends of a cross line at the same station and equally far from the centre
// line, as wide as the pair is to be, or as it is. One of neither rail nor axle is
// where it would be.
type PlanPoint struct {
	Path, Name string
	At, Ideal  r3.Vec
	Ellipse    tape.Ellipse // standard uncertainties; from X to Y
	Judged     bool         // it has a place of its own in a square frame
}

// Off is how far the point is from where it would be, mm.
func (p PlanPoint) Off() float64 { return math.Hypot(p.At.X-p.Ideal.X, p.At.Y-p.Ideal.Y) }

// PlanTape is a measurement between two points.
type PlanTape struct {
	From, To int
	Out      bool // it was left out as a slip
	Suspect  bool // it does not fit, and is still in
}

// Plan is the last survey from above; nothing when it places no points.
func (r *Result) Plan() Plan {
	if !r.Given() || r.Now.plan == nil {
		return Plan{}
	}
	return r.Now.plan()
}

func (s *Survey) planned() func() Plan {
	return sync.OnceValue(func() Plan {
		p := Plan{}
		n := s.net
		by, a := map[string]int{}, n.axes()
		for i, q := range s.Points() {
			by[q.Path] = i
			at := level(a.place(n.here, n.here(q.Path)))
			p.Points = append(p.Points, PlanPoint{Path: q.Path, Name: q.Name, At: at, Ideal: at, Ellipse: q.Ellipse})
		}
		if p.straighten(n, by); s.unfit() != "" { // about where they are, and no more
			for i := range p.Points {
				p.Points[i].Ideal, p.Points[i].Judged = p.Points[i].At, false
			}
		}
		for _, t := range s.Lines {
			a, okA := by[t.From]
			b, okB := by[t.To]
			if okA && okB {
				suspect := slices.ContainsFunc(s.Suspects, func(x Suspect) bool { return x.Line.Index == t.Index })
				p.Tapes = append(p.Tapes, PlanTape{From: a, To: b, Out: t.Out, Suspect: suspect && !t.Out})
			}
		}
		if s.next != nil {
			for _, path := range s.next().points {
				if i, ok := by[path]; ok {
					p.Next = append(p.Next, i)
				}
			}
		}
		return p
	})
}

// straighten gives rails and axles their places in a square frame, and joins them.
func (p *Plan) straighten(n *network, by map[string]int) {
	s := n.build.Survey
	pair := func(l, r string, width float64) (a, b int, ok bool) {
		a, okA := by[l]
		b, okB := by[r]
		if !okA || !okB {
			return 0, 0, false
		}
		x, y := p.Points[a].At, p.Points[b].At
		if width <= 0 {
			width = math.Abs(y.Y - x.Y)
		}
		p.Points[a].Ideal = r3.Vec{X: (x.X + y.X) / 2, Y: -width / 2}
		p.Points[b].Ideal = r3.Vec{X: (x.X + y.X) / 2, Y: width / 2}
		p.Points[a].Judged, p.Points[b].Judged = true, true
		p.Members = append(p.Members, [2]int{a, b})
		return a, b, true
	}
	before := [2]int{-1, -1}
	for i := range min(len(s.Left), len(s.Right)) {
		width := 0.0
		if w := wanted(n.build, i); w.Known {
			width = w.V
		}
		a, b, ok := pair(s.Left[i], s.Right[i], width)
		if !ok {
			continue
		}
		if before[0] >= 0 {
			p.Members = append(p.Members, [2]int{before[0], a}, [2]int{before[1], b})
		}
		before = [2]int{a, b}
	}
	for _, a := range axlesOf(s) {
		pair(a.of[0], a.of[1], 0)
	}
}
