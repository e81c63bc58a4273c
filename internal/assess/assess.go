// Package assess turns a build into everything that is known about it: numbers
// under dotted names, and findings against limits. It is pure: the same build
// gives the same assessment.
package assess

import (
	"slices"
	"sync"

	"fitup/internal/assess/bracket"
	"fitup/internal/assess/clear"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/job"
	"fitup/internal/assess/mount"
	"fitup/internal/geom"
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
	Shaking    *OnMounts // nil before it is asked for
	Clearances []Clearance
	Exhaust    []Exhaust
	Moving     *Moving // room of the powertrain to shafts and axles; nil without both
	Brackets   []Bracket
	Adapters   []*Adapter // plates between the block and an isolator
	Cuts       []CutGroup
	Sheets     []SheetGroup // plates by their thickness
	RideLevel  []RideLevel  // front and rear; empty without an old powertrain
	Findings   []Finding
	Plans      []Finding // what is planned where a verdict rests on a reading: to watch, not counted
	Jobs       []Job

	Facts        []Fact
	EngineOut    []OutItem // what is open and can only be reached with the powertrain out
	Welds        []Weld
	Fasteners    []Fastener
	Packings     []Packing
	Measurements []Measurement
	Frame        *Frame      // by its survey; see Given
	Rails        *Rails      // as they are made and bent; see Given
	Hung         *Hung       // where the powertrain hangs by what was measured of it
	Subframes    []*Subframe // where they hang, and how far each corner has to move
	Steering     *Steering   // nil where the file has none
	Pickups      *Pickups    // what holds wheels to the frame

	ready     *Prepared
	stated    []finding.StatedSource      // the ± that its file states
	places    []finding.Beside[placed]    // within the ± typed of where the powertrain stands
	beside    []finding.Beside[geom.Pose] // where it stands there
	overRails map[string]Number           // how high the front pads stand over their rails, with what leaves that open
	atEnds    []ends                      // of those, as far as they are worked out
	as        beyond                      // of one at an end of its ±
	asBuilt   asBuilt                     // for those
	followed  *clear.Followed             // for those that leave it as it is
	others    map[string]clear.Moving     // rooms to what moves, by the ids of their findings
	aim       aim                         // of one that is asked for one finding
	abreast   bool                        // somebody waits for this one alone
	taken     int                         // steps of the pipeline
	asked     Which
	byID      map[string]int
	work      job.Result
	mounts    *mount.Result
	legs      bracket.Result

	mends *sync.Map // what Mends found; nil of a state among many
}

// Finding returns the finding with the given id, also one of Plans.
func (a *Assessment) Finding(id string) (Finding, bool) {
	if i, ok := a.byID[id]; ok {
		return a.Findings[i], true
	}
	if a.byID == nil { // a state among many, which is asked for little
		for i := len(a.Findings) - 1; i >= 0; i-- {
			if a.Findings[i].ID == id {
				return a.Findings[i], true
			}
		}
	}
	for i := range a.Plans {
		if a.Plans[i].ID == id {
			return a.Plans[i], true
		}
	}
	return Finding{}, false
}

// Worst returns the finding most in need of attention: the worst status, then
// the one furthest past or nearest its limit in proportion to it. False when
// there are no findings.
func (a *Assessment) Worst() (Finding, bool) {
	best := -1
	for i := range a.Findings {
		if best < 0 || a.Findings[i].Worse(&a.Findings[best]) {
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

// Watchable returns the ids of the findings that have a value and a limit, the
// one most in trouble first. Those of the frame's survey and of what hangs in the frame
// are left out: nothing that is moved changes what was measured.
func (a *Assessment) Watchable() []string {
	fs := a.watchable()
	slices.SortStableFunc(fs, func(f, g *Finding) int {
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

// WorstWatchable is the first id of Watchable; "" where there is none.
func (a *Assessment) WorstWatchable() string {
	var worst *Finding
	for _, f := range a.watchable() {
		if worst == nil || f.Worse(worst) {
			worst = f
		}
	}
	if worst == nil {
		return ""
	}
	return worst.ID
}

// watchable are the findings of Watchable as they come.
func (a *Assessment) watchable() []*Finding {
	fs := make([]*Finding, 0, len(a.Findings)+len(a.Plans))
	for _, list := range [2][]Finding{a.Findings, a.Plans} {
		for i := range list {
			if f := &list[i]; f.HasValue && f.HasLimit && !f.By.Measured() {
				fs = append(fs, f)
			}
		}
	}
	return fs
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
