package uncertain

import "math"

// seen is a vector of up to two components as it was measured, in the frame of its
// principal axes: its direction, and standard uncertainties widened to 1/Coverage
// of what is stated, the larger first. Its size has a distribution (Rice's where
// the two are alike, the folded normal one where the second is nothing), of which
// the limits of Norm are the inversion.
type seen struct {
	size       float64
	big, small float64 // standard uncertainties along the principal axes
	to         [2]float64
}

// reach is how many standard uncertainties the distribution is followed.
const reach = 5.5

// below is the probability that a vector of size t the given way is measured no
// larger than it was: the normal distribution of both components over a disc, by
// the angle at which the smaller one leaves the larger one room (Gauss and
// Legendre).
func (s *seen) below(t float64) float64 {
	x, along, aside := s.size, t*s.to[0], t*s.to[1]
	room := func(half float64) float64 {
		const never = 8.5 // standard uncertainties below zero, where phi is less than rounding
		v := phi((half - along) / s.big)
		if half+along < never*s.big {
			v -= phi((-half - along) / s.big)
		}
		return v
	}
	if s.small <= s.flat() {
		if aside >= x {
			return 0
		}
		return room(math.Sqrt((x - aside) * (x + aside)))
	}
	low := math.Asin(max(-1, min(1, (aside-reach*s.small)/x)))
	high := math.Asin(max(-1, min(1, (aside+reach*s.small)/x)))
	if low >= high {
		return 0
	}
	sum, mid, half := 0.0, (low+high)/2, (high-low)/2
	for i, at := range nodes {
		for _, a := range [...]float64{mid - half*at, mid + half*at} {
			sin, cos := math.Sincos(a)
			z := (x*sin - aside) / s.small
			sum += weights[i] * math.Exp(-z*z/2) * cos * room(x*cos)
		}
	}
	return sum * half * x / (s.small * math.Sqrt(2*math.Pi))
}

// nodes and weights of Gauss and Legendre with 16 points, one half of them
// (Abramowitz and Stegun, table 25.4).
var (
	nodes = [...]float64{0.0950125098376374, 0.2816035507792589, 0.4580167776572274, 0.6178762444026438,
		0.7554044083550030, 0.8656312023878318, 0.9445750230732326, 0.9894009349916499}
	weights = [...]float64{0.1894506104550685, 0.1826034150449236, 0.1691565193950025, 0.1495959888165767,
		0.1246289712555339, 0.0951585116824928, 0.0622535239386479, 0.0271524594117541}
)

// points sets which way the truth points, by its components along the axes.
func (s *seen) points(big, small float64) {
	s.to = [2]float64{1, 0}
	if l := math.Hypot(big, small); l > 0 {
		s.to = [2]float64{math.Abs(big) / l, math.Abs(small) / l}
	}
}

// parts are the variance along the vector, that across it, and the square of their
// covariance over the first.
func (s *seen) parts() (along, across, both float64) {
	b, c := s.big*s.big, s.small*s.small
	u, v := s.to[0]*s.to[0], s.to[1]*s.to[1]
	along, across = u*b+v*c, v*b+u*c
	if along > 0 {
		both = u * v * (b - c) * (b - c) / along
	}
	return along, across, both
}

// far says that the vector, which points as it was measured, is so far from zero
// that expanded is as good as the inversion.
func (s *seen) far() bool {
	along, across, _ := s.parts()
	return s.size >= 12*s.big && across <= s.size*math.Sqrt(along)/4
}

// expanded is the limit k standard uncertainties away, to the second order in
// them: the vector across adds its square over twice the size, and a truth of that
// size points another way by what the two parts have in common.
func (s *seen) expanded(k float64) float64 {
	along, across, both := s.parts()
	return s.size + k*math.Sqrt(along) + ((k*k+1)*both-across)/(2*s.size)
}

// upper is the size that would be measured as small as it was with the probability
// of one side of Coverage. A size is never claimed to be nearer to zero than the ±
// it was measured to, however small it came out: that would be chance.
func (s *seen) upper() float64 { return max(Coverage*s.big, s.limit(Coverage)) }

// lower is the size that would be measured as large with that probability.
func (s *seen) lower() float64 { return s.limit(-Coverage) }

// limit is the size t with what was measured k standard normal quantiles below
// what t is measured as, 0 where there is none. The quantile is nearly a straight
// line in t: secants, kept within what is known.
func (s *seen) limit(k float64) float64 {
	along, across, both := s.parts()
	along = math.Sqrt(along)
	bent := (across + (k*k-1)*both) / 2 / max(s.size, s.big)
	wide := along + bent
	if wide == 0 || math.IsNaN(wide) { // exact
		return s.size
	}
	if sum := 2*s.size + k*s.big; s.small <= s.flat() && s.to[1] == 0 && sum > 7.5*s.big {
		return s.size + k*s.big // the other side of zero is out of sight
	}
	off := func(t float64) float64 { return probit(s.below(t)) + k }
	low, high := 0.0, s.size+max(0, k)*along
	if high == 0 || s.within(k) || !s.beyond(k) && off(low) <= 0 {
		return 0
	}
	t := min(max(s.size+k*along-bent, high/4), high)
	at := off(t)
	next, from := t+at*wide, math.NaN()
	for range 30 {
		if at > 0 {
			low = t
		} else {
			high = t
		}
		if !math.IsNaN(from) {
			next = from
		}
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-t) < 1e-4*wide || high-low < 1e-4*wide {
			return next
		}
		was := off(next)
		from = next - was*(next-t)/(was-at)
		t, at = next, was
	}
	return high
}

// flat is the smaller standard uncertainty from which on there is only the larger one.
func (s *seen) flat() float64 { return 1e-4 * s.big }

// What a vector of no size is measured as is no larger than its larger component is, and
// no smaller than with both that large: so the normal distribution and Rayleigh's tell
// the sign of the deviation at zero, but for sizes between the two.

// within says that one of no size would not be measured as smaller than it was with the
// probability of k.
func (s *seen) within(k float64) bool {
	return math.Erf(s.size/(math.Sqrt2*s.big)) <= phi(-k)
}

// beyond says that it would.
func (s *seen) beyond(k float64) bool {
	x := s.size / s.big
	return -math.Expm1(-x*x/2) > phi(-k)
}

// probit is the quantile of the standard normal distribution.
func probit(p float64) float64 {
	const least = 1e-12
	return math.Sqrt2 * math.Erfinv(2*min(max(p, least), 1-least)-1)
}
