package bracket

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/fold"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// plateStrength screens a mount that is plate under every load case.
func (r *Result) plateStrength(b *Bracket) {
	load, at := r.beginStrength(b, b.Plates.Pad.Point)
	for _, u := range b.plateUses() {
		r.screened(b, u, &load, at)
	}
}

// plateUses are the strengths of a mount that is plate which are looked at.
func (b *Bracket) plateUses() []useOf {
	s, m := &b.Strength, b.Plates
	s.PadPlate.Begun, s.RailPlate.Begun = false, false // they are the plate itself
	plate := useOf{finding.BracketBending, "plate", &s.Leg.Use, b.plateScreen, "take a thicker or a wider plate, or bring pad and foot closer together"}
	weld := useOf{finding.BracketWeld, "weld", &s.Weld.Use, b.plateWeldScreen, "make the foot longer, the fillet larger, or bolt it"}
	switch {
	case m.Box != nil:
		s.Bolts.Begun, s.Weld.Begun, s.Seams.Begun = false, true, true
		plate.title, plate.more = "box", "make the box deeper or wider, its plates thicker, or bring its pad closer to the rail"
		weld.more = "make the foot deeper or the fillet larger"
		return []useOf{plate, weld,
			{finding.BracketSeams, "corner welds", &s.Seams.Use, b.seamScreen, "make the fillets along its corners larger, or the box deeper"}}
	case m.Clip != nil:
		s.Bolts.Begun, s.Weld.Begun, s.Grip.Begun = true, true, true
		plate.title, plate.more = "tab", "take a thicker or a wider tab, or bring its pad closer to the tube"
		weld.more = "make the tab wider, the fillet larger, or weld all round"
		return []useOf{plate, weld,
			{finding.BracketGrip, "grip of the clamp", &s.Grip.Use, b.gripScreen, "take more bolts, larger ones or a higher class, or weld a stop on either side of the clamp where the tube may be welded"},
			{finding.BracketBolts, "bolts", &s.Bolts.Use, b.clampBoltsScreen, "take more bolts, larger ones or a higher class, or a longer clamp"}}
	}
	tab := m.Kind == project.BoltedTab
	s.Bolts.Begun = s.Bolts.Begun || tab
	s.Weld.Begun = !tab && (b.Spec.Weld.Begun() || !s.Bolts.Begun)
	return []useOf{plate, weld,
		{finding.BracketBolts, "bolts", &s.Bolts.Use, b.plateBoltsScreen, "set the bolts nearer to the bend and farther from the edge, or take more of them, larger ones or a higher class"}}
}

// plateRests are what all figures of a mount that is plate rest on, besides what it
// stands on.
func (b *Bracket) plateRests() []string {
	switch s := &b.Strength; {
	case b.Plates.Clip != nil:
		return []string{"a clamp that holds the tab fast", "how a stud bends the tab across its width at the pad is not looked at"}
	case b.Plates.Box != nil:
		return []string{"the four plates act as one section; how a stud bends the upper plate between the sides, and whether a thin side buckles, is not looked at"}
	case s.Weld.Begun && s.Bolts.Begun:
		return []string{bothHold, "the plate bends as a strip of its whole width: how a stud bends it across its width at the pad is not looked at"}
	}
	return []string{"the plate bends as a strip of its whole width: how a stud bends it across its width at the pad is not looked at"}
}

// bothHold is said of a foot that is bolted and welded.
const bothHold = "its foot bolted and welded: each of the two judged as if it held alone, since a weld is stiffer and takes the load before the bolts do (common practice, no source)"

// held is where its foot ends being held, and where its pad is.
func (b *Bracket) held() fold.Held {
	m, s := b.Plates, &b.ready.kind.spec
	h := fold.Held{From: m.Ends[0], To: m.padAlong, ToNet: float64(acrossOf("pad_plate", &s.PadPlate)) * s.PadPlate.Hole.V(), FromWhere: "at its row of bolts"}
	if b.bolted() || m.Kind == project.BoltedTab {
		p := &s.RailPlate
		h.From += float64(highOf("rail_plate", p)-1) / 2 * p.PitchHigh.V()
		h.Net = float64(acrossOf("rail_plate", p)) * p.Hole.V()
	} else {
		h.From, h.FromWhere = m.Fold.Flats[0].Length(), "at its bend by the foot"
	}
	return h
}

// plateScreen looks along the plate from its first row of bolts, or its bend, to its pad.
func (b *Bracket) plateScreen(at r3.Vec) (screen, error) {
	c, err := b.cantilever()
	if err != nil {
		return screen{}, err
	}
	yield, _ := b.Spec.Strengths()
	rests := b.plateRests()
	if b.Plates.Fold != nil && len(b.Plates.Fold.Bends) > 0 {
		rests = append(rests, "a plate bent cold once and not cracked outside its bends; what is stressed more at the inside of a bend is counted (Winkler and Bach)")
	}
	return screen{
		adds: true, even: true, rests: rests,
		used: func(force r3.Vec) (float64, error) {
			s, _, err := c.Stress(force, at, yield)
			return s.Utilisation, err
		},
		keep: func(force r3.Vec) {
			u := &b.Strength.Leg
			s, i, _ := c.Stress(force, at, yield)
			u.Stress, u.At = s, c.Stations[i].Where
			b.Strength.Gives = finding.Exact(r3.Norm(c.Gives(force, at)))
		},
	}, nil
}

// PlateStiffness is how stiff a mount that is plate is at its pad: the force along each
// vehicle axis by the way the pad goes along it, N/mm, its foot held.
func (b *Bracket) PlateStiffness() (k r3.Vec, ok bool) {
	if b.Plates == nil {
		return k, false
	}
	c, err := b.cantilever()
	if err != nil {
		return k, false
	}
	at := b.Plates.Pad.Point
	g := r3.Vec{X: c.Gives(r3.Vec{X: 1}, at).X, Y: c.Gives(r3.Vec{Y: 1}, at).Y, Z: c.Gives(r3.Vec{Z: 1}, at).Z}
	if !(min(g.X, g.Y, g.Z) > 0) {
		return k, false
	}
	return r3.Vec{X: 1 / g.X, Y: 1 / g.Y, Z: 1 / g.Z}, true
}

// stripWeld is the weld of a strip's foot: its free end and both its sides, or only those.
func (b *Bracket) stripWeld() (geombracket.WeldGroup, error) {
	m := b.Plates
	w, lo, hi := m.Fold.Width/2, -m.Ends[0], m.Ends[1]
	sides := [][]r2.Vec{{{X: -w, Y: lo}, {X: -w, Y: hi}}, {{X: w, Y: lo}, {X: w, Y: hi}}}
	end := []r2.Vec{{X: -w, Y: lo}, {X: w, Y: lo}}
	group := geombracket.WeldGroup{Name: b.Label, Leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(m.Fold.Thickness))}
	switch b.Spec.Weld.Runs {
	case project.TopAndBottom:
		return group, fmt.Errorf("the foot of the %s plate is welded along its sides and its free end; want runs = \"all round\" or \"both sides\"", b.Label)
	case "", project.AllRound:
		group.Runs = append(sides, end)
	default:
		group.Runs = sides
	}
	return group, nil
}

// plateWeld is the weld of a mount that is plate at its foot, in what plane it lies, and
// what its figure rests on.
func (b *Bracket) plateWeld() (group geombracket.WeldGroup, on geom.Pose, rests string, err error) {
	on = b.Plates.Foot
	switch m := b.Plates; {
	case m.Box != nil:
		group, err = b.boxWeld()
		return group, on, "a fillet fused over its whole throat round the outside of its foot", err
	case m.Clip != nil:
		group, err = b.clampWeld()
		_, from := m.Clip.Edge()
		on.At = on.Point(r3.Vec{Z: from})
		return group, on, "a fillet fused over its whole throat along both faces of the tab, taken as straight across the clamp", err
	}
	group, err = b.stripWeld()
	return group, on, "a fillet fused over its whole throat along the sides and the free end of its foot, none at its bend", err
}

// plateWeldScreen treats the weld of a foot as lines.
func (b *Bracket) plateWeldScreen(at r3.Vec) (screen, error) {
	if !b.Spec.Weld.Size.Known() {
		return screen{}, lacking("mount." + b.ready.made + ".bracket.weld.size")
	}
	group, on, rests, err := b.plateWeld()
	if err != nil {
		return screen{}, err
	}
	ready, err := group.Ready()
	if err != nil {
		return screen{}, err
	}
	strength, err := b.ready.weldStrength, b.ready.weldWhy
	if err != nil {
		return screen{}, err
	}
	place := on.Own(at)
	stress := func(force r3.Vec) (geombracket.WeldStress, error) {
		return ready.Stress(geombracket.Load{Force: on.OwnDir(force), At: place}, strength)
	}
	return screen{
		adds: true, even: true,
		rests: append(b.plateRests(), rests),
		used: func(force r3.Vec) (float64, error) {
			s, err := stress(force)
			return s.Utilisation, err
		},
		keep: func(force r3.Vec) {
			u := &b.Strength.Weld
			u.Stress, _ = stress(force)
			u.Line, u.At, u.Counted = ready.Line(), atFoot, group.Leg
		},
	}, nil
}

// bearing is how far from its outer row of bolts a flange bears at most, in how far that
// row stands from what pulls (EN 1993-1-8, table 6.2, from memory).
const bearing = 1.25

// platedFoot is the foot of a plate on its face with its bolts: it tips about its edges.
type platedFoot struct {
	bolts   []r2.Vec
	pattern geombracket.BoltPattern
	ready   geombracket.ReadyPattern
	low, up float64 // the edges it bears on, along
	half    float64 // and across, either way
}

func (b *Bracket) seatOfFoot() (*platedFoot, error) {
	m, p := b.Plates, &b.ready.kind.spec.RailPlate
	s := &platedFoot{bolts: gridOf("rail_plate", p), half: m.Fold.Width / 2}
	s.pattern = geombracket.BoltPattern{Name: b.Label, At: s.bolts}
	first, last := s.bolts[0].Y, s.bolts[len(s.bolts)-1].Y
	s.up = m.Ends[1]
	if m.Kind == project.BoltedTab { // it bears on its side of the rail alone
		s.up = m.Ends[0]
	}
	most := bearing * (s.up - last)
	s.low = max(-m.Ends[0], first-most)
	var err error
	s.ready, err = s.pattern.Ready()
	return s, err
}

// share divides a load, in the frame of the foot, among the bolts. Each moment tips the
// foot about one of its edges, which bears: what the edge presses, which is the prying,
// is in the tension of the bolts. Shear goes by their own middle.
func (s *platedFoot) share(l geombracket.Load) ([]geombracket.BoltShare, error) {
	f, m := l.Force, r3.Add(l.Moment, r3.Cross(l.At, l.Force))
	n := float64(len(s.bolts))
	flat, err := s.ready.Share(nil, geombracket.Load{Force: r3.Vec{X: f.X, Y: f.Y}, Moment: r3.Vec{Z: m.Z}})
	if err != nil {
		return nil, err
	}
	for i := range flat {
		flat[i].Tension = f.Z / n
	}
	tip := func(on, inward r2.Vec, moment float64) error {
		if moment == 0 {
			return nil
		}
		got, err := s.pattern.AboutEdge(on, inward, math.Abs(moment))
		if err != nil {
			return err
		}
		for i, t := range got.Tension {
			flat[i].Tension += t
		}
		return nil
	}
	// A moment about X lifts what lies at +Y and presses the low edge on; one about Y
	// presses the edge at +X.
	along, across := r2.Vec{Y: s.low}, r2.Vec{X: s.half}
	in := r2.Vec{Y: 1}
	if m.X < 0 {
		along, in = r2.Vec{Y: s.up}, r2.Vec{Y: -1}
	}
	if err := tip(along, in, m.X); err != nil {
		return nil, err
	}
	in = r2.Vec{X: -1}
	if m.Y < 0 {
		across, in = r2.Vec{X: -s.half}, r2.Vec{X: 1}
	}
	return flat, tip(across, in, m.Y)
}

// plateBoltsScreen divides the load among the bolts of the foot, which tips about its
// edges.
func (b *Bracket) plateBoltsScreen(at r3.Vec) (screen, error) {
	bolt, err := b.ready.bolt, b.ready.boltWhy
	if err != nil {
		return screen{}, err
	}
	s, err := b.seatOfFoot()
	if err != nil {
		return screen{}, err
	}
	m, p := b.Plates, &b.ready.kind.spec.RailPlate
	h := &boltsHeld{use: &b.Strength.Bolts}
	if h.use.Tighten, err = bolt.Tighten(); err != nil {
		return screen{}, err
	}
	joint := geombracket.BoltJoint{}
	if p.Hole.V() > 0 {
		_, joint.Fu = b.Spec.Strengths()
		joint.Plate, joint.Hole = m.Fold.Thickness, p.Hole.V()
		joint.End = b.footEdge()
		joint.Side = joint.End
	} else {
		h.rests = []string{"what the bolts bear on is not looked at: mount." + b.ready.made + ".bracket.rail_plate.hole is not in the file"}
	}
	if h.bolt, err = bolt.Ready(joint); err != nil {
		return screen{}, err
	}
	place := m.Foot.Own(at)
	check := func(force r3.Vec) (worst boltLoad, err error) {
		shares, err := s.share(geombracket.Load{Force: m.Foot.OwnDir(force), At: place})
		if err != nil {
			return worst, err
		}
		return h.hardest(shares)
	}
	return h.screen(append(b.plateRests(), "prying counted: the foot tips about its edge and presses there, no farther from its bolts than 1.25 times what those stand from the bend (EN 1993-1-8, table 6.2, from memory)"), check), nil
}

// footEdge is the least distance of the middle of a hole of the foot from an edge of the
// plate, mm; its bend is none.
func (b *Bracket) footEdge() float64 {
	return b.holeEdge(gridOf("rail_plate", &b.ready.kind.spec.RailPlate), b.Plates.Ends[0], -1)
}

// padEdge is the same of its pad.
func (b *Bracket) padEdge() float64 {
	s := &b.ready.kind.spec
	return b.holeEdge(gridOf("pad_plate", &s.PadPlate), s.Past.V(), 1)
}

func (b *Bracket) holeEdge(holes []r2.Vec, end, way float64) float64 {
	least := math.Inf(1)
	for _, q := range holes {
		least = min(least, b.Plates.Fold.Width/2-math.Abs(q.X), end-way*q.Y)
	}
	return least
}
