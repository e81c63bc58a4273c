package clear

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// slides is how far one thing may go into another that it stands against and slides
// along, mm: a rail that is not quite straight springs by as much. Common practice, no
// source.
const slides = 0.5

// rail is a frame rail as boxes, one from each of its points to the next.
type rail struct {
	name   string
	solids []clear.Solid
	why    string // what is missing of it
}

// railsOf are the frame rails of a build; none where it has none.
func railsOf(b *project.Build) (out []rail) {
	for _, side := range []project.Side{project.LeftSide, project.RightSide} {
		from, sign := &b.Rails.Left, -1.0
		if side == project.RightSide {
			from, sign = &b.Rails.Right, 1
		}
		if len(from.Points) < 2 {
			continue
		}
		x, path := rail{name: string(side) + " rail"}, "rails."+string(side)
		high, ok := from.Height.Get()
		wide, known := from.Width.Get()
		switch {
		case !ok:
			x.why = path + ".height is not in the file yet"
		case !known:
			x.why = path + ".width is not in the file yet"
		}
		for i := 1; i < len(from.Points) && x.why == ""; i++ {
			p, q := from.Points[i-1], from.Points[i]
			if !p.Known || !q.Known {
				x.why = fmt.Sprintf("%s.points.%d is not in the file yet", path, i+1)
				continue
			}
			if s, err := railBox(p.At, q.At, sign, wide, high); err == nil {
				x.solids = append(x.solids, clear.Ready(s))
			}
		}
		out = append(out, x)
	}
	return out
}

// railBox is a stretch of a rail that goes down and outward from its inner top edge.
func railBox(p, q r3.Vec, outward, wide, high float64) (clear.Shape, error) {
	along, err := geom.Unit(r3.Sub(q, p))
	if err != nil {
		return nil, err
	}
	out, err := geom.Unit(r3.Cross(r3.Vec{Z: outward}, along)) // level, square to the rail
	if err != nil {
		return nil, err
	}
	pose := geom.Pose{X: along, Y: out, Z: r3.Cross(along, out)}
	if pose.Z.Z < 0 {
		pose.Y, pose.Z = r3.Scale(-1, pose.Y), r3.Scale(-1, pose.Z)
	}
	up := pose.Z
	middle := r3.Scale(0.5, r3.Add(p, q))
	pose.At = r3.Add(middle, r3.Add(r3.Scale(wide/2, out), r3.Scale(-high/2, up)))
	return clear.Box{Pose: pose, Half: r3.Vec{X: r3.Norm(r3.Sub(q, p)) / 2, Y: wide / 2, Z: high / 2}}, nil
}

// obstacle is what may be in the way.
type obstacle struct {
	name  string
	rail  bool // it slides along it
	solid clear.Solid
}

// leg of a way out: straight along a direction, so far.
type straight struct {
	words string
	way   r3.Vec
	far   float64
}

// wayOut is one way, and how it goes.
type wayOut struct {
	words string
	room  float64 // the least, mm; infinite where nothing is passed
	by    string  // where that is
	after float64 // how far along the way it gets before it has less room than wanted, mm
	leg   string  // on which part of it
}

// waysOut says of each crossmember that is bolted in whether it can be taken out.
func (r *room) waysOut() {
	for i := range r.in.Mounts {
		if m := &r.in.Mounts[i]; m.Crosses && m.Bolted {
			r.takenOut(m)
		}
	}
}

func (r *room) takenOut(m *Mount) {
	f := finding.Finding{ID: finding.BracketOut(m.Bracket), Title: m.Name + ", its way out"}
	wanted := r.build.Limit("gap_out")
	things, why := r.obstacles(m)
	best, others := wayOut{room: math.Inf(-1)}, []wayOut(nil)
	known := why == ""
	if m.Why == "" && len(things) > 0 {
		for _, way := range r.ways(m, things) {
			got := goes(m, things, way, wanted.Value)
			if got.room > best.room {
				best, got = got, best
			}
			if !math.IsInf(got.room, -1) {
				others = append(others, got)
			}
		}
	}
	value := finding.Exact(best.room)
	switch {
	case m.Why != "":
		value = finding.Missing(m.Why)
	case math.IsInf(best.room, 0) && why == "":
		value = finding.Missing("nothing that it would pass on its way is in the file: powertrain.part, chassis or exhaust")
	case math.IsInf(best.room, 0):
		value = finding.Missing(why)
	}
	f.Judge(value, wanted, true)
	if !known && f.Status != finding.Over {
		f.Unknown(why)
	}
	f.Assumes = []string{"pushed straight, not turned, the powertrain held where it stands and its isolator off",
		"shafts, cables and hoses in its way taken off: they are not in it"}
	units := r.units
	length := func(v float64) string { return quantity.Format(quantity.Length, v, units, 1) }
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		over := []string{best.blocked(length)}
		for _, o := range others {
			over = append(over, o.blocked(length))
		}
		return map[finding.Status]string{
			finding.OK:    fmt.Sprintf("Unbolted it comes out %s: it passes the %s with %s.", best.words, best.by, length(best.room)),
			finding.Tight: fmt.Sprintf("Unbolted it comes out %s, but passes the %s with %s only.", best.words, best.by, length(best.room)),
			finding.Over:  "With the engine in place it does not come out straight: " + strings.Join(over, "; ") + ". Move what is in the way, make that come off first, or split the crossmember.",
		}
	})
	r.res.Findings = append(r.res.Findings, f)
}

// blocked says where a way ends.
func (w wayOut) blocked(length func(float64) string) string {
	return fmt.Sprintf("%s the %s is in the way after %s", w.leg, w.by, length(w.after))
}

// obstacles are all things that are known; why says what of them is not.
func (r *room) obstacles(m *Mount) (out []obstacle, why string) {
	add := func(name string, rail bool, solids ...clear.Solid) {
		for _, s := range solids {
			out = append(out, obstacle{name, rail, s})
		}
	}
	lacks := func(w string) {
		if why == "" {
			why = w
		}
	}
	for i := range r.pieces {
		if r.pieces[i].why != "" {
			lacks(r.pieces[i].why)
		}
		add(r.pieces[i].name, false, r.pieces[i].solids...)
	}
	switch {
	case r.placed != nil:
		for i, name := range r.names {
			add(name, false, *r.placed.Solid(0, i))
		}
	case len(r.build.Powertrain.Parts) > 0 && r.why != "":
		lacks(r.why)
	case len(r.build.Powertrain.Parts) > 0:
		lacks(r.in.Pose.Why)
	}
	for _, x := range r.res.Exhaust {
		if len(x.Rods) == 0 {
			lacks(x.Built.Gap.Why)
		}
		for _, s := range x.Rods {
			add(x.Name, false, clear.Ready(s))
		}
	}
	for _, s := range m.Stays {
		add("ear", true, clear.Ready(s))
	}
	for i := range r.in.Mounts {
		if o := &r.in.Mounts[i]; o.Bracket != m.Bracket {
			for _, s := range o.Shapes {
				add(o.Name, false, clear.Ready(s))
			}
		}
	}
	for _, b := range r.rails {
		if b.why != "" {
			lacks(b.why)
		}
		add(b.name, true, b.solids...)
	}
	return out, why
}

// ways are those that are tried: straight down, and back past the powertrain and then
// down.
func (r *room) ways(m *Mount, things []obstacle) [][]straight {
	_, top := spanOf(m.Moves, r3.Vec{Z: 1})
	front, _ := spanOf(m.Moves, r3.Vec{X: 1})
	low, behind := math.Inf(1), math.Inf(-1)
	for i := range things {
		if lo, _, ok := things[i].solid.Span(r3.Vec{Z: 1}); ok {
			low = min(low, lo)
		}
	}
	for i := range r.names {
		if r.placed != nil {
			if _, hi, ok := r.placed.Solid(0, i).Span(r3.Vec{X: 1}); ok {
				behind = max(behind, hi)
			}
		}
	}
	down := straight{"straight down", r3.Vec{Z: -1}, max(1, top-low)}
	out := [][]straight{{down}}
	if back := behind - front; back > 0 && !math.IsInf(back, 0) {
		down.words = "down from there"
		out = append(out, []straight{{"straight back", r3.Vec{X: 1}, back}, down})
	}
	return out
}

func spanOf(shapes []clear.Shape, way r3.Vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, x := range shapes {
		s := clear.Ready(x)
		if from, to, ok := s.Span(way); ok {
			lo, hi = min(lo, from), max(hi, to)
		}
	}
	return lo, hi
}

// goes tries a way. What it stands nearer to than is wanted already is in the way only
// where it comes nearer still.
func goes(m *Mount, things []obstacle, way []straight, wanted float64) wayOut {
	out := wayOut{room: math.Inf(1)}
	var from r3.Vec
	var words []string
	gone := 0.0
	for _, leg := range way {
		words = append(words, leg.words)
		for _, x := range m.Moves {
			ready := clear.Ready(x)
			body := ready.Shifted(from)
			for i := range things {
				o := &things[i]
				gap, at := body.Sweep(&o.solid, leg.way, leg.far, out.room)
				if gap >= out.room {
					continue
				}
				if first, _, _ := body.Distance(&o.solid); gap > first-slides && first < wanted {
					continue // it moves away, or slides along
				}
				if o.rail && gap > -slides {
					continue
				}
				out.room, out.by, out.leg, out.after = gap, o.name, leg.words, gone
				if gap < wanted {
					out.after += body.Meets(&o.solid, leg.way, at, wanted)
				}
			}
		}
		from, gone = r3.Add(from, r3.Scale(leg.far, leg.way)), gone+leg.far
	}
	out.words = strings.Join(words, " and ")
	return out
}
