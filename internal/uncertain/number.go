package uncertain

import "math"

// Number is a number and how it depends on its sources. The zero Number is 0,
// exactly. Numbers are values: no operation changes its operands.
type Number struct {
	V float64
	// bend is the half width of what the straight line leaves out.
	bend  float64
	from  *Sources // nil when there are no terms
	terms []term   // by rising id
}

// term is what one standard uncertainty of a source does to a number.
type term struct {
	id    ID
	flags uint32
	c     float64
}

// Exact is a number without any uncertainty.
func Exact(v float64) Number { return Number{V: v} }

// Part is a dependence on a source: C is what an error of 1 in it does.
type Part struct {
	Of ID
	C  float64
}

// Number is v with errors from the given sources. A source may come once only.
func (s *Sources) Number(v float64, parts ...Part) Number {
	n := Number{V: v, from: s, terms: make([]term, 0, len(parts))}
	for _, p := range parts {
		if p.Of == None || p.C == 0 {
			continue
		}
		k := &s.all[p.Of-1]
		at := len(n.terms)
		n.terms = append(n.terms, term{})
		for ; at > 0 && n.terms[at-1].id > p.Of; at-- {
			n.terms[at] = n.terms[at-1]
		}
		n.terms[at] = term{p.Of, k.flags, p.C * k.U}
	}
	return n
}

// With adds a source of its own to s and returns v with that error.
func (s *Sources) With(v float64, src Source) (Number, error) {
	id, err := s.Add(src)
	if err != nil {
		return Number{}, err
	}
	return s.Number(v, Part{id, 1}), nil
}

// Bend is the half width of what a straight line leaves out of the functions
// behind n: part of Expanded, not of U.
func (n Number) Bend() float64 { return n.bend }

// Of is what an error of 1 in a source does to n.
func (n Number) Of(id ID) float64 {
	for _, t := range n.terms {
		if t.id == id {
			return t.c / n.from.all[id-1].U
		}
	}
	return 0
}

// Plus is n + m.
func (n Number) Plus(m Number) Number { return n.mix(1, m, 1) }

// Minus is n - m.
func (n Number) Minus(m Number) Number { return n.mix(1, m, -1) }

// Mean is the mean of n and m.
func (n Number) Mean(m Number) Number { return n.mix(0.5, m, 0.5) }

// Shift is n + v, v exact.
func (n Number) Shift(v float64) Number {
	n.V += v
	return n
}

// Times is k·n, k exact.
func (n Number) Times(k float64) Number {
	out := Number{V: k * n.V, bend: math.Abs(k) * n.bend, from: n.from, terms: make([]term, len(n.terms))}
	for i, t := range n.terms {
		out.terms[i] = term{t.id, t.flags, k * t.c}
	}
	return out
}

// mix is p·n + q·m.
func (n Number) mix(p float64, m Number, q float64) Number {
	a, b := n.terms, m.terms
	out := Number{
		V: p*n.V + q*m.V, bend: math.Abs(p)*n.bend + math.Abs(q)*m.bend,
		from: related(n.from, m.from), terms: make([]term, len(a)+len(b)),
	}
	i, j, k := 0, 0, 0
	for i < len(a) && j < len(b) {
		x, y := a[i], b[j]
		switch {
		case x.id < y.id:
			x.c *= p
			i++
		case x.id > y.id:
			x = term{y.id, y.flags, q * y.c}
			j++
		default:
			x.c = p*x.c + q*y.c
			i, j = i+1, j+1
			if x.c == 0 {
				continue
			}
		}
		out.terms[k] = x
		k++
	}
	for ; i < len(a); i, k = i+1, k+1 {
		out.terms[k] = term{a[i].id, a[i].flags, p * a[i].c}
	}
	for ; j < len(b); j, k = j+1, k+1 {
		out.terms[k] = term{b[j].id, b[j].flags, q * b[j].c}
	}
	out.terms = out.terms[:k]
	return out
}

// Weighted is K·N.
type Weighted struct {
	K float64
	N Number
}

// Sum is the sum of weighted numbers, in one pass.
func Sum(parts ...Weighted) Number {
	v := 0.0
	for _, w := range parts {
		v += w.K * w.N.V
	}
	return Smooth(v, parts...)
}

// Smooth is a function of numbers, by its value there and its gradient: each K
// is the partial derivative by its N. What the second derivatives would add is
// left out; where a derivative may vanish, Curved has it.
func Smooth(v float64, gradient ...Weighted) Number {
	out := Number{V: v}
	var few [8][]term
	rest, size := few[:0], 0
	for _, w := range gradient {
		out.bend += math.Abs(w.K) * w.N.bend
		out.from = related(out.from, w.N.from)
		if size += len(w.N.terms); len(gradient) <= cap(few) {
			rest = append(rest, w.N.terms)
		}
	}
	if len(gradient) > cap(few) {
		out.terms = gathered(gradient, size)
		return out
	}
	out.terms = make([]term, 0, size)
	for {
		next := term{}
		for _, r := range rest {
			if len(r) > 0 && (next.id == None || r[0].id < next.id) {
				next.id, next.flags = r[0].id, r[0].flags
			}
		}
		if next.id == None {
			return out
		}
		for i, r := range rest {
			if len(r) > 0 && r[0].id == next.id {
				next.c += gradient[i].K * r[0].c
				rest[i] = r[1:]
			}
		}
		if next.c != 0 {
			out.terms = append(out.terms, next)
		}
	}
}

// gathered is what many numbers do together, in time that grows with their terms and
// with how far apart the ids of those lie. size is how many they have.
func gathered(gradient []Weighted, size int) []term {
	least, most := ID(math.MaxInt32), None
	for _, w := range gradient {
		if n := len(w.N.terms); n > 0 {
			least, most = min(least, w.N.terms[0].id), max(most, w.N.terms[n-1].id)
		}
	}
	if size == 0 {
		return nil
	}
	sum := make([]term, most-least+1)
	count := 0
	for _, w := range gradient {
		for _, t := range w.N.terms {
			s := &sum[t.id-least]
			if s.id == None {
				s.id, s.flags = t.id, t.flags
				count++
			}
			s.c += w.K * t.c
		}
	}
	out := make([]term, 0, count)
	for _, t := range sum {
		if t.c != 0 {
			out = append(out, t)
		}
	}
	return out
}

// Product is n·m with the bend of the product of the two errors.
func Product(n, m Number) Number {
	out := n.mix(m.V, m, n.V)
	out.V = n.V * m.V
	out.bend += quadratic * n.U() * m.U()
	return out
}

// Curved is Smooth with the second derivatives: hessian has len(gradient) rows of
// len(gradient), by rows. What half of error·hessian·error comes to becomes bend.
func Curved(v float64, hessian []float64, gradient ...Weighted) Number {
	out := Smooth(v, gradient...)
	var few [8]Number
	args := few[:0]
	for _, w := range gradient {
		args = append(args, w.N)
	}
	out.bend += bent(hessian, args)
	return out
}

// Square is the square of the complex number re + i·im: of a bend by its two
// components, the term it has in what a line of joints leaves.
func Square(re, im Number) (squareRe, squareIm Number) {
	x, y := re.V, im.V
	squareRe = Curved(x*x-y*y, []float64{2, 0, 0, -2}, Weighted{2 * x, re}, Weighted{-2 * y, im})
	squareIm = Curved(2*x*y, []float64{0, 2, 2, 0}, Weighted{2 * y, re}, Weighted{2 * x, im})
	return squareRe, squareIm
}
