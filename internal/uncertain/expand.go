package uncertain

import "math"

// Coverage is the factor k by which a standard uncertainty is widened before it
// is shown or held against a limit: k = 2, about 95 % (JCGM 100:2008, 6.3.3).
const Coverage = 2.0

// U is the standard uncertainty.
func (n Number) U() float64 { return math.Sqrt(n.variance()) }

// Expanded is the half width that is shown after ± and held against a limit:
// Factor times U, and the bend.
func (n Number) Expanded() float64 {
	variance, dof := n.spread()
	return factor(dof)*math.Sqrt(variance) + n.bend
}

// Factor is k: Coverage, or Student's where something was estimated from few
// values.
func (n Number) Factor() float64 {
	_, dof := n.spread()
	return factor(dof)
}

// DoF is the effective number of degrees of freedom (Welch and Satterthwaite,
// JCGM 100:2008, G.4.1), infinite where nothing was estimated. Parts of one
// pool count as the one estimate they are.
func (n Number) DoF() float64 {
	_, dof := n.spread()
	return dof
}

func (n Number) variance() float64 {
	sum := 0.0
	for i, t := range n.terms {
		if t.flags&turns != 0 {
			s := signs{from: n.from}
			for _, t := range n.terms[i:] {
				if t.flags&turns != 0 {
					s.add(t)
				} else {
					sum += t.c * t.c
				}
			}
			return sum + s.variance()
		}
		sum += t.c * t.c
	}
	return sum
}

// spread is the variance and the effective degrees of freedom.
func (n Number) spread() (variance, dof float64) {
	variance = n.variance()
	for i, t := range n.terms {
		if t.flags&estimated != 0 {
			return variance, n.effective(variance, i)
		}
	}
	return variance, math.Inf(1)
}

// effective is the degrees of freedom; first is the first term that was
// estimated.
func (n Number) effective(variance float64, first int) float64 {
	var few [4]group
	pools := few[:0]
	for _, t := range n.terms[first:] {
		if t.flags&estimated != 0 {
			k := &n.from.all[t.id-1]
			g := find(&pools, k.pool)
			g.sum += t.c * t.c
			g.dof = k.DoF
		}
	}
	below := 0.0
	for _, g := range pools {
		below += g.sum * g.sum / g.dof
	}
	if below == 0 { // smaller than a float has
		return math.Inf(1)
	}
	return variance * variance / below
}

// group gathers the terms of one pool.
type group struct {
	of       ID
	sum, dof float64
}

func find(groups *[]group, of ID) *group {
	for i := range *groups {
		if (*groups)[i].of == of {
			return &(*groups)[i]
		}
	}
	*groups = append(*groups, group{of: of})
	return &(*groups)[len(*groups)-1]
}

// signs gathers terms that may act with an unknown sign: those of known sign
// with it, the others by their size.
type signs struct {
	from *Sources
	few  [4]signed
	used int
	more []signed
}

type signed struct {
	of           ID
	known, sizes float64
}

func (s *signs) add(t term) {
	of := s.from.all[t.id-1].sign
	x := s.find(of)
	if of == t.id {
		x.known += t.c
	} else {
		x.sizes += math.Abs(t.c)
	}
}

func (s *signs) find(of ID) *signed {
	for i := range s.few[:s.used] {
		if s.few[i].of == of {
			return &s.few[i]
		}
	}
	for i := range s.more {
		if s.more[i].of == of {
			return &s.more[i]
		}
	}
	if s.used < len(s.few) {
		s.used++
		s.few[s.used-1].of = of
		return &s.few[s.used-1]
	}
	s.more = append(s.more, signed{of: of})
	return &s.more[len(s.more)-1]
}

func (s *signs) variance() float64 {
	sum := 0.0
	for _, x := range s.few[:s.used] {
		sum += x.square()
	}
	for _, x := range s.more {
		sum += x.square()
	}
	return sum
}

func (x signed) square() float64 {
	c := math.Abs(x.known) + x.sizes
	return c * c
}

// Covariance of two numbers. Where both depend on one source with an unknown
// sign, those parts are left out: their covariance can be anything up to the
// product of the two.
func Covariance(n, m Number) float64 {
	related(n.from, m.from)
	sum := 0.0
	a, b := n.terms, m.terms
	for len(a) > 0 && len(b) > 0 {
		switch {
		case a[0].id < b[0].id:
			a = a[1:]
		case a[0].id > b[0].id:
			b = b[1:]
		default:
			sum += a[0].c * b[0].c
			a, b = a[1:], b[1:]
		}
	}
	return sum
}

// Correlation of two numbers, -1 to 1; 0 where one of them is exact.
func Correlation(n, m Number) float64 {
	u := n.U() * m.U()
	if u == 0 {
		return 0
	}
	return max(-1, min(1, Covariance(n, m)/u))
}

// student97 is Student's t for 95 % between -t and t, by degrees of freedom from
// 1, rounded up (JCGM 100:2008, table G.2).
var student97 = [...]float64{
	12.70621, 4.30266, 3.18245, 2.77645, 2.57059, 2.44692, 2.36463, 2.30601, 2.26216, 2.22814,
	2.20099, 2.17882, 2.16037, 2.14479, 2.13145, 2.11991, 2.10982, 2.10093, 2.09303, 2.08597,
	2.07962, 2.07388, 2.06866, 2.06390, 2.05954, 2.05553, 2.05184, 2.04841, 2.04523, 2.04228,
	2.03952, 2.03694, 2.03452, 2.03225, 2.03011, 2.02810, 2.02620, 2.02440, 2.02270, 2.02108,
	2.01955, 2.01809, 2.01670, 2.01537, 2.01411, 2.01290, 2.01175, 2.01064, 2.00958, 2.00856,
	2.00759, 2.00665, 2.00575, 2.00488, 2.00405, 2.00325, 2.00247, 2.00172, 2.00100, 2.00030,
}

// factor is k for so many degrees of freedom, truncated to a whole number
// (JCGM 100:2008, G.4.1), never below Coverage.
func factor(dof float64) float64 {
	const whole = 1e-9 // 3 worked out as 2.9999999999 is 3
	if dof+whole >= float64(len(student97)+1) {
		return Coverage
	}
	return max(Coverage, student97[max(0, int(dof+whole)-1)])
}
