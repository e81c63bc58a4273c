package propose

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// How fast the powertrain moves on its three supports within a box of places. What that is
// for stands in reach.go.
//
// With n the vehicle's up direction in the powertrain's own frame, the differences of
// the support heights are n·(pads' differences): the part of n in the plane of the pads
// is linear in the heights, in = Σ a_i h_i with constant vectors a_i, and the rest is
// √(1-|in|²) along the plane's normal N. With s the most that |in| is in the box (it is
// convex, so at a corner of the box of heights) and q = 1/√(1-s²), moving height i by
// one changes n by
//
//	|dn| ≤ q·|a_i|
//	|dn·v| ≤ |a_i·v| + s·q·|a_i|·|N·v|    for any v in the own frame,
//
// since d√(1-|in|²) = -(in·a_i)/√(1-|in|²). The own X axis has the height n·X, so with
// its heading held it turns by |dn·X|/cos σ, σ the most that it slopes in the box. The
// body turns by |dn| about a level axis and, to hold that heading, by no more than
// |dn|·tan σ about the vertical. A point at r from midway between the front pads, whose
// height is the mean of theirs, then moves up by |m_i + dn·r| and aside by no more than
// |dn|·(|r_z| + tan σ·|r|), m_i being a half for the front heights.
//
// Setback and offset move all points by one for one; heading turns all about the
// vertical through that middle; lift moves all straight up. Tilt is the rear height at
// one over the rate of the slope in it.

// kinematics is what the bounds are worked out from.
type kinematics struct {
	ok      bool // the powertrain stands somewhere
	on      seat.Supports
	now     seat.Placement
	mid     r3.Vec
	a       [3]r3.Vec // of the heights left front, right front, rear
	normal  r3.Vec
	corners []r3.Vec // of the powertrain's pieces, own frame
	lines   []lineKin
	spreads []float64
}

// lineKin is a line as far as it moves.
type lineKin struct {
	hangs  bool
	output r3.Vec // own frame, without a spacer
	along  bool   // its driving axis is the powertrain's own X axis
	dir    r3.Vec // of that axis, own frame
}

// geometryOf is what of it follows from where the parts of a build are.
func geometryOf(b *project.Build) *kinematics {
	k := &kinematics{}
	var err error
	if k.on, k.now, err = b.Seat(); err == nil {
		k.stand()
	}
	for i := range b.Lines {
		l := &b.Lines[i]
		output := b.OutputOf(l)
		k.lines = append(k.lines, lineKin{hangs: l.DrivingTarget() == project.TargetPowertrain, output: output.At, along: l.OutputSlope.Or(0) == 0,
			dir: l.OutputDir()})
	}
	for _, part := range b.Powertrain.Parts {
		turned := part.Turned.Pose()
		for _, c := range cornersOf(part) {
			k.corners = append(k.corners, turned.Point(c))
		}
	}
	return k
}

// clocked makes the geometry of a box that of the place of the transfer case in it; false
// where it has several, of which nothing is argued.
func (p *Problem) clocked(b box) bool {
	for i := range p.moves {
		a := &p.moves[i]
		if !a.mov.Case() {
			continue
		}
		n := b.lo[i]
		if n != b.hi[i] {
			return false
		}
		k, ok := p.clocks[n]
		if !ok {
			if turned, err := p.Build.With(project.Move{Of: a.mov, To: a.values[n]}); err == nil {
				k = geometryOf(turned)
				k.spreads = p.kin.spreads
			}
			if p.clocks == nil {
				p.clocks = map[int]*kinematics{}
			}
			p.clocks[n] = k
		}
		if k == nil {
			return false
		}
		p.kin = k
	}
	return true
}

func newKinematics(p *Problem) *kinematics {
	k := geometryOf(p.Build)
	for i := range p.demands {
		bound := p.boundingOf(&p.demands[i])
		p.demands[i].bound = bound
		p.travels = p.travels || bound.how == byTravel || bound.how == bySlip
	}
	p.kin = k
	defer func() { p.clocks = nil }() // they have the spreads that are worked out here
	k.spreads = make([]float64, len(p.moves))
	mid := make([]int, len(p.moves))
	for i := range mid {
		mid[i] = len(p.moves[i].values) / 2
	}
	p.findMoving(mid)
	s, out := p.at(mid), make([]float64, len(p.demands))
	for i := range p.moves {
		one := box{append([]int(nil), mid...), append([]int(nil), mid...)}
		if one.hi[i]+1 < len(p.moves[i].values) {
			one.hi[i]++
		} else if one.lo[i] > 0 {
			one.lo[i]--
		}
		p.reach(one, mid, s, out)
		for d, far := range out {
			if !math.IsInf(far, 1) && !math.IsNaN(far) {
				k.spreads[i] += far / p.scale(d)
			}
		}
	}
	for i := range p.moves {
		if p.moves[i].mov.Strap() > 0 || p.moves[i].mov.Case() { // nothing is argued across its places: they are gone through first
			k.spreads[i] = math.Inf(1)
		}
	}
	return k
}

func (k *kinematics) stand() {
	right, back := r3.Sub(k.on.RightFront, k.on.LeftFront), r3.Sub(k.on.Rear, k.on.LeftFront)
	normal := r3.Cross(back, right)
	n2 := r3.Norm2(normal)
	if n2 <= 1e-9*r3.Norm2(right)*r3.Norm2(back) || n2 == 0 {
		return
	}
	k.ok = true
	k.mid = k.on.Mid()
	k.a[1] = r3.Scale(1/n2, r3.Cross(normal, back))
	k.a[2] = r3.Scale(-1/n2, r3.Cross(normal, right))
	k.a[0] = r3.Scale(-1, r3.Add(k.a[1], k.a[2]))
	k.normal = r3.Scale(1/math.Sqrt(n2), normal)
}

func cornersOf(part project.Part) []r3.Vec {
	if part.At.Known {
		return []r3.Vec{part.At.At}
	}
	a, b := part.From.At, part.To.At
	if part.Radius.Known() {
		return []r3.Vec{a, b}
	}
	var out []r3.Vec
	for i := range 8 {
		v := a
		if i&1 != 0 {
			v.X = b.X
		}
		if i&2 != 0 {
			v.Y = b.Y
		}
		if i&4 != 0 {
			v.Z = b.Z
		}
		out = append(out, v)
	}
	return out
}

// motion is how fast the powertrain moves in a box.
type motion struct {
	k      *kinematics
	rows   []rowMotion
	s, q   float64
	tan    float64
	cos    float64
	centre geom.Pose
}

// rowMotion is one row of the placement with its half of the box.
type rowMotion struct {
	name string
	half float64
	unit float64 // heights per unit of the row
}

// heights are the numbers of the rows that are heights.
var heights = map[string]int{"placement.left_front": 0, "placement.right_front": 1, "placement.rear": 2}

// motion is that of the powertrain within a box; false where nothing is argued.
func (p *Problem) motion(b box, middle []int) (motion, bool) {
	k := p.kin
	m := motion{k: k, cos: 1, q: 1}
	h := [3][2]float64{{k.now.LeftFront, k.now.LeftFront}, {k.now.RightFront, k.now.RightFront}, {k.now.Rear, k.now.Rear}}
	at, still := k.now, true
	for i := range p.moves {
		a := &p.moves[i]
		row, ok := a.mov.Row()
		if !ok {
			continue
		}
		if !k.ok {
			return m, false
		}
		lo, hi, c := a.values[b.lo[i]], a.values[b.hi[i]], a.values[middle[i]]
		half := max(hi-c, c-lo)
		var err error
		if at, err = k.on.Solve(at, row.Row, c); err != nil {
			return m, false
		}
		if n, is := heights[row.Name]; is {
			h[n] = [2]float64{lo, hi}
		}
		if row.Name == "placement.tilt" {
			low, err := k.on.Solve(k.now, row.Row, lo)
			high, err2 := k.on.Solve(k.now, row.Row, hi)
			if err != nil || err2 != nil {
				return m, false
			}
			h[2] = [2]float64{min(low.Rear, high.Rear), max(low.Rear, high.Rear)}
		}
		if half > 0 {
			still = false
			m.rows = append(m.rows, rowMotion{row.Name, half, 1})
		}
	}
	var err error
	if k.ok {
		if m.centre, err = k.on.Pose(at); err != nil {
			return m, false
		}
	}
	if still {
		return m, true
	}
	bounded := m.bound(h)
	return m, bounded
}

// bound finds what holds in the whole box: s, q and the slope of the X axis.
func (m *motion) bound(h [3][2]float64) bool {
	k := m.k
	for corner := range 8 {
		in := r3.Vec{}
		for i := range 3 {
			in = r3.Add(in, r3.Scale(h[i][corner>>i&1], k.a[i]))
		}
		m.s = max(m.s, r3.Norm(in))
	}
	if m.s > 0.9 {
		return false
	}
	m.q = 1 / math.Sqrt(1-m.s*m.s)
	for i := range m.rows {
		if r := &m.rows[i]; r.name == "placement.tilt" {
			least := math.Abs(k.a[2].X) - m.s*m.q*r3.Norm(k.a[2])*math.Abs(k.normal.X)
			if least <= 0 {
				return false
			}
			r.unit = 1 / least
		}
	}
	up := math.Abs(m.centre.X.Z)
	for _, r := range m.rows {
		up += r.half * m.lifts(r, r3.Vec{X: 1})
	}
	if up > 0.9 {
		return false
	}
	m.cos = math.Sqrt(1 - up*up)
	m.tan = up / m.cos
	return true
}

// height is the number of the height that a row is, or moves, and false for others.
func (r rowMotion) height() (int, bool) {
	if r.name == "placement.tilt" {
		return 2, true
	}
	n, ok := heights[r.name]
	return n, ok
}

// lifts is how fast n·v changes with a row, at most.
func (m *motion) lifts(r rowMotion, v r3.Vec) float64 {
	i, ok := r.height()
	if !ok {
		return 0
	}
	a := m.k.a[i]
	return r.unit * (math.Abs(r3.Dot(a, v)) + m.s*m.q*r3.Norm(a)*math.Abs(r3.Dot(m.k.normal, v)))
}

// turnsX is how far the own X axis turns in the box, at most, rad.
func (m *motion) turnsX() float64 {
	sum := 0.0
	for _, r := range m.rows {
		switch r.name {
		case "placement.heading", "placement.tilt":
			sum += r.half
		default:
			sum += r.half * m.lifts(r, r3.Vec{X: 1}) / m.cos
		}
	}
	return sum
}

// turns is how far any direction of the body turns in the box, at most, rad.
func (m *motion) turns() float64 {
	sum := 0.0
	for _, r := range m.rows {
		if i, ok := r.height(); ok {
			sum += r.half * r.unit * m.q * r3.Norm(m.k.a[i]) / m.cos
		} else if r.name == "placement.heading" {
			sum += r.half
		}
	}
	return sum
}

// goes is how far a point of the body (own frame, mm) gets in the box, at most, mm.
func (m *motion) goes(p r3.Vec) float64 {
	if len(m.rows) == 0 {
		return 0
	}
	from := r3.Sub(p, m.k.mid)
	long := r3.Norm(from)
	high := math.Abs(m.centre.Dir(from).Z) // of the arm, in the middle of the box
	for _, r := range m.rows {
		high += r.half * m.lifts(r, from)
	}
	high = min(high, long)
	sum := 0.0
	for _, r := range m.rows {
		i, ok := r.height()
		switch {
		case ok:
			a, mean := m.k.a[i], 0.5
			if i == 2 {
				mean = 0
			}
			up := math.Abs(mean+r3.Dot(a, from)) + m.s*m.q*r3.Norm(a)*math.Abs(r3.Dot(m.k.normal, from))
			aside := m.q * r3.Norm(a) * (high + m.tan*long)
			sum += r.half * r.unit * math.Hypot(up, aside)
		case r.name == "placement.heading":
			sum += r.half * long
		default: // setback, offset, lift
			sum += r.half
		}
	}
	return sum
}
