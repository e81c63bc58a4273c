package assembly

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// coped is a branch that ends on an upright round post of 60.3 mm, from a place.
func coped(shape section.Shape, from r3.Vec, roll geom.Angle) Assembly {
	post := Member{Name: "post", Shape: section.Shape{Kind: section.RoundTube, H: 60.3, T: 4}, Ends: [2]End{{At: r3.Vec{Z: -400}}, {At: r3.Vec{Z: 400}}}}
	x := Member{Name: "x", Shape: shape, Roll: roll, Ends: [2]End{{At: from}, {Kind: OnMember, Host: "post", Along: 400}}}
	return Assembly{Name: "left", Members: []Member{post, x}, Pad: from, Perch: "x"}
}

// A square cope by hand: a tube of 40 on a post of 60.3. Its sides are 20 from the middle,
// where the post is √(30.15² − 20²) = 22.56 from its axis, and its walls, 4 thick, touch
// first inside, at 16: 25.55. In the middle of its upper side that is 30.15: 7.59 out.
func TestACopeByHand(t *testing.T) {
	a := coped(section.Shape{Kind: section.RectTube, B: 40, H: 40, T: 4, Corner: section.CornerCold}, r3.Vec{X: 300}, 0)
	s, err := a.Solve()
	require.NoError(t, err)
	p := &s.Parts[1]
	c := p.Copes[1]
	require.NotNil(t, c)
	assert.Nil(t, p.Copes[0])
	assert.InDelta(t, 90, c.Angle.Degrees(), 1e-9)
	assert.InDelta(t, 300-math.Sqrt(30.15*30.15-400), p.Cut.Length, 1e-9)
	assert.InDelta(t, 30.15-math.Sqrt(30.15*30.15-400), c.Depth, 1e-6)
	assert.InDelta(t, math.Sqrt(30.15*30.15-256)-math.Sqrt(30.15*30.15-400), c.Gap, 1e-6)
	assert.InDelta(t, c.Depth, c.Back(0, 20), 1e-6)
	assert.InDelta(t, c.Gap, c.Back(20, 0), 1e-6)
}

// A round branch is coped as a saddle that stops at first contact (the intersection of two
// cylinders, by code of its own in package bracket).
func TestACopeIsASaddle(t *testing.T) {
	for _, up := range []float64{0, 90, 250, -180} {
		a := coped(section.Shape{Kind: section.RoundTube, H: 42.4, T: 3}, r3.Vec{X: 300, Z: up}, 0)
		s, err := a.Solve()
		require.NoError(t, err)
		p := &s.Parts[1]
		saddle := bracket.Saddle{Name: "x", Branch: 42.4, Wall: 3, Header: 60.3, Angle: p.Copes[1].Angle, Fit: bracket.FitTouch}
		for _, q := range p.EndOutline(true, 12) {
			side := r3.Vec{Z: q.Z, Y: q.Y, X: q.X} // from where the axes meet, at 0
			along := -r3.Dot(side, p.Cut.Axis)
			off := r3.Add(side, r3.Scale(along, p.Cut.Axis))
			acute := r3.Vec{Z: 1}
			if up < 0 {
				acute = r3.Vec{Z: -1}
			}
			acute = r3.Sub(acute, r3.Scale(r3.Dot(acute, p.Cut.Axis), p.Cut.Axis))
			x, y := r3.Dot(off, acute)/math.Max(r3.Norm(acute), 1e-9), off.Y
			want, err := saddle.At(geom.Angle(math.Atan2(y, x)))
			require.NoError(t, err)
			assert.InDelta(t, want, along, 0.01, "rising %g", up)
		}
	}
}

// However a box or a round tube comes at the post, and however it is turned: straight
// through its wall, no part of its coped end lies in the post, and all round it one does
// touch. The saw's cut before leaves nothing short.
func TestACopeTouchesAllRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := section.Shape{Kind: section.RectTube, B: rapid.Float64Range(20, 40).Draw(t, "b"), H: rapid.Float64Range(20, 40).Draw(t, "h"), T: 3, Corner: section.CornerCold}
		if rapid.Bool().Draw(t, "round") {
			shape = section.Shape{Kind: section.RoundTube, H: rapid.Float64Range(20, 60).Draw(t, "d"), T: 3}
		}
		a := rapid.Float64Range(0, 2*math.Pi).Draw(t, "about")
		from := r3.Vec{X: 300 * math.Cos(a), Y: 300 * math.Sin(a), Z: rapid.Float64Range(-250, 250).Draw(t, "z")}
		s, err := coped(shape, from, geom.Angle(rapid.Float64Range(-1.6, 1.6).Draw(t, "roll"))).Solve()
		if err != nil {
			t.Skip(err.Error())
		}
		p := &s.Parts[1]
		for _, q := range p.EndOutline(true, 5) {
			off := r3.Sub(q, p.Cut.Pad.At)
			u, v := r3.Dot(off, p.Cut.U), r3.Dot(off, p.Cut.V)
			least := math.Inf(1)
			for i := range 31 {
				deep := 3 * float64(i) / 30
				var iu, iv float64
				if shape.B == 0 {
					r := math.Hypot(u, v)
					iu, iv = u*(r-deep)/r, v*(r-deep)/r
				} else {
					mu, mv := u, v // the corners are of 6 mm, twice the wall
					if math.Abs(u) > shape.B/2-6 {
						mu = math.Copysign(shape.B/2-6, u)
					}
					if math.Abs(v) > shape.H/2-6 {
						mv = math.Copysign(shape.H/2-6, v)
					}
					r := math.Hypot(u-mu, v-mv)
					iu, iv = mu+(u-mu)*(r-deep)/r, mv+(v-mv)*(r-deep)/r
				}
				in := r3.Add(q, r3.Add(r3.Scale(iu-u, p.Cut.U), r3.Scale(iv-v, p.Cut.V)))
				least = min(least, math.Hypot(in.X, in.Y)-60.3/2)
			}
			if least < -0.03 || least > 0.05 {
				t.Fatalf("%.3f mm from the post at %.1f, %.1f", least, u, v)
			}
		}
		into := p.Cut.Rail.Normal
		if r3.Dot(into, p.Cut.Axis) > 0 {
			into = r3.Scale(-1, into)
		}
		for _, q := range p.EndOutline(true, 5) {
			if d := r3.Dot(into, r3.Sub(q, p.Cut.Rail.At)); d < -0.01 {
				t.Fatalf("the saw leaves it %.2f mm short", -d)
			}
		}
	})
}

// What is too wide to go round, or runs along, or is open, is refused by name.
func TestCopesThatAreNone(t *testing.T) {
	for says, a := range map[string]Assembly{
		"80.0 mm wide across post, which is 60.3 mm round": coped(section.Shape{Kind: section.RectTube, B: 80, H: 40, T: 4, Corner: section.CornerCold}, r3.Vec{X: 300}, 0),
		"is not coped round post; take a tube or a bar":    coped(section.Shape{Kind: section.Angle, B: 30, H: 30, T: 3, InnerRadius: 3, OuterRadius: 3}, r3.Vec{X: 300}, 0),
		"runs along post": coped(section.Shape{Kind: section.RoundTube, H: 30, T: 3}, r3.Vec{X: 20, Z: 390}, 0),
	} {
		_, err := a.Solve()
		require.ErrorContains(t, err, says)
	}
	a := coped(section.Shape{Kind: section.RoundTube, H: 42.4, T: 3}, r3.Vec{X: 300, Z: -385}, 0)
	a.Members[1].Ends[1].Along = 15
	_, err := a.Solve()
	require.ErrorContains(t, err, "beyond the end of post")
}

// The slices that a coped member is drawn in end on the post all round: none of their corners
// lies in it, the outermost of each is at most its wall's gap off it, and together they are as
// large as the member is.
func TestStripsEndOnWhatTheyGoRound(t *testing.T) {
	for _, from := range []r3.Vec{{X: 300}, {X: 300, Z: 170}, {Y: -200, Z: -90}} {
		for _, shape := range []section.Shape{{Kind: section.RectTube, B: 40, H: 40, T: 4, Corner: section.CornerCold}, {Kind: section.RoundTube, H: 42.4, T: 3}} {
			a := coped(shape, from, 0)
			s, err := a.Solve()
			require.NoError(t, err)
			p := &s.Parts[1]
			strips := p.Strips(8, 4)
			require.Len(t, strips, 8)
			assert.Nil(t, s.Parts[0].Strips(8, 4), "the post is not coped")
			area, inside := 0.0, 0
			for _, x := range strips {
				require.Len(t, x.Second, len(x.First))
				var sum r3.Vec
				for i, q := range x.Second {
					off := math.Hypot(q.X, q.Y) - 60.3/2
					assert.GreaterOrEqual(t, off, -1e-6)
					assert.LessOrEqual(t, off, p.Copes[1].Gap/math.Sin(p.Copes[1].Angle.Rad())+1e-6)
					next := x.First[(i+1)%len(x.First)]
					sum = r3.Add(sum, r3.Cross(x.First[i], next))
					if x.Inside[i] {
						inside++
					}
				}
				area += math.Abs(r3.Dot(sum, p.Cut.Pad.Normal)) / 2
			}
			assert.Equal(t, 2*7, inside, "each cut between two slices is a side of both")
			ring := p.Cut.Outline(false, 4)
			var whole r3.Vec
			for i := range ring {
				whole = r3.Add(whole, r3.Cross(ring[i], ring[(i+1)%len(ring)]))
			}
			assert.InEpsilon(t, math.Abs(r3.Dot(whole, p.Cut.Pad.Normal))/2, area, 1e-9)
		}
	}
}
