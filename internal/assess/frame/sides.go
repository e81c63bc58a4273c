package frame

import (
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/tape"

	"gonum.org/v1/gonum/spatial/r3"
)

// crossed counts what no frame can be: rails that run against each other or back on
// themselves, and cross lines or axles whose left end lies on the right of one side
// and on the left of another. Which side is which the whole may still have wrong where
// no point is held: that is turned over afterwards.
func (n *network) crossed(at func(path string) r3.Vec) int {
	s := n.build.Survey
	k := len(s.Left) - 1
	if k < 1 || len(s.Right) != len(s.Left) || !n.has(s.Left) || !n.has(s.Right) {
		return 0
	}
	left, right := level(r3.Sub(at(s.Left[k]), at(s.Left[0]))), level(r3.Sub(at(s.Right[k]), at(s.Right[0])))
	out := 0
	if r3.Dot(left, right) <= 0 {
		out++
	}
	if !n.free && left.X+right.X <= 0 { // held where X runs rearward
		out++
	}
	for i := range k {
		if r3.Dot(left, r3.Sub(at(s.Left[i+1]), at(s.Left[i]))) < 0 {
			out++
		}
		if r3.Dot(right, r3.Sub(at(s.Right[i+1]), at(s.Right[i]))) < 0 {
			out++
		}
	}
	along, sides := r3.Add(left, right), [2]int{}
	across := func(l, r string) {
		if beside(at(r), at(l), along) > 0 {
			sides[0]++
		} else {
			sides[1]++
		}
	}
	for i := range s.Left {
		across(s.Left[i], s.Right[i])
	}
	for _, a := range axlesOf(s) {
		if n.has(a.of) {
			across(a.of[0], a.of[1])
		}
	}
	if !n.free {
		return out + sides[1]
	}
	return out + min(sides[0], sides[1])
}

func (n *network) here(path string) r3.Vec { return n.net.Where(n.index[path], n.fit.X) }

// mirrored are the places with some points where a mirror has them.
func (n *network) mirrored(m tape.Mirror) func(path string) r3.Vec {
	return func(path string) r3.Vec {
		if k := slices.Index(m.Points, n.index[path]); k >= 0 {
			return m.At[k]
		}
		return n.here(path)
	}
}

// uncrossed is the net with points put to the other side where measurements leave two
// places and only one makes a frame; itself where there is nothing to do.
func (n *network) uncrossed() *network {
	for range n.paths {
		least, best := n.crossed(n.here), -1
		if least == 0 {
			break
		}
		found, err := n.net.Mirrors(n.context(), n.fit)
		if err != nil {
			break
		}
		for i, m := range found {
			if c := n.crossed(n.mirrored(m)); c < least {
				least, best = c, i
			}
		}
		if best < 0 {
			break
		}
		start, to := map[string]r3.Vec{}, n.mirrored(found[best])
		for _, p := range n.paths {
			start[p] = to(p)
		}
		next, _, err := fittedFrom(n.build, n.lines, n.sourced, start)
		if err != nil || next.fit.SumSquare > n.fit.SumSquare+apart || next.crossed(next.here) >= n.crossed(n.here) {
			break
		}
		n = next
	}
	return n
}

// findFolds are the other places that points could have, without those that make no frame.
func (n *network) findFolds() []tape.Mirror {
	n.tell("looking whether points could lie elsewhere as well", 0, 0)
	found, err := n.net.Mirrors(n.context(), n.fit)
	if err != nil {
		return nil
	}
	now := n.crossed(n.here)
	return slices.DeleteFunc(found, func(m tape.Mirror) bool { return n.crossed(n.mirrored(m)) > now })
}

// mirrors says where points could be as well.
func (n *network) mirrors() []string {
	var out []string
	for _, m := range n.folds() {
		out = append(out, n.mirrorText(m))
	}
	return out
}

func (n *network) mirrorText(m tape.Mirror) string {
	var names []string
	for _, p := range m.Points {
		names = append(names, finding.SpokenPoint(n.paths[p]))
	}
	what, it := "could lie on the other side as well", "it"
	if len(names) > 1 {
		what, it = "could be folded over to the other side as well", "one of them"
	}
	return fmt.Sprintf("%s %s: measure one more distance to %s from a point off the line between those it was measured from", listed(names), what, it)
}

// foldable says that a point of rails or axles could lie elsewhere as well; "" when
// none could.
func (n *network) foldable() string {
	s := n.build.Survey
	judged := slices.Concat(s.Left, s.Right, s.FrontAxle, s.RearAxle)
	for _, m := range n.folds() {
		if slices.ContainsFunc(m.Points, func(p int) bool { return slices.Contains(judged, n.paths[p]) }) {
			return n.mirrorText(m)
		}
	}
	if n.crossed(n.here) > 0 {
		return "the rails cross each other by what was measured: look whether survey.left and survey.right name their points from front to rear, left and right, and whether a measurement stands between the wrong points"
	}
	return ""
}
