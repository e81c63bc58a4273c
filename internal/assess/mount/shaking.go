package mount

import (
	"errors"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/modes"
	"fitup/internal/geom/seat"

	"gonum.org/v1/gonum/spatial/r3"
)

// Shaking is how the powertrain shakes on its mounts: as one stiff body, in six ways. It
// is empty when the file says nothing of any mount's rubber.
type Shaking struct {
	Begun   bool
	Why     string            // why no mode is worked out, when none is
	Inertia [3]finding.Number // about the crankshaft's direction, across it and upright, kg·mm²
	Guessed bool              // they are estimated from the pieces
	Modes   []SwingMode       // by frequency
	Idle    OrderPassed
	Cruise  OrderPassed
	Roll    finding.Maybe[RollAxis]
	Pairs   []LeaningPair
	Centre  r3.Vec   // of mass, vehicle axes, mm
	Assumes []string // what all of it rests on

	ready  *modes.Ready
	spread spread
	axes   geom.Pose     // of the six ways
	middle [6]float64    // the frequencies, Hz
	ends   [2][6]float64 // and those with all rates at their low and their high end
	parts  int           // mounts, links and stops
	met    []bool        // of the stops, at rest
}

// SwingMode is one way the powertrain swings by itself.
type SwingMode struct {
	Frequency finding.Number // Hz
	Words     string         // roll about the crank, with some yaw
	Soften    string         // the mount, link or stop that holds most of it, "" where none does
	Share     float64        // how much of it that holds
	// Shift of the centre of mass, mm, and Turn about it, rad, vehicle axes: which way, to
	// no scale.
	Shift, Turn r3.Vec
}

// OrderPassed is how much of the engine's shaking at one speed reaches the frame.
type OrderPassed struct {
	Asked  bool           // the file has that speed
	Why    string         // why nothing is worked out
	Firing finding.Number // frequency, Hz
	Roll   finding.Number // part of the firing's torque about the crankshaft
	Up     finding.Number // part of a shaking up and down at that frequency
	Worst  finding.Number // the larger of the two
	ByRoll bool           // the torque is the worse
	Once   finding.Number // part of a shaking once a turn, up and down or sideways, the larger
	OnceHz finding.Number
}

// RollAxis is what the powertrain turns about under torque along its crankshaft.
type RollAxis struct {
	Axis      r3.Vec  // the torque-roll axis, through the centre of mass; unit, vehicle axes
	FromCrank float64 // angle of the torque-roll axis to the crankshaft, rad
	Down      float64 // slope of it, down to the rear positive, rad; of a crankshaft across, down to the right
	Above     float64 // the axis it turns about on its springs, above the centre of mass, mm
	HeldOff   float64 // angle of that one to the crankshaft, rad
}

// LeaningPair is a left and a right mount that lean.
type LeaningPair struct {
	Name                string
	Height              float64 // of their elastic centre above the pads, mm
	AboveCentre         float64 // above the centre of mass, mm
	Side, Up            float64 // rates together, N/mm
	Roll                float64 // N·mm/rad about the elastic centre
	Left, Right, Middle r3.Vec
}

// spread is how far rates may lie from the middle they are worked with, by part and
// direction, and whether they may at all.
type spread struct {
	low, high [][3]float64
	open      bool
	heavy     bool // the moments of inertia are open
}

// at is the state at t, from −1 for all rates at their low end to 1 for all at their
// high one, and s the same of the moments of inertia.
func (w *spread) at(t, s float64) modes.State {
	st := modes.State{Heavier: math.Pow(inertiaWithin, s)}
	if t == 0 {
		return st
	}
	ends := w.high
	if t < 0 {
		ends = w.low
	}
	st.Stiffer = make([][3]float64, len(ends))
	for i, e := range ends {
		for j, v := range e {
			st.Stiffer[i][j] = math.Pow(v, math.Abs(t))
		}
	}
	return st
}

// ShakingAt works out how the powertrain shakes where it stands, and judges it. Small
// motions about that place; how far it has sunk is too little to count.
func (p *Prepared) ShakingAt(pose finding.Maybe[geom.Pose]) (*Shaking, []finding.Finding) {
	s := &Shaking{Begun: p.begun}
	if !p.begun {
		return s, nil
	}
	s.Idle.Asked, s.Cruise.Asked = p.build.Powertrain.Idle.Known() && p.build.Powertrain.Cylinders.Known(), p.build.Powertrain.Cruise.Known()
	system, err := p.system(pose, s)
	if err != nil {
		s.Why = err.Error()
	} else if err := p.swing(system, s); err != nil {
		s.Why = err.Error()
	}
	p.passedAt(&s.Idle, s, p.build.Powertrain.Idle.V(), "powertrain.idle")
	p.passedAt(&s.Cruise, s, p.build.Powertrain.Cruise.V(), "powertrain.cruise")
	return s, p.shakeFindings(s)
}

// system is the powertrain as a body on springs, vehicle axes.
func (p *Prepared) system(pose finding.Maybe[geom.Pose], s *Shaking) (*modes.System, error) {
	t := p.build.Powertrain
	switch {
	case !t.Mass.Known():
		return nil, errors.New("powertrain.mass is not in the file yet")
	case !t.CentreOfMass.Known:
		return nil, errors.New("powertrain.centre_of_mass is not in the file yet")
	case p.ratesWhy != "":
		return nil, errors.New(p.ratesWhy)
	case p.axesErr != nil:
		return nil, p.axesErr
	case !pose.Known:
		return nil, errors.New(pose.Why)
	}
	for i := range p.mounts {
		if at := p.mounts[i].spec.At; !at.Known {
			return nil, errors.New(p.mounts[i].spec.NoPad())
		}
		if p.each[i].Solid {
			return nil, errors.New("the " + p.mounts[i].label + " mount is bolted solid: how stiff bracket and frame are there decides how the powertrain swings")
		}
	}
	j := p.inertiaOf()
	if j.why != "" {
		return nil, errors.New(j.why)
	}
	s.Guessed = j.estimated
	s.inertiaTold(j.j, p)
	s.axes = p.axesOf(pose.V)
	out := &modes.System{Body: seat.Body{Mass: t.Mass.V(), Centre: pose.V.Point(t.CentreOfMass.At)}, Inertia: j.j.Turned(pose.V)}
	isolators := p.springs(func(i int) r3.Vec { return pose.V.Point(p.mounts[i].spec.At.At) }, middleRates)
	for _, m := range isolators {
		out.Mounts = append(out.Mounts, modes.Mount{Isolator: m})
	}
	for i := range out.Mounts {
		d := p.vibratesOf(i)
		out.Mounts[i].Dynamic, out.Mounts[i].Loss = d.middle, d.loss
	}
	var err error
	if s.met, err = p.shakesBeside(out, pose.V, isolators); err != nil {
		return nil, err
	}
	s.spread = p.spreadOf()
	s.spread.heavy = j.estimated
	return out, nil
}

// dynamic is what the rubber of a mount is like in vibration.
type dynamic struct {
	low, middle, high float64 // stiffness over that under a steady load
	loss              float64 // loss factor
	given, lossGiven  bool
}

// vibratesOf is what the file says of mount i, or what rubber is like.
func (p *Prepared) vibratesOf(i int) dynamic {
	m := &p.mounts[i].spec
	return vibrating(m.Dynamic, m.Loss)
}

// spreadOf is how far the rates of the mounts in vibration are open.
func (p *Prepared) spreadOf() (w spread) {
	over := func(e, of seat.Rates, by float64) [3]float64 {
		r := [3]float64{e.X / of.X * by, e.Y / of.Y * by, e.Z / of.Z * by}
		for _, v := range r {
			w.open = w.open || math.Abs(v-1) > 1e-12
		}
		return r
	}
	for i, r := range p.each {
		d := p.vibratesOf(i)
		w.low = append(w.low, over(r.Low, r.Rates, d.low/d.middle))
		w.high = append(w.high, over(r.High, r.Rates, d.high/d.middle))
	}
	one := seat.Rates{X: 1, Y: 1, Z: 1}
	for _, d := range p.besideVibrates() {
		w.low = append(w.low, over(one, one, d.low/d.middle))
		w.high = append(w.high, over(one, one, d.high/d.middle))
	}
	return w
}

// swing finds the six modes with what leaves them open, and the axes of torque.
func (p *Prepared) swing(system *modes.System, s *Shaking) error {
	found, err := system.Modes(s.axes, s.met)
	if err != nil {
		return err
	}
	if s.ready, err = system.Ready(s.met); err != nil {
		return err
	}
	var ends [2][][6]float64 // of the rates, of the moments of inertia
	for k, e := range [2]bool{s.spread.open, s.spread.heavy} {
		for _, v := range [2]float64{-1, 1} {
			if !e {
				continue
			}
			t, heavy := v, 0.0
			if k == 1 {
				t, heavy = 0, v
			}
			fs, err := s.ready.Frequencies(s.spread.at(t, heavy))
			if err != nil {
				return err
			}
			ends[k] = append(ends[k], fs)
		}
	}
	s.Centre = system.Body.Centre
	s.parts = len(system.Mounts) + len(system.Links) + len(system.Stops)
	if s.spread.open {
		s.ends = [2][6]float64(ends[0])
	}
	for i := range found {
		m := &found[i]
		s.middle[i] = m.Frequency
		half := [2]float64{}
		for k := range ends {
			for _, e := range ends[k] {
				half[k] = max(half[k], math.Abs(e[i]-m.Frequency))
			}
		}
		f := p.vibrates.Within(m.Frequency, half[0])
		if half[1] > 0 {
			f = finding.Of(f.Plus(p.heavier.Within(0, half[1]).Number))
		}
		x := SwingMode{Frequency: f, Words: p.wordsOf(m), Shift: m.Shift, Turn: m.Turn}
		if soft := system.Soften(m); len(soft) > 0 {
			x.Soften, x.Share = p.partSaid(soft[0].Part), soft[0].PerTenth*20/m.Frequency
		}
		s.Modes = append(s.Modes, x)
	}
	axis, err := system.TorqueRoll(s.axes.X)
	if err != nil {
		return err
	}
	s.Roll = rollAxis(axis, system.Body.Centre, s.axes)
	s.Pairs = p.leaningPairs(system)
	return nil
}

func rollAxis(a modes.TorqueAxis, centre r3.Vec, axes geom.Pose) finding.Maybe[RollAxis] {
	free, held := axes.OwnDir(a.Free), axes.OwnDir(a.Held)
	out := RollAxis{Axis: a.Free, FromCrank: a.FromCrank.Rad(), HeldOff: math.Acos(min(1, math.Abs(held.X)))}
	out.Down = -math.Asin(max(-1, min(1, free.Z)))
	out.Above = axes.OwnDir(r3.Sub(a.Through, centre)).Z
	return finding.Maybe[RollAxis]{V: out, Known: true}
}
