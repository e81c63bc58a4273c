package clear

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/clear"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// A bracket stands beside the powertrain that it carries: the sump hangs between its legs,
// and the damper turns before them. It meets the powertrain at its pad alone.

// MountPiece is a piece of a bracket, vehicle axes, mm.
type MountPiece struct {
	Name  string // arm
	Shape clear.Shape
	// Flat is what takes the half-round ends off a rod: the piece is what lies in both. Nil
	// where Shape is all there is to say.
	Flat *clear.Box
}

// MountPad is the face of a bracket that the powertrain stands on by its isolator.
type MountPad struct {
	At, Up r3.Vec  // its middle, and the way it looks; vehicle axes, mm, Up of length 1
	Reach  float64 // how far the plate there reaches from its middle, mm
}

// padReach is how far over its pad a bracket meets a piece of the powertrain on purpose, mm:
// set by fitup.
const padReach = jointReach

// readyPiece is a piece made ready.
type readyPiece struct {
	name  string
	solid clear.Solid
	flat  *clear.Solid
}

func (p MountPiece) ready() readyPiece {
	out := readyPiece{name: p.Name, solid: clear.Ready(p.Shape)}
	if p.Flat != nil {
		flat := clear.Ready(*p.Flat)
		out.flat = &flat
	}
	return out
}

// gap is how near it comes to a solid at most, or best where that is no nearer. What lies in
// two solids is no nearer than either.
func (p *readyPiece) gap(to *clear.Solid, best float64) float64 {
	if p.atLeast(to) >= best {
		return best
	}
	gap, _, _ := p.solid.Distance(to)
	if p.flat != nil && gap < best {
		flat, _, _ := p.flat.Distance(to)
		gap = max(gap, flat)
	}
	return min(gap, best)
}

// atLeast is a distance of at most that to a solid, found without looking for the place.
func (p *readyPiece) atLeast(to *clear.Solid) float64 {
	least := p.solid.AtLeast(to)
	if p.flat != nil {
		least = max(least, p.flat.AtLeast(to))
	}
	return least
}

// without is the piece without what of it lies within reach of a place: slices of it, square
// to its longest edge, all of which lie in that ball.
func (p MountPiece) without(at r3.Vec, reach float64) (out []MountPiece) {
	box, boxed := p.Shape.(clear.Box)
	if p.Flat != nil {
		box, boxed = *p.Flat, true
	}
	if !boxed {
		return []MountPiece{p}
	}
	half, own := [3]float64{box.Half.X, box.Half.Y, box.Half.Z}, box.Pose.Own(at)
	from, long := [3]float64{own.X, own.Y, own.Z}, 0
	for i := range half {
		if half[i] > half[long] {
			long = i
		}
	}
	corner := 0.0 // of a slice, from the line through the place along the edge
	for i := range half {
		if i != long {
			corner += (math.Abs(from[i]) + half[i]) * (math.Abs(from[i]) + half[i])
		}
	}
	if corner >= reach*reach {
		return []MountPiece{p}
	}
	w := math.Sqrt(reach*reach - corner)
	axis := [3]r3.Vec{box.Pose.X, box.Pose.Y, box.Pose.Z}[long]
	for _, s := range [2][2]float64{{-half[long], min(half[long], from[long]-w)}, {max(-half[long], from[long]+w), half[long]}} {
		if s[1] <= s[0] {
			continue
		}
		slice, q := box, p
		slice.Pose.At = r3.Add(box.Pose.At, r3.Scale((s[0]+s[1])/2, axis))
		*[3]*float64{&slice.Half.X, &slice.Half.Y, &slice.Half.Z}[long] = (s[1] - s[0]) / 2
		if p.Flat != nil {
			q.Flat = &slice
		} else {
			q.Shape = slice
		}
		out = append(out, q)
	}
	return out
}

// besideMount is a bracket as it stands beside the powertrain.
type besideMount struct {
	*Mount
	all, beyond []readyPiece // and without what lies about its pad
	over        []bool       // of each piece of the powertrain: the pad lies under it
	reach       float64      // how far about the pad nothing is looked at for those, mm
}

func (r *room) besideMount(m *Mount) besideMount {
	x := besideMount{Mount: m, over: make([]bool, r.parts)}
	for _, p := range m.Pieces {
		x.all = append(x.all, p.ready())
	}
	if m.Pad == nil {
		return x
	}
	x.reach = max(padReach, m.Pad.Reach)
	over := clear.Ready(clear.Segment{A: m.Pad.At, B: r3.Add(m.Pad.At, r3.Scale(padReach, m.Pad.Up))})
	for i := range x.over {
		gap, _, _ := over.Distance(r.placed.Solid(0, i))
		x.over[i] = gap <= 0
	}
	if slices.Contains(x.over, true) {
		for _, p := range m.Pieces {
			for _, q := range p.without(m.Pad.At, x.reach) {
				x.beyond = append(x.beyond, q.ready())
			}
		}
	}
	return x
}

// nearPowertrain is where a bracket comes nearest to the powertrain.
type nearPowertrain struct {
	gap         float64
	piece, part string
	at          string // at which of its stands
}

// pair is a piece of a bracket and one of the powertrain that may come nearest.
type pair struct {
	piece *readyPiece
	part  int
}

// pairs are all that are held against each other.
func (x *besideMount) pairs() (out []pair) {
	for i, over := range x.over {
		pieces := x.all
		if over {
			pieces = x.beyond
		}
		for j := range pieces {
			out = append(out, pair{&pieces[j], i})
		}
	}
	return out
}

// nearest takes in those pairs with the powertrain at place k.
func (r *room) nearest(of []pair, k int, best *nearPowertrain) {
	for _, p := range of {
		if gap := p.piece.gap(r.placed.Solid(k, p.part), best.gap); gap < best.gap {
			*best = nearPowertrain{gap: gap, piece: p.piece.name, part: r.names[p.part]}
			if k < len(r.in.Stands) {
				best.at = r.in.Stands[k].Name
			}
		}
	}
}

// elsewhere finds where they come nearest with the powertrain at any of its stands, and at
// any place that softer mounts let it have besides. What is farther apart as built than what
// comes nearest, by more than the powertrain strays, is passed over.
func (r *room) elsewhere(of []pair, still nearPowertrain) (firm, soft nearPowertrain) {
	var may []pair
	for _, p := range of {
		if p.piece.atLeast(r.placed.Solid(0, p.part))-r.placed.Strays(p.part) < still.gap {
			may = append(may, p)
		}
	}
	firm, soft = still, still
	for k := range r.poses() {
		switch {
		case k == 0:
		case k < len(r.in.Stands) && !r.in.Stands[k].Soft:
			r.nearest(may, k, &firm)
		default:
			r.nearest(may, k, &soft)
		}
	}
	if firm.gap < soft.gap {
		soft = firm
	}
	return firm, soft
}

// leftOutAt says what is not looked at.
func (r *room) leftOutAt(x *besideMount) (out []string) {
	for i, over := range x.over {
		if over {
			out = append(out, fmt.Sprintf("what of the bracket lies within %s of the middle of its pad is not held against the %s, which its isolator carries",
				quantity.Format(quantity.Length, x.reach, r.units, 0), r.names[i]))
		}
	}
	return append(out, "nuts, heads of bolts and welds of the bracket are not in it, nor its isolator; adapter plates, pipes of the exhaust, torque links and roll stops have their own room to it")
}

// mountsBesidePowertrain holds every bracket against the pieces of the powertrain, as built
// and, where the file says something of the rubber, sagged and rocked: the bracket stands
// and the powertrain moves.
func (r *room) mountsBesidePowertrain() {
	if r.in.Piece != "" {
		return
	}
	for i := range r.in.Mounts {
		m := &r.in.Mounts[i]
		why := cmp.Or(m.Why, r.why)
		if why == "" && len(m.Pieces) == 0 {
			why = "the " + m.Name + " is not known yet"
		}
		if why == "" && !r.in.Pose.Known {
			why = r.in.Pose.Why
		}
		if why == "" && r.placed == nil {
			why = "the powertrain has no place yet"
		}
		r.mountRoom(m, why)
	}
}

func (r *room) mountRoom(m *Mount, why string) {
	id, title := finding.BracketRoom(m.Bracket), m.Name+", room to the powertrain"
	still := nearPowertrain{gap: math.Inf(1)}
	firm, soft := still, still
	var assumes []string
	if why == "" {
		x := r.besideMount(m)
		assumes = r.leftOutAt(&x)
		of := x.pairs()
		r.nearest(of, 0, &still)
		if r.in.Rock.Asked {
			firm, soft = r.elsewhere(of, still)
		}
		if math.IsInf(still.gap, 1) {
			why = "all of it lies about its pad"
		}
	}
	r.judgeMount(id, title+" as built", "gap", assumes, r.roomOf(still.gap, still.gap, why), still)
	if !r.in.Rock.Asked {
		return
	}
	r.judgeMount(finding.Rocked(id), title+" sagged and rocked", "gap_rocked", assumes, r.roomOf(firm.gap, soft.gap, cmp.Or(why, r.in.Rock.Why)), firm)
}

// roomOf is a room that softer mounts may leave less of.
func (r *room) roomOf(gap, soft float64, why string) finding.Number {
	switch {
	case why != "":
		return finding.Missing(why)
	case soft < gap:
		return r.rates.Spread(gap, soft)
	}
	return finding.Exact(gap)
}

func (r *room) judgeMount(id, title, limit string, assumes []string, gap finding.Number, at nearPowertrain) {
	f := finding.Finding{ID: id, Title: title, Assumes: assumes}
	f.Judge(gap, r.build.Limit(limit), true)
	if limit != "gap" {
		f.UnlessOver(r.in.Rock.NoReverse)
	}
	units := r.units
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		over := "comes nearer to the " + at.part + " than is wanted"
		if gap.V < 0 {
			over = "runs into the " + at.part + " by " + quantity.Format(quantity.Length, -gap.V, units, 1)
		}
		where := ""
		if limit != "gap" {
			where = " (" + at.at + ")"
		}
		return map[finding.Status]string{
			finding.OK:    fmt.Sprintf("Its %s comes nearest to the %s%s and stays clear of it.", at.piece, at.part, where),
			finding.Tight: fmt.Sprintf("Its %s comes nearest to the %s%s; what that rests on is not known closely enough to be sure of the room.", at.piece, at.part, where),
			finding.Over:  fmt.Sprintf("Its %s %s%s: set its foot or its pad elsewhere, take a smaller section or another kind that goes round it, or move the powertrain.", at.piece, over, where),
		}
	})
	r.res.Findings = append(r.res.Findings, f)
}
