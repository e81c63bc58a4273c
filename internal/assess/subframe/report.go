package subframe

import (
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// of is a figure of the subframe.
type of func(s *state) float64

// state is what figures are of: the subframe where it hangs and where it is to hang, and its
// points on the bench.
type state struct {
	now, set geom.Pose
	own      []r3.Vec
}

// turned is what comes out when one number is some more, and as much less.
type turned struct {
	up, down state
	step     float64
}

func (t *turned) slope(f of) float64 {
	return (f(&t.up) - f(&t.down)) / (2 * t.step)
}

// turns are the states about the one found, by each number of the fit, of the bench and of
// what is wanted; worked out once for all figures.
type turns struct {
	none  state
	fit   []turned
	bench []turned
	aim   [3]turned
}

func (h *hanging) turn() *turns {
	own := h.own
	t := &turns{none: state{h.fit.body.PoseAt(h.fit.X), h.aimed(own, [3]float64{}), own}}
	for _, b := range h.fit.body.Steps(h.fit.X) {
		s := turned{up: t.none, down: t.none, step: b.Step}
		s.up.now, s.down.now = b.More, b.Less
		t.fit = append(t.fit, s)
	}
	for _, e := range h.errors {
		const step = 1e-3
		off := func(by float64) state {
			own := slices.Clone(own)
			p := &own[e.point]
			*[3]*float64{&p.X, &p.Y, &p.Z}[e.axis] += by
			return state{t.none.now, h.aimed(own, [3]float64{}), own}
		}
		t.bench = append(t.bench, turned{off(step), off(-step), step})
	}
	for i := range t.aim {
		step := [3]float64{1e-3, 1e-3, 1e-6}[i]
		off := func(by float64) state {
			var far [3]float64
			far[i] = by
			return state{t.none.now, h.aimed(own, far), t.none.own}
		}
		t.aim[i] = turned{off(step), off(-step), step}
	}
	return t
}

// number is a figure as a number: what each measurement does to the pose follows from
// the fit, and to it comes what the bench measures and the places wanted leave open.
func (h *hanging) number(f of) finding.Number {
	if h.turns == nil {
		h.turns = h.turn()
	}
	v := f(&h.turns.none)
	if !finite(v) {
		return finding.Missing("two points lie in one place")
	}
	partials := map[int]float64{}
	for u := range h.turns.fit {
		if partials[u] = h.turns.fit[u].slope(f); !finite(partials[u]) {
			return finding.Missing("it is at the end of what it is measured against")
		}
	}
	var parts []uncertain.Weighted
	for i, g := range h.fit.Gains(partials) {
		if g != 0 {
			parts = append(parts, uncertain.Weighted{K: g, N: h.noiseOf(h.fit, i)})
		}
	}
	for i, e := range h.errors {
		if k := h.turns.bench[i].slope(f); k != 0 && finite(k) {
			parts = append(parts, uncertain.Weighted{K: k, N: e.by})
		}
	}
	for i, n := range h.aim.errors {
		if k := h.turns.aim[i].slope(f); n.U() > 0 && finite(k) {
			parts = append(parts, uncertain.Weighted{K: k, N: n})
		}
	}
	return finding.Of(uncertain.Smooth(v, parts...))
}

// noiseOf is the noise of what a fit is of, worked out once for all that is reported of it.
func (h *hanging) noiseOf(fit *fitted, i int) uncertain.Number {
	if fit.noises == nil {
		fit.noises = make([]uncertain.Number, len(fit.of))
		for k, of := range fit.of {
			fit.noises[k] = h.noise(h.measures[of], fit.Pose)
		}
	}
	return fit.noises[i]
}

// report fills in where it hangs and how far its points have to move.
func (h *hanging) report() {
	for i, path := range h.paths {
		h.Points = append(h.Points, Point{Path: path, Name: finding.SpokenPoint(path), Corner: h.corner[i]})
	}
	defer h.offBench()
	if h.Why != "" || h.fit == nil {
		h.nowhere()
		return
	}
	h.Pose = finding.Maybe[geom.Pose]{V: h.fit.Pose, Known: true}
	if h.DoF <= 0 {
		h.assume("nothing checks its measurements, for there are no more than it takes")
	}
	figures := [6]of{
		func(s *state) float64 { return s.now.Point(h.middle(s.own)).X },
		func(s *state) float64 { return s.now.Point(h.middle(s.own)).Y },
		func(s *state) float64 { return s.now.Point(h.middle(s.own)).Z },
		func(s *state) float64 { return s.now.Heading().Rad() },
		func(s *state) float64 { return s.now.Slope().Rad() },
		func(s *state) float64 { return s.now.Roll().Rad() },
	}
	for k, to := range h.Now.all() {
		*to = h.number(figures[k])
	}
	for k, to := range h.Out.all() {
		f := figures[k]
		if *to = finding.Missing(h.SetWhy); h.Set.Known {
			*to = h.number(func(s *state) float64 { return f(s) - f(&state{s.set, s.set, s.own}) })
		}
	}
	for i := range h.Points {
		h.move(i)
	}
}

// all are the six in their order.
func (g *Hang) all() [6]*finding.Number {
	return [6]*finding.Number{&g.Station, &g.Right, &g.Height, &g.Heading, &g.Slope, &g.Roll}
}

// nowhere says of all figures why they are not known.
func (h *hanging) nowhere() {
	for _, to := range h.Now.all() {
		*to = finding.Missing(h.Why)
	}
	for _, to := range h.Out.all() {
		*to = finding.Missing(h.Why)
	}
	miss := finding.Missing(h.Why)
	for i := range h.Points {
		p := &h.Points[i]
		p.Now, p.Move = [3]finding.Number{miss, miss, miss}, [3]finding.Number{miss, miss, miss}
		p.Far, p.Over, p.Set = miss, miss, miss
	}
}

// offBench adds the points of which nothing can be said until they are measured on the
// bench.
func (h *hanging) offBench() {
	for _, p := range h.unbenched {
		miss := finding.Missing(h.offBenchWhy(p.Path))
		p.Now, p.Move = [3]finding.Number{miss, miss, miss}, [3]finding.Number{miss, miss, miss}
		p.Far, p.Over, p.Set = miss, miss, miss
		h.Points = append(h.Points, p)
	}
}

// move fills in where a point is, how far it has to go, and how high it stands over its
// rail.
func (h *hanging) move(i int) {
	p := &h.Points[i]
	pick := func(v r3.Vec, axis int) float64 { return [3]float64{v.X, v.Y, v.Z}[axis] }
	for axis := range 3 {
		p.Now[axis] = h.number(func(s *state) float64 { return pick(s.now.Point(s.own[i]), axis) })
		if p.Move[axis] = finding.Missing(h.SetWhy); h.Set.Known {
			p.Move[axis] = h.number(func(s *state) float64 {
				return pick(s.set.Point(s.own[i]), axis) - pick(s.now.Point(s.own[i]), axis)
			})
		}
	}
	p.Far, p.Set = finding.Missing(h.SetWhy), finding.Missing(h.SetWhy)
	over := func(at r3.Vec) float64 {
		z, ok := railTop(h.build, at)
		if !ok {
			return math.NaN()
		}
		return at.Z - z
	}
	rail := func(m finding.Number) finding.Number {
		if m.Known {
			return m
		}
		return finding.Missing("the rail on its side does not reach there, or is not in the file yet: rails.left.points and rails.right.points")
	}
	p.Over = rail(h.number(func(s *state) float64 { return over(s.now.Point(s.own[i])) }))
	if h.Set.Known {
		p.Far = finding.Size(uncertain.Norm(p.Move[0].Number, p.Move[1].Number, p.Move[2].Number))
		p.Set = rail(h.number(func(s *state) float64 { return over(s.set.Point(s.own[i])) }))
	}
}

// railTop is the height of the top edge of the rail on the side of a place, at its
// station.
func railTop(b *project.Build, at r3.Vec) (float64, bool) {
	edge := b.Rails.Left.Edge()
	if at.Y > 0 {
		edge = b.Rails.Right.Edge()
	}
	for i := 1; i < len(edge); i++ {
		if p, q := edge[i-1], edge[i]; at.X >= p.X && at.X <= q.X && q.X > p.X {
			return p.Z + (q.Z-p.Z)*(at.X-p.X)/(q.X-p.X), true
		}
	}
	return 0, false
}

// listed are names as a sentence has them.
func listed(names []string) string {
	switch n := len(names); n {
	case 0:
		return "nothing"
	case 1:
		return names[0]
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}
