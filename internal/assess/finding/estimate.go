package finding

import (
	"math"

	"fitup/internal/uncertain"
)

// Estimate is something that is only known to lie between two ends, such as the
// rates of a mount that nobody measured. Numbers that were worked out at its ends
// depend on it by how far they move. The zero Estimate is one that no two numbers
// share.
type Estimate struct {
	from *uncertain.Sources
	id   uncertain.ID
	ends float64 // how many standard uncertainties of the source each end is off, 0 where they are the source's own
}

// wide is what the coefficient of a source is of a number that its ends move by so much.
func (e Estimate) wide(half float64) float64 {
	if e.ends > 0 {
		return half / e.ends
	}
	return half
}

// In reports whether n rests on what is estimated.
func (e Estimate) In(n uncertain.Number) bool { return n.Of(e.id) != 0 }

// EstimateIn adds an estimate to s; label is what it is, as a sentence has it:
// "the estimated rates of the rear mount". It panics where s takes no more.
func EstimateIn(s *uncertain.Sources, label string) Estimate {
	id, err := s.Add(uncertain.Half(label, 1))
	if err != nil {
		panic(err) // it came after a fork: what it leaves open would get lost
	}
	return Estimate{from: s, id: id}
}

// End is how far a number moves from where it is to the further of an estimate's
// two ends, with the sign that it moves by towards the upper one.
type End struct {
	Of  Estimate
	Off float64
}

// EndsOf is the End of a number that is value, and low and high at the ends.
func (e Estimate) EndsOf(value, low, high float64) End {
	off := max(math.Abs(low-value), math.Abs(high-value))
	return End{e, math.Copysign(off, high-low)}
}

// Within is value, open by half to each side because of the estimate.
func (e Estimate) Within(value, half float64) Number {
	if e.from == nil {
		e = EstimateIn(new(uncertain.Sources), "estimated rates")
	}
	return Of(e.from.Number(value, uncertain.Part{Of: e.id, C: e.wide(half)}))
}

// Spread is a value that another one opens, with the estimate at its end, however
// little that is: a limit may lie nearer still.
func (e Estimate) Spread(value, soft float64) Number {
	if worth(value, soft-value) {
		return e.Within(value, soft-value)
	}
	return Exact(value)
}

// Spread is a value that independent estimates open, or all of them together with
// soft where that is more.
func Spread(value float64, ends []End, all Estimate, soft float64) Number {
	sum := 0.0
	for _, e := range ends {
		sum += e.Off * e.Off
	}
	each := math.Sqrt(sum)
	if together := soft - value; math.Abs(together) > each {
		return all.Spread(value, soft)
	}
	if !worth(value, each) {
		return Exact(value)
	}
	n := uncertain.Exact(value)
	for _, e := range ends {
		n = n.Plus(e.Of.Within(0, e.Off).Number)
	}
	return Of(n)
}

// worth tells what opens a value from how it was rounded on the way.
func worth(value, off float64) bool {
	const rounding = 1e-9
	return math.Abs(off) > rounding*max(1, math.Abs(value))
}
