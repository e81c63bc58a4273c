// Package assess turns a build into everything that is known about it: numbers
// under dotted names, and findings against limits. It is pure: the same build
// gives the same assessment.
package assess

import (
	"slices"

	"fitup/internal/assess/bracket"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/job"
	"fitup/internal/assess/line"
	"fitup/internal/assess/mount"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
)

// Assessment is all that follows from one build.
type Assessment struct {
	Build      *project.Build
	Rows       []Row
	Pose       finding.Maybe[geom.Pose]
	Lines      []Line
	Statics    Statics
	Isolators  Isolators
	Clearances []Clearance
	Moving     *Moving // room of the powertrain to shafts and axles; nil without both
	Brackets   []Bracket
	Cuts       []CutGroup
	RideLevel  []RideLevel // front and rear; empty without an old powertrain
	Findings   []Finding
	Plans      []Finding // what is planned where a verdict rests on a reading: to watch, not counted
	Jobs       []Job
	Values     []Value

	Facts        []Fact
	EngineOut    []OutItem // what is open and can only be reached with the powertrain out
	Welds        []Weld
	Fasteners    []Fastener
	Measurements []Measurement

	byID   map[string]int
	work   job.Result
	ready  *ready
	light  bool // only what Effects asks for
	part   part // which findings Effects asks for
	mounts *mount.Result
	legs   bracket.Result
}

// Row is one placement row with what it reads now.
type Row struct {
	project.RowInfo
	Now Number
}

// Run assesses a build.
func Run(b *project.Build) *Assessment {
	a := &Assessment{Build: b, byID: map[string]int{}, part: whole}
	a.judge()
	a.restate()
	a.welds()
	a.jobs()
	a.Values = a.listValues()
	return a
}

// judge finds every number and every finding.
func (a *Assessment) judge() {
	b := a.Build
	supports, placed, err := b.Seat()
	a.place(supports, placed, err)
	if a.ready == nil {
		a.ready = readyOf(b)
	}
	a.take(finding.LineTrade, line.Across(a.ready.input, a.linePlace()))
	if a.part.has(ofLines) {
		a.lines()
	}
	a.standOnMounts()
	a.sunkLines()
	a.hungShafts()
	for _, x := range []struct {
		part part
		run  func()
	}{{ofRoom, a.room}, {ofRide, a.rideLevel}, {ofBrackets, a.brackets}, {ofCuts, a.cuts}, {ofShop, a.workshop}} {
		if a.part.has(x.part) {
			x.run()
		}
	}
	a.elsewhere()
	for i := range a.Findings {
		a.byID[a.Findings[i].ID] = i
	}
}

// Finding returns the finding with the given id, also one of Plans.
func (a *Assessment) Finding(id string) (Finding, bool) {
	if i, ok := a.byID[id]; ok {
		return a.Findings[i], true
	}
	for _, f := range a.Plans {
		if f.ID == id {
			return f, true
		}
	}
	return Finding{}, false
}

// Worst returns the finding most in need of attention: the worst status, then
// the one furthest past or nearest its limit in proportion to it. False when
// there are no findings.
func (a *Assessment) Worst() (Finding, bool) {
	best := -1
	for i, f := range a.Findings {
		if best < 0 || f.Worse(a.Findings[best]) {
			best = i
		}
	}
	if best < 0 {
		return Finding{}, false
	}
	return a.Findings[best], true
}

// Count returns how many findings have each status.
func (a *Assessment) Count() map[Status]int {
	n := map[Status]int{}
	for _, f := range a.Findings {
		n[f.Status]++
	}
	return n
}

func (a *Assessment) place(s seat.Supports, p seat.Placement, err error) {
	if err == nil {
		a.Pose.V, err = s.Pose(p)
	}
	a.Pose.Known = err == nil
	if err != nil {
		a.Pose.Why = err.Error()
	}
	for _, info := range project.PlacementRows() {
		row := Row{RowInfo: info, Now: finding.Missing(a.Pose.Why)}
		if a.Pose.Known {
			if v, err := s.Value(p, info.Row); err == nil {
				row.Now = finding.Known(v, 0)
			}
		} else if v, ok := rawRow(a.Build.Placement, info.Row); ok {
			row.Now = finding.Known(v, 0) // a height can be shown before the rest is known
		}
		a.Rows = append(a.Rows, row)
	}
}

func rawRow(p project.Placement, r seat.Row) (float64, bool) {
	switch r {
	case seat.LeftFront:
		return p.LeftFront.Get()
	case seat.RightFront:
		return p.RightFront.Get()
	case seat.Rear:
		return p.Rear.Get()
	case seat.Setback:
		return p.Setback.Get()
	case seat.Offset:
		return p.Offset.Get()
	case seat.Heading:
		return p.Heading.Get()
	}
	return 0, false
}

// Watchable returns the ids of the findings that have a value and a limit, the
// one most in trouble first.
func (a *Assessment) Watchable() []string {
	var fs []Finding
	for _, f := range slices.Concat(a.Findings, a.Plans) {
		if f.HasValue && f.HasLimit {
			fs = append(fs, f)
		}
	}
	slices.SortStableFunc(fs, func(f, g Finding) int {
		switch {
		case f.Worse(g):
			return -1
		case g.Worse(f):
			return 1
		}
		return 0
	})
	ids := make([]string, len(fs))
	for i, f := range fs {
		ids[i] = f.ID
	}
	return ids
}

// Change is a finding whose verdict differs between two assessments.
type Change struct {
	Finding Finding // as it is now
	From    Status
}

// Changes returns the findings of now whose verdict was another one before.
func Changes(before, now *Assessment) []Change {
	var out []Change
	for _, f := range now.Findings {
		if old, ok := before.Finding(f.ID); ok && old.Status != f.Status {
			out = append(out, Change{f, old.Status})
		}
	}
	return out
}
