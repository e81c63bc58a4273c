package mount

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// besideFindings judges what holds the powertrain beside its mounts.
func (res *Result) besideFindings() {
	s := &res.Statics
	for i := range s.Links {
		res.linkFinding(i)
	}
	for i := range s.Stops {
		res.playFinding(i)
		res.stopFinding(i)
	}
}

// besideWhy is why nothing is known of a link or a stop that says itself why where why is
// not empty.
func (res *Result) besideWhy(why string) string {
	s := &res.Statics
	switch {
	case why != "":
		return why
	case !s.Body.Known:
		return s.Body.Why
	case s.Why != "":
		return s.Why
	}
	return s.Partial
}

// rated is the rule of a rating that the file gives.
var rated = project.Rule{Kind: quantity.Force, Source: "the rating, as entered"}

// mostOf is the number of some cases that may be largest, and its case.
func mostOf(n int, of func(c int) finding.Number) (most finding.Number, at int) {
	for c := range n {
		if v := of(c); c == 0 || v.V+v.Expanded() > most.V+most.Expanded() {
			most, at = v, c
		}
	}
	return most, at
}

// fittedSaid is what a load rests on by when a link was drawn tight or a play measured.
func fittedSaid(f project.Fitted, link bool) string {
	switch built := f == project.FittedBuilt; {
	case link && built:
		return "drawn tight before the weight comes on the mounts, so that it takes a part of it"
	case link:
		return "drawn tight with the weight on the mounts: it carries nothing at rest"
	case built:
		return "its play is that before the weight comes on the mounts"
	}
	return "its play is that with the weight on the mounts"
}

// linkFinding judges what a torque link carries.
func (res *Result) linkFinding(i int) {
	s := &res.Statics
	l := &s.Links[i]
	f := finding.Finding{ID: finding.TorqueLinkLoad(l.Spec.Name), Title: l.Label + ", most that it carries (screening)", Kind: quantity.Force, Source: rated.Source}
	rating, lacks := l.Spec.Rating, "torque_link."+l.Spec.Name+".rating is not in the file yet"
	if why := res.besideWhy(l.Why); why != "" {
		f.Unknown(why)
		f.Says = finding.Say(finding.NotYet(why))
		res.Findings = append(res.Findings, f)
		return
	}
	most, at := mostOf(len(s.Cases), func(c int) finding.Number { return s.pulled(i, c) })
	when := "pulled"
	if l.Pull[at] < 0 {
		when = "pushed"
	}
	when += " most " + s.Cases[at].Name
	f.Assumes = append(slices.Clone(res.LoadAssumes()), fittedSaid(l.Spec.Fitted, true))
	res.judgeRated(&f, most, rating, lacks, "It is "+when+".")
	res.WithoutReverse(&f, func(ratio float64, open bool) (finding.Number, bool) {
		v := res.besideInReverse(ratio, open, func(links []seat.Tied, _ []seat.Stopped) float64 { return math.Abs(links[i].Pull) })
		return v, !v.Known || v.V > rating.V()
	})
	f.Says = res.ratedSays(&f, when+".")
	res.Findings = append(res.Findings, f)
}

// judgeRated holds a load against a rating, where both are known.
func (res *Result) judgeRated(f *finding.Finding, most finding.Number, rating quantity.ForceQ, lacks, says string) {
	s := &res.Statics
	limit, ok := rating.Get()
	switch {
	case s.TorqueWhy != "":
		f.Figure(most)
		f.Unknown(s.TorqueWhy)
		f.Says = finding.Say(finding.NotYet("full torque may load it more, and " + s.TorqueWhy))
	case !ok:
		f.Figure(most)
		f.Unknown(lacks)
		f.Says = finding.Say(says + " " + finding.NotYet(lacks))
	default:
		f.JudgeAt(most, limit, rated, false)
		f.Says = finding.Say(says)
	}
}

// ratedSays adds what to do to when a load is largest.
func (res *Result) ratedSays(f *finding.Finding, when string) finding.Text {
	if f.Status == finding.NotKnown {
		return f.Says
	}
	before, status := f.Says, f.Status
	return func() string {
		said := before()
		if !strings.Contains(said, when) {
			said += " It is " + when
		}
		switch status {
		case finding.Over:
			return said + " That is more than it is rated for: a stronger one, or one with a longer lever about the crankshaft."
		case finding.Tight:
			return said + " What is not known for sure may take it past its rating: a stronger one, or measured rates."
		}
		return said
	}
}

// besideInReverse is the most that of makes of what links and stops do in the cases in
// which a reverse gear of that ratio takes part.
func (res *Result) besideInReverse(ratio float64, open bool, of func([]seat.Tied, []seat.Stopped) float64) finding.Number {
	cases, err := res.ReverseCases(ratio)
	if err != nil {
		return finding.Missing(err.Error())
	}
	most := func(on *seat.Hung) (float64, error) {
		most := 0.0
		for _, c := range cases {
			links, stops, err := on.Beside(c.Load, nil)
			if err != nil {
				return 0, err
			}
			most = max(most, of(links, stops))
		}
		return most, nil
	}
	v, err := most(res.hung)
	if err != nil {
		return finding.Missing(staysNotUp)
	}
	return res.openInReverse(v, v, open, func(k, _, end int) (float64, error) { return most(res.ends[k][end]) })
}

// playFinding judges the free play of a stop at rest.
func (res *Result) playFinding(i int) {
	q := &res.Statics.Stops[i]
	f := finding.Finding{ID: finding.RollStopPlay(q.Spec.Name), Title: q.Label + ", least free play at rest"}
	play := q.Play
	if why := res.besideWhy(q.Why); why != "" {
		play = finding.Missing(why)
	}
	f.Judge(play, res.p.build.Limit("stop_play"), true)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "At rest it does not touch, so that the powertrain shakes on its mounts alone.",
			finding.Tight: "What is not known for sure may take its free play: measure it with the weight on the mounts.",
			finding.Over:  "At rest it touches or nearly does, and passes on what the mounts should hold back: set it further off, or make the buffer thinner.",
		}
	})
	if play.Known {
		f.Assumes = []string{fittedSaid(q.Spec.Fitted, false)}
	}
	res.Findings = append(res.Findings, f)
}

// stopFinding judges what a stop carries where it is met.
func (res *Result) stopFinding(i int) {
	s := &res.Statics
	q := &s.Stops[i]
	f := finding.Finding{ID: finding.RollStopLoad(q.Spec.Name), Title: q.Label + ", most that it carries (screening)", Kind: quantity.Force, Source: rated.Source}
	rating, lacks := q.Spec.Rating, "roll_stop."+q.Spec.Name+".rating is not in the file yet"
	defer func() { res.Findings = append(res.Findings, f) }()
	if why := res.besideWhy(q.Why); why != "" {
		f.Unknown(why)
		f.Says = finding.Say(finding.NotYet(why))
		return
	}
	most, at := mostOf(len(s.Cases), func(c int) finding.Number { return s.pressedBy(i, c) })
	f.Assumes = append(slices.Clone(res.LoadAssumes()), fittedSaid(q.Spec.Fitted, false))
	if most.V+most.Expanded() == 0 && !rating.Known() && s.TorqueWhy == "" {
		f.Figure(most)
		f.Says = finding.Say("It is met in no case of load, and so limits nothing.")
		if s.ReverseWhy != "" {
			f.Unknown(s.ReverseWhy)
			f.Says = finding.Say(finding.NotYet("it is met in no case of load, but reverse may, and " + s.ReverseWhy))
		}
		f.Again(func(f *finding.Finding) {
			if f.Value+f.Uncertainty > 0 {
				f.Unknown(lacks)
				f.Says = finding.Say(finding.NotYet("within its ± it may be met, and " + lacks))
			}
		})
		return
	}
	says := s.metSaid(q)
	res.judgeRated(&f, most, rating, lacks, says)
	res.WithoutReverse(&f, func(ratio float64, open bool) (finding.Number, bool) {
		v := res.besideInReverse(ratio, open, func(_ []seat.Tied, stops []seat.Stopped) float64 { return r3.Norm(stops[i].Force) })
		return v, !v.Known || v.V > rating.V()
	})
	if most.V > 0 {
		f.Says = res.ratedSays(&f, "pressed most "+s.Cases[at].Name+".")
	}
}

// metSaid says in which cases a stop is met.
func (s *Statics) metSaid(q *StopLoads) string {
	met := q.Met()
	if len(met) == 0 {
		return "It is met in no case of load, and so limits nothing."
	}
	const few = 4
	var names []string
	for _, c := range met[:min(few, len(met))] {
		names = append(names, s.Cases[c].Name)
	}
	said := "It is met " + strings.Join(names, "; ")
	if more := len(met) - few; more > 0 {
		said += "; and in " + strconv.Itoa(more) + " more cases"
	}
	return said + "."
}

// besideValues lists what links and stops carry.
func (s *Statics) besideValues(l *finding.List) {
	for i := range s.Links {
		k := &s.Links[i]
		id := "torque_link." + k.Spec.Name
		if k.On.Known {
			l.Point(id+".on", k.On.V)
		}
		for c, v := range k.Pull {
			l.Add(id+".pull."+s.Cases[c].ID, quantity.Force, v)
		}
	}
	for i := range s.Stops {
		q := &s.Stops[i]
		id := "roll_stop." + q.Spec.Name
		if q.At.Known {
			l.Point(id+".at", q.At.V)
		}
		l.Number(id+".play.rest", quantity.Length, q.Play)
		for c := range q.Force {
			l.Add(id+".force."+s.Cases[c].ID, quantity.Force, q.Force[c])
			l.Add(id+".pressed."+s.Cases[c].ID, quantity.Length, q.Pressed[c])
		}
	}
}
