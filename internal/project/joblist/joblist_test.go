package joblist

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stages are the stages in order.
var stages = []string{Survey, Rails, Place, FirstMount, Angles, Second, Support, Subframe,
	Finish, Systems, Shaft, Fluids, FirstStart, FirstDrive, After}

func TestListIsWhole(t *testing.T) {
	all := list
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
		at := slices.Index(stages, s.Stage)
		require.GreaterOrEqual(t, at, stage, "%s: stages are in order", s.ID)
		stage = at
	}
	for _, st := range stages {
		assert.True(t, slices.ContainsFunc(all, func(s Job) bool { return s.Stage == st }), st)
	}
	for _, s := range all {
		for _, n := range s.Needs {
			assert.Contains(t, seen, n, s.ID)
		}
		for _, h := range s.Hold {
			assert.Regexp(t, `^[a-z0-9_.*-]+(@proved)?\??$`, h)
		}
	}
}

// The order of the list is an order in which it can be done.
func TestNeedsStandBeforeTheirStep(t *testing.T) {
	before := map[string]bool{}
	for _, s := range list {
		for _, n := range s.Needs {
			assert.True(t, before[n], "%s needs %s, which stands behind it", s.ID, n)
		}
		before[s.ID] = true
	}
}

// A step that nothing waits for can be left out without anybody noticing.
func TestSomethingWaitsForEveryStep(t *testing.T) {
	for _, f := range []Facts{{}, transaxleBuild, usualBuild} {
		needed := map[string]bool{}
		for _, s := range For(f) {
			for _, n := range s.Needs {
				needed[n] = true
			}
		}
		for _, s := range For(f) {
			assert.True(t, needed[s.ID] || s.Stage == After || s.ID == "first-drive", "nothing waits for %s", s.ID)
		}
	}
}

var (
	usualBuild = Facts{LeafSprings: true, Links: false, Arms: false, FixedDiff: false, WeldedOn: true, BoltedOn: false, SupportWelded: true, SupportBolted: false,
		OnePiece: true, TwoPiece: false, FrontDrive: false, Propshaft: true, Transaxle: false, OnFrame: true, UnitBody: false}
	transaxleBuild = Facts{LeafSprings: false, Links: false, Arms: false, FixedDiff: false, WeldedOn: true, BoltedOn: false, SupportWelded: true, SupportBolted: false,
		OnePiece: false, TwoPiece: false, FrontDrive: false, Propshaft: false, Transaxle: true, OnFrame: false, UnitBody: true}
)

// Words that give a hazard away in what a step says and takes, one pattern for
// each hazard; where one matches, the step has that very caution.
var tells = [hazardCount]string{
	Lifting:     `\b(hoist|slings|hangs?\b|leveller|engine stand\b)`,
	Stands:      `(^|, )(jack|stands)(,|$)`,
	Springs:     `\b(spring compressor|tape, jack|jack, stands)|bump.*jack`,
	Welding:     `\bwelding set\b`,
	Arc:         `\bwelding set\b`,
	Fume:        `\bwelding set\b`,
	Behind:      `\bwelding set\b|\bdrill\b|\btunnel where`,
	Structural:  `\b(cracks and rust|local rules require of the swap|welding set|single sheet|crossmembers must|weld carries|welds inspected)\b`,
	Grinding:    `\b(grinder|saw|drill)\b`,
	Fuel:        `\b(fuel cans|fuel lines|put the tank|tank breather|cut fuel)\b`,
	Battery:     `\bbattery (is off|and watch)|\bevery wire is|\bearth straps\b`,
	Airbag:      `\bbattery is off|steering shaft|floor tunnel|electronics unplugged`,
	HighVoltage: `\bhigh voltage\b`,
	Refrigerant: `\b(refrigerant|air conditioning)\b`,
	ExhaustGas:  `\b(start it|run it warm|run the line|on stands$)\b`,
	Turning:     `\b(start it|run it warm|run the line|turn the shaft|crank it|fan and shroud|belts?, compressor|and belts)\b`,
	Loop:        `\b(fit the shaft|safety loops?|order the shaft|run the line|drive it slowly)\b`,
	Qualified:   `\b(steering shaft|brake servo|brake lines|steering and brakes|bleed brakes|handbrake|caster|hub nuts and|power steering pump and hoses)\b`,
	Hot:         `\b(drain coolant|change the oil|run it warm|heat marks|bleed the cooling)\b`,
	Solvent:     `\b(paint the bay|wax the)\b`,
	Dust:        `\b(bleed brakes|check clutch|release bearing|scraper)\b`,
	Road:        `\bdrive it\b`,
}

// lacking returns the steps that a hazard's pattern matches and that have no
// caution for it, and how many it matches.
func lacking(h Hazard, steps []Job) (without []string, hits int) {
	re := regexp.MustCompile(`(?i)` + tells[h])
	for _, s := range steps {
		if !re.MatchString(s.Title) && !re.MatchString(s.Tools) && !re.MatchString(s.Done) {
			continue
		}
		hits++
		if !slices.Contains(s.Hazards, h) {
			without = append(without, s.ID)
		}
	}
	return without, hits
}

func TestEveryHazardHasItsCaution(t *testing.T) {
	for h := range hazardCount {
		require.NotEmpty(t, tells[h], "%q has no pattern", h.Caution())
		without, hits := lacking(h, list)
		assert.Empty(t, without, "no caution %q", h.Line())
		assert.Positive(t, hits, "nothing says %s", tells[h])
		// and the test can fail: without its cautions every hit is told
		bare := slices.Clone(list)
		for i := range bare {
			bare[i].Hazards = slices.DeleteFunc(slices.Clone(bare[i].Hazards), func(x Hazard) bool { return x == h })
		}
		without, _ = lacking(h, bare)
		assert.Len(t, without, hits)
	}
	assert.Empty(t, hazardCount.Caution())
	assert.Empty(t, hazardCount.Line())
}

// In full where a stage meets the hazard first, in one line after that.
func TestCautionsInFullOnceAStage(t *testing.T) {
	for h := range hazardCount {
		assert.NotEmpty(t, h.Line())
		assert.LessOrEqual(t, len([]rune(h.Line())), 80)
		assert.Less(t, len(h.Line()), len(h.Caution()))
	}
	told, full := Told{}, map[string]bool{}
	for _, s := range list {
		got := told.Cautions(s.Stage, s)
		require.Len(t, got, len(s.Hazards))
		for i, h := range s.Hazards {
			key := s.Stage + h.Line()
			if full[key] {
				assert.Equal(t, h.Line(), got[i], s.ID)
			} else {
				assert.Equal(t, h.Caution(), got[i], "%s: the first of its stage", s.ID)
			}
			full[key] = true
		}
	}
}

// What turns on how the vehicle is driven and carried has steps of its own.
func TestTransaxleFourByFourAndUnitBody(t *testing.T) {
	has := func(f Facts, ids ...string) (out []string) {
		for _, s := range For(f) {
			if slices.Contains(ids, s.ID) {
				out = append(out, s.ID)
			}
		}
		return out
	}
	shaft := []string{"pinion-point", "read-hung", "prove-even", "prove-plan", "measure-shaft", "order-shaft", "fit-shaft", "safety-loop", "turn-by-hand", "after-500-joints"}
	half := []string{"transaxle-outputs", "hubs", "read-transaxle", "half-shaft-travel", "torque-strut", "half-shaft-lengths", "half-shafts-in", "after-500-boots"}
	shell := []string{"body-datums", "body-metal", "spread-plates", "brace-shell", "seal-shell"}
	four := []string{"transfer-case", "front-line", "transfer-mount", "front-caster", "front-lock", "range-check"}
	assert.Equal(t, shaft, has(usualBuild, shaft...))
	assert.Empty(t, has(usualBuild, half...))
	assert.Empty(t, has(usualBuild, shell...))
	assert.Empty(t, has(usualBuild, four...))
	assert.Equal(t, []string{"body-mounts"}, has(usualBuild, "body-mounts"))
	assert.Empty(t, has(transaxleBuild, shaft...))
	assert.ElementsMatch(t, half, has(transaxleBuild, half...))
	assert.ElementsMatch(t, shell, has(transaxleBuild, shell...))
	assert.Empty(t, has(transaxleBuild, "body-mounts"))
	with := maps.Clone(usualBuild)
	with[FrontDrive] = true
	assert.ElementsMatch(t, four, has(with, four...))
	for _, s := range For(transaxleBuild) {
		for _, h := range s.Holds(transaxleBuild) {
			assert.NotContains(t, h, "joint", "%s waits for what a transaxle never has", s.ID)
			assert.NotContains(t, h, "line.*.shaft", s.ID)
		}
	}
	s, _ := Find("weld-in")
	require.True(t, s.Finish)
	assert.Equal(t, []string{"readings.tacked", "line.*.half_shaft.**", "bracket.**", "adapter.**?", "torque_link.**?", "roll_stop.**?"}, Proof(transaxleBuild), "the weld waits for the half shafts")
	assert.Contains(t, Proof(usualBuild), "line.*.joint.*.max@proved")
	assert.Contains(t, Proof(Facts{}), "line.*.joint.*.max@proved", "not known asks for both")
	for _, s := range list {
		if strings.HasPrefix(s.Title, "Finish the weld") {
			assert.True(t, s.Finish, "%s cannot be undone", s.ID)
		}
	}
	assert.Subset(t, s.Holds(usualBuild), s.Hold)
}

func TestConditions(t *testing.T) {
	has := func(f Facts, id string) bool {
		return slices.ContainsFunc(For(f), func(s Job) bool { return s.ID == id })
	}
	leaf := Facts{LeafSprings: true, Links: false, Arms: false, FixedDiff: false}
	assert.True(t, has(leaf, "springs-leaf"))
	assert.False(t, has(leaf, "springs-links"))
	assert.True(t, has(Facts{}, "springs-leaf"), "not known keeps the step")
	bolted := Facts{WeldedOn: false, BoltedOn: true, SupportWelded: false, SupportBolted: true}
	assert.True(t, has(bolted, "bolt-first"))
	assert.False(t, has(bolted, "tack-first"))
	assert.True(t, has(Facts{TwoPiece: true, OnePiece: false}, "carrier-bearing"))
	assert.False(t, has(Facts{TwoPiece: false, OnePiece: true}, "carrier-bearing"))

	usual := usualBuild
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
	assert.Len(t, IDs(), len(list))
}
