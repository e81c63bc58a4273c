package book

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// askew is a round leg beside and across a round crossmember: nothing about its
// saddle is symmetric.
var askew = strings.NewReplacer("foot = [300, -100, -400]", "foot = [305, -100, -398]").Replace(round)

// tube is a leg by hand: where its axis begins, and its directions.
type tube struct{ pad, axis, u, v r3.Vec }

func tubeOf(pad, foot r3.Vec) tube {
	t := tube{pad: pad, axis: r3.Unit(r3.Sub(foot, pad))}
	up := r3.Vec{Z: 1}
	t.v = r3.Unit(r3.Sub(up, r3.Scale(r3.Dot(up, t.axis), t.axis)))
	t.u = r3.Cross(t.axis, t.v) // to the right, looking along the axis with v up
	return t
}

func (t tube) at(u, v, along float64) r3.Vec {
	return r3.Add(t.pad, r3.Add(r3.Scale(along, t.axis), r3.Add(r3.Scale(u, t.u), r3.Scale(v, t.v))))
}

// cutEdge are the points of a wrap that are cut along, with points between, less
// the band behind the square line.
func cutEdge(c Cutout) []r2.Vec {
	run := c.Edges[0]
	var out []r2.Vec
	for i := 1; i < len(run); i++ {
		p, q := run[i-1], run[i]
		if p.Y > 1e-9 || q.Y > 1e-9 {
			continue
		}
		for k := range 4 {
			out = append(out, r2.Add(p, r2.Scale(float64(k)/4, r2.Sub(q, p))))
		}
	}
	return out
}

// square is the distance of the square line that the template states, mm.
func square(t *testing.T, c Cutout) float64 {
	t.Helper()
	m := regexp.MustCompile(`square round the tube, ([0-9.]+) mm from`).FindStringSubmatch(strings.Join(c.Facts, "\n"))
	require.NotNil(t, m, "%v", c.Facts)
	v, err := strconv.ParseFloat(m[1], 64)
	require.NoError(t, err)
	return v
}

// topOf is where the template says that the tube's top is, mm across.
func topOf(t *testing.T, c Cutout) float64 {
	t.Helper()
	for i, n := range c.Written {
		if n.Text == "top" {
			return c.Marks[i+1][0].X // the square line is the first mark
		}
	}
	require.Fail(t, "no top")
	return 0
}

// A wrap taken as the person takes it, by its own marks and words, and rolled
// onto the tube by nothing but the file's numbers: the inside edge of its wall
// lies on the crossmember, and the flat end in its pad's plane.
func TestRoundWrapsRolledBackLieOnWhatTheyMeet(t *testing.T) {
	for name, text := range map[string]string{"askew": askew, "square on": round} {
		foot := r3.Vec{X: 300, Y: -100, Z: -400}
		if name == "askew" {
			foot = r3.Vec{X: 305, Y: -100, Z: -398}
		}
		const radius, wall, header = 42.4 / 2, 2.6, 60.3 / 2
		leg := tubeOf(r3.Vec{X: 300, Y: -200, Z: -75}, foot)
		cs, left, err := Cutouts(assessed(t, text), "")
		require.NoError(t, err)
		assert.Empty(t, left)
		require.Len(t, cs, 2)
		for _, end := range []string{"pad", "rail"} {
			c := named(t, cs, "left_front-"+end+"-wrap")
			top, ring, worst := topOf(t, c), square(t, c), 0.0
			for _, p := range cutEdge(c) {
				// The pad's end downward: clockwise from the pad runs right.
				angle, along := (p.X-top)/radius, ring+p.Y
				if end == "rail" { // upward: it runs left, and the cut lies on toward the rail
					angle, along = -angle, ring-p.Y
				}
				s, k := math.Sincos(angle)
				off := 0.0
				if end == "pad" {
					off = leg.at(radius*s, radius*k, along).Z + 75
				} else {
					q := leg.at((radius-wall)*s, (radius-wall)*k, along)
					off = math.Hypot(q.X-300, q.Z+400) - header
				}
				worst = max(worst, math.Abs(off))
			}
			// The square line's distance is printed to 0.1 mm: half of that is its own.
			assert.Less(t, worst, 0.05+0.05, "%s, %s", name, end)
		}
	}
}

// The same with the square line's distance as the core has it, which leaves
// nothing but the outline: within 0.05 mm, and none of it by luck.
func TestRoundWrapOutlineIsWithin005(t *testing.T) {
	a := assessed(t, askew)
	b, ok := a.Bracket("left_front")
	require.True(t, ok)
	wraps, err := b.Wraps(smooth)
	require.NoError(t, err)
	leg := tubeOf(r3.Vec{X: 300, Y: -200, Z: -75}, r3.Vec{X: 305, Y: -100, Z: -398})
	cs, _, err := Cutouts(a, "left_front")
	require.NoError(t, err)
	c := named(t, cs, "left_front-rail-wrap")
	off := func(mirror float64) (worst float64) {
		for _, p := range cutEdge(c) {
			s, k := math.Sincos(-mirror * (p.X - topOf(t, c)) / 21.2)
			q := leg.at(18.6*s, 18.6*k, wraps[1].Ring-p.Y)
			worst = max(worst, math.Abs(math.Hypot(q.X-300, q.Z+400)-30.15))
		}
		return worst
	}
	assert.Less(t, off(1), 0.05)
	assert.Greater(t, off(-1), 1.0, "wrapped with the print inside it does not fit")
}

// A wrap of a square tube folded back round its four sides and corners of 6 mm
// (EN 10219-2: twice a wall of 3 mm) makes a flat face on the rail and the pad.
func TestSquareWrapsFoldedBackAreFlat(t *testing.T) {
	cs, _, err := Cutouts(assessed(t, legs), "left_front")
	require.NoError(t, err)
	// By hand: the pad 40 mm under one at z = -35, the foot at the rail's edge.
	leg := tubeOf(r3.Vec{X: 300, Y: -200, Z: -75}, r3.Vec{X: 300, Y: -380})
	for _, end := range []string{"pad", "rail"} {
		c := named(t, cs, "left_front-"+end+"-wrap")
		lo, hi := math.Inf(1), math.Inf(-1)
		ring := square(t, c)
		for _, p := range cutEdge(c) {
			around, along := p.X, ring+p.Y
			if end == "rail" {
				around, along = 4*38+2*math.Pi*6-p.X, ring-p.Y
			}
			u, v := folded(around)
			y := leg.at(u, v, along).Y
			lo, hi = min(lo, y), max(hi, y)
		}
		assert.Less(t, hi-lo, 0.05, "%s end is flat", end)
		at := map[string]float64{"pad": -200, "rail": -380}[end]
		assert.InDelta(t, at, (lo+hi)/2, 0.06, "and where it is wanted, as far as a printed tenth tells")
	}
}

// A cut that is askew both ways is no mirror image of itself: folded back with
// the print inside it fits nothing.
func TestCompoundSquareWrapIsRightHanded(t *testing.T) {
	text := strings.Replace(legs, "foot_drop = 0\n", "foot = [360, -380, 0]\n", 1)
	cs, _, err := Cutouts(assessed(t, text), "left_front")
	require.NoError(t, err)
	leg := tubeOf(r3.Vec{X: 300, Y: -200, Z: -75}, r3.Vec{X: 360, Y: -380})
	for _, end := range []string{"pad", "rail"} {
		c := named(t, cs, "left_front-"+end+"-wrap")
		ring := square(t, c)
		flat := func(mirror bool) float64 {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, p := range cutEdge(c) {
				around, along := p.X, ring+p.Y
				if end == "rail" {
					along = ring - p.Y
				}
				if (end == "rail") != mirror {
					around = 4*38 + 2*math.Pi*6 - p.X
				}
				u, v := folded(around)
				y := leg.at(u, v, along).Y
				lo, hi = min(lo, y), max(hi, y)
			}
			return hi - lo
		}
		assert.Less(t, flat(false), 0.05, end)
		assert.Greater(t, flat(true), 5.0, end)
	}
	// On its drawing from above, the vehicle's rear is up, and the rail's end
	// reaches farther there.
	b, ok := assessed(t, text).Bracket("left_front")
	require.True(t, ok)
	o := legOutline(&b, true)
	top, bottom := 0.0, 0.0
	for _, p := range o.near {
		if p.Y > 24 {
			top = max(top, p.X)
		}
		if p.Y < -24 {
			bottom = max(bottom, p.X)
		}
	}
	assert.Greater(t, top, bottom+10)
}

// folded is where a place around a square tube of 50 mm lies, clockwise from the
// middle of its bottom as seen from the pad: to the left, up, to the right.
func folded(s float64) (u, v float64) {
	const half, r = 25.0, 6.0
	const flat, bend = 2 * (half - r), math.Pi / 2 * r
	s -= flat / 2
	way, at := r2.Vec{X: -1}, r2.Vec{X: -(half - r), Y: -half}
	if s <= 0 {
		p := r2.Add(at, r2.Scale(s, way))
		return p.X, p.Y
	}
	for {
		// A corner turns clockwise about its middle.
		in := r2.Vec{X: way.Y, Y: -way.X}
		middle := r2.Add(at, r2.Scale(r, in))
		turn := min(s, bend) / r
		sin, cos := math.Sincos(turn)
		out := r2.Scale(-r, in)
		p := r2.Add(middle, r2.Vec{X: out.X*cos + out.Y*sin, Y: -out.X*sin + out.Y*cos})
		if s <= bend {
			return p.X, p.Y
		}
		s -= bend
		way, at = in, p
		if s <= flat {
			p = r2.Add(at, r2.Scale(s, way))
			return p.X, p.Y
		}
		s -= flat
		at = r2.Add(at, r2.Scale(flat, way))
	}
}
