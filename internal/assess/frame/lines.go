package frame

import (
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/tape"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// sigma is the standard uncertainty of a line, with all that it shares with others.
func sigma(l Line) float64 { return max(l.Value.U(), l.least()) }

// least is the smallest that a line is given.
func (l Line) least() float64 {
	if l.As == project.SquareLine {
		return finest / 1000
	}
	return finest
}

// addPoints puts the points of the survey and of its lines into the net.
func (n *network) addPoints() (assumes []string, err error) {
	b := n.build
	add := func(paths ...string) {
		for _, p := range paths {
			if p != "" && !slices.Contains(n.paths, p) {
				n.paths = append(n.paths, p)
			}
		}
	}
	for _, l := range n.lines {
		add(l.From, l.To, l.At)
	}
	held := map[string]bool{}
	if b.Survey.Datum == project.PointsDatum {
		for _, p := range b.Survey.Points {
			add(p)
			held[p] = true
		}
	}
	n.free = len(held) == 0
	levelled := n.levelled(held)
	var flat []string
	anyLevel := len(levelled) > 0
	n.lifts = n.free && len(levelled) == len(n.paths)
	if n.free && !n.lifts && anyLevel { // the first height is as good as any
		levelled[n.paths[slices.IndexFunc(n.paths, func(p string) bool { return levelled[p] })]] = false
	}
	for i, p := range n.paths {
		n.index[p] = i
		at, _ := b.PointNamed(p)
		point := tape.Point{Name: finding.SpokenPoint(p), At: at.At, Guess: !at.Known, Free: [3]bool{true, true, levelled[p]}}
		if held[p] {
			if !at.Known {
				return assumes, fmt.Errorf("%s is to hold the survey, but %s", p, at.Why)
			}
			point.Free = [3]bool{}
		}
		if n.free { // all places are found anew, and turned to the datum afterwards
			point.Guess, point.At = true, r3.Vec{Z: at.At.Z}
		}
		_, measured := levelled[p]
		n.levels = append(n.levels, measured || at.Known)
		if !measured && !at.Known && anyLevel {
			flat = append(flat, finding.SpokenPoint(p))
		}
		n.net.Add(point)
	}
	switch {
	case !anyLevel && !slices.Contains(n.levels, true):
		assumes = append(assumes, "all points lie at one height: none was measured")
		n.levels = make([]bool, len(n.paths))
	case len(flat) > 0:
		assumes = append(assumes, listed(flat)+" at height 0: none was measured")
	}
	return assumes, nil
}

// levelled are the points whose heights are to be found: those that heights lead
// to.
func (n *network) levelled(held map[string]bool) map[string]bool {
	out := map[string]bool{}
	for _, l := range n.lines {
		if l.As == project.HeightLine {
			for _, p := range []string{l.From, l.To} {
				if !held[p] {
					out[p] = true
				}
			}
		}
	}
	return out
}

// addLines puts the lines into the net, and what they share: the scale of the tape that
// several were taken with moves them together.
func (n *network) addLines() {
	values := make([]uncertain.Number, len(n.lines))
	for i, l := range n.lines {
		values[i] = l.Value.Number
	}
	common, names, own := uncertain.Shared(values)
	for i, l := range n.lines {
		s := max(own[i], l.least())
		n.sigma = append(n.sigma, sigma(l))
		n.take(n.net, l, s)
	}
	shared := make([]tape.Common, len(common))
	for k := range common {
		shared[k] = tape.Common{Name: names[k], Of: common[k]}
	}
	n.net.Share(shared...)
}

// take puts a line into a net of these points, with its standard uncertainty.
func (n *network) take(net *tape.Net, l Line, s float64) {
	a, b := n.index[l.From], n.index[l.To]
	switch l.As {
	case project.HeightLine:
		net.Rise(l.Name, a, b, l.Value.V, s)
	case project.OffsetLine: // to the right of the string, so to the left of it run back
		net.Offset(l.Name, n.index[l.At], b, a, l.Value.V, s)
	case project.SquareLine:
		net.Angle(l.Name, n.index[l.At], a, b, l.Value.V, s)
	default:
		net.Distance(l.Name, a, b, l.Value.V, s)
	}
}
