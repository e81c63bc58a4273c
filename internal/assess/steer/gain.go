package steer

import (
	"cmp"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// What other marks would save is the most that any of them would: the ripple less what is
// left with the yokes at the best of all teeth. Which teeth those are changes within the ±
// of what it follows from, and there it has a kink. So each way to set them that could be
// the best is looked at by itself, where it has none.

// gain fills in what other marks would save. It is never less than with the marks that
// are the best as things stand, so the lower limit is that of those. The upper one is kept
// by all marks together with what each limit is kept with by itself: the chances of going
// past it are added up, whatever they share (Bonferroni's inequality). No more is saved
// than all there is.
func (r *Result) gain(s *saving, others []marks) {
	switch r.Gain = r.Ripple.LessOf(r.Least); {
	case !r.Gain.Known || len(s.beside) == 0:
		return
	case len(others) == 0: // no yoke can be set over
		r.Gain = finding.Exact(0)
		return
	}
	most := r.Ripple.V + r.Ripple.Expanded()
	all := s.byMarks(others, r.Gain, r.Shafts)
	if all == nil {
		r.Gain = finding.Missing(beyond)
		return
	}
	from := all[0]
	for _, g := range all[1:] {
		if g.V+g.Expanded() > from.V+from.Expanded() {
			from = g
		}
	}
	r.Gain = finding.Size(uncertain.Magnitude{V: max(0, r.Gain.V), Number: from.Number,
		Lower: r.Gain.V - r.Gain.Below(), Upper: max(0, r.Gain.V, min(upper(all, from.V+from.Expanded()), most))})
}

// upper is the least limit, no less than the given one, that the largest of the numbers
// keeps with 97.5 %.
func upper(all []finding.Number, least float64) float64 {
	const sure = 0.975
	past := func(limit float64) (sum float64) {
		for i := range all {
			sum += 1 - all[i].AtMost(limit)
		}
		return sum
	}
	if len(all) == 1 || past(least) <= 1-sure {
		return least
	}
	low, high := least, least
	for i := range all {
		high = max(high, least+4*all[i].Expanded())
	}
	for range 40 {
		if mid := (low + high) / 2; past(mid) > 1-sure {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// saving works out what marks save.
type saving struct {
	from      shaft.Chain // the yokes as they are
	beside    []finding.Beside[*project.Build]
	ripple    finding.Number
	chains    []shaft.Chain // of beside
	mechanism shaft.Mechanism
}

// byMarks are the savings with the marks that may be the best within the ±, those that
// are as things stand first; nil where one of them cannot be told.
func (s *saving) byMarks(others []marks, gain finding.Number, shafts []Shaft) []finding.Number {
	for _, b := range s.beside {
		c, _, why := chainOf(b.V)
		if why != "" {
			return nil
		}
		s.chains = append(s.chains, c)
	}
	last := 0
	for i := range shafts {
		if shafts[i].Teeth > 0 {
			last = i
		}
	}
	others = slices.Clone(others)
	byLeft := func(a, b marks) int { return cmp.Compare(a.left, b.left) }
	slices.SortStableFunc(others, byLeft)
	// Marks that leave more than others by several times what anything seen is open by are
	// the best nowhere within the ±; and those behind them in order leave more still.
	const times, few = 3, 3
	all := []finding.Number{}
	wide := s.ripple.Expanded()
	for n := 0; n < len(others); n++ {
		x := others[n]
		if n > few && s.ripple.V-x.left < gain.V-times*wide {
			break
		}
		left, ok := s.left(x.turns)
		if !ok {
			return nil
		}
		g := s.ripple.LessOf(left)
		if !slices.ContainsFunc(x.turns, func(t geom.Angle) bool { return t != 0 }) {
			g = finding.Exact(0) // as it is
		}
		all = append(all, g)
		wide = max(wide, g.Expanded(), left.Expanded())
		if x.past != 0 { // and the tooth beyond it
			next := marks{turns: slices.Clone(x.turns), past: x.past + sign(x.past)}
			next.turns[last] += geom.Angle(sign(x.past)) * tooth(shafts[last].Teeth)
			if k, ok := s.vector(s.from, next.turns); ok && 2*abs(next.past) <= shafts[last].Teeth {
				next.left = percent(math.Hypot(real(k), imag(k)))
				at, _ := slices.BinarySearchFunc(others[n+1:], next, byLeft)
				others = slices.Insert(others, n+1+at, next)
			}
		}
	}
	return all
}

func sign(n int) int { return n / abs(n) }
func abs(n int) int  { return max(n, -n) }

// left is what is left of the ripple with the yokes turned so.
func (s *saving) left(turns []geom.Angle) (finding.Number, bool) {
	at, ok := s.vector(s.from, turns)
	if !ok {
		return finding.Number{}, false
	}
	var re, im []uncertain.Weighted
	for i, b := range s.beside {
		k, ok := s.vector(s.chains[i], turns)
		if !ok {
			return finding.Number{}, false
		}
		if d := k - at; math.Hypot(real(d), imag(d)) > rounding {
			re = append(re, b.Slope(real(at), real(k)))
			im = append(im, b.Slope(imag(at), imag(k)))
		}
	}
	return finding.Rising(finding.Size(uncertain.Norm(uncertain.Smooth(real(at), re...), uncertain.Smooth(imag(at), im...))), percent), true
}

// vector is the ripple of a chain with its yokes turned so.
func (s *saving) vector(c shaft.Chain, turns []geom.Angle) (complex128, bool) {
	c.Yokes = slices.Clone(c.Yokes)
	for i, t := range turns {
		c.Yokes[i] += t
	}
	if s.mechanism.Set(c) != nil {
		return 0, false
	}
	all := s.mechanism.Shafts()
	return all[len(all)-1].DriveVector, true
}
