// Package mounts is the pane in which the powertrain is placed: one row for
// each thing a builder moves, and what one step of it does to the finding in
// trouble. Further leaves show the room round it, its brackets and
// what its mounts carry, and how it shakes on them.
package mounts

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// Pane is the state of the Mounts pane: its leaves, the first of which has a
// cursor that the others use too.
type Pane struct{ pane.Leaves }

// The leaves, in order.
const (
	placement = iota
	clearances
	brackets
	loads
	shaking
)

// New makes the pane.
func New() *Pane {
	p := &Pane{}
	p.Leaves = pane.Leaves{Name: "Mounts", Foot: pane.Foot{Least: 3, Whole: true}, Notes: p.notes, Pages: []pane.Leaf{
		placement:  {Name: "placement", Items: placementItems, Draw: p.drawPlacement},
		clearances: {Name: "clearances", Items: clearanceItems},
		brackets:   {Name: "brackets", Items: bracketItems},
		loads:      {Name: "loads", Items: loadItems},
		shaking:    {Name: "shaking", Items: shakingItems},
	}}
	return p
}

// rowWidth is the room of label and value; what is left shows the effect.
const (
	labelWidth  = 12
	valueWidth  = 22
	effectWidth = 9 // a change with three decimals and a sign
)

// Key turns an action into an intent. Only the first leaf has rows that can be
// moved; the others show what follows, and lead to the values behind it.
func (p *Pane) Key(id action.ID, v pane.View) pane.Intent {
	switch {
	case p.Open() == placement && (id == pane.Less || id == pane.More || id == pane.Enter):
		return p.PlacementKey(id, v)
	case id == pane.Less || id == pane.More:
		return pane.Say{Text: "Nothing is moved on this page: it shows what follows. Turn to the placement page to move the powertrain, or press Enter for the values behind a row."}
	case id == pane.Enter:
		return pane.ShowData{}
	}
	return p.Leaves.Key(id, v)
}

// Words are what the sideways arrows and Enter do on the open leaf, for the footer.
func (p *Pane) Words(pane.View) (sides, enter string) {
	if p.Open() == placement {
		return "nudge", "type"
	}
	return "", "data"
}

// PlacementKey is Key with the first leaf open, whichever is.
func (p *Pane) PlacementKey(id action.ID, v pane.View) pane.Intent {
	n := len(v.A.Rows)
	at := p.At(placement, n)
	row := v.A.Rows[at]
	switch id {
	case pane.Up:
		p.Put(placement, pane.Cursor(at-1, n))
	case pane.Down:
		p.Put(placement, pane.Cursor(at+1, n))
	case pane.Less, pane.More:
		if !v.A.Pose.Known {
			return pane.Say{Text: "Cannot move it: " + v.A.Pose.Why}
		}
		steps := 1
		if id == pane.Less {
			steps = -1
		}
		return pane.Nudge{Row: row.Row, Steps: steps}
	case pane.Enter:
		return pane.AskRow{Row: row.Row}
	}
	return nil
}

// Row returns the row under the cursor of the first leaf.
func (p *Pane) Row(v pane.View) assess.Row { return v.A.Rows[p.At(placement, len(v.A.Rows))] }

// notes say how far one key press moves, and what, where that is not on show.
func (p *Pane) notes(v pane.View) []string {
	step := p.step(v)
	if p.Open() == placement {
		return []string{step}
	}
	return []string{""}
}

// placementItems are the rows a builder moves.
func placementItems(w int, v pane.View) []pane.Item {
	var out []pane.Item
	for _, r := range v.A.Rows {
		out = append(out, pane.Item{Stop: true, Subject: r.Name, Paint: func(mark string, role theme.Role) string { return placementRow(w, r, mark, role, v) }})
	}
	return out
}

// drawPlacement draws the rows and the finding in trouble below them.
func (p *Pane) drawPlacement(w, h int, v pane.View) []string {
	var lines []string
	if h > len(v.A.Rows)+3 {
		lines = append(lines, v.Theme.Paint(theme.Dim, p.header(w, v)))
	}
	items := placementItems(w, v)
	rows, at := pane.Rows(w, items, p.At(placement, len(items)), v)
	lines = append(lines, rows...)
	if !v.A.Pose.Known {
		lines = append(lines, "")
		for _, l := range theme.Wrap(notPlaced(v), w) {
			lines = append(lines, v.Theme.Paint(theme.Doubt, l))
		}
	} else if v.HasW {
		lines = append(lines, p.watch(w, h-len(lines), v)...)
	}
	top := pane.Window(at, len(lines), h)
	v.Hide(len(lines), top, h)
	return lines[top:]
}

// Tell is the row under the cursor, and all there is to say of it: on the first leaf what
// one step does, and the finding in trouble.
func (p *Pane) Tell(v pane.View) (head string, words []string) {
	if p.Open() != placement {
		return p.Leaves.Tell(v)
	}
	r := p.Row(v)
	head = r.Label + " " + v.Number(r.Kind, r.Now, v.Digits(r.Kind))
	switch {
	case !v.A.Pose.Known:
		return head, []string{notPlaced(v)}
	case !v.HasW:
		return head, nil
	}
	if e, ok := v.Effect(r.Row); ok && e.Change.Known {
		words = append(words, oneStep(r, e, v))
	}
	return head, append(words, pane.About(v.Watch, v)...)
}

// notPlaced says why the powertrain has no place.
func notPlaced(v pane.View) string {
	return "Not placed: " + v.A.Pose.Why + ". Angles need only readings: press n."
}

// oneStep says what one step of a row does to the finding in trouble.
func oneStep(r assess.Row, e assess.Effect, v pane.View) string {
	return "one step of " + r.Short + ": " + changeText(v, e) + ", " + e.To.String()
}

// step says how far one key press moves, for the row under the cursor.
func (p *Pane) step(v pane.View) string {
	r := p.Row(v)
	k := quantity.Length
	if v.Step.For(r.Kind) == v.Step.Angle {
		k = quantity.Angle
	}
	return "step " + v.Number(k, assess.Exact(v.Step.For(r.Kind)), v.StepDigits(k))
}

func (p *Pane) header(w int, v pane.View) string {
	s := "  " + v.Theme.Pad("", labelWidth) + v.Theme.PadLeft("from zero", valueWidth)
	if room := w - theme.Width(s); room >= effectWidth && v.HasW {
		s += v.Theme.PadLeft("one step", min(room, effectWidth+2))
	}
	return v.Theme.Cut(s, w)
}

func placementRow(w int, r assess.Row, mark string, role theme.Role, v pane.View) string {
	value := "-"
	room := valueWidth + max(labelWidth-theme.Width(r.Short)-2, 0) // and what a short label leaves
	if r.Now.Known {
		value = fitting(r, room, v)
	}
	room = max(min(room, theme.Width(value)), valueWidth)
	s := v.Theme.Paint(role, mark+v.Theme.Pad(r.Short, labelWidth+valueWidth-room)+v.Theme.PadLeft(value, room))
	if room := w - 2 - labelWidth - valueWidth; room >= effectWidth {
		s += strings.Repeat(" ", min(room-effectWidth, 2)) + effect(r, room >= effectWidth+2+pane.WordRoom, v)
	}
	return s
}

// fitting is the value of a row in as many words as it has room for; a number
// or a direction that is cut could be read as another one.
func fitting(r assess.Row, room int, v pane.View) string {
	full := v.Number(r.Kind, r.Now, v.Digits(r.Kind))
	for _, s := range []string{full, strings.TrimSuffix(full, " to the rear")} {
		if theme.Width(s) <= room {
			return s
		}
	}
	return v.Cell(r.Kind, r.Now, v.Digits(r.Kind))
}

// effect says what one step up does to the finding in trouble, with the word of the
// verdict where there is room.
func effect(r assess.Row, words bool, v pane.View) string {
	if !v.HasW {
		return ""
	}
	e, ok := v.Effect(r.Row)
	if !ok {
		return ""
	}
	verdict := v.Theme.StatusSign(pane.Status(e.To))
	if words {
		verdict = v.Theme.Status(pane.Status(e.To))
	}
	if !e.Change.Known {
		return verdict
	}
	d := quantity.Short(v.Watch.Kind, e.Change.V, v.Units(), v.Digits(v.Watch.Kind)+1)
	if e.Change.V >= 0 {
		d = "+" + d
	}
	return v.Theme.PadLeft(d, effectWidth-2) + " " + verdict
}

func changeText(v pane.View, e assess.Effect) string {
	sign := "+"
	if e.Change.V < 0 {
		sign = "-"
	}
	d := e.Change
	if d.V < 0 {
		d.V = -d.V
	}
	return sign + v.Number(v.Watch.Kind, d, v.Digits(v.Watch.Kind)+1)
}

// watch names the finding in trouble and, for the row under the cursor, what
// one step does to it.
func (p *Pane) watch(w, room int, v pane.View) []string {
	if room < 2 {
		return nil
	}
	var out []string
	if room > 4 {
		out = append(out, "")
	}
	head := v.Theme.Sign(pane.Status(v.Watch.Status)) + " " + v.Watch.Status.String() + ": " + v.Watch.Title
	if v.Watch.HasValue {
		head += " " + v.Against(v.Watch)
	}
	for _, l := range theme.Wrap(head, w) {
		out = append(out, v.Theme.Paint(pane.Status(v.Watch.Status).Role(), l))
	}
	r := p.Row(v)
	if e, ok := v.Effect(r.Row); ok && e.Change.Known {
		out = append(out, v.Theme.Cut("  "+oneStep(r, e, v), w))
	}
	out = out[:min(len(out), room)]
	if room > len(out) {
		out = append(out, p.Foot.Draw(w, room-len(out), []string{v.Watch.Advice()}, v)...)
	}
	return out
}
