package assess

import (
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
)

// aim is what of the parts that are asked for one finding is of: a line, a mount, a
// piece of the vehicle. "" is any of them, and where it cannot be told.
type aim struct {
	line   string
	angles bool // of that line, the angles of its joints at ride height alone
	mount  string
	piece  string // the id of the room to it

	together bool // of all mounts at once, and not of what each carries
}

// aimAt is the aim of the finding with that id.
func aimAt(b *project.Build, pieces []Clearance, id string) (to aim) {
	switch finding.TradeOf(id) {
	case finding.LineTrade, finding.TravelTrade:
		for _, l := range b.Lines {
			// A name may begin with another one and a dot.
			if strings.HasPrefix(id, "line."+l.Name+".") && len(l.Name) > len(to.line) {
				to.line = l.Name
			}
		}
		rest := strings.TrimPrefix(id, "line."+to.line+".")
		to.angles = finding.Matches("joint.*.min", rest) || finding.Matches("joint.*.max", rest)
	case finding.MountTrade:
		for _, m := range b.Mounts {
			if id == finding.MountLifts(m.Name) {
				to.mount = m.Name
			}
		}
		to.together = id == finding.MountsSag || id == finding.MountsRock || id == finding.MountsIsolation
	case finding.BracketTrade:
		for _, m := range b.Mounts {
			if finding.AboutBracket(id, m.Name) {
				to.mount = m.Name
			}
		}
	case finding.ClearTrade:
		if id == finding.Moving(finding.Clearance("powertrain")) {
			to.piece = finding.Clearance("powertrain")
		}
		for _, c := range pieces {
			if id == c.ID || id == finding.Rocked(c.ID) || id == finding.Moving(c.ID) {
				to.piece = c.ID
			}
		}
	}
	return to
}
