package propose

import (
	"context"
	"errors"
	"math"
	"slices"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
)

// Step is how far one thing is moved.
type Step struct {
	Of       project.Movable
	From, To float64
	Steps    int // up is positive; 0 where steps do not count from where it is now
	Work     Work
}

// Proposal is a place where all that is demanded holds, confirmed by an assessment of
// the build as it would be.
type Proposal struct {
	Kinds []string // what it is the best of: "least work"
	Best  bool     // that was shown: nothing on these steps and in these ranges beats it
	Moves []Step
	Cuts  int     // things that are cut and welded anew
	Work  float64 // what its work counts: only which is the more is meant
	Spare float64 // the least that is left to a limit past its ±, in parts of that limit
	// Nearest is the id of the finding that has that.
	Nearest string
	// Again are targets of readings that are to be taken again after it: they are of how
	// things stood before, and what rests on them is planned until then.
	Again []string
	After *assess.Assessment
}

// MovesTo are its moves as a build takes them.
func (x *Proposal) MovesTo() []project.Move {
	out := make([]project.Move, len(x.Moves))
	for i, s := range x.Moves {
		out[i] = project.Move{Of: s.Of, To: s.To}
	}
	return out
}

// Answer is what a search came to.
type Answer struct {
	Proposals []Proposal
	// None says that all places were ruled out.
	None bool
	// Conflicts are demands that cannot all hold, when None. Irreducible says that it
	// was shown of each that the others can.
	Conflicts   []Conflict
	Irreducible bool
	Places      float64 // how many there are
	Settled     float64 // the share of them that was judged or ruled out, 0 to 1
	Judged      int     // assessed
	// Stopped is why the search ended early: the context's error, or ErrBudget.
	Stopped error
}

// ErrBudget ends a search that has assessed as many places as it may.
var ErrBudget = errors.New("the search has assessed as many places as it may")

// Progress is how far a search is.
type Progress struct {
	What    string  // it looks for
	Settled float64 // share of the places, of this look
	Judged  int
	Found   []Proposal // so far; whoever is told may keep them
}

// Run searches. It may be asked to tell how far it is, from the same goroutine. A
// search that is stopped answers with what it has.
func (p *Problem) Run(ctx context.Context, tell func(Progress)) Answer {
	a := Answer{Places: p.places()}
	all := make([]bool, len(p.demands))
	for i := range all {
		all[i] = true
	}
	first := p.look(ctx, goal{active: all, least: -1, first: true}, nil, 0, p.telling(tell, "a place where all holds", &a))
	a.Judged, a.Settled = first.judged, first.settled
	if first.cell == nil {
		if a.Stopped = first.stopped(); first.done {
			a.None = true
			p.conflict(ctx, first.reasons, &a, tell)
		}
		return a
	}
	p.best(ctx, first.cell, all, &a, tell)
	return a
}

// Forget lets go of the places that were judged, when no more is searched: all else of the
// problem goes on to answer.
func (p *Problem) Forget() { p.memo = newMemo(0) }

func (f found) stopped() error {
	switch {
	case f.err != nil:
		return f.err
	case !f.done && f.cell == nil:
		return ErrBudget
	}
	return nil
}

func (p *Problem) telling(tell func(Progress), what string, a *Answer) func(float64, int) {
	if tell == nil {
		return nil
	}
	return func(share float64, judged int) {
		tell(Progress{what, share, a.Judged + judged, slices.Clone(a.Proposals)})
	}
}

func (p *Problem) look(ctx context.Context, g goal, known []int, value float64, tell func(float64, int)) found {
	budget := p.want.Budget
	if budget <= 0 {
		budget = Usual
	}
	if known != nil { // it is only to be bettered
		budget /= bettering
	}
	s := search{space: p, goal: g, ctx: ctx, budget: budget, tell: tell, memo: p.memo}
	return s.run(known, value)
}

// Compared is a finding before and after a proposal.
type Compared struct{ Before, After finding.Finding }

// Held are the findings that are held, before and after a proposal.
func (p *Problem) Held(x *Proposal) []Compared {
	out := make([]Compared, 0, len(p.demands))
	for i := range p.demands {
		if f, ok := x.After.Finding(p.demands[i].ID); ok {
			out = append(out, Compared{p.demands[i].Finding, f})
		}
	}
	return out
}

// Compared are the findings that are worth a look: those whose verdict a proposal
// changes, first, then those that are not ok after it or nearest to their limit; the nearest
// first.
func (p *Problem) Compared(x *Proposal) []Compared {
	const nearest = 4
	type ranked struct {
		Compared
		spare float64
	}
	var all []ranked
	for i := range p.demands {
		f, ok := x.After.Finding(p.demands[i].ID)
		if !ok || !p.demands[i].moves {
			continue
		}
		r := ranked{Compared{p.demands[i].Finding, f}, math.Inf(1)}
		if f.HasLimit && f.HasValue {
			r.spare = (f.Margin - f.Uncertainty) / p.scale(i)
		}
		all = append(all, r)
	}
	slices.SortStableFunc(all, func(a, b ranked) int {
		changed := func(r ranked) bool { return r.Before.Status != r.After.Status }
		switch {
		case changed(a) != changed(b):
			if changed(a) {
				return -1
			}
			return 1
		case a.spare < b.spare:
			return -1
		case a.spare > b.spare:
			return 1
		}
		return 0
	})
	var out []Compared
	changes := 0
	for i, r := range all {
		if r.Before.Status != r.After.Status {
			changes++
		}
		if i < changes+nearest || r.Before.Status != r.After.Status || r.After.Status != finding.OK {
			out = append(out, r.Compared)
		}
	}
	return out
}
