package hung

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/rigid"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
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

// dense is the same fit by another method: all observations with their whole covariance in
// one dense system, the places of both ends of the shafts as unknowns that were observed.
// It returns the slopes of the powertrain and of both shafts, and their standard
// uncertainties.
func (s *scene) dense(t *testing.T) (slopes, u [3]float64) {
	t.Helper()
	type row struct {
		of    func(p geom.Pose, ends [2]r3.Vec, rails map[string]r3.Vec, own map[string]r3.Vec) float64
		value uncertain.Number
	}
	var rows []row
	own := map[string]r3.Vec{}
	for _, m := range marks {
		own["point."+m.name] = m.own
	}
	for _, l := range s.lines {
		rows = append(rows, row{func(p geom.Pose, _ [2]r3.Vec, rails, own map[string]r3.Vec) float64 {
			d := r3.Sub(p.Point(own[l.To]), rails[l.From])
			if l.As == project.HeightLine {
				return d.Z
			}
			return r3.Norm(d)
		}, l.Value.Number})
	}
	for i, x := range s.readings {
		rows = append(rows, row{func(p geom.Pose, ends [2]r3.Vec, _, _ map[string]r3.Vec) float64 {
			return [3]float64{p.Slope().Rad(), falls(p.Point(output), ends[0]), falls(ends[0], ends[1])}[i]
		}, x.Value.Number})
	}
	for k, path := range []string{"point.bearing", "point.pinion"} {
		for axis := range 3 {
			rows = append(rows, row{func(_ geom.Pose, ends [2]r3.Vec, _, _ map[string]r3.Vec) float64 {
				return coordinate(ends[k], axis)
			}, s.places[path][axis].Number})
		}
	}
	// Errors: of each value by its sources, of rails by theirs, of marks their own.
	const unknowns, sources = 12, 200
	x := make([]float64, unknowns)
	start := []float64{s.is.At.X, s.is.At.Y, s.is.At.Z, s.is.Heading().Rad(), s.is.Slope().Rad(), s.is.Roll().Rad()}
	copy(x, start)
	copy(x[6:], flat(truth["point.bearing"]))
	copy(x[9:], flat(truth["point.pinion"]))
	at := func(x []float64) (geom.Pose, [2]r3.Vec) {
		p := geom.Orient(geom.Angle(x[4]), geom.Angle(x[3]), geom.Angle(x[5]), r3.Vec{X: x[0], Y: x[1], Z: x[2]})
		return p, [2]r3.Vec{{X: x[6], Y: x[7], Z: x[8]}, {X: x[9], Y: x[10], Z: x[11]}}
	}
	rails := map[string]r3.Vec{}
	for path, c := range s.places {
		rails[path] = finding.PlaceOf(c)
	}
	n := len(rows)
	var inverse mat.Dense
	for range 4 {
		p, ends := at(x)
		a, l, b := mat.NewDense(n, unknowns, nil), mat.NewVecDense(n, nil), mat.NewDense(n, sources+12, nil)
		for i, r := range rows {
			now := r.of(p, ends, rails, own)
			l.SetVec(i, r.value.V-now)
			for u := range unknowns {
				step := 1e-3
				if u >= 3 && u < 6 {
					step = 1e-6
				}
				y := slices.Clone(x)
				y[u] += step
				q, e := at(y)
				a.Set(i, u, (r.of(q, e, rails, own)-now)/step)
			}
			for id := range sources {
				if id < s.reads.Len() {
					b.Set(i, id, s.by(r.value, id))
				}
			}
			for path, c := range s.places {
				if path != "point.rail_l" && path != "point.rail_r" {
					continue
				}
				for axis := range 3 {
					moved := map[string]r3.Vec{}
					for k, v := range rails {
						moved[k] = v
					}
					moved[path] = r3.Add(rails[path], axisOf(axis, 1e-3))
					by := (r.of(p, ends, moved, own) - now) / 1e-3
					for id := range s.reads.Len() {
						b.Set(i, id, b.At(i, id)-by*s.by(c[axis].Number, id))
					}
				}
			}
			for k, m := range marks {
				for axis := range 3 {
					moved := map[string]r3.Vec{}
					for k, v := range own {
						moved[k] = v
					}
					moved["point."+m.name] = r3.Add(m.own, axisOf(axis, 1e-3))
					b.Set(i, sources+3*k+axis, (r.of(p, ends, rails, moved)-now)/1e-3*0.2/math.Sqrt(3))
				}
			}
		}
		var c, ci, atc, nn, right mat.Dense
		c.Mul(b, b.T())
		require.NoError(t, ci.Inverse(&c))
		atc.Mul(a.T(), &ci)
		nn.Mul(&atc, a)
		require.NoError(t, inverse.Inverse(&nn))
		right.Mul(&atc, l)
		var dx mat.Dense
		dx.Mul(&inverse, &right)
		for u := range x {
			x[u] += dx.At(u, 0)
		}
	}
	say := func(x []float64) [3]float64 {
		p, e := at(x)
		return [3]float64{p.Slope().Rad(), falls(p.Point(output), e[0]), falls(e[0], e[1])}
	}
	slopes = say(x)
	for k := range u {
		g := mat.NewVecDense(unknowns, nil)
		for j := range x {
			y := slices.Clone(x)
			step := 1e-3
			if j >= 3 && j < 6 {
				step = 1e-6
			}
			y[j] += step
			g.SetVec(j, (say(y)[k]-slopes[k])/step)
		}
		u[k] = math.Sqrt(mat.Inner(g, &inverse, g))
	}
	return slopes, u
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

// What is said of the slopes holds by simulation (JCGM 101:2008): all that was measured is
// drawn anew by its own errors, and the slopes found scatter as their ± says.
func TestTheFitAgainstMonteCarlo(t *testing.T) {
	const n = 150
	s := newScene(t, 3).taped(t).read(t)
	said := s.taken(Of(s.input()))
	dice := rand.New(rand.NewPCG(8, 101))
	is := map[string]float64{"powertrain": s.readings[0].Value.V, "shaft 1": s.readings[1].Value.V, "shaft 2": s.readings[2].Value.V}
	sum, square, held, all := map[string]float64{}, map[string]float64{}, map[string]int{}, 0
	for range n {
		p := Of(s.drawn(dice).input())
		if p.Why != "" || len(p.Suspects) > 0 {
			continue // about one in a hundred, by chance
		}
		all++
		for target, v := range s.taken(p) {
			d := v.V - is[target]
			sum[target] += d
			square[target] += d * d
			if math.Abs(d) <= v.Expanded() {
				held[target]++
			}
		}
	}
	require.Greater(t, all, n*9/10)
	for target, n := range said {
		u := math.Sqrt(square[target] / float64(all))
		// The marks' own errors, which are not drawn, are in what is said.
		assert.InDelta(t, 1, u/n.U(), 0.2, "%s scatters by %.4f deg, said %.4f", target, u/deg, n.U()/deg)
		assert.Less(t, math.Abs(sum[target])/float64(all), 0.3*n.U(), target)
		assert.GreaterOrEqual(t, float64(held[target]), 0.9*float64(all), target)
	}
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

// seated gives the scene its mounts, and a plan from which it hangs elsewhere.
func (s *scene) seated(t *testing.T, off func(p *seat.Placement)) (in Input, planned seat.Placement) {
	t.Helper()
	in = s.input()
	in.Supports = finding.Maybe[seat.Supports]{V: seat.Supports{LeftFront: r3.Vec{Y: -250, Z: -50}, RightFront: r3.Vec{Y: 250, Z: -50}, Rear: r3.Vec{X: 1200, Z: -100}}, Known: true}
	planned = in.Supports.V.Placement(s.is)
	off(&planned)
	return in, planned
}

// How it hangs against the plan is said by each row that it is moved by, in mm and degrees
// with its ±, the right way round; a caution only where findings come out otherwise.
func TestAsMeasuredAgainstPlanned(t *testing.T) {
	s := newScene(t, 0.5).taped(t).read(t)
	none := func(seat.Placement) []string { return nil }
	for _, c := range []struct {
		off   func(p *seat.Placement)
		says  []string
		value float64
	}{
		{func(*seat.Placement) {}, []string{"where it is planned to"}, 0},
		{func(p *seat.Placement) { p.Rear += 6 }, []string{"6.0 ± ", " mm lower at the rear mount", "° more down to the rear"}, 6},
		{func(p *seat.Placement) { p.LeftFront -= 7 }, []string{"7.0 ± ", "higher at the left front mount"}, 7},
		{func(p *seat.Placement) { p.RightFront += 7 }, []string{"lower at the right front mount"}, 7},
		{func(p *seat.Placement) { p.Setback -= 9 }, []string{"9.0 ± ", "farther back"}, 9},
		{func(p *seat.Placement) { p.Offset += 9 }, []string{"9.0 ± ", "farther left"}, 9},
		{func(p *seat.Placement) { p.Heading += geom.Deg }, []string{"1.00 ± ", "° with its rear to the left"}, 0},
	} {
		in, planned := s.seated(t, c.off)
		p := Of(in)
		f, ok := p.PlacedFinding(finding.Maybe[seat.Placement]{V: planned, Known: true}, none)
		require.True(t, ok)
		assert.Equal(t, finding.OK, f.Status)
		assert.False(t, f.HasLimit, "the plan is no limit")
		for _, says := range c.says {
			assert.Contains(t, f.Advice(), says)
		}
		assert.InDelta(t, c.value, f.Value, 0.01)
		assert.Greater(t, f.Uncertainty, 0.1)
		says, beyond := p.Apart(planned)
		assert.Equal(t, !strings.Contains(f.Advice(), "where it is planned to"), beyond, says)

		f, _ = p.PlacedFinding(finding.Maybe[seat.Placement]{V: planned, Known: true}, func(is seat.Placement) []string {
			assert.InDelta(t, in.Supports.V.Placement(s.is).Rear, is.Rear, 0.01)
			return []string{"rear joint 1, largest angle over limit"}
		})
		assert.Equal(t, beyond, f.Status == finding.Tight)
	}
	in, planned := s.seated(t, func(*seat.Placement) {})
	in.Lines = nil
	_, ok := Of(in).PlacedFinding(finding.Maybe[seat.Placement]{V: planned, Known: true}, none)
	assert.False(t, ok)
	in, planned = s.seated(t, func(p *seat.Placement) { p.Rear += 6 })
	in.Lines = in.Lines[:1] // one height and the gauge: no front mount, for it may lean
	f, _ := Of(in).PlacedFinding(finding.Maybe[seat.Placement]{V: planned, Known: true}, none)
	assert.Contains(t, f.Advice(), "more down to the rear")
	assert.Contains(t, f.Advice(), "lower at the rear mount")
	assert.NotContains(t, f.Advice(), "front mount")
}

// What is said of each row holds by simulation (JCGM 101:2008).
func TestRowsAgainstMonteCarlo(t *testing.T) {
	const n = 100
	s := newScene(t, 0.5).taped(t).read(t)
	dice := rand.New(rand.NewPCG(9, 101))
	held, all, square := map[string]int{}, 0, map[string]float64{}
	var u map[string]float64
	for range n {
		in, planned := s.drawn(dice).seated(t, func(*seat.Placement) {})
		p := Of(in)
		if p.Why != "" || len(p.Suspects) > 0 {
			continue
		}
		all++
		u = map[string]float64{}
		for _, o := range p.Against(planned) {
			if !o.Beyond() {
				held[o.Name]++
			}
			square[o.Name] += o.By.V * o.By.V
			u[o.Name] = o.By.U()
		}
	}
	require.Greater(t, all, n*9/10)
	require.Len(t, u, 7)
	for name, u := range u {
		assert.GreaterOrEqual(t, float64(held[name]), 0.88*float64(all), name)
		assert.InDelta(t, 1, math.Sqrt(square[name]/float64(all))/u, 0.25, name)
	}
}
