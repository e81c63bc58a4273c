package clear

import (
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Moving is the least room to what moves with the axles and wheels, from full
// droop to full bump and wherever the powertrain can stand on its mounts.
type Moving struct {
	Gap   finding.Number
	Mover string // what comes nearest: rear shaft
	Part  string // of the powertrain that it comes nearest to; "" for a piece of the vehicle
	Where Place
	From  r3.Vec // the place on what moves, vehicle axes
	To    r3.Vec // the place on the other
	Why   string // what of the moving things cannot be followed, so that none is known to stay clear

	assumes []string
	line    string // of what comes nearest
}

// Place is a place on the way between bump and droop.
type Place struct {
	Rise  float64 // mm from ride height, bump positive
	Under string  // under which torque, and how the powertrain stands
}

// findMoving finds the room to shafts and axles. It says nothing before the file
// has a line.
func (r *room) findMoving() {
	if len(r.in.Lines) == 0 {
		return
	}
	if r.moved = r.followed(); r.moved == nil {
		r.moved = r.movers()
	}
	movers := r.moved
	if len(movers) == 0 && r.in.Only == "" {
		return
	}
	for i := range r.res.Clearances {
		out, c := &r.res.Clearances[i], &r.pieces[i]
		if !r.asked(c) {
			continue
		}
		m := Moving{Gap: finding.Missing(""), Why: c.why}
		if was, ok := r.asWas(c.movingID); ok {
			m = was
		} else if c.why == "" {
			m = r.leastRoom(c.movingID, movers, r.crowdsOf(i), func(mv mover) bool { return slices.Contains(c.carries, mv.line) })
			m.Part = ""
			m.pastSurface(c.shapes)
			m.axlesWithoutPieces(c.name, r.axlesNear(i))
		}
		if !m.Gap.Known && m.Why == "" {
			continue // it carries all there is
		}
		out.Moving = &m
		r.judgeMoving(c.movingID, c.group, c.name+", room to shafts and axles over the travel", c.name, c.wantedMoving, m)
	}
	r.crossmembers()
	if len(r.build.Powertrain.Parts) == 0 || r.in.Piece != "" && r.in.Piece != powertrainItself {
		return
	}
	m := Moving{Gap: finding.Missing(""), Why: r.why}
	if m.Why == "" && r.placed == nil {
		m.Why = r.in.Pose.Why
	}
	if m.Why == "" {
		m = r.leastRoom(powertrainMoving, movers, crowdsOf(r.others("")), func(mover) bool { return false })
		r.axlesLeftOut(&m)
		m.assumes = r.withOwn(m.assumes)
	}
	r.res.Moving = &m
	r.judgeMoving(powertrainMoving, "", "powertrain, room to shafts and axles over the travel", "powertrain", r.wanted, m)
}

// anyStand is for what stands where it does wherever the powertrain is.
const anyStand = -1

// standingBody is a solid where the powertrain has it at one of its stands.
type standingBody struct {
	name  string
	solid clear.Solid
	stand int
	with  *With // the wheel that it goes with; nil for none
}

// crowd is those of them at one stand, or at any.
type crowd struct {
	stand  int
	bodies []standingBody
	crowd  *clear.Crowd
}

// crowdsOf are solids by their stands, in their order.
func crowdsOf(bodies []standingBody) (out []crowd) {
	for len(bodies) > 0 {
		n := 1
		for n < len(bodies) && bodies[n].stand == bodies[0].stand {
			n++
		}
		solids := make([]clear.Solid, n)
		for i := range solids {
			solids[i] = bodies[i].solid
		}
		out = append(out, crowd{bodies[0].stand, bodies[:n], clear.NewCrowd(solids)})
		bodies = bodies[n:]
	}
	return out
}

// asWas is the room of what is no piece of the powertrain, where the build differs from
// the one in the middle in such a piece alone.
func (r *room) asWas(id string) (Moving, bool) {
	if r.in.Part == "" || r.in.Middle == nil {
		return Moving{}, false
	}
	return r.in.Middle(id)
}

// others are the pieces of the powertrain at each stand, or those of that name.
func (r *room) others(only string) []standingBody {
	out := make([]standingBody, 0, len(r.in.Stands)*len(r.names))
	for k := range r.in.Stands {
		for i, name := range r.names {
			if only != "" && name != only {
				continue
			}
			out = append(out, standingBody{name: name, solid: *r.placed.Solid(k, i), stand: k})
		}
	}
	return out
}

// restsOn takes over what is not known and what is assumed of a mover: what is
// assumed of one further off may hide that it is the nearer.
func (m *Moving) restsOn(mv mover) {
	if mv.why != "" && m.Why == "" {
		m.Why = mv.why
	}
	for _, s := range mv.assumes {
		if !slices.Contains(m.assumes, s) {
			m.assumes = append(m.assumes, s)
		}
	}
}

// powertrainMoving is the id of the powertrain's own room to what moves.
const (
	powertrainItself = "clearance.powertrain"
	powertrainMoving = powertrainItself + ".moving"
)

// beyondMiddle is how much farther off than in the build that this one hardly differs
// from what comes nearest is looked for at first, mm: more than a ± is worth.
const beyondMiddle = 2

// leastRoom looks for the mover that comes nearest to any of the solids, those
// apart that it hangs on, first of all no farther off than in a build that this one
// hardly differs from. id is that of the finding.
func (r *room) leastRoom(id string, movers []mover, crowds []crowd, skip func(mover) bool) Moving {
	if r.in.Middle == nil {
		return leastRoom(movers, crowds, r.rates, skip, math.Inf(1))
	}
	was, ok := r.in.Middle(id)
	if ok = ok && was.Gap.Known; ok {
		others := r.in.Only != "" && was.line != r.in.Only // which stay as near as they were
		if r.in.Part != "" && was.Part != r.in.Part {
			others, crowds = true, crowdsOf(r.others(r.in.Part))
		}
		within := was.Gap.V + beyondMiddle
		if others {
			within = was.Gap.V
		}
		m := leastRoom(movers, crowds, r.rates, skip, within)
		switch {
		case m.Gap.Known:
			return m
		case others:
			was.Why, was.assumes = m.Why, m.assumes
			return was
		}
	}
	return leastRoom(movers, crowds, r.rates, skip, math.Inf(1))
}

// leastRoom looks for what comes nearer than that. What cannot be followed is said in
// Why. What stands softer than the rates say only counts where it is nearer still.
func leastRoom(movers []mover, crowds []crowd, rates finding.Estimate, skip func(mover) bool, nominal float64) Moving {
	out := Moving{Gap: finding.Missing("")}
	for _, c := range crowds {
		c.crowd.Anew()
	}
	for _, mv := range movers {
		if skip(mv) {
			continue
		}
		out.restsOn(mv)
		out.pass(mv, crowds, false, &nominal)
	}
	soft := nominal
	for _, mv := range movers {
		if !skip(mv) {
			out.pass(mv, crowds, true, &soft)
		}
	}
	if out.Gap.Known {
		out.Gap = rates.Spread(nominal, soft)
	}
	return out
}

// pass takes a mover past the solids, in the ways that are softer than the rates
// say or in the others, and finds where it comes nearer than best.
func (m *Moving) pass(mv mover, crowds []crowd, soft bool, best *float64) {
	for k := range mv.ways {
		w := &mv.ways[k]
		if w.soft && !soft {
			continue
		}
		if w.path.Rod == nil || len(w.path.At) == 0 { // else only where something may be near
			if err := w.follow(); err != nil {
				m.stuck(mv, err)
				continue
			}
		}
		by := clear.Passing{Path: &w.path, Track: w.track}
		for _, c := range crowds {
			if c.stand != anyStand && w.stand != anyStand && w.stand != c.stand {
				continue
			}
			if isSoft := w.soft || c.stand != anyStand && w.stand == anyStand && mv.softStand(c.stand); isSoft != soft {
				continue
			}
			c.crowd.Past(&by, best, func(i int) { m.meets(&mv, w, &c.bodies[i], &c.crowd.Stills[i], soft, best) })
		}
	}
}

// meets takes a mover past one of the solids.
func (m *Moving) meets(mv *mover, w *moverWay, b *standingBody, still *clear.Still, soft bool, best *float64) {
	if b.stand != anyStand && slices.Contains(mv.hangsOn, b.name) || w.path.NoNearer(still, *best) {
		return
	}
	if err := w.follow(); err != nil {
		m.stuck(*mv, err)
		return
	}
	track, err := w.meeting(mv, b.with)
	if err != nil {
		m.stuck(*mv, err)
		return
	}
	if track.NoNearer(still, *best) {
		return
	}
	at, found, err := track.LeastOf(still, *best)
	if err != nil {
		m.stuck(*mv, err)
	}
	if !found {
		return
	}
	if *best = at.Gap; soft {
		return
	}
	m.Gap = finding.Exact(at.Gap)
	m.Mover, m.line, m.Part, m.From, m.To = mv.name, mv.line, b.name, at.From, at.To
	m.Where = Place{Rise: at.At, Under: w.when(*mv, b.stand)}
}

func (m *Moving) stuck(mv mover, err error) {
	if m.Why == "" {
		m.Why = mv.name + ": " + err.Error()
	}
}

// levelSurface is the least upward part of the direction of a surface that can
// be over or under a shaft for all of its length: within 15° of level.
const levelSurface = 0.966

// pastSurface takes back a meeting with an upright surface. That has no end
// here, and a shaft that goes under the firewall would run into it.
func (m *Moving) pastSurface(shapes []clear.Shape) {
	p, ok := shapes[0].(clear.Plane)
	if !ok || !m.Gap.Known || m.Gap.V > 0 {
		return
	}
	if n, err := geom.Unit(p.Normal); err == nil && math.Abs(n.Z) < levelSurface && m.Why == "" {
		m.Why = "a flat surface goes on for ever, and the " + m.Mover + " passes it; give it as a box, from and to, for its room to shafts and axles"
		m.Gap = finding.Missing(m.Why)
	}
}

// judgeMoving judges the least room. Beyond the limit is beyond it whatever
// else is not known; within it is ok only where everything could be followed.
func (r *room) judgeMoving(id, group, title, other string, rule project.Rule, m Moving) {
	f := finding.Finding{ID: id, Group: group, Title: title, Assumes: m.assumes}
	if !m.Gap.Known {
		m.Gap.Why = m.Why
	}
	f.Judge(m.Gap, rule, true)
	if m.Why != "" && f.Status != finding.Over {
		f.Unknown(m.Why)
	}
	units := r.units
	length := func(v float64) string { return quantity.Format(quantity.Length, v, units, 1) }
	to := other
	if m.Part != "" {
		to = m.Part
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		where := finding.AtRise(m.Where.Rise, m.Where.Under, units)
		return map[finding.Status]string{
			finding.OK:    fmt.Sprintf("The %s comes nearest, %s, and stays clear of the %s.", m.Mover, where, to),
			finding.Tight: fmt.Sprintf("The %s comes nearest to the %s %s; the mounts' rates are estimates, and rubber softer than that would take more of the room than is wanted.", m.Mover, to, where),
			finding.Over:  fmt.Sprintf("The %s %s %s; more room, less travel there, or one of the two elsewhere.", m.Mover, tooNear(m.Gap.V, to, length), where),
		}
	})
	r.res.Findings = append(r.res.Findings, f)
}

// overAxle is how far from the line through an axle's wheels the things on it
// still reach, halfAxleWide how long that line is taken to be to either side, mm:
// set by fitup.
const (
	overAxle     = 400
	halfAxleWide = 1000
)

// withoutPieces are the lines with an axle that moves and of which the file has
// no piece, and the path of what it lacks.
func (r *room) withoutPieces(skip ...string) map[string]string {
	out := map[string]string{}
	for i, l := range r.build.Lines {
		if s := l.Suspension; !r.in.Lines[i].Direct && s.Kind != project.FixedDiff && len(s.Part) == 0 && !slices.Contains(skip, l.Name) {
			out[l.Name] = "line." + l.Name + ".suspension.part is not in the file yet"
		}
	}
	return out
}

// leaveOut says that an axle is not in the verdict; near leaves it not known.
func (m *Moving) leaveOut(line, lacks string, near bool, of string) {
	switch {
	case !near:
		m.assumes = append(m.assumes, "the "+line+" axle itself is not in it: "+lacks)
	case m.Why == "":
		m.Why = lacks + ", and the " + line + " axle passes " + of
	}
}

// axlesLeftOut says which axles are not in the powertrain's verdict because the
// file has no piece of them. One that passes under it leaves it not known.
func (r *room) axlesLeftOut(m *Moving) {
	without := r.withoutPieces()
	for _, l := range r.build.Lines {
		lacks, ok := without[l.Name]
		if !ok {
			continue
		}
		axle, under := l.Suspension.Axle, false
		for i := range r.names {
			middle, radius := r.placed.Solid(0, i).Ball()
			under = under || axle.Known && math.Abs(axle.At.X-middle.X) < radius+overAxle
		}
		m.leaveOut(l.Name, lacks, under, "under the powertrain")
	}
}

// axleNear is an axle of which the file has no piece, and whether it comes near a piece of
// the vehicle on its way.
type axleNear struct {
	line, lacks string
	near        bool
}

// axlesWithoutPieces is axlesLeftOut for a piece of the vehicle: an axle that comes near it
// on its way leaves it not known.
func (m *Moving) axlesWithoutPieces(name string, axles []axleNear) {
	for _, a := range axles {
		m.leaveOut(a.line, a.lacks, a.near, "near the "+name)
	}
}

// axlesNearTo are the axles without a piece, apart from those of the lines that those shapes
// carry.
func (r *room) axlesNearTo(shapes []clear.Shape, carries ...string) []axleNear {
	without, out := r.withoutPieces(carries...), []axleNear{}
	for _, l := range r.build.Lines {
		lacks, ok := without[l.Name]
		if !ok {
			continue
		}
		s, near := l.Suspension, false
		if s.Axle.Known {
			side := r3.Vec{Y: halfAxleWide}
			axle := clear.Segment{A: r3.Sub(s.Axle.At, side), B: r3.Add(s.Axle.At, side), R: max(s.Bump.Or(0), s.Droop.Or(0))}
			for _, shape := range shapes {
				gap, _, _ := clear.Distance(shape, axle)
				near = near || gap < overAxle
			}
		}
		out = append(out, axleNear{l.Name, lacks, near})
	}
	return out
}

// Values lists every number of a room to what moves; m may be nil.
func (m *Moving) Values(id string, l *finding.List) {
	if m == nil {
		return
	}
	listOverlap(l, id, m.Gap)
	if m.Gap.Known {
		l.Add(id+".at", quantity.Length, m.Where.Rise)
		l.Point(id+".on_mover", m.From)
		l.Point(id+".on_other", m.To)
	}
}
