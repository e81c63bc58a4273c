package project

import (
	"math"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// Packing is a wedge, a shim or a spring perch: what is made or bought to lie between
// two parts. Vehicle axes; its length runs fore and aft, its width across.
type Packing struct {
	Name      string           `toml:"name" doc:"what it is: left pinion wedge, shim under the rear mount" need:"yes"`
	Kind      PackingKind      `toml:"kind" doc:"wedge, shim or spring perch" how:"A wedge tapers, a shim does not, a perch is welded on an axle tube under its spring." need:"yes"`
	At        Point            `toml:"at" doc:"the middle of its lower face, where it lies"`
	Length    quantity.LengthQ `toml:"length" doc:"fore and aft" min:"0" how:"Tape along it." from:"end to end" need:"yes"`
	Width     quantity.LengthQ `toml:"width" doc:"across the vehicle" min:"0" how:"Tape across it." from:"edge to edge" need:"yes"`
	Thickness quantity.LengthQ `toml:"thickness" doc:"of it, of a wedge at its thin end: 0 where that runs out to an edge; of a perch from the tube's top to its seat" min:"0" how:"Caliper; of a perch what is left over the tube." from:"face to face" need:"yes"`
	Angle     quantity.AngleQ  `toml:"angle" doc:"of a wedge, between its two faces; the pinion's slope in the file is that with it in place, and it adds nothing to that" min:"0" how:"What is stamped on it, or angle gauge on it and on the bench." from:"face to face"`
	ThickEnd  WedgeEnd         `toml:"thick_end" doc:"which end of a wedge is thick: front or rear" how:"Look which way it goes in."`
	Tube      quantity.LengthQ `toml:"tube" doc:"of a spring perch: outside diameter of the axle tube that its saddle sits on" min:"0" how:"Caliper over the tube, paint off." from:"outside to outside"`
	Count     quantity.NumberQ `toml:"count" doc:"how many are alike; 1 when left out" min:"0" exact:"yes" how:"Count them." from:"none"`
}

// PackingKind is a kind of packing, as the file spells it.
type PackingKind string

// WedgeEnd is an end of a wedge, as the file spells it.
type WedgeEnd string

// The words the file uses.
const (
	PackWedge PackingKind = "wedge"
	PackShim  PackingKind = "shim"
	PackPerch PackingKind = "spring perch"

	ThickFront WedgeEnd = "front"
	ThickRear  WedgeEnd = "rear"
)

// Words lists the kinds.
func (PackingKind) Words() []string {
	return []string{string(PackWedge), string(PackShim), string(PackPerch)}
}

// Words lists the ends.
func (WedgeEnd) Words() []string { return []string{string(ThickFront), string(ThickRear)} }

// largestWedge is the angle beyond which a spring would slide off its wedge, degrees
// (common practice, no source; those that are sold end at 6 to 8).
const largestWedge = 15

// checkPacking finds wedges, shims and perches that cannot be.
func (b *binder) checkPacking(build *Build, root *tomltext.Node) {
	for i := range build.Packing {
		p := &build.Packing[i]
		n := entryOf(root.Child("packing"), i)
		fault := func(key, format string, args ...any) {
			pos := n.Pos
			if c := n.Child(key); c != nil {
				pos = c.Pos
			}
			b.fault(pos, n.Path, "the "+orWord(string(p.Kind), "packing")+" %q "+format, append([]any{Printable(p.Name)}, args...)...)
		}
		switch {
		case p.Name == "":
			b.fault(n.Pos, n.Path, "the packing has no name; want name = what it is, such as \"left pinion wedge\"")
			continue
		case p.Kind == "":
			fault("kind", "has no kind; want kind = \"wedge\", \"shim\" or \"spring perch\"")
			continue
		}
		p.check(fault)
	}
}

// check refuses what a wedge, a shim or a perch cannot be.
func (p *Packing) check(fault func(key, format string, args ...any)) {
	if angle, ok := p.Angle.Get(); ok {
		switch degrees := angle * 180 / math.Pi; {
		case p.Kind != PackWedge:
			fault("angle", "has an angle, which only a wedge has; leave it out, or make it a wedge")
		case degrees == 0 || degrees > largestWedge:
			fault("angle", "has an angle of %.3g°; want more than 0 and at most %d", degrees, largestWedge)
		case p.ThickEnd == "":
			fault("thick_end", "has an angle and no thick end; want thick_end = \"front\" or \"rear\"")
		}
	}
	if p.ThickEnd != "" && p.Kind != PackWedge {
		fault("thick_end", "has a thick end, which only a wedge has; leave it out")
	}
	if p.Tube.Known() && p.Kind != PackPerch {
		fault("tube", "has a tube, which only a spring perch sits on; leave it out")
	}
	for _, q := range []struct {
		key string
		q   quantity.Gettable
	}{{"length", &p.Length}, {"width", &p.Width}, {"tube", &p.Tube}, {"count", &p.Count}} {
		if v, ok := q.q.Get(); ok && v == 0 {
			fault(q.key, "has %s = 0; want more", q.key)
		}
	}
	if v, ok := p.Thickness.Get(); ok && v == 0 && p.Kind != PackWedge {
		fault("thickness", "has thickness = 0; want more")
	}
	if d, w := p.Tube, p.Width; d.Known() && p.Length.Known() && w.Known() && p.Length.V() < d.V()/2 {
		fault("length", "is %.1f mm long for a tube of %.1f mm, which it would not hold; want half the tube and more", p.Length.V(), d.V())
	}
}

func orWord(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
