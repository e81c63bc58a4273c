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
func (l Linear) Plus(m Linear) Linear { return l.mix(1, m, 1) }

// Minus is l - m.
func (l Linear) Minus(m Linear) Linear { return l.mix(1, m, -1) }

// Times is l taken k times.
func (l Linear) Times(k float64) Linear { return l.mix(k, Linear{}, 0) }

func (l Linear) mix(p float64, m Linear, q float64) Linear {
	out := Linear{V: p*l.V + q*m.V, C: make([]float64, max(len(l.C), len(m.C))), Zero: p*l.Zero + q*m.Zero}
	for i := range l.C {
		out.C[i] += p * l.C[i]
	}
	for i := range m.C {
		out.C[i] += q * m.C[i]
	}
	for i := range out.Move {
		out.Move[i] = p*l.Move[i] + q*m.Move[i]
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
	sum := math.Pow(l.Zero*s.Zero, 2)
	for i, c := range l.C {
		sum += math.Pow(c*s.Readings[i], 2)
	}
	for row, c := range l.Move {
		sum += math.Pow(c*s.Move[row], 2)
	}
	return math.Sqrt(sum)
}

// Of is the value of l with its ±.
func (s Sources) Of(l Linear) Number { return Known(l.V, s.Standard(l)) }
