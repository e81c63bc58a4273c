package scene

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/geom/clear"

	"gonum.org/v1/gonum/spatial/r3"
)

// cornerSize is the radius of a measured point of a subframe, mm: of the drawing only.
const cornerSize = 8

// subframes draws the measured points of what hangs in the frame where they are now, and
// joins them in turn about their middle.
func (s *Scene) subframes(a *assess.Assessment) {
	for _, x := range a.Subframes {
		id := "subframe." + x.Name
		var ring []r3.Vec
		for _, p := range x.Points {
			if !p.Now[0].Known || !p.Now[1].Known || !p.Now[2].Known {
				continue
			}
			at := r3.Vec{X: p.Now[0].V, Y: p.Now[1].V, Z: p.Now[2].V}
			own := id
			if p.Corner {
				own = id + ".corner." + strings.TrimPrefix(p.Path, "point.")
			}
			s.shape(Part{ID: own, Role: RoleChassis}, clear.Sphere{At: at, R: cornerSize})
			if !x.Wheel(p.Path) {
				ring = append(ring, at)
			}
		}
		if len(ring) > 1 {
			s.add(Part{ID: id, Name: strings.ReplaceAll(x.Name, "_", " ") + " subframe", Role: RoleChassis, Line: around(ring)})
		}
	}
}

// around is a closed run through points in turn, seen from above about their middle.
func around(points []r3.Vec) []r3.Vec {
	mid := r3.Vec{}
	for _, p := range points {
		mid = r3.Add(mid, r3.Scale(1/float64(len(points)), p))
	}
	slices.SortFunc(points, func(p, q r3.Vec) int {
		return cmp.Compare(math.Atan2(p.Y-mid.Y, p.X-mid.X), math.Atan2(q.Y-mid.Y, q.X-mid.X))
	})
	return append(points, points[0])
}
