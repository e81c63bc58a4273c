package assess

import "fitup/internal/assess/finding"

// What the trades share goes by the same names here.
type (
	// Finding is one thing held against one limit.
	Finding = finding.Finding
	// Status is the verdict on a finding.
	Status = finding.Status
	// Basis says where a number comes from.
	Basis = finding.Basis
	// Number is a number that may be missing.
	Number = finding.Number
	// Value is one number under a dotted name.
	Value = finding.Value
	// Fact is something a job can wait for that is no number against a limit.
	Fact = finding.Fact
)

// The verdicts and the bases.
const (
	OK        = finding.OK
	Tight     = finding.Tight
	Elsewhere = finding.Elsewhere
	NotKnown  = finding.NotKnown
	Over      = finding.Over

	Planned = finding.Planned
	Read    = finding.Read
	Proved  = finding.Proved
)

// Exact is a number without a claimed uncertainty.
func Exact(v float64) Number { return finding.Exact(v) }

// take keeps what a trade found.
func (a *Assessment) take(by finding.Trade, found []Finding) {
	n := len(a.Findings)
	a.Findings = append(a.Findings, found...)
	a.took(by, n)
}

// took is take for what stands in Findings already, from number n on.
func (a *Assessment) took(by finding.Trade, n int) {
	made(by, a.Findings[n:])
	a.ready.places.judge(by, a.Findings[n:])
	a.ready.places.say(by, a.Findings[n:], a.ready.Build)
}

func made(by finding.Trade, found []Finding) {
	for i := range found {
		found[i].By = by
	}
}

// note keeps the facts that a trade makes.
func (a *Assessment) note(by finding.Trade, facts ...Fact) {
	for _, f := range facts {
		f.By = by
		a.Facts = append(a.Facts, f)
	}
}
