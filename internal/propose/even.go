package propose

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
)

// How far what the joints of a line leave over can get within a box of places.
//
// # One joint
//
// With w = e^{2iθ} of a shaft's turn θ, a Cardan joint at β, whose bend lies in the
// direction ψ, takes the w of its driving shaft to that of its driven one by a map of the
// unit disc onto itself, (w + κ)/(1 + κ̄w) with κ = ±tan²(β/2)·e^{2iψ}: tan θ' = tan θ · cos β
// or over it, written in w. Yokes turn w by what they are offset. All of these are motions
// of the hyperbolic plane, so a line is one too; it runs as unevenly as one joint of
// |κ| = |M(0)|, whose distance from the middle is D = 2 artanh |κ|.
//
// # Directions
//
// Let each shaft have a frame that is carried from the one before it by the turn of the
// joint between the two, about the normal of both: the bend has the same direction ψ in
// both. τ = tan(β/2)·e^{iψ} is the driven axis seen from the driving one by stereographic
// projection. When the driving axis turns by p (its frame not spinning about it) and the
// driven one by q, τ changes by (p+q)(1+|τ|²)/2 at most, for the projection scales lengths
// by half of (1+|τ|²). The frame of the driven axis spins by no more than (p+q)·tan(β/2)
// against one that does not: the arc between the axes sweeps that area at most, its
// pieces going sideways as Jacobi fields do, (p·sin(β-s) + q·sin s)/sin β. So behind joints
// j the bend changes by |τ|·Σ (p_j+q_j)·|τ_j| besides.
//
// # Together
//
// A change dκ of one of the maps moves what it makes of a point x by no more than
// 2|dκ|·(1 + 2kξ + ξ²)/((1-k²)(1-ξ²)), |κ| ≤ k, |x| ≤ ξ: the derivatives by κ and by its
// conjugate, in the length of the hyperbolic plane. What comes behind is a motion and
// changes no distance, and what comes before takes 0 no farther than D = Σ 2 artanh k_j,
// so ξ = tanh Σ artanh k_j. A yoke that turns by dδ moves x by 2dδ·2ξ/(1-ξ²). The sum over
// the joints, each with the largest angle that it has in the box, bounds how far D gets;
// the equivalent angle is 2 atan √tanh(D/2), which rises with it, and so does the
// residual.
//
// # The mismatch
//
// Where the line's equivalent angle is past its limit the verdict on its last two joints is
// not better (mismatchFinding in the line trade takes the worst), whatever their
// difference is, which means nothing where yokes stand across. So that is what it is ruled
// out by, and nothing follows of by how much it misses.

// even is a line as far as its joints cancel, at a place.
type even struct {
	known  bool
	angles []float64 // of its joints, the larger of planned and read, rad
	whole  float64   // its equivalent angle, rad
	speed  float64   // rad/s, 0 where it is not known
	left   float64   // the residual, rad/s²
	rest   bool      // that is known
}

// evenIn is that of each line; nil where nothing is bounded by it.
func (p *Problem) evenIn(a *assess.Assessment) []even {
	var out []even
	for i := range p.demands {
		d := &p.demands[i]
		switch d.bound.how {
		case byEquivalent, byResidual, byMismatch:
		default:
			continue
		}
		if out == nil {
			out = make([]even, len(p.Build.Lines))
		}
		e, l := &out[d.bound.line], &a.Lines[d.bound.line]
		if e.known || len(l.Joints) != p.Build.Lines[d.bound.line].JointCount() {
			continue
		}
		whole, left := l.Evenness()
		e.known, e.whole, e.left, e.rest = whole.Known, whole.V, left.V, left.Known && l.Speed.Known
		e.speed = l.Speed.V
		for _, j := range l.Joints {
			angle := 0.0
			for _, m := range [2]finding.Number{j.Planned, j.Read} {
				if m.Known {
					angle = max(angle, m.V)
				}
			}
			e.angles = append(e.angles, angle)
		}
	}
	return out
}

// evenBuilt is what a demand on how joints cancel has to its limit as built.
func (p *Problem) evenBuilt(d *demand, s *spot) float64 {
	e := s.even[d.bound.line]
	switch {
	case !e.known:
	case d.bound.how == byEquivalent:
		return d.Limit - e.whole
	case d.bound.how == byMismatch:
		return d.bound.limit - e.whole
	case e.rest:
		return d.Limit - e.left
	}
	return math.NaN()
}

// evenReach is how far that gets within a box at most.
func (p *Problem) evenReach(d *demand, b box, middle []int, s *spot, turns []float64) float64 {
	e := s.even[d.bound.line]
	yokes := make([]float64, len(e.angles))
	for i := range p.moves {
		a := &p.moves[i]
		if n := a.mov.Yokes(); n > 0 && n < len(yokes) && a.mov.Line() == p.Build.Lines[d.bound.line].Name {
			c := a.values[middle[i]]
			yokes[n-1] += max(a.values[b.hi[i]]-c, c-a.values[b.lo[i]])
		}
	}
	far := evenBy(e.angles, turns, yokes)
	if math.IsInf(far, 1) {
		return far
	}
	t := math.Tan(e.whole / 2)
	is := 2 * math.Atanh(min(t*t, 1-1e-12))
	value := func(dist float64) float64 {
		return 2 * math.Atan(math.Sqrt(math.Tanh(max(dist, 0)/2)))
	}
	low, high := value(is-far), value(is+far)
	if d.bound.how == byResidual {
		return max(e.left-assess.ResidualOf(low, e.speed), assess.ResidualOf(high, e.speed)-e.left)
	}
	return max(e.whole-low, high-e.whole)
}

// evenBy is how far D of a line gets at most: from the angles of its joints, how far each
// of its axes turns, and how far the yoke behind each joint does; rad.
func evenBy(angles, turns, yokes []float64) float64 {
	const steep = 1.4
	total, spins, before := 0.0, 0.0, 0.0
	for i, angle := range angles {
		if i+1 >= len(turns) {
			return math.Inf(1)
		}
		both := turns[i] + turns[i+1]
		if !(angle+both < steep) {
			return math.Inf(1)
		}
		t := math.Tan((angle + both) / 2)
		k, x := t*t, math.Tanh(before)
		moved := 2 * t * (both*(1+t*t)/2 + t*spins)
		total += 2 * moved * (1 + 2*k*x + x*x) / ((1 - k*k) * (1 - x*x))
		spins += t * both
		before += math.Atanh(k)
		x = math.Tanh(before)
		total += 2 * yokes[i] * 2 * x / (1 - x*x)
	}
	return total
}

// only says that a demand's built number says whether it fails and not by how much.
func (p *Problem) only(i int) bool { return p.demands[i].bound.how == byMismatch }
