package finding

import (
	"fmt"
	"math"

	"fitup/internal/uncertain"
)

// Within is the probability that the truth keeps the limit, false where it
// cannot be stated: nothing is known of how far the value may be off, or most of
// that is what a straight line leaves out, of which only the size is known.
func (f *Finding) Within() (probability float64, stated bool) {
	const mostly = 0.25
	if !f.HasValue || !f.HasLimit || f.number.U() == 0 || f.number.Bend() > mostly*f.number.Expanded() {
		return 0, false
	}
	if f.AtLeast {
		return f.number.AtLeast(f.Limit), true
	}
	return f.number.AtMost(f.Limit), true
}

// Largest are the sources that have most in the finding's ±, the larger first:
// two at most, and none where no uncertainty is claimed.
func (f *Finding) Largest() []uncertain.Share {
	if !f.HasValue {
		return nil
	}
	var out []uncertain.Share
	for _, s := range f.number.Largest() {
		if s.Part > 0 {
			out = append(out, s)
		}
	}
	return out
}

// sure says what a finding's ± comes from, which is what to take again where it
// is not ok, and how likely its limit is kept; "" where no uncertainty is claimed.
func (f *Finding) sure() string {
	const (
		alone = 0.75 // of the variance: then the other hardly matters
		some  = 0.02
	)
	from := f.Largest()
	if len(from) == 0 || f.Status == Elsewhere || f.Status == NotKnown {
		return ""
	}
	what := from[0].Label
	if len(from) > 1 && from[0].Part < alone && from[1].Part > some {
		what += " and " + from[1].Label
	}
	if f.Status == OK {
		return " Its ± is mostly " + what + "."
	}
	s := " Its ± is mostly " + what + ": that is what to take again."
	if f.Status == Over && f.Margin < -f.Uncertainty {
		return " Its ± is mostly " + what + "." // taken again it stays past it
	}
	if p, stated := f.Within(); stated {
		s += fmt.Sprintf(" It keeps its limit with a probability of %s.", percent(p))
	}
	return s
}

// percent is a probability in whole per cent, never none and never all.
func percent(p float64) string {
	switch whole := math.Round(100 * p); {
	case whole < 1:
		return "less than 1 %"
	case whole > 99:
		return "more than 99 %"
	default:
		return fmt.Sprintf("%.0f %%", whole)
	}
}
