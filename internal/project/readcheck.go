package project

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/project/quantity"
)

// ErrNoSense says that a reading does not say which end is lower, and its slope depends
// on it.
var ErrNoSense = gauge.ErrNoSense

// Slope returns what the reading amounts to: the slope of the axis, rad, down to
// the rear positive. The error says what the reading lacks or contradicts;
// ErrNoSense may be behind it.
func (r TypedReading) Slope(u quantity.Units) (float64, error) {
	shown, err := quantity.Parse(quantity.Angle, r.Shown, u)
	if err != nil {
		return 0, err
	}
	s, err := gauge.Reading{Shown: geom.Angle(shown), On: r.On.Gauge(), Lower: r.Lower.Gauge()}.Slope()
	return s.Rad(), err
}

// Heading returns the direction in plan that a reading by tape amounts to: rad,
// rear end to the right positive, atan(aside/over).
func (r TypedReading) Heading(u quantity.Units) (float64, error) {
	aside, err := quantity.Parse(quantity.Offset, r.Aside, u)
	if err != nil {
		return 0, err
	}
	if strings.TrimSpace(r.Over) == "" {
		return 0, errors.New("over which length along the vehicle was it measured? such as 1000 mm")
	}
	over, err := quantity.Parse(quantity.Length, r.Over, u)
	if err != nil {
		return 0, err
	}
	if err := asideFault(aside, over); err != nil {
		return 0, err
	}
	return math.Atan2(aside, over), nil
}

// Nose says in the trade's words how a pinion looks that slopes so (rad, down to
// the rear positive), "" for what is no pinion or level. The nose of a rear axle
// looks to the front and that of a front axle to the rear, so the same slope
// has it up on one and down on the other.
func (b *Build) Nose(target string, slope float64) string {
	for _, l := range b.Lines {
		if target != l.PinionTarget() || math.Abs(slope) < 1e-9 {
			continue
		}
		if (slope > 0) != (l.Toward == TowardFront) {
			return "pinion nose up"
		}
		return "pinion nose down"
	}
	return ""
}

// Target returns the target of a reading that word means: the target itself, or
// its end where only one target ends so, as in pinion or rear.shaft.1.
func (b *Build) Target(word string) (string, error) {
	targets := b.Targets()
	var found []string
	for _, t := range targets {
		if t == word {
			return t, nil
		}
		for _, end := range []string{word, word + ".1"} {
			if word != "" && strings.HasSuffix(t, "."+end) {
				found = append(found, t)
			}
		}
	}
	if len(found) == 1 {
		return found[0], nil
	}
	if len(found) > 1 {
		targets = found
	}
	return "", fmt.Errorf("read %q; want one of: %s", Printable(word), strings.Join(targets, ", "))
}

// IsPath reports whether a build file can have a value at path.
func IsPath(path string) bool {
	t, ok := typeAt(path)
	return ok && isValue(t)
}

// Choices lists the words that the value at path may be, nil when it is free.
func Choices(path string) []string {
	t, ok := typeAt(path)
	if !ok {
		return nil
	}
	if w, ok := reflect.New(t).Elem().Interface().(worded); ok {
		return w.Words()
	}
	if t.Kind() == reflect.Bool {
		return []string{"true", "false"}
	}
	return nil
}
