package assess

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
)

// Row is one placement row with what it reads now.
type Row struct {
	project.RowInfo
	Now Number
}

// poseOf is where the powertrain of a build stands.
func poseOf(b *project.Build) finding.Maybe[geom.Pose] { return poseAt(b.Seat()) }

// poseAt is where a placement on supports puts the powertrain; err says why there is
// none.
func poseAt(s seat.Supports, p seat.Placement, err error) finding.Maybe[geom.Pose] {
	var at finding.Maybe[geom.Pose]
	if err == nil {
		at.V, err = s.Pose(p)
	}
	if at.Known = err == nil; !at.Known {
		at.Why = err.Error()
	}
	return at
}

// place finds where the powertrain stands, and what the rows of its placement
// read there.
func (a *Assessment) place() {
	s, p, err := a.Build.Seat()
	a.Pose = poseAt(s, p, err)
	a.besides(placed{s, p})
	rows := project.PlacementRows()
	a.Rows = make([]Row, 0, len(rows))
	for _, info := range rows {
		row := Row{RowInfo: info, Now: finding.Missing(a.Pose.Why)}
		if a.Pose.Known {
			if v, err := s.Value(p, info.Row); err == nil {
				row.Now = a.open(v, func(on seat.Supports, p seat.Placement) (float64, error) { return on.Value(p, info.Row) })
			}
		} else if v, ok := rawRow(a.Build.Placement, info.Row); ok {
			row.Now = finding.Exact(v) // a height can be shown before the rest is known
		}
		a.Rows = append(a.Rows, row)
	}
}

func rawRow(p project.Placement, r seat.Row) (float64, bool) {
	switch r {
	case seat.LeftFront:
		return p.LeftFront.Get()
	case seat.RightFront:
		return p.RightFront.Get()
	case seat.Rear:
		return p.Rear.Get()
	case seat.Setback:
		return p.Setback.Get()
	case seat.Offset:
		return p.Offset.Get()
	case seat.Heading:
		return p.Heading.Get()
	}
	return 0, false
}
