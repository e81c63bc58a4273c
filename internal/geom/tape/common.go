package tape

import "math"

// Common is an error that several observations share, such as that of the scale of the
// tape that they were taken with. Of is what one standard uncertainty of it does to each
// observation, in the order and the unit of those; 0 where it has nothing to do with it.
type Common struct {
	Name string
	Of   []float64
}

// With is the problem with errors that its observations share. The Sigma of each
// observation is then of the rest, which it has alone. Each shared error is one unknown
// more, in its standard uncertainties, that is observed to be 0, give or take 1: that is
// the same as the full covariance of the observations (the tests hold it against that),
// but it leaves the equations sparse.
func (p Problem) With(common []Common) Problem {
	if len(common) == 0 {
		return p
	}
	n := len(p.Start)
	out := p
	out.Start = append(append([]float64(nil), p.Start...), make([]float64, len(common))...)
	out.Observations = make([]Observation, len(p.Observations), len(p.Observations)+len(common))
	for i, o := range p.Observations {
		var by []sharing
		for k, c := range common {
			if c.Of[i] != 0 {
				by = append(by, sharing{n + k, c.Of[i]})
			}
		}
		if len(by) > 0 {
			o.Of = shared{o.Of, by}
		}
		out.Observations[i] = o
	}
	for k, c := range common {
		out.Observations = append(out.Observations, Observation{Name: c.Name, Sigma: 1, Of: alone(n + k)})
	}
	out.Hold = nil
	for _, h := range p.Hold {
		out.Hold = append(out.Hold, append(append([]float64(nil), h...), make([]float64, len(common))...))
	}
	out.known = p.known + len(common)
	return out
}

// measured is how many of the observations were measured; the others say what is known
// of shared errors.
func (p Problem) measured() int { return len(p.Observations) - p.known }

// apart is the problem with the errors that are shared as errors that each observation
// has alone.
func (p Problem) apart() Problem {
	out := p
	out.known = 0
	n := len(p.Start) - p.known
	out.Start = p.Start[:n]
	out.Observations = make([]Observation, p.measured())
	for i, o := range p.Observations[:p.measured()] {
		if of, ok := o.Of.(shared); ok {
			o.Of = of.Function
			for _, b := range of.by {
				o.Sigma = math.Hypot(o.Sigma, b.k)
			}
		}
		out.Observations[i] = o
	}
	out.Hold = nil
	for _, h := range p.Hold {
		out.Hold = append(out.Hold, h[:n])
	}
	return out
}

// Shares reports whether the fit has the errors that its observations share as unknowns.
// Where it is of each alone, they stand in X as 0.
func (f *Fit) Shares() bool { return f.linear.p.known > 0 }

// gross reports whether an observation is so far off that it is not looked at as one of
// several that share errors: by three times what the test calls a slip.
func (f *Fit) gross() bool {
	for _, e := range f.Each {
		if math.Abs(e.W) > 3*Critical {
			return true
		}
	}
	return false
}

// sharing is what an observation has of a shared error.
type sharing struct {
	unknown int
	k       float64
}

// shared is a function with the errors that it shares.
type shared struct {
	Function
	by []sharing
}

// At implements Function.
func (s shared) At(x []float64) float64 {
	v := s.Function.At(x)
	for _, b := range s.by {
		v += b.k * x[b.unknown]
	}
	return v
}

// Partials implements Function.
func (s shared) Partials(x []float64, add func(unknown int, d float64)) {
	s.Function.Partials(x, add)
	for _, b := range s.by {
		add(b.unknown, b.k)
	}
}

// alone is an unknown that is observed itself.
type alone int

// At implements Function.
func (a alone) At(x []float64) float64 { return x[a] }

// Partials implements Function.
func (a alone) Partials(_ []float64, add func(unknown int, d float64)) { add(int(a), 1) }

// Share says what errors the measurements of the network share, when all of them are in
// it. It replaces what was said before.
func (n *Net) Share(common ...Common) { n.common = common }

// observations are the measurements with what they share.
func (n *Net) observations() []Observation {
	return n.Problem().Observations[:len(n.measure)]
}
