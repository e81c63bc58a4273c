package bracket

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// screensOf are all strengths of a leg at (300, -200, -75), by name.
func screensOf(t require.TestingT, b *Bracket, at r3.Vec) map[string]screen {
	out := map[string]screen{}
	for name, of := range map[string]func(r3.Vec) (screen, error){
		"leg": b.legScreen, "weld": b.weldScreen, "bolts": b.boltScreen, "pad plate": b.padPlateScreen, "rail plate": b.railPlateScreen,
	} {
		if name == "bolts" && !b.bolted() {
			continue
		}
		s, err := of(at)
		require.NoError(t, err, name)
		out[name] = s
	}
	return out
}

// made are legs of every kind of strength.
func made(t *testing.T) map[string]Bracket {
	const plates = "pad_plate = { thickness = 6, width = 120, height = 110%s }\nrail_plate = { thickness = 8, width = 140, height = 120%s }\nweld = { size = 3 }\n"
	const bolts = ", pitch_across = 100, pitch_high = 80"
	out := map[string]Bracket{}
	for name, text := range map[string]string{
		"studded": example.Legs("", "foot = [320, -380, -60]\n"+fmt.Sprintf(plates, "", bolts+", hole = 11")+m10, ""),
		"bolted":  example.Legs("", fmt.Sprintf(plates, bolts, bolts)+m10, ""),
		"soft":    example.Legs("", "foot = [330, -380, -50]\nyield = \"100 MPa\"\n"+fmt.Sprintf(plates, bolts, bolts)+m10, ""),
		"welded":  example.Legs("", "foot = [320, -380, -60]\n"+fmt.Sprintf(plates, bolts, ""), ""),
		"round":   strings.Replace(example.Legs("", "foot = [330, -380, -50]\n"+fmt.Sprintf(plates, "", bolts)+m10, ""), "SHS 50x50x3 cold", "CHS 60.3x4", 1),
	} {
		out[name] = leg(t, runLegs(t, text), "left_front")
	}
	return out
}

// What lets a case be passed over holds of every strength that says so: two
// forces use no more together than each alone, k times a force uses k times as
// much, and where it says so a force and its opposite use as much.
func TestUsesAdd(t *testing.T) {
	legs := made(t)
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-5000, 5000)
		v3 := func(name string) r3.Vec { return r3.Vec{X: f.Draw(t, name), Y: f.Draw(t, name), Z: f.Draw(t, name)} }
		a, c, k := v3("a"), v3("b"), rapid.Float64Range(0, 3).Draw(t, "k")
		at := r3.Add(r3.Vec{X: 300, Y: -200, Z: -75}, r3.Scale(0.01, v3("at")))
		name := rapid.SampledFrom([]string{"studded", "bolted", "soft", "round", "welded"}).Draw(t, "leg")
		b := legs[name]
		for what, s := range screensOf(t, &b, at) {
			used := func(f r3.Vec) float64 {
				v, err := s.used(f)
				require.NoError(t, err, what)
				return v
			}
			assert.InEpsilon(t, 1+k*used(a), 1+used(r3.Scale(k, a)), 1e-5, what)
			if s.adds {
				assert.LessOrEqual(t, used(r3.Add(a, c)), (slack-1)/2+(1+slack)/2*(used(a)+used(c)), what)
			}
			if s.even {
				assert.InEpsilon(t, 1+used(a), 1+used(r3.Scale(-1, a)), 1e-6, what)
			}
		}
	})
}

// The largest use and its width are those of all cases looked at one by one.
func TestCasesPassedOverDoNotGovern(t *testing.T) {
	legs := made(t)
	at := r3.Vec{X: 300, Y: -200, Z: -75}
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-1, 1)
		v3 := func(size float64) r3.Vec {
			return r3.Scale(size, r3.Vec{X: f.Draw(t, "x"), Y: f.Draw(t, "y"), Z: f.Draw(t, "z")})
		}
		load := MountLoad{At: at}
		for i := range 4 {
			load.Cases = append(load.Cases, Case{fmt.Sprint(i), v3(3000)})
		}
		for range 2 {
			var ends [2][]Case
			for k := range ends {
				for _, c := range load.Cases {
					ends[k] = append(ends[k], Case{c.Name, r3.Add(c.Force, v3(600))})
				}
			}
			load.Swings = append(load.Swings, ends)
		}
		b := legs[rapid.SampledFrom([]string{"studded", "bolted", "soft", "round", "welded"}).Draw(t, "leg")]
		for what, s := range screensOf(t, &b, at) {
			worst, by := -1.0, ""
			most := func(cases []Case, least float64) float64 {
				for _, c := range cases {
					v, err := s.used(c.Force)
					require.NoError(t, err)
					if v > least {
						least, by = v, c.Name
					}
				}
				return least
			}
			worst = most(load.Cases, worst)
			governs, sum := by, 0.0
			for _, ends := range load.Swings {
				v := most(ends[1], most(ends[0], worst)) - worst
				sum += v * v
			}
			var u Use
			require.NoError(t, s.run(&u, &load))
			want := finding.Estimate{}.Spread(worst, worst+math.Sqrt(sum))
			assert.Equal(t, governs, u.Case, what)
			assert.InDelta(t, want.V, u.Of.V, 0, what)
			assert.InDelta(t, want.U(), u.Of.U(), 1e-5*want.V, what)
		}
	})
}

// Pressed on its rail a plate does not bend and its bolts are not pulled; pulled
// off it both are.
func TestOnlyAPullBendsTheRailPlate(t *testing.T) {
	b := made(t)["bolted"]
	at := b.Cut.Pad.At // on the leg's axis, which is square to the rail
	screens := screensOf(t, &b, at)
	for _, name := range []string{"rail plate", "bolts"} {
		s := screens[name]
		pressed, err := s.used(r3.Vec{Y: -5000})
		require.NoError(t, err)
		assert.InDelta(t, 0, pressed, 1e-9, name)
		pulled, err := s.used(r3.Vec{Y: 5000})
		require.NoError(t, err)
		assert.Greater(t, pulled, 0.01, name)
	}
}
