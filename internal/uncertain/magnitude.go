package uncertain

import (
	"cmp"
	"math"
	"slices"
)

// Magnitude is a size that cannot be negative, and its limits. Each limit holds
// by itself with a probability of at least 97.5 %.
type Magnitude struct {
	V            float64
	Lower, Upper float64
	// Number is the size as a number that goes into further sums: the component
	// along the vector, and as bend what the components across it can add.
	Number Number
}

// Norm is the size of a vector by its components, one to three, near zero too (JCGM
// 102:2011 carries both components of a complex quantity for the same reason).
//
// The limits of one and two components invert the distribution of the measured
// size (Rice 1944 where both are alike, from memory): Upper is the size that would
// be measured as small with the probability of one side of k, Lower the one that
// would be measured as large. Upper is never less than k·U, however small the size
// came out: what is not told from zero is not claimed to be nearer to it. So a
// truth below k·U is always below Upper, and the interval of the two holds it with
// the 97.5 % of Lower alone; any truth above, with the 95 % of both. Lower is at
// least the smallest size in the ellipse that holds the whole vector with 97.5 %
// (chi-squared, as many degrees of freedom as components).
//
// With three components, and where signs are unknown, Upper is the largest size in
// the ellipse k·U about the vector. Its coverage is at least that of k on one axis
// whatever the distance from zero: along the unit vector d of the true size t, the
// measured component is t and an error e·d, and the support of the ellipse along d
// is at least k·u(d); so Upper falls short only where -e·d exceeds k·u(d).
//
// One number alone is a size seen in one view. Norm panics on none and on more
// than three.
func Norm(parts ...Number) Magnitude {
	if len(parts) < 1 || len(parts) > 3 {
		panic("uncertain: a vector has one to three components")
	}
	e := scattered(parts)
	m := Magnitude{V: length(e.at)}
	values, axes := e.principal()
	if m.V < 1e-12*math.Sqrt(values[0]+values[1]+values[2]) {
		e.at, m.V = [3]float64{}, 0
	}
	if values == [3]float64{} && e.bend == 0 { // exact, and so are its limits
		return Magnitude{V: m.V, Lower: m.V, Upper: m.V, Number: Exact(m.V)}
	}
	y := [3]float64{}
	for i := range 3 {
		for k := range 3 {
			y[i] += axes[i][k] * e.at[k]
		}
	}
	m.Number = e.along(m.V, values, axes, parts)
	if len(parts) < 3 {
		e.invert(&m, y, values, whole[len(parts)-1])
	} else {
		m.Lower = length(nearest(y, values, whole[2]*e.k/Coverage))
	}
	if len(parts) == 3 || e.bound { // less across is a smaller size, and there may be less than a bound
		m.Upper = length(farthest(y, values, e.k))
	}
	m.Upper, m.Lower = max(m.V, m.Upper+e.bend), max(0, m.Lower-e.bend)
	return m
}

// whole are the 97.5 % points of the root of chi-squared with one, two and three
// degrees of freedom (any table).
var whole = [...]float64{2.2414027, 2.7162030, 3.0575159}

// invert makes the limits of a size of one or two components those of its
// distribution; y is the vector in the frame of its principal axes. A truth of
// another size is taken to point as the point of the ellipse does that is the
// farthest, or the nearest.
func (e *ellipsoid) invert(m *Magnitude, y, values [3]float64, whole float64) {
	// One of the three axes is that of a component that is not there.
	order := [3]int{0, 1, 2}
	slices.SortFunc(order[:], func(i, j int) int {
		return cmp.Or(cmp.Compare(values[j], values[i]), cmp.Compare(math.Abs(y[j]), math.Abs(y[i])))
	})
	big, small := order[0], order[1]
	s := seen{size: m.V, big: math.Sqrt(values[big]) * e.k / Coverage, small: math.Sqrt(values[small]) * e.k / Coverage}
	s.points(y[big], y[small])
	if s.far() {
		m.Upper, m.Lower = s.expanded(Coverage), s.expanded(-Coverage)
		return
	}
	if !e.bound {
		to := farthest(y, values, e.k)
		s.points(to[big], to[small])
		m.Upper = s.upper()
	}
	near := nearest(y, values, e.k)
	if near != [3]float64{} {
		s.points(near[big], near[small])
		m.Lower = s.lower()
	}
	switch {
	case m.Lower > 0: // more than zero; the ellipse may know better how much
		m.Lower = max(m.Lower, length(nearest(y, values, whole*e.k/Coverage)))
	case s.small == 0:
		m.Lower = math.Abs(y[small]) // which is exact
	}
}

// along is the size as a number. The mistake of the straight line is at most
// the square of the error across over twice the size, and never more than the
// error across.
func (e *ellipsoid) along(size float64, values [3]float64, axes [3][3]float64, parts []Number) Number {
	d := [3]float64{}
	if size > 0 {
		for i := range 3 {
			d[i] = e.at[i] / size
		}
	} else {
		big := 0
		for i := range 3 {
			if values[i] > values[big] {
				big = i
			}
		}
		d = axes[big]
	}
	var few [3]Weighted
	for i, p := range parts {
		few[i] = Weighted{d[i], p}
	}
	n := Smooth(size, few[:len(parts)]...)
	across := max(0, values[0]+values[1]+values[2]-form(e.cov, d))
	if across > 0 {
		extra := e.k * math.Sqrt(across)
		if size > 0 {
			extra = min(extra, quadratic*across/(2*size))
		}
		n.bend += extra
	}
	return n
}

// farthest is the point of largest size in the ellipsoid with centre y and half axes k
// times the roots of values: the largest of |y + a·u| over unit u has
// u[i] = a[i]·y[i]/(over + gap[i]), where gap is how far a[i]² is below the
// largest and over is at least 0. No component of it is negative.
func farthest(y, values [3]float64, k float64) [3]float64 {
	var a, gap [3]float64
	most := 0.0
	for i := range 3 {
		a[i] = k * math.Sqrt(values[i])
		most = max(most, a[i])
	}
	if most == 0 {
		return y
	}
	for i := range 3 {
		gap[i] = (most - a[i]) * (most + a[i])
	}
	low := 1e-14 * most * most
	for i := range 3 {
		low = max(low, a[i]*math.Abs(y[i])-gap[i])
	}
	var c, u [3]float64
	for i := range 3 {
		c[i] = a[i] * math.Abs(y[i])
	}
	over, square := onUnit(&c, &gap, low)
	for i := range 3 {
		if c[i] > 0 {
			u[i] = c[i] / (over + gap[i])
		}
	}
	if square < 1 {
		// y has nothing along the longest axis, which takes what is left of u.
		long := 0
		for i := range 3 {
			if a[i] == most {
				long = i
			}
		}
		u[long] = math.Sqrt(max(0, 1-square+u[long]*u[long]))
	}
	var far [3]float64
	for i := range 3 {
		far[i] = math.Abs(y[i]) + a[i]*u[i]
	}
	return far
}

// onUnit is where the squares of c[i]/(x + gap[i]) add up to 1, with their sum there,
// from an x below that; an x that is above it already comes back as it is. One over the
// root of the sum is concave and rises with x (Conn, Gould and Toint, Trust-Region
// Methods, lemma 7.3.2, from memory), so Newton's steps on it never go too far, and a
// few of them are enough.
func onUnit(c, gap *[3]float64, x float64) (at, sum float64) {
	const rounding = 4e-16
	for range 60 {
		square, cube := 0.0, 0.0
		for i := range 3 {
			if c[i] > 0 {
				d := 1 / (x + gap[i])
				q := c[i] * d
				square += q * q
				cube += q * q * d
			}
		}
		size := math.Sqrt(square)
		next := x + square*(size-1)/cube
		if size <= 1+rounding || !(next > x) {
			return x, square
		}
		x = next
	}
	return x, 1
}

// nearest is the point of smallest size in the ellipsoid with centre y and half
// axes k times the roots of values: the origin when it holds that. Where it does
// not, the point is y[i]·s/(s + a[i]²), with s at least 0 and the point on the
// surface. An axis without width keeps its component.
func nearest(y, values [3]float64, k float64) (near [3]float64) {
	var a2 [3]float64
	outside := 0.0
	for i := range 3 {
		a2[i] = k * k * values[i]
		if y[i] != 0 {
			outside += y[i] * y[i] / max(a2[i], math.SmallestNonzeroFloat64)
		}
	}
	if outside <= 1 {
		return near
	}
	// off falls as s rises and is zero where the point is on the surface.
	off := func(s float64) float64 {
		sum := 0.0
		for i := range 3 {
			if a2[i] > 0 {
				d := y[i] / (s + a2[i])
				sum += d * d * a2[i]
			}
		}
		return sum - 1
	}
	if off(0) <= 0 { // all axes with width reach zero; the others keep what they have
		for i := range 3 {
			if a2[i] == 0 {
				near[i] = y[i]
			}
		}
		return near
	}
	low := 0.0
	var c [3]float64
	for i := range 3 {
		a := math.Sqrt(a2[i])
		c[i] = a * math.Abs(y[i])
		low = max(low, a*(math.Abs(y[i])-a))
	}
	low, _ = onUnit(&c, &a2, low)
	for i := range 3 {
		if a2[i] > 0 {
			near[i] = y[i] * low / (low + a2[i])
		} else {
			near[i] = y[i]
		}
	}
	return near
}

// Between is the angle between two directions, rad in [0, π]: v and w are of
// length 1 and carry the uncertainty of where they point. It goes by the chord
// between their ends, which has all components, so that it holds for directions
// that are nearly one.
func Between(v, w Vec) Magnitude {
	chord := v.Minus(w)
	m := Norm(chord.X, chord.Y, chord.Z)
	angle := func(c float64) float64 { return 2 * math.Asin(min(1, c/2)) }
	out := Magnitude{V: angle(m.V), Lower: angle(m.Lower), Upper: angle(m.Upper), Number: m.Number}
	slope := 1 / math.Sqrt(max(1e-6, 1-m.V*m.V/4))
	out.Number = m.Number.Times(slope)
	out.Number.V = out.V
	return out
}
