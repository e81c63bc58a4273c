package assess

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/frame"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// From the frame trade to all others: the places of points that the survey finds, and
// what their errors do. The errors are sources of the assessment by the Cholesky
// factor of their covariance, so that what two points share drops out where it does.

// places are what the survey finds for other trades.
type places struct {
	shifts   finding.Shifts
	unplaced []unplaced
	typed    []typedShift      // what the ± of values move, until the sources of those are there
	assumes  []string          // what the places take for granted
	at       map[string]r3.Vec // by path
}

// unplaced is a point of the file that waits for the survey, and why.
type unplaced struct{ path, why string }

// placePoints gives the points of the build that the survey is to place their places.
func (p *Prepared) placePoints() {
	b := p.Build
	waiting, hanging := map[string]bool{}, map[string]bool{}
	for _, u := range b.Unplaced() {
		if _, hangs := b.Hangs(u.Waits); hangs {
			hanging[u.Waits] = true
		} else {
			waiting[u.Waits] = true
		}
	}
	if len(waiting)+len(hanging) == 0 {
		return
	}
	var found []frame.Place
	why := ""
	if len(waiting) > 0 {
		found, why = p.frame.Places(slices.Sorted(maps.Keys(waiting)))
	}
	found = append(found[:len(found):len(found)], p.hanging(hanging)...)
	reason := map[string]string{}
	var placed []frame.Place
	p.places.at = map[string]r3.Vec{}
	for _, f := range found {
		if missing := unknownOf(f.At[:]); missing != "" {
			reason[f.Path] = missing
			continue
		}
		placed = append(placed, f)
		p.places.at[f.Path] = r3.Vec{X: f.At[0].V, Y: f.At[1].V, Z: f.At[2].V}
		for _, s := range f.Assumes {
			if !slices.Contains(p.places.assumes, s) {
				p.places.assumes = append(p.places.assumes, s)
			}
		}
	}
	p.Build = b.WithPlaces(p.places.at)
	if err := p.shiftsOf(placed); err != nil {
		why = err.Error()
		p.Build = b.WithPlaces(map[string]r3.Vec{})
	}
	for _, u := range p.Build.Unplaced() {
		p.places.unplaced = append(p.places.unplaced, unplaced{u.Path, whyUnplaced(u, reason[u.Waits], why)})
	}
}

// Placed is a build with the points that the survey places where it finds them.
func Placed(b *project.Build) *project.Build { return Prepare(b).Build }

func unknownOf(all []finding.Number) string {
	for _, m := range all {
		if !m.Known {
			return m.Why
		}
	}
	return ""
}

func whyUnplaced(u project.Unplaced, own, all string) string {
	why := u.Why
	for _, w := range []string{own, all, "the last survey has no measurement to " + u.Waits} {
		if why == "" {
			why = w
		}
	}
	return u.Ref + " has no place: " + why
}

// shiftsOf makes the errors of the places. Those behind places that much rests on come
// first, so that those after them move only what little rests on.
func (p *Prepared) shiftsOf(placed []frame.Place) error {
	slices.SortStableFunc(placed, func(f, g frame.Place) int { return cmp.Compare(p.weight(g.Path), p.weight(f.Path)) })
	var numbers []uncertain.Number
	var names []string
	for _, f := range placed {
		for k := range f.At {
			numbers, names = append(numbers, p.places.untyped(p.frame.Typed(), f, k)), append(names, f.Path)
		}
	}
	first := p.sources.Len()
	own, err := uncertain.Factored(p.sources, func(i int) string {
		return measuredWhere(p.Build, names[i]) + finding.Spoken(strings.TrimPrefix(names[i], "point."))
	}, numbers...)
	if err != nil {
		return err
	}
	for id := first + 1; id <= p.sources.Len(); id++ {
		s := finding.ShiftBy(p.sources, uncertain.ID(id))
		for i, n := range own {
			v := s.At[names[i]]
			*[3]*float64{&v.X, &v.Y, &v.Z}[i%3] = n.Of(uncertain.ID(id))
			s.At[names[i]] = v
		}
		p.places.shifts = append(p.places.shifts, s)
	}
	return nil
}

// measuredWhere is how a place that was found is called, before its name.
func measuredWhere(b *project.Build, path string) string {
	if _, hangs := b.Hangs(path); hangs {
		return "where its subframe hangs at "
	}
	return "where the survey has "
}

// typedShift is what the error of a value of the file does to places of the survey, mm for
// each mm: the value holds the survey, or ties it to the vehicle's zero.
type typedShift struct {
	path string
	u    float64 // standard uncertainty of the value
	at   map[string]r3.Vec
}

// untyped is a coordinate of a place without what it takes from values of the file with a
// ±, which is noted: all else that rests on such a value moves with it.
func (p *places) untyped(typed []frame.Typed, f frame.Place, axis int) uncertain.Number {
	n := f.At[axis].Number
	for _, t := range typed {
		k := t.In(f.At[axis])
		if k == 0 {
			continue
		}
		n = n.Minus(t.Error.Times(k))
		i := slices.IndexFunc(p.typed, func(s typedShift) bool { return s.path == t.Path })
		if i < 0 {
			i, p.typed = len(p.typed), append(p.typed, typedShift{t.Path, t.Error.U(), map[string]r3.Vec{}})
		}
		v := p.typed[i].at[f.Path]
		*[3]*float64{&v.X, &v.Y, &v.Z}[axis] = k
		p.typed[i].at[f.Path] = v
	}
	return n
}

// placesByTyped makes shifts of what values with a ± do to places: by the source of the
// value itself, so that what lies between a place and what was typed keeps nothing of
// what moves both.
func (p *Prepared) placesByTyped() {
	for _, t := range p.places.typed {
		s := finding.Shift{At: map[string]r3.Vec{}}
		if v, ok := p.stated.Value(t.path); ok {
			s.Value, s.Of, s.By = t.path, v.Of, v.Error().Times(1/v.Error().U())
		} else {
			id, err := p.sources.Add(uncertain.Source{Label: "the ± of " + t.path, U: 1})
			if err != nil {
				panic(err) // it came after a fork: what it leaves open would get lost
			}
			s = finding.ShiftBy(p.sources, id)
		}
		for path, by := range t.at {
			s.At[path] = r3.Scale(t.u, by)
		}
		p.places.shifts = append(p.places.shifts, s)
	}
}

// weight is how much it takes to work out anew what rests on a place of the survey.
func (p *Prepared) weight(name string) int {
	most := 0
	for path, at := range p.Build.PointsBySurvey() {
		for _, t := range at.By {
			switch {
			case !strings.HasPrefix(t.Path, name+"."):
			case strings.HasPrefix(path, "line."):
				most = max(most, 2)
			case strings.HasPrefix(path, "chassis["):
				most = max(most, 1)
			}
		}
	}
	return most
}

// judge makes findings not known that rest on points which the survey has not
// placed.
func (p *places) judge(by finding.Trade, found []Finding) {
	for _, u := range p.unplaced {
		for i := range found {
			if f := &found[i]; restsOn(by, f.ID, u.path) {
				f.Unplaced(u.why)
			}
		}
	}
}

// restsOn reports whether a finding of a trade follows from the point of that path: in
// doubt it does.
func restsOn(by finding.Trade, id, path string) bool {
	table, rest, _ := strings.Cut(path, ".")
	name, _, _ := strings.Cut(rest, ".")
	switch by {
	case finding.LineTrade, finding.TravelTrade:
		return table == "line" && strings.HasPrefix(id, "line."+name+".")
	case finding.BracketTrade:
		return table == "rails" || table == "mount"
	case finding.SteerTrade:
		return table == "steering"
	case finding.PickupTrade:
		return table == "pickup" && strings.HasPrefix(id, "pickup."+name+".")
	case finding.MountTrade:
		return table == "old_powertrain" && finding.Matches(finding.AxleHeight("*"), id)
	case finding.ClearTrade:
		return ofRoom(table, id)
	}
	return false
}

// ofRoom reports whether room follows from a point of that table.
func ofRoom(table, id string) bool {
	list, _, _ := strings.Cut(table, "[")
	switch list {
	case "chassis":
		return true
	case "steering":
		return finding.IsExhaust(id) || finding.IsBeside(id) || finding.IsTied(id) || finding.Matches(finding.Clearance("steering")+".**", id) || id == finding.Clearance("steering")
	case "exhaust":
		return finding.IsExhaust(id)
	case "torque_link", "roll_stop":
		return finding.IsTied(id) || finding.IsExhaust(id)
	case "line":
		return finding.IsMoving(id)
	}
	return false
}

// say writes on the findings of trades whose points the survey places what that takes
// for granted.
func (p *places) say(by finding.Trade, found []Finding, b *project.Build) {
	if len(p.shifts) == 0 {
		return
	}
	for i := range found {
		f := &found[i]
		if !f.HasValue {
			continue
		}
		for path := range b.PointsBySurvey() {
			if restsOn(by, f.ID, path) {
				f.Assumes = append(f.Assumes[:len(f.Assumes):len(f.Assumes)], p.assumes...)
				break
			}
		}
	}
}
