package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/uncertain/coverage"

	"gonum.org/v1/gonum/spatial/r3"
)

// kind is a kind of build: how its line runs and how it is read.
type kind struct {
	shafts                   int
	twisted, repeated, moved bool
	// unstated is a scatter that the file does not state, as a part of the accuracy:
	// its standard deviation, on top of what the accuracy says.
	unstated float64
	first    bool // only the first axis is repeated
	told     bool // such a scatter, as large as the accuracy, is stated as the repeat
	// cancels is two joints of 10° that cancel about, at 4000 rpm with a gauge good
	// for 0.3°, and the limit that the program sets.
	cancels bool
	// typed is a plan whose numbers were typed with a ±, and nothing read.
	typed bool
}

// assumed says that readings of which nothing is stated rest on the gauge repeating
// within its accuracy, and that it does not: what is stated of them claims no more
// than that sentence, which stands with it. Nothing that a few repeats of another
// axis show makes up for it: where they happen to agree they say nothing, and even
// Student's factor for them alone holds no more than 90 % where the scatter is as
// large as the accuracy.
func (k kind) assumed() bool {
	return !k.repeated && (k.unstated > 0.5 || k.unstated > 0.25 && !k.first)
}

func (k kind) String() string {
	s := fmt.Sprintf("%d shaft", k.shafts)
	if k.shafts > 1 {
		s += "s"
	}
	for _, w := range []struct {
		is      bool
		yes, no string
	}{{k.twisted, "twisted", "planar"}, {k.repeated, "repeated", "single"}} {
		if w.is {
			s += ", " + w.yes
		} else {
			s += ", " + w.no
		}
	}
	switch {
	case k.typed:
		return "1 shaft, planar, typed with ±"
	case k.cancels:
		s += ", 12/2/12"
	case k.moved:
		s += ", moved"
	}
	if k.unstated > 0 {
		if k.first {
			s += ", the first axis repeated"
		}
		s += fmt.Sprintf(", scatter of %g accuracies unstated", k.unstated)
	}
	if k.told {
		s += ", scatter of 1 accuracy stated"
	}
	if k.assumed() {
		s += ": outside the promise"
	}
	return s
}

func kinds() (out []kind) {
	for shafts := 1; shafts <= 3; shafts++ {
		for way := range 4 {
			out = append(out, kind{shafts: shafts, twisted: way&1 != 0, repeated: way&2 != 0})
		}
	}
	out = append(out, kind{shafts: 1, moved: true}, kind{shafts: 1, repeated: true, moved: true})
	for _, part := range []float64{0.25, 0.5, 1} {
		out = append(out, kind{shafts: 1, unstated: part}, kind{shafts: 1, first: true, unstated: part},
			kind{shafts: 1, repeated: true, unstated: part}, kind{shafts: 2, twisted: true, repeated: true, unstated: part})
	}
	out = append(out, kind{shafts: 1, told: true}, kind{shafts: 1, repeated: true, told: true})
	return append(out, kind{shafts: 1, cancels: true}, kind{shafts: 1, repeated: true, cancels: true}, kind{shafts: 1, typed: true})
}

// truth is a build as it is: where its axes run, what its gauge is good for, and
// what it is held against.
type truth struct {
	kind
	slope, heading []float64 // of the axes, rad, now
	then           []float64 // slopes as they were when they were read
	welded         float64   // how far welding turned the pinion, rad
	stretch        float64   // how much longer welding made a diagonal, mm
	planned        float64   // slope of the pinion that somebody typed, rad
	speed          float64   // rpm
	rear           [2]float64
	half           float64 // ± of rear, mm, where it is typed
	accuracy       float64 // degrees, as are the next three
	repeat, step   float64
	zero           float64
	limits         map[string]float64
	of             *figures
	scale          map[string]float64 // standard uncertainty of findings, by id, as it was read first
}

// figures are what is true of a line: angles in rad, the rest in rad/s².
type figures struct {
	joints       []float64
	equivalent   float64
	residual     float64
	drive, coast []float64
}

func either(dice *rand.Rand, half float64) float64        { return coverage.Either(dice, half) }
func pick[T any](dice *rand.Rand, from ...T) T            { return from[dice.IntN(len(from))] }
func degrees(v float64) string                            { return fmt.Sprintf("%.9f deg", v*180/math.Pi) }
func onePart(dice *rand.Rand, part float64) bool          { return dice.Float64() < part }
func around(dice *rand.Rand, v, u, least float64) float64 { return max(least, v+either(dice, 3*u)) }

// draw draws a build of a kind, near its limits on purpose: the limits are set
// near what is true.
func draw(k kind, dice *rand.Rand) *truth {
	t := &truth{kind: k, scale: map[string]float64{}, speed: 1000 + 3500*dice.Float64(), accuracy: pick(dice, 0.05, 0.1, 0.2, 0.3)}
	t.repeat = t.accuracy * (0.3 + 0.5*dice.Float64())
	if k.told { // as wide as a normal scatter whose standard deviation is the accuracy
		t.repeat = math.Sqrt(3) * t.accuracy
	}
	t.step, t.zero = pick(dice, 0, 0.05), pick(dice, 0, 0.2)
	at := either(dice, 5)
	bend := pick(dice, 1.0, 3, 8)
	if onePart(dice, 0.2) {
		bend = 0.1 // nearly parallel
	}
	for i := range k.shafts + 2 {
		t.slope, t.heading = append(t.slope, at*geom.Deg.Rad()), append(t.heading, 0)
		if k.twisted {
			t.heading[i] = either(dice, bend) * geom.Deg.Rad()
		}
		at += pick(dice, -1, 1.0) * bend * (0.7 + 0.6*dice.Float64())
	}
	if onePart(dice, 0.5) { // the last two joints nearly cancel
		n := len(t.slope)
		t.slope[n-1] = t.slope[n-3] + either(dice, 0.5)*geom.Deg.Rad()
	}
	if k.cancels {
		t.accuracy, t.repeat, t.step, t.zero, t.speed = 0.3, 0.05, 0, 0, 4000
		for i, v := range [...]float64{12, 2, 12} {
			t.slope[i] = (v + either(dice, 0.5)) * geom.Deg.Rad()
		}
	}
	t.then = append([]float64(nil), t.slope...)
	if k.moved || k.typed {
		t.move(dice)
	}
	t.of = t.figures()
	u := t.accuracy * geom.Deg.Rad() / math.Sqrt(3)
	t.welded, t.stretch = either(dice, 4*u), either(dice, 3)
	t.planned = t.then[len(t.then)-1] + either(dice, 6*u)
	t.hold(dice, u)
	if k.cancels {
		delete(t.limits, "residual")
	}
	return t
}

// move lets the powertrain be read with its rear pad at one height and stand at
// another, in the build of text: pads and output 1250 mm apart, the pinion 2500 mm
// behind the front pads. The slopes now are those then and what the move made of
// them; nobody moves iron to a hair.
func (t *truth) move(dice *rand.Rand) {
	t.rear = [2]float64{either(dice, 20), either(dice, 20)}
	t.speed = 2000
	out := func(rear float64) (engine, behind float64) {
		engine = math.Asin(-rear / 1250)
		return engine, math.Atan2(rear+80, 2500-1250*math.Cos(engine))
	}
	e0, s0 := out(t.rear[0])
	if t.typed { // as it stands, nothing of it read
		t.half = 0.5 + 4*dice.Float64()
		t.slope[0], t.slope[1] = e0, s0
		return
	}
	e1, s1 := out(t.rear[1] + either(dice, 1))
	t.slope[0], t.slope[1] = t.then[0]+e1-e0, t.then[1]+s1-s0
}

// hold sets the limits near what is true, to either side of it.
func (t *truth) hold(dice *rand.Rand, u float64) {
	least := 0.02 * geom.Deg.Rad()
	joint := pick(dice, t.of.joints...)
	most := around(dice, joint, 2*u, 2*least)
	w := t.speed * rpm
	bend := 0.0
	for _, b := range t.of.joints {
		bend = max(bend, b)
	}
	open := 3 * w * w * (bend*u + u*u)
	t.limits = map[string]float64{
		"joint_max": most, "front_joint": most, "joint_min": around(dice, pick(dice, t.of.joints...), 2*u, least),
		"mismatch": around(dice, t.mismatch(), 2*u, least),
		"residual": around(dice, t.of.residual, open, 1), "inertia": around(dice, pick(dice, append(t.of.drive, t.of.coast...)...), open, 1),
		"plan_gap": around(dice, math.Abs(t.then[len(t.then)-1]-t.planned), u, least), "weld_drift": around(dice, math.Abs(t.welded), 1.5*u, least),
		"weld_drift_length": around(dice, math.Abs(t.stretch), 0.8, 0.05),
	}
}

func (t *truth) mismatch() float64 {
	n := len(t.of.joints)
	return math.Abs(t.of.joints[n-2] - t.of.joints[n-1])
}

// figures works out what is true of the slopes as they are now.
func (t *truth) figures() *figures {
	n := len(t.slope)
	c := shaft.Chain{Joints: make([]shaft.Joint, n-1)}
	dir := func(i int) r3.Vec { return geom.Direction(geom.Angle(t.slope[i]), geom.Angle(t.heading[i])) }
	c.In, c.Out = dir(0), dir(n-1)
	f := &figures{}
	for i := range n - 1 {
		f.joints = append(f.joints, geom.Between(dir(i), dir(i+1)).Rad())
		if i > 0 {
			c.Joints[i].At = r3.Add(c.Joints[i-1].At, r3.Scale(500, dir(i)))
		}
	}
	m, err := shaft.NewMechanism(c)
	if err != nil {
		panic(err) // no joint drawn here comes near to square
	}
	all, w := m.Shafts(), t.speed*rpm
	last := all[len(all)-1].Drive
	f.equivalent, f.residual = last.Angle().Rad(), last.Acceleration(w)
	for _, s := range all[1 : len(all)-1] {
		f.drive, f.coast = append(f.drive, s.Drive.Acceleration(w)), append(f.coast, s.Coast.Acceleration(w))
	}
	return f
}

// text is the build's file, read anew by a gauge with errors of its own.
func (t *truth) text(dice *rand.Rand) string {
	var s strings.Builder
	put := func(format string, args ...any) { fmt.Fprintf(&s, format, args...) }
	put("format = 3\n[gauge]\naccuracy = \"%g deg\"\n", t.accuracy)
	if t.unstated == 0 {
		put("repeat = \"%g deg\"\n", t.repeat)
	}
	if t.step > 0 {
		put("resolution = \"%g deg\"\n", t.step)
	}
	if t.zero > 0 {
		put("zero = \"%g deg\"\n", t.zero)
	}
	put("[limits]\n")
	for k, v := range t.limits {
		switch k {
		case "residual", "inertia":
			put("%s = \"%.9g rad/s2\"\n", k, v)
		case "weld_drift_length":
			put("%s = \"%.9f mm\"\n", k, v)
		default:
			put("%s = %q\n", k, degrees(v))
		}
	}
	put("[line.rear]\nspeed = \"%.6f rpm\"\n[line.rear.pinion]\n", t.speed)
	way := "down to the rear"
	if t.planned < 0 {
		way = "up to the rear"
	}
	slope, rear := fmt.Sprintf("%.9f deg", math.Abs(t.planned)*180/math.Pi), fmt.Sprintf("\"%.9f mm\"", t.rear[1])
	if t.typed {
		v := t.slope[2]*180/math.Pi + either(dice, t.accuracy)
		if way = "down to the rear"; v < 0 {
			way = "up to the rear"
		}
		slope = fmt.Sprintf("%.9f deg ± %g", math.Abs(v), t.accuracy)
		rear = fmt.Sprintf("\"%.9f mm ± %.9f\"", t.rear[0]+either(dice, t.half), t.half)
	}
	put("slope = \"%s %s\"\n", slope, way)
	if t.moved || t.typed {
		put("at = [2500, 0, -80]\n[powertrain]\noutput = [1250, 0, 0]\n[powertrain.pads]\nleft_front = [0, -300, 0]\nright_front = [0, 300, 0]\nrear = [1250, 0, 0]\n")
		put("[placement]\nleft_front = 0\nright_front = 0\nrear = %s\nsetback = 0\n", rear)
	}
	for range t.shafts {
		put("[[line.rear.shaft]]\nphase = \"in phase\"\n")
	}
	if t.typed {
		return s.String()
	}
	g := &tool{truth: t, dice: dice, zero: either(dice, t.zero)}
	last := len(t.then) - 1
	for i := range t.then {
		of := "powertrain"
		switch {
		case i == last:
			of = "line.rear.pinion"
		case i > 0:
			of = fmt.Sprintf("line.rear.shaft.%d", i)
		}
		if i == last {
			g.read(&s, of, t.then[i]-t.welded, "tacked")
			g.read(&s, of, t.then[i], "welded")
		} else {
			g.read(&s, of, t.then[i], "welded")
		}
		if t.twisted {
			aside := 1000*math.Tan(t.heading[i]) + either(dice, 1) + either(dice, 1)
			side := "right"
			if aside < 0 {
				side = "left"
			}
			put("[[reading]]\nof = %q\naside = \"%.9f mm %s\"\nover = \"1000 mm\"\nafter = \"welded\"\n", of, math.Abs(aside), side)
		}
	}
	put("[tool.tape]\naccuracy = \"%g mm\"\nrepeat = \"%g mm\"\n", tapeHalf, tapeRepeat)
	for i, after := range []string{"tacked", "welded"} {
		put("[[measure]]\nof = \"diagonal\"\nwith = \"tool.tape\"\nafter = %q\nlengths = [%s]\n", after, g.tape(4000+float64(i)*t.stretch))
	}
	return s.String()
}

// What the tape is good for, mm.
const tapeHalf, tapeRepeat = 1.0, 0.7

// tape is what a tape says of a length, mm, as a list.
func (g *tool) tape(truth float64) string {
	shared, n := either(g.dice, tapeHalf), 1
	if g.repeated {
		n = 2 + g.dice.IntN(3)
	}
	out := make([]string, n)
	for i := range out {
		out[i] = fmt.Sprintf("\"%.9f mm\"", truth+shared+either(g.dice, tapeRepeat))
	}
	return strings.Join(out, ", ")
}

// tool is a gauge with the errors that it has today, degrees.
type tool struct {
	*truth
	dice *rand.Rand
	zero float64
}

// read writes the readings of one axis of that slope (rad), on one surface.
func (g *tool) read(s *strings.Builder, of string, slope float64, after string) {
	shared, n := either(g.dice, g.accuracy), 1
	if g.repeated || g.first && of == "powertrain" {
		n = 2 + g.dice.IntN(3)
	}
	end := pick(g.dice, "rear", "front")
	for range n {
		v := slope*180/math.Pi + shared
		switch {
		case g.unstated > 0:
			v += g.unstated * g.accuracy * g.dice.NormFloat64()
		case g.told:
			v += g.accuracy * g.dice.NormFloat64()
		default:
			v += either(g.dice, g.repeat)
		}
		if end == "rear" {
			v += g.zero
		} else {
			v -= g.zero
		}
		if g.step > 0 {
			v = g.step * math.Round(v/g.step)
		}
		lower := "rear"
		if v < 0 {
			lower = "front"
		}
		fmt.Fprintf(s, "[[reading]]\nof = %q\non = \"along\"\nshown = \"%.9f deg\"\nlower = %q\ngauge_end = %q\nafter = %q\n", of, math.Abs(v), lower, end, after)
		if g.moved && of != "line.rear.pinion" {
			fmt.Fprintf(s, "placed = { left_front = 0, right_front = 0, rear = %.9f, setback = 0 }\n", g.rear[0])
		}
	}
}
