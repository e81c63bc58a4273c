package ui

import (
	"cmp"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/sheet"
	"fitup/internal/ui/action"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/pane/data"
	"fitup/internal/ui/search"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// soughtKind is what a thing is that can be searched for.
type soughtKind uint8

const (
	anAction soughtKind = iota
	aFinding
	aJob
	aPart
	aReading
	aValue
	aPage
)

func (k soughtKind) word() string {
	return [...]string{"action", "finding", "job", "part", "reading", "value", "page"}[k]
}

// sought is a thing that can be searched for.
type sought struct {
	kind    soughtKind
	entry   search.Entry
	action  *action.Action  // of an action
	finding *assess.Finding // of a finding
	job     *assess.Job     // of a job
	row     *sheet.Row      // of a value
	path    string          // of a value, a part or a reading; of a page its pane and name
	slot    layout.Slot     // of a page
	leaf    int             // of a page
}

// allSought is all that can be searched for: the actions that work where the bench
// stands, the pages of the panes, what is judged, the jobs, the parts, and every value that the file has or
// could have.
func allSought(m *Model) []sought {
	var out []sought
	for _, a := range searchable(m) {
		out = append(out, sought{kind: anAction, action: &a, entry: search.Entry{Name: a.Label, More: a.Help + " " + string(a.ID)}})
	}
	for i, p := range m.panes {
		paged, ok := p.(pane.Paged)
		if !ok {
			continue
		}
		for k, leaf := range paged.Leafs() {
			of := benchPanes[i].name
			out = append(out, sought{kind: aPage, slot: layout.Slot(i), leaf: k, path: of + " " + leaf,
				entry: search.Entry{Name: leaf, Place: of, More: "page of the " + of + " pane"}})
		}
	}
	for _, f := range worstFirst(m.now) {
		out = append(out, sought{kind: aFinding, finding: &f, entry: search.Entry{Name: f.Title, More: f.ID + " " + f.Status.String()}})
	}
	for i := range m.now.Jobs {
		j := &m.now.Jobs[i]
		out = append(out, sought{kind: aJob, job: j, entry: search.Entry{Name: j.Title, More: j.ID + " " + j.Stage}})
	}
	if sh := m.sheet(); sh != nil {
		out = fromSheet(m, sh, out)
	}
	return out
}

// fromSheet adds the parts and the values of a sheet. A placement row has the name that
// the Mounts pane gives it.
func fromSheet(m *Model, sh *sheet.Sheet, out []sought) []sought {
	for _, s := range sh.Sections {
		if kind, ok := partKind(s); ok {
			out = append(out, sought{kind: kind, path: s.ID, entry: search.Entry{Name: s.Full, More: s.ID}})
		}
	}
	rows := map[string]string{}
	for _, r := range m.now.Rows {
		rows[r.Name] = r.Label
	}
	chapters := sheet.Chapters()
	for _, s := range sh.Sections {
		more := chapters[s.Chapter] + " " + s.Path + " "
		for j := range s.Rows {
			r := &s.Rows[j]
			out = append(out, sought{kind: aValue, path: r.Path, row: r, entry: search.Entry{
				Name: cmp.Or(rows[r.Path], r.Label), Place: s.Full, About: r.About, More: more + lastPart(r.Path), Less: !r.Given || s.List == "job"}})
		}
	}
	return out
}

// searchable are the actions that work where the bench stands.
func searchable(m *Model) []action.Action {
	scope := scopeOf(m.focus)
	if m.dataOnTop() {
		scope = scopeData
	}
	return slices.DeleteFunc(m.actions.ForScope(scope), func(a action.Action) bool { return a.ID == actSearch })
}

// dataOnTop reports whether the data page is open and nothing lies over it.
func (m *Model) dataOnTop() bool {
	n := len(m.dialogs)
	return n > 0 && m.data != nil && m.dialogs[n-1] == dialog(m.data)
}

// partKind says whether a section stands in the list by itself: an entry that the file
// has, and as what.
func partKind(s sheet.Section) (soughtKind, bool) {
	switch {
	case !s.Entry() || s.List == "job":
		return 0, false
	case s.List == "reading" || s.List == "measure":
		return aReading, true
	}
	return aPart, true
}

func lastPart(path string) string { return path[strings.LastIndexByte(path, '.')+1:] }

// id is the same for the same thing in another search.
func (t sought) id() string {
	switch t.kind {
	case anAction:
		return "action " + string(t.action.ID)
	case aFinding:
		return "finding " + t.finding.ID
	case aJob:
		return "job " + t.job.ID
	}
	return t.kind.word() + " " + t.path
}

// about is what it is, where there is room for it.
func (t sought) about() string {
	if t.kind == anAction {
		return t.action.Help
	}
	return t.entry.About
}

// state is what stands beside it: the keys of an action, a verdict, the value.
func (t sought) state(m *Model) (string, theme.Role) {
	switch t.kind {
	case anAction:
		return t.action.KeyText(), theme.Key
	case aFinding:
		s := pane.Status(t.finding.Status)
		text := m.theme.Sign(s) + " " + s.Word()
		if t.finding.HasValue {
			text += "  " + m.view(m.focus).Against(*t.finding)
		}
		return text, s.Role()
	case aJob:
		return t.job.State.String(), theme.Dim
	case aValue:
		if !t.row.Given {
			return "not given", theme.Dim
		}
		return data.WithUnit(*t.row, t.row.Text, m.now.Build.Units), theme.Value
	}
	return "", theme.Dim
}

// does says what Enter does.
func (t sought) does(m *Model) string {
	switch t.kind {
	case anAction:
		text := "Does it: " + t.action.Help
		if changes(t.action.ID) {
			text += t.acts(m)
		}
		return text
	case aFinding:
		return "Shows it among the findings. " + m.theme.Plain(t.finding.Advice())
	case aJob:
		return "Goes to it in the job list; it changes nothing."
	case aPage:
		return "Turns the " + t.entry.Place + " pane to that page."
	case aPart, aReading:
		return "Goes to it on the data page; it changes nothing."
	}
	about := t.row.About
	if t.row.How != "" {
		about += ". " + t.row.How
	}
	return "Goes to it on the data page, where Enter types it: " + about
}

// acts says on what an action that changes something works.
func (t sought) acts(m *Model) string {
	switch t.action.ID {
	case pane.Less, pane.More:
		in, ok := m.peek(scopeMounts, t.action.ID).(pane.Nudge)
		if row := m.rowInfo(in.Row); ok && row.Now.Known {
			v := m.view(m.focus)
			to := assess.Exact(row.Now.V + float64(in.Steps)*m.steps[m.step].For(row.Kind))
			return " Now: " + row.Label + " " + v.Number(row.Kind, row.Now, v.Digits(row.Kind)) + " " + m.theme.Right + " " +
				v.Number(row.Kind, to, v.Digits(row.Kind)) + "."
		}
	case pane.Tick:
		if in, ok := m.peek(scopeJobs, t.action.ID).(pane.ToggleJob); ok {
			return " Now: " + m.now.Jobs[in.Index].Title + "."
		}
	case pane.DropJob:
		if in, ok := m.peek(scopeJobs, t.action.ID).(pane.RemoveJob); ok {
			return " Now: " + m.now.Jobs[in.Index].Title + "."
		}
	case pane.Delete:
		if in, ok := m.peek(scopeDriveline, t.action.ID).(pane.DropReading); ok && in.Index >= 0 && in.Index < len(m.now.Build.Readings) {
			return " Now: " + m.readingWords(in.Index) + "."
		}
	}
	return ""
}

// peek is what the pane in focus would ask for, where it is that of a scope. None of the
// actions that this is for moves a cursor there.
func (m *Model) peek(s action.Scope, id action.ID) pane.Intent {
	if scopeOf(m.focus) != s || m.data != nil && slices.Contains(m.dialogs, dialog(m.data)) {
		return nil
	}
	return m.paneKey(id)
}

// goTo goes to a thing that was searched for, or does it.
func (m *Model) goTo(t sought) {
	switch t.kind {
	case anAction:
		m.performFound(t.action.ID)
	case aFinding:
		f := newFindings(m)
		f.at = slices.IndexFunc(worstFirst(m.now), func(x assess.Finding) bool { return x.ID == t.finding.ID })
		m.open(f)
	case aJob:
		m.leavePages()
		m.focus = paneWith(scopeJobs)
		m.point()
		if i := slices.IndexFunc(m.now.Jobs, func(j assess.Job) bool { return j.ID == t.job.ID }); i >= 0 {
			m.jobs().ShowStep(i)
		}
	case aPage:
		m.leavePages()
		m.focus = t.slot
		m.panes[t.slot].(pane.Paged).Show(t.leaf)
		m.point()
	default:
		if !m.openData().Go(t.path) {
			m.say(theme.Doubt, "The file was changed meanwhile and has no %s any more.", project.Printable(t.path))
		}
	}
}

// performFound does an action that was found: on the data page where that is open and
// has it, on the bench otherwise.
func (m *Model) performFound(id action.ID) {
	if !m.dataOnTop() {
		m.perform(id)
		return
	}
	if a, ok := m.actions.Get(id); ok && (a.Scope == scopeData || m.data.has(id)) {
		m.data.perform(m, id, tea.KeyMsg{})
		m.data.refresh(m)
		return
	}
	m.leavePages()
	m.perform(id)
}

// leavePages closes what lies over the panes.
func (m *Model) leavePages() { m.dialogs = nil }
