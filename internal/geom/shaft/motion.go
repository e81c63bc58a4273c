package shaft

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/spatial/r3"
)

// State is where one shaft stands and how it turns at one instant, the
// driving shaft turning steadily at 1 rad/s.
type State struct {
	// Lead is how far the shaft has run ahead of the driving shaft. It is zero
	// where every joint between them has an arm in the plane of its shafts, and
	// continuous over any number of turns: the shaft's angle is input + Lead.
	Lead         geom.Angle
	Ratio        float64 // speed over the speed of the driving shaft
	Acceleration float64 // angular acceleration over the square of that speed
	// Front and Rear are the unit directions of the shaft's two yoke arms, in
	// vehicle axes; the driving shaft has no front and the driven one no rear
	// yoke (zero vector).
	Front, Rear r3.Vec
}

// At carries the cross vectors through the chain for one angle of the driving
// shaft (from Chain.Arm, right-handed about the driving axis, any number of
// turns) and appends one State per shaft to dst[:0].
//
// With a the driving arm, s = a·v and q = (u×a)·v, the driven arm is v×a/|v×a|,
// which never changes sign below 90°. Differentiating its square angle to a:
// ratio = cos β/(1-s²), d(ratio) = 2·cos β·s·q/(1-s²)², where s²+q² = sin²β.
func (m *Mechanism) At(input geom.Angle, dst []State) []State {
	dst = dst[:0]
	if len(m.crosses) == 0 {
		return dst
	}
	sin, cos := math.Sincos(input.Rad())
	a := r3.Add(r3.Scale(cos, m.arm), r3.Scale(sin, r3.Cross(m.crosses[0].u, m.arm)))
	st := State{Ratio: 1, Rear: a}
	dst = append(dst, st)
	for i := range m.crosses {
		x := &m.crosses[i]
		if x.even {
			a = x.carry(a)
		} else {
			a = x.drive(a, &st)
		}
		if !x.last {
			continue
		}
		st.Front, st.Rear = a, r3.Vec{}
		if x.shaft < len(m.joints) {
			if x.yoke != 0 {
				a = r3.Add(r3.Scale(real(x.turn), a), r3.Scale(imag(x.turn), r3.Cross(x.v, a)))
			}
			st.Rear = a
		}
		dst = append(dst, st)
	}
	return dst
}

// drive returns the driven arm and moves the state across the cross.
func (x *cross) drive(a r3.Vec, st *State) r3.Vec {
	s, q := r3.Dot(a, x.v), r3.Dot(a, x.n)
	d := x.cos*x.cos + q*q // 1-s², without losing digits near 90°
	ratio := x.cos / d
	st.Acceleration = st.Acceleration*ratio + st.Ratio*st.Ratio*(2*ratio*s*q/d)
	st.Ratio *= ratio
	// tan(θ2-θ1) of tan θ2 = cos β·tan θ1, with 1-cos β = sin²β/(1+cos β). The
	// second part is never negative, so the lead of one joint stays below 90°.
	st.Lead -= geom.Angle(math.Atan2(x.sin2/(1+x.cos)*s*q, q*q+x.cos*s*s))
	return r3.Scale(1/math.Sqrt(d), r3.Cross(x.v, a))
}

// Turning is one shaft over one turn of the driving shaft: see State.
type Turning struct {
	Lead         []geom.Angle
	Ratio        []float64
	Acceleration []float64
}

// Motion is every shaft of a chain over one turn of the driving shaft, in
// equal steps from input angle 0: the full path, for curves and for spectra.
// The exact extremes are in Mechanism.Shafts. It keeps its buffers for
// MotionInto.
type Motion struct {
	Input  []geom.Angle
	Shafts []Turning // the driving shaft first

	states []State
	fft    *fourier.FFT
	coeff  []complex128
}

// The number of steps a turn may be cut into. The fewest show the fourth
// order with room to spare.
const (
	MinSteps = 16
	MaxSteps = 1 << 16
)

// Motion samples one turn in equal steps.
func (m *Mechanism) Motion(steps int) (*Motion, error) {
	mo := new(Motion)
	if err := m.MotionInto(mo, steps); err != nil {
		return nil, err
	}
	return mo, nil
}

// MotionInto samples one turn into memory that may have held another motion.
func (m *Mechanism) MotionInto(mo *Motion, steps int) error {
	if steps < MinSteps || steps > MaxSteps {
		return fmt.Errorf("a turn cut into %d steps: %d to %d steps are wanted", steps, MinSteps, MaxSteps)
	}
	if len(m.shafts) == 0 {
		return errNoJoint
	}
	mo.resize(len(m.shafts), steps)
	// Half a turn brings every arm back onto its own line.
	own := steps
	if steps%2 == 0 {
		own = steps / 2
	}
	for i := range steps {
		mo.Input[i] = geom.Angle(2 * math.Pi * float64(i) / float64(steps))
	}
	for i := range own {
		mo.states = m.At(mo.Input[i], mo.states)
		for j := range mo.states {
			t, st := &mo.Shafts[j], &mo.states[j]
			t.Lead[i], t.Ratio[i], t.Acceleration[i] = st.Lead, st.Ratio, st.Acceleration
		}
	}
	for j := range mo.Shafts {
		t := &mo.Shafts[j]
		copy(t.Lead[own:], t.Lead[:own])
		copy(t.Ratio[own:], t.Ratio[:own])
		copy(t.Acceleration[own:], t.Acceleration[:own])
	}
	return nil
}

func (mo *Motion) resize(shafts, steps int) {
	if len(mo.Shafts) == shafts && len(mo.Input) == steps {
		return
	}
	mo.Input = make([]geom.Angle, steps)
	mo.Shafts = make([]Turning, shafts)
	for i := range mo.Shafts {
		mo.Shafts[i] = Turning{make([]geom.Angle, steps), make([]float64, steps), make([]float64, steps)}
	}
}

// Orders writes the amplitudes of a shaft's speed ratio by order (times per
// turn of the driving shaft) to dst[:0] and returns it: order 0, the mean,
// first; then up to half the number of steps. Order 2 and 4 are what a line
// of joints excites. By fast Fourier transform of the samples.
func (mo *Motion) Orders(shaft int, dst []float64) ([]float64, error) {
	if shaft < 0 || shaft >= len(mo.Shafts) {
		return nil, errors.New("there is no such shaft in this line")
	}
	steps := len(mo.Input)
	if mo.fft == nil {
		mo.fft = fourier.NewFFT(steps)
	} else if mo.fft.Len() != steps {
		mo.fft.Reset(steps)
	}
	if len(mo.coeff) != steps/2+1 {
		mo.coeff = make([]complex128, steps/2+1)
	}
	mo.fft.Coefficients(mo.coeff, mo.Shafts[shaft].Ratio)
	dst = dst[:0]
	for i, c := range mo.coeff {
		scale := 2.0
		if i == 0 || 2*i == steps {
			scale = 1
		}
		dst = append(dst, scale*cmplx.Abs(c)/float64(steps))
	}
	return dst, nil
}
