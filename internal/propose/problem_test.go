package propose

import (
	"context"
	"math"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What cannot be searched is said, with what to do.
func TestWhatCannotBeSearched(t *testing.T) {
	b := demo(t)
	rear := Allowed{Of: "placement.rear", From: -300, To: -280, Step: 1}
	many := make([]Allowed, 12)
	for i := range many {
		many[i] = rear
	}
	for name, c := range map[string]struct {
		w    Wanted
		want string
	}{
		"nothing moves":   {Wanted{}, "nothing may move; say what may"},
		"twelve move":     {Wanted{Moves: many}, "12 things may move; at most 8"},
		"backwards":       {Wanted{Moves: []Allowed{{Of: "placement.rear", From: -280, To: -300, Step: 1}}}, "runs backwards, from -280.00 mm to -300.00 mm"},
		"no step":         {Wanted{Moves: []Allowed{{Of: "placement.rear", From: -300, To: -280}}}, "a step of nothing goes nowhere"},
		"no number":       {Wanted{Moves: []Allowed{{Of: "placement.rear", From: math.NaN(), To: -280, Step: 1}}}, "is not a number"},
		"tiny steps":      {Wanted{Moves: []Allowed{{Of: "placement.rear", From: -300, To: -280, Step: 1e-5}}}, "more than 2000 steps"},
		"unknown":         {Wanted{Moves: []Allowed{{Of: "placement.reer", From: -300, To: -280, Step: 1}}}, "did you mean placement.rear?"},
		"twice":           {Wanted{Moves: []Allowed{rear, rear}}, "may move twice over"},
		"moves another":   {Wanted{Moves: []Allowed{rear, {Of: "placement.lift", From: -100, To: 100, Step: 1}}}, "move each other"},
		"unknown finding": {Wanted{Moves: []Allowed{rear}, Hold: []string{"line.rear.joint.2.mux"}}, "did you mean line.rear.joint.2.max?"},
	} {
		_, err := New(b, c.w)
		require.ErrorContains(t, err, c.want, name)
	}
	_, err := New(parsed(t, "format = 3\n"), Wanted{Moves: []Allowed{rear}})
	require.ErrorContains(t, err, "powertrain.pads.left_front")
	bare := parsed(t, "format = 3\n[powertrain.pads]\nleft_front = [0,-300,0]\nright_front = [0,300,0]\nrear = [1250,0,0]\n[placement]\nleft_front=0\nright_front=0\nrear=-290\nsetback=0\n")
	_, err = New(bare, Wanted{Moves: []Allowed{rear}})
	require.ErrorContains(t, err, "there is nothing to hold")
}

// A mount whose bracket is welded does not move, nor does what would move it.
func TestWhatIsWeldedStays(t *testing.T) {
	b := *demo(t)
	b.Welds = []project.Weld{{Bracket: "Left front", At: "foot to rail", Sides: []project.WeldSide{{Name: "front", State: project.WeldFinished}}}}
	for _, of := range []string{"placement.left_front", "placement.setback", "placement.lift"} {
		_, err := New(&b, Wanted{Moves: []Allowed{{Of: of, From: -1000, To: 1000, Step: 10}}})
		require.ErrorContains(t, err, "the bracket of the left front mount is welded", of)
	}
	_, err := New(&b, Wanted{Moves: []Allowed{{Of: "placement.rear", From: -300, To: -280, Step: 1}}})
	require.NoError(t, err)
}

// Steps count from where a thing stands, and from the low end where it stands outside.
func TestSteps(t *testing.T) {
	b := demo(t)
	p, err := New(b, Wanted{Moves: []Allowed{{Of: "placement.rear", From: -292, To: -285, Step: 2}, {Of: "placement.setback", From: 270, To: 280, Step: 4}}})
	require.NoError(t, err)
	assert.Equal(t, []float64{-291.5, -289.5, -287.5, -285.5}, p.moves[0].values)
	assert.Equal(t, 1, p.moves[0].stay)
	assert.Equal(t, []float64{270, 274, 278}, p.moves[1].values)
	assert.Equal(t, -1, p.moves[1].stay)
	for _, m := range p.movesTo([]int{1, 0}) {
		assert.NotEqual(t, "placement.rear", m.Of.Path(), "what stays is not moved")
	}
	assert.InDelta(t, 12, p.places(), 0)
}

// A wedge turns a pinion from where it was read to stand, not from where it was planned.
func TestAReadPinionIsTurnedFromThere(t *testing.T) {
	b := parsed(t, `format = 3
[powertrain]
output = [1250, 0, 0]
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1250, 0, 0]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = 0
[line.rear.pinion]
at = [2500, 0, 0]
slope = "3 deg down to the rear"
[[reading]]
of = "line.rear.pinion"
on = "along"
shown = "3.6 deg"
lower = "rear"
[limits]
joint_max = "2.8 deg"
`)
	deg := math.Pi / 180
	p, err := New(b, Wanted{Moves: []Allowed{{Of: "line.rear.pinion.slope", From: 0, To: 6 * deg, Step: 0.5 * deg}}, Hold: []string{"line.rear.joint.2.max"}})
	require.NoError(t, err)
	assert.InDelta(t, 3.6*deg, p.moves[0].now, 1e-9)
	a := p.Run(context.Background(), nil)
	require.NotEmpty(t, a.Proposals)
	assert.Equal(t, "1° wedge under the spring, thick end to the front (nose down; the other way round where the spring lies under the axle)", a.Proposals[0].Words(b))
	assert.Equal(t, []string{"line.rear.pinion"}, a.Proposals[0].Again)
	f, ok := a.Proposals[0].After.Finding("line.rear.joint.2.max")
	require.True(t, ok)
	assert.InDelta(t, 2.6, f.Value/deg, 1e-6)
}

// What is not known is not held, is said to be left out, and nothing rests on it.
func TestNothingRestsOnWhatIsNotKnown(t *testing.T) {
	b := demo(t)
	p, err := New(b, Wanted{Moves: []Allowed{{Of: "placement.rear", From: -300, To: -270, Step: 1}}})
	require.NoError(t, err)
	for _, d := range p.demands {
		assert.NotEqual(t, finding.NotKnown, d.Status, d.ID)
	}
	f := finding.Finding{ID: "x", Status: finding.NotKnown, HasValue: true, HasLimit: true, Margin: 5}
	assert.True(t, math.IsInf(p.short(&f), 1))
	f.Status = finding.Elsewhere
	assert.True(t, math.IsInf(p.short(&f), 1))
	f.Status, f.Uncertainty = finding.Tight, 6
	assert.InDelta(t, 1, p.short(&f), 1e-12)
	p.want.Tight = true
	assert.InDelta(t, -5, p.short(&f), 1e-12)
	f.Status, f.Margin = finding.Over, 5 // held to something beside its number
	assert.Positive(t, p.short(&f))
}

func TestWords(t *testing.T) {
	b := demo(t)
	mm := quantity.Units{}
	assert.Equal(t, "9 mm", Amount(quantity.Length, -9, mm))
	assert.Equal(t, "9.5 mm", Amount(quantity.Length, 9.5, mm))
	assert.Equal(t, "3/8 in", Amount(quantity.Length, 9.525, quantity.Inch()))
	assert.Equal(t, "2°", Amount(quantity.Slope, 2*math.Pi/180, mm))
	for of, want := range map[string]string{
		"placement.rear": "raise the rear mount 4 mm", "placement.left_front": "raise the left front mount 4 mm", "placement.lift": "raise the whole powertrain 4 mm",
		"placement.setback": "move the powertrain 4 mm to the rear", "placement.offset": "move the powertrain 4 mm to the right",
	} {
		m, err := b.MovableNamed(of)
		require.NoError(t, err)
		assert.Equal(t, want, Step{Of: m, From: 1, To: 5}.In(b), of)
	}
	m, err := b.MovableNamed("line.rear.shaft.1.yoke_offset")
	require.NoError(t, err)
	assert.Equal(t, "turn the rear yoke of shaft 1 by 10° to the left, anticlockwise as one looks along the shaft from its driving end", Step{Of: m, From: 10 * math.Pi / 180, To: 0}.In(b))
	none := Proposal{}
	assert.Equal(t, "leave everything where it is", none.Words(b))
	c := Conflict{Finding: finding.Finding{Kind: quantity.Length}, Known: true, Short: 7, Least: true}
	assert.Equal(t, "7 mm short where all the others hold", c.ShortWords(mm, false))
	assert.Equal(t, "7 mm short at its best place", c.ShortWords(mm, true))
}
