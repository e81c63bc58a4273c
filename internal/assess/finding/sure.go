package finding

import (
	"fmt"
	"math"
	"strings"

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

// SureText is Within in words, "" where it cannot be stated.
func (f *Finding) SureText() string {
	sure, stated := f.Within()
	switch {
	case !stated:
		return ""
	case sure > 0.995:
		return "> 99 %"
	case sure < 0.005:
		return "< 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*sure)
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

// MostlyFrom names what a finding's ± mostly comes from, as a sentence has it; ""
// where no uncertainty is claimed.
func (f *Finding) MostlyFrom() string {
	const (
		alone = 0.75 // of the variance: then the other hardly matters
		some  = 0.02
	)
	from := f.Largest()
	if len(from) == 0 {
		return ""
	}
	first := from[0].Label
	if len(from) < 2 || from[0].Part >= alone || from[1].Part <= some {
		return first
	}
	second := from[1].Label
	if what, _, ok := strings.Cut(first, " on "); ok && strings.HasPrefix(second, what+" on ") {
		second = strings.TrimPrefix(second, what+" ")
	}
	return first + " and " + second
}

// Sure says with what probability a finding keeps its limit; "" where that cannot
// be stated.
func (f *Finding) Sure() string {
	p, stated := f.Within()
	if !stated {
		return ""
	}
	return "keeps its limit with a probability of " + percent(p)
}

// sure says what to take again of a finding that is not ok, or not by more than
// its ±: what that mostly comes from.
func (f *Finding) sure() string {
	what := f.MostlyFrom()
	if what == "" || f.Status != Tight && f.Status != Over || f.Status == Over && f.Margin < -f.Uncertainty {
		return "" // taken again it stays what it is
	}
	s := " Its ± is mostly " + what + ": " + takeAgain(f.Largest()[0].Label)
	if sure := f.Sure(); sure != "" {
		s += " It " + sure + "."
	}
	return s
}

// takeAgain says how what a ± mostly comes from is taken again. What a gauge is good for
// is the same in every reading of one face.
func takeAgain(label string) string {
	if strings.HasPrefix(label, "the gauge's accuracy on ") && !strings.HasSuffix(label, " from above") {
		return "only reading another face helps."
	}
	return "that is what to take again."
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
