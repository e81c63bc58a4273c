package rail

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// frame is a frame of two alike rails of a channel with sharp bends on two towers, with
// one load between them.
const frame = `format = 3
[vehicle]
front_axle = 0
wheelbase = 3000
front_track = 1500
rear_track = 1500
[rails.left]
points = [[-500, -400, 0], [4000, -400, 0]]
height = 100
width = 60
LEFT
[[rails.left.support]]
name = "front tower"
at = 0
kind = "tower"
[[rails.left.support]]
name = "rear tower"
at = 3000
kind = "tower"
[rails.right]
points = [[-500, 400, 0], [4000, 400, 0]]
height = 100
width = 60
like = "left"
[[rails.load]]
name = "bed"
mass = "200 kg"
at = 1500
`

const plain = "[[rails.left.length]]\nsection = \"channel 100x60x5\"\nbend = 0\n"

func build(t require.TestingT, left string, more ...string) *project.Build {
	f, err := project.Parse("test.toml", []byte(strings.Replace(frame, "LEFT", left, 1)+strings.Join(more, "")))
	require.NoError(t, err)
	return f.Build
}

func result(t require.TestingT, left string, more ...string) *Result {
	return Prepare(build(t, left, more...), nil).At(Input{})
}

func found(t require.TestingT, r *Result, id string) finding.Finding {
	for _, f := range r.Findings() {
		if f.ID == id {
			return f
		}
	}
	require.Fail(t, "there is no finding "+id)
	return finding.Finding{}
}

// By hand: a beam on two bearings 3 m apart with 100 kg in the middle of it (half of
// 200 on each rail), its own weight spread over it and 500 and 1000 mm of overhang, at
// three times the weight; a channel 100x60x5 has 1658750 mm⁴ (three rectangles).
func TestBendingByHand(t *testing.T) {
	r := result(t, plain)
	b := r.Of(project.LeftSide)
	require.Empty(t, b.Why)
	w := 1050 * 7850e-9 * 9.80665 // N per mm
	rear := (w*4500*1750 + 100*9.80665*1500) / 3000
	front := w*4500 + 100*9.80665 - rear
	m := 3 * (front*1500 - w*2000*1000)
	assert.InEpsilon(t, front, b.Supports[0].Force, 1e-4)
	assert.InEpsilon(t, rear, b.Supports[1].Force, 1e-4)
	assert.InEpsilon(t, m, b.Bending.Moment, 1e-4)
	assert.InDelta(t, 1500, b.Bending.At, 1e-6)
	assert.InEpsilon(t, m*50/1658750, b.Bending.Stress, 1e-3)
	f := found(t, r, "rail.left.bending")
	assert.InEpsilon(t, m*50/1658750/235, f.Value, 1e-3)
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, f.Advice(), "Screening")
	assert.InDelta(t, f.Value, found(t, r, "rail.right.bending").Value, 1e-12, "they are alike")
}

// The splice of the published example: the channel 100x60x5 with a plate 80x6 on its
// web; of a moment its plate has 13.3699 % by stiffness, and alone it would be stressed
// 187.5 MPa by 1.2 kN m where the rail has 36.1718 (worked out from I and W).
func TestSplices(t *testing.T) {
	splice := func(kind, more string) Place {
		r := result(t, plain+"[[rails.left.splice]]\nat = 1500\nkind = \""+kind+"\"\ncut = \"sloped\"\n"+more)
		require.Len(t, r.Of(project.LeftSide).Joints, 1)
		return r.Of(project.LeftSide).Joints[0]
	}
	plates := "length = 400\nplate = 6\nplate_width = 80\nplate_ends = \"fish mouth\"\n"
	butt, both, alone := splice("butt", ""), splice("butt with plates", plates), splice("fish plate", plates)
	m := butt.Moment
	assert.InEpsilon(t, 36.1718*m/1.2e6, butt.Stress, 1e-3)
	assert.InEpsilon(t, 187.5*m/1.2e6, alone.Stress, 1e-3)
	assert.InDelta(t, 0.133699, both.Share, 1e-5)
	assert.Contains(t, both.What, "end of the plates", "the joint is stronger than the rail beside it")
	assert.Less(t, both.Stress, butt.Stress)
	sleeve := splice("sleeve", "length = 400\nplate = 5\nplate_ends = \"sloped\"\n")
	assert.Equal(t, 1.0, sleeve.Share)
	assert.Greater(t, sleeve.Stress, 0.0)
	none := splice("fish plate", "")
	assert.False(t, none.Use.Known)
	assert.Contains(t, none.Use.Why, "rails.left.splice.1.plate")
}

// Plates change the section, its stiffness and the step at their ends; ends that slope
// make none. The rail beside them is as it was.
func TestPlates(t *testing.T) {
	three := func(ends string) *Result {
		return result(t, "[[rails.left.length]]\nto = 1000\nsection = \"channel 100x60x5\"\n[[rails.left.length]]\nto = 2000\nsection = \"channel 100x60x5\"\nplated = \"boxed\"\nplate = 8\n"+ends+
			"[[rails.left.length]]\nsection = \"channel 100x60x5\"\n")
	}
	r := three("plate_ends = \"square\"\n")
	b := r.Of(project.LeftSide)
	ls := b.Lengths()
	require.Len(t, ls, 3)
	assert.Greater(t, ls[1].Now.J, 100*ls[0].Now.J)
	assert.Equal(t, ls[0].Now.Ix, ls[1].Was.Ix)
	step := found(t, r, "rail.left.step")
	assert.InEpsilon(t, ls[1].Now.Ix/ls[0].Now.Ix, step.Value, 1e-9)
	detail := found(t, r, "rail.left.details")
	assert.Equal(t, finding.Over, detail.Status)
	assert.Contains(t, detail.Advice(), "ends square")
	end := found(t, r, "rail.left.plate.2.bending")
	s, _ := ls[0].Now.Worst(max(math.Abs(b.moment(1000)), math.Abs(b.moment(2000))), 0)
	assert.InEpsilon(t, s/235, end.Value, 1e-9)

	r = three("plate_ends = \"fish mouth\"\n")
	assert.Equal(t, 1.0, found(t, r, "rail.left.step").Value)
	assert.Equal(t, finding.OK, found(t, r, "rail.left.details").Status)
	r = three("")
	assert.Equal(t, finding.NotKnown, found(t, r, "rail.left.details").Status, "how they end is not said")
}

// A ladder of two alike rails: G J/L of both, twisted by 150 mm of lift over 1500 mm of
// track, and the shear T t/J of an open section; boxed it takes hundreds of times the
// torque.
func TestOneWheelUpByHand(t *testing.T) {
	r := result(t, plain)
	j := r.Of(project.LeftSide).Pieces[0].Now.J
	require.Empty(t, r.Twist.Why)
	assert.InEpsilon(t, 2*section.SteelG*j/3000, r.Twist.Now, 1e-9)
	assert.InDelta(t, 0.1, r.Twist.Angle, 1e-12)
	assert.InEpsilon(t, section.SteelG*0.1/3000*5, r.Twist.Rails[0].Shear, 1e-9)
	assert.InEpsilon(t, r.Twist.Rails[0].Shear*math.Sqrt(3)/235, found(t, r, "rail.left.twist").Value, 1e-9)
	assert.Contains(t, strings.Join(found(t, r, "rail.left.twist").Assumes, " "), "warping")

	boxed := result(t, plain+"plated = \"boxed\"\nplate = 5\nplate_ends = \"sloped\"\n")
	assert.Greater(t, boxed.Twist.Now, 200*boxed.Twist.Was)
	assert.InEpsilon(t, r.Twist.Now, boxed.Twist.Was, 1e-9)
	assert.Equal(t, finding.Over, found(t, boxed, "rail.left.twist").Status)
}

// Springs take their part of the lift.
func TestOneWheelUpOnSprings(t *testing.T) {
	b := build(t, plain+"plated = \"boxed\"\nplate = 5\nplate_ends = \"sloped\"\n")
	stiff := Prepare(b, nil).At(Input{}).Twist
	b = build(t, plain+"plated = \"boxed\"\nplate = 5\nplate_ends = \"sloped\"\n")
	b.Vehicle.FrontRate.SetV(30)
	b.Vehicle.RearRate.SetV(40)
	soft := Prepare(b, nil).At(Input{}).Twist
	f, rr := 30*1500*1500/2.0, 40*1500*1500/2.0
	want := 0.1 / (1/soft.Now + 1/f + 1/rr) / soft.Now
	assert.InEpsilon(t, want, soft.Angle, 1e-9)
	assert.Less(t, soft.Angle, stiff.Angle)
}

// A mount whose name or leg has a side rests on that rail; one between the rails by
// how near it is to either.
func TestMountsRestOnTheirRail(t *testing.T) {
	p := Prepare(build(t, plain), nil)
	at := func(y float64, mount string) (left, right float64) {
		r := p.At(Input{Mounts: []Weighing{{mount, r3.Vec{X: 700, Y: y}, 1000}}})
		none := p.At(Input{})
		sum := func(q *Result, s project.Side) (f float64) {
			for _, c := range q.Of(s).Supports {
				f += c.Force
			}
			return f
		}
		return sum(r, project.LeftSide) - sum(none, project.LeftSide), sum(r, project.RightSide) - sum(none, project.RightSide)
	}
	for _, c := range []struct {
		y           float64
		mount       string
		left, right float64
	}{{-300, "left_front", 1000, 0}, {300, "right_front", 0, 1000}, {0, "rear", 500, 500}, {-200, "rear", 750, 250}, {-900, "rear", 1000, 0}} {
		l, r := at(c.y, c.mount)
		assert.InDelta(t, c.left, l, 1e-6, "%v", c)
		assert.InDelta(t, c.right, r, 1e-6, "%v", c)
	}
}

// What is missing is said, and nothing is ok.
func TestMissing(t *testing.T) {
	for name, c := range map[string]struct {
		left, take, want string
	}{
		"no lengths":  {"", "", "rails.left.length"},
		"no load":     {plain, "[[rails.load]]\nname = \"bed\"\nmass = \"200 kg\"\nat = 1500\n", "rails.load"},
		"no supports": {plain, "[[rails.left.support]]\nname = \"front tower\"\nat = 0\nkind = \"tower\"\n[[rails.left.support]]\nname = \"rear tower\"\nat = 3000\nkind = \"tower\"\n", "rails.left.support"},
		"one support": {plain, "[[rails.left.support]]\nname = \"rear tower\"\nat = 3000\nkind = \"tower\"\n", "rails.left.support.2"},
		"no section":  {"[[rails.left.length]]\nsteel = \"S355\"\n", "", "rails.left.length.1.section"},
		"short":       {"[[rails.left.length]]\nto = 1000\nsection = \"channel 100x60x5\"\n", "", "add a [[rails.left.length]]"},
	} {
		text := strings.Replace(strings.Replace(frame, "LEFT", c.left, 1), c.take, "", 1)
		f, err := project.Parse("test.toml", []byte(text))
		require.NoError(t, err, name)
		r := Prepare(f.Build, nil).At(Input{})
		got := found(t, r, "rail.left.bending")
		assert.Equal(t, finding.NotKnown, got.Status, name)
		assert.Contains(t, got.Missing, c.want, name)
	}
	r := Prepare(build(t, plain), nil).At(Input{Why: "the powertrain has no mass"})
	assert.Equal(t, finding.NotKnown, found(t, r, "rail.left.bending").Status)
	f, err := project.Parse("test.toml", []byte("format = 3\n"))
	require.NoError(t, err)
	assert.Empty(t, Prepare(f.Build, nil).At(Input{}).Findings(), "nothing is said of what is not in the file")
}

// A hole takes metal away, in a flange more than in the middle of the web.
func TestHoles(t *testing.T) {
	use := func(more string) float64 { return found(t, result(t, plain+more), "rail.left.bending").Value }
	none := use("")
	web := use("[[rails.left.hole]]\nat = 1500\nin = \"web\"\ndiameter = 30\n")
	flange := use("[[rails.left.hole]]\nat = 1500\nin = \"bottom flange\"\ndiameter = 30\n")
	assert.Greater(t, web, none)
	assert.Greater(t, flange, 1.2*web)
	r := result(t, plain+"[[rails.left.hole]]\nat = 1500\nin = \"bottom flange\"\ndiameter = 12\n")
	assert.Contains(t, found(t, r, "rail.left.details").Advice(), "bottom flange")
}

// A hole in a box goes through both of its walls, and through plates that lie over it,
// unless the file says one wall. By hand: the moment of what is left, from rectangles; the
// hole lies about the middle of the height, so that the centroid stays.
func TestWhatAHoleGoesThrough(t *testing.T) {
	use := func(length, more string) finding.Finding {
		return found(t, result(t, "[[rails.left.length]]\nbend = 0\n"+length, more), "rail.left.bending")
	}
	hole := func(through string) string {
		return "[[rails.left.hole]]\nat = 1500\nin = \"web\"\ndiameter = 30\n" + through
	}
	const box, boxed, wall = (60*100*100*100 - 50*90*90*90) / 12.0, 2075416.667, 5 * 30 * 30 * 30 / 12.0
	for _, c := range []struct {
		length, through string
		whole, gone     float64
	}{
		{"section = \"box 100x60x5\"\n", "", box, 2 * wall},
		{"section = \"box 100x60x5\"\n", "through = \"both walls\"\n", box, 2 * wall},
		{"section = \"box 100x60x5\"\n", "through = \"one wall\"\n", box, wall},
		{"section = \"channel 100x60x5\"\n", "", 1658750, wall},
		{"section = \"channel 100x60x5\"\nplated = \"boxed\"\nplate = 5\n", "", boxed, 2 * wall},
		{"section = \"channel 100x60x5\"\nplated = \"boxed\"\nplate = 5\n", "through = \"one wall\"\n", boxed, wall},
	} {
		none, f := use(c.length, ""), use(c.length, hole(c.through))
		assert.InEpsilon(t, c.whole/(c.whole-c.gone), f.Value/none.Value, 1e-6, "%s %s", c.length, c.through)
		says := strings.Contains(strings.Join(f.Assumes, " "), "rails.left.hole.1.through is not in the file yet")
		assert.Equal(t, c.through == "" && c.gone > wall, says, "%s %s", c.length, c.through)
	}
	// A hole in the lower flange of a box, through the upper one too, leaves it as strong
	// about either; through one the centroid goes up.
	flange := "[[rails.left.hole]]\nat = 1500\nin = \"bottom flange\"\ndiameter = 20\n"
	left := box - 2*(20*125/12.0+100*47.5*47.5)
	assert.InEpsilon(t, box/left, use("section = \"box 100x60x5\"\n", flange).Value/use("section = \"box 100x60x5\"\n", "").Value, 1e-6)
	const area, cut = 1500.0, 100.0
	up := cut * 47.5 / (area - cut)
	one := box + area*up*up - (20*125/12.0 + cut*(47.5+up)*(47.5+up))
	assert.InEpsilon(t, box/50/(one/(50+up)), use("section = \"box 100x60x5\"\n", flange+"through = \"one wall\"\n").Value/use("section = \"box 100x60x5\"\n", "").Value, 1e-6)
}

// A length that tapers is as stiff at each end as the section there, and between them
// in between; a stretch wants both of its joints.
func TestTaperAndStretch(t *testing.T) {
	r := result(t, "[[rails.left.length]]\nsection = \"channel 120x60x5\"\nto_section = \"channel 80x60x5\"\nstretched = 300\n")
	ps := r.Of(project.LeftSide).Pieces
	require.Len(t, ps, taperSteps)
	for i := 1; i < len(ps); i++ {
		assert.Less(t, ps[i].Now.Ix, ps[i-1].Now.Ix)
	}
	require.Len(t, r.Of(project.LeftSide).Lengths(), 1)
	assert.Contains(t, found(t, r, "rail.left.details").Missing, "both joints")
	assert.Equal(t, 1.0, found(t, r, "rail.left.step").Value, "a taper is no step")
}

// The hangers of one axle share what it carries by its place between them.
func TestHangers(t *testing.T) {
	hangers := ""
	for _, s := range []struct {
		at   int
		axle string
	}{{-400, "front"}, {600, "front"}, {2400, "rear"}, {3400, "rear"}} {
		hangers += fmt.Sprintf("[[rails.left.support]]\nname = \"hanger at %d\"\nat = %d\nkind = \"hanger\"\naxle = %q\n", s.at, s.at, s.axle)
	}
	text := strings.Replace(frame, "LEFT", plain, 1)
	cut := text[strings.Index(text, "[[rails.left.support]]"):strings.Index(text, "[rails.right]")]
	f, err := project.Parse("test.toml", []byte(strings.Replace(text, cut, hangers, 1)))
	require.NoError(t, err)
	b := Prepare(f.Build, nil).At(Input{}).Of(project.LeftSide)
	require.Empty(t, b.Why)
	require.Len(t, b.Supports, 4)
	assert.InEpsilon(t, 0.6/0.4, b.Supports[0].Force/b.Supports[1].Force, 1e-9, "the axle is nearer to its front hanger")
	assert.InEpsilon(t, 0.4/0.6, b.Supports[2].Force/b.Supports[3].Force, 1e-9)
	assert.NotContains(t, strings.Join(b.Assumes, " "), "like share")
	hangers += "[[rails.left.support]]\nname = \"last\"\nat = 3900\nkind = \"hanger\"\naxle = \"rear\"\n"
	f, err = project.Parse("test.toml", []byte(strings.Replace(text, cut, hangers, 1)))
	require.NoError(t, err)
	b = Prepare(f.Build, nil).At(Input{}).Of(project.LeftSide)
	assert.InEpsilon(t, 1, b.Supports[2].Force/b.Supports[4].Force, 1e-9)
	assert.Contains(t, strings.Join(b.Assumes, " "), "the 3 hangers of the rear axle carry a like share each")
}

// A heavy load just beside a support bends the rail little and shears its web: by hand,
// the support's force less the overhang in front of it over 95 by 5 mm of web.
func TestAShearedWebIsNoOK(t *testing.T) {
	text := strings.Replace(strings.Replace(frame, "at = 1500\n", "at = 10\n", 1), "200 kg", "10000 kg", 1)
	f, err := project.Parse("test.toml", []byte(strings.Replace(text, "LEFT", plain, 1)))
	require.NoError(t, err)
	r := Prepare(f.Build, nil).At(Input{})
	b := r.Of(project.LeftSide)
	require.Empty(t, b.Why)
	w := 1050 * 7850e-9 * 9.80665
	front := (w*4500*1250 + 5000*9.80665*2990) / 3000
	stress := 3 * (front - w*500) / (95 * 5)
	assert.InDelta(t, stress, b.Sheared.Stress, 1e-3*stress)
	require.Less(t, b.Bending.Use.V, 0.5)
	bending := found(t, r, finding.RailBending("left"))
	assert.Equal(t, finding.NotKnown, bending.Status)
	assert.Contains(t, bending.Missing, "its web is sheared by")

	light := found(t, result(t, plain), finding.RailBending("left"))
	assert.NotContains(t, light.Missing, "sheared")
	assert.Contains(t, strings.Join(light.Assumes, "; "), "shear is not counted together with bending: its most is")
}

// Rails that were cut before serve only rails whose lengths, ends, units and side are the
// same: with them the answer is what it is without.
func TestWhatWasCutBeforeChangesNothing(t *testing.T) {
	builds := []*project.Build{
		build(t, plain),
		build(t, "[[rails.left.length]]\nto = 2000\nsection = \"channel 100x60x5\"\n"+plain),
		build(t, "[[rails.left.length]]\nsection = \"channel 100x60x6\"\nbend = 0\n"),
		build(t, "[[rails.left.length]]\nto = 2000\nsection = \"channel 100x60x5\"\n"),
		build(t, plain+"[[rails.left.splice]]\nat = 500\nkind = \"butt\"\n"),
	}
	long := build(t, plain)
	long.Rails.Left.Points = long.Rails.Left.Points[:1]
	inches := build(t, plain)
	inches.Units = quantity.Inch()
	builds = append(builds, long, inches)
	says := func(p *Prepared) (out []string) {
		for _, f := range p.At(Input{}).Findings() {
			out = append(out, fmt.Sprint(f.ID, f.Status, f.Value, f.Missing, f.Says(), f.Assumes))
		}
		return out
	}
	for i, b := range builds {
		want := says(Prepare(b, nil))
		for k, before := range builds {
			require.Equal(t, want, says(Prepare(b, Prepare(before, nil))), "build %d after %d", i, k)
		}
	}
	p := Prepare(builds[0], nil)
	assert.Same(t, &p.rails[0].Pieces[0], &Prepare(builds[4], p).rails[0].Pieces[0], "a splice cuts no rail anew")
}
