package assess

import (
	"fmt"
	"math"
	"slices"

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

func (c *clash) Error() string {
	return fmt.Sprintf("%s and %s are %s", c.first, c.then, c.slip)
}

// value is reading i as a slope freed of the gauge's known zero error, or as a
// heading, with how it depends on what was read.
func (a *Assessment) value(i int) linear {
	l := newLinear(len(a.Build.Readings))
	l.c[i] = 1
	if a.Build.Readings[i].InPlan() {
		l.v = a.gauge.plan[i].V
		return l
	}
	l.v, l.zero = a.gauge.slope[i].V, 1
	if a.Build.Readings[i].GaugeEnd == project.FrontEnd {
		l.zero = -1
	}
	if a.gauge.hasB {
		l = l.minus(a.gauge.bias.times(l.zero))
	}
	return l
}

// compare says whether readings i and j can both be true, by what they do not
// share.
func (a *Assessment) compare(i, j int) (gauge.Agreement, float64) {
	d := a.value(i).minus(a.value(j))
	sum := math.Pow(d.zero*a.gauge.zero, 2)
	for k, c := range d.c {
		sum += math.Pow(c*a.gauge.own[k], 2)
	}
	return gauge.Compare(geom.Angle(d.v), geom.Angle(math.Sqrt(sum))), math.Abs(d.v)
}

// agreement says whether the readings of a set can all be true. Two of them
// contradict past what the gauge can explain. Three and more are taken at
// their scatter, unless some stand together and others apart from them, or one
// falls the other way: that is a slip and no scatter.
func (a *Assessment) agreement(set []int) *clash {
	out := &clash{}
	if len(set) < 2 {
		return out
	}
	order := slices.Clone(set)
	slices.SortStableFunc(order, func(i, j int) int { return cmpFloat(a.value(i).v, a.value(j).v) })
	groups := [][]int{{order[0]}}
	for k := 1; k < len(order); k++ {
		is, apart := a.compare(order[k], order[k-1])
		if is > out.is || (is == out.is && apart > out.apart) {
			out.is, out.apart = is, apart
			out.one, out.other = min(order[k], order[k-1]), max(order[k], order[k-1])
		}
		if is == gauge.Contradict {
			groups = append(groups, nil)
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], order[k])
	}
	low, high := a.value(order[0]).v, a.value(order[len(order)-1]).v
	together := slices.ContainsFunc(groups, func(g []int) bool { return len(g) > 1 })
	if out.is == gauge.Contradict && len(set) > 2 && !together && !(low < 0 && high > 0) {
		out.is = gauge.Agree // they scatter
	}
	if out.is == gauge.Contradict {
		a.explain(out)
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
func (a *Assessment) explain(c *clash) {
	r, s := a.Build.Readings[c.one], a.Build.Readings[c.other]
	c.first, c.then = a.asTaken(c.one), a.asTaken(c.other)
	v, w := a.value(c.one).v, a.value(c.other).v
	apart := quantity.Format(quantity.Angle, c.apart, a.Build.Units, 2)
	if r.InPlan() {
		c.slip = apart + " apart; measure again how far and to which side the rear end stands, and drop the wrong one"
		return
	}
	switch {
	case r.Lower != s.Lower && math.Abs(v+w) < c.apart/2:
		c.slip = "likely the lower end was taken the wrong way round in one of them"
	default:
		c.slip = "likely another face, one that is not square to the axis"
		if axis := a.alike(r.Of, v, w); axis != "" {
			c.slip = "likely one was taken of " + axis + ", which reads the same"
		} else if r.On == s.On {
			c.slip += ", or another axis"
		}
	}
	c.slip = apart + " apart; " + c.slip + "; drop the one that is wrong"
	if !a.Build.HangsOnPowertrain(r.Of) {
		c.slip += ", or the older one if it was turned between the two"
	}
}

// alike names another axis that was read as one of two slopes.
func (a *Assessment) alike(target string, slopes ...float64) string {
	for i, r := range a.Build.Readings {
		if r.Of == target || r.InPlan() || !a.gauge.slope[i].Known || a.gauge.slope[i].V == 0 {
			continue
		}
		for _, s := range slopes {
			u := geom.Angle(math.Sqrt2 * a.gauge.own[i])
			if s != 0 && gauge.Compare(geom.Angle(s-a.gauge.slope[i].V), u) == gauge.Agree {
				return a.named(r.Of)
			}
		}
	}
	return ""
}

// named is what a reading's target is called in a sentence, from the build
// alone: lines may not be worked out yet.
func (a *Assessment) named(target string) string {
	for _, l := range a.Build.Lines {
		name := ""
		if len(a.Build.Lines) > 1 {
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
func (a *Assessment) asTaken(i int) string {
	r, u := a.Build.Readings[i], a.Build.Units
	if r.InPlan() {
		return fmt.Sprintf("reading %d (%s over %s)", i+1, quantity.Format(quantity.Offset, r.Aside.V(), u, 1), quantity.Format(quantity.Length, r.Over.V(), u, 0))
	}
	text := fmt.Sprintf("reading %d (%s on %s", i+1, quantity.Format(quantity.Angle, r.Shown.V(), u, 2), surface(r.On))
	if r.Lower != "" {
		text += ", lower at the " + string(r.Lower)
	}
	return text + ": " + project.TypedReading{Lower: r.Lower}.Falls(a.gauge.slope[i].V, u, 2) + ")"
}

func surface(s project.Surface) string {
	if s == project.SquareFace {
		return "a square face"
	}
	return "the axis"
}

// doubt asks for a third reading where two are farther apart than they should
// be and not far enough to contradict; "" otherwise.
func (a *Assessment) doubt(set []int) string {
	if len(set) != 2 {
		return ""
	}
	c := a.agreement(set)
	if c.is != gauge.Doubtful {
		return ""
	}
	return fmt.Sprintf("The two readings are %s apart, more than the gauge easily explains; take a third, and drop the one that it does not bear out.",
		quantity.Format(quantity.Angle, c.apart, a.Build.Units, 2))
}

// scatter gives repeats that scatter more than their tool should the
// uncertainty of their scatter, wherever they count. Two readings that are only
// doubtful are taken at theirs; two that agree say nothing.
func (a *Assessment) scatter() {
	g := &a.gauge
	for _, set := range a.occasions() {
		if len(set) < 2 || (len(set) == 2 && a.agreement(set).is == gauge.Agree) {
			continue
		}
		var vs []geom.Angle
		for _, i := range set {
			vs = append(vs, geom.Angle(a.value(i).v))
		}
		s := gauge.Scatter(vs).Rad()
		for _, i := range set {
			g.u[i] = max(g.own[i], s)
		}
	}
}

// occasions are the readings of each thing that were taken together, with one
// tool; those that make no number are left out.
func (a *Assessment) occasions() [][]int {
	var out [][]int
	last := map[string]int{} // into out
	for i, r := range a.Build.Readings {
		if !a.gauge.slope[i].Known && !a.gauge.plan[i].Known {
			continue
		}
		key := r.Of
		if r.InPlan() {
			key += " in plan"
		}
		k, ok := last[key]
		if !ok || !a.sameOccasion(a.Build.Readings[out[k][0]], r) {
			last[key], out = len(out), append(out, nil)
			k = last[key]
		}
		out[k] = append(out[k], i)
	}
	return out
}
