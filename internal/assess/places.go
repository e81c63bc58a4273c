package assess

import (
	"maps"
	"slices"
	"strings"

	"fitup/internal/assess/bracket"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/travel"
	"fitup/internal/geom/shaft"
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
	assumes  []string // what the places take for granted
	builds   []*project.Build
}

// unplaced is a point of the file that waits for the survey, and why.
type unplaced struct{ path, why string }

// placePoints gives the points of the build that the survey is to place their places.
func (p *Prepared) placePoints() *project.Build {
	b := p.Build
	waiting := map[string]bool{}
	for _, u := range b.Unplaced() {
		waiting[u.Waits] = true
	}
	if len(waiting) == 0 {
		return b
	}
	found, why := p.frame.Places(slices.Sorted(maps.Keys(waiting)))
	at := map[string]r3.Vec{}
	reason := map[string]string{}
	var numbers []uncertain.Number
	var names []string
	for _, f := range found {
		if missing := unknownOf(f.At[:]); missing != "" {
			reason[f.Path] = missing
			continue
		}
		at[f.Path] = r3.Vec{X: f.At[0].V, Y: f.At[1].V, Z: f.At[2].V}
		p.places.assumes = f.Assumes
		for k := range 3 {
			numbers, names = append(numbers, f.At[k].Number), append(names, f.Path)
		}
	}
	if err := p.shiftsOf(names, numbers); err != nil {
		at, why = map[string]r3.Vec{}, err.Error()
	}
	p.Build = b.WithPlaces(at)
	for _, u := range p.Build.Unplaced() {
		p.places.unplaced = append(p.places.unplaced, unplaced{u.Path, whyUnplaced(u, reason[u.Waits], why)})
	}
	for _, s := range p.places.shifts {
		p.places.builds = append(p.places.builds, p.Build.WithPlaces(moved(at, s)))
	}
	return p.Build
}

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

// shiftsOf makes the errors of the places: three numbers for each name.
func (p *Prepared) shiftsOf(names []string, numbers []uncertain.Number) error {
	first := p.sources.Len()
	own, err := uncertain.Factored(p.sources, func(i int) string {
		return "where the survey has " + finding.Spoken(strings.TrimPrefix(names[i], "point."))
	}, numbers...)
	if err != nil {
		return err
	}
	for id := first + 1; id <= p.sources.Len(); id++ {
		s := finding.Shift{By: p.sources.Number(0, uncertain.Part{Of: uncertain.ID(id), C: 1}), At: map[string]r3.Vec{}}
		for i, n := range own {
			v := s.At[names[i]]
			*[3]*float64{&v.X, &v.Y, &v.Z}[i%3] = n.Of(uncertain.ID(id))
			s.At[names[i]] = v
		}
		p.places.shifts = append(p.places.shifts, s)
	}
	return nil
}

// moved are the places with an error of the survey a standard uncertainty up.
func moved(at map[string]r3.Vec, s finding.Shift) map[string]r3.Vec {
	out := maps.Clone(at)
	for path, d := range s.At {
		out[path] = r3.Add(out[path], d)
	}
	return out
}

// openBrackets gives what is found of the brackets what the survey leaves open of the
// rails and of the legs' own points.
func (a *Assessment) openBrackets(from int) {
	a.openBy(from, func(p project.Point, path string) bool {
		return strings.HasPrefix(path, "rails.") || strings.HasPrefix(path, "mount.")
	}, func(_ int, b *project.Build) []Finding {
		return bracket.Prepare(b, madeWelds(b)).At(a.Pose, a.bracketLoads()).Findings
	})
}

// openTravel does it for the travel of line i.
func (a *Assessment) openTravel(from, i int, planWhy string) {
	prefix := "line." + a.Build.Lines[i].Name + "."
	a.openBy(from, func(p project.Point, path string) bool { return strings.HasPrefix(path, prefix) }, func(k int, b *project.Build) []Finding {
		s := a.ready.places.shifts[k]
		chain, err := a.ready.lines[i].ChainBeside(a.Pose, s)
		if err != nil {
			chain = shaft.Chain{}
		}
		var end finding.Maybe[travel.End]
		if err == nil {
			end = travel.EndOf(chain)
		}
		return travel.Prepare(b, b.Lines[i], end, a.ready.rates).At(travel.Place{Chain: chain, PlanWhy: planWhy}).Findings
	})
}

// openBy opens the findings from that index on by what each error of the survey that
// moves such points makes of them.
func (a *Assessment) openBy(from int, touches func(p project.Point, path string) bool, beside func(k int, b *project.Build) []Finding) {
	places := &a.ready.places
	if len(places.shifts) == 0 || from == len(a.Findings) {
		return
	}
	var moving []project.Point
	for path, p := range a.ready.Build.PointsBySurvey() {
		if touches(p, path) {
			moving = append(moving, p)
		}
	}
	by := make([][]uncertain.Weighted, len(a.Findings)-from)
	for k, s := range places.shifts {
		if !slices.ContainsFunc(moving, func(p project.Point) bool { return s.Of(p) != (r3.Vec{}) }) {
			continue
		}
		b := places.builds[k]
		there := map[string]Finding{}
		for _, f := range beside(k, b) {
			there[f.ID] = f
		}
		for i := range by {
			f := &a.Findings[from+i]
			g, ok := there[f.ID]
			switch {
			case !f.HasValue:
			case !ok || !g.HasValue:
				why := "within the survey's ± it is not defined"
				if g.Missing != "" {
					why += ": " + g.Missing
				}
				f.Unplaced(why)
			default:
				by[i] = append(by[i], uncertain.Weighted{K: (g.Value - f.Value) / s.By.U(), N: s.By})
			}
		}
	}
	for i, w := range by {
		if f := &a.Findings[from+i]; f.HasValue && len(w) > 0 {
			f.Open(uncertain.Smooth(0, w...))
		}
	}
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
	case finding.MountTrade:
		return table == "old_powertrain" && finding.Matches(finding.AxleHeight("*"), id)
	case finding.ClearTrade:
		return strings.HasPrefix(path, "chassis[") && finding.Matches("clearance.**", id) || table == "line" && finding.Matches(finding.Moving(finding.Clearance("*")), id)
	}
	return false
}

// carried reports whether the ± of the survey is in the numbers of a finding.
func carried(by finding.Trade, id string, b *project.Build) bool {
	switch by {
	case finding.MountTrade:
		return false
	case finding.ClearTrade:
		return !finding.Matches(finding.Moving(finding.Clearance("*")), id)
	case finding.TravelTrade:
		for _, l := range b.Lines {
			if strings.HasPrefix(id, "line."+l.Name+".") && b.Hung(l) {
				return false
			}
		}
	}
	return true
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
				what := p.assumes
				if !carried(by, f.ID, b) {
					what = append([]string{"the ± of the survey is not in this number's own"}, what...)
				}
				f.Assumes = append(f.Assumes[:len(f.Assumes):len(f.Assumes)], what...)
				break
			}
		}
	}
}
