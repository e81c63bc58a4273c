package ui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// causeWord says where Enter leads from a finding.
func causeWord(f assess.Finding) string {
	if f.Status == assess.NotKnown {
		return "what it lacks"
	}
	return "what moves it"
}

// openCause leads from a finding to its cause: to the first value that it lacks, or to
// the values that move it.
func (m *Model) openCause(f assess.Finding) {
	if f.Status != assess.NotKnown {
		m.open(newMovers(m, f))
		return
	}
	if target, ok := m.unread(f); ok {
		m.open(newReading(m, target))
		return
	}
	d := m.openData()
	d.cause = f.ID
	if lacks := f.Lacks(); len(lacks) > 0 && (d.Go(lacks[0]) || d.goTable(lacks[0])) {
		return
	}
	for _, find := range []func() (string, bool){
		func() (string, bool) { return d.Sheet.Lacking(f.Missing) },
		func() (string, bool) { return d.Sheet.HalfRead(f.Missing) },
		func() (string, bool) { return d.Sheet.About(f.ID) },
	} {
		if path, ok := find(); ok && d.Go(path) {
			return
		}
	}
}

// unread is the target of the reading that a finding waits for.
func (m *Model) unread(f assess.Finding) (string, bool) {
	at, ok := strings.CutSuffix(f.ID, ".read")
	if !ok {
		return "", false
	}
	for _, t := range m.now.Build.Targets() {
		if t == at || !strings.Contains(t, ".") && strings.HasSuffix(at, "."+t) {
			return t, true
		}
	}
	return "", false
}

// movers lists what moves a finding: what can be moved, with what one step of it does,
// the most first.
type movers struct {
	of   assess.Finding
	all  []mover
	at   int
	base *assess.Assessment
}

// mover is something that can be moved, and what one step up does to the finding.
type mover struct {
	of     project.Movable
	step   float64
	change float64
	to     assess.Status
}

func newMovers(m *Model, f assess.Finding) *movers {
	d := &movers{of: f, base: m.now}
	which := assess.For(f.ID)
	for _, x := range m.now.Build.Movables() {
		now, err := m.now.Build.Reads(x)
		if err != nil {
			continue
		}
		step := m.steps[m.step].For(x.Kind())
		moved, err := m.now.After([]project.Move{{Of: x, To: now + step}}, which)
		if err != nil {
			continue
		}
		if g, ok := moved.Finding(f.ID); ok && g.HasValue && math.Abs(g.Value-f.Value) > 1e-9*max(1, math.Abs(f.Value)) {
			d.all = append(d.all, mover{x, step, g.Value - f.Value, g.Status})
		}
	}
	slices.SortStableFunc(d.all, func(a, b mover) int {
		switch x, y := math.Abs(a.change), math.Abs(b.change); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return d
}

func (d *movers) key(m *Model, k tea.KeyMsg) {
	switch k.String() {
	case "up", "k":
		d.at = pane.Cursor(d.at-1, len(d.all))
	case "down", "j":
		d.at = pane.Cursor(d.at+1, len(d.all))
	case "enter":
		m.close()
		if len(d.all) > 0 {
			m.openData().goMovable(m, d.all[pane.Cursor(d.at, len(d.all))].of)
			return
		}
		p := m.openData()
		if path, ok := p.Sheet.About(d.of.ID); ok {
			p.Go(path)
		}
	case "esc", "q", "ctrl+c":
		m.close()
	}
}

// goMovable puts the cursor on the value of what can be moved: that of a joint's height
// is its place, and the whole is moved by its three pads.
func (d *dataPage) goMovable(m *Model, x project.Movable) {
	f := m.sess.Now()
	path := f.Resolve(x.Path())
	for _, end := range []string{".height", ".offset"} {
		path = strings.TrimSuffix(path, end)
	}
	if !d.Go(path) {
		d.Go("placement.left_front")
	}
}

func (d *movers) subject(*Model) string { return d.of.ID }

func (d *movers) size(w, h int) (int, int) { return min(84, w-4), min(len(d.all)+9, h-4) }

func (d *movers) draw(m *Model, w, h int) (string, string, []string) {
	v := m.view(m.focus)
	lines := theme.Wrap(project.Printable(d.of.Title)+": "+figures(m, d.of), max(w-2, 1))
	if len(d.all) == 0 {
		lines = append(lines, "")
		lines = append(lines, theme.Wrap("Nothing that can be moved moves it by a step. Enter opens the values that it is about.", max(w-2, 1))...)
		return "What moves it", "enter opens them, esc leaves", lines
	}
	lines = append(lines, "", v.Theme.Paint(theme.Dim, "  one step up of"))
	room := max(h-len(lines), 1)
	top := pane.Window(d.at, len(d.all), room)
	for i := top; i < min(len(d.all), top+room); i++ {
		x := d.all[i]
		mark, role := "  ", theme.Text
		if i == d.at {
			mark, role = v.Theme.Pointer(), theme.Selected
		}
		by := v.Number(d.of.Kind, assess.Exact(math.Abs(x.change)), v.Digits(d.of.Kind)+1)
		word := "more"
		if x.change < 0 {
			word = "less"
		}
		step := v.Number(plain(x.of.Kind()), assess.Exact(x.step), v.StepDigits(x.of.Kind()))
		lines = append(lines, v.Theme.Cut(v.Theme.Paint(role, v.Theme.Pad(mark+v.Theme.Plain(spokenMovable(x.of))+", "+step, w*5/9))+
			fmt.Sprintf(" %s %s, %s", by, word, x.to), w))
	}
	return "What moves it", "enter goes there, esc leaves", lines
}

// spokenMovable is what can be moved, as the bench calls it: a placement row by its
// name, anything else by its place in the build.
func spokenMovable(x project.Movable) string {
	if r, ok := x.Row(); ok {
		return r.Label
	}
	return strings.NewReplacer(".", " ", "_", " ").Replace(project.SpokenPath(strings.TrimPrefix(x.Path(), "line.")))
}

// plain is the kind of a step of something with a direction.
func plain(k quantity.Kind) quantity.Kind {
	switch k {
	case quantity.Slope, quantity.Heading:
		return quantity.Angle
	case quantity.Offset:
		return quantity.Length
	}
	return k
}
