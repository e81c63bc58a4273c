package bracket

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	geombracket "fitup/internal/geom/bracket"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// manyCases are forces all round, of several sizes, among them some that hardly differ.
func manyCases() (out []Case) {
	for i := range 21 {
		turn, up := 2.4*float64(i), 1-2*(float64(i)+0.5)/21 // evenly over a ball
		flat := math.Sqrt(1 - up*up)
		size := 1500 + 300*float64(i%5)
		out = append(out, Case{string(rune('a' + i)), r3.Scale(size, r3.Vec{X: flat * math.Cos(turn), Y: flat * math.Sin(turn), Z: up})})
	}
	return out
}

// everyMount goes through the brackets of every build that stand, ready to be judged.
func everyMount(t *testing.T, do func(name string, b *Bracket, uses []useOf, at r3.Vec)) {
	files, err := filepath.Glob("../../../testdata/mounts/*.toml")
	require.NoError(t, err)
	require.Greater(t, len(files), 20)
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		plan := runLegs(t, kind(t, name))
		for i := range plan.Brackets {
			b := &plan.Brackets[i]
			if !b.Stands() {
				continue
			}
			switch {
			case b.Members != nil:
				s := &b.Strength
				s.Bolts.Begun, s.Pin.Begun, s.PadPlate.Begun, s.RailPlate.Begun = b.bolted() || b.sleeved(), b.pinned() || b.Members.Solved.Jointed(), b.PadPlate != nil, b.RailPlate != nil
				s.Leg.Begun, s.Weld.Begun, s.Struts.Begun = true, true, true
				do(name+" "+b.Name, b, b.memberUses(), r3.Add(b.Members.Pad.Point, r3.Vec{X: 3, Y: -2, Z: 25}))
			case b.Plates != nil:
				do(name+" "+b.Name, b, b.plateUses(), r3.Add(b.Plates.Pad.Point, r3.Vec{X: 3, Y: -2, Z: 25}))
			}
		}
	}
}

// What a strength is said to use at most, and in which case, is what a plain look at every
// case gives: the search leaves out only what cannot be worse. Every kind of mount.
func TestTheWorstCaseIsTheWorst(t *testing.T) {
	cases, seen := manyCases(), map[string]int{}
	everyMount(t, func(name string, b *Bracket, uses []useOf, at r3.Vec) {
		for _, u := range uses {
			sc, err := u.screen(at)
			if !u.use.Begun || err != nil {
				continue
			}
			require.NoError(t, sc.run(u.use, &MountLoad{Cases: cases}), "%s, %s", name, u.title)
			most, worst := math.Inf(-1), ""
			for _, c := range cases {
				v, err := sc.used(c.Force)
				require.NoError(t, err)
				if v > most {
					most, worst = v, c.Name
				}
			}
			seen[u.title]++
			assert.InDelta(t, most, u.use.Of.V, 1e-12*most, "%s, %s", name, u.title)
			assert.Equal(t, worst, u.use.Case, "%s, %s", name, u.title)
		}
	})
	for _, title := range []string{"members", "buckling of its members", "welds", "bolts", "through bolt", "pad plate", "rail plates", "plate", "weld", "box", "corner welds", "tab", "grip of the clamp"} {
		assert.Positive(t, seen[title], title)
	}
}

// The place that is named is the worst of all by a second pass that looks at every member,
// weld run, bolt, pad plate and rail plate in turn, in the case that governs.
func TestTheWorstPlaceIsNamed(t *testing.T) {
	cases := manyCases()
	force := map[string]r3.Vec{}
	for _, c := range cases {
		force[c.Name] = c.Force
	}
	named := 0
	everyMount(t, func(name string, b *Bracket, uses []useOf, at r3.Vec) {
		if b.Members == nil {
			return
		}
		for _, u := range uses {
			if sc, err := u.screen(at); u.use.Begun && err == nil {
				require.NoError(t, sc.run(u.use, &MountLoad{Cases: cases}))
			}
		}
		a, s := b.Members, &b.Strength
		yield, _ := b.Spec.Strengths()
		under := func(u *Use) []underLoad {
			all, err := a.under(force[u.Case], at)
			require.NoError(t, err)
			return all
		}
		hold := func(what string, u *Use, most float64, at string) {
			named++
			assert.InEpsilon(t, most, u.Of.V, 1e-9, "%s, %s", name, what)
			assert.Equal(t, at, u.At, "%s, %s", name, what)
		}
		if u := &s.Leg.Use; u.Of.Known {
			most, where := 0.0, ""
			for _, x := range under(u) {
				for i := range a.Solved.Parts {
					got, along, err := x.frame.Stress(x.res, i)
					require.NoError(t, err)
					if got.Equivalent > most {
						most, where = got.Equivalent, b.placeAlong(&a.Solved.Parts[i], along)
					}
				}
			}
			hold("members", u, most/yield, where)
		}
		if u := &s.Weld.Use; u.Of.Known {
			welds, err := b.joints()
			require.NoError(t, err)
			most, where := 0.0, ""
			for _, x := range under(u) {
				for i := range welds {
					w := &welds[i]
					load := w.pulls(x, force[u.Case], at)
					got, err := w.use(x, force[u.Case], at, b.ready.weldStrength, yield)
					require.NoError(t, err)
					forces, err := w.ready.Forces(nil, load, w.ready.Places(0.5))
					require.NoError(t, err)
					for _, f := range forces { // no place of the run carries more than is said of it
						assert.LessOrEqual(t, r3.Norm(f), got.stress.PerLength*(1+1e-9), "%s, %s", name, w.at)
					}
					if got.used > most {
						most, where = got.used, w.at
					}
				}
			}
			hold("welds", u, most, where)
		}
		if u := &s.Bolts.Use; u.Of.Known && !b.sleeved() {
			held, err := b.heldByBolts("bracket")
			require.NoError(t, err)
			poses, err := b.feetPoses()
			require.NoError(t, err)
			most, where := 0.0, ""
			for _, x := range under(u) {
				for k := range a.Feet {
					shares, err := geombracket.BoltPattern{Name: "x", At: boltsOf(b.Spec.RailPlate)}.Share(b.footLoad(x, &a.Feet[k], poses[k]))
					require.NoError(t, err)
					for _, share := range shares {
						got, err := held.bolt.Check(math.Hypot(share.Shear.X, share.Shear.Y), max(0, share.Tension))
						require.NoError(t, err)
						if got.Governs > most {
							most, where = got.Governs, b.footWords(k)+", "+boltWords(poses[k], share.At)
						}
					}
				}
			}
			hold("bolts", u, most, where)
		}
		if u := &s.Pin.Use; u.Of.Known && a.Solved.Jointed() {
			bolts, err := b.throughs()
			require.NoError(t, err)
			most, where := 0.0, ""
			for _, x := range under(u) {
				for i := range bolts {
					got, err := b.throughUse(x, &bolts[i], yield)
					require.NoError(t, err)
					if v := max(got.NetUsed, got.BoltUsed); v > most {
						most, where = v, got.At
					}
				}
			}
			hold("through bolt", u, most, where)
		}
		if u := &s.RailPlate.Use; u.Of.Known {
			poses, err := b.feetPoses()
			require.NoError(t, err)
			most, where := 0.0, ""
			for _, x := range under(u) {
				for k := range a.Feet {
					plate, err := b.footPlate(&a.Feet[k], poses[k])
					require.NoError(t, err)
					got, err := plate.bent(b.footLoad(x, &a.Feet[k], poses[k]))
					require.NoError(t, err)
					if got.Utilisation > most {
						most, where = got.Utilisation, b.footWords(k)
						if b.bolted() {
							where += ", at " + boltWords(poses[k], got.At)
						}
					}
				}
			}
			hold("rail plates", u, most, where)
		}
	})
	assert.Greater(t, named, 60)
}
