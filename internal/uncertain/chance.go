package uncertain

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// AtMost is the probability that the truth behind n is limit or less (JCGM
// 106:2012, 7.2): the largest rectangular source exactly, convolved with the
// rest taken as normal, or Student's distribution where something was estimated
// from few values. The bend is taken off the room that there is.
func (n Number) AtMost(limit float64) float64 { return n.chance(limit - n.V - n.bend) }

// AtLeast is the probability that the truth behind n is limit or more.
func (n Number) AtLeast(limit float64) float64 { return n.chance(n.V - limit - n.bend) }

// manyDoF is from where on Student's distribution is taken as normal: its 97.5 %
// point is 1.2 % larger there, and Expanded has k = 2 long before.
const manyDoF = 100

// chance is the probability of an error of at most room.
func (n Number) chance(room float64) float64 {
	const rounding = 1e-12 // a limit met exactly is met
	variance, dof := n.spread()
	switch u := math.Sqrt(variance); {
	case u == 0:
		if room >= -rounding {
			return 1
		}
		return 0
	case dof < manyDoF:
		return distuv.StudentsT{Sigma: u, Nu: dof}.CDF(room)
	}
	box := n.box()
	return boxed(room, box*math.Sqrt(3), math.Sqrt(max(0, variance-box*box)))
}

// box is the largest standard uncertainty from one rectangular source.
func (n Number) box() float64 {
	most := 0.0
	s := signs{from: n.from}
	for _, t := range n.terms {
		switch {
		case n.from.all[t.id-1].Shape != Rectangular:
		case t.flags&turns != 0:
			s.add(t)
		default:
			most = max(most, math.Abs(t.c))
		}
	}
	for _, x := range slices.Concat(s.few[:s.used], s.more) {
		most = max(most, math.Abs(x.known)+x.sizes)
	}
	return most
}

// boxed is the probability that the sum of an error that is rectangular between
// -half and half and a normal one of standard deviation u is at most x: the
// integral of the normal distribution over the rectangle.
func boxed(x, half, u float64) float64 {
	switch {
	case half <= 1e-6*u:
		return phi(x / u)
	case u <= 1e-6*half:
		return max(0, min(1, (x+half)/(2*half)))
	}
	g := func(t float64) float64 { return t*phi(t) + math.Exp(-t*t/2)/math.Sqrt(2*math.Pi) }
	return max(0, min(1, u/(2*half)*(g((x+half)/u)-g((x-half)/u))))
}

// phi is the standard normal distribution.
func phi(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// Exceeded is the half width that the error exceeds to one side with
// probability p, by the distribution of AtMost, and the bend: with p = 2.5 % it
// is no larger than Expanded, and is that of the rectangle where one rectangular
// source dominates. p must lie between 0 and a half, both left out.
func (n Number) Exceeded(p float64) float64 {
	low, high := 0.0, n.U()
	for high > 0 && n.chance(high) < 1-p {
		low, high = high, 2*high
	}
	for range 60 {
		mid := (low + high) / 2
		if n.chance(mid) < 1-p {
			low = mid
		} else {
			high = mid
		}
	}
	return high + n.bend
}

// Share is what one source has in a number.
type Share struct {
	Label string
	U     float64 // standard uncertainty that the source gives the number
	Part  float64 // of the variance, 0 to 1
}

// Largest returns the two sources that have most in n, the larger first. Sources
// of one label count as one. Empty shares stand for what is not there.
func (n Number) Largest() [2]Share {
	var all []Share
	s := signs{from: n.from}
	add := func(label string, square float64) {
		for i := range all {
			if all[i].Label == label {
				all[i].Part += square
				return
			}
		}
		all = append(all, Share{Label: label, Part: square})
	}
	total := 0.0
	for _, t := range n.terms {
		if t.flags&turns != 0 {
			s.add(t)
			continue
		}
		add(n.from.all[t.id-1].Label, t.c*t.c)
		total += t.c * t.c
	}
	for _, x := range slices.Concat(s.few[:s.used], s.more) {
		add(n.from.all[x.of-1].Label, x.square())
		total += x.square()
	}
	slices.SortStableFunc(all, func(a, b Share) int {
		switch {
		case a.Part > b.Part:
			return -1
		case a.Part < b.Part:
			return 1
		}
		return 0
	})
	var out [2]Share
	for i := range min(len(all), len(out)) {
		out[i] = Share{Label: all[i].Label, U: math.Sqrt(all[i].Part), Part: all[i].Part / total}
	}
	return out
}
