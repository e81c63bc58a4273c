package fold

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// turnedPose stands askew in the vehicle, so that no axis is by chance the right one.
func turnedPose() geom.Pose {
	x := r3.Unit(r3.Vec{X: 0.2, Y: 0.9, Z: 0.1})
	y := r3.Unit(r3.Cross(r3.Vec{X: 1}, x))
	return geom.Pose{X: x, Y: y, Z: r3.Cross(x, y), At: r3.Vec{X: 260, Y: -300, Z: 40}}
}

func aBox() Box {
	return Box{Name: "left front", Pose: turnedPose(), Foot: r2.Vec{X: -90, Y: -30}, Off: r2.Vec{X: math.Cos(0.12), Y: math.Sin(0.12)},
		Width: 90, FootDepth: 95, Depth: 60, Past: 45, Cover: 8, Side: 6, Inset: 7, Holes: []bracket.Hole{{Diameter: 13}}}
}

// What is cut stands where it has to: every plate's corners at the foot are off the face
// by no more than the gap that is told, the sides touch both the others along their whole
// length, and the free ends are flush.
func TestABoxGoesTogether(t *testing.T) {
	b, err := aBox().Make()
	require.NoError(t, err)
	require.Len(t, b.Sheets, 3)
	off := func(p r3.Vec) float64 { // the face, off it
		o := b.Pose.Own(p)
		return (o.X-b.Foot.X)*b.Off.X + (o.Y-b.Foot.Y)*b.Off.Y
	}
	for i := range b.Sheets {
		s := &b.Sheets[i]
		for _, pose := range s.Poses() {
			least, most := math.Inf(1), math.Inf(-1)
			for _, front := range []bool{false, true} {
				for _, p := range s.Corners(pose, front) {
					least, most = min(least, off(p)), max(most, b.Pose.Own(p).X)
				}
			}
			assert.InDelta(t, 0, least, 1e-9, s.Plate.Name)
			assert.InDelta(t, b.Past, most, 1e-9, s.Plate.Name)
		}
	}
	assert.InDelta(t, 8*math.Tan(0.12), math.Abs(b.onFace(0)-b.onFace(-8)), 1e-9)
	upper, under, side := &b.Sheets[0], &b.Sheets[1], &b.Sheets[2]
	for _, pose := range side.Poses() {
		for _, front := range []bool{false, true} {
			for k, p := range side.Corners(pose, front) {
				cover, inside := upper, -4.0
				if k < 2 { // its lower corners
					cover, inside = under, 4
				}
				assert.InDelta(t, inside, cover.Pose.Own(p).Z, 1e-9, "corner %d", k)
			}
		}
		assert.InDelta(t, 35, math.Abs(b.Pose.Own(pose.At).Z), 1e-9)
	}
	// Depth over both plates, square to the upper face, at the free end and at the foot.
	assert.InDelta(t, 60, b.DepthAt(45), 1e-12)
	assert.InDelta(t, 95, b.DepthAt(b.Start), 1e-12)
	for _, p := range under.Corners(under.Pose, false) {
		o := b.Pose.Own(p)
		assert.InDelta(t, -b.DepthAt(o.X), o.Y, 1e-9)
	}
	for _, run := range b.FootLines() {
		for _, p := range run {
			assert.InDelta(t, 0, off(p), 1e-9)
		}
	}
	assert.InDelta(t, 13, upper.Plate.Holes[0].Diameter, 0)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(upper.Pose.Point(r3.Vec{X: upper.Plate.Holes[0].At.X, Y: upper.Plate.Holes[0].At.Y, Z: 4}), b.Pose.At)), 1e-9)
}

// Of one depth it goes as a cantilever does: F l³/(3 E I) and F l/(G A), and a tapered one
// lies between those of its two ends (Gere, Mechanics of Materials, from memory).
func TestABoxGivesAsACantilever(t *testing.T) {
	b := aBox()
	b.Off = r2.Vec{X: 1}
	gives := func(foot, end float64) float64 {
		b.FootDepth, b.Depth = foot, end
		made, err := b.Make()
		require.NoError(t, err)
		c, err := made.Cantilever(0)
		require.NoError(t, err)
		return r3.Dot(c.Gives(r3.Scale(1000, made.Pose.Y), made.Pose.At), made.Pose.Y)
	}
	p, err := b.section(80).Properties()
	require.NoError(t, err)
	const l = 90.0
	assert.InEpsilon(t, 1000*(l*l*l/(3*section.SteelE*p.Iy)+l/(section.SteelG*p.Avz)), gives(80, 80), 1e-9)
	assert.Less(t, gives(80, 60), gives(60, 60))
	assert.Greater(t, gives(80, 60), gives(80, 80))
	// The stress at its foot, by hand: bending over the modulus and shear over the sides.
	b.FootDepth, b.Depth = 80, 80
	made, err := b.Make()
	require.NoError(t, err)
	c, err := made.Cantilever(13)
	require.NoError(t, err)
	s, at, err := c.Stress(r3.Scale(1000, made.Pose.Y), made.Pose.At, 235)
	require.NoError(t, err)
	assert.Equal(t, "at its foot", c.Stations[at].Where)
	assert.InEpsilon(t, math.Sqrt(math.Pow(1000*l/p.Wy, 2)+3*math.Pow(1000/p.Avz, 2)), s.Equivalent, 1e-9)
	assert.Less(t, c.Stations[len(c.Stations)-1].Section.Wy, p.Wy, "holes at the pad")
	seam, err := made.Seam(r3.Scale(1000, made.Pose.Y), made.Pose.At)
	require.NoError(t, err)
	one, err := b.section(80).Seam(section.Forces{ShearZ: 1000})
	require.NoError(t, err)
	assert.InEpsilon(t, one, seam, 1e-9)
	assert.InEpsilon(t, 4*135, made.SeamLength(), 1e-9)
}

func TestBoxesThatCannotBe(t *testing.T) {
	for want, change := range map[string]func(*Box){
		"has no length; move the pad off": func(b *Box) { b.Foot.X = 3 },
		"looks almost the way the face":   func(b *Box) { b.Off = r2.Vec{X: 0.05, Y: 1} },
		"reaches 6.5 mm over a side":      func(b *Box) { b.Holes[0].At.X = 32 },
		"breaks out of the plate":         func(b *Box) { b.Holes[0].At.Y = 42 },
		"meet under a cover of 20.0 mm":   func(b *Box) { b.Width = 20 },
		"leaves nothing between":          func(b *Box) { b.Depth = 16 },
		"more than 0 is wanted of both":   func(b *Box) { b.Past = 0 },
	} {
		b := aBox()
		b.Holes = append([]bracket.Hole{}, b.Holes...)
		change(&b)
		_, err := b.Make()
		require.ErrorContains(t, err, want)
		assert.ErrorContains(t, err, "left front")
	}
}

func aClamp() Clamp {
	p := turnedPose()
	return Clamp{Name: "left front", From: r3.Vec{X: 100, Y: -500, Z: -200}, To: r3.Add(r3.Vec{X: 100, Y: -500, Z: -200}, r3.Scale(900, p.X)), Tube: 60, Wall: 6, Length: 80,
		Width: 50, Thickness: 10, Past: 25, Holes: []bracket.Hole{{Diameter: 13}}, Most: geom.Deg / 2}
}

// A tab square across the tube lies with its whole edge on the sleeve, in the middle of
// its thickness; one along it with both its corners; the middle of its pad is where it is
// wanted, and the tab looks as it has to.
func TestATabStandsOnItsClamp(t *testing.T) {
	c := aClamp()
	axis := turnedPose().X
	on := r3.Add(c.From, r3.Scale(400, axis))
	for _, square := range []bool{true, false} {
		up := r3.Unit(r3.Cross(axis, r3.Vec{X: 1})) // square off the axis
		c.Pad = bracket.Face{Point: r3.Add(on, r3.Scale(90, up)), Normal: r3.Scale(-1, axis)}
		if !square {
			c.Pad.Normal = r3.Cross(axis, up)
			c.Pad.Point = r3.Add(c.Pad.Point, r3.Scale(8, c.Pad.Normal))
		}
		made, err := c.Make()
		require.NoError(t, err)
		assert.Equal(t, square, made.Square)
		tab := &made.Sheets[0]
		for _, q := range tab.Plate.Outline[2:] {
			d := r3.Sub(tab.Pose.Point(r3.Vec{X: q.X, Y: q.Y}), c.From)
			assert.InDelta(t, 36, r3.Norm(r3.Sub(d, r3.Scale(r3.Dot(d, axis), axis))), 1e-9)
		}
		pad := tab.Pose.Point(r3.Vec{X: tab.Plate.Holes[0].At.X, Y: tab.Plate.Holes[0].At.Y, Z: 5})
		assert.InDelta(t, 0, r3.Norm(r3.Sub(pad, c.Pad.Point)), 1e-9)
		assert.InDelta(t, 1, r3.Dot(tab.Pose.Z, r3.Unit(c.Pad.Normal)), 1e-12)
		assert.InDelta(t, 90, made.Reach, 1e-9)
		want := 0.0
		if !square {
			want = 3
		}
		assert.InDelta(t, want, made.Aside, 1e-9)
		a, b := made.Rings(12)
		assert.InDelta(t, 80, r3.Norm(r3.Sub(a[0], b[0])), 1e-9)
	}
	assert.InEpsilon(t, math.Pi*66*6*80*section.SteelDensity, (&Clamped{Clamp: c}).Sleeve(), 1e-9)
}

// What a clamp has to hold, by hand: a force along the tube slips and tips the tab along
// it, one across turns it round the tube, one off it pulls.
func TestAClampHolds(t *testing.T) {
	c := aClamp()
	axis := turnedPose().X
	up := r3.Unit(r3.Cross(axis, r3.Vec{X: 1}))
	c.Pad = bracket.Face{Point: r3.Add(r3.Add(c.From, r3.Scale(400, axis)), r3.Scale(90, up)), Normal: axis}
	made, err := c.Make()
	require.NoError(t, err)
	at := r3.Add(made.Pose.At, r3.Scale(90, up))
	g := made.Under(r3.Scale(1000, axis), at)
	assert.InDelta(t, 1000, g.Slip, 1e-9)
	assert.InDelta(t, 1000*90/40.0, g.Pull, 1e-9)
	g = made.Under(r3.Scale(1000, r3.Cross(axis, up)), at)
	assert.InDelta(t, 1000*90/30.0, g.Slip, 1e-9)
	assert.InDelta(t, 0, g.Pull, 1e-9)
	assert.InDelta(t, 700, made.Under(r3.Scale(700, up), at).Pull, 1e-9)
	assert.InDelta(t, 0, made.Under(r3.Scale(-700, up), at).Pull, 1e-9)
	assert.InDelta(t, 0.2*2*30000, Holds(40000, 10000, 0.2), 1e-9)
	assert.InDelta(t, 0, Holds(4000, 10000, 0.2), 0)
	cant, err := made.Cantilever(13)
	require.NoError(t, err)
	go3 := r3.Dot(cant.Gives(r3.Scale(1000, axis), at), axis)
	i, l := 50*1000/12.0, 90-36.0
	assert.InEpsilon(t, 1000*(l*l*l/(3*section.SteelE*i)+l/(section.SteelG*500*shearShare)), go3, 1e-9)
}

func TestClampsThatCannotBe(t *testing.T) {
	axis := turnedPose().X
	up := r3.Unit(r3.Cross(axis, r3.Vec{X: 1}))
	for want, change := range map[string]func(*Clamp){
		"inside the clamp of 36.0 mm radius": func(c *Clamp) { c.Pad.Point = r3.Add(c.From, r3.Scale(30, up)) },
		"no wider than 64.8 mm":              func(c *Clamp) { c.Width = 70 },
		"stands over the ends":               func(c *Clamp) { c.Width, c.Pad.Normal = 90, r3.Cross(axis, up) },
		"turn the pad":                       func(c *Clamp) { c.Pad.Normal = r3.Add(axis, up) },
		"the tube it goes round":             func(c *Clamp) { c.To = c.From },
		"stand beside the clamp": func(c *Clamp) {
			c.Pad.Normal = r3.Cross(axis, up)
			c.Pad.Point = r3.Add(c.Pad.Point, r3.Scale(25, c.Pad.Normal))
		},
		"a size of 0 mm": func(c *Clamp) { c.Wall = 0 },
	} {
		c := aClamp()
		c.Pad = bracket.Face{Point: r3.Add(r3.Add(c.From, r3.Scale(400, axis)), r3.Scale(90, up)), Normal: axis}
		change(&c)
		_, err := c.Make()
		assert.ErrorContains(t, err, want)
	}
}
