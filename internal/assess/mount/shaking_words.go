package mount

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/modes"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// wayName is a way the powertrain moves, as it is said in the vehicle: of a crankshaft
// across, along it is sideways.
func (p *Prepared) wayName(w modes.Way) string {
	if !p.transaxle() {
		return w.String()
	}
	switch w {
	case modes.ForeAft:
		return modes.Sideways.String()
	case modes.Sideways:
		return modes.ForeAft.String()
	case modes.Pitch:
		return "one end of the crank up"
	}
	return w.String()
}

// partSaid turns the mount rear to the rear mount.
func (p *Prepared) partSaid(part string) string {
	if name, ok := strings.CutPrefix(part, "mount "); ok {
		return name + " mount"
	}
	if said, ok := linkSaid(part); ok {
		return said
	}
	return part
}

// much is the part of the energy from which another way is a good part of a mode.
const much = 0.3

// wordsOf is the shape of a mode: bounce, with much pitch and some fore and aft.
func (p *Prepared) wordsOf(m *modes.Mode) string {
	main, some := m.Main()
	out := p.wayName(main)
	var lots, few []string
	for _, w := range some {
		if m.Share[w] >= much {
			lots = append(lots, p.wayName(w))
		} else {
			few = append(few, p.wayName(w))
		}
	}
	var with []string
	if len(lots) > 0 {
		with = append(with, "much "+strings.Join(lots, " and "))
	}
	if len(few) > 0 {
		with = append(with, "some "+strings.Join(few, " and "))
	}
	if len(with) > 0 {
		out += " with " + strings.Join(with, " and ")
	}
	return out
}

// Main is the way that most of it goes: bounce.
func (m *SwingMode) Main() string {
	name, _, _ := strings.Cut(m.Words, " with ")
	return name
}

// Said is the mode in words: bounce 9.2 Hz.
func (m *SwingMode) Said(units quantity.Units) string {
	name, with, ok := strings.Cut(m.Words, " with ")
	out := name + " " + quantity.Format(quantity.Frequency, m.Frequency.V, units, 1)
	if ok {
		out += " with " + with
	}
	return out
}

// saysShake is what to do about the shaking at one speed.
func (p *Prepared) saysShake(s *Shaking, o *OrderPassed, when string, status finding.Status) string {
	u := p.build.Units
	hz := func(v float64) string { return quantity.Format(quantity.Frequency, v, u, 1) }
	if s.Why != "" {
		return "All of it reaches the frame: " + s.Why + "."
	}
	what := "a shaking up and down"
	if o.ByRoll {
		what = "its torque about the crankshaft"
	}
	out := fmt.Sprintf("Firing %s comes at %s, and %.2g of %s reaches the frame; the nearest of the ways in which the powertrain swings is %s.",
		when, hz(o.Firing.V), o.Worst.V, what, s.nearest(o.Firing.V).Said(u))
	if status == finding.Tight && s.Guessed {
		out += " Its moments of inertia are an estimate: put powertrain.inertia in the file."
	}
	if o.Worst.V+o.Worst.Expanded() > p.idle.Value {
		out += " " + p.hint(s, o)
	}
	return out
}

// nearest is the mode nearest to a frequency, by the ratio of the two.
func (s *Shaking) nearest(hz float64) *SwingMode {
	best, off := &s.Modes[0], math.Inf(1)
	for i := range s.Modes {
		if d := math.Abs(math.Log(s.Modes[i].Frequency.V / hz)); d < off {
			best, off = &s.Modes[i], d
		}
	}
	return best
}

// hint tries the rates of each mount, or of a left and a right one together, and of each
// link and stop, a tenth softer, and a tenth stiffer where that does not help, and names
// what takes most away.
func (p *Prepared) hint(s *Shaking, o *OrderPassed) string {
	f := modes.Shaking{Frequency: o.Firing.V, Force: r3.Vec{Z: 1}}
	if o.ByRoll {
		f = modes.Shaking{Frequency: o.Firing.V, Torque: s.axes.X}
	}
	now, err := s.ready.Passes(modes.State{}, f)
	if err != nil {
		return ""
	}
	for _, try := range []struct {
		by   float64
		word string
	}{{0.9, "softer"}, {1.1, "stiffer"}} {
		best, which := now[0]*(1-1e-3), ""
		for _, g := range p.together() {
			st := modes.State{Stiffer: evenly(s.parts)}
			for _, i := range g.parts {
				st.Stiffer[i] = [3]float64{try.by, try.by, try.by}
			}
			if v, err := s.ready.Passes(st, f); err == nil && v[0] < best {
				best, which = v[0], g.said(try.word)
			}
		}
		if which != "" {
			return fmt.Sprintf("%s most: a tenth takes it from %.2g to %.2g.", which, now[0], best)
		}
	}
	return "No mount by itself, a tenth softer or stiffer, takes any of it away; set the mounts elsewhere, or change the speed."
}

// group is a mount, or a left and a right one of one name, or a link or stop: its place
// among the parts that shake.
type group struct {
	label string // rear mount; of two mounts what both are called
	parts []int
}

func (g group) said(word string) string {
	if len(g.parts) > 1 {
		return strings.ToUpper(word[:1]) + word[1:] + " " + g.label + " mounts, left and right, help"
	}
	return "A " + word + " " + g.label + " helps"
}

func (p *Prepared) together() (out []group) {
	for i := range p.mounts {
		name := p.mounts[i].spec.Name
		of, left := strings.CutPrefix(name, "left_")
		other := slices.IndexFunc(p.mounts, func(m support) bool { return m.spec.Name == "right_"+of })
		if right, ok := strings.CutPrefix(name, "right_"); ok && slices.ContainsFunc(p.mounts, func(m support) bool { return m.spec.Name == "left_"+right }) {
			continue
		}
		if left && other >= 0 {
			out = append(out, group{finding.Spoken(of), []int{i, other}})
		} else {
			out = append(out, group{p.mounts[i].label + " mount", []int{i}})
		}
	}
	for i := range p.build.TorqueLinks {
		out = append(out, group{finding.Spoken(p.build.TorqueLinks[i].Name) + " torque link", []int{len(p.mounts) + i}})
	}
	for i := range p.build.RollStops { // one that is not met at rest changes nothing
		out = append(out, group{finding.Spoken(p.build.RollStops[i].Name) + " roll stop", []int{len(p.mounts) + len(p.build.TorqueLinks) + i}})
	}
	return out
}

func evenly(parts int) [][3]float64 {
	out := make([][3]float64, parts)
	for i := range out {
		out[i] = [3]float64{1, 1, 1}
	}
	return out
}

// leaningPairs are the elastic centres of left and right mounts of one name that lean.
func (p *Prepared) leaningPairs(system *modes.System) (out []LeaningPair) {
	for i := range p.mounts {
		name, ok := strings.CutPrefix(p.mounts[i].spec.Name, "left_")
		if !ok || !p.mounts[i].spec.RateAxis.Known {
			continue
		}
		for k := range p.mounts {
			if p.mounts[k].spec.Name != "right_"+name || !p.mounts[k].spec.RateAxis.Known {
				continue
			}
			l, r := system.Mounts[i], system.Mounts[k]
			axes := geom.Identity()
			axes.At = middleOf(l.Frame.At, r.Frame.At)
			pair, err := modes.PairOf([]modes.Mount{l, r}, axes)
			if err != nil {
				continue
			}
			out = append(out, LeaningPair{Name: name, Height: pair.Height, AboveCentre: axes.At.Z + pair.Height - system.Body.Centre.Z,
				Side: pair.Side, Up: pair.Up, Roll: pair.Roll, Left: l.Frame.At, Right: r.Frame.At, Middle: r3.Add(axes.At, r3.Vec{Z: pair.Height})})
		}
	}
	return out
}

// Values lists every number of the shaking.
func (s *Shaking) Values(l *finding.List) {
	if s == nil || !s.Begun {
		return
	}
	for i := range s.Modes {
		name := "mounts.mode." + string(rune('1'+i))
		l.Number(name, quantity.Frequency, s.Modes[i].Frequency)
		l.Uncertainty(name, quantity.Frequency, s.Modes[i].Frequency)
	}
	for _, x := range []struct {
		name string
		o    *OrderPassed
	}{{"mounts.shake.idle", &s.Idle}, {"mounts.shake.cruise", &s.Cruise}} {
		if !x.o.Asked {
			continue
		}
		l.Number(x.name+".firing", quantity.Frequency, x.o.Firing)
		l.Number(x.name+".roll", quantity.Number, x.o.Roll)
		l.Number(x.name+".up", quantity.Number, x.o.Up)
		l.Number(x.name+".once", quantity.Number, x.o.Once)
	}
	if len(s.Modes) > 0 {
		for i, key := range []string{"roll", "pitch", "yaw"} {
			l.Number("mounts.inertia."+key, quantity.Inertia, s.Inertia[i])
		}
	}
	if s.Roll.Known {
		l.Add("mounts.roll_axis.free", quantity.Angle, s.Roll.V.FromCrank)
		l.Add("mounts.roll_axis.held", quantity.Angle, s.Roll.V.HeldOff)
		l.Add("mounts.roll_axis.held.above", quantity.Length, s.Roll.V.Above)
	}
	for _, x := range s.Pairs {
		l.Add("mounts.pair."+x.Name+".elastic_centre", quantity.Length, x.Height)
		l.Add("mounts.pair."+x.Name+".above_centre", quantity.Length, x.AboveCentre)
	}
}
