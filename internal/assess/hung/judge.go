package hung

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/rigid"
	"fitup/internal/geom/slip"
	"fitup/internal/geom/snoop"
	"fitup/internal/project/quantity"
)

// Findings are the verdicts on what was measured of the powertrain where it hangs; none
// where nothing was measured to a mark.
func (p *Powertrain) Findings() []finding.Finding {
	if !p.Given {
		return nil
	}
	return []finding.Finding{p.fitFinding(), p.hiddenFinding()}
}

func (p *Powertrain) finding(id, title string) finding.Finding {
	f := finding.Finding{ID: id, Title: title, Basis: finding.Read, Assumes: p.Assumes}
	if p.After.Proves() {
		f.Basis = finding.Proved
	}
	return f
}

// marked are the bodies whose marks were measured to; the powertrain where it is shafts alone
// that were measured.
func (p *Powertrain) marked() []string {
	switch {
	case p.Marked && p.Axled:
		return []string{"powertrain", "axle"}
	case p.Axled:
		return []string{"axle"}
	}
	return []string{"powertrain"}
}

// called is what is measured, as a title begins with it.
func (p *Powertrain) called() string {
	if !p.Marked && !p.Axled {
		return "shafts as measured"
	}
	return strings.Join(p.marked(), " and ") + " as measured"
}

// owned is whose marks were measured to, as "the powertrain's".
func (p *Powertrain) owned() string { return "the " + strings.Join(p.marked(), "'s and the ") + "'s" }

// checkedWhat is what a fit that has no checks is of.
func (p *Powertrain) checkedWhat() string { return "the " + strings.Join(p.marked(), " and the ") }

// fitFinding says whether what was measured of the powertrain fits together.
func (p *Powertrain) fitFinding() finding.Finding {
	f := p.finding(finding.PowertrainFit, p.called()+", largest misfit")
	var suspects, all []float64
	for _, s := range p.Suspects {
		suspects = append(suspects, s.W)
	}
	for _, t := range p.All {
		all = append(all, t.W)
	}
	unchecked := ""
	if p.DoF <= 0 {
		unchecked = "nothing checks what was measured of " + p.checkedWhat() + ", for there is no more than it takes: a wrong end, face or digit cannot be seen; measure one height or tape more to its marks"
	}
	f.Misfit(suspects, all, p.build.Limit("survey_misfit"), p.Why, unchecked)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "What the gauge showed and what was measured to its marks fit together as well as they were said to be good.",
			finding.Over: p.suspectText(),
		}
	})
	return f
}

func (p *Powertrain) suspectText() string {
	var out []string
	for _, s := range p.Suspects {
		text := s.Name + " does not fit the others: " + p.says(s)
		switch {
		case s.Place != "":
			text += ". What was measured from it is kept, and its place is left out until it is measured again."
		case s.Alone && s.Angle:
			text += ". Nothing rests on it until it is read again."
		case s.Alone:
			text += ". It is left out until it is measured again."
		case len(s.Alike) > 0:
			text += ". A slip in it cannot be told from one in " + strings.Join(s.Alike, ", ") + ": take those again."
		default:
			text += ". Take it again."
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return "One of the measurements does not fit the others: take them again."
	}
	return strings.Join(out, " ")
}

// says is by how much a measurement is off, and what was likely done wrong: a clause.
func (p *Powertrain) says(s Suspect) string {
	if s.Place != "" {
		return p.lies(s)
	}
	k, digits, way := quantity.Length, 1, "more"
	if s.Angle {
		k, digits = quantity.Angle, 2
	}
	if s.Off < 0 {
		way = "less"
	}
	text := fmt.Sprintf("it reads %s %s than they say", quantity.Format(k, math.Abs(s.Off), p.build.Units, digits), way)
	if s.Likely != "" {
		text += "; " + finding.Clause(s.Likely)
	}
	return text
}

// hiddenFinding says how large a slip in one of the measurements could stay unseen: of an
// angle, what it makes of the two marks that are farthest apart.
func (p *Powertrain) hiddenFinding() finding.Finding {
	f := p.finding(finding.PowertrainHidden, p.called()+", slip that could hide")
	m, where := finding.Exact(0), ""
	for _, t := range p.All {
		size := t.Detectable
		if t.Angle {
			size *= t.far
		}
		switch {
		case t.Out || !m.Known:
		case math.IsInf(size, 1):
			m = finding.Missing("nothing checks " + t.Name + ", so a slip in it of any size is hidden: measure the height of one more mark, or a tape to it")
		case size > m.V:
			m, where = finding.Exact(size), t.Name
		}
	}
	if p.Why != "" {
		m = finding.Missing(p.Why)
	}
	f.Judge(m, p.build.Limit("survey_hidden"), false)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		most := "It would be in " + where + "."
		return map[finding.Status]string{
			finding.OK:   "A larger slip would be found four times in five. " + most,
			finding.Over: "A slip of that size could stand unseen: measure more to its marks. " + most,
		}
	})
	return f
}

// reach is how far the farthest two marks of one body are apart, mm.
func (p *Powertrain) reach() float64 {
	far := farMark(p.build.MarksOnPowertrain())
	for i := range p.build.Lines {
		far = max(far, farMark(p.build.Lines[i].MarksOnAxle()))
	}
	return far
}

// likely is what was likely done wrong with a measurement that f is the fit without, bound
// as there.
func (h *hanging) likely(o *observed, m *rigid.Measure, f *fitted) string {
	m.Sigma = o.Sigma
	would := f.Would(f.group.Observe(m))
	is := finding.Misread{Kind: quantity.Length, Value: o.Value, Fits: func(v float64) (float64, bool) {
		w, sum := would(v)
		return w, f.AgreesWith(sum, snoop.Alarm)
	}}
	switch o.Kind {
	case rigid.Along, rigid.Fall, rigid.Across:
		is.Kind, is.Tries = quantity.Slope, h.triesOf(o)
		if o.Kind == rigid.Across {
			is.Kind = quantity.Angle
		}
	case rigid.Aim, rigid.Course:
		is.Kind, is.Other = quantity.Angle, "left and right were taken for each other"
	case rigid.Beside:
		is.Other = "left and right were taken for each other"
	case rigid.Rise, rigid.Over:
		is.Other = "over and under were taken for each other"
	}
	return is.Likely(h.build.Units)
}

// triesOf are what a gauge reading could have been without a slip, as the fit has it.
func (h *hanging) triesOf(o *observed) []slip.Try {
	sign := 1.0
	if o.Kind == rigid.Across {
		sign = -1
	}
	out := finding.GaugeTries(h.build.Readings[h.readings[o.reading].Set[0]], h.in.Bias)
	for i := range out {
		out[i].Value = o.Value + sign*out[i].Value
	}
	return out
}
