// Package vibration tells which turning part of a vehicle shakes at which
// frequency, and which parts a shake that was felt may come from.
package vibration

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Part is what turns.
type Part uint8

// The parts.
const (
	Wheel Part = iota
	Shaft
	Engine
	HalfShaft // turns with its wheel
	Other     // none of these
)

// Cause is one thing that shakes: a part, and how often per turn.
type Cause struct {
	Part  Part
	Shaft int // index of the line for Shaft
	Order float64
	// Lo and Hi bound its frequency, Hz: a tyre's circumference is between
	// that of the flattened and of the round tyre.
	Lo, Hi float64
}

// Mid is the middle of the band, Hz.
func (c Cause) Mid() float64 { return (c.Lo + c.Hi) / 2 }

// Span is a speed of rotation known between two bounds, rad/s. The zero value
// is not known.
type Span struct{ Lo, Hi float64 }

// Known reports whether the speed is known.
func (s Span) Known() bool { return s.Lo > 0 && s.Hi >= s.Lo && !math.IsInf(s.Hi, 0) }

// Turning is one line at its axle end, and which joints it has.
type Turning struct {
	Span
	Cardan bool // single or double Cardan joints
	Even   bool // constant-velocity joints
}

// Speeds are what turns how fast at the moment of the shake.
type Speeds struct {
	Wheel      Span
	HalfShafts bool // shafts with constant-velocity joints go to the wheels
	Shafts     []Turning
	Engine     Span
	Cylinders  int // 0 when not known
}

// ErrStanding says that nothing is known to turn.
var ErrStanding = errors.New("no speed is known: give the road speed with a tyre and an axle ratio in the file, or the engine speed")

// Orders of a constant-velocity joint: a tripod joint at an angle shakes three
// times a turn, for its three rollers (Schmelz, Seherr-Thoss, Aucktor, Universal
// Joints and Driveshafts, from memory); a worn joint of six balls six times.
const (
	tripodOrder = 3
	ballOrder   = 6
)

// Orders returns what can shake at these speeds, in order of part and order:
// wheel once and twice a turn; shaft once (unbalance, run-out), twice where it
// has Cardan joints, which come round twice a turn, three and six times where it
// has constant-velocity joints; half shafts the same; engine half a turn (a
// cylinder of a four-stroke that does not fire), once (its unbalance) and at
// its firing frequency, half the cylinders per turn.
func Orders(s Speeds) ([]Cause, error) {
	var out []Cause
	add := func(p Part, n int, order float64, w Span) {
		if w.Known() {
			out = append(out, Cause{Part: p, Shaft: n, Order: order, Lo: order * w.Lo / (2 * math.Pi), Hi: order * w.Hi / (2 * math.Pi)})
		}
	}
	add(Wheel, 0, 1, s.Wheel)
	add(Wheel, 0, 2, s.Wheel)
	if s.HalfShafts {
		add(HalfShaft, 0, tripodOrder, s.Wheel)
		add(HalfShaft, 0, ballOrder, s.Wheel)
	}
	for i, w := range s.Shafts {
		add(Shaft, i, 1, w.Span)
		if w.Cardan {
			add(Shaft, i, 2, w.Span)
		}
		if w.Even {
			add(Shaft, i, tripodOrder, w.Span)
			add(Shaft, i, ballOrder, w.Span)
		}
	}
	add(Engine, 0, 0.5, s.Engine)
	add(Engine, 0, 1, s.Engine)
	if s.Cylinders < 0 || s.Cylinders > 24 {
		return nil, fmt.Errorf("an engine with %d cylinders: 1 to 24 is wanted", s.Cylinders)
	}
	if f := float64(s.Cylinders) / 2; f > 1 { // below, it is one of those above
		add(Engine, 0, f, s.Engine)
	}
	if len(out) == 0 {
		return nil, ErrStanding
	}
	return out, nil
}

// Felt is what was measured of a shake.
type Felt struct {
	Frequency float64 // Hz; 0 when none was measured
	U         float64 // one standard uncertainty of it, Hz
	// Rate is how many samples a second whatever measured it takes; 0 when it
	// does not sample, or not too slowly for anything here.
	Rate float64
}

// Alias returns the frequency (Hz) at which something that takes rate samples a
// second shows a shake of f: above half the rate the spectrum is folded back
// (sampling theorem, Shannon 1949). A rate of 0 does not sample.
func Alias(f, rate float64) float64 {
	if rate <= 0 {
		return f
	}
	return math.Abs(f - rate*math.Round(f/rate))
}

// Fit says how well a felt frequency (Hz), good to u (Hz, one standard
// uncertainty), goes with a cause: 1 inside its band, less with the distance
// from it, by the normal law. The speed was read off a dial, which adds two
// per cent (common practice, no source).
func (c Cause) Fit(felt, u float64) (float64, error) {
	if !(felt > 0) || math.IsInf(felt, 0) || !(u >= 0) || math.IsInf(u, 0) {
		return 0, errors.New("a frequency above zero is wanted, such as 26 Hz")
	}
	const dial = 0.02
	sigma := math.Hypot(u, dial*c.Mid())
	d := max(c.Lo-felt, felt-c.Hi, 0)
	return math.Exp(-d * d / (2 * sigma * sigma)), nil
}

// fitFolded is Fit with every frequency that folds back onto what was felt, and
// the one that fits best. A folded one counts half: it would be chance.
func (c Cause) fitFolded(felt Felt) (fit, at float64, err error) {
	fit, err = c.Fit(felt.Frequency, felt.U)
	at = felt.Frequency
	if err != nil || felt.Rate <= 0 {
		return fit, at, err
	}
	const chance = 0.5
	for k := 1.0; (k-1)*felt.Rate <= c.Hi && k < 100; k++ {
		for _, f := range []float64{k*felt.Rate - felt.Frequency, k*felt.Rate + felt.Frequency} {
			if f <= felt.Rate/2 {
				continue
			}
			if x, err := c.Fit(f, felt.U); err == nil && chance*x > fit {
				fit, at = chance*x, f
			}
		}
	}
	return fit, at, nil
}

// Ranked is a cause with its share of the suspicion.
type Ranked struct {
	Cause
	Fit    float64 // with the felt frequency; 1 when none was given
	Folded float64 // the frequency it would really have, when it fits only folded back, Hz
	Share  float64 // of all, 0 to 1
}

// strangerFit is how well something that nobody thought of goes with any
// frequency: as well as a known cause that is two standard uncertainties off.
var strangerFit = math.Exp(-2)

// Rank sorts causes by suspicion: how well each fits what was felt times the
// weight that the build's own numbers give it. Among them stands Other, for none
// of these: what was felt may come from a thing that is not in the list, and
// does when nothing in it fits.
func Rank(causes []Cause, weights []float64, felt Felt) ([]Ranked, error) {
	if len(weights) != len(causes) {
		return nil, fmt.Errorf("%d causes and %d weights", len(causes), len(weights))
	}
	if !(felt.Rate >= 0) || math.IsInf(felt.Rate, 0) {
		return nil, errors.New("samples a second are above zero")
	}
	out := make([]Ranked, len(causes), len(causes)+1)
	sum := strangerFit
	for i, c := range causes {
		if !(weights[i] >= 0) || math.IsInf(weights[i], 0) {
			return nil, fmt.Errorf("a weight of %g is none", weights[i])
		}
		out[i] = Ranked{Cause: c, Fit: 1}
		if felt.Frequency != 0 {
			fit, at, err := c.fitFolded(felt)
			if err != nil {
				return nil, err
			}
			out[i].Fit = fit
			if at != felt.Frequency {
				out[i].Folded = at
			}
		}
		out[i].Share = out[i].Fit * weights[i]
		sum += out[i].Share
	}
	out = append(out, Ranked{Cause: Cause{Part: Other}, Fit: strangerFit, Share: strangerFit})
	for i := range out {
		out[i].Share /= sum
	}
	slices.SortStableFunc(out, func(a, b Ranked) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
	return out, nil
}
