package seat

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Mount is a point that carries the powertrain.
type Mount struct {
	Name string // as it is said: "left front", "rear"
	At   r3.Vec // vehicle axes, mm
	// Rates along the vehicle axes, N/mm, say how the mounts share what
	// balance alone does not settle. All zero on every mount: equal shares of
	// stiffness are assumed.
	Rates Rates
}

// Basis is what settled the vertical reactions.
type Basis uint8

// Three mounts are settled by balance alone; more share by stiffness.
const (
	ByBalance Basis = iota
	ByEqualRates
	ByGivenRates
)

// String says the basis in a sentence.
func (b Basis) String() string {
	switch b {
	case ByBalance:
		return "vertical loads follow from balance alone; forces along and across are shared by stiffness"
	case ByEqualRates:
		return "more mounts than balance can settle: all are assumed equally stiff and the powertrain and frame rigid"
	case ByGivenRates:
		return "more mounts than balance can settle: shared by the rates given, powertrain and frame rigid"
	}
	return "not known"
}

// Reaction is what one mount does to the powertrain.
type Reaction struct {
	Name  string
	Force r3.Vec // on the powertrain, N, vehicle axes; Z up carries weight
	Lifts bool   // the powertrain pulls up on the mount, which must hold it down
}

// Reactions are all mounts under one load.
type Reactions struct {
	Each  []Reaction
	Basis Basis
}

// Lifting returns the names of the mounts that are pulled up.
func (r Reactions) Lifting() []string {
	var names []string
	for _, e := range r.Each {
		if e.Lifts {
			names = append(names, e.Name)
		}
	}
	return names
}

// slack is the pull, N, below which a mount is not yet said to lift: far under
// anything that matters, far over rounding.
const slack = 1e-3

// ReactionsAt returns what three or more mounts do to the powertrain under a
// load: the rigid answer, before anything gives.
//
// Forces along and across the vehicle and turning in plan are taken first, in
// proportion to stiffness (the smallest strain energy that balances); vertical
// forces then balance weight, pitch and roll with what those bring at their
// heights. For three mounts the vertical part is statically determinate. A
// mount may pull: Lifts says so, it is not taken out of the sum.
func ReactionsAt(b Body, mounts []Mount, load Load) (Reactions, error) {
	basis, err := checkMounts(b, mounts, load)
	if err != nil {
		return Reactions{}, err
	}
	// Work about the middle of the mounts with arms of order 1.
	mid, reach := middle(mounts)
	n := len(mounts)
	arms, rates := make([]r3.Vec, n), make([]r3.Vec, n)
	for i, m := range mounts {
		arms[i] = r3.Scale(1/reach, r3.Sub(m.At, mid))
		rates[i] = r3.Vec{X: 1, Y: 1, Z: 1}
		if m.Rates != (Rates{}) {
			rates[i] = r3.Vec(m.Rates)
		}
	}
	force := load.Force(b)
	moment := r3.Add(r3.Cross(r3.Scale(1/reach, r3.Sub(b.Centre, mid)), force), r3.Scale(1/reach, load.Torque))

	got := make([]r3.Vec, n)
	if err := shareLevel(got, arms, rates, force, moment.Z); err != nil {
		return Reactions{}, inPlan(mounts)
	}
	for i := range got { // what the level forces bring at their heights
		moment = r3.Add(moment, r3.Cross(arms[i], got[i]))
	}
	if err := shareVertical(got, arms, rates, force.Z, moment); err != nil {
		return Reactions{}, inPlan(mounts)
	}
	out := Reactions{Basis: basis, Each: make([]Reaction, n)}
	for i, m := range mounts {
		if !geom.Finite(got[i].X, got[i].Y, got[i].Z) {
			return Reactions{}, fmt.Errorf("%s mount: the load on it is beyond what can be worked out; check the numbers", m.Name)
		}
		out.Each[i] = Reaction{Name: m.Name, Force: got[i], Lifts: got[i].Z < -slack}
	}
	return out, nil
}

func checkMounts(b Body, mounts []Mount, load Load) (Basis, error) {
	if err := b.check(); err != nil {
		return 0, err
	}
	if err := load.check(); err != nil {
		return 0, err
	}
	if len(mounts) < 3 {
		return 0, fmt.Errorf("%d mounts: at least three are needed to hold a powertrain", len(mounts))
	}
	given := 0
	for _, m := range mounts {
		if !geom.Finite(m.At.X, m.At.Y, m.At.Z) {
			return 0, fmt.Errorf("%s mount: its place is not a number", m.Name)
		}
		if m.Rates == (Rates{}) {
			continue
		}
		given++
		if err := m.Rates.check(m.Name); err != nil {
			return 0, err
		}
	}
	switch {
	case given != 0 && given != len(mounts):
		for _, m := range mounts {
			if m.Rates == (Rates{}) {
				return 0, fmt.Errorf("%s mount: it has no rates but other mounts have; give rates for all mounts or for none", m.Name)
			}
		}
	case len(mounts) > 3 && given > 0:
		return ByGivenRates, inPlan(mounts)
	case len(mounts) > 3:
		return ByEqualRates, inPlan(mounts)
	}
	return ByBalance, inPlan(mounts)
}

// inPlan returns an error when the mounts stand in one line seen from above.
func inPlan(mounts []Mount) error {
	mid, _ := middle(mounts)
	var xx, yy, xy float64
	for _, m := range mounts {
		d := r3.Sub(m.At, mid)
		xx, yy, xy = xx+d.X*d.X, yy+d.Y*d.Y, xy+d.X*d.Y
	}
	across := (xx+yy)/2 - math.Hypot((xx-yy)/2, xy) // squared spread off the best line
	if across > 1e-8*(xx+yy) && xx+yy > geom.Tiny {
		return nil
	}
	return fmt.Errorf("%s mounts: %w", namesOf(mounts), ErrPadLine)
}

// ErrPadLine is returned for mounts that stand in one line seen from above.
var ErrPadLine = errors.New("the pads lie in one line seen from above, so they cannot hold the powertrain level; check the pad points")

func namesOf(mounts []Mount) string {
	names := make([]string, len(mounts))
	for i, m := range mounts {
		names[i] = m.Name
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// middle returns the middle of the mounts and a length to scale arms by.
func middle(mounts []Mount) (mid r3.Vec, reach float64) {
	for _, m := range mounts {
		mid = r3.Add(mid, r3.Scale(1/float64(len(mounts)), m.At))
	}
	reach = 1
	for _, m := range mounts {
		reach = max(reach, r3.Norm(r3.Sub(m.At, mid)))
	}
	return mid, reach
}

// shareLevel adds to got the X and Y forces that balance force.X, force.Y and
// the moment mz about Z with the smallest sum of force²/rate.
func shareLevel(got, arms, rates []r3.Vec, force r3.Vec, mz float64) error {
	n := len(arms)
	a := mat.NewDense(3, 2*n, nil)
	w := make([]float64, 2*n)
	for i, p := range arms {
		a.Set(0, 2*i, 1)
		a.Set(1, 2*i+1, 1)
		a.Set(2, 2*i, -p.Y)
		a.Set(2, 2*i+1, p.X)
		w[2*i], w[2*i+1] = rates[i].X, rates[i].Y
	}
	x, err := leastWork(a, w, []float64{-force.X, -force.Y, -mz})
	if err != nil {
		return err
	}
	for i := range got {
		got[i].X += x[2*i]
		got[i].Y += x[2*i+1]
	}
	return nil
}

// shareVertical adds to got the Z forces that balance fz and the moments about
// X and Y, likewise.
func shareVertical(got, arms, rates []r3.Vec, fz float64, moment r3.Vec) error {
	n := len(arms)
	a := mat.NewDense(3, n, nil)
	w := make([]float64, n)
	for i, p := range arms {
		a.Set(0, i, 1)
		a.Set(1, i, p.Y)
		a.Set(2, i, -p.X)
		w[i] = rates[i].Z
	}
	x, err := leastWork(a, w, []float64{-fz, -moment.X, -moment.Y})
	if err != nil {
		return err
	}
	for i := range got {
		got[i].Z += x[i]
	}
	return nil
}

// leastWork returns the x with a·x = b that has the smallest sum of x²/w:
// x = W aᵀ (a W aᵀ)⁻¹ b, once refined.
func leastWork(a *mat.Dense, w, b []float64) ([]float64, error) {
	rows, cols := a.Dims()
	top := 0.0
	for _, v := range w {
		top = max(top, v)
	}
	weighted := mat.NewDense(rows, cols, nil)
	weighted.Apply(func(_, j int, v float64) float64 { return v * w[j] / top }, a)
	var normal mat.Dense
	normal.Mul(weighted, a.T())
	var lu mat.LU
	lu.Factorize(&normal)
	if cond := lu.Cond(); !(cond < 1e14) {
		return nil, ErrPadLine
	}
	x := mat.NewVecDense(cols, nil)
	rest := mat.NewVecDense(rows, append([]float64{}, b...))
	for range 3 {
		var lambda, step, back mat.VecDense
		if err := lu.SolveVecTo(&lambda, false, rest); err != nil {
			return nil, err
		}
		step.MulVec(weighted.T(), &lambda)
		x.AddVec(x, &step)
		back.MulVec(a, x)
		rest.SubVec(mat.NewVecDense(rows, append([]float64{}, b...)), &back)
	}
	return x.RawVector().Data, nil
}
