package assess

import (
	"slices"
	"strings"

	"fitup/internal/assess/finding"

	"gonum.org/v1/gonum/spatial/r3"
)

// reach is what a value of the file has to do with: parts, and one line only where it
// is named, or one piece of the vehicle.
type reach struct {
	parts Which
	line  string
	piece string // the id of the room to a piece of the vehicle, where it is of that one; else ""
	axes  bool   // the powertrain's too, so that readings mean another thing
}

// What is judged is judged by more than it was measured by.
const judged = Everything &^ (OfFrame | OfSteering | OfLists)

// narrowed returns what values of its build have to do with, by their paths. Where nothing
// narrower is known that is all.
func (p *Prepared) narrowed() func(path string) reach {
	b := p.Build
	places := map[string]bool{} // what measured points rest on, and so anything
	for _, p := range b.Points {
		placed, _ := b.PointNamed(p.Path())
		for _, t := range placed.Terms {
			places[t.Path] = true
		}
	}
	return func(path string) reach {
		if places[path] {
			return reach{parts: judged, axes: true}
		}
		return p.narrow(path)
	}
}

// narrow is what the value or the point at a path has to do with.
func (p *Prepared) narrow(path string) reach {
	table, rest, _ := strings.Cut(path, ".")
	name, key, _ := strings.Cut(rest, ".")
	key, _, _ = strings.Cut(key, ".")
	key, _, _ = strings.Cut(key, "[")
	switch {
	case table == "subframe":
		return reach{} // where it hangs has its own ±
	case table == "line" && slices.Contains([]string{"suspension", "pinion", "joint", "shaft", "first", "output", "output_slope"}, key):
		return reach{parts: OfLines | OfTravel | OfMoving, line: name}
	case strings.HasPrefix(path, "chassis["):
		return reach{parts: OfRoom | OfMoving, piece: p.room.PieceAt(path)}
	case table == "steering":
		return reach{parts: OfRoom | OfMoving, piece: finding.Clearance("steering")}
	case strings.HasPrefix(path, "powertrain.part["), strings.HasPrefix(path, "powertrain.exhaust["), strings.HasPrefix(path, "exhaust["):
		return reach{parts: OfRoom | OfMoving}
	case table == "rails":
		return reach{parts: OfLegs | OfCuts | OfRails}
	case table == "stock" || table == "shop" || table == "mount" && key == "leg":
		return reach{parts: OfLegs | OfCuts}
	case table == "old_powertrain":
		return reach{parts: OfStands | OfLoads | OfRide}
	}
	return reach{parts: judged, axes: table == "placement" || table == "powertrain" || table == "point"}
}

// with is what two of them have to do with together.
func (r reach) with(s reach) reach {
	lines := OfLines | OfTravel | OfMoving
	one := func(a, b string, part Which) string {
		switch {
		case r.parts&part == 0:
			return b
		case s.parts&part == 0 || a == b:
			return a
		}
		return ""
	}
	return reach{r.parts | s.parts, one(r.line, s.line, lines), one(r.piece, s.piece, OfRoom|OfMoving), r.axes || s.axes}
}

// reachOf is what an error of the survey has to do with, by the points that it moves;
// false where it moves none.
func (p *Prepared) reachOf(s finding.Shift) (to reach, moves bool) {
	for path, at := range p.Build.PointsBySurvey() {
		if s.Moves(at) != (r3.Vec{}) {
			to, moves = to.with(p.narrow(path)), true
		}
	}
	return to, moves
}

// has reports whether the value has to do with a finding of that part.
func (r reach) has(f *Finding, part Which) bool {
	switch {
	case r.parts&part == 0:
		return false
	case r.piece != "" && part&(OfRoom|OfMoving) != 0:
		return f.ID == r.piece || finding.IsExhaust(f.ID) || strings.HasPrefix(f.ID, r.piece+".")
	case r.line != "" && part&(OfLines|OfTravel) != 0:
		return strings.HasPrefix(f.ID, "line."+r.line+".")
	}
	return true
}
