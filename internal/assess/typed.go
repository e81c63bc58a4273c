package assess

import (
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// placed is a placement on supports.
type placed struct {
	on seat.Supports
	at seat.Placement
}

// placesBeside are the places that the powertrain has with one typed value after the
// other a standard uncertainty up from the place now: of the rows of its placement,
// and of its pads.
func (a *Assessment) placesBeside(now placed) []finding.Beside[placed] {
	s, p := now.on, now.at
	rows := project.PlacementRows()
	var out []finding.Beside[placed]
	for i := range a.stated {
		v := &a.stated[i]
		if k := slices.IndexFunc(rows[:], func(r project.RowInfo) bool { return r.Name == v.Path }); k >= 0 {
			by, q := v.Error(), p
			if at := q.At(rows[k].Row); at != nil { // none where it follows from others
				*at += by.U()
				out = append(out, finding.Beside[placed]{V: placed{s, q}, By: by})
			}
		}
		for k, name := range project.PadNames() {
			rest, ok := strings.CutPrefix(v.Path, "powertrain.pads."+name+"[")
			if !ok {
				continue
			}
			by, on := v.Error(), s
			pad := [3]*r3.Vec{&on.LeftFront, &on.RightFront, &on.Rear}[k]
			*map[string]*float64{"0]": &pad.X, "1]": &pad.Y, "2]": &pad.Z}[rest] += by.U()
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
