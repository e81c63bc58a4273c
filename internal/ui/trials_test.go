package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A proposal is kept as a trial, which leaves it to be tried; trials stand side by side,
// one is adopted, and is what was promised; all is undone step by step.
func TestAProposalIsKeptAndAdopted(t *testing.T) {
	t.Parallel()
	d := drive(t, asking(`"line.rear.joint.1.max", "line.rear.joint.2.max"`), 140, 45)
	before := string(d.s.Now().Bytes())
	d.keys("L", "T")
	assert.Contains(t, flat(d), "no alternatives kept yet")
	d.keys("enter", "x", "esc", "a")
	assert.Contains(t, d.m.message.text, "no proposal here yet")
	d.keys("g")
	s := d.m.finder.last
	require.NotEmpty(t, s.answer.Proposals)
	at := 0
	for len(s.answer.Proposals[at].Moves) == 0 {
		d.keys("down")
		at++
	}
	x := &s.answer.Proposals[at]
	d.keys("a", "enter")
	require.Len(t, d.m.now.Build.Trials, 1)
	name := d.m.now.Build.Trials[0].Name
	d.keys("a", "enter")
	require.Len(t, d.m.now.Build.Trials, 2)
	assert.Equal(t, name+"_2", d.m.now.Build.Trials[1].Name)
	assert.NotContains(t, flat(d), "has been changed since", "what was searched stands")
	d.keys("T", "right")
	text := flat(d)
	assert.Contains(t, text, "as it is")
	assert.Contains(t, text, name+"_2")
	assert.Contains(t, text, "findings over")
	d.keys("x")
	require.Len(t, d.m.now.Build.Trials, 1)
	d.keys("enter")
	for _, c := range s.problem.Held(x) {
		f, ok := d.m.now.Finding(c.After.ID)
		require.True(t, ok)
		assert.Equal(t, c.After.Status, f.Status, f.ID)
		assert.InDelta(t, c.After.Value, f.Value, 1e-4, f.ID)
	}
	assert.Contains(t, d.m.message.text, "takes it back")
	d.keys("u", "u", "u", "u")
	assert.Equal(t, before, string(d.s.Now().Bytes()))
}

// What a proposal does goes into the job list before the first job that is open, and
// leaves it to be tried.
func TestAProposalIsWrittenAsJobs(t *testing.T) {
	t.Parallel()
	d := drive(t, asking(`"line.rear.joint.1.max", "line.rear.joint.2.max"`), 140, 45)
	n := len(d.m.now.Build.Jobs)
	d.keys("L", "g")
	s := d.m.finder.last
	at := 0
	for len(s.answer.Proposals[at].Moves) == 0 {
		d.keys("down")
		at++
	}
	x := &s.answer.Proposals[at]
	d.keys("J")
	jobs := d.m.now.Build.Jobs
	require.Len(t, jobs, n+len(x.Moves)+1)
	first := 0
	for jobs[first].Done {
		first++
	}
	assert.Contains(t, jobs[first].Means, "it stands at")
	assert.Contains(t, jobs[first+len(x.Moves)].Title, "Read again")
	d.keys("t")
	assert.Contains(t, d.m.message.text, "tried")
}

// A trial that cannot be tried says why, and is not adopted.
func TestATrialThatCannotBe(t *testing.T) {
	t.Parallel()
	src := string(asking(``)) + "\n[trial.odd]\n[[trial.odd.change]]\nof = \"placement.raer\"\nto = \"3\"\n"
	for _, w := range []int{60, 120} {
		d := drive(t, []byte(src), w, 30)
		d.keys("L", "T")
		assert.Contains(t, flat(d), "cannot be tried: trial.odd.change.1")
		d.keys("enter")
		assert.Contains(t, d.m.message.text, "cannot be adopted")
	}
}
