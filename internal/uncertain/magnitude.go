package uncertain

import "math"

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
// Upper is the largest size in the ellipse k·U about the vector. Its coverage is
// that of k on one axis whatever the distance from zero: along the unit vector d
// of the true size t, the measured component is t and an error e·d, and the
// support of the ellipse along d is at least k·u(d); so Upper falls short only
// where -e·d exceeds k·u(d). Lower is the smallest size in the ellipse that holds
// the whole vector with 97.5 % (chi-squared, as many degrees of freedom as components).
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
	y := [3]float64{}
	for i := range 3 {
		for k := range 3 {
			y[i] += axes[i][k] * e.at[k]
		}
	}
	m.Upper = farthest(y, values, e.k) + e.bend
	m.Lower = max(0, nearest(y, values, whole[len(parts)-1]*e.k/Coverage)-e.bend)
	m.Number = e.along(m.V, values, axes, parts)
	return m
}

// whole are the 97.5 % points of the root of chi-squared with one, two and three
// degrees of freedom (any table).
var whole = [...]float64{2.2414027, 2.7162030, 3.0575159}

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

// farthest is the largest size in the ellipsoid with centre y and half axes k
// times the roots of values: the largest of |y + a·u| over unit u has
// u[i] = a[i]·y[i]/(over + gap[i]), where gap is how far a[i]² is below the
// largest and over is at least 0.
func farthest(y, values [3]float64, k float64) float64 {
	var a, gap [3]float64
	most := 0.0
	for i := range 3 {
		a[i] = k * math.Sqrt(values[i])
		most = max(most, a[i])
	}
	if most == 0 {
		return length(y)
	}
	for i := range 3 {
		gap[i] = (most - a[i]) * (most + a[i])
	}
	along := func(over float64) (u [3]float64, square float64) {
		for i := range 3 {
			if y[i] != 0 {
				u[i] = a[i] * math.Abs(y[i]) / (over + gap[i])
				square += u[i] * u[i]
			}
		}
		return u, square
	}
	low, high := 1e-14*most*most, most*length(y)*(1+1e-12)
	u, square := along(low)
	if square < 1 {
		// y has nothing along the longest axis, which takes what is left of u.
		long := 0
		for i := range 3 {
			if a[i] == most {
				long = i
			}
		}
		u[long] = math.Sqrt(max(0, 1-square+u[long]*u[long]))
	} else {
		for range 60 {
			mid := (low + high) / 2
			if _, square := along(mid); square > 1 {
				low = mid
			} else {
				high = mid
			}
		}
		u, _ = along(low)
	}
	var far [3]float64
	for i := range 3 {
		far[i] = math.Abs(y[i]) + a[i]*u[i]
	}
	return length(far)
}

// nearest is the smallest size in the ellipsoid with centre y and half axes k
// times the roots of values: 0 when it holds the origin. Where it does not, the
// point is y[i]·s/(s + a[i]²), with s at least 0 and the point on the surface. An
// axis without width keeps its component.
func nearest(y, values [3]float64, k float64) float64 {
	var a2 [3]float64
	outside := 0.0
	for i := range 3 {
		a2[i] = k * k * values[i]
		if y[i] != 0 {
			outside += y[i] * y[i] / max(a2[i], math.SmallestNonzeroFloat64)
		}
	}
	if outside <= 1 {
		return 0
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
		sum := 0.0
		for i := range 3 {
			if a2[i] == 0 {
				sum += y[i] * y[i]
			}
		}
		return math.Sqrt(sum)
	}
	low, high := 0.0, 0.0
	for i := range 3 {
		a := math.Sqrt(a2[i])
		low, high = max(low, a*(math.Abs(y[i])-a)), math.Hypot(high, a*y[i])
	}
	for range 60 {
		if mid := (low + high) / 2; off(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	var near [3]float64
	for i := range 3 {
		if a2[i] > 0 {
			near[i] = y[i] * low / (low + a2[i])
		} else {
			near[i] = y[i]
		}
	}
	return length(near)
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
