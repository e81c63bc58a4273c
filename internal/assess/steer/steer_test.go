package steer

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// run is the steering shaft of a file.
func run(t *testing.T, text string) *Result {
	t.Helper()
	f, err := project.Parse("x.toml", []byte("format = 3\n"+text))
	require.NoError(t, err)
	return Of(f.Build, nil)
}

func of(t *testing.T, r *Result, id string) finding.Finding {
	t.Helper()
	for _, f := range r.Findings {
		if f.ID == id {
			return f
		}
	}
	require.Fail(t, "no finding "+id)
	return finding.Finding{}
}

func triple(v r3.Vec) string { return fmt.Sprintf("[%.12f, %.12f, %.12f]", v.X, v.Y, v.Z) }

// line is a file with joints at those angles and turns of one joint's plane against the
// one before it, in degrees, shafts of 300 mm.
func line(angles, twists []float64, shafts ...string) string {
	axis, normal := r3.Vec{X: -1}, r3.Vec{Y: 1}
	at := r3.Vec{X: 900, Y: -300, Z: 400}
	text := "[steering]\ncolumn = " + triple(at) + "\ncolumn_axis = " + triple(axis) + "\n"
	joints := ""
	for i, b := range angles {
		if i > 0 {
			normal = r3.NewRotation(twists[i-1]*math.Pi/180, axis).Rotate(normal)
			at = r3.Add(at, r3.Scale(300, axis))
		}
		joints += "[[steering.joint]]\n"
		if i > 0 && i < len(angles)-1 {
			joints += "at = " + triple(at) + "\n"
		}
		axis = r3.NewRotation(b*math.Pi/180, normal).Rotate(axis)
	}
	text += "input = " + triple(at) + "\ninput_axis = " + triple(axis) + "\n" + joints
	for _, s := range shafts {
		text += "[[steering.shaft]]\n" + s + "\n"
	}
	return text
}

// chained is the ratio of a line by one textbook equation after another: tan θ2 =
// cos β tan θ1 from where the driving arm is square to the joint's plane.
func chained(angles, twists, offsets []float64, input float64) float64 {
	th, ratio := input, 1.0
	for i, b := range angles {
		if i > 0 {
			th += (offsets[i-1] - twists[i-1]) * math.Pi / 180
		}
		cos := math.Cos(b * math.Pi / 180)
		s := math.Sin(th)
		ratio *= cos / (1 - (1-cos*cos)*s*s)
		th = math.Atan2(cos*math.Sin(th), math.Cos(th)) + math.Pi/2
	}
	return ratio
}

func most(angles, twists, offsets []float64) float64 {
	hi := 0.0
	for i := range 3600 {
		hi = max(hi, chained(angles, twists, offsets, float64(i)*math.Pi/1800))
	}
	return 100 * (hi - 1)
}

// Two joints: the largest ratio as derived by yoke vectors and by the chained closed
// form, and by that form once more here.
func TestRippleOfTwoJoints(t *testing.T) {
	for _, c := range []struct{ b1, b2, twist, offset, max float64 }{
		{20, 20, 0, 0, 1}, {20, 20, 0, 10, 1.02185152}, {20, 20, 0, 90, 1.13247433},
		{25, 25, 30, 0, 1.10350916}, {25, 25, 30, 30, 1}, {30, 18, 40, 0, 1.15481362}, {30, 18, 40, 40, 1.09818547}, {35, 35, 0, 5, 1.03562170},
	} {
		angles, twists := []float64{c.b1, c.b2}, []float64{c.twist}
		r := run(t, line(angles, twists, fmt.Sprintf("yoke_offset = \"%g deg\"", c.offset)))
		require.Empty(t, r.Why)
		assert.InDelta(t, 100*(c.max-1), r.Ripple.V, 1e-6)
		assert.InDelta(t, most(angles, twists, []float64{c.offset}), r.Ripple.V, 1e-3)
		assert.InDelta(t, c.b1, r.Joints[0].Angle.V*180/math.Pi, 1e-7)
		assert.InDelta(t, c.b2, r.Joints[1].Angle.V*180/math.Pi, 1e-7)
		f := of(t, r, finding.SteeringRipple)
		assert.Equal(t, 100*(c.max-1) > 5, f.Status == finding.Over)
		assert.Contains(t, f.Advice(), Caution)
	}
}

// Where in the turn: by turning the exact chain, from straight ahead.
func TestWhereInTheTurn(t *testing.T) {
	text := strings.Replace(line([]float64{28, 19}, []float64{35}, "phase = \"in phase\""), "[steering]\n", "[steering]\nstraight_ahead = \"25 deg\"\n", 1)
	r := run(t, text)
	c, _, why := chainOf(r.build)
	require.Empty(t, why)
	m, err := shaft.NewMechanism(c)
	require.NoError(t, err)
	best, at := 0.0, 0
	for i := range 1800 {
		s := m.At(geom.Angle(i)*geom.Deg/10, nil)
		if v := s[len(s)-1].Ratio; v > best {
			best, at = v, i
		}
	}
	assert.InDelta(t, float64(at)/10, r.Where.Fastest.Degrees(), 0.06)
	assert.InDelta(t, 100*(best-1), r.Ripple.V, 1e-3)
	s := m.At(0, nil)
	assert.InDelta(t, s[len(s)-1].Ratio, r.Ahead, 1e-12)
	// The arm of the column's yoke is upright turned by 25° clockwise as the driver sees
	// it, who looks forward here: to the right.
	arm := m.At(0, nil)[0].Rear
	assert.InDelta(t, math.Sin(25*math.Pi/180), arm.Y, 1e-9)
	assert.InDelta(t, math.Cos(25*math.Pi/180), arm.Z, 1e-9)
	assert.Empty(t, of(t, r, finding.SteeringRipple).Assumes)
	assumed := run(t, line([]float64{28, 19}, []float64{35}, "phase = \"in phase\""))
	assert.Contains(t, strings.Join(of(t, assumed, finding.SteeringRipple).Assumes, " "), "steering.straight_ahead")
}

// Whole teeth: no other count of teeth of either shaft leaves less, by trying them all.
func TestNoOtherTeethLeaveLess(t *testing.T) {
	angles, twists := []float64{22, 15, 27}, []float64{38, -50}
	r := run(t, line(angles, twists, "phase = \"in phase\"\nteeth = 36", "yoke_offset = \"12 deg\"\nteeth = 30"))
	best := math.Inf(1)
	for i := range 18 {
		for k := range 15 {
			m := 0.0
			for a := range 180 {
				m = max(m, chained(angles, twists, []float64{float64(i) * 10, 12 + float64(k)*12}, float64(a)*math.Pi/180))
			}
			best = min(best, 100*(m-1))
		}
	}
	assert.InDelta(t, best, r.Least.V, 0.02)
	assert.Less(t, r.Least.V, r.Ripple.V)
	assert.Equal(t, finding.Over, of(t, r, finding.SteeringPhase).Status)
	for i, teeth := range []float64{36, 30} {
		x := r.Shafts[i]
		assert.InDelta(t, math.Mod(x.Turn.Degrees()+360, 180), math.Mod(float64(x.Over)*360/teeth+720, 180), 1e-6)
	}
	assert.Contains(t, of(t, r, finding.SteeringPhase).Advice(), "of its 36 teeth")
}

// Yokes that cannot be set stay as they are, and an odd spline counts whole teeth.
func TestWhatCanBeSet(t *testing.T) {
	fixed := run(t, line([]float64{20, 20}, []float64{30}, "phase = \"in phase\""))
	assert.InDelta(t, fixed.Ripple.V, fixed.Least.V, 1e-9)
	assert.Equal(t, finding.OK, of(t, fixed, finding.SteeringPhase).Status)
	open := run(t, line([]float64{20, 20}, []float64{30}))
	assert.InDelta(t, 0, open.Least.V, 1e-6)
	assert.InDelta(t, 30, open.Shafts[0].Turn.Degrees(), 1e-6)
	assert.Equal(t, finding.NotKnown, of(t, open, finding.SteeringRipple).Status)
	assert.Equal(t, []string{"steering.shaft[0].phase"}, findingLacks(of(t, open, finding.SteeringRipple)))
	odd := run(t, line([]float64{20, 20}, []float64{180.0 / 17}, "phase = \"in phase\"\nteeth = 17"))
	assert.InDelta(t, 180.0/17, odd.Shafts[0].Turn.Degrees(), 1e-6, "half a tooth, since half a turn is the same yoke")
	assert.Equal(t, -8, odd.Shafts[0].Over)
}

func findingLacks(f finding.Finding) []string { return f.Lacks() }

// Three joints: a mechanism without a support, held with one; and a bearing that is not
// on its shaft.
func TestThreeJointsWantASupport(t *testing.T) {
	angles, twists := []float64{20, 15, 20}, []float64{0, 0}
	shafts := []string{"phase = \"in phase\"", "phase = \"in phase\"\nslip_closed = 240\nslip_open = 320"}
	r := run(t, line(angles, twists, shafts...))
	f := of(t, r, finding.SteeringSupport)
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, 2, f.Value, 0)
	assert.Contains(t, f.Advice(), "mechanism")
	assert.Contains(t, strings.Join(f.Assumes, " "), "shaft 1 does not slide")
	on := r3.Add(r3.Scale(0.2, r.Shafts[0].From), r3.Scale(0.8, r.Shafts[0].To))
	held := run(t, line(angles, twists, shafts...)+"[[steering.bearing]]\nat = "+triple(on)+"\n")
	assert.Equal(t, finding.OK, of(t, held, finding.SteeringSupport).Status)
	assert.Equal(t, 1, held.Bearings[0].Shaft)
	assert.InDelta(t, 0.8, held.Bearings[0].Along, 1e-9)
	off := run(t, line(angles, twists, shafts...)+"[[steering.bearing]]\nat = "+triple(r3.Add(on, r3.Vec{Y: 7}))+"\n")
	assert.InDelta(t, 7, of(t, off, finding.SteeringBearing(1)).Value, 1e-9)
	assert.Equal(t, finding.Over, of(t, off, finding.SteeringBearing(1)).Status)
	unplaced := run(t, line(angles, twists, shafts...)+"[[steering.bearing]]\n")
	assert.Equal(t, finding.NotKnown, of(t, unplaced, finding.SteeringSupport).Status)
	assert.Equal(t, finding.NotKnown, of(t, unplaced, finding.SteeringBearing(1)).Status)
	two := run(t, line([]float64{20, 20}, []float64{0}))
	assert.Equal(t, finding.OK, of(t, two, finding.SteeringSupport).Status)
}

// Slip and collapse by hand: shafts of 300 mm.
func TestHowFarItShortens(t *testing.T) {
	two := func(head, shaft string) *Result {
		return run(t, strings.Replace(line([]float64{10, 10}, []float64{0}, shaft), "[steering]\n", "[steering]\n"+head, 1))
	}
	r := two("shorten = 60\n", "slip_closed = 235\nslip_open = 312")
	assert.InDelta(t, 65, of(t, r, finding.SteeringShorten).Value, 1e-9)
	assert.Equal(t, finding.OK, of(t, r, finding.SteeringShorten).Status)
	assert.InDelta(t, 65, of(t, r, finding.SteeringBottom(1)).Value, 1e-9)
	assert.InDelta(t, 12, of(t, r, finding.SteeringPull(1)).Value, 1e-9)
	assert.Equal(t, finding.Over, of(t, two("shorten = 70\n", "slip_closed = 235"), finding.SteeringShorten).Status)
	lacks := of(t, two("", "slip_closed = 235"), finding.SteeringShorten)
	assert.Equal(t, finding.NotKnown, lacks.Status)
	assert.Equal(t, []string{"steering.shorten"}, lacks.Lacks())
	assert.Equal(t, []string{"steering.shaft[0].slip_closed"}, of(t, two("shorten = 60\n", ""), finding.SteeringShorten).Lacks())
	assert.Equal(t, finding.NotKnown, of(t, two("", "slip_closed = 235"), finding.SteeringPull(1)).Status)
}

// Limits of joints: their own, and else the file's.
func TestJointLimits(t *testing.T) {
	text := line([]float64{31, 31}, []float64{0}, "phase = \"in phase\"")
	r := run(t, text)
	assert.Equal(t, finding.Over, of(t, r, finding.SteeringJoint(1)).Status)
	own := run(t, strings.Replace(text, "[[steering.joint]]\n", "[[steering.joint]]\nmax_angle = \"35 deg\"\n", 1))
	assert.Equal(t, finding.OK, of(t, own, finding.SteeringJoint(1)).Status)
	assert.Equal(t, finding.MakersFigure, of(t, own, finding.SteeringJoint(1)).Source)
	assert.Equal(t, finding.Over, of(t, own, finding.SteeringJoint(2)).Status)
}

// Whatever is missing leaves everything not known, and its path is named.
func TestUnknownIsNeverOk(t *testing.T) {
	whole := line([]float64{20, 12, 20}, []float64{0, 0})
	for key, path := range map[string]string{"column": "steering.column", "column_axis": "steering.column_axis", "input": "steering.input", "input_axis": "steering.input_axis", "at": "steering.joint[1].at"} {
		var kept []string
		for _, l := range strings.Split(whole, "\n") {
			if !strings.HasPrefix(l, key+" =") {
				kept = append(kept, l)
			}
		}
		r := run(t, strings.Join(kept, "\n"))
		require.NotEmpty(t, r.Findings, key)
		for _, f := range r.Findings {
			assert.Equal(t, finding.NotKnown, f.Status, "%s %s", key, f.ID)
			assert.Equal(t, []string{path}, f.Lacks(), f.ID)
		}
	}
	for _, text := range []string{
		"[steering]\ncolumn = [900, -300, 400]\ncolumn_axis = [-1, 0, 0]\ninput = [100, -300, 300]\ninput_axis = [-1, 0, 0]\n[[steering.joint]]\n",
		whole[:strings.LastIndex(whole, "[[steering.joint]]")],
	} {
		r := run(t, text)
		require.NotEmpty(t, r.Findings)
		for _, f := range r.Findings {
			assert.Equal(t, finding.NotKnown, f.Status)
			assert.Contains(t, f.Missing, "the next [[steering.joint]] is not in the file yet")
		}
	}
	r := run(t, "[steering]\ncolumn_axis = [-1, 0, 0]\n")
	assert.Contains(t, r.Why, "steering.joint")
	assert.Nil(t, run(t, ""))
}
