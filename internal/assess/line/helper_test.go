package line

import (
	"math"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const rpm = math.Pi / 30

func deg(v float64) float64 { return geom.Angle(v).Degrees() }

func build(t testing.TB, text string) *project.Build {
	t.Helper()
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	return f.Build
}

// Judge is Prepare and At of one place.
func Judge(in Input, at Place, l project.Line) Result { return Prepare(in, l).At(at) }

// between holds an uncertainty against the one that straight lines give: what
// they leave out is on top, some part of it.
func between(t testing.TB, want, got, more float64) {
	t.Helper()
	assert.GreaterOrEqual(t, got, 0.975*want)
	assert.LessOrEqual(t, got, (1+more)*want)
}

// ordered is a line with its order sheet, no half shafts on it.
type ordered struct {
	Line
	Order []OrderRow
}

// tried are the lines of a build, and what is said about them.
type tried struct {
	Lines    []ordered
	Findings []finding.Finding
	Plans    []finding.Finding
}

// run judges the lines of a build where the file places the powertrain.
func run(b *project.Build) tried { return judgedBy(inputOf(b), b) }

// judgedBy is run with what was read so.
func judgedBy(in Input, b *project.Build) tried {
	var out tried
	at := placeOf(b)
	for _, l := range b.Lines {
		r := Judge(in, at, l)
		out.Lines = append(out.Lines, ordered{r.Line, Order(l, &r.Line, nil)})
		out.Findings = append(append(out.Findings, r.Findings...), r.Agree...)
		out.Plans = append(out.Plans, r.Plans...)
	}
	out.Findings = append(out.Findings, Across(in, at)...)
	return out
}

func placeOf(b *project.Build) Place {
	at := Place{Build: b, Pose: finding.Maybe[geom.Pose]{Why: "not placed"}}
	if supports, placed, err := b.Seat(); err == nil {
		at.Pose.V, err = supports.Pose(placed)
		at.Pose.Known = err == nil
	} else {
		at.Pose.Why = err.Error()
	}
	return at
}

// inputOf takes what was read plainly: the mean of all readings of a thing, each
// good for what the gauge is, 0.1 degrees, or the tape, 1 mm at each end, and
// independent of the others. The gauge's zero, levels, repeats and slips are the
// reading trade's.
func inputOf(b *project.Build) Input {
	in := Input{Build: b, Readings: finding.Readings{Gauge: map[string]finding.Taken{}, Tape: map[string]finding.Taken{}}}
	sources := new(uncertain.Sources)
	off := func(label string, v, half float64) uncertain.Number {
		n, err := sources.With(v, uncertain.Half(label, half))
		if err != nil {
			panic(err)
		}
		return n
	}
	for i := range in.Readings.Moved {
		half := 1.0
		if i == 5 {
			half = (0.1 * geom.Deg).Rad()
		}
		in.Readings.Moved[i] = off("a move", 0, half)
	}
	value, bad := make([]uncertain.Number, len(b.Readings)), map[string]finding.Number{}
	for i, r := range b.Readings {
		if r.InPlan() {
			half := r.PlusMinus.Or(math.Sqrt2 / r.Over.V())
			value[i] = off("tape", math.Atan2(r.Aside.V(), r.Over.V()), half)
			in.Readings.Tape[r.Of] = with(in.Readings.Tape[r.Of], i)
			continue
		}
		s, err := gauge.Reading{Shown: geom.Angle(r.Shown.Or(0)), On: r.On.Gauge(), Lower: r.Lower.Gauge()}.Slope()
		value[i] = off("gauge", s.Rad(), (0.1 * geom.Deg).Rad())
		in.Readings.Gauge[r.Of] = with(in.Readings.Gauge[r.Of], i)
		if err != nil {
			bad[r.Of] = finding.Number{Why: err.Error(), Unusable: true, Err: err}
		}
	}
	for _, all := range []map[string]finding.Taken{in.Readings.Gauge, in.Readings.Tape} {
		for of, t := range all {
			mean := uncertain.Exact(0)
			for _, i := range t.Set {
				mean = mean.Plus(value[i].Times(1 / float64(len(t.Set))))
			}
			t.Mean = finding.Of(mean)
			if b, ok := bad[of]; ok {
				t.Mean = b
			}
			t.Level = t.Mean
			all[of] = t
		}
	}
	return in
}

func with(t finding.Taken, i int) finding.Taken {
	t.Set = append([]int{i}, t.Set...)
	return t
}

// Finding returns the finding with the given id, also one of Plans.
func (a tried) Finding(id string) (finding.Finding, bool) {
	for _, fs := range [][]finding.Finding{a.Findings, a.Plans} {
		for _, f := range fs {
			if f.ID == id {
				return f, true
			}
		}
	}
	return finding.Finding{}, false
}

func findingOf(t testing.TB, a tried, id string) finding.Finding {
	t.Helper()
	f, ok := a.Finding(id)
	require.True(t, ok, id)
	return f
}
