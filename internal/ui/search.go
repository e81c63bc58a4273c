package ui

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/ui/action"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/search"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// searchBox finds anything by words: an action, a value, a finding, a job, a part.
type searchBox struct {
	field  field.Model
	all    []sought
	index  *search.Index
	recent []int // places in all, the last first
	hits   []search.Hit
	at     int
	moved  bool // the cursor was moved since something was typed: it is in the list
	page   int  // rows on show
}

func newSearch(m *Model) *searchBox {
	s := &searchBox{field: field.New("Search", "", nil).WithTheme(m.theme), all: allSought(m), index: &search.Index{}, page: 10}
	places := make(map[string]int, len(m.recent))
	for i, t := range s.all {
		s.index.Add(t.entry)
		if len(m.recent) > 0 {
			places[t.id()] = i
		}
	}
	for _, id := range m.recent {
		if i, ok := places[id]; ok {
			s.recent = append(s.recent, i)
		}
	}
	s.find()
	return s
}

func (s *searchBox) find() {
	s.hits, s.at, s.moved = s.index.Find(s.field.Text(), s.recent), 0, false
}

func (s *searchBox) key(m *Model, k tea.KeyMsg) {
	switch k.String() {
	case "esc", "ctrl+c":
		m.close()
	case "up", "down", "pgup", "pgdown":
		s.move(k)
	case "enter":
		if len(s.hits) > 0 {
			s.choose(m, s.hits[s.at])
		}
	default:
		before := s.field.Text()
		if s.field, _ = s.field.Update(k); s.field.Text() != before {
			s.find()
		}
	}
}

// move moves the cursor through the list.
func (s *searchBox) move(k tea.KeyMsg) {
	by := map[string]int{"up": -1, "down": 1, "pgup": -s.page, "pgdown": s.page}[k.String()]
	s.at, s.moved = pane.Cursor(s.at+by, len(s.hits)), true
}

// choose goes to what was chosen, or does it. An action that changes the build is
// asked about where it was not named: it is not run on a guess.
func (s *searchBox) choose(m *Model, h search.Hit) {
	t := s.all[h.At]
	m.close()
	m.remember(t.id())
	if t.kind == anAction && h.By != search.Named && changes(t.action.ID) {
		why := "Only its description has these words. "
		if h.By == search.Scattered {
			why = "The letters lie scattered over its name. "
		}
		m.open(newSure(t.action.Label, why+t.action.Help, func(m *Model) { m.goTo(t) }))
		return
	}
	m.goTo(t)
}

// mostRecent is how many of the things that were searched for are remembered.
const mostRecent = 20

// remember notes what was searched for: it is offered first next time.
func (m *Model) remember(id string) {
	m.recent = slices.DeleteFunc(m.recent, func(s string) bool { return s == id })
	m.recent = slices.Insert(m.recent, 0, id)
	m.recent = m.recent[:min(len(m.recent), mostRecent)]
}

// changes reports whether an action does more than show something or open a
// form.
func changes(id action.ID) bool {
	return slices.Contains([]action.ID{pane.Less, pane.More, pane.Delete, pane.Tick, pane.DropJob, pane.JobUp, pane.JobDown,
		actJobList, actDoneTo, actEngine, actUndo, actRedo, actSave, actQuit,
		actDataMirror, actDataClear, actDataRemove, actDataCopy, actDataUp, actDataDown}, id)
}

func (s *searchBox) size(w, h int) (int, int) { return min(110, w-2), min(28, h-3) }

// wordRoom is the room of the word that says what a row is.
const wordRoom = 8

func (s *searchBox) draw(m *Model, w, h int) (string, string, []string) {
	lines := []string{s.field.View(w)[min(1, w)], ""}
	foot := s.foot(m, w)
	room := max(h-len(lines)-len(foot), 1)
	s.page = max(room-1, 1)
	top := pane.Window(s.at, len(s.hits), room)
	lines = append(lines, s.rows(m, w, top, min(top+room, len(s.hits)))...)
	if len(s.hits) == 0 {
		lines = append(lines, theme.Wrap("Nothing answers to that: no action, value, finding, job or part has these words.", max(w, 1))...)
	}
	for len(lines) < h-len(foot) {
		lines = append(lines, "")
	}
	note := "enter chooses, esc leaves"
	if n := len(s.hits); n > room && s.field.Text() != "" {
		note = fmt.Sprintf("%d of %d  ", s.at+1, n) + note
	}
	return "Search", note, append(lines, foot...)
}

// rows are the hits from one to before another: what each is, what it is called, and how
// it stands.
func (s *searchBox) rows(m *Model, w, from, to int) []string {
	clean := func(text string) string { return m.theme.Plain(project.Printable(text)) }
	states := make([]string, to-from)
	roles := make([]theme.Role, to-from)
	widest := 0
	for i := from; i < to; i++ {
		text, role := s.all[s.hits[i].At].state(m)
		states[i-from], roles[i-from] = clean(text), role
		widest = max(widest, theme.Width(states[i-from]))
	}
	widest = min(widest, w/3)
	words := max(w-2-wordRoom-1-widest, 1)
	var out []string
	for i := from; i < to; i++ {
		t := s.all[s.hits[i].At]
		mark, role := "  ", theme.Text
		if i == s.at {
			mark, role = m.theme.Focus+" ", theme.Selected
			if s.moved {
				mark = m.theme.Pointer()
			}
		}
		name, place := clean(t.entry.Name), clean(t.entry.Place)
		if place != "" {
			name = m.shorter(place, words-theme.Width(name)-2) + ": " + name
		}
		about := ""
		if room := words - theme.Width(name) - 2; room > 20 {
			about = m.theme.Cut("  "+clean(t.about()), room+2)
		}
		line := m.theme.Paint(role, m.theme.Cut(name, words)) + m.theme.Paint(theme.Dim, about)
		out = append(out, m.theme.Cut(m.theme.Paint(role, mark)+m.theme.Paint(theme.Dim, m.theme.Pad(t.kind.word(), wordRoom))+
			m.theme.Pad(line, words)+" "+m.theme.Paint(roles[i-from], states[i-from]), w))
	}
	return out
}

// shorter is a place in w cells: where there is no room for all of it, its beginning and
// its last part stay, which tell it from others.
func (m *Model) shorter(place string, w int) string {
	at := strings.LastIndex(place, ", ")
	if theme.Width(place) <= w || at < 0 {
		return place
	}
	last := place[at:]
	if room := w - theme.Width(last); room > 5 {
		return m.theme.Cut(place[:at], room) + last
	}
	return m.theme.Cut(place, max(w, 1))
}

// mostFoot is how many lines below the list say what Enter does.
const mostFoot = 3

// foot says what Enter does on the row under the cursor.
func (s *searchBox) foot(m *Model, w int) []string {
	if len(s.hits) == 0 {
		return nil
	}
	text := s.all[s.hits[s.at].At].does(m)
	lines := theme.Wrap(m.theme.Plain(project.Printable(text)), max(w-2, 1))
	if len(lines) > mostFoot {
		lines = append(lines[:mostFoot-1], m.theme.Cut(lines[mostFoot-1]+" "+lines[mostFoot], max(w-2, 1)))
	}
	for i, l := range lines {
		lines[i] = m.theme.Paint(theme.Dim, "  "+l)
	}
	return append([]string{""}, lines...)
}
