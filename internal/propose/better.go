package propose

import (
	"context"
	"math"
	"slices"

	"fitup/internal/assess"
	"fitup/internal/project"
)

// bettering is how many times fewer places are assessed to better one that holds than
// to find one.
const bettering = 20

// kind is what a proposal is the best of.
type kind struct {
	name string
	goal goal
}

// kinds of proposals, in the order in which they are given.
func (p *Problem) kinds() []kind {
	return []kind{
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
