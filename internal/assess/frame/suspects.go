package frame

import (
	"cmp"
	"math"
	"slices"

	"fitup/internal/abreast"
	"fitup/internal/assess/finding"
	"fitup/internal/geom/tape"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// suspected is a suspect with the net that is left without it.
type suspected struct {
	Suspect
	without *network
}

// suspects are the lines that one slip would explain, the likeliest first. The
// first is marked to be left out when it alone explains the misfit: no other looks
// like it, and without it the rest fits.
func (n *network) suspects(b *project.Build) []suspected {
	if s, ok := n.onlyImpossible(b); ok {
		return []suspected{s}
	}
	var found []tape.Suspect
	var err error
	var guess *network // without the one that is the furthest off, which is nearly always one of them
	at := n.furthest()
	abreast.Do(func() { found, err = tape.Suspects(n.context(), n.net.Problem(), n.fit) }, func() {
		if at >= 0 {
			guess, _ = n.leaving(b, at)
		}
	})
	if err != nil || len(found) == 0 {
		return nil
	}
	alike := map[int][]int{}
	var tried []int
	for _, f := range found {
		tried = append(tried, f.Observation)
		alike[f.Observation] = f.Alike
	}
	for _, i := range mostImpossible(n.lines) { // so far off that the places themselves are wrong
		if !slices.Contains(tried, i) {
			tried = append(tried, i)
		}
	}
	var out []suspected
	for k, i := range tried {
		n.tell("trying without each measurement that does not fit", k, len(tried))
		l := n.lines[i]
		less, err := guess, error(nil)
		if i != at || less == nil {
			less, err = n.leaving(b, i)
		}
		if err != nil {
			continue // without it nothing is placed: it cannot be told wrong
		}
		s := suspected{Suspect: Suspect{Line: l, Off: l.Value.V - less.expected(l)}, without: less}
		s.Likely, s.Meant = less.likely(l)
		s.W = math.Copysign(math.Sqrt(max(n.fit.SumSquare-less.fit.SumSquare, 0)), s.Off)
		for _, j := range alike[i] {
			s.Alike = append(s.Alike, n.lines[j].Name)
		}
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b suspected) int {
		return cmp.Compare(a.without.fit.SumSquare, b.without.fit.SumSquare)
	})
	return n.ranked(out)
}

// furthest is the line with the largest misfit, -1 where none is larger than chance explains.
func (n *network) furthest() int {
	at, most := -1, tape.Critical
	for i, e := range n.fit.Each {
		if w := math.Abs(e.W); w > most {
			at, most = i, w
		}
	}
	return at
}

// leaving is the net without line i, fitted.
func (n *network) leaving(b *project.Build, i int) (*network, error) {
	less, _, err := fitted(b, slices.Delete(slices.Clone(n.lines), i, i+1), n.sourced)
	return less, err
}

// onlyImpossible is the one line that stands in every triangle that cannot be, where there
// are several: no slip in another line alone explains them, though by the residuals it may
// look as well.
func (n *network) onlyImpossible(b *project.Build) (suspected, bool) {
	if worst(n.fit) <= tape.Critical {
		return suspected{}, false
	}
	all := impossible(n.lines, tape.Critical)
	if len(all) < 2 {
		return suspected{}, false
	}
	only := inAll(all)
	if len(only) != 1 {
		return suspected{}, false
	}
	l := n.lines[only[0]]
	less, err := n.leaving(b, only[0])
	if err != nil || worst(less.fit) >= worst(n.fit) {
		return suspected{}, false
	}
	return suspected{less.leftOut(l), less}, true
}

// leftOut is a line that is left out of the net, with how far it is from what that says.
func (n *network) leftOut(l Line) Suspect {
	open := n.number([]string{l.From, l.To}, func(at func(string) r3.Vec) float64 { return measures(l, at) })
	off := l.Value.V - n.expected(l)
	s := Suspect{Line: l, Off: off, W: off / math.Hypot(sigma(l), open.U()), Out: true, Without: n.answers()}
	s.Likely, s.Meant = n.likely(l)
	return s
}

// ranked keeps those that explain the misfit nearly as well as the first, and
// leaves that one out where it does so alone.
func (n *network) ranked(all []suspected) []suspected {
	if len(all) == 0 {
		return nil
	}
	least := all[0].without.fit.SumSquare
	best := n.fit.SumSquare - least
	all = slices.DeleteFunc(all, func(s suspected) bool {
		return s.without.fit.SumSquare-least >= apart && n.fit.SumSquare-s.without.fit.SumSquare < 0.81*best
	})
	first := &all[0]
	first.Without = first.without.answers()
	rivals := len(all) > 1 && all[1].without.fit.SumSquare-least < apart
	if len(first.Alike) == 0 && !rivals && worst(first.without.fit) < worst(n.fit) {
		first.Out = true
		return all[:1]
	}
	for i := range all {
		all[i].Without = all[i].without.answers()
	}
	return all
}

// expected is what a line that is not in the net would measure.
func (n *network) expected(l Line) float64 {
	at := func(path string) r3.Vec {
		i, ok := n.index[path]
		if !ok {
			return r3.Vec{X: math.NaN()}
		}
		return n.net.Where(i, n.fit.X)
	}
	return measures(l, at)
}

// measures is what a line measures between places.
func measures(l Line, at func(path string) r3.Vec) float64 {
	a, b := at(l.From), at(l.To)
	switch l.As {
	case project.HeightLine:
		return b.Z - a.Z
	case project.OffsetLine:
		return -beside(at(l.At), level(a), r3.Unit(level(r3.Sub(b, a))))
	case project.SquareLine:
		u, v := r3.Sub(a, at(l.At)), r3.Sub(b, at(l.At))
		return math.Atan2(r3.Norm(r3.Cross(u, v)), r3.Dot(u, v))
	}
	return r3.Norm(r3.Sub(b, a))
}

// apart is by how much the sum of squares must be larger without another line for
// that other to be cleared: about 30 to 1 by their likelihoods.
const apart = 6.8

func worst(f *tape.Fit) float64 {
	most := 0.0
	for _, e := range f.Each {
		most = max(most, math.Abs(e.W))
	}
	return most
}

// answers are what the net comes to in a few numbers.
func (n *network) answers() Answers {
	if len(n.build.Survey.Left) < 2 {
		return Answers{}
	}
	a := Answers{Square: n.square(), Diagonals: n.diagonals().Difference}
	a.Known = a.Square.Known && n.crossed(n.here) == 0
	return a
}

// further is a measurement that could be taken: as a sentence has it, and between
// which points.
type further struct {
	text   string
	points []string
}

// next is the measurement that would help most.
func (n *network) next() further {
	all := n.fewer(n.net.Furthers(n.fit.X, n.sigmas()))
	k := n.fit.Best(all)
	if k < 0 {
		return further{}
	}
	out := further{text: n.say(all[k])}
	for _, p := range all[k].Points {
		out.points = append(out.points, n.paths[p])
	}
	return out
}

// maxFurther is how many further measurements are tried.
const maxFurther = 1000

// fewer are those of many further measurements that have to do with where a slip
// hides best.
func (n *network) fewer(all []tape.Further) []tape.Further {
	if len(all) <= maxFurther {
		return all
	}
	worst := 0
	for i, e := range n.fit.Each {
		if e.Detectable > n.fit.Each[worst].Detectable {
			worst = i
		}
	}
	_, ends := n.net.Between(worst)
	var out []tape.Further
	for _, f := range all {
		if slices.ContainsFunc(f.Points, func(p int) bool { return slices.Contains(ends, p) }) {
			out = append(out, f)
		}
	}
	step := 1 + len(out)/maxFurther
	few := out[:0]
	for i := 0; i < len(out); i += step {
		few = append(few, out[i])
	}
	return few
}

// say is a further measurement as a sentence has it.
func (n *network) say(f tape.Further) string {
	name := func(i int) string { return finding.SpokenPoint(n.paths[f.Points[i]]) }
	again := ""
	if f.Again >= 0 {
		again = " once more, from the start"
	}
	switch f.Kind {
	case tape.Rise:
		return "the height of " + name(1) + " over " + name(0) + again
	case tape.Offset:
		return "how far " + name(0) + " lies beside a string from " + name(1) + " to " + name(2) + again
	case tape.Angle:
		return "the square at " + name(0) + again
	}
	return "the distance from " + name(0) + " to " + name(1) + again
}

// likely is what was likely done wrong with a line that the net is without, a sentence;
// "" for nothing that is known.
func (n *network) likely(l Line) (says string, numbers []float64) {
	for _, p := range []string{l.From, l.To, l.At} {
		if _, ok := n.index[p]; !ok && p != "" {
			return "", nil
		}
	}
	// A length that is many times too long has the ± of that length: not the one tried.
	sure, most := sigma(l), 0.0
	for i, m := range n.lines {
		if m.As == l.As {
			most = max(most, n.sigma[i])
		}
	}
	if most > 0 {
		sure = min(sure, most)
	}
	would := n.fit.Would(n.net.Observing(func(with *tape.Net) { n.take(with, l, sure) }))
	is := finding.Misread{Kind: quantity.Length, Value: l.Value.V, Fits: func(v float64) (float64, bool) {
		w, sum := would(v)
		return w, n.fit.AgreesWith(sum, globalAlarm)
	}}
	switch l.As {
	case project.SquareLine:
		is.Kind = quantity.Angle
	case project.HeightLine:
		is.Other = "over and under were taken for each other"
	case project.OffsetLine:
		is.Other = "left and right were taken for each other"
	}
	is.Said = func(v float64) {
		if !slices.Contains(numbers, v) {
			numbers = append(numbers, v)
		}
	}
	says = is.Likely(n.build.Units)
	return says, numbers
}

// text is a length or an angle with its sign, as the file's units have it.
func text(b *project.Build, k quantity.Kind, v float64) string {
	digits := 1
	switch {
	case k == quantity.Angle:
		digits = 2
	case quantity.UnitName(k, b.Units) == "in":
		digits = 2 // 0.1 in is more than a frame may be off by
	}
	return quantity.Format(k, v, b.Units, digits)
}
