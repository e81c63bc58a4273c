package assess

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/starter"
)

func builtOf(t *testing.T, src string) *Assessment {
	t.Helper()
	f, err := project.Parse("build.toml", []byte(src))
	require.NoError(t, err)
	return Run(f.Build)
}

// Before a job that is hard to undo ok is said only where no finding or fact holds it and
// something it waits for is known, and never with more than the least sure of it allows.
func TestBeforeAHoldPoint(t *testing.T) {
	demo := string(starter.Demo())
	words := map[Word]int{}
	for _, src := range []string{demo, strings.Replace(demo, "rear = -289.5", "rear = -284.5", 1), strings.ReplaceAll(demo, `of = "powertrain"`, `of = "line.rear.pinion"`)} {
		a := builtOf(t, src)
		for _, j := range a.Jobs {
			b, ok := a.Before(j)
			if !ok {
				continue
			}
			words[b.Word]++
			assert.NotEqual(t, Done, j.State)
			least, known, holds := 1.0, 0, false
			for _, h := range j.Holds {
				holds = holds || h.Holds() && !h.Waits() && h.ID != "welds.finished"
				if f, is := a.Finding(h.ID); is {
					require.False(t, b.Word == GoOn && (f.Status == finding.Over || f.Status == finding.NotKnown), "%s: %s", j.Title, h.ID)
					if in, stated := f.Within(); stated {
						least = min(least, in)
						known++
					}
				}
			}
			assert.Equal(t, !holds && len(j.Broken)+len(j.Doubts) == 0, b.Word == GoOn, j.Title)
			if b.Word == GoOn {
				assert.LessOrEqual(t, b.Sure, least, j.Title)
				assert.Equal(t, known > 0, b.Stated)
				assert.Equal(t, !b.Stated, strings.Contains(b.Text, "how sure is not known"), b.Text)
			}
		}
	}
	assert.Positive(t, words[GoOn])
	assert.Positive(t, words[Measure])
	assert.Positive(t, words[MoveIt])
}

// What is said of a job goes by what is done in it, not by when; a job that waits for
// nothing says nothing.
func TestWhatIsAHoldPoint(t *testing.T) {
	for said, want := range map[project.HardWork]string{"tack": "tack", "weld": "weld", "drill": "drill and bolt", "cut": "cut", "nothing": "", "": ""} {
		assert.Equal(t, want, said.Does(), said)
	}
	a := builtOf(t, string(starter.Demo()))
	_, ok := a.Before(Job{Job: project.Job{Hard: "tack"}})
	assert.False(t, ok, "an empty list proves nothing")
	_, ok = a.Before(Job{Job: project.Job{Hard: "tack"}, Holds: []Hold{{ID: "welds.given", Status: finding.OK}}})
	assert.False(t, ok, "nor does a fact alone say how sure")
	_, ok = a.Before(Job{Job: project.Job{Hard: "weld"}, Holds: []Hold{{ID: "welds.finished", Status: finding.NotKnown}}})
	assert.False(t, ok, "what welding brings about is no reason not to weld, and none to")
	b, ok := a.Before(Job{Job: project.Job{Hard: "tack"}, Holds: []Hold{{ID: "line.rear.joint.1.max", Status: finding.OK}, {ID: "job.a", Status: finding.NotKnown, Text: "comes first: a"}}})
	require.True(t, ok)
	assert.Contains(t, b.Text, "By what is known ok to tack")
	b, ok = a.Before(Job{Job: project.Job{Hard: "tack"}, Holds: []Hold{{ID: "line.rear.joint.1.max", Status: finding.OK}, {ID: "bracket.rear.given", Status: finding.Elsewhere}}})
	require.True(t, ok)
	assert.Contains(t, b.Text, "1 more judged elsewhere, and not by this")
	b, ok = a.Before(Job{Job: project.Job{Hard: "tack"}, State: ProveAgain, Broken: []string{"joint 1 has moved"}, Holds: []Hold{{ID: "line.rear.joint.1.max", Status: finding.OK}}})
	require.True(t, ok)
	assert.Equal(t, Measure, b.Word, "what has to be proved again is not ok")
	b, ok = a.Before(Job{Job: project.Job{Hard: "tack"}, Holds: []Hold{{ID: "line.rear.joint.1.max", Status: finding.OK}, {ID: "job.a", Status: finding.NotKnown, Text: "comes first: a"}}})
	require.True(t, ok)
	assert.Contains(t, b.Text, "; but comes first: a.")
}

// "Move that" names an amount, and the amount does it: with that row where the sentence has
// it a fresh assessment has the finding within its limit, one step less it has not, and no
// row of its kind does in one step.
func TestMoveThatNamesAnAmountThatDoes(t *testing.T) {
	a := builtOf(t, string(starter.Demo()))
	supports, placed, err := a.Build.Seat()
	require.NoError(t, err)
	at := func(id string, row *Row, by float64) Status {
		to, err := supports.Solve(placed, row.Row, row.Now.V+by)
		if err != nil {
			return finding.NotKnown
		}
		g, _ := Run(a.Build.Placed(to)).Finding(id)
		return g.Status
	}
	seen := 0
	for i := range a.Findings {
		id := a.Findings[i].ID
		m, ok := a.Mends(id, usualStep(a.Build.Units))
		if !ok {
			continue
		}
		seen++
		require.Equal(t, finding.Over, a.Findings[i].Status)
		require.Equal(t, m.To, at(id, &m.Row, m.By), id)
		require.Contains(t, []Status{finding.OK, finding.Tight}, m.To)
		assert.Equal(t, finding.Over, at(id, &m.Row, m.By*float64(m.Steps-1)/float64(m.Steps)), id)
		h := Hold{ID: id, Status: finding.Over, Text: "it is over"}
		if says := a.held(&h, "tack").Text; strings.Contains(says, moveFirst) {
			assert.Contains(t, says, "Least: "+m.Row.Label)
		}
	}
	assert.Positive(t, seen)
	_, ok := a.Mends("line.rear.joint.9.max", usualStep(a.Build.Units))
	assert.False(t, ok)
}
