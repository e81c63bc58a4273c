package mount

import (
	"errors"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Isolators is the powertrain on its rubber: how far it sinks, tilts, rocks
// and shakes. It is empty when the file says nothing of any mount's rubber.
type Isolators struct {
	Begun  bool
	Why    string           // why nothing is worked out, when nothing is
	Each   []IsolatorRates  // in the order of Statics.Mounts
	Sag    []finding.Number // of each mount, down positive, mm
	Drop   finding.Number   // of the centre of mass, down positive, mm
	Tilt   finding.Number   // change of slope under weight, down to the rear positive, rad
	Slope  finding.Number   // slope of the powertrain with its weight on, rad
	Roll   finding.Number   // change of roll under weight, right side up positive, rad
	Rock   finding.Number   // turn by the largest torque, from rest, rad
	Bounce finding.Number   // natural frequency straight up and down, Hz
	Firing finding.Number   // at idle, Hz
	Passed finding.Number   // part of the shaking at idle that reaches the frame
	Loaded []LoadedLine     // joint angles with the weight on

	Poses, Soft []seat.NamedPose      // as built, sagged, rocked; Soft with estimated rates at their lowest
	Ends        [][2][]seat.NamedPose // with one mount's estimate at its low and its high end

	failed error // the balance that is not found
}

// IsolatorRates are the spring rates of a mount and where they come from. Low
// and High are the ends of an estimate, and the rates themselves where they
// are given.
type IsolatorRates struct {
	Rates, Low, High seat.Rates // X along, Y across, Z up, N/mm
	Estimated        bool
	Solid            bool
	Bracket          bool // of a solid mount: the rates are its bracket's, as entered
	Note             string
}

// LoadedLine is a line with the powertrain's weight on its mounts.
type LoadedLine struct {
	Line   string
	Joints []finding.Number // rad
}

// solidRate stands for metal on metal, N/mm: so stiff beside rubber that it
// makes no difference how stiff.
const solidRate = 1e5

// What rubber is like in vibration: the middle of the range that its
// stiffening lies in, and its damping ratio.
const (
	dynamicMiddle = (seat.DynamicLow + seat.DynamicHigh) / 2
	rubberDamping = 0.05 // natural rubber, common practice, no source
)

// rates returns the rates of every mount, or what is missing of them.
func (res *Result) rates(mounts []MountLoads) ([]IsolatorRates, string) {
	out := make([]IsolatorRates, len(mounts))
	for i, m := range mounts {
		r, why := ratesOf(m.Spec)
		if why != "" {
			return nil, why
		}
		out[i] = r
	}
	return out, ""
}

// ratesOf takes the rates a mount has in the file, and for those it has not the
// estimate from its rubber.
func ratesOf(m project.Mount) (IsolatorRates, string) {
	given := seat.Rates{X: m.RateAlong.V(), Y: m.RateAcross.V(), Z: m.RateUp.V()}
	all := m.RateAlong.Known() && m.RateAcross.Known() && m.RateUp.Known()
	if m.Holds == project.SolidMount && !m.Rubber() {
		r := seat.Rates{X: solidRate, Y: solidRate, Z: solidRate}
		return IsolatorRates{Rates: r, Low: r, High: r, Solid: true, Note: "bolted solid"}, ""
	}
	if all && m.Holds == project.SolidMount {
		return IsolatorRates{Rates: given, Low: given, High: given, Solid: true, Bracket: true, Note: "of its bracket, as entered"}, ""
	}
	if all {
		return IsolatorRates{Rates: given, Low: given, High: given, Note: "as entered"}, ""
	}
	if !m.Hardness.Known() {
		for _, q := range []struct {
			key   string
			known bool
		}{{"rate_up", m.RateUp.Known()}, {"rate_across", m.RateAcross.Known()}, {"rate_along", m.RateAlong.Known()}} {
			if !q.known {
				return IsolatorRates{}, "mount." + m.Name + "." + q.key + " is not in the file yet; hardness and size of its rubber give an estimate"
			}
		}
	}
	e, err := seat.Rubber{Hardness: m.Hardness.V(), Thickness: m.Thickness.V(), Diameter: m.Diameter.V(), Length: m.Length.V(), Width: m.Width.V()}.Estimate()
	if err != nil {
		return IsolatorRates{}, "the " + finding.Spoken(m.Name) + " mount: " + err.Error()
	}
	out := IsolatorRates{Estimated: true, Note: e.Note}
	pick := func(given float64, known bool, e seat.Estimate, mid, low, high *float64) {
		*mid, *low, *high = e.Value, max(e.Low(), e.Value/10), e.High()
		if known {
			*mid, *low, *high = given, given, given
		}
	}
	pick(given.X, m.RateAlong.Known(), e.Shear, &out.Rates.X, &out.Low.X, &out.High.X)
	pick(given.Y, m.RateAcross.Known(), e.Shear, &out.Rates.Y, &out.Low.Y, &out.High.Y)
	pick(given.Z, m.RateUp.Known(), e.Compression, &out.Rates.Z, &out.Low.Z, &out.High.Z)
	return out, ""
}

// isolators lets the powertrain down on its mounts. It says nothing before the
// file gives something of a mount's rubber.
func (res *Result) isolators() {
	is := &res.Isolators
	mounts := res.Statics.Mounts
	for _, m := range mounts {
		res.heldFindings(m)
		is.Begun = is.Begun || m.Spec.Rubber() && m.Spec.Holds != project.SolidMount
	}
	if !is.Begun {
		return
	}
	is.Each, is.Why = res.rates(mounts)
	if is.Why == "" {
		if err := res.settle(); err != nil {
			is.Why, is.failed = err.Error(), err
		}
	}
	if is.Why != "" {
		is.unknown(len(mounts), is.Why)
	}
	res.shaking()
	res.isolatorFindings()
}

func (is *Isolators) unknown(n int, why string) {
	m := finding.Missing(why)
	is.Sag = make([]finding.Number, n)
	for i := range is.Sag {
		is.Sag[i] = m
	}
	is.Drop, is.Tilt, is.Slope, is.Roll, is.Rock = m, m, m, m, m
	is.Poses, is.Soft, is.Ends, is.Loaded = nil, nil, nil, nil
}

// springs returns the isolators in the rates that pick takes of each.
func (res *Result) springs(each []IsolatorRates, pick func(IsolatorRates) seat.Rates) ([]seat.Isolator, error) {
	out := make([]seat.Isolator, len(res.Statics.Mounts))
	for i, m := range res.Statics.Mounts {
		var err error
		if out[i], err = m.Spec.Isolator(m.Label, m.At.V, pick(each[i])); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func middleRates(r IsolatorRates) seat.Rates { return r.Rates }
func lowRates(r IsolatorRates) seat.Rates    { return r.Low }
func highRates(r IsolatorRates) seat.Rates   { return r.High }

// settle finds where the powertrain comes to rest and how it rocks.
func (res *Result) settle() error {
	is, s := &res.Isolators, &res.Statics
	if !s.Body.Known {
		return errors.New(s.Body.Why)
	}
	for _, m := range s.Mounts {
		if !m.At.Known {
			return errors.New(m.At.Why)
		}
	}
	var loads []seat.Load
	if s.Torque.Known {
		loads = []seat.Load{s.rocking}
	}
	envelope := func(each []IsolatorRates, pick func(IsolatorRates) seat.Rates) ([]seat.NamedPose, error) {
		springs, err := res.springs(each, pick)
		if err != nil {
			return nil, err
		}
		return seat.Envelope(s.Body.V, springs, res.in.Pose.V, loads)
	}
	var err error
	if is.Poses, err = envelope(is.Each, middleRates); err != nil {
		return err
	}
	is.Soft = is.Poses
	if is.Estimated() {
		if is.Soft, err = envelope(is.Each, lowRates); err != nil {
			return err
		}
	}
	for i, r := range is.Each {
		if !r.Estimated {
			continue
		}
		var ends [2][]seat.NamedPose
		for k, rates := range [2]seat.Rates{r.Low, r.High} {
			each := slices.Clone(is.Each)
			each[i].Rates = rates
			if ends[k], err = envelope(each, middleRates); err != nil {
				return err
			}
		}
		is.Ends = append(is.Ends, ends)
	}
	res.underWeight()
	return res.loadedLines()
}

// open is a value read off the poses with the uncertainty that estimated rates
// give it: all soft together, or each mount by itself, whichever is more. One
// mount softer than its fellows tilts the powertrain as all of them do not.
func (is *Isolators) open(of func(ps []seat.NamedPose) float64) finding.Number {
	v, sum := of(is.Poses), 0.0
	for _, e := range is.Ends {
		off := max(math.Abs(of(e[0])-v), math.Abs(of(e[1])-v))
		sum += off * off
	}
	return finding.Spread(v, v+max(math.Abs(of(is.Soft)-v), math.Sqrt(sum)))
}

// Estimated reports whether the rates of some mount are estimates.
func (is *Isolators) Estimated() bool {
	return slices.ContainsFunc(is.Each, func(r IsolatorRates) bool { return r.Estimated })
}

// underWeight reads sag, tilt and rock off the poses.
func (res *Result) underWeight() {
	is, s, built := &res.Isolators, &res.Statics, res.in.Pose.V
	drop := func(at r3.Vec) finding.Number {
		return is.open(func(ps []seat.NamedPose) float64 { return at.Z - ps[1].Motion.Point(at).Z })
	}
	for _, m := range s.Mounts {
		is.Sag = append(is.Sag, drop(m.At.V))
	}
	is.Drop = drop(s.Body.V.Centre)
	is.Tilt = is.open(func(ps []seat.NamedPose) float64 { return (ps[1].Pose.Slope() - built.Slope()).Rad() })
	is.Slope = finding.Known(built.Slope().Rad()+is.Tilt.V, is.Tilt.U)
	is.Roll = is.open(func(ps []seat.NamedPose) float64 { return (ps[1].Pose.Roll() - built.Roll()).Rad() })
	is.Rock = finding.Missing(s.TorqueWhy)
	if s.Torque.Known {
		is.Rock = is.open(func(ps []seat.NamedPose) float64 {
			return max(turnBetween(ps[1].Pose, ps[2].Pose).Rad(), turnBetween(ps[1].Pose, ps[3].Pose).Rad())
		})
	}
}

// turnBetween is the angle of the one rotation that takes the axes of from to
// those of to: half the sum of the cross products of the axes is its axis times
// its sine, and their dot products give its cosine.
func turnBetween(from, to geom.Pose) geom.Angle {
	var w r3.Vec
	trace := 0.0
	for _, e := range [3][2]r3.Vec{{from.X, to.X}, {from.Y, to.Y}, {from.Z, to.Z}} {
		w = r3.Add(w, r3.Cross(e[0], e[1]))
		trace += r3.Dot(e[0], e[1])
	}
	return geom.Angle(math.Atan2(r3.Norm(w)/2, (trace-1)/2))
}

// loadedLines finds the joint angles with the weight on.
func (res *Result) loadedLines() error {
	is := &res.Isolators
	for _, l := range res.in.Build.Lines {
		if l.First.Slope.Known() {
			continue // given by points: it does not follow the powertrain
		}
		angles, err := res.in.Angles(l, is.Poses[1].Pose)
		if err != nil {
			continue // the line itself says what it lacks
		}
		loaded := LoadedLine{Line: l.Name}
		for i := range angles {
			loaded.Joints = append(loaded.Joints, is.open(func(ps []seat.NamedPose) float64 {
				at, e := res.in.Angles(l, ps[1].Pose)
				if e != nil {
					err = e
					return 0
				}
				return at[i].Rad()
			}))
		}
		if err != nil {
			return err
		}
		is.Loaded = append(is.Loaded, loaded)
	}
	return nil
}

// shaking finds the bounce frequency and what of the shaking at idle gets
// through. Rubber is stiffer in vibration by a factor that is known only as a
// range; the uncertainty covers it, and that of estimated rates.
func (res *Result) shaking() {
	is, s, p := &res.Isolators, &res.Statics, res.in.Build.Powertrain
	is.Firing = finding.Missing("powertrain.cylinders is not in the file yet")
	if n, ok := p.Cylinders.Get(); ok {
		is.Firing = finding.Missing("powertrain.idle is not in the file yet")
		if v, ok := p.Idle.Get(); ok {
			f, err := seat.Firing(int(math.Round(n)), v*30/math.Pi)
			if is.Firing = finding.Known(f, 0); err != nil {
				is.Firing = finding.Missing(err.Error())
			}
		}
	}
	is.Bounce, is.Passed = finding.Missing(is.Why), finding.Missing(is.Why)
	if is.Why != "" {
		return
	}
	for _, r := range is.Each {
		if r.Solid {
			is.Bounce = finding.Missing("a mount that is bolted solid leaves nothing to bounce on")
			is.Passed = finding.Known(1, 0)
			return
		}
	}
	at := func(pick func(IsolatorRates) seat.Rates, dynamic float64) (float64, error) {
		springs, err := res.springs(is.Each, pick)
		if err != nil {
			return 0, err
		}
		return seat.Bounce(s.Body.V, springs, dynamic)
	}
	middle, err := at(middleRates, dynamicMiddle)
	low, err1 := at(lowRates, seat.DynamicLow)
	high, err2 := at(highRates, seat.DynamicHigh)
	if err := errors.Join(err, err1, err2); err != nil {
		is.Bounce, is.Passed = finding.Missing(err.Error()), finding.Missing(err.Error())
		return
	}
	is.Bounce = finding.Within(middle, max(high-middle, middle-low))
	is.Passed = finding.Missing(is.Firing.Why)
	if is.Firing.Known {
		is.Passed = passed(is.Firing.V, middle, low, high)
	}
}

// passed is what gets through at a shaking frequency, with the most that any
// bounce frequency between low and high lets through as its uncertainty.
func passed(shaking, middle, low, high float64) finding.Number {
	at := func(bounce float64) float64 {
		t, err := seat.Transmissibility(shaking/bounce, rubberDamping)
		if err != nil {
			return math.Inf(1)
		}
		return t
	}
	value, most := at(middle), max(at(low), at(high))
	if low <= shaking && shaking <= high {
		most = max(most, at(shaking))
	}
	if !geom.Finite(value, most) {
		return finding.Missing("the idle speed is too far from anything that can be worked out")
	}
	return finding.Within(value, max(most-value, 0))
}
