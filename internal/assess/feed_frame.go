package assess

import (
	"sync"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/frame"
	"fitup/internal/assess/reading"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// To the frame trade: what was measured between points, repeats taken together. It
// rests on nothing that moves, so it is made once. From it: places of points, which
// places.go hands to whatever names them.

// What the survey says goes by the same names here.
type (
	// Frame is what the survey says of the frame.
	Frame = frame.Result
	// Misfit is a measurement of the survey that does not fit the others.
	Misfit = frame.Suspect
	// SurveyedRail is the line of one rail by the survey.
	SurveyedRail = frame.Rail
	// FramePlan is the survey seen from above.
	FramePlan = frame.Plan
)

// prepareFrame adjusts the survey, before all else: other trades' points may be
// placed by it.
func (p *Prepared) prepareFrame() {
	s := surveys.of(p.Build, p.beside)
	p.waits = s.waits
	p.measured, p.frame = s.measured, s.frame.For(p.Build)
	p.surveyed = sync.OnceValue(p.frame.Findings)
}

// adjusted is what was measured, and the survey of it.
type adjusted struct {
	measured *reading.Measured
	frame    *frame.Result
	waits    *Fitting // for which it waits; nil once it is adjusted
}

// adjust fails only where its watch ends it.
func adjust(w frame.Watch, b *project.Build) (adjusted, error) {
	a := adjusted{measured: reading.Measure(b)}
	lines, plain := a.lines(b)
	var err error
	a.frame, err = frame.Watched(w, b, lines, a.measured.From)
	if err == nil {
		a.frame.Taped(plain)
	}
	return a, err
}

// lines are those of the survey, and what was taped in plain words.
func (a *adjusted) lines(b *project.Build) (lines []frame.Line, plain []frame.Tape) {
	for _, m := range a.measured.List {
		if m.Surveys() && !b.HangsLoose(&m.Measurement) {
			lines = append(lines, frame.Line{
				Name: m.Of, Index: m.Index, As: m.Line(), From: m.From, To: m.To, At: m.At, Value: m.Mean, After: m.After, Stood: m.Stood, Supposed: m.Supposed,
			})
		} else if m.Kind == quantity.Length {
			plain = append(plain, frame.Tape{Of: m.Of, On: m.On, Value: m.Mean, Count: m.Count, After: m.After, Stood: m.Stood, Supposed: m.Supposed})
		}
	}
	return lines, plain
}

func (a *Assessment) frame() {
	a.Frame = a.ready.frame
	a.take(finding.FrameTrade, a.ready.surveyed())
	a.Subframes = a.ready.subframes.Each
	a.take(finding.SubframeTrade, a.ready.hung())
}
