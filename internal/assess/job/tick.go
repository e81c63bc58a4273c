package job

import (
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
)

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
func (res *Result) Tick(i int, override string) (edit.Tick, error) {
	j := res.Jobs[i]
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
		if f, ok := res.grounds.finding(h.ID); ok {
			basis := f.Basis
			if f.Moved { // what was proved elsewhere is no proof here
				basis = min(basis, finding.Read)
			}
			r.Basis = basis.String()
			if f.HasValue {
				r.Value = quantity.Plain(f.Kind, f.Value, res.build.Units, filedDigits)
			}
			if f.Uncertainty > 0 {
				r.PlusMinus = quantity.Plain(finding.Unsigned(f.Kind), f.Uncertainty, res.build.Units, filedDigits)
			}
			t.Place = t.Place || basis == finding.Proved
		}
		t.Relied = append(t.Relied, r)
	}
	return t, nil
}

const filedDigits = 6
