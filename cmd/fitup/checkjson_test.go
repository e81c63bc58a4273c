package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fitup/internal/assess"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// threeReadings is a build without geometry: slopes of 4.4, 2.4 and 4.8 degrees
// down to the rear, so joints of 2.0 and 2.4 degrees (common practice, no
// published source).
const threeReadings = `format = 1
[line.rear.pinion]
[[reading]]
of = "powertrain"
on = "square face"
shown = "85.6 deg"
lower = "rear"
[[reading]]
of = "line.rear.shaft.1"
on = "along"
shown = "2.4 deg"
lower = "rear"
[[reading]]
of = "line.rear.pinion"
on = "square face"
shown = "85.2 deg"
lower = "rear"
`

// result is what one run of the program left behind.
type result struct {
	code     int
	out, err string
}

func fitup(t *testing.T, args ...string) result {
	t.Helper()
	var out, errs bytes.Buffer
	code := run(args, Env{
		Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs,
		Getenv: func(string) string { return "" },
		Now:    func() time.Time { return time.Date(2026, 5, 2, 12, 0, 0, 0, time.UTC) },
	})
	return result{code, out.String(), errs.String()}
}

func file(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

func checked(t *testing.T, text string, wantCode int) jsonCheck {
	t.Helper()
	r := fitup(t, "check", "--json", file(t, text))
	require.Equal(t, wantCode, r.code, r.err)
	require.Empty(t, r.err)
	var out jsonCheck
	dec := json.NewDecoder(strings.NewReader(r.out))
	dec.DisallowUnknownFields()
	require.NoError(t, dec.Decode(&out))
	return out
}

func findingOf(t *testing.T, c jsonCheck, id string) jsonFinding {
	t.Helper()
	for _, f := range c.Findings {
		if f.ID == id {
			return f
		}
	}
	require.Fail(t, "no such finding", id)
	return jsonFinding{}
}

func valueOf(t *testing.T, c jsonCheck, name string) jsonValue {
	t.Helper()
	for _, v := range c.Values {
		if v.Name == name {
			return v
		}
	}
	require.Fail(t, "no such value", name)
	return jsonValue{}
}

func TestJSONOfThreeReadings(t *testing.T) {
	c := checked(t, threeReadings, exitDone)
	for _, want := range []struct {
		id    string
		value float64
		limit float64
	}{
		{"line.rear.joint.1.min", 2.0, 0.5},
		{"line.rear.joint.1.max", 2.0, 3},
		{"line.rear.joint.2.min", 2.4, 0.5},
		{"line.rear.joint.2.max", 2.4, 3},
		{"line.rear.shaft.1.mismatch", 0.4, 1},
	} {
		f := findingOf(t, c, want.id)
		assert.Equal(t, "ok", f.Status, want.id)
		assert.Equal(t, "read", f.Basis, want.id)
		assert.Equal(t, "deg", f.Unit, want.id)
		assert.InDelta(t, want.value, *f.Value, 1e-9, want.id)
		assert.InDelta(t, want.limit, *f.Limit, 1e-9, want.id)
		assert.InDelta(t, math.Abs(want.limit-want.value), *f.Margin, 1e-9, want.id)
		assert.Nil(t, f.Sense, want.id)
		assert.Nil(t, f.Missing, want.id)
		assert.False(t, f.Changed, want.id)
		// Two independent readings of ±0.1 degrees: u = √2·0.1/√3 = 0.0816,
		// U = 2u = 0.163 (JCGM 100:2008, 4.3.7, 5.1.2 and 6.3.3).
		assert.InDelta(t, 0.163, *f.Uncertainty, 0.0005, want.id)
		assert.InDelta(t, 2, *f.Coverage, 0, want.id)
	}
	joint := findingOf(t, c, "line.rear.joint.1.max")
	require.NotNil(t, joint.Probability)
	assert.InDelta(t, 1, *joint.Probability, 1e-3, "1 degree inside its limit")
	require.Len(t, joint.From, 2)
	assert.Equal(t, []string{"the gauge's accuracy on the powertrain's face", "the gauge's accuracy on shaft 1"}, []string{joint.From[0].What, joint.From[1].What})
	assert.InDelta(t, 0.5, joint.From[0].Share, 1e-3)
	assert.Equal(t, "at least", *findingOf(t, c, "line.rear.joint.1.min").LimitIs)
	assert.Equal(t, "at most", *findingOf(t, c, "line.rear.joint.1.max").LimitIs)
	u := valueOf(t, c, "line.rear.joint.1.angle.read.standard_uncertainty")
	assert.InDelta(t, 0.0816, *u.Value, 0.0001)

	pinion := findingOf(t, c, "line.rear.pinion.read")
	assert.InDelta(t, 4.8, *pinion.Value, 1e-9)
	assert.Equal(t, "down to the rear", *pinion.Sense)
	assert.Nil(t, pinion.Limit)
	assert.Nil(t, pinion.LimitIs)
	assert.Nil(t, pinion.Margin)

	planned := valueOf(t, c, "line.rear.shaft.1.length")
	assert.Nil(t, planned.Value, "what is not known is null")
	assert.Equal(t, "mm", planned.Unit)
}

func TestJSONSignsAndWords(t *testing.T) {
	up := strings.Replace(threeReadings, "shown = \"85.2 deg\"\nlower = \"rear\"", "shown = \"85.2 deg\"\nlower = \"front\"", 1)
	require.NotEqual(t, threeReadings, up)
	c := checked(t, up, exitFindings)
	pinion := findingOf(t, c, "line.rear.pinion.read")
	assert.InDelta(t, -4.8, *pinion.Value, 1e-9)
	assert.Equal(t, "up to the rear", *pinion.Sense)
	over := findingOf(t, c, "line.rear.joint.2.max")
	assert.Equal(t, "over", over.Status)
	assert.InDelta(t, 7.2, *over.Value, 1e-9)
	assert.InDelta(t, -4.2, *over.Margin, 1e-9)
	assert.InDelta(t, 2.0, *findingOf(t, c, "line.rear.joint.1.max").Value, 1e-9)
}

func TestJSONOfTheDemo(t *testing.T) {
	c := checked(t, string(starter.Demo()), exitFindings)
	over := findingOf(t, c, "line.rear.joint.2.max")
	assert.Equal(t, "over", over.Status)
	assert.True(t, over.Changed)
	assert.Equal(t, "the builder's own wish, for a quiet drive", over.Source)
	offset := valueOf(t, c, "placement.offset")
	assert.InDelta(t, 6, *offset.Value, 1e-9)
	assert.Equal(t, "right", *offset.Sense)
	assert.Equal(t, "mm", offset.Unit)
	held := map[string]bool{}
	for _, j := range c.Jobs {
		held[j.ID] = j.Held
	}
	assert.True(t, held["tack-mounts"])
	assert.True(t, held["prove-angles"], "tacking comes first")
	assert.True(t, held["clearances"], "it rests on readings that are to be proved again")
	assert.False(t, held["raise-rear"])
	assert.Contains(t, held, "road-test")
}

// Numbers are given in the file's own units: 10 1/4 in stay 10.25, and
// 260.35 mm are the same length.
func TestJSONInInches(t *testing.T) {
	c := checked(t, `format = 1
[units]
system = "inch"
[placement]
left_front = 0
right_front = 0
setback = "10 1/4 in"
rear = "260.35 mm"
`, exitFindings)
	for _, name := range []string{"placement.setback", "placement.rear"} {
		v := valueOf(t, c, name)
		assert.Equal(t, "in", v.Unit)
		assert.InDelta(t, 10.25, *v.Value, 1e-9)
	}
}

// A person fills the file in one line at a time: whatever is there already, the
// rest is asked for by name.
func TestHalfFilledPlacementAsksForTheRest(t *testing.T) {
	lines := []string{"left_front", "right_front", "rear", "setback"}
	for given := range 1 << len(lines) {
		text := "format = 1\n[line.rear.pinion]\n[placement]\n"
		for i, key := range lines {
			if given&(1<<i) != 0 {
				text += key + " = 10\n"
			}
		}
		r := fitup(t, "check", file(t, text))
		require.Equal(t, exitFindings, r.code, "%s\n%s", text, r.err)
		for i, key := range lines {
			asked := strings.Contains(r.out, "placement."+key)
			assert.Equal(t, given&(1<<i) == 0, asked, "%s asked for in\n%s", key, text)
		}
	}
}

// The two are the same run to run and nothing is missing from either.
func TestJSONIsStableAndComplete(t *testing.T) {
	path := file(t, string(starter.Demo()))
	first, second := fitup(t, "check", "--json", path), fitup(t, "check", "--json", path)
	assert.Equal(t, first, second)
	f, err := project.Load(path)
	require.NoError(t, err)
	a := assess.Run(f.Build)
	c := checked(t, string(starter.Demo()), exitFindings)
	require.Len(t, c.Findings, len(a.Findings))
	for i := range a.Findings {
		assert.Equal(t, a.Findings[i].ID, c.Findings[i].ID)
	}
	require.Len(t, c.Values, len(a.Values()))
	require.Len(t, c.Jobs, len(a.Jobs))
	for _, key := range []string{`"limit_is"`, `"missing": null`, `"uncertainty"`, `"coverage": 2`} {
		assert.Contains(t, first.out, key)
	}
}

func TestCoverageIsTheOneInUse(t *testing.T) { assert.Equal(t, gauge.Coverage, coverage) }

func TestNumberNeverGivesWhatJSONCannotHold(t *testing.T) {
	u := quantity.Metric()
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		assert.Nil(t, number(quantity.Length, v, u, true))
	}
	assert.Nil(t, number(quantity.Length, 1, u, false))
	assert.Equal(t, 0.3, *number(quantity.Length, 0.1+0.2, u, true))
	assert.False(t, math.Signbit(*number(quantity.Length, -1e-15, u, true)), "no minus zero")
	assert.InDelta(t, 12345678.9, *number(quantity.Length, 12345678.9, u, true), 0)
}
