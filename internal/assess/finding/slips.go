package finding

import (
	"math"

	"fitup/internal/geom/slip"
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
		return quantity.Format(m.Kind, v, u, digits)
	})
}
