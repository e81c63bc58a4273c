package bolt

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func thread(t *testing.T, s string) Thread {
	t.Helper()
	th, err := Parse(s)
	require.NoError(t, err, s)
	return th
}

// Stress areas and proof loads of ISO 898-1, tables; the table's area is
// and its proof loads are rounded to three figures, so they agree to 0.7 %.
func TestISO898(t *testing.T) {
	for name, c := range map[string]struct{ area, p88, p109, p129 float64 }{
		"M6":  {20.1, 11600, 16700, 19500},
		"M8":  {36.6, 21200, 30400, 35500},
		"M10": {58.0, 33700, 48100, 56300},
		"M12": {84.3, 48900, 70000, 81800},
		"M16": {157, 91000, 130000, 152000},
	} {
		th := thread(t, name)
		assert.InEpsilon(t, c.area, th.StressArea(), 0.003, name)
		for class, want := range map[string]float64{"8.8": c.p88, "10.9": c.p109, "12.9": c.p129} {
			got, err := Tighten(th, class, UsualK)
			require.NoError(t, err)
			assert.InEpsilon(t, want, got.Proof, 0.007, "%s %s", name, class)
		}
	}
	assert.InDelta(t, 61.1986, thread(t, "M10x1.25").StressArea(), 0.01) // ISO 898-1, fine pitch
	assert.InDelta(t, 92.0717, thread(t, "m12 X 1,25").StressArea(), 0.01)
}

// The area by the other formula of ISO 898-1: the mean of pitch diameter and
// minor diameter.
func TestStressAreaAnotherWay(t *testing.T) {
	for _, name := range []string{"M6", "M8", "M10", "M10x1.25", "M12", "M16", "M20"} {
		th := thread(t, name)
		h := math.Sqrt(3) / 2 * th.Pitch
		d2, d3 := th.Diameter-0.75*h, th.Diameter-17.0/12*h
		assert.InEpsilon(t, math.Pi/4*math.Pow((d2+d3)/2, 2), th.StressArea(), 1e-4, name)
	}
}

// T = K·d·F with K 0.2 and 75 % of proof load; metric from the table areas
// (N·m), inch as charts after SAE J429 have it (lb·ft).
func TestTorqueTables(t *testing.T) {
	const lbft = 1355.8179483314004 // N·mm
	for _, c := range []struct {
		thread, class string
		want          float64 // N·mm
	}{
		{"M8", "8.8", 25474}, {"M10", "8.8", 50460}, {"M12", "8.8", 88009}, {"M10", "10.9", 72210}, {"M12", "10.9", 125944},
		{"3/8-16", "5", 30.875 * lbft}, {"3/8-16 UNC", "grade 8", 43.588 * lbft}, {"1/2-13", "5", 75.384 * lbft},
		{"1/2-13", "8", 106.424 * lbft}, {"5/16-18", "5", 17.408 * lbft}, {"5/8-11", "5", 150.079 * lbft},
	} {
		got, err := Tighten(thread(t, c.thread), c.class, UsualK)
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, got.Torque, 0.005, "%s %s", c.thread, c.class)
	}
}

func TestThreadsThatAreNone(t *testing.T) {
	for _, s := range []string{"", "M", "M9", "10", "3/8", "3/0-16", "M10x", "M10x8", "M500x3", "3/8-0", "x", "M-10"} {
		_, err := Parse(s)
		assert.Error(t, err, s)
	}
	m10 := thread(t, "M10")
	for _, class := range []string{"", "4.6", "grade 5", "5"} {
		_, err := Tighten(m10, class, UsualK)
		require.ErrorIs(t, err, ErrNoClass, class)
	}
	for _, k := range []float64{0, -1, 2, math.NaN(), math.Inf(1)} {
		_, err := Tighten(m10, "8.8", k)
		require.Error(t, err)
	}
}

func TestTorqueGrowsWithEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sizes := []string{"M6", "M8", "M10", "M12", "M14", "M16", "M20"}
		classes := []string{"8.8", "10.9", "12.9"}
		i, j := rapid.IntRange(0, len(sizes)-2).Draw(t, "size"), rapid.IntRange(0, 1).Draw(t, "class")
		k := rapid.Float64Range(0.05, 0.4).Draw(t, "k")
		at := func(size, class string, k float64) float64 {
			th, err := Parse(size)
			require.NoError(t, err)
			got, err := Tighten(th, class, k)
			require.NoError(t, err)
			return got.Torque
		}
		here := at(sizes[i], classes[j], k)
		require.Greater(t, at(sizes[i+1], classes[j], k), here)
		require.Greater(t, at(sizes[i], classes[j+1], k), here)
		require.Greater(t, at(sizes[i], classes[j], k*1.1), here)
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"M10", "M10x1.25", "3/8-16", "1/2-13 UNC", "M", "/-"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		th, err := Parse(s)
		if err != nil {
			return
		}
		if a := th.StressArea(); !(a > 0) || math.IsInf(a, 0) {
			t.Fatalf("%q has an area of %g", s, a)
		}
	})
}
