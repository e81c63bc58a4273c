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

// Speeds are what turns how fast at the moment of the shake.
type Speeds struct {
	Wheel     Span
	Shafts    []Span // one for each line, at its axle end
	Engine    Span
	Cylinders int // 0 when not known
}

// ErrStanding says that nothing is known to turn.
var ErrStanding = errors.New("no speed is known: give the road speed with a tyre and an axle ratio in the file, or the engine speed")

// Orders returns what can shake at these speeds, in order of part and order:
// wheel once and twice a turn, shaft once (unbalance, run-out), shaft twice
// (universal joints, which come round twice a turn), engine half a turn (a
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
	for i, w := range s.Shafts {
		add(Shaft, i, 1, w)
		add(Shaft, i, 2, w)
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

// Ranked is a cause with its share of the suspicion.
type Ranked struct {
	Cause
	Fit   float64 // with the felt frequency; 1 when none was given
	Share float64 // of all, 0 to 1
}

// Rank sorts causes by suspicion: how well each fits what was felt times the
// weight that the build's own numbers give it. felt 0 means that no frequency
// was measured.
func Rank(causes []Cause, weights []float64, felt, u float64) ([]Ranked, error) {
	if len(weights) != len(causes) {
		return nil, fmt.Errorf("%d causes and %d weights", len(causes), len(weights))
	}
	out := make([]Ranked, len(causes))
	sum := 0.0
	for i, c := range causes {
		if !(weights[i] >= 0) || math.IsInf(weights[i], 0) {
			return nil, fmt.Errorf("a weight of %g is none", weights[i])
		}
		fit := 1.0
		if felt != 0 {
			var err error
			if fit, err = c.Fit(felt, u); err != nil {
				return nil, err
			}
		}
		out[i] = Ranked{Cause: c, Fit: fit, Share: fit * weights[i]}
		sum += out[i].Share
	}
	for i := range out {
		if sum > 0 {
			out[i].Share /= sum
		}
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
