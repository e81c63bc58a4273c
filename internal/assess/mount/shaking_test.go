package mount

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// shakes is the shaking of a build where it stands, with what is said of it.
type shakes struct {
	*Shaking
	Findings []finding.Finding
	Values   finding.List
}

func shakingOf(t testing.TB, more ...string) shakes {
	t.Helper()
	b := build(t, levelHead+strings.Join(more, "\n"))
	s, p, err := b.Seat()
	require.NoError(t, err)
	pose, err := s.Pose(p)
	require.NoError(t, err)
	got, fs := Prepare(b, finding.Missing("no tyre"), new(uncertain.Sources), finding.Estimate{}).ShakingAt(finding.Maybe[geom.Pose]{V: pose, Known: true})
	out := shakes{Shaking: got, Findings: fs}
	got.Values(&out.Values)
	return out
}

func (s shakes) finding(t testing.TB, id string) finding.Finding {
	t.Helper()
	i := slices.IndexFunc(s.Findings, func(f finding.Finding) bool { return f.ID == id })
	require.GreaterOrEqual(t, i, 0, id)
	return s.Findings[i]
}

func (s shakes) frequencies() (out []float64) {
	for _, m := range s.Modes {
		out = append(out, m.Frequency.V)
	}
	return out
}

const fourCorners = `
[powertrain.inertia]
roll = 8
pitch = 20
yaw = 18
[mount.left_front]
fit_up_only = true
[mount.right_front]
fit_up_only = true
[mount.rear]
fit_up_only = true
`

func corners(up float64, more string) string {
	out := fourCorners
	for _, m := range []struct {
		name string
		x, y float64
	}{{"a", 0, -250}, {"b", 0, 250}, {"c", 800, -250}, {"d", 800, 250}} {
		out += fmt.Sprintf("[mount.%s]\nat = [%g, %g, %g]\nrate_along = 80\nrate_across = 100\nrate_up = 200\ndynamic = 1\n%s\n", m.name, m.x, m.y, 100-up, more)
	}
	return out
}

// engineOf is the engine of Heavy with other lines.
func engineOf(lines string) string {
	return strings.Replace(strings.Replace(weight, "mass = 300", "mass = 200", 1), "mass", lines+"\nmass", 1)
}

// A block on four corner springs: closed forms (√(4k/m), √(4kr²/J) and the quadratic of
// each coupled pair), from the file on.
func TestModesOfABlockFromTheFile(t *testing.T) {
	s := shakingOf(t, engineOf("cylinders = 4\nidle = \"800 rpm\""), corners(0, ""))
	require.Empty(t, s.Why)
	want := []float64{6.366198, 7.117625, 10.065842, 10.872352, 12.582303, 12.732395}
	words := []string{"fore and aft", "sideways", "bounce", "yaw", "roll about the crank", "pitch"}
	for i, m := range s.Modes {
		assert.InDelta(t, want[i], m.Frequency.V, 5e-7)
		assert.Zero(t, m.Frequency.Expanded(), "all of it is given")
		assert.Equal(t, words[i], m.Words)
	}
	up := shakingOf(t, engineOf("cylinders = 4\nidle = \"800 rpm\""), corners(150, ""))
	for i, f := range []float64{6.144881, 6.385529, 10.065842, 10.872352, 13.190971, 14.024854} {
		assert.InDelta(t, f, up.Modes[i].Frequency.V, 5e-7)
	}
	assert.Equal(t, "sideways with some roll about the crank", up.Modes[1].Words)

	// One way alone: hysteretic damping passes √(1+η²)/√((1−r²)²+η²), firing 800·4/120.
	const hz, eta = 80.0 / 3, 0.1
	alone := func(f float64) float64 {
		r := hz / f
		return math.Hypot(1, eta) / math.Hypot(1-r*r, eta)
	}
	assert.InDelta(t, hz, s.Idle.Firing.V, 1e-9)
	assert.InDelta(t, alone(want[4]), s.Idle.Roll.V, 1e-7)
	assert.InDelta(t, alone(want[2]), s.Idle.Up.V, 1e-7)
	assert.True(t, s.Idle.ByRoll)
	f := s.finding(t, finding.MountsShakeIdle)
	assert.InDelta(t, alone(want[4]), f.Value, 1e-7)
	assert.Equal(t, finding.OK, f.Status)
	// A loss factor from the file.
	lost := shakingOf(t, engineOf("cylinders = 4\nidle = \"800 rpm\""), corners(0, "loss = 0.3"))
	r := hz / want[4]
	assert.InDelta(t, math.Hypot(1, 0.3)/math.Hypot(1-r*r, 0.3), lost.Idle.Roll.V, 1e-7)
}

// An engine across: the same body with its crankshaft along the vehicle's Y. Roll is about
// the crank, and what goes along it is sideways.
func TestModesOfAnEngineAcross(t *testing.T) {
	engine := engineOf("layout = \"transaxle\"\nfinal = 4\ncylinders = 4\nidle = \"800 rpm\"")
	swapped := strings.NewReplacer("roll = 8", "roll = 20", "pitch = 20", "pitch = 8").Replace(corners(0, ""))
	s := shakingOf(t, engine, swapped)
	require.Empty(t, s.Why)
	want := []float64{6.366198, 7.117625, 10.065842, 10.872352, 12.582303, 12.732395}
	words := []string{"fore and aft", "sideways", "bounce", "yaw", "one end of the crank up", "roll about the crank"}
	for i, m := range s.Modes {
		assert.InDelta(t, want[i], m.Frequency.V, 5e-7)
		assert.Equal(t, words[i], m.Words)
	}
	assert.InDelta(t, 0, s.Roll.V.FromCrank, 1e-6)
}

const leaning = `
cylinders = 6
idle = "650 rpm"
cruise = "2000 rpm"
`

const leaners = `
[powertrain.inertia]
roll = 11
pitch = 41
yaw = 38
[mount.left_front]
rate_up = 300
rate_across = 75
rate_along = 90
rate_axis = [0, 0.5, 0.8660254037844386]
dynamic = 1.3
loss = 0.12
[mount.right_front]
rate_up = 320
rate_across = 80
rate_along = 95
rate_axis = [0, -0.5, 0.8660254037844386]
dynamic = 1.5
loss = 0.08
[mount.rear]
rate_up = 200
rate_across = 110
rate_along = 100
dynamic = 1.4
`

// The six modes against the eigenvalues of M⁻¹K by a solver for any matrix, K put
// together here from the file's numbers alone.
func TestModesAgainstAGeneralSolution(t *testing.T) {
	s := shakingOf(t, strings.Replace(weight, "mass", leaning+"mass", 1), leaners)
	require.Empty(t, s.Why)
	centre := r3.Vec{X: 400, Z: 100}
	k, m := mat.NewDense(6, 6, nil), mat.NewDense(6, 6, nil)
	for _, x := range []struct {
		at   r3.Vec
		lean float64
		by   float64
		k    [3]float64
	}{
		{r3.Vec{Y: -300}, 30, 1.3, [3]float64{90, 75, 300}}, {r3.Vec{Y: 300}, -30, 1.5, [3]float64{95, 80, 320}}, {r3.Vec{X: 1200}, 0, 1.4, [3]float64{100, 110, 200}},
	} {
		sin, cos := math.Sincos(x.lean * math.Pi / 180)
		for i, e := range []r3.Vec{{X: 1}, {Y: cos, Z: -sin}, {Y: sin, Z: cos}} {
			w := r3.Cross(r3.Sub(x.at, centre), e)
			way := [6]float64{e.X, e.Y, e.Z, w.X, w.Y, w.Z}
			for a := range 6 {
				for b := range 6 {
					k.Set(a, b, k.At(a, b)+x.by*x.k[i]*way[a]*way[b]*1000)
				}
			}
		}
	}
	for i, v := range []float64{300, 300, 300, 11e6, 41e6, 38e6} {
		m.Set(i, i, v)
	}
	var a mat.Dense
	require.NoError(t, a.Solve(m, k))
	var e mat.Eigen
	require.True(t, e.Factorize(&a, mat.EigenNone))
	var want []float64
	for _, v := range e.Values(nil) {
		assert.InDelta(t, 0, imag(v), 1e-9*real(v))
		want = append(want, math.Sqrt(real(v))/(2*math.Pi))
	}
	slices.Sort(want)
	assert.InEpsilonSlice(t, want, s.frequencies(), 1e-9)
}

// The elastic centre of two like mounts that lean, from the file: 185.58 mm above pads 250
// mm from the middle that lean 30° (closed form).
func TestElasticCentreOfLeaningMounts(t *testing.T) {
	alike := strings.NewReplacer("rate_up = 320", "rate_up = 300", "rate_across = 80", "rate_across = 75", "rate_along = 95", "rate_along = 90").Replace(leaners)
	s := shakingOf(t, strings.Replace(weight, "mass", leaning+"mass", 1), alike)
	require.Len(t, s.Pairs, 1)
	assert.InDelta(t, 185.576872*300/250, s.Pairs[0].Height, 1e-4)
	assert.InDelta(t, 487.5, s.Pairs[0].Up, 1e-9)
	assert.InDelta(t, 262.5, s.Pairs[0].Side, 1e-9)
	assert.InDelta(t, s.Pairs[0].Height-100, s.Pairs[0].AboveCentre, 1e-9, "the pads lie 100 mm below the centre of mass")
}

// A mirrored vehicle shakes the same.
func TestMirroredShaking(t *testing.T) {
	engine := strings.Replace(strings.Replace(weight, "mass", leaning+"mass", 1), "[400, 0, 100]", "[400, 20, 100]", 1)
	one := shakingOf(t, engine, leaners)
	mirrored := strings.NewReplacer("left_front", "right_front", "right_front", "left_front", "[0, 0.5", "[0, -0.5", "[0, -0.5", "[0, 0.5").Replace(leaners)
	other := shakingOf(t, strings.Replace(engine, "[400, 20, 100]", "[400, -20, 100]", 1), mirrored)
	assert.InEpsilonSlice(t, one.frequencies(), other.frequencies(), 1e-9)
	assert.InEpsilon(t, one.Idle.Worst.V, other.Idle.Worst.V, 1e-9)
	assert.InEpsilon(t, one.Cruise.Once.V, other.Cruise.Once.V, 1e-9)
	for i := range one.Modes {
		assert.Equal(t, one.Modes[i].Words, other.Modes[i].Words)
	}
}

// Inches and pounds say the same.
func TestShakingInInches(t *testing.T) {
	engine := strings.Replace(weight, "mass", leaning+"mass", 1)
	mm := shakingOf(t, engine, leaners)
	inch := leaners
	for _, v := range []float64{300, 75, 90, 320, 80, 95, 200, 110, 100} {
		for _, key := range []string{"rate_up", "rate_across", "rate_along"} {
			inch = strings.ReplaceAll(inch, fmt.Sprintf("%s = %g\n", key, v), fmt.Sprintf("%s = \"%.10g lb/in\"\n", key, v*25.4/4.4482216152605))
		}
	}
	for _, v := range []float64{11, 41, 38} {
		inch = strings.Replace(inch, fmt.Sprintf("= %g\n", v), fmt.Sprintf("= \"%.10g lb ft2\"\n", v/(0.45359237*0.3048*0.3048)), 1)
	}
	require.NotEqual(t, leaners, inch)
	assert.InEpsilonSlice(t, mm.frequencies(), shakingOf(t, engine, inch).frequencies(), 1e-8)
}

// Rubber of which nothing is said in vibration is 1.2 to 2 times as stiff: the frequencies
// rise with its root, and no state within that passes more than is stated.
func TestWhatRubberLeavesOpenOfShaking(t *testing.T) {
	engine := strings.Replace(weight, "mass", leaning+"mass", 1)
	said := func(by string) string {
		out := leaners
		for _, v := range []string{"1.3", "1.5", "1.4"} {
			out = strings.Replace(out, "dynamic = "+v+"\n", by, 1)
		}
		return strings.Replace(out, "loss = 0.08", "loss = 0.12", 1)
	}
	open, middle := shakingOf(t, engine, said("")), shakingOf(t, engine, said("dynamic = 1.6\n"))
	assert.InEpsilonSlice(t, middle.frequencies(), open.frequencies(), 1e-12)
	for i, m := range open.Modes {
		half := m.Frequency.V * (1 - math.Sqrt(1.2/1.6))
		assert.InDelta(t, half*2/math.Sqrt(3), m.Frequency.Expanded(), 1e-9, i)
	}
	assert.Zero(t, middle.Idle.Worst.Expanded())
	most := 0.0
	for d := 1.2; d <= 2.0001; d += 0.02 {
		most = max(most, shakingOf(t, engine, said(fmt.Sprintf("dynamic = %g\n", d))).Idle.Worst.V)
	}
	reach := open.Idle.Worst.V + open.Idle.Worst.Expanded()*math.Sqrt(3)/2
	assert.InEpsilon(t, most, reach, 1e-3)
}

// Moments of inertia that are not in the file are those of its pieces, and never ok.
func TestEstimatedInertia(t *testing.T) {
	engine := strings.Replace(weight, "mass", leaning+"mass", 1)
	_, mounts, ok := strings.Cut(leaners, "[mount")
	require.True(t, ok)
	bare := "[mount" + mounts
	none := shakingOf(t, engine, bare)
	assert.Equal(t, "powertrain.inertia.roll is not in the file yet, nor pieces of the powertrain to estimate it from", none.Why)
	assert.Equal(t, finding.NotKnown, none.finding(t, finding.MountsShakeIdle).Status)
	half := shakingOf(t, engine, "[powertrain.inertia]\nroll = 9\n", bare)
	assert.Contains(t, half.Why, "powertrain.inertia.pitch")

	// Two blocks and a rod about the centre of mass at 400, 0, 100.
	pieces := `
[[powertrain.part]]
name = "block"
from = [0, -200, -100]
to = [600, 200, 300]
[[powertrain.part]]
name = "shaft"
from = [600, 0, 100]
to = [1000, 0, 100]
radius = 100
`
	s := shakingOf(t, engine, pieces, bare)
	require.Empty(t, s.Why)
	block, rod := 600*400*400.0, math.Pi*100*100*400
	by := 300 / (block + rod)
	assert.InDelta(t, by*(block*(400*400+400*400)/12+rod*100*100/2), s.Inertia[0].V, 1)
	assert.InDelta(t, by*(block*((600*600+400*400)/12.0+100*100)+rod*(100*100/4.0+400*400/12.0+400*400)), s.Inertia[1].V, 1)
	f := s.finding(t, finding.MountsShakeIdle)
	assert.NotEqual(t, finding.OK, f.Status)
	assert.Contains(t, strings.Join(f.Assumes, "; "), "estimated from its pieces")
	for _, m := range s.Modes {
		assert.Greater(t, m.Frequency.Expanded(), 0.0)
	}
}

// The hint names what takes most away when it is a tenth softer, or stiffer where nothing
// softer helps, as building each of them anew does: mounts, pairs of them and a torque
// link. A fifth softer, the one that is named still does more than any other.
func TestWhichMountToSoften(t *testing.T) {
	groups := []struct {
		said  string
		heads string
	}{{"front mounts, left and right, help most", "[mount.left_front][mount.right_front]"}, {"rear mount helps most", "[mount.rear]"}, {"upper torque link helps most", "[torque_link.upper]"}}
	link := "[torque_link.upper]\non = [400, 0, 400]\nto = [400, 350, 400]\nrate = 900\ndynamic = 1.2\nloss = 0.1\n"
	seen := map[string]int{}
	for _, idle := range []string{"120 rpm", "200 rpm", "260 rpm", "320 rpm", "400 rpm", "500 rpm"} {
		for _, more := range []string{"", link} {
			engine := strings.Replace(strings.Replace(weight, "mass", leaning+"mass", 1), "650 rpm", idle, 1)
			s := shakingOf(t, engine, leaners, more)
			f := s.finding(t, finding.MountsShakeIdle)
			if f.Status != finding.Over {
				continue
			}
			passed := func(heads string, by float64) float64 {
				o := shakingOf(t, engine, scaled(leaners+more, heads, by)).Idle
				if s.Idle.ByRoll {
					return o.Roll.V
				}
				return o.Up.V
			}
			now := passed("", 1)
			for _, try := range []struct {
				word         string
				tenth, fifth float64
			}{{"softer", 0.9, 0.8}, {"stiffer", 1.1, 1.2}} {
				best, which, farther := now*(1-1e-3), "", map[string]float64{}
				for _, g := range groups {
					if got := passed(g.heads, try.tenth); got < best {
						best, which = got, g.said
					}
					farther[g.said] = passed(g.heads, try.fifth)
				}
				if which == "" {
					continue
				}
				advice := strings.ToLower(f.Advice())
				assert.Contains(t, advice, try.word+" "+which+fmt.Sprintf(": a tenth takes it from %.2g to %.2g.", now, best), "%s %s", idle, more)
				for said, v := range farther {
					assert.LessOrEqual(t, farther[which], v, "%s, %s%s: %s", idle, try.word, more, said)
				}
				seen[try.word+" "+which]++
				break
			}
		}
	}
	for _, g := range groups {
		assert.Positive(t, seen["softer "+g.said], g.said)
	}
}

// scaled is a text with the rates of what those heads begin times so much.
func scaled(text, heads string, by float64) string {
	lines, in := strings.Split(text, "\n"), false
	for i, l := range lines {
		if strings.HasPrefix(l, "[") {
			in = strings.Contains(heads, l)
		}
		key, v, _ := strings.Cut(l, " = ")
		if x, err := strconv.ParseFloat(v, 64); in && strings.HasPrefix(key, "rate") && err == nil {
			lines[i] = fmt.Sprintf("%s = %.9g", key, by*x)
		}
	}
	return strings.Join(lines, "\n")
}

// A mount that is bolted solid passes all of it on.
func TestSolidMountShakes(t *testing.T) {
	solid := strings.Replace(leaners, "rate_up = 200\nrate_across = 110\nrate_along = 100\ndynamic = 1.4\n", "holds = \"solid\"\n", 1)
	s := shakingOf(t, strings.Replace(weight, "mass", leaning+"mass", 1), solid)
	assert.Contains(t, s.Why, "the rear mount is bolted solid")
	f := s.finding(t, finding.MountsShakeIdle)
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, 1, f.Value, 1e-12)
	require.Equal(t, seat.Solid.String(), "solid")
}
