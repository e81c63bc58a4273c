package clear

import (
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// tie is a torque link, which goes with the powertrain at one end and stands at the other,
// or the buffers of a roll stop, which stand.
type tie struct {
	id, movingID string // of its findings
	name, why    string
	on           r3.Vec // on the powertrain, own frame
	radius       float64
	link         bool
	end          r3.Vec  // a link's other end, vehicle axes
	eye          float64 // radius of its eyes
	way          r3.Vec  // a stop's axis, vehicle axes, and how far along and against it its buffers begin
	sides        [2]float64
	high         float64
	assumes      []string
}

// tiesOf are the links and stops of a build; a stop that is part of a mount lies inside that.
func tiesOf(b *project.Build) (out []tie) {
	lacks := func(path, key string) string { return path + "." + key + " is not in the file yet" }
	for i := range b.TorqueLinks {
		l, path := &b.TorqueLinks[i], "torque_link."+b.TorqueLinks[i].Name
		t := tie{id: finding.TorqueLinkRoom(l.Name), movingID: finding.TorqueLinkMoving(l.Name), name: finding.Spoken(l.Name) + " torque link",
			link: true, on: l.On.At, end: l.To.At, radius: l.Diameter.V() / 2, eye: max(l.Diameter.V(), l.Eye.V()) / 2}
		switch {
		case !l.On.Known:
			t.why = lacks(path, "on")
		case !l.To.Known:
			t.why = lacks(path, "to")
		case !l.Diameter.Known():
			t.why = lacks(path, "diameter")
		case !l.Eye.Known():
			t.assumes = []string{"its eyes no thicker than its rod: " + lacks(path, "eye")}
		default:
			t.assumes = []string{"its eyes as balls of their diameter"}
		}
		out = append(out, t)
	}
	for i := range b.RollStops {
		s, path := &b.RollStops[i], "roll_stop."+b.RollStops[i].Name
		if s.Mount != "" {
			continue
		}
		t := tie{id: finding.RollStopRoom(s.Name), movingID: finding.RollStopMoving(s.Name), name: finding.Spoken(s.Name) + " roll stop",
			on: s.At.At, radius: s.Diameter.V() / 2, high: s.Height.V(), assumes: []string{"its buffers as blocks of their diameter, and nothing of its bracket"}}
		t.sides[0], t.sides[1] = s.Sides()
		switch {
		case !s.At.Known:
			t.why = lacks(path, "at")
		case math.IsInf(t.sides[0], 1) && math.IsInf(t.sides[1], 1):
			t.why = lacks(path, "play")
		case !s.Diameter.Known():
			t.why = lacks(path, "diameter")
		case !s.Height.Known():
			t.why = lacks(path, "height")
		}
		t.way = s.Way()
		out = append(out, t)
	}
	return out
}

// shapes are those of the tie with the powertrain at a place, as built where that is.
func (t *tie) shapes(built, pose geom.Pose) []clear.Shape {
	if t.link {
		on := pose.Point(t.on)
		return []clear.Shape{clear.Segment{A: on, B: t.end, R: t.radius}, clear.Sphere{At: on, R: t.eye}, clear.Sphere{At: t.end, R: t.eye}}
	}
	var out []clear.Shape
	for k, sign := range [2]float64{1, -1} {
		if play := t.sides[k]; !math.IsInf(play, 1) {
			z := r3.Scale(sign, t.way)
			p := geom.Orient(geom.Slope(z), geom.Heading(z), 0, r3.Add(built.Point(t.on), r3.Scale(play+t.high/2, z)))
			out = append(out, clear.Box{Pose: p, Half: r3.Vec{X: t.high / 2, Y: t.radius, Z: t.radius}})
		}
	}
	return out
}

// feet are where it is fixed to the vehicle.
func (t *tie) feet(built geom.Pose) (out []r3.Vec) {
	if t.link {
		return []r3.Vec{t.end}
	}
	for k, sign := range [2]float64{1, -1} {
		if play := t.sides[k]; !math.IsInf(play, 1) {
			out = append(out, r3.Add(built.Point(t.on), r3.Scale(sign*(play+t.high), t.way)))
		}
	}
	return out
}

// placedTie is one with its solids at every place of the powertrain.
type placedTie struct {
	*tie
	at [][]clear.Solid
	// onIt and toIt are the pieces that it is fixed to, or met by, and beyond what of a link
	// is looked at for each of the two: from a reach of the joint on.
	onIt, toIt []string
	beyond     [][2][]clear.Solid
}

// footReach is how far from the foot of a buffer what it stands on lies at the most, mm: set
// by fitup.
const footReach = 10

// tied are the ties that are known, placed; nil without a place of the powertrain.
func (r *room) tied() (out []placedTie) {
	if !r.in.Pose.Known || len(r.in.Stands) == 0 {
		return nil
	}
	for i := range r.ties {
		t := &r.ties[i]
		if t.why != "" {
			continue
		}
		p := placedTie{tie: t}
		for _, pose := range r.poses() {
			var solids []clear.Solid
			for _, s := range t.shapes(r.in.Pose.V, pose) {
				solids = append(solids, clear.Ready(s))
			}
			p.at, p.beyond = append(p.at, solids), append(p.beyond, t.beyond(pose))
		}
		p.onIt = r.partsAt(joint{t.on, t.eye + jointReach})
		reach := float64(footReach)
		if t.link {
			reach = t.eye + jointReach
		}
		for _, foot := range t.feet(r.in.Pose.V) {
			at := clear.Ready(clear.Point{At: foot})
			for k := range r.pieces {
				c := &r.pieces[k]
				if slices.ContainsFunc(c.solids, func(s clear.Solid) bool { gap, _, _ := s.Distance(&at); return gap <= reach }) {
					p.toIt = append(p.toIt, c.name)
				}
			}
		}
		out = append(out, p)
	}
	return out
}

// beyond are what of a link lies beyond a reach of its joint on the powertrain, and on the
// vehicle.
func (t *tie) beyond(pose geom.Pose) (out [2][]clear.Solid) {
	if !t.link {
		return out
	}
	on := pose.Point(t.on)
	for k, joint := range [2]r3.Vec{on, t.end} {
		if s, ok := beyondJoint(clear.Segment{A: on, B: t.end, R: t.radius}, joint); ok {
			out[k] = []clear.Solid{clear.Ready(s), clear.Ready(clear.Sphere{At: [2]r3.Vec{t.end, on}[k], R: t.eye})}
		}
	}
	return out
}

// to are the solids at a place that are looked at for a piece of that name.
func (p *placedTie) to(k int, name string) []clear.Solid {
	switch {
	case slices.Contains(p.onIt, name):
		return p.beyond[k][0]
	case slices.Contains(p.toIt, name):
		return p.beyond[k][1]
	}
	return p.at[k]
}

// leftOut says what is not looked at of it for the pieces that it is fixed to.
func (p *placedTie) leftOut() (out []string) {
	for _, name := range append(slices.Clone(p.onIt), p.toIt...) {
		if p.link {
			out = append(out, fmt.Sprintf("its first %d mm from the %s, which it is bolted to, are not held against that", jointReach, name))
		} else {
			out = append(out, "the room to the "+name+", which it stands on or is met by, is not in it")
		}
	}
	return out
}

// tiesUnseen says which are not among them.
func (r *room) tiesUnseen() (out []string) {
	for i := range r.ties {
		if t := &r.ties[i]; t.why != "" {
			out = append(out, "the "+t.name+" is not in it: "+t.why)
		}
	}
	return out
}

// judgeTies says of each link and stop what room it has, wherever the powertrain can stand.
func (r *room) judgeTies() {
	if len(r.ties) == 0 {
		return
	}
	placed := r.tied()
	for i := range r.ties {
		t := &r.ties[i]
		x := beyond{gap: finding.Missing(t.why), assumes: slices.Clone(t.assumes)}
		p := slices.IndexFunc(placed, func(p placedTie) bool { return p.tie == t })
		switch {
		case t.why != "":
		case p < 0:
			if x.gap.Why = r.in.Pose.Why; r.in.Pose.Known {
				x.gap.Why = "the powertrain has no place yet"
			}
		case r.in.Rock.Asked && r.in.Rock.Why != "":
			x.gap.Why = r.in.Rock.Why
		default:
			r.leastOfTie(&x, &placed[p])
		}
		r.sayBeyond(&x, t.id, t.name+", room with the powertrain sagged and rocked", "; move one of its ends, or that")
		if len(r.in.Lines) > 0 && r.in.Piece == "" {
			r.tieMoving(t, placed, p)
		}
	}
}

// leastOfTie looks for what comes nearest to it at all places.
func (r *room) leastOfTie(x *beyond, p *placedTie) {
	x.most, x.soft = math.Inf(1), math.Inf(1)
	mounts := r.mountPieces()
	for k := range p.at {
		look := func(name string, other *clear.Solid) {
			solids := p.to(k, name)
			for i := range solids {
				r.nearer(x, k, &solids[i], other, name)
			}
		}
		for _, pieces := range [2][]piece{r.pieces, mounts} {
			for i := range pieces {
				for j := range pieces[i].solids {
					look(pieces[i].name, &pieces[i].solids[j])
				}
			}
		}
		for i, name := range r.names {
			if r.placed != nil {
				look(name, r.placed.Solid(k, i))
			}
		}
	}
	x.gap = finding.Missing("the file has nothing yet that it could come near: powertrain.part or chassis")
	if !math.IsInf(x.most, 1) {
		x.gap = r.rates.Spread(x.most, min(x.most, x.soft))
	}
	for i := range r.pieces {
		if x.why == "" {
			x.why = r.pieces[i].why
		}
	}
	if r.why != "" && len(r.build.Powertrain.Parts) > 0 {
		x.why = r.why
	}
	x.assumes = append(x.assumes, p.leftOut()...)
	x.assumes = append(append(x.assumes, r.notInIt()...), "rails and what the file has no piece of are not in it; pipes of the exhaust are looked at with their own room for heat")
}

// tieMoving is its room to shafts and axles; p is its place among those that are placed, or
// -1.
func (r *room) tieMoving(t *tie, placed []placedTie, p int) {
	title := t.name + ", room to shafts and axles over the travel"
	if was, ok := r.asWas(t.movingID); ok {
		r.judgeOther(t.movingID, title, t.name, was)
		return
	}
	m := Moving{Gap: finding.Missing(""), Why: t.why}
	switch {
	case m.Why != "":
	case p < 0:
		if m.Why = r.in.Pose.Why; r.in.Pose.Known {
			m.Why = "the powertrain has no place yet"
		}
	default:
		var bodies []standingBody
		for k := range r.in.Stands {
			for _, s := range placed[p].at[k] {
				b := standingBody{name: t.name, solid: s, stand: k}
				if !t.link {
					b.stand = anyStand
				}
				bodies = append(bodies, b)
			}
			if !t.link {
				break
			}
		}
		m = r.otherRoom(t.movingID, t.name, bodies, t.shapes(r.in.Pose.V, r.in.Pose.V))
		m.assumes = append(m.assumes, t.assumes...)
	}
	if m.Gap.Known || m.Why != "" {
		r.judgeOther(t.movingID, title, t.name, m)
	}
}

// otherRoom is the room to what moves of bodies that are no piece of the vehicle; shapes are
// those that an axle without a piece may come near to.
func (r *room) otherRoom(id, name string, bodies []standingBody, shapes []clear.Shape) Moving {
	m := r.leastRoom(id, r.moved, crowdsOf(bodies), func(mover) bool { return false })
	m.Part = ""
	m.axlesWithoutPieces(name, r.axlesNearTo(shapes))
	return m
}

// judgeOther judges the room to what moves of what is no piece of the vehicle, and keeps
// it by its id.
func (r *room) judgeOther(id, title, name string, m Moving) {
	if r.res.Others == nil {
		r.res.Others = map[string]Moving{}
	}
	r.res.Others[id] = m
	r.judgeMoving(id, "", title, name, r.wanted, m)
}
