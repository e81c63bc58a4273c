package modes

import (
	"fmt"
	"math"
	"slices"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Way is one of the six ways a body moves.
type Way uint8

// The ways, along and about the crankshaft's axes.
const (
	ForeAft Way = iota
	Sideways
	Bounce
	Roll
	Pitch
	Yaw
)

var wayNames = [...]string{"fore and aft", "sideways", "bounce", "roll about the crank", "pitch", "yaw"}

// String names the way as the trade does.
func (w Way) String() string {
	if int(w) >= len(wayNames) {
		return "unknown"
	}
	return wayNames[w]
}

// Mode is one way the body swings by itself.
type Mode struct {
	Frequency float64 // Hz, undamped, with the stiffness of vibration
	// Shift, mm, of the centre of mass and Turn, rad, vehicle axes; the largest
	// shift of a mount, link or the centre is 1 mm, and the largest part is positive.
	Shift, Turn r3.Vec
	// Share is how the kinetic energy divides among the six ways; they add up to 1.
	// Products of inertia can make one a little less than 0.
	Share [6]float64
	// Strain is how the elastic energy divides among mounts, links and stops met, in
	// that order; of a mount all three directions together.
	Strain []float64
	// PerRate is by how many Hz the frequency rises for each N/mm of static rate: of
	// a mount along its own X, Y and Z, of a link or stop in X.
	PerRate []r3.Vec
	Loss    float64 // loss factor of the mode: the parts' own, by their share
}

// Main returns the way most of the energy is in, and the ways that have at least a
// twentieth, the largest first: "roll about the crank with some yaw".
func (m *Mode) Main() (main Way, some []Way) {
	order := []Way{ForeAft, Sideways, Bounce, Roll, Pitch, Yaw}
	slices.SortStableFunc(order, func(a, b Way) int {
		switch {
		case m.Share[a] > m.Share[b]+1e-9:
			return -1
		case m.Share[b] > m.Share[a]+1e-9:
			return 1
		}
		return 0
	})
	for _, w := range order[1:] {
		if m.Share[w] >= 0.05 {
			some = append(some, w)
		}
	}
	return order[0], some
}

// Modes returns the six modes in order of frequency. axes are those of the six ways:
// X along the crankshaft. Stops count where met says so, in their order; nil means
// that none is met. A body that something leaves free is refused.
func (s *System) Modes(axes geom.Pose, met []bool) ([6]Mode, error) {
	var out [6]Mode
	if err := s.check(); err != nil {
		return out, err
	}
	if err := checkAxes(axes); err != nil {
		return out, err
	}
	list := s.counted(met)
	k, err := s.stiffness(list, axes)
	if err != nil {
		return out, err
	}
	m := s.mass()
	value, vector, ok := swing(&k, &m)
	if !ok {
		return out, fmt.Errorf("powertrain: its modes are not found; check masses and rates")
	}
	for i := range out {
		out[i] = s.mode(value[i], &vector[i], list, axes)
	}
	return out, nil
}

func checkAxes(axes geom.Pose) error {
	if !finite(axes.X, axes.Y, axes.Z) || !geom.Near(r3.Dot(r3.Cross(axes.X, axes.Y), axes.Z), 1, 1e-6) || !geom.Near(r3.Norm(axes.X), 1, 1e-6) {
		return fmt.Errorf("powertrain: the axes of its crankshaft are not square to each other")
	}
	return nil
}

// counted returns the springs that work in vibration.
func (s *System) counted(met []bool) []spring {
	always, stops := s.springs()
	for i, q := range stops {
		if i < len(met) && met[i] {
			always = append(always, q)
		}
	}
	return always
}

// stiffness is that of vibration, and an error where it leaves a motion free.
func (s *System) stiffness(list []spring, axes geom.Pose) (square, error) {
	var k square
	for i := range list {
		k.along(list[i].rate*list[i].dynamic, &list[i].way)
	}
	err := s.holds(&k, axes)
	return k, err
}

// loosest is the part of the stiffest way's stiffness that the softest must have.
const loosest = 1e-9

// holds refuses a stiffness that leaves a motion free, turns counted over the reach
// of what holds the body.
func (s *System) holds(k *square, axes geom.Pose) error {
	reach := s.reach()
	m := mat.NewSymDense(6, nil)
	for i := range 6 {
		for j := range i + 1 {
			v := k[i][j]
			if i >= 3 {
				v /= reach
			}
			if j >= 3 {
				v /= reach
			}
			m.SetSym(i, j, v)
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(m, true) {
		return fmt.Errorf("powertrain: its stiffness cannot be worked with; check the rates")
	}
	v := eig.Values(nil)
	if v[0] > loosest*v[5] && v[5] > 0 {
		return nil
	}
	var vec mat.Dense
	eig.VectorsTo(&vec)
	shift := axes.OwnDir(r3.Vec{X: vec.At(0, 0), Y: vec.At(1, 0), Z: vec.At(2, 0)})
	turn := axes.OwnDir(r3.Vec{X: vec.At(3, 0), Y: vec.At(4, 0), Z: vec.At(5, 0)})
	most, way := 0.0, ForeAft
	for i, p := range [6]float64{shift.X, shift.Y, shift.Z, turn.X, turn.Y, turn.Z} {
		if math.Abs(p) > most {
			most, way = math.Abs(p), Way(i)
		}
	}
	return fmt.Errorf("powertrain: nothing holds it against %s; set the mounts apart or add a link", way)
}

// reach is the farthest that anything holds the body from its centre, mm.
func (s *System) reach() float64 {
	most := 1.0
	add := func(p r3.Vec) { most = max(most, r3.Norm(r3.Sub(p, s.Body.Centre))) }
	for i := range s.Mounts {
		add(s.Mounts[i].Frame.At)
	}
	for _, l := range s.Links {
		add(l.On)
	}
	return most
}

// mass is the mass matrix, kg and kg·mm².
func (s *System) mass() (m square) {
	for i := range 3 {
		m[i][i] = s.Body.Mass
		for j, v := range s.Inertia.tensor()[i] {
			m[3+i][3+j] = v
		}
	}
	return m
}

// perSecond takes N/mm and kg to 1/s²: a newton is 1000 kg·mm/s².
const perSecond = 1000

// swing solves K φ = ω² M φ by Cholesky's factor of M and a symmetric eigenvalue
// problem; φᵀ M φ = 1.
func swing(k, m *square) (omega2 [6]float64, phi [6]six, ok bool) {
	sym := mat.NewSymDense(6, nil)
	for i := range 6 {
		for j := range i + 1 {
			sym.SetSym(i, j, m[i][j])
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(sym) {
		return omega2, phi, false
	}
	var lower mat.TriDense
	chol.LTo(&lower)
	var inv mat.Dense
	if err := inv.Solve(&lower, eye()); err != nil {
		return omega2, phi, false
	}
	kd := mat.NewDense(6, 6, nil)
	for i := range 6 {
		for j := range 6 {
			kd.Set(i, j, perSecond*k[i][j])
		}
	}
	var a mat.Dense
	a.Product(&inv, kd, inv.T())
	for i := range 6 {
		for j := range i + 1 {
			sym.SetSym(i, j, (a.At(i, j)+a.At(j, i))/2)
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(sym, true) {
		return omega2, phi, false
	}
	var vec, own mat.Dense
	eig.VectorsTo(&vec)
	own.Mul(inv.T(), &vec)
	for n, v := range eig.Values(nil) {
		omega2[n] = v
		ok = v > 0 && !math.IsInf(v, 0)
		for i := range 6 {
			phi[n][i] = own.At(i, n)
		}
		if !ok {
			return omega2, phi, false
		}
	}
	return omega2, phi, true
}

func eye() *mat.DiagDense { return mat.NewDiagDense(6, []float64{1, 1, 1, 1, 1, 1}) }

func (s *System) mode(omega2 float64, phi *six, list []spring, axes geom.Pose) Mode {
	omega := math.Sqrt(omega2)
	m := Mode{Frequency: omega / (2 * math.Pi)}
	parts := len(s.Mounts) + len(s.Links) + len(s.Stops)
	m.Strain, m.PerRate = make([]float64, parts), make([]r3.Vec, parts)
	direction := make([]int, parts)
	for i := range list {
		q := &list[i]
		d := q.way.dot(phi)
		e := perSecond * q.rate * q.dynamic * d * d / omega2
		m.Strain[q.part] += e
		m.Loss += q.loss * e
		// dω²/dk = d² of the mode whose mass is 1 (Rayleigh).
		by := perSecond * q.dynamic * d * d / (4 * math.Pi * omega)
		switch direction[q.part] {
		case 0:
			m.PerRate[q.part].X = by
		case 1:
			m.PerRate[q.part].Y = by
		default:
			m.PerRate[q.part].Z = by
		}
		direction[q.part]++
	}
	shift, turn := phi.vectors()
	m.Share = s.share(shift, turn, axes)
	by := 1 / s.largest(shift, turn)
	m.Shift, m.Turn = r3.Scale(by, shift), r3.Scale(by, turn)
	return m
}

// share divides the kinetic energy of a motion among the six ways.
func (s *System) share(shift, turn r3.Vec, axes geom.Pose) (out [6]float64) {
	own := axes.OwnDir(shift)
	t := s.Inertia.tensor()
	spin := axes.OwnDir(r3.Vec{
		X: t[0][0]*turn.X + t[0][1]*turn.Y + t[0][2]*turn.Z,
		Y: t[1][0]*turn.X + t[1][1]*turn.Y + t[1][2]*turn.Z,
		Z: t[2][0]*turn.X + t[2][1]*turn.Y + t[2][2]*turn.Z,
	})
	w := axes.OwnDir(turn)
	m := s.Body.Mass
	out = [6]float64{m * own.X * own.X, m * own.Y * own.Y, m * own.Z * own.Z, spin.X * w.X, spin.Y * w.Y, spin.Z * w.Z}
	sum := 0.0
	for _, v := range out {
		sum += v
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// largest is the largest shift of the centre or of anything that holds the body,
// with the sign of the largest part of the motion.
func (s *System) largest(shift, turn r3.Vec) float64 {
	most := r3.Norm(shift)
	add := func(at r3.Vec) {
		most = max(most, r3.Norm(r3.Add(shift, r3.Cross(turn, r3.Sub(at, s.Body.Centre)))))
	}
	for i := range s.Mounts {
		add(s.Mounts[i].Frame.At)
	}
	for _, l := range s.Links {
		add(l.On)
	}
	reach := s.reach()
	size, sign := 0.0, 1.0
	for _, v := range [6]float64{shift.X, shift.Y, shift.Z, turn.X * reach, turn.Y * reach, turn.Z * reach} {
		if math.Abs(v) > size*(1+1e-9) {
			size, sign = math.Abs(v), math.Copysign(1, v)
		}
	}
	return sign * most
}

// Softer is what softening one part does to a mode.
type Softer struct {
	Part string
	// PerTenth is by how many Hz the mode falls when all rates of the part fall by a
	// tenth, to first order: half its share of the elastic energy.
	PerTenth float64
}

// Soften returns the mounts, links and stops met in the order in which softening them
// lowers a mode most; those that do next to nothing are left out.
func (s *System) Soften(m *Mode) []Softer {
	var out []Softer
	for i, e := range m.Strain {
		if e >= 0.01 {
			out = append(out, Softer{s.partName(i), m.Frequency * e / 20})
		}
	}
	slices.SortStableFunc(out, func(a, b Softer) int {
		switch {
		case a.PerTenth > b.PerTenth*(1+1e-9):
			return -1
		case b.PerTenth > a.PerTenth*(1+1e-9):
			return 1
		}
		return 0
	})
	return out
}

func (s *System) partName(i int) string {
	n, l := len(s.Mounts), len(s.Links)
	switch {
	case i < n:
		return geom.PartName("mount", s.Mounts[i].Name)
	case i < n+l:
		return geom.PartName("link", s.Links[i-n].Name)
	}
	return geom.PartName("stop", s.Stops[i-n-l].Name)
}

// LossOf is the loss factor of a damping ratio given at resonance: 2ζ.
func LossOf(ratio float64) float64 { return 2 * ratio }
