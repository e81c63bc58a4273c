package assess

import (
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// reach is what a value of the file has to do with: parts, and one line only where it
// is named, or one piece of the vehicle.
type reach struct {
	parts Which
	line  string
	mount string // whose bracket it is of, and of those made after it; "" for any
	piece string // the id of the room to a piece of the vehicle, where it is of that one; else ""
	part  string // the piece of the powertrain that it is of; "" for more
	axes  bool   // the powertrain's too, so that readings mean another thing
	built bool   // lines run as they do until the weight is on the mounts
	hangs bool   // what was measured says what it did: its ± is in that already
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
			return reach{parts: judged, axes: true, hangs: true}
		}
		return p.narrow(path)
	}
}

// inMount is what a key of a mount has to do with.
func (p *Prepared) inMount(name, key string) reach {
	switch key {
	case "built":
		r := reach{parts: OfLegs | OfCuts, mount: name}
		if len(r.brackets(p.Build)) > 1 { // one stands as that one was finished
			r.parts |= p.roomOfMounts()
		}
		return r
	case "leg", "bracket", "member":
		if m := p.Build.Mount(name); m.Support() { // the others of its case carry the rest
			return reach{parts: OfLegs | OfCuts | OfRails | p.roomOfMounts()}
		}
		return reach{parts: OfLegs | OfCuts | p.roomOfMounts(), mount: name}
	case "adapter": // which the pad stands on
		return reach{parts: judged, axes: true}
	case "dynamic", "loss":
		return reach{parts: OfStands | OfLoads | OfShake, built: true}
	}
	return reach{parts: judged, built: true}
}

// narrow is what the value or the point at a path has to do with.
func (p *Prepared) narrow(path string) reach {
	table, rest, _ := strings.Cut(path, ".")
	list, _, _ := strings.Cut(table, "[")
	name, key, _ := strings.Cut(rest, ".")
	key, _, _ = strings.Cut(key, ".")
	key, _, _ = strings.Cut(key, "[")
	switch list {
	case "subframe": // where it hangs has its own ±
		return reach{}
	case "fastener", "fluid", "packing": // which are judged by nothing but themselves
		return reach{}
	case "line":
		if r, ok := p.inLine(name, key, rest); ok {
			return r
		}
	case "chassis":
		return reach{parts: OfRoom | OfMoving, piece: p.room.PieceAt(path)}
	case "pickup":
		r := reach{parts: OfPickups | OfRoom | OfMoving}
		if len(p.corners) > 0 {
			r.parts |= OfLegs | OfCuts // what a subframe puts on its mounts
		}
		return r
	case "steering":
		return reach{parts: OfRoom | OfMoving, piece: finding.Clearance("steering")}
	case "exhaust":
		return reach{parts: OfRoom | OfMoving}
	case "rails":
		return reach{parts: OfLegs | OfCuts | OfRails | p.roomOfMounts()}
	case "stock", "sheet":
		return reach{parts: OfCuts}
	case "shop":
		return reach{parts: OfLegs | OfCuts}
	case "mount":
		return p.inMount(name, key)
	case "old_powertrain":
		return reach{parts: OfStands | OfLoads | OfRide}
	case "powertrain":
		if strings.HasPrefix(name, "mark[") { // where it hangs has its own ±
			return reach{}
		}
		r := inPowertrain(name)
		if strings.HasPrefix(name, "part[") {
			r.part = p.room.PartAt(path)
			if !p.Build.Powertrain.Inertia.Begun() { // they are estimated from it
				r.parts |= OfShake
			}
		}
		return r
	}
	stands := table == "placement" || table == "point"
	return reach{parts: judged, axes: stands, hangs: stands}
}

// inLine is what a value of a line has to do with; false where that is nothing narrower than
// anything else of the build.
func (p *Prepared) inLine(name, key, rest string) (reach, bool) {
	switch {
	case strings.HasPrefix(rest, name+".pinion.mark["): // where the axle is has its own ±
		return reach{}, true
	case !slices.Contains([]string{"suspension", "pinion", "joint", "shaft", "first", "output", "output_slope", "output_spacer"}, key):
		return reach{}, false
	}
	r := reach{parts: OfLines | OfTravel | OfMoving | OfPickups, line: name}
	if slices.ContainsFunc(p.Build.Pickups, func(x project.Pickup) bool { return x.Line == name }) {
		r.parts |= OfRoom // springs go with its axle
	}
	if len(p.Build.SupportNames()) > 0 {
		r.parts |= OfLegs | OfCuts | OfRails | p.roomOfMounts() // its bearing's bracket, and its couples on a case
	}
	return r, true
}

// inPowertrain is what a value of the powertrain has to do with; key may have a number
// behind it.
func inPowertrain(key string) reach {
	key, _, _ = strings.Cut(key, "[")
	switch key {
	case "part", "exhaust":
		return reach{parts: OfRoom | OfMoving}
	case "inertia", "cruise":
		return reach{parts: OfShake}
	case "mass", "centre_of_mass":
		return reach{parts: judged, built: true}
	case "pads", "output", "transfer_case":
		return reach{parts: judged, axes: true}
	}
	return reach{parts: judged}
}

// roomOfMounts is the room, where brackets take part in it.
func (p *Prepared) roomOfMounts() Which {
	if p.room.LooksAtMounts() || len(p.corners) > 0 {
		return OfRoom | OfMoving
	}
	return 0
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
	return reach{
		parts: r.parts | s.parts,
		line:  one(r.line, s.line, lines), mount: one(r.mount, s.mount, OfLegs), piece: one(r.piece, s.piece, OfRoom|OfMoving),
		part: one(r.part, s.part, OfRoom|OfMoving),
		axes: r.axes || s.axes, built: r.staysBuilt() && s.staysBuilt(),
		hangs: (r.hangs || r.parts == 0) && (s.hangs || s.parts == 0),
	}
}

// roomAlone reports whether it is of the room, and of nothing that moves in it.
func (r reach) roomAlone() bool { return r.parts != 0 && r.parts&^(OfRoom|OfMoving) == 0 }

// staysBuilt reports whether lines run as they do but for the weight.
func (r reach) staysBuilt() bool { return r.built || r.parts&OfLines == 0 }

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
func (r reach) has(f *Finding, part Which, b *project.Build) bool {
	switch {
	case r.parts&part == 0:
		return false
	case r.piece != "" && part&(OfRoom|OfMoving) != 0:
		return f.ID == r.piece || finding.IsBeside(f.ID) || finding.IsExhaust(f.ID) || finding.IsTied(f.ID) || strings.HasPrefix(f.ID, r.piece+".")
	case r.line != "" && part&(OfLines|OfTravel) != 0:
		return strings.HasPrefix(f.ID, "line."+r.line+".")
	case r.mount != "" && part&OfLegs != 0:
		return slices.ContainsFunc(r.brackets(b), func(name string) bool { return finding.AboutBracket(f.ID, name) })
	}
	return true
}

// brackets are the mounts whose brackets the value has to do with; nil for all.
func (r reach) brackets(b *project.Build) (of []string) {
	if r.mount == "" {
		return nil
	}
	for i := range b.Mounts {
		if m := &b.Mounts[i]; m.Name == r.mount || m.Leg.Match == r.mount || m.Bracket.Match == r.mount {
			of = append(of, m.Name)
		}
	}
	return of
}
