package mount

import (
	"errors"
	"math"

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
	dynamicMiddle = (seat.DynamicLow + seat.DynamicHigh) / 2 // common practice, no source
	rubberDamping = 0.05                                     // natural rubber, common practice, no source
)

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
		why := "the " + finding.Spoken(m.Name) + " mount: " + err.Error()
		switch {
		case !m.Thickness.Known():
			why = "mount." + m.Name + ".thickness is not in the file yet; hardness and size of its rubber give an estimate"
		case !m.Diameter.Known() && !(m.Length.Known() && m.Width.Known()):
			why = "mount." + m.Name + ".diameter is not in the file yet, or length and width of a pad that is not round"
		}
		return IsolatorRates{}, why
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
	is, p := &res.Isolators, res.p
	if res.in.Carried {
		res.Findings = append(res.Findings, p.held...)
	}
	if is.Begun = p.begun; !is.Begun {
		return
	}
	is.Each, is.Why = p.each, p.ratesWhy
	if is.Why == "" {
		if err := res.settle(); err != nil {
			is.Why, is.failed = err.Error(), err
			is.Poses, is.Soft, is.Ends = nil, nil, nil
		}
	}
	if is.Why == "" && res.in.Angles != nil {
		res.loadedLines()
	}
	if !res.in.Carried {
		return
	}
	if is.Why == "" {
		res.underWeight()
	} else {
		is.unknown(len(p.mounts))
	}
	shaking := p.shaking
	if up := res.upBeside(); len(up) > 0 {
		shaking = p.shake(up)
	}
	is.shake(&shaking)
	res.isolatorFindings()
}

func (is *Isolators) unknown(n int) {
	m := finding.Missing(is.Why)
	is.Sag = make([]finding.Number, n)
	for i := range is.Sag {
		is.Sag[i] = m
	}
	is.Drop, is.Tilt, is.Slope, is.Roll, is.Rock = m, m, m, m, m
}

// settle finds where the powertrain comes to rest and how it rocks.
func (res *Result) settle() error {
	is, s := &res.Isolators, &res.Statics
	if res.hungErr != nil {
		return res.hungErr
	}
	var loads []seat.Load
	if s.Torque.Known {
		loads = []seat.Load{res.pull.most().along(res.shaft)}
	}
	built := res.in.Pose.V
	var err error
	if is.Poses, err = res.hung.Envelope(built, loads); err != nil {
		return err
	}
	is.Soft = is.Poses
	estimates := 0
	for k, e := range res.p.ends {
		if !e.estimated {
			continue
		}
		estimates++
		var ends [2][]seat.NamedPose
		for end, hung := range res.ends[k] {
			if ends[end], err = hung.Envelope(built, loads); err != nil {
				return err
			}
		}
		is.Ends = append(is.Ends, ends)
	}
	switch estimates {
	case 0:
		return nil
	case 1:
		is.Soft = is.Ends[0][0]
		return nil
	}
	soft, err := res.hangWith(lowRates)
	if err != nil {
		return err
	}
	is.Soft, err = soft.Envelope(built, loads)
	return err
}

// open is a value read off the poses with the uncertainty that estimated rates
// give it: all soft together, or each mount by itself, whichever is more. One
// mount softer than its fellows tilts the powertrain as all of them do not.
func (res *Result) open(of func(ps []seat.NamedPose) float64) finding.Number {
	is := &res.Isolators
	v := of(is.Poses)
	return finding.Spread(v, res.endsOf(v, func(k, end int) float64 { return of(is.Ends[k][end]) }), res.p.all, of(is.Soft))
}

// endsOf is how far a value moves with each estimate of rates at its ends: at is
// the value with estimate k, in the order of Isolators.Ends, at its low (0) or its
// high end (1).
func (res *Result) endsOf(v float64, at func(k, end int) float64) []finding.End {
	var out []finding.End
	for _, e := range res.p.ends {
		if k := len(out); e.estimated && k < len(res.Isolators.Ends) {
			out = append(out, e.of.EndsOf(v, at(k, 0), at(k, 1)))
		}
	}
	return out
}

// underWeight reads sag, tilt and rock off the poses.
func (res *Result) underWeight() {
	is, s, built := &res.Isolators, &res.Statics, res.in.Pose.V
	drop := func(at r3.Vec) finding.Number {
		return res.open(func(ps []seat.NamedPose) float64 { return at.Z - ps[1].Motion.Point(at).Z })
	}
	is.Sag = make([]finding.Number, len(s.Mounts))
	for i := range is.Sag {
		is.Sag[i] = drop(res.pad(i))
	}
	is.Drop = drop(s.Body.V.Centre)
	is.Tilt = res.open(func(ps []seat.NamedPose) float64 { return (ps[1].Pose.Slope() - built.Slope()).Rad() })
	is.Slope = is.Tilt.Less(-built.Slope().Rad())
	is.Roll = res.open(func(ps []seat.NamedPose) float64 { return (ps[1].Pose.Roll() - built.Roll()).Rad() })
	is.Rock = finding.Missing(s.TorqueWhy)
	if s.Torque.Known {
		is.Rock = res.open(func(ps []seat.NamedPose) float64 {
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

// loadedLines finds the joint angles with the weight on, of lines that follow the
// powertrain. A line that has none says itself what it lacks.
func (res *Result) loadedLines() {
	is := &res.Isolators
	for _, l := range res.p.build.Lines {
		if l.First.Slope.Known() || res.in.Line != "" && res.in.Line != l.Name {
			continue // given by points: it does not follow the powertrain
		}
		lacks := false
		angles := func(ps []seat.NamedPose) []geom.Angle {
			at, err := res.in.Angles(l, ps[1].Pose)
			lacks = lacks || err != nil
			return at
		}
		middle, soft := angles(is.Poses), angles(is.Soft)
		ends := make([][2][]geom.Angle, len(is.Ends))
		for k, e := range is.Ends {
			ends[k] = [2][]geom.Angle{angles(e[0]), angles(e[1])}
		}
		if lacks {
			continue
		}
		loaded := LoadedLine{Line: l.Name, Joints: make([]finding.Number, len(middle))}
		for i := range middle {
			v := middle[i].Rad()
			loaded.Joints[i] = finding.Spread(v, res.endsOf(v, func(k, end int) float64 { return ends[k][end][i].Rad() }), res.p.all, soft[i].Rad())
		}
		is.Loaded = append(is.Loaded, loaded)
	}
}

// shaking is the bounce frequency and what of the shaking at idle gets through,
// of a powertrain that rests on its mounts.
type shaking struct{ firing, bounce, passed finding.Number }

// shake finds the bounce frequency and what of the shaking at idle gets
// through. Rubber is stiffer in vibration by a factor that is known only as a
// range; the uncertainty covers it, and that of estimated rates.
func (p *Prepared) shake(beside []upright) (out shaking) {
	t := p.build.Powertrain
	out.firing = finding.Missing("powertrain.cylinders is not in the file yet")
	if n, ok := t.Cylinders.Get(); ok {
		out.firing = finding.Missing("powertrain.idle is not in the file yet")
		if v, ok := t.Idle.Get(); ok {
			f, err := seat.Firing(int(math.Round(n)), v*30/math.Pi)
			if out.firing = finding.Exact(f); err != nil {
				out.firing = finding.Missing(err.Error())
			}
		}
	}
	if p.ratesWhy != "" || p.axesErr != nil || !t.Mass.Known() || t.Mass.V() == 0 {
		return out // it does not come to rest, and that says why
	}
	for _, r := range p.each {
		if r.Solid {
			out.bounce = finding.Missing("a mount that is bolted solid leaves nothing to bounce on")
			out.passed = finding.Exact(1)
			return out
		}
	}
	at := func(pick func(IsolatorRates) seat.Rates, stiffens func(dynamic) float64) (float64, error) {
		pads := p.springs(func(int) r3.Vec { return r3.Vec{} }, pick)
		for i := range pads {
			pads[i].Rates = pads[i].Rates.Scaled(stiffens(p.vibratesOf(i)))
		}
		for _, u := range beside {
			k := u.rate * stiffens(u.dynamic)
			pads = append(pads, seat.Upright("link", r3.Vec{}, seat.Rates{X: k, Y: k, Z: k}))
		}
		return seat.Bounce(seat.Body{Mass: t.Mass.V()}, pads, 1)
	}
	middle, err := at(middleRates, func(d dynamic) float64 { return d.middle })
	low, err1 := at(lowRates, func(d dynamic) float64 { return d.low })
	high, err2 := at(highRates, func(d dynamic) float64 { return d.high })
	if err := errors.Join(err, err1, err2); err != nil {
		out.bounce, out.passed = finding.Missing(err.Error()), finding.Missing(err.Error())
		return out
	}
	out.bounce = p.vibrates.Within(middle, max(high-middle, middle-low))
	out.passed = finding.Missing(out.firing.Why)
	if out.firing.Known {
		out.passed = p.passed(out.firing.V, p.damping(beside), middle, low, high)
	}
	return out
}

// damping is the damping ratio of the bounce: half the mounts' loss factors, by their
// rates up.
func (p *Prepared) damping(beside []upright) float64 {
	lost, sum := 0.0, 0.0
	for i, r := range p.each {
		d := p.vibratesOf(i)
		k := r.Rates.Z * d.middle
		lost, sum = lost+k*d.loss, sum+k
	}
	for _, u := range beside {
		k := u.rate * u.middle
		lost, sum = lost+k*u.loss, sum+k
	}
	if sum == 0 {
		return rubberDamping
	}
	return lost / sum / 2
}

// shake takes over what was found of the shaking, where the powertrain rests.
func (is *Isolators) shake(s *shaking) {
	is.Firing, is.Bounce, is.Passed = s.firing, s.bounce, s.passed
	if is.Why != "" {
		is.Bounce, is.Passed = finding.Missing(is.Why), finding.Missing(is.Why)
	}
}

// passed is what gets through at a shaking frequency, with the most that any
// bounce frequency between low and high lets through as its uncertainty.
func (p *Prepared) passed(shaking, damping, middle, low, high float64) finding.Number {
	at := func(bounce float64) float64 {
		t, err := seat.Transmissibility(shaking/bounce, damping)
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
	return p.vibrates.Within(value, max(most-value, 0))
}
