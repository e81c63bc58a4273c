package mounts

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// brackets is the leaf that shows how the leg of one mount is cut, what it
// uses of its strength, and how it differs from the other side.
type brackets struct {
	which int // the mount
	at    int // the row under the cursor
}

const noLegs = "No bracket in this build yet. [mount.left_front.leg] with a section begins one; testdata/example.toml shows its keys."

// bracketRow is one line of the leaf.
type bracketRow struct {
	text   string
	role   theme.Role
	advice string
	stop   bool
}

// key turns an action into an intent: left and right go to another mount.
func (b *brackets) key(id action.ID, v pane.View) pane.Intent {
	n := len(v.A.Brackets)
	if n == 0 {
		if id == pane.Enter {
			return pane.Say{Text: noLegs}
		}
		return nil
	}
	const anyWidth = 60 // which rows there are does not depend on it
	stops := stopsOf(b.rows(anyWidth, v))
	switch id {
	case pane.Less, pane.More:
		by := 1
		if id == pane.Less {
			by = n - 1
		}
		b.which, b.at = (pane.Cursor(b.which, n)+by)%n, 0
	case pane.Up:
		b.at = pane.Cursor(pane.Cursor(b.at, len(stops))-1, len(stops))
	case pane.Down:
		b.at = pane.Cursor(pane.Cursor(b.at, len(stops))+1, len(stops))
	case pane.Enter:
		return pane.Say{Text: "This follows from the placement and from [mount." + b.shown(v).Name + ".leg] in the file."}
	}
	return nil
}

// shown is the bracket on show; there has to be one.
func (b *brackets) shown(v pane.View) *assess.Bracket {
	return &v.A.Brackets[pane.Cursor(b.which, len(v.A.Brackets))]
}

func stopsOf(rows []bracketRow) []int {
	var out []int
	for i, r := range rows {
		if r.stop {
			out = append(out, i)
		}
	}
	return out
}

// draw returns the lines of the leaf for w by h cells, and the note of its
// border: which of the mounts it shows.
func (b *brackets) draw(w, h int, v pane.View) (lines []string, note string) {
	n := len(v.A.Brackets)
	if n == 0 {
		return theme.Wrap(noLegs, w), ""
	}
	if n > 1 {
		note = fmt.Sprintf("%d of %d", pane.Cursor(b.which, n)+1, n)
	}
	rows := b.rows(w, v)
	stops := stopsOf(rows)
	cursor := -1
	if len(stops) > 0 {
		cursor = stops[pane.Cursor(b.at, len(stops))]
	}
	for i, r := range rows {
		mark, role := "  ", r.role
		if i == cursor {
			mark = v.Theme.Bullet + " "
			if v.Focused {
				mark, role = v.Theme.Focus+" ", theme.Selected
			}
		}
		lines = append(lines, v.Theme.Cut(v.Theme.Paint(role, mark+r.text), w))
	}
	var foot []string
	if cursor >= 0 && rows[cursor].advice != "" {
		for _, l := range theme.Wrap(v.Theme.Plain(project.Printable(rows[cursor].advice)), w-2) {
			foot = append(foot, v.Theme.Paint(theme.Dim, "  "+l))
		}
	}
	room := h - len(lines)
	if room < len(foot) {
		room = min(len(foot), max(h/3, 1))
		top := pane.Window(max(cursor, 0), len(lines), h-room)
		lines = lines[top:min(len(lines), top+max(h-room, 0))]
	}
	return append(lines, foot[:min(len(foot), max(room, 0))]...), note
}

// The widths of a row: its label and its number; words follow where there is
// room.
const (
	bracketLabel = 20
	bracketValue = 10
)

func (b *brackets) rows(w int, v pane.View) []bracketRow {
	s := b.shown(v)
	out := []bracketRow{{text: project.Printable(s.Label + " leg, " + s.Section), role: theme.Title}}
	if !s.HasCut {
		role, word := theme.Doubt, "Not known: "
		if s.Wrong {
			role, word = theme.Bad, "Cannot be made: "
		}
		for _, l := range theme.Wrap(project.Printable(word+s.Why), w-2) {
			out = append(out, bracketRow{text: l, role: role})
		}
		return append(out, b.verdicts(s, w, v)...)
	}
	for _, r := range s.Rows() {
		text := b.columns(r.Label, v.Number(r.Kind, assess.Measure{V: r.V, Known: true}, v.Digits(r.Kind)), v)
		if words := "  " + r.Words; theme.Width(text+words) <= w-2 {
			text += words
		}
		out = append(out, bracketRow{text: text, role: theme.Text, stop: true, advice: r.Words})
	}
	out = append(out, b.verdicts(s, w, v)...)
	if t := s.Strength.Bolts.Tighten; t.Torque > 0 {
		out = append(out, bracketRow{role: theme.Text, stop: true,
			text:   b.columns("bolts, torque", v.Number(quantity.Torque, assess.Measure{V: t.Torque, Known: true}, 1), v),
			advice: "For the preload that is counted on, give or take a quarter. The torque of the bolts' maker comes first."})
	}
	return append(out, b.match(s, w, v)...)
}

func (b *brackets) columns(label, value string, v pane.View) string {
	return v.Theme.Pad(label, bracketLabel) + v.Theme.PadLeft(value, bracketValue)
}

// verdicts are the findings on the bracket, each with its sign.
func (b *brackets) verdicts(s *assess.Bracket, w int, v pane.View) []bracketRow {
	var out []bracketRow
	for _, f := range v.A.Findings {
		if !strings.HasPrefix(f.ID, "bracket."+s.Name+".") && !strings.HasPrefix(f.ID, "match."+s.Name+".") {
			continue
		}
		digits := v.Digits(f.Kind)
		if f.Kind == quantity.Number {
			digits = 2
		}
		value := "-"
		if f.HasValue {
			value = v.Number(f.Kind, assess.Measure{V: f.Value, Known: true}, digits)
		}
		st := pane.Status(f.Status)
		text := b.columns(short(f.ID), value, v) + "  " + v.Theme.Sign(st) + " " + f.Status.String()
		if limit := "  at most "; f.HasLimit {
			if f.AtLeast {
				limit = "  at least "
			}
			limit += v.Number(f.Kind, assess.Measure{V: f.Limit, Known: true}, digits)
			if theme.Width(text+limit) <= w-2 {
				text += limit
			}
		}
		out = append(out, bracketRow{text: text, role: st.Role(), stop: true, advice: f.Title + ". " + f.Advice})
	}
	return out
}

// short is what a finding is about, in few signs.
func short(id string) string {
	switch end := id[strings.LastIndexByte(id, '.')+1:]; end {
	case "fits":
		return "steepest saw setting"
	case "bending":
		return "leg, strength used"
	case "weld":
		return "weld, strength used"
	case "bolts":
		return "bolts, strength used"
	case "edge":
		if strings.Contains(id, "pad_plate") {
			return "pad plate, hole edge"
		}
		return "rail plate, hole edge"[:bracketLabel]
	case "place":
		return "built, pad off"
	case "lean":
		return "built, pad leans"
	case "foot":
		return "built, foot off"
	default:
		return end
	}
}

// match is the table of what differs from the mirror image of the other side.
func (b *brackets) match(s *assess.Bracket, w int, v pane.View) []bracketRow {
	if s.Match == nil {
		return nil
	}
	of := "after the " + strings.ReplaceAll(s.Match.Of, "_", " ") + " leg"
	if s.Match.AsBuilt {
		of += " as built"
	}
	num := func(r assess.MatchRow, x float64) string {
		return v.Number(r.Kind, assess.Measure{V: x, Known: true}, v.Digits(r.Kind))
	}
	out := []bracketRow{{text: of + ": differs by", role: theme.Dim}}
	for _, r := range s.Match.Rows(s.Name) {
		text := b.columns(v.Theme.Cut(r.Label, bracketLabel), num(r, r.By), v)
		if more := "  from " + num(r, r.Mirror) + " to " + num(r, r.Made); theme.Width(text+more) <= w-2 {
			text += more
		}
		out = append(out, bracketRow{text: text, role: theme.Text, stop: true,
			advice: "What this side's own pad and rail change in the plain mirror image."})
	}
	return out
}
