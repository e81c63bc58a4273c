package hung

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/rigid"
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// report hands on what the fit says of each reading, with the ± that all leave.
func (h *hanging) report() {
	if h.fit == nil {
		return
	}
	h.expects()
	h.Pose = finding.Maybe[geom.Pose]{V: h.fit.poses[PowertrainBody], Known: h.fit.fixed(PowertrainBody)}
	h.values = make([]finding.Number, len(h.readings))
	h.checked = map[string]bool{}
	for k, i := range h.fit.of {
		if r := h.of[i].reading; r >= 0 && h.fit.Each[k].Redundancy > 0 {
			h.checked[h.readings[r].Target] = true
		}
	}
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
	find := func(body int, shown func(geom.Pose) float64, into *finding.Number) {
		if a, b, ok := h.function(func(poses []geom.Pose) float64 { return shown(poses[body]) }); ok {
			all, read, placed = append(all, into), append(read, a), append(placed, b)
		}
	}
	h.rows(func(shown func(geom.Pose) float64, into *finding.Number) { find(PowertrainBody, shown, into) })
	for i, x := range h.Axles {
		x.rows(h.bodies[AxleBody(i)].used, func(shown func(geom.Pose) float64, into *finding.Number) { find(AxleBody(i), shown, into) })
		x.Pose = finding.Maybe[geom.Pose]{V: h.fit.poses[AxleBody(i)], Known: h.fit.fixed(AxleBody(i))}
	}
	own, err := uncertain.Factored(h.in.Reads, func(int) string { return "what was measured to " + h.owned() + " marks" }, placed...)
	if err != nil { // then they stay as they were read
		return
	}
	for k, into := range all {
		*into = finding.Of(read[k].Plus(own[k]))
	}
}

// rows are the rows of the placement as they were measured, each taken by take where the
// fit fixes it.
func (h *hanging) rows(take func(shown func(geom.Pose) float64, into *finding.Number)) {
	if !h.Marked || !h.supports.Known {
		return
	}
	for _, r := range rows() {
		h.Rows = append(h.Rows, Row{RowInfo: r, Is: finding.Missing("too little was measured to its marks to say")})
	}
	for i := range h.Rows {
		r := &h.Rows[i]
		take(func(p geom.Pose) float64 { return rowAt(h.supports.V, r.Row, p) }, &r.Is)
	}
}

// surer reports whether a figure, with what readings and what all else leave open of it,
// says more than the reading alone.
func surer(alone, read, placed uncertain.Number) bool {
	const same = 1e-6
	return math.Hypot(read.U(), placed.U()) < (1-same)*alone.U()
}

// fixed reports whether all of a body's pose is measured.
func (f *fitted) fixed(body int) bool {
	first := f.group.First(body)
	for _, move := range f.free {
		for _, d := range move[first : first+rigid.Unknowns] {
			if d != 0 {
				return false
			}
		}
	}
	return true
}

// figure is what a measurement would show of the bodies where they were found, between the
// places as the fit has them: with what readings leave open of it, and what is left open by
// all else, 0 with its ±. False where what was measured does not fix it.
func (h *hanging) figure(o *observed) (read, placed uncertain.Number, ok bool) {
	m := h.bound(o, h.fit.freed)
	partials, ok := h.partials(func(poses []geom.Pose) float64 { return m.Shown(poses...) })
	if !ok {
		return read, placed, false
	}
	value := m.Shown(h.fit.poses...)
	if h.fit.Shares() {
		value += h.endsBy(o, &m, len(partials), partials)
	}
	read, placed = h.left(value, partials, o.byPlaces(&m, h.fit.poses)) // as they were measured
	return read, placed, true
}

// function is figure of anything that follows from the poses.
func (h *hanging) function(shown func(poses []geom.Pose) float64) (read, placed uncertain.Number, ok bool) {
	partials, ok := h.partials(shown)
	if !ok {
		return read, placed, false
	}
	read, placed = h.left(shown(h.fit.poses), partials, nil)
	return read, placed, true
}

// partials are what each unknown does to a function of the poses; false where a movement
// that nothing measured notices changes it.
func (h *hanging) partials(shown func(poses []geom.Pose) float64) (map[int]float64, bool) {
	fit := h.fit
	out := map[int]float64{}
	for u, b := range fit.group.Steps(fit.X) {
		if out[u] = (shown(b.More) - shown(b.Less)) / (2 * b.Step); math.IsNaN(out[u]) {
			return nil, false
		}
	}
	for _, move := range fit.free {
		sum, size := 0.0, 0.0
		for u, d := range move {
			sum += out[u] * d
			if fit.group.Turns(u) {
				d *= 1000 // at one metre
			}
			size = max(size, math.Abs(d))
		}
		if math.Abs(sum) > 1e-7*size {
			return nil, false
		}
	}
	return out, true
}

// left is a value with what readings leave open of it, and what is left open by all else, 0
// with its ±.
func (h *hanging) left(value float64, partials map[int]float64, besides []uncertain.Weighted) (read, placed uncertain.Number) {
	fit := h.fit
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
	return uncertain.Smooth(value, a...), uncertain.Smooth(0, append(b, besides...)...)
}

// endsBy adds to the partials of a shaft what the shared errors do to its ends, and returns
// by how much it shows more with the ends where the fit has them. The first of those errors
// is the unknown with that number.
func (h *hanging) endsBy(o *observed, m *rigid.Measure, first int, partials map[int]float64) (more float64) {
	fit := h.fit
	for _, e := range fit.ends[o] {
		slope := m.Slope(pointsOf(m)[e.point], e.axis, fit.poses...)
		for c, by := range e.by {
			partials[first+c] -= slope * by
			more -= slope * by * fit.X[first+c]
		}
	}
	return more
}
