package book

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
)

// SawNote says how the tube lies on the saw and what the settings mean.
const SawNote = `The tube lies along the fence, the named side on the table, its rail end to the
right of you as you face the fence. The mitre is the swing of the saw from
square, the tilt the lean of the blade from upright, taken after the swing. The
words behind each say which side of the piece comes out longer: that settles
which way to swing. Sides are as seen from the pad, the side that looks up at
the top. Where the saw does not tilt ([shop] tilt = "0 deg"), the tube is rolled
instead: lay the named side down, lift the other lower corner until an angle
gauge across the tube shows the roll, pack it there, and swing once. Of a member of
a mount, the first end stands for the pad and the second for the rail. Cut a piece of
scrap first.`

// labels is the least width of the labels of a leg, so that all its tables line up.
const labels = 20

// Cuts is the cut sheet: how each leg is cut, its plates, and which bars to
// buy. It fails where no leg is begun.
func Cuts(a *assess.Assessment) (Sheet, error) {
	var s Sheet
	if len(a.Brackets) == 0 && len(a.Adapters) > 0 {
		s.adapters(a)
		s.packings(a)
		return s.clean(), nil
	}
	if len(a.Brackets) == 0 && len(a.Packings) > 0 {
		s.packings(a)
		return s.clean(), nil
	}
	if len(a.Brackets) == 0 {
		return s, errors.New("no leg is in the file yet: [mount.left_front.leg] with a section begins one, or [mount.left_front.bracket] with a kind")
	}
	s.add("", text(0, SawNote)...)
	for i := range a.Brackets {
		s.leg(a.Build.Units, &a.Brackets[i])
	}
	s.adapters(a)
	for _, g := range a.CutPlans(assess.SearchAtEase) {
		s.add("Stock of "+g.Section, text(1, stockLines(g, a.Build.Units)...)...)
	}
	for i := range a.Sheets {
		var items []Item
		for _, line := range sheetLines(&a.Sheets[i], a.Build.Units) {
			items = append(items, text(1, line)...)
		}
		s.add(capital(a.Sheets[i].Name), items...)
	}
	s.packings(a)
	return s.clean(), nil
}

// leg is one leg for the person at the saw.
func (s *Sheet) leg(u quantity.Units, b *assess.Bracket) {
	switch {
	case b.Members != nil:
		s.members(u, b)
		return
	case b.Plates != nil:
		s.folded(u, b)
		return
	}
	if !b.HasCut {
		s.add("", text(0, capital(b.Label)+" "+pieceOf(b)+": no cut. "+b.Why)...)
		return
	}
	var rows [][]string
	for _, r := range append(b.Rows(), b.SawRows()...) {
		rows = append(rows, []string{r.Label, Magnitude(r.Kind, r.V, u), strings.TrimSpace(Sense(r.Kind, r.V, u) + " " + r.Words)})
	}
	items := []Item{table(1, labels, rows)}
	for _, w := range []*assess.PlateWork{b.PadPlate, b.RailPlate} {
		if w != nil {
			items = append(items, plateItems(w, u)...)
		}
	}
	items = append(append(items, boltItems(u, b)...), weldItems(u, b)...)
	s.add(capital(b.Label)+" leg, "+b.Section, items...)
}

// pieceOf is what a bracket is called: a leg, or a mount of several members.
func pieceOf(b *assess.Bracket) string {
	if b.Assembled {
		return "mount"
	}
	return "leg"
}

// memberItems are the rows of one member.
func memberItems(u quantity.Units, m assess.MemberCut, deep, labels int) Item {
	var rows [][]string
	for _, r := range m.Rows {
		rows = append(rows, []string{r.Label, Magnitude(r.Kind, r.V, u), strings.TrimSpace(Sense(r.Kind, r.V, u) + " " + r.Words)})
	}
	return table(deep, labels, rows)
}

// members is a mount of several members for the person at the saw.
func (s *Sheet) members(u quantity.Units, b *assess.Bracket) {
	for _, m := range b.MemberCuts() {
		s.add(capital(b.Label)+" mount, "+m.Name+", "+m.Section, memberItems(u, m, 1, labels))
	}
	var items []Item
	for i, w := range []*assess.PlateWork{b.PadPlate, b.RailPlate} {
		if w == nil {
			continue
		}
		items = append(items, plateItems(w, u)...)
		if n := len(b.Members.Feet); i == 1 && n > 1 {
			items = append(items, text(2, fmt.Sprintf("%d of these, one at each foot", n))...)
		}
	}
	for _, w := range b.Sheets {
		items = append(items, text(1, sheetLine(&w, u))...)
	}
	items = append(items, sleeveItems(u, b)...)
	items = append(append(items, boltItems(u, b)...), weldItems(u, b)...)
	items = append(items, text(1, "mass of the mount with plates "+Magnitude(quantity.Mass, b.Mass.V, u))...)
	s.add(capital(b.Label)+" mount, plates and bolts", items...)
	s.rowsOf(u, capital(b.Label)+" mount, how its feet are fixed", b.FixingRows())
	var rows [][]string
	for _, r := range b.MemberMatches() {
		rows = append(rows, []string{r.Label, Magnitude(r.Kind, r.Made, u), "the plain mirror image has " + Magnitude(r.Kind, r.Mirror, u)})
	}
	if len(rows) > 0 {
		s.add(capital(b.Label)+" mount against the mirrored "+strings.ReplaceAll(b.Spec.Match, "_", " ")+" one", table(1, labels, rows))
	}
}

// sleeveItems are the sleeves through a crossmember.
func sleeveItems(u quantity.Units, b *assess.Bracket) []Item {
	w, ok := b.Sleeves()
	if !ok {
		return nil
	}
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	line := fmt.Sprintf("%d sleeves, round tube %s outside with a wall of %s, %s long", w.Count, mm(w.Diameter), mm(w.Wall), mm(w.Length))
	if w.Clamp > 0 {
		line += ", clamped by their bolts with " + Magnitude(quantity.Stress, w.Clamp, u)
	}
	return text(1, line)
}

// sheetLine is a flat plate with its outline, corner by corner.
func sheetLine(w *assess.SheetWork, u quantity.Units) string {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	corners := make([]string, len(w.Plate.Outline))
	for i, p := range w.Plate.Outline {
		corners[i] = mm(p.X) + "/" + mm(p.Y)
	}
	from := "from its corner along the member and square to it"
	if w.Up != "" {
		from = "across and along, face up " + w.Up
	}
	if len(corners) > mostCorners {
		from, corners = "its outline", []string{"as on its template of true size"}
	}
	many := ""
	if w.Count > 1 {
		many = fmt.Sprintf("%d of these, ", w.Count)
	}
	return fmt.Sprintf("%s, %s%s thick, %s: flat, %s: %s",
		w.Name, many, mm(w.Plate.Thickness), Magnitude(quantity.Mass, w.Figures.Mass, u), from, strings.Join(corners, ", "))
}

// mostCorners is how many corners of a plate are printed as figures.
const mostCorners = 8

// rowsOf is a section of rows, where there are any.
func (s *Sheet) rowsOf(u quantity.Units, head string, rows []assess.BracketRow) {
	var out [][]string
	for _, r := range rows {
		out = append(out, []string{r.Label, Magnitude(r.Kind, r.V, u), r.Words})
	}
	if len(out) > 0 {
		s.add(head, table(1, labels, out))
	}
}

// boltItems say how tight the bolts are.
func boltItems(u quantity.Units, b *assess.Bracket) []Item {
	t := b.Strength.Bolts.Tighten
	if !(t.Torque > 0) {
		return nil
	}
	return text(1, fmt.Sprintf("bolts %s %s: %s gives a preload of about %s, give or take a quarter; their maker's torque comes first",
		b.Spec.Bolts.Thread, b.Spec.Bolts.Class, Magnitude(quantity.Torque, t.Torque, u), Magnitude(quantity.Force, twoFigures(t.Preload), u)))
}

// weldItems are the welds of a bracket by the names that the weld map knows them by.
func weldItems(u quantity.Units, b *assess.Bracket) []Item {
	parts := b.WeldParts()
	if len(parts) == 0 {
		return nil
	}
	each := make([]string, len(parts))
	for i, p := range parts {
		each[i] = p.Name + " " + Magnitude(quantity.Length, p.Length, u)
		sides := make([]string, len(p.Sides))
		for k, s := range p.Sides {
			sides[k] = s.Name + " " + Magnitude(quantity.Length, s.Length, u)
		}
		if len(sides) > 0 {
			each[i] += " (" + strings.Join(sides, ", ") + ")"
		}
	}
	return text(1, "welds, as the weld map calls them, each side without its corners: "+strings.Join(each, "; "))
}

func plateItems(w *assess.PlateWork, u quantity.Units) []Item {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	items := text(1, plateLine(w, u))
	if w.Folded {
		bend := w.Blank.Bends[0]
		items = append(items, text(2, fmt.Sprintf("bend square between %s and %s from the lower edge, middle line at %s; the bend takes %s",
			mm(bend.From), mm(bend.To), mm(bend.Middle), mm(w.Deduct)))...)
	}
	return items
}

// plateLine is a plate's sizes and holes.
func plateLine(w *assess.PlateWork, u quantity.Units) string {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	flat := "plate"
	if w.Folded {
		flat = "plate, laid flat,"
	}
	line := fmt.Sprintf("%s %s %s by %s by %s, %s", w.End, flat, mm(w.Figures.Width), mm(w.Figures.Height), mm(w.Spec.Thickness.V()),
		Magnitude(quantity.Mass, w.Figures.Mass, u))
	if n := len(w.Plate.Holes); n > 0 {
		holes := fmt.Sprintf("%d holes of %s, their middle", n, mm(w.Spec.Hole.V()))
		if n == 1 {
			holes = fmt.Sprintf("a hole of %s,", mm(w.Spec.Hole.V()))
		}
		line += fmt.Sprintf(", %s %s above the lower edge%s", holes, mm(w.Middle), pitchWords(w, u))
	}
	return line
}

// pitchWords are how far the holes of a plate are apart, and their outer ones from its
// edges.
func pitchWords(w *assess.PlateWork, u quantity.Units) string {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	across, high := int(w.Spec.Across.Or(2)), int(w.Spec.High.Or(2))
	wide, deep := float64(across-1)*w.Spec.PitchAcross.V(), float64(high-1)*w.Spec.PitchHigh.V()
	words := ""
	if across > 1 {
		words += ", pitch " + mm(w.Spec.PitchAcross.V()) + " across"
	}
	if high > 1 {
		words += ", pitch " + mm(w.Spec.PitchHigh.V()) + " up"
	}
	return words + fmt.Sprintf("; centres of the outer ones %s from either side, the lowest %s from the lower edge", mm((w.Figures.Width-wide)/2), mm(w.Middle-deep/2))
}

// stockLines say which bars are bought and how each is cut.
func stockLines(g assess.CutGroup, u quantity.Units) []string {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	switch {
	case len(g.Stock) == 0:
		return []string{"no [[stock]] of it is in the file; give one and the pieces are nested on it"}
	case !g.HasPlan:
		return []string{g.Why}
	}
	var out []string
	for i, bar := range g.Plan.Bars {
		stock := g.List.Stock[bar.Stock]
		from := "bought"
		if stock.OnHand {
			from = "on hand"
		}
		var cuts []string
		for _, c := range bar.Cuts {
			cuts = append(cuts, fmt.Sprintf("%s from %s to %s", g.List.Pieces[c.Piece].Name, mm(c.From), mm(c.To)))
		}
		cuts = append(cuts, mm(bar.Offcut)+" left")
		out = append(out, fmt.Sprintf("bar %d, %s, %s: %s", i+1, mm(stock.Length), from, strings.Join(cuts, "; ")))
	}
	why := "proved to be the least"
	if !g.Plan.Optimal {
		why = "not proved to be the least"
	}
	if g.Plan.Cost > 0 && g.Plan.Cost != g.Plan.Bought {
		why = fmt.Sprintf("which costs %.2f, %s", g.Plan.Cost, why)
	}
	return append(out, fmt.Sprintf("bought %s, %s; kerf %s, trim %s at one end of each bar, %s lost to both",
		mm(g.Plan.Bought), why, mm(g.List.Kerf), mm(g.List.Trim), mm(g.Plan.Waste)))
}

// twoFigures is a positive x to two figures, for what is only good to a quarter.
func twoFigures(x float64) float64 {
	if x <= 0 {
		return x
	}
	step := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Round(x/step) * step
}
