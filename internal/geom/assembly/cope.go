package assembly

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r3"
)

// Cope is the end of a member that goes round a round one. It is sawn flat first, as its
// cut has it, where the last of it touches; then as much is taken out as Back says.
type Cope struct {
	Header float64    // outside diameter of the one it goes round, mm
	Angle  geom.Angle // between the two axes, 90° when square
	Depth  float64    // of the most that is taken out, mm along the member
	Gap    float64    // widest that is left at the outside of its wall, mm along the member

	flat          float64 // how far the plane of the saw's cut is from the host's axis, mm
	wall          float64
	round         bool
	half          [2]float64 // of the section, along U and V
	corner        float64    // radius of its corners, outside
	across, acute [2]float64 // directions in the section, by U and V: square to both axes, and toward the acute side
}

// onRound finds the plane that a member is sawn to before it is coped; in is the way from
// the end into it, at where the two axes meet.
func (s *Solved) onRound(p *Part, k int, at, in r3.Vec) (bracket.Face, error) {
	host := &s.Parts[p.Host[k]]
	f := bracket.Face{Point: at, Normal: in}
	switch p.Shape.Kind {
	case section.RectTube, section.RoundTube, section.RoundBar, section.FlatBar:
	default:
		return f, s.bad(&p.Member, "a %s is not coped round %s; take a tube or a bar, or join them with a plate", p.Shape.Kind, host.Name)
	}
	h := host.Cut.Axis
	n, err := geom.Unit(r3.Sub(in, r3.Scale(r3.Dot(in, h), h)))
	lean := 90 * geom.Deg
	if err == nil {
		lean = geom.Between(n, in)
	}
	if lean > bracket.Steepest {
		return f, s.bad(&p.Member, "it runs along %s (%.1f° from square) and cannot stand on it; move its other end away from that", host.Name, lean.Degrees())
	}
	b, ht := p.sizes()
	c := &Cope{Header: host.Shape.H, Angle: 90*geom.Deg - lean, wall: p.Shape.T, half: [2]float64{b / 2, ht / 2}, round: p.Shape.B == 0}
	if p.Shape.Kind == section.RoundBar || p.Shape.Kind == section.FlatBar {
		c.wall = 0
	}
	u, v, err := s.frameOf(p, k, in)
	if err != nil {
		return f, err
	}
	across := r3.Cross(n, h)
	acute := r3.Sub(h, r3.Scale(r3.Dot(h, in), in))
	if r3.Dot(h, in) < 0 {
		acute = r3.Scale(-1, acute)
	}
	if a, err := geom.Unit(acute); err == nil {
		acute = a
	}
	c.across = [2]float64{r3.Dot(across, u), r3.Dot(across, v)}
	c.acute = [2]float64{r3.Dot(acute, u), r3.Dot(acute, v)}
	reach := math.Abs(c.across[0])*b/2 + math.Abs(c.across[1])*ht/2
	if c.round {
		reach = ht / 2
	}
	if reach > c.Header/2+1e-6 {
		return f, s.bad(&p.Member, "it is %.1f mm wide across %s, which is %.1f mm round, and would hang over its sides; take a narrower one, or turn it", 2*reach, host.Name, c.Header)
	}
	c.flat = math.Sqrt(max(0, c.Header*c.Header/4-reach*reach))
	p.Copes[k] = c
	f.Point, f.Normal = r3.Add(at, r3.Scale(c.flat/r3.Dot(n, in), in)), n
	return f, nil
}

// frameOf is how the section of a member lies, right and up as seen from its first end, as
// its cut will have it.
func (s *Solved) frameOf(p *Part, k int, in r3.Vec) (u, v r3.Vec, err error) {
	d := in
	if k == 1 {
		d = r3.Scale(-1, in)
	}
	pose, err := bracket.FacePose(p.Name, bracket.Face{Normal: d}, p.Up)
	if err != nil {
		return u, v, s.bad(&p.Member, "the direction meant as up lies along it; choose one across it")
	}
	sin, cos := math.Sincos(p.Roll.Rad())
	v = r3.Add(r3.Scale(cos, pose.Y), r3.Scale(sin, r3.Cross(d, pose.Y)))
	return r3.Cross(d, v), v, nil
}

// throughWall is at how many places through the wall it may touch first.
const throughWall = 24

// Back is how much is taken out at a place of the section's outer edge, by U and V, mm
// along the member from the saw's cut: straight through the wall, as far as whichever part
// of it meets the host first. At a distance y from the plane through both axes the host's
// outside is √(R² − y²) from its axis.
func (c *Cope) Back(u, v float64) float64 {
	most := math.Inf(-1)
	for i := range throughWall + 1 {
		if back := c.back(u, v, c.wall*float64(i)/throughWall); back > most {
			most = back
		}
		if c.wall == 0 {
			break
		}
	}
	return max(0, most)
}

// back is the same at a depth in the wall.
func (c *Cope) back(u, v, deep float64) float64 {
	iu, iv := c.inward(u, v, deep)
	y := c.across[0]*iu + c.across[1]*iv
	x := c.acute[0]*(iu-u) + c.acute[1]*(iv-v)
	sin, cos := math.Sincos(c.Angle.Rad())
	return (math.Sqrt(max(0, c.Header*c.Header/4-y*y)) - c.flat + x*cos) / sin
}

// inward is the place square through the wall from one on the outer edge.
func (c *Cope) inward(u, v, deep float64) (iu, iv float64) {
	mu, mv := 0.0, 0.0 // the middle of the round that it lies on
	if !c.round {
		mu, mv = math.Copysign(max(0, c.half[0]-c.corner), u), math.Copysign(max(0, c.half[1]-c.corner), v)
		if math.Abs(u) < math.Abs(mu) { // on a flat
			mu = u
		}
		if math.Abs(v) < math.Abs(mv) {
			mv = v
		}
	}
	r := math.Hypot(u-mu, v-mv)
	if r < geom.Tiny {
		return u, v
	}
	k := max(0, r-deep) / r
	return mu + (u-mu)*k, mv + (v-mv)*k
}

// measure finds how deep it is.
func (c *Cope) measure(p *Part, k int) {
	for _, q := range p.section(k, 24) {
		back := c.Back(q[0], q[1])
		c.Depth = max(c.Depth, back)
		c.Gap = max(c.Gap, back-max(0, c.back(q[0], q[1], 0)))
	}
}

// section are places of its outer edge, by U and V, close together on an end that is
// coped, n to each rounded corner.
func (p *Part) section(k, n int) (out [][2]float64) {
	ring := p.Cut.Outline(k == 1, n)
	at := p.Cut.Pad.At
	flat := func(q r3.Vec) [2]float64 {
		d := r3.Sub(q, at)
		return [2]float64{r3.Dot(d, p.Cut.U), r3.Dot(d, p.Cut.V)}
	}
	const step = 1.0 // mm
	for i, q := range ring {
		a, b := flat(q), flat(ring[(i+1)%len(ring)])
		pieces := max(1, int(math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1])/step)))
		for j := range pieces {
			t := float64(j) / float64(pieces)
			q := [2]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}
			if r := math.Hypot(q[0], q[1]); p.isRound() && r > 0 { // from the chord out onto the round
				q = [2]float64{q[0] * p.Shape.H / 2 / r, q[1] * p.Shape.H / 2 / r}
			}
			out = append(out, q)
		}
	}
	return out
}

// EndOutline is the outer edge of an end as it is when it is done: that of the saw's cut,
// or of its cope. A closed line, n points to each rounded corner and more where it is coped.
func (p *Part) EndOutline(second bool, n int) []r3.Vec {
	k := 0
	if second {
		k = 1
	}
	if p.Copes[k] == nil {
		return p.Cut.Outline(second, n)
	}
	var out []r3.Vec
	for _, q := range p.section(k, n) {
		out = append(out, p.endAt(k, q))
	}
	return out
}

// landsRound refuses a cope that reaches past an end of what it goes round.
func (s *Solved) landsRound(p *Part, k int) error {
	host := &s.Parts[p.Host[k]]
	c := &host.Cut
	p.Copes[k].corner = p.Cut.Section.Outer
	p.Copes[k].measure(p, k)
	for _, q := range p.EndOutline(k == 1, 3) {
		d := r3.Sub(q, c.Pad.At)
		along := r3.Dot(c.Axis, d)
		if from, to := c.Line(r3.Dot(d, c.U), r3.Dot(d, c.V)); along < from-0.01 || along > to+0.01 {
			return s.bad(&p.Member, "it lands %.1f mm beyond the end of %s; move it along", max(from-along, along-to), host.Name)
		}
	}
	return nil
}

// isRound says that a member is round outside, and has no flat side.
func (p *Part) isRound() bool {
	return p.Shape.Kind == section.RoundTube || p.Shape.Kind == section.RoundBar
}

// Strip is a lengthwise slice of a coped member, which is convex: its two ends, point by
// point, and which of its sides goes on into the next slice: that from point i to the next.
type Strip struct {
	First, Second []r3.Vec
	Inside        []bool
}

// Strips are a coped member in n slices across its cope, as it is when it is done: each end
// of a slice runs straight between two places of the cope's line. Nil where nothing is coped.
func (p *Part) Strips(n, corner int) []Strip {
	k := 0
	if p.Copes[0] == nil {
		k = 1
	}
	c := p.Copes[k]
	if c == nil {
		return nil
	}
	var ring [][2]float64
	for _, q := range p.Cut.Outline(k == 1, corner) {
		d := r3.Sub(q, p.Cut.Pad.At)
		ring = append(ring, [2]float64{r3.Dot(d, p.Cut.U), r3.Dot(d, p.Cut.V)})
	}
	y := func(q [2]float64) float64 { return c.across[0]*q[0] + c.across[1]*q[1] }
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range ring {
		lo, hi = min(lo, y(q)), max(hi, y(q))
	}
	out := make([]Strip, 0, n)
	for i := range n {
		from, to := lo+(hi-lo)*float64(i)/float64(n), lo+(hi-lo)*float64(i+1)/float64(n)
		slice := within(within(ring, y, from, 1), y, to, -1)
		var s Strip
		for j, q := range slice {
			next := slice[(j+1)%len(slice)]
			on := func(at float64) bool { return math.Abs(y(q)-at) < 1e-6 && math.Abs(y(next)-at) < 1e-6 }
			s.Inside = append(s.Inside, i > 0 && on(from) || i < n-1 && on(to))
			s.First, s.Second = append(s.First, p.endAt(0, q)), append(s.Second, p.endAt(1, q))
		}
		out = append(out, s)
	}
	return out
}

// within is what of a convex ring lies where sign·y is at least sign·at.
func within(ring [][2]float64, y func([2]float64) float64, at, sign float64) (out [][2]float64) {
	for i, q := range ring {
		next := ring[(i+1)%len(ring)]
		a, b := sign*(y(q)-at), sign*(y(next)-at)
		if a >= -1e-9 {
			out = append(out, q)
		}
		if a < -1e-9 && b > 1e-9 || a > 1e-9 && b < -1e-9 {
			t := a / (a - b)
			out = append(out, [2]float64{q[0] + t*(next[0]-q[0]), q[1] + t*(next[1]-q[1])})
		}
	}
	return out
}

// endAt is where an end lies at a place of the section, by U and V, when it is done.
func (p *Part) endAt(k int, q [2]float64) r3.Vec {
	into, end := p.Cut.Axis, p.Cut.Pad
	if k == 1 {
		into, end = r3.Scale(-1, p.Cut.Axis), p.Cut.Rail
	}
	side := r3.Add(r3.Scale(q[0], p.Cut.U), r3.Scale(q[1], p.Cut.V))
	// Along the axis onto the plane of the saw's cut, and back into the member.
	along := -r3.Dot(end.Normal, side) / r3.Dot(end.Normal, into)
	if c := p.Copes[k]; c != nil {
		along += c.Back(q[0], q[1])
	}
	return r3.Add(r3.Add(end.At, side), r3.Scale(along, into))
}
