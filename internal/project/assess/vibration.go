package assess

import (
	"fmt"
	"math"
	"strconv"

	"fitup/internal/geom/vibration"
	"fitup/internal/geom/wheel"
	"fitup/internal/project"
)

// Shake is what is known of a vibration: at which speed it is felt, and its
// frequency where a phone or an ear told it. Zero is not known.
type Shake struct {
	Road      float64 // mm/s
	Engine    float64 // rad/s
	Gear      int     // 1 is first; 0 not known
	Frequency float64 // Hz
}

// phone is how well a phone tells a frequency, Hz: common practice, no source.
const phone = 0.5

// Suspect is one thing a shake may come from.
type Suspect struct {
	vibration.Ranked
	What string // "rear shaft, twice a turn: its universal joints"
	Why  string // what in this build's own numbers speaks for it, or how much is not known
	Test string // what tells it from the others
}

// Shaking is the answer of the vibration finder.
type Shaking struct {
	Suspects []Suspect
	Notes    []string // what was left out because it is not known
	Tests    []string // in the order to do them
}

// FindShake ranks what a shake can come from by this build's own numbers.
func (a *Assessment) FindShake(s Shake) (Shaking, error) {
	for _, v := range []float64{s.Road, s.Engine, s.Frequency} {
		if v < 0 || math.IsNaN(v) || math.IsInf(v, 0) {
			return Shaking{}, fmt.Errorf("speeds and frequencies are above zero")
		}
	}
	var out Shaking
	speeds, err := a.turning(s, &out)
	if err != nil {
		return Shaking{}, err
	}
	causes, err := vibration.Orders(speeds)
	if err != nil {
		return Shaking{}, err
	}
	weights, whys := make([]float64, len(causes)), map[vibration.Cause]string{}
	for i, c := range causes {
		weights[i], whys[c] = a.suspicion(c)
	}
	ranked, err := vibration.Rank(causes, weights, s.Frequency, phone)
	if err != nil {
		return Shaking{}, err
	}
	for _, r := range ranked {
		out.Suspects = append(out.Suspects, Suspect{Ranked: r, What: a.what(r.Cause), Why: whys[r.Cause], Test: testOf(r.Part, r.Order)})
	}
	out.Tests = separating(out.Suspects)
	return out, nil
}

// turning is what turns how fast. The tyre's circumference lies between that
// it rolls and that of the round tyre, so wheel and shaft have a span.
func (a *Assessment) turning(s Shake, out *Shaking) (vibration.Speeds, error) {
	var v vibration.Speeds
	note := func(format string, args ...any) { out.Notes = append(out.Notes, fmt.Sprintf(format, args...)) }
	b := a.Build
	if n, ok := b.Powertrain.Cylinders.Get(); ok {
		v.Cylinders = int(n)
	} else {
		note("powertrain.cylinders is not in the file yet, so the engine's firing is left out")
	}
	gear, err := a.gear(s.Gear)
	if err != nil {
		return v, err
	}
	if s.Engine > 0 {
		v.Engine = vibration.Span{Lo: s.Engine, Hi: s.Engine}
	}
	v.Shafts = make([]vibration.Span, len(b.Lines))
	round, rolling, err := a.circumferences()
	if err != nil {
		note("%v, so wheels are left out", err)
	} else if s.Road > 0 {
		v.Wheel = vibration.Span{Lo: 2 * math.Pi * s.Road / round, Hi: 2 * math.Pi * s.Road / rolling}
	}
	for i, l := range b.Lines {
		if b.Direct(l) {
			continue // half shafts turn with the wheels
		}
		ratio, ok := l.Ratio.Get()
		switch {
		case v.Wheel.Known() && ok && ratio > 0:
			v.Shafts[i] = vibration.Span{Lo: v.Wheel.Lo * ratio, Hi: v.Wheel.Hi * ratio}
		case v.Engine.Known() && gear > 0:
			w := s.Engine / gear / l.Reduction.Or(1)
			v.Shafts[i] = vibration.Span{Lo: w, Hi: w}
		case !ok:
			note("line.%s.ratio is not in the file yet, so the %s shaft is left out", l.Name, l.Name)
		}
	}
	for _, w := range v.Shafts {
		if !v.Engine.Known() && gear > 0 && w.Known() {
			v.Engine = vibration.Span{Lo: w.Lo * gear, Hi: w.Hi * gear}
		}
	}
	if final, err := a.final(); err == nil && b.Powertrain.Layout == project.Transaxle && gear > 0 && v.Wheel.Known() && !v.Engine.Known() {
		v.Engine = vibration.Span{Lo: v.Wheel.Lo * final * gear, Hi: v.Wheel.Hi * final * gear}
	} else if err != nil && b.Powertrain.Layout == project.Transaxle {
		note("%v, so the engine's speed does not follow from that of the wheels", err)
	}
	if !v.Engine.Known() {
		note("give the engine speed or the gear to bring the engine in")
	}
	return v, nil
}

// gear is the ratio of a gear, 0 when none was given.
func (a *Assessment) gear(n int) (float64, error) {
	gears := a.Build.Powertrain.Gears
	switch {
	case n == 0:
		return 0, nil
	case len(gears) == 0:
		return 0, fmt.Errorf("powertrain.gears is not in the file yet, so a gear says nothing")
	case n < 1 || n > len(gears):
		return 0, fmt.Errorf("gear %d: the file has gears 1 to %d", n, len(gears))
	}
	return gears[n-1].V(), nil
}

// circumferences are those of the round and of the rolling tyre, mm.
func (a *Assessment) circumferences() (round, rolling float64, err error) {
	v := a.Build.Vehicle
	var t wheel.Tyre
	switch d, ok := v.WheelDiameter.Get(); {
	case v.Tyre != "":
		if t, err = wheel.Parse(v.Tyre); err != nil {
			return 0, 0, err
		}
	case ok:
		t = wheel.Tyre{Measured: d}
	default:
		return 0, 0, fmt.Errorf("vehicle.tyre is not in the file yet")
	}
	if round, err = t.Round(); err != nil {
		return 0, 0, err
	}
	rolling, err = t.Rolling()
	return max(round, rolling), min(round, rolling), err
}

// Weights of the ranking: how often each is to blame, all else being equal.
// Set by fitup.
const (
	usualWheel, usualUnbalance, usualJoint = 1.0, 1.0, 1.0
	usualFiring, usualEngine, usualRare    = 0.5, 0.5, 0.3
)

// suspicion is the weight of a cause by this build's own numbers, and what
// they say.
func (a *Assessment) suspicion(c vibration.Cause) (float64, string) {
	switch {
	case c.Part == vibration.Wheel && c.Order == 1:
		return usualWheel, "wheels and tyres are the usual cause where nothing else speaks for another"
	case c.Part == vibration.Wheel:
		return usualRare, "an oval tyre or rim"
	case c.Part == vibration.Engine && c.Order == 0.5:
		return usualRare, "a cylinder that does not do its part"
	case c.Part == vibration.Engine && c.Order == 1:
		return usualEngine, "flywheel, clutch or damper"
	case c.Part == vibration.Engine:
		return usualFiring, "felt where an isolator is hard, bottoms or touches the frame"
	case c.Order == 2:
		return a.jointSuspicion(c)
	}
	return a.unbalanceSuspicion(c)
}

// jointSuspicion ranks universal joints by how near their uneven running is to
// its limit at the line's largest speed, or their angles where that is not
// known.
func (a *Assessment) jointSuspicion(c vibration.Cause) (float64, string) {
	l := a.Lines[c.Shaft]
	ratio, what := -1.0, ""
	see := func(id string) {
		f, ok := a.Finding(id)
		if !ok || !f.HasValue || !f.HasLimit || f.Limit <= 0 {
			return
		}
		if r := f.Value / f.Limit; r > ratio {
			ratio, what = r, fmt.Sprintf("%s is at %.0f %% of its limit", f.Title, 100*r)
		}
	}
	see("line." + l.Name + ".residual")
	if ratio < 0 {
		for _, s := range l.Shafts {
			see(fmt.Sprintf("line.%s.shaft.%d.mismatch", l.Name, s.Number))
		}
		for _, j := range l.Joints {
			see(fmt.Sprintf("line.%s.joint.%d.max", l.Name, j.Number))
		}
	}
	if ratio < 0 {
		return usualJoint, "joint angles are not known yet; read them"
	}
	return usualJoint * min(0.3+1.4*ratio*ratio, 4), what
}

// unbalanceSuspicion ranks a shaft by how near it turns to its whirling speed.
func (a *Assessment) unbalanceSuspicion(c vibration.Cause) (float64, string) {
	l := a.Lines[c.Shaft]
	worst, what := 0.0, "unbalance or run-out: a lost weight, a bent tube, dirt on a flange"
	for _, s := range l.Shafts {
		if s.Tube.Given && s.Tube.Whirl.Known && s.Tube.Whirl.V > 0 {
			if r := 2 * math.Pi * c.Mid() / s.Tube.Whirl.V; r > worst {
				worst = r
				what = fmt.Sprintf("it turns at %.0f %% of its whirling speed", 100*r)
			}
		}
	}
	return usualUnbalance * min(1+3*worst*worst, 4), what
}

func (a *Assessment) what(c vibration.Cause) string {
	times := map[float64]string{0.5: "once in two turns", 1: "once a turn", 2: "twice a turn"}[c.Order]
	if times == "" {
		times = strconv.FormatFloat(c.Order, 'f', -1, 64) + " times a turn"
	}
	switch {
	case c.Part == vibration.Wheel && c.Order == 1:
		return "wheel, " + times + ": balance, run-out or a bent rim"
	case c.Part == vibration.Wheel:
		return "wheel, " + times + ": an oval tyre"
	case c.Part == vibration.Shaft && c.Order == 2:
		return a.Lines[c.Shaft].Name + " shaft, " + times + ": its universal joints"
	case c.Part == vibration.Shaft:
		return a.Lines[c.Shaft].Name + " shaft, " + times + ": unbalance or run-out"
	case c.Order == 0.5:
		return "engine, " + times + ": one cylinder"
	case c.Order == 1:
		return "engine, " + times + ": flywheel, clutch or damper"
	}
	return "engine, " + times + ": firing"
}

const (
	neutralTest = "Same road speed, clutch down and neutral, engine at idle, where it is safe: if it stays, wheel or shaft; if it goes, engine or drive torque."
	gearTest    = "Same road speed in another gear: if it stays, wheel or shaft; if it moves, engine."
	standTest   = "Standing, the same engine speed in neutral, exhaust led outside: if it is there, engine or its mounts."
	torqueTest  = "Same road speed pulling, then coasting in gear: if it changes, universal joints or mounts; unbalance stays as it is."
	wheelTest   = "Change the wheels front to rear: if the shake moves to the other end of the vehicle, a wheel; or tell by the frequency, which is lower than the shaft's by the axle ratio."
)

func testOf(p vibration.Part, order float64) string {
	switch {
	case p == vibration.Engine:
		return standTest
	case p == vibration.Wheel:
		return wheelTest
	case order == 2:
		return torqueTest
	}
	return neutralTest
}

// separating lists the tests that tell the suspects apart, the one that splits
// most first.
func separating(suspects []Suspect) []string {
	var engine, rolling, wheels, shafts bool
	for _, s := range suspects {
		if s.Share < 0.02 {
			continue
		}
		engine = engine || s.Part == vibration.Engine
		rolling = rolling || s.Part != vibration.Engine
		wheels = wheels || s.Part == vibration.Wheel
		shafts = shafts || s.Part == vibration.Shaft
	}
	var out []string
	if engine && rolling {
		out = append(out, neutralTest, gearTest)
	}
	if shafts {
		out = append(out, torqueTest)
	}
	if wheels {
		out = append(out, wheelTest)
	}
	if engine {
		out = append(out, standTest)
	}
	if rolling && !engine {
		out = append(out, neutralTest)
	}
	return out
}
