package ui

import (
	"context"
	"errors"
	"testing"

	"fitup/internal/abreast"
	"fitup/internal/assess"
	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// bent has any work beside the keys of that kind panic.
func bent[W work](d *driver) {
	d.m.begins = func(_ context.Context, w work) error {
		if _, ok := w.(W); ok {
			panic("the needle is bent")
		}
		return nil
	}
}

// A fault in what is weighed, searched, printed or worked out beside the keys is said where
// its answer would stand, with the place to report, and the bench goes on.
func TestAFaultBesideTheKeysLeavesTheBenchLive(t *testing.T) {
	t.Parallel()
	const fault = " ended in a fault of fitup itself and no fault of yours: the needle is bent, at fitup/internal/ui."
	live := func(d *driver) {
		t.Helper()
		require.Nil(t, d.m.failure)
		require.False(t, d.quit)
		d.keys("esc", "right")
		assert.True(t, d.s.Unsaved(), "an edit is taken")
	}
	d := drive(t, asking(``), 120, 45)
	bent[*weighing](d)
	d.send(settledMsg{d.m.now.Build})
	require.True(t, d.m.finder.weighing.done)
	assert.Empty(t, d.m.message.text, "nobody asked")
	assert.Nil(t, d.m.weighedNow(), "nothing is said from it")
	d.keys("L")
	assert.Contains(t, flat(d), "Weighing what to measure next"+fault)
	live(d)

	d = drive(t, asking(``), 120, 45)
	bent[*searching](d)
	d.keys("L", "g")
	assert.Contains(t, flat(d), "The search"+fault)
	live(d)

	d = drive(t, []byte(near), 120, 45)
	bent[*printing](d)
	d.keys("P", "s")
	assert.Contains(t, d.m.message.text, "Printing"+fault)
	assert.Nil(t, d.m.print.printing)
}

// Nothing is known of a survey whose working out met a fault, and it is not begun again and
// again.
func TestAFaultInALargeSurvey(t *testing.T) {
	s := largeSurvey(t)
	n := 0
	s.m.begins = func(context.Context, work) error {
		n++
		panic(&abreast.Panic{Value: errors.New("bent"), Stack: "no trace"})
	}
	s.tapes("l0", "r2", "870.6")
	s.all()
	assert.Equal(t, 1, n)
	assert.Contains(t, s.m.message.text, "Working out the survey ended in a fault of fitup itself and no fault of yours: bent, at a place unknown")
	f, ok := s.m.now.Finding(finding.SurveyFit)
	require.True(t, ok)
	assert.Equal(t, assess.NotKnown, f.Status)
	assert.Contains(t, s.screen(), "survey stopped, esc goes on")
}
