package reading

import (
	"fmt"
	"math"
	"slices"

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
// heading, with how it depends on what was read.
func (g *Readings) value(i int) finding.Linear {
	l := finding.NewLinear(len(g.build.Readings))
	l.C[i] = 1
	if g.build.Readings[i].InPlan() {
		l.V = g.plans[i].V
		return l
	}
	l.V, l.Zero = g.Slopes[i].V, 1
	if g.build.Readings[i].GaugeEnd == project.MarkedFront {
		l.Zero = -1
	}
	if g.hasB {
		l = l.Minus(g.bias.Times(l.Zero))
	}
	return l
}

// compare says whether readings i and j can both be true, by what they do not
// share.
func (g *Readings) compare(i, j int) (gauge.Agreement, float64) {
	d := g.value(i).Minus(g.value(j))
	sum := math.Pow(d.Zero*g.sources.Zero, 2)
	for k, c := range d.C {
		sum += math.Pow(c*g.own[k], 2)
	}
	return gauge.Compare(geom.Angle(d.V), geom.Angle(math.Sqrt(sum))), math.Abs(d.V)
}

// agreement says whether the readings of a set can all be true. Two of them
// contradict past what the gauge can explain. Three and more are taken at
// their scatter, unless some stand together and others apart from them, or one
// falls the other way: that is a slip and no scatter.
func (g *Readings) agreement(set []int) *clash {
	out := &clash{}
	if len(set) < 2 {
		return out
	}
	order := slices.Clone(set)
	at := make([]float64, len(g.build.Readings)) // asked for once each: a value is as long as there are readings
	for _, i := range set {
		at[i] = g.value(i).V
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmpFloat(at[i], at[j]) })
	groups := [][]int{{order[0]}}
	for k := 1; k < len(order); k++ {
		is, apart := g.compare(order[k], order[k-1])
		if is > out.is || (is == out.is && apart > out.apart) {
			out.is, out.apart = is, apart
			out.one, out.other = min(order[k], order[k-1]), max(order[k], order[k-1])
		}
		if is == gauge.Contradict {
			groups = append(groups, nil)
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], order[k])
	}
	low, high := g.value(order[0]).V, g.value(order[len(order)-1]).V
	together := slices.ContainsFunc(groups, func(g []int) bool { return len(g) > 1 })
	if out.is == gauge.Contradict && len(set) > 2 && !together && !(low < 0 && high > 0) {
		out.is = gauge.Agree // they scatter
	}
	if out.is == gauge.Contradict {
		g.explain(out)
	}
	return out
}

func cmpFloat(x, y float64) int {
	switch {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

// explain names two readings that cannot both be true, and the likely slip.
func (g *Readings) explain(c *clash) {
	r, s := g.build.Readings[c.one], g.build.Readings[c.other]
	c.first, c.then = g.asTaken(c.one), g.asTaken(c.other)
	v, w := g.value(c.one).V, g.value(c.other).V
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
			u := geom.Angle(math.Sqrt2 * g.own[i])
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
	for _, l := range g.build.Lines {
		name := ""
		if len(g.build.Lines) > 1 {
			name = l.Name + " "
		}
		switch target {
		case l.FirstTarget():
			return "the " + name + "output"
		case l.PinionTarget():
			return "the " + name + "pinion"
		}
		for n := 1; n < l.JointCount(); n++ {
			if target == l.ShaftTarget(n) {
				return fmt.Sprintf("the %sshaft %d", name, n)
			}
		}
	}
	return "the " + target
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
func (g *Readings) doubt(set []int) string {
	if len(set) != 2 {
		return ""
	}
	c := g.agreement(set)
	if c.is != gauge.Doubtful {
		return ""
	}
	return fmt.Sprintf("The two readings are %s apart, more than the gauge easily explains; take a third, and drop the one that it does not bear out.",
		quantity.Format(quantity.Angle, c.apart, g.build.Units, 2))
}

// scatter gives repeats that scatter more than their tool should the
// uncertainty of their scatter, wherever they count. Two readings that are only
// doubtful are taken at theirs; two that agree say nothing.
func (g *Readings) scatter() {
	for _, set := range g.occasions() {
		if len(set) < 2 || (len(set) == 2 && g.agreement(set).is == gauge.Agree) {
			continue
		}
		var vs []geom.Angle
		for _, i := range set {
			vs = append(vs, geom.Angle(g.value(i).V))
		}
		s := gauge.Scatter(vs).Rad()
		for _, i := range set {
			g.sources.Readings[i] = max(g.own[i], s)
		}
	}
}

// occasions are the readings of each thing that were taken together, with one
// tool; those that make no number are left out.
func (g *Readings) occasions() [][]int {
	var out [][]int
	last := map[string]int{} // into out
	for i, r := range g.build.Readings {
		if !g.Slopes[i].Known && !g.plans[i].Known {
			continue
		}
		key := r.Of
		if r.InPlan() {
			key += " in plan"
		}
		k, ok := last[key]
		if !ok || !g.sameOccasion(g.build.Readings[out[k][0]], r) {
			last[key], out = len(out), append(out, nil)
			k = last[key]
		}
		out[k] = append(out[k], i)
	}
	return out
}
