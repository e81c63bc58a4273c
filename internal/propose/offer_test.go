package propose

import (
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/example"
	"fitup/internal/project/quantity"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func read(t *testing.T, text string) *assess.Assessment {
	t.Helper()
	f, err := project.Parse("build.toml", []byte(text))
	require.NoError(t, err)
	return assess.Run(f.Build)
}

// What is offered can be searched as it is: in millimetres and in inches, it holds where
// the thing stands now, and every step and every work of it is one that the file takes.
func TestOffersCanBeSearched(t *testing.T) {
	f, err := project.Parse("demo", starter.Demo())
	require.NoError(t, err)
	inches := *f.Build
	inches.Units = quantity.Inch()
	for _, b := range []*project.Build{f.Build, &inches} {
		a := assess.Run(b)
		for _, o := range Offers(a) {
			if o.Cannot != "" {
				continue
			}
			s, err := a.Build.SpanOf(o.Move)
			require.NoError(t, err, o.Move.Of)
			values, stay := stepsOf(o.Now, s.From, s.To, s.Step)
			require.GreaterOrEqual(t, stay, 0, o.Move.Of)
			assert.InDelta(t, o.Now, values[stay], 1e-9)
			assert.Greater(t, len(values), 2, o.Move.Of)
			assert.Less(t, len(values), 70, o.Move.Of)
			for _, step := range o.Steps {
				m := o.Move
				m.Step = step
				_, err := a.Build.SpanOf(m)
				assert.NoError(t, err, m.Of)
			}
			assert.Contains(t, o.Works, o.Work)
			w := Wanted{Tight: true, Hold: []string{"line.**"}}
			require.NoError(t, w.Let(a.Build, o.Move))
			_, err = New(a.Build, w)
			assert.NoError(t, err, o.Move.Of)
		}
	}
}

// A mount that is welded is not offered, and says so.
func TestWeldedIsNotOffered(t *testing.T) {
	a := read(t, string(starter.Demo())+"\n[[weld]]\nbracket = \"rear\"\nat = \"foot to rail\"\n[weld.side.front]\nstate = \"finished\"\n")
	_, err := OfferOf(a, "placement.rear")
	assert.ErrorContains(t, err, "placement.rear cannot be moved: the bracket of the rear mount is welded")
	_, err = OfferOf(a, "placement.raer")
	assert.ErrorContains(t, err, "did you mean placement.rear?")
	o, err := OfferOf(a, "placement.left_front")
	require.NoError(t, err)
	assert.Equal(t, []string{"-131 mm", "-81 mm"}, o.Move.Range)
	assert.Equal(t, "1 mm", o.Move.Step)
}

// Every group's pattern matches what it counts, and together they are what is held where
// nothing is named.
func TestGroupsAreWhatIsHeld(t *testing.T) {
	a := read(t, string(starter.Demo()))
	w := Wanted{}
	require.NoError(t, w.Let(a.Build, project.FindMove{Of: "placement.rear", Range: []string{"-300 mm", "-280 mm"}, Step: "5 mm"}))
	p, err := New(a.Build, w)
	require.NoError(t, err)
	n := 0
	for _, g := range Groups(a) {
		n += g.Known + g.Not
		w.Hold = []string{g.Pattern}
		one, err := New(a.Build, w)
		require.NoError(t, err)
		assert.Len(t, one.demands, g.Known+g.Not, g.Pattern)
	}
	assert.Len(t, p.demands, n)
}

// What cannot be moved says why, and what to do: a strap whose length is not known yet, and a
// transfer case that stands on mounts of its own.
func TestWhatIsNotOfferedSaysWhatToDo(t *testing.T) {
	apart := "[transfer_case]\nmass = 70\ncentre_of_mass = [1500, 0, -200]\n"
	b := parsed(t, strings.Replace(example.Lifted, "length = 420\n", "", 1))
	all := Offers(assess.Run(b))
	k := slices.IndexFunc(all, func(o Offer) bool { return o.Of.Path() == "line.front.suspension.strap.1.length" })
	require.GreaterOrEqual(t, k, 0)
	assert.Contains(t, all[k].Cannot, "type one to begin from, such as the longest")
	_, err := New(b, Wanted{Moves: []Allowed{{Of: "line.front.suspension.strap.1.length", From: 400, To: 440, Step: 8}}})
	require.ErrorContains(t, err, "type one to begin from, such as the longest")

	b = demo(t)
	for _, o := range Offers(assess.Run(b)) {
		assert.False(t, o.Of.Case(), "it has none")
	}
	b = parsed(t, string(starter.Demo())+apart)
	all = Offers(assess.Run(b))
	last := all[len(all)-1]
	assert.Equal(t, "transfer case, turned", last.Label(b))
	assert.Contains(t, last.Cannot, "it stands on mounts of its own")
	for _, path := range []string{"transfer_case.turned", "powertrain.transfer_case.turned"} {
		_, err = New(b, Wanted{Moves: []Allowed{{Of: path, From: 0, To: 1, Step: 0.1}}})
		require.ErrorContains(t, err, "the transfer case cannot be turned to see what follows: it stands on mounts of its own")
	}
}
