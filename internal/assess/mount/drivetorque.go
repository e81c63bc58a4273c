package mount

import (
	"fmt"
	"math"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// DriveTorque is the torque that turns the powertrain on its mounts: what the
// engine makes through the gears, low range included where its case hangs on
// the gearbox, or less where the wheels slip first. Several lines share it: it
// is the torque of them all together. N·mm.
type DriveTorque struct {
	TorqueWhy  string         // why there is none, when there is none
	ReverseWhy string         // why reverse is left out, when it is
	Gear       finding.Number // the largest by engine and gears
	Slip       finding.Number // at which the wheels of all lines slip
	Torque     finding.Number // the largest that acts: the smaller of the two

	bound         bool      // reverse is not in the file, but the wheels slip in first gear already
	low           float64   // low range of a case hung on the gearbox; 1 without
	first         float64   // the largest ratio forward
	forward, back seat.Load // the largest torque each way; back is empty without reverse
	rocking       seat.Load // the larger of those
	cases         []LoadCase
}

// LoadCase is one thing the mounts have to carry.
type LoadCase struct {
	ID     string // part of the names of its values: gear_1
	Name   string
	Source string
	Load   seat.Load
}

// driveTorque works out the cases of full torque.
func (res *Result) driveTorque() {
	s, p := &res.Statics, res.in.Build.Powertrain
	s.Slip = res.slipTorque()
	s.TorqueWhy = res.noTorque()
	if s.TorqueWhy == "" {
		s.TorqueWhy = res.gearCases()
	}
	s.Gear, s.Torque = finding.Missing(s.TorqueWhy), finding.Missing(s.TorqueWhy)
	if s.TorqueWhy != "" {
		s.cases = nil
		return
	}
	s.rocking = s.forward
	if r3.Norm(s.back.Torque) > r3.Norm(s.forward.Torque) {
		s.rocking = s.back
	}
	s.Torque = finding.Known(r3.Norm(s.rocking.Torque), 0)
	most := max(s.first, p.Reverse.V()) * max(1, s.low)
	if m, err := res.drive(most).Reaction(); err == nil {
		s.Gear = finding.Known(r3.Norm(m), 0)
	}
}

// noTorque says what is missing for the torque, and sets the low range.
func (res *Result) noTorque() string {
	s, p := &res.Statics, res.in.Build.Powertrain
	s.low = 1
	for _, l := range res.in.Build.Lines {
		r, ok := l.OnPowertrain()
		if !ok {
			return "line." + l.Name + ".reduction_in is not in the file yet: a case hung on the gearbox turns the powertrain by its low range too, one of its own does not"
		}
		if s.low == 1 || r > s.low { // several lines leave one case
			s.low = r
		}
	}
	_, gears := p.GearRatios()
	switch {
	case !p.Torque.Known():
		return "powertrain.torque is not in the file yet"
	case gears != nil:
		return gears.Error()
	case p.Layout.Seat() == seat.Transaxle && !p.Final.Known():
		return "powertrain.final is not in the file yet"
	}
	return ""
}

// drive is the powertrain in a gear, low range included; negative in reverse.
func (res *Result) drive(ratio float64) seat.Drive {
	p := res.in.Build.Powertrain
	d := seat.Drive{Layout: p.Layout.Seat(), Engine: p.PeakTorque(), Gear: ratio, Final: p.Final.V(), Output: res.in.Pose.V.X, Opposite: p.Turns == project.OppositeTurns}
	if d.Layout == seat.Transaxle {
		d.Output = res.in.Pose.V.Y
	}
	return d
}

// gearCases lists full torque in every gear, and in low range in the lowest and
// in reverse.
func (res *Result) gearCases() (why string) {
	s, p := &res.Statics, res.in.Build.Powertrain
	lowest := 0
	add := func(id, gear string, ratio, low float64) {
		if why != "" {
			return
		}
		name := gear
		if low != 1 {
			id, name = id+"_low", gear+", low range"
		}
		c, err := res.gearCase(id, name, ratio*low)
		if err != nil {
			why = gear + ": " + err.Error()
			return
		}
		s.cases = append(s.cases, c)
		most := &s.forward
		if ratio < 0 {
			most = &s.back
		}
		if r3.Norm(c.Load.Torque) > r3.Norm(most.Torque) {
			*most = c.Load
		}
	}
	for i, g := range p.Gears {
		if v, ok := g.Get(); ok && v > 0 {
			add("gear_"+strconv.Itoa(i+1), ordinal(i+1)+" gear", v, 1)
			if v > s.first {
				s.first, lowest = v, i+1
			}
		}
	}
	if s.low != 1 && s.first > 0 {
		add("gear_"+strconv.Itoa(lowest), ordinal(lowest)+" gear", s.first, s.low)
	}
	v, ok := p.Reverse.Get()
	if !ok || v == 0 {
		if s.bound = s.Slip.Known && r3.Norm(s.forward.Torque) >= s.Slip.V*(1-1e-9); !s.bound {
			s.ReverseWhy = "powertrain.reverse is not in the file yet"
			return why
		}
		v = s.first // no reverse turns it harder than wheels that slip
	}
	add("reverse", "reverse", -v, 1)
	if s.low != 1 {
		add("reverse", "reverse", -v, s.low)
	}
	return why
}

// gearCase is full torque in a gear, or as much of it as the wheels take.
func (res *Result) gearCase(id, gear string, ratio float64) (LoadCase, error) {
	m, err := res.drive(ratio).Reaction()
	if err != nil {
		return LoadCase{}, err
	}
	name := "full torque in " + gear
	if slip := res.Statics.Slip; slip.Known && r3.Norm(m) > slip.V {
		m = r3.Scale(slip.V/r3.Norm(m), m)
		name = "wheels slipping in " + gear
	}
	return LoadCase{ID: id, Name: name, Load: seat.Load{Name: name, Torque: m}}, nil
}

// slipTorque is the torque at the output of the powertrain at which the wheels
// of all its lines slip. A case of its own is taken in high range, where it
// asks most of the powertrain.
func (res *Result) slipTorque() finding.Number {
	b := res.in.Build
	friction := b.Load("friction").Value
	if friction == 0 {
		return finding.Missing("loads.friction is not in the file yet")
	}
	if !res.in.Round.Known {
		return finding.Missing(res.in.Round.Why)
	}
	sum := 0.0
	for _, x := range res.driven() {
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
		t, err := seat.Slip{Load: load.V(), Friction: friction, Radius: res.in.Round.V / (2 * math.Pi), Ratio: x.ratio}.Torque()
		if err != nil {
			return finding.Missing(err.Error())
		}
		sum += t
	}
	if sum == 0 {
		return finding.Missing("the file has no line to a driven axle yet")
	}
	return finding.Known(sum, 0)
}

// drivenAxle is an axle and the ratio between the powertrain's output and it.
type drivenAxle struct {
	toward project.Way
	ratio  float64
	why    string
}

// driven lists the axles that the powertrain drives. A transaxle's output is
// the axle it stands at.
func (res *Result) driven() []drivenAxle {
	b := res.in.Build
	if b.Powertrain.Layout.Seat() != seat.Transaxle {
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
	x := drivenAxle{toward: project.TowardRear, ratio: 1}
	switch {
	case !v.FrontAxle.Known():
		x.why = "vehicle.front_axle is not in the file yet"
	case !v.Wheelbase.Known():
		x.why = "vehicle.wheelbase is not in the file yet"
	case res.Statics.Body.V.Centre.X < v.FrontAxle.V()+v.Wheelbase.V()/2:
		x.toward = project.TowardFront
	}
	for _, l := range b.Lines {
		if l.Toward != x.toward && (l.Toward != "" || x.toward != project.TowardRear) {
			x.why = "a transaxle that drives the other axle too is not followed"
		}
	}
	return []drivenAxle{x}
}

// loadCases lists what the mounts have to carry.
func (res *Result) loadCases() []LoadCase {
	s := &res.Statics
	rule := func(key, id, name string, load func(float64) seat.Load) LoadCase {
		r := res.in.Build.Load(key)
		return LoadCase{id, name, r.Source, load(r.Value)}
	}
	out := append([]LoadCase{{ID: "rest", Name: "at rest", Load: seat.Resting()}}, s.cases...)
	out = append(out,
		rule("braking", "braking", "braking", seat.Braking),
		rule("cornering", "cornering_right", "cornering right", seat.CorneringRight),
		rule("cornering", "cornering_left", "cornering left", func(g float64) seat.Load { return seat.CorneringRight(-g) }),
		rule("bump", "bump", "bump", seat.Bump))
	for _, c := range res.in.Build.LoadCases {
		out = append(out, res.combined(c, s.forward, s.back)...)
	}
	return out
}

// combined is one row of the table of combined cases: with torque forward and
// in reverse, and with cornering to either side. Rows that need a torque that
// is not known are left out; TorqueWhy and ReverseWhy say so.
func (res *Result) combined(c project.LoadCase, torques ...seat.Load) []LoadCase {
	id := "case_" + finding.Slug(c.Name)
	level := seat.Braking(c.Braking.Or(0)).With(seat.Bump(c.Bump.Or(1)))
	out := []LoadCase{{id, c.Name, c.Source, level}}
	if d := c.Drive.Or(0); d > 0 {
		out = nil
		for i, t := range torques {
			if r3.Norm(t.Torque) == 0 {
				continue
			}
			n, name := id, c.Name
			if i > 0 {
				n, name = id+"_reverse", c.Name+", reverse"
			}
			out = append(out, LoadCase{n, name, c.Source, level.With(seat.Load{Torque: r3.Scale(d, t.Torque)})})
		}
	}
	if g := c.Cornering.Or(0); g > 0 {
		var both []LoadCase
		for _, lc := range out {
			both = append(both,
				LoadCase{lc.ID + "_right", lc.Name + ", right", lc.Source, lc.Load.With(seat.CorneringRight(g))},
				LoadCase{lc.ID + "_left", lc.Name + ", left", lc.Source, lc.Load.With(seat.CorneringRight(-g))})
		}
		out = both
	}
	return out
}

// ReverseCases are the cases in which a reverse gear of that ratio takes part.
func (res *Result) ReverseCases(ratio float64) ([]LoadCase, error) {
	c, err := res.gearCase("reverse", "reverse", -ratio*max(1, res.Statics.low))
	if err != nil {
		return nil, err
	}
	out := []LoadCase{c}
	for _, row := range res.in.Build.LoadCases {
		if row.Drive.Or(0) > 0 {
			out = append(out, res.combined(row, seat.Load{}, c.Load)...)
		}
	}
	return out, nil
}

// WithoutReverse turns a verdict that leaves reverse out into one that says so:
// over if a reverse as low as first gear is already past the limit, else not
// known with the ratio up to which it holds. at returns the value at a ratio,
// and whether it is past the limit. Where the wheels slip before the limit is
// met, any ratio holds.
func (res *Result) WithoutReverse(f *finding.Finding, at func(ratio float64) (v float64, over bool)) {
	s := &res.Statics
	if s.ReverseWhy == "" || s.TorqueWhy != "" || f.Status == finding.Over || f.Status == finding.NotKnown {
		return
	}
	if v, over := at(s.first); over {
		f.Status = finding.Over
		f.Figure(finding.Known(v, 0))
		if f.HasLimit {
			f.Margin = f.Limit - v
		}
		f.Says = finding.Say("Reverse is not in the file; with a ratio as low as that of first gear it is past the limit: put powertrain.reverse in the file. " + f.Advice())
		return
	}
	if s.Slip.Known && s.Gear.V > 0 {
		if _, over := at(s.first * max(1, s.Slip.V/s.Gear.V)); !over {
			f.Assumes = append(f.Assumes, "reverse as far as the wheels grip")
			return
		}
	}
	lo, hi := s.first, 4*s.first // no gearbox has a reverse that low
	if _, over := at(hi); !over {
		lo = hi
	}
	for hi-lo > 0.01 {
		if mid := (lo + hi) / 2; isOver(at(mid)) {
			hi = mid
		} else {
			lo = mid
		}
	}
	f.Unknown(fmt.Sprintf("%s; it holds up to a ratio of %.1f", s.ReverseWhy, math.Floor(lo*10)/10))
	f.Says = finding.Say(finding.NotYet(f.Missing))
}

// NoReverse says how far what holds for the largest torque either way reaches
// while reverse is not in the file: to first gear's ratio. It is empty where
// reverse is in it.
func (res *Result) NoReverse() string {
	s := &res.Statics
	if s.ReverseWhy == "" {
		return ""
	}
	return fmt.Sprintf("%s; it holds up to first gear's ratio of %g", s.ReverseWhy, s.first)
}

func isOver(_ float64, over bool) bool { return over }

// LoadAssumes says what loads on the mounts rest on.
func (res *Result) LoadAssumes() (out []string) {
	s := &res.Statics
	torque := func(v float64) string { return quantity.Format(quantity.Torque, v, res.in.Build.Units, 0) }
	switch {
	case !s.Torque.Known:
	case !s.Slip.Known:
		out = append(out, "steady gear torque, "+torque(s.Gear.V)+", as if the wheels never slipped")
	case s.Slip.V < s.Gear.V:
		out = append(out, "the wheels slip at "+torque(s.Slip.V)+", before the gear torque of "+torque(s.Gear.V)+" is met")
	default:
		out = append(out, "steady gear torque, "+torque(s.Gear.V)+"; the wheels would slip at "+torque(s.Slip.V))
	}
	if s.bound {
		out = append(out, "reverse as far as the wheels grip")
	}
	for _, l := range res.in.Build.Lines {
		if l.ReductionIn == project.InOwnCase && l.Reduction.Or(1) != 1 {
			out = append(out, "what turns the "+l.Name+" line's case on its own mounts is not worked out")
		}
	}
	for _, m := range s.Mounts {
		if m.Spec.Holds == project.SolidMount && !m.Spec.RateUp.Known() {
			out = append(out, "the bracket of the "+m.Label+" mount gives less than 1 mm under 5 kN")
		}
	}
	return out
}
