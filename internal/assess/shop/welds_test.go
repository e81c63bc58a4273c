package shop

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func side(name string, s project.WeldState, length float64) project.WeldSide {
	return project.WeldSide{Name: name, State: s, Length: quantity.MM(length)}
}

func weld(bracket string, sides ...project.WeldSide) project.Weld {
	return project.Weld{Bracket: bracket, At: "foot", Sides: sides}
}

// Only what is finished or inspected carries, and a length that is missing makes
// a sum not known.
func TestWeldOf(t *testing.T) {
	w := WeldOf(3, weld("Left front", side("front", project.WeldFinished, 60), side("outer", project.Inspected, 80), side("rear", project.WeldTacked, 60)))
	assert.Equal(t, "weld.left-front.foot", w.ID)
	assert.Equal(t, 3, w.Index)
	assert.Equal(t, project.WeldPart, w.State)
	assert.InDelta(t, 140, w.Carries.V, 1e-12)
	assert.InDelta(t, 200, w.AllSides.V, 1e-12)
	assert.Equal(t, []string{"rear tacked"}, w.Open)
	assert.True(t, w.Of("left_front"))
	assert.False(t, w.Of("right_front"))

	bare := WeldOf(0, weld("a", project.WeldSide{Name: "front", State: project.WeldTacked}, side("rear", project.WeldFinished, 10)))
	assert.True(t, bare.Carries.Known, "what is missing carries nothing")
	assert.False(t, bare.AllSides.Known)
	bare = WeldOf(0, weld("a", project.WeldSide{Name: "front", State: project.WeldFinished}))
	assert.False(t, bare.Carries.Known)
	assert.Equal(t, []string{"front not welded yet"}, WeldOf(0, weld("a", project.WeldSide{Name: "front"})).Open)
}

func facts(m WeldMap) map[string]finding.Fact {
	_, fs := m.Welds()
	out := map[string]finding.Fact{}
	for _, f := range fs {
		out[f.ID] = f
	}
	return out
}

// A weld is ok only when all of it carries and was proved, or has a reason.
func TestWeldFacts(t *testing.T) {
	done := weld("left_front", side("front", project.WeldFinished, 60))
	reason := done
	reason.Sides = []project.WeldSide{{Name: "front", State: project.WeldFinished, Override: "a trailer"}}
	for name, c := range map[string]struct {
		m    WeldMap
		want finding.Status
		text string
	}{
		"proved":     {WeldMap{Map: []project.Weld{done}, Proved: true}, finding.OK, "is finished"},
		"unproved":   {WeldMap{Map: []project.Weld{done}}, finding.NotKnown, "proof is missing: front"},
		"overridden": {WeldMap{Map: []project.Weld{reason}}, finding.OK, "is finished"},
		"tacked":     {WeldMap{Map: []project.Weld{weld("left_front", side("front", project.WeldTacked, 60))}, Proved: true}, finding.NotKnown, "front tacked"},
		"no sides":   {WeldMap{Map: []project.Weld{weld("left_front")}, Proved: true}, finding.NotKnown, "has no sides"},
	} {
		f := facts(c.m)["weld.left-front.foot"]
		assert.Equal(t, c.want, f.Status, name)
		assert.Contains(t, f.Text, c.text, name)
		welds, _ := c.m.Welds()
		assert.Equal(t, name == "unproved", len(welds[0].Bare) > 0, name)
	}
}

// The whole map is ok only when every bracket has its welds on it, every side
// carries, and nothing lacks proof; an empty map says nothing, unless everything
// is bolted and no leg is made here.
func TestWholeWeldMap(t *testing.T) {
	front := side("front", project.WeldFinished, 60)
	out := project.WeldSide{Name: "rear", State: project.WeldTacked, Out: true}
	seen := side("front", project.Inspected, 60)
	ids := []string{"welds.given", "welds.finished.in", "welds.finished", "welds.inspected"}
	for name, c := range map[string]struct {
		m    WeldMap
		want [4]bool // ok, by ids
	}{
		"empty":          {WeldMap{Proved: true}, [4]bool{}},
		"bolted":         {WeldMap{Bolted: true}, [4]bool{true, true, true, true}},
		"bolted, a leg":  {WeldMap{Bolted: true, Proved: true, Brackets: []string{"left_front"}}, [4]bool{}},
		"bolted, welded": {WeldMap{Bolted: true, Proved: true, Map: []project.Weld{weld("left_front", out)}}, [4]bool{true, true, false, false}},
		"one is missing": {WeldMap{Proved: true, Map: []project.Weld{weld("left_front", seen)}, Brackets: []string{"left_front", "rear"}}, [4]bool{}},
		"finished":       {WeldMap{Proved: true, Map: []project.Weld{weld("left_front", front)}, Brackets: []string{"left_front"}}, [4]bool{true, true, true, false}},
		"out of reach":   {WeldMap{Proved: true, Map: []project.Weld{weld("left_front", front, out)}}, [4]bool{true, true, false, false}},
		"inspected":      {WeldMap{Proved: true, Map: []project.Weld{weld("left_front", seen)}}, [4]bool{true, true, true, true}},
		"unproved":       {WeldMap{Map: []project.Weld{weld("left_front", seen)}}, [4]bool{true, false, false, false}},
		"no sides":       {WeldMap{Proved: true, Map: []project.Weld{weld("left_front")}}, [4]bool{}},
	} {
		fs := facts(c.m)
		for i, id := range ids {
			f, ok := fs[id]
			require.True(t, ok, id)
			want := finding.NotKnown
			if c.want[i] {
				want = finding.OK
			}
			assert.Equal(t, want, f.Status, "%s: %s: %s", name, id, f.Text)
		}
	}
	missing := facts(WeldMap{Proved: true, Map: []project.Weld{weld("left_front", seen)}, Brackets: []string{"right_front"}})
	assert.Contains(t, missing["welds.given"].Text, "the welds of the right front bracket were never entered")
	two := facts(WeldMap{Proved: true, Brackets: []string{"left_front", "right_front"}})["welds.given"]
	assert.Contains(t, two.Text, "the welds of these brackets were never entered: left front, right front")
	leg := facts(WeldMap{Bolted: true, Brackets: []string{"right_front"}})["welds.inspected"]
	assert.Contains(t, leg.Text, "the welds of the right front bracket were never entered")
	assert.Contains(t, leg.Why, "welded to its plates all the same. Enter each weld as [[weld]]")
}
