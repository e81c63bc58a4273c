package bracket

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

// boxRows are what is needed to cut a boxed plate and weld it.
func (b *Bracket) boxRows(add addRow) {
	m, s := b.Plates.Box, &b.ready.kind.spec
	side := m.Sheets[2].Plate.Outline
	add("width", "width", quantity.Length, m.Width, "of the upper plate and the one underneath")
	add("thickness", "thickness", quantity.Length, m.Cover, "of both")
	add("side thickness", "side.thickness", quantity.Length, m.Side, "of the two sides")
	add("upper plate, length", "upper.length", quantity.Length, m.Length, "from the rail to its free end")
	add("under plate, length", "under.length", quantity.Length, m.Sheets[1].Plate.Outline[2].Y, "along its slope")
	add("side, at the foot", "side.foot", quantity.Length, r2.Norm(r2.Sub(side[3], side[0])), "between the two, along the rail's face")
	add("side, at the free end", "side.end", quantity.Length, side[2].Y-side[1].Y, "between the two")
	add("side, upper edge", "side.upper", quantity.Length, side[2].X-side[3].X, "2 of these, alike")
	add("side, lower edge", "side.lower", quantity.Length, r2.Norm(r2.Sub(side[1], side[0])), "")
	if m.Taper.Abs() > 0.005*geom.Deg {
		add("under plate, slope", "taper", quantity.Angle, m.Taper.Abs().Rad(), taperWords(m.Taper))
	}
	if lean := geom.Angle(math.Atan(m.Off.Y / m.Off.X)); lean.Abs() > 0.005*geom.Deg {
		way := "leans back under it"
		if lean > 0 {
			way = "leans forward under it"
		}
		add("side, foot from square", "side.from_square", quantity.Angle, lean.Abs().Rad(), "to its upper edge: the foot "+way)
	}
	add("sides set in", "inset", quantity.Length, m.Inset, "from either edge of the upper plate: the shelf that the fillet lies on")
	if m.Gap > 0.05 {
		add("gap at the foot", "gap", quantity.Length, m.Gap, "at most, where a plate is cut square through: the weld fills it")
	}
	b.holeRows("pad", &s.PadPlate, m.Width, s.Past.V(), "the free end of the upper plate", add)
	add("corner welds", "seam.length", quantity.Length, m.SeamLength(), "all four together")
	if u := &b.Strength.Seams; u.Of.Known {
		add("corner fillet", "seam.leg", quantity.Length, u.Counted, "leg that counts")
		add("corner fillet, least", "seam.least", quantity.Length, u.Least, "that strength asks for; thin metal beside thick asks for more")
	}
	b.footFilletRow(add)
}

func taperWords(a geom.Angle) string {
	if a > 0 {
		return "rises to its free end"
	}
	return "falls to its free end"
}

// footFilletRow is the fillet that strength asks for at the foot.
func (b *Bracket) footFilletRow(add addRow) {
	if v := b.Strength.Weld.leastLeg(); v > 0 {
		add("foot fillet, least", "foot.least", quantity.Length, v, "that strength asks for; thin metal beside thick asks for more")
	}
}

// clampRows are what is needed to cut a tab and put it on its clamp.
func (b *Bracket) clampRows(add addRow) {
	m, s := b.Plates.Clip, &b.ready.kind.spec
	edge := "straight"
	if m.Square {
		edge = fmt.Sprintf("hollow, %.1f mm radius", m.Tube/2+m.Wall)
	}
	low := m.Root
	if m.Square {
		low = math.Sqrt(m.Root*m.Root - m.Width*m.Width/4)
	}
	add("thickness", "thickness", quantity.Length, m.Thickness, "of the tab")
	add("width", "width", quantity.Length, m.Width, "")
	add("length", "length", quantity.Length, m.Reach+m.Past-low, "of the tab, over its whole height")
	add("in its middle", "middle", quantity.Length, m.Reach+m.Past-m.Root, "from its edge on the clamp, "+b.restated(edge))
	add("pad off the clamp", "reach", quantity.Length, m.Reach-m.Root, "its middle, from that edge in the middle of the tab")
	b.holeRows("pad", &s.PadPlate, m.Width, s.Past.V(), "the free end of the tab", add)
	add("clamp, bore", "clamp.bore", quantity.Length, m.Tube, "the tube it goes round")
	add("clamp, wall", "clamp.wall", quantity.Length, m.Wall, "")
	add("clamp, length", "clamp.length", quantity.Length, m.Length, "along the tube; split lengthwise, with a gap left when it is tight")
	if !m.Square {
		add("tab from the middle", "aside", quantity.Length, math.Abs(m.Aside), "along the tube; the middle of its thickness past the tube's axis")
	}
	if u := &b.Strength.Grip; u.Of.Known {
		add("clamp holds", "grip.holds", quantity.Force, u.Holds, "before it slips, in the case that governs")
		add("it has to hold", "grip.slip", quantity.Force, u.Slip, "along the tube and round it together")
		add("presses on the tube", "grip.on_tube", quantity.Stress, u.OnTube, "what the tube's wall takes of that is not judged")
	}
	b.footFilletRow(add)
}

// restated is a text with its lengths in the file's unit.
func (b *Bracket) restated(text string) string { return quantity.Restate(text, b.ready.units) }

// sheetMatches say how the plates of a box or a tab differ from those of the other side.
func (b *Bracket) sheetMatches(add func(label, key string, k quantity.Kind, mirror, made float64)) {
	was, is := b.Plates.mirrors, b.Plates
	switch {
	case was.Box != nil && is.Box != nil:
		a, z := was.Box, is.Box
		add("upper plate, length", "upper.length", quantity.Length, a.Length, z.Length)
		add("under plate, length", "under.length", quantity.Length, a.Sheets[1].Plate.Outline[2].Y, z.Sheets[1].Plate.Outline[2].Y)
		add("side, upper edge", "side.upper", quantity.Length, a.Sheets[2].Plate.Outline[2].X-a.Sheets[2].Plate.Outline[3].X, z.Sheets[2].Plate.Outline[2].X-z.Sheets[2].Plate.Outline[3].X)
	case was.Clip != nil && is.Clip != nil:
		add("in its middle", "middle", quantity.Length, was.Clip.Reach-was.Clip.Root+was.Clip.Past, is.Clip.Reach-is.Clip.Root+is.Clip.Past)
	}
}

// cutsOut says that a box or a tab closes and can be cut from flat plate.
func (r *Result) cutsOut(b *Bracket, f *finding.Finding) {
	w := &b.Sheets[0]
	f.Title += ", its " + w.Name + ", length"
	f.Figure(finding.Exact(w.Figures.Height))
	if b.Plates.Clip != nil {
		f.Assumes = append(f.Assumes, "a clamp that is bored to the tube, and its halves not closed on each other when it is tight")
		f.Says = finding.Say("The tab stands on its clamp, and its pad is where it is wanted; fitup cuts FILE prints it.")
		return
	}
	f.Says = finding.Say("The four plates close to a box from the rail to the pad; fitup cuts FILE prints each.")
}
