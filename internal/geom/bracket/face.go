package bracket

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Face is a flat face: a point on it (vehicle axes, mm) and the direction it
// looks in, which need not have length 1.
type Face struct {
	Point, Normal r3.Vec
}

// Off returns how far a point stands off the face, positive on the side the
// face looks to, mm.
func (f Face) Off(p r3.Vec) (float64, error) {
	n, err := geom.Unit(f.Normal)
	if err != nil || !finiteVec(f.Point, p) {
		return 0, bad("face", "", "its direction or the point is not usable: give the way the face looks")
	}
	return r3.Dot(n, r3.Sub(p, f.Point)), nil
}

// FacePose returns the plane frame of a face: z the way it looks, y as nearly
// as can be along up, x to complete a right-handed frame, origin at the face's
// point. A zero up means vehicle up, or forward when the face looks up or
// down.
func FacePose(part string, f Face, up r3.Vec) (geom.Pose, error) {
	n, err := geom.Unit(f.Normal)
	if err != nil || !finiteVec(f.Point, f.Normal, up) {
		return geom.Pose{}, bad("face", part, "it does not say which way it looks: give a direction with a length")
	}
	y, err := across(n, up)
	if err != nil {
		return geom.Pose{}, bad("face", part, "the direction meant as up is square to the face; choose one that lies in it")
	}
	return geom.Pose{X: r3.Cross(y, n), Y: y, Z: n, At: f.Point}, nil
}

// OnFace returns vehicle points in the plane frame of a face, dropped onto it.
func OnFace(pose geom.Pose, pts []r3.Vec) []r2.Vec {
	out := make([]r2.Vec, len(pts))
	for i, p := range pts {
		o := pose.Own(p)
		out[i] = r2.Vec{X: o.X, Y: o.Y}
	}
	return out
}

// across returns the unit vector square to d that is nearest to up. A zero up
// stands for vehicle up, and for forward when d is upright.
func across(d, up r3.Vec) (r3.Vec, error) {
	if up == (r3.Vec{}) {
		up = r3.Vec{Z: 1}
		if math.Hypot(d.X, d.Y) < 1e-6 {
			up = r3.Vec{X: -1}
		}
	} else {
		u, err := geom.Unit(up)
		if err != nil {
			return r3.Vec{}, err
		}
		up = u
	}
	return geom.Unit(r3.Sub(up, r3.Scale(r3.Dot(up, d), d)))
}
