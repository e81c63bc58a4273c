package hidden

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/scene/solid"
	"fitup/internal/scene/view"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// deep is how far a ray from p to the eye runs through a solid, mm, found the
// other way round than by outlines: the ray is cut by every face in space, each
// moved inward by margin.
func deep(s *solid.Solid, p, toward r3.Vec, margin float64) float64 {
	from, to := 0.0, math.Inf(1)
	for _, f := range s.Faces {
		slope, room := r3.Dot(f.Normal, toward), f.Off-margin-r3.Dot(f.Normal, p)
		switch {
		case math.Abs(slope) < 1e-12:
			if room < 0 {
				return 0
			}
		case slope > 0:
			to = min(to, room/slope)
		default:
			from = max(from, room/slope)
		}
	}
	return to - from
}

func drawBox(t *rapid.T) *solid.Solid {
	a, num, size := rapid.Float64Range(-3, 3), rapid.Float64Range(-400, 400), rapid.Float64Range(20, 300)
	pose := geom.Orient(geom.Angle(a.Draw(t, "slope")/2), geom.Angle(a.Draw(t, "heading")), geom.Angle(a.Draw(t, "roll")),
		r3.Vec{X: num.Draw(t, "x"), Y: num.Draw(t, "y"), Z: num.Draw(t, "z")})
	s, ok := solid.Box(pose, r3.Vec{X: size.Draw(t, "a"), Y: size.Draw(t, "b"), Z: size.Draw(t, "c")})
	require.True(t, ok)
	return &s
}

func drawView(t *rapid.T) view.View {
	a := rapid.Float64Range(-3, 3)
	return view.View{Turn: geom.Angle(a.Draw(t, "turn")), Tilt: geom.Angle(a.Draw(t, "tilt") / 2)}
}

// away is how far a place is from the nearest of the pieces.
func away(pieces []Piece, at r2.Vec, across bool) float64 {
	best := math.Inf(1)
	for _, p := range pieces {
		if p.Across != across {
			continue
		}
		for k := 1; k < len(p.Points); k++ {
			a, d := p.Points[k-1], r2.Sub(p.Points[k], p.Points[k-1])
			t := max(0, min(1, r2.Dot(r2.Sub(at, a), d)/r2.Norm2(d)))
			best = min(best, r2.Norm(r2.Sub(at, r2.Add(a, r2.Scale(t, d)))))
		}
	}
	return best
}

// A line that is drawn has no solid in front of it, and one that has none is
// drawn: every place of every edge is asked of a ray as well.
func TestHiddenIsWhatSolidsLieBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var items []Item
		for range rapid.IntRange(2, 5).Draw(t, "solids") {
			items = append(items, Item{Solid: drawBox(t), Layer: Layer(rapid.IntRange(0, 1).Draw(t, "layer"))})
		}
		v := drawView(t)
		_, _, toward := v.Axes()
		sight, s := v.Sight(), See(v, items)
		for i, it := range items {
			for _, e := range it.Solid.Edges {
				l, r := it.Solid.Faces[e.Left].Normal, it.Solid.Faces[e.Right].Normal
				if r3.Dot(l, toward) < 1e-3 && r3.Dot(r, toward) < 1e-3 {
					continue // on the far side of its own solid
				}
				pieces := s.Line(v, i, it.Solid.Points[e.A], it.Solid.Points[e.B])
				for k := range 9 {
					p := r3.Add(r3.Scale(1-float64(k+1)/10, it.Solid.Points[e.A]), r3.Scale(float64(k+1)/10, it.Solid.Points[e.B]))
					far := r3.Add(p, r3.Scale(-1e4, toward)) // behind everything
					surely, maybe, across, beside := false, false, false, true
					for j, o := range items {
						if j == i || o.Layer < it.Layer {
							continue
						}
						maybe = maybe || deep(o.Solid, p, toward, 0) > 0
						surely = surely || deep(o.Solid, p, toward, 2*skin) > 0
						if o.Layer > it.Layer {
							across = across || deep(o.Solid, far, toward, 2*skin) > 0
							beside = beside && deep(o.Solid, far, toward, 0) <= 0
						}
					}
					at := sight.At(p)
					plain, over := away(pieces, at, false), away(pieces, at, true)
					switch { // within the skin of a border either is right
					case surely:
						require.Greater(t, min(plain, over), 1e-6, "hidden")
					case !maybe && beside:
						require.Less(t, plain, 1e-6, "nothing lies before or behind it")
					case !maybe && across:
						require.Less(t, over, 1e-6, "seen, in front of what is not looked through")
					}
				}
			}
		}
	})
}

func box(at, half r3.Vec) *solid.Solid {
	p := geom.Identity()
	p.At = at
	s, _ := solid.Box(p, half)
	return &s
}

func length(pieces []Piece, across bool) float64 {
	l := 0.0
	for _, p := range pieces {
		for k := 1; k < len(p.Points) && p.Across == across; k++ {
			l += r2.Norm(r2.Sub(p.Points[k], p.Points[k-1]))
		}
	}
	return l
}

// Seen from the left, a box 200 by 200 behind one 100 wide and higher than it
// loses the middle halves of its upper and lower edge.
func TestABoxBehindABox(t *testing.T) {
	far, close := box(r3.Vec{Y: 300}, r3.Vec{X: 100, Y: 10, Z: 100}), box(r3.Vec{}, r3.Vec{X: 50, Y: 10, Z: 150})
	s := See(view.FromLeft, []Item{{Solid: far}, {Solid: close}})
	assert.InDelta(t, 800-200, length(s.Pieces(0), false), 4*skin+1e-9)
	assert.InDelta(t, 800, length(s.Pieces(1), false), 1e-9)

	// The near one seen through: all of it is drawn, across what lies behind it.
	s = See(view.FromLeft, []Item{{Solid: far, Layer: Front}, {Solid: close, Layer: Back}})
	assert.InDelta(t, 800, length(s.Pieces(0), false), 1e-9)
	assert.InDelta(t, 400, length(s.Pieces(1), true), 4*skin+1e-9, "its two uprights")
	assert.InDelta(t, 400, length(s.Pieces(1), false), 4*skin+1e-9)

	// And from the other side, where the far one hides what it is about.
	s = See(view.FromLeft.Turned(12, 0), []Item{{Solid: far, Layer: Front}, {Solid: close, Layer: Back}})
	assert.InDelta(t, 400, length(s.Pieces(1), false), 4*skin+1e-9, "it stands out above and below")
	assert.Zero(t, length(s.Pieces(1), true))
}

// A rod seen from its side is its two sides and its two ends; seen from its end
// it is round.
func TestRodsAndBalls(t *testing.T) {
	rod, _ := solid.Rod(r3.Vec{}, r3.Vec{X: 500}, 40, 24)
	s := See(view.FromLeft, []Item{{Solid: &rod}})
	assert.InDelta(t, 2*500+2*80, length(s.Pieces(0), false), 1)
	s = See(view.FromBehind, []Item{{Solid: &rod}})
	assert.InDelta(t, 2*math.Pi*40, length(s.Pieces(0), false), 1)
	require.Len(t, s.Pieces(0), 1, "in one go")

	s = See(view.ThreeQuarter, []Item{{Ball: &Ball{Radius: 100}}, {Solid: box(r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10})}})
	assert.InDelta(t, 2*math.Pi*100, length(s.Pieces(0), false), 4)
	b, ok := s.Room(0)
	require.True(t, ok)
	assert.InDelta(t, 200, b.Max.X-b.Min.X, 1e-9)
}

// The surface that is asked for at a place is where a ray meets the solid.
func TestDepth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, v := drawBox(t), drawView(t)
		_, _, toward := v.Axes()
		sight, s := v.Sight(), See(v, []Item{{Solid: b}})
		num := rapid.Float64Range(-600, 600)
		p := r3.Vec{X: num.Draw(t, "px"), Y: num.Draw(t, "py"), Z: num.Draw(t, "pz")}
		z, ok := s.Depth(0, sight.At(p))
		far := r3.Add(p, r3.Scale(-1e4, toward))
		if deep(b, far, toward, 2*skin) <= 0 {
			require.False(t, ok && deep(b, far, toward, 0) <= 0)
			return
		}
		require.True(t, ok)
		on := r3.Add(p, r3.Scale(z-sight.See(p).Z, toward))
		require.True(t, b.Inside(on, -1e-3))
		require.False(t, b.Inside(on, 1))
	})
	_, ok := See(view.FromLeft, []Item{{}}).Room(0)
	assert.False(t, ok, "a line is no solid")
}

// Pieces keep their points whatever is looked at after them, although all stand in one
// room: each item's are those of a scene that was asked for nothing before.
func TestPiecesKeepTheirPoints(t *testing.T) {
	var items []Item
	for i := range 30 {
		x := 45 * float64(i)
		items = append(items, Item{Solid: box(r3.Vec{X: x, Y: x / 9}, r3.Vec{X: 30, Y: 20, Z: 10})}, Item{Ball: &Ball{At: r3.Vec{X: x, Z: 20}, Radius: 25}})
	}
	s := See(view.ThreeQuarter, items)
	got, outlines := make([][]Piece, len(items)), make([][][]r2.Vec, len(items))
	for i := range items {
		got[i], outlines[i] = s.Pieces(i), s.Outline(i)
	}
	for i := range items {
		assert.Equal(t, See(view.ThreeQuarter, items).Pieces(i), got[i])
		assert.Equal(t, See(view.ThreeQuarter, items).Outline(i), outlines[i])
	}
}
