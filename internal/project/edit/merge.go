package edit

import (
	"errors"
	"fmt"

	"fitup/internal/project"
	"fitup/internal/project/tomltext"
)

// Clash is a value that this sitting and somebody else changed in different
// ways.
type Clash struct {
	Path, Label  string
	Mine, Theirs string // as spelled; "nothing" where it was taken out
}

// String says both in one line, fit for a terminal.
func (c Clash) String() string {
	return project.Printable(fmt.Sprintf("%s: yours %s, theirs %s", c.Label, c.Mine, c.Theirs))
}

// spelledAt is a value with the unit it is in.
func spelledAt(f *project.File, path string, n *tomltext.Node) string {
	s := short(tomltext.Spelled(n))
	if unit := bareUnit(f, path); n != nil && bare(n) && unit != "" {
		s += " " + unit
	}
	return s
}

// Whose says whose value counts where both changed one.
type Whose = tomltext.Side

// The sides.
const (
	Neither = tomltext.Neither
	Mine    = tomltext.Mine
	Theirs  = tomltext.Theirs
)

// Merge applies what mine changed against base to the text of theirs, whose
// comments and spelling stay. With Neither preferred, clashes mean that there is
// no result. The error says that the two do not go together at all.
func Merge(base, mine, theirs *project.File, prefer Whose) (*project.File, []Clash, error) {
	switch {
	case string(base.Bytes()) == string(mine.Bytes()):
		return theirs, nil, nil
	case mine.Build.Units != theirs.Build.Units:
		// A bare number of one would become another length in the other.
		return nil, nil, errors.New("the units of the file were changed meanwhile, so its numbers cannot be put together with yours")
	}
	doc, found, err := tomltext.Merge(base.Doc(), mine.Doc(), theirs.Doc(), prefer)
	clashes := make([]Clash, len(found))
	for i, c := range found {
		label := labelOf(theirs, c.Path)
		if c.Theirs == nil {
			label = labelOf(mine, c.Path)
		}
		clashes[i] = Clash{c.Path, label, spelledAt(mine, c.Path, c.Mine), spelledAt(theirs, c.Path, c.Theirs)}
	}
	if err != nil {
		return nil, clashes, err
	}
	if len(clashes) > 0 && prefer == Neither {
		return nil, clashes, nil
	}
	f, err := theirs.With(doc)
	return f, clashes, err
}

// Clashes lists every value that mine and theirs say differently, for two texts
// without a common beginning.
func Clashes(mine, theirs *project.File) []Clash {
	var out []Clash
	for _, d := range tomltext.Diff(theirs.Doc(), mine.Doc()) {
		label := labelOf(theirs, d.Path)
		if d.Old == nil {
			label = labelOf(mine, d.Path)
		}
		out = append(out, Clash{d.Path, label, spelledAt(mine, d.Path, d.New), spelledAt(theirs, d.Path, d.Old)})
	}
	return out
}

// nearSteps is how far back and ahead of the present state steps are carried
// over to another text.
const nearSteps = 50

// Onto returns the history carried over to theirs, a text that somebody else has
// put on disk in place of base: each state is merged, so that undo takes back
// only what was done here. Clashes in the present state mean that there is no
// result unless a side is preferred; other states that clash are left out.
func (h *History) Onto(base, theirs *project.File, prefer Whose) (*History, []Clash, error) {
	now, clashes, err := Merge(base, h.Now(), theirs, prefer)
	if now == nil || err != nil {
		return nil, clashes, err
	}
	out := &History{saved: -1}
	last := "" // the text of the last state
	add := func(f *project.File, label string) {
		n, text := len(out.steps), f.Doc().Text()
		if n > 0 && last == text {
			return
		}
		out.marks++
		s := state{file: f, label: label, mark: out.marks}
		if n > 0 {
			s.led = passageOf(last, text)
		}
		out.steps, last = append(out.steps, s), text
	}
	onDisk := func() { out.saved = len(out.steps) - 1 }
	from, to := max(0, h.at-nearSteps), min(len(h.steps), h.at+nearSteps)
	if h.saved < from || h.saved >= to { // what is on disk is always one of the states
		add(theirs, "")
		onDisk()
	}
	for i := from; i < to; i++ {
		f, ok := h.file(i)
		if !ok {
			continue
		}
		switch {
		case i == h.at:
			add(now, h.steps[i].label)
			out.at = len(out.steps) - 1
		case i == h.saved:
			add(theirs, h.steps[i].label)
		default:
			if m, c, err := Merge(base, f, theirs, prefer); err == nil && (prefer != Neither || len(c) == 0) {
				add(m, h.steps[i].label)
			}
		}
		if i == h.saved {
			onDisk()
		}
	}
	for i := range out.steps {
		if i < out.at-liveStates || i > out.at+liveStates {
			out.steps[i].file = nil
		}
	}
	return out, clashes, nil
}
