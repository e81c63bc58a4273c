package frame

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/tape"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// finest is the smallest standard uncertainty (mm, and of a square in mm at one
// metre) that a measurement is given: nothing on a frame is known better.
const finest = 0.02

// network is the net of one occasion, fitted.
type network struct {
	build  *project.Build
	lines  []Line // of the net, in its order
	paths  []string
	index  map[string]int
	net    *tape.Net
	fit    *tape.Fit
	sigma  []float64 // of each of lines
	levels []bool    // whether a point's height was measured
	folds  func() []tape.Mirror
	*sourced
	free  bool // no point is held
	lifts bool // all heights are found from each other

	tie    tie // to the vehicle's zero, made once: it adds sources
	tieWhy string
}

// survey places the points of one occasion and looks for what does not fit.
func survey(b *project.Build, step project.After, lines []Line, e *sourced) *Survey {
	s := &Survey{After: step}
	var good []Line
	for _, l := range lines {
		if !l.Value.Known {
			s.Assumes = append(s.Assumes, l.Name+" is left out: "+l.Value.Why)
			continue
		}
		good = append(good, l)
	}
	stood := map[project.Stood]bool{}
	for _, l := range good {
		stood[l.Stood.Or()] = true
	}
	if text := supposed(b, good); text != "" {
		s.Assumes = append(s.Assumes, text)
	}
	s.Assumes = append(s.Assumes, unmeasured(b, lines)...)
	if len(stood) > 1 {
		s.Assumes = append(s.Assumes, "the frame did not change its shape between how it stood for one measurement and for another")
	}
	s.solve(b, good, e)
	return s
}

func (s *Survey) solve(b *project.Build, lines []Line, e *sourced) {
	n, assumes, err := fitted(b, lines, e)
	s.Assumes = append(s.Assumes, assumes...)
	if err != nil {
		s.Why = err.Error()
		return
	}
	s.Watched = n.fit.Iterations
	out := map[int]bool{}
	n.tell("looking for slips", 0, 0)
	for range 3 { // one slip after another
		suspects := n.suspects(b)
		for _, p := range suspects {
			s.Suspects = append(s.Suspects, p.Suspect)
		}
		if len(suspects) == 0 || !suspects[0].Out {
			s.Fits = len(suspects) == 0
			break
		}
		out[suspects[0].Line.Index] = true
		n = suspects[0].without
		s.Fits = true
	}
	s.net = n
	s.DoF = n.fit.DoF
	s.Scatter, _ = n.fit.UnitSigma()
	for _, l := range lines {
		t := Taken{Line: l, Out: out[l.Index]}
		if k := slices.IndexFunc(n.lines, func(m Line) bool { return m.Index == l.Index }); k >= 0 {
			t.Residual = n.fit.Each[k]
		}
		s.Lines = append(s.Lines, t)
	}
	s.Mirrors = n.mirrors()
	s.points, s.next = sync.OnceValue(n.points), sync.OnceValue(n.next)
	s.plan = s.planned()
}

// fitted makes the net of the lines and fits it. The error is a sentence.
func fitted(b *project.Build, lines []Line, e *sourced) (*network, []string, error) {
	n, assumes, err := fittedFrom(b, lines, e, nil)
	if err == nil {
		n = n.uncrossed()
		n.folds = sync.OnceValue(n.findFolds)
	}
	return n, assumes, err
}

// fittedFrom is fitted from where the points are thought to lie, by path; from nil it
// finds that from the measurements.
func fittedFrom(b *project.Build, lines []Line, e *sourced, start map[string]r3.Vec) (*network, []string, error) {
	n := &network{build: b, sourced: e, lines: lines, index: map[string]int{}, net: &tape.Net{}}
	assumes, err := n.addPoints()
	if err != nil {
		return nil, assumes, err
	}
	n.addLines()
	if start != nil {
		for i, p := range n.paths {
			n.net.Put(i, start[p])
		}
	} else if err := n.layout(); err != nil {
		var lost *tape.LostError
		if errors.As(err, &lost) {
			return nil, assumes, fmt.Errorf("no distance leads to %s from the others: measure one from each to two points that are placed", listed(lost.Points))
		}
		return nil, assumes, err
	}
	if n.free {
		n.upright()
		if err := n.net.HoldFree([3]bool{true, true, n.lifts}, [3]bool{false, false, true}); err != nil {
			return nil, assumes, err
		}
	}
	p := n.net.Problem()
	p.Watch = func(steps int, _ float64) { n.tell("fitting the measurements", steps, 0) }
	n.fit, err = tape.Solve(n.context(), p)
	if err != nil {
		return nil, assumes, n.explain(err)
	}
	err = n.vague()
	return n, assumes, err
}

// layout finds where the points are, about.
func (n *network) layout() error {
	n.tell("finding where the points are", 0, 0)
	return n.net.Layout()
}

// vague is an error when the measurements fix a point so loosely that its place
// means nothing, as those on nearly one line do beside that line.
func (n *network) vague() error {
	const times = 100 // as uncertain as one of the measurements
	most := 0.0
	for _, l := range n.lines {
		if l.As != project.SquareLine {
			most = max(most, sigma(l))
		}
	}
	var names []string
	for i, p := range n.paths {
		for k := range 3 {
			if u := n.net.Unknown(i, k); u >= 0 && n.fit.Sigma(u) > times*most && !slices.Contains(names, spoken(p)) {
				names = append(names, spoken(p))
			}
		}
	}
	if len(names) == 0 {
		return nil
	}
	return fmt.Errorf("the measurements hardly fix %s, for the points lie nearly on one line: measure how far one of them lies beside a string, or to a point well off that line", listed(names))
}

// explain says why there is no answer, and what would help most.
func (n *network) explain(err error) error {
	var loose *tape.LooseError
	if !errors.As(err, &loose) {
		return err
	}
	var names []string
	for i, p := range n.paths {
		for k := range 3 {
			if u := n.net.Unknown(i, k); u >= 0 && slices.Contains(loose.Unknowns, u) && !slices.Contains(names, spoken(p)) {
				names = append(names, spoken(p))
			}
		}
	}
	what := "the measurements do not fix " + listed(names)
	if n.free && len(names) == len(n.paths) {
		what = "the measurements do not fix the shape: parts of it can move against each other"
	}
	x := n.net.Problem().Start
	further := n.net.Furthers(x, n.sigmas())
	k := loose.Ties(further, x)
	if k < 0 {
		return errors.New(what + ", and no further distance between these points would: they lie on one line; add a point off it")
	}
	return fmt.Errorf("%s: measure %s next", what, n.say(further[k]))
}

// sigmas are what a further measurement would be good for: as the median of those
// there are.
func (n *network) sigmas() tape.Sigmas {
	var of [3][]float64
	for _, l := range n.lines {
		k, ok := map[project.SurveyLine]int{project.DistanceLine: 0, project.HeightLine: 1, project.OffsetLine: 2}[l.As]
		if ok {
			of[k] = append(of[k], sigma(l))
		}
	}
	middle := func(v []float64) float64 {
		if len(v) == 0 {
			return 0
		}
		slices.Sort(v)
		return v[len(v)/2]
	}
	s := tape.Sigmas{Distance: middle(of[0]), Rise: middle(of[1]), Offset: middle(of[2])}
	if s.Distance == 0 {
		s.Distance = 1
	}
	if s.Offset == 0 {
		s.Offset = s.Distance
	}
	return s
}

func sigma(l Line) float64 {
	least := finest
	if l.As == project.SquareLine {
		least /= 1000
	}
	return max(l.Value.U(), least)
}

// addPoints puts the points of the survey and of its lines into the net.
func (n *network) addPoints() (assumes []string, err error) {
	b := n.build
	add := func(paths ...string) {
		for _, p := range paths {
			if p != "" && !slices.Contains(n.paths, p) {
				n.paths = append(n.paths, p)
			}
		}
	}
	for _, l := range n.lines {
		add(l.From, l.To, l.At)
	}
	held := map[string]bool{}
	if b.Survey.Datum == project.PointsDatum {
		for _, p := range b.Survey.Points {
			add(p)
			held[p] = true
		}
	}
	n.free = len(held) == 0
	levelled := n.levelled(held)
	var flat []string
	anyLevel := len(levelled) > 0
	n.lifts = n.free && len(levelled) == len(n.paths)
	if n.free && !n.lifts && anyLevel { // the first height is as good as any
		levelled[n.paths[slices.IndexFunc(n.paths, func(p string) bool { return levelled[p] })]] = false
	}
	for i, p := range n.paths {
		n.index[p] = i
		at, _ := b.PointNamed(p)
		point := tape.Point{Name: spoken(p), At: at.At, Guess: !at.Known, Free: [3]bool{true, true, levelled[p]}}
		if held[p] {
			if !at.Known {
				return assumes, fmt.Errorf("%s is to hold the survey, but %s", p, at.Why)
			}
			point.Free = [3]bool{}
		}
		if n.free { // all places are found anew, and turned to the datum afterwards
			point.Guess, point.At = true, r3.Vec{Z: at.At.Z}
		}
		_, measured := levelled[p]
		n.levels = append(n.levels, measured || at.Known)
		if !measured && !at.Known && anyLevel {
			flat = append(flat, spoken(p))
		}
		n.net.Add(point)
	}
	switch {
	case !anyLevel && !slices.Contains(n.levels, true):
		assumes = append(assumes, "all points lie at one height: none was measured")
		n.levels = make([]bool, len(n.paths))
	case len(flat) > 0:
		assumes = append(assumes, listed(flat)+" at height 0: none was measured")
	}
	return assumes, nil
}

// levelled are the points whose heights are to be found: those that heights lead
// to.
func (n *network) levelled(held map[string]bool) map[string]bool {
	out := map[string]bool{}
	for _, l := range n.lines {
		if l.As == project.HeightLine {
			for _, p := range []string{l.From, l.To} {
				if !held[p] {
					out[p] = true
				}
			}
		}
	}
	return out
}

func (n *network) addLines() {
	for _, l := range n.lines {
		a, b, s := n.index[l.From], n.index[l.To], sigma(l)
		n.sigma = append(n.sigma, s)
		switch l.As {
		case project.HeightLine:
			n.net.Rise(l.Name, a, b, l.Value.V, s)
		case project.OffsetLine: // to the right of the string, so to the left of it run back
			n.net.Offset(l.Name, n.index[l.At], b, a, l.Value.V, s)
		case project.SquareLine:
			n.net.Angle(l.Name, n.index[l.At], a, b, l.Value.V, s)
		default:
			n.net.Distance(l.Name, a, b, l.Value.V, s)
		}
	}
}

// upright turns the places found from distances over where left and right have
// come out the wrong way round, and lays the centre line along X.
func (n *network) upright() {
	x := n.net.Problem().Start
	at := func(path string) (r3.Vec, bool) {
		i, ok := n.index[path]
		if !ok {
			return r3.Vec{}, false
		}
		return n.net.Where(i, x), true
	}
	s := n.build.Survey
	front, rear, side, ok := frontRear(s, at)
	if !ok {
		return
	}
	along := r3.Unit(level(r3.Sub(rear, front)))
	right := r3.Vec{X: -along.Y, Y: along.X} // where +Y goes when +X is along
	if r3.Dot(right, side) < 0 {
		right = r3.Scale(-1, right)
	}
	n.net.Turn(func(p r3.Vec) r3.Vec {
		d := r3.Sub(p, front)
		return r3.Vec{X: r3.Dot(d, along), Y: r3.Dot(d, right), Z: p.Z}
	})
}

func level(p r3.Vec) r3.Vec { return r3.Vec{X: p.X, Y: p.Y} }

// frontRear returns two places on the centre line, front and rear, and a direction
// to the right: by the axles, or else by the rails' first and last pairs.
func frontRear(s project.Survey, at func(path string) (r3.Vec, bool)) (front, rear, side r3.Vec, ok bool) {
	middle := func(l, r string) (m, side r3.Vec, ok bool) {
		a, okA := at(l)
		b, okB := at(r)
		return level(r3.Scale(0.5, r3.Add(a, b))), level(r3.Sub(b, a)), okA && okB
	}
	if len(s.FrontAxle) == 2 && len(s.RearAxle) == 2 {
		f, side, okF := middle(s.FrontAxle[0], s.FrontAxle[1])
		r, _, okR := middle(s.RearAxle[0], s.RearAxle[1])
		if okF && okR {
			return f, r, side, f != r
		}
	}
	if k := len(s.Left) - 1; k >= 1 && len(s.Right) == len(s.Left) {
		f, side, okF := middle(s.Left[0], s.Right[0])
		r, _, okR := middle(s.Left[k], s.Right[k])
		return f, r, side, okF && okR && f != r
	}
	return r3.Vec{}, r3.Vec{}, r3.Vec{}, false
}

// number is a function of the places as a number: how it depends on each
// measurement follows from the fit, and what those share it carries on. of are the
// points it rests on.
//
// What the datum's own points may be off by is in it too.
func (n *network) number(of []string, f func(at func(path string) r3.Vec) float64) finding.Number {
	if n.ended() {
		return finding.Missing(Stopped)
	}
	x := slices.Clone(n.fit.X)
	for _, p := range of {
		if _, ok := n.index[p]; !ok {
			return finding.Missing("nothing is measured to " + spoken(p))
		}
	}
	value := func() float64 {
		return f(func(path string) r3.Vec { return n.net.Where(n.index[path], x) })
	}
	v := value()
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return finding.Missing("two points lie in one place")
	}
	const h = 1e-3 // mm
	partials := map[int]float64{}
	for _, p := range of {
		for k := range 3 {
			u := n.net.Unknown(n.index[p], k)
			if _, done := partials[u]; u < 0 || done {
				continue
			}
			was := x[u]
			x[u] = was + h
			up := value()
			x[u] = was - h
			partials[u] = (up - value()) / (2 * h)
			x[u] = was
		}
	}
	gains := n.fit.Gains(partials)
	parts := make([]uncertain.Weighted, 0, len(gains))
	least := n.negligible(gains)
	for i, g := range gains {
		if math.Abs(g)*n.sigma[i] > least {
			parts = append(parts, uncertain.Weighted{K: g, N: n.lines[i].Value.Number})
		}
	}
	return finding.Of(uncertain.Smooth(v, append(parts, n.byDatum(f, gains)...)...))
}

// negligible is what a measurement does to a number that nobody would miss: all of a
// large survey together less than a hundred-thousandth of its ±. So a number of one end
// of a long frame does not drag all tapes of the other end along.
func (n *network) negligible(gains []float64) float64 {
	most := 0.0
	for i, g := range gains {
		most = max(most, math.Abs(g)*n.sigma[i])
	}
	return most * 1e-5 / math.Sqrt(float64(max(len(gains), 1)))
}

// points are the places in the survey's datum.
func (n *network) points() []Point {
	out := make([]Point, len(n.paths))
	a := n.axes()
	for i, path := range n.paths {
		n.tell("working out the places of the points", i, len(n.paths))
		p := Point{Path: path, Name: spoken(path), Levels: n.levels[i]}
		of := append(slices.Clone(a.of), path)
		for k := range 3 {
			p.Place[k] = n.number(of, func(at func(string) r3.Vec) float64 {
				q := a.place(at, at(path))
				return [3]float64{q.X, q.Y, q.Z}[k]
			})
		}
		if !n.levels[i] {
			p.Place[2] = finding.Missing("its height was not measured")
		}
		if u, v := n.net.Unknown(i, 0), n.net.Unknown(i, 1); u >= 0 && v >= 0 {
			p.Ellipse = ellipse(p.Place[0], p.Place[1])
		}
		out[i] = p
	}
	return out
}

// ellipse is the standard error ellipse of two numbers.
func ellipse(x, y finding.Number) tape.Ellipse {
	if !x.Known || !y.Known {
		return tape.Ellipse{}
	}
	a, b := x.U()*x.U(), y.U()*y.U()
	sum := x.Number.Plus(y.Number).U()
	return tape.EllipseFrom(a, b, (sum*sum-a-b)/2)
}

// axes turn places into the survey's datum.
type axes struct {
	of    []string // the points it goes by
	place func(at func(string) r3.Vec, p r3.Vec) r3.Vec
}

func (n *network) axes() axes {
	s := n.build.Survey
	same := axes{place: func(_ func(string) r3.Vec, p r3.Vec) r3.Vec { return p }}
	if !n.free || s.Datum == project.FreeDatum {
		return same
	}
	has := func(at func(string) r3.Vec) func(string) (r3.Vec, bool) {
		return func(p string) (r3.Vec, bool) {
			if _, ok := n.index[p]; !ok {
				return r3.Vec{}, false
			}
			return at(p), true
		}
	}
	x := n.fit.X
	here := func(p string) r3.Vec { return n.net.Where(n.index[p], x) }
	if _, _, _, ok := frontRear(s, has(here)); !ok {
		return same
	}
	of, _, _ := n.lineOf()
	rails := s.Datum == project.RailsDatum && len(s.Left) > 1 && n.has(s.Left) && n.has(s.Right)
	if k := len(s.Left) - 1; rails {
		of = append(slices.Clone(of), s.Left[0], s.Right[0], s.Left[k], s.Right[k])
	}
	return axes{of, func(at func(string) r3.Vec, p r3.Vec) r3.Vec {
		front, rear, _, _ := frontRear(s, has(at))
		along := r3.Unit(r3.Sub(rear, front))
		if k := len(s.Left) - 1; rails {
			l := r3.Unit(level(r3.Sub(at(s.Left[k]), at(s.Left[0]))))
			r := r3.Unit(level(r3.Sub(at(s.Right[k]), at(s.Right[0]))))
			along = r3.Unit(r3.Add(l, r))
		}
		d := r3.Sub(p, front)
		return r3.Vec{X: r3.Dot(d, along), Y: along.X*d.Y - along.Y*d.X, Z: p.Z}
	}}
}

func spoken(path string) string {
	return strings.ReplaceAll(strings.TrimPrefix(path, "point."), "_", " ")
}

// listed are names as a sentence has them.
func listed(names []string) string {
	switch n := len(names); {
	case n == 0:
		return "nothing"
	case n == 1:
		return names[0]
	case n > 6:
		return fmt.Sprintf("%s and %d more", strings.Join(names[:5], ", "), n-5)
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}
