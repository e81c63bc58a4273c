package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r3"
)

// PinUse is a bolt through ears or a socket, and what it goes through at its hole.
type PinUse struct {
	Use
	Tighten  geombracket.Tightening
	Across   float64 // on that ear or on one wall, square to the bolt, N
	Along    float64 // along the bolt, N
	NetUsed  float64 // of that part beside its hole, 1 is its yield
	BoltUsed float64
}

// governs is the larger part of the strength that bolt and part use.
func (u *PinUse) governs() float64 { return max(u.NetUsed, u.BoltUsed) }

// pinned reports whether the mount's pad is a bolt through ears.
func (b *Bracket) pinned() bool {
	for i := range b.Members.Solved.Parts {
		if b.Members.Solved.Parts[i].Ends[1].Kind == assembly.Pin {
			return true
		}
	}
	return false
}

// earRoom refuses ears whose hole is too near to an edge of theirs: a bolt would tear
// out there (EN 1993-1-8, table 3.3: 1.2 hole diameters).
func (b *Bracket) earRoom() error {
	d, ok := b.ready.kind.spec.Pin.Hole.Get()
	if !ok || !b.pinned() {
		return nil
	}
	p := &b.Members.Solved.Parts[0]
	edge := min(p.Ends[1].Past, p.Shape.H/2)
	if edge < geombracket.EdgeRule*d {
		return fmt.Errorf("bracket %s: the hole of %.1f mm in its ears has its middle %.1f mm from their edge; at least %.1f mm is wanted: make past more, or the ears wider", b.Label, d, edge, geombracket.EdgeRule*d)
	}
	return nil
}

// pinThread is that of a bolt through ears or sockets, or what of it is missing.
func (b *Bracket) pinThread() (geombracket.Thread, error) {
	p, path := &b.ready.kind.spec.Pin, "mount."+b.ready.made+".bracket.pin."
	switch {
	case p.Thread == "":
		return geombracket.Thread{}, lacking(path + "thread")
	case p.Class == "":
		return geombracket.Thread{}, lacking(path + "class")
	case !p.Hole.Known():
		return geombracket.Thread{}, lacking(path + "hole")
	}
	return geombracket.ParseThread(b.Label+" through bolt", p.Thread)
}

// pinBolt is the bolt through the ears, one shear plane at each, or what is missing.
func (b *Bracket) pinBolt(shape section.Shape) (geombracket.ReadyBolt, error) {
	s := b.ready.kind.spec
	p := &s.Pin
	thread, err := b.pinThread()
	if err != nil {
		return geombracket.ReadyBolt{}, err
	}
	_, fu := b.Spec.Strengths()
	return geombracket.Bolt{Name: b.Label + " through bolt", Thread: thread, Class: p.Class, K: p.TorqueK.V(), Share: p.Preload.V()}.
		Ready(geombracket.BoltJoint{Plate: shape.B, Fu: fu, Hole: p.Hole.V(), End: s.Past.V(), Side: shape.H / 2})
}

// Shank is that of a through bolt, from outside to outside of what it holds, vehicle axes,
// mm.
type Shank struct {
	From, To r3.Vec
	Diameter float64
}

// ThroughBolts are the shanks of the bolts through ears and sockets; none where the thread
// is not known.
func (b *Bracket) ThroughBolts() (out []Shank) {
	if b.Members == nil {
		return nil
	}
	thread, err := geombracket.ParseThread(b.Label+" through bolt", b.ready.kind.spec.Pin.Thread)
	if err != nil {
		return nil
	}
	parts := b.Members.Solved.Parts
	across := func(at, way r3.Vec, half float64) {
		out = append(out, Shank{r3.Sub(at, r3.Scale(half, way)), r3.Add(at, r3.Scale(half, way)), thread.Diameter})
	}
	for _, x := range b.Members.Solved.Through() {
		p, half := &parts[x.Part], 0.0
		if half = p.Half(geombracket.Right); x.Socket >= 0 {
			half = parts[x.Socket].Half(geombracket.Right)
		} else if len(x.Ears) > 0 {
			half += parts[x.Ears[0]].Shape.B
		}
		across(p.Ends[x.End].At, p.Cut.U, half)
	}
	if b.pinned() {
		p, q := &parts[0], &parts[1]
		d := r3.Sub(p.Ends[1].At, q.Ends[1].At)
		if way, err := geom.Unit(d); err == nil {
			across(r3.Scale(0.5, r3.Add(p.Ends[1].At, q.Ends[1].At)), way, r3.Norm(d)/2+p.Shape.B/2)
		}
	}
	return out
}

// pinScreen holds the bolt through the ears, in shear at each of them, and the ears at
// their holes: bearing and tearing out as a bolt in a plate's edge (EN 1993-1-8, table
// 3.4), and the metal beside the hole in tension.
func (b *Bracket) pinScreen(at r3.Vec) (screen, error) {
	if b.Members.Solved.Jointed() {
		return b.throughScreen(at)
	}
	a, u := b.Members, &b.Strength.Pin
	shape := a.Solved.Parts[0].Shape
	bolt, err := b.pinBolt(shape)
	if err != nil {
		return screen{}, err
	}
	u.Tighten = bolt.Tightening
	yield, _ := b.Spec.Strengths()
	net := (shape.H - b.ready.kind.spec.Pin.Hole.V()) * shape.B
	rests := append(b.rests(), "a sleeve that fills the room between the ears, so that the bolt is not bent")
	return b.screenOfPins(at, rests, func(x underLoad, take func(PinUse)) error {
		for i := range a.Solved.Parts {
			p := &a.Solved.Parts[i]
			if p.Ends[1].Kind != assembly.Pin {
				continue
			}
			_, push := x.frame.AtEnd(x.res, i, 1)
			along := math.Abs(r3.Dot(push.Force, p.Cut.U)) // the ear's thickness lies along the bolt
			across := math.Sqrt(max(0, r3.Norm2(push.Force)-along*along))
			got, err := bolt.Check(across, along)
			if err != nil {
				return err
			}
			take(PinUse{Use: Use{At: p.Name}, Across: across, Along: along, NetUsed: across / net / yield, BoltUsed: got.Governs})
		}
		return nil
	}), nil
}

// screenOfPins is the screen of bolts through ears or sockets: uses gives what each of them
// uses under a load, and of several that use as much the last counts.
func (b *Bracket) screenOfPins(at r3.Vec, rests []string, uses func(x underLoad, take func(PinUse)) error) screen {
	worst := func(force r3.Vec) (most PinUse, err error) {
		all, err := b.Members.under(force, at)
		if err != nil {
			return most, err
		}
		for _, x := range all {
			err := uses(x, func(one PinUse) {
				if one.governs() >= most.governs() {
					most = one
				}
			})
			if err != nil {
				return most, err
			}
		}
		return most, nil
	}
	return screen{
		adds: true, even: true, rests: rests,
		used: func(force r3.Vec) (float64, error) {
			m, err := worst(force)
			return m.governs(), err
		},
		keep: func(force r3.Vec) {
			m, _ := worst(force)
			u := &b.Strength.Pin
			u.At, u.Across, u.Along, u.NetUsed, u.BoltUsed = m.At, m.Across, m.Along, m.NetUsed, m.BoltUsed
		},
	}
}
