package assess

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
)

// lookUp finds what a hold names: findings and facts, "*" standing for any one
// part of an id and "**" at its end for all that follows. "?" behind it lets it
// pass where this build has none, "@proved" asks for readings taken after the
// step that fixes the value. finish is for a job that cannot be undone: tight
// holds it as well, and what judges the finished work does not.
func (a *Assessment) lookUp(pattern string, finish bool) []Hold {
	key := lookKey{pattern, finish}
	got, ok := a.looked[key]
	if !ok {
		got = a.find(pattern, finish)
		if a.looked != nil {
			a.looked[key] = got
		}
	}
	return got
}

// lookKey is what is looked up once while the jobs are settled: many jobs wait
// for the same.
type lookKey struct {
	pattern string
	finish  bool
}

// NoSuch says that a hold names nothing that any build has, and what was
// probably meant; nothing when it is in order.
func (a *Assessment) NoSuch(pattern string) string {
	id, _ := strings.CutSuffix(pattern, "?")
	id, _ = strings.CutSuffix(id, "@proved")
	if mayBe(id) || a.has(id) {
		return ""
	}
	return "no finding is called " + id + a.meant(id)
}

func (a *Assessment) has(id string) bool {
	return slices.ContainsFunc(a.Findings, func(f Finding) bool { return matches(id, f.ID) }) ||
		slices.ContainsFunc(a.Facts, func(f Fact) bool { return matches(id, f.ID) })
}

func (a *Assessment) find(pattern string, finish bool) []Hold {
	id, ifAny := strings.CutSuffix(pattern, "?")
	id, proved := strings.CutSuffix(id, "@proved")
	var out []Hold
	for _, f := range a.Findings {
		if !matches(id, f.ID) || finish && f.OfFinished {
			continue
		}
		h := Hold{ID: f.ID, Title: f.Title, Status: f.Status, Why: f.Advice(), Text: f.Title + " is " + f.Status.String(), Firm: finish}
		switch {
		case f.Status == Elsewhere:
			h.Text = f.Title + " is judged by " + f.Elsewhere
			if proved {
				h.Status, h.Why = NotKnown, "Proof is a reading of your own: take it after tacking or bolting."
				h.Text += ", which is no proof"
			}
		case proved && !h.Holds() && (f.Basis != Proved || f.Moved):
			h.Status = NotKnown
			h.Text = f.Title + " is " + f.Basis.String() + " and not proved"
			if f.Moved {
				h.Text = f.Title + " is from before the powertrain was moved"
			}
			h.Why = "Take the reading again after tacking or bolting, and enter it as taken then."
		case finish && f.Status == Tight:
			h.Text += ", and a finish weld wants ok, or a reason"
		}
		out = append(out, h)
	}
	for _, f := range a.Facts {
		if matches(id, f.ID) {
			out = append(out, Hold{ID: f.ID, Title: f.Title, Status: f.Status, Why: f.Why, Text: f.Text, Firm: finish})
		}
	}
	if len(out) > 0 || id == engineOutID {
		return out
	}
	switch {
	case !mayBe(id):
		out = append(out, Hold{ID: id, Title: id, Status: NotKnown, Why: "nothing is called so", Text: "no finding is called " + id + a.meant(id)})
	case !ifAny:
		out = append(out, Hold{ID: id, Title: id, Status: NotKnown, Why: "this build has no such finding", Text: "this build has no finding " + id + a.meant(id)})
	}
	return out
}

// matches compares an id with a pattern, part by part.
func matches(pattern, id string) bool {
	if star := strings.IndexByte(pattern, '*'); star < 0 || !strings.HasPrefix(id, pattern[:star]) {
		return pattern == id
	}
	for {
		p, morePattern, inPattern := strings.Cut(pattern, ".")
		part, moreID, inID := strings.Cut(id, ".")
		switch {
		case p == "**" && !inPattern:
			return part != ""
		case p != "*" && p != part:
			return false
		case !inPattern || !inID:
			return inPattern == inID
		}
		pattern, id = morePattern, moreID
	}
}

// broken says what a done job relied on that holds no more. What was accepted
// with an override when it was ticked does not break it, unless it has moved
// or got worse since.
func (a *Assessment) broken(j *Job) []string {
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
		f, ok := a.Finding(r.Finding)
		switch {
		case ok:
			if why := a.shifted(f, r); why != "" {
				out = append(out, why)
			}
		case !a.hasFact(r.Finding) && !bad(r.Status):
			out = append(out, "this build no longer has the finding "+project.Printable(r.Finding))
		}
	}
	return out
}

// accepted reports whether what an override was given for is as bad as the hold
// is now, or worse.
func accepted(then string, now Hold) bool {
	switch now.Status {
	case Over:
		return then == Over.String()
	case Tight:
		return then == Tight.String() || bad(then)
	}
	return bad(then)
}

func (a *Assessment) hasFact(id string) bool {
	return id == engineOutID || slices.ContainsFunc(a.Facts, func(f Fact) bool { return f.ID == id })
}

func bad(status string) bool { return status == Over.String() || status == NotKnown.String() }

// shifted says how a finding has moved away from what was relied on: its value
// by more than its uncertainty, or from proved to something weaker. A planned
// value for which no uncertainty is claimed may move by a stated amount.
func (a *Assessment) shifted(f Finding, r project.Relied) string {
	if r.Basis == Proved.String() && f.Moved {
		return f.Title + " was proved, and the powertrain has moved since"
	}
	if r.Basis == Proved.String() && f.Basis != Proved {
		return f.Title + " was proved and is only " + f.Basis.String() + " now"
	}
	if r.Value == "" {
		return ""
	}
	if !f.HasValue {
		return fmt.Sprintf("%s was %s and is not known now", f.Title, project.Printable(r.Value))
	}
	then, u, err := a.relied(f, r)
	if err != nil {
		return f.Title + " was " + project.Printable(r.Value) + ", which cannot be read"
	}
	what := "its uncertainty of"
	if r.Basis == Planned.String() && u < a.planMoved(f) {
		u, what = a.planMoved(f), "a plan may, "
	}
	const rounding = 1e-6 // of a value written to the file
	if d := math.Abs(f.Value - then); u > 0 && d > u*(1+rounding) {
		num := func(v float64) string {
			return quantity.Format(finding.Unsigned(f.Kind), v, a.Build.Units, reliedDigits)
		}
		return fmt.Sprintf("%s has moved by %s since, more than %s %s", f.Title, num(d), strings.TrimSuffix(what, " "), num(u))
	}
	return ""
}

// planMoved is how far a planned value may move before what was ticked on it
// has to be looked at again: a limit for angles and lengths, a part of the
// finding's own limit for the rest (set by fitup, a rule of thumb).
func (a *Assessment) planMoved(f Finding) float64 {
	const part = 0.05
	switch finding.Unsigned(f.Kind) {
	case quantity.Angle:
		return a.Build.Limit("plan_moved").Value
	case quantity.Length:
		return a.Build.Limit("plan_moved_length").Value
	}
	return part * math.Abs(f.Limit)
}

// relied returns what a finding was when it was relied on, and how far it may
// go from there: the larger of its uncertainties then and now.
func (a *Assessment) relied(f Finding, r project.Relied) (then, u float64, err error) {
	if then, err = quantity.Parse(f.Kind, r.Value, a.Build.Units); err != nil {
		return 0, 0, err
	}
	u = f.Uncertainty
	if pm, err := quantity.Parse(finding.Unsigned(f.Kind), r.PlusMinus, a.Build.Units); r.PlusMinus != "" && err == nil {
		u = max(u, pm)
	}
	return then, u, nil
}

const reliedDigits = 2

// ErrHeld says what holds a job. It is the answer to ticking one without an
// override.
type ErrHeld struct{ Holds []Hold }

func (e *ErrHeld) Error() string {
	var parts []string
	for _, h := range e.Holds {
		parts = append(parts, project.Printable(h.Text))
	}
	return strings.Join(parts, "; ")
}

// Tick returns what is to be recorded when job i is ticked: the findings it
// relies on as they are now. A held job is not ticked without a reason; the
// error then is *ErrHeld. A reason where nothing holds is not recorded.
func (a *Assessment) Tick(i int, override string) (edit.Tick, error) {
	j := a.Jobs[i]
	var t edit.Tick
	if j.Held {
		if override = strings.TrimSpace(override); override == "" {
			e := &ErrHeld{}
			for _, h := range j.Holds {
				if h.Holds() {
					e.Holds = append(e.Holds, h)
				}
			}
			return t, e
		}
		t.Override = override
	}
	for _, h := range j.Holds {
		if h.ID == standingID {
			continue
		}
		r := project.Relied{Finding: h.ID, Status: h.Status.String()}
		if f, ok := a.Finding(h.ID); ok {
			basis := f.Basis
			if f.Moved { // what was proved elsewhere is no proof here
				basis = min(basis, Read)
			}
			r.Basis = basis.String()
			if f.HasValue {
				r.Value = quantity.Plain(f.Kind, f.Value, a.Build.Units, filedDigits)
			}
			if f.Uncertainty > 0 {
				r.PlusMinus = quantity.Plain(finding.Unsigned(f.Kind), f.Uncertainty, a.Build.Units, filedDigits)
			}
			t.Place = t.Place || basis == Proved
		}
		t.Relied = append(t.Relied, r)
	}
	return t, nil
}

const filedDigits = 6
