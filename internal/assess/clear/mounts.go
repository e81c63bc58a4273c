package clear

import (
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
)

// Mount is a bracket as what else has to stay clear of it.
type Mount struct {
	Bracket string // rear
	Name    string // rear bracket
	Crosses bool   // it stands on both rails, in the way of shafts
	Bolted  bool   // it is bolted in, so that it can come out
	Why     string // why it has no shapes, when it has none
	Shapes  []clear.Shape
	Stays   []clear.Shape // those of them that stay on the rails when it comes out
	Moves   []clear.Shape // the others
	Pieces  []MountPiece  // the same as Shapes, by name and closer
	Pad     *MountPad     // nil where the powertrain does not stand on it
}

// LooksAtMounts reports whether a mount of the build has a bracket, of which the room is asked
// to the powertrain, and of which what else there is has to stay clear.
func (p *Prepared) LooksAtMounts() bool {
	return slices.ContainsFunc(p.build.Mounts, func(m project.Mount) bool { return m.HasBracket() })
}

// mountPieces are the brackets that are known.
func (r *room) mountPieces() []piece {
	var out []piece
	for _, m := range r.in.Mounts {
		if len(m.Shapes) > 0 {
			c := piece{id: finding.BracketMoving(m.Bracket), stood: stood{name: m.Name}, wantedMoving: r.wanted}
			out = append(out, c.of(m.Shapes))
		}
	}
	return out
}

// notInIt says which brackets are not among them.
func (r *room) notInIt() (out []string) {
	for _, m := range r.in.Mounts {
		if len(m.Shapes) == 0 {
			out = append(out, "the "+m.Name+" is not in it: "+m.Why)
		}
	}
	return out
}

// crossmembers hold each of them against shafts and axles over their travel.
func (r *room) crossmembers() {
	if r.in.Piece != "" {
		return
	}
	for _, m := range r.in.Mounts {
		if !m.Crosses {
			continue
		}
		id := finding.BracketMoving(m.Bracket)
		title := m.Name + ", room to shafts and axles over the travel"
		if was, ok := r.asWas(id); ok {
			r.judgeOther(id, title, m.Name, was)
			continue
		}
		least := Moving{Gap: finding.Missing(""), Why: m.Why}
		if len(m.Shapes) > 0 {
			c := piece{stood: stood{name: m.Name}}.of(m.Shapes)
			least = r.otherRoom(id, c.name, c.standing(), c.shapes)
		}
		if !least.Gap.Known && least.Why == "" {
			continue
		}
		r.judgeOther(id, title, m.Name, least)
	}
}
