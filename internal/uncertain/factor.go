package uncertain

import (
	"fmt"
	"math"
)

// Factored are numbers of the same values and covariance as those given, that rest on
// sources of their own in into: n of them at most, whatever the numbers rested on.
// Their covariance is that of the numbers' sources (JCGM 102:2011, 6.2.1.3), and its
// Cholesky factor says what each new source does. Where a number reaches farther
// than k = 2 because a source was estimated from few values, all of them are widened
// by the largest such factor; what straight lines leave out is kept as it is. label
// is what the source of number i is called. A number of no uncertainty stays exact.
func Factored(into *Sources, label func(i int) string, numbers ...Number) ([]Number, error) {
	cov := covariance(numbers)
	wide, largest := 1.0, 0.0
	for i, n := range numbers {
		if u := n.U(); u > 0 {
			wide = max(wide, (n.Expanded()-n.bend)/(Coverage*u))
		}
		largest = max(largest, cov[i][i])
	}
	parts := make([][]Part, len(numbers))
	factor := make([][]float64, len(numbers)) // by rows, lower
	for i := range factor {
		factor[i] = make([]float64, len(numbers))
	}
	for j := range numbers {
		pivot := cov[j][j]
		for k := range j {
			pivot -= factor[j][k] * factor[j][k]
		}
		const none = 1e-12 // of the largest variance: the rest is rounding
		if math.IsNaN(pivot) || math.IsInf(pivot, 0) {
			return nil, fmt.Errorf("%s: its uncertainty is not a number", label(j))
		}
		if pivot <= none*largest {
			continue // those before say all of it
		}
		d := math.Sqrt(pivot)
		factor[j][j] = d
		id, err := into.Add(Source{Label: label(j), U: 1})
		if err != nil {
			return nil, err
		}
		parts[j] = append(parts[j], Part{id, wide * d})
		for i := j + 1; i < len(numbers); i++ {
			c := cov[i][j]
			for k := range j {
				c -= factor[i][k] * factor[j][k]
			}
			factor[i][j] = c / d
			parts[i] = append(parts[i], Part{id, wide * c / d})
		}
	}
	out := make([]Number, len(numbers))
	for i, n := range numbers {
		out[i] = into.Number(n.V, parts[i]...)
		out[i].bend = n.bend
	}
	return out, nil
}

// covariance is that of numbers by their sources, each with the sign it was given.
func covariance(numbers []Number) [][]float64 {
	out := make([][]float64, len(numbers))
	for i, n := range numbers {
		out[i] = make([]float64, len(numbers))
		for j := range i + 1 {
			out[i][j] = shared(n.terms, numbers[j].terms)
			out[j][i] = out[i][j]
		}
	}
	return out
}

// shared is the sum of products over the sources that both have.
func shared(a, b []term) float64 {
	sum := 0.0
	for i, j := 0, 0; i < len(a) && j < len(b); {
		switch {
		case a[i].id < b[j].id:
			i++
		case a[i].id > b[j].id:
			j++
		default:
			sum += a[i].c * b[j].c
			i, j = i+1, j+1
		}
	}
	return sum
}
