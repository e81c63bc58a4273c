package ui

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/propose"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// proposals is the box with what a search for a better place has found: the proposals
// with a cursor, and below them what the one under it does.
type proposals struct {
	scroll
	at int
}

// openProposals opens it, and where nothing may move yet the box in which that is said.
func (m *Model) openProposals() {
	m.open(&proposals{})
	if len(m.now.Build.Find.Moves) == 0 && m.finder.last == nil {
		m.openMayMove()
	}
}

// proposalsOnTop reports whether the box has the keys.
func (m *Model) proposalsOnTop() bool {
	n := len(m.dialogs)
	if n == 0 {
		return false
	}
	_, ok := m.dialogs[n-1].(*proposals)
	return ok
}

// here is the proposal under the cursor, nil for none.
func (b *proposals) here(m *Model) *propose.Proposal {
	s := m.finder.last
	if s == nil || len(s.found()) == 0 {
		return nil
	}
	all := s.found()
	return &all[pane.Cursor(b.at, len(all))]
}

func (b *proposals) subject(*Model) string { return "" }

func (b *proposals) key(m *Model, k tea.KeyMsg) {
	id, _ := m.actions.Lookup(scopePropose, k.String())
	switch {
	case id == pane.Up && b.here(m) != nil:
		b.at, b.top = max(b.at-1, 0), 0
	case id == pane.Down && b.here(m) != nil:
		b.at, b.top = pane.Cursor(b.at+1, len(m.finder.last.found())), 0
	case id == actProposeGo && len(m.now.Build.Find.Moves) == 0:
		m.openMayMove()
	case id == actProposeGo:
		b.at, b.top = 0, 0
		m.startSearch()
	case id == actProposeTry:
		b.try(m)
	case id == actProposeKeep:
		b.keep(m)
	case id == actProposeJobs:
		b.jobs(m)
	case id == actProposeNext:
		m.startWeighing()
	case id == actProposeTrials:
		m.openTrials()
	case id == actProposeData:
		m.openMayMove()
	case id == actUndo, id == actRedo:
		m.perform(id)
	case id == actPropose, k.String() != " " && leavesPage(k):
		m.close()
	default:
		b.move(k)
	}
}

// chosen is the proposal under the cursor where it is one of the build as it is; what
// stands in its way is said.
func (b *proposals) chosen(m *Model) *propose.Proposal {
	x := b.here(m)
	switch {
	case x == nil:
		m.say(theme.Dim, "There is no proposal here yet; %s searches.", m.keyText(actProposeGo))
	case !m.finder.last.stands(m.now.Build):
		m.say(theme.Doubt, "The build has been changed since this was searched; %s searches it as it is.", m.keyText(actProposeGo))
	case len(x.Moves) == 0:
		m.say(theme.Dim, "This one leaves everything where it is.")
	default:
		return x
	}
	return nil
}

// try moves what the proposal under the cursor moves.
func (b *proposals) try(m *Model) {
	x := b.chosen(m)
	if x == nil {
		return
	}
	words := x.Words(m.now.Build)
	edits, gone, err := edit.Moves(m.sess.Now(), assess.Placed, x.MovesTo()...)
	if err != nil {
		m.say(theme.Danger, "Cannot be tried: %s", firstLine(err))
		return
	}
	if !m.do("tried: "+project.Printable(words), edits...) {
		return
	}
	m.saysGone(gone)
	m.saysUndo()
}

// write makes edits that leave what was searched as it was.
func (b *proposals) write(m *Model, label string, edits []edit.Edit) bool {
	if !m.do(label, edits...) {
		return false
	}
	m.finder.last.same = append(m.finder.last.same, m.now.Build)
	m.saysUndo()
	return true
}

// keep keeps the proposal under the cursor as a trial, by the name that is typed.
func (b *proposals) keep(m *Model) {
	x := b.chosen(m)
	if x == nil {
		return
	}
	check := func(text string) (string, error) {
		return "", edit.FreeTrial(m.sess.Now().Build, strings.TrimSpace(text))
	}
	a := &ask{title: "Keep as a trial", field: field.New("a name for it", freeTrialName(m.now.Build, x.Kinds[0]), check).WithTheme(m.theme)}
	a.accept = func(m *Model, text string) bool {
		name := strings.TrimSpace(text)
		edits, err := edit.KeepTrial(m.sess.Now(), name, strings.Join(x.Kinds, ", "), x.MovesTo()...)
		if err != nil {
			m.say(theme.Danger, "Not kept: %s", firstLine(err))
			return false
		}
		return b.write(m, "kept as trial "+name, edits)
	}
	m.open(a)
}

// freeTrialName is a name for a trial that the file has not.
func freeTrialName(b *project.Build, kind string) string {
	base := strings.ReplaceAll(kind, " ", "_")
	name := base
	for n := 2; edit.FreeTrial(b, name) != nil && n < 100; n++ {
		name = fmt.Sprintf("%s_%d", base, n)
	}
	return name
}

// jobs writes what the proposal under the cursor does into the job list.
func (b *proposals) jobs(m *Model) {
	x := b.chosen(m)
	if x == nil {
		return
	}
	steps := x.Jobs(m.now.Build)
	edits, err := edit.AddSteps(m.sess.Now(), steps...)
	if err != nil {
		m.say(theme.Danger, "Not written: %s", firstLine(err))
		return
	}
	b.write(m, fmt.Sprintf("%d jobs written before the first that is open", len(steps)), edits)
}

func (b *proposals) size(w, h int) (int, int) { return min(120, w-2), h - 2 }

func (b *proposals) draw(m *Model, w, h int) (string, string, []string) {
	p := proposalText{m: m, w: w}
	s := m.finder.last
	switch {
	case s == nil:
		p.asked()
	case !s.done:
		p.progress(s)
	default:
		p.outcome(s)
	}
	asked := m.finder.weighing != nil && m.finder.weighing.asked
	if asked {
		p.measureNext()
	}
	all := []propose.Proposal(nil)
	if s != nil {
		all = s.found()
	}
	for i := range all {
		p.proposal(&all[i], i, i == pane.Cursor(b.at, len(all)))
	}
	if x := b.here(m); x != nil {
		if s.stands(m.now.Build) {
			p.says(theme.Dim, "", fmt.Sprintf("%s tries it, %s keeps it as a trial, %s writes it as jobs: undo takes each back.", m.keyText(actProposeTry), m.keyText(actProposeKeep), m.keyText(actProposeJobs)))
		}
		p.detail(s, x)
	}
	if !asked { // it comes by itself, and moves nothing that is being read
		p.measureNext()
	}
	shown, note := b.show(p.lines, h)
	keys := fmt.Sprintf("%s search, %s moves, %s measure next, %s trials", m.keyText(actProposeGo), m.keyText(actProposeData), m.keyText(actProposeNext), m.keyText(actProposeTrials))
	return "Proposals", strings.TrimSpace(note + "  " + keys), shown
}

// proposalText is the text of the box as it is written.
type proposalText struct {
	m     *Model
	w     int
	lines []string
}

// says adds a paragraph behind a lead.
func (p *proposalText) says(r theme.Role, lead, text string) {
	if text == "" {
		return
	}
	for _, l := range theme.Wrap(p.m.theme.Plain(project.Printable(text)), max(p.w-theme.Width(lead)-2, 1)) {
		p.lines = append(p.lines, " "+p.m.theme.Paint(r, lead+l))
		lead = strings.Repeat(" ", theme.Width(lead))
	}
}

// asked says what a search would do.
func (p *proposalText) asked() {
	b := p.m.now.Build
	if len(b.Find.Moves) == 0 {
		p.says(theme.Doubt, "", fmt.Sprintf("Nothing may move yet. Press %s to say what may, how far and in which steps.", p.m.keyText(actProposeData)))
		return
	}
	p.says(theme.Title, "", "What may move")
	for _, f := range b.Find.Moves {
		work := ""
		if f.Work != "" {
			work = ", " + string(f.Work)
		}
		p.says(theme.Text, "  ", f.Of+": "+strings.Join(f.Range, " to ")+" by "+f.Step+work)
	}
	hold := "every finding that a move can change and that is known"
	if len(b.Find.Hold) > 0 {
		hold = strings.Join(b.Find.Hold, ", ")
	}
	p.says(theme.Text, "", "What must hold: "+hold+".")
	p.says(theme.Dim, "", "Press "+p.m.keyText(actProposeGo)+" to search beside the screen: close this and go on working.")
}

// progress says how far a search is.
func (p *proposalText) progress(s *searching) {
	text := "Searching."
	if at := s.shown; at != nil {
		text = fmt.Sprintf("Looking for %s: %.0f %% ruled out, %d places tried, %d found so far.", at.What, 100*at.Settled, at.Judged, len(at.Found))
	}
	p.says(theme.Accent, "", text)
	p.stale(s)
}

// stale says that a search is of the build before a change.
func (p *proposalText) stale(s *searching) {
	if !s.stands(p.m.now.Build) {
		p.says(theme.Doubt, "", "The build has been changed since: this is of how it stood before.")
	}
}

// outcome says what a search came to.
func (p *proposalText) outcome(s *searching) {
	p.stale(s)
	a := &s.answer
	switch {
	case s.faulted() != nil:
		p.says(theme.Danger, "", ownFault("The search", s.faulted()))
		return // what is said of it is half made
	case s.failed != nil:
		p.says(theme.Doubt, "", capital(firstLine(s.failed))+".")
		p.asked()
	case len(a.Proposals) > 0:
		p.says(theme.Dim, "", fmt.Sprintf("%.0f places on these steps, %d worked out.%s", a.Places, a.Judged, stoppedEarly(a)))
	case a.None:
		p.none(s)
	default:
		p.says(theme.Doubt, "", fmt.Sprintf("No place was found, and %.2g %% of them are ruled out. This proves nothing: allow larger steps or shorter ranges, or hold fewer findings.", 100*a.Settled))
	}
	if s.problem != nil {
		for _, left := range s.problem.Left {
			p.says(theme.Dim, "  ", "Left out: "+left+".")
		}
		p.says(theme.Doubt, "", s.problem.NotKnownWords())
	}
}

func stoppedEarly(a *propose.Answer) string {
	if a.Stopped != nil && !errors.Is(a.Stopped, propose.ErrBudget) {
		return " The search was stopped: what is not said to be shown may be bettered."
	}
	return ""
}

// none writes the proof that there is none, and what conflicts.
func (p *proposalText) none(s *searching) {
	a := &s.answer
	text := "There is none: every place on these steps is ruled out. "
	switch {
	case len(a.Conflicts) == 1:
		text += "One finding alone does it:"
	case a.Irreducible:
		text += "These cannot all hold, and without any one of them the others can:"
	default:
		text += "These cannot all hold; it was not shown that none of them can be spared:"
	}
	p.says(theme.Title, "", text)
	for i := range a.Conflicts {
		c := &a.Conflicts[i]
		p.says(theme.Text, "  ", c.Finding.Title+": "+c.ShortWords(p.m.now.Build.Units, len(a.Conflicts) == 1))
		if c.Known && !math.IsInf(c.Short, 1) && len(c.At) > 0 {
			x := propose.Proposal{Moves: c.At}
			p.says(theme.Dim, "    ", "there: "+x.Words(s.of))
		}
	}
}

// proposal is a row of the list.
func (p *proposalText) proposal(x *propose.Proposal, i int, cursor bool) {
	mark, role := "  ", theme.Text
	if cursor {
		mark, role = p.m.theme.Pointer(), theme.Selected
	}
	kinds := strings.Join(x.Kinds, ", ")
	if !x.Best {
		kinds += " (of what was tried)"
	}
	p.lines = append(p.lines, p.m.theme.Cut(" "+p.m.theme.Paint(role, fmt.Sprintf("%s%d  %s", mark, i+1, kinds)), p.w))
	p.says(theme.Text, "     ", x.Words(p.m.finder.last.of))
}

// detail is what a proposal does to the findings.
func (p *proposalText) detail(s *searching, x *propose.Proposal) {
	p.lines = append(p.lines, "")
	if len(x.Again) > 0 {
		p.says(theme.Doubt, "", "Read again after it, since what rests on these is planned until then: "+p.m.now.Build.TargetWords(x.Again...)+".")
	}
	v := p.m.view(p.m.focus)
	t := pane.NewTable(p.w, 4, v)
	t.Heading("", "before", "after", "limit", "sure")
	for _, c := range compared(s, x) {
		was, is := c.Before, c.After
		limit := ""
		if is.HasLimit {
			limit = v.Cell(is.Kind, assess.Exact(is.Limit), v.Digits(is.Kind))
		}
		t.Row(t.Cells(is.Title, v.Cell(was.Kind, value(was), v.Digits(was.Kind)), v.Cell(is.Kind, value(is), v.Digits(is.Kind)), limit, cmp.Or(is.SureText(), "-")), nil, is)
	}
	rows, _ := pane.Rows(p.w, t.Out, -1, v)
	p.lines = append(p.lines, rows...)
}

// compared are the findings to look at: of a search under way, whose problem is at work,
// those that change.
func compared(s *searching, x *propose.Proposal) []propose.Compared {
	if s.done && s.problem != nil {
		return s.problem.Compared(x)
	}
	return nil
}

func value(f assess.Finding) assess.Number {
	if !f.HasValue {
		return assess.Number{}
	}
	return assess.Exact(f.Value)
}
