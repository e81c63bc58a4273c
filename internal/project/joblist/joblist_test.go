package joblist

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestListIsWhole(t *testing.T) {
	all := All()
	require.GreaterOrEqual(t, len(all), 90)
	seen := map[string]int{}
	stage := 0
	for i, s := range all {
		require.NotContains(t, seen, s.ID)
		seen[s.ID] = i
		assert.Regexp(t, `^[a-z0-9-]{3,40}$`, s.ID)
		assert.NotEmpty(t, s.Title, s.ID)
		assert.NotEmpty(t, s.Done, "%s does not say what done means", s.ID)
		assert.NotEqual(t, s.Done[:1], strings.ToUpper(s.Done[:1]), "%s: what done means goes on a sentence", s.ID)
		assert.LessOrEqual(t, len([]rune(s.Title)), 40, "%s: the list cuts a longer title", s.ID)
		if i > 0 {
			assert.NotEmpty(t, s.Needs, "%s can be done before anything else?", s.ID)
		}
		at := slices.Index(Stages(), s.Stage)
		require.GreaterOrEqual(t, at, stage, "%s: stages are in order", s.ID)
		stage = at
	}
	for _, st := range Stages() {
		assert.True(t, slices.ContainsFunc(all, func(s Step) bool { return s.Stage == st }), st)
	}
	for _, s := range all {
		for _, n := range s.Needs {
			assert.Contains(t, seen, n, s.ID)
		}
		for _, h := range s.Hold {
			assert.Regexp(t, `^[a-z0-9_.*-]+(\?|@proved)?$`, h)
		}
	}
}

// The order of the list is an order in which it can be done, but for those
// steps of the bay that go on while the welds are being finished.
func TestNeedsGoInNoCircle(t *testing.T) {
	done := map[string]bool{}
	for range All() {
		for _, s := range All() {
			if !slices.ContainsFunc(s.Needs, func(n string) bool { return !done[n] }) {
				done[s.ID] = true
			}
		}
	}
	for _, s := range All() {
		assert.True(t, done[s.ID], "%s can never be done", s.ID)
	}
}

// Words that give a hazard away, looked for in what a step says; each asks for
// one of the cautions behind it.
var tells = []struct {
	words string
	want  []Hazard
}{
	{`\b(hoist|slings|lift(s|ed)?\b.*(engine|powertrain)|hang (the )?engine|put the powertrain)`, []Hazard{Lifting}},
	{`\bstands\b`, []Hazard{Stands, Lifting}},
	{`\bwelding set\b`, []Hazard{Welding}},
	{`^(welded: )?(tack|weld|finish the weld)`, []Hazard{Welding}},
	{`\b(grinder|saw)\b`, []Hazard{Grinding}},
	{`\b(drill)\b`, []Hazard{Grinding, Structural}},
	{`\bfuel (tank|lines|cans)|\bthe tank\b`, []Hazard{Fuel}},
	{`\bbattery\b`, []Hazard{Battery, Welding, Fuel}},
	{`\b(start it|run it|run the line)\b`, []Hazard{ExhaustGas}},
	{`\b(turn the shaft|run the line|turn the engine|start it|run it)\b`, []Hazard{Turning}},
	{`\b(fit the shaft|safety loops?|order the shaft|drive it slowly|run the line)\b`, []Hazard{Loop}},
	{`\b(steering|brakes?)\b`, []Hazard{Qualified, Structural}},
	{`\b(repaired|inspected|crossmembers with|rails with crush)`, []Hazard{Structural}},
	{`\b(drive it)\b`, []Hazard{Road}},
	{`\b(change the oil|run it warm|heat marks)`, []Hazard{Hot}},
}

func TestEveryHazardHasItsCaution(t *testing.T) {
	found := 0
	for _, tell := range tells {
		re := regexp.MustCompile(`(?i)` + tell.words)
		hits := 0
		for _, s := range All() {
			if !re.MatchString(s.Title) && !re.MatchString(s.Tools) {
				continue
			}
			hits++
			assert.True(t, slices.ContainsFunc(tell.want, func(h Hazard) bool { return slices.Contains(s.Hazards, h) }),
				"%s (%s; %s) has no caution for %s", s.ID, s.Title, s.Tools, tell.words)
		}
		assert.Positive(t, hits, "nothing says %s", tell.words)
		found += hits
	}
	assert.Greater(t, found, 60)
	for h := range hazardCount {
		assert.NotEmpty(t, h.Caution())
		assert.True(t, slices.ContainsFunc(All(), func(s Step) bool { return slices.Contains(s.Hazards, h) }), "no step has %q", h.Caution())
	}
	assert.Empty(t, hazardCount.Caution())
}

func TestConditions(t *testing.T) {
	has := func(f Facts, id string) bool {
		return slices.ContainsFunc(For(f), func(s Step) bool { return s.ID == id })
	}
	leaf := Facts{LeafSprings: true, Links: false, Arms: false, FixedDiff: false}
	assert.True(t, has(leaf, "springs-leaf"))
	assert.False(t, has(leaf, "springs-links"))
	assert.True(t, has(Facts{}, "springs-leaf"), "not known keeps the step")
	bolted := Facts{WeldedOn: false, BoltedOn: true}
	assert.True(t, has(bolted, "bolt-first"))
	assert.False(t, has(bolted, "tack-first"))
	assert.True(t, has(Facts{TwoPiece: true, OnePiece: false}, "carrier-bearing"))
	assert.False(t, has(Facts{TwoPiece: false, OnePiece: true}, "carrier-bearing"))

	usual := Facts{LeafSprings: true, Links: false, Arms: false, FixedDiff: false,
		WeldedOn: true, BoltedOn: false, OnePiece: true, TwoPiece: false, FrontDrive: false}
	assert.GreaterOrEqual(t, len(For(usual)), 90, "one build's own list is long as well")
	for _, f := range []Facts{usual, bolted, {}} {
		in := map[string]bool{}
		for _, s := range For(f) {
			in[s.ID] = true
		}
		for _, s := range For(f) {
			for _, n := range s.Needs {
				assert.True(t, in[n], "%s needs %s, which is not in this list", s.ID, n)
			}
		}
	}
	s, ok := Find("tack-first")
	require.True(t, ok)
	assert.Len(t, s.Cautions(), len(s.Hazards))
	_, ok = Find("nothing")
	assert.False(t, ok)
	assert.Len(t, IDs(), len(All()))
}
