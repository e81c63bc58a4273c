package assess

import (
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
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

// Finding is one thing held against one limit. Numbers are in the internal
// unit of Kind.
type Finding struct {
	ID          string
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
	Uncertainty float64 // expanded, k = gauge.Coverage
	Source      string
	Changed     bool   // the limit was changed in the build's file
	Missing     string // what is missing, when not known
	Advice      string
	// Assumes is what the number rests on that nobody has measured: a view that
	// was left out, a stand-in, a plan. Short clauses, for the place where the
	// number stands.
	Assumes    []string
	Elsewhere  string // who judges it and why, where the file says that somebody else does
	OfFinished bool   // judges the finished work, so the work does not wait for it
}

// Measure is a number that may be missing. Numbers are in internal units.
type Measure struct {
	V     float64
	U     float64 // standard uncertainty; 0 when none is claimed
	Known bool
	Why   string // what is missing or wrong, when not known
	// Unusable says that there is a reading but that it does not make a number.
	Unusable bool
	err      error // why a reading is unusable
}

func known(v, u float64) Measure { return Measure{V: v, U: u, Known: true} }

// Expanded returns the uncertainty that is held against a limit, k =
// gauge.Coverage.
func (m Measure) Expanded() float64 { return gauge.Coverage * m.U }

func missing(why string) Measure { return Measure{Why: why} }

func (f *Finding) unknown(why string)  { f.Status, f.Missing = NotKnown, why }
func (f *Finding) number(v, u float64) { f.Value, f.Uncertainty, f.HasValue = v, u, true }

// judge holds m against rule r. atLeast makes the limit a smallest value.
func (f *Finding) judge(m Measure, r project.Rule, atLeast bool) {
	f.judgeAt(m, r.Value, r, atLeast)
}

// judgeAt is judge with a limit that was worked out under rule r.
func (f *Finding) judgeAt(m Measure, limit float64, r project.Rule, atLeast bool) {
	if f.Kind == 0 {
		f.Kind = r.Kind
	}
	f.Limit, f.HasLimit, f.AtLeast = limit, true, atLeast
	f.Source, f.Changed = r.Source, r.Changed
	if !m.Known {
		f.unknown(m.Why)
		return
	}
	f.number(m.V, m.Expanded())
	f.Margin = limit - m.V
	if atLeast {
		f.Margin = m.V - limit
	}
	f.Status = verdict(f.Margin, f.Uncertainty)
}

// verdict is the status of a number with that margin and expanded uncertainty.
func verdict(margin, expanded float64) Status {
	const rounding = 1e-12 // a limit met exactly is met
	switch {
	case margin < -rounding:
		return Over
	case margin+rounding < expanded:
		return Tight
	}
	return OK
}

// verdictOn is the status that the finding would have with another number.
func (f *Finding) verdictOn(m Measure) Status {
	if f.AtLeast {
		return verdict(m.V-f.Limit, m.Expanded())
	}
	return verdict(f.Limit-m.V, m.Expanded())
}

// last returns the finding of that id while findings are still being made.
func (a *Assessment) last(id string) Finding {
	for i := len(a.Findings) - 1; i >= 0; i-- {
		if a.Findings[i].ID == id {
			return a.Findings[i]
		}
	}
	return Finding{}
}
