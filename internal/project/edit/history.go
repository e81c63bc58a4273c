package edit

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"

	"fitup/internal/project"
)

// state is one text of a History and what led to it.
type state struct {
	file  *project.File // nil while it lies far from the present one
	label string        // what was done, in words; "" for the text that was loaded
	led   passage       // what it changed in the text of the state before
	mark  Mark
}

// Mark tells a state of one History from every other, the ones that were dropped
// included. That a state is done again makes it no other.
type Mark int

// History is every state since the file was loaded, with the present one
// marked. Undoing everything returns the very bytes that were loaded.
type History struct {
	steps []state
	at    int
	saved int // index of the state on disk, -1 when it is no longer in reach
	marks Mark
}

// NewHistory starts at f, which is on disk.
func NewHistory(f *project.File) *History {
	return &History{steps: []state{{file: f, mark: 1}}, marks: 1}
}

// Now returns the present state.
func (h *History) Now() *project.File { return h.steps[h.at].file }

// Do applies edits to the present state. Steps that had been undone are
// dropped. An edit that changes nothing adds no step.
func (h *History) Do(label string, edits ...Edit) error {
	next, err := Apply(h.Now(), edits...)
	if err != nil {
		return err
	}
	led := passageOf(h.Now().Doc().Text(), next.Doc().Text())
	if led == (passage{}) {
		return nil
	}
	if h.saved > h.at {
		h.saved = -1
	}
	clear(h.steps[h.at+1:])
	h.marks++
	h.steps = append(h.steps[:h.at+1], state{next, label, led, h.marks})
	h.move(1)
	return nil
}

// liveStates is how many states on either side of the present one are held
// ready. A state weighs a thousand times what leads to it does, and a held arrow
// key makes thirty in a second.
const liveStates = 4

// move makes the state by steps on (or back) the present one, which must be
// there, and lets go of the one that is too far away now.
func (h *History) move(by int) {
	h.at += by
	if far := h.at - by*(liveStates+1); far >= 0 && far < len(h.steps) {
		h.steps[far].file = nil
	}
}

// Undo steps back and returns what was undone; false at the beginning.
func (h *History) Undo() (string, bool) {
	if h.at == 0 {
		return "", false
	}
	if !h.wake(h.at - 1) {
		h.forget(h.at)
		return "", false
	}
	label := h.steps[h.at].label
	h.move(-1)
	return label, true
}

// Redo steps forward again and returns what was redone; false at the end.
func (h *History) Redo() (string, bool) {
	if h.at+1 >= len(h.steps) || !h.wake(h.at+1) {
		return "", false
	}
	h.move(1)
	return h.steps[h.at].label, true
}

// Unsaved reports whether the present state differs from the one on disk.
func (h *History) Unsaved() bool { return h.at != h.saved }

// Mark returns the mark of the present state.
func (h *History) Mark() Mark { return h.steps[h.at].mark }

// MarkSaved says that the state with that mark is now on disk.
func (h *History) MarkSaved(m Mark) {
	h.saved = slices.IndexFunc(h.steps, func(s state) bool { return s.mark == m })
}

// Depth returns how many steps can be undone and redone.
func (h *History) Depth() (undo, redo int) { return h.at, len(h.steps) - 1 - h.at }

// Steps returns what was done to reach each state, in words, the first for the
// text that was loaded; how many of them can be undone, Depth says.
func (h *History) Steps() []string {
	out := make([]string, len(h.steps))
	for i, s := range h.steps {
		out[i] = s.label
	}
	return out
}

// At returns the state behind the first i steps; false when it is not in reach.
func (h *History) At(i int) (*project.File, bool) {
	if i < 0 || i >= len(h.steps) {
		return nil, false
	}
	return h.file(i)
}

// Deed is one thing done, as a journal notes it.
type Deed struct {
	Label string
	Edits []Edit
	After string // SHA-256 in hex of the text it makes
}

// Since returns the steps that lead from disk, the state that is on disk, to the
// present one, each as the passage it changes: for a journal that begins at that
// state. Where the way is not known step by step it is one.
func (h *History) Since(disk *project.File) []Deed {
	first, now := disk.Doc().Text(), h.Now().Doc().Text()
	if first == now {
		return nil
	}
	if steps, ok := h.between(first); ok {
		return steps
	}
	return []Deed{{h.steps[h.at].label, []Edit{spliceOf(first, now)}, sumOf(now)}}
}

// between is the steps from the saved state, with the text first, to the present
// one; false when that does not lie behind.
func (h *History) between(first string) ([]Deed, bool) {
	if h.saved < 0 || h.saved > h.at {
		return nil, false
	}
	var out []Deed
	now := h.Now().Doc().Text()
	for i := h.at; i > h.saved; i-- {
		before, ok := h.steps[i].led.back(now)
		if !ok {
			return nil, false
		}
		out = append(out, Deed{h.steps[i].label, []Edit{spliceOf(before, now)}, sumOf(now)})
		now = before
	}
	slices.Reverse(out)
	return out, now == first
}

// textAt returns the text of state i, found from that of the present one; false
// when what a trail of an earlier sitting says does not fit.
func (h *History) textAt(i int) (string, bool) {
	text, ok := h.Now().Doc().Text(), true
	for j := h.at; j > i && ok; j-- {
		text, ok = h.steps[j].led.back(text)
	}
	for j := h.at + 1; j <= i && ok; j++ {
		text, ok = h.steps[j].led.on(text)
	}
	return text, ok
}

// file returns state i without holding on to it.
func (h *History) file(i int) (*project.File, bool) {
	if f := h.steps[i].file; f != nil {
		return f, true
	}
	text, ok := h.textAt(i)
	if !ok {
		return nil, false
	}
	f, err := reread(h.Now(), text)
	return f, err == nil
}

// reread makes a File of another state of the same text.
func reread(f *project.File, text string) (*project.File, error) {
	doc, err := f.Doc().Reread([]byte(text))
	if err != nil {
		return nil, err
	}
	return f.With(doc)
}

// wake makes state i ready.
func (h *History) wake(i int) bool {
	f, ok := h.file(i)
	h.steps[i].file = f
	return ok
}

// forget drops the states before i.
func (h *History) forget(i int) {
	h.steps = h.steps[i:]
	h.at -= i
	if h.saved -= i; h.saved < 0 {
		h.saved = -1
	}
}

// What is kept of a trail at most.
const (
	trailVersion = 1
	trailSteps   = 200
	trailBytes   = 1 << 20
)

// trail is the steps that lead to a text, as they are kept beside the file.
type trail struct {
	Version int         `json:"fitup_undo"`
	Text    string      `json:"text"`  // SHA-256 of the text they lead to
	Steps   []trailStep `json:"steps"` // the last one first
}

type trailStep struct {
	Label string `json:"label"`
	Back  Edit   `json:"back"` // takes the step back
}

// Trail returns the steps that lead to the present state, for Resume. It holds
// the last two hundred at most.
func (h *History) Trail() ([]byte, error) {
	t := trail{Version: trailVersion, Text: sumOf(h.Now().Doc().Text())}
	size := 0
	for i := h.at; i > 0 && len(t.Steps) < trailSteps; i-- {
		back := h.steps[i].led.undo()
		if size += len(back.Old) + len(back.Text); size > trailBytes {
			break
		}
		t.Steps = append(t.Steps, trailStep{h.steps[i].label, back})
	}
	return json.Marshal(t)
}

// Resume puts the steps of an earlier sitting before the present state, when
// they lead to this very text. It reports whether it did.
func (h *History) Resume(data []byte) bool {
	var t trail
	if len(h.steps) != 1 || json.Unmarshal(data, &t) != nil {
		return false
	}
	n := len(t.Steps)
	if t.Version != trailVersion || n == 0 || n > trailSteps || t.Text != sumOf(h.Now().Doc().Text()) {
		return false
	}
	steps := make([]state, n+1)
	for i, s := range t.Steps { // s led to the state at n-i
		if s.Back.Op != OpSplice {
			return false
		}
		steps[n-i].label = s.Label
		steps[n-i].led = passage{at: s.Back.At, old: s.Back.Text, new: s.Back.Old}
	}
	steps[n].file = h.Now()
	for i := range steps {
		steps[i].mark = Mark(i + 1)
	}
	h.steps, h.at, h.saved, h.marks = steps, n, n, Mark(n+1)
	return true
}

func sumOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}
