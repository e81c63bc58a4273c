package clear

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/clear"
	"fitup/internal/geom/seat"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// onArms is where the arms take a point of the axle when its centre has risen,
// in plain components: the angle found by halving.
func onArms(x, z, rise float64) (float64, float64) {
	turned := func(x, z, t float64) (float64, float64) {
		sin, cos := math.Sincos(t)
		return 900 + cos*(x-900) - sin*(z+250), -250 + sin*(x-900) + cos*(z+250)
	}
	lo, hi := -0.4, 0.4 // the axle falls as this grows
	for range 60 {
		mid := (lo + hi) / 2
		if _, h := turned(50, -300, mid); h+300 > rise {
			lo = mid
		} else {
			hi = mid
		}
	}
	return turned(x, z, lo)
}

// shaftBySampling is the least distance of the shaft's middle line from a point
// of any kind over the travel, found by trying points of it one by one.
func shaftBySampling(distance func(x, y, z float64) float64) float64 {
	least := math.Inf(1)
	const rises, along = 400, 400
	for i := range rises + 1 {
		px, pz := onArms(200, -230, -110+200*float64(i)/rises)
		for k := range along + 1 {
			s := float64(k) / along
			least = min(least, distance(1000+s*(px-1000), 250, -60+s*(pz+60)))
		}
	}
	return least
}

// What runs through a piece of the vehicle is never ok there, whatever the room
// to the powertrain is.
func TestABoxRoundTheFrontShaft(t *testing.T) {
	a := frontAxle(t, frontSump, axleTube, chassisPart("from = [450, 200, -200]\nto = [550, 300, -100]"))
	assert.Equal(t, finding.OK, findingOf(t, a, "clearance.steering_shaft").Status)
	f := findingOf(t, a, "clearance.steering_shaft.moving")
	assert.Equal(t, finding.Over, f.Status)
	assert.Negative(t, f.Value)
	assert.Contains(t, f.Advice(), "The front shaft runs into the steering shaft by")
}

// A crossmember, a floor and an exhaust pipe against the shaft, each by
// sampling its travel.
func TestShaftOverItsTravelAgainstSampling(t *testing.T) {
	for name, c := range map[string]struct {
		text     string
		distance func(x, y, z float64) float64
		inside   float64 // of the other solid
	}{
		"crossmember below": {"from = [600, -400, -260]\nto = [600, 400, -260]\nradius = 20", func(x, _, z float64) float64 {
			return math.Hypot(x-600, z+260)
		}, 20},
		"floor above": {"on = [0, 0, -30]\nnormal = [0.1, 0, -1]", func(x, _, z float64) float64 {
			return (0.1*x - (z + 30)) / math.Sqrt(1.01)
		}, 0},
		"exhaust beside": {"from = [300, 330, -150]\nto = [800, 330, -150]\nradius = 25", func(x, y, z float64) float64 {
			return math.Sqrt(math.Pow(x-min(max(x, 300), 800), 2) + math.Pow(y-330, 2) + math.Pow(z+150, 2))
		}, 25},
		"box below": {"from = [420, 150, -400]\nto = [500, 320, -290]", func(x, y, z float64) float64 {
			dx, dz := x-min(max(x, 420), 500), z-min(max(z, -400), -290)
			return math.Hypot(dx, dz)
		}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			a := frontAxle(t, frontSump, chassisPart(c.text))
			f := findingOf(t, a, "clearance.steering_shaft.moving")
			want := shaftBySampling(c.distance) - 30 - c.inside
			assert.InDelta(t, want, f.Value, 0.1)
			assert.Equal(t, want < 12, f.Status == finding.Over)
			m := a.Clearances[0].Moving
			assert.Equal(t, "front shaft", m.Mover)
			assert.Contains(t, strings.Join(f.Assumes, "\n"), "left and right wheel rise alike")
			assert.Contains(t, strings.Join(f.Assumes, "\n"), "line.front.joint.1.swing")
		})
	}
}

// The axle comes up under the sump: by hand, the tube's top at full bump against
// the sump's floor, or its edge where the arc has taken it past that.
func TestAxleToSumpAtBump(t *testing.T) {
	a := frontAxle(t, frontSump, axleTube)
	least := math.Inf(1)
	for i := range 2001 {
		x, z := onArms(50, -300, -110+200*float64(i)/2000)
		dx, dz := x-min(max(x, -100), 300), z-min(max(z, -220), -50)
		least = min(least, math.Hypot(dx, dz)-40)
	}
	f := findingOf(t, a, "clearance.powertrain.moving")
	// The tube's middle line goes into the sump, so the depth is what it takes to
	// draw it out below.
	_, z := onArms(50, -300, 90)
	assert.InDelta(t, -220-z-40, f.Value, 0.05)
	assert.Less(t, least, -39.0)
	assert.Equal(t, finding.Over, f.Status)
	assert.Equal(t, "front axle's tube", a.Moving.Mover)
	assert.Equal(t, "sump", a.Moving.Part)
	assert.InDelta(t, 90, a.Moving.Where.Rise, 1e-9)
	assert.Contains(t, f.Advice(), "90.0 mm of bump")

	// With less bump it stays below.
	less := levelBuild(t, strings.Replace(frontAxleText, "bump = 90", "bump = 20", 1), frontSump, axleTube)
	_, z = onArms(50, -300, 20)
	f = findingOf(t, less, "clearance.powertrain.moving")
	assert.InDelta(t, -220-z-40, f.Value, 0.05)
	assert.Equal(t, finding.OK, f.Status)
}

// A tie rod is a piece of the axle like any other.
func TestTieRodToSump(t *testing.T) {
	tie := "[[line.front.suspension.part]]\nname = \"tie rod\"\nfrom = [180, -500, -255]\nto = [180, 500, -255]\nradius = 15\n"
	a := levelBuild(t, strings.Replace(frontAxleText, "bump = 90", "bump = 20", 1), frontSump, axleTube, tie)
	_, z := onArms(180, -255, 20)
	f := findingOf(t, a, "clearance.powertrain.moving")
	assert.InDelta(t, -220-z-15, f.Value, 0.05)
	assert.Equal(t, "front axle's tie rod", a.Moving.Mover)
	assert.Equal(t, finding.Over, f.Status)
}

// The piece that the shaft is bolted to is left out, and that is said; another
// one that the shaft passes is not.
func TestWhatAShaftIsBoltedTo(t *testing.T) {
	a := frontAxle(t, axleTube, "[[powertrain.part]]\nname = \"transfer case\"\nfrom = [900, 100, -150]\nto = [1100, 300, 50]\n"+
		"[[powertrain.part]]\nname = \"starter\"\nfrom = [700, 190, -180]\nto = [850, 280, -60]\n")
	f := findingOf(t, a, "clearance.powertrain.moving")
	assert.Equal(t, finding.Over, f.Status)
	assert.Equal(t, "starter", a.Moving.Part)
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "the room to the transfer case, which it is bolted to, is not in it")
}

// A firewall given as a flat surface has no end, so the shaft that passes under
// it is not judged against it; a floor is.
func TestShaftPastAFirewall(t *testing.T) {
	a := frontAxle(t, frontSump, axleTube, chassisPart("on = [700, 0, 0]\nfacing = \"front\""))
	f := findingOf(t, a, "clearance.steering_shaft.moving")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "give it as a box")
	a = frontAxle(t, frontSump, axleTube, chassisPart("on = [0, 0, -120]\nfacing = \"down\""))
	assert.Equal(t, finding.Over, findingOf(t, a, "clearance.steering_shaft.moving").Status)
}

// A crossmember that holds the shaft is not asked to keep clear of it.
func TestACrossmemberThatCarriesTheShaft(t *testing.T) {
	a := frontAxle(t, frontSump, axleTube, chassisPart("from = [450, 200, -200]\nto = [550, 300, -100]\ncarries = [\"front\"]"))
	_, ok := a.Finding("clearance.steering_shaft.moving")
	assert.False(t, ok)
	assert.Nil(t, a.Clearances[0].Moving)
}

// The yokes sweep wider than the tube.
func TestYokesSweep(t *testing.T) {
	joints := "[[line.front.joint]]\nswing = 130\n[[line.front.joint]]\nswing = 110\n"
	beside := chassisPart("at = [1000, 330, -60]")
	a := frontAxle(t, frontSump, axleTube, beside)
	assert.InDelta(t, 50, findingOf(t, a, "clearance.steering_shaft.moving").Value, 0.05)
	a = frontAxle(t, frontSump, axleTube, joints, beside)
	f := findingOf(t, a, "clearance.steering_shaft.moving")
	assert.InDelta(t, 80-65, f.Value, 0.05)
	assert.NotContains(t, strings.Join(f.Assumes, "\n"), "swing")
}

// An axle of which the file has no piece is not in the room to a piece of the
// vehicle: that is said, and an exhaust that the axle comes up under is not
// known.
func TestAnAxleWithoutPiecesIsSaidOrNotKnown(t *testing.T) {
	over := "from = [50, -300, -150]\nto = [50, 300, -150]\nradius = 25"
	a := frontAxle(t, chassisPart(over))
	f := findingOf(t, a, "clearance.steering_shaft.moving")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "line.front.suspension.part is not in the file yet, and the front axle passes near the steering shaft")

	// With the tube in the file: its top at full bump against the pipe.
	f = findingOf(t, frontAxle(t, axleTube, chassisPart(over)), "clearance.steering_shaft.moving")
	least := math.Inf(1)
	for i := range 2001 {
		x, z := onArms(50, -300, -110+200*float64(i)/2000)
		least = min(least, math.Hypot(x-50, z+150)-40-25)
	}
	assert.InDelta(t, least, f.Value, 0.05)

	a = frontAxle(t, chassisPart("from = [700, -300, 300]\nto = [900, 300, 300]\nradius = 25"))
	f = findingOf(t, a, "clearance.steering_shaft.moving")
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "the front axle itself is not in it: line.front.suspension.part is not in the file yet")

	// A floor reaches over every axle.
	f = findingOf(t, frontAxle(t, chassisPart("on = [0, 0, 200]\nfacing = \"down\"")), "clearance.steering_shaft.moving")
	assert.Equal(t, finding.NotKnown, f.Status)
}

// The verdict rests on what is taken for granted of every shaft, not only of the
// one that comes nearest: yokes of another may reach further than its tube.
func TestWhatIsAssumedOfEveryShaftIsSaid(t *testing.T) {
	swings := "[[line.front.joint]]\nswing = 90\n[[line.front.joint]]\nswing = 90\n"
	far := chassisPart("from = [450, 300, -100]\nto = [550, 300, -100]\nradius = 5")
	a := frontAxle(t, axleTube, swings, far, "[line.rear]\noutput = [1200, 0, 0]\n[line.rear.pinion]\nat = [2600, 0, -60]\nslope = \"3 deg down to the rear\"\n"+
		"[[line.rear.shaft]]\noutside = 60\n[line.rear.suspension]\nkind = \"fixed\"\n")
	f := findingOf(t, a, "clearance.steering_shaft.moving")
	require.Equal(t, "front shaft", a.Clearances[0].Moving.Mover)
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "the tube without the sweep of its yokes: line.rear.joint.1.swing")
}

// A piece of the vehicle may go by the name of what the shaft is bolted to.
func TestAPieceOfTheVehicleWithThePartsName(t *testing.T) {
	a := frontAxle(t, frontSump, axleTube, "[[chassis]]\nname = \"transfer case\"\nfrom = [450, 200, -200]\nto = [550, 300, -100]\n")
	assert.Equal(t, finding.Over, findingOf(t, a, "clearance.transfer_case.moving").Status)
}

// What the powertrain does softer than the rates say counts where it is nearer
// only, and leaves the room open by as much.
func TestSofterStandsLeaveTheRoomOpen(t *testing.T) {
	b, in := inputOf(t, levelHead+frontAxleText+frontSump+chassisPart("from = [950, 200, -400]\nto = [960, 300, -140]"))
	built := run(b, in)
	sunk := func(by float64, name string, soft bool) seat.Stand {
		p := in.Pose.V
		p.At.Z -= by
		return seat.Stand{Name: name, Pose: p, Soft: soft}
	}
	in.Stands = append(in.Stands, sunk(4, "sagged", false), sunk(7, "sagged", true), sunk(-3, "risen", true))
	a := run(b, in)
	was, m := built.Clearances[0].Moving, a.Clearances[0].Moving
	assert.InDelta(t, 3.5, was.Gap.V-m.Gap.V, 0.2, "the shaft's end goes down with it")
	assert.Contains(t, m.Where.Under, "the powertrain sagged")
	assert.InDelta(t, 2.6*2/math.Sqrt(3), m.Gap.Expanded(), 0.2)
	b, under := inputOf(t, levelHead+frontAxleText+frontSump+axleTube)
	level := run(b, under).Moving.Gap
	under.Stands = append(under.Stands, sunk(5, "sagged", true))
	softer := run(b, under).Moving.Gap
	assert.InDelta(t, level.V, softer.V, 1e-9, "the sump over the axle, where the rates have it")
	assert.InDelta(t, 5*2/math.Sqrt(3), softer.Expanded(), 1e-3)

	b, _ = inputOf(t, levelHead+frontAxleText+frontSump+chassisPart("from = [950, 200, -400]\nto = [960, 300, -140]"))
	in.Stands = in.Stands[:3]
	assert.InDelta(t, m.Gap.Expanded(), run(b, in).Clearances[0].Moving.Gap.Expanded(), 1e-9)
	in.Stands = in.Stands[:2]
	assert.Zero(t, run(b, in).Clearances[0].Moving.Gap.U())
}

// What goes with a wheel meets the half shaft of that wheel where both are at one time, and
// that of another wheel, or a solid that stands, wherever it comes past.
func TestTheHalfShaftOfTheSameWheel(t *testing.T) {
	at := func(rise float64) (clear.Shape, error) {
		return clear.Segment{A: r3.Vec{Y: -200}, B: r3.Vec{Y: -600, Z: rise}, R: 10}, nil
	}
	w := moverWay{stand: anyStand}
	for _, rise := range []float64{-60, 0, 60} {
		s, _ := at(rise)
		w.path.At, w.path.Solids = append(w.path.At, rise), append(w.path.Solids, s)
	}
	w.path.Between = at
	outer := r3.Vec{Y: -600}
	mv := mover{name: "half shaft", ways: []moverWay{w}, wheel: &outer}
	// A rod along the vehicle 50 below the shaft's outer end, up and down with it.
	least := func(with With) float64 {
		rod := clear.Segment{A: r3.Vec{X: -100, Y: -600, Z: with.Rise - 50}, B: r3.Vec{X: 100, Y: -600, Z: with.Rise - 50}, R: 10}
		p := piece{stood: stood{name: "rod", with: []With{with}}}.of([]clear.Shape{rod})
		m := leastRoom([]mover{mv}, crowdsOf(p.standing()), finding.Estimate{}, func(mover) bool { return false }, math.Inf(1))
		require.True(t, m.Gap.Known, m.Why)
		return m.Gap.V
	}
	for _, rise := range []float64{-60, -30, 0, 60, 75} {
		same := With{Moves: true, Wheel: r3.Vec{X: 20, Y: -700}, Rise: rise, Step: 10}
		lowest := max(rise-5, -60.0) // of the shaft in that stretch, or where its travel ends
		lowest = min(lowest, 60)
		turn := math.Atan2(lowest, 400)
		assert.InDelta(t, (lowest-rise+50)*math.Cos(min(turn, 0))-20, least(same), 0.6, "%g", rise)
		other := same
		other.Wheel.Y = 700
		assert.Less(t, least(other), 60.0)
		still := same
		still.Moves = false
		if rise > -10 {
			assert.Less(t, least(still), 0.0, "%g", rise)
		}
		far := same
		far.Wheel.X = 2800
		assert.Equal(t, least(still), least(far))
		assert.Equal(t, least(still), least(other))
	}
}
