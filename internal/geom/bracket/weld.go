package bracket

import (
	"math"
	"slices"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Arc is a round run of weld, mm: from the angle From (from x toward y)
// through Sweep.
type Arc struct {
	Centre      r2.Vec
	Radius      float64
	From, Sweep geom.Angle
}

// WeldGroup is a group of equal fillet welds in one plane, treated as lines.
// Each run is a polyline; repeat the first point to close it.
type WeldGroup struct {
	Name string
	Runs [][]r2.Vec
	Arcs []Arc
	Bows []Bow
	Leg  float64 // leg size of the fillet, mm
}

// WeldLine is the geometry of a group as lines of unit thickness: length in
// mm, second moments about axes through the centroid in mm³ (Blodgett, Design
// of Welded Structures, sec. 7.4).
type WeldLine struct {
	Length      float64
	Centroid    r2.Vec
	Ix, Iy, Ixy float64 // ∫y² dl, ∫x² dl, ∫xy dl
	J           float64 // Ix + Iy
}

// Line returns the geometry of the group: exact integrals, along bows to
// rounding.
func (w WeldGroup) Line() (WeldLine, error) {
	g, err := w.plane()
	if err != nil {
		return WeldLine{}, err
	}
	return g.line(), nil
}

func (p plane) line() WeldLine {
	return WeldLine{Length: p.size, Centroid: p.centroid, Ix: p.ix, Iy: p.iy, Ixy: p.ixy, J: p.polar()}
}

func (w WeldGroup) bad(format string, args ...any) error { return bad("weld", w.Name, format, args...) }

func (w WeldGroup) check() (start r2.Vec, err error) {
	usable := func(p r2.Vec) bool { return math.Abs(p.X) <= geom.LimitLength && math.Abs(p.Y) <= geom.LimitLength }
	count := 0
	for _, run := range w.Runs {
		if len(run) < 2 {
			return start, w.bad("a run of weld needs two points")
		}
		for _, p := range run {
			if !usable(p) {
				return start, w.bad("a point at %g, %g mm is not usable", p.X, p.Y)
			}
		}
		start = run[0]
		count += len(run)
	}
	for _, a := range w.Arcs {
		if !usable(a.Centre) || !geom.LengthOK(a.Radius) || !(a.Sweep.Abs() > 0 && a.Sweep.Abs() <= 2*math.Pi*(1+1e-12)) ||
			!(a.From.Abs() <= 100*math.Pi) {
			return start, w.bad("an arc of radius %g mm over %.0f° is no weld", a.Radius, a.Sweep.Degrees())
		}
		start = a.Centre
		count++
	}
	for _, b := range w.Bows {
		if !b.ok() {
			return start, w.bad("a bow about %g, %g mm is no weld", b.Centre.X, b.Centre.Y)
		}
		start = b.Centre
		count++
	}
	if count == 0 || count > 20000 {
		return start, w.bad("it has no runs, or too many")
	}
	return start, nil
}

// plane integrates about a point of the group, then moves to the centroid.
func (w WeldGroup) plane() (plane, error) {
	from, err := w.check()
	if err != nil {
		return plane{}, err
	}
	var g plane
	var first r2.Vec
	for _, run := range w.Runs {
		for i := 1; i < len(run); i++ {
			p, q := r2.Sub(run[i-1], from), r2.Sub(run[i], from)
			l := r2.Norm(r2.Sub(q, p))
			g.size += l
			first = r2.Add(first, r2.Scale(l/2, r2.Add(p, q)))
			g.ix += l * (p.Y*p.Y + p.Y*q.Y + q.Y*q.Y) / 3
			g.iy += l * (p.X*p.X + p.X*q.X + q.X*q.X) / 3
			g.ixy += l * (2*p.X*p.Y + p.X*q.Y + q.X*p.Y + 2*q.X*q.Y) / 6
		}
	}
	for _, a := range w.Arcs {
		first = r2.Add(first, a.integrate(&g, from))
	}
	for _, b := range w.Bows {
		first = r2.Add(first, b.integrate(&g, from))
	}
	if g.size <= geom.Tiny {
		return plane{}, w.bad("it has no length")
	}
	c := r2.Scale(1/g.size, first)
	g.ix = math.Max(0, g.ix-g.size*c.Y*c.Y)
	g.iy = math.Max(0, g.iy-g.size*c.X*c.X)
	g.ixy -= g.size * c.X * c.Y
	g.centroid = r2.Add(from, c)
	return g, nil
}

// integrate adds an arc's length and second moments to g and returns its first
// moments, all about from.
func (a Arc) integrate(g *plane, from r2.Vec) r2.Vec {
	lo, hi := a.From.Rad(), a.From.Rad()+a.Sweep.Rad()
	if hi < lo {
		lo, hi = hi, lo
	}
	s0, c0 := math.Sincos(lo)
	s1, c1 := math.Sincos(hi)
	r, m, sweep := a.Radius, r2.Sub(a.Centre, from), hi-lo
	l := r * sweep
	ex, ey := r*r*(s1-s0), r*r*(c0-c1) // ∫ of the radius vector
	turn := (s1*c1 - s0*c0) / 2
	g.size += l
	g.iy += m.X*m.X*l + 2*m.X*ex + r*r*r*(sweep/2+turn)
	g.ix += m.Y*m.Y*l + 2*m.Y*ey + r*r*r*(sweep/2-turn)
	g.ixy += m.X*m.Y*l + m.X*ey + m.Y*ex + r*r*r*(s1*s1-s0*s0)/2
	return r2.Vec{X: m.X*l + ex, Y: m.Y*l + ey}
}

func (a Arc) at(t float64) r2.Vec {
	s, c := math.Sincos(a.From.Rad() + t*a.Sweep.Rad())
	return r2.Add(a.Centre, r2.Vec{X: a.Radius * c, Y: a.Radius * s})
}

// WeldStress is the screening stress of a weld group at its worst place.
type WeldStress struct {
	At          r2.Vec  // the worst place
	Force       r3.Vec  // force per length there, N/mm
	Direct      r3.Vec  // the part of Force that is the same all along
	PerLength   float64 // size of Force, N/mm
	Throat      float64 // PerLength over the throat, MPa
	Leg         float64 // PerLength over the leg, on the parent metal, MPa
	Utilisation float64 // of the throat
	Strength    WeldStrength
}

// throat is the effective throat of a fillet with equal legs, per leg.
const throat = math.Sqrt2 / 2

// Stress returns the largest stress of the group under a load: direct force
// over the length, twist by J, bending about both axes with the product of
// inertia; the resultant over the throat 0.7071 of the leg. No allowance for
// the direction of the force is taken. A screening figure: a licensed engineer
// and the local rules decide.
func (w WeldGroup) Stress(l Load, s WeldStrength) (WeldStress, error) {
	r, err := w.Ready()
	if err != nil {
		return WeldStress{}, err
	}
	return r.Stress(l, s)
}

// ReadyWeld is a group whose geometry is worked out, for one load after another.
type ReadyWeld struct {
	group WeldGroup
	g     plane
	bows  [][]r2.Vec // places along each bow
	hulls [][]r2.Vec // a polygon round each bow
}

// Ready works out the geometry of the group.
func (w WeldGroup) Ready() (ReadyWeld, error) {
	g, err := w.plane()
	if err == nil && !geom.LengthOK(w.Leg) {
		err = w.bad("a leg of %g mm is no weld", w.Leg)
	}
	if err != nil {
		return ReadyWeld{}, err
	}
	ready := ReadyWeld{group: w, g: g, bows: make([][]r2.Vec, len(w.Bows)), hulls: make([][]r2.Vec, len(w.Bows))}
	for i, b := range w.Bows {
		ready.bows[i], ready.hulls[i] = b.places(), b.hull()
	}
	return ready, nil
}

// Line is that of the group.
func (ready *ReadyWeld) Line() WeldLine { return ready.g.line() }

// Stress is that of the group.
func (ready *ReadyWeld) Stress(l Load, s WeldStrength) (WeldStress, error) {
	w := &ready.group
	if !(s.Throat >= geom.Least) || !geom.LoadOK(s.Throat) {
		return WeldStress{}, w.bad("the strength of the weld is not given")
	}
	field, err := w.field(ready.g, l)
	if err != nil {
		return WeldStress{}, err
	}
	at := ready.worst(&field)
	r := WeldStress{At: at, Force: field.at(at), Direct: field.direct, Strength: s}
	r.PerLength = r3.Norm(r.Force)
	r.Throat = r.PerLength / (throat * w.Leg)
	r.Leg = r.PerLength / w.Leg
	r.Utilisation = r.Throat / s.Throat
	return r, nil
}

// Beside returns the largest von Mises stress, MPa, that the group makes under a
// load in a part t mm thick that stands square to its plane along it: √(σ² + 3 τ²)
// with the force per length square to the plane and along it over t. It may be
// largest elsewhere than in the weld. A screening figure: a licensed engineer and
// the local rules decide.
func (ready *ReadyWeld) Beside(l Load, t float64) (float64, error) {
	if !geom.LengthOK(t) {
		return 0, ready.group.bad("a part of %g mm beside it is none", t)
	}
	field, err := ready.group.field(ready.g, l)
	if err != nil {
		return 0, err
	}
	field.more = 2
	return math.Sqrt(field.square(ready.worst(&field))) / t, nil
}

// Places returns places along the group that are no farther than step mm apart,
// the ends of its runs and bows among them.
func (ready *ReadyWeld) Places(step float64) []r2.Vec {
	var out []r2.Vec
	walk := func(length float64, at func(t float64) r2.Vec) {
		n := max(1, int(math.Ceil(min(length/step, 1e4))))
		for i := range n + 1 {
			out = append(out, at(float64(i)/float64(n)))
		}
	}
	for _, run := range ready.group.Runs {
		for i := 1; i < len(run); i++ {
			p, way := run[i-1], r2.Sub(run[i], run[i-1])
			walk(r2.Norm(way), func(t float64) r2.Vec { return r2.Add(p, r2.Scale(t, way)) })
		}
	}
	for _, a := range ready.group.Arcs {
		walk(a.Radius*a.Sweep.Abs().Rad(), a.at)
	}
	for _, b := range ready.group.Bows {
		walk((r2.Norm(b.A)+r2.Norm(b.B))*b.Sweep.Abs().Rad(), b.at)
	}
	return out
}

// Forces appends to into the force per length, N/mm, that a load makes at each of
// some places in the plane of the group.
func (ready *ReadyWeld) Forces(into []r3.Vec, l Load, places []r2.Vec) ([]r3.Vec, error) {
	field, err := ready.group.field(ready.g, l)
	if err != nil {
		return nil, err
	}
	for _, p := range places {
		into = append(into, field.at(p))
	}
	return into, nil
}

// Carries is what a straight run of the group between two places carries under a load:
// force (N) and moment (N·mm) about the origin of its plane, exact, since the force per
// length runs straight along it.
func (ready *ReadyWeld) Carries(l Load, from, to r2.Vec) (force, moment r3.Vec, err error) {
	middle := r2.Scale(0.5, r2.Add(from, to))
	places := [3]r2.Vec{from, middle, to}
	got, err := ready.Forces(nil, l, places[:])
	if err != nil {
		return force, moment, err
	}
	length := r2.Norm(r2.Sub(to, from))
	for i, by := range [3]float64{1. / 6, 4. / 6, 1. / 6} { // Simpson
		f := r3.Scale(by*length, got[i])
		force = r3.Add(force, f)
		moment = r3.Add(moment, r3.Cross(r3.Vec{X: places[i].X, Y: places[i].Y}, f))
	}
	return force, moment, nil
}

// worst returns the place of the group where the field is largest.
func (ready *ReadyWeld) worst(field *forceField) r2.Vec {
	w := &ready.group
	at, square := r2.Vec{}, -1.0
	try := func(p r2.Vec) {
		if f := field.square(p); f > square {
			at, square = p, f
		}
	}
	for _, run := range w.Runs {
		for _, p := range run { // along a straight run the size is largest at an end
			try(p)
		}
	}
	for _, a := range w.Arcs {
		const steps = 48
		for i := range steps {
			lo, hi := float64(i)/steps, float64(i+1)/steps
			t, _ := peak(func(t float64) float64 { return math.Sqrt(field.square(a.at(t))) }, lo, hi)
			try(a.at(t))
		}
	}
	for i := range w.Bows {
		above := func(p r2.Vec) bool { return field.square(p) > square }
		if slices.ContainsFunc(ready.hulls[i], above) { // elsewhere in it, a square is not larger than at a corner
			try(w.Bows[i].worst(field, ready.bows[i]))
		}
	}
	return at
}

// forceField is the force per length over the plane of a group, N/mm: straight
// in the place.
type forceField struct {
	centroid r2.Vec
	direct   r3.Vec
	turn     float64 // N/mm per mm, about the centroid
	b, c     float64 // N/mm per mm of x and of y, square to the plane
	more     float64 // by how much more the square of what lies in the plane counts than that of what stands square to it
}

func (f *forceField) at(p r2.Vec) r3.Vec {
	d := r2.Sub(p, f.centroid)
	return r3.Add(f.direct, r3.Vec{X: -f.turn * d.Y, Y: f.turn * d.X, Z: f.b*d.X + f.c*d.Y})
}

// square is the square of its size, what lies in the plane counted by more.
func (f *forceField) square(p r2.Vec) float64 {
	v := f.at(p)
	return (1+f.more)*(v.X*v.X+v.Y*v.Y) + v.Z*v.Z
}

// field returns the force per length at the places of the group.
func (w *WeldGroup) field(g plane, l Load) (forceField, error) {
	if !l.ok() {
		return forceField{}, w.bad("the load or its place is not a usable number")
	}
	f, m := l.about(g.centroid)
	turn := 0.0
	if m.Z != 0 { // a group has length, so it has a polar moment
		turn = m.Z / g.polar()
	}
	a, b, c, ok := g.tilt(f.Z, m.X, m.Y)
	if !ok {
		return forceField{}, w.bad("the weld is one straight line and cannot hold the bending about it; weld a second side")
	}
	return forceField{g.centroid, r3.Vec{X: f.X / g.size, Y: f.Y / g.size, Z: a}, turn, b, c, 0}, nil
}
