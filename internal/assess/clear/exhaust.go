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

// Exhaust is the room round one pipe of the exhaust: to pieces of the vehicle, to those
// of the powertrain that it is not bolted to, and to what moves.
type Exhaust struct {
	ID     string // of its finding: exhaust.down_pipe
	Name   string
	Rods   []clear.Segment // as built, vehicle axes
	Built  Heat
	Rocked *Heat // nil before anything is known of the mounts' rubber
	Moving *Moving
}

// Heat is the least room of a pipe.
type Heat struct {
	Gap      finding.Number
	To       string // what it comes nearest to; "" where there is nothing
	At       string // how the powertrain stands
	From, On r3.Vec // the place on the pipe and on the other, vehicle axes
}

// pipe is a pipe of the exhaust before anything is placed.
type pipe struct {
	id, name string
	why      string // what is missing of it
	own      bool   // it is fixed to the powertrain, and its rods are in that one's frame
	rods     []clear.Segment
	start    r3.Vec // its first point, as its rods are
	end      r3.Vec // and its last
	flexible int    // the pipe on the powertrain that it goes on from, -1 for none
	radius   float64
	wanted   project.Rule
	bend     bool
}

// pipesOf are the pipes of a build, those on the powertrain first.
func pipesOf(b *project.Build) []pipe {
	taken := map[string]bool{}
	var out []pipe
	add := func(x project.Pipe, path string, own bool) {
		p := pipe{name: finding.NameOr(x.Name, "pipe", len(out)), own: own, flexible: -1, wanted: b.Limit("heat_gap"), bend: x.Bend.Or(0) > 0}
		p.id = finding.Exhaust(finding.IDOf(x.Name, len(out), taken))
		if v, ok := x.HeatGap.Get(); ok {
			p.wanted.Value, p.wanted.Source, p.wanted.Changed = v, "the room for heat wanted, in this build's file", false
			if x.HeatSource != "" {
				p.wanted.Source = project.Printable(x.HeatSource)
			}
		}
		var points []r3.Vec
		for i, q := range x.Points {
			if !q.Known {
				p.why = fmt.Sprintf("%s.points.%d is not in the file yet", path, i+1)
			}
			points = append(points, q.At)
		}
		d, known := x.Diameter.Get()
		switch {
		case p.why != "":
		case len(points) == 0:
			p.why = path + ".points is not in the file yet"
		case !known:
			p.why = path + ".diameter is not in the file yet"
		default:
			p.radius, p.start, p.end = d/2, points[0], points[len(points)-1]
			var err error
			if p.rods, err = clear.Pipe(points, x.Bend.Or(0), d/2); err != nil {
				p.why = p.name + ": " + err.Error()
			}
		}
		out = append(out, p)
	}
	for i, x := range b.Powertrain.Exhaust {
		add(x.Pipe(), fmt.Sprintf("powertrain.exhaust.%d", i+1), true)
	}
	for i, x := range b.Exhaust {
		add(x, fmt.Sprintf("exhaust.%d", i+1), false)
		if x.From != "" {
			out[len(out)-1].flexible = slices.IndexFunc(b.Powertrain.Exhaust, func(o project.OwnPipe) bool { return o.Name == x.From })
		}
	}
	return out
}

// heat is the looking for the room of one pipe.
type heat struct {
	*room
	pipe   *pipe
	mounts []piece // brackets
	ties   []placedTie
	bolted []string // pieces of the powertrain that it is bolted to
	found  []Heat   // by place of the powertrain: stands, then ends
}

// exhaust finds the room round every pipe.
func (r *room) exhaust() {
	mounts, ties := r.mountPieces(), []placedTie(nil)
	if len(r.pipes) > 0 {
		ties = r.tied()
	}
	for i := range r.pipes {
		h := heat{room: r, pipe: &r.pipes[i], mounts: mounts, ties: ties}
		h.find()
	}
}

// poses are all places where the powertrain can be.
func (r *room) poses() []geom.Pose {
	out := make([]geom.Pose, 0, len(r.in.Stands)+len(r.in.Rock.Ends))
	for _, s := range r.in.Stands {
		out = append(out, s.Pose)
	}
	return append(out, r.in.Rock.Ends...)
}

// why says why nothing can be said of the pipe's room.
func (h *heat) whyNot() string {
	p := h.pipe
	flex := p.flexible >= 0 && h.pipes[p.flexible].why != ""
	switch {
	case p.why != "":
		return p.why
	case flex:
		return h.pipes[p.flexible].why
	case !h.in.Pose.Known && (p.own || p.flexible >= 0 || len(h.build.Powertrain.Parts) > 0):
		return h.in.Pose.Why
	case (p.own || p.flexible >= 0) && len(h.in.Stands) == 0:
		return "the powertrain has no place yet"
	}
	return ""
}

func (h *heat) find() {
	p := h.pipe
	out := Exhaust{ID: p.id, Name: p.name, Built: Heat{Gap: finding.Missing(h.whyNot())}}
	rocked := Heat{Gap: finding.Missing(h.whyNot())}
	if rocked.Gap.Why == "" && h.in.Rock.Why != "" {
		rocked.Gap.Why = h.in.Rock.Why
	}
	if h.whyNot() == "" {
		h.look()
		out.Rods, out.Built = h.rodsAt(0), h.found[0]
		if rocked.Gap.Why == "" {
			rocked = h.rockedRoom()
		}
	}
	if h.in.Rock.Asked {
		out.Rocked = &rocked
	}
	h.judge(out)
	if len(h.in.Lines) > 0 {
		out.Moving = h.moving()
	}
	h.res.Exhaust = append(h.res.Exhaust, out)
}

// rodsAt are the rods of the pipe with the powertrain at a place: as they are where the
// chassis holds them, with a straight one to the powertrain's pipe that it goes on from.
func (h *heat) rodsAt(k int) []clear.Segment {
	p, poses := h.pipe, h.poses()
	if !p.own && p.flexible < 0 {
		return p.rods
	}
	out := make([]clear.Segment, 0, len(p.rods)+1)
	pose := poses[k]
	for _, s := range p.rods {
		if p.own {
			s.A, s.B = pose.Point(s.A), pose.Point(s.B)
		}
		out = append(out, s)
	}
	if p.flexible >= 0 {
		out = append(out, clear.Segment{A: pose.Point(h.pipes[p.flexible].end), B: p.start, R: max(p.radius, h.pipes[p.flexible].radius)})
	}
	return out
}

// look finds the least room at every place of the powertrain, as built first.
func (h *heat) look() {
	p := h.pipe
	if p.own { // what hangs on the chassis is bolted to no part of the powertrain
		h.bolted = h.partsAt(joint{p.start, p.radius + jointReach})
	}
	places := max(1, len(h.poses()))
	for k := range places {
		best := Heat{Gap: finding.Missing("")}
		least := math.Inf(1)
		for _, s := range h.rodsAt(k) {
			rod := clear.Ready(s)
			for i := range h.pieces {
				for j := range h.pieces[i].solids {
					best.nearer(&rod, &h.pieces[i].solids[j], h.pieces[i].name, &least)
				}
			}
			for i := range h.mounts {
				for j := range h.mounts[i].solids {
					best.nearer(&rod, &h.mounts[i].solids[j], h.mounts[i].name, &least)
				}
			}
			for i := range h.ties {
				if t := &h.ties[i]; k < len(t.at) {
					for j := range t.at[k] {
						best.nearer(&rod, &t.at[k][j], t.name, &least)
					}
				}
			}
			for i, name := range h.names {
				if h.placed != nil && !slices.Contains(h.bolted, name) && (!p.own || k == 0) {
					best.nearer(&rod, h.placed.Solid(k, i), name, &least)
				}
			}
		}
		if k < len(h.in.Stands) {
			best.At = h.in.Stands[k].Name
		}
		h.found = append(h.found, best)
	}
}

// nearer takes what comes nearer than all before.
func (x *Heat) nearer(rod, other *clear.Solid, name string, least *float64) {
	if rod.AtLeast(other) >= *least {
		return
	}
	if gap, from, on := rod.Distance(other); gap < *least {
		*least = gap
		x.Gap, x.To, x.From, x.On = finding.Exact(gap), name, from, on
	}
}

// rockedRoom is the least room over all places; what softer mounts do leaves it open.
func (h *heat) rockedRoom() Heat {
	best := h.found[0]
	worst := math.Inf(1)
	for k, x := range h.found {
		if !x.Gap.Known {
			continue
		}
		worst = min(worst, x.Gap.V)
		soft := k >= len(h.in.Stands) || h.in.Stands[k].Soft
		if !soft && x.Gap.V < best.Gap.V {
			best = x
		}
	}
	if best.Gap.Known && worst < best.Gap.V {
		best.Gap = h.rates.Spread(best.Gap.V, worst)
	}
	return best
}

// unseen is what of the others cannot be looked at, "" for nothing.
func (h *heat) unseen() string {
	for i := range h.pieces {
		if h.pieces[i].why != "" {
			return h.pieces[i].why
		}
	}
	if h.room.why != "" && len(h.build.Powertrain.Parts) > 0 {
		return h.room.why
	}
	return ""
}

func (h *heat) assumes() []string {
	p := h.pipe
	var out []string
	if p.bend {
		out = append(out, h.bends())
	}
	if p.own {
		out = append(out, leftOut(h.bolted)...)
	}
	if p.flexible >= 0 {
		out = append(out, "the flexible joint to the "+h.pipes[p.flexible].name+" as a straight pipe, wherever the powertrain takes its end")
	}
	if len(h.names) == 0 && h.room.why != "" {
		out = append(out, "the powertrain's own pieces are not in it: "+h.room.why)
	}
	out = append(h.withOwn(out), append(h.notInIt(), h.tiesUnseen()...)...)
	if len(h.mounts) > 0 {
		return append(out, "rails, other pipes, tyres at lock and what the file has no piece of are not in it: brake and fuel lines are pieces of [[chassis]]")
	}
	return append(out, "rails, brackets, other pipes, tyres at lock and what the file has no piece of are not in it: brake and fuel lines are pieces of [[chassis]]")
}

// bends is what is taken of a pipe's bends.
func (h *heat) bends() string {
	return fmt.Sprintf("bends as runs of rods, thicker than the pipe by %s at the most", quantity.Format(quantity.Length, clear.Sagitta, h.units, 1))
}

// judge makes the verdicts on the room as built and rocked.
func (h *heat) judge(out Exhaust) {
	p := h.pipe
	h.verdict(p.id, p.name+", room for its heat", out.Built, p.wanted, map[finding.Status]string{
		finding.OK:   "The %s comes nearest and stays clear of its heat.",
		finding.Over: "The %s %s; move the pipe or that, or put a shield between and give the room that is wanted behind it as heat_gap.",
	})
	if out.Rocked != nil {
		h.verdict(finding.Rocked(p.id), p.name+", room with the powertrain sagged and rocked", *out.Rocked, h.build.Limit("gap_rocked"), map[finding.Status]string{
			finding.OK:    "The %s comes nearest and stays clear of it.",
			finding.Tight: "The %s comes nearest; the mounts' rates are estimates, and rubber softer than that would take more of the room than is wanted.",
			finding.Over:  "The %s %s; more room, stiffer mounts, or a flexible joint nearer to the engine.",
		})
	}
}

func (h *heat) verdict(id, title string, x Heat, rule project.Rule, says map[finding.Status]string) {
	f := finding.Finding{ID: id, Title: title, Assumes: h.assumes()}
	if !x.Gap.Known && x.Gap.Why == "" {
		x.Gap.Why = h.unseen()
		if x.Gap.Why == "" {
			x.Gap.Why = "the file has nothing yet that the pipe could come near: [[chassis]] for brake and fuel lines, floor and firewall"
		}
	}
	f.Judge(x.Gap, rule, true)
	f.UnlessOver(h.unseen())
	rocked := id != h.pipe.id
	if rocked {
		f.UnlessOver(h.in.Rock.NoReverse)
	}
	units := h.units
	length := func(v float64) string { return quantity.Format(quantity.Length, v, units, 1) }
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		out := map[finding.Status]string{}
		for is, s := range says {
			if is == finding.Over {
				out[is] = fmt.Sprintf(s, x.To, fromPipe(x.Gap.V, length))
			} else {
				out[is] = fmt.Sprintf(s, x.To)
			}
		}
		return out
	})
	h.res.Findings = append(h.res.Findings, f)
}

func fromPipe(gap float64, length func(float64) string) string {
	if gap < 0 {
		return "and the pipe run into each other by " + length(-gap)
	}
	return "comes nearer to the pipe than is wanted"
}

// moving is the room of the pipe to shafts and axles.
func (h *heat) moving() *Moving {
	p := h.pipe
	m := Moving{Gap: finding.Missing(""), Why: h.whyNot()}
	if was, ok := h.asWas(finding.Moving(p.id)); ok {
		h.judgeMoving(finding.Moving(p.id), "", p.name+", room to shafts and axles over the travel", p.name, h.wanted, was)
		return &was
	}
	if m.Why == "" {
		if len(h.moved) == 0 && h.in.Only == "" {
			return nil
		}
		var shapes []clear.Shape
		for _, s := range h.rodsAt(0) {
			shapes = append(shapes, s)
		}
		m = h.otherRoom(finding.Moving(p.id), p.name, h.bodies(), shapes)
	}
	if !m.Gap.Known && m.Why == "" {
		return nil
	}
	m.assumes = append(m.assumes, h.assumes()...)
	h.judgeMoving(finding.Moving(p.id), "", p.name+", room to shafts and axles over the travel", p.name, h.wanted, m)
	return &m
}

// bodies are the rods of the pipe at each stand.
func (h *heat) bodies() []standingBody {
	p := h.pipe
	var out []standingBody
	for k := range max(1, len(h.in.Stands)) {
		stand := k
		if !p.own && p.flexible < 0 {
			stand = anyStand
		}
		for _, s := range h.rodsAt(k) {
			out = append(out, standingBody{name: p.name, solid: clear.Ready(s), stand: stand})
		}
		if stand == anyStand {
			break
		}
	}
	return out
}

// Values lists every number of a pipe's room.
func (x *Exhaust) Values(l *finding.List) {
	listOverlap(l, x.ID, x.Built.Gap)
	if x.Built.Gap.Known {
		l.Point(x.ID+".on_pipe", x.Built.From)
		l.Point(x.ID+".on_other", x.Built.On)
	}
	if x.Rocked != nil {
		listOverlap(l, x.ID+".rocked", x.Rocked.Gap)
	}
	x.Moving.Values(x.ID+".moving", l)
}
