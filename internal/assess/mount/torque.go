package mount

import (
	"math"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// twist is a load with a torque on the powertrain about the shaft that leaves it:
// wherever the powertrain stands, the rest of the load lies along the vehicle.
type twist struct {
	seat.Load         // its own torque is none
	torque    float64 // N·mm, right-handed about the shaft: to the rear, or to the right of a transaxle
}

// along is the load with the shaft in a direction of length 1, vehicle axes.
func (t twist) along(shaft r3.Vec) seat.Load {
	l := t.Load
	l.Torque = r3.Scale(t.torque, shaft)
	return l
}

func (t twist) with(l seat.Load) twist {
	t.Load = t.Load.With(l)
	return t
}

// twistCase is a case that the mounts have to carry, as a twist.
type twistCase struct {
	id, name, source string
	load             twist
}

// pull is full torque in every gear, with the wheels slipping where the file's
// load on the driven axles has them slip. It does not rest on where the powertrain
// stands.
type pull struct {
	why, reverseWhy string
	slip            finding.Number // N·mm at the powertrain's output
	gear            float64        // the largest by engine and gears, N·mm
	bound           bool           // reverse is not in the file, but the wheels slip in first gear already
	low             float64        // low range of a case hung on the gearbox; 1 without
	first           float64        // the largest ratio forward
	firstGear       string         // the first of the gears, as it is said
	forward, back   twist          // the largest each way; back is empty without reverse
	gears           []twistCase
	cases           []twistCase // all that the mounts have to carry, at rest first
	assumes         []string    // what the loads rest on
}

// pullWith works out full torque where the powertrain drives axles that slip at slip.
func (p *Prepared) pullWith(slip finding.Number) pull {
	u := pull{slip: slip, low: 1}
	if u.why = p.noTorque(&u.low); u.why == "" {
		u.why = p.gearCases(&u)
	}
	if u.why != "" {
		u.gears, u.forward, u.back = nil, twist{}, twist{}
	} else if m, err := p.turns(max(u.first, p.build.Powertrain.Reverse.V()) * max(1, u.low)); err == nil {
		u.gear = math.Abs(m)
	}
	u.cases = p.allCases(&u)
	u.assumes = p.loadAssumes(&u)
	return u
}

// most is the larger of the two ways, N·mm.
func (u *pull) most() twist {
	if math.Abs(u.back.torque) > math.Abs(u.forward.torque) {
		return u.back
	}
	return u.forward
}

// noTorque says what is missing for the torque, and sets the low range.
func (p *Prepared) noTorque(low *float64) string {
	for _, l := range p.build.Lines {
		r, ok := l.OnPowertrain()
		if !ok {
			return "line." + l.Name + ".reduction_in is not in the file yet: a case hung on the gearbox turns the powertrain by its low range too, one of its own does not"
		}
		if *low == 1 || r > *low { // several lines leave one case
			*low = r
		}
	}
	t := p.build.Powertrain
	_, gears := t.GearRatios()
	switch {
	case !t.Torque.Known():
		return "powertrain.torque is not in the file yet"
	case gears != nil:
		return gears.Error()
	case t.Layout.Seat() == seat.Transaxle && !t.Final.Known():
		return "powertrain.final is not in the file yet"
	}
	return ""
}

// drive is the powertrain in a gear, low range included; negative in reverse. The
// shaft that leaves it lies along output.
func (p *Prepared) drive(ratio float64, output r3.Vec) seat.Drive {
	t := p.build.Powertrain
	return seat.Drive{Layout: t.Layout.Seat(), Engine: t.PeakTorque(), Gear: ratio, Final: t.Final.V(), Output: output, Opposite: t.Turns == project.OppositeTurns}
}

// turns is the torque on the powertrain in a gear about the shaft that leaves it,
// N·mm.
func (p *Prepared) turns(ratio float64) (float64, error) {
	if p.transaxle() {
		m, err := p.drive(ratio, r3.Vec{Y: 1}).Reaction()
		return m.Y, err
	}
	m, err := p.drive(ratio, r3.Vec{X: 1}).Reaction()
	return m.X, err
}

func (p *Prepared) transaxle() bool { return p.build.Powertrain.Layout.Seat() == seat.Transaxle }

// gearCases lists full torque in every gear, and in low range in the lowest and
// in reverse.
func (p *Prepared) gearCases(u *pull) (why string) {
	t := p.build.Powertrain
	lowest := 0
	add := func(id, gear string, ratio, low float64) {
		if why != "" {
			return
		}
		name := gear
		if low != 1 {
			id, name = id+"_low", gear+", low range"
		}
		c, err := p.gearCase(u, id, name, ratio*low)
		if err != nil {
			why = gear + ": " + err.Error()
			return
		}
		u.gears = append(u.gears, c, p.overrun(&c, id, name))
		most := &u.forward
		if ratio < 0 {
			most = &u.back
		}
		if u.firstGear == "" {
			u.firstGear = gear
		}
		if math.Abs(c.load.torque) > math.Abs(most.torque) {
			*most = c.load
		}
	}
	for i, g := range t.Gears {
		if v, ok := g.Get(); ok && v > 0 {
			add("gear_"+strconv.Itoa(i+1), ordinal(i+1)+" gear", v, 1)
			if v > u.first {
				u.first, lowest = v, i+1
			}
		}
	}
	if u.low != 1 && u.first > 0 {
		add("gear_"+strconv.Itoa(lowest), ordinal(lowest)+" gear", u.first, u.low)
	}
	v, ok := t.Reverse.Get()
	if !ok || v == 0 {
		if u.bound = u.slip.Known && math.Abs(u.forward.torque) >= u.slip.V*(1-1e-9); !u.bound {
			u.reverseWhy = "powertrain.reverse is not in the file yet"
			return why
		}
		v = u.first // no reverse turns it harder than wheels that slip
	}
	add("reverse", "reverse", -v, 1)
	if u.low != 1 {
		add("reverse", "reverse", -v, u.low)
	}
	return why
}

// gearCase is full torque in a gear, or as much of it as the wheels take.
func (p *Prepared) gearCase(u *pull, id, gear string, ratio float64) (twistCase, error) {
	m, err := p.turns(ratio)
	if err != nil {
		return twistCase{}, err
	}
	name := "full torque in " + gear
	if u.slip.Known && math.Abs(m) > u.slip.V {
		m = math.Copysign(u.slip.V, m)
		name = "wheels slipping in " + gear
	}
	return twistCase{id: id, name: name, load: twist{seat.Load{Name: name}, m}}, nil
}

// overrun is a case of full torque turned round, as the wheels drive the engine or it is
// let in with a jerk: a part of it.
func (p *Prepared) overrun(full *twistCase, id, gear string) twistCase {
	r := p.build.Load("overrun")
	name := "overrun in " + gear
	return twistCase{id: id + "_overrun", name: name, source: r.Source, load: twist{seat.Load{Name: name}, -r.Value * full.load.torque}}
}

// slipTorque is the torque at the output of the powertrain at which the wheels of
// all its lines slip; those of the axle at one end, of a transaxle. A case of its
// own is taken in high range, where it asks most of the powertrain.
func (p *Prepared) slipTorque(at project.Way) finding.Number {
	b := p.build
	friction := b.Load("friction").Value
	if friction == 0 {
		return finding.Missing("loads.friction is not in the file yet")
	}
	if !p.round.Known {
		return finding.Missing(p.round.Why)
	}
	sum := 0.0
	for _, x := range p.driven(at) {
		key, load := "rear_laden", b.Vehicle.RearLaden
		if x.toward == project.TowardFront {
			key, load = "front_laden", b.Vehicle.FrontLaden
		}
		switch {
		case x.why != "":
			return finding.Missing(x.why)
		case !load.Known():
			return finding.Missing("vehicle." + key + " is not in the file yet")
		}
		t, err := seat.Slip{Load: load.V(), Friction: friction, Radius: p.round.V / (2 * math.Pi), Ratio: x.ratio}.Torque()
		if err != nil {
			return finding.Missing(err.Error())
		}
		sum += t
	}
	if sum == 0 {
		return finding.Missing("the file has no line to a driven axle yet")
	}
	return finding.Exact(sum)
}

// drivenAxle is an axle and the ratio between the powertrain's output and it.
type drivenAxle struct {
	toward project.Way
	ratio  float64
	why    string
}

// driven lists the axles that the powertrain drives. A transaxle's output is
// the axle it stands at.
func (p *Prepared) driven(at project.Way) []drivenAxle {
	b := p.build
	if !p.transaxle() {
		var out []drivenAxle
		for _, l := range b.Lines {
			x := drivenAxle{toward: l.Toward, ratio: l.Ratio.V()}
			if !l.Ratio.Known() {
				x.why = "line." + l.Name + ".ratio is not in the file yet"
			}
			out = append(out, x)
		}
		return out
	}
	v := b.Vehicle
	x := drivenAxle{toward: at, ratio: 1}
	switch {
	case !v.FrontAxle.Known():
		x.why = "vehicle.front_axle is not in the file yet"
	case !v.Wheelbase.Known():
		x.why = "vehicle.wheelbase is not in the file yet"
	}
	for _, l := range b.Lines {
		if l.Toward != x.toward && (l.Toward != "" || x.toward != project.TowardRear) {
			x.why = "a transaxle that drives the other axle too is not followed"
		}
	}
	return []drivenAxle{x}
}

// axleOf is the end at which a transaxle stands with its centre of mass at a
// station, mm; the rear while that is not known.
func (p *Prepared) axleOf(station float64) project.Way {
	v := p.build.Vehicle
	if v.FrontAxle.Known() && v.Wheelbase.Known() && station < v.FrontAxle.V()+v.Wheelbase.V()/2 {
		return project.TowardFront
	}
	return project.TowardRear
}

// allCases lists what the mounts have to carry.
func (p *Prepared) allCases(u *pull) []twistCase {
	rule := func(key, id, name string, load func(float64) seat.Load) twistCase {
		r := p.build.Load(key)
		return twistCase{id, name, r.Source, twist{Load: load(r.Value)}}
	}
	out := append([]twistCase{{id: "rest", name: "at rest", load: twist{Load: seat.Resting()}}}, u.gears...)
	out = append(out,
		rule("braking", "braking", "braking", seat.Braking),
		rule("cornering", "cornering_right", "cornering right", seat.CorneringRight),
		rule("cornering", "cornering_left", "cornering left", func(g float64) seat.Load { return seat.CorneringRight(-g) }),
		rule("bump", "bump", "bump", seat.Bump),
		rule("rebound", "rebound", "rebound", func(up float64) seat.Load { return seat.Bump(-up) }))
	for _, c := range p.build.LoadCases {
		out = append(out, combined(c, u.forward.torque, u.back.torque)...)
	}
	return out
}

// combined is one row of the table of combined cases: with torque forward and
// in reverse, and with cornering to either side. Rows that need a torque that
// is not known are left out; TorqueWhy and ReverseWhy say so.
func combined(c project.LoadCase, torques ...float64) []twistCase {
	id := "case_" + finding.Slug(c.Name)
	level := twist{Load: seat.Braking(c.Braking.Or(0)).With(seat.Bump(c.Bump.Or(1)))}
	out := []twistCase{{id, c.Name, c.Source, level}}
	if d := c.Drive.Or(0); d > 0 {
		out = nil
		for i, t := range torques {
			if t == 0 {
				continue
			}
			n, name := id, c.Name
			if i > 0 {
				n, name = id+"_reverse", c.Name+", reverse"
			}
			out = append(out, twistCase{n, name, c.Source, twist{level.Load, d * t}})
		}
	}
	if g := c.Cornering.Or(0); g > 0 {
		var both []twistCase
		for _, lc := range out {
			both = append(both,
				twistCase{lc.id + "_right", lc.name + ", right", lc.source, lc.load.with(seat.CorneringRight(g))},
				twistCase{lc.id + "_left", lc.name + ", left", lc.source, lc.load.with(seat.CorneringRight(-g))})
		}
		out = both
	}
	return out
}

// loadAssumes says what loads on the mounts rest on.
func (p *Prepared) loadAssumes(u *pull) (out []string) {
	torque := func(v float64) string { return quantity.Format(quantity.Torque, v, p.build.Units, 0) }
	switch {
	case u.why != "":
	case !u.slip.Known:
		out = append(out, "steady gear torque, "+torque(u.gear)+", as if the wheels never slipped")
	case u.slip.V < u.gear:
		out = append(out, "the wheels slip at "+torque(u.slip.V)+", before the gear torque of "+torque(u.gear)+" is met")
	default:
		out = append(out, "steady gear torque, "+torque(u.gear)+"; the wheels would slip at "+torque(u.slip.V))
	}
	if u.bound {
		out = append(out, "reverse as far as the wheels grip")
	}
	return append(out, p.restAssume...)
}
