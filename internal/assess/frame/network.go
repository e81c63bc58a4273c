package frame

import (
	"errors"
	"fmt"
	"sync"

	"fitup/internal/geom/tape"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// finest is the smallest standard uncertainty (mm, and of a square in mm at one
// metre) that a measurement is given: nothing on a frame is known better.
const finest = 0.02

// network is the net of one occasion, fitted.
type network struct {
	build  *project.Build
	lines  []Line // of the net, in its order
	paths  []string
	index  map[string]int
	net    *tape.Net
	fit    *tape.Fit
	sigma  []float64 // of each of lines, with what they share
	levels []bool    // whether a point's height was measured
	folds  func() []tape.Mirror
	*sourced
	free  bool // no point is held
	lifts bool // all heights are found from each other

	tie    tie // to the vehicle's zero, made once: it adds sources
	tieWhy string
}

// fitted makes the net of the lines and fits it. The error is a sentence.
func fitted(b *project.Build, lines []Line, e *sourced) (*network, []string, error) {
	n, assumes, err := fittedFrom(b, lines, e, nil)
	if err == nil {
		n = n.uncrossed()
		n.folds = sync.OnceValue(n.findFolds)
	}
	return n, assumes, err
}

// fittedFrom is fitted from where the points are thought to lie, by path; from nil it
// finds that from the measurements.
func fittedFrom(b *project.Build, lines []Line, e *sourced, start map[string]r3.Vec) (*network, []string, error) {
	n := &network{build: b, sourced: e, lines: lines, index: map[string]int{}, net: &tape.Net{}}
	assumes, err := n.addPoints()
	if err != nil {
		return nil, assumes, err
	}
	n.addLines()
	if start != nil {
		for i, p := range n.paths {
			n.net.Put(i, start[p])
		}
	} else if err := n.layout(); err != nil {
		var lost *tape.LostError
		if errors.As(err, &lost) {
			return nil, assumes, fmt.Errorf("no distance leads to %s from the others: measure one from each to two points that are placed", listed(lost.Points))
		}
		return nil, assumes, err
	}
	if n.free {
		if !n.upright() {
			assumes = append(assumes, "which end is the front and which side is the right is not known, and places may be turned over: survey.left and survey.right, with two points of each rail, or both axles are not in the survey")
		}
		if err := n.net.HoldFree([3]bool{true, true, n.lifts}, [3]bool{false, false, true}); err != nil {
			return nil, assumes, err
		}
	}
	p := n.net.Problem()
	p.Watch = func(steps int, _ float64) { n.tell("fitting the measurements", steps, 0) }
	n.fit, err = tape.Solve(n.context(), p)
	if err != nil {
		return nil, assumes, n.explain(err)
	}
	err = n.vague()
	return n, assumes, err
}

// layout finds where the points are, about.
func (n *network) layout() error {
	n.tell("finding where the points are", 0, 0)
	return n.net.Layout()
}
