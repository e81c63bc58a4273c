package instrument

import (
	"fmt"
	"math"
	"slices"

	"fitup/internal/geom/gauge"
	"fitup/internal/uncertain"
)

// Tool is what is said of an instrument. All are half widths in the unit of its
// readings, but Resolution, which is the step of its display, and Scale. 0 is
// nothing said.
type Tool struct {
	Name       string // as a sentence has it: "the gauge"
	Accuracy   float64
	Repeat     float64
	Resolution float64
	Zero       float64
	Scale      float64 // of its scale: half width over what was read
	// MostZero is the largest error of its zero that is believed when it was
	// turned round; readings farther apart are a slip.
	MostZero float64
}

// Reading is one reading.
type Reading struct {
	Value float64
	// Surface is what the accuracy is shared on, as a sentence has it: "the
	// pinion's flange".
	Surface string
	// Sign is how an error of the zero comes in: 1, -1, or 0 when that is not
	// known.
	Sign int
	// Accuracy is this reading's own, where it differs from the tool's; 0 where it
	// does not.
	Accuracy float64
	// Scaled is the part of Accuracy that is the tool's scale, which all readings share
	// in proportion to what was read.
	Scaled float64
	// Whole says that Accuracy is all there is, also of the tool's scale.
	Whole bool
}

// Set are readings of one thing on one occasion.
type Set struct {
	Of       string // as a sentence has it: "the pinion"
	Readings []Reading
}

// Result is what a set of readings says.
type Result struct {
	Number uncertain.Number // 0 where the readings contradict each other
	// Agreement of the readings. Those that contradict make no number.
	Agreement gauge.Agreement
	// One and Other are the two readings that are farthest from being both true,
	// the earlier first, and Apart how far they are apart; both 0 in a set of one.
	One, Other int
	Apart      float64
}

// Read is what all readings with one tool say.
type Read struct {
	Sets []Result
	// Scatter is the standard uncertainty of one reading by its scatter, with DoF
	// degrees of freedom where that was estimated; 0 where the scatter was stated
	// or nothing is known of it.
	Scatter, DoF float64
	// Bias is the error of the zero, where the tool was turned round on one
	// surface: all readings of known sign are freed of it.
	Bias    uncertain.Number
	HasBias bool
}

// Read turns all readings with one tool into numbers, one for each set. All
// repeats count for the scatter of each. Sources are added to s. It refuses a
// number that is not one, a negative half width, and a set without a reading.
func (t Tool) Read(s *uncertain.Sources, sets []Set) (*Read, error) {
	if err := t.check(sets); err != nil {
		return nil, err
	}
	r := reader{Tool: t, s: s, out: &Read{Sets: make([]Result, len(sets))}}
	for _, set := range sets {
		r.cells = append(r.cells, t.cells(set))
	}
	r.findBias()
	for i, set := range sets {
		r.out.Sets[i] = r.agree(set, r.cells[i])
	}
	r.pool()
	if err := r.common(sets); err != nil {
		return nil, err
	}
	for i, set := range sets {
		if r.out.Sets[i].Agreement == gauge.Contradict {
			continue
		}
		n, err := r.number(set, r.cells[i])
		if err != nil {
			return nil, err
		}
		r.out.Sets[i].Number = n
	}
	return r.out, nil
}

func (t Tool) check(sets []Set) error {
	for _, v := range []float64{t.Accuracy, t.Repeat, t.Resolution, t.Zero, t.Scale, t.MostZero} {
		if !(v >= 0) || math.IsInf(v, 1) {
			return fmt.Errorf("%s: a half width of %g; it must be 0 or more", t.Name, v)
		}
	}
	for _, set := range sets {
		if len(set.Readings) == 0 {
			return fmt.Errorf("%s: there is no reading", set.Of)
		}
		for _, r := range set.Readings {
			if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) || !(r.Accuracy >= 0) || math.IsInf(r.Accuracy, 1) {
				return fmt.Errorf("%s: a reading of %g with an accuracy of %g is not one", set.Of, r.Value, r.Accuracy)
			}
		}
	}
	return nil
}

// cell are the readings of a set that share all but their scatter.
type cell struct {
	surface  string
	sign     int
	accuracy float64
	scaled   float64 // of it, by the scale
	whole    bool    // nothing of the scale comes besides
	index    []int   // into the set, by rising value
	values   []float64
	mean     float64
	square   float64 // sum of squared distances from the mean
	most     float64 // the largest of these distances
	step     float64 // standard uncertainty of the mean by the display
	number   uncertain.Number
	made     bool
}

// stepU is the standard uncertainty of one reading by its display: half a step,
// rectangular.
func (t Tool) stepU() float64 { return t.Resolution / 2 / math.Sqrt(3) }

func (t Tool) cells(set Set) []cell {
	var out []cell
	for i, r := range set.Readings {
		k := slices.IndexFunc(out, func(c cell) bool { return c.surface == r.Surface && c.sign == r.Sign })
		if k < 0 {
			k, out = len(out), append(out, cell{surface: r.Surface, sign: r.Sign})
		}
		c := &out[k]
		own := r.Accuracy
		if own == 0 {
			own = t.Accuracy
		}
		c.accuracy, c.scaled, c.whole = max(c.accuracy, own), max(c.scaled, r.Scaled), c.whole || r.Whole
		at := len(c.values)
		for at > 0 && c.values[at-1] > r.Value {
			at--
		}
		c.values, c.index = slices.Insert(c.values, at, r.Value), slices.Insert(c.index, at, i)
	}
	for k := range out {
		out[k].sum(t)
	}
	return out
}

func (c *cell) sum(t Tool) {
	n := float64(len(c.values))
	for _, v := range c.values {
		c.mean += v / n
	}
	for _, v := range c.values {
		d := v - c.mean
		c.square += d * d
		c.most = max(c.most, math.Abs(d))
	}
	// Readings that scatter over the steps of the display average its steps;
	// those that show the same step again and again do not.
	c.step = t.stepU()
	if n > 1 && math.Sqrt(c.square/(n-1)) >= t.Resolution/2 {
		c.step /= math.Sqrt(n)
	}
}
