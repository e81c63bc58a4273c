package clear

import (
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
)

// groupOf is the group of the room to what belongs there.
func groupOf(of project.Belongs) string {
	return map[project.Belongs]string{project.OfSteering: finding.RoomSteering, project.OfTower: finding.RoomTowers,
		project.OfSuspension: finding.RoomSuspension, project.OfSubframe: finding.RoomSubframe}[of]
}

// of is the piece with its shapes; one of which something is missing has none.
func (c piece) of(shapes []clear.Shape) piece {
	if c.why != "" {
		return c
	}
	c.shapes = shapes
	for _, s := range shapes {
		c.solids = append(c.solids, clear.Ready(s))
	}
	return c
}

// stood is all of a piece that its crowds are made of: standing is given nothing else.
type stood struct {
	name   string
	solids []clear.Solid
	with   []With // of each solid, where any goes with a wheel
}

// same reports whether two make the same crowds.
func (c *stood) same(d *stood) bool {
	return c.name == d.name && slices.Equal(c.solids, d.solids) && slices.Equal(c.with, d.with)
}

// standing are the solids of the piece, which stand wherever the powertrain is.
func (c *stood) standing() []standingBody {
	out := make([]standingBody, len(c.solids))
	for i := range c.solids {
		out[i] = standingBody{name: c.name, solid: c.solids[i], stand: anyStand}
		if len(c.with) > 0 {
			out[i].with = &c.with[i]
		}
	}
	return out
}

// first is where the powertrain at the first of its places comes nearest to a piece.
func (r *room) first(at *clear.Placed, c *piece) clear.Near {
	n := at.First(&c.solids[0])
	for i := 1; i < len(c.solids); i++ {
		n = nearerOf(n, at.First(&c.solids[i]))
	}
	return n
}

func nearerOf(a, b clear.Near) clear.Near {
	if b.Gap < a.Gap {
		return b
	}
	return a
}

// steeringPiece adds the steering shaft, each of its shafts as a rod.
func (p *Prepared) steeringPiece(gap, rocked project.Rule) {
	st := &p.build.Steering
	if !st.Given() {
		return
	}
	out := piece{id: finding.Clearance("steering"), stood: stood{name: "steering shaft"}, group: finding.RoomSteering, wanted: gapRule(gap, st.Gap), wantedRocked: gapRule(rocked, st.GapRocked), wantedMoving: p.wanted,
		assumes: []string{"each shaft of the steering as a rod of its diameter, without its joints' yokes, and nothing of column and box"}}
	out.rockedID, out.movingID = finding.Rocked(out.id), finding.Moving(out.id)
	var shapes []clear.Shape
	var places []project.Point
	for i := range st.Joints {
		at, path := st.JointAt(i)
		places = append(places, at)
		if !at.Known && out.why == "" {
			out.why = project.SpokenPath(path) + " is not in the file yet"
		}
		if i == 0 || out.why != "" {
			continue
		}
		d, ok := st.Shaft(i - 1).Diameter.Get()
		if !ok {
			out.why = fmt.Sprintf("steering.shaft.%d.diameter is not in the file yet", i)
			continue
		}
		shapes = append(shapes, clear.Segment{A: places[i-1].At, B: at.At, R: d / 2})
	}
	switch why := st.Unended(); {
	case why != "":
		out.why = why
	case out.why == "" && len(shapes) == 0:
		out.why = "steering.joint is not in the file yet, two of them at least"
	}
	p.pieces = append(p.pieces, out.of(shapes))
}
