package hung

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

// finest is the smallest standard uncertainty (mm) that a measurement is given, and of
// an angle the same at one metre.
const finest = 0.02

// hanging is the work of placing the powertrain.
type hanging struct {
	*Powertrain
	in        Input
	marks     map[string]r3.Vec
	errors    []ownError
	reference r3.Vec
	of        []observed
	fit       *fitted
}

// ownError is a ± typed of where a mark is on the powertrain.
type ownError struct {
	path string
	axis int
	by   uncertain.Number // 0 with its ±
}

// observed is a measurement or a reading, ready to be fitted.
type observed struct {
	rigid.Measure
	line     Line
	own, two string // marks, "" for none
	far      [2][3]finding.Number
	needs    [2]bool
	reading  int // in readings, -1 for a line
	value    finding.Number
}

func (o *observed) angle() bool { return o.reading >= 0 }

// readMarks takes where the marks are on the powertrain.
func (h *hanging) readMarks() {
	h.marks = map[string]r3.Vec{}
	unsure := false
	sum := r3.Vec{}
	for _, m := range h.build.Powertrain.Marks {
		if m.At == "" || !m.Own.Known {
			continue
		}
		h.marks[m.At] = m.Own.At
		sum = r3.Add(sum, m.Own.At)
		for axis, half := range [3]float64{m.Own.Half.X, m.Own.Half.Y, m.Own.Half.Z} {
			if half <= 0 {
				unsure = true
				continue
			}
			if by, err := h.in.From.With(0, uncertain.Half("where "+finding.SpokenPoint(m.At)+" is on the powertrain", half)); err == nil {
				h.errors = append(h.errors, ownError{m.At, axis, by})
			}
		}
	}
	if n := len(h.marks); n > 0 {
		h.reference = r3.Scale(1/float64(n), sum)
	}
	if unsure {
		h.assume("where marks are on the powertrain is exact where it has no ±")
	}
}

func (h *hanging) assume(what string) {
	if !slices.Contains(h.Assumes, what) {
		h.Assumes = append(h.Assumes, what)
	}
}

// occasion is when and where something was taken.
type occasion struct {
	after project.After
	stood project.Stood
	place project.Placement
}

func occasionOf(after project.After, stood project.Stood, placed, now project.Placement) occasion {
	if after == "" {
		after = project.Hung
	}
	if !placed.Any() {
		placed = now
	}
	return occasion{after, stood.Or(), placed}
}

func (o occasion) same(p occasion) bool {
	return o.after == p.after && o.stood == p.stood && o.place.Any() == p.place.Any() && !o.place.Elsewhere(p.place)
}

// observe makes measurements of one occasion: that of the gauge on the powertrain, of
// another reading where there is none, and of the last measurement where there is none.
func (h *hanging) observe() {
	now := h.build.Placement
	at := func(x Reading) occasion {
		r := h.build.Readings[x.Set[0]]
		return occasionOf(r.After, r.Stood, r.Placed, now)
	}
	last := h.in.Lines[len(h.in.Lines)-1]
	when := occasionOf(last.After, last.Stood, last.Placed, now)
	if len(h.in.Readings) > 0 {
		when = at(h.in.Readings[0])
	}
	h.After = when.after
	var readings []Reading
	for _, x := range h.in.Readings {
		if at(x).same(when) {
			readings = append(readings, x)
		}
	}
	h.readings = readings
	for i := range readings {
		h.read(i)
	}
	other := 0
	for i, l := range h.in.Lines {
		switch {
		case !occasionOf(l.After, l.Stood, l.Placed, now).same(when):
			other++
		case slices.ContainsFunc(h.in.Lines[i+1:], func(m Line) bool {
			return sameLine(l, m) && occasionOf(m.After, m.Stood, m.Placed, now).same(when)
		}):
			h.assume(l.Name + " was taken again, and the last counts")
		case !l.Value.Known:
			h.assume(l.Name + " is left out: " + l.Value.Why)
		default:
			if o, why := h.measured(l); why != "" {
				h.assume(l.Name + " is left out: " + why)
			} else {
				h.of = append(h.of, o)
			}
		}
	}
	if other > 0 {
		h.assume(fmt.Sprintf("%d measurements to its marks are left out: they were taken after another step, or with the powertrain or the vehicle standing otherwise than for the gauge", other))
	}
}

// sameLine reports whether two lines measure one thing.
func sameLine(l, m Line) bool {
	turned := l.As != project.HeightLine && l.As != project.OffsetLine && l.From == m.To && l.To == m.From
	return l.As == m.As && l.At == m.At && (l.From == m.From && l.To == m.To || turned)
}

// read makes a measurement of a reading.
func (h *hanging) read(i int) {
	x := &h.readings[i]
	o := observed{reading: i, value: x.Value}
	o.Measure = rigid.Measure{Name: x.Name, Kind: x.Kind, Value: x.Value.V, Own: x.Own}
	if x.Kind == rigid.Fall {
		o.far[0], o.needs[0], o.A = x.End, true, finding.PlaceOf(x.End)
	}
	h.of = append(h.of, o)
}

// measured makes a measurement of a line, or says why it cannot be used.
func (h *hanging) measured(l Line) (observed, string) {
	o := observed{line: l, reading: -1, value: l.Value}
	o.Name, o.Value = l.Name, l.Value.V
	on := func(path string) bool { return h.build.Marks(path) }
	for _, path := range [3]string{l.From, l.To, l.At} {
		if _, ok := h.marks[path]; on(path) && !ok {
			return o, "where " + finding.SpokenPoint(path) + " is on the powertrain is not in the file yet"
		}
		if _, hangs := h.build.Hangs(path); hangs {
			return o, finding.SpokenPoint(path) + " hangs loose as well"
		}
	}
	far, why := h.between(&o, on)
	if why != "" {
		return o, why
	}
	if o.two == "" && l.As == project.HeightLine {
		o.Kind = rigid.Rise
	}
	o.Own, o.Other = h.marks[o.own], h.marks[o.two]
	for k, path := range far {
		if path == "" {
			continue
		}
		o.far[k], o.needs[k] = h.in.Place(path), true
		for axis, c := range o.far[k] {
			if o.Counts(axis) && !c.Known {
				return o, c.Why
			}
		}
	}
	o.A, o.B = finding.PlaceOf(o.far[0]), finding.PlaceOf(o.far[1])
	return o, ""
}

// between says of a measurement which of its ends are marks and which points of the
// vehicle, on tells them apart, and what it is with those; or why it is nothing.
func (h *hanging) between(o *observed, on func(path string) bool) (far [2]string, why string) {
	l := o.line
	switch {
	case l.As == project.OffsetLine && on(l.At) && !on(l.From) && !on(l.To):
		o.Kind, o.own, far = rigid.Beside, l.At, [2]string{l.From, l.To}
	case l.As == project.OffsetLine || l.As == project.SquareLine:
		return far, "a string goes between two points of the vehicle beside a mark, and a square says nothing here"
	case on(l.From) && on(l.To):
		o.Kind, o.own, o.two = rigid.Inside, l.To, l.From
		if l.As == project.HeightLine {
			o.Kind = rigid.Over
		}
	case on(l.To):
		o.own, far[0] = l.To, l.From
	default: // the vehicle's point over the powertrain's
		o.own, far[0] = l.From, l.To
		if l.As == project.HeightLine {
			o.value = finding.Of(l.Value.Times(-1))
			o.Value = o.value.V
		}
	}
	return far, ""
}

// noise is the error of a measurement against what the powertrain would show between the
// vehicle's points as they were measured, in the sources of lines; that of a reading
// without what it was read with, which is of other sources.
func (h *hanging) noise(o *observed, p geom.Pose) uncertain.Number {
	m := o.Measure
	var parts []uncertain.Weighted
	if o.reading < 0 {
		parts = append(parts, uncertain.Weighted{K: 1, N: o.value.Number})
	}
	for _, e := range h.errors {
		if e.path == o.own {
			parts = append(parts, uncertain.Weighted{K: -m.Slope(&m.Own, e.axis, p), N: e.by})
		}
		if e.path == o.two {
			parts = append(parts, uncertain.Weighted{K: -m.Slope(&m.Other, e.axis, p), N: e.by})
		}
	}
	for k, of := range []*r3.Vec{&m.A, &m.B} {
		for axis := range 3 {
			if o.needs[k] && o.Counts(axis) {
				parts = append(parts, uncertain.Weighted{K: -m.Slope(of, axis, p), N: o.far[k][axis].Number})
			}
		}
	}
	return uncertain.Smooth(o.Value, slices.DeleteFunc(parts, func(w uncertain.Weighted) bool { return w.K == 0 || math.IsNaN(w.K) })...)
}

// least is the smallest standard uncertainty that a measurement is given.
func (o *observed) least() float64 {
	if o.angle() {
		return finest / 1000
	}
	return finest
}
