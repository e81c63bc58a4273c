package starter_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// every returns answers that between them have each choice beside each other
// choice of the questions about the lines, and all choices of the others.
func every() []starter.Answers {
	words := map[string][]string{}
	for _, q := range starter.Questions() {
		words[q.Name] = q.Words()
	}
	mounts := []string{"later", "left_front,right_front,rear", "left_front,right_front", "rear", "right_front,rear"}
	var out []starter.Answers
	for _, layout := range words["layout"] {
		for _, drives := range words["drives"] {
			for _, shaft := range words["shaft"] {
				for i, axle := range words["axle"] {
					n := len(out)
					out = append(out, starter.Answers{
						"units": words["units"][n%2], "layout": layout, "drives": drives, "shaft": shaft, "axle": axle,
						"front-axle": words["front-axle"][(i+n)%5], "fixing": words["fixing"][n%3], "mounts": mounts[n%len(mounts)],
					})
				}
			}
		}
	}
	return out
}

func TestEveryAnswerBeginsAFileThatIsToBeFilledIn(t *testing.T) {
	for _, a := range every() {
		t.Run(fmt.Sprint(a), func(t *testing.T) {
			text := starter.Compose(a)
			f := parse(t, "new.toml", text)
			found := assess.Run(f.Build)
			require.NotEmpty(t, found.Findings)
			for _, x := range found.Findings {
				assert.Equal(t, assess.NotKnown, x.Status, x.ID)
			}
			for _, j := range found.Jobs {
				assert.Empty(t, found.Changed(j), "job %s", j.ID)
				for _, h := range j.Holds {
					assert.NotContains(t, h.Text, "no finding", "job %s waits for %s", j.ID, h.ID)
				}
			}
			used, n := inUse(string(text))
			require.Greater(t, n, 25)
			for _, name := range []string{"left_front", "right_front", "rear"} { // the mount in place of one that is not kept
				used = strings.ReplaceAll(used, "[mount."+name+"_2]", "[mount.other_"+name+"]")
			}
			parse(t, "used.toml", []byte(used))
		})
	}
}

func TestTheFileBeginsWhatWasAnswered(t *testing.T) {
	b := parse(t, "new.toml", starter.Compose(starter.Answers{
		"units": "inch", "drives": "all", "shaft": "two", "axle": "leaf", "front-axle": "fixed",
		"fixing": "bolted", "mounts": "left_front,right_front",
	})).Build
	require.Len(t, b.Lines, 2)
	assert.Equal(t, 3, b.Lines[0].JointCount())
	assert.Equal(t, project.LeafSprings, b.Lines[0].Suspension.Kind)
	assert.Equal(t, project.FixedDiff, b.Lines[1].Suspension.Kind)
	assert.Equal(t, project.TowardFront, b.Lines[1].Toward)
	assert.Equal(t, project.BoltedOn, b.Powertrain.Fixing)
	assert.True(t, b.Mount("rear").FitUpOnly)

	b = parse(t, "new.toml", starter.Compose(starter.Answers{"layout": "across", "drives": "front"})).Build
	assert.Equal(t, project.Transaxle, b.Powertrain.Layout)
	require.Len(t, b.Lines, 1)
	assert.True(t, b.Direct(b.Lines[0]))
}

// Nothing answered is the starter, and so is every first choice.
func TestTheFirstChoicesAreTheStarter(t *testing.T) {
	first := starter.Answers{}
	for _, q := range starter.Questions() {
		word, err := q.Read("")
		require.NoError(t, err)
		first[q.Name] = word
	}
	assert.Equal(t, string(starter.New()), string(starter.Compose(first)))
	assert.Equal(t, string(starter.New()), string(starter.Compose(nil)))
}

// In a file in inches the lines that show how a value is written do so in inches:
// nobody takes 3300 for a wheelbase there.
func TestInchFilesShowInches(t *testing.T) {
	for _, a := range every() {
		if a["units"] != "inch" {
			continue
		}
		used, _ := inUse(string(starter.Compose(a)))
		b := parse(t, "used.toml", []byte(used)).Build
		assert.InDelta(t, 3300, b.Vehicle.Wheelbase.V(), 7)
		for _, l := range b.Lines {
			assert.Less(t, l.Pinion.At.At.X, 3500.0)
			if l.Ratio.Known() {
				assert.Equal(t, 3.7, l.Ratio.V())
			}
		}
	}
}

func TestAnswersAreReadAsTyped(t *testing.T) {
	qs := map[string]starter.Question{}
	for _, q := range starter.Questions() {
		qs[q.Name] = q
		assert.Len(t, q.Words(), len(q.Choices))
		assert.Regexp(t, regexp.MustCompile(`^[A-Z].*[?.]$`), q.Ask)
	}
	for _, c := range []struct{ name, typed, want string }{
		{"units", " INCH ", "inch"}, {"units", "2", "inch"}, {"units", "in", "inch"}, {"shaft", "2", "two"}, {"shaft", "1", "one"}, {"shaft", "0", "later"}, {"shaft", "two-piece", "two"}, {"layout", "transverse", "across"}, {"units", "", "metric"}, {"axle", "fixed", "fixed"},
		{"mounts", "1, 3", "left_front,rear"}, {"mounts", "left-front;rear", "left_front,rear"}, {"mounts", "rear rear", "rear"},
	} {
		got, err := qs[c.name].Read(c.typed)
		require.NoError(t, err, c.typed)
		assert.Equal(t, c.want, got, c.typed)
	}
	for name, typed := range map[string]string{"units": "0", "layout": "sideways", "drives": "4", "mounts": "later, rear", "axle": "leaf,links", "fixing": "-1"} {
		_, err := qs[name].Read(typed)
		assert.ErrorContains(t, err, "want ", "%s %s", name, typed)
	}
	assert.False(t, qs["axle"].Asked(starter.Answers{"drives": "front"}))
	assert.False(t, qs["shaft"].Asked(starter.Answers{"layout": "across", "drives": "rear"}))
	assert.True(t, qs["shaft"].Asked(starter.Answers{"layout": "across", "drives": "all"}))
	assert.True(t, qs["front-axle"].Asked(starter.Answers{"drives": "all"}))
}
