package seat

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Bosses are the threaded bosses of a block that a plate is bolted to, the powertrain's
// own frame, mm.
type Bosses struct {
	At     []r3.Vec // the middle of each hole, on its face
	Facing r3.Vec   // which way those faces look, off the block, to some 60°; of any length
}

// PadOff is how far from the face of its bosses a pad may be given, mm: more than a tape
// is wrong by, less than any plate on them is thick.
const PadOff = 3

// Face is the plane that a stiff flat plate comes to lie on, pressed on in the middle of the
// bosses: that of the three which stand foremost round there. point is on it, amid the
// bosses, normal looks off the block and has length 1, and below is how far each boss is
// behind it, mm. It fails with fewer than three, with all in one line, and where they do not
// look that way at all.
func (b Bosses) Face() (point, normal r3.Vec, below []float64, err error) {
	n := len(b.At)
	if n < 3 {
		return point, normal, nil, fmt.Errorf("%d bosses are no face for a plate; want three or more that are not in one line", n)
	}
	for i, p := range b.At {
		if !geom.Finite(p.X, p.Y, p.Z) || r3.Norm(p) > geom.LimitLength {
			return point, normal, nil, fmt.Errorf("boss %d is not at a usable place", i+1)
		}
		point = r3.Add(point, r3.Scale(1/float64(n), p))
	}
	facing, err := geom.Unit(b.Facing)
	if err != nil {
		return point, normal, nil, fmt.Errorf("the bosses do not say which way they look")
	}
	// The plane of the least squares of all (Eberly, Geometric Tools for Computer Graphics,
	// appendix, from memory) says which way they look.
	scatter := mat.NewSymDense(3, nil)
	for _, p := range b.At {
		d := r3.Sub(p, point)
		scatter.SymRankOne(scatter, 1, mat.NewVecDense(3, []float64{d.X, d.Y, d.Z}))
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(scatter, true) {
		return point, normal, nil, fmt.Errorf("the bosses' places give no plane")
	}
	if v := eigen.Values(nil); math.Sqrt(max(v[1], 0)) < 5 { // rms across the line that they are nearest to, mm
		return point, normal, nil, fmt.Errorf("the bosses lie in one line, so that they do not say how a plate lies on them; give one beside it")
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	normal = r3.Unit(r3.Vec{X: vectors.At(0, 0), Y: vectors.At(1, 0), Z: vectors.At(2, 0)})
	toward := r3.Dot(normal, facing)
	if toward < 0 {
		normal, toward = r3.Scale(-1, normal), -toward
	}
	if toward < 0.5 {
		return point, normal, nil, fmt.Errorf("the bosses' faces look %.0f° away from there; check the way they look, or their places", math.Acos(toward)*180/math.Pi)
	}
	return b.lies(point, normal)
}

// lies is how a plate lies on three of the bosses, the others at or behind it, and their
// middle between those three; of two ways the one that leaves the others less far behind.
// toward is the direction that it looks, by all of them (the plane of the least squares).
func (b Bosses) lies(middle, toward r3.Vec) (point, normal r3.Vec, below []float64, err error) {
	best := math.Inf(1)
	for i := range b.At {
		for j := range i {
			for k := range j {
				p, q, w := b.At[i], b.At[j], b.At[k]
				n := r3.Cross(r3.Sub(q, p), r3.Sub(w, p))
				area := r3.Norm(n)
				if area < 25 { // in one line
					continue
				}
				if n = r3.Scale(1/area, n); r3.Dot(n, toward) < 0 {
					n = r3.Scale(-1, n)
				}
				if !within(middle, [3]r3.Vec{p, q, w}, n) {
					continue
				}
				most, behind := 0.0, make([]float64, len(b.At))
				for x, at := range b.At {
					behind[x] = r3.Dot(n, r3.Sub(p, at))
					if most = max(most, behind[x]); behind[x] < -1e-9 {
						most = math.Inf(1)
						break
					}
					behind[x] = max(0, behind[x])
				}
				if most < best {
					best, normal, below = most, n, behind
					point = r3.Add(middle, r3.Scale(r3.Dot(n, r3.Sub(p, middle)), n))
				}
			}
		}
	}
	if below == nil {
		return middle, toward, nil, fmt.Errorf("the bosses carry no plate: no three of them stand round their middle")
	}
	return point, normal, below, nil
}

// within reports whether a place lies over a triangle, seen along n.
func within(at r3.Vec, of [3]r3.Vec, n r3.Vec) bool {
	var sign [3]float64
	for i, p := range of {
		sign[i] = r3.Dot(n, r3.Cross(r3.Sub(of[(i+1)%3], p), r3.Sub(at, p)))
	}
	const edge = 1e-6
	return min(sign[0], sign[1], sign[2]) > -edge || max(sign[0], sign[1], sign[2]) < edge
}

// Stacked is where a pad comes to be that was measured on the face of the bosses, with a
// stack of spacers and plate between, mm. It fails where the pad is not on that face.
func (b Bosses) Stacked(pad r3.Vec, stack float64) (r3.Vec, error) {
	point, normal, _, err := b.Face()
	if err != nil {
		return pad, err
	}
	off := r3.Dot(normal, r3.Sub(pad, point))
	if !(math.Abs(off) <= PadOff) {
		side := "off"
		if off < 0 {
			side = "behind"
		}
		return pad, fmt.Errorf("the pad is %.1f mm %s the face of the bosses; give its place on that face: what lies between is added", math.Abs(off), side)
	}
	return r3.Add(pad, r3.Scale(stack-off, normal)), nil
}
