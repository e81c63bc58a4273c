package assembly

import (
	"math"
	"testing"

	"fitup/internal/geom/bracket"
	"fitup/internal/geom/frame"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// spanOf are two upright rails whose inner sides are 760 mm apart, feet at z = 0.
func spanOf(height float64) Span {
	s := Span{Pad: bracket.Face{Point: r3.Vec{Z: height}, Normal: r3.Vec{Z: 1}}}
	for k, y := range [2]float64{-380, 380} {
		at := r3.Vec{Y: y}
		s.Rails[k] = RailFoot{Name: [2]string{"left rail", "right rail"}[k], Foot: at, Face: bracket.Face{Point: at, Normal: r3.Vec{Y: -y}}}
	}
	return s
}

func stockOf(t require.TestingT, name string) section.Shape {
	e, err := section.Find("beam", name)
	require.NoError(t, err)
	return e.Shape
}

func dropped(t require.TestingT, drop, between float64, shape section.Shape) Solved {
	members, err := DroppedCrossmember(spanOf(-drop+shape.H/2), shape, between)
	require.NoError(t, err)
	s, err := Assembly{Name: "rear", Members: members, Pad: r3.Vec{Z: -drop + shape.H/2}, Perch: Beam}.Solve()
	require.NoError(t, err)
	return s
}

func solvedOn(t require.TestingT, s *Solved, fixed Fixing, force r3.Vec) *frame.Result {
	f, err := s.FrameOn(fixed)
	require.NoError(t, err)
	res, err := f.Under(force, s.Pad)
	require.NoError(t, err)
	return res
}

// With one foot free to slide a dropped crossmember is a simple beam along its own
// line: how far its pad goes is ∫ M m / EI ds over the legs and half the beam, with the
// shear and the push along them, by Simpson along each piece. Written from statics alone.
func TestSlidingCrossmemberByIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		drop := rapid.Float64Range(30, 300).Draw(t, "drop")
		between := rapid.Float64Range(200, 700).Draw(t, "between")
		shape := stockOf(t, rapid.SampledFrom([]string{"RHS 60x40x4 cold", "SHS 50x50x3 cold", "CHS 48.3x3"}).Draw(t, "section"))
		up := rapid.SampledFrom([]float64{1, -1}).Draw(t, "way") // dropped or raised
		const load = 3000.0
		members, err := DroppedCrossmember(spanOf(-up*drop+shape.H/2), shape, between)
		require.NoError(t, err)
		s, err := Assembly{Name: "rear", Members: members, Pad: r3.Vec{Z: -up*drop + shape.H/2}, Perch: Beam}.Solve()
		require.NoError(t, err)
		f, err := s.FrameOn(Sliding)
		require.NoError(t, err)
		res, err := f.Under(r3.Vec{Z: -load}, s.Pad)
		require.NoError(t, err)

		p, err := shape.Properties()
		require.NoError(t, err)
		ei, ga, ea := section.SteelE*p.Iy, section.SteelG*p.Avz, section.SteelE*p.Area
		// Each side carries half, so the moment at y is P/2 times how far in it is.
		piece := func(y0, y1, length float64) float64 {
			cos := (y1 - y0) / length
			const n = 200
			sum := 0.0
			for i := range n + 1 {
				w := 2.0 + 2*float64(i%2)
				if i == 0 || i == n {
					w = 1
				}
				y := y0 + (y1-y0)*float64(i)/n
				m := load / 2 * (y + 380) // and half of it times 1 N for the virtual load
				sum += w * m * (y + 380) / 2 / ei
			}
			sum *= length / n / 3
			sin := math.Sqrt(max(0, 1-cos*cos))
			return sum + length*(load/4*cos*cos/ga+load/4*sin*sin/ea)
		}
		foot := math.Hypot(380-between/2, drop)
		want := 2 * (piece(-380, -between/2, foot) + piece(-between/2, 0, between/2))
		assert.InEpsilon(t, want, -res.Nodes[0].Shift.Z, 1e-6)
	})
}

// Legs straight up from the knees are a portal upside down: Kleinlogel's formulas for a
// load on the middle of the beam, feet fixed (from memory), k = Ib h / (Ic L). Its members
// neither stretch nor shear, so a flat bar that is slender is taken, and 1 % allowed.
func TestHeldCrossmemberIsAPortal(t *testing.T) {
	shape := section.Shape{Name: "bar", Kind: section.FlatBar, B: 30, H: 10}
	const h, l, load = 300.0, 758.0, 100.0
	span := spanOf(-h + shape.H/2)
	for k := range span.Rails { // under the rails
		span.Rails[k].Foot.Y = (float64(k) - 0.5) * l
		span.Rails[k].Face = bracket.Face{Point: span.Rails[k].Foot, Normal: r3.Vec{Z: -1}}
	}
	members, err := DroppedCrossmember(span, shape, l)
	require.NoError(t, err)
	s, err := Assembly{Name: "rear", Members: members, Pad: span.Pad.Point, Perch: Beam}.Solve()
	require.NoError(t, err)
	res := solvedOn(t, &s, Held, r3.Vec{Z: -load})
	k := h / l
	thrust := 3 * load * l / (8 * h * (k + 2))
	foot := load * l / (8 * (k + 2))
	var feet []frame.Push
	for i := range res.Reactions {
		if r := res.Reactions[i]; math.Abs(r.Force.Z) > 1 {
			feet = append(feet, r)
		}
	}
	require.Len(t, feet, 2)
	for _, r := range feet {
		assert.InEpsilon(t, load/2, r.Force.Z, 1e-6)
		assert.InEpsilon(t, thrust, math.Abs(r.Force.Y), 0.01)
		assert.InEpsilon(t, foot, math.Abs(r.Moment.X), 0.02)
	}
}

// Held at both feet a dropped crossmember pushes against its rails like an arch, and
// sinks a tenth of what it does where one foot can slide.
func TestOneFootThatSlidesIsToldFromHeld(t *testing.T) {
	s := dropped(t, 120, 120, stockOf(t, "SHS 50x50x3 cold"))
	force := r3.Vec{Z: -3000}
	var sinks [3]float64
	for i, f := range []Fixing{Held, Pinned, Sliding} {
		sinks[i] = -solvedOn(t, &s, f, force).Nodes[0].Shift.Z
	}
	assert.Greater(t, sinks[1], sinks[0])
	assert.Greater(t, sinks[2], 10*sinks[0])
	across := func(f Fixing) (sum float64) {
		res := solvedOn(t, &s, f, force)
		for i := range res.Reactions {
			sum += math.Abs(res.Reactions[i].Force.Y)
		}
		return sum
	}
	assert.Greater(t, across(Held), 1000.0)
	assert.InDelta(t, 0, across(Sliding), 1e-6)
	assert.InDelta(t, 0, across(SlidingFirst), 1e-6)
}

// Pushed aside, the foot that does not slide holds it alone: with the last foot free the
// first one, and the other way about; a straight one and a dropped one alike.
func TestTheFootThatDoesNotSlideHoldsAlone(t *testing.T) {
	straight, err := StraightCrossmember(spanOf(20), stockOf(t, "SHS 40x40x3 cold"), 0)
	require.NoError(t, err)
	beam, err := Assembly{Name: "rear", Members: straight, Pad: r3.Vec{Z: 20}, Perch: Beam}.Solve()
	require.NoError(t, err)
	legs := dropped(t, 120, 120, stockOf(t, "SHS 50x50x3 cold"))
	for _, s := range []*Solved{&beam, &legs} {
		for fixed, want := range map[Fixing][2]float64{Sliding: {-500, 0}, SlidingFirst: {0, -500}} {
			f, err := s.FrameOn(fixed)
			require.NoError(t, err)
			res, err := f.Under(r3.Vec{Y: 500}, s.Pad)
			require.NoError(t, err)
			_, left := f.AtEnd(res, 0, 0)
			_, right := f.AtEnd(res, len(s.Parts)-1, 1)
			assert.InDelta(t, want[0], left.Force.Y, 1e-6)
			assert.InDelta(t, want[1], right.Force.Y, 1e-6)
		}
	}
}

// Straight from rail to rail: F L / 4 and F L³ / 48 EI pinned, F L / 8 and F L³ / 192 EI
// held, with F L / 4 GA for shear (Gere; Roark, from memory).
func TestStraightCrossmemberByFormula(t *testing.T) {
	shape := stockOf(t, "RHS 100x50x5 cold")
	span := spanOf(shape.H / 2)
	m, err := StraightCrossmember(span, shape, 0)
	require.NoError(t, err)
	s, err := Assembly{Name: "rear", Members: m, Pad: span.Pad.Point, Perch: Beam}.Solve()
	require.NoError(t, err)
	p, err := shape.Properties()
	require.NoError(t, err)
	const f, l = 5000.0, 760.0
	shear := f * l / (4 * section.SteelG * p.Avz)
	for fixed, want := range map[Fixing][2]float64{
		Pinned: {f * l * l * l / (48 * section.SteelE * p.Iy), f * l / 4}, Sliding: {f * l * l * l / (48 * section.SteelE * p.Iy), f * l / 4},
		Held: {f * l * l * l / (192 * section.SteelE * p.Iy), f * l / 8},
	} {
		fr, err := s.FrameOn(fixed)
		require.NoError(t, err)
		res, err := fr.Under(r3.Vec{Z: -f}, span.Pad.Point)
		require.NoError(t, err)
		assert.InEpsilon(t, want[0]+shear, -res.Nodes[0].Shift.Z, 1e-9)
		worst, at, err := fr.Stress(res, 0)
		require.NoError(t, err)
		assert.InEpsilon(t, want[1]/p.Wy, math.Abs(worst.Normal), 1e-9)
		if fixed != Held {
			assert.InDelta(t, l/2, at, 1)
		}
	}
}

// On the rails it is fixed where its feet are, and runs on past them; what is wanted
// between rail and plate is said, and one that would lie in the rail or far off it is
// refused.
func TestCrossmemberThatLiesOnItsRails(t *testing.T) {
	shape := stockOf(t, "RHS 80x40x4 cold")
	span := func(height float64) Span {
		s := Span{Pad: bracket.Face{Point: r3.Vec{Z: height}, Normal: r3.Vec{Z: 1}}, PadPlate: 8, RailPlate: 10}
		for k, y := range [2]float64{-400, 400} {
			at := r3.Vec{Y: y, Z: float64(-2 * k)}
			s.Rails[k] = RailFoot{Name: [2]string{"left rail", "right rail"}[k], Foot: at, Face: bracket.Face{Point: at, Normal: r3.Vec{Z: 1}}}
		}
		return s
	}
	made := func(height float64) (Solved, error) {
		s := span(height)
		m, err := StraightCrossmember(s, shape, 50)
		require.NoError(t, err)
		return Assembly{Name: "rear", Members: m, Pad: s.Pad.Point, Perch: Beam}.Solve()
	}
	s, err := made(10 + 80 + 8 + 3)
	require.NoError(t, err)
	p := s.Parts[0]
	assert.InDelta(t, 900, p.Cut.Length, 1e-9)
	assert.InDelta(t, 50, p.Along(0), 1e-9)
	assert.InDelta(t, 850, p.Along(1), 1e-9)
	assert.InDelta(t, 3, p.Packing[0], 1e-9)
	assert.InDelta(t, 5, p.Packing[1], 1e-9)
	assert.Equal(t, bracket.Bottom, p.Side[0])
	f, err := s.FrameOn(Pinned)
	require.NoError(t, err)
	res, err := f.Under(r3.Vec{Z: -3000}, s.Pad)
	require.NoError(t, err)
	figures, err := shape.Properties()
	require.NoError(t, err)
	want := 3000*800*800*800/(48*section.SteelE*figures.Iy) + 3000*800/(4*section.SteelG*figures.Avz)
	assert.InEpsilon(t, want, -res.Nodes[0].Shift.Z, 1e-9)
	_, push := f.AtEnd(res, 0, 0)
	assert.InEpsilon(t, 1500, push.Force.Z, 1e-9)

	_, err = made(90)
	assert.ErrorContains(t, err, "mm inside left rail")
	_, err = made(160)
	assert.ErrorContains(t, err, "mm clear of left rail")
}

// Mitres that do not meet are refused, by name.
func TestMitresMustMeet(t *testing.T) {
	shape := stockOf(t, "RHS 60x40x4 cold")
	members := func() []Member {
		m, err := DroppedCrossmember(spanOf(-100), shape, 400)
		require.NoError(t, err)
		return m
	}
	for want, spoil := range map[string]func([]Member){
		"edges lie":                 func(m []Member) { m[0].Shape = stockOf(t, "SHS 50x50x3 cold") },
		"is not mitred to it there": func(m []Member) { m[1].Ends[0].At.Y -= 5 },
		"which is no other member":  func(m []Member) { m[0].Ends[1].Host = "tie" },
		"doubles back on": func(m []Member) {
			m[0].Ends[0].At = r3.Vec{Y: 380, Z: -135}
			m[0].Ends[0].Face = bracket.Face{Point: r3.Vec{Y: 380}, Normal: r3.Vec{Y: -1}}
		},
		"end that one at a point": func(m []Member) { m[0].Ends[0] = End{Kind: OnMember, Host: Beam, Along: 100} },
	} {
		m := members()
		spoil(m)
		_, err := Assembly{Name: "rear", Members: m, Pad: r3.Vec{Z: -100}, Perch: Beam}.Solve()
		assert.ErrorContains(t, err, want)
	}
}
