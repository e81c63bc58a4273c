package assess

import (
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"fitup/internal/assess/finding"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// unsure gives every value of a build that may have one a ±: small beside it, and so
// that one of nothing stays away from its limits. pick chooses among them.
func unsure(b *project.Build, pick func() bool) *project.Build {
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch x := v.Addr().Interface().(type) {
		case quantity.Settable:
			if value, known := x.Get(); known && value != 0 && pick() {
				x.SetStated(quantity.Stated{V: value, Half: smallOf(x.Kind(), value)})
			}
			return
		case *project.Point:
			if x.Known && x.Ref == "" && pick() {
				small := 0.5
				if r3.Norm(x.At) < 2 { // which way something looks
					small = 0.001
				}
				x.Half.X, x.Half.Y, x.Half.Z = small, small, small
			}
			return
		case *time.Time:
			return
		}
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				f := v.Type().Field(i)
				if f.IsExported() && (f.Tag.Get("toml") != "" || f.Anonymous) && f.Tag.Get("exact") == "" && !slices.Contains([]string{"Readings", "Measurements", "Jobs", "Limits"}, f.Name) {
					walk(v.Field(i))
				}
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		}
	}
	walk(reflect.ValueOf(b).Elem())
	return b
}

// statable is of how many values of a build a ± can be stated.
func statable(b *project.Build) (can int) {
	unsure(b, func() bool { can++; return false })
	return can
}

// fewOf picks one in so many of these, at least one, and the same of a build each time.
func fewOf(b *project.Build, name string, every int) func() bool {
	every = max(1, min(every, statable(b)))
	n := len(name)
	return func() bool { n++; return n%every == 0 }
}

func smallOf(k quantity.Kind, v float64) float64 {
	switch k {
	case quantity.Length, quantity.Offset:
		return 0.2
	case quantity.Slope, quantity.Heading, quantity.Angle:
		return 0.002
	}
	return 0.01*math.Abs(v) + 1e-6
}

// With a ± on all that may have one, every finding whose value or margin depends on
// any of it has a ± that is no smaller than what that one alone comes to. None stays
// away for it, and none becomes better.
func TestEveryStatedValueReachesEveryFinding(t *testing.T) {
	every := inturn.Count(31, 1)
	all := builds(t)
	for _, name := range someOf(t, all, 5) {
		b := all[name]
		plain := Run(b)
		b = unsure(b, fewOf(b, name, every))
		stated := Run(b)
		for _, f := range plain.Findings {
			if f.By == finding.FrameTrade || f.By == finding.SubframeTrade {
				continue // a survey weighs its points by their ±, which moves what it finds
			}
			s, ok := stated.Finding(f.ID)
			assert.True(t, ok && s.HasValue == f.HasValue && s.Status >= f.Status, "%s: %s was %s and is %s: %s", name, f.ID, f.Status, s.Status, s.Missing)
			assert.Equal(t, f.Status == NotKnown, s.Status == NotKnown, "%s: %s: %s", name, f.ID, s.Missing)
			if len(b.Powertrain.Marks) > 0 && (f.By == finding.HungTrade || f.Basis != Planned) {
				continue // where it hangs is found by marks that are weighed by their ± too
			}
			assert.InDelta(t, f.Value, s.Value, 1e-9*max(1, math.Abs(f.Value)), "%s: %s", name, f.ID)
		}
		for _, v := range b.StatedValues() {
			varied, err := b.Varied(v.Path, v.Half)
			if err != nil {
				continue
			}
			up := Prepare(varied)
			up.open = nil
			moved := up.at(varied, Everything)
			for _, f := range plain.Findings {
				g, ok := moved.Finding(f.ID)
				s, _ := stated.Finding(f.ID)
				by := math.Abs(g.Value - f.Value)
				if ofMeasurements(f.ID) {
					continue // which weigh that ± already
				}
				if f.HasLimit { // which may move along
					by = math.Abs(g.Margin - f.Margin)
				}
				if ok && f.HasValue && g.HasValue && by > 1e-6*max(1, math.Abs(f.Value)) {
					assert.GreaterOrEqual(t, s.Uncertainty, 0.9*by*2/math.Sqrt(3), "%s: %s by %s ± %g: %g becomes %g", name, f.ID, v.Path, v.Half, f.Value, g.Value)
				}
			}
		}
	}
}

// ofMark reports whether a value is where a mark is on its body.
func ofMark(path string) bool { return strings.Contains(path, ".mark[") }

// ofMeasurements reports whether a finding is of how measurements fit each other.
func ofMeasurements(id string) bool {
	return id == finding.PowertrainFit || id == finding.PowertrainHidden ||
		finding.Matches(finding.SubframeFit("*"), id) || finding.Matches(finding.SubframeHidden("*"), id)
}

// A ± on one value and on nothing else opens every finding that it moves by what it
// moves it by, on top of what was open of it: nothing else hides what gets lost. Each
// value is looked at by itself, in builds of every trade.
func TestEachStatedValueAloneOpensWhatItMoves(t *testing.T) {
	every := inturn.Count(61, 1)
	texts := buildTexts(t)
	for _, name := range someOf(t, texts, 5) {
		t.Run(filepath.Base(name), func(t *testing.T) {
			f, err := project.Parse(name, []byte(texts[name]))
			if err != nil {
				return // broken on purpose
			}
			can, picked := statable(f.Build), fewOf(f.Build, name, every)
			plain := Run(f.Build)
			for i := range can {
				if picked() {
					aloneReaches(t, plain, texts[name], i)
				}
			}
		})
	}
}

// aloneReaches is of the value of that number in a build, or of what stands with it in
// a point.
func aloneReaches(t *testing.T, plain *Assessment, text string, number int) {
	t.Helper()
	f, err := project.Parse("alone", []byte(text))
	require.NoError(t, err)
	had, k := f.Build.StatedValues(), 0
	b := unsure(f.Build, func() bool { k++; return k-1 == number })
	stated := Run(b)
	for _, v := range b.StatedValues() {
		if slices.ContainsFunc(had, func(w project.StatedValue) bool { return w.Path == v.Path }) {
			continue
		}
		for _, by := range []float64{-v.Half, v.Half} {
			varied, err := b.Varied(v.Path, by)
			if err != nil {
				continue
			}
			up := Prepare(varied)
			up.open = nil
			moved := up.at(varied, Everything)
			for _, f := range plain.Findings {
				if f.By == finding.FrameTrade || f.By == finding.SubframeTrade {
					continue // a survey weighs its points by their ±, which moves what it finds
				}
				if ofMark(v.Path) && (f.By == finding.HungTrade || f.Basis != Planned) {
					continue // and so are marks weighed
				}
				g, known := moved.Finding(f.ID)
				s, _ := stated.Finding(f.ID)
				if !f.HasValue || !known {
					continue
				}
				assert.True(t, s.HasValue && s.Status >= f.Status, "%s with a ± on %s: %s became %s", f.ID, v.Path, f.Status, s.Status)
				worse := math.Abs(g.Value - f.Value)
				if f.HasLimit { // which may move along
					worse = f.Margin - g.Margin
				}
				if g.HasValue && worse > 1e-6*max(1, math.Abs(f.Value)) {
					assert.GreaterOrEqual(t, s.Uncertainty, 0.95*math.Hypot(f.Uncertainty, worse*2/math.Sqrt(3)), "%s with a ± on %s: %g becomes %g", f.ID, v.Path, f.Value, g.Value)
				}
				if !g.HasValue && (f.Status == OK || f.Status == Tight) {
					assert.Equal(t, NotKnown, s.Status, "%s with a ± on %s cannot be told at its end: %s", f.ID, v.Path, g.Missing)
				}
			}
		}
	}
}

// What a key press costs with so many values of which the demo states a ±.
func BenchmarkCarried(b *testing.B) {
	for _, every := range []int{1000, 100, 30, 10} {
		n := 0
		c := unsure(build(b, string(starter.Demo())), func() bool { n++; return n%every == every/2 })
		b.Run(strconv.Itoa(len(c.StatedValues())), func(b *testing.B) {
			before := processor(b)
			for b.Loop() {
				Run(c)
			}
			b.ReportMetric((processor(b)-before).Seconds()*1000/float64(b.N), "cpu-ms")
		})
	}
}

// A ± that has nothing to do with a finding leaves it as it was, and one that has is in
// it by name: two findings that rest on one value share its source.
func TestAStatedValueIsInWhatFollowsFromItAlone(t *testing.T) {
	demo := string(starter.Demo())
	was := Run(build(t, demo))
	const slope = `slope = "4.8 deg down to the rear"`
	require.Contains(t, demo, slope)
	now := Run(build(t, strings.Replace(demo, slope, `slope = "4.8 deg ± 0.2 down to the rear"`, 1)))
	opened := map[finding.Trade]int{}
	for _, f := range now.Findings {
		before := findingOf(t, was, f.ID)
		assert.InDelta(t, before.Value, f.Value, 1e-12, f.ID)
		switch {
		case f.By == finding.MountTrade || f.By == finding.BracketTrade:
			assert.Equal(t, before.Uncertainty, f.Uncertainty, f.ID)
		case f.Uncertainty > before.Uncertainty:
			opened[f.By]++
			require.NotEmpty(t, f.Largest(), f.ID)
			assert.Equal(t, "the ± typed of line.rear.pinion.slope", f.Largest()[0].Label, f.ID)
		}
		for _, s := range f.Assumes {
			assert.NotContains(t, s, "is not in this number's own", f.ID)
		}
	}
	assert.Positive(t, opened[finding.TravelTrade])
	assert.Positive(t, opened[finding.LineTrade])
	// The joint at the pinion turns with the pinion: 2·0.2/√3 = 0.231 degrees.
	assert.InDelta(t, 0.2309, deg(findingOf(t, now, finding.TravelJoint("rear", 2)).Uncertainty), 1e-3)
}
