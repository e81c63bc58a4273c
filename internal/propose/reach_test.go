package propose

import (
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var many = flag.Int("problems", 0, "random problems of each kind instead of a few")

func draws(few int) int {
	if *many > 0 {
		return *many
	}
	return few
}

// No place of a box is farther from its middle than the bound says: brute force over
// all corners and places drawn, for boxes of all sizes, with readings and without.
func TestBoundsAgainstBruteForce(t *testing.T) {
	var all tally
	for seed := range draws(12) {
		r := rand.New(rand.NewPCG(uint64(seed), 1))
		b := parsed(t, drawn(r))
		p, err := New(b, Wanted{Moves: allowedIn(r, b, 1+r.IntN(5), 12), Tight: true})
		require.NoError(t, err)
		all.boxes(t, r, p, seed)
	}
	require.Positive(t, all.bounded)
	t.Logf("%d bounds; what was reached is %.2f of them in the mean", all.bounded, all.tight/float64(all.bounded))
	assert.Greater(t, all.tight/float64(all.bounded), 0.3, "bounds that say nothing prune nothing")
}

// The same where the powertrain is tilted or lifted as a whole and yokes are turned on
// their splines, which changes nothing but how joints cancel.
func TestBoundsOfTiltAndYokes(t *testing.T) {
	var all tally
	yokes := 0
	for seed := range draws(12) {
		r := rand.New(rand.NewPCG(uint64(seed), 2))
		b := parsed(t, drawn(r))
		some := []Allowed{
			{Of: []string{"placement.tilt", "placement.lift"}[r.IntN(2)]}, {Of: "line.rear.shaft.1.yoke_offset"},
			{Of: "line.rear.pinion.slope"}, {Of: "placement.offset"}, {Of: "placement.heading"},
		}
		var moves []Allowed
		for _, m := range some {
			if r.IntN(4) == 0 {
				continue
			}
			mov, err := b.MovableNamed(m.Of)
			require.NoError(t, err)
			now, err := b.Reads(mov)
			require.NoError(t, err)
			m.Step = 0.01 * (0.2 + r.Float64())
			switch {
			case mov.Yokes() > 0:
				yokes++
				m.Step = 0.2 * r.Float64()
			case mov.Kind() == quantity.Length || mov.Kind() == quantity.Offset:
				m.Step = 1 + 3*r.Float64()
			}
			m.From, m.To = now-float64(r.IntN(8))*m.Step, now+float64(1+r.IntN(8))*m.Step
			moves = append(moves, m)
		}
		if len(moves) == 0 {
			continue
		}
		p, err := New(b, Wanted{Moves: moves, Tight: true})
		require.NoError(t, err)
		all.boxes(t, r, p, seed)
	}
	require.Positive(t, yokes)
	for _, how := range []boundedBy{byJoint, byEquivalent, byResidual, byMismatch} {
		assert.Positive(t, all.by[how], "%d", how)
	}
	t.Logf("%d bounds; what was reached is %.2f of them in the mean", all.bounded, all.tight/float64(all.bounded))
}

// The same of joints and the slip joint between bump and droop, with limits that some
// places miss.
func TestBoundsOfTheTravel(t *testing.T) {
	all := tally{whole: true, t: t}
	for seed := range draws(2) {
		r := rand.New(rand.NewPCG(uint64(seed), 3))
		b := limited(demo(t), 3*math.Pi/180, 0)
		for key, v := range map[string]float64{"joint_travel": (3 + 8*r.Float64()) * math.Pi / 180, "slip_room": 40 * r.Float64()} {
			rule := b.Limit(key)
			rule.Value, rule.Changed = v, true
			b.Limits[key] = rule
		}
		var moves []Allowed
		for _, m := range []Allowed{
			{Of: "placement.rear", From: -305, To: -270, Step: 1}, {Of: "placement.left_front", From: -116, To: -90, Step: 1},
			{Of: "placement.setback", From: 245, To: 275, Step: 1}, {Of: "placement.offset", From: -15, To: 20, Step: 1}, {Of: "line.rear.pinion.slope", From: 0, To: 0.1, Step: 0.004},
		} {
			if r.IntN(3) > 0 {
				moves = append(moves, m)
			}
		}
		if len(moves) == 0 {
			continue
		}
		p, err := New(b, Wanted{Moves: moves, Hold: []string{"line.rear.travel.**", "line.rear.joint.*.max"}, Tight: true})
		require.NoError(t, err)
		all.boxes(t, r, p, seed)
	}
	assert.Positive(t, all.by[byTravel])
	t.Logf("%d bounds, %d of slip joints; what was reached is %.2f of them in the mean", all.bounded, all.by[bySlip], all.tight/float64(all.bounded))
}

// tally is how far bounds were reached.
type tally struct {
	tight   float64
	bounded int
	by      [bySlip + 1]int
	whole   bool // all demands are judged, not the quick ones alone
	t       *testing.T
}

func (y *tally) spot(p *Problem, cell []int) *spot {
	s := p.at(cell)
	if y.whole && p.deeper(cell, s) {
		built := slices.Clone(s.built)
		p.whole(cell, s)
		for d, v := range s.built { // what is worked out early is what is worked out late
			require.True(y.t, v == built[d] || math.IsNaN(v) && math.IsNaN(built[d]), p.demands[d].ID)
		}
	}
	return s
}

// boxes holds the bounds of boxes of all sizes against places in them.
func (y *tally) boxes(t *testing.T, r *rand.Rand, p *Problem, seed int) {
	t.Helper()
	for range 4 {
		y.within(t, r, p, seed, func(box) {})
	}
}

// within holds the bounds of one box, narrowed so, against places in it.
func (y *tally) within(t *testing.T, r *rand.Rand, p *Problem, seed int, narrow func(box)) {
	t.Helper()
	{
		roots := p.roots()
		bx := roots[r.IntN(len(roots))]
		bx = box{append([]int(nil), bx.lo...), append([]int(nil), bx.hi...)}
		for i := range bx.lo {
			if w := bx.hi[i] - bx.lo[i]; w > 0 {
				bx.lo[i] += r.IntN(w + 1)
				bx.hi[i] -= r.IntN(bx.hi[i] - bx.lo[i] + 1)
			}
		}
		narrow(bx)
		mid := bx.middle()
		at, out := y.spot(p, mid), make([]float64, len(p.demands))
		p.reach(bx, mid, at, out)
		far := make([]float64, len(out))
		for range 40 {
			cell := make([]int, len(mid))
			for i := range cell {
				switch r.IntN(3) {
				case 0:
					cell[i] = bx.lo[i]
				case 1:
					cell[i] = bx.hi[i]
				default:
					cell[i] = bx.lo[i] + r.IntN(bx.hi[i]-bx.lo[i]+1)
				}
			}
			s := y.spot(p, cell)
			for d := range out {
				if math.IsNaN(at.built[d]) || math.IsNaN(s.built[d]) || math.IsInf(out[d], 1) {
					continue
				}
				got := math.Abs(s.built[d] - at.built[d])
				far[d] = max(far[d], got)
				require.LessOrEqual(t, got, out[d]*(1+1e-9)+1e-9, "%s from %v to %v of %v, draw %d", p.demands[d].ID, mid, cell, bx, seed)
				if s.built[d] < -1e-6 {
					require.Positive(t, s.short[d], "%s is past its limit as built and holds all the same", p.demands[d].ID)
				}
			}
		}
		for d := range out {
			if !math.IsInf(out[d], 1) && out[d] > 1e-6 {
				y.bounded++
				y.by[p.demands[d].bound.how]++
				y.tight += far[d] / out[d]
			}
		}
	}
}

// The demo has rubber mounts, rocked rooms and a plan of five things that move.
func TestBoundsOfTheDemo(t *testing.T) {
	b := demo(t)
	r := rand.New(rand.NewPCG(7, 7))
	p, err := New(b, Wanted{Moves: []Allowed{
		{Of: "placement.left_front", From: -116, To: -96, Step: 1}, {Of: "placement.right_front", From: -116, To: -96, Step: 1},
		{Of: "placement.rear", From: -300, To: -275, Step: 1}, {Of: "placement.setback", From: 250, To: 270, Step: 1},
		{Of: "placement.heading", From: -0.01, To: 0.01, Step: 0.002},
	}, Tight: true})
	require.NoError(t, err)
	bx := p.roots()[0]
	mid := bx.middle()
	at, out := p.at(mid), make([]float64, len(p.demands))
	p.reach(bx, mid, at, out)
	rooms := 0
	for range draws(12) {
		cell := make([]int, len(mid))
		for i := range cell {
			cell[i] = []int{bx.lo[i], bx.hi[i]}[r.IntN(2)]
		}
		s := p.at(cell)
		for d := range out {
			if math.IsNaN(at.built[d]) || math.IsNaN(s.built[d]) {
				continue
			}
			rooms++
			require.LessOrEqual(t, math.Abs(s.built[d]-at.built[d]), out[d]+1e-9, p.demands[d].ID)
			if s.built[d] < -1e-6 {
				require.Positive(t, s.short[d], p.demands[d].ID)
			}
		}
	}
	require.Positive(t, rooms)
}

// A travel that no place keeps is shown from few places, though what is quick fails in the
// middle of most boxes.
func TestTheTravelRulesOutWhereElseFails(t *testing.T) {
	b := limited(demo(t), 2.45*math.Pi/180, 0)
	rule := b.Limit("joint_travel")
	rule.Value, rule.Changed = 5*math.Pi/180, true
	b.Limits["joint_travel"] = rule
	p, err := New(b, Wanted{Moves: []Allowed{
		{Of: "placement.rear", From: -305, To: -270, Step: 1}, {Of: "placement.setback", From: 245, To: 275, Step: 1}, {Of: "line.rear.pinion.slope", From: 0, To: 0.1, Step: 0.004},
	}, Hold: []string{"line.rear.travel.**", "line.rear.joint.*.max"}, Tight: true})
	require.NoError(t, err)
	require.True(t, p.travels)
	all := make([]bool, len(p.demands))
	for i := range all {
		all[i] = true
	}
	judged := [2]int{}
	for i, deep := range []bool{true, false} {
		p.travels = deep
		s := search{space: p, goal: goal{active: all, least: -1, first: true}, budget: 1 << 20, memo: newMemo(1 << 16)}
		f := s.run(nil, 0)
		require.True(t, f.done)
		require.Nil(t, f.cell)
		assert.Equal(t, deep, s.struck > 0)
		judged[i] = f.judged
	}
	t.Logf("%d places judged of %.0f, and %d where the travel is looked at only where all else holds", judged[0], p.places(), judged[1])
	assert.Less(t, 2*judged[0], judged[1])
}
