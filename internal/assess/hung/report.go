package hung

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/rigid"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// report hands on what the fit says of each reading, with the ± that all leave.
func (h *hanging) report() {
	if h.fit == nil {
		return
	}
	h.Pose = finding.Maybe[geom.Pose]{V: h.fit.pose(), Known: h.fit.fixed()}
	h.values = make([]finding.Number, len(h.readings))
	var all []*finding.Number
	var read, placed []uncertain.Number
	take := func(o *observed, into *finding.Number, alone *uncertain.Number) {
		if a, b, ok := h.figure(o); ok && (alone == nil || surer(*alone, a, b)) {
			all, read, placed = append(all, into), append(read, a), append(placed, b)
		}
	}
	for i := range h.of {
		if o := &h.of[i]; h.fit.DoF > 0 && o.reading >= 0 && h.bad[o.reading] == "" { // else nothing says more than it does
			take(o, &h.values[o.reading], &o.value.Number)
		}
	}
	h.as = project.Reading{After: h.when.after, Stood: h.when.stood, Placed: h.when.place}
	h.unreads = make([]finding.Number, len(h.in.Unread))
	for i := range h.unread {
		take(&h.unread[i], &h.unreads[h.unread[i].reading], nil)
	}
	own, err := uncertain.Factored(h.in.Reads, func(int) string { return "what was measured to the powertrain's marks" }, placed...)
	if err != nil { // then they stay as they were read
		return
	}
	for k, into := range all {
		*into = finding.Of(read[k].Plus(own[k]))
	}
}

// surer reports whether a figure, with what readings and what all else leave open of it,
// says more than the reading alone.
func surer(alone, read, placed uncertain.Number) bool {
	const same = 1e-6
	return math.Hypot(read.U(), placed.U()) < (1-same)*alone.U()
}

// fixed reports whether all of the powertrain's pose is measured.
func (f *fitted) fixed() bool {
	for _, move := range f.free {
		for _, d := range move[:rigid.Unknowns] {
			if d != 0 {
				return false
			}
		}
	}
	return true
}

// figure is what a measurement would show of the powertrain where it was found, between the
// places as the fit has them: with what readings leave open of it, and what is left open by
// all else, 0 with its ±. False where what was measured does not fix it.
func (h *hanging) figure(o *observed) (read, placed uncertain.Number, ok bool) {
	fit := h.fit
	m := h.bound(o, fit.freed)
	partials := map[int]float64{}
	steps := fit.group.Steps(fit.X)
	for u, b := range steps {
		partials[u] = (m.Shown(b.More...) - m.Shown(b.Less...)) / (2 * b.Step)
	}
	for _, move := range fit.free {
		sum, size := 0.0, 0.0
		for u, d := range move {
			sum += partials[u] * d
			if fit.group.Turns(u) {
				d *= 1000 // at one metre
			}
			size = max(size, math.Abs(d))
		}
		if math.Abs(sum) > 1e-7*size {
			return read, placed, false
		}
	}
	value := m.Shown(fit.poses...)
	if fit.Shares() {
		value += h.endsBy(o, &m, len(steps), partials)
	}
	var a, b []uncertain.Weighted
	for k, g := range fit.Gains(partials) {
		if g == 0 {
			continue
		}
		with := &h.of[fit.of[k]]
		if with.reading >= 0 {
			a = append(a, uncertain.Weighted{K: g, N: with.value.Number})
		}
		b = append(b, uncertain.Weighted{K: g, N: h.noise(with, &fit.group.Measures[k], fit.poses)})
	}
	b = append(b, o.byPlaces(&m, fit.poses)...) // as they were measured
	return uncertain.Smooth(value, a...), uncertain.Smooth(0, b...), true
}

// endsBy adds to the partials of a shaft what the shared errors do to its ends, and returns
// by how much it shows more with the ends where the fit has them. The first of those errors
// is the unknown with that number.
func (h *hanging) endsBy(o *observed, m *rigid.Measure, first int, partials map[int]float64) (more float64) {
	fit := h.fit
	for _, e := range fit.ends[o] {
		slope := m.Slope([points]*r3.Vec{&m.Own, &m.A, &m.B}[e.point], e.axis, fit.poses...)
		for c, by := range e.by {
			partials[first+c] -= slope * by
			more -= slope * by * fit.X[first+c]
		}
	}
	return more
}
