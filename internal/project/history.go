package project

// Step is one state in a History and what led to it.
type Step struct {
	File  *File
	Label string // what was done, in words; "" for the state that was loaded
	Edits []Edit
}

// History is every state since the file was loaded, with the present one
// marked. Undoing everything returns the very bytes that were loaded.
type History struct {
	steps []Step
	at    int
	saved int // index of the state on disk, -1 when it is no longer in reach
}

// NewHistory starts at f, which is on disk.
func NewHistory(f *File) *History { return &History{steps: []Step{{File: f}}} }

// Now returns the present state.
func (h *History) Now() *File { return h.steps[h.at].File }

// Do applies edits to the present state. Steps that had been undone are
// dropped. An edit that changes nothing adds no step.
func (h *History) Do(label string, edits ...Edit) error {
	next, err := h.Now().Apply(edits...)
	if err != nil {
		return err
	}
	if string(next.Bytes()) == string(h.Now().Bytes()) {
		return nil
	}
	if h.saved > h.at {
		h.saved = -1
	}
	h.steps = append(h.steps[:h.at+1:h.at+1], Step{File: next, Label: label, Edits: edits})
	h.at++
	return nil
}

// Undo steps back and returns what was undone; false at the beginning.
func (h *History) Undo() (string, bool) {
	if h.at == 0 {
		return "", false
	}
	label := h.steps[h.at].Label
	h.at--
	return label, true
}

// Redo steps forward again and returns what was redone; false at the end.
func (h *History) Redo() (string, bool) {
	if h.at+1 >= len(h.steps) {
		return "", false
	}
	h.at++
	return h.steps[h.at].Label, true
}

// Unsaved reports whether the present state differs from the one on disk.
func (h *History) Unsaved() bool { return h.at != h.saved }

// MarkSaved says that f, one of the states, is now on disk.
func (h *History) MarkSaved(f *File) {
	for i := range h.steps {
		if h.steps[i].File == f {
			h.saved = i
			return
		}
	}
	h.saved = -1
}

// Depth returns how many steps can be undone and redone.
func (h *History) Depth() (undo, redo int) { return h.at, len(h.steps) - 1 - h.at }
