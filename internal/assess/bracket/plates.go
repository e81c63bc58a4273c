package bracket

import (
	"fmt"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/fold"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// PlateMount is a mount that is made of plate: of one, flat or folded, of four welded into
// a box, or a tab on a clamp.
type PlateMount struct {
	Fold *fold.Folded // one of these three
	Box  *fold.Boxed
	Clip *fold.Clamped

	Kind project.BracketKind
	Pad  geombracket.Face // looks to the isolator
	Side project.Side
	// Foot has the middle of its foot for its origin, on the face it stands on: Z looks off
	// that face, Y along the plate toward its pad, X across. Of a box Y is toward its upper
	// plate; of a clamp the origin is on the tube's axis, Z runs along the tab and Y the way
	// the pad looks.
	Foot geom.Pose
	// Ends are how far the foot of a strip lies on its face from its middle, along Y: to its
	// free end, and to where its bend begins, mm.
	Ends [2]float64
	// Packing is wanted between a tab and what its pad carries, mm.
	Packing float64
	Lean    geom.Angle               // of a tab's pad, which lies as the rail or the tube does, from what the file says
	Figures geombracket.PlateFigures // of the blank of a strip

	padAlong float64 // of its pad's middle on the last flat, from where that begins
	mirrors  *PlateMount
}

// Sheets are the flat plates of a box or of a tab on a clamp, where they lie. Nil for one
// strip.
func (m *PlateMount) Sheets() []fold.Sheet {
	switch {
	case m.Box != nil:
		return m.Box.Sheets
	case m.Clip != nil:
		return m.Clip.Sheets
	}
	return nil
}

// width is that of the plate that carries the pad, mm.
func (m *PlateMount) width() float64 {
	switch {
	case m.Box != nil:
		return m.Box.Width
	case m.Clip != nil:
		return m.Clip.Width
	}
	return m.Fold.Width
}

// thinnest is the least thickness of what is welded, mm.
func (m *PlateMount) thinnest() float64 {
	switch {
	case m.Box != nil:
		return min(m.Box.Cover, m.Box.Side)
	case m.Clip != nil:
		return min(m.Clip.Thickness, m.Clip.Wall)
	}
	return m.Fold.Thickness
}

// Stands says that it is known how the bracket stands, whatever it is made of.
func (b *Bracket) Stands() bool { return b.HasCut || b.Members != nil || b.Plates != nil }

// ofPlate says that the bracket is of a kind that is plate.
func (b *Bracket) ofPlate() bool { return b.ready.kind != nil && b.ready.kind.spec.Kind.OfPlate() }

// ofPlates finds how a mount that is plate stands, and lays it flat.
func (r *Result) ofPlates(b, of *Bracket) error {
	if key := b.lacksOfPlate(); key != "" {
		return lacking("mount." + b.ready.made + "." + b.ready.table + "." + key)
	}
	pad, err := r.padFace(b)
	if err != nil {
		return err
	}
	m := &PlateMount{Kind: b.ready.kind.spec.Kind, Pad: pad}
	switch m.Kind {
	case project.BoxedPlate:
		err = r.boxUp(b, m)
	case project.ClampTab:
		err = r.clampOn(b, m)
	default:
		err = r.foldUp(b, m)
	}
	if err != nil {
		return err
	}
	mass := m.Figures.Mass
	if m.Clip != nil {
		mass += m.Clip.Sleeve()
	}
	for _, s := range m.Sheets() {
		w := SheetWork{Name: s.Name, Count: s.Count, Plate: s.Plate, Up: s.Up}
		if w.Figures, err = s.Plate.Figures(); err != nil {
			return fmt.Errorf("bracket %s: %w", b.Label, err)
		}
		mass += float64(s.Count) * w.Figures.Mass
		b.Sheets = append(b.Sheets, w)
	}
	if of != nil {
		m.mirrors = of.Plates
	}
	b.Plates = m
	b.Leg.Pad = geombracket.Face{Point: m.Pad.Point, Normal: r3.Scale(-1, m.Pad.Normal)}
	b.Mass = finding.Exact(mass)
	return nil
}

// lacksOfPlate is the key of a question of its kind that the file does not answer; ""
// for none.
func (b *Bracket) lacksOfPlate() string {
	s := &b.ready.kind.spec
	p, c := &s.Plate, &s.Clamp
	asks := []asked{{"plate.thickness", p.Thickness.Known()}, {"plate.width", p.Width.Known()}, {"past", s.Past.Known()}}
	switch s.Kind {
	case project.BoxedPlate:
		asks = append(asks, asked{"plate.foot_depth", p.FootDepth.Known()}, asked{"weld.size", s.Weld.Size.Known() || p.Inset.Known()})
	case project.ClampTab:
		asks = append(asks, asked{"clamp.tube", c.Tube.Known()}, asked{"clamp.from", c.From.Known}, asked{"clamp.to", c.To.Known},
			asked{"clamp.wall", c.Wall.Known()}, asked{"clamp.length", c.Length.Known()})
	default:
		asks = append(asks, asked{"plate.foot_end", p.FootEnd.Known()})
		if s.Kind != project.BoltedTab {
			asks = append(asks, asked{"plate.foot_bend", p.FootBend.Known()})
		}
		if s.Kind == project.FoldedZ || s.Kind == project.FoldedU {
			asks = append(asks, asked{"plate.pad_bend", p.PadBend.Known()})
		}
		if s.RailPlate.Hole.Known() || b.bolted() || s.Kind == project.BoltedTab {
			asks = append(asks, pitchesOf("rail_plate", &s.RailPlate)...)
		}
	}
	if s.PadPlate.Hole.Known() {
		asks = append(asks, pitchesOf("pad_plate", &s.PadPlate)...)
	}
	for _, q := range asks {
		if !q.given {
			return q.key
		}
	}
	return ""
}

// asked is a question of a kind, and whether the file answers it.
type asked struct {
	key   string
	given bool
}

// pitchesOf are the questions of the holes at an end of a plate.
func pitchesOf(end string, p *project.MountPlate) []asked {
	return []asked{{end + ".pitch_across", acrossOf(end, p) < 2 || p.PitchAcross.Known()}, {end + ".pitch_high", highOf(end, p) < 2 || p.PitchHigh.Known()}}
}

// padHoles are the holes at its pad, from the middle of that: x across, y along.
func (b *Bracket) padHoles() (out []geombracket.Hole) {
	p := &b.ready.kind.spec.PadPlate
	if d, ok := p.Hole.Get(); ok {
		for _, q := range gridOf("pad_plate", p) {
			out = append(out, geombracket.Hole{At: q, Diameter: d})
		}
	}
	return out
}

// padNet is what the holes at its pad take of the width there, mm.
func (b *Bracket) padNet() float64 {
	p := &b.ready.kind.spec.PadPlate
	return float64(acrossOf("pad_plate", p)) * p.Hole.V()
}

// cantilever is a mount of plate as sections from its foot to its pad.
func (b *Bracket) cantilever() (*fold.Cantilever, error) {
	switch m := b.Plates; {
	case m.Box != nil:
		return m.Box.Cantilever(b.padNet())
	case m.Clip != nil:
		return m.Clip.Cantilever(b.padNet())
	default:
		return m.Fold.Cantilever(b.held())
	}
}

// FootDrill is what has to be drilled under the foot of a mount for its bolts, mm: their
// places about their middle, X across the foot and Y up it, and how far below the middle
// the foot's lower or free end lies.
type FootDrill struct {
	Hole    float64 // diameter
	Pattern []r2.Vec
	Below   float64
	Flange  bool // it lies on a rail's top or underside
	Own     bool // it lies on a face of its own, and on no rail
}

// FootDrill is that of a mount that is bolted by its foot; false where nothing is drilled
// there, or the holes are not in the file.
func (b *Bracket) FootDrill() (d FootDrill, ok bool) {
	if w := b.RailPlate; w != nil && len(w.Pattern) > 0 && len(w.Plate.Holes) > 0 {
		d, ok = FootDrill{Hole: w.Plate.Holes[0].Diameter, Pattern: w.Pattern, Below: w.Middle}, true
	} else if b.Plates != nil && b.Plates.Fold != nil {
		p := &b.ready.kind.spec.RailPlate
		d = FootDrill{Hole: p.Hole.V(), Pattern: gridOf("rail_plate", p), Below: b.Plates.Ends[0]}
		ok = d.Hole > 0
	}
	if k := b.ready.kind; ok && k != nil {
		d.Own = k.spec.OwnFoot() || k.spec.LeftFoot.Known
		d.Flange = !d.Own && (k.spec.Onto == project.OnTop || k.spec.Onto == project.OnUnderside)
	}
	return d, ok
}
