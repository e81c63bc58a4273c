package job

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// broken says what a done job relied on that holds no more. What was accepted
// with an override when it was ticked does not break it, unless it has moved
// or got worse since.
func (res *Result) broken(j *Job) []string {
	var out []string
	told := map[string]bool{}
	relied := map[string]project.Relied{}
	for _, r := range j.Relied {
		relied[r.Finding] = r
	}
	for _, h := range j.Holds {
		if !h.Holds() {
			continue
		}
		r, was := relied[h.ID]
		told[h.ID] = true
		switch {
		case j.Overridden && (len(j.Relied) == 0 || was && accepted(r.Status, h)):
			told[h.ID] = false // accepted, with its reason in the file
		case was:
			out = append(out, fmt.Sprintf("%s; it was %s", h.Text, project.Printable(r.Status)))
		default:
			out = append(out, h.Text)
		}
	}
	for _, r := range j.Relied {
		if told[r.Finding] {
			continue
		}
		f, ok := res.grounds.finding(r.Finding)
		switch {
		case ok:
			if why := res.shifted(f, r); why != "" {
				out = append(out, why)
			}
		case !res.grounds.hasFact(r.Finding) && !bad(r.Status):
			out = append(out, "this build no longer has the finding "+project.Printable(r.Finding))
		}
	}
	return out
}

// accepted reports whether what an override was given for is as bad as the hold
// is now, or worse.
func accepted(then string, now Hold) bool {
	switch now.Status {
	case finding.Over:
		return then == finding.Over.String()
	case finding.Tight:
		return then == finding.Tight.String() || bad(then)
	}
	return bad(then)
}

func bad(status string) bool {
	return status == finding.Over.String() || status == finding.NotKnown.String()
}

// shifted says how a finding has moved away from what was relied on: its value
// by more than its uncertainty, or from proved to something weaker. A planned
// value for which no uncertainty is claimed may move by a stated amount.
func (res *Result) shifted(f finding.Finding, r project.Relied) string {
	if r.Basis == finding.Proved.String() && f.Moved {
		return f.Title + " was proved, and the powertrain has moved since"
	}
	if r.Basis == finding.Proved.String() && f.Basis != finding.Proved {
		return f.Title + " was proved and is only " + f.Basis.String() + " now"
	}
	if r.Value == "" {
		return ""
	}
	if !f.HasValue {
		return fmt.Sprintf("%s was %s and is not known now", f.Title, project.Printable(r.Value))
	}
	then, u, err := res.relied(f, r)
	if err != nil {
		return f.Title + " was " + project.Printable(r.Value) + ", which cannot be read"
	}
	what := "its uncertainty of"
	if r.Basis == finding.Planned.String() && u < res.planMoved(f) {
		u, what = res.planMoved(f), "a plan may, "
	}
	const rounding = 1e-6 // of a value written to the file
	if d := math.Abs(f.Value - then); u > 0 && d > u*(1+rounding) {
		num := func(v float64) string {
			return quantity.Format(finding.Unsigned(f.Kind), v, res.build.Units, reliedDigits)
		}
		return fmt.Sprintf("%s has moved by %s since, more than %s %s", f.Title, num(d), strings.TrimSuffix(what, " "), num(u))
	}
	return ""
}

// planMoved is how far a planned value may move before what was ticked on it
// has to be looked at again: a limit for angles and lengths, a part of the
// finding's own limit for the rest (set by fitup, a rule of thumb).
func (res *Result) planMoved(f finding.Finding) float64 {
	const part = 0.05
	switch finding.Unsigned(f.Kind) {
	case quantity.Angle:
		return res.build.Limit("plan_moved").Value
	case quantity.Length:
		return res.build.Limit("plan_moved_length").Value
	}
	return part * math.Abs(f.Limit)
}

// relied returns what a finding was when it was relied on, and how far it may
// go from there: the larger of its uncertainties then and now.
func (res *Result) relied(f finding.Finding, r project.Relied) (then, u float64, err error) {
	if then, err = quantity.Parse(f.Kind, r.Value, res.build.Units); err != nil {
		return 0, 0, err
	}
	u = f.Uncertainty
	if pm, err := quantity.Parse(finding.Unsigned(f.Kind), r.PlusMinus, res.build.Units); r.PlusMinus != "" && err == nil {
		u = max(u, pm)
	}
	return then, u, nil
}

const reliedDigits = 2
