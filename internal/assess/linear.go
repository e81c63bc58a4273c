package assess

// linear is a number together with how it depends on each reading of the build,
// on the gauge's zero and on each row of a modelled move. Sums and differences of such numbers keep track of
// what they share, which is what correlation is.
type linear struct {
	v    float64
	c    []float64 // by reading
	zero float64   // of the gauge's zero, pointing to the rear
	move [moveRows]float64
}

func newLinear(n int) linear { return linear{c: make([]float64, n)} }

func (l linear) plus(m linear) linear { return l.mix(1, m, 1) }

func (l linear) minus(m linear) linear { return l.mix(1, m, -1) }

func (l linear) times(k float64) linear { return l.mix(k, linear{}, 0) }

func (l linear) mix(p float64, m linear, q float64) linear {
	out := linear{v: p*l.v + q*m.v, c: make([]float64, max(len(l.c), len(m.c))), zero: p*l.zero + q*m.zero}
	for i := range l.c {
		out.c[i] += p * l.c[i]
	}
	for i := range m.c {
		out.c[i] += q * m.c[i]
	}
	for i := range out.move {
		out.move[i] = p*l.move[i] + q*m.move[i]
	}
	return out
}
