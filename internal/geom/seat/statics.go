package seat

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mount is a point that carries the powertrain.
type Mount struct {
	Name string // as it is said: "left front", "rear"
	At   r3.Vec // vehicle axes, mm
}

// slack is the pull, N, below which a mount is not yet said to lift: far under
// anything that matters, far over rounding.
const slack = 1e-3

// WeightsAtRest returns what each of three mounts carries of a powertrain at
// rest, N upward, in their order: moments of vertical forces about the line
// through the other two. It is all that balance alone can tell. More mounts
// share by their stiffness, and forces along and across the vehicle, or under
// any other load, depend on it even with three: those are Settle's.
//
// A mount may pull, which is a weight below 0.
func WeightsAtRest(b Body, mounts []Mount) ([]float64, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	if err := checkMounts(mounts); err != nil {
		return nil, err
	}
	if len(mounts) > 3 {
		return nil, ErrShared
	}
	if err := inPlan(mounts); err != nil {
		return nil, err
	}
	// Twice the areas, seen from above, of the triangles that the centre of
	// mass makes with two mounts: its barycentric coordinates.
	twice := func(p, q, r r3.Vec) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	all := twice(mounts[0].At, mounts[1].At, mounts[2].At)
	out := make([]float64, 3)
	for i := range out {
		p, q := mounts[(i+1)%3], mounts[(i+2)%3]
		out[i] = b.Weight() * twice(b.Centre, p.At, q.At) / all
		if !geom.Finite(out[i]) {
			return nil, fmt.Errorf("%s mount: the load on it is beyond what can be worked out; check the numbers", mounts[i].Name)
		}
	}
	return out, nil
}

// ErrShared is returned where balance leaves open how mounts share a load.
var ErrShared = errors.New("more than three mounts share the weight by their stiffness")

func checkMounts(mounts []Mount) error {
	if len(mounts) < 3 {
		return fmt.Errorf("%d mounts: at least three are needed to hold a powertrain", len(mounts))
	}
	for _, m := range mounts {
		if !geom.Finite(m.At.X, m.At.Y, m.At.Z) {
			return fmt.Errorf("%s mount: its place is not a number", m.Name)
		}
	}
	return nil
}

// inPlan returns an error when the mounts stand in one line seen from above.
func inPlan(mounts []Mount) error {
	mid, _ := middle(mounts)
	var xx, yy, xy float64
	for _, m := range mounts {
		d := r3.Sub(m.At, mid)
		xx, yy, xy = xx+d.X*d.X, yy+d.Y*d.Y, xy+d.X*d.Y
	}
	across := (xx+yy)/2 - math.Hypot((xx-yy)/2, xy) // squared spread off the best line
	if across > 1e-8*(xx+yy) && xx+yy > geom.Tiny {
		return nil
	}
	return fmt.Errorf("%s mounts: %w", namesOf(mounts), ErrPadLine)
}

// ErrPadLine is returned for mounts that stand in one line seen from above.
var ErrPadLine = errors.New("the pads lie in one line seen from above, so they cannot hold the powertrain level; check the pad points")

// inLine returns an error when the mounts lie in one line in space: nothing
// holds a powertrain against turning about it, whatever the rates.
func inLine(mounts []Mount) error {
	mid, reach := middle(mounts)
	off := 0.0
	for i, m := range mounts {
		for _, n := range mounts[:i] {
			off = max(off, r3.Norm(r3.Cross(r3.Sub(m.At, mid), r3.Sub(n.At, mid))))
		}
	}
	if off > 1e-6*reach*reach {
		return nil
	}
	return fmt.Errorf("%s mounts: %w", namesOf(mounts), ErrOneLine)
}

// ErrOneLine is returned for mounts that lie in one line in space.
var ErrOneLine = errors.New("the pads lie in one line, so nothing holds the powertrain against turning about it; check the pad points")

func namesOf(mounts []Mount) string {
	names := make([]string, len(mounts))
	for i, m := range mounts {
		names[i] = m.Name
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// middle returns the middle of the mounts and a length to scale arms by.
func middle(mounts []Mount) (mid r3.Vec, reach float64) {
	for _, m := range mounts {
		mid = r3.Add(mid, r3.Scale(1/float64(len(mounts)), m.At))
	}
	reach = 1
	for _, m := range mounts {
		reach = max(reach, r3.Norm(r3.Sub(m.At, mid)))
	}
	return mid, reach
}
