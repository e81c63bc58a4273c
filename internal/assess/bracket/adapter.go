package bracket

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Adapter is the plate between the bosses of the block and a mount's isolator.
type Adapter struct {
	Name, Label string
	Spec        *project.MountAdapter
	Why         string // why it does not lie anywhere; "" where it does

	// Pose is where it lies, the powertrain's own frame: the origin in the middle of its pad
	// on the side of the bosses, Z off the block, Y as nearly up as can be.
	Pose   geom.Pose
	Bosses []r2.Vec  // the holes that it is bolted by, in its plane
	Below  []float64 // how far the face of each boss is behind the foremost, mm
	Plate  geombracket.Plate
	Figure geombracket.PlateFigures
	Stack  float64 // of spacers and plate, mm

	Bends geombracket.AdapterBending // in the case that governs
	Bolt  BoltUse
	Bend  Use

	of    *Bracket // the mount it belongs to, as its findings name it
	ready geombracket.Adapter
}

// layAdapter finds how the adapter plate of a mount lies on its bosses. Nil where it has
// none.
func layAdapter(m *project.Mount) *Adapter {
	s := &m.Adapter
	if !s.Begun() {
		return nil
	}
	a := &Adapter{Name: m.Name, Label: finding.Spoken(m.Name), Spec: s, Stack: s.Stack()}
	a.of = &Bracket{Name: a.Name, Label: a.Label, ready: &readyLeg{name: a.Name, label: a.Label, mount: *m}}
	if err := a.lay(m); err != nil {
		a.Why = err.Error()
	}
	return a
}

// lay works out its place, its outline and its holes.
func (a *Adapter) lay(m *project.Mount) error {
	s, path := a.Spec, "mount."+a.Name+".adapter."
	if key := s.Lacks(); key != "" {
		return lacking(path + key)
	}
	for _, q := range []struct {
		key   string
		given bool
	}{{"edge", s.Edge.Known()}, {"hole", s.Hole.Known()},
		{"pad.pitch_across", s.Pad.Across.Or(1) < 2 || s.Pad.PitchAcross.Known()}, {"pad.pitch_high", s.Pad.High.Or(1) < 2 || s.Pad.PitchHigh.Known()}} {
		if !q.given {
			return lacking(path + q.key)
		}
	}
	if !m.At.Known {
		return lacking(m.PadPath())
	}
	_, normal, below, err := s.OnBlock().Face()
	if err != nil {
		return err
	}
	foot := r3.Sub(m.At.At, r3.Scale(s.Thickness.V(), normal))
	if a.Pose, err = geombracket.FacePose(a.Label+" adapter", geombracket.Face{Point: foot, Normal: normal}, r3.Vec{}); err != nil {
		return err
	}
	a.Below = below
	a.Bosses = geombracket.OnFace(a.Pose, s.OnBlock().At)
	yield, _ := s.Strengths()
	a.ready = geombracket.Adapter{Name: a.Label + " adapter", Bosses: a.Bosses, Hole: s.Hole.V(), Edge: s.Edge.V(), Thickness: s.Thickness.V(), Yield: yield}
	if d, ok := s.Pad.Hole.Get(); ok {
		a.ready.Pad = geombracket.HoleGrid(int(s.Pad.Across.Or(1)), int(s.Pad.High.Or(1)), s.Pad.PitchAcross.V(), s.Pad.PitchHigh.V(), d)
	}
	if a.Plate, err = a.ready.Plate(); err != nil {
		return err
	}
	a.Figure, err = a.Plate.Figures()
	return err
}

// Corners are those of its outline at one of its faces, the powertrain's own frame, mm.
func (a *Adapter) Corners(outer bool) []r3.Vec {
	z := 0.0
	if outer {
		z = a.Plate.Thickness
	}
	out := make([]r3.Vec, len(a.Plate.Outline))
	for i, q := range a.Plate.Outline {
		out[i] = a.Pose.Point(r3.Vec{X: q.X, Y: q.Y, Z: z})
	}
	return out
}

// headWide and headHigh are what the head of a bolt takes up with its washer, times the
// bolt's diameter: no less than a hexagon's (ISO 4014 and 7089) or a socket's (ISO 4762).
// Spacers are taken as wide.
const (
	headWide = 2.1
	headHigh = 1.2
)

// Bodies are the pieces of the plate, the heads of its bolts and its spacers, the
// powertrain's own frame, with what is not among them.
func (a *Adapter) Bodies() (out []Body, without string) {
	add := func(at r2.Vec, along r2.Vec, half r2.Vec, from, to float64) {
		p := a.Pose
		p.At = a.Pose.Point(r3.Vec{X: at.X, Y: at.Y, Z: (from + to) / 2})
		p.X = r3.Add(r3.Scale(along.X, a.Pose.X), r3.Scale(along.Y, a.Pose.Y))
		p.Y = r3.Cross(p.Z, p.X)
		out = append(out, Body{Pose: p, Half: r3.Vec{X: half.X, Y: half.Y, Z: (to - from) / 2}})
	}
	thick := a.Plate.Thickness
	for _, q := range a.ready.Covered() {
		add(q.Middle, q.Along, q.Half, 0, thick)
	}
	thread, err := geombracket.ParseThread(a.Label+" adapter", a.Spec.Bolts.Thread)
	if err != nil {
		without = "the heads of the " + a.Label + " adapter's bolts are not in it: mount." + a.Name + ".adapter.bolts.thread is not in the file yet"
		return out, without
	}
	half := r2.Vec{X: headWide / 2 * thread.Diameter, Y: headWide / 2 * thread.Diameter}
	for i, at := range a.Bosses {
		add(at, r2.Vec{X: 1}, half, thick, thick+headHigh*thread.Diameter)
		if back := a.Spec.Spacer.V() + a.Below[i]; back > 0 {
			add(at, r2.Vec{X: 1}, half, -back, 0)
		}
	}
	return out, ""
}

// Rows are what is needed to cut it, drill it and bolt it on, in the order of the work.
func (a *Adapter) Rows() (rows []Row) {
	if a.Why != "" {
		return nil
	}
	id, s := finding.Adapter(a.Name)+".", a.Spec
	add := func(label, name string, k quantity.Kind, v float64, words string) {
		rows = append(rows, Row{label, id + name, k, v, words})
	}
	lo := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}
	for _, q := range a.Plate.Outline {
		lo = r2.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}
	}
	add("width", "width", quantity.Length, a.Figure.Width, "over all, seen from the isolator")
	add("height", "height", quantity.Length, a.Figure.Height, "")
	add("thickness", "thickness", quantity.Length, a.Plate.Thickness, "")
	add("corners, radius", "radius", quantity.Length, s.Edge.V(), "round each outer hole, straight between them")
	add("stack", "stack", quantity.Length, a.Stack, "plate and spacers: so far the pad stands off the bosses")
	add("boss holes", "hole", quantity.Length, s.Hole.V(), fmt.Sprintf("diameter, %d of them", len(a.Bosses)))
	for i, q := range a.Bosses {
		n := fmt.Sprint(i + 1)
		words := ""
		if a.Below[i] > 0.05 {
			words = "its boss stands back: a washer as thick as that"
		}
		add("hole "+n+" from the left", "hole."+n+".left", quantity.Length, q.X-lo.X, "its middle, from the plate's left edge")
		add("hole "+n+" from below", "hole."+n+".low", quantity.Length, q.Y-lo.Y, "its middle, from the plate's lowest edge")
		add("boss "+n+" stands back", "boss."+n+".below", quantity.Length, a.Below[i], words)
	}
	add("pad from the left", "pad.left", quantity.Length, -lo.X, "its middle, from the plate's left edge")
	add("pad from below", "pad.low", quantity.Length, -lo.Y, "")
	if d, ok := s.Pad.Hole.Get(); ok {
		across, high := s.Pad.Across.Or(1), s.Pad.High.Or(1)
		add("pad holes", "pad.hole", quantity.Length, d, fmt.Sprintf("diameter, %g of them about its middle", across*high))
		if across > 1 {
			add("pad holes, pitch across", "pad.pitch_across", quantity.Length, s.Pad.PitchAcross.V(), "")
		}
		if high > 1 {
			add("pad holes, pitch up", "pad.pitch_high", quantity.Length, s.Pad.PitchHigh.V(), "")
		}
	}
	if t := a.Bolt.Tighten; t.Torque > 0 {
		add("bolts, torque", "torque", quantity.Torque, t.Torque, "give or take a quarter; the maker's torque for the block comes first")
	}
	add("mass", "mass", quantity.Mass, a.Figure.Mass, "without bolts and spacers")
	return rows
}

// judgeAdapters says what there is to say of those that are asked for.
func (r *Result) judgeAdapters() {
	for _, a := range r.Adapters {
		if r.loads.asked(a.Name) {
			r.judgeAdapter(a)
		}
	}
}

// judgeAdapter says what there is to say of one.
func (r *Result) judgeAdapter(a *Adapter) {
	r.adapterFlat(a)
	if a.Why != "" {
		return
	}
	r.adapterEdges(a)
	r.adapterEngaged(a)
	load := r.loads.of(a.Name)
	at := load.At
	if load.Why == "" && !r.pose.Known {
		load.Why = r.pose.Why
	}
	if load.Why == "" && r.loads.Open != "" {
		a.of.Strength.Why = r.loads.Open
	}
	a.Bend.Begun, a.Bolt.Begun = true, true
	for _, u := range []useOf{
		{finding.AdapterBending, "adapter plate", &a.Bend, func(at r3.Vec) (screen, error) { return r.adapterBends(a, at) }, "take a thicker adapter plate, or bring its pad nearer to the bosses or between them"},
		{finding.AdapterBolts, "adapter's bolts", &a.Bolt.Use, func(at r3.Vec) (screen, error) { return r.adapterBolts(a, at) }, "use bosses that are farther apart, more of them or larger ones, or bring the pad nearer to them"},
	} {
		r.screened(a.of, u, &load, at)
	}
}

// flatMost is how far bosses may be from one plane before a plate on them is bent by its
// bolts, mm.
const flatMost = 0.2

// adapterFlat holds the bosses against one plane.
func (r *Result) adapterFlat(a *Adapter) {
	f := finding.Finding{ID: finding.AdapterFlat(a.Name), Title: a.Label + " adapter, bosses out of one plane"}
	most, worst := finding.Missing(quantity.Restate(a.Why, r.ready.units)), 0
	if a.Why == "" {
		most = finding.Exact(0)
		for i, v := range a.Below {
			if v > most.V {
				most, worst = finding.Exact(v), i
			}
		}
	}
	f.JudgeAt(most, flatMost, project.Rule{Kind: quantity.Length, Source: finding.Practice}, false)
	f.Assumes = append(f.Assumes, "bosses as the file has them: try a straightedge across them")
	units, why := r.ready.units, most.Why
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:       "The plate lies on all its bosses.",
			finding.Over:     fmt.Sprintf("Boss %d stands back: a washer of %s under the plate there, or face the bosses; pulled down, the plate bends and the boss can break off.", worst+1, quantity.Format(quantity.Length, most.V, units, 1)),
			finding.NotKnown: finding.NotYet(why),
		}
	})
	r.Findings = append(r.Findings, f)
}

// adapterEdges hold its holes against its edge, and against each other.
func (r *Result) adapterEdges(a *Adapter) {
	if len(a.Plate.Holes) == 0 {
		return
	}
	near := math.Inf(1)
	var hole float64
	for _, h := range a.Plate.Holes { // its edge runs round each outer one alike; inner ones are farther in
		for i, q := range a.Plate.Outline {
			w := a.Plate.Outline[(i+1)%len(a.Plate.Outline)]
			d := r2.Sub(w, q)
			t := max(0, min(1, r2.Dot(r2.Sub(h.At, q), d)/r2.Norm2(d)))
			if off := r2.Norm(r2.Sub(h.At, r2.Add(q, r2.Scale(t, d)))); off/h.Diameter < near/max(hole, 1e-9) || hole == 0 {
				near, hole = off, h.Diameter
			}
		}
	}
	f := finding.Finding{ID: finding.AdapterEdge(a.Name), Title: a.Label + " adapter, hole centre to edge"}
	f.JudgeAt(finding.Exact(near), geombracket.EdgeRule*hole, project.Rule{Kind: quantity.Length, Source: "EN 1993-1-8, table 3.3: 1.2 hole diameters"}, true)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{finding.OK: "There is metal enough between the holes and the edge.",
			finding.Over: "The bolts would tear out of the adapter's edge: make edge more."}
	})
	r.Findings = append(r.Findings, f)
	apart, of := a.Plate.LeastPitch()
	f = finding.Finding{ID: finding.AdapterPitch(a.Name), Title: a.Label + " adapter, hole centre to hole centre"}
	f.JudgeAt(finding.Exact(apart), geombracket.PitchRule*of, project.Rule{Kind: quantity.Length, Source: "EN 1993-1-8, table 3.3: 2.2 hole diameters"}, true)
	f.Assumes = append(f.Assumes, "room for a spanner beside each head and nut, which is not looked at")
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{finding.OK: "There is metal enough between the holes.",
			finding.Over: "Too little metal between two of its holes: move the pad, or turn its holes."}
	})
	r.Findings = append(r.Findings, f)
}

// adapterEngaged holds the depth that its bolts are screwed in against what keeps their
// thread.
func (r *Result) adapterEngaged(a *Adapter) {
	s, path := a.Spec, "mount."+a.Name+".adapter."
	f := finding.Finding{ID: finding.AdapterEngaged(a.Name), Title: a.Label + " adapter, thread in the block"}
	depth := finding.Given(s.Engaged.Get())
	want := 0.0
	thread, err := geombracket.ParseThread(a.Label+" adapter", s.Bolts.Thread)
	of, known := geombracket.Engagement(string(s.Block))
	switch {
	case s.Bolts.Thread == "":
		depth = finding.Missing(lacking(path + "bolts.thread").Error())
	case err != nil:
		depth = finding.Missing(err.Error())
	case !known:
		depth = finding.Missing(lacking(path + "block").Error())
	case !depth.Known:
		depth = finding.Missing(lacking(path + "engaged").Error())
	default:
		want = of * thread.Diameter
	}
	f.JudgeAt(depth, want, project.Rule{Kind: quantity.Length, Source: finding.Practice}, true)
	if !depth.Known {
		f.HasLimit = false
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:       "The bolts are screwed in deep enough for what the block is of.",
			finding.Over:     "The thread in the block can strip before the bolt is tight: longer bolts where the hole is tapped deeper, or a thread insert.",
			finding.NotKnown: finding.NotYet(depth.Why),
		}
	})
	r.Findings = append(r.Findings, f)
}

// adapterActs are the places at which the isolator may push at an adapter, in its plane:
// on the plate's face, and where it stands on its bracket.
func (r *Result) adapterActs(a *Adapter, at r3.Vec) []r3.Vec {
	m := &a.of.ready.mount
	standing := m.Bracket.Standing.Or(m.Leg.Standing.Or(0))
	own := r.pose.V.Own
	out := []r3.Vec{a.Pose.Own(own(at))}
	if standing > 0 {
		out = append(out, a.Pose.Own(own(r3.Sub(at, r3.Vec{Z: standing}))))
	}
	return out
}

// onAdapter is what a force on the bracket puts on the plate, in its plane.
func (r *Result) onAdapter(a *Adapter, force, at r3.Vec) geombracket.Load {
	return geombracket.Load{Force: a.Pose.OwnDir(r.pose.V.OwnDir(r3.Scale(-1, force))), At: at}
}

// adapterRests are what the figures of an adapter rest on.
func (a *Adapter) adapterRests() []string {
	out := []string{"bosses that do not give way, and the block behind them: not judged", "a plate stiff against its bosses, and no prying"}
	if a.Spec.Spacer.V() > 0 {
		out = append(out, "spacers at least twice as wide as their bolts, clamped tight, so that friction and not the bolt takes what acts along the plate")
	}
	return out
}

// adapterBends is the plate between its bosses and its pad.
func (r *Result) adapterBends(a *Adapter, at r3.Vec) (screen, error) {
	plate, err := a.ready.Ready()
	if err != nil {
		return screen{}, err
	}
	acts := r.adapterActs(a, at)
	worst := func(force r3.Vec) (most geombracket.AdapterBending, err error) {
		for _, p := range acts {
			got, _, err := plate.Under(r.onAdapter(a, force, p))
			if err != nil {
				return most, err
			}
			if got.Utilisation >= most.Utilisation {
				most = got
			}
		}
		return most, nil
	}
	return screen{
		adds: true, even: true, rests: append(a.adapterRests(), "straight lines across the plate; how the isolator's foot spreads what it puts on it is not counted"),
		used: func(force r3.Vec) (float64, error) {
			b, err := worst(force)
			return b.Utilisation, err
		},
		keep: func(force r3.Vec) { a.Bends, _ = worst(force) },
	}, nil
}

// adapterBolts are the bolts that hold it to the block.
func (r *Result) adapterBolts(a *Adapter, at r3.Vec) (screen, error) {
	s, path := a.Spec, "mount."+a.Name+".adapter.bolts."
	switch {
	case s.Bolts.Thread == "":
		return screen{}, lacking(path + "thread")
	case s.Bolts.Class == "":
		return screen{}, lacking(path + "class")
	}
	thread, err := geombracket.ParseThread(a.Label+" adapter", s.Bolts.Thread)
	if err != nil {
		return screen{}, err
	}
	_, tensile := s.Strengths()
	h := &boltsHeld{use: &a.Bolt}
	bolt := geombracket.Bolt{Name: a.Label + " adapter", Thread: thread, Class: s.Bolts.Class, K: s.Bolts.TorqueK.V(), Share: s.Bolts.Preload.V()}
	if h.use.Tighten, err = bolt.Tighten(); err != nil {
		return screen{}, err
	}
	if h.bolt, err = bolt.Ready(geombracket.BoltJoint{Plate: s.Thickness.V(), Fu: tensile, Hole: s.Hole.V(), End: s.Edge.V(), Side: s.Edge.V()}); err != nil {
		return screen{}, err
	}
	if h.pattern, err = (geombracket.BoltPattern{Name: a.Label + " adapter", At: a.Bosses}).Ready(); err != nil {
		return screen{}, err
	}
	acts, room := r.adapterActs(a, at), []geombracket.BoltShare{}
	check := func(force r3.Vec) (worst boltLoad, err error) {
		for i, p := range acts {
			p.Z += s.Spacer.V() // tipped about the bosses' face
			if room, err = h.pattern.Share(room[:0], r.onAdapter(a, force, p)); err != nil {
				return worst, err
			}
			got, err := h.hardest(room)
			if err != nil {
				return worst, err
			}
			if i == 0 || got.check.Governs > worst.check.Governs {
				worst = got
			}
		}
		return worst, nil
	}
	return h.screen(a.adapterRests(), check), nil
}
