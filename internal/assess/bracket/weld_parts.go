package bracket

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/fold"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// shortWeld is how much shorter than planned the welds of a finished map may
// be before the planned figure is no longer theirs. Common practice, no source.
const shortWeld = 0.05

// WeldPart is a weld of a bracket as it is planned.
type WeldPart struct {
	Name   string  // foot, pad, corners, tab, or a member and where it ends
	Length float64 // mm
	// Sides are its flat sides by the way they look, without what goes round the corners;
	// nil where it has none, or two would have the same name.
	Sides []WeldSide
}

// WeldSide is one side of a weld as it is planned: front, rear, left, right, top or bottom
// by the way that the side of the tube there looks, or a corner of a box by two of those.
type WeldSide struct {
	Name   string
	Length float64 // mm
}

// weldSides are the sides of a weld round a tube whose sections lie along u and v, to the
// right and up.
func (b *Bracket) weldSides(e *geombracket.EdgeLine, u, v r3.Vec) (out []WeldSide) {
	looks := map[geombracket.Side]r3.Vec{geombracket.Top: v, geombracket.Bottom: r3.Scale(-1, v), geombracket.Right: u, geombracket.Left: r3.Scale(-1, u)}
	for _, s := range b.weldedSides() {
		length := 0.0
		for i := 1; i < len(e.Sides[s]); i++ {
			length += r2.Norm(r2.Sub(e.Sides[s][i], e.Sides[s][i-1]))
		}
		if length == 0 {
			continue
		}
		out = append(out, WeldSide{toward(looks[s]), length})
	}
	return apartByName(out)
}

// lyingSides are those of a weld along both edges of what lies on a plate.
func lyingSides(l *lying, pose geom.Pose) []WeldSide {
	across := r3.Add(r3.Scale(-l.along.Y, pose.X), r3.Scale(l.along.X, pose.Y))
	return apartByName([]WeldSide{{toward(r3.Scale(-1, across)), l.hi - l.lo}, {toward(across), l.hi - l.lo}})
}

// runSides are those of a weld of straight runs, in a frame of its plane: each by the way that
// it lies from the middle of them all.
func runSides(runs [][]r2.Vec, on geom.Pose) (out []WeldSide) {
	lo, hi := runs[0][0], runs[0][0]
	for _, run := range runs {
		for _, q := range run {
			lo, hi = r2.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}, r2.Vec{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
		}
	}
	middle := r2.Scale(0.5, r2.Add(lo, hi))
	for _, run := range runs {
		a, z := run[0], run[len(run)-1]
		way := r2.Vec{X: z.Y - a.Y, Y: a.X - z.X} // square to it
		if r2.Dot(way, r2.Sub(r2.Scale(0.5, r2.Add(a, z)), middle)) < 0 {
			way = r2.Scale(-1, way)
		}
		out = append(out, WeldSide{toward(r3.Add(r3.Scale(way.X, on.X), r3.Scale(way.Y, on.Y))), r2.Norm(r2.Sub(z, a))})
	}
	return apartByName(out)
}

// seamSides are the four corner fillets of a box.
func seamSides(b *fold.Boxed) (out []WeldSide) {
	for _, s := range b.Seams() {
		out = append(out, WeldSide{toward(s.Up) + " " + toward(s.Across), s.Length})
	}
	return apartByName(out)
}

// apartByName are sides of which no two have the same name; else none.
func apartByName(sides []WeldSide) []WeldSide {
	for i := range sides {
		for k := range i {
			if sides[i].Name == sides[k].Name {
				return nil
			}
		}
	}
	return sides
}

// The welds of a bracket that is not of several members.
const (
	footPart    = "foot"
	padPart     = "pad"
	cornersPart = "corners"
	tabPart     = "tab"
)

// WeldParts are the welds of a bracket as they are planned, those at its feet first. Nil
// where it does not stand, or is not welded.
func (b *Bracket) WeldParts() (out []WeldPart) {
	switch {
	case b.Members != nil:
		welds, err := b.joints()
		if err != nil {
			return nil
		}
		for i := range welds {
			out = append(out, WeldPart{welds[i].at, welds[i].ready.Line().Length, welds[i].sides})
		}
		out = append(out, b.gussetParts()...)
	case b.Plates != nil:
		if b.Plates.Kind == project.BoltedTab || b.bolted() && !b.Spec.Weld.Begun() && b.Plates.Fold != nil {
			return nil
		}
		group, on, _, err := b.plateWeld()
		if err != nil {
			return nil
		}
		ready, err := group.Ready()
		if err != nil {
			return nil
		}
		part := WeldPart{Name: footPart, Length: ready.Line().Length, Sides: runSides(group.Runs, on)}
		if b.Plates.Clip != nil {
			part.Name = tabPart
		}
		out = append(out, part)
		if b.Plates.Box != nil {
			out = append(out, WeldPart{Name: cornersPart, Length: b.Plates.Box.SeamLength(), Sides: seamSides(b.Plates.Box)})
		}
	case b.HasCut:
		welds, err := b.legWelds()
		if err != nil {
			return nil
		}
		for i, w := range welds {
			out = append(out, WeldPart{[]string{footPart, padPart}[i], w.ready.Line().Length, w.sides})
		}
	}
	return out
}

// gussetParts are the welds of the gussets, those of one name together: both fillets along
// both edges of each.
func (b *Bracket) gussetParts() (out []WeldPart) {
	for i := range b.Members.Sheets {
		s := &b.Members.Sheets[i]
		length := 2 * (r2.Norm(r2.Sub(s.Rail[1], s.Rail[0])) + r2.Norm(r2.Sub(s.Member[1], s.Member[0])))
		if k := slices.IndexFunc(out, func(p WeldPart) bool { return p.Name == s.Name }); k >= 0 {
			out[k].Length += length
			continue
		}
		out = append(out, WeldPart{Name: s.Name, Length: length})
	}
	return out
}

// ofGusset says that a planned weld is that of a gusset.
func (p *WeldPart) ofGusset() bool { return strings.HasPrefix(p.Name, gussetPart) }

// gussetPart is what the names of gussets begin with.
const gussetPart = "gusset"

// partOf is which of the planned welds one of the map is, by its number, or -1: as the file
// says, or by a word of what it is called. why says what is wrong with what the file says.
func partOf(w *MadeWeld, parts []WeldPart) (part int, why string) {
	names := partNames(parts)
	if w.Part != "" {
		at := slices.IndexFunc(names, func(n string) bool { return project.Slug(n) == project.Slug(w.Part) })
		if at < 0 {
			return -1, fmt.Sprintf("%s says %q, and no weld of this bracket is called so: it has %s", w.Path, project.Printable(w.Part), strings.Join(names, "; "))
		}
		return at, ""
	}
	if at := slices.IndexFunc(names, func(n string) bool { return project.Slug(n) == project.Slug(w.At) }); at >= 0 {
		return at, ""
	}
	called := strings.ToLower(w.At)
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(s string) bool { return strings.Contains(called, s) })
	}
	switch {
	case has(gussetPart):
		return slices.IndexFunc(parts, func(p WeldPart) bool { return p.ofGusset() }), ""
	case has("corner", "seam"):
		return slices.Index(names, cornersPart), ""
	case has("foot", "rail"):
		return slices.Index(names, footPart), ""
	case has("pad"):
		return slices.Index(names, padPart), ""
	case has("tab"):
		return slices.Index(names, tabPart), ""
	}
	return -1, ""
}

// apart says that the welds of a bracket are told apart: where the file says of one which
// it is, and of a box always, whose corner welds are longer than that at its foot.
func (b *Bracket) apart() bool {
	return b.Plates != nil && b.Plates.Box != nil ||
		slices.ContainsFunc(b.ready.welded.welds, func(w MadeWeld) bool { return w.Part != "" })
}

// bySide holds what carries on each side of a weld against what is planned there, where the
// map's sides have the names of those: missing says which falls short, and together which of
// them has another name, so that only the whole of the weld is held.
func (b *Bracket) bySide(part int, p *WeldPart, parts []WeldPart, length func(float64) string) (missing, together string) {
	if len(p.Sides) == 0 {
		return "", ""
	}
	names, carry, on := make([]string, len(p.Sides)), map[string]float64{}, map[string]bool{}
	for i, s := range p.Sides {
		names[i] = s.Name
	}
	for i := range b.ready.welded.welds {
		m := &b.ready.welded.welds[i]
		if k, _ := partOf(m, parts); k != part {
			continue
		}
		for _, s := range m.Each {
			name := project.Slug(s.Name)
			if !slices.ContainsFunc(names, func(n string) bool { return project.Slug(n) == name }) {
				return "", fmt.Sprintf("the sides of its weld %q together: %q of the map is none of %s", p.Name, project.Printable(s.Name), strings.Join(names, ", "))
			}
			carry[name] += s.Carries
			on[name] = true
		}
	}
	for _, s := range p.Sides {
		name := project.Slug(s.Name)
		switch {
		case len(on) == 0: // the map has no sides of it
		case !on[name]:
			return fmt.Sprintf("the %s side of the weld %q is not on the map, %s of it; it is planned on its sides %s", s.Name, p.Name, length(s.Length), strings.Join(names, ", ")), ""
		case carry[name] < s.Length*(1-shortWeld):
			return fmt.Sprintf("%s, %s side: %s of %s carry, so the planned figure is not that of this weld", p.Name, s.Name, length(carry[name]), length(s.Length)), ""
		}
	}
	return "", ""
}

// mapped says why the welds of a finished map are not those of the planned figure, and
// whether they were told apart; together are welds whose sides were not.
func (b *Bracket) mapped(units quantity.Units) (missing string, told bool, together []string) {
	made, parts := &b.ready.welded, b.WeldParts()
	if missing, told = b.mappedParts(units); missing != "" {
		return missing, told, nil
	}
	for k := range parts {
		if !slices.ContainsFunc(made.welds, func(m MadeWeld) bool { at, _ := partOf(&m, parts); return at == k }) {
			continue
		}
		short, words := b.bySide(k, &parts[k], parts, func(v float64) string { return quantity.Format(quantity.Length, v, units, 1) })
		if short != "" {
			return short, true, nil
		}
		if words != "" {
			together = append(together, words)
		}
	}
	return "", told, together
}

// mappedParts is the same of each weld as a whole.
func (b *Bracket) mappedParts(units quantity.Units) (missing string, told bool) {
	made, parts := &b.ready.welded, b.WeldParts()
	length := func(v float64) string { return quantity.Format(quantity.Length, v, units, 1) }
	for i := range made.welds {
		if _, why := partOf(&made.welds[i], parts); why != "" {
			return why, true
		}
	}
	if !b.apart() {
		longest := 0.0
		for i := range made.welds {
			m := &made.welds[i]
			if !m.Carries.Known {
				return made.carries, false
			}
			if k, _ := partOf(m, parts); k < 0 || k == 0 || b.Members != nil && !parts[k].ofGusset() { // one at the pad is none at the foot
				longest = max(longest, m.Carries.V)
			}
		}
		if planned := b.Strength.Weld.Line.Length; longest < planned*(1-shortWeld) {
			return fmt.Sprintf("%s; %s are planned, so the planned figure is not that of this weld", made.carries, length(planned)), false
		}
		return "", false
	}
	carry := make([]float64, len(parts))
	for i := range made.welds {
		m := &made.welds[i]
		k, _ := partOf(m, parts)
		switch {
		case k < 0:
			return fmt.Sprintf("which weld %q of the map is, is not said: %s is not in the file yet; want one of %s", project.Printable(m.At), m.Path, strings.Join(partNames(parts), "; ")), true
		case !m.Carries.Known:
			return made.carries, true
		}
		carry[k] += m.Carries.V
	}
	for k, p := range parts {
		switch {
		case carry[k] == 0:
			return fmt.Sprintf("the weld %q of the %s bracket is not on the map, %s of it; it has %s", p.Name, b.Label, length(p.Length), strings.Join(partNames(parts), "; ")), true
		case carry[k] < p.Length*(1-shortWeld):
			return fmt.Sprintf("%s: %s of %s carry, so the planned figure is not that of this weld", p.Name, length(carry[k]), length(p.Length)), true
		}
	}
	return "", true
}

func partNames(parts []WeldPart) []string {
	names := make([]string, len(parts))
	for i, p := range parts {
		names[i] = p.Name
	}
	return names
}

// NotMapped are the welds of a bracket that the map has none of, where it tells them apart
// and has some.
func (b *Bracket) NotMapped() (out []string) {
	made := &b.ready.welded
	if len(made.welds) == 0 || !b.apart() {
		return nil
	}
	parts := b.WeldParts()
	on := make([]bool, len(parts))
	for i := range made.welds {
		if k, _ := partOf(&made.welds[i], parts); k >= 0 {
			on[k] = true
		}
	}
	for k, p := range parts {
		if !on[k] {
			out = append(out, p.Name)
		}
	}
	return out
}
