package bracket

import (
	"fmt"

	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// heldMissing is the key of what the ears or sockets of a crossmember lack, "" for
// nothing. That of their section is asked elsewhere.
func heldMissing(s *project.MountBracket) string {
	type answer struct {
		key   string
		given bool
	}
	var asks []answer
	switch {
	case s.Ears.Begun():
		along := s.Kind == project.StraightCrossmember && lies(s)
		asks = []answer{{"ears.section", s.Ears.Section != ""}, {"ears.out", along || s.Ears.Out.Known()}, {"ears.past", s.Ears.Past.Known()}}
	case s.Socket.Begun():
		asks = []answer{{"socket.section", s.Socket.Section != ""}, {"socket.out", s.Socket.Out.Known()}, {"socket.length", s.Socket.Length.Known()}}
	default:
		return ""
	}
	asks = append(asks, answer{"past", s.Past.Known()}, answer{"pin.hole", s.Pin.Hole.Known()})
	for _, q := range asks {
		if !q.given {
			return q.key
		}
	}
	return ""
}

// slack is how far an end can slide in its socket before its bolt holds it: what the hole
// is larger than the bolt, mm; the hole where the bolt is not known.
func (b *Bracket) slack() float64 {
	p := &b.ready.kind.spec.Pin
	hole := p.Hole.V()
	if thread, err := geombracket.ParseThread(b.Label+" through bolt", p.Thread); err == nil {
		return hole - thread.Diameter
	}
	return hole
}

// heldRoom refuses bolts through ears, sockets and what they hold that are too near to an
// edge of one of them (EN 1993-1-8, table 3.3: 1.2 hole diameters), or do not go through
// their hole, and a socket that is larger than what it stands on.
func (r *Result) heldRoom(b *Bracket) error {
	all := b.Members.Solved.Through()
	if len(all) == 0 {
		return nil
	}
	bad := func(format string, args ...any) error {
		return fmt.Errorf("bracket %s: "+format, append([]any{b.Label}, args...)...)
	}
	s := &b.ready.kind.spec
	d := s.Pin.Hole.V()
	if thread, err := geombracket.ParseThread(b.Label+" through bolt", s.Pin.Thread); err == nil && d < thread.Diameter {
		return bad("its through bolts of %.1f mm do not go through holes of %.1f mm; check pin.hole", thread.Diameter, d)
	}
	want := geombracket.EdgeRule * d
	for _, x := range all {
		p := &b.Members.Solved.Parts[x.Part]
		for _, e := range b.edgesOf(&x) {
			if e.end < want || e.side < want {
				near, more := e.end, e.more
				if e.side < e.end {
					near, more = e.side, "take one that is wider"
				}
				return bad("the hole of %.1f mm in its %s has its middle %.1f mm from an edge; at least %.1f mm is wanted: %s", d, e.name, near, want, more)
			}
		}
		if x.Socket >= 0 {
			if err := r.socketOnRail(b, x.Socket, p.Ends[x.End].On); err != nil {
				return err
			}
		}
	}
	return nil
}

// holeEdge is a hole for a through bolt: how far its middle is from the end of what it is
// in, and from the nearer side, mm.
type holeEdge struct {
	name, more string
	end, side  float64
}

func (b *Bracket) edgesOf(x *assembly.Through) []holeEdge {
	s, parts := &b.ready.kind.spec, b.Members.Solved.Parts
	p := &parts[x.Part]
	out := []holeEdge{{p.Name, "make past more", p.Ends[x.End].Past, p.Shape.H / 2}}
	for _, j := range x.Ears {
		out = append(out, holeEdge{parts[j].Name, "make ears.past more", parts[j].Ends[1].Past, parts[j].Shape.H / 2})
	}
	if x.Socket >= 0 {
		host := &parts[x.Socket]
		out = append(out, holeEdge{host.Name, "make socket.length more", s.Socket.Length.V() - s.Socket.Out.V(), host.Shape.H / 2})
	}
	return out
}

// socketOnRail refuses a socket that reaches past an edge of the rail's inside or flange.
func (r *Result) socketOnRail(b *Bracket, socket int, rail string) error {
	if r.ownFace(b) || b.ready.kind.spec.LeftFoot.Known {
		return nil
	}
	for i := range b.Members.Feet {
		f := &b.Members.Feet[i]
		if f.Part != socket {
			continue
		}
		if over, room, known := r.pastRail(b, f); known && over > 0.5 {
			return fmt.Errorf("bracket %s: its %s does not stand on the %s, which is %.1f mm there: it reaches %.1f mm past the edge; take a smaller one, or move its foot",
				b.Label, b.Members.Solved.Parts[socket].Name, rail, room, over)
		}
	}
	return nil
}

// heldRests are what the ends of a crossmember rest on that ears or sockets hold.
func (b *Bracket) heldRests() []string {
	k := b.ready.kind
	switch s := &k.spec; {
	case s.Ears.Begun():
		fixed := "ends that turn freely on the bolts of their ears, and are held there against all else"
		if s.Fixed == project.FixedSlides {
			fixed += ", one of them free to slide, whichever is worse"
		}
		return []string{fixed, "bolts that clamp: a tube or washers inside the crossmember between its walls, ears that lie against them"}
	case s.Socket.Begun():
		words := map[project.FeetFixed]string{
			"":                "ends that are held in their sockets or turn there as far as their play lets them, and slide by what the holes are larger than the bolts, whichever is worse: mount." + b.ready.made + ".bracket.fixed says which",
			project.FixedHeld: "ends that are held in their sockets without play", project.FixedPinned: "ends that turn in their sockets and do not slide",
			project.FixedSlides: "ends that turn in their sockets, one of them free to slide, whichever is worse",
		}
		if !b.Members.Solved.Slides() {
			words[""] = "ends that are held in their sockets or turn there as far as their play lets them, whichever is worse"
		}
		return []string{words[s.Fixed], "walls of sockets and of what is in them, pressed on each other at mouth and tip: not judged"}
	}
	return nil
}

// throughRows are the hole of an end that a bolt goes through, and its fit where it slides
// into a socket.
func (b *Bracket) throughRows(i, e int, end, key string, add adder) {
	p := &b.Members.Solved.Parts[i]
	x, d := &p.Ends[e], b.ready.kind.spec.Pin.Hole.V()
	where := "along the middle of its left and right sides, to the middle of the hole through both"
	switch {
	case x.Kind == assembly.Bolted && !x.Turns:
		where = "along the middle of its width, to the middle of the hole"
	case round(p.Shape):
		where = "to the middle of the hole, drilled across through both walls, front to rear"
	}
	along := p.Along(e)
	if e == 1 {
		along = p.Cut.Length - along
	}
	add(end+" hole from its cut", key+".hole_along", quantity.Length, along, where)
	add(end+" hole", key+".hole", quantity.Length, d, "its diameter")
	if x.Kind != assembly.Inside {
		return
	}
	f, err := b.Members.Solved.Fit(i, e)
	if err != nil {
		return
	}
	add(end+" reaches in", key+".reach", quantity.Length, f.Reach, "into the "+x.Host+", from its mouth")
	add(end+" play across", key+".play_across", quantity.Length, f.Across, "in all, in the "+x.Host+"; grind off the weld seam inside that")
	add(end+" play up and down", key+".play_high", quantity.Length, f.High, "in all")
	add(end+" can slide", key+".slack", quantity.Length, b.slack(), "in all, by its hole, before its bolt holds it")
}

// socketRows are the hole of a socket.
func (b *Bracket) socketRows(p *assembly.Part, add adder) {
	for _, x := range b.Members.Solved.Through() {
		if x.Socket < 0 || b.Members.Solved.Parts[x.Socket].Name != p.Name {
			continue
		}
		at := b.Members.Solved.Parts[x.Part].Ends[x.End].At
		add("hole from its mouth", "hole_along", quantity.Length, r3.Dot(p.Cut.Axis, r3.Sub(p.Cut.Rail.At, at)), "along the middle of its left and right sides, to the middle of the hole through both")
		add("hole", "hole", quantity.Length, b.ready.kind.spec.Pin.Hole.V(), "its diameter")
	}
}
