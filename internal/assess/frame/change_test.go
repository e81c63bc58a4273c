package frame

import (
	"fmt"
	"math"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rims is a frame with a rear axle whose wheels look to left and right by so much,
// rad, positive to the left.
func rims(t *testing.T, left, right float64) *Result {
	t.Helper()
	b := &bench{table: rails2 + "rear_axle = [\"point.al\", \"point.ar\"]\nrear_rims = [\"point.lf\", \"point.lb\", \"point.rf\", \"point.rb\"]\n"}
	b.add("l1", 0, -400)
	b.add("r1", 0, 400)
	b.add("l2", 2500, -400)
	b.add("r2", 2500, 400)
	b.add("al", 2000, -740)
	b.add("ar", 2000, 740)
	for _, w := range []struct {
		name string
		y, a float64
	}{{"l", -740, left}, {"r", 740, right}} {
		s, c := math.Sincos(w.a)
		b.add(w.name+"f", 2000-200*c, w.y-200*s)
		b.add(w.name+"b", 2000+200*c, w.y+200*s)
	}
	b.all(t, 0.2, quiet)
	return b.survey(t)
}

// Toe and thrust of a solid axle: both wheels to the left are thrust and no toe; both
// inward are toe and no thrust. Thrust is the mean of both, (toe R - toe L)/2.
func TestToeAndThrust(t *testing.T) {
	const deg = math.Pi / 180
	for _, c := range []struct{ left, right, toeL, toeR, toe, thrust float64 }{
		{0.5, 0.5, -0.5, 0.5, 0, 0.5},      // both to the left
		{-0.4, 0.6, 0.4, 0.6, 1, 0.1},      // toe in: the left wheel looks right, the right one left
		{0.3, -0.1, -0.3, -0.1, -0.4, 0.1}, // toe out
	} {
		r := rims(t, c.left*deg, c.right*deg)
		a := r.Frame.Axles[0]
		assert.InDelta(t, c.toeL, a.Toe[0].V/deg, 1e-5)
		assert.InDelta(t, c.toeR, a.Toe[1].V/deg, 1e-5)
		assert.InDelta(t, c.toe, a.ToeIn.V/deg, 1e-5)
		assert.InDelta(t, c.thrust, a.Thrust.V/deg, 1e-5)
		assert.InDelta(t, 0, a.Turn.V, 1e-7, "the axle itself is square")
	}
	r := rims(t, -0.4*deg, 0.6*deg)
	assert.Equal(t, finding.Over, found(t, r, finding.AxleToe("rear")).Status)
	assert.Contains(t, found(t, r, finding.AxleToe("rear")).Advice(), "The wheels toe in by 1.00° together")
	assert.Contains(t, found(t, rims(t, 0.5*deg, 0.5*deg), finding.AxleThrust("rear")).Advice(), "look 0.50° to the left")
}

// hung is a frame of three stations with heights, the middle of the left rail by so
// much lower and the rear ones kicked up, on an occasion.
func hung(t *testing.T, b *bench, sag, width float64, after project.After) {
	t.Helper()
	b.table = "[survey]\nleft = [\"point.l1\", \"point.l2\", \"point.l3\"]\nright = [\"point.r1\", \"point.r2\", \"point.r3\"]\n"
	b.names = nil
	for i, z := range []float64{0, 10, 60} {
		for _, s := range []struct {
			name string
			y    float64
		}{{"l", -width / 2}, {"r", width / 2}} {
			n := fmt.Sprintf("%s%d", s.name, i+1)
			b.add(n, 1200*float64(i), s.y)
			p := b.at[n]
			p.Z = z
			if n == "l2" {
				p.Z -= sag
			}
			b.at[n] = p
		}
	}
	first := len(b.lines)
	b.all(t, 0.3, quiet)
	for _, n := range b.names[1:] {
		v, err := b.from.With(b.at[n].Z-b.at["l1"].Z, uncertain.Source{Label: n, U: 0.3})
		require.NoError(t, err)
		b.lines = append(b.lines, Line{Name: n, Index: len(b.lines), As: project.HeightLine, From: "point.l1", To: "point." + n, Value: finding.Of(v)})
	}
	for i := first; i < len(b.lines); i++ {
		b.lines[i].After = after
	}
}

// A frame that kicks up alike on both sides sags by design; what one rail hangs lower
// than the other does not come from it.
func TestOneRailHangsLower(t *testing.T) {
	b := &bench{}
	hung(t, b, 5, 800, project.Hung)
	r := b.survey(t)
	require.Empty(t, r.Now.Why)
	assert.InDelta(t, 25, r.Frame.Left.Sag.V, 1e-4, "10-5 where the line of the ends has 30")
	assert.InDelta(t, 20, r.Frame.Right.Sag.V, 1e-4)
	assert.InDelta(t, 5, r.Frame.Pairs[1].Lower.V, 1e-4)
	f := found(t, r, finding.RailsSag(2))
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "The left rail hangs 5.0 mm further")
	for _, f := range r.Findings() {
		assert.NotEqual(t, finding.RailsSag(1), f.ID, "the ends lie on the line")
		assert.NotEqual(t, finding.FrameChange, f.ID, "one occasion changes nothing")
	}
}

// What welding changed: the largest of all, with what it was; and not known where
// something was not measured again.
func TestChangeInWelding(t *testing.T) {
	b := &bench{}
	hung(t, b, 0, 800, project.Tacked)
	hung(t, b, 0, 796, project.Welded)
	r := b.survey(t)
	f := found(t, r, finding.FrameChange)
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, 4, f.Value, 1e-3)
	assert.Contains(t, f.Advice(), ": 800.0 mm before, 796.0 mm now.")

	b = &bench{}
	hung(t, b, 0, 800, project.Tacked)
	hung(t, b, 0, 800, project.Welded)
	assert.Equal(t, finding.OK, found(t, b.survey(t), finding.FrameChange).Status)
	for i := range b.lines {
		if b.lines[i].After == project.Welded && b.lines[i].As == project.HeightLine {
			b.lines[i].Value = finding.Missing("it fell off")
		}
	}
	f = found(t, b.survey(t), finding.FrameChange)
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "was measured before welding and not after it")

	b = &bench{} // before the tacks the frame is widened on purpose
	hung(t, b, 0, 800, project.Hung)
	hung(t, b, 0, 900, project.Welded)
	for _, f := range b.survey(t).Findings() {
		assert.NotEqual(t, finding.FrameChange, f.ID)
	}
}
