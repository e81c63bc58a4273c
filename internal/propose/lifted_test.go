package propose

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What moves on a lifted vehicle: spacers at flanges, the length of a shaft, straps.
var liftedMoves = []Allowed{
	{Of: "line.front.output_spacer", From: 0, To: 30, Step: 3}, {Of: "line.front.pinion.spacer", From: 0, To: 24, Step: 4},
	{Of: "line.front.pinion.slope", From: -0.29, To: -0.17, Step: 0.012}, {Of: "line.front.shaft.1.slip_closed", From: 760, To: 790, Step: 3},
	{Of: "line.front.suspension.strap.1.length", From: 400, To: 440, Step: 8}, {Of: "line.rear.pinion.spacer", From: 0, To: 30, Step: 5},
	{Of: "line.rear.pinion.slope", From: 0.03, To: 0.13, Step: 0.01}, {Of: "placement.rear", From: -150, To: -120, Step: 3},
	{Of: "placement.setback", From: 140, To: 160, Step: 2}, {Of: "placement.heading", From: -0.01, To: 0.01, Step: 0.002},
}

// cardans is the lifted build with single joints, which alone are bounded.
func cardans(t testing.TB, more string) *project.Build {
	t.Helper()
	return parsed(t, strings.Replace(example.Lifted, "kind = \"double cardan\"", "kind = \"cardan\"", 1)+more)
}

// No place of a box is farther from its middle than the bound says where spacers, shafts
// and straps are among what moves: at ride height and over the travel, with readings of
// what they move and without.
func TestBoundsOfSpacersShaftsAndStraps(t *testing.T) {
	all := tally{whole: true, t: t}
	read := "[[reading]]\nof = \"line.front.shaft.1\"\non = \"along\"\nlower = \"front\"\nshown = \"12 deg\"\n[[reading]]\nof = \"line.rear.pinion\"\non = \"along\"\nlower = \"rear\"\nshown = \"4.5 deg\"\n"
	for seed := range draws(1) {
		r := rand.New(rand.NewPCG(uint64(seed), 11))
		b := cardans(t, []string{"", read}[seed%2])
		var moves []Allowed
		for _, m := range liftedMoves {
			if len(moves) < MostMoves && r.IntN(2) == 0 {
				moves = append(moves, m)
			}
		}
		if len(moves) == 0 {
			continue
		}
		p, err := New(b, Wanted{Moves: moves, Hold: []string{"line.*.joint.*.max", "line.*.travel.**", "line.*.equivalent"}, Tight: true})
		require.NoError(t, err)
		all.boxes(t, r, p, seed)
	}
	for _, how := range []boundedBy{byJoint, byTravel, bySlip, byEquivalent} {
		assert.Positive(t, all.by[how], "%d", how)
	}
	t.Logf("%d bounds; what was reached is %.2f of them in the mean", all.bounded, all.tight/float64(all.bounded))
}

// Where several lengths of a strap are in a box nothing is said of what the travel does.
func TestNothingIsArguedAcrossStraps(t *testing.T) {
	p, err := New(cardans(t, ""), Wanted{Moves: []Allowed{{Of: "line.front.suspension.strap.1.length", From: 400, To: 440, Step: 8}, {Of: "line.front.pinion.slope", From: -0.29, To: -0.17, Step: 0.012}},
		Hold: []string{"line.front.travel.joint.*.max"}, Tight: true})
	require.NoError(t, err)
	b := p.roots()[0]
	mid := b.middle()
	s, out := p.at(mid), make([]float64, len(p.demands))
	p.whole(mid, s)
	p.reach(b, mid, s, out)
	for _, far := range out {
		assert.True(t, math.IsInf(far, 1))
	}
	b.lo[0], b.hi[0] = 2, 2
	mid = b.middle()
	s = p.at(mid)
	p.whole(mid, s)
	p.reach(b, mid, s, out)
	for _, far := range out {
		assert.False(t, math.IsInf(far, 1))
	}
	assert.True(t, math.IsInf(p.spread(0), 1), "they are gone through first")
}

// The search against every place: it finds one where there is one, none is cheaper, and
// where it says that there is none there is none.
func TestLiftedAgainstEveryPlace(t *testing.T) {
	none, some := 0, 0
	for seed := range draws(2) {
		moves := []Allowed{
			{Of: "line.front.shaft.1.slip_closed", From: 770, To: 782, Step: 4},
			{Of: "line.front.pinion.spacer", From: 0, To: 10, Step: 5},
			{Of: "line.front.suspension.strap.1.length", From: 404, To: 436, Step: 16},
		}
		b := cardans(t, "[limits]\nslip_room = \""+[]string{"12 mm", "40 mm", "18 mm"}[seed%3]+"\"\nstrap_even = \"60 mm\"\n")
		w := Wanted{Moves: moves, Hold: []string{"line.front.travel.slip.*", "line.front.strap.left.*", "line.front.travel.joint.2.max"}, Tight: true}
		p, err := New(b, w)
		require.NoError(t, err)
		a := p.Run(context.Background(), nil)
		require.NoError(t, a.Stopped)
		best := math.Inf(1)
		costs := p.costs(func(w Work) float64 { return w.points() })
		ready := assess.Prepare(b)
		cell := make([]int, len(p.moves))
		for n := range int(p.places()) {
			for i := range cell {
				cell[i] = n % len(p.moves[i].values)
				n /= len(p.moves[i].values)
			}
			at, err := ready.At(p.movesTo(cell), assess.OfTravel)
			if err != nil {
				continue
			}
			holds, cost := true, 0.0
			for i := range p.demands {
				f, ok := at.Finding(p.demands[i].ID)
				holds = holds && ok && (f.Status == finding.OK || f.Status == finding.Tight)
			}
			for i, k := range cell {
				cost += costs[i][k]
			}
			if holds {
				best = min(best, cost)
			}
		}
		require.Equal(t, math.IsInf(best, 1), a.None, "draw %d", seed)
		if a.None {
			none++
			require.NotEmpty(t, a.Conflicts)
			continue
		}
		some++
		require.NotEmpty(t, a.Proposals)
		assert.InDelta(t, best, a.Proposals[0].Work, 1e-9)
	}
	t.Log(none, "with none,", some, "with one")
	assert.Positive(t, none)
	assert.Positive(t, some)
}

// What is done is said in the words of the trade.
func TestWhatIsDoneToALiftedVehicle(t *testing.T) {
	b := parsed(t, example.Lifted)
	say := func(of string, to float64) string {
		m, err := b.MovableNamed(of)
		require.NoError(t, err)
		now, err := b.Reads(m)
		require.NoError(t, err)
		return Step{Of: m, From: now, To: to, Work: workOf(b, m)}.In(b)
	}
	assert.Equal(t, "a spacer of 12 mm at the pinion flange of the rear line (longer bolts, its rim in the flange's)", say("line.rear.pinion.spacer", 12))
	assert.Equal(t, "have shaft 1 of the front line made 10 mm shorter (760 mm joint to joint with its slip joint home; balanced again)", say("line.front.shaft.1.slip_closed", 760))
	assert.Equal(t, "fit a left strap of the front line of 412 mm between its eyes, 8 mm shorter (it lifts and lashes nothing; brake hoses longer than it lets the axle drop)",
		say("line.front.suspension.strap.1.length", 412))
}

// A range that no spacer has is refused where it stands.
func TestSpacersAreNotBelowNothing(t *testing.T) {
	_, err := project.Parse("test.toml", []byte(example.Lifted+"[[find.move]]\nof = \"line.rear.pinion.spacer\"\nrange = [\"-5 mm\", \"20 mm\"]\nstep = \"5 mm\"\n"))
	require.ErrorContains(t, err, "line.rear.pinion.spacer: its range begins at -5 mm, and it cannot be below 0")
}

// With a transfer case that may be turned on the gearbox, what is argued is argued of each
// of its places by itself, with the powertrain as it is then: against brute force, with a
// pad on the case as well.
func TestBoundsOfATurnedCase(t *testing.T) {
	all := tally{whole: true, t: t}
	for seed := range draws(2) {
		r := rand.New(rand.NewPCG(uint64(seed), 13))
		text := example.Lifted
		if seed%2 == 1 {
			text = strings.Replace(text, "step = \"5 deg\"", "step = \"5 deg\"\nmounts = [\"rear\"]", 1)
		}
		b := parsed(t, strings.Replace(text, "kind = \"double cardan\"", "kind = \"cardan\"", 1))
		step := 5 * math.Pi / 180
		p, err := New(b, Wanted{Moves: []Allowed{{Of: "powertrain.transfer_case.turned", From: -4 * step, To: 2 * step, Step: step},
			{Of: "placement.rear", From: -150, To: -120, Step: 3}, {Of: "placement.left_front", From: -30, To: -10, Step: 2}, {Of: "line.front.pinion.slope", From: -0.29, To: -0.17, Step: 0.012}},
			Hold: []string{"line.front.joint.*.max", "line.front.travel.**", "clearance.crossmember"}, Tight: true})
		require.NoError(t, err)
		whole := p.roots()[0]
		mid, out := whole.middle(), make([]float64, len(p.demands))
		p.reach(whole, mid, all.spot(p, mid), out)
		for _, far := range out {
			require.True(t, math.IsInf(far, 1), "nothing is argued across its places")
		}
		for range 3 {
			at := r.IntN(7)
			all.within(t, r, p, seed, func(bx box) { bx.lo[0], bx.hi[0] = at, at })
		}
	}
	for _, how := range []boundedBy{byJoint, byTravel, byRoom} {
		assert.Positive(t, all.by[how], "%d", how)
	}
}

// Turning the case against every place by itself: what is moved says what the file would.
func TestATurnedCaseSaysWhatItsFileSays(t *testing.T) {
	const step, weighed = "step = \"5 deg\"", "mass = \"70 kg\"\ncentre_of_mass = [1120, -90, -40]\n"
	lifted := strings.Replace(example.Lifted, "torque =", "mass = 320\ncentre_of_mass = [450, 0, 60]\ntorque =", 1)
	b := parsed(t, strings.Replace(lifted, step, weighed+step, 1))
	m, err := b.MovableNamed("powertrain.transfer_case.turned")
	require.NoError(t, err)
	ready, before := assess.Prepare(b), assess.Run(b)
	for _, deg := range []string{"-15", "20"} {
		want := assess.Run(parsed(t, strings.Replace(lifted, step, weighed+step+"\nturned = \""+deg+" deg\"", 1)))
		to := map[string]float64{"-15": -15, "20": 20}[deg] * math.Pi / 180
		at, err := ready.At([]project.Move{{Of: m, To: to}}, assess.Everything)
		require.NoError(t, err)
		moved := 0
		for _, f := range want.Findings {
			g, ok := at.Finding(f.ID)
			require.True(t, ok || f.By == finding.JobTrade, f.ID)
			assert.InDelta(t, f.Value, g.Value, 1e-6*max(1, math.Abs(f.Value)), f.ID)
			assert.Equal(t, f.Status, g.Status, f.ID)
			if was, ok := before.Finding(f.ID); ok && math.Abs(was.Value-f.Value) > 1e-3 {
				moved++
			}
			if strings.HasPrefix(f.ID, "line.rear.") {
				was, _ := before.Finding(f.ID)
				assert.InDelta(t, was.Value, f.Value, 1e-9, "what does not begin at the case stays: %s", f.ID)
			}
		}
		assert.Greater(t, moved, 3)
	}
	assert.Equal(t, "turn the transfer case on the gearbox by 15°, anticlockwise as one looks along the gearbox to the rear (oil level and breather looked after)",
		Step{Of: m, From: 0, To: -15 * math.Pi / 180, Work: Bolt}.In(b))
}
