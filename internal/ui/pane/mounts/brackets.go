package mounts

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// bracketItems are the legs: all of them in a table with their verdicts, then
// each with its cuts, what it uses of its strength, and how it differs from the
// mirror image of the other side's.
func bracketItems(w int, v pane.View) []pane.Item {
	if len(v.A.Brackets) == 0 && len(v.A.Adapters) == 0 {
		return pane.Says(w, theme.Text, "No brackets yet. On the data page, under a mount, its leg begins with a section, such as SHS 50x50x3 cold, "+
			"and standing, the height of the isolator. A mount of several members has a kind under bracket. The leg of the other side needs only what it mirrors: match.")
	}
	t := newTable(w, 3, v)
	heads, unit := []string{"overall", "long", "short"}, "in "+quantity.UnitName(quantity.Length, v.Units())
	angles := t.W >= sawFrom
	if angles { // the saw's settings beside the lengths, where they have room
		heads, unit = append(heads, "pad cut", "rail cut"), quantity.UnitName(quantity.Length, v.Units())+", "+quantity.UnitName(quantity.Angle, v.Units())
	}
	t.Out = append(t.Out, pane.Heading(t.leg("leg, "+unit, heads)))
	for i := range v.A.Brackets {
		b := &v.A.Brackets[i]
		cells, more := []string{"-", "-", "-"}, []string(nil)
		if b.HasCut {
			cells = []string{t.Cell(quantity.Length, known(b.Overall())), t.Cell(quantity.Length, known(b.LongPoint())), t.Cell(quantity.Length, known(b.ShortPoint()))}
		}
		if angles {
			cells = append(cells, t.saw(b, "pad"), t.saw(b, "rail"))
			more = []string{"A cut is the saw's mitre and the tilt of its blade; the rows below say which way."}
		}
		t.Row(t.leg(b.Label, cells), more, bracketFindings(v, b)...)
		for _, m := range b.MemberCuts() {
			cells := []string{t.Cell(quantity.Length, known(m.Overall)), t.Cell(quantity.Length, known(m.Rows[1].V)), t.Cell(quantity.Length, known(m.Rows[2].V))}
			if angles {
				cells = append(cells, memberSaw(t, m, "first end"), memberSaw(t, m, "second end"))
			}
			t.Row(t.leg("  "+m.Name, cells), nil, bracketFindings(v, b)...)
		}
	}
	out := t.Out
	for i := range v.A.Brackets {
		b := &v.A.Brackets[i]
		if b.HasCut {
			out = append(out, cutItems(w, b, v)...)
			out = append(out, useItems(w, b, v)...)
			out = append(out, matchItems(w, b, v)...)
		}
		if b.Plates != nil {
			out = append(out, foldItems(w, b, v)...)
			out = append(out, useItems(w, b, v)...)
		}
		if b.Members != nil {
			out = append(out, memberItems(w, b, v)...)
			out = append(out, useItems(w, b, v)...)
		}
	}
	for _, a := range v.A.Adapters {
		out = append(out, adapterItems(w, a, v)...)
	}
	return append(out, stockItems(w, v)...)
}

// sawFrom is how wide a table has to be for the saw's settings beside the lengths.
const sawFrom = 64

// leg sets what belongs to a leg in columns: its lengths, and the saw's settings
// where there are any.
func (t *table) leg(name string, figures []string) string {
	if len(figures) == 3 {
		return t.Cells(name, figures...)
	}
	const length, angle = 8, 12
	s := t.V.Theme.Pad(t.V.Theme.Plain(project.Printable(name)), t.W-2-3*length-2*angle)
	for i, f := range figures {
		s += t.V.Theme.PadLeft(f, [...]int{length, length, length, angle, angle}[i])
	}
	return s
}

// saw is how the saw stands for one end of a leg: mitre and tilt, or the mitre of a
// tube that is rolled.
func (t *table) saw(b *assess.Bracket, end string) string { return t.sawOf(b.Rows(), end) }

func memberSaw(t *table, m assess.MemberCut, end string) string { return t.sawOf(m.Rows, end) }

func (t *table) sawOf(rows []assess.BracketRow, end string) string {
	var mitre, tilt, roll string
	for _, r := range rows {
		text := t.Cell(r.Kind, known(r.V))
		switch r.Label {
		case end + " mitre":
			mitre = text
		case end + " tilt":
			tilt = "/" + text
		case end + " roll of the tube":
			roll = " r" + text
		}
	}
	switch {
	case mitre == "":
		return "-"
	case roll != "":
		return mitre + roll
	}
	return mitre + tilt
}

// bracketFindings are all findings on a leg.
func bracketFindings(v pane.View, b *assess.Bracket) []assess.Finding {
	var out []assess.Finding
	for _, f := range v.A.Findings {
		if finding.AboutBracket(f.ID, b.Name) {
			out = append(out, f)
		}
	}
	return out
}

// figures is a table of names with one number each, which has room for its
// unit.
func figures(w int, v pane.View) *table {
	t := newTable(w, 1, v)
	t.Width = max(t.Width, 13)
	return t
}

func (t *table) number(k quantity.Kind, x float64) string {
	return t.V.Number(k, known(x), t.V.TableDigits(k))
}

// cutItems is how a leg is cut.
func cutItems(w int, b *assess.Bracket, v pane.View) []pane.Item {
	t := figures(w, v)
	t.Out = append(t.Out, pane.Heading(v.Theme.Cut(v.Theme.Plain(project.Printable(b.Label+" leg, "+b.Section)), t.W)))
	if figures := b.SectionFigures(v.Units()); figures != "" {
		t.Out = append(t.Out, pane.Says(w, theme.Dim, figures)...)
	}
	for _, r := range b.Rows() {
		t.Row(t.Cells(r.Label, t.number(r.Kind, r.V)), said(r.Label, r.Words))
	}
	return t.Out
}

// memberItems are how each member of a mount is cut, and how it differs from the
// mirrored one.
func memberItems(w int, b *assess.Bracket, v pane.View) []pane.Item {
	t := figures(w, v)
	for _, m := range b.MemberCuts() {
		t.Out = append(t.Out, pane.Heading(v.Theme.Cut(v.Theme.Plain(project.Printable(b.Label+" "+m.Name+", "+m.Section)), t.W)))
		for _, r := range m.Rows {
			t.Row(t.Cells(r.Label, t.number(r.Kind, r.V)), said(r.Label, r.Words))
		}
	}
	t.matches(b.Spec.Match, b.MemberMatches())
	return t.Out
}

func said(label, words string) []string {
	if words == "" {
		return nil
	}
	return []string{label + ": " + words + "."}
}

// useItems is what a bracket uses of its strength.
func useItems(w int, b *assess.Bracket, v pane.View) []pane.Item {
	t := figures(w, v)
	matched := b.Spec.Match != ""
	what := "leg"
	if b.Assembled {
		what = "members"
	}
	if b.Plates != nil {
		what = "plate"
	}
	for _, r := range []struct{ id, label string }{
		{finding.BracketBending(b.Name), what + ", screening use"}, {finding.BracketStruts(b.Name), "buckling, screening use"}, {finding.BracketWeld(b.Name), "weld, screening use"},
		{finding.BracketSeams(b.Name), "corner welds, screening use"}, {finding.BracketGrip(b.Name), "grip of the clamp, screening use"},
		{finding.BracketGusset(b.Name), "gussets, screening use"},
		{finding.BracketWeldSize(b.Name), "weld, size of the fillet"}, {finding.BracketBolts(b.Name), "bolts, screening use"},
		{finding.BracketPin(b.Name), "through bolt, screening use"},
		{finding.PadPlateBending(b.Name), "pad plate, screening use"}, {finding.RailPlateBending(b.Name), "rail plate, screening use"},
		{finding.BuiltPlace(b.Name, matched), "as built, pad off its place"}, {finding.BuiltLean(b.Name, matched), "as built, lean of the pad"},
		{finding.BuiltTwist(b.Name, matched), "as built, twist of the pad"},
		{finding.BuiltFoot(b.Name, matched), "as built, foot off its place"},
	} {
		for _, f := range pane.Findings(v, r.id) {
			value := "-"
			if f.HasValue {
				value = t.number(f.Kind, f.Value)
			}
			t.Row(t.Cells(r.label, value), nil, f)
		}
	}
	for _, r := range b.FixingRows() {
		t.Row(t.Cells(r.Label, t.number(r.Kind, r.V)), said(r.Label, r.Words))
	}
	if s := b.Strength.Bolts.Tighten; s.Torque > 0 {
		t.Row(t.Cells("bolts, torque", t.number(quantity.Torque, s.Torque)), []string{
			"For the preload that is counted on, give or take a quarter. The torque of the bolts' maker comes first."})
	}
	return t.Out
}

// matchItems is what differs from the mirror image of the other side's leg.
func matchItems(w int, b *assess.Bracket, v pane.View) []pane.Item {
	if b.Match == nil {
		return nil
	}
	of := strings.ReplaceAll(b.Match.Of, "_", " ")
	if b.Match.AsBuilt {
		of += " as built"
	}
	t := figures(w, v)
	t.Heading("differs from the mirrored "+of+" by", "")
	if !b.Match.SameMark {
		t.Out = append(t.Out, pane.Says(w, theme.Text, "Stations are taken to begin at the same place on both rails: scribe a line square across both and enter it as mark of both legs. "+
			b.Match.NoMark+".")...)
	}
	for _, r := range b.MatchRows() {
		t.Row(t.Cells(r.Label, t.number(r.Kind, r.By)), []string{
			"From " + t.number(r.Kind, r.Mirror) + " to " + t.number(r.Kind, r.Made) + ", for this side's own pad and rail."})
	}
	return t.Out
}

// stockItems is what the legs are cut from.
func stockItems(w int, v pane.View) []pane.Item {
	t := figures(w, v)
	for _, f := range v.A.Findings {
		if !finding.IsStock(f.ID) {
			continue
		}
		if len(t.Out) == 0 {
			t.Heading("stock bought", "")
		}
		value := "-"
		if f.HasValue {
			value = t.number(f.Kind, f.Value)
		}
		t.Row(t.Cells(strings.TrimSuffix(f.Title, ", stock bought"), value), nil, f)
	}
	return t.Out
}
