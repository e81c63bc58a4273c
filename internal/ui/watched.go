package ui

import (
	"slices"
	"sync"

	"fitup/internal/abreast"
	"fitup/internal/assess"
	"fitup/internal/project"
)

// watched returns the finding that rows are held against.
func (m *Model) watched() (assess.Finding, bool) {
	if f, ok := m.now.Finding(m.watch); ok && f.HasValue {
		return f, true
	}
	if m.worst.of != m.now {
		m.worst.of, m.worst.id = m.now, m.now.WorstWatchable()
	}
	return m.now.Finding(m.worst.id)
}

// effectOf returns what one step of a row does to the watched finding. It is
// worked out once for each state, however often the screen is drawn, and for all rows
// that were asked about in the last state at once.
func (m *Model) effectOf(r project.RowID) (assess.Effect, bool) {
	f, ok := m.watched()
	if !ok {
		return assess.Effect{}, false
	}
	e := &m.effect
	e.mu.Lock()
	defer e.mu.Unlock()
	if step := m.steps[m.step]; e.of != m.now || e.id != f.ID || e.step != step {
		asked := e.asked
		e.of, e.id, e.step, e.rows, e.asked = m.now, f.ID, step, map[project.RowID]*assess.Effect{}, nil
		e.workOut(asked...)
	}
	if !slices.Contains(e.asked, r) {
		e.asked = append(e.asked, r)
	}
	if _, there := e.rows[r]; !there {
		e.workOut(r)
	}
	if found := e.rows[r]; found != nil {
		return *found, true
	}
	return assess.Effect{}, false
}

// effectsOf are the effects on one finding in one state, of the rows that were
// asked about; nil for a row of which it cannot be told. Panes that are drawn side by
// side may ask.
type effectsOf struct {
	mu    sync.Mutex
	of    *assess.Assessment
	id    string
	step  assess.Step
	rows  map[project.RowID]*assess.Effect
	asked []project.RowID
}

// workOut works out the effects of rows, side by side.
func (e *effectsOf) workOut(rows ...project.RowID) {
	found := make([]*assess.Effect, len(rows))
	abreast.Each(len(rows), func(i int) {
		if one, ok := e.of.Effects(e.id, e.step, rows[i])[rows[i]]; ok {
			found[i] = &one
		}
	})
	for i, r := range rows {
		e.rows[r] = found[i]
	}
}
