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

// Conflict is a demand that cannot hold with the others of its set.
type Conflict struct {
	Finding finding.Finding // as it is now
	// Short is by how much it would have to give way, in its own unit, for the others to
	// hold; +Inf where it is not known at any place at which they do.
	Short float64
	// Least says that no place needs less of it; otherwise that is the least that was
	// found.
	Least bool
	// Known is false where no place was found at which the others hold.
	Known bool
	// At is where that is.
	At []Step
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

// bettering is how many times fewer places are assessed to better one that holds than
// to find one.
const bettering = 20

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

// kinds of proposals, in the order in which they are given.
func (p *Problem) kinds() []struct {
	name string
	goal goal
} {
	return []struct {
		name string
		goal goal
	}{
		{"least work", goal{cost: p.costs(func(w Work) float64 { return w.points() }), least: -1}},
		{"most margin", goal{spare: true, least: -1}},
		{"least cutting", goal{cost: p.costs(func(w Work) float64 {
			if w == Cut {
				return 1000 + w.points()
			}
			return w.points()
		}), least: -1}},
		{"fewest things moved", goal{cost: p.costs(func(w Work) float64 { return 1000 + w.points() }), least: -1}},
		{"shortest way", goal{cost: p.costs(func(Work) float64 { return 0 }), least: -1}},
	}
}

// costs are what each step of each thing counts: what its kind of work does, by the
// number of mounts where it moves several, and a little for each step.
func (p *Problem) costs(of func(Work) float64) [][]float64 {
	const perStep = 0.01
	out := make([][]float64, len(p.moves))
	for i := range p.moves {
		a := &p.moves[i]
		base := of(a.Work) * float64(max(1, len(mountsOf(a.mov))))
		out[i] = make([]float64, len(a.values))
		for k, v := range a.values {
			if k != a.stay {
				out[i][k] = base + perStep*math.Abs(v-a.now)/a.Step
			}
		}
	}
	return out
}

// best looks for the best place of each kind, from one that holds.
func (p *Problem) best(ctx context.Context, from []int, all []bool, a *Answer, tell func(Progress)) {
	known := [][]int{from}
	for _, k := range p.kinds() {
		g := k.goal
		g.active = all
		start, value := p.startOf(g, known)
		f := p.look(ctx, g, start, value, p.telling(tell, k.name, a))
		a.Judged += f.judged
		if f.err != nil {
			a.Stopped = f.err
		}
		known = append(known, f.cell)
		p.propose(f.cell, k.name, f.done, all, a)
		if f.err != nil {
			return
		}
	}
}

// startOf is the best of the places that are known to hold.
func (p *Problem) startOf(g goal, known [][]int) (cell []int, value float64) {
	s := search{space: p, goal: g, memo: p.memo, budget: 1}
	value = math.Inf(1)
	for _, c := range known {
		sp := s.spotOf(c)
		p.whole(c, sp)
		if v := s.worth(c, sp); cell == nil || v < value {
			cell, value = c, v
		}
	}
	return cell, value
}

// propose keeps a place as a proposal, or says that one has another merit. What a fresh
// assessment of the build as it would be does not confirm is not proposed.
func (p *Problem) propose(cell []int, kind string, shown bool, all []bool, a *Answer) {
	moves := p.steps(cell)
	for i := range a.Proposals {
		if slices.Equal(a.Proposals[i].Moves, moves) {
			a.Proposals[i].Kinds = append(slices.Clone(a.Proposals[i].Kinds), kind)
			a.Proposals[i].Best = a.Proposals[i].Best && shown
			return
		}
	}
	b, err := p.Now.Build.With(p.movesTo(cell)...)
	if err != nil {
		return
	}
	x := Proposal{Kinds: []string{kind}, Best: shown, Moves: moves, After: assess.RunAside(b, p.want.yield), Spare: math.Inf(1)}
	for i := range p.demands {
		f, ok := x.After.Finding(p.demands[i].ID)
		if !ok || p.short(&f) > 0 {
			return
		}
		if spare := -p.short(&f) / p.scale(i); p.counts(i) && f.HasLimit && f.HasValue && spare < x.Spare {
			x.Spare, x.Nearest = spare, f.ID
		}
	}
	x.Again = p.again(b)
	cut := map[string]bool{}
	for i, c := range p.costs(func(w Work) float64 { return w.points() }) {
		x.Work += c[cell[i]]
		if cell[i] == p.moves[i].stay || p.moves[i].Work != Cut {
			continue
		}
		cut[p.moves[i].Of] = len(mountsOf(p.moves[i].mov)) == 0
		for _, mount := range mountsOf(p.moves[i].mov) {
			cut[mount] = true
		}
	}
	for _, counts := range cut {
		if counts {
			x.Cuts++
		}
	}
	a.Proposals = append(a.Proposals, x)
}

// again are the targets that were read and are to be read again in the build as it would
// be.
func (p *Problem) again(b *project.Build) []string {
	var out []string
	moved := p.Build.Placement.Elsewhere(b.Placement)
	for _, r := range p.Build.Readings {
		gone := !slices.ContainsFunc(b.Readings, func(s project.Reading) bool { return s.Of == r.Of })
		if (gone || moved && p.Build.HangsOnPowertrain(r.Of)) && !slices.Contains(out, r.Of) {
			out = append(out, r.Of)
		}
	}
	return out
}

// steps are what is moved to get to a place.
func (p *Problem) steps(cell []int) []Step {
	var out []Step
	for i, k := range cell {
		a := &p.moves[i]
		if k == a.stay {
			continue
		}
		s := Step{Of: a.mov, From: a.now, To: a.values[k], Work: a.Work}
		if a.stay >= 0 {
			s.Steps = k - a.stay
		}
		out = append(out, s)
	}
	return out
}

// conflict thins the demands that ruled all places out until none can be spared: each is
// left out in turn, and stays out where there still is no place without it (deletion
// filter). A look that ran out of places keeps its demand, and then it is not shown that
// the set is irreducible.
func (p *Problem) conflict(ctx context.Context, reasons []bool, a *Answer, tell func(Progress)) {
	set := slices.Clone(reasons)
	var kept []Conflict
	places := map[int][]int{}
	for i := range set {
		if !set[i] {
			continue
		}
		without := slices.Clone(set)
		without[i] = false
		f := p.look(ctx, goal{active: without, least: -1, first: true}, nil, 0, p.telling(tell, "which demands conflict", a))
		a.Judged += f.judged
		switch {
		case f.cell != nil:
			places[i] = f.cell
		case f.done: // the others conflict without it
			set = without
			for k := range set {
				set[k] = set[k] && f.reasons[k]
			}
		}
	}
	a.Irreducible = true
	for i := range set {
		if !set[i] {
			continue
		}
		c := Conflict{Finding: p.demands[i].Finding}
		if at := places[i]; at != nil {
			p.giveWay(ctx, &c, set, i, at, a, tell)
		} else {
			a.Irreducible = false
		}
		kept = append(kept, c)
	}
	a.Conflicts = kept
}

// giveWay finds how far a demand has to give way for the others of the set to hold.
func (p *Problem) giveWay(ctx context.Context, c *Conflict, set []bool, i int, at []int, a *Answer, tell func(Progress)) {
	g := goal{active: slices.Clone(set), least: i}
	g.active[i] = false
	start, value := p.startOf(g, [][]int{at})
	f := p.look(ctx, g, start, value, p.telling(tell, "how far a demand must give way", a))
	a.Judged += f.judged
	c.Known, c.Short, c.Least, c.At = true, f.value, f.done, p.steps(f.cell)
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
// changes, that are not ok after it, or that are nearest to their limit; the nearest
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
		switch {
		case a.spare < b.spare:
			return -1
		case a.spare > b.spare:
			return 1
		}
		return 0
	})
	var out []Compared
	for i, r := range all {
		if i < nearest || r.Before.Status != r.After.Status || r.After.Status != finding.OK {
			out = append(out, r.Compared)
		}
	}
	return out
}
