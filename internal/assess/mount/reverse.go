package mount

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"

	"gonum.org/v1/gonum/spatial/r3"
)

// ReverseCases are the cases in which a reverse gear of that ratio takes part.
func (res *Result) ReverseCases(ratio float64) ([]LoadCase, error) {
	u := res.pull
	c, err := res.p.gearCase(u, "reverse", "reverse", -ratio*max(1, u.low))
	if err != nil {
		return nil, err
	}
	out := []LoadCase{res.placed(c), res.placed(res.p.overrun(&c, "reverse", "reverse"))}
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
// ratio holds; the finding is then held to that as well, with its ± where
// rates are estimates, which the value has where open says so.
func (res *Result) WithoutReverse(f *finding.Finding, at func(ratio float64, open bool) (v finding.Number, over bool)) {
	res.withoutReverse(f, at, f.Limit, f.AtLeast, func(f *finding.Finding) {
		f.Status = finding.Tight
		f.Says = finding.Say("Reverse is not in the file; as far as the wheels grip it keeps the limit by less than its ±: put powertrain.reverse in the file.")
	})
}

// withoutReverse is WithoutReverse with the limit of the value, and short the verdict
// where what reverse makes of it keeps that by less than its ±.
func (res *Result) withoutReverse(f *finding.Finding, at func(ratio float64, open bool) (v finding.Number, over bool), limit float64, atLeast bool, short func(*finding.Finding)) {
	s := &res.Statics
	if s.ReverseWhy == "" || s.TorqueWhy != "" {
		return
	}
	first, judged := res.pull.first, f.Status != finding.Over && f.Status != finding.NotKnown
	if s.Slip.Known && s.Gear.V > 0 {
		v, over := at(first*max(1, s.Slip.V/s.Gear.V), true)
		if !over && judged {
			f.Assumes = append(f.Assumes, "reverse as far as the wheels grip")
			f.Also(v, limit, atLeast, short)
			return
		}
		f.Also(v, limit, atLeast, func(*finding.Finding) {}) // for whom it is the end of a ±
	}
	if !judged {
		return
	}
	if v, over := at(first, false); over {
		pastInReverse(f, v)
		return
	}
	lo, hi := first, 4*first // no gearbox has a reverse that low
	if !isOver(at(hi, false)) {
		lo = hi
	}
	for hi-lo > 0.01 {
		if mid := (lo + hi) / 2; isOver(at(mid, false)) {
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

// openInReverse is a value of the powertrain on its springs that is v, with what rates
// that are estimates leave open of it where open says so: at is the value with estimate
// i at its low (0) or its high end (1), k the place of that among those of isolators,
// and soft the value with all of them at their low end together.
func (res *Result) openInReverse(v, soft float64, open bool, at func(i, k, end int) (float64, error)) finding.Number {
	var ends []finding.End
	k := 0
	for i, e := range res.p.ends {
		if !open || e.low == e.high {
			continue
		}
		low, err := at(i, k, 0)
		if err != nil {
			return finding.Missing(staysNotUp)
		}
		high, err := at(i, k, 1)
		if err != nil {
			return finding.Missing(staysNotUp)
		}
		ends = append(ends, e.of.EndsOf(v, low, high))
		if e.estimated {
			k++
		}
	}
	return finding.Spread(v, ends, res.p.all, soft)
}

// rockInReverse is how far a reverse gear of that ratio turns the powertrain,
// rad, and whether that is too far.
func (res *Result) rockInReverse(ratio float64, open bool) (finding.Number, bool) {
	c, err := res.p.gearCase(res.pull, "reverse", "reverse", -ratio*max(1, res.pull.low))
	if err != nil {
		return finding.Missing(err.Error()), true
	}
	turn := func(on *seat.Hung, rest geom.Pose) (float64, error) {
		got, err := on.Settle(c.load.along(res.shaft))
		if err != nil {
			return 0, err
		}
		return turnBetween(rest, res.in.Pose.V.Then(got.Motion)).Rad(), nil
	}
	v, err := turn(res.hung, res.Isolators.Poses[1].Pose)
	if err != nil {
		return finding.Missing(staysNotUp), true
	}
	soft := v
	if open && res.p.estimated() && len(res.Isolators.Soft) > 1 {
		on, err := res.hangWith(lowRates)
		if err == nil {
			soft, err = turn(on, res.Isolators.Soft[1].Pose)
		}
		if err != nil {
			return finding.Missing(staysNotUp), true
		}
	}
	return res.openInReverse(v, soft, open, func(i, k, end int) (float64, error) {
		rest := res.Isolators.Poses[1].Pose
		if res.p.ends[i].estimated && k < len(res.Isolators.Ends) {
			rest = res.Isolators.Ends[k][end][1].Pose
		}
		return turn(res.ends[i][end], rest)
	}), v > res.p.rock.Value
}

// liftsInReverse says that reverse is left out, where it is.
func (res *Result) liftsInReverse(f *finding.Finding, i int) {
	s, m := &res.Statics, &res.p.mounts[i]
	if s.ReverseWhy == "" || s.Partial != "" {
		return
	}
	if m.holdsAll() { // it holds whatever pulls; how much does is open
		if f.Status != finding.Over && f.Status != finding.NotKnown {
			f.Unknown(s.ReverseWhy)
			f.Says = finding.Say(finding.NotYet("reverse may pull harder on it, and " + s.ReverseWhy))
		}
		return
	}
	was := f.Status
	res.withoutReverse(f, func(ratio float64, open bool) (finding.Number, bool) {
		v := res.pressedInReverse(i, ratio, open)
		return v, !v.Known || v.V < -liftsFrom
	}, -liftsFrom, true, func(f *finding.Finding) {
		if m.spec.Holds == "" {
			f.Unknown(m.lacksHolds())
			f.Says = finding.Say("In reverse, as far as the wheels grip, it may lift within its ±. Look at how the mount is built, captive or bonded only, and put it in the file.")
			return
		}
		f.Status = finding.Tight
		f.Says = finding.Say("Reverse is not in the file; as far as the wheels grip it lifts the mount, or does not by less than its ±: put powertrain.reverse in the file.")
	})
	if f.Status == finding.Over && was != f.Status && m.spec.Holds == "" {
		f.Unknown(m.lacksHolds())
	}
}

// pressedInReverse is the least that presses mount i together with a reverse
// gear of that ratio, N.
func (res *Result) pressedInReverse(i int, ratio float64, open bool) finding.Number {
	cases, err := res.ReverseCases(ratio)
	if err != nil {
		return finding.Missing(err.Error())
	}
	force := make([]r3.Vec, len(res.Statics.Springs))
	least := func(on *seat.Hung) (float64, error) {
		least := math.Inf(1)
		for _, c := range cases {
			if err := on.Forces(c.Load, force); err != nil {
				return 0, err
			}
			least = min(least, force[i].Z)
			if axis, ok := res.Statics.leans(i); ok {
				least = min(least, r3.Dot(force[i], axis))
			}
		}
		return least, nil
	}
	v, err := least(res.hung)
	if err != nil {
		return finding.Missing(staysNotUp)
	}
	return res.openInReverse(v, v, open, func(k, _, end int) (float64, error) { return least(res.ends[k][end]) })
}

// ReverseForces are what mount i does to the powertrain in the cases in which a reverse
// gear of that ratio takes part, N; where open says so also with the rates of one mount
// after the other at the low and the high end of what they may be. It fails where the
// powertrain does not stay up.
func (res *Result) ReverseForces(i int, ratio float64, open bool) (cases []LoadCase, force []r3.Vec, swings [][2][]r3.Vec, err error) {
	if cases, err = res.ReverseCases(ratio); err != nil {
		return nil, nil, nil, err
	}
	all := make([]r3.Vec, len(res.Statics.Springs))
	on := func(h *seat.Hung) ([]r3.Vec, error) {
		out := make([]r3.Vec, len(cases))
		for c := range cases {
			if err := h.Forces(cases[c].Load, all); err != nil {
				return nil, err
			}
			out[c] = all[i]
		}
		return out, nil
	}
	if force, err = on(res.hung); err != nil {
		return nil, nil, nil, err
	}
	for k, e := range res.p.ends {
		if !open || e.low == e.high {
			continue
		}
		var s [2][]r3.Vec
		for end := range s {
			if s[end], err = on(res.ends[k][end]); err != nil {
				return nil, nil, nil, err
			}
		}
		swings = append(swings, s)
	}
	return cases, force, swings, nil
}
