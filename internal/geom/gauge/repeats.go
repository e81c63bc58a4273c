package gauge

import "fitup/internal/geom"

// Agreement is how two readings of one thing stand to each other.
type Agreement uint8

// What the gauge can explain, what it hardly can, and what it cannot.
const (
	Agree Agreement = iota
	Doubtful
	Contradict
)

// Two readings of one thing differ by more than doubt times the standard
// uncertainty of their difference once in 22 pairs, by more than contradict
// times once in 1000 (two-sided normal distribution, any table of it).
const (
	doubt      = 2.0
	contradict = 3.3
)

// Compare says whether a difference d of two readings of one thing can come
// from the gauge. u is the standard uncertainty of the difference, from what
// the two do not share: √2 times that of one reading when they are alike. With
// u zero, only readings that are the same agree.
func Compare(d, u geom.Angle) Agreement {
	const rounding = 1e-9 // rad, of a text turned into a number
	switch apart := d.Abs().Rad() - rounding; {
	case apart > contradict*u.Abs().Rad():
		return Contradict
	case apart > doubt*u.Abs().Rad():
		return Doubtful
	}
	return Agree
}
