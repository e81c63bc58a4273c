package mount

import (
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/modes"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// LinkLoads is what a torque link carries.
type LinkLoads struct {
	Spec  *project.TorqueLink
	Label string                // upper torque link
	Why   string                // why nothing is known of it, where nothing is
	On    finding.Maybe[r3.Vec] // its joint on the powertrain as built, vehicle axes
	Pull  []float64             // along it in each case, N: pulled positive, pushed negative
	Worst int                   // the case in which it carries most
}

// StopLoads is what a roll stop carries.
type StopLoads struct {
	Spec    *project.RollStop
	Label   string                // left roll stop
	Why     string                // why nothing is known of it, where nothing is
	At      finding.Maybe[r3.Vec] // as built, vehicle axes
	Play    finding.Number        // the least that is left of it at rest, mm
	Force   []float64             // on it in each case, N
	Pressed []float64             // in, mm: along its axis positive, against it negative
	Worst   int                   // the case in which it carries most
}

// Met are the cases in which the stop is met, by their places.
func (s *StopLoads) Met() (out []int) {
	for c, p := range s.Pressed {
		if p != 0 {
			out = append(out, c)
		}
	}
	return out
}

// carried is what holds the powertrain in some cases, by case.
type carried struct {
	pads  [][]r3.Vec
	links [][]seat.Tied
	stops [][]seat.Stopped
}

// heldLacks says what of links and stops is not in the file yet.
func heldLacks(b *project.Build) string {
	for i := range b.TorqueLinks {
		if why := linkLacks(&b.TorqueLinks[i]); why != "" {
			return why
		}
	}
	for i := range b.RollStops {
		if why := stopLacks(&b.RollStops[i]); why != "" {
			return why
		}
	}
	return ""
}

func linkLacks(l *project.TorqueLink) string {
	key := ""
	switch {
	case !l.On.Known:
		key = "on"
	case !l.To.Known:
		key = "to"
	default:
		_, key = l.Stiffness()
	}
	if key == "" {
		return ""
	}
	return "torque_link." + l.Name + "." + key + " is not in the file yet"
}

func stopLacks(s *project.RollStop) string {
	key := ""
	switch {
	case !s.At.Known:
		key = "at"
	case !s.Rate.Known():
		key = "rate"
	case !s.Play.Known() && !s.Back.Known():
		key = "play"
	}
	if key == "" {
		return ""
	}
	return "roll_stop." + s.Name + "." + key + " is not in the file yet"
}

// beside are the links and stops with the powertrain's own frame at a pose.
func (p *Prepared) beside(pose geom.Pose) (links []seat.Link, stops []seat.Stop) {
	for i := range p.build.TorqueLinks {
		l := &p.build.TorqueLinks[i]
		rate, _ := l.Stiffness()
		links = append(links, seat.Link{Name: finding.Spoken(l.Name), On: pose.Point(l.On.At), To: l.To.At, Rate: rate, Built: l.Fitted == project.FittedBuilt})
	}
	for i := range p.build.RollStops {
		s := &p.build.RollStops[i]
		along, against := s.Sides()
		stops = append(stops, seat.Stop{Name: finding.Spoken(s.Name), At: pose.Point(s.At.At), Axis: s.Way(), Forward: along, Backward: against, Rate: s.Rate.V(), Built: s.Fitted == project.FittedBuilt, Pad: p.padOf(s.Mount)})
	}
	return links, stops
}

// padOf is the place of a mount among those that carry, from 1; 0 for none.
func (p *Prepared) padOf(name string) int {
	return 1 + slices.IndexFunc(p.mounts, func(m support) bool { return m.spec.Name == name })
}

// hangWith is the powertrain where it stands on isolators of the rates that pick takes,
// with all that holds it beside them.
func (res *Result) hangWith(pick func(IsolatorRates) seat.Rates) (*seat.Hung, error) {
	links, stops := res.p.beside(res.in.Pose.V)
	return seat.HangHeld(res.Statics.Body.V, res.p.springs(res.pad, pick), links, stops)
}

// builtHeld names a link or stop that was fitted before the weight came down, "" for none.
func (p *Prepared) builtHeld() string {
	for i := range p.build.TorqueLinks {
		if l := &p.build.TorqueLinks[i]; l.Fitted == project.FittedBuilt {
			return "the " + finding.Spoken(l.Name) + " torque link"
		}
	}
	for i := range p.build.RollStops {
		if s := &p.build.RollStops[i]; s.Fitted == project.FittedBuilt {
			return "the " + finding.Spoken(s.Name) + " roll stop"
		}
	}
	return ""
}

// placeHeld finds where links and stops are as built.
func (res *Result) placeHeld() {
	s, b := &res.Statics, res.p.build
	at := func(p project.Point, why string) (m finding.Maybe[r3.Vec]) {
		switch {
		case !p.Known:
			m.Why = why
		case !res.in.Pose.Known:
			m.Why = res.in.Pose.Why
		default:
			m.V, m.Known = res.in.Pose.V.Point(p.At), true
		}
		return m
	}
	for i := range b.TorqueLinks {
		l := &b.TorqueLinks[i]
		why := linkLacks(l)
		s.Links = append(s.Links, LinkLoads{Spec: l, Label: finding.Spoken(l.Name) + " torque link", Why: why, On: at(l.On, why)})
	}
	for i := range b.RollStops {
		q := &b.RollStops[i]
		why := stopLacks(q)
		s.Stops = append(s.Stops, StopLoads{Spec: q, Label: finding.Spoken(q.Name) + " roll stop", Why: why, At: at(q.At, why), Play: finding.Missing(why)})
	}
}

// takeHeld takes what links and stops carry in each case over.
func (s *Statics) takeHeld(c carried) {
	for i := range s.Links {
		l := &s.Links[i]
		l.Pull, l.Worst = make([]float64, len(c.links)), 0
		for k, of := range c.links {
			l.Pull[k] = of[i].Pull
			if math.Abs(l.Pull[k]) > math.Abs(l.Pull[l.Worst]) {
				l.Worst = k
			}
		}
	}
	for i := range s.Stops {
		q := &s.Stops[i]
		q.Force, q.Pressed, q.Worst = make([]float64, len(c.stops)), make([]float64, len(c.stops)), 0
		for k, of := range c.stops {
			q.Force[k], q.Pressed[k] = r3.Norm(of[i].Force), of[i].Pressed
			if q.Force[k] > q.Force[q.Worst] {
				q.Worst = k
			}
		}
		play := func(c *carried) float64 { return min(c.stops[0][i].Forward, c.stops[0][i].Backward) }
		q.Play = s.spread(play(&c), func(w *carried) float64 { return play(w) })
	}
}

// spread is a value with what the rates that are estimates leave open of it.
func (s *Statics) spread(v float64, of func(w *carried) float64) finding.Number {
	var ends []finding.End
	for i := range s.Swings {
		w := &s.Swings[i]
		ends = append(ends, w.of.EndsOf(v, of(&w.ends[0]), of(&w.ends[1])))
	}
	return finding.Spread(v, ends, finding.Estimate{}, v)
}

// pulled is what link i carries in case c, N, push or pull.
func (s *Statics) pulled(i, c int) finding.Number {
	v := s.Links[i].Pull[c]
	sign := math.Copysign(1, v)
	return s.spread(sign*v, func(w *carried) float64 { return sign * w.links[c][i].Pull })
}

// pressedBy is what stop i carries in case c, N.
func (s *Statics) pressedBy(i, c int) finding.Number {
	return s.spread(s.Stops[i].Force[c], func(w *carried) float64 { return r3.Norm(w.stops[c][i].Force) })
}

// vibrating is what the file says of rubber in vibration, or what rubber is like.
func vibrating(ratio, loss quantity.NumberQ) dynamic {
	d := dynamic{seat.DynamicLow, dynamicMiddle, seat.DynamicHigh, modes.LossOf(rubberDamping), false, false}
	if v, ok := ratio.Get(); ok {
		d.low, d.middle, d.high, d.given = v, v, v, true
	}
	if v, ok := loss.Get(); ok {
		d.loss, d.lossGiven = v, true
	}
	return d
}

// upright is what of a link, or of a stop that is met at rest, holds straight up and down.
type upright struct {
	rate float64 // N/mm, static
	dynamic
}

// upBeside is what holds up and down beside the mounts where the powertrain rests.
func (res *Result) upBeside() (out []upright) {
	p := res.p
	if res.hungErr != nil || res.hung == nil || len(p.build.TorqueLinks)+len(p.build.RollStops) == 0 {
		return nil
	}
	links, stops := p.beside(res.in.Pose.V)
	_, at, err := res.hung.Beside(seat.Resting(), nil)
	if err != nil {
		return nil
	}
	each := p.besideVibrates()
	add := func(rate float64, along r3.Vec, d dynamic) {
		if k := rate * along.Z * along.Z; k > 1e-9*rate {
			out = append(out, upright{k, d})
		}
	}
	for i, l := range links {
		add(l.Rate, r3.Unit(r3.Sub(l.On, l.To)), each[i])
	}
	for i, q := range stops {
		if at[i].Pressed != 0 {
			add(q.Rate, q.Axis, each[len(links)+i])
		}
	}
	return out
}

// besideVibrates are links and then stops in vibration.
func (p *Prepared) besideVibrates() (out []dynamic) {
	for i := range p.build.TorqueLinks {
		out = append(out, vibrating(p.build.TorqueLinks[i].Dynamic, p.build.TorqueLinks[i].Loss))
	}
	for i := range p.build.RollStops {
		out = append(out, vibrating(p.build.RollStops[i].Dynamic, p.build.RollStops[i].Loss))
	}
	return out
}

// shakesBeside adds links and stops to the system, and says which stops are met at rest.
func (p *Prepared) shakesBeside(out *modes.System, pose geom.Pose, isolators []seat.Isolator) (met []bool, err error) {
	links, stops := p.beside(pose)
	if len(links)+len(stops) == 0 {
		return nil, nil
	}
	each := p.besideVibrates()
	for i, l := range links {
		out.Links = append(out.Links, modes.Link{Name: l.Name, On: l.On, To: l.To, Rate: l.Rate, Dynamic: each[i].middle, Loss: each[i].loss})
	}
	side := func(v float64) float64 {
		if math.IsInf(v, 1) {
			return modes.NoStop
		}
		return v
	}
	for i, q := range stops {
		d := each[len(links)+i]
		out.Stops = append(out.Stops, modes.Stop{Name: q.Name, At: q.At, Axis: q.Axis, Forward: side(q.Forward), Backward: side(q.Backward), Rate: q.Rate, Dynamic: d.middle, Loss: d.loss})
	}
	hung, err := seat.HangHeld(out.Body, isolators, links, stops)
	if err != nil {
		return nil, err
	}
	_, at, err := hung.Beside(seat.Resting(), nil)
	if err != nil {
		return nil, err
	}
	for _, q := range at {
		met = append(met, q.Pressed != 0)
	}
	return met, nil
}

// linkSaid turns link upper to the upper torque link, and stop left to the left roll stop.
func linkSaid(part string) (string, bool) {
	if name, ok := strings.CutPrefix(part, "link "); ok {
		return name + " torque link", true
	}
	if name, ok := strings.CutPrefix(part, "stop "); ok {
		return name + " roll stop", true
	}
	return "", false
}
