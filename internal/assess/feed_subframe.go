package assess

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"

	"fitup/internal/assess/bracket"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/frame"
	"fitup/internal/assess/reading"
	"fitup/internal/assess/subframe"
	"fitup/internal/geom"
	"fitup/internal/geom/tape"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// To the subframe trade: what was measured to points that hang, and where the points
// of the vehicle lie, from the survey or as they were typed. It rests on the survey's
// own sources, so that what two tapes share is in both.

// What hangs in the frame goes by the same names here.
type (
	// Subframe is a front subframe or crossmember set where it hangs.
	Subframe = subframe.Subframe
	// SubframePoint is one of its points, with how far it has to move.
	SubframePoint = subframe.Point
	// SubframeSuspect is a measurement to it that does not fit the others.
	SubframeSuspect = subframe.Suspect
)

// SubframeMoves says which way and how far a point has to move, as subframe.Moves.
func SubframeMoves(p SubframePoint, u quantity.Units) string { return subframe.Moves(p, u) }

// SubframePlan is a subframe seen from above, each point where it hangs and where it is
// to hang, as the survey's plan has the frame; nothing where either is not known.
func (a *Assessment) SubframePlan(name string) FramePlan {
	var out FramePlan
	for _, s := range a.Subframes {
		if s.Name != name || !s.Pose.Known || !s.Set.Known {
			continue
		}
		var ring, wheels []int
		for _, p := range s.Points {
			if !p.Now[0].Known || !p.Move[0].Known {
				continue
			}
			at := r3.Vec{X: p.Now[0].V, Y: p.Now[1].V}
			ideal := r3.Add(at, r3.Vec{X: p.Move[0].V, Y: p.Move[1].V})
			x, y := p.Now[0].Number, p.Now[1].Number
			out.Points = append(out.Points, frame.PlanPoint{Path: p.Path, Name: p.Name, At: at, Ideal: ideal, Judged: true,
				Ellipse: tape.EllipseFrom(x.U()*x.U(), y.U()*y.U(), uncertain.Covariance(x, y))})
			switch {
			case s.Wheel(p.Path):
				wheels = append(wheels, len(out.Points)-1)
			default:
				ring = append(ring, len(out.Points)-1)
			}
		}
		out.Members = append(ringOf(out.Points, ring), ringOf(out.Points, wheels)...)
	}
	return out
}

// ringOf joins points in turn, as they lie about their middle.
func ringOf(points []frame.PlanPoint, of []int) [][2]int {
	mid := r3.Vec{}
	for _, i := range of {
		mid = r3.Add(mid, r3.Scale(1/float64(len(of)), points[i].Ideal))
	}
	slices.SortFunc(of, func(i, j int) int {
		a, b := r3.Sub(points[i].Ideal, mid), r3.Sub(points[j].Ideal, mid)
		return cmp.Compare(math.Atan2(a.Y, a.X), math.Atan2(b.Y, b.X))
	})
	var out [][2]int
	for k := range of {
		if k > 0 || len(of) > 2 {
			out = append(out, [2]int{of[(k+len(of)-1)%len(of)], of[k]})
		}
	}
	return out
}

// hangs reports whether a line has an end on a subframe.
func hangs(b *project.Build, m reading.Measurement) bool {
	for _, path := range []string{m.From, m.To, m.At} {
		if _, ok := b.Hangs(path); ok {
			return true
		}
	}
	return false
}

// prepareSubframes places what hangs, after the survey, and what stands on it.
func (p *Prepared) prepareSubframes() {
	if len(p.Build.Subframes) == 0 {
		p.subframes, p.hung = &subframe.Result{}, func() []Finding { return nil }
		return
	}
	if p.subframes == nil {
		p.hangSubframes()
	}
	p.placeCorners()
	p.hung = sync.OnceValue(p.subframes.Findings)
	if pieces := p.subframes.Pieces(); len(pieces) > 0 { // the room to them is found like that to all others
		b := *p.Build
		b.Chassis = append(slices.Clone(b.Chassis), pieces...)
		p.Build = &b
	}
}

// waitsForSubframes reports whether something of the file stands at a point of a subframe.
func (p *Prepared) waitsForSubframes() bool {
	return slices.ContainsFunc(p.Build.Unplaced(), func(u project.Unplaced) bool {
		_, hangs := p.Build.Hangs(u.Waits)
		return hangs
	})
}

// hanging are the places of points of subframes among those, where they were measured to
// hang, each with all that leaves open of it.
func (p *Prepared) hanging(among map[string]bool) (out []frame.Place) {
	if p.subframes == nil {
		return nil
	}
	for _, s := range p.subframes.Each {
		for i := range s.Points {
			if q := &s.Points[i]; among[q.Path] {
				says := append([]string{"points of the " + finding.Spoken(s.Name) + " subframe where it was measured to hang"}, s.Assumes...)
				out = append(out, frame.Place{Path: q.Path, At: q.Now, Assumes: says})
			}
		}
	}
	return out
}

// hangSubframes finds where they hang.
func (p *Prepared) hangSubframes() {
	at := p.placing()
	in := subframe.Input{From: at.from, Place: at.place}
	for _, m := range p.measured.List {
		if m.Surveys() && hangs(p.Build, m) && !p.Build.ToPowertrain(&m.Measurement) && !p.Build.ToAxle(&m.Measurement) {
			in.Lines = append(in.Lines, subframe.Line{
				Name: m.Of, Index: m.Index, As: m.Line(), From: m.From, To: m.To, At: m.At, Value: m.Mean, After: m.After,
			})
		}
	}
	p.subframes = subframe.Of(p.Build, in)
	for _, s := range p.subframes.Each {
		for i := range s.Points {
			at.places[s.Points[i].Path] = s.Points[i].Now
		}
	}
	p.subframePlaces = at
}

// placer says where points of the vehicle lie, each worked out once, and of which sources the
// ± of that is.
type placer struct {
	of     *Prepared
	from   *uncertain.Sources
	terms  map[string]uncertain.Number  // of what was typed on the way to them, by path
	places map[string][3]finding.Number // several tapes begin at one point
}

// placing is one of the vehicle's own points.
func (p *Prepared) placing() *placer {
	from := p.frame.From()
	if from == nil { // places of the survey have their tie's ± besides what was measured
		from = p.measured.From
	}
	// What was measured is remembered, and takes no more.
	out := &placer{p, from.Fork(), map[string]uncertain.Number{}, map[string][3]finding.Number{}}
	for _, t := range p.frame.Typed() { // what holds the survey moves its places too
		out.terms[t.Path] = t.Error
	}
	return out
}

// fork is the same for who adds sources of its own.
func (l *placer) fork() *placer {
	return &placer{l.of, l.from.Fork(), maps.Clone(l.terms), maps.Clone(l.places)}
}

func (l *placer) place(path string) [3]finding.Number {
	at, known := l.places[path]
	if !known {
		at = l.of.placed(path, l.from, l.terms)
		l.places[path] = at
	}
	return at
}

// placingAll is one of the points of subframes too, where those were measured to hang: with
// all that leaves open of it, in its sources, so that what is measured from there to the
// powertrain or an axle comes out as if all were found at once (internal/geom/rigid says why).
func (p *Prepared) placingAll() *placer {
	if p.subframePlaces == nil {
		return p.placing()
	}
	out := p.subframePlaces.fork()
	out.of = p
	return out
}

// placed is where a point of the vehicle lies: by the survey, or as it was typed with
// the ± of what was typed on the way to it.
func (p *Prepared) placed(path string, from *uncertain.Sources, terms map[string]uncertain.Number) [3]finding.Number {
	found, why := p.frame.Places([]string{path})
	if len(found) == 1 {
		return found[0].At
	}
	at, ok := p.Build.PointNamed(path)
	if !ok || !at.Known {
		if why == "" {
			why = path + " has no place: the survey has no measurement to it"
		}
		if ok && at.Why != "" && at.Waits == "" {
			why = at.Why
		}
		if !strings.Contains(why, path) && !p.frame.Given() {
			why = path + " has no place: " + why
		}
		miss := finding.Missing(why)
		return [3]finding.Number{miss, miss, miss}
	}
	out := [3]finding.Number{finding.Exact(at.At.X), finding.Exact(at.At.Y), finding.Exact(at.At.Z)}
	for _, t := range at.Terms {
		half, _ := p.Build.TermError(t)
		if half <= 0 {
			continue
		}
		by, made := terms[t.Path]
		if !made {
			var err error
			if by, err = from.With(0, uncertain.Half("the ± of "+t.Path, half)); err != nil {
				continue
			}
			terms[t.Path] = by
		}
		for axis, d := range [3]float64{t.Dir.X, t.Dir.Y, t.Dir.Z} {
			if d != 0 {
				out[axis] = finding.Of(out[axis].Plus(by.Times(d)))
			}
		}
	}
	return out
}

// placeCorners puts the pad of each mount that holds a corner of a subframe where that
// corner is, or is to be.
func (p *Prepared) placeCorners() {
	if len(p.Build.CornerNames()) == 0 {
		return
	}
	b := *p.Build
	b.Mounts = slices.Clone(b.Mounts)
	p.cornerSays = map[string]string{}
	for i := range b.Mounts {
		m := &b.Mounts[i]
		of, ok := b.Hangs(m.Corner)
		if !ok {
			continue
		}
		at, says, why := p.subframes.Each[of].CornerAt(m.Corner)
		if m.NoPlace = why; why != "" {
			continue
		}
		stand := m.Stand()
		if stand.Pad.Known || stand.Pad.Ref != "" {
			p.cornerSays[m.Name] = "its pad is where the file says, and not where the subframe's corner is"
			continue
		}
		at.At.Z -= stand.Standing.Or(0)
		stand.Pad, p.cornerSays[m.Name] = at, says
	}
	p.Build = &b
}

// loadCorners finds what subframes put on the mounts of their corners, by the mounts'
// names.
func (p *Prepared) loadCorners() {
	p.corners = nil
	b := p.Build
	if len(b.CornerNames()) == 0 {
		return
	}
	p.corners = map[string]bracket.MountLoad{}
	for k, s := range p.subframes.Each {
		carried := p.carriedBy(s)
		of, rests, why := s.Loads(&carried)
		for i := range b.Mounts {
			m := &b.Mounts[i]
			if at, ok := b.Hangs(m.Corner); !ok || at != k {
				continue
			}
			load := bracket.MountLoad{Mount: m.Name, Own: true, Why: why, Assumes: rests}
			if says := p.cornerSays[m.Name]; says != "" {
				load.Assumes = append([]string{says}, rests...)
			}
			if at, _, none := s.CornerAt(m.Corner); none == "" {
				load.At = at.At
			}
			if why == "" && of[m.Corner] == nil {
				load.Why = m.Corner + " is no corner of the subframe: corner is not in the file yet"
			}
			for _, c := range of[m.Corner] {
				load.Cases = append(load.Cases, bracket.Case{Name: c.Name, Force: c.Force})
			}
			p.corners[m.Name] = load
		}
	}
}

// carriedBy is what a subframe carries, from the pick-ups of its wheels.
func (p *Prepared) carriedBy(s *Subframe) (out subframe.Carried) {
	b := p.Build
	name := s.Pickup()
	in := b.Pickup(name)
	if in == nil {
		out.Why = "pickup." + name + " is not in the file yet, so what the wheels put on the subframe is not known"
		return out
	}
	tyre, ok := b.Vehicle.WheelDiameter.Get()
	if !ok {
		out.Why = "vehicle.tyre_diameter is not in the file yet"
		return out
	}
	out.Radius = tyre / 2
	out.Driven = in.Line != "" || slices.ContainsFunc(b.Lines, func(l project.Line) bool { return l.Name == name })
	for _, a := range p.pickups.Axles {
		if a.Name != name {
			continue
		}
		for i, side := range in.Sides() {
			w, path := &out.Wheels[i], in.Path(i)
			at, x := a.Sides[i].Wheel, a.Sides[i].Spring
			mass, known := side.Load.Get()
			w.Tower = side.Tower.Foot.Known
			switch {
			case !at.Known:
				w.Why = at.Why
			case !known:
				w.Why = path + ".load is not in the file yet"
			case x == nil:
				w.Why = path + ".spring is not in the file yet, so it is not known where its push goes"
			case !x.Ratio.Known:
				w.Why = x.Ratio.Why
			default:
				w.At, w.Load, w.Ratio = at.V, mass*geom.Gravity, x.Ratio.V
				w.Spring, w.Way = x.Lower, r3.Unit(r3.Sub(x.Lower, x.Upper))
			}
		}
	}
	return out
}
