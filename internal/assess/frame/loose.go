package frame

import (
	"errors"
	"fmt"
	"slices"

	"fitup/internal/geom/tape"
	"fitup/internal/project"
)

// vague is an error when the measurements fix a point so loosely that its place
// means nothing, as those on nearly one line do beside that line.
func (n *network) vague() error {
	const times = 100 // as uncertain as one of the measurements
	most := 0.0
	for _, l := range n.lines {
		if l.As != project.SquareLine {
			most = max(most, sigma(l))
		}
	}
	var names []string
	for i, p := range n.paths {
		for k := range 3 {
			if u := n.net.Unknown(i, k); u >= 0 && n.fit.Sigma(u) > times*most && !slices.Contains(names, spoken(p)) {
				names = append(names, spoken(p))
			}
		}
	}
	if len(names) == 0 {
		return nil
	}
	return fmt.Errorf("the measurements hardly fix %s, for the points lie nearly on one line: measure how far one of them lies beside a string, or to a point well off that line", listed(names))
}

// explain says why there is no answer, and what would help most.
func (n *network) explain(err error) error {
	var loose *tape.LooseError
	if !errors.As(err, &loose) {
		return err
	}
	var names []string
	for i, p := range n.paths {
		for k := range 3 {
			if u := n.net.Unknown(i, k); u >= 0 && slices.Contains(loose.Unknowns, u) && !slices.Contains(names, spoken(p)) {
				names = append(names, spoken(p))
			}
		}
	}
	what := "the measurements do not fix " + listed(names)
	if n.free && len(names) == len(n.paths) {
		what = "the measurements do not fix the shape: parts of it can move against each other"
	}
	x := n.net.Problem().Start
	further := n.net.Furthers(x, n.sigmas())
	k := loose.Ties(further, x)
	if k < 0 {
		return errors.New(what + ", and no further distance between these points would: they lie on one line; add a point off it")
	}
	return fmt.Errorf("%s: measure %s next", what, n.say(further[k]))
}

// sigmas are what a further measurement would be good for: as the median of those
// there are.
func (n *network) sigmas() tape.Sigmas {
	var of [3][]float64
	for _, l := range n.lines {
		k, ok := map[project.SurveyLine]int{project.DistanceLine: 0, project.HeightLine: 1, project.OffsetLine: 2}[l.As]
		if ok {
			of[k] = append(of[k], sigma(l))
		}
	}
	middle := func(v []float64) float64 {
		if len(v) == 0 {
			return 0
		}
		slices.Sort(v)
		return v[len(v)/2]
	}
	s := tape.Sigmas{Distance: middle(of[0]), Rise: middle(of[1]), Offset: middle(of[2])}
	if s.Distance == 0 {
		s.Distance = 1
	}
	if s.Offset == 0 {
		s.Offset = s.Distance
	}
	return s
}
