package frame

import (
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// frameOf is what a survey says of rails and axles.
func frameOf(b *project.Build, s *Survey) Frame {
	if s.net == nil {
		return unknown(b, s.Why)
	}
	if why := s.unfit(); why != "" {
		return unknown(b, why)
	}
	if why := s.net.foldable(); why != "" {
		return unknown(b, why)
	}
	return s.net.frame()
}

// unknown is a frame of which nothing can be said, and why.
func unknown(b *project.Build, why string) Frame {
	miss := finding.Missing(why)
	f := Frame{Why: why, Square: miss, Alone: miss, Skew: miss, Swing: miss, Twist: miss, Between: miss, Wheelbase: [2]finding.Number{miss, miss}}
	f.Diagonals.Difference, f.Diagonals.OfSides = miss, miss
	for i := range b.Survey.Left {
		p := Pair{Left: b.Survey.Left[i], Width: miss, Offset: miss, Ahead: miss, Lower: miss, Wanted: wanted(b, i)}
		p.Between = i > 0 && i < len(b.Survey.Left)-1
		p.Levels = levelRead(b, p.Left) || i < len(b.Survey.Right) && levelRead(b, b.Survey.Right[i])
		p.OnLine = (i == 0 || i == len(b.Survey.Left)-1) && len(axlesOf(b.Survey)) < 2
		if i < len(b.Survey.Right) {
			p.Right = b.Survey.Right[i]
		}
		f.Pairs = append(f.Pairs, p)
	}
	axles := axlesOf(b.Survey)
	for _, a := range axles {
		f.Axles = append(f.Axles, Axle{Name: a.name, OnLine: len(axles) == 2, Turn: miss, Offset: miss, Rims: len(a.rims) == 4, Toe: [2]finding.Number{miss, miss}, ToeIn: miss, Thrust: miss})
	}
	return f
}

// levelRead reports whether the file has a height of a point.
func levelRead(b *project.Build, path string) bool {
	if at, ok := b.PointNamed(path); ok && at.Known {
		return true
	}
	return slices.ContainsFunc(b.Measurements, func(m project.Measurement) bool {
		return m.As == project.HeightLine && (m.From == path || m.To == path)
	})
}

func wanted(b *project.Build, pair int) finding.Number {
	if pair < len(b.Survey.Widths) {
		return finding.Given(b.Survey.Widths[pair].Get())
	}
	return finding.Missing("survey.widths is not in the file yet")
}

type axlePoints struct {
	name  string
	of    []string
	other []string
	rims  []string // left wheel front and rear, right wheel front and rear; empty when not surveyed
}

func axlesOf(s project.Survey) []axlePoints {
	var out []axlePoints
	if len(s.FrontAxle) == 2 {
		out = append(out, axlePoints{"front", s.FrontAxle, s.RearAxle, nil})
	}
	if len(s.RearAxle) == 2 {
		out = append(out, axlePoints{"rear", s.RearAxle, s.FrontAxle, s.RearRims})
	}
	return out
}

// frame works out all of it.
func (n *network) frame() Frame {
	s := n.build.Survey
	f := unknown(n.build, "")
	if len(s.Left) < 2 {
		f = unknown(n.build, "survey.left and survey.right are not in the file yet, with two points of each rail at least")
	} else {
		n.rails(&f)
	}
	n.axles(&f)
	return f
}

// lineOf are the points that the centre line goes by, and the line: a place on it
// and its direction to the rear. By the axles where both are there, or else by the
// rails' first and last pairs.
func (n *network) lineOf() (of []string, line func(at func(string) r3.Vec) (on, along r3.Vec), ok bool) {
	s := n.build.Survey
	if n.byAxles() {
		of = slices.Concat(s.FrontAxle, s.RearAxle)
	} else if k := len(s.Left) - 1; k >= 1 && len(s.Right) > k {
		of = []string{s.Left[0], s.Right[0], s.Left[k], s.Right[k]}
	} else {
		return nil, nil, false
	}
	return of, func(at func(string) r3.Vec) (on, along r3.Vec) {
		f := level(r3.Scale(0.5, r3.Add(at(of[0]), at(of[1]))))
		r := level(r3.Scale(0.5, r3.Add(at(of[2]), at(of[3]))))
		return f, r3.Unit(r3.Sub(r, f))
	}, n.has(of)
}

// byAxles reports whether the centre line goes by the axles.
func (n *network) byAxles() bool {
	s := n.build.Survey
	return len(s.FrontAxle) == 2 && len(s.RearAxle) == 2 && n.has(s.FrontAxle) && n.has(s.RearAxle)
}

func (n *network) has(paths []string) bool {
	for _, p := range paths {
		if _, ok := n.index[p]; !ok {
			return false
		}
	}
	return true
}

// beside is how far p is to the right of the line, and behind how far to the rear.
func beside(p, on, along r3.Vec) float64 {
	d := r3.Sub(p, on)
	return along.X*d.Y - along.Y*d.X
}

func behind(p, on, along r3.Vec) float64 { return r3.Dot(level(r3.Sub(p, on)), along) }

// rails fills in what is said of the rails.
func (n *network) rails(f *Frame) {
	s := n.build.Survey
	k := len(s.Left) - 1
	l1, r1, l2, r2 := s.Left[0], s.Right[0], s.Left[k], s.Right[k]
	corners := []string{l1, r1, l2, r2}
	f.Diagonals = n.diagonals()
	d := &f.Diagonals
	alone, railed := slices.Concat(s.Left, s.Right), n.railed()
	f.Square = n.square()
	f.Alone = n.number(alone, func(at func(string) r3.Vec) float64 { return n.stagger(at, n.alongRails(at)) })
	skew := func(at func(string) r3.Vec, along r3.Vec) (angle, long float64) {
		w := 0.0
		for i := range s.Left {
			w += math.Abs(beside(at(s.Right[i]), at(s.Left[i]), along)) / float64(len(s.Left))
		}
		return math.Atan2(n.stagger(at, along), w), math.Abs(behind(at(l2), at(l1), along))
	}
	f.Skew = n.number(railed, func(at func(string) r3.Vec) float64 { a, _ := skew(at, n.along(at)); return a })
	f.Swing = n.number(railed, func(at func(string) r3.Vec) float64 {
		a, long := skew(at, n.along(at))
		return long * math.Tan(a)
	})
	// What equal cross lines at right angles to the rails would still leave between
	// the diagonals: the sides' part. A skew e of sides a and b leaves about
	// 2ab·sin e/D (difference of the two squares over their sum).
	d.OfSides = n.number(alone, func(at func(string) r3.Vec) float64 {
		one, other := r3.Norm(r3.Sub(at(l1), at(r2))), r3.Norm(r3.Sub(at(r1), at(l2)))
		e, long := skew(at, n.alongRails(at))
		w := (r3.Norm(r3.Sub(at(l1), at(r1))) + r3.Norm(r3.Sub(at(l2), at(r2)))) / 2
		return one - other - 4*long*w*math.Sin(e)/(one+other)
	})
	n.pairs(f)
	n.lower(f)
	f.Left, f.Right = n.rail(s.Left), n.rail(s.Right)
	f.Twist = finding.Missing("no heights of the rails' four corners are measured: add [[measure]] with as = \"height\"")
	if n.levelledAll(corners) {
		f.Twist = n.number(corners, func(at func(string) r3.Vec) float64 {
			return at(r1).Z - at(l1).Z - at(r2).Z + at(l2).Z
		})
	}
}

// railed are the points that squareness rests on.
func (n *network) railed() []string {
	s := n.build.Survey
	out := slices.Concat(s.Left, s.Right)
	if n.byAxles() {
		out = slices.Concat(out, s.FrontAxle, s.RearAxle)
	}
	return out
}

// square is how far the right rail stands behind the left one.
func (n *network) square() finding.Number {
	return n.number(n.railed(), func(at func(string) r3.Vec) float64 { return n.stagger(at, n.along(at)) })
}

// diagonals are those of the rails' four corners, and its sides.
func (n *network) diagonals() Diagonals {
	s := n.build.Survey
	k := len(s.Left) - 1
	l1, r1, l2, r2 := s.Left[0], s.Right[0], s.Left[k], s.Right[k]
	apart := func(a, b string) finding.Number {
		return n.number([]string{a, b}, func(at func(string) r3.Vec) float64 { return r3.Norm(r3.Sub(at(a), at(b))) })
	}
	d := Diagonals{
		LeftFront: apart(l1, r2), RightFront: apart(r1, l2),
		Left: apart(l1, l2), Right: apart(r1, r2), Front: apart(l1, r1), Rear: apart(l2, r2),
	}
	d.Difference = d.LeftFront.LessOf(d.RightFront)
	return d
}

func (n *network) levelledAll(paths []string) bool {
	for _, p := range paths {
		if i, ok := n.index[p]; !ok || !n.levels[i] {
			return false
		}
	}
	return true
}

// along is the direction that the rails are held against, to the rear: from axle to
// axle where both are in the survey, or else their own.
func (n *network) along(at func(string) r3.Vec) r3.Vec {
	if _, line, ok := n.lineOf(); ok && n.byAxles() {
		_, along := line(at)
		return along
	}
	return n.alongRails(at)
}

// alongRails is the mean direction of the two rails, to the rear. Axles that stand
// askew under them do not come into it.
func (n *network) alongRails(at func(string) r3.Vec) r3.Vec {
	s := n.build.Survey
	k := len(s.Left) - 1
	l := r3.Unit(level(r3.Sub(at(s.Left[k]), at(s.Left[0]))))
	r := r3.Unit(level(r3.Sub(at(s.Right[k]), at(s.Right[0]))))
	return r3.Unit(r3.Add(l, r))
}

// stagger is how far the right rail's points stand behind those of the left one,
// in the mean, along a direction.
func (n *network) stagger(at func(string) r3.Vec, along r3.Vec) float64 {
	s := n.build.Survey
	sum := 0.0
	for i := range s.Left {
		sum += behind(at(s.Right[i]), at(s.Left[i]), along) / float64(len(s.Left))
	}
	return sum
}

func (n *network) pairs(f *Frame) {
	s := n.build.Survey
	of, line, ok := n.lineOf()
	ends := of // what the direction of the rails goes by
	if !ok {
		k := len(s.Left) - 1
		ends = []string{s.Left[0], s.Right[0], s.Left[k], s.Right[k]}
	}
	n.each("judging the rails", len(f.Pairs), func(i int) {
		l, r := s.Left[i], s.Right[i]
		p := &f.Pairs[i]
		p.Width = n.number([]string{l, r}, func(at func(string) r3.Vec) float64 { return r3.Norm(r3.Sub(at(r), at(l))) })
		p.Ahead = n.number(append(slices.Clone(ends), l, r), func(at func(string) r3.Vec) float64 {
			return behind(at(r), at(l), n.along(at))
		})
		if !ok {
			p.Offset = finding.Missing("no centre line: survey.left and survey.right, or both axles, are not in the survey")
			return
		}
		if slices.Contains(of, l) { // in the middle because that is what the line goes by
			p.OnLine = true
			p.Offset = finding.Missing("the centre line goes through the middle of this pair")
			return
		}
		p.Offset = n.number(append(slices.Clone(of), l, r), func(at func(string) r3.Vec) float64 {
			on, along := line(at)
			return beside(level(r3.Scale(0.5, r3.Add(at(l), at(r)))), on, along)
		})
	})
}

// lower says by how much more one rail hangs than the other at each pair between their
// ends: a frame may kick up by design, and does so alike on both sides.
func (n *network) lower(f *Frame) {
	s := n.build.Survey
	k := len(s.Left) - 1
	for i := range f.Pairs {
		p := &f.Pairs[i]
		p.Lower = finding.Missing("no heights are measured of both marks here and at the ends of both rails: add [[measure]] with as = \"height\"")
		if p.Between = i > 0 && i < k; !p.Between {
			continue
		}
		p.Levels = n.levelledAll([]string{s.Left[i]}) || n.levelledAll([]string{s.Right[i]})
		if of := []string{s.Left[0], s.Left[i], s.Left[k], s.Right[0], s.Right[i], s.Right[k]}; n.levelledAll(of) {
			p.Lower = n.number(of, func(at func(string) r3.Vec) float64 {
				return hangs(at(of[0]), at(of[1]), at(of[2])) - hangs(at(of[3]), at(of[4]), at(of[5]))
			})
		}
	}
}

// hangs is how far p lies below the line from first to last.
func hangs(first, p, last r3.Vec) float64 {
	d := r3.Sub(last, first)
	t := r3.Dot(level(r3.Sub(p, first)), level(d)) / r3.Norm2(level(d))
	return first.Z + t*d.Z - p.Z
}

// rail is the line of one rail.
func (n *network) rail(paths []string) Rail {
	k := len(paths) - 1
	first, last := paths[0], paths[k]
	out := Rail{Sag: finding.Missing("no heights of this rail are measured"), Kick: finding.Missing("no heights of this rail are measured")}
	most := func(of func(at func(string) r3.Vec, p string) float64) finding.Number {
		far, at := -1.0, ""
		for _, p := range paths[1:k] {
			if !n.has([]string{first, last, p}) {
				continue
			}
			if v := math.Abs(of(n.here, p)); v > far {
				far, at = v, p
			}
		}
		if at == "" {
			return finding.Missing("this rail has no point between its ends in the survey")
		}
		return n.number([]string{first, last, at}, func(place func(string) r3.Vec) float64 { return of(place, at) })
	}
	out.Sweep = most(func(at func(string) r3.Vec, p string) float64 {
		return beside(at(p), at(first), r3.Unit(level(r3.Sub(at(last), at(first)))))
	})
	if n.levelledAll(paths) {
		out.Sag = most(func(at func(string) r3.Vec, p string) float64 {
			return hangs(at(first), at(p), at(last))
		})
		out.Kick = n.number([]string{first, last}, func(at func(string) r3.Vec) float64 { return at(last).Z - at(first).Z })
	}
	return out
}

// axles fills in what is said of the axles.
func (n *network) axles(f *Frame) {
	s := n.build.Survey
	of, line, ok := n.lineOf()
	for i, a := range axlesOf(s) {
		x := &f.Axles[i]
		x.OnLine = n.byAxles()
		if !ok {
			x.Turn = finding.Missing("no centre line: survey.left and survey.right, or both axles, are not in the survey")
			x.Offset = x.Turn
			continue
		}
		all := append(slices.Clone(of), a.of...)
		x.Turn = n.number(all, func(at func(string) r3.Vec) float64 {
			on, along := line(at)
			l, r := at(a.of[0]), at(a.of[1])
			return math.Atan2(behind(r, on, along)-behind(l, on, along), beside(r, on, along)-beside(l, on, along))
		})
		x.Offset = finding.Missing("the centre line goes through the middle of both axles")
		if !n.byAxles() {
			x.Offset = n.number(all, func(at func(string) r3.Vec) float64 {
				on, along := line(at)
				return beside(level(r3.Scale(0.5, r3.Add(at(a.of[0]), at(a.of[1])))), on, along)
			})
		}
	}
	n.toes(f)
	if len(s.FrontAxle) != 2 || len(s.RearAxle) != 2 || !ok {
		why := finding.Missing("survey.front_axle and survey.rear_axle are not in the file yet")
		f.Wheelbase, f.Between = [2]finding.Number{why, why}, why
		return
	}
	for side := range 2 {
		front, rear := s.FrontAxle[side], s.RearAxle[side]
		f.Wheelbase[side] = n.number(append(slices.Clone(of), front, rear), func(at func(string) r3.Vec) float64 {
			on, along := line(at)
			return behind(at(rear), on, along) - behind(at(front), on, along)
		})
	}
	f.Between = f.Wheelbase[0].LessOf(f.Wheelbase[1])
}

// toes says where the wheels of an axle look, by the front and the rear of their rims
// at hub height. Thrust is the mean of both: (toe right - toe left)/2, to the left
// (derived).
func (n *network) toes(f *Frame) {
	of, line, ok := n.lineOf()
	for i, a := range axlesOf(n.build.Survey) {
		x := &f.Axles[i]
		if !x.Rims {
			continue
		}
		if !ok {
			why := finding.Missing("no centre line: survey.left and survey.right, or both axles, are not in the survey")
			x.Toe, x.ToeIn, x.Thrust = [2]finding.Number{why, why}, why, why
			continue
		}
		toe := func(side int, at func(string) r3.Vec) float64 {
			on, along := line(at)
			front, rear := at(a.rims[2*side]), at(a.rims[2*side+1])
			in := beside(front, on, along) - beside(rear, on, along)
			if side == 1 {
				in = -in
			}
			return math.Atan2(in, behind(rear, on, along)-behind(front, on, along))
		}
		all := append(slices.Clone(of), a.rims...)
		for side := range 2 {
			x.Toe[side] = n.number(all, func(at func(string) r3.Vec) float64 { return toe(side, at) })
		}
		x.ToeIn = n.number(all, func(at func(string) r3.Vec) float64 { return toe(0, at) + toe(1, at) })
		x.Thrust = n.number(all, func(at func(string) r3.Vec) float64 { return (toe(1, at) - toe(0, at)) / 2 })
	}
}
