package assembly

import (
	"math"
	"testing"

	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func solvedSpan(span Span, shape section.Shape, between float64) (Solved, error) {
	members, err := StraightCrossmember(span, shape, 0)
	if between > 0 {
		members, err = DroppedCrossmember(span, shape, between)
	}
	if err != nil {
		return Solved{}, err
	}
	return Assembly{Name: "rear", Members: members, Pad: span.Pad.Point, Perch: Beam}.Solve()
}

// A straight one on the bolts of its ears is a simple beam between those, F L³ / 48 EI and
// F L / 4 GA, on ears that each carry a quarter of the load as a cantilever, P a³ / 3 EI and
// P a / GA (Gere, from memory). In sockets half of it hangs on each.
func TestCrossmemberOnItsBoltsByFormula(t *testing.T) {
	shape := stockOf(t, "RHS 60x40x4 cold")
	const f, out = 3000.0, 50.0
	for name, c := range map[string]struct {
		ears    *Ears
		sockets *Sockets
		stands  section.Shape
		share   float64
	}{
		"ears":    {ears: &Ears{Shape: stockOf(t, "Flat 60x8"), Out: out, Past: 25}, stands: stockOf(t, "Flat 60x8"), share: 4},
		"sockets": {sockets: &Sockets{Shape: stockOf(t, "RHS 80x60x4 cold"), Out: out, Length: 90}, stands: stockOf(t, "RHS 80x60x4 cold"), share: 2},
	} {
		span := spanOf(shape.H / 2)
		span.Ears, span.Sockets, span.Past = c.ears, c.sockets, 20
		s, err := solvedSpan(span, shape, 0)
		require.NoError(t, err, name)
		p, err := shape.Properties()
		require.NoError(t, err)
		q, err := c.stands.Properties()
		require.NoError(t, err)
		l, a := 760-2*out, out
		beam := f*l*l*l/(48*section.SteelE*p.Iy) + f*l/(4*section.SteelG*p.Avz)
		end := f / c.share * (a*a*a/(3*section.SteelE*q.Iy) + a/(section.SteelG*q.Avz))
		for _, fixed := range []Fixing{Pinned, Sliding} {
			res := solvedOn(t, &s, fixed, r3.Vec{Z: -f})
			assert.InEpsilon(t, beam+end, -res.Nodes[0].Shift.Z, 1e-9, "%s %d", name, fixed)
		}
		assert.Less(t, -solvedOn(t, &s, Held, r3.Vec{Z: -f}).Nodes[0].Shift.Z, 0.7*(beam+end))
		assert.InDelta(t, l+40, s.Parts[0].Cut.Length, 1e-9, "it runs on 20 mm past each bolt")
		through := s.Through()
		require.Len(t, through, 2)
		for k, x := range through {
			at := s.Parts[x.Part].Ends[x.End].At
			assert.InDelta(t, (2*float64(k)-1)*(380-out), at.Y, 1e-9, name)
			if c.ears != nil {
				require.Len(t, x.Ears, 2)
				for i, j := range x.Ears {
					e := s.Parts[j].Ends[1].At
					assert.InDelta(t, 0, r3.Norm(r3.Sub(e, r3.Add(at, r3.Vec{X: (2*float64(i) - 1) * (20 + 4)}))), 1e-9)
					assert.InDelta(t, out+25, s.Parts[j].Cut.Length, 1e-9)
				}
			} else {
				fit, err := s.Fit(x.Part, x.End)
				require.NoError(t, err)
				assert.InDelta(t, 80-8-60, fit.High, 1e-9)
				assert.InDelta(t, 60-8-40, fit.Across, 1e-9)
				assert.InDelta(t, 90-50+20, fit.Reach, 1e-9)
			}
		}
	}
}

// What a bolt through ears hands on is what statics says: half of the load on each end, the
// two ears alike, no moment about the bolt; a push to the front goes into both ears as one
// frame.
func TestEarsShareWhatTheirBoltCarries(t *testing.T) {
	shape := stockOf(t, "RHS 60x40x4 cold")
	span := spanOf(shape.H / 2)
	span.Ears, span.Past = &Ears{Shape: stockOf(t, "Flat 60x8"), Out: 50, Past: 25}, 20
	for _, between := range []float64{0, 500} {
		if span.Pad.Point.Z = shape.H / 2; between > 0 {
			span.Pad.Point.Z = -100
		}
		s, err := solvedSpan(span, shape, between)
		require.NoError(t, err)
		f, err := s.FrameOn(Pinned)
		require.NoError(t, err)
		res, err := f.Under(r3.Vec{X: -600, Z: -3000}, s.Pad)
		require.NoError(t, err)
		for _, x := range s.Through() {
			_, push := f.AtEnd(res, x.Part, x.End)
			assert.InDelta(t, 1500, push.Force.Z, 1e-6)
			assert.InDelta(t, 300, push.Force.X, 1e-6)
			assert.InDelta(t, 0, r3.Dot(push.Moment, s.Parts[x.Part].Cut.U), 1e-6, "it turns on the bolt")
			sum := r3.Vec{}
			for _, j := range x.Ears {
				_, ear := f.AtEnd(res, j, 1)
				sum = r3.Add(sum, ear.Force)
			}
			assert.InDelta(t, 0, r3.Norm(r3.Add(sum, push.Force)), 1e-6, "the ears carry its answer")
		}
	}
}

// A dropped one whose end can slide in its socket spreads and sinks ten times as far as one
// that is held at both ends; on turning ends it still pushes outward.
func TestASocketThatSlidesIsToldFromOneThatHolds(t *testing.T) {
	shape := stockOf(t, "SHS 60x60x4 cold")
	span := spanOf(-150)
	span.Sockets, span.Past = &Sockets{Shape: stockOf(t, "SHS 70x70x4 cold"), Out: 90, Length: 130}, 25
	s, err := solvedSpan(span, shape, 420)
	require.NoError(t, err)
	assert.True(t, s.Slides())
	sinks := map[Fixing]float64{}
	for _, fixed := range []Fixing{Held, Pinned, Sliding} {
		sinks[fixed] = -solvedOn(t, &s, fixed, r3.Vec{Z: -3000}).Nodes[0].Shift.Z
	}
	assert.Greater(t, sinks[Sliding]/sinks[Held], 10.0)
	assert.Greater(t, sinks[Pinned], sinks[Held])
	for k := range span.Rails { // straight down from the rails' undersides it cannot slide
		span.Rails[k].Foot.Y = (float64(k) - 0.5) * 420
		span.Rails[k].Face = bracket.Face{Point: span.Rails[k].Foot, Normal: r3.Vec{Z: -1}}
	}
	span.Pad.Point.Z = -300
	s, err = solvedSpan(span, shape, 420)
	require.NoError(t, err)
	assert.False(t, s.Slides())
	assert.InDelta(t, -solvedOn(t, &s, Pinned, r3.Vec{Z: -3000}).Nodes[0].Shift.Z, -solvedOn(t, &s, Sliding, r3.Vec{Z: -3000}).Nodes[0].Shift.Z, 1e-12)
}

// Ears that stand up from the rails' tops hold a beam above them; what does not go in is
// refused by name.
func TestEndsThatCannotBeHeld(t *testing.T) {
	shape, flat, socket := stockOf(t, "SHS 60x60x4 cold"), stockOf(t, "Flat 60x8"), stockOf(t, "SHS 70x70x4 cold")
	on := spanOf(65)
	for k := range on.Rails {
		on.Rails[k].Face.Normal = r3.Vec{Z: 1}
	}
	on.Ears, on.Past = &Ears{Shape: flat, Past: 25}, 25
	s, err := solvedSpan(on, shape, 0)
	require.NoError(t, err)
	assert.InDelta(t, 760+2*25, s.Parts[0].Cut.Length, 1e-9)
	assert.InDelta(t, 35+25, s.Parts[1].Cut.Length, 1e-9, "its ears are as high as it stands")
	for _, c := range []struct {
		want    string
		span    Span
		shape   section.Shape
		between float64
	}{
		{"clear of the left rail", Span{Ears: &Ears{Shape: flat, Out: 25, Past: 25}, Past: 25}, shape, 0},
		{"clear of the left rail", Span{Sockets: &Sockets{Shape: socket, Out: 55, Length: 120}, Past: 25}, shape, 420},
		{"no ear; take a flat bar", Span{Ears: &Ears{Shape: shape, Out: 50, Past: 25}, Past: 25}, shape, 0},
		{"held by a bolt through its end; take a tube", Span{Ears: &Ears{Shape: flat, Out: 50, Past: 25}, Past: 25}, flat, 0},
		{"2.0 mm too large for the room inside", Span{Sockets: &Sockets{Shape: shape, Out: 50, Length: 90}, Past: 25}, stockOf(t, "SHS 60x60x4 cold"), 0},
		{"take a piece of the same kind", Span{Sockets: &Sockets{Shape: stockOf(t, "CHS 88.9x5"), Out: 50, Length: 90}, Past: 25}, shape, 0},
		{"past its mouth; make it longer", Span{Sockets: &Sockets{Shape: socket, Out: 90, Length: 80}, Past: 25}, shape, 0},
		{"more than 0 is wanted", Span{Ears: &Ears{Shape: flat, Past: 25}, Past: 25}, shape, 0},
		{"more than 0 is wanted", Span{Ears: &Ears{Shape: flat, Out: 50, Past: 25}}, shape, 0},
	} {
		span := spanOf(shape.H / 2)
		if c.between > 0 {
			span.Pad.Point.Z = -150
		}
		span.Ears, span.Sockets, span.Past = c.span.Ears, c.span.Sockets, c.span.Past
		if c.want[0] == '2' {
			span.Sockets.Shape = section.Shape{Name: "tube", Kind: section.RectTube, B: 66, H: 66, T: 4}
		}
		_, err := solvedSpan(span, c.shape, c.between)
		assert.ErrorContains(t, err, c.want)
	}
	on.Ears, on.Sockets = nil, &Sockets{Shape: socket, Out: 50, Length: 90}
	_, err = solvedSpan(on, shape, 0)
	assert.ErrorContains(t, err, "slides into no socket there")
}

// A sharp-cornered tube does not go into one that is rounded inside with no play: by hand,
// radii of 12 and 4 want (12 - 4)(1 - 1/√2) on each side.
func TestCornersOfASocket(t *testing.T) {
	shape := section.Shape{Name: "tube", Kind: section.RectTube, B: 60, H: 60, T: 4, Corner: section.CornerGiven, OuterRadius: 4}
	span := spanOf(30)
	span.Past = 25
	room := func(play float64) error {
		span.Sockets = &Sockets{Shape: section.Shape{Name: "socket", Kind: section.RectTube, B: 60 + play + 8, H: 60 + play + 8, T: 4, Corner: section.CornerGiven, OuterRadius: 16, InnerRadius: 12}, Out: 60, Length: 100}
		_, err := solvedSpan(span, shape, 0)
		return err
	}
	want := 2 * 8 * (1 - 1/math.Sqrt2)
	assert.ErrorContains(t, room(want-0.1), "its corners are sharper than those inside and want 4.7 mm")
	assert.NoError(t, room(want+0.1))
}
