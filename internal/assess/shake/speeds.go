package shake

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fitup/internal/geom/vibration"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// How far an engine's speed may be from what road speed and gear make it:
// speedometer, tyre and rev counter slower or faster, and a converter that
// slips faster only. Common practice, no source.
const (
	engineSlow = 0.93
	engineFast = 1.07
	slips      = 1.2 // with a converter
)

// rolling finds what turns how fast at a shake.
type rolling struct {
	in    *Input
	s     Felt
	out   *Shaking
	gear  float64 // ratio, 0 not known
	speed vibration.Speeds
}

func (r *rolling) note(format string, args ...any) {
	r.out.Notes = append(r.out.Notes, fmt.Sprintf(format, args...))
}

// turning is what turns how fast. The tyre's circumference lies between that
// it rolls and that of the round tyre, so wheel and shaft have a span.
func (in *Input) turning(s Felt, out *Shaking) (vibration.Speeds, error) {
	r := &rolling{in: in, s: s, out: out}
	b := in.Build
	if n, ok := b.Powertrain.Cylinders.Get(); ok {
		r.speed.Cylinders = int(n)
	} else {
		r.note("powertrain.cylinders is not in the file yet, so the engine's firing is left out")
	}
	var err error
	if r.gear, err = in.gear(s.Gear); err != nil {
		return r.speed, err
	}
	if s.Engine > 0 {
		r.speed.Engine = vibration.Span{Lo: s.Engine, Hi: s.Engine}
	}
	r.wheel()
	if err := r.transaxle(); err != nil {
		return r.speed, err
	}
	for i, l := range b.Lines {
		t := vibration.Turning{}
		for _, kind := range in.Lines[i].Joints {
			t.Cardan = t.Cardan || kind != project.ConstantVelocity
			t.Even = t.Even || kind == project.ConstantVelocity
		}
		r.speed.HalfShafts = r.speed.HalfShafts || len(l.Suspension.HalfShaft) > 0
		if b.Direct(l) { // half shafts turn with the wheels
			r.speed.HalfShafts = true
			r.speed.Shafts = append(r.speed.Shafts, t)
			continue
		}
		if t.Span, err = r.shaft(l); err != nil {
			return r.speed, err
		}
		r.speed.Shafts = append(r.speed.Shafts, t)
	}
	r.leftOut()
	return r.speed, nil
}

// wheel is the wheel's speed from the road's.
func (r *rolling) wheel() {
	if r.s.Road == 0 {
		return
	}
	round, rolls, err := r.in.circumferences()
	if err != nil {
		r.note("%v, so wheels are left out, and shafts unless engine speed and gear give them", err)
		return
	}
	r.speed.Wheel = vibration.Span{Lo: 2 * math.Pi * r.s.Road / round, Hi: 2 * math.Pi * r.s.Road / rolls}
}

// transaxle ties the wheels to the engine through the final drive in the
// gearbox.
func (r *rolling) transaxle() error {
	if r.in.Build.Powertrain.Layout != project.Transaxle {
		return nil
	}
	if !r.in.Final.Known {
		r.note("%s, so the engine's speed does not follow from that of the wheels", r.in.Final.Why)
		return nil
	}
	final := r.in.Final.V
	w, total := r.speed.Wheel, r.gear*final
	switch {
	case total == 0:
	case w.Known() && r.s.Engine > 0:
		if !r.together(times(w, total)) {
			return r.contradiction("powertrain.final", times(w, r.gear), []float64{final})
		}
	case w.Known():
		r.speed.Engine = times(w, total)
	case r.s.Engine > 0 && r.s.Road == 0:
		r.speed.Wheel = times(r.speed.Engine, 1/total)
	}
	return nil
}

// shaft is the speed of a line's shaft, from the wheels or from the engine, and
// gives engine or wheels theirs where only the other is known.
func (r *rolling) shaft(l project.Line) (vibration.Span, error) {
	ratio, ok := l.Ratio.Get()
	ok = ok && ratio > 0
	w := vibration.Span{}
	if r.speed.Wheel.Known() && ok {
		w = times(r.speed.Wheel, ratio)
	}
	if r.in.Build.Powertrain.Layout == project.Transaxle {
		// It turns by the ratio of a take-off, which the file cannot say.
		if !w.Known() {
			r.note("the %s shaft is left out: its speed follows from the road speed and line.%s.ratio alone", l.Name, l.Name)
		}
		return w, nil
	}
	low, err := r.reduction(l, w)
	if err != nil {
		return w, err
	}
	switch total := r.gear * low; {
	case w.Known() && r.s.Engine == 0 && total > 0 && !r.speed.Engine.Known():
		r.speed.Engine = times(w, total)
	case !w.Known() && r.s.Engine > 0 && total > 0:
		w = times(r.speed.Engine, 1/total)
		if ok && r.s.Road == 0 && !r.speed.Wheel.Known() {
			r.speed.Wheel = times(w, 1/ratio)
		}
	case !w.Known() && !ok && r.speed.Wheel.Known():
		r.note("line.%s.ratio is not in the file yet, so the %s shaft is left out", l.Name, l.Name)
	case !w.Known():
		r.note("the %s shaft is left out: its speed follows from the road speed, or from the engine speed and the gear", l.Name)
	}
	return w, nil
}

func times(s vibration.Span, k float64) vibration.Span {
	return vibration.Span{Lo: s.Lo * k, Hi: s.Hi * k}
}

// reduction is the reduction between gearbox and line at the moment of the
// shake: none in high range, the line's own in low range. Where the range was
// not told, speeds that were are asked for it; 0 when they do not tell. Speeds
// that go together in no range are refused.
func (r *rolling) reduction(l project.Line, w vibration.Span) (float64, error) {
	if !l.Reduction.Known() && r.s.Range == LowRange {
		r.note("line.%s.reduction is not in the file yet, so in low range the %s shaft does not tell the engine's speed nor the engine the shaft's", l.Name, l.Name)
		return 0, nil
	}
	low := l.Reduction.Or(1)
	if low <= 0 {
		low = 1
	}
	choices := []float64{1, low}
	switch {
	case low == 1 || r.s.Range == HighRange:
		choices = []float64{1}
	case r.s.Range == LowRange:
		choices = []float64{low}
	}
	if w.Known() && r.s.Engine > 0 && r.gear > 0 {
		var fits []float64
		for _, c := range choices {
			if r.together(times(w, r.gear*c)) {
				fits = append(fits, c)
			}
		}
		if len(fits) == 0 {
			return 0, r.contradiction("line."+l.Name+".ratio", times(w, r.gear), choices)
		}
		choices = fits
	}
	if len(choices) > 1 {
		if r.gear > 0 {
			r.note("the %s line has a reduction of %g: say whether high or low range was in, or the engine cannot be told from the shaft nor the shaft from the engine", l.Name, low)
		}
		return 0, nil
	}
	return choices[0], nil
}

// together reports whether the engine speed given is one that the road makes.
func (r *rolling) together(engine vibration.Span) bool {
	most := engineFast
	if r.in.Build.Powertrain.Converter.Or(1) > 1 {
		most = slips
	}
	return r.s.Engine >= engineSlow*engine.Lo && r.s.Engine <= most*engine.Hi
}

// contradiction says what the engine would turn at, w before the reductions that
// can have been in, by a value of the file.
func (r *rolling) contradiction(by string, w vibration.Span, choices []float64) error {
	rpm := func(v float64) string { return quantity.Plain(quantity.Speed, v, r.in.Build.Units, 0) }
	var would []string
	for _, c := range choices {
		e := times(w, c)
		s := rpm(e.Lo) + " to " + rpm(e.Hi)
		if len(choices) > 1 && c != 1 || r.s.Range == LowRange {
			s += " in low range"
		}
		would = append(would, s)
	}
	return fmt.Errorf("road speed, engine speed and gear contradict each other: at that road speed gear %d turns the engine at %s by %s, and %s was given; leave out the one that is least sure, or the gear if the clutch was down",
		r.s.Gear, strings.Join(would, ", or "), by, rpm(r.s.Engine))
}

// leftOut says what is not among the suspects for want of a speed.
func (r *rolling) leftOut() {
	switch {
	case r.speed.Engine.Known():
	case r.s.Gear == 0:
		r.note("give the engine speed or the gear to bring the engine in")
	default:
		ratio := "the line's ratio"
		if r.in.Build.Powertrain.Layout == project.Transaxle {
			ratio = "powertrain.final"
		}
		r.note("the engine is left out: gear %d gives its speed only with the road speed, the tyre and %s; or give the engine speed", r.s.Gear, ratio)
	}
	if !r.speed.Wheel.Known() && r.s.Road == 0 {
		r.note("give the road speed to bring the wheels in")
	}
	if len(r.in.Build.Lines) == 0 {
		r.note("the file has no driveline yet, so shafts are left out")
	}
}

// gear is the ratio of a gear, 0 when none was given.
func (in *Input) gear(n int) (float64, error) {
	if n == 0 {
		return 0, nil
	}
	gears, err := in.Build.Powertrain.GearRatios()
	switch {
	case err != nil:
		return 0, fmt.Errorf("%w, so a gear says nothing", err)
	case n < 1 || n > len(gears):
		return 0, fmt.Errorf("gear %d: the file has gears 1 to %d", n, len(gears))
	}
	return gears[n-1], nil
}

// circumferences are those of the round and of the rolling tyre, mm.
func (in *Input) circumferences() (round, rolling float64, err error) {
	if !in.Tyre.Known {
		return 0, 0, errors.New(in.Tyre.Why)
	}
	return in.Tyre.V.Circumferences()
}
