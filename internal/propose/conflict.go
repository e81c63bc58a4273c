package propose

import (
	"context"
	"math"
	"slices"

	"fitup/internal/assess/finding"
)

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
	// Why says what it lacks where it is not known; "" where it is.
	Why string
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
	if math.IsInf(f.value, 1) {
		c.Why = p.unknown[i]
	}
}
