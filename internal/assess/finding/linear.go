package finding

import "math"

// moveRows is how many rows a placement is written with: seat.Written.
const moveRows = 6

// Linear is a number together with how it depends on each reading of the build,
// on the gauge's zero and on each row of a modelled move. Sums and differences
// of such numbers keep track of what they share, which is what correlation is.
type Linear struct {
	V    float64
	C    []float64 // by reading; nil in a number that rests on none
	Zero float64   // of the gauge's zero, pointing to the rear
	Move [moveRows]float64
}

// NewLinear is 0, in a build with n readings.
func NewLinear(n int) Linear { return Linear{C: make([]float64, n)} }

// Plus is l + m.
func (l Linear) Plus(m Linear) Linear { return Sum(Weighted{1, &l}, Weighted{1, &m}) }

// Minus is l - m.
func (l Linear) Minus(m Linear) Linear { return Sum(Weighted{1, &l}, Weighted{-1, &m}) }

// Times is l taken k times.
func (l Linear) Times(k float64) Linear { return Sum(Weighted{k, &l}) }

// Weighted is K·N.
type Weighted struct {
	K float64
	N *Linear
}

// Sum is the sum of weighted numbers.
func Sum(parts ...Weighted) Linear {
	v := 0.0
	for _, w := range parts {
		v += w.K * w.N.V
	}
	return Smooth(v, parts...)
}

// Smooth is a function of numbers, by its value there and its gradient: each K
// is the partial derivative by its N.
func Smooth(v float64, gradient ...Weighted) Linear {
	n := 0
	for _, w := range gradient {
		n = max(n, len(w.N.C))
	}
	out := NewLinear(n)
	out.V = v
	for _, w := range gradient {
		out.Zero += w.K * w.N.Zero
		for i, c := range w.N.C {
			out.C[i] += w.K * c
		}
		for i, c := range w.N.Move {
			out.Move[i] += w.K * c
		}
	}
	return out
}

// Sources are the standard uncertainties of what a Linear depends on.
type Sources struct {
	Readings []float64 // of each reading: its tool's, or the scatter of its repeats
	Zero     float64   // of the gauge's zero, the same on all
	Move     [moveRows]float64
}

// Standard is the standard uncertainty of something that depends on the
// readings: each one's own, or the scatter of its repeats where that is larger,
// the zero's, which is the same on all of them and drops out of differences,
// and that of a modelled move (JCGM 100:2008, 5.2).
func (s Sources) Standard(l Linear) float64 {
	sum := square(l.Zero * s.Zero)
	for i, c := range l.C {
		sum += square(c * s.Readings[i])
	}
	for row, c := range l.Move {
		sum += square(c * s.Move[row])
	}
	return math.Sqrt(sum)
}

// Of is the value of l with its ±.
func (s Sources) Of(l Linear) Number { return Known(l.V, s.Standard(l)) }

func square(v float64) float64 { return v * v }

// Pair is the standard uncertainties of two sums of weighted numbers, and that
// of the two added, which tells how far they go together: u(x+y)² = u(x)² + u(y)²
// + 2·cov(x, y) (JCGM 100:2008, 5.2). The sums have the same numbers in the same
// order, by their weights K and L.
func (s Sources) Pair(parts []WeightedPair) (first, second, both float64) {
	var x, y, xy float64
	add := func(u float64, c func(*Linear) float64) {
		var k, l float64
		for i := range parts {
			w := &parts[i]
			k, l = k+w.K*c(w.N), l+w.L*c(w.N)
		}
		x, y, xy = x+square(k*u), y+square(l*u), xy+square((k+l)*u)
	}
	add(s.Zero, func(l *Linear) float64 { return l.Zero })
	for i, u := range s.Readings {
		add(u, func(l *Linear) float64 {
			if i < len(l.C) {
				return l.C[i]
			}
			return 0
		})
	}
	for i, u := range s.Move {
		add(u, func(l *Linear) float64 { return l.Move[i] })
	}
	return math.Sqrt(x), math.Sqrt(y), math.Sqrt(xy)
}

// WeightedPair is K·N in one sum and L·N in another.
type WeightedPair struct {
	K, L float64
	N    *Linear
}
