package frame

import (
	"errors"
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/tape"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
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
			if u := n.net.Unknown(i, k); u >= 0 && n.fit.Sigma(u) > times*most && !slices.Contains(names, finding.SpokenPoint(p)) {
				names = append(names, finding.SpokenPoint(p))
			}
		}
	}
	if len(names) == 0 {
		return nil
	}
	return fmt.Errorf("the measurements hardly fix %s, for the points lie nearly on one line: measure how far one of them lies beside a string, or to a point well off that line", listed(names))
}

// nearlyOnOneLine reports whether the points, seen from above, lie so near to one line
// that no frame does: less than a fiftieth of their length beside it.
func (n *network) nearlyOnOneLine() bool {
	const fiftieth = 0.02
	x := n.net.Problem().Start
	var mid r3.Vec
	for i := range n.paths {
		mid = r3.Add(mid, r3.Scale(1/float64(len(n.paths)), n.net.Where(i, x)))
	}
	var xx, yy, xy float64
	for i := range n.paths {
		d := r3.Sub(n.net.Where(i, x), mid)
		xx, yy, xy = xx+d.X*d.X, yy+d.Y*d.Y, xy+d.X*d.Y
	}
	e := tape.EllipseFrom(xx, yy, xy)
	return e.Short <= fiftieth*e.Long
}

// explain says why there is no answer, and what would help most.
func (n *network) explain(err error) error {
	var loose *tape.LooseError
	switch {
	case errors.As(err, &loose):
	case errors.Is(err, tape.ErrNoStart) && n.nearlyOnOneLine():
		return errors.New("the points lie nearly on one line, and distances along a line hardly say where each lies beside it: measure how far they lie beside a string, or to points well off that line")
	case errors.Is(err, tape.ErrNoStart):
		return errors.New("no places of the points come near all that was measured: look for a measurement between the wrong points, or with a slip in it")
	default:
		return err
	}
	var names []string
	for i, p := range n.paths {
		for k := range 3 {
			if u := n.net.Unknown(i, k); u >= 0 && slices.Contains(loose.Unknowns, u) && !slices.Contains(names, finding.SpokenPoint(p)) {
				names = append(names, finding.SpokenPoint(p))
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
