package finding

import "fitup/internal/uncertain"

// Beside is what something becomes with one thing that it follows from a standard
// uncertainty up: By is the error of that, 0 with its ±.
type Beside[T any] struct {
	V  T
	By uncertain.Number
}

// Slope is what an error of 1 in By makes of a value that is v and beside it w.
func (b Beside[T]) Slope(v, w float64) uncertain.Weighted {
	return uncertain.Weighted{K: (w - v) / b.By.U(), N: b.By}
}
