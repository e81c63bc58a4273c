package rail

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geomrail "fitup/internal/geom/rail"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// bend bends a rail under all that rests on it, times the bump.
func (p *Prepared) bend(r *Rail, in Input) *Bent {
	out := &Bent{Rail: r, Bump: p.build.Load("bump").Value}
	err := out.solve(p.build, in)
	if err != nil {
		out.Why = err.Error()
	}
	none := finding.Missing(out.Why)
	out.Bending.Use = none
	if err == nil {
		out.Bending = out.worst()
		out.Sheared = out.sheared()
	}
	for i := range r.Splices {
		out.Joints = append(out.Joints, out.joint(i))
	}
	ends, _ := r.Spec.Ends()
	for i, l := range r.Spec.Lengths {
		if l.Plated == "" || i >= len(ends) {
			continue
		}
		out.plateOf = append(out.plateOf, i)
		out.PlateEnds = append(out.PlateEnds, out.plateEnd(i))
	}
	return out
}

// solve sets up the beam and bends it.
func (b *Bent) solve(build *project.Build, in Input) error {
	r := b.Rail
	if r.Why != "" {
		return errors.New(r.Why)
	}
	if len(build.Rails.Loads) == 0 {
		return lacking("rails.load, what rests on the rails: cab, bed, payload")
	}
	if in.Why != "" {
		return errors.New(in.Why)
	}
	for i, s := range r.Spec.Supports {
		if !s.At.Known() {
			return lacking(fmt.Sprintf("%s.support.%d.at", r.path, i+1))
		}
	}
	bearings, at := b.bearings(build)
	if len(bearings) < 2 {
		return fmt.Errorf("%w; there are %d, and a rail is carried at two places at least", lacking(fmt.Sprintf("%s.support.%d, the hangers or towers that carry the rail, of both axles", r.path, len(r.Spec.Supports)+1)), len(r.Spec.Supports))
	}
	beam := geomrail.Beam{Name: string(r.Side), Bearings: bearings}
	for i := range r.Pieces {
		q := &r.Pieces[i]
		beam.Pieces = append(beam.Pieces, geomrail.Piece{From: q.From, To: q.To, EI: section.SteelE * q.Now.Ix})
		beam.Loads = append(beam.Loads, geomrail.Load{From: q.From, To: q.To, Force: q.Now.Mass * (q.To - q.From) / 1000 * geom.Gravity})
	}
	for i, l := range build.Rails.Loads {
		mass, known := l.Mass.Get()
		if !known || !l.At.Known() {
			return lacking(fmt.Sprintf("rails.load.%d.mass and its place", i+1))
		}
		share := 0.5
		if l.On != "" {
			share = 0
			if l.On == r.Side {
				share = 1
			}
		}
		if share > 0 {
			beam.Loads = append(beam.Loads, geomrail.Load{From: r.onto(l.At.V()), To: r.onto(l.To.Or(l.At.V())), Force: share * mass * geom.Gravity})
		}
	}
	for _, m := range in.Mounts {
		share, err := b.shareOf(build, m)
		if err != nil {
			return err
		}
		if share > 0 {
			beam.Loads = append(beam.Loads, geomrail.Load{From: r.onto(m.At.X), To: r.onto(m.At.X), Force: share * m.Down})
		}
	}
	var err error
	if b.Beam, err = beam.Solve(); err != nil {
		return err
	}
	for i, s := range bearings {
		if b.Beam.Reactions[i] < 0 && b.Uncounted == "" {
			b.Uncounted = fmt.Sprintf("by these loads %s would have to hold the rail down, and it can lift off there: check the supports and the loads", at[i][0])
		}
		for j, x := range s.At {
			b.Supports = append(b.Supports, Carried{at[i][j], x, b.Beam.Reactions[i] * s.Share[j]})
		}
	}
	b.Assumes = append(b.Assumes,
		"each rail is a straight beam that bends up and down in its own plane",
		"plates that are welded all round bend as one with the rail",
		"welds, rivets and fatigue are not counted")
	return nil
}

// onto is a station, or the end of the rail where it lies a little past that: no tape
// says to the millimetre where a load ends.
func (r *Rail) onto(x float64) float64 {
	const little = 5
	if x < r.From && x > r.From-little {
		return r.From
	}
	if x > r.To && x < r.To+little {
		return r.To
	}
	return x
}

// bearings are what carries the rail: hangers of one axle share its load by the axle's
// place between them, whatever the rail does.
func (b *Bent) bearings(build *project.Build) (out []geomrail.Bearing, names [][]string) {
	done := map[project.AxleEnd]bool{}
	for _, s := range b.Spec.Supports {
		pair := []project.RailSupport{s}
		if s.Axle != "" && s.Kind != project.SpringTower {
			if done[s.Axle] {
				continue
			}
			done[s.Axle], pair = true, nil
			for _, o := range b.Spec.Supports {
				if o.Axle == s.Axle && o.Kind != project.SpringTower {
					pair = append(pair, o)
				}
			}
		}
		slices.SortStableFunc(pair, func(p, q project.RailSupport) int { return int(math.Copysign(1, p.At.V()-q.At.V())) })
		var g geomrail.Bearing
		var n []string
		for _, o := range pair {
			g.At, g.Share, n = append(g.At, b.onto(o.At.V())), append(g.Share, 1/float64(len(pair))), append(n, project.Printable(o.Name))
		}
		if len(pair) == 2 {
			x, known := axleStation(build, s.Axle)
			if wide := g.At[1] - g.At[0]; known && wide > 1 && x > g.At[0] && x < g.At[1] {
				g.Share = []float64{(g.At[1] - x) / wide, (x - g.At[0]) / wide}
			} else {
				b.Assumes = append(b.Assumes, fmt.Sprintf("both hangers of the %s axle carry half", s.Axle))
			}
		} else if len(pair) > 2 {
			b.Assumes = append(b.Assumes, fmt.Sprintf("the %d hangers of the %s axle carry a like share each, whatever the rail does: two springs in a row with a rocker between them do, others have to be worked out", len(pair), s.Axle))
		}
		out, names = append(out, g), append(names, n)
	}
	return out, names
}

// axleStation is where an axle lies.
func axleStation(build *project.Build, axle project.AxleEnd) (float64, bool) {
	v := build.Vehicle
	front, known := v.FrontAxle.Get()
	switch axle {
	case project.FrontAxle:
		return front, known
	case project.RearAxle:
		return front + v.Wheelbase.V(), known && v.Wheelbase.Known()
	}
	return 0, false
}

// shareOf is the part of a mount's load that this rail carries: all of it where its leg
// or its name is on one side, and else by how near the two rails are.
func (b *Bent) shareOf(build *project.Build, m Weighing) (float64, error) {
	side := build.Mount(m.Mount).Leg.Rail
	if side == "" {
		side = sideOf(m.Mount)
	}
	if side != "" {
		if side == b.Side {
			return 1, nil
		}
		return 0, nil
	}
	left, okL := across(build.Rails.Left, m.At.X)
	right, okR := across(build.Rails.Right, m.At.X)
	if !okL || !okR || right-left < 1 {
		return 0, lacking("rails.left.points and rails.right.points, beside the " + finding.Spoken(m.Mount) + " mount")
	}
	share := min(max((m.At.Y-left)/(right-left), 0), 1) // of the right one
	if b.Side == project.LeftSide {
		share = 1 - share
	}
	return share, nil
}

// sideOf is the side that a mount's name says.
func sideOf(mount string) project.Side {
	for _, s := range []project.Side{project.LeftSide, project.RightSide} {
		if n := string(s); len(mount) > len(n) && (mount[:len(n)+1] == n+"_" || mount[len(mount)-len(n)-1:] == "_"+n) {
			return s
		}
	}
	return ""
}

// across is the offset of a rail's edge at a station.
func across(r project.Rail, x float64) (float64, bool) {
	edge := r.Edge()
	if len(edge) < 2 {
		return 0, false
	}
	for i := 1; i < len(edge); i++ {
		if a, c := edge[i-1], edge[i]; x <= c.X || i == len(edge)-1 {
			if c.X-a.X < 1e-6 {
				return a.Y, true
			}
			return a.Y + (c.Y-a.Y)*(x-a.X)/(c.X-a.X), true
		}
	}
	return 0, false
}

// moment is the bending moment over the bump.
func (b *Bent) moment(x float64) float64 { return b.Beam.Moment(x) * b.Bump }

// stress is that of a section at a station over the bump: bending about the true axes
// of its section, the rail free to bend aside.
func (b *Bent) stress(what string, x float64, f *section.Figures, yield float64) Place {
	m := b.moment(x)
	s, _ := f.Worst(m, 0)
	return Place{What: what, At: x, Moment: m, Stress: s, Use: finding.Exact(s / yield)}
}

// sheared is where the webs are sheared most, over the bump: the force over the area of
// what stands upright, against yield/√3 (von Mises).
func (b *Bent) sheared() Place {
	var out Place
	for _, s := range b.Beam.Shears() {
		for _, q := range b.at(s.At) {
			if q.Now.ShearY <= 0 {
				continue
			}
			stress := s.Force * b.Bump / q.Now.ShearY
			if use := stress * math.Sqrt(3) / q.Yield; !out.Use.Known || use > out.Use.V {
				out = Place{What: fmt.Sprintf("length %d", q.Length+1), At: s.At, Stress: stress, Use: finding.Exact(use)}
			}
		}
	}
	if out.Use.Known {
		b.Assumes = append(b.Assumes, fmt.Sprintf("shear is not counted together with bending: its most is %s, the mean over the web, at %s; how an open section twists under a load beside its shear centre is not counted",
			b.text(quantity.Stress, out.Stress), b.station(out.At)))
	}
	return out
}

// worst looks along the rail: wherever anything changes, and at holes.
func (b *Bent) worst() Place {
	var out Place
	take := func(p Place) {
		if !out.Use.Known || p.Use.V > out.Use.V {
			out = p
		}
	}
	for _, x := range b.Beam.Stations() {
		for _, q := range b.at(x) {
			take(b.stress(fmt.Sprintf("length %d", q.Length+1), x, q.figures(x), q.Yield))
		}
	}
	for i := range b.Spec.Holes {
		ps, why := b.hole(i)
		for _, p := range ps {
			take(p)
		}
		if why != "" && b.Uncounted == "" {
			b.Uncounted = why
		}
	}
	return out
}

// hole is the stress at hole i in each piece that it is in, or why that is not known.
func (b *Bent) hole(i int) (out []Place, why string) {
	h, what := b.Spec.Holes[i], fmt.Sprintf("hole %d", i+1)
	path := fmt.Sprintf("%s.hole.%d", b.path, i+1)
	x, known := h.At.Get()
	switch {
	case !known:
		return nil, lacking(path + ".at").Error()
	case h.In == "":
		return nil, lacking(path + ".in").Error()
	case !h.Diameter.Known():
		return nil, lacking(path + ".diameter").Error()
	}
	pieces := b.at(x)
	if len(pieces) == 0 {
		return nil, fmt.Sprintf("%s at %s is not on the %s: check %s.at", what, b.station(x), b.label(), path)
	}
	for _, q := range pieces {
		f, ok := q.holed(h, x, b.unit)
		if !ok {
			return nil, fmt.Sprintf("what %s takes from the section at %s is not worked out: it is for a hole in the web or a flange of a channel or a box, and smaller than that", what, b.station(x))
		}
		if through := q.goesThrough(h, b.unit); through != "" {
			b.Assumes = append(b.Assumes, fmt.Sprintf("%s is counted through %s: %s.through is not in the file yet", what, through, path))
		}
		out = append(out, b.stress(what, x, &f, q.Yield))
	}
	return out, ""
}

// joint is the stress in a splice, or beside its plates where that is more.
func (b *Bent) joint(i int) Place {
	s := &b.Splices[i]
	x := s.Spec.At.V()
	out := Place{What: s.Words, At: x, Share: s.Share}
	switch {
	case s.Why != "":
		out.Use = finding.Missing(s.Why)
		return out
	case b.Why != "":
		out.Use = finding.Missing(b.Why)
		return out
	}
	share := out.Share
	out = b.stress(s.Words, x, &s.Joint, s.Yield)
	for _, end := range s.Ends {
		for _, q := range b.at(end) {
			if p := b.stress(fmt.Sprintf("the rail at an end of the plates of splice %d", i+1), end, q.figures(end), q.Yield); p.Use.V > out.Use.V {
				out = p
			}
		}
	}
	out.Share = share
	out.Sheared = b.shearedAt(x, s)
	return out
}

// shearedAt is the shear in a joint over the bump, as a use of strength: the force there
// over what stands upright of what carries in it; infinite where nothing does.
func (b *Bent) shearedAt(x float64, s *Splice) float64 {
	const step = 0.5 // mm; the shear force is the slope of the moment
	force := 0.0
	for _, d := range []float64{-step, step} {
		if to := x + d; to > b.From && to < b.To {
			force = max(force, math.Abs(b.moment(to)-b.moment(x))/step)
		}
	}
	if force == 0 {
		return 0
	}
	return force / s.Upright * math.Sqrt(3) / s.Yield
}

// plateEnd is the worse end of a length's plates: the rail without them, where they
// stop. At an end of the rail nothing stops.
func (b *Bent) plateEnd(length int) Place {
	out := Place{What: fmt.Sprintf("the rail at an end of the plates of length %d", length+1), Use: finding.Missing(b.Why)}
	if b.Why != "" {
		return out
	}
	for i := range b.Pieces {
		q := &b.Pieces[i]
		if q.Length != length {
			continue
		}
		for k, x := range []float64{q.From, q.To} {
			inner := i > 0 && b.Pieces[i-1].Length == length && x == q.From || i+1 < len(b.Pieces) && b.Pieces[i+1].Length == length && x == q.To
			if inner && x != b.From && x != b.To {
				continue
			}
			if p := b.stress(out.What, x, &q.bares[k], q.Yield); !out.Use.Known || p.Use.V > out.Use.V {
				out = p
			}
		}
	}
	return out
}
