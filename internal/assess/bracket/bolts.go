package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// boltScreen divides the load among the bolts of the rail plate.
func (b *Bracket) boltScreen(at r3.Vec) (screen, error) {
	held, err := b.heldByBolts(b.ready.table)
	if err != nil {
		return screen{}, err
	}
	pose, err := geombracket.FacePose(b.Label+" bolts", geombracket.Face{Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal}, r3.Vec{})
	if err != nil {
		return screen{}, err
	}
	held.named = func(l boltLoad) string { return boltWords(pose, l.place) }
	place, room := pose.Own(at), []geombracket.BoltShare{}
	check := func(force r3.Vec) (worst boltLoad, err error) {
		if room, _, err = held.seat.Share(room[:0], geombracket.Load{Force: pose.OwnDir(force), At: place}); err != nil {
			return worst, err
		}
		return held.hardest(room)
	}
	return held.screen([]string{held.prying()}, check), nil
}

// boltsHeld is what holds a plate to the rail, ready to be asked under many loads.
type boltsHeld struct {
	use     *BoltUse
	bolt    geombracket.ReadyBolt
	pattern geombracket.ReadyPattern
	seat    geombracket.ReadySeat // of those of a rail plate
	rests   []string              // what is not looked at
	named   func(boltLoad) string
}

// heldByBolts makes the bolts of the rail plate ready; its sizes are in a table of the
// mount.
func (b *Bracket) heldByBolts(table string) (*boltsHeld, error) {
	bolt, err := b.ready.bolt, b.ready.boltWhy
	if err != nil {
		return nil, err
	}
	p, h := b.Spec.RailPlate, &boltsHeld{use: &b.Strength.Bolts}
	if h.use.Tighten, err = bolt.Tighten(); err != nil {
		return nil, err
	}
	joint := geombracket.BoltJoint{}
	if w := b.RailPlate; w != nil && len(w.Plate.Holes) > 0 {
		_, joint.Fu = b.Spec.Strengths()
		joint.Plate, joint.Hole = p.Thickness.V(), p.Hole.V()
		joint.End = w.Figures.Edge + joint.Hole/2 // the least of all, both ways: on the safe side
		joint.Side = joint.End
	} else {
		h.rests = []string{"what the bolts bear on is not looked at: not all sizes of mount." + b.ready.made + "." + table + ".rail_plate and its hole are in the file"}
	}
	if h.bolt, err = bolt.Ready(joint); err != nil {
		return nil, err
	}
	h.seat, err = b.seated(b.Label, table)
	return h, err
}

// hardlyPast is how far a plate may reach past its rail and still bear at its edge, mm: less
// than a tape is read to.
const hardlyPast = 0.5

// pastEdges are how far a rail plate and the holes in it reach past an edge of the side of the
// rail that its face lies on, mm; 0 where their sizes or that side's are not known.
func (r *Result) pastEdges(b *Bracket, side project.Side, face geombracket.Face) (plate, holes float64) {
	p := b.Spec.RailPlate
	pose, err := geombracket.FacePose(b.Label+" rail plate", face, r3.Vec{})
	if err != nil || r.ownFace(b) {
		return 0, 0
	}
	if p.Width.Known() && p.Height.Known() {
		low, high := b.plateBox()
		plate = r.pastEdge(b, side, pose, low, high)
	}
	if b.bolted() {
		out := r2.Vec{X: p.Hole.V() / 2, Y: p.Hole.V() / 2}
		for _, q := range boltsOf(p) {
			holes = max(holes, r.pastEdge(b, side, pose, r2.Sub(q, out), r2.Add(q, out)))
		}
	}
	return plate, holes
}

// pastEdge is how far a box on a face of a rail reaches past an edge of that face, mm.
func (r *Result) pastEdge(b *Bracket, side project.Side, pose geom.Pose, low, high r2.Vec) (over float64) {
	rail := r.ready.rail(side)
	flange := math.Abs(pose.Z.Z) > 0.7 // it lies on the rail's top or underside
	for _, q := range []r2.Vec{low, high, {X: low.X, Y: high.Y}, {X: high.X, Y: low.Y}} {
		at := pose.Point(r3.Vec{X: q.X, Y: q.Y})
		_, edge, err := r.railFace(b, side, at.X)
		if err != nil {
			continue // past the rail's end: a foot there is refused
		}
		if wide := rail.across(flange); wide.Known {
			over = max(over, pastSide(side, flange, wide.V, edge, at))
		}
	}
	return over
}

// plateBox is the rail plate's lower left and upper right corner from where its bolts and its
// foot have their middle, mm.
func (b *Bracket) plateBox() (low, high r2.Vec) {
	p := b.Spec.RailPlate
	middle := p.Height.V() / 2
	if b.RailPlate != nil {
		middle = b.RailPlate.Middle
	}
	return r2.Vec{X: -p.Width.V() / 2, Y: -middle}, r2.Vec{X: p.Width.V() / 2, Y: p.Height.V() - middle}
}

// seated is the rail plate on its bolts, or what of it is missing: where those stand in one
// row, its edges hold what tips it about that row.
func (b *Bracket) seated(name, table string) (geombracket.ReadySeat, error) {
	p := b.Spec.RailPlate
	if b.holesPast > hardlyPast {
		return geombracket.ReadySeat{}, fmt.Errorf("holes of its rail plate reach %.1f mm past the rail's edge, where nothing holds their bolts; set them closer together, or move the foot", b.holesPast)
	}
	pattern := geombracket.BoltPattern{Name: name, At: boltsOf(p)}
	if min(p.Across.Or(2), p.High.Or(2)) <= 1 {
		path := "mount." + b.ready.made + "." + table + ".rail_plate."
		for _, q := range []struct {
			key   string
			given bool
		}{{"width", p.Width.Known()}, {"height", p.Height.Known()}} {
			if !q.given {
				return geombracket.ReadySeat{}, fmt.Errorf("%w: its bolts stand in one row, and what tips about that is held by the plate's edge", lacking(path+q.key))
			}
		}
		if b.past > hardlyPast {
			return geombracket.ReadySeat{}, fmt.Errorf("how far from its one row of bolts its rail plate is pressed on the rail is %w: the plate reaches %.1f mm past the rail's edge, so its own edge has nothing to press on; make it smaller, move it, or set its bolts in two rows",
				errMissing, b.past)
		}
	}
	return pattern.Seated(b.plateBox())
}

// prying is what is said of it.
func (h *boltsHeld) prying() string {
	if h.seat.InOneRow() {
		return oneRowPries
	}
	return noPrying
}

// oneRowPries is said of a rail plate with one row of bolts.
const oneRowPries = "one row of bolts: what tips the plate about it is held by the plate's edge, which presses on the rail and is counted as prying in the bolts; a rail that reaches as far as that edge"

// noPrying is said of bolts: a plate that is thick enough after its own figure, which
// leaves prying out (EndPlate.Bend), has none to count.
const noPrying = "no prying: the rail plate thick enough by its own figure"

// boltLoad is what the bolt carries that carries most for what it can: N.
type boltLoad struct {
	check          geombracket.BoltCheck
	shear, tension float64
	place          r2.Vec // in the plane of its plate, from the middle of the pattern's frame
	foot           int    // of a mount of several members
}

// boltWords say which bolt of a plate one is, by where it stands from the plate's middle.
func boltWords(pose geom.Pose, at r2.Vec) string {
	words := ""
	for _, c := range [2]struct {
		way r3.Vec
		v   float64
	}{{pose.X, at.X}, {pose.Y, at.Y}} {
		if math.Abs(c.v) > 0.5 {
			words += toward(r3.Scale(c.v, c.way)) + " "
		}
	}
	return "its " + words + "bolt"
}

// hardest is that of the shares of one plate.
func (h *boltsHeld) hardest(shares []geombracket.BoltShare) (worst boltLoad, err error) {
	for i, s := range shares {
		v, f := math.Hypot(s.Shear.X, s.Shear.Y), max(0, s.Tension)
		got, err := h.bolt.Check(v, f)
		if err != nil {
			return worst, err
		}
		if i == 0 || got.Governs > worst.check.Governs {
			worst = boltLoad{check: got, shear: v, tension: f, place: s.At}
		}
	}
	return worst, nil
}

// screen looks at the bolts by what the hardest loaded one of them carries under a
// force; what else that rests on stands before what is not looked at.
func (h *boltsHeld) screen(rests []string, check func(force r3.Vec) (boltLoad, error)) screen {
	return screen{
		adds: true, rests: append(rests, h.rests...),
		used: func(force r3.Vec) (float64, error) {
			l, err := check(force)
			return l.check.Governs, err
		},
		keep: func(force r3.Vec) {
			l, _ := check(force)
			h.use.Check, h.use.Shear, h.use.Tension = l.check, l.shear, l.tension
			if h.named != nil {
				h.use.At = h.named(l)
			}
		},
	}
}

// bolted reports whether the file has bolts that hold the rail plate.
func (b *Bracket) bolted() bool {
	p := b.Spec.RailPlate
	return b.Spec.Bolts.Begun() || p.Hole.V() > 0 || p.PitchAcross.Known() || p.PitchHigh.Known()
}

// theBolt is one of the bolts that hold the rail plate, or what of them is
// missing.
func (l *readyLeg) theBolt() (geombracket.Bolt, error) {
	s, path := l.spec.Bolts, "mount."+l.made+"."+l.table+"."
	switch {
	case s.Thread == "":
		return geombracket.Bolt{}, lacking(path + "bolts.thread")
	case s.Class == "":
		return geombracket.Bolt{}, lacking(path + "bolts.class")
	}
	if k := l.kind; k == nil || !k.spec.Kind.OfPlate() && !k.spec.Sleeve.Begun() { // plate asks for them itself, a sleeve has one
		if err := l.pitches("rail", l.spec.RailPlate); err != nil {
			return geombracket.Bolt{}, err
		}
	}
	t, err := geombracket.ParseThread(l.label+" bolts", s.Thread)
	return geombracket.Bolt{Name: l.label, Thread: t, Class: s.Class, K: s.TorqueK.V(), Share: s.Preload.V()}, err
}
