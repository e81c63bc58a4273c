package reading

import (
	"fmt"
	"math"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// clash is how the readings of a set stand to each other: the two that are
// farthest from being both true, by index, how far apart they are and what is
// likely wrong. It is the error of a set that contradicts itself.
type clash struct {
	is          gauge.Agreement
	one, other  int
	apart       float64 // rad
	first, then string  // the two as they were taken
	slip        string
}

// Unwrap says of what kind the error is.
func (c *clash) Unwrap() error { return finding.ErrContradict }

func (c *clash) Error() string {
	return fmt.Sprintf("%s and %s are %s", c.first, c.then, c.slip)
}

// value is reading i as a slope freed of the gauge's known zero error, or as a
// heading.
func (g *Readings) value(i int) float64 {
	if g.build.Readings[i].InPlan() {
		return g.plans[i].V
	}
	return g.Slopes[i].V - float64(g.sign(i))*g.bias.V
}

// explain names two readings that cannot both be true, and the likely slip.
func (g *Readings) explain(c *clash) {
	r, s := g.build.Readings[c.one], g.build.Readings[c.other]
	c.first, c.then = g.asTaken(c.one), g.asTaken(c.other)
	v, w := g.value(c.one), g.value(c.other)
	apart := quantity.Format(quantity.Angle, c.apart, g.build.Units, 2)
	if r.InPlan() {
		c.slip = apart + " apart; measure again how far and to which side the rear end stands, and drop the wrong one"
		return
	}
	switch {
	case r.Lower != s.Lower && math.Abs(v+w) < c.apart/2:
		c.slip = "likely the lower end was taken the wrong way round in one of them"
	default:
		c.slip = "likely another face, one that is not square to the axis"
		if axis := g.alike(r.Of, v, w); axis != "" {
			c.slip = "likely one was taken of " + axis + ", which reads the same"
		} else if r.On == s.On {
			c.slip += ", or another axis"
		}
	}
	c.slip = apart + " apart; " + c.slip + "; drop the one that is wrong"
	if !g.build.HangsOnPowertrain(r.Of) {
		c.slip += ", or the older one if it was turned between the two"
	}
}

// alike names another axis that was read as one of two slopes.
func (g *Readings) alike(target string, slopes ...float64) string {
	for i, r := range g.build.Readings {
		if r.Of == target || r.InPlan() || !g.Slopes[i].Known || g.Slopes[i].V == 0 {
			continue
		}
		for _, s := range slopes {
			u := geom.Angle(math.Sqrt2 * g.own[i] / math.Sqrt(3))
			if s != 0 && gauge.Compare(geom.Angle(s-g.Slopes[i].V), u) == gauge.Agree {
				return g.named(r.Of)
			}
		}
	}
	return ""
}

// named is what a reading's target is called in a sentence, from the build
// alone: lines may not be worked out yet.
func (g *Readings) named(target string) string {
	if name, ok := g.names[target]; ok {
		return name
	}
	return "the " + target
}

// namesIn are what the axes of the lines are called, by target. Where two lines
// begin at one output, it is the first one's.
func namesIn(b *project.Build) map[string]string {
	out := map[string]string{}
	for i := range b.Lines {
		l := &b.Lines[i]
		name := ""
		if len(b.Lines) > 1 {
			name = l.Name + " "
		}
		add := func(target, what string) {
			if _, had := out[target]; !had {
				out[target] = what
			}
		}
		add(l.FirstTarget(), "the "+name+"output")
		add(l.PinionTarget(), "the "+name+"pinion")
		add(l.AxleTarget(), "the "+name+"axle, across")
		for n := 1; n < l.JointCount(); n++ {
			add(l.ShaftTarget(n), name+"shaft "+strconv.Itoa(n))
		}
	}
	return out
}

// asTaken says what a reading was in the builder's words, with its number in
// the file, from 1.
func (g *Readings) asTaken(i int) string {
	r, u := g.build.Readings[i], g.build.Units
	if r.InPlan() {
		return fmt.Sprintf("reading %d (%s over %s)", i+1, quantity.Format(quantity.Offset, r.Aside.V(), u, 1), quantity.Format(quantity.Length, r.Over.V(), u, 0))
	}
	text := fmt.Sprintf("reading %d (%s on %s", i+1, quantity.Format(quantity.Angle, r.Shown.V(), u, 2), surface(r.On))
	if r.Lower != "" {
		text += ", lower at the " + string(r.Lower)
	}
	return text + ": " + r.Lower.Falls(g.Slopes[i].V, u, 2) + ")"
}

func surface(s project.Surface) string {
	if s == project.SquareFace {
		return "a square face"
	}
	return "the axis"
}

// doubt asks for a third reading where two are farther apart than they should
// be and not far enough to contradict; "" otherwise.
func (g *Readings) doubt(o *occasion) string {
	if len(o.set) != 2 || o.clash.is != gauge.Doubtful {
		return ""
	}
	return fmt.Sprintf("The two readings are %s apart, more than the gauge easily explains; take a third, and drop the one that it does not bear out.",
		quantity.Format(quantity.Angle, o.clash.apart, g.build.Units, 2))
}
