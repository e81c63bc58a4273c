package hung

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/rigid"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// scene is a powertrain with marks as it hangs, a shaft behind it to a carrier bearing and
// one behind that to the pinion, and what gauge, tape and level say of them.
type scene struct {
	is               geom.Pose
	build            *project.Build
	rails            map[string]r3.Vec // as they are
	places           map[string][3]finding.Number
	from, reads      *uncertain.Sources
	lines            []Line
	readings, unread []Reading
}

var (
	marks = []struct {
		name string
		own  r3.Vec
	}{{"pulley", r3.Vec{X: -150}}, {"flange", r3.Vec{X: 1400}}, {"head_left", r3.Vec{X: 300, Y: -180, Z: 380}}, {"head_right", r3.Vec{X: 300, Y: 180, Z: 380}}}
	output = r3.Vec{X: 1400}
	truth  = map[string]r3.Vec{"point.rail_l": {X: 600, Y: -400, Z: -20}, "point.rail_r": {X: 600, Y: 400, Z: -20}, "point.rail_b": {X: 1700, Y: -420, Z: -30}, "point.bearing": {X: 2900, Y: 5, Z: -230}, "point.pinion": {X: 4100, Z: -330}}
)

const placeHalf = 1.0 // mm

// newScene is one without errors. ends is the ± of the places of bearing and pinion, mm.
func newScene(t *testing.T, ends float64) *scene {
	t.Helper()
	text := "format = 3\n[powertrain]\noutput = [1400, 0, 0]\n"
	for _, m := range marks {
		text += fmt.Sprintf("[[powertrain.mark]]\nat = \"point.%s\"\nown = [\"%g mm ± 0.2\", \"%g mm ± 0.2\", \"%g mm ± 0.2\"]\n", m.name, m.own.X, m.own.Y, m.own.Z)
	}
	for _, m := range marks {
		text += "[point." + m.name + "]\n"
	}
	for range 3 {
		text += "[[reading]]\nof = \"powertrain\"\non = \"along\"\nshown = \"4 deg\"\nlower = \"rear\"\n"
	}
	f, err := project.Parse("x.toml", []byte(text))
	require.NoError(t, err)
	s := &scene{build: f.Build, from: &uncertain.Sources{}, rails: map[string]r3.Vec{}, places: map[string][3]finding.Number{}}
	s.is = geom.Orient(4*geom.Deg, 1*geom.Deg, -0.7*geom.Deg, r3.Vec{X: 253, Y: 6, Z: -4})
	tie, err := s.from.Add(uncertain.Half("the tie", 0.8)) // of all heights together
	require.NoError(t, err)
	for _, path := range []string{"point.rail_l", "point.rail_r", "point.rail_b", "point.bearing", "point.pinion"} {
		half := placeHalf
		if path == "point.bearing" || path == "point.pinion" {
			half = ends
		}
		at := truth[path]
		s.rails[path] = at
		var c [3]finding.Number
		for axis, v := range [3]float64{at.X, at.Y, at.Z} {
			id, err := s.from.Add(uncertain.Half(fmt.Sprintf("%s %d", path, axis), half))
			require.NoError(t, err)
			parts := []uncertain.Part{{Of: id, C: 1}}
			if axis == 2 {
				parts = append(parts, uncertain.Part{Of: tie, C: 1})
			}
			c[axis] = finding.Of(s.from.Number(v, parts...))
		}
		s.places[path] = c
	}
	return s
}

func (s *scene) at(path string) r3.Vec {
	for _, m := range marks {
		if path == "point."+m.name {
			return s.is.Point(m.own)
		}
	}
	return s.rails[path]
}

// measure adds a line.
func (s *scene) measure(t *testing.T, from, to string, as project.SurveyLine) {
	t.Helper()
	d := r3.Sub(s.at(to), s.at(from))
	v := r3.Norm(d)
	if as == project.HeightLine {
		v = d.Z
	}
	n, err := s.from.With(v, uncertain.Half(fmt.Sprint("tape ", len(s.lines)), 0.5))
	require.NoError(t, err)
	s.lines = append(s.lines, Line{Name: finding.SpokenPoint(from) + " to " + finding.SpokenPoint(to) + string(as), Index: len(s.lines), As: as, From: from, To: to, Value: finding.Of(n)})
}

// taped measures the heights of all marks over one rail and their distances from both.
func (s *scene) taped(t *testing.T) *scene {
	t.Helper()
	for _, m := range marks {
		s.measure(t, "point.rail_l", "point."+m.name, project.HeightLine)
		s.measure(t, "point.rail_l", "point."+m.name, "")
		s.measure(t, "point.rail_r", "point."+m.name, "")
	}
	return s
}

// read adds the gauge on the powertrain and both shafts.
func (s *scene) read(t *testing.T) *scene {
	t.Helper()
	s.reads = s.from.Fork()
	shared, err := s.reads.Add(uncertain.Half("the gauge's zero", 0.05*deg))
	require.NoError(t, err)
	own := End{Own: output}
	bearing, pinion := End{Path: "point.bearing"}, End{Path: "point.pinion"}
	add := func(target string, kind rigid.Kind, v float64, ends [2]End, rides bool) {
		n, err := s.reads.Add(uncertain.Half("the gauge on "+target, 0.1*deg))
		require.NoError(t, err)
		value := finding.Of(s.reads.Number(v, uncertain.Part{Of: shared, C: 1}, uncertain.Part{Of: n, C: 1}))
		s.readings = append(s.readings, Reading{Target: target, Name: target, Kind: kind, Value: value, Set: []int{len(s.readings)}, Ends: ends, Rides: rides})
	}
	add("powertrain", rigid.Along, s.is.Slope().Rad(), [2]End{}, false)
	add("shaft 1", rigid.Fall, falls(s.is.Point(output), s.rails["point.bearing"]), [2]End{own, bearing}, false)
	add("shaft 2", rigid.Fall, falls(s.rails["point.bearing"], s.rails["point.pinion"]), [2]End{bearing, pinion}, true)
	return s
}

const deg = math.Pi / 180

func falls(a, b r3.Vec) float64 {
	d := r3.Sub(b, a)
	return math.Atan2(-d.Z, math.Hypot(d.X, d.Y))
}

func (s *scene) input() Input {
	if s.reads == nil {
		s.reads = s.from.Fork()
	}
	in := Input{Build: s.build, Readings: slices.Clone(s.readings), Unread: slices.Clone(s.unread), Lines: s.lines, From: s.from.Fork(), Reads: s.reads.Fork(), Place: func(path string) [3]finding.Number { return s.places[path] }}
	for _, list := range [][]Reading{in.Readings, in.Unread} {
		for i := range list {
			for k := range list[i].Ends {
				if e := &list[i].Ends[k]; e.Path != "" {
					e.At = s.places[e.Path]
				}
			}
		}
	}
	return in
}

// taken are what readings come to by the fit, by their targets, as By hands them on.
func (s *scene) taken(p *Powertrain) map[string]finding.Number {
	r := finding.Readings{Gauge: map[string]finding.Taken{}}
	for _, x := range s.readings {
		r.Gauge[x.Target] = finding.Taken{Set: x.Set, Mean: x.Value, Level: x.Value}
	}
	out := map[string]finding.Number{}
	for k, x := range p.By(r).Gauge {
		out[k] = x.Level
	}
	return out
}

// shift moves a number by what was drawn or is wrong.
func shift(n finding.Number, by float64) finding.Number { return finding.Of(n.Number.Shift(by)) }

// by is what one standard uncertainty of a source does to a number.
func (s *scene) by(n uncertain.Number, source int) float64 {
	id := uncertain.ID(source + 1)
	return n.Of(id) * s.reads.Source(id).U
}

func coordinate(v r3.Vec, axis int) float64 { return [3]float64{v.X, v.Y, v.Z}[axis] }
func axisOf(axis int, by float64) r3.Vec {
	return [3]r3.Vec{{X: by}, {Y: by}, {Z: by}}[axis]
}
func flat(v r3.Vec) []float64 { return []float64{v.X, v.Y, v.Z} }

// drawn moves all that was measured by errors of its own sources.
func (s *scene) drawn(dice *rand.Rand) *scene {
	errs := make([]float64, 400)
	for i := range errs {
		errs[i] = math.Sqrt(3) * (2*dice.Float64() - 1)
	}
	by := func(n finding.Number) finding.Number {
		sum := 0.0
		for id := range s.reads.Len() {
			sum += s.by(n.Number, id) * errs[id]
		}
		return shift(n, sum)
	}
	out := *s
	out.lines, out.readings, out.places = slices.Clone(s.lines), slices.Clone(s.readings), map[string][3]finding.Number{}
	for i, l := range s.lines {
		out.lines[i].Value = by(l.Value)
	}
	for i, x := range s.readings {
		out.readings[i].Value = by(x.Value)
	}
	for path, c := range s.places {
		out.places[path] = [3]finding.Number{by(c[0]), by(c[1]), by(c[2])}
	}
	return &out
}

// The fit is that of a dense system with all covariances: slopes and their ±, with ends of
// the shafts that are known well and badly, and with errors in all that was measured.
func TestTheFitIsThatOfAllCovariances(t *testing.T) {
	held := 0
	for _, ends := range []float64{0.3, 2, 8} {
		for seed := range uint64(4) {
			s := newScene(t, ends).taped(t).read(t).drawn(rand.New(rand.NewPCG(seed, 5)))
			p := Of(s.input())
			if len(p.Suspects) > 0 {
				continue
			}
			held++
			require.Empty(t, p.Why)
			slopes, u := s.dense(t)
			taken := s.taken(p)
			for k, target := range []string{"powertrain", "shaft 1", "shaft 2"} {
				n := taken[target]
				assert.InDelta(t, slopes[k], n.V, 0.02*u[k], "%s, ends ± %g", target, ends)
				assert.InDelta(t, u[k], n.U(), 0.02*u[k], "%s, ends ± %g", target, ends)
				assert.Less(t, n.U(), s.readings[k].Value.U(), "never less than the reading alone")
			}
		}
	}
	assert.Greater(t, held, 9)
}

// Where nothing checks a reading it stays what it was, value and ±, to the last bit: with no
// more than it takes, and the powertrain's where only a shaft behind the bearing is checked.
func TestWithoutRedundancyReadingsStay(t *testing.T) {
	s := newScene(t, 1)
	s.measure(t, "point.rail_l", "point.flange", project.HeightLine)
	s.read(t).readings = s.readings[:1]
	p := Of(s.input())
	assert.LessOrEqual(t, p.DoF, 0)
	assert.Equal(t, s.readings[0].Value, s.taken(p)["powertrain"])

	s = newScene(t, 1).read(t) // nothing to a mark: the second shaft is checked by its ends
	p = Of(s.input())
	require.True(t, p.Given)
	assert.False(t, p.Marked)
	require.Empty(t, p.Why)
	assert.Equal(t, 1, p.DoF)
	taken := s.taken(p)
	assert.Equal(t, s.readings[0].Value, taken["powertrain"])
	assert.Equal(t, s.readings[1].Value, taken["shaft 1"])
	// By hand: the slope between the ends, of their heights alone, and the gauge's, in a
	// weighted mean. What ties all heights together drops out of it.
	x := s.readings[2].Value
	ends := math.Sqrt2 / math.Sqrt(3) / 1200
	assert.InDelta(t, x.U()*ends/math.Hypot(x.U(), ends), taken["shaft 2"].U(), 4e-3*x.U())
	assert.False(t, p.Pose.Known)
}

// A shaft that was read with the other end lower does not fit its ends where these were
// measured: it is named and of no use, and the other readings stay.
func TestAShaftReadTheOtherWay(t *testing.T) {
	s := newScene(t, 1).taped(t).read(t)
	s.readings[2].Value = finding.Of(s.readings[2].Value.Times(-1))
	p := Of(s.input())
	require.Len(t, p.Suspects, 1)
	assert.Equal(t, "shaft 2", p.Suspects[0].Name)
	assert.True(t, p.Suspects[0].Alone)
	taken := s.taken(p)
	assert.False(t, taken["shaft 2"].Known)
	assert.True(t, taken["shaft 2"].Unusable)
	assert.True(t, taken["shaft 1"].Known)
	assert.InDelta(t, s.is.Slope().Rad(), taken["powertrain"].V, 1e-6)
}

// Where a point of the vehicle that all was measured from lies elsewhere than the survey
// has it, the point is named, and how far it is off; and what its place rests on that would
// do that.
func TestAPlaceThatDoesNotFit(t *testing.T) {
	for axis, says := range []string{"to the rear", "to the right", "higher"} {
		s := newScene(t, 1).taped(t)
		for _, m := range marks {
			s.measure(t, "point.rail_r", "point."+m.name, project.HeightLine)
			s.measure(t, "point.rail_b", "point."+m.name, "")
		}
		s.read(t)
		at := s.places["point.rail_r"]
		at[axis] = shift(at[axis], -14)
		s.places["point.rail_r"] = at
		p := Of(s.input())
		require.Empty(t, p.Why)
		require.Len(t, p.Suspects, 1)
		x := p.Suspects[0]
		assert.Equal(t, "point.rail_r", x.Place)
		assert.InDelta(t, 14, coordinate(x.Shift, axis), 2)
		assert.Contains(t, p.suspectText(), "14.0 mm "+says)
		assert.Contains(t, x.Likely, fmt.Sprintf("point.rail_r %d is wrong", axis))
		taken := s.taken(p)
		assert.InDelta(t, s.is.Slope().Rad(), taken["powertrain"].V, 2e-5)
		assert.Equal(t, finding.Over, p.fitFinding().Status)
	}
}

// What was measured after another step, or where the powertrain hung elsewhere, is left out;
// a shaft that does not go with the powertrain counts wherever that hung.
func TestOfOneOccasion(t *testing.T) {
	s := newScene(t, 1).taped(t).read(t)
	all := len(s.lines)
	s.lines[0].After = project.Tacked
	p := Of(s.input())
	assert.Len(t, p.All, all-1+3)

	hung := func(v float64) (out project.Placement) {
		out.Rear.SetV(v)
		return out
	}
	s = newScene(t, 1).taped(t).read(t)
	for i := range s.lines {
		s.lines[i].Placed = hung(-180)
	}
	s.build.Placement = hung(-180)
	for i := range s.readings {
		s.build.Readings[i].Placed = hung(-180)
	}
	s.build.Readings[2].Placed = hung(-150)
	p = Of(s.input())
	assert.Len(t, p.All, all+3)
	s.build.Readings[1].Placed = hung(-150) // of the shaft behind the powertrain
	p = Of(s.input())
	assert.Len(t, p.All, all+2)
}

// without is the scene with no gauge on what is named.
func (s *scene) without(targets ...string) *scene {
	out := *s
	out.readings = nil
	for _, x := range s.readings {
		if slices.Contains(targets, x.Target) {
			out.unread = append(out.unread, Reading{Target: x.Target, Name: x.Name, Kind: x.Kind, Ends: x.Ends, Rides: x.Rides})
		} else {
			out.readings = append(out.readings, x)
		}
	}
	return &out
}

// Two heights at marks along the crank are a slope with its ±, by hand: the rise over what
// lies between them, where no gauge was put on it. One height is none.
func TestHeightsAloneAreASlope(t *testing.T) {
	s := newScene(t, 1)
	s.measure(t, "point.rail_l", "point.pulley", project.HeightLine)
	s.measure(t, "point.rail_l", "point.flange", project.HeightLine)
	s = s.read(t).without("powertrain", "shaft 1", "shaft 2")
	p := Of(s.input())
	require.Empty(t, p.Why)
	got := p.By(finding.Readings{}).Gauge
	x := got["powertrain"]
	require.True(t, x.Marked)
	assert.Empty(t, x.Set)
	assert.InDelta(t, s.is.Slope().Rad(), x.Level.V, 1e-9)
	// Two tapes, and where each mark is on the powertrain: up and along, the second hardly.
	u := math.Hypot(0.5, 0.2*math.Cos(s.is.Slope().Rad())) * math.Sqrt(2.0/3) / (1550 * math.Cos(s.is.Slope().Rad()))
	assert.InDelta(t, u, x.Level.U(), 0.01*u)
	assert.Contains(t, x.Assumes[0], "no gauge")
	assert.False(t, got["shaft 1"].Marked, "where the powertrain is along the vehicle is not known")

	s.lines = s.lines[:1]
	assert.NotContains(t, Of(s.input()).By(finding.Readings{}).Gauge, "powertrain")
}

// What no gauge was put on follows from the rest, as the dense system has it: a shaft
// between a flange and a bearing that were measured.
func TestAShaftThatWasNotRead(t *testing.T) {
	s := newScene(t, 1).taped(t).read(t)
	slopes, u := s.dense(t)
	for k, target := range []string{"powertrain", "shaft 1", "shaft 2"} {
		x := Of(s.without(target).input()).By(finding.Readings{}).Gauge[target]
		require.True(t, x.Marked, target)
		assert.InDelta(t, slopes[k], x.Level.V, 1e-6)
		// The reading and what all else says, in a weighted mean, are what all say together.
		alone := s.readings[k].Value.U()
		both := x.Level.U() * alone / math.Hypot(x.Level.U(), alone)
		assert.InDelta(t, u[k], both, 0.1*u[k], "the gauge's zero, which several share, is all that is between them")
		assert.Equal(t, project.Hung, x.As.After)
	}
}
