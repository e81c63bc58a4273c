package bracket

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Prepared is what of the brackets does not follow from where the powertrain
// stands, nor from what its mounts carry. It is not changed once it is made.
type Prepared struct {
	legs []*readyLeg // those that are begun, in the order of the mounts
	// adapters are the mounts with an adapter plate, each with its pad.
	adapters []*project.Mount
	units    quantity.Units
	saw      geombracket.SawLimit

	ownSaw   bool // the file says what the saw can do
	boltedOn bool // the powertrain's mounts are bolted to the frame
	left     rail
	right    rail

	use, place, lean project.Rule

	build *project.Build
}

// Adapters are the adapter plates as they lie on their bosses, which nothing moves.
func (p *Prepared) Adapters() (out []*Adapter) {
	for _, m := range p.adapters {
		out = append(out, layAdapter(m))
	}
	return out
}

// rail is a frame rail along its inner top edge.
type rail struct {
	edge          []r3.Vec
	height, width finding.Number
}

// readyLeg is what of one leg does not follow from where the powertrain stands.
type readyLeg struct {
	name, label string
	units       quantity.Units
	mount       project.Mount
	pad         project.Point // the powertrain's pad that carries it, own frame
	spec        project.Leg   // of a mirrored leg what it takes from the other, and its own
	made        string        // the mount whose table says what it is made of
	table       string        // and which table of it: leg, or bracket
	kind        *readyKind    // of a mount of several members; nil for a single leg

	shape    section.Shape
	shapeWhy error

	weldStrength geombracket.WeldStrength
	weldWhy      error
	bolt         geombracket.Bolt
	boltWhy      error

	plates [2]readyPlate // at the pad and at the rail
	welded welded
}

// Prepare reads from a build what the brackets follow from wherever its
// powertrain stands. welds are those of its weld map.
func Prepare(b *project.Build, welds []MadeWeld) *Prepared {
	p := &Prepared{
		units: b.Units, build: b,
		// A zero is a value: a cold saw does not tilt.
		saw: geombracket.SawLimit{
			Mitre: geom.Angle(b.Shop.Mitre.Or(geombracket.LargestSaw.Rad())),
			Tilt:  geom.Angle(b.Shop.Tilt.Or(geombracket.LargestSaw.Rad())),
		},
		ownSaw:   b.Shop.Mitre.Known() || b.Shop.Tilt.Known(),
		boltedOn: b.Powertrain.Fixing == project.BoltedOn,
		left:     rail{b.Rails.Left.Edge(), finding.Given(b.Rails.Left.Height.Get()), finding.Given(b.Rails.Left.Width.Get())},
		right:    rail{b.Rails.Right.Edge(), finding.Given(b.Rails.Right.Height.Get()), finding.Given(b.Rails.Right.Width.Get())},
		use:      b.Limit("screening_use"), place: b.Limit("built_place"), lean: b.Limit("built_lean"),
	}
	for _, m := range b.Mounts {
		if pad := b.Powertrain.Pads.Pad(m.Name); m.Adapter.Begun() {
			if pad.Known {
				m.At = pad
			}
			p.adapters = append(p.adapters, &m)
		}
	}
	first := map[string]*readyLeg{} // those that mirror none, which are made before the others
	for _, m := range b.Mounts {
		if m.HasBracket() && matchOf(&m) == "" {
			first[m.Name] = p.prepareLeg(m, nil, welds)
		}
	}
	for _, m := range b.Mounts {
		switch of := matchOf(&m); {
		case !m.HasBracket():
		case of == "":
			p.legs = append(p.legs, first[m.Name])
		default:
			p.legs = append(p.legs, p.prepareLeg(m, first[of], welds))
		}
	}
	return p
}

// prepareLeg reads one leg; source is the one that it mirrors, if it mirrors one.
func (p *Prepared) prepareLeg(m project.Mount, source *readyLeg, welds []MadeWeld) *readyLeg {
	l := &readyLeg{name: m.Name, label: finding.Spoken(m.Name), units: p.units, mount: m, pad: m.At, spec: m.Leg, made: m.Name}
	if pad := p.build.Powertrain.Pads.Pad(m.Name); pad.Known {
		l.pad = pad
	}
	l.table = "leg"
	switch {
	case m.Assembled() && !m.Leg.Begun():
		l.table = "bracket"
		l.assemble(source)
	case source != nil:
		l.spec, l.made = inherited(source.spec, m.Leg), source.name
	}
	if l.kind == nil {
		l.shape, l.shapeWhy = shapeOf(l.label+" leg", l.spec, p.units)
	}
	tensile := weldTensile(l.spec)
	l.weldStrength, l.weldWhy = geombracket.CodeWeld(l.label+" weld", tensile, betaW(tensile))
	l.bolt, l.boltWhy = l.theBolt()
	l.plates = [2]readyPlate{l.plate("pad", l.spec.PadPlate), l.plate("rail", l.spec.RailPlate)}
	l.welded = weldedOf(m.Name, welds, p.units)
	return l
}

// matchOf is the mount that a mount's bracket mirrors; "" for none.
func matchOf(m *project.Mount) string {
	if m.Leg.Begun() {
		return m.Leg.Match
	}
	return m.Bracket.Match
}

// rail is that of a side.
func (p *Prepared) rail(side project.Side) *rail {
	if side == project.LeftSide {
		return &p.left
	}
	return &p.right
}
