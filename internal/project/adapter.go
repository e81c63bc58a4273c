package project

import (
	"math"
	"slices"
	"strings"

	"fitup/internal/geom/seat"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// MountAdapter is a flat plate that is bolted to bosses of the block and carries a mount's
// pad. Points are in the powertrain's own frame.
type MountAdapter struct {
	Bosses    []Point          `toml:"bosses" doc:"the bosses of the block that it is bolted to, three or more: the middle of each hole on its face, own frame"`
	Facing    Facing           `toml:"facing" doc:"which way their faces look, off the block, own frame: up, down, front, rear, left or right" how:"Stand before the bosses: they look at you." need:"yes"`
	Thickness quantity.LengthQ `toml:"thickness" doc:"of the plate" min:"0" how:"Caliper on the edge." from:"face to face" need:"yes"`
	Spacer    quantity.LengthQ `toml:"spacer" doc:"length of the spacers between bosses and plate; 0 when left out" min:"0" how:"Caliper over a spacer; all of one length." from:"end to end"`
	Edge      quantity.LengthQ `toml:"edge" doc:"from the middle of its outer holes to the plate's edge, all round" min:"0" how:"Decide: one and a half holes and more." from:"the middle of the hole" need:"yes"`
	Hole      quantity.LengthQ `toml:"hole" doc:"diameter of its holes for the bosses' bolts" min:"0" how:"The drill's diameter." from:"edge to edge" need:"yes"`
	Pad       HolePattern      `toml:"pad" doc:"its holes for the isolator, about the middle of the pad"`
	Bolts     LegBolts         `toml:"bolts" doc:"what holds it to the bosses"`
	Engaged   quantity.LengthQ `toml:"engaged" doc:"how far its bolts are screwed into the bosses" min:"0" how:"The bolt's length under its head, less what it passes; no more than the hole is tapped." from:"the boss's face, inward"`
	Block     BlockMetal       `toml:"block" doc:"what the bosses are: steel, cast iron or aluminium" how:"A magnet sticks to iron and steel; a file makes grey dust of cast iron."`
	Steel     Steel            `toml:"steel" doc:"of the plate: S235, S275 or S355; S235 when left out" how:"The mill's certificate or the stamp on the plate; S235 where nobody knows."`
	Yield     quantity.StressQ `toml:"yield" doc:"its yield strength, when it is another metal" min:"0" how:"The mill's certificate." from:"no load"`
	Tensile   quantity.StressQ `toml:"tensile" doc:"and its tensile strength" min:"0" how:"The mill's certificate." from:"no load"`

	// Moved is by how much the stack has moved the pad of its mount, own frame, mm.
	Moved r3.Vec `toml:"-"`
}

// HolePattern is a grid of equal holes in a plate.
type HolePattern struct {
	Hole        quantity.LengthQ `toml:"hole" doc:"diameter of the holes" min:"0" how:"The drill's diameter." from:"edge to edge"`
	Across      quantity.NumberQ `toml:"across" doc:"holes side by side; 1 when left out" min:"0" exact:"yes" how:"Count the holes side by side." from:"none"`
	High        quantity.NumberQ `toml:"high" doc:"holes one above the other, fore and aft where it lies level; 1 when left out" min:"0" exact:"yes" how:"Count the holes the other way." from:"none"`
	PitchAcross quantity.LengthQ `toml:"pitch_across" doc:"centre to centre, side by side" min:"0" how:"Hole edge to the same edge of the next." from:"hole centre to hole centre"`
	PitchHigh   quantity.LengthQ `toml:"pitch_high" doc:"centre to centre, one above the other" min:"0" how:"Hole edge to the same edge of the next." from:"hole centre to hole centre"`
}

// BlockMetal is what bosses are, as the file spells it.
type BlockMetal string

// The words the file uses.
const (
	SteelBlock     BlockMetal = "steel"
	CastIronBlock  BlockMetal = "cast iron"
	AluminiumBlock BlockMetal = "aluminium"
)

// Words lists what bosses can be.
func (BlockMetal) Words() []string {
	return []string{string(SteelBlock), string(CastIronBlock), string(AluminiumBlock)}
}

// Begun reports whether the file says anything of an adapter plate.
func (a *MountAdapter) Begun() bool {
	return len(a.Bosses) > 0 || a.Facing != "" || a.Thickness.Known() || a.Spacer.Known() || a.Edge.Known() || a.Hole.Known() ||
		a.Pad != HolePattern{} || a.Bolts != LegBolts{} || a.Engaged.Known() || a.Block != "" || a.Steel != "" || a.Yield.Known() || a.Tensile.Known()
}

// Lacks is the key without which it is not known where its plate lies; "" for none.
func (a *MountAdapter) Lacks() string {
	switch {
	case len(a.Bosses) == 0 || slices.ContainsFunc(a.Bosses, func(p Point) bool { return !p.Known }):
		return "bosses"
	case a.Facing == "":
		return "facing"
	case !a.Thickness.Known():
		return "thickness"
	}
	return ""
}

// OnBlock is the face that its bosses make.
func (a *MountAdapter) OnBlock() seat.Bosses {
	b := seat.Bosses{At: make([]r3.Vec, len(a.Bosses))}
	for i, p := range a.Bosses {
		b.At[i] = p.At
	}
	b.Facing, _ = a.Facing.Vector()
	return b
}

// Stack is what lies between the bosses' face and the isolator, mm.
func (a *MountAdapter) Stack() float64 { return a.Spacer.Or(0) + a.Thickness.V() }

// Strengths returns the yield and tensile strength of the plate in MPa.
func (a *MountAdapter) Strengths() (yield, tensile float64) {
	return BracketMade{Steel: a.Steel, Yield: a.Yield, Tensile: a.Tensile}.Strengths()
}

// padOf is the powertrain's pad of a mount.
func (b *Build) padOf(m *Mount) *Point {
	switch m.Name {
	case "left_front":
		return &b.Powertrain.Pads.LeftFront
	case "right_front":
		return &b.Powertrain.Pads.RightFront
	case "rear":
		return &b.Powertrain.Pads.Rear
	}
	return &m.At
}

// stack moves the pads that stand on adapter plates out by what lies under them: the file
// has them on the face of the bosses. Where that is not whole yet a pad has no place. The
// list of mounts is copied first.
func (b *Build) stack() {
	if !slices.ContainsFunc(b.Mounts, func(m Mount) bool { return m.Adapter.Begun() }) {
		return
	}
	b.Mounts = slices.Clone(b.Mounts)
	for i := range b.Mounts {
		m := &b.Mounts[i]
		pad := b.padOf(m)
		if !m.Adapter.Begun() || !pad.Known || m.Corner != "" {
			continue
		}
		if key := m.Adapter.Lacks(); key != "" {
			pad.Known, m.NoPlace = false, "mount."+m.Name+".adapter."+key+", without which its pad has no place"
			continue
		}
		at, err := m.Adapter.OnBlock().Stacked(pad.At, m.Adapter.Stack())
		if err != nil { // told by the checks
			pad.Known, m.NoPlace = false, "the adapter of mount."+m.Name+": "+err.Error()
			continue
		}
		m.Adapter.Moved = r3.Sub(at, pad.At)
		pad.At = at
	}
}

// unstack takes that back.
func (b *Build) unstack() {
	if !slices.ContainsFunc(b.Mounts, func(m Mount) bool { return m.Adapter.Moved != r3.Vec{} }) {
		return
	}
	b.Mounts = slices.Clone(b.Mounts)
	for i := range b.Mounts {
		m := &b.Mounts[i]
		pad := b.padOf(m)
		pad.At = r3.Sub(pad.At, m.Adapter.Moved)
		m.Adapter.Moved = r3.Vec{}
	}
}

// checkAdapters finds adapter plates that cannot be.
func (b *binder) checkAdapters(build *Build, root *tomltext.Node) {
	for i := range build.Mounts {
		m := &build.Mounts[i]
		a := &m.Adapter
		if !a.Begun() {
			continue
		}
		path := "mount." + m.Name + ".adapter"
		who := "the adapter of the " + strings.ReplaceAll(m.Name, "_", " ") + " mount"
		fault := func(key, format string, args ...any) {
			key = path + "." + key
			b.fault(at(root, key), key, who+" "+format, args...)
		}
		if m.Corner != "" {
			fault("bosses", "stands on no engine: the mount holds a corner of a subframe; leave the adapter out")
			continue
		}
		for _, q := range []struct {
			key string
			q   quantity.Gettable
		}{{"thickness", &a.Thickness}, {"edge", &a.Edge}, {"hole", &a.Hole}, {"engaged", &a.Engaged}, {"yield", &a.Yield}, {"tensile", &a.Tensile},
			{"pad.hole", &a.Pad.Hole}, {"pad.pitch_across", &a.Pad.PitchAcross}, {"pad.pitch_high", &a.Pad.PitchHigh}} {
			if v, ok := q.q.Get(); ok && v == 0 {
				fault(q.key, "has %s = 0; want more", q.key)
			}
		}
		for _, q := range []struct {
			key string
			q   *quantity.NumberQ
		}{{"pad.across", &a.Pad.Across}, {"pad.high", &a.Pad.High}} {
			if v, ok := q.q.Get(); ok && (v < 1 || v > 20 || math.Mod(v, 1) != 0) {
				fault(q.key, "has %g holes in a row; want a whole number from 1 to 20", v)
			}
		}
		if len(a.Bosses) == 0 || a.Facing == "" || a.Lacks() == "bosses" {
			continue
		}
		if _, _, _, err := a.OnBlock().Face(); err != nil {
			fault("bosses", "lies nowhere: %v", err)
			continue
		}
		if pad := build.padOf(m); pad.Known && a.Thickness.Known() {
			if _, err := a.OnBlock().Stacked(pad.At, a.Stack()); err != nil {
				b.fault(at(root, m.PadPath()), m.PadPath(), "the pad of the %s mount stands on its adapter plate: %v", strings.ReplaceAll(m.Name, "_", " "), err)
			}
		}
	}
}
