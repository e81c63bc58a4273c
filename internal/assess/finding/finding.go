// Package finding has what the trades of an assessment share: a number between
// them, a verdict on it against a limit, the ids of all verdicts, and the list
// of values under dotted names. It knows no trade and no build as a whole.
package finding

import (
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"
)

// Status is the verdict on a finding.
type Status uint8

// The verdicts, from good to bad. NotKnown is never ok.
const (
	OK        Status = iota
	Tight            // within the limit, but the uncertainty reaches across it
	Elsewhere        // the file says that somebody else judges it; never ok
	NotKnown         // something is missing; the finding says what
	Over             // the limit is broken
)

func (s Status) String() string {
	switch s {
	case OK:
		return "ok"
	case Tight:
		return "tight"
	case Over:
		return "over"
	case Elsewhere:
		return "judged elsewhere"
	}
	return "not known"
}

// Basis says where a number comes from.
type Basis uint8

// The bases.
const (
	Planned Basis = iota // from the model
	Read                 // from readings
	Proved               // read after the step that fixes it
)

func (b Basis) String() string {
	return [...]string{"planned", "read", "proved"}[min(b, Proved)]
}

// Weaker is the basis of what rests on two.
func Weaker(a, b Basis) Basis { return min(a, b) }

// Finding is one thing held against one limit. Numbers are in the internal
// unit of Kind.
type Finding struct {
	ID          string
	By          Trade // that made it
	Title       string
	Status      Status
	Basis       Basis
	Moved       bool // the powertrain moved since the reading; the value is carried along
	Kind        quantity.Kind
	Value       float64
	HasValue    bool
	Limit       float64
	HasLimit    bool
	AtLeast     bool    // the limit is a smallest value, not a largest
	Margin      float64 // inside the limit positive
	Uncertainty float64 // expanded, as it reaches towards the limit: see Number
	Source      string
	Changed     bool   // the limit was changed in the build's file
	Missing     string // what is missing, when not known
	Says        Text   // what to do about it
	// Group is a name that it shares with its like, such as RoomSteering: steps wait for all
	// of them by it, whatever the file calls each. "" for none.
	Group string
	// Assumes is what the number rests on that nobody has measured: a view that
	// was left out, a stand-in, a plan. Short clauses, for the place where the
	// number stands.
	Assumes    []string
	Elsewhere  string // who judges it and why, where the file says that somebody else does
	OfFinished bool   // judges the finished work, so the work does not wait for it

	number uncertain.Number // behind Value and Uncertainty
	opened uncertain.Number // the part of that from what was added with Open: 0 with its ±
	other  turned
	again  func(f *Finding)
	also   *second
}

// Meets reports whether a pattern names the finding, by its id or by its group.
func (f *Finding) Meets(pattern string) bool {
	p := PatternOf(pattern)
	return p.Names(f)
}

// Text is said when somebody asks for it, so that a number that nobody looks at
// costs no words. A nil Text says nothing.
type Text func() string

// Say is a text that is ready.
func Say(s string) Text {
	if s == "" {
		return nil
	}
	return func() string { return s }
}

// Advice is what to do about the finding, in a sentence or two, and what to
// take again where it is not sure.
func (f Finding) Advice() string {
	if f.Says == nil {
		return ""
	}
	return f.Says() + f.sure()
}
