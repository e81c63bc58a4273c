// Package driveline is the pane that shows each driveline: its slopes and joint
// angles, planned and read side by side; what becomes of them between bump and
// droop; and what the shaft's maker is told. Each of the three is a leaf, and a
// leaf shows one line.
package driveline

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/sketch"
	"fitup/internal/ui/theme"
)

// Pane is the state of the Driveline pane: its leaves, and which line they show.
type Pane struct {
	pane.Leaves
	line int
}

// The leaves, in order.
const (
	angles = iota
	travel
	shaft
	leaves
)

// New makes the pane.
func New() *Pane {
	p := &Pane{}
	p.Leaves = pane.Leaves{Name: "Driveline", Foot: pane.Foot{Least: 2}, Notes: p.notes, Pages: []pane.Leaf{
		angles: p.leaf("angles", anglesItems, turnPlot,
			"A joint angle is not read but follows from the axes; put the cursor on an axis to enter a reading."),
		travel: p.leaf("travel", travelItems, travelPlot,
			"This follows from the placement and the suspension in the file."),
		shaft: p.leaf("shaft", shaftItems, nil,
			"This follows from the placement and the shaft's entries in the file."),
	}}
	return p
}

// leaf makes a page of rows and a plot, if any, of the line on show. follows is
// what is said where there is nothing to enter.
func (p *Pane) leaf(name string, rows func(int, *assess.Line, pane.View) []pane.Item, plot func(*assess.Line, pane.View) (sketch.Plot, bool), follows string) pane.Leaf {
	items := func(w int, v pane.View) []pane.Item {
		if len(v.A.Lines) == 0 {
			return []pane.Item{{Text: theme.Wrap(noLine, w-2)}}
		}
		return rows(w, p.shown(v), v)
	}
	return pane.Leaf{
		Name:  name,
		Items: items,
		Alone: plot != nil,
		Draw: func(w, h int, v pane.View) []string {
			if len(v.A.Lines) == 0 {
				return theme.Wrap(noLine, w)
			}
			if plot != nil {
				if plot, ok := plot(p.shown(v), v); ok {
					return p.beside(w, h, items, plot, v)
				}
			}
			return p.List(w, h, items(w, v), v)
		},
		Key: func(id action.ID, it pane.Item, _ int, v pane.View) pane.Intent { return p.rowKey(id, it, follows, v) },
	}
}

const noLine = "No driveline in this build yet. On the data page, under Lines and their axles, begin one with its pinion."

// Key turns an action into an intent.
func (p *Pane) Key(id action.ID, v pane.View) pane.Intent {
	if id == pane.More || id == pane.Less {
		if len(v.A.Lines) < 2 {
			return pane.Say{Text: "This build has one line; with several the arrows to the sides step through them."}
		}
		p.stepLine(id, len(v.A.Lines))
		return nil
	}
	return p.Leaves.Key(id, v)
}

// rowKey does what a row can do.
func (p *Pane) rowKey(id action.ID, it pane.Item, follows string, v pane.View) pane.Intent {
	if len(v.A.Lines) == 0 {
		if id == pane.Enter || id == pane.Read {
			return pane.Say{Text: noLine}
		}
		return nil
	}
	switch id {
	case pane.Enter, pane.Read:
		return p.ask(id, it, follows, v)
	case pane.Delete:
		if it.Reading == 0 {
			return pane.Say{Text: "There is no reading here to take out."}
		}
		return pane.DropReading{Index: it.Reading - 1}
	}
	return nil
}

// Words are what the sideways arrows and Enter do, for the footer.
func (p *Pane) Words(v pane.View) (sides, enter string) {
	if len(v.A.Lines) > 1 {
		sides = "line"
	}
	if p.Open() == angles {
		enter = "reading"
	}
	return sides, enter
}

func (p *Pane) stepLine(id action.ID, n int) {
	if n < 2 {
		return
	}
	by := 1
	if id == pane.Less {
		by = n - 1
	}
	p.line = (pane.Cursor(p.line, n) + by) % n
}

// ask opens the reading of the axis under the cursor. A new reading wanted
// elsewhere is taken to be of the first axis of this line that has none.
func (p *Pane) ask(id action.ID, it pane.Item, follows string, v pane.View) pane.Intent {
	if it.Target != "" {
		return pane.AskReading{Of: it.Target}
	}
	if id == pane.Read {
		for _, x := range p.shown(v).Axes {
			if !x.Read.Known {
				return pane.AskReading{Of: x.Target}
			}
		}
	}
	return pane.Say{Text: follows}
}

// shown is the line that the leaf shows; there has to be one.
func (p *Pane) shown(v pane.View) *assess.Line {
	return &v.A.Lines[max(pane.Cursor(p.line, len(v.A.Lines)), 0)]
}

// beside draws rows and the plot that belongs to them: side by side where the
// pane is wide, otherwise one above the other, or no plot without room for it.
func (p *Pane) beside(w, h int, items func(int, pane.View) []pane.Item, plot sketch.Plot, v pane.View) []string {
	if tw, cw := sides(w); cw > 0 && h >= leastPlot {
		rows := p.List(tw, h, items(tw, v), v)
		chart := draw(plot, cw, min(h, mostPlot), v)
		var out []string
		for i := range max(len(rows), len(chart)) {
			out = append(out, v.Theme.Pad(at(rows, i), tw+gap)+at(chart, i))
		}
		return out
	}
	all := items(w, v)
	const foot = 6
	ph := min(h-height(all)-foot, mostPlot)
	if ph < leastPlot {
		return p.List(w, h, all, v)
	}
	rows, chart := p.List(w, h-ph, all, v), draw(plot, w, ph, v)
	if p.Open() == travel {
		return append(chart, rows...)
	}
	for len(rows) < h-ph {
		rows = append(rows, "")
	}
	return append(rows, chart...)
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func height(items []pane.Item) int {
	n := 0
	for _, it := range items {
		n += len(it.Text)
	}
	return n
}

// notes say which line is shown when there are several.
func (p *Pane) notes(v pane.View) []string {
	n := len(v.A.Lines)
	if n < 2 {
		return nil
	}
	i := max(pane.Cursor(p.line, n), 0)
	of := fmt.Sprintf("%d of %d", i+1, n)
	name := project.Printable(v.A.Lines[i].Name)
	return []string{name + " line, " + of, name + ", " + of, of}
}

// Words and columns that the leaves share.

func says(role theme.Role, lines ...string) pane.Item { return pane.Item{Text: lines, Role: role} }

func heading(s string) pane.Item { return says(theme.Dim, s) }

// about is what the foot says about a finding.
func about(f assess.Finding, v pane.View) []string {
	out := []string{f.Title + ": " + f.Status.String() + ". " + v.Theme.Plain(f.Advice())}
	if len(f.Assumes) > 0 {
		out = append(out, v.Theme.Plain("Assumed: "+strings.Join(f.Assumes, "; ")+"."))
	}
	if !f.HasLimit {
		return out
	}
	side := "at most "
	if f.AtLeast {
		side = "at least "
	}
	limit := "Limit: " + side + v.Number(f.Kind, assess.Exact(f.Limit), v.Digits(f.Kind)) + " (" + f.Source
	if f.Changed {
		limit += ", changed"
	}
	return append(out, limit+").")
}

// worst returns the finding with the worst status of those there are, the first
// of several alike.
func worst(v pane.View, ids ...string) (assess.Finding, bool) {
	var out assess.Finding
	found := false
	for _, id := range ids {
		if f, ok := v.A.Finding(id); ok && (!found || f.Status > out.Status) {
			out, found = f, true
		}
	}
	return out, found
}
