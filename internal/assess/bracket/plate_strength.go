package bracket

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// PlateUse is a plate at an end of the leg, bent between the tube and what
// pulls at it.
type PlateUse struct {
	Use
	Bending geombracket.PlateBending // in that case, where it is bent most
}

// plateScreen is the screen of a plate of which bending says how a force bends it
// most.
func (u *PlateUse) plateScreen(rests string, adds, even bool, bending func(force r3.Vec) (geombracket.PlateBending, error)) screen {
	return screen{
		adds: adds, even: even, rests: []string{rests},
		used: func(force r3.Vec) (float64, error) {
			got, err := bending(force)
			return got.Utilisation, err
		},
		keep: func(force r3.Vec) { u.Bending, _ = bending(force) },
	}
}

// named is a screen that also says where, of the force that governs.
func (u *PlateUse) named(s screen, where func(force r3.Vec) string) screen {
	keep := s.keep
	s.keep = func(force r3.Vec) {
		keep(force)
		u.At = where(force)
	}
	return s
}

// inOneRow says why a pad's plate is not judged whose isolator has its bolts in one row.
func inOneRow(err error) error {
	var row *geombracket.OneRowError
	if !errors.As(err, &row) {
		return err
	}
	return fmt.Errorf("how far the foot of its isolator reaches beside its one row of bolts is %w, and no key takes it: %.0f N·m tip it about that row, "+
		"which the edge of that foot holds, and pries at the bolts; bolts in two rows or one stud are judged, or say in [[elsewhere]] who judges it", errMissing, row.About/1000)
}

// atBolt says at which bolt of a plate it is bent most.
func (u *PlateUse) atBolt(pose geom.Pose) func(force r3.Vec) string {
	return func(r3.Vec) string { return plateWords(pose, u.Bending) }
}

// plateWords say where a plate is bent: at which bolt, or at which edge that presses.
func plateWords(pose geom.Pose, b geombracket.PlateBending) string {
	if b.Edge {
		return "where its " + toward(r3.Add(r3.Scale(b.At.X, pose.X), r3.Scale(b.At.Y, pose.Y))) + " edge presses"
	}
	return "at " + boltWords(pose, b.At)
}

// pressed is a rail plate that is bolted, ready to be bent by its bolts and, where those
// stand in one row, by its edges.
type pressed struct {
	seat   geombracket.ReadySeat
	places []geombracket.PlateBending // at each bolt
	edges  map[r2.Vec]geombracket.PlateBending
	room   []geombracket.BoltShare
}

// railBolts makes the rail plate ready with its bolts, or says what is missing: the same plate
// with each of what stands on it. A bolt bends it from whichever of those is nearer; an edge
// is taken to press against one of them alone, that which it bends it most from.
func (b *Bracket) railBolts(plates []geombracket.EndPlate, table string) (p pressed, err error) {
	p.edges = map[r2.Vec]geombracket.PlateBending{}
	for k, plate := range plates {
		_, places, err := b.boltPlaces("rail", b.Spec.RailPlate, plate)
		if err != nil {
			return p, err
		}
		if k == 0 {
			p.places = places
			if p.seat, err = b.seated(plate.Name, table); err != nil {
				return p, err
			}
		}
		for i, one := range places {
			if one.Under(1).Utilisation < p.places[i].Under(1).Utilisation {
				p.places[i] = one
			}
		}
		for _, way := range []r2.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
			if !p.seat.InOneRow() {
				break
			}
			edge, err := plate.Edge(way)
			if err != nil {
				return p, err
			}
			p.edges[way] = bentMore(p.edges[way], edge, k == 0)
		}
	}
	return p, nil
}

// bent is how it is bent most under a load.
func (p *pressed) bent(load geombracket.Load) (worst geombracket.PlateBending, err error) {
	var press [2]geombracket.Press
	if p.room, press, err = p.seat.Share(p.room[:0], load); err != nil {
		return worst, err
	}
	for i, s := range p.room {
		worst = bentMore(worst, p.places[i].Under(max(0, s.Tension)), i == 0)
	}
	for _, x := range press {
		if x.Force > 0 {
			edge := p.edges[x.Way]
			worst = bentMore(worst, edge.Under(x.Force), false)
		}
	}
	return worst, nil
}

// endPlate is the plate at one end as it is bent, or what is missing of it.
func (b *Bracket) endPlate(end string, s project.LegPlate, pose geom.Pose, middle float64) (geombracket.EndPlate, error) {
	return b.plateOn(end, s, middle, geombracket.OnFace(pose, b.Cut.Outline(end == "rail", around/4)), b.Leg.Shape.Kind)
}

// plateOn is the plate at one end with the outline of what stands on it.
func (b *Bracket) plateOn(end string, s project.LegPlate, middle float64, tube []r2.Vec, kind section.Kind) (geombracket.EndPlate, error) {
	path := "mount." + b.ready.made + "." + b.ready.table + "." + end + "_plate."
	switch {
	case s.Thickness.V() == 0:
		return geombracket.EndPlate{}, lacking(path + "thickness")
	case s.Width.V() == 0:
		return geombracket.EndPlate{}, lacking(path + "width")
	case s.Height.V() == 0:
		return geombracket.EndPlate{}, lacking(path + "height")
	}
	yield, _ := b.Spec.Strengths()
	w, h := s.Width.V()/2, s.Height.V()
	return geombracket.EndPlate{
		Name: b.Label + " " + end + " plate", Thickness: s.Thickness.V(), Yield: yield,
		Low: r2.Vec{X: -w, Y: -middle}, High: r2.Vec{X: w, Y: h - middle},
		Tube:  tube,
		Solid: kind == section.RoundBar || kind == section.FlatBar,
	}, nil
}

// railPlateScreen bends the rail plate between tube and bolts; without bolts it
// is welded down along its edges. Where it is pressed on the rail, the rail backs
// it.
func (b *Bracket) railPlateScreen(at r3.Vec) (screen, error) {
	pose, err := geombracket.FacePose(b.Label+" rail plate", geombracket.Face{Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal}, r3.Vec{})
	if err != nil {
		return screen{}, err
	}
	s := b.Spec.RailPlate
	middle := s.Height.V() / 2
	if b.RailPlate != nil {
		middle = b.RailPlate.Middle
	}
	plate, err := b.endPlate("rail", s, pose, middle)
	if err != nil {
		return screen{}, err
	}
	if !b.bolted() {
		return b.stripScreen(plate, pose, at)
	}
	bolts, err := b.railBolts([]geombracket.EndPlate{plate}, b.ready.table)
	if err != nil {
		return screen{}, err
	}
	place, rests := pose.Own(at), "a rail that backs the plate wherever it is pressed on"
	if bolts.seat.InOneRow() {
		rests = oneRowPries
	}
	u := &b.Strength.RailPlate
	return u.named(u.plateScreen(rests, true, false, func(force r3.Vec) (geombracket.PlateBending, error) {
		return bolts.bent(geombracket.Load{Force: pose.OwnDir(force), At: place})
	}), u.atBolt(pose)), nil
}

// bentMore is the second of two bendings if it is the first to be looked at, or
// uses more.
func bentMore(worst, next geombracket.PlateBending, first bool) geombracket.PlateBending {
	if first || next.Utilisation > worst.Utilisation {
		return next
	}
	return worst
}

// boltPlaces are the bolts of a plate, and how it bends at each.
func (b *Bracket) boltPlaces(end string, s project.LegPlate, p geombracket.EndPlate) (geombracket.ReadyPattern, []geombracket.PlateBending, error) {
	pattern := geombracket.BoltPattern{Name: p.Name, At: boltsOf(s)}
	if err := b.ready.pitches(end, s); err != nil {
		return geombracket.ReadyPattern{}, nil, err
	}
	places := make([]geombracket.PlateBending, 0, len(pattern.At))
	others := make([]r2.Vec, 0, len(pattern.At))
	for i, at := range pattern.At {
		others = append(append(others[:0], pattern.At[:i]...), pattern.At[i+1:]...)
		got, err := p.Bend(at, 0, others)
		if err != nil {
			return geombracket.ReadyPattern{}, nil, err
		}
		places = append(places, got)
	}
	ready, err := pattern.Ready()
	return ready, places, err
}

// stripStep is how far apart along its weld a plate is looked at, mm.
const stripStep = 3

// stripScreen bends a rail plate that is welded down along its edges by the pull
// of the tube's wall, wherever along the weld that bends it most. on is the frame
// of the plate, about the foot; the weld lies on its other side, where a slanting
// leg is not there yet.
func (b *Bracket) stripScreen(p geombracket.EndPlate, on geom.Pose, at r3.Vec) (screen, error) {
	pose, err := geombracket.FacePose(b.Label+" rail plate", geombracket.Face{Point: b.Cut.Rail.At, Normal: b.Leg.Rail.Normal}, r3.Vec{})
	if err != nil {
		return screen{}, err
	}
	runs, bows, err := b.weldRuns(b.Cut.Edge(true, pose), b.round())
	if err != nil {
		return screen{}, err
	}
	group, err := geombracket.WeldGroup{Name: b.Label, Leg: 1, Runs: runs, Bows: bows}.Ready()
	if err != nil {
		return screen{}, err
	}
	along, middle := group.Places(stripStep), on.Own(b.Cut.Rail.At)
	strips := make([]geombracket.PlateBending, len(along))
	for i, q := range along {
		if strips[i], err = p.Strip(r2.Add(q, r2.Vec{X: middle.X, Y: middle.Y}), 0); err != nil {
			return screen{}, err
		}
	}
	place, room := pose.Own(at), []r3.Vec{}
	return b.Strength.RailPlate.plateScreen("a rail plate that is welded down along all its edges", true, true,
		func(force r3.Vec) (worst geombracket.PlateBending, err error) {
			if room, err = group.Forces(room[:0], geombracket.Load{Force: pose.OwnDir(force), At: place}, along); err != nil {
				return worst, err
			}
			for i, f := range room { // on its other side it is pulled as much, or pressed
				worst = bentMore(worst, strips[i].Under(f.Z), i == 0)
			}
			return worst, nil
		}), nil
}

// padPlateScreen bends the pad plate under the isolator: at its bolts, or in its
// middle where the isolator has one stud. The force stands off the plate by at
// least half of the isolator's height, whichever way that is.
func (b *Bracket) padPlateScreen(at r3.Vec) (screen, error) {
	face := geombracket.Face{Point: b.Leg.Pad.Point, Normal: r3.Scale(-1, b.Leg.Pad.Normal)}
	pose, err := geombracket.FacePose(b.Label+" pad plate", face, r3.Vec{})
	if err != nil {
		return screen{}, err
	}
	s, u := b.Spec.PadPlate, &b.Strength.PadPlate
	plate, err := b.endPlate("pad", s, pose, s.Height.V()/2)
	if err != nil {
		return screen{}, err
	}
	acts := []r3.Vec{pose.Own(at)}
	if off := b.Spec.Standing.Or(0) / 2; math.Abs(acts[0].Z) < off {
		p := acts[0]
		acts = []r3.Vec{{X: p.X, Y: p.Y, Z: -off}, {X: p.X, Y: p.Y, Z: off}}
	}
	if s.Across.Or(1) <= 1 && s.High.Or(1) <= 1 && s.PitchAcross.V() == 0 && s.PitchHigh.V() == 0 {
		place, err := plate.Bend(r2.Vec{}, 0, nil)
		return u.plateScreen("an isolator with one stud in the middle of the pad plate", true, true,
			func(force r3.Vec) (worst geombracket.PlateBending, err error) {
				for i, p := range acts {
					load := geombracket.Load{Force: pose.OwnDir(force), At: p}
					worst = bentMore(worst, place.Under(studPull(load, b.Leg.Shape.H)), i == 0)
				}
				return worst, nil
			}), err
	}
	bolts, places, err := b.boltPlaces("pad", s, plate)
	room := []geombracket.BoltShare{}
	return u.named(u.plateScreen("an isolator bolted to the pad plate as the file has its bolts", true, true,
		func(force r3.Vec) (worst geombracket.PlateBending, err error) {
			for k, p := range acts {
				// Pulled or pressed: the isolator's foot bears about them.
				if room, err = bolts.Share(room[:0], geombracket.Load{Force: pose.OwnDir(force), At: p}); err != nil {
					return worst, inOneRow(err)
				}
				for i, s := range room {
					worst = bentMore(worst, places[i].Under(s.Tension), k == 0 && i == 0)
				}
			}
			return worst, nil
		}), u.atBolt(pose)), err
}

// studPull is a load on a plate's middle: the force square to it, and its moment
// as a pair of forces half the tube's size either side, N.
func studPull(l geombracket.Load, size float64) float64 {
	m := r3.Cross(l.At, l.Force)
	return math.Abs(l.Force.Z) + 2*math.Hypot(m.X, m.Y)/size
}

// pitches names the pitch that is missing where there is more than one bolt.
func (l *readyLeg) pitches(end string, p project.LegPlate) error {
	path := "mount." + l.made + "." + l.table + "." + end + "_plate."
	switch {
	case p.Across.Or(2) > 1 && !p.PitchAcross.Known():
		return lacking(path + "pitch_across")
	case p.High.Or(2) > 1 && !p.PitchHigh.Known():
		return lacking(path + "pitch_high")
	}
	return nil
}
