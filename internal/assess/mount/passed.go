package mount

import (
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/modes"
	"fitup/internal/geom/seat"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// steps is how finely the range of rates is looked through: a ninth of it changes a
// frequency by some 3 %, less than the width of a resonance of rubber.
const steps = 9

// passedAt works out what of the engine's shaking at a speed, rad/s, reaches the frame.
func (p *Prepared) passedAt(o *OrderPassed, s *Shaking, speed float64, key string) {
	missing := func(why string) {
		o.Why = why
		m := finding.Missing(why)
		o.Roll, o.Up, o.Worst, o.Once = m, m, m, m
	}
	o.Firing, o.OnceHz = finding.Missing(""), finding.Missing("")
	n, ok := p.build.Powertrain.Cylinders.Get()
	switch {
	case !ok:
		missing("powertrain.cylinders is not in the file yet")
	case !o.Asked:
		missing(key + " is not in the file yet")
	}
	if o.Why != "" {
		o.Firing, o.OnceHz = finding.Missing(o.Why), finding.Missing(o.Why)
		return
	}
	rpm := speed * 30 / math.Pi
	hz, err := seat.Firing(int(math.Round(n)), rpm)
	if err != nil {
		missing(err.Error())
		o.Firing, o.OnceHz = finding.Missing(o.Why), finding.Missing(o.Why)
		return
	}
	o.Firing, o.OnceHz = finding.Exact(hz), finding.Exact(modes.Order(rpm, 1))
	switch {
	case slices.ContainsFunc(p.each, func(r IsolatorRates) bool { return r.Solid }) && p.ratesWhy == "":
		all := finding.Exact(1)
		o.Roll, o.Up, o.Worst, o.Once = all, all, all, finding.Missing(s.Why)
		return
	case s.Why != "":
		missing(s.Why)
		return
	}
	up, roll, side := modes.Shaking{Force: r3.Vec{Z: 1}}, modes.Shaking{Torque: s.axes.X}, modes.Shaking{Force: r3.Vec{Y: 1}}
	if p.transaxle() {
		side.Force = r3.Vec{X: 1} // square to the crankshaft
	}
	firing := p.passes(s, hz, roll, up)
	o.Roll, o.Up = firing[0], firing[1]
	o.Worst, o.ByRoll = worseOf(p, o.Roll, o.Up)
	once := p.passes(s, o.OnceHz.V, up, side)
	o.Once, _ = worseOf(p, once[0], once[1])
}

// worseOf is the larger of two parts, open as far as either reaches, and whether it is
// the first.
func worseOf(p *Prepared, a, b finding.Number) (finding.Number, bool) {
	switch {
	case !a.Known:
		return a, true
	case !b.Known:
		return b, false
	}
	v, most := max(a.V, b.V), max(a.V+a.Expanded(), b.V+b.Expanded())
	if half := (most - v) * math.Sqrt(3) / 2; half > 0 { // the ± of a bound is 2/√3 of it
		return finding.Of(p.vibrates.Within(v, half).Number), a.V >= b.V
	}
	return finding.Exact(v), a.V >= b.V
}

// passes are the parts of shakings of one frequency that reach the frame, with the most
// that any state within what rates and moments of inertia leave open lets through.
func (p *Prepared) passes(s *Shaking, hz float64, fs ...modes.Shaking) []finding.Number {
	for i := range fs {
		fs[i].Frequency = hz
	}
	out := make([]finding.Number, len(fs))
	value, err := s.ready.Passes(modes.State{}, fs...)
	if err != nil {
		for i := range out {
			out[i] = finding.Missing(err.Error())
		}
		return out
	}
	most := slices.Clone(value)
	for _, heavy := range s.spread.heavies() {
		for _, t := range s.spread.looked(s, hz) {
			if t == 0 && heavy == 0 {
				continue
			}
			at, err := s.ready.Passes(s.spread.at(t, heavy), fs...)
			for i := range most {
				if err != nil {
					most[i] = math.Inf(1)
				} else {
					most[i] = max(most[i], at[i])
				}
			}
		}
	}
	for i, v := range value {
		switch {
		case math.IsInf(most[i], 0):
			out[i] = finding.Missing("within what is known of the rubber it may be shaken at a natural frequency that nothing damps; put the loss factor of its rubber in the file")
		case most[i] > v:
			out[i] = p.vibrates.Within(v, most[i]-v)
		default:
			out[i] = finding.Exact(v)
		}
	}
	return out
}

func (w *spread) heavies() []float64 {
	if w.heavy {
		return []float64{0, -1, 1}
	}
	return []float64{0}
}

// looked are the places in the range of rates that are looked at: even steps, and where
// a mode comes to the frequency.
func (w *spread) looked(s *Shaking, hz float64) []float64 {
	if !w.open {
		return []float64{0}
	}
	out := make([]float64, 0, steps+len(s.Modes))
	for i := range steps {
		out = append(out, 2*float64(i)/(steps-1)-1)
	}
	for _, e := range [2][2][6]float64{{s.ends[0], s.middle}, {s.middle, s.ends[1]}} {
		for i := range e[0] {
			a, b := e[0][i], e[1][i]
			if a < hz && hz < b {
				t := math.Log(hz/a) / math.Log(b/a)
				if e[0] == s.ends[0] {
					t--
				}
				out = append(out, t)
			}
		}
	}
	return out
}

// shakeFindings judge what of the shaking reaches the frame.
func (p *Prepared) shakeFindings(s *Shaking) []finding.Finding {
	var out []finding.Finding
	s.Assumes = p.shakeAssumes(s)
	add := func(id, when string, o *OrderPassed, rule project.Rule) {
		f := finding.Finding{ID: id, Title: "mounts, firing " + when + " that reaches the frame, by roll and bounce"}
		f.Judge(o.Worst, rule, false)
		if f.Status == finding.OK && s.Guessed {
			f.Status = finding.Tight
		}
		status := f.Status
		f.Says = finding.Say(finding.NotYet(f.Missing))
		if f.HasValue {
			f.Assumes = s.Assumes
			f.Says = func() string { return p.saysShake(s, o, when, status) }
		}
		out = append(out, f)
	}
	if s.Idle.Asked {
		add(finding.MountsShakeIdle, "at idle", &s.Idle, p.idle)
	}
	if s.Cruise.Asked {
		add(finding.MountsShakeCruise, "at cruise", &s.Cruise, p.idle)
	}
	return out
}

// shakeAssumes says what the shaking rests on that nobody has measured.
func (p *Prepared) shakeAssumes(s *Shaking) []string {
	if s.Why != "" {
		return nil
	}
	on := "mounts"
	if len(p.build.TorqueLinks) > 0 {
		on = "mounts and torque links"
	}
	out := []string{"powertrain and frame stiff, on its " + on + " alone: shafts, hoses and exhaust hold nothing"}
	given, lost := true, true
	for i := range p.mounts {
		d := p.vibratesOf(i)
		given, lost = given && d.given, lost && d.lossGiven
	}
	if !given {
		out = append(out, "rubber 1.2 to 2 times as stiff in vibration as under a steady load where the file does not say (common practice, no source)")
	}
	if !lost {
		out = append(out, "a loss factor of 0.1, as of natural rubber, where the file does not say (common practice, no source)")
	}
	if c := &p.build.Powertrain.Case; c.Turns() && c.Turned.Or(0) != 0 && !c.Weighed() {
		out = append(out, caseStays)
	}
	if s.Guessed {
		out = append(out, "moments of inertia estimated from its pieces, each as heavy as it is large, within a factor of 1.3")
	} else {
		out = append(out, "moments of inertia about the crankshaft's direction, square to it and upright, without products")
	}
	return out
}
