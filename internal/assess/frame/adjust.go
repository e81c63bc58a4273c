package frame

import (
	"errors"
	"fmt"
	"slices"
	"sync"

	"fitup/internal/project"
)

// survey places the points of one occasion and looks for what does not fit.
func survey(b *project.Build, step project.After, lines []Line, e *sourced) *Survey {
	s := &Survey{After: step}
	var good []Line
	for _, l := range lines {
		if !l.Value.Known {
			s.Assumes = append(s.Assumes, l.Name+" is left out: "+l.Value.Why)
			continue
		}
		good = append(good, l)
	}
	stood := map[project.Stood]bool{}
	for _, l := range good {
		stood[l.Stood.Or()] = true
	}
	if text := supposed(b, good); text != "" {
		s.Assumes = append(s.Assumes, text)
	}
	s.Assumes = append(s.Assumes, unmeasured(b, lines)...)
	if len(stood) > 1 {
		s.Assumes = append(s.Assumes, "the frame did not change its shape between how it stood for one measurement and for another")
	}
	s.solve(b, good, e)
	return s
}

func (s *Survey) solve(b *project.Build, lines []Line, e *sourced) {
	n, assumes, err := fitted(b, lines, e)
	s.Assumes = append(s.Assumes, assumes...)
	out := map[int]bool{}
	if err != nil {
		if n, err = s.withoutImpossible(b, lines, e, err); err != nil {
			s.Why = err.Error()
			return
		}
		out[s.Suspects[0].Line.Index] = true
	}
	s.Watched = n.fit.Iterations
	n.tell("looking for slips", 0, 0)
	for range 3 { // one slip after another
		suspects := n.suspects(b)
		for _, p := range suspects {
			s.Suspects = append(s.Suspects, p.Suspect)
		}
		if len(suspects) == 0 || !suspects[0].Out {
			s.Fits = len(suspects) == 0
			break
		}
		out[suspects[0].Line.Index] = true
		n = suspects[0].without
		s.Fits = true
	}
	n.fit.Tabulate()
	s.net = n
	s.DoF = n.fit.DoF
	s.Scatter, _ = n.fit.UnitSigma()
	for _, l := range lines {
		t := Taken{Line: l, Out: out[l.Index]}
		if k := slices.IndexFunc(n.lines, func(m Line) bool { return m.Index == l.Index }); k >= 0 {
			t.Residual = n.fit.Each[k]
		}
		s.Lines = append(s.Lines, t)
	}
	s.Mirrors = n.mirrors()
	s.points, s.next = sync.OnceValue(func() []Point { return n.points(s.unfit()) }), sync.OnceValue(n.next)
	s.plan = s.planned()
}

// withoutImpossible is the net without the one distance that no others allow, where that
// is why nothing was placed; or why there is none, with what to measure again.
func (s *Survey) withoutImpossible(b *project.Build, lines []Line, e *sourced, why error) (*network, error) {
	c, ok := contradiction(b, lines)
	if !ok || e.ended() {
		return nil, why
	}
	if len(c.accused) > 1 {
		for _, i := range c.accused {
			s.Suspects = append(s.Suspects, Suspect{Line: lines[i]})
		}
		return nil, errors.New(c.says)
	}
	i := c.accused[0]
	l := lines[i]
	n, _, err := fitted(b, slices.Delete(slices.Clone(lines), i, i+1), e)
	if err != nil {
		s.Suspects = append(s.Suspects, Suspect{Line: l})
		return nil, fmt.Errorf("%s. Without it %w", c.says, err)
	}
	s.Suspects = append(s.Suspects, n.leftOut(l))
	return n, nil
}
