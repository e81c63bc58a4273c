package instrument

import (
	"math"

	"fitup/internal/geom/gauge"
	"fitup/internal/uncertain"
)

// reader is the work of Tool.Read.
type reader struct {
	Tool
	s     *uncertain.Sources
	out   *Read
	cells [][]cell // by set

	bias     float64  // of the zero, by readings both ways round
	turned   [2]*cell // of set turnedOf, when there is a bias
	turnedOf int
	zeroHalf float64
	squares  float64 // pooled sum of squares and its degrees of freedom
	dof      int
	most     float64 // the largest distance of a reading from the mean of its cell

	zero, scale uncertain.ID
	surfaces    []surface
	pooled      uncertain.ID // the first source with the pooled scatter
}

type surface struct {
	name     string
	accuracy float64
	id       uncertain.ID
}

// findBias looks for readings of one surface with the tool both ways round: half
// their difference is the error of its zero. A difference that no zero explains
// is a slip and says nothing of the tool.
func (r *reader) findBias() {
	r.zeroHalf = r.Zero
	for k, cells := range r.cells {
		for i := range cells {
			for j := range i {
				a, b := &cells[i], &cells[j]
				if a.surface != b.surface || a.sign*b.sign != -1 || r.torn(a) || r.torn(b) {
					continue
				}
				bias := float64(a.sign) * (a.mean - b.mean) / 2
				if math.Abs(bias) > max(r.MostZero, 2*r.Zero) {
					continue
				}
				r.bias, r.turned, r.turnedOf, r.out.HasBias = bias, [2]*cell{a, b}, k, true
				r.zeroHalf = max(r.Zero, math.Abs(bias))
				return
			}
		}
	}
}

// torn reports whether the readings of a cell contradict each other.
func (r *reader) torn(c *cell) bool {
	var out Result
	r.within(c, &out)
	return out.Agreement == gauge.Contradict
}

// pool gathers the scatter of all sets that do not contradict themselves.
func (r *reader) pool() {
	for i, cells := range r.cells {
		if r.out.Sets[i].Agreement == gauge.Contradict {
			continue
		}
		for _, c := range cells {
			r.squares += c.square
			r.dof += len(c.values) - 1
			r.most = max(r.most, c.most)
		}
	}
	shown := 0.0
	if r.dof > 0 {
		shown = math.Sqrt(r.squares / float64(r.dof))
	}
	if r.Repeat > 0 {
		r.out.Scatter = max(shown, r.Repeat/math.Sqrt(3))
		return
	}
	r.out.Scatter, r.out.DoF = shown, float64(r.dof)
}

// common adds the sources that all readings share, and the bias.
func (r *reader) common(sets []Set) error {
	var err error
	zero := uncertain.Half(r.Name+"'s zero", r.zeroHalf)
	zero.Turns = true
	if r.zero, err = r.s.Add(zero); err != nil {
		return err
	}
	if r.scale, err = r.s.Add(uncertain.Half(r.Name+"'s scale", r.Scale)); err != nil {
		return err
	}
	if !r.out.HasBias {
		return nil
	}
	a, b := r.turned[0], r.turned[1]
	x, err := r.of(a, sets[r.turnedOf].Of)
	if err != nil {
		return err
	}
	y, err := r.of(b, sets[r.turnedOf].Of)
	if err != nil {
		return err
	}
	// Turned round it stands at another angle to its own scale, so its accuracy
	// is not that of before.
	half := max(a.accuracy, b.accuracy)
	other, err := r.s.With(0, uncertain.Half(r.Name+"'s accuracy when turned round", half))
	if err != nil {
		return err
	}
	sign := float64(a.sign) / 2
	r.out.Bias = x.Minus(y).Times(sign).Plus(other)
	return nil
}

// number is what a set stands for: the mean over surfaces of the mean over the
// ways the tool stood on each, so that a zero drops out where it can, freed of
// the bias.
func (r *reader) number(set Set, cells []cell) (uncertain.Number, error) {
	ways := map[string]float64{}
	for _, c := range cells {
		ways[c.surface]++
	}
	var parts []uncertain.Weighted
	left := 0.0 // of the zero
	for i := range cells {
		c := &cells[i]
		w := 1 / ways[c.surface] / float64(len(ways))
		n, err := r.of(c, set.Of)
		if err != nil {
			return n, err
		}
		parts = append(parts, uncertain.Weighted{K: w, N: n})
		left += w * float64(c.sign)
	}
	n := uncertain.Sum(parts...)
	if r.out.HasBias && left != 0 {
		n = n.Minus(r.out.Bias.Times(left))
	}
	return n, nil
}

// of is the mean of a cell, made once.
func (r *reader) of(c *cell, name string) (uncertain.Number, error) {
	if c.made {
		return c.number, nil
	}
	accuracy, err := r.accuracyOf(c)
	if err != nil {
		return uncertain.Number{}, err
	}
	step, err := r.s.Add(uncertain.Source{Label: r.Name + "'s resolution", U: c.step, Shape: uncertain.Rectangular})
	if err != nil {
		return uncertain.Number{}, err
	}
	scatter, err := r.scatterOf(c, name)
	if err != nil {
		return uncertain.Number{}, err
	}
	zero, sign := r.zero, float64(c.sign)
	if c.sign == 0 {
		if zero, err = r.s.Unsigned(r.zero); err != nil {
			return uncertain.Number{}, err
		}
		sign = 1
	}
	byScale := c.mean
	if c.whole {
		byScale = 0
	}
	c.number, c.made = r.s.Number(c.mean,
		uncertain.Part{Of: accuracy, C: 1}, uncertain.Part{Of: step, C: 1}, uncertain.Part{Of: scatter, C: 1},
		uncertain.Part{Of: zero, C: sign}, uncertain.Part{Of: r.scale, C: byScale},
	), true
	return c.number, nil
}

// accuracyOf is the source that all readings of a surface share.
func (r *reader) accuracyOf(c *cell) (uncertain.ID, error) {
	half := max(c.accuracy-c.scaled, 0)
	for _, s := range r.surfaces {
		if s.name == c.surface && s.accuracy == half {
			return s.id, nil
		}
	}
	id, err := r.s.Add(uncertain.Half(r.Name+"'s accuracy on "+c.surface, half))
	if err == nil {
		r.surfaces = append(r.surfaces, surface{c.surface, half, id})
	}
	return id, err
}

// scatterOf is the source of the scatter of a cell's mean.
func (r *reader) scatterOf(c *cell, name string) (uncertain.ID, error) {
	n := float64(len(c.values))
	src := uncertain.Source{Label: "the scatter of the readings of " + name, U: r.out.Scatter / math.Sqrt(n), DoF: r.out.DoF}
	if n == 1 {
		src.Label = "the reading of " + name
	}
	if src.DoF > 0 {
		if u, less := r.deserved(c, src); less {
			src.U, src.DoF = u, 0
		} else {
			src.Pool = r.pooled
		}
	}
	id, err := r.s.Add(src)
	if src.DoF > 0 && r.pooled == uncertain.None {
		r.pooled = id
	}
	return id, err
}

// deserved is the scatter of a cell's mean that its repeats deserve, and whether
// that is less than src with Student's factor. A single reading, with nothing
// stated of its repeat, is good for its accuracy and its display; the mean lies
// no farther from any reading than the farthest does, so the two together hold
// the truth as surely as the single reading does.
func (r *reader) deserved(c *cell, src uncertain.Source) (u float64, less bool) {
	base := math.Hypot(c.accuracy/math.Sqrt(3), c.step)
	var scratch uncertain.Sources
	first, err := scratch.With(0, uncertain.Source{U: base})
	if err != nil {
		return 0, false
	}
	second, err := scratch.With(0, src)
	if err != nil {
		return 0, false
	}
	if first.Plus(second).Expanded() <= uncertain.Coverage*base+r.most {
		return 0, false
	}
	whole := base + r.most/uncertain.Coverage
	return math.Sqrt(whole*whole - base*base), true
}
