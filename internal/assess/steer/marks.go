package steer

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
)

// best fills in how each shaft's yokes are to be set, and returns how far each is turned
// for that: as evenly as the line runs with those that can be set, by whole teeth where
// they stand on a spline. others are the ways to set the teeth that could be better where
// something is off.
func (r *Result) best(m *shaft.Mechanism, c shaft.Chain) (turns []geom.Angle, others []marks) {
	s := setting{r: r, from: c.Yokes, line: c, least: math.Inf(1)}
	s.line.Yokes = append([]geom.Angle(nil), c.Yokes...)
	for i := range r.Shafts {
		switch x := &r.Shafts[i]; {
		case x.Teeth > 0:
			s.toothed = append(s.toothed, i)
		case !x.fixed():
			s.free = append(s.free, i)
		}
	}
	if len(s.free) == len(r.Shafts) {
		if best, _, err := m.BestYokes(); err == nil {
			copy(s.line.Yokes, best)
		}
	}
	s.best = append([]geom.Angle(nil), s.line.Yokes...)
	s.try(0)
	turns = make([]geom.Angle, len(r.Shafts))
	for i := range r.Shafts {
		x := &r.Shafts[i]
		x.Set, x.Turn = s.best[i], shaft.TurnTo(s.best[i], c.Yokes[i])
		x.Over = teethOver(x.Turn, x.Teeth)
		turns[i] = x.Turn
	}
	return turns, s.tried
}

// marks are one way to set the yokes.
type marks struct {
	turns []geom.Angle // of each shaft's lower yoke from where it is
	left  float64      // percent of ripple
	past  int          // by how many teeth the last shaft on a spline stands past its best one
}

// setting is the search for how yokes are to be set.
type setting struct {
	r             *Result
	from          []geom.Angle // as they are
	line          shaft.Chain  // as it is tried
	mechanism     shaft.Mechanism
	toothed, free []int // shafts
	least         float64
	best          []geom.Angle
	tried         []marks
}

// mostTries is how many counts of teeth are tried together; of more shafts on splines
// than that is enough for, the first ones stay as they are.
const mostTries = 20000

// try tries every count of teeth of the shafts from number k of those on splines, but
// for the last that can be set, which has its best in closed form.
func (s *setting) try(k int) {
	last := len(s.free) == 0 && k == len(s.toothed)-1
	if k == len(s.toothed) || last {
		s.finish(last)
		return
	}
	i := s.toothed[k]
	tries := 1
	for _, j := range s.toothed[k:] {
		tries *= s.r.Shafts[j].Teeth
	}
	if tries > mostTries*s.r.Shafts[s.toothed[len(s.toothed)-1]].Teeth {
		s.try(k + 1)
		return
	}
	teeth := s.r.Shafts[i].Teeth
	for n := range teeth {
		turn := geom.Angle(2 * math.Pi * float64(n) / float64(teeth))
		if teeth%2 == 0 && n >= teeth/2 {
			break // half a turn is the same yoke
		}
		s.line.Yokes[i] = shaft.TurnTo(s.from[i]+turn, 0)
		s.try(k + 1)
	}
}

// finish sets what is left to be set and keeps the line if it runs more evenly than any
// before. One that does so by nothing worth a tooth is not kept. The teeth to either side
// of the best one are looked at too: of all others a ± makes them the best first.
func (s *setting) finish(last bool) {
	if last {
		i := s.toothed[len(s.toothed)-1]
		if best, ok := s.bestOf(i); ok {
			if turn, _, err := shaft.OnSpline(shaft.TurnTo(best, s.from[i]), s.r.Shafts[i].Teeth); err == nil {
				for _, past := range [...]int{-1, 1} {
					s.line.Yokes[i] = shaft.TurnTo(s.from[i]+turn+geom.Angle(past)*tooth(s.r.Shafts[i].Teeth), 0)
					s.keep(past)
				}
				s.line.Yokes[i] = shaft.TurnTo(s.from[i]+turn, 0)
			}
		}
	}
	for range 2 { // each in turn; one alone is done at once
		for _, i := range s.free {
			if best, ok := s.bestOf(i); ok {
				s.line.Yokes[i] = best
			}
		}
	}
	s.keep(0)
}

// keep looks at the line as it is set.
func (s *setting) keep(past int) {
	if s.mechanism.Set(s.line) != nil {
		return
	}
	all := s.mechanism.Shafts()
	v := all[len(all)-1].Drive.Max()
	if v < s.least-1e-9 {
		s.least, s.best = v, append(s.best[:0], s.line.Yokes...)
	}
	if len(s.toothed) == 0 || len(s.free) > 0 { // nothing is said of what would be saved
		return
	}
	t := marks{turns: make([]geom.Angle, len(s.from)), left: 100 * (v - 1), past: past}
	for i := range t.turns {
		t.turns[i] = shaft.TurnTo(s.line.Yokes[i], s.from[i])
	}
	s.tried = append(s.tried, t)
}

// tooth is the least by which a yoke on a spline can be set over: half a turn is the same
// yoke, so an odd count sets it by half a tooth.
func tooth(teeth int) geom.Angle {
	if teeth%2 == 1 {
		return geom.Angle(math.Pi / float64(teeth))
	}
	return geom.Angle(2 * math.Pi / float64(teeth))
}

// bestOf is the best offset of one shaft with all others as they are.
func (s *setting) bestOf(i int) (geom.Angle, bool) {
	if s.mechanism.Set(s.line) != nil {
		return 0, false
	}
	best, _, err := s.mechanism.BestYoke(i + 1)
	return best, err == nil
}

// teethOver is a turn in whole teeth, the shorter way round of those that half a turn
// leaves: with an odd count, half a tooth one way is whole teeth the other.
func teethOver(turn geom.Angle, teeth int) int {
	if teeth == 0 {
		return 0
	}
	count := turn.Rad() * float64(teeth) / (2 * math.Pi)
	if math.Abs(count-math.Round(count)) > 0.25 {
		count -= math.Copysign(float64(teeth)/2, count)
	}
	return int(math.Round(count))
}
