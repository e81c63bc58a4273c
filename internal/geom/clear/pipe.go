package clear

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Sagitta is how far the rods of a bend may stand in from its arc, mm; their radius is
// larger by as much as they do, so a pipe is never nearer than it is said to be.
const Sagitta = 0.5

// BendError names the corner of a pipe (its first point is 1) that its bend does not
// fit into, and what of its legs the bends take.
type BendError struct {
	Corner     int
	Takes, Leg float64 // mm; Takes is with what the bend at the other end of the leg takes
	TurnsBack  bool    // the pipe turns back on itself there
}

func (e *BendError) Error() string {
	if e.TurnsBack {
		return fmt.Sprintf("at point %d the pipe turns back on itself", e.Corner)
	}
	return fmt.Sprintf("the bend at point %d takes %.1f mm of a leg of %.1f mm", e.Corner, e.Takes, e.Leg)
}

// Pipe returns a pipe as rods, its points the corners of its centre line, mm: straight
// between bends of that radius about the corners, 0 for mitred ones. An arc is a run of
// rods between points on it, no more than Sagitta inside it, and as much thicker: R·(1 −
// cos θ/2) for a rod over θ. Both ends are rounded off by the pipe's radius.
//
// It fails with a BendError where a bend's two straight parts, R·tan(turn/2) each, do
// not fit into the legs, and where two points are one.
func Pipe(points []r3.Vec, bend, radius float64) ([]Segment, error) {
	if len(points) < 2 {
		return nil, fmt.Errorf("a pipe has two points at least; read %d", len(points))
	}
	if !finite(points...) || !geom.Finite(bend, radius) || bend < 0 || radius <= 0 {
		return nil, fmt.Errorf("a pipe has places in numbers, a radius above 0 and bends of 0 or more")
	}
	legs := make([]float64, len(points)-1)
	for i := range legs {
		if legs[i] = length(r3.Sub(points[i+1], points[i])); legs[i] < geom.Tiny {
			return nil, fmt.Errorf("points %d and %d of the pipe are one place", i+1, i+2)
		}
	}
	takes := make([]float64, len(points))
	turns := make([]float64, len(points))
	for i := 1; i+1 < len(points); i++ {
		turns[i] = geom.Between(r3.Sub(points[i], points[i-1]), r3.Sub(points[i+1], points[i])).Rad()
		if turns[i] > math.Pi-0.01 {
			return nil, &BendError{Corner: i + 1, TurnsBack: true}
		}
		takes[i] = bend * math.Tan(turns[i]/2)
	}
	for i, leg := range legs {
		if sum := takes[i] + takes[i+1]; sum > leg+1e-9 {
			at := i
			if takes[i+1] > takes[i] {
				at = i + 1
			}
			return nil, &BendError{Corner: at + 1, Takes: sum, Leg: leg}
		}
	}
	var out []Segment
	from := points[0]
	for i := 1; i < len(points); i++ {
		in := r3.Unit(r3.Sub(points[i], points[i-1]))
		to := r3.Sub(points[i], r3.Scale(takes[i], in))
		if length(r3.Sub(to, from)) > geom.Tiny {
			out = append(out, Segment{A: from, B: to, R: radius})
		}
		from = to
		if takes[i] > 0 {
			onward := r3.Unit(r3.Sub(points[i+1], points[i]))
			out = append(out, bendRods(to, in, onward, bend, turns[i], radius)...)
			from = out[len(out)-1].B
		}
	}
	return out, nil
}

// bendRods are a bend from a point on, from one direction to the other.
func bendRods(from, in, onward r3.Vec, bend, turn, radius float64) []Segment {
	each := 2 * math.Acos(max(0, 1-Sagitta/bend))
	n := max(1, int(math.Ceil(turn/each)))
	more := bend * (1 - math.Cos(turn/float64(2*n)))
	toward := r3.Unit(r3.Sub(onward, r3.Scale(r3.Dot(onward, in), in))) // to the middle of the bend
	middle := r3.Add(from, r3.Scale(bend, toward))
	out := make([]Segment, n)
	last := from
	for i := range out {
		sin, cos := math.Sincos(turn * float64(i+1) / float64(n))
		next := r3.Add(middle, r3.Add(r3.Scale(bend*sin, in), r3.Scale(-bend*cos, toward)))
		out[i] = Segment{A: last, B: next, R: radius + more}
		last = next
	}
	return out
}

// Opening returns a sheet with a rectangular opening as the four plates round it, which
// reach so far beyond it, mm: middle is that of the opening, across and up are half its
// width and half its height, square to each other. The sheet has no thickness.
func Opening(middle, across, up r3.Vec, reach float64) []Shape {
	w, h := length(across), length(up)
	pose := geom.Pose{At: middle, X: r3.Unit(across), Y: r3.Unit(up)}
	pose.Z = r3.Cross(pose.X, pose.Y)
	plate := func(x, y, halfX, halfY float64) Shape {
		p := pose
		p.At = r3.Add(middle, r3.Add(r3.Scale(x, pose.X), r3.Scale(y, pose.Y)))
		return Box{Pose: p, Half: r3.Vec{X: halfX, Y: halfY}}
	}
	return []Shape{
		plate(-w-reach/2, 0, reach/2, h+reach), plate(w+reach/2, 0, reach/2, h+reach),
		plate(0, -h-reach/2, w, reach/2), plate(0, h+reach/2, w, reach/2),
	}
}
