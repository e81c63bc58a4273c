package finding

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/geom/slip"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Misread is a number that does not fit what was measured beside it.
type Misread struct {
	Kind  quantity.Kind // Length or Angle
	Value float64       // as it was written, mm or rad
	// Other is what its other sign would mean, such as "the other end was lower"; "" where
	// it has none.
	Other string
	// Fits says how well a number would fit in its place: see slip.Likely.
	Fits func(v float64) (w float64, ok bool)
	// Tries are what it could have been, of Kind; made from Value where nil.
	Tries []slip.Try
	// Said is told each number that stands in the sentence, as it stands there; nil for not.
	Said func(v float64)
}

// Likely says what was likely done wrong with the number, found by trying what people do
// wrong; "" where none of it would make it fit.
func (m Misread) Likely(u quantity.Units) string {
	digits, all := 1, m.Tries
	if m.Kind != quantity.Length {
		digits = 2
	}
	switch {
	case all != nil:
	case m.Kind == quantity.Angle:
		all = slip.Shown(math.Abs(m.Value))
		for i := range all {
			all[i].Value = math.Copysign(all[i].Value, m.Value)
		}
	default:
		const far = 1000 // mm: one of the unit by what that many come to
		all = slip.Lengths(m.Value, slip.Scale{One: far / quantity.InUnit(m.Kind, far, u), Name: quantity.UnitName(m.Kind, u)})
	}
	if m.Other != "" {
		all = append(all, slip.Try{Kind: slip.Side, Value: -m.Value, What: m.Other})
	}
	return slip.Text(slip.Likely(all, m.Fits), func(v float64) string {
		if m.Other == "" || m.Kind == quantity.Angle {
			v = math.Abs(v)
		}
		if m.Said != nil {
			m.Said(v)
		}
		return quantity.Format(m.Kind, v, u, digits)
	})
}

// GaugeTries are the slips that a gauge reading may have in it, each with what the slope
// (rad, down to the rear positive) would be more without it: the other end lower, the
// gauge on a square face and not along or the other way round, the gauge turned so that
// its zero (bias, rad, 0 where it was not found) came off with the wrong sign, and what it
// showed with a slip in its digits. Never nil; empty for a reading that is no slope.
func GaugeTries(r project.Reading, bias float64) []slip.Try {
	out := []slip.Try{}
	as := gauge.Reading{Shown: geom.Angle(r.Shown.Or(0)), On: r.On.Gauge(), Lower: r.Lower.Gauge()}
	was, err := as.Slope()
	if err != nil {
		return out
	}
	add := func(k slip.Kind, what string, apart float64, with gauge.Reading) {
		if is, err := with.Slope(); err == nil && is != was {
			out = append(out, slip.Try{Kind: k, Value: (is - was).Rad(), What: what, Apart: apart})
		}
	}
	other := as
	other.Lower = map[gauge.End]gauge.End{gauge.Front: gauge.Rear, gauge.Rear: gauge.Front}[as.Lower]
	add(slip.Side, "the other end was lower", 0, other)
	for _, with := range [2]gauge.Reading{as, other} {
		face, what := with, "the gauge stood along the axis and not on a square face"
		if face.On = gauge.Along; as.On == gauge.Along {
			face.On, what = gauge.SquareFace, "the gauge stood on a square face and not along the axis"
		}
		add(slip.Face, what, 0, face)
	}
	if bias != 0 {
		for _, by := range [2]float64{2 * bias, -2 * bias} {
			out = append(out, slip.Try{Kind: slip.GaugeEnd, Value: by, What: "the gauge stood the other way round, or on the other face"})
		}
	}
	for _, t := range slip.Shown(as.Shown.Abs().Rad()) {
		with := as
		with.Shown = geom.Angle(t.Value)
		add(t.Kind, t.What, t.Apart, with)
	}
	return out
}
