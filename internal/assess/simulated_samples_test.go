package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain/coverage"
)

// sampled is a kind of builds that are one of the samples, some of whose values have a ±:
// what is true is somewhere about them, and who types them is off by the ± at most. So
// findings have cases of which no other kind of builds makes any.
type sampled struct {
	name, text string
	values     int // how many values have a ±, about
}

// sampledKinds are the samples that have what others have not.
func sampledKinds(texts map[string]string) (out []sampled) {
	for _, s := range []struct {
		name   string
		values int
	}{
		{"../../testdata/mounts/clamp_on_tab.toml", 15}, {"../../testdata/mounts/twin_ears.toml", 15}, {"../../testdata/mounts/boxed_plate.toml", 15},
		{"../../testdata/mounts/sleeved_crossmember.toml", 15}, {"../../testdata/mounts/dropped_crossmember.toml", 15},
		{"welded", 20}, {"rated line", 20}, {"piped", 20}, {"on legs", 25}, {"demo", 30}, {"../../testdata/example.toml", 40},
	} {
		out = append(out, sampled{"sample " + s.name, texts[s.name], s.values})
	}
	return out
}

// drawnSample is one: what is true, and the values that have a ±.
type drawnSample struct {
	*sampled
	build *project.Build // true, its values with their ±
	is    *Assessment
	scale map[string]float64
	err   error
}

// judgedOfSamples are the trades whose findings are judged: those of measurements would
// have to be measured anew.
var judgedOfSamples = []finding.Trade{finding.BracketTrade, finding.ClearTrade, finding.LineTrade, finding.TravelTrade, finding.RailTrade, finding.MountTrade}

func (k *sampled) assessed(b *project.Build) *Assessment {
	p := Prepare(b)
	return p.at(p.Build, (OfLines | OfMoving | OfRoom | OfRails | OfLegs | OfLoads | OfRide | OfShake | OfTravel).whole())
}

// draw draws one.
func (k *sampled) draw(dice *rand.Rand) *drawnSample {
	s := &drawnSample{sampled: k, scale: map[string]float64{}}
	parse := func() *project.Build {
		f, err := project.Parse("sample.toml", []byte(k.text))
		if err != nil {
			s.err = fmt.Errorf("%s: %w", k.name, err)
			return nil
		}
		return f.Build
	}
	b := parse()
	if b == nil {
		return s
	}
	can := 0
	unsure(b, func() bool { can++; return false })
	b = unsure(parse(), func() bool { return dice.IntN(can) < k.values })
	if s.build = varied(dice, b, 2); s.build == nil {
		return s // what is true would be no build
	}
	s.is = k.assessed(s.build)
	if once := varied(dice, s.build, 1); once != nil {
		for _, f := range k.assessed(once).Findings {
			if f.HasValue {
				s.scale[f.ID] = f.Uncertainty / 2
			}
		}
	}
	return s
}

// varied is a build each of whose values with a ± is off by so many times that at most;
// nil where it is none then.
func varied(dice *rand.Rand, b *project.Build, times float64) *project.Build {
	for _, v := range b.StatedValues() {
		var err error
		if b, err = b.Varied(v.Path, either(dice, times*v.Half)); err != nil {
			return nil
		}
	}
	return b
}

// judge types it anew.
func (s *drawnSample) judge(dice *rand.Rand, say func(coverage.Outcome)) error {
	if s.err != nil || s.build == nil {
		return s.err
	}
	b := varied(dice, s.build, 1)
	if b == nil {
		return nil
	}
	a := s.assessed(b)
	for i := range a.Findings {
		f := &a.Findings[i]
		is := s.is.findingOf(f.ID)
		if is == nil || !is.HasValue || !is.HasLimit || is.Status == Elsewhere || f.Title != is.Title || f.Basis != is.Basis || !slices.Contains(judgedOfSamples, f.By) {
			continue
		}
		if math.Abs(f.Limit-is.Limit) <= 0.2*math.Abs(is.Limit) {
			nearLimit(dice, f, is.Margin, s.scale[f.ID], say)
		}
	}
	return nil
}
