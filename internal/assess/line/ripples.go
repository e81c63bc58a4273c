package line

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// directions are slopes and headings of a line's axes, rad.
type directions struct{ slopes, headings []float64 }

// read is the directions of the line's axes as they were read: slopes by gauge,
// headings by tape, as planned, or straight ahead.
func (l *Line) read() directions {
	d := directions{make([]float64, len(l.Axes)), make([]float64, len(l.Axes))}
	for i := range l.Axes {
		d.slopes[i], d.headings[i] = l.Axes[i].Read.V, l.Axes[i].heading()
	}
	return d
}

// readChain is a line with the directions read. A line's motion depends on
// directions alone, so its shafts are given any length.
func (p *Prepared) readChain(d directions) shaft.Chain {
	n := len(p.frame.chain.Joints)
	c := shaft.Chain{Joints: make([]shaft.Joint, n), Yokes: p.frame.chain.Yokes}
	for i := range c.Joints {
		c.Joints[i].Kind = p.frame.chain.Joints[i].Kind
	}
	p.aim(&c, d)
	return c
}

// aim gives a chain of readChain other directions.
func (p *Prepared) aim(c *shaft.Chain, d directions) {
	dir := func(i int) r3.Vec {
		return p.frame.ahead(geom.Direction(geom.Angle(d.slopes[i]), geom.Angle(d.headings[i])))
	}
	n := len(c.Joints)
	c.In, c.Out = dir(0), dir(n)
	for i := 1; i < n; i++ {
		c.Joints[i].At = r3.Add(c.Joints[i-1].At, r3.Scale(1000, dir(i)))
	}
}

// behind is the part of a chain from joint number from on, counted from 0.
func behind(c shaft.Chain, from int) shaft.Chain {
	if from == 0 {
		return c
	}
	in := c.Joints[from].At
	prev := c.Joints[from-1].At
	in.X, in.Y, in.Z = in.X-prev.X, in.Y-prev.Y, in.Z-prev.Z
	return shaft.Chain{In: in, Joints: c.Joints[from:], Out: c.Out, Yokes: c.Yokes[from:]}
}

// planned is the directions of the line's axes as they are planned.
func (l *Line) planned() directions {
	d := directions{make([]float64, len(l.Axes)), make([]float64, len(l.Axes))}
	for i := range l.Axes {
		d.slopes[i], d.headings[i] = l.Axes[i].Planned.V, l.Axes[i].Heading.V
	}
	return d
}

// ripples are how unevenly the shafts of a line run: each the size of
// its vector, k = tan²(β/2).
type ripples struct {
	whole        finding.Number   // of the driven shaft
	drive, coast []finding.Number // of each shaft between two joints
}

// readRipples is how unevenly the line runs from joint number from on, with the
// axes so, as they were read or as they are planned. A ripple has a size and a place in the turn; both follow from the
// slopes, and from the headings that have a ±, by its two parts: where joints
// cancel exactly every change is for the worse, and a slope of the size alone
// would be none. between asks for the shafts between two joints as well. The
// error says why a line within the ± of what was read does not run.
func (a *judge) readRipples(d directions, as func(*Axis) aimed, from int, between bool) (ripples, error) {
	c := a.readChain(d)
	d = directions{append([]float64(nil), d.slopes...), append([]float64(nil), d.headings...)}
	var args []uncertain.Number
	var at []*float64
	for i := from; i < len(a.out.Axes); i++ {
		x := as(&a.out.Axes[i]).turnedTo(d.headings[i])
		args, at = append(args, x.slope.Number), append(at, &d.slopes[i])
		if x.heading.Expanded() > 0 {
			args, at = append(args, x.heading.Number), append(at, &d.headings[i])
		}
	}
	n := 0
	if between {
		n = len(c.Joints) - 1 - from
	}
	parts, err := uncertain.Probe(func(x, out []float64) error {
		for k, v := range x {
			*at[k] = v
		}
		a.aim(&c, d)
		if err := a.mech.Set(behind(c, from)); err != nil {
			return err
		}
		shafts := a.mech.Shafts()
		split(out, 0, shafts[len(shafts)-1].DriveVector)
		for i := range n {
			split(out, 1+2*i, shafts[1+i].DriveVector)
			split(out, 2+2*i, shafts[1+i].CoastVector)
		}
		return nil
	}, 2+4*n, args...)
	if err != nil {
		return ripples{}, err
	}
	size := func(i int) finding.Number { return finding.Size(uncertain.Norm(parts[2*i], parts[2*i+1])) }
	r := ripples{whole: size(0)}
	for i := range n {
		r.drive, r.coast = append(r.drive, size(1+2*i)), append(r.coast, size(2+2*i))
	}
	return r, nil
}

func split(out []float64, i int, z complex128) { out[2*i], out[2*i+1] = real(z), imag(z) }

// equivalentOfRipple is the angle of the one joint that runs as unevenly, rad.
func equivalentOfRipple(k float64) float64 { return 2 * math.Atan(math.Sqrt(max(0, k))) }

// accelerationAt is what a ripple amounts to at a speed, rad/s².
func accelerationAt(speed float64) func(k float64) float64 {
	return func(k float64) float64 {
		const most = 0.99 // of a joint just short of square, where nothing turns
		r, err := shaft.RippleOf(geom.Angle(equivalentOfRipple(min(k, most))))
		if err != nil {
			return math.Inf(1)
		}
		return r.Acceleration(speed)
	}
}

// Evenness is what the joints of the line leave over, that its verdicts rest on: as one
// joint's angle, rad, and at its largest speed, rad/s².
func (l *Line) Evenness() (equivalent, residual finding.Number) {
	equivalent, _, _ = l.better(l.Planned.equivalent(), l.Read.of(func(m *Motion) *finding.Number { return &m.Equivalent }))
	residual, _, _ = l.better(l.Planned.of(residualOf), l.Read.of(residualOf))
	return equivalent, residual
}

// ResidualOf is what a line leaves over at a speed (rad/s) that runs as unevenly as one
// joint at an angle (rad): rad/s². It rises with both.
func ResidualOf(equivalent, speed float64) float64 {
	t := math.Tan(equivalent / 2)
	return accelerationAt(speed)(t * t)
}
