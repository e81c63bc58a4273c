package project

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
)

// Step is one state in a History and what led to it.
type Step struct {
	File  *File  // nil until it is asked for, when it lies far back or in an earlier sitting
	Label string // what was done, in words; "" for the state that was loaded
	Edits []Edit
	back  *Edit // leads from the next state to this one, when File is nil
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
	h.steps = append(h.steps[:h.at+1], Step{File: next, Label: label, Edits: edits})
	h.at++
	h.fold(h.at - liveStates)
	return nil
}

// liveStates is how many states behind the present one are held ready. A state
// weighs a hundred times what the way back to it does, and a held arrow key
// makes thirty in a second.
const liveStates = 64

// fold keeps of state i only the way back to it.
func (h *History) fold(i int) {
	if i < 0 || h.steps[i].File == nil || h.steps[i+1].File == nil {
		return
	}
	back := h.steps[i+1].File.Splice(h.steps[i].File)
	h.steps[i].back, h.steps[i].File = &back, nil
}

// Undo steps back and returns what was undone; false at the beginning.
func (h *History) Undo() (string, bool) {
	if h.at == 0 {
		return "", false
	}
	if _, ok := h.file(h.at - 1); !ok {
		h.forget(h.at)
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

// Since returns the steps that lead from the state on disk to the present one,
// each as the passage it changes: for a journal that begins at that state.
func (h *History) Since() []Step {
	var out []Step
	between := func(from, to int) {
		a, ok1 := h.file(from)
		b, ok2 := h.file(to)
		if ok1 && ok2 {
			out = append(out, Step{File: b, Label: h.steps[to].Label, Edits: []Edit{a.Splice(b)}})
		}
	}
	switch {
	case h.saved < 0 || h.saved == h.at:
	case h.saved > h.at:
		between(h.saved, h.at)
	default:
		for i := h.saved; i < h.at; i++ {
			between(i, i+1)
		}
	}
	return out
}

// file returns the state at i, made from the one after it when it comes from an
// earlier sitting.
func (h *History) file(i int) (*File, bool) {
	j := i
	for h.steps[j].File == nil {
		j++ // the present state is always there, and states without a file lie before it
	}
	for ; j > i; j-- {
		f, err := h.steps[j].File.Apply(*h.steps[j-1].back)
		if err != nil {
			return nil, false
		}
		h.steps[j-1].File = f
	}
	return h.steps[i].File, true
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
	t := trail{Version: trailVersion, Text: textSum(h.Now())}
	size := 0
	for i := h.at; i > 0 && len(t.Steps) < trailSteps; i-- {
		var back Edit
		if prev := h.steps[i-1]; prev.File == nil {
			back = *prev.back
		} else {
			back = h.steps[i].File.Splice(prev.File)
		}
		if size += len(back.Old) + len(back.Text); size > trailBytes {
			break
		}
		t.Steps = append(t.Steps, trailStep{h.steps[i].Label, back})
		if h.steps[i-1].File == nil {
			// What lies further back is as it came.
			for j := i - 1; j > 0 && len(t.Steps) < trailSteps && size < trailBytes; j-- {
				b := *h.steps[j-1].back
				size += len(b.Old) + len(b.Text)
				t.Steps = append(t.Steps, trailStep{h.steps[j].Label, b})
			}
			break
		}
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
	if t.Version != trailVersion || n == 0 || n > trailSteps || t.Text != textSum(h.Now()) {
		return false
	}
	steps := make([]Step, n+1)
	for i, s := range t.Steps { // s led to the state at n-i
		back := s.Back
		if back.Op != OpSplice {
			return false
		}
		steps[n-i].Label = s.Label
		steps[n-i-1].back = &back
	}
	steps[n].File = h.Now()
	h.steps, h.at, h.saved = steps, n, n
	return true
}

func textSum(f *File) string {
	sum := sha256.Sum256(f.Bytes())
	return hex.EncodeToString(sum[:])
}
