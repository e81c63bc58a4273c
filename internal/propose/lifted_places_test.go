package propose

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/require"
)

// drawnLifted is the lifted build with numbers of its own, and two to four things of it that
// may move, on few steps: spacers, the length of a shaft, straps, the transfer case, and what
// they go with, and must. room is what a slip joint has to have left, mm.
func drawnLifted(t *testing.T, r *rand.Rand, room [2]float64, must ...string) (*project.Build, []Allowed) {
	t.Helper()
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	kind := []string{"cardan", "double cardan"}[r.IntN(2)]
	b := parsed(t, strings.NewReplacer(
		"kind = \"double cardan\"", "kind = \""+kind+"\"",
		"slope = \"14 deg up", fmt.Sprintf("slope = \"%.2f deg up", u(11, 17)),
		"slope = \"4 deg down", fmt.Sprintf("slope = \"%.2f deg down", u(2, 7)),
		"at = [420, -250, -340]", fmt.Sprintf("at = [%.1f, %.1f, %.1f]", u(412, 428), u(-258, -242), u(-350, -330)),
		"at = [2330, 0, -330]", fmt.Sprintf("at = [%.1f, %.1f, %.1f]", u(2322, 2338), u(-6, 6), u(-345, -315)),
		"length = 420", fmt.Sprintf("length = %.1f", u(408, 436)),
		"\nrear = -134", fmt.Sprintf("\nrear = %.1f", u(-142, -126)),
	).Replace(example.Lifted)+fmt.Sprintf("[limits]\nslip_room = \"%.1f mm\"\nstrap_even = \"%.1f mm\"\njoint_max = \"%.2f deg\"\nfront_joint = \"%.2f deg\"\n", u(room[0], room[1]), u(5, 60), u(2, 6), u(6, 16)))
	all := slices.Clone(liftedMoves)
	turn := 5 * math.Pi / 180
	all = append(all, Allowed{Of: "powertrain.transfer_case.turned", From: -2 * turn, To: 2 * turn, Step: turn})
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	all = slices.DeleteFunc(all, func(a Allowed) bool { return slices.Contains(must, a.Of) })[:2+r.IntN(2)-len(must)]
	var out []Allowed
	for _, of := range must { // far either way
		m, err := b.MovableNamed(of)
		require.NoError(t, err)
		now, err := b.Reads(m)
		require.NoError(t, err)
		out = append(out, Allowed{Of: of, From: now - 40, To: now + 60, Step: 10})
	}
	for _, a := range all {
		if !strings.HasSuffix(a.Of, "turned") {
			m, err := b.MovableNamed(a.Of)
			require.NoError(t, err)
			now, err := b.Reads(m)
			require.NoError(t, err)
			step, down, steps := a.Step*(0.5+1.5*r.Float64()), r.IntN(5), 4
			if spacer, _ := m.Spacer(); spacer || m.Strap() > 0 {
				down = 0
			}
			a = Allowed{Of: a.Of, From: now - float64(down)*step, To: now + float64(steps-down)*step, Step: step}
		}
		out = append(out, a)
	}
	return b, out
}

// liftedHeld is what may be held of it.
var liftedHeld = []string{"line.*.joint.*.max", "line.*.travel.joint.*.max", "line.*.travel.slip.*", "line.front.strap.**", "clearance.crossmember"}

// everywhere is a lifted build's problem with all that may be held, at every place.
func everywhere(t *testing.T, r *rand.Rand, room [2]float64, must ...string) (*Problem, []tried) {
	t.Helper()
	b, moves := drawnLifted(t, r, room, must...)
	p, err := New(b, Wanted{Moves: moves, Hold: liftedHeld, Tight: true})
	require.NoError(t, err)
	return p, everyPlace(t, p)
}

// Where all that is held holds at one place that is known, a proposal is found every time, and
// a fresh assessment of the whole build confirms each.
func TestAKnownPlaceOfALiftedVehicleIsFound(t *testing.T) {
	builds, moved := 0, 0
	for seed := range draws(2) {
		r := rand.New(rand.NewPCG(uint64(seed), 41))
		p, all := everywhere(t, r, [2]float64{5, 25})
		place := all[r.IntN(len(all))]
		var hold []string
		for i := range p.demands {
			if place.short[i] <= 0 {
				hold = append(hold, p.demands[i].ID)
			}
		}
		if len(hold) == 0 {
			continue
		}
		q, err := New(p.Build, Wanted{Moves: p.want.Moves, Hold: hold, Tight: true})
		require.NoError(t, err)
		got := q.Run(context.Background(), nil)
		require.NotEmpty(t, got.Proposals, "draw %d", seed)
		builds++
		for _, x := range got.Proposals {
			if len(x.Moves) > 0 {
				moved++
			}
			after, err := p.Build.With(q.movesTo(cellOf(q, x))...)
			require.NoError(t, err)
			fresh := assess.Run(after)
			for _, id := range hold {
				f, ok := fresh.Finding(id)
				require.True(t, ok, id)
				require.LessOrEqual(t, f.Status, finding.Tight, "draw %d: %s", seed, id)
			}
		}
	}
	t.Logf("%d builds, %d proposals that move something", builds, moved)
	require.Positive(t, moved)
}

// Two demands of which each is met somewhere and both nowhere: proved so, and both are named.
func TestWhatCannotBeOfALiftedVehicleIsProved(t *testing.T) {
	proved := 0
	for seed := range draws(1) {
		r := rand.New(rand.NewPCG(uint64(seed), 43))
		p, all := everywhere(t, r, [2]float64{36, 42}, []string{"line.front.shaft.1.slip_closed", "line.rear.shaft.1.slip_closed"}[r.IntN(2)]) // of whose slip joint there is no place with as much at both ends
		var pairs [][2]int
		for i := range p.demands {
			for j := range i {
				one, other, both := false, false, false
				for _, x := range all {
					one, other, both = one || x.short[i] <= 0, other || x.short[j] <= 0, both || x.short[i] <= 0 && x.short[j] <= 0
				}
				if one && other && !both {
					pairs = append(pairs, [2]int{i, j})
				}
			}
		}
		if len(pairs) == 0 {
			continue
		}
		k := pairs[r.IntN(len(pairs))]
		q, err := New(p.Build, Wanted{Moves: p.want.Moves, Hold: []string{p.demands[k[0]].ID, p.demands[k[1]].ID}, Tight: true})
		if err != nil { // what is not known where it stands now cannot be held by its name
			continue
		}
		a := q.Run(context.Background(), nil)
		require.True(t, a.None, "draw %d", seed)
		require.Equal(t, 2, irreducible(t, q, a, everyPlace(t, q)), "draw %d", seed)
		proved++
	}
	t.Logf("%d proved", proved)
	require.Positive(t, proved)
}
