// Package shake ranks what a vibration of the vehicle can come from, by the
// numbers of this build and the speed at which it is felt.
package shake

import (
	"fmt"
	"math"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/vibration"
	"fitup/internal/geom/wheel"
	"fitup/internal/project"
)

// Input is what the finder goes by besides the vibration itself.
type Input struct {
	Build *project.Build
	Lines []Line // in the order of the build's
	Tyre  finding.Maybe[wheel.Tyre]
	Final finding.Number // ratio of the final drive in a transaxle
	// Swings are the ways in which the powertrain swings by itself on its mounts.
	Swings []Swing
}

// Swing is a way in which the powertrain swings by itself.
type Swing struct {
	Said string  // roll about the crank 14.0 Hz
	Hz   float64 // its frequency
}

// nearSwing is within what part of a swing's frequency the engine rouses it: about the
// width of a resonance of rubber twice over (common practice, no source).
const nearSwing = 0.1

// roused says which way of swinging on its mounts a cause by the engine comes near to.
func (in *Input) roused(c vibration.Cause) (string, bool) {
	if c.Part != vibration.Engine {
		return "", false
	}
	best, said := nearSwing, ""
	for _, s := range in.Swings {
		if off := math.Abs(c.Mid()-s.Hz) / s.Hz; off <= best {
			best, said = off, s.Said
		}
	}
	return said, said != ""
}

// Line is what is known of one line.
type Line struct {
	Name   string
	Joints []project.JointKind
	// Uneven are the findings on how unevenly the line as a whole runs, and Angles
	// those on its joints one by one, which count where the first tell nothing.
	Uneven, Angles []finding.Finding
	Whirl          []finding.Number // rad/s, at which each tube in the file whirls
}

// Felt is what is known of a vibration: at which speed it is felt, and its
// frequency where a phone or an ear told it. Zero is not known.
type Felt struct {
	Road      float64 // mm/s
	Engine    float64 // rad/s
	Gear      int     // 1 is first; 0 not known
	Range     Range
	Frequency float64 // Hz
	Rate      float64 // samples a second of the phone that told it
}

// Range is the range of a transfer case with a reduction.
type Range string

// The ranges; the empty one is not known.
const (
	HighRange Range = "high"
	LowRange  Range = "low"
)

// phone is how well a phone tells a frequency, Hz: common practice, no source.
const phone = 0.5

// usualRates are how many samples a second phones take of a shake: common
// practice, no source. The slowest that could have shown a frequency is assumed.
var usualRates = []float64{100, 200}

// sampling is the rate that what told the frequency sampled at, 0 when it
// cannot have been a phone's usual one.
func (s Felt) sampling() float64 {
	if s.Rate > 0 {
		return s.Rate
	}
	for _, r := range usualRates {
		if s.Frequency <= r/2 {
			return r
		}
	}
	return 0
}

// Suspect is one thing a shake may come from, or none of them.
type Suspect struct {
	vibration.Ranked
	What string // "rear shaft, twice a turn: its universal joints"
	Why  string // what in this build's own numbers speaks for it, or how much is not known
	Test string // what tells it from the others
}

// None reports whether it stands for none of the others; it has no frequency.
func (s Suspect) None() bool { return s.Part == vibration.Other }

// Shaking is the answer of the vibration finder.
type Shaking struct {
	Suspects []Suspect
	Notes    []string // what was left out because it is not known, and what was assumed
	Tests    []string // in the order to do them
}

// Find ranks what a shake can come from by this build's own numbers. It refuses
// speeds that contradict each other.
func (in *Input) Find(s Felt) (Shaking, error) {
	for _, v := range []float64{s.Road, s.Engine, s.Frequency, s.Rate} {
		if v < 0 || math.IsNaN(v) || math.IsInf(v, 0) {
			return Shaking{}, fmt.Errorf("speeds and frequencies are above zero")
		}
	}
	if s.Range != "" && s.Range != HighRange && s.Range != LowRange {
		return Shaking{}, fmt.Errorf("read %q for the range; high or low is wanted", string(s.Range))
	}
	if s.Rate > 0 && s.Frequency > s.Rate/2 {
		return Shaking{}, fmt.Errorf("%g samples a second show nothing above %g Hz, so the frequency or the samples are not as given", s.Rate, s.Rate/2)
	}
	var out Shaking
	speeds, err := in.turning(s, &out)
	if err != nil {
		return Shaking{}, err
	}
	causes, err := vibration.Orders(speeds)
	if err != nil {
		return Shaking{}, err
	}
	weights, whys := make([]float64, len(causes)), map[vibration.Cause]string{}
	for i, c := range causes {
		weights[i], whys[c] = in.suspicion(c)
		if said, ok := in.roused(c); ok {
			weights[i] *= 2
			whys[c] = "the powertrain on its mounts swings near there by itself: " + said
		}
	}
	rate := s.sampling()
	ranked, err := vibration.Rank(causes, weights, vibration.Felt{Frequency: s.Frequency, U: phone, Rate: rate})
	if err != nil {
		return Shaking{}, err
	}
	folded := false
	for _, r := range ranked {
		x := Suspect{Ranked: r, What: in.what(r.Cause), Why: whys[r.Cause], Test: testOf(r.Part, r.Order)}
		if r.Part == vibration.Other {
			x.Why = strangerWhy(s)
		} else if rate > 0 && r.Mid() > rate/2 {
			folded = true
			x.Why += fmt.Sprintf("; a phone that takes %g samples a second shows it near %.1f Hz", rate, vibration.Alias(r.Mid(), rate))
		}
		out.Suspects = append(out.Suspects, x)
	}
	if folded && s.Rate == 0 {
		out.Notes = append(out.Notes, fmt.Sprintf("the phone is taken to sample %g times a second, as many do, so what is above %g Hz shows at a lower frequency; give its rate when it is known", rate, rate/2))
	}
	out.Tests = separating(out.Suspects)
	return out, nil
}

func strangerWhy(s Felt) string {
	if s.Frequency == 0 {
		return "exhaust, brakes, bearings, accessories, a loose part or the road are not in this list; a frequency would tell more"
	}
	return fmt.Sprintf("exhaust, brakes, bearings, accessories, a loose part or the road; or the speed was another one than given when %.1f Hz was felt", s.Frequency)
}

// Weights of the ranking: how often each is to blame, all else being equal.
// Set by fitup.
const (
	usualWheel, usualUnbalance, usualJoint = 1.0, 1.0, 1.0
	usualFiring, usualEngine, usualRare    = 0.5, 0.5, 0.3
)

// suspicion is the weight of a cause by this build's own numbers, and what
// they say.
func (in *Input) suspicion(c vibration.Cause) (float64, string) {
	switch {
	case c.Part == vibration.HalfShaft:
		return usualRare, "felt while pulling, and more with the wheels turned or the axle low"
	case c.Part == vibration.Shaft && c.Order > 2:
		return usualRare, "felt while pulling, and more the larger its angle"
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
		return in.jointSuspicion(c)
	}
	return in.unbalanceSuspicion(c)
}

// jointSuspicion ranks universal joints by how near their uneven running is to
// its limit at the line's largest speed, or their angles where that is not
// known.
func (in *Input) jointSuspicion(c vibration.Cause) (float64, string) {
	l := in.Lines[c.Shaft]
	ratio, what := -1.0, ""
	see := func(fs []finding.Finding) {
		for _, f := range fs {
			if !f.HasValue || !f.HasLimit || f.Limit <= 0 {
				continue
			}
			if r := f.Value / f.Limit; r > ratio {
				ratio, what = r, fmt.Sprintf("%s is at %.0f %% of its limit", f.Title, 100*r)
			}
		}
	}
	if see(l.Uneven); ratio < 0 {
		see(l.Angles)
	}
	if ratio < 0 {
		return usualJoint, "joint angles are not known yet; read them"
	}
	return usualJoint * min(0.3+1.4*ratio*ratio, 4), what
}

// unbalanceSuspicion ranks a shaft by how near it turns to its whirling speed.
func (in *Input) unbalanceSuspicion(c vibration.Cause) (float64, string) {
	l := in.Lines[c.Shaft]
	worst, what := 0.0, "unbalance or run-out: a lost weight, a bent tube, dirt on a flange"
	for _, whirl := range l.Whirl {
		if whirl.Known && whirl.V > 0 {
			if r := 2 * math.Pi * c.Mid() / whirl.V; r > worst {
				worst = r
				what = fmt.Sprintf("it turns at %.0f %% of its whirling speed", 100*r)
			}
		}
	}
	return usualUnbalance * min(1+3*worst*worst, 4), what
}

func (in *Input) what(c vibration.Cause) string {
	times := map[float64]string{0.5: "once in two turns", 1: "once a turn", 2: "twice a turn"}[c.Order]
	if times == "" {
		times = strconv.FormatFloat(c.Order, 'f', -1, 64) + " times a turn"
	}
	joint := " a constant-velocity joint, worn, or one with three rollers at an angle"
	if c.Order > 3 {
		joint = " a constant-velocity joint with six balls, worn"
	}
	switch {
	case c.Part == vibration.Other:
		return "none of these"
	case c.Part == vibration.HalfShaft:
		return "half shaft, " + times + ":" + joint
	case c.Part == vibration.Shaft && c.Order > 2:
		return in.Lines[c.Shaft].Name + " shaft, " + times + ":" + joint
	case c.Part == vibration.Wheel && c.Order == 1:
		return "wheel, " + times + ": balance, run-out or a bent rim"
	case c.Part == vibration.Wheel:
		return "wheel, " + times + ": an oval tyre"
	case c.Part == vibration.Shaft && c.Order == 2:
		return in.Lines[c.Shaft].Name + " shaft, " + times + ": its universal joints"
	case c.Part == vibration.Shaft:
		return in.Lines[c.Shaft].Name + " shaft, " + times + ": unbalance or run-out"
	case c.Order == 0.5:
		return "engine, " + times + ": one cylinder"
	case c.Order == 1:
		return "engine, " + times + ": flywheel, clutch or damper"
	}
	return "engine, " + times + ": firing"
}

const (
	strangerTest = "Nothing that this file knows of fits: read speed, gear and frequency once more at the same time, then look for what is loose, rubs or hums: exhaust, brakes, bearings, accessories."
	neutralTest  = "Same road speed, clutch down and neutral, engine at idle, where it is safe: if it stays, wheel or shaft; if it goes, engine or drive torque."
	gearTest     = "Same road speed in another gear: if it stays, wheel or shaft; if it moves, engine."
	standTest    = "Standing, the same engine speed in neutral, exhaust led outside: if it is there, engine or its mounts."
	torqueTest   = "Same road speed pulling, then coasting in gear: if it changes, universal joints or mounts; unbalance stays as it is."
	wheelTest    = "Change the wheels front to rear: if the shake moves to the other end of the vehicle, a wheel; or tell by the frequency, which is lower than the shaft's by the axle ratio."
)

func testOf(p vibration.Part, order float64) string {
	switch {
	case p == vibration.Other:
		return ""
	case p == vibration.HalfShaft, p == vibration.Shaft && order > 2:
		return torqueTest
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
		if s.Share < 0.02 || s.Part == vibration.Other {
			continue
		}
		engine = engine || s.Part == vibration.Engine
		rolling = rolling || s.Part != vibration.Engine
		wheels = wheels || s.Part == vibration.Wheel
		shafts = shafts || s.Part == vibration.Shaft || s.Part == vibration.HalfShaft
	}
	var out []string
	if len(suspects) > 0 && suspects[0].Part == vibration.Other && suspects[0].Share > 0.5 {
		out = append(out, strangerTest)
	}
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
