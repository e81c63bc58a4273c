package modes

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/seat"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Inertia are a body's moments of inertia about axes through its centre of mass,
// kg·mm²: XX = ∫(y²+z²) dm and so on, and its products XY = ∫xy dm. The tensor has
// the products with their sign turned off its diagonal. Some makers print the
// products with that sign.
type Inertia struct{ XX, YY, ZZ, XY, YZ, ZX float64 }

// Block is the inertia of an even block of some mass, along its own axes, sizes in
// mm: a first guess for what has not been measured (m(b²+c²)/12).
func Block(mass, x, y, z float64) Inertia {
	by := mass / 12
	return Inertia{XX: by * (y*y + z*z), YY: by * (z*z + x*x), ZZ: by * (x*x + y*y)}
}

func (j Inertia) tensor() [3][3]float64 {
	return [3][3]float64{{j.XX, -j.XY, -j.ZX}, {-j.XY, j.YY, -j.YZ}, {-j.ZX, -j.YZ, j.ZZ}}
}

// Turned returns in vehicle axes an inertia that is given along a body's own axes.
func (j Inertia) Turned(pose geom.Pose) Inertia {
	t, e := j.tensor(), [3]r3.Vec{pose.X, pose.Y, pose.Z}
	var out [3][3]float64
	part := func(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
	for a := range 3 {
		for b := range 3 {
			for i := range 3 {
				for k := range 3 {
					out[i][k] += part(e[a])[i] * t[a][b] * part(e[b])[k]
				}
			}
		}
	}
	return Inertia{out[0][0], out[1][1], out[2][2], -out[0][1], -out[1][2], -out[2][0]}
}

// check refuses what no body has: a principal moment that is not above 0 or larger
// than the two others together.
func (j Inertia) check() error {
	if !geom.Finite(j.XX, j.YY, j.ZZ, j.XY, j.YZ, j.ZX) {
		return errors.New("powertrain: a moment of inertia is not a number")
	}
	t := j.tensor()
	s := mat.NewSymDense(3, nil)
	for a := range 3 {
		for b := range a + 1 {
			s.SetSym(a, b, t[a][b])
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(s, false) {
		return errors.New("powertrain: its moments of inertia cannot be worked with; check the numbers")
	}
	v := eig.Values(nil)
	if !(v[0] > 1e-9*v[2] && v[0] > 1e-6 && v[2] < 1e15) {
		return fmt.Errorf("powertrain: moments of inertia of %g, %g and %g kg·mm² (products %g, %g, %g) belong to no body; the moments must be above 0 and the products small beside them", j.XX, j.YY, j.ZZ, j.XY, j.YZ, j.ZX)
	}
	if v[2] > (v[0]+v[1])*(1+1e-9) {
		return errors.New("powertrain: one moment of inertia is larger than the two others together, which no body has; look for a slip of ten or of unit")
	}
	return nil
}

// Mount is an isolator in vibration.
type Mount struct {
	seat.Isolator         // its rates are static
	Dynamic       float64 // stiffness in vibration over static; 1 for steel
	Loss          float64 // loss factor; 0 without damping
}

// Link is a strut or torque link between two joints: a spring along its own line.
// What it carries at rest is not counted.
type Link struct {
	Name    string
	On      r3.Vec  // joint on the powertrain, mm
	To      r3.Vec  // joint on the vehicle, mm
	Rate    float64 // N/mm along the line, static: both bushes in a row
	Dynamic float64
	Loss    float64
}

// Series is the rate of bushes one behind the other, as a link's two: 1/(∑1/k).
func Series(rates ...float64) float64 {
	sum := 0.0
	for _, k := range rates {
		sum += 1 / k
	}
	return 1 / sum
}

// Stop is a buffer that is met after some free play: roll stops, snubbers, rebound
// washers.
type Stop struct {
	Name string
	At   r3.Vec // on the powertrain, mm
	Axis r3.Vec // any length; the way that Forward counts
	// Forward and Backward are how far the point goes along the axis and against it
	// until it is met, mm, from where the springs carry nothing; below 0 the stop is
	// not there.
	Forward, Backward float64
	Rate              float64 // N/mm once met
	Dynamic           float64
	Loss              float64
}

// NoStop is the free play of a side that has no stop.
const NoStop = -1.0

// System is a powertrain on all that holds it.
type System struct {
	Body    seat.Body
	Inertia Inertia // vehicle axes
	Mounts  []Mount
	Links   []Link
	Stops   []Stop
}

func checkRubber(what, name string, rate, dynamic, loss float64) error {
	if !(rate > 0 && rate <= 1e9) {
		return geom.PartFault(what, name, "a rate of %g N/mm is none; more than 0 is wanted", rate)
	}
	if !(dynamic >= 1 && dynamic <= 5) {
		return geom.PartFault(what, name, "the ratio of vibrating to static stiffness is %g; for rubber it is %g to %g, for steel 1", dynamic, seat.DynamicLow, seat.DynamicHigh)
	}
	if !(loss >= 0 && loss <= 1) {
		return geom.PartFault(what, name, "a loss factor of %g is none; rubber has 0.05 to 0.3", loss)
	}
	return nil
}

func finite(vs ...r3.Vec) bool {
	for _, v := range vs {
		if !geom.Finite(v.X, v.Y, v.Z) || math.Abs(v.X) > geom.LimitLength || math.Abs(v.Y) > geom.LimitLength || math.Abs(v.Z) > geom.LimitLength {
			return false
		}
	}
	return true
}

func (s *System) check() error {
	if !(s.Body.Mass > 0 && s.Body.Mass < 1e6) || !finite(s.Body.Centre) {
		return fmt.Errorf("powertrain: a mass of %g kg or its centre is not one; weigh it or give an estimate", s.Body.Mass)
	}
	if err := s.Inertia.check(); err != nil {
		return err
	}
	for i := range s.Mounts {
		if err := s.Mounts[i].check(); err != nil {
			return err
		}
	}
	for _, l := range s.Links {
		if err := l.check(); err != nil {
			return err
		}
	}
	for _, p := range s.Stops {
		if err := p.check(); err != nil {
			return err
		}
	}
	return nil
}

func (m *Mount) check() error {
	f := &m.Frame
	square := geom.Near(r3.Dot(r3.Cross(f.X, f.Y), f.Z), 1, 1e-6) && geom.Near(r3.Norm(f.X), 1, 1e-6) && geom.Near(r3.Norm(f.Y), 1, 1e-6)
	if !finite(f.At, f.X, f.Y, f.Z) || !square {
		return geom.PartFault("mount", m.Name, "its place or its axes are not usable; give its tilt again")
	}
	for _, k := range [3]float64{m.Rates.X, m.Rates.Y, m.Rates.Z} {
		if err := checkRubber("mount", m.Name, k, m.Dynamic, m.Loss); err != nil {
			return err
		}
	}
	return nil
}

func (l Link) check() error {
	if !finite(l.On, l.To) || r3.Norm(r3.Sub(l.On, l.To)) < 1e-3 {
		return geom.PartFault("link", l.Name, "its two joints are in one place or are not numbers; it has no direction")
	}
	return checkRubber("link", l.Name, l.Rate, l.Dynamic, l.Loss)
}

func (p Stop) check() error {
	if _, err := geom.Unit(p.Axis); err != nil || !finite(p.At) {
		return geom.PartFault("stop", p.Name, "its place is not a number or its axis has no direction")
	}
	if math.IsNaN(p.Forward) || math.IsNaN(p.Backward) || p.Forward < 0 && p.Backward < 0 {
		return geom.PartFault("stop", p.Name, "it has no free play on either side, so it is no stop; give at least one")
	}
	return checkRubber("stop", p.Name, p.Rate, p.Dynamic, p.Loss)
}
