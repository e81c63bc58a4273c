package assess

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/example"
	"fitup/internal/project/grown"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// forget makes the next survey be adjusted.
func (r *remembered) forget() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.last = nil
}

// said is all that an assessment says, without what it is made of.
type said struct {
	Findings []string
	Values   []string
	Facts    []string
	Jobs     []string
}

func saidBy(a *Assessment) said {
	var s said
	for _, list := range [][]Finding{a.Findings, a.Plans} {
		for _, f := range list {
			sure, stated := f.Within()
			s.Findings = append(s.Findings, fmt.Sprint(f.ID, f.Status, f.Basis, f.Moved, f.Title, f.Missing, f.Value, f.HasValue, f.Limit, f.Margin, f.Uncertainty, f.Advice(), f.Assumes, sure, stated, f.MostlyFrom()))
		}
	}
	for _, v := range a.Values() {
		s.Values = append(s.Values, fmt.Sprint(v.Name, v.V, v.Known))
	}
	for _, f := range a.Facts {
		s.Facts = append(s.Facts, fmt.Sprintf("%+v", f))
	}
	for _, j := range a.Jobs {
		s.Jobs = append(s.Jobs, fmt.Sprint(j.Job.ID, j.State, len(j.Holds)))
	}
	return s
}

var numberIn = regexp.MustCompile(`\d+(\.\d+)?`)

// anEdit is some edit of a file: mostly a move of the powertrain, else a number
// somewhere a little larger, or something taken out. Not all of them can be made.
func anEdit(r *rand.Rand, f *project.File, paths []string) []edit.Edit {
	if rows := project.PlacementRows(); r.IntN(5) < 3 {
		row := rows[r.IntN(len(rows))]
		s, p, err := f.Build.Seat()
		if err != nil {
			return nil
		}
		v, err := s.Value(p, row.Row)
		if err != nil {
			return nil
		}
		by := Step{Length: 0.7, Angle: 0.002}.For(row.Kind)
		moved, err := edit.MoveRow(f, row.Row, v+by*(2*r.Float64()-1))
		if err != nil {
			return nil
		}
		return moved
	}
	path := f.Resolve(paths[r.IntN(len(paths))])
	if r.IntN(6) == 0 {
		return []edit.Edit{{Op: edit.OpRemove, Path: path}}
	}
	raw, ok := f.Raw(path)
	at := numberIn.FindStringIndex(raw)
	if !ok || at == nil {
		return nil
	}
	v, err := strconv.ParseFloat(raw[at[0]:at[1]], 64)
	if err != nil {
		return nil
	}
	return []edit.Edit{{Op: edit.OpSet, Path: path, Text: raw[:at[0]] + strconv.FormatFloat(math.Round(v*1020)/1000, 'f', -1, 64) + raw[at[1]:]}}
}

// A build that was edited is said to be what it is from the beginning, whatever was
// edited before: nothing is kept that does not hold any more. By default a fifth of the rare
// builds are tried, and all others.
func TestAgainSaysWhatRunSays(t *testing.T) {
	texts := example.Rare()
	texts["frame"], texts["level"], texts["grown"] = example.Frame, example.Level+example.Heavy+example.Rubbers, grown.Build(3, 5, 8)
	texts["legs"] = example.Legs(example.Weighs, example.Stiff, "")
	for name, text := range wholeTexts(t) {
		texts[name] = text
	}
	edits := inturn.Count(6, 12)
	served, rare := 0, example.Rare()
	for i, name := range slices.Sorted(maps.Keys(texts)) {
		if _, seldom := rare[name]; seldom && !inturn.Try(t, i, 5) {
			continue
		}
		f, err := project.Parse(name, []byte(texts[name]))
		if err != nil {
			continue // tables that only stand in others
		}
		r := rand.New(rand.NewPCG(uint64(i), 7))
		a, paths := Run(f.Build), f.Paths()
		for n := range edits {
			what := anEdit(r, f, paths)
			next, err := edit.Apply(f, what...)
			if what == nil || err != nil {
				continue
			}
			again := Again(a, next.Build)
			if again.ready == a.ready {
				served++
			}
			if n%4 == 0 { // it takes most of the time
				surveys.forget()
			}
			got, want := saidBy(again), saidBy(Run(next.Build))
			if !assert.Equal(t, want, got, "%s: %+v", name, what) {
				return
			}
			f, a = next, again
		}
	}
	t.Logf("%d served", served)
	require.Greater(t, served, 3, "what was prepared has to serve, or nothing is tried")
}

// A build whose readings do not say where the powertrain stood is prepared anew when it
// is moved: they were taken where it is said to stand.
func TestAgainDoesNotTakeOverWhatDiffers(t *testing.T) {
	f, err := project.Parse("grown", []byte(grown.Build(1, 3, 3)))
	require.NoError(t, err)
	a := Run(f.Build)
	for text, serves := range map[string]bool{`"-280 mm"`: true, `"-280 mm ± 1 mm"`: false} {
		next, err := edit.Apply(f, edit.Edit{Op: edit.OpSet, Path: "placement.rear", Text: text})
		require.NoError(t, err)
		assert.Equal(t, serves, Again(a, next.Build).ready == a.ready, text)
		other, err := edit.Apply(next, edit.Edit{Op: edit.OpSet, Path: "powertrain.mass", Text: `"301 kg"`})
		require.NoError(t, err)
		assert.NotSame(t, a.ready, Again(a, other.Build).ready)
	}
}
