package instrument

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/gauge"

	"gonum.org/v1/gonum/stat/distuv"
)

// How seldom readings scatter so by chance: as seldom as a pair that
// gauge.Compare calls doubtful or contradicting, 2 and 3.3 standard
// uncertainties.
const (
	seldom = 0.0455003
	never  = 0.000966848
)

// allowed is the standard uncertainty of one reading that its scatter is held
// against: by the stated repeat, or by the accuracy where nothing is stated of
// the repeat, since that bounds a single reading.
func (t Tool) allowed(c *cell) float64 {
	bound := t.Repeat
	if bound == 0 {
		bound = c.accuracy
	}
	return math.Hypot(bound/math.Sqrt(3), t.stepU())
}

// agree says whether the readings of a set can all be true.
func (r *reader) agree(set Set, cells []cell) Result {
	out := Result{}
	for i := range cells {
		r.within(&cells[i], &out)
		for j := range i {
			r.compare(&cells[j], &cells[i], &out)
		}
	}
	if out.One > out.Other {
		out.One, out.Other = out.Other, out.One
	}
	if len(set.Readings) > 1 {
		out.Apart = math.Abs(set.Readings[out.One].Value - set.Readings[out.Other].Value)
	}
	return out
}

// worse keeps the worst that was found, and the two readings that show it: the
// farthest apart of those that are as bad.
func (out *Result) worse(is gauge.Agreement, one, other int, apart float64) {
	if is > out.Agreement || is == out.Agreement && apart > out.Apart {
		out.Agreement, out.One, out.Other, out.Apart = is, one, other, apart
	}
}

// within holds the scatter of a cell against what is allowed: as a whole, by
// chi-squared, and by its widest gap, which sets a slip or a second group apart.
func (r *reader) within(c *cell, out *Result) {
	n := len(c.values)
	if n < 2 {
		return
	}
	u := r.allowed(c)
	first, last := c.index[0], c.index[n-1]
	apart := c.values[n-1] - c.values[0]
	is := gauge.Compare(geom.Angle(apart), geom.Angle(math.Sqrt2*u))
	if n > 2 && is != gauge.Agree && u > 0 {
		switch p := (distuv.ChiSquared{K: float64(n - 1)}).Survival(c.square / (u * u)); {
		case p < never:
			is = gauge.Contradict
		case p < seldom:
			is = gauge.Doubtful
		default:
			is = gauge.Agree
		}
	}
	out.worse(is, first, last, apart)
	for k := 1; k < n; k++ {
		gap := c.values[k] - c.values[k-1]
		if gauge.Compare(geom.Angle(gap), geom.Angle(math.Sqrt2*u)) == gauge.Contradict {
			out.worse(gauge.Contradict, c.index[k-1], c.index[k], gap)
		}
	}
}

// compare holds the means of two cells against what they do not share.
func (r *reader) compare(a, b *cell, out *Result) {
	da, zero := a.mean, 0.0
	db := b.mean
	switch {
	case a.sign == 0 || b.sign == 0:
		zero = 2 * r.zeroHalf
	case r.out.HasBias:
		da, db = da-float64(a.sign)*r.bias, db-float64(b.sign)*r.bias
	case a.sign != b.sign:
		zero = 2 * r.zeroHalf
	}
	// Of one surface the accuracy is shared, and is then the scatter allowed
	// where nothing is stated.
	square := zero * zero / 3
	for _, c := range []*cell{a, b} {
		u := r.stepU()
		if a.surface != b.surface || r.Repeat == 0 {
			u = math.Hypot(u, c.accuracy/math.Sqrt(3))
		}
		square += u*u + r.Repeat*r.Repeat/3/float64(len(c.values))
	}
	is := gauge.Compare(geom.Angle(da-db), geom.Angle(math.Sqrt(square)))
	// The two that are nearest to each other's mean are as far apart as any.
	one, other := a.index[0], b.index[len(b.index)-1]
	if da > db {
		one, other = a.index[len(a.index)-1], b.index[0]
	}
	out.worse(is, one, other, math.Abs(da-db))
}
