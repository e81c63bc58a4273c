package tape

import "gonum.org/v1/gonum/floats"

// noticed is what each observation, in its uncertainties, has in common with each unknown,
// scaled: AQ, a row for each unknown by its position; and Q itself. With it a further
// measurement needs no equations solved: what it does to the others is the sum of the
// rows of its unknowns (Sherman and Morrison), and so is what each observation does to a
// function of the unknowns.
type noticed struct {
	f    *Fit
	rows [][]float64
	cov  [][]float64
}

// How many entries a table has at most: one that is made for a while, beyond which it
// takes as long as it saves, and one that is small enough to be kept.
const (
	mostNoticed = 1 << 19
	keptNoticed = 1 << 17
)

func (f *Fit) entries() int { return f.linear.n * (len(f.Each) + f.linear.n) }

func (f *Fit) noticing() *noticed {
	s := f.linear
	n := &noticed{f: f, rows: make([][]float64, s.n), cov: make([][]float64, s.n)}
	for p := range n.rows {
		c, row := s.column(p), make([]float64, len(f.Each))
		for i := range row {
			for k, at := range s.at[i] {
				row[i] += s.values[i][k] * c[at]
			}
		}
		n.rows[p], n.cov[p] = row, c
	}
	return n
}

// Tabulate makes Gains and Best of a fit quick, of which very much is to be asked, for
// memory in proportion to its observations times its unknowns. A very large fit is left
// as it is. Not to be called while others ask.
func (f *Fit) Tabulate() {
	if f.table == nil && f.entries() <= mostNoticed {
		f.table = f.noticing()
	}
}

// Untabulate gives the memory of Tabulate back, unless that is little.
func (f *Fit) Untabulate() {
	if f.table != nil && f.entries() > keptNoticed {
		f.table = nil
	}
}

// with is Fit.with; sum is as long as there are observations, to work in.
func (n *noticed) with(o Observation, sum []float64) float64 {
	s := n.f.linear
	var at []int
	var by []float64
	o.Of.Partials(n.f.X, func(u int, d float64) {
		if u < s.n { // shared, where the fit does not look at that
			at, by = append(at, s.position[u]), append(by, d/o.Sigma*s.scale[u])
		}
	})
	clear(sum)
	own := 0.0
	for k, p := range at {
		floats.AddScaled(sum, by[k], n.rows[p])
		for l, q := range at {
			own += by[k] * by[l] * n.cov[p][q]
		}
	}
	total := 1 / max(1/(1+own), hardly) // how well it is checked itself
	for i, e := range n.f.Each {
		total += 1 / max(e.Redundancy+sum[i]*sum[i]/(1+own), hardly)
	}
	return total
}

// gains is Fit.Gains.
func (n *noticed) gains(partials map[int]float64) []float64 {
	s := n.f.linear
	out := make([]float64, len(n.f.Each))
	for u := range s.n { // in their order, so that sums come out alike
		if d, ok := partials[u]; ok && d != 0 {
			floats.AddScaled(out, d*s.scale[u], n.rows[s.position[u]])
		}
	}
	for i := range out {
		out[i] /= s.p.Observations[i].Sigma
	}
	return out
}
