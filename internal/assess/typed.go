package assess

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// typedPlace are the sources behind every ± that was typed of where the powertrain
// stands: of the rows of its placement, and of its pads.
type typedPlace struct {
	rows [6]finding.Estimate // by written row
	pads [3][3]finding.Estimate
}

// typedPlaceOf adds the sources to s.
func typedPlaceOf(b *project.Build, s *uncertain.Sources) *typedPlace {
	t := &typedPlace{}
	for i, row := range seat.Written() {
		if half, info := rowHalf(b.Placement, row), rowNamed(row); half > 0 {
			t.rows[i] = finding.EstimateIn(s, "the ± typed of "+info.Name)
		}
	}
	for i, half := range padHalves(b) {
		for k, h := range components(half) {
			if h > 0 {
				t.pads[i][k] = finding.EstimateIn(s, "the ± typed of powertrain.pads."+project.PadNames()[i])
			}
		}
	}
	return t
}

func components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// padHalves are the ± typed of the pads, own frame, in the order of
// project.PadNames.
func padHalves(b *project.Build) (out [3]r3.Vec) {
	for i, name := range project.PadNames() {
		out[i] = b.Powertrain.Pads.Pad(name).Half
	}
	return out
}

func rowNamed(row seat.Row) project.RowInfo {
	for _, info := range project.PlacementRows() {
		if info.Row == row {
			return info
		}
	}
	return project.RowInfo{}
}

// rowHalf is the half width of the ± typed of a written row, 0 for none.
func rowHalf(p project.Placement, row seat.Row) float64 {
	half := 0.0
	switch row {
	case seat.LeftFront:
		half, _ = p.LeftFront.HalfWidth()
	case seat.RightFront:
		half, _ = p.RightFront.HalfWidth()
	case seat.Rear:
		half, _ = p.Rear.HalfWidth()
	case seat.Setback:
		half, _ = p.Setback.HalfWidth()
	case seat.Offset:
		half, _ = p.Offset.HalfWidth()
	case seat.Heading:
		half, _ = p.Heading.HalfWidth()
	}
	return half
}

// placed is a placement on supports.
type placed struct {
	on seat.Supports
	at seat.Placement
}

// placesBeside are the places that the powertrain has with one typed value after the
// other a standard uncertainty up from the place now.
func (a *Assessment) placesBeside(now placed) []finding.Beside[placed] {
	s, p := now.on, now.at
	var out []finding.Beside[placed]
	t := a.ready.typed
	for i, row := range seat.Written() {
		if half := rowHalf(a.Build.Placement, row); half > 0 {
			by, q := t.rows[i].Within(0, half).Number, p
			*q.At(row) += by.U()
			out = append(out, finding.Beside[placed]{V: placed{s, q}, By: by})
		}
	}
	for i, half := range padHalves(a.Build) {
		for k, h := range components(half) {
			if h == 0 {
				continue
			}
			by, on := t.pads[i][k].Within(0, h).Number, s
			pad := [3]*r3.Vec{&on.LeftFront, &on.RightFront, &on.Rear}[i]
			*[3]*float64{&pad.X, &pad.Y, &pad.Z}[k] += by.U()
			out = append(out, finding.Beside[placed]{V: placed{on, p}, By: by})
		}
	}
	return out
}

// besides finds where the powertrain stands in the places beside its own. A place
// that it cannot have within the ± of what was typed leaves it without one.
func (a *Assessment) besides(now placed) {
	if !a.Pose.Known {
		return
	}
	a.places = a.placesBeside(now)
	for _, b := range a.places {
		pose, err := b.V.on.Pose(b.V.at)
		if err != nil {
			a.Pose = finding.Maybe[geom.Pose]{Why: "within the ± typed of the placement and the pads: " + err.Error()}
			return
		}
		a.beside = append(a.beside, finding.Beside[geom.Pose]{V: pose, By: b.By})
	}
}

// open is a value at where the powertrain stands, with what the ± typed of that
// leave open: at is the value in another place.
func (a *Assessment) open(v float64, at func(on seat.Supports, p seat.Placement) (float64, error)) Number {
	var by []uncertain.Weighted
	for _, b := range a.places {
		w, err := at(b.V.on, b.V.at)
		if err != nil {
			return finding.Missing(err.Error())
		}
		by = append(by, b.Slope(v, w))
	}
	return finding.Of(uncertain.Smooth(v, by...))
}
