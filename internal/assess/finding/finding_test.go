package finding

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// JCGM 106:2012, 8.3: with a guard band of one expanded uncertainty (k = 2) a
// number is within its limit for sure only when its interval is.
func TestVerdict(t *testing.T) {
	cases := map[string]struct {
		v, u    float64 // standard uncertainty
		atLeast bool
		want    Status
		margin  float64
	}{
		"well within":             {2, 0.4, false, OK, 1},
		"its ± just reaches":      {2, 0.5, false, OK, 1},
		"its ± reaches past":      {2, 0.51, false, Tight, 1},
		"on the limit, exact":     {3, 0, false, OK, 0},
		"on the limit, with a ±":  {3, 0.01, false, Tight, 0},
		"past it":                 {3.1, 5, false, Over, -0.1},
		"below a smallest value":  {2.9, 0, true, Over, -0.1},
		"above a smallest value":  {4, 0.5, true, OK, 1},
		"nearly a smallest value": {4, 0.6, true, Tight, 1},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			var f Finding
			f.Judge(known(c.v, c.u), project.Rule{Kind: quantity.Angle, Value: 3, Source: "here", Changed: true}, c.atLeast)
			assert.Equal(t, c.want, f.Status)
			assert.InDelta(t, c.margin, f.Margin, 1e-12)
			assert.InDelta(t, 2*c.u, f.Uncertainty, 1e-12)
			assert.Equal(t, c.want, f.VerdictOn(known(c.v, c.u)))
			assert.Equal(t, "here", f.Source)
			assert.True(t, f.Changed && f.HasLimit && f.HasValue)
			assert.Equal(t, quantity.Angle, f.Kind)
		})
	}
}

// What is not known is never ok, and says why.
func TestUnknownIsNeverOK(t *testing.T) {
	f := Finding{Kind: quantity.Slope}
	f.Judge(Missing("a is not in the file yet"), project.Rule{Kind: quantity.Angle, Value: 3}, false)
	assert.Equal(t, NotKnown, f.Status)
	assert.False(t, f.HasValue)
	assert.Equal(t, quantity.Slope, f.Kind, "a finding's own kind stays")
	assert.Equal(t, "Cannot be judged yet: a is not in the file yet.", Asked(f, func() map[Status]string { return map[Status]string{OK: "good"} })())
	assert.Equal(t, "Cannot be judged yet: which end?", NotYet("which end?"))
}

// Worse is a strict order whatever the findings are, and the nearer to its
// limit in proportion the worse.
func TestWorse(t *testing.T) {
	f := Finding{Status: OK, HasValue: true, Limit: 10, Margin: 1}
	g := Finding{Status: OK, HasValue: true, Limit: 100, Margin: 2}
	assert.True(t, g.Worse(&f))
	assert.False(t, f.Worse(&g))
	assert.True(t, (&Finding{Status: Over}).Worse(&f))
	assert.True(t, f.Worse(&Finding{Status: OK}), "a number needs more attention than none")
	one := rapid.Custom(func(t *rapid.T) Finding {
		return Finding{Status: Status(rapid.IntRange(0, 4).Draw(t, "status")), HasValue: rapid.Bool().Draw(t, "value"),
			Limit: float64(rapid.IntRange(0, 3).Draw(t, "limit")), Margin: float64(rapid.IntRange(-2, 2).Draw(t, "margin"))}
	})
	rapid.Check(t, func(t *rapid.T) {
		f, g := one.Draw(t, "f"), one.Draw(t, "g")
		if f.Worse(&g) && g.Worse(&f) {
			t.Fatalf("both worse: %+v %+v", f, g)
		}
	})
}

// known is v with a standard uncertainty of its own.
func known(v, u float64) Number {
	n, err := new(uncertain.Sources).With(v, uncertain.Source{Label: "it", U: u})
	if err != nil {
		panic(err)
	}
	return Of(n)
}

func TestNumber(t *testing.T) {
	x := known(5, 0.1)
	assert.InDelta(t, 2, x.Less(3).V, 1e-12)
	assert.InDelta(t, 0.2, x.Less(3).Expanded(), 1e-12)
	assert.Zero(t, x.LessOf(x).Expanded(), "what both have drops out")
	assert.Equal(t, Missing("n"), Exact(5).LessOf(Missing("n")))
	assert.Equal(t, Missing("m"), Missing("m").Less(3))
	assert.False(t, Given(1, false).Known)
}

// A size reaches unequally far: at zero only up, and never below zero.
func TestSize(t *testing.T) {
	at := known(0, 0.1).Sized()
	assert.Zero(t, at.V)
	assert.InDelta(t, 0.2, at.Expanded(), 1e-9)
	assert.Zero(t, at.Below())
	assert.InDelta(t, 0.1, at.U(), 1e-9)
	far := known(-3, 0.1).Sized()
	assert.InDelta(t, 3, far.V, 1e-12)
	assert.InDelta(t, 0.2, far.Expanded(), 1e-9)
	assert.InDelta(t, 0.2, far.Below(), 1e-9, "well away from zero by the straight line")
	square := Rising(far, func(v float64) float64 { return v * v })
	assert.InDelta(t, 9, square.V, 1e-12)
	assert.InDelta(t, 3.2*3.2-9, square.Expanded(), 1e-9)
	assert.InDelta(t, 9-2.8*2.8, square.Below(), 1e-9)
	f := Finding{}
	f.Judge(far, project.Rule{Kind: quantity.Angle, Value: 2.9}, true)
	assert.Equal(t, Tight, f.Status)
	f.Judge(at, project.Rule{Kind: quantity.Angle, Value: 0.19}, false)
	assert.Equal(t, Tight, f.Status, "its upper limit is past it")
}

// What is behind a finding's ±, and how sure it is to keep its limit.
func TestWhatIsBehindAFinding(t *testing.T) {
	s := new(uncertain.Sources)
	pinion, err := s.With(3, uncertain.Source{Label: "the reading of the pinion", U: 0.2})
	require.NoError(t, err)
	engine, err := s.With(1, uncertain.Source{Label: "the reading of the powertrain", U: 0.1})
	require.NoError(t, err)
	f := Finding{}
	f.Judge(Of(pinion.Minus(engine)), project.Rule{Kind: quantity.Angle, Value: 2 + 2*math.Sqrt(0.05)}, false)
	p, stated := f.Within()
	assert.True(t, stated)
	assert.InDelta(t, 0.97725, p, 1e-5, "two standard uncertainties of the normal distribution, any table")
	require.Len(t, f.Largest(), 2)
	assert.Equal(t, "the reading of the pinion", f.Largest()[0].Label)
	assert.InDelta(t, 0.8, f.Largest()[0].Part, 1e-9)
	f.Says = Say("It is so.")
	assert.Equal(t, "It is so.", f.Advice())
	assert.Equal(t, "the reading of the pinion", f.MostlyFrom())
	assert.Equal(t, "keeps its limit with a probability of 98 %", f.Sure())
	f.Judge(Of(pinion.Minus(engine)), project.Rule{Kind: quantity.Angle, Value: 2.2}, false)
	assert.Equal(t, "It is so. Its ± is mostly the reading of the pinion: that is what to take again. It keeps its limit with a probability of 81 %.", f.Advice())
	for label, again := range map[string]string{
		"the gauge's accuracy on the pinion's face":     "only reading another face helps.",
		"the gauge's accuracy on the pinion from above": "that is what to take again.",
		"the tape's accuracy on the pinion from above":  "that is what to take again.",
		"the scatter of the readings of the pinion":     "that is what to take again.",
		"the gauge's accuracy when turned round":        "that is what to take again.",
	} {
		n, err := s.With(3, uncertain.Source{Label: label, U: 0.2})
		require.NoError(t, err)
		f.Judge(Of(n), project.Rule{Kind: quantity.Angle, Value: 3.2}, false)
		assert.Contains(t, f.Advice(), "Its ± is mostly "+label+": "+again)
	}
	f.Judge(Of(pinion.Minus(engine)), project.Rule{Kind: quantity.Angle, Value: 1}, false)
	assert.Equal(t, "It is so.", f.Advice(), "taken again it stays past its limit")
	f.Unknown("it is not in the file")
	assert.Equal(t, "It is so.", f.Advice())
	f = Finding{}
	f.Judge(Exact(2), project.Rule{Kind: quantity.Angle, Value: 3}, false)
	_, stated = f.Within()
	assert.False(t, stated, "nobody said how far it may be off")
	assert.Empty(t, f.Largest())
}

func TestList(t *testing.T) {
	var l List
	f := Finding{ID: "x", Kind: quantity.Slope, Limit: 1, HasLimit: true}
	f.Judge(known(0.5, 0.1), project.Rule{Value: 1}, false)
	l.Finding(f)
	l.Uncertainty("n", quantity.Angle, known(1, 0.25))
	got := map[string]Value{}
	for _, v := range l {
		got[v.Name] = v
	}
	assert.Equal(t, Value{"x.uncertainty", quantity.Angle, 0.2, true}, got["x.uncertainty"], "a width has no direction")
	assert.InDelta(t, 0.5, got["x.margin"].V, 1e-12)
	assert.InDelta(t, 1, got["x.limit"].V, 1e-12)
	assert.InDelta(t, 0.25, got["n.standard_uncertainty"].V, 1e-12)
	assert.InDelta(t, 0.5, got["n.uncertainty"].V, 1e-12)
}

func TestWords(t *testing.T) {
	assert.Equal(t, "tube_60_3x3_2", Slug("Tube 60.3x3.2 "))
	assert.Equal(t, "left front", Spoken("left_front"))
	assert.Equal(t, "No such bar.", Sentence("no such bar"))
	assert.Empty(t, Sentence(""))
}

func TestNamesAndIDs(t *testing.T) {
	assert.Equal(t, "part 3", NameOr("", "part", 2))
	assert.Equal(t, "sump", NameOr("sump", "part", 2))
	taken := map[string]bool{"powertrain": true}
	assert.Equal(t, "steering_shaft", IDOf(" Steering Shaft", 0, taken))
	assert.Equal(t, "steering_shaft2", IDOf("steering shaft", 1, taken))
	assert.Equal(t, "3", IDOf("", 2, taken))
	assert.Equal(t, "powertrain4", IDOf("powertrain", 3, taken))
	assert.Equal(t, "shaft4", IDOf("shaft4", 9, taken))
	assert.Equal(t, "shaft", IDOf("shaft", 3, taken))
	assert.Equal(t, "shaft4_", IDOf("shaft", 3, taken), "its number is taken too")
}

func TestAtRise(t *testing.T) {
	var mm quantity.Units
	assert.Equal(t, "at ride height", AtRise(0, "", mm))
	assert.Equal(t, "at 40.0 mm of bump, coasting", AtRise(40, "coasting", mm))
	assert.Equal(t, "at 40.0 mm of droop", AtRise(-40, "", mm))
}

// What another value leaves open counts however little it is beside the value, since a
// limit may lie nearer still; an estimate is a bound, rectangular (JCGM 100:2008, 4.3.7).
func TestSpread(t *testing.T) {
	s := new(uncertain.Sources)
	front, rear := EstimateIn(s, "front"), EstimateIn(s, "rear")
	wide := 2 / math.Sqrt(3)
	assert.InDelta(t, 0.5*wide, front.Spread(10, 9.5).Expanded(), 1e-12)
	assert.InDelta(t, 0.5*wide, front.Spread(10, 10.5).Expanded(), 1e-12)
	assert.InDelta(t, 0.2*wide, front.Spread(-10, -10.2).Expanded(), 1e-12)
	assert.InDelta(t, 0.09*wide, front.Spread(10, 10.09).Expanded(), 1e-12)
	assert.Zero(t, front.Spread(10, 10+1e-10).Expanded(), "rounding")
	near := Finding{}
	near.JudgeAt(front.Spread(10, 10.09), 10.05, project.Rule{}, false)
	assert.Equal(t, Tight, near.Status, "the softest mount is past the limit")
	near.JudgeAt(Spread(10, []End{front.EndsOf(10, 9.95, 10.09)}, rear, 10), 10.05, project.Rule{}, false)
	assert.Equal(t, Tight, near.Status)
	assert.Zero(t, front.Spread(10, 9).LessOf(front.Spread(5, 4)).Expanded(), "one estimate moves both")
	ends := []End{front.EndsOf(10, 9.7, 10.2), rear.EndsOf(10, 10.4, 9.8)}
	assert.Equal(t, []float64{0.3, -0.4}, []float64{math.Round(10*ends[0].Off) / 10, math.Round(10*ends[1].Off) / 10})
	all := EstimateIn(s, "all")
	assert.InDelta(t, 0.5*wide, Spread(10, ends, all, 10).Expanded(), 1e-9)
	assert.InDelta(t, 0.6*wide, Spread(10, ends, all, 9.4).Expanded(), 1e-9, "all together reach further")
}

func TestPatterns(t *testing.T) {
	for _, c := range []struct {
		pattern, id string
		want        bool
	}{
		{"a.b", "a.b", true}, {"a.*", "a.b", true}, {"a.*", "a.b.c", false}, {"*.b", "a.b", true}, {"a.**", "a.b.c", true},
		{"a.**", "a", false}, {"a.*.c", "a.b.c", true}, {"a.*.c", "a.b.d", false}, {"a.b", "a.c", false}, {"**", "a", true}, {"a.*", "ab.c", false}, {"a*", "ab", false},
	} {
		assert.Equal(t, c.want, Matches(c.pattern, c.id), "%s %s", c.pattern, c.id)
	}
}

// What a pattern is compared by first lets nothing through, and keeps nothing out, that
// it would not part by part.
func TestAPatternIsHeldPartByPart(t *testing.T) {
	words := rapid.SliceOfN(rapid.SampledFrom([]string{"a", "ab", "b", "*", "**", "a*", "*b", ""}), 1, 4)
	rapid.Check(t, func(t *rapid.T) {
		pattern, id := strings.Join(words.Draw(t, "pattern"), "."), strings.Join(words.Draw(t, "id"), ".")
		want := pattern == id
		if strings.Contains(pattern, "*") {
			want = matches(pattern, id)
		}
		assert.Equal(t, want, Matches(pattern, id), "%s %s", pattern, id)
	})
}

// What several findings share stays as it was when one of them is put into the
// file's unit.
func TestRestateLeavesWhatIsShared(t *testing.T) {
	shared := []string{"a rail", "25.4 mm of it"}
	f := Finding{Missing: "25.4 mm", Assumes: shared, Says: Say("25.4 mm")}
	f.Restate(quantity.Inch())
	assert.Equal(t, []string{"a rail", "25.4 mm of it"}, shared)
	assert.Equal(t, []string{"a rail", "1 in of it"}, f.Assumes)
	assert.Equal(t, "1 in", f.Missing)
	assert.Equal(t, "1 in", f.Advice())
}
