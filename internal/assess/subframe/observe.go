package subframe

import (
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/rigid"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// What is taken where the file does not say: common practice, no source.
const (
	gaugeHalf = 0.1 * geom.Deg // of a gauge
	placeHalf = 1.0            // mm, of a coordinate read on a point of the subframe
)

// finest is the smallest standard uncertainty (mm) that a measurement is given, and of
// a gauge the same at one metre.
const finest = 0.02

// measure is what was measured to the subframe, ready to be fitted.
type measure struct {
	rigid.Measure
	line       Line
	own, other int                  // own points, -1 for none
	far        [2]string            // points of the vehicle, as A and B; "" for none
	at         [2][3]finding.Number // where those lie
}

func (m measure) angle() bool { return m.Kind == rigid.Along || m.Kind == rigid.Across }

// observe makes measurements of the lines of the last occasion, of points whose
// places were typed, and of the gauge.
func (h *hanging) observe() {
	lines := h.occasion()
	for i, l := range lines {
		if k := slices.IndexFunc(lines[i+1:], func(m Line) bool { return same(l, m) }); k >= 0 {
			h.Assumes = append(h.Assumes, l.Name+" was taken again, and the last counts")
			continue
		}
		if !l.Value.Known {
			h.leaveOut(l, l.Value.Why)
			continue
		}
		if m, why := h.measured(l); why != "" {
			h.leaveOut(l, why)
		} else {
			h.measures = append(h.measures, m)
		}
	}
	h.sayLeft()
	for i, path := range h.paths {
		h.typed(i, path)
	}
	h.gauge("slope", "gauge along the subframe", rigid.Along, h.spec.Slope.V(), h.spec.Slope.Known(), h.spec.Slope.HalfWidth)
	side := map[project.End]float64{project.LeftEnd: 1, project.RightEnd: -1}[h.spec.Lower]
	across, known := h.spec.Across.Get()
	if known && side == 0 && across != 0 {
		h.Assumes = append(h.Assumes, "the gauge across is left out: subframe."+h.Name+".lower does not say which side is lower")
		known = false
	}
	h.gauge("across", "gauge across the subframe", rigid.Across, side*across, known, h.spec.Across.HalfWidth)
}

// left are measurements that cannot be used, and why.
type left struct {
	lines []string
	why   string
}

func (h *hanging) leaveOut(l Line, why string) {
	k := slices.IndexFunc(h.lefts, func(x left) bool { return x.why == why })
	if k < 0 {
		k, h.lefts = len(h.lefts), append(h.lefts, left{why: why})
	}
	h.lefts[k].lines = append(h.lefts[k].lines, l.Name)
}

// sayLeft says what is left out, once for each reason.
func (h *hanging) sayLeft() {
	for _, x := range h.lefts {
		what := x.lines[0] + " is left out"
		if n := len(x.lines); n > 1 {
			what = fmt.Sprintf("%s and %d more are left out", x.lines[0], n-1)
		}
		h.Assumes = append(h.Assumes, what+": "+x.why)
	}
}

// same reports whether two lines measure one thing.
func same(l, m Line) bool {
	turned := l.As != project.HeightLine && l.As != project.OffsetLine && l.From == m.To && l.To == m.From
	return l.As == m.As && l.At == m.At && (l.From == m.From && l.To == m.To || turned)
}

// occasion are the lines of this subframe that were taken after the last step of
// those that any was taken after. Said nothing, nothing is fixed yet.
func (h *hanging) occasion() []Line {
	by := map[project.After][]Line{}
	for _, l := range h.in.Lines {
		mine := false
		for _, p := range []string{l.From, l.To, l.At} {
			if k, ok := h.build.Hangs(p); ok && h.build.Subframes[k].Name == h.Name {
				mine = true
			}
		}
		if !mine {
			continue
		}
		step := l.After
		if step == "" {
			step = project.Hung
		}
		by[step] = append(by[step], l)
	}
	for _, step := range []project.After{project.Welded, project.Tacked, project.Hung} {
		if len(by[step]) > 0 {
			h.After = step
			return by[step]
		}
	}
	return nil
}

// measured makes a measurement of a line, or says why it cannot be used.
func (h *hanging) measured(l Line) (measure, string) {
	m := measure{line: l, own: -1, other: -1}
	m.Name, m.Value = l.Name, l.Value.V
	index := func(path string) int {
		if i, ok := h.points[path]; ok {
			return i
		}
		return -1
	}
	from, to, at := index(l.From), index(l.To), index(l.At)
	switch {
	case l.As == project.OffsetLine && at >= 0 && from < 0 && to < 0:
		m.Kind, m.own, m.far = rigid.Beside, at, [2]string{l.From, l.To}
	case l.As == project.OffsetLine || l.As == project.SquareLine:
		return m, "a string goes between two points of the vehicle beside one of the subframe, and a square says nothing here"
	case from >= 0 && to >= 0:
		m.Kind, m.own, m.other = rigid.Inside, to, from
		if l.As == project.HeightLine {
			m.Kind = rigid.Over
		}
	case from < 0 && to < 0:
		return m, "where its point of the subframe is on the bench is not in the file yet"
	default:
		m.own, m.far[0] = max(from, to), l.From
		if from >= 0 {
			m.far[0] = l.To
		}
		if h.build.Loose(m.far[0]) {
			return m, finding.SpokenPoint(m.far[0]) + " hangs loose as well"
		}
		if l.As == project.HeightLine {
			m.Kind = rigid.Rise
			if from >= 0 { // the vehicle's point over the subframe's
				m.Value = -m.Value
				m.line.Value = finding.Of(l.Value.Times(-1))
			}
		}
	}
	err := h.finish(&m)
	return m, err
}

// finish fills in where the points of a measurement are, and says what is missing.
func (h *hanging) finish(m *measure) string {
	if m.own >= 0 {
		m.Own = h.own[m.own]
	}
	if m.other >= 0 {
		m.Other = h.own[m.other]
	}
	for k, path := range m.far {
		if path == "" {
			continue
		}
		m.at[k] = h.in.Place(path)
		for axis, c := range m.at[k] {
			if m.Counts(axis) && !c.Known {
				return c.Why
			}
		}
	}
	m.A, m.B = finding.PlaceOf(m.at[0]), finding.PlaceOf(m.at[1])
	return ""
}

// typed makes measurements of a point of the subframe that has a place of its own.
func (h *hanging) typed(own int, path string) {
	at, ok := h.build.PointNamed(path)
	if !ok || !at.Known {
		return
	}
	for axis, c := range h.in.Place(path) {
		if !c.Known {
			continue
		}
		if c.U() == 0 {
			half, err := h.in.From.With(c.V, uncertain.Half("the place of "+finding.SpokenPoint(path), placeHalf))
			if err != nil {
				continue
			}
			c = finding.Of(half)
			h.assume("coordinates without a ± are good to 1 mm (common practice, no source)")
		}
		m := measure{own: own, other: -1, line: Line{Name: finding.SpokenPoint(path) + ", " + [3]string{"station", "offset", "height"}[axis], Index: -1, Value: c}}
		m.Measure = rigid.Measure{Name: m.line.Name, Kind: rigid.Coordinate, Own: h.own[own], Axis: axis, Value: c.V}
		h.measures = append(h.measures, m)
	}
}

func (h *hanging) assume(what string) {
	if !slices.Contains(h.Assumes, what) {
		h.Assumes = append(h.Assumes, what)
	}
}

// gauge makes a measurement of what a gauge shows, which stands at a key of the
// subframe's table.
func (h *hanging) gauge(key, name string, k rigid.Kind, v float64, known bool, stated func() (float64, bool)) {
	if !known {
		return
	}
	half, ok := stated()
	if !ok || half <= 0 {
		half = h.build.Gauge.Accuracy.Or(gaugeHalf.Rad())
	}
	n, err := h.in.From.With(v, uncertain.Half("the "+name, half))
	if err != nil {
		h.Assumes = append(h.Assumes, fmt.Sprintf("the %s is left out: %v", name, err))
		return
	}
	m := measure{own: -1, other: -1, line: Line{Name: name, Index: -1, Key: key, Value: finding.Of(n)}}
	m.Measure = rigid.Measure{Name: name, Kind: k, Value: v}
	h.measures = append(h.measures, m)
}

// weigh gives each measurement the uncertainty that it has with the subframe in a
// pose: its own, and what its ends may be off by.
func (h *hanging) weigh(p geom.Pose) {
	for i := range h.measures {
		m := &h.measures[i]
		m.Sigma = max(h.noise(*m, p).U(), m.least())
	}
}

// least is the smallest standard uncertainty that a measurement is given.
func (m measure) least() float64 {
	if m.angle() {
		return finest / 1000
	}
	return finest
}

// noise is the error of a measurement against what the subframe as it was measured on
// the bench would show between the vehicle's points as they were measured.
func (h *hanging) noise(m measure, p geom.Pose) uncertain.Number {
	parts := []uncertain.Weighted{{K: 1, N: m.line.Value.Number}}
	for _, e := range h.errors {
		if e.point == m.own {
			parts = append(parts, uncertain.Weighted{K: -m.Slope(&m.Own, e.axis, p), N: e.by})
		}
		if e.point == m.other {
			parts = append(parts, uncertain.Weighted{K: -m.Slope(&m.Other, e.axis, p), N: e.by})
		}
	}
	for k, of := range []*r3.Vec{&m.A, &m.B} {
		for axis := range 3 {
			if m.far[k] != "" && m.Counts(axis) {
				parts = append(parts, uncertain.Weighted{K: -m.Slope(of, axis, p), N: m.at[k][axis].Number})
			}
		}
	}
	return uncertain.Smooth(m.line.Value.V, slices.DeleteFunc(parts, func(w uncertain.Weighted) bool { return w.K == 0 || math.IsNaN(w.K) })...)
}
