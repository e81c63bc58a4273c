package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// touch is how deep two solids have to run into each other to have a seam, mm.
const touch = 0.5

// Seam returns the lines along which the surfaces of two solids cross, each from
// one point to another; none where they only touch.
func Seam(a, b *Solid) [][2]r3.Vec {
	ra, rb := a.Room(), b.Room()
	if !Meet(ra, rb) {
		return nil
	}
	var out [][2]r3.Vec
	for i := range a.Faces {
		if !cuts(&a.Faces[i], rb) {
			continue
		}
		for j := range b.Faces {
			if !cuts(&b.Faces[j], ra) {
				continue
			}
			if line, ok := crossing(a, i, b, j); ok {
				out = append(out, line)
			}
		}
	}
	return out
}

// cuts reports whether the plane of a face goes through a room.
func cuts(f *Face, room r3.Box) bool {
	middle, half := r3.Scale(0.5, r3.Add(room.Min, room.Max)), r3.Scale(0.5, r3.Sub(room.Max, room.Min))
	reach := math.Abs(f.Normal.X)*half.X + math.Abs(f.Normal.Y)*half.Y + math.Abs(f.Normal.Z)*half.Z
	return math.Abs(r3.Dot(f.Normal, middle)-f.Off) <= reach
}

// Meet reports whether the rooms of two solids run into each other, without which
// they have no seam.
func Meet(a, b r3.Box) bool {
	return a.Min.X < b.Max.X-touch && b.Min.X < a.Max.X-touch &&
		a.Min.Y < b.Max.Y-touch && b.Min.Y < a.Max.Y-touch &&
		a.Min.Z < b.Max.Z-touch && b.Min.Z < a.Max.Z-touch
}

// crossing is where face i of a and face j of b cross: the part of the line that
// their planes have in common which lies within both solids, and so, being in
// both planes, on both faces.
func crossing(a *Solid, i int, b *Solid, j int) (line [2]r3.Vec, ok bool) {
	f, g := a.Faces[i], b.Faces[j]
	d := r3.Cross(f.Normal, g.Normal)
	dd := r3.Norm2(d)
	if dd < 1e-12 {
		return line, false
	}
	// The point of the line nearest to the origin.
	at := r3.Scale(1/dd, r3.Add(r3.Scale(f.Off, r3.Cross(g.Normal, d)), r3.Scale(g.Off, r3.Cross(d, f.Normal))))
	from, to := math.Inf(-1), math.Inf(1)
	for _, s := range []struct {
		of   *Solid
		skip int
	}{{a, i}, {b, j}} {
		for k, h := range s.of.Faces {
			if k == s.skip {
				continue
			}
			slope, room := r3.Dot(h.Normal, d), h.Off-r3.Dot(h.Normal, at)
			switch {
			case math.Abs(slope) < 1e-12:
				if room < touch {
					return line, false
				}
			case slope > 0:
				to = min(to, room/slope)
			default:
				from = max(from, room/slope)
			}
			if from >= to {
				return line, false
			}
		}
	}
	return [2]r3.Vec{r3.Add(at, r3.Scale(from, d)), r3.Add(at, r3.Scale(to, d))}, to-from > touch/math.Sqrt(dd)
}
