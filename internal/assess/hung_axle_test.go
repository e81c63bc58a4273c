package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/hung"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Without errors the axle is found where it is, the shaft as long as it is, and every axis
// as it lies, in plan too; with nothing of it read by gauge as well.
func TestAnAxleIsFoundWhereItIs(t *testing.T) {
	for _, without := range [][]string{nil, {"powertrain", "line.rear.shaft.1", "line.rear.pinion"}} {
		dice := rand.New(rand.NewPCG(3, 41))
		x := drawAxle(dice)
		text := x.head(func(float64) float64 { return 0 })
		for _, r := range x.all(without...) {
			text += r.text(r.is)
		}
		a := Run(parsedBuild(t, text))
		require.Empty(t, a.Hung.Why)
		require.Len(t, a.Hung.Axles, 1)
		got := a.Hung.Axles[0]
		require.True(t, got.Pose.Known)
		is := x.is[1]
		for k, want := range []float64{is.At.X, is.At.Y, is.At.Z, is.Slope().Rad(), is.Heading().Rad(), math.Asin(is.Y.Z)} {
			r := got.Rows[k]
			require.True(t, r.Is.Known, "%s: %s", r.Key, r.Is.Why)
			assert.InDelta(t, want, r.Is.V, 1e-5, r.Key)
			assert.Greater(t, r.Is.U(), 0.0, r.Key)
		}
		l := a.Lines[0]
		first, last := x.shaft()
		assert.InDelta(t, r3.Norm(r3.Sub(last, first)), l.Shafts[0].LengthRead.V, 1e-5)
		d := r3.Sub(last, first)
		for i, want := range []r3.Vec{x.is[0].X, d, x.is[1].X} {
			assert.InDelta(t, geom.Slope(want).Rad(), l.Axes[i].Read.V, 1e-7, l.Axes[i].Label)
			assert.InDelta(t, geom.Heading(want).Rad(), l.Axes[i].Plan.V, 1e-7, l.Axes[i].Label)
		}
		for i, pair := range [][2]r3.Vec{{x.is[0].X, d}, {d, x.is[1].X}} { // the angle between two directions, by itself
			cos := r3.Dot(r3.Unit(pair[0]), r3.Unit(pair[1]))
			assert.InDelta(t, math.Acos(cos), l.Joints[i].Read.V, 1e-6)
		}
		f, _ := a.Finding(finding.AxlePlaced("rear"))
		assert.Equal(t, finding.Read, f.Basis)
		assert.NotContains(t, f.Missing, "not")
	}
}

// mistake is a number as somebody writes it down wrong, with what was done, and the text it
// stands in; false where that changes nothing.
func (r measuredOf) mistake(dice *rand.Rand, shown string) (text, says string, ok bool) {
	write := func(r measuredOf, shown string) string {
		v, _ := strconv.ParseFloat(shown, 64)
		return r.text(v)
	}
	digits := strings.TrimPrefix(shown, "-")
	sign := strings.TrimSuffix(shown, digits)
	switch dice.IntN(4) {
	case 0: // the other end, or over for under
		if r.of == "" && r.as == "" {
			return "", "", false
		}
		if says = "over and under"; r.of != "" {
			says = "other end"
		}
		return write(r, map[bool]string{true: digits, false: "-" + digits}[sign != ""]), says, true
	case 1: // the other face, or cm for mm
		if r.of != "" {
			return strings.Replace(write(r, shown), "along", "square face", 1), "face", true
		}
		v, _ := strconv.ParseFloat(shown, 64)
		return r.text(v / 10), "cm", true
	}
	b := []byte(digits)
	k := dice.IntN(len(b))
	if b[k] == '.' {
		return "", "", false
	}
	b[k] = '0' + (b[k]-'0'+byte(1+dice.IntN(9)))%10
	return write(r, sign+string(b)), "digit", true
}

// Of what was read and measured of an axle one is written down wrong: the other end lower or
// over for under, the other face, a digit, another unit. Where all else checks it well enough
// it is named; where it does not, the slip that could hide is no smaller than it.
func TestASlipOfAnAxleIsNamed(t *testing.T) {
	n := 6
	if *manySlips > 0 {
		n = *manySlips
	}
	seen, alike, named, large, explained, small, refused := 0, 0, 0, 0, 0, 0, 0
	for k := range n {
		dice := rand.New(rand.NewPCG(uint64(k), 63))
		x := drawAxle(dice)
		head := x.head(func(half float64) float64 { return either(dice, half) })
		all := x.all()
		texts, shown := make([]string, len(all)), make([]string, len(all))
		mine := []int{2} // the pinion's reading, and all to marks on the axle
		for i, r := range all {
			v := r.is + either(dice, r.half()/2)
			step := 0.5
			if r.of != "" {
				step = 0.1
			}
			v = math.Round(v/step) * step
			shown[i] = strconv.FormatFloat(v, 'f', 1, 64)
			texts[i] = r.text(v)
			if _, on := axleOwn[r.to]; on && r.to != "" {
				mine = append(mine, i)
			}
		}
		sound := Run(parsedBuild(t, head+strings.Join(texts, "")))
		if len(sound.Hung.Suspects) > 0 || sound.Hung.Why != "" {
			continue
		}
		i := mine[dice.IntN(len(mine))]
		wrong, says, ok := all[i].mistake(dice, shown[i])
		if !ok || wrong == texts[i] {
			continue
		}
		was := texts[i]
		texts[i] = wrong
		a := Run(parsedBuild(t, head+strings.Join(texts, "")))
		at := slices.IndexFunc(sound.Hung.All, func(t hung.Taken) bool {
			return i < 3 && t.Reading == i || i >= 3 && t.Index == i-3
		})
		require.GreaterOrEqual(t, at, 0)
		var size float64
		if i < 3 {
			if !a.ready.readings.Slopes[i].Known { // a face that no gauge shows so
				refused++
				continue
			}
			size = math.Abs(a.ready.readings.Slopes[i].V - sound.ready.readings.Slopes[i].V)
		} else {
			size = math.Abs(a.Build.Measurements[i-3].Lengths[0].V() - sound.Build.Measurements[i-3].Lengths[0].V())
		}
		if size < 1.5*sound.Hung.All[at].Detectable {
			small++
			if f, _ := sound.Finding(finding.PowertrainHidden); i >= 3 && f.HasValue {
				assert.GreaterOrEqual(t, 1.5*f.Value, size, "draw %d", k)
			}
			continue
		}
		seen++
		fit, _ := a.Finding(finding.PowertrainFit)
		require.Equal(t, finding.Over, fit.Status, "draw %d: %s for %s", k, wrong, was)
		if i == 2 {
			f, _ := a.Finding(finding.JointMax("rear", 2))
			assert.NotEqual(t, finding.OK, f.Status, "draw %d: nothing stands on it", k)
		}
		found := slices.IndexFunc(a.Hung.Suspects, func(s hung.Suspect) bool { return s.Name == sound.Hung.All[at].Name })
		switch {
		case found >= 0 && len(a.Hung.Suspects[found].Alike) > 0:
			alike++
			continue
		case found < 0 || len(a.Hung.Suspects) != 1:
			t.Logf("draw %d: %s for %s: %s", k, wrong, was, fit.Advice())
			continue
		}
		named++
		if i >= 3 && size < 10 || i < 3 && size < geom.Deg.Rad() { // any number would do
			continue
		}
		large++
		if is := a.Hung.Suspects[found].Likely; strings.Contains(is, says) || says == "digit" && is != "" {
			explained++
		} else {
			t.Logf("draw %d: %s for %s: %q, not %s", k, wrong, was, is, says)
		}
	}
	t.Logf("%d of %d named, %d among those it looks like; of %d that are large %d with what was done wrong; %d too small to show, %d refused at once", named, seen, alike, large, explained, small, refused)
	require.Greater(t, seen, n/4)
	assert.GreaterOrEqual(t, float64(named), 0.95*float64(seen-alike))
	assert.LessOrEqual(t, float64(alike), 0.15*float64(seen))
	assert.GreaterOrEqual(t, float64(explained), 0.9*float64(large))
}

// A point whose place does not fit what was measured from it leads to the value of the file
// that is to be taken again: the coordinate that was typed wrong.
func TestAPlaceThatDoesNotFitLeadsToItsValue(t *testing.T) {
	heights := ""
	for _, m := range []struct{ mark, is string }{{"pulley", "30.5"}, {"flange", "-78.5"}, {"head_left", "378"}, {"head_right", "378"}} {
		heights += "[[measure]]\nfrom = \"point.rail_r\"\nto = \"point." + m.mark + "\"\nas = \"height\"\nwith = \"tool.tape\"\nlengths = [" + m.is + "]\n"
	}
	b := parsedBuild(t, strings.Replace(example.Marked, "height = \"-20 mm ± 0.5\"", "height = \"-32 mm ± 0.5\"", 1)+heights)
	is := Run(b).Hung.Suspects
	at := slices.IndexFunc(is, func(s hung.Suspect) bool { return s.Place != "" })
	require.GreaterOrEqual(t, at, 0)
	assert.Equal(t, is[at].Place+".height", is[at].Again)
	assert.Contains(t, is[at].Likely, is[at].Again)
}

// A powertrain that is measured from points of a subframe, which was measured from the rails,
// is found where it is, and is less sure than the subframe's points are.
func TestAPowertrainIsMeasuredFromASubframe(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 41))
	is := drawAxle(rand.New(rand.NewPCG(3, 41))).is[0]
	a := Run(parsedBuild(t, fromSubframe(dice).truth))
	require.Empty(t, a.Hung.Why)
	require.True(t, a.Hung.Pose.Known)
	for _, own := range ownMarks {
		assert.InDelta(t, 0, r3.Norm(r3.Sub(is.Point(own), a.Hung.Pose.V.Point(own))), 1e-5)
	}
	assert.Contains(t, strings.Join(a.Hung.Assumes, "; "), "the front subframe was measured to hang")
	for _, s := range a.Subframes {
		assert.NotContains(t, strings.Join(s.Assumes, "; "), "left out")
	}
	rear := slices.IndexFunc(a.Hung.Rows, func(r hung.Row) bool { return r.Row == seat.LeftFront })
	require.True(t, a.Hung.Rows[rear].Is.Known)
	assert.Greater(t, a.Hung.Rows[rear].Is.U(), a.Subframes[0].Points[0].Now[2].U())
}

// The gauge across the tubes of an axle is in the fit: it makes surer how that leans, a
// reading of the pinion with left or right lower is one of it, and with the other end lower
// it does not fit, which is said.
func TestTheGaugeAcrossAnAxle(t *testing.T) {
	x := drawAxle(rand.New(rand.NewPCG(3, 41)))
	text := x.head(func(float64) float64 { return 0 })
	for _, r := range x.all() {
		text += r.text(r.is)
	}
	lean := math.Asin(x.is[1].Y.Z) / geom.Deg.Rad() // right side high
	lower := []string{"left", "right"}
	if lean < 0 {
		lower = []string{"right", "left"}
	}
	across := func(of, lower string) *Assessment {
		return Run(parsedBuild(t, text+fmt.Sprintf("[[reading]]\nof = %q\non = \"along\"\nshown = \"%.9f deg\"\nlower = %q\n", of, math.Abs(lean), lower)))
	}
	without := Run(parsedBuild(t, text)).Hung
	a := across("line.rear.pinion", lower[0])
	require.Empty(t, a.Hung.Suspects)
	assert.True(t, slices.ContainsFunc(a.Hung.All, func(t hung.Taken) bool { return t.Name == "the rear axle's slope across by gauge" }))
	row := func(p *hung.Powertrain) hung.AxleRow { return p.Axles[0].Rows[5] }
	require.Equal(t, "across", row(a.Hung).Key)
	assert.InDelta(t, lean*geom.Deg.Rad(), row(a.Hung).Is.V, 1e-6)
	assert.Less(t, row(a.Hung).Is.U(), 0.999*row(without).Is.U())
	assert.True(t, a.Lines[0].Axes[2].Read.Known, "that of the pinion along stands beside it")

	a = across("line.rear.pinion.across", lower[1])
	fit, _ := a.Finding(finding.PowertrainFit)
	require.Equal(t, finding.Over, fit.Status)
	require.Len(t, a.Hung.Suspects, 1)
	assert.Contains(t, a.Hung.Suspects[0].Likely, "other end was lower")
}

// What stands at a point of a subframe stands where that was measured to hang, with the ± of
// that: nothing of it is known while too little was measured to the subframe.
func TestWhatStandsOnASubframeTakesItsPlace(t *testing.T) {
	text := fromSubframe(rand.New(rand.NewPCG(3, 41))).truth +
		"[[chassis]]\nname = \"arm bracket\"\nat = \"point.sub_lf\"\nradius = 20\n[[powertrain.part]]\nname = \"sump\"\nfrom = [0, -100, -200]\nto = [500, 100, -100]\n"
	a := Run(parsedBuild(t, text))
	i := slices.IndexFunc(a.Subframes[0].Points, func(p SubframePoint) bool { return p.Path == "point.sub_lf" })
	now := a.Subframes[0].Points[i].Now
	require.True(t, now[2].Known, now[2].Why)
	at := a.Build.Chassis[0].At
	require.True(t, at.Known)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(finding.PlaceOf(now), at.At)), 1e-9)
	k := slices.IndexFunc(a.Findings, func(f Finding) bool { return strings.Contains(f.ID, "arm") && strings.HasPrefix(f.ID, "clear") })
	require.GreaterOrEqual(t, k, 0)
	gap := a.Findings[k]
	require.True(t, gap.HasValue, gap.Missing)
	assert.Greater(t, gap.Uncertainty, 1.0*now[2].U(), "the ± of where it hangs reaches the room")
	assert.Contains(t, strings.Join(gap.Assumes, "; "), "the front subframe where it was measured to hang")

	few, _, _ := strings.Cut(text, "[[measure]]")
	_, pieces, found := strings.Cut(text, "[[chassis]]")
	require.True(t, found)
	b := Run(parsedBuild(t, few+"[[measure]]\nfrom = \"point.rail_l\"\nto = \"point.sub_lf\"\nlengths = [400]\n[[chassis]]"+pieces))
	assert.False(t, b.Build.Chassis[0].At.Known)
	lost, _ := b.Finding(gap.ID)
	assert.Equal(t, finding.NotKnown, lost.Status)
}
