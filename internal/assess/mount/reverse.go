package mount

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"

	"gonum.org/v1/gonum/spatial/r3"
)

// ReverseCases are the cases in which a reverse gear of that ratio takes part.
func (res *Result) ReverseCases(ratio float64) ([]LoadCase, error) {
	u := res.pull
	c, err := res.p.gearCase(u, "reverse", "reverse", -ratio*max(1, u.low))
	if err != nil {
		return nil, err
	}
	out := []LoadCase{res.placed(c)}
	for _, row := range res.p.build.LoadCases {
		if row.Drive.Or(0) > 0 {
			for _, c := range combined(row, 0, c.load.torque) {
				out = append(out, res.placed(c))
			}
		}
	}
	return out, nil
}

// placed is a case with the powertrain where it stands.
func (res *Result) placed(c twistCase) LoadCase {
	return LoadCase{c.id, c.name, c.source, c.load.along(res.shaft)}
}

// WithoutReverse turns a verdict that leaves reverse out into one that says so:
// over if a reverse as low as first gear is already past the limit, else not
// known with the ratio up to which it holds. at returns the value at a ratio,
// and whether it is past the limit; past it without a value where nothing holds
// the powertrain up any more. Where the wheels slip before the limit is met, any
// ratio holds.
func (res *Result) WithoutReverse(f *finding.Finding, at func(ratio float64) (v finding.Number, over bool)) {
	s := &res.Statics
	if s.ReverseWhy == "" || s.TorqueWhy != "" || f.Status == finding.Over || f.Status == finding.NotKnown {
		return
	}
	first := res.pull.first
	if v, over := at(first); over {
		pastInReverse(f, v)
		return
	}
	if s.Slip.Known && s.Gear.V > 0 {
		if _, over := at(first * max(1, s.Slip.V/s.Gear.V)); !over {
			f.Assumes = append(f.Assumes, "reverse as far as the wheels grip")
			return
		}
	}
	lo, hi := first, 4*first // no gearbox has a reverse that low
	if _, over := at(hi); !over {
		lo = hi
	}
	for hi-lo > 0.01 {
		if mid := (lo + hi) / 2; isOver(at(mid)) {
			hi = mid
		} else {
			lo = mid
		}
	}
	f.Unknown(fmt.Sprintf("%s; it holds up to a ratio of %.1f", s.ReverseWhy, math.Floor(lo*10)/10))
	f.Says = finding.Say(finding.NotYet(f.Missing))
}

func isOver(_ finding.Number, over bool) bool { return over }

// pastInReverse says that a reverse as low as first gear is past the limit, at v.
// Without v the figure of the other cases goes too: it is not that of the verdict.
func pastInReverse(f *finding.Finding, v finding.Number) {
	f.Status, f.Margin = finding.Over, 0
	f.Figure(v)
	is := "it is past the limit"
	switch {
	case !v.Known:
		is = v.Why
	case f.HasLimit:
		f.Margin = f.Limit - v.V
	}
	before := f.Says
	f.Says = func() string {
		g := finding.Finding{Says: before}
		return "Reverse is not in the file; with a ratio as low as that of first gear " + is + ": put powertrain.reverse in the file. " + g.Advice()
	}
}

// staysNotUp is why there is no figure where the springs hold nothing up.
const staysNotUp = "the powertrain does not stay up on its mounts"

// NoReverse says how far what holds for the largest torque either way reaches
// while reverse is not in the file: to first gear's ratio. It is empty where
// reverse is in it.
func (res *Result) NoReverse() string {
	if res.Statics.ReverseWhy == "" {
		return ""
	}
	return fmt.Sprintf("%s; it holds up to first gear's ratio of %g", res.Statics.ReverseWhy, res.pull.first)
}

// LoadAssumes says what loads on the mounts rest on.
func (res *Result) LoadAssumes() []string {
	if !res.Statics.Torque.Known {
		return res.p.restAssume
	}
	return res.pull.assumes
}

// rockInReverse is how far a reverse gear of that ratio turns the powertrain,
// rad, and whether that is too far.
func (res *Result) rockInReverse(ratio float64) (finding.Number, bool) {
	c, err := res.p.gearCase(res.pull, "reverse", "reverse", -ratio*max(1, res.pull.low))
	if err != nil {
		return finding.Missing(err.Error()), true
	}
	got, err := res.hung.Settle(c.load.along(res.shaft))
	if err != nil {
		return finding.Missing(staysNotUp), true
	}
	turn := turnBetween(res.Isolators.Poses[1].Pose, res.in.Pose.V.Then(got.Motion)).Rad()
	return finding.Exact(turn), turn > res.p.rock.Value
}

// liftsInReverse says that reverse is left out, where it is.
func (res *Result) liftsInReverse(f *finding.Finding, i int) {
	s, m := &res.Statics, &res.p.mounts[i]
	if s.ReverseWhy == "" || s.Partial != "" || f.Status == finding.Over || f.Status == finding.NotKnown {
		return
	}
	if m.holdsAll() { // it holds whatever pulls; how much does is open
		f.Unknown(s.ReverseWhy)
		f.Says = finding.Say(finding.NotYet("reverse may pull harder on it, and " + s.ReverseWhy))
		return
	}
	res.WithoutReverse(f, func(ratio float64) (finding.Number, bool) {
		v := res.pressedInReverse(i, ratio)
		return v, !v.Known || v.V < -liftsFrom
	})
	if f.Status == finding.Over && m.spec.Holds == "" {
		f.Unknown(m.lacksHolds())
	}
}

// pressedInReverse is the least that presses mount i together with a reverse
// gear of that ratio, N.
func (res *Result) pressedInReverse(i int, ratio float64) finding.Number {
	cases, err := res.ReverseCases(ratio)
	if err != nil {
		return finding.Missing(err.Error())
	}
	least, force := math.Inf(1), make([]r3.Vec, len(res.Statics.Springs))
	for _, c := range cases {
		if err := res.hung.Forces(c.Load, force); err != nil {
			return finding.Missing(staysNotUp)
		}
		least = min(least, force[i].Z)
		if axis, ok := res.Statics.leans(i); ok {
			least = min(least, r3.Dot(force[i], axis))
		}
	}
	return finding.Exact(least)
}
