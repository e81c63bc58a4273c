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

// hanging is the work of placing the powertrain and the axles.
type hanging struct {
	*Powertrain
	in     Input
	bodies []body
	marks  map[string]mark
	errors []ownError
	of     []observed
	unread []observed // shafts and axes that no gauge was put on
	when   occasion
	firm   bool     // all is fixed, and what is found loose is a slip
	known  []string // points whose place can be told from what was measured from them
	fit    *fitted
}

// body is what is placed: the powertrain, and axles behind it.
type body struct {
	called    string
	marks     []project.Mark
	start     finding.Maybe[geom.Pose]
	reference r3.Vec // own axes
	used      bool   // something was measured to a mark on it
}

// mark is where a mark is on its body.
type mark struct {
	body int
	own  r3.Vec
}

// ownError is a ± typed of where a mark is on its body.
type ownError struct {
	path string
	axis int
	by   uncertain.Number // 0 with its ±
}

// The points of a measurement that may be of the vehicle.
const (
	atOwn = iota
	atA
	atB
	points
)

// observed is a measurement or a reading, ready to be fitted.
type observed struct {
	rigid.Measure
	line Line
	// Marks, "" for none: its own point, the other on the same body, and A on another.
	own, two, far string
	at            [points]place
	reading       int // in readings, -1 for a line
	value         finding.Number
}

// place is where a point of the vehicle lies as it was measured; nothing for none.
type place struct {
	path string
	at   [3]finding.Number
}

// pointsOf are those points of a measurement.
func pointsOf(m *rigid.Measure) [points]*r3.Vec { return [points]*r3.Vec{&m.Own, &m.A, &m.B} }

// put puts a point of the measurement where it was measured; or says why it cannot.
func (o *observed) put(k int, path string, at [3]finding.Number) (why string) {
	for axis, c := range at {
		if o.Counts(axis) && !c.Known {
			return c.Why
		}
	}
	o.at[k] = place{path, at}
	*pointsOf(&o.Measure)[k] = finding.PlaceOf(at)
	return ""
}

func (o *observed) angle() bool { return o.reading >= 0 }

// readMarks takes where the marks are on the powertrain and on axles.
func (h *hanging) readMarks() {
	h.marks = map[string]mark{}
	h.bodies = []body{{called: "the powertrain", marks: h.build.MarksOnPowertrain(), start: h.in.Start}}
	for _, x := range h.in.Axles {
		h.bodies = append(h.bodies, body{called: "the " + x.Line + " axle", marks: x.Marks, start: x.Start})
	}
	for i := range h.bodies {
		h.readMarksOf(i)
	}
}

func (h *hanging) readMarksOf(i int) {
	of := &h.bodies[i]
	unsure, count := false, 0.0
	sum := r3.Vec{}
	for _, m := range of.marks {
		if m.At == "" || !m.Own.Known {
			continue
		}
		h.marks[m.At] = mark{i, m.Own.At}
		sum, count = r3.Add(sum, m.Own.At), count+1
		for axis, half := range [3]float64{m.Own.Half.X, m.Own.Half.Y, m.Own.Half.Z} {
			if half <= 0 {
				unsure = true
				continue
			}
			if by, err := h.in.From.With(0, uncertain.Half("where "+finding.SpokenPoint(m.At)+" is on "+of.called, half)); err == nil {
				h.errors = append(h.errors, ownError{m.At, axis, by})
			}
		}
	}
	if count > 0 {
		of.reference = r3.Scale(1/count, sum)
	}
	if unsure {
		h.assume("where marks are on " + of.called + " is exact where it has no ±")
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
	return o.alike(p) && o.place.Any() == p.place.Any() && !o.place.Elsewhere(p.place)
}

// alike is same for what does not go where the powertrain goes.
func (o occasion) alike(p occasion) bool { return o.after == p.after && o.stood == p.stood }

// occasionOf is that of a reading.
func (h *hanging) occasionOf(x Reading) occasion {
	r := h.build.Readings[x.Set[0]]
	return occasionOf(r.After, r.Stood, r.Placed, h.build.Placement)
}

// lastOccasion is that of the gauge on the powertrain or what hangs on it, of the last
// measurement where there is none, or of another reading.
func (h *hanging) lastOccasion() occasion {
	own := slices.IndexFunc(h.in.Readings, func(x Reading) bool { return !x.Rides })
	switch {
	case own >= 0:
		return h.occasionOf(h.in.Readings[own])
	case len(h.in.Lines) == 0:
		return h.occasionOf(h.in.Readings[0])
	}
	last := h.in.Lines[len(h.in.Lines)-1]
	for _, l := range h.in.Lines {
		if !h.rides(&l) { // it says where the powertrain hung then
			last = l
		}
	}
	return occasionOf(last.After, last.Stood, last.Placed, h.build.Placement)
}

// observe makes measurements of one occasion, the last.
func (h *hanging) observe() {
	now := h.build.Placement
	when := h.lastOccasion()
	h.After, h.when = when.after, when
	var readings []Reading
	for _, x := range h.in.Readings {
		if o := h.occasionOf(x); o.same(when) || x.Rides && o.alike(when) {
			readings = append(readings, x)
		}
	}
	h.readings = readings
	for i := range readings {
		if o, ok := ready(&readings[i]); ok {
			o.reading = i
			h.of = append(h.of, o)
		}
	}
	for i := range h.in.Unread {
		if o, ok := ready(&h.in.Unread[i]); ok {
			o.reading = i
			h.unread = append(h.unread, o)
		}
	}
	defer h.doubtable()
	other := 0
	then := func(l *Line) bool {
		o := occasionOf(l.After, l.Stood, l.Placed, now)
		return o.same(when) || h.rides(l) && o.alike(when)
	}
	for i, l := range h.in.Lines {
		switch {
		case !then(&l):
			other++
		case slices.ContainsFunc(h.in.Lines[i+1:], func(m Line) bool { return sameLine(l, m) && then(&m) }):
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
	h.joints()
	if !slices.ContainsFunc(h.of, func(o observed) bool { return o.reading < 0 }) {
		// Without a mark only shafts between measured points are checked by anything.
		h.of = slices.DeleteFunc(h.of, func(o observed) bool { return o.Part != rigid.Vehicle })
	}
	if other > 0 {
		h.assume(fmt.Sprintf("%d measurements to its marks are left out: they were taken after another step, or with the powertrain or the vehicle standing otherwise than for the gauge", other))
	}
}

// rides reports whether a line goes nowhere with the powertrain: it is of axles alone.
func (h *hanging) rides(l *Line) bool {
	return !h.build.Marks(l.From) && !h.build.Marks(l.To) && !h.build.Marks(l.At)
}

// joints takes where the joint at the pinion was measured for a measurement of each axle
// that something else was measured to, as three: it is where its own axes begin.
func (h *hanging) joints() {
	for i := range h.in.Axles {
		x, k := &h.in.Axles[i], AxleBody(i)
		if x.Joint.Path == "" || !h.bodies[k].used {
			continue
		}
		for axis, at := range x.Joint.At {
			if !at.Known {
				continue
			}
			o := observed{reading: -1, value: at, line: Line{Index: -1}}
			o.Measure = rigid.Measure{Name: "where " + finding.SpokenPoint(x.Joint.Path) + " lies " + [3]string{"along the vehicle", "across the vehicle", "in height"}[axis],
				Kind: rigid.Coordinate, Part: k, Axis: axis, Value: at.V}
			h.of = append(h.of, o)
		}
	}
}

// sameLine reports whether two lines measure one thing.
func sameLine(l, m Line) bool {
	turned := l.As != project.HeightLine && l.As != project.OffsetLine && l.From == m.To && l.To == m.From
	return l.As == m.As && l.At == m.At && (l.From == m.From && l.To == m.To || turned)
}

// ready makes a measurement of a reading; false where an end of it is not known.
func ready(x *Reading) (o observed, ok bool) {
	o = observed{value: x.Value}
	o.Measure = rigid.Measure{Name: x.Name, Kind: x.Kind, Part: x.Body, Value: x.Value.V}
	if !x.Between() {
		return o, true
	}
	for k, e := range x.Ends {
		switch {
		case e.Path != "":
		case k == 0:
			o.Part, o.Own = e.Body, e.Own
			continue
		default:
			o.On, o.A = 1+e.Body, e.Own
			continue
		}
		if k == 0 {
			o.Part = rigid.Vehicle
		}
		if why := o.put(k, e.Path, e.At); why != "" { // then it says nothing of where it hangs
			return o, false
		}
	}
	return o, true
}

// measured makes a measurement of a line, or says why it cannot be used.
func (h *hanging) measured(l Line) (observed, string) {
	o := observed{line: l, reading: -1, value: l.Value}
	o.Name, o.Value = l.Name, l.Value.V
	on := func(path string) bool { _, ok := h.marks[path]; return ok }
	for _, path := range [3]string{l.From, l.To, l.At} {
		_, hangs := h.build.Hangs(path)
		if h.build.Loose(path) && !on(path) && !hangs {
			return o, "where " + finding.SpokenPoint(path) + " is on what it is a mark of is not in the file yet"
		}
	}
	far, why := h.between(&o, on)
	if why != "" {
		return o, why
	}
	if o.two == "" && l.As == project.HeightLine {
		o.Kind = rigid.Rise
	}
	own, two := h.marks[o.own], h.marks[o.two]
	o.Part, o.Own, o.Other = own.body, own.own, two.own
	if o.far != "" {
		a := h.marks[o.far]
		o.On, o.A = 1+a.body, a.own
		h.bodies[a.body].used = true
	}
	h.bodies[own.body].used = true
	for k, path := range far {
		if path == "" {
			continue
		}
		at := h.in.Place(path)
		if why := o.put(atA+k, path, at); why != "" {
			return o, why
		}
		if k, hangs := h.build.Hangs(path); hangs {
			h.assume(finding.SpokenPoint(path) + " is where the " + finding.Spoken(h.build.Subframes[k].Name) + " subframe was measured to hang, with the ± of that")
		}
		if at[2].U() == 0 {
			h.assume("points of the vehicle lie exactly where the file has them, where those have no ±")
		}
	}
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
	case on(l.From) && on(l.To) && h.marks[l.From].body != h.marks[l.To].body:
		o.own, o.far = l.To, l.From
	case on(l.From) && on(l.To):
		o.Kind, o.own, o.two = rigid.Inside, l.To, l.From
		if l.As == project.HeightLine {
			o.Kind = rigid.Over
		}
	case on(l.To):
		o.own, far[0] = l.To, l.From
	default: // the vehicle's point over the body's
		o.own, far[0] = l.From, l.To
		if l.As == project.HeightLine {
			o.value = finding.Of(l.Value.Times(-1))
			o.Value = o.value.V
		}
	}
	return far, ""
}

// doubtable finds the points whose places can be told from what was measured from them:
// with more than it takes to place them.
func (h *hanging) doubtable() {
	heights, all := map[string]int{}, map[string]int{}
	for i := range h.of {
		o := &h.of[i]
		for k, p := range o.at {
			switch {
			case p.path == "":
			case o.Kind == rigid.Beside || k == atB:
				all[p.path] = -len(h.of) // a string says little of its ends
			default:
				if all[p.path]++; o.Kind == rigid.Rise {
					heights[p.path]++
				}
				if all[p.path] == 1 {
					h.known = append(h.known, p.path)
				}
			}
		}
	}
	h.known = slices.DeleteFunc(h.known, func(path string) bool {
		const place, height = 5, 3 // one more than leaves a place, or a height, unchecked
		return all[path] < place && (heights[path] < all[path] || heights[path] < height)
	})
}

// bound is a measurement with the points that are freed as parts of their own, behind the
// bodies.
func (h *hanging) bound(o *observed, freed []int) rigid.Measure {
	m := o.Measure
	for k, p := range o.at {
		n := slices.IndexFunc(freed, func(g int) bool { return h.known[g] == p.path })
		switch {
		case p.path == "" || n < 0:
		case k == atOwn:
			m.Part, m.Own = len(h.bodies)+n, r3.Vec{}
		case k == atA:
			m.On, m.A = 1+len(h.bodies)+n, r3.Vec{}
		}
	}
	return m
}

// noise is the error of a measurement against what the bodies would show between the
// vehicle's points as they were measured, in the sources of lines; that of a reading
// without what it was read with, which is of other sources. m is it as it is bound.
func (h *hanging) noise(o *observed, m *rigid.Measure, poses []geom.Pose) uncertain.Number {
	var parts []uncertain.Weighted
	if o.reading < 0 {
		parts = append(parts, uncertain.Weighted{K: 1, N: o.value.Number})
	}
	for _, e := range h.errors {
		if e.path == o.own {
			parts = append(parts, uncertain.Weighted{K: -m.Slope(&m.Own, e.axis, poses...), N: e.by})
		}
		if e.path == o.two {
			parts = append(parts, uncertain.Weighted{K: -m.Slope(&m.Other, e.axis, poses...), N: e.by})
		}
		if e.path == o.far {
			parts = append(parts, uncertain.Weighted{K: -m.Slope(&m.A, e.axis, poses...), N: e.by})
		}
	}
	for _, w := range o.byPlaces(m, poses) {
		parts = append(parts, uncertain.Weighted{K: -w.K, N: w.N})
	}
	return uncertain.Smooth(o.Value, slices.DeleteFunc(parts, func(w uncertain.Weighted) bool { return w.K == 0 || math.IsNaN(w.K) })...)
}

// freed are the points of the vehicle that are parts of their own where it is bound so.
func (o *observed) freed(m *rigid.Measure) [points]bool {
	return [points]bool{m.Part != o.Part, m.On != o.On, false}
}

// byPlaces are what the measurement would read more for each mm that a place of the vehicle
// that it rests on is off, and that place; of those that are not freed.
func (o *observed) byPlaces(m *rigid.Measure, poses []geom.Pose) (out []uncertain.Weighted) {
	of := pointsOf(m)
	free := o.freed(m)
	for k, p := range o.at {
		for axis := range 3 {
			if p.path != "" && !free[k] && o.Counts(axis) {
				out = append(out, uncertain.Weighted{K: m.Slope(of[k], axis, poses...), N: p.at[axis].Number})
			}
		}
	}
	return out
}

// least is the smallest standard uncertainty that a measurement is given.
func (o *observed) least() float64 {
	if o.angle() {
		return finest / 1000
	}
	return finest
}
