package frame

import (
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// Place is where the survey has a point in vehicle axes, for whatever else in the
// file names it.
type Place struct {
	Path    string
	At      [3]finding.Number // station, offset, height
	Assumes []string
}

// Places are the points of the last survey in vehicle axes, by path, with all that
// their ± share. Why says why there are none: a survey that places nothing, does not
// fit, or whose datum is not tied to the vehicle's zero never places anything else.
func (r *Result) Places(of []string) (places []Place, why string) {
	if !r.Given() {
		return nil, "nothing is measured between points yet: add [[measure]] with from, to and lengths"
	}
	s := r.Now
	if why := s.unfit(); why != "" {
		return nil, why
	}
	if len(s.Mirrors) > 0 {
		return nil, s.Mirrors[0]
	}
	tie, why := s.net.tie, s.net.tieWhy
	if why != "" {
		return nil, why
	}
	assumes := slices.Clone(s.Assumes)
	if s.DoF <= 0 {
		assumes = append(assumes, "nothing checks the survey's measurements")
	}
	for _, path := range of {
		i, ok := s.net.index[path]
		if !ok {
			continue
		}
		p := Place{Path: path, Assumes: append(assumes, tie.assumes...)}
		for axis := range 3 {
			p.At[axis] = tie.place(path, axis)
		}
		if !s.net.levels[i] {
			p.At[2] = finding.Missing("the height of " + finding.SpokenPoint(path) + " was not measured")
		}
		places = append(places, p)
	}
	return places, ""
}

// From is where all is kept that Places may be off by, its tie to the vehicle's zero as
// well; nil where the survey places nothing. What is to be put together with places
// belongs in a fork of it.
func (r *Result) From() *uncertain.Sources {
	if !r.Given() || r.Now.net == nil {
		return nil
	}
	return r.Now.net.tie.from
}

// Typed are the ± typed of what holds the survey and ties it to the vehicle's zero, as
// they are in its places: whatever else rests on the same value shares its error.
func (r *Result) Typed() []Typed {
	if !r.Given() || r.Now.net == nil {
		return nil
	}
	return r.Now.net.tie.typed
}

// Unplaced says why a survey that was adjusted gives no places: what was measured does not
// fit. "" when it gives them.
func (s *Survey) Unplaced() string {
	if s.net == nil {
		return ""
	}
	return s.unfit()
}

// unfit says why the places of a survey are not to be relied on.
func (s *Survey) unfit() string {
	switch {
	case s.Why != "":
		return s.Why
	case s.net == nil:
		return "the survey places nothing"
	case !s.Fits:
		return "a measurement of the survey does not fit the others, and which one cannot be told: see frame.survey.fit"
	}
	return s.scattered()
}

// scattered says that the measurements fit each other worse than they were said to be
// good, though none stands out; "" when they do not.
func (s *Survey) scattered() string {
	if agrees, _ := s.net.fit.Agrees(globalAlarm); !agrees {
		return fmt.Sprintf("the survey's measurements scatter %.1f times as much as was said of them, more than chance explains: take the worst again, or give the tools a larger ±", s.Scatter)
	}
	return ""
}

// globalAlarm is how often a sound survey would fail the test of its sum of squares
// (chi-squared): 1 in 1,000, as a measurement by its own w.
const globalAlarm = 0.001

// tie is how the places of a survey lie in the vehicle's axes.
type tie struct {
	n       *network
	axes    axes
	points  [3][]string       // those by which an axis has its zero; none for what the survey has itself
	own     [3]finding.Number // the mean of what those have of their own
	assumes []string
	from    *uncertain.Sources // of what the tie itself may be off by
	typed   typedErrors        // what it and the datum may be off by
}

// tied ties the survey to the vehicle's zero: by the points that hold it, or across by
// its centre line, and along and up by what survey.points have of station and height,
// or else by the axles. Why says what is missing.
func (n *network) tied() (tie, string) {
	t := tie{n: n, axes: n.axes(), from: n.from.Fork(), typed: slices.Clone(n.typed)}
	if !n.free {
		return t, ""
	}
	s := n.build.Survey
	if s.Datum == project.FreeDatum {
		return t, "the survey's datum is free, so that its zero is not the vehicle's: set survey.datum to centre line, rails or points"
	}
	if t.axes.of == nil {
		return t, "no centre line: survey.left and survey.right, or both axles, are not in the survey"
	}
	for _, axis := range []int{0, 2} {
		if !t.byPoints(axis) && !t.byAxles(axis) {
			key, axle := "station", "survey.front_axle with vehicle.front_axle"
			if axis == 2 {
				if !n.anyLevel() {
					continue // no point has a height, and each says so
				}
				key, axle = "height", "the axles of the survey with vehicle.axle_height"
			}
			return t, fmt.Sprintf("the survey is not tied to the vehicle's zero along its %s: give one of its points a %s of its own and name it in survey.points, or give %s", key, key, axle)
		}
	}
	return t, ""
}

func (n *network) anyLevel() bool { return slices.Contains(n.levels, true) }

// byPoints ties an axis by the points of survey.points that have a coordinate of
// their own along it.
func (t *tie) byPoints(axis int) bool {
	b := t.n.build
	var sum []uncertain.Weighted
	mean := 0.0
	for _, path := range b.Survey.Points {
		i, ok := t.n.index[path]
		v, terms, known := ownCoordinate(b, path, axis)
		if !ok || !known || axis == 2 && !t.n.levels[i] {
			continue
		}
		t.points[axis] = append(t.points[axis], path)
		mean += v
		for _, m := range terms {
			if by, ok := t.typed.of(b, t.from, m); ok { // what several were measured from moves their mean as a whole
				sum = append(sum, uncertain.Weighted{K: coordinate(m.Dir, axis), N: by})
			}
		}
	}
	count := float64(len(t.points[axis]))
	if count == 0 {
		return false
	}
	for i := range sum {
		sum[i].K /= count
	}
	t.own[axis] = finding.Of(uncertain.Smooth(mean/count, sum...))
	return true
}

// byAxles ties an axis by the axles of the survey and where the file has those.
func (t *tie) byAxles(axis int) bool {
	b := t.n.build
	at, key, points := b.Vehicle.FrontAxle, "vehicle.front_axle", b.Survey.FrontAxle
	if axis == 2 {
		at, key, points = b.Vehicle.AxleHeight, "vehicle.axle_height", slices.Concat(b.Survey.FrontAxle, b.Survey.RearAxle)
	}
	v, known := at.Get()
	if !known || len(points) == 0 || !t.n.has(points) {
		return false
	}
	for _, p := range points {
		if axis == 2 && !t.n.levels[t.n.index[p]] {
			return false
		}
	}
	t.points[axis], t.own[axis] = points, finding.Exact(v)
	half, _ := at.HalfWidth()
	if by, ok := t.typed.of(b, t.from, project.Term{Path: key, Value: v, Half: half}); ok {
		t.own[axis] = finding.Of(by.Shift(v))
	}
	t.assumes = append(t.assumes, "the survey's zero of "+map[int]string{0: "station", 2: "height"}[axis]+" by its axles and "+key)
	return true
}

// ownCoordinate is what a point of the survey has of its own along an axis, from the
// vehicle's zero, and what that rests on.
func ownCoordinate(b *project.Build, path string, axis int) (v float64, terms []project.Term, ok bool) {
	if p, ok := b.PointNamed(path); ok && p.Known {
		return coordinate(p.At, axis), p.Terms, true
	}
	for _, m := range b.Points {
		if m.Path() != path || m.From != "" {
			continue
		}
		c, key := m.Station, "station"
		switch axis {
		case 1:
			c, key = m.Offset.Coordinate, "offset"
		case 2:
			c, key = m.Height, "height"
		}
		if v, ok = c.Get(); ok {
			own, _ := c.HalfWidth()
			dir := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[axis]
			return v, []project.Term{{Path: path + "." + key, Dir: dir, Value: v, Repeats: c.Repeats, Half: own, Tool: m.With}}, true
		}
	}
	return 0, nil, false
}

func coordinate(p r3.Vec, axis int) float64 { return [3]float64{p.X, p.Y, p.Z}[axis] }

// place is a coordinate of a point in vehicle axes.
func (t *tie) place(path string, axis int) finding.Number {
	of := append(slices.Clone(t.axes.of), path)
	for _, p := range t.points[axis] {
		if !slices.Contains(of, p) {
			of = append(of, p)
		}
	}
	along := func(at func(string) r3.Vec, p string) float64 {
		return coordinate(t.axes.place(at, at(p)), axis)
	}
	m := t.n.number(of, func(at func(string) r3.Vec) float64 {
		v := along(at, path)
		for _, p := range t.points[axis] {
			v -= along(at, p) / float64(len(t.points[axis]))
		}
		return v
	})
	if !m.Known || len(t.points[axis]) == 0 {
		return m
	}
	return finding.Of(m.Plus(t.own[axis].Number))
}
