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

const (
	downPipe = "[[powertrain.exhaust]]\nname = \"down pipe\"\npoints = [[200, 200, 100], [200, 400, 100], [200, 400, -300], [700, 400, -300]]\nbend = 80\ndiameter = 50\n"
	tailPipe = "[[exhaust]]\nname = \"tail pipe\"\npoints = [[1000, 400, -300], [2500, 400, -300]]\ndiameter = 50\nheat_gap = 40\nheat_source = \"the hose's maker\"\n"
	block    = "[[powertrain.part]]\nname = \"block\"\nfrom = [0, -180, -150]\nto = [500, 180, 300]\n"
	starter  = "[[powertrain.part]]\nname = \"starter\"\nfrom = [560, 250, -220]\nto = [760, 330, -140]\n"
)

func pipeLine(name, from, to string) string {
	return "[[chassis]]\nname = \"" + name + "\"\nfrom = " + from + "\nto = " + to + "\nradius = 4\n"
}

// A straight pipe and a line beside it, by hand.
func TestHeatOfAStraightPipe(t *testing.T) {
	j := levelBuild(t, block, tailPipe, pipeLine("fuel line", "[900, 460, -280]", "[3000, 460, -280]"))
	f := findingOf(t, j, "exhaust.tail_pipe")
	want := math.Hypot(60, 20) - 25 - 4
	assert.InDelta(t, want, f.Value, 1e-6)
	assert.Equal(t, finding.Over, f.Status)
	assert.Equal(t, "the hose's maker", f.Source)
	assert.Contains(t, f.Advice(), "fuel line")
	assert.Equal(t, "fuel line", j.Exhaust[0].Built.To)
	far := levelBuild(t, block, tailPipe, pipeLine("fuel line", "[900, 500, -280]", "[3000, 500, -280]"))
	assert.Equal(t, finding.OK, findingOf(t, far, "exhaust.tail_pipe").Status)
	bare := levelBuild(t, block, strings.Replace(tailPipe, "heat_gap = 40\nheat_source = \"the hose's maker\"\n", "", 1), pipeLine("fuel line", "[900, 460, -280]", "[3000, 460, -280]"))
	assert.InDelta(t, 25, findingOf(t, bare, "exhaust.tail_pipe").Limit, 1e-9)
}

// A bend against the centre line turned through its arc: never farther off than the pipe
// is, and nearer by no more than the sagitta.
func TestHeatRoundABend(t *testing.T) {
	j := levelBuild(t, block, downPipe, pipeLine("brake line", "[150, 460, 100]", "[260, 460, 100]"), pipeLine("fuel line", "[330, 500, -260]", "[280, 300, -420]"))
	f := findingOf(t, j, "exhaust.down_pipe")
	pts := []r3.Vec{{X: 200, Y: 200, Z: 100}, {X: 200, Y: 400, Z: 100}, {X: 200, Y: 400, Z: -300}, {X: 700, Y: 400, Z: -300}}
	true_ := math.Inf(1)
	near := func(p r3.Vec) {
		for _, l := range [][2]r3.Vec{{{X: 150, Y: 460, Z: 100}, {X: 260, Y: 460, Z: 100}}, {{X: 330, Y: 500, Z: -260}, {X: 280, Y: 300, Z: -420}}} {
			d := r3.Sub(l[1], l[0])
			s := min(1, max(0, r3.Dot(r3.Sub(p, l[0]), d)/r3.Norm2(d)))
			true_ = min(true_, r3.Norm(r3.Sub(p, r3.Add(l[0], r3.Scale(s, d))))-25-4)
		}
	}
	from := pts[0]
	for i := 1; i < len(pts); i++ {
		in := r3.Unit(r3.Sub(pts[i], pts[i-1]))
		to := pts[i]
		if i+1 < len(pts) {
			to = r3.Sub(pts[i], r3.Scale(80, in)) // right angles
		}
		for k := range 2001 {
			near(r3.Add(from, r3.Scale(float64(k)/2000, r3.Sub(to, from))))
		}
		if i+1 < len(pts) {
			on := r3.Unit(r3.Sub(pts[i+1], pts[i]))
			for k := range 2001 {
				sin, cos := math.Sincos(float64(k) / 2000 * math.Pi / 2)
				near(r3.Add(to, r3.Add(r3.Scale(80*sin, in), r3.Scale(80*(1-cos), on))))
			}
			from = r3.Add(pts[i], r3.Scale(80, on))
		}
	}
	assert.LessOrEqual(t, f.Value, true_+1e-3)
	assert.GreaterOrEqual(t, f.Value, true_-clear.Sagitta-1e-3)
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "bends as runs of rods, thicker than the pipe by 0.5 mm")
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "the room to the block, which it is bolted to, is not in it")
}

// A pipe on the powertrain and a part of it that it is not bolted to: the starter.
func TestHeatOnTheStarter(t *testing.T) {
	j := levelBuild(t, block, starter, downPipe)
	f := findingOf(t, j, "exhaust.down_pipe")
	assert.Equal(t, "starter", j.Exhaust[0].Built.To)
	assert.InDelta(t, math.Hypot(400-330, 300-220)-25, f.Value, 1e-6, "from the last leg to its lower edge")
}

// The powertrain rocks: its own pipe goes with it, one on the chassis stays, and a
// flexible joint between the two follows its end.
func TestPipesRock(t *testing.T) {
	line := pipeLine("fuel line", "[600, 480, -320]", "[3000, 480, -320]")
	b, in := inputOf(t, levelHead+block+downPipe+strings.Replace(tailPipe, "points", "from = \"down pipe\"\npoints", 1)+line)
	in.Rock.Asked = true
	over := in.Pose.V
	over.At.Y += 20
	in.Stands = append(in.Stands, seat.Stand{Name: "rocked over", Pose: over})
	j := run(b, in)
	gap := math.Hypot(80, 20) - 25 - 4
	assert.InDelta(t, gap, findingOf(t, j, "exhaust.down_pipe").Value, 1e-6)
	rocked := findingOf(t, j, "exhaust.down_pipe.rocked")
	assert.InDelta(t, math.Hypot(60, 20)-25-4, rocked.Value, 1e-6)
	assert.Equal(t, "rocked over", j.Exhaust[0].Rocked.At)
	tail := findingOf(t, j, "exhaust.tail_pipe.rocked")
	assert.Less(t, tail.Value, gap-5, "the flexible joint goes over with the powertrain's end")
	assert.InDelta(t, math.Hypot(80, 20)-25-4, findingOf(t, j, "exhaust.tail_pipe").Value, 1e-6)
	assert.Contains(t, strings.Join(tail.Assumes, "\n"), "the flexible joint to the down pipe as a straight pipe")
	// Without one it stays where it is.
	b, in = inputOf(t, levelHead+block+tailPipe+line)
	in.Rock.Asked = true
	in.Stands = append(in.Stands, seat.Stand{Name: "rocked over", Pose: over})
	j = run(b, in)
	assert.InDelta(t, gap, findingOf(t, j, "exhaust.tail_pipe.rocked").Value, 1e-6)
	// Softer than the rates say leaves it open.
	b, in = inputOf(t, levelHead+block+downPipe+line)
	in.Rock.Asked = true
	in.Stands = append(in.Stands, seat.Stand{Name: "rocked over", Pose: over, Soft: true})
	j = run(b, in)
	assert.InDelta(t, gap, findingOf(t, j, "exhaust.down_pipe.rocked").Value, 1e-6)
	assert.Greater(t, findingOf(t, j, "exhaust.down_pipe.rocked").Uncertainty, 10.0)
}

// Unknown is never ok: pipes of which something is missing, nothing to come near, a
// piece without a place, a powertrain without one.
func TestHeatThatIsNotKnown(t *testing.T) {
	line := pipeLine("fuel line", "[600, 500, -320]", "[3000, 500, -320]")
	for name, c := range map[string]struct{ text, lacks string }{
		"no diameter":      {levelHead + line + strings.Replace(tailPipe, "diameter = 50\n", "", 1), "exhaust.1.diameter"},
		"no points":        {levelHead + line + strings.Replace(tailPipe, "points = [[1000, 400, -300], [2500, 400, -300]]\n", "", 1), "exhaust.1.points"},
		"nothing near":     {levelHead + tailPipe, "the file has nothing yet that the pipe could come near"},
		"piece in limbo":   {levelHead + line + "[[chassis]]\nname = \"brake line\"\nfrom = [0, 0, 0]\n" + tailPipe, "brake line: its other end is not in the file yet"},
		"no place":         {"format = 3\n" + line + block + tailPipe, "placement"},
		"on no powertrain": {"format = 3\n" + line + downPipe, "placement"},
	} {
		b, in := inputOf(t, c.text)
		j := run(b, in)
		id := "exhaust.tail_pipe"
		if strings.Contains(c.text, "down pipe") {
			id = "exhaust.down_pipe"
		}
		f := findingOf(t, j, id)
		assert.Equal(t, finding.NotKnown, f.Status, name)
		assert.NotEmpty(t, f.Missing, name)
		if c.lacks != "placement" {
			assert.Contains(t, f.Missing, c.lacks, name)
		}
	}
}

// A gearbox through an opening in the firewall: its least distance to the edges; and the
// sheet is behind it as before it.
func TestRoomThroughATunnel(t *testing.T) {
	box := "[[powertrain.part]]\nname = \"gearbox\"\nfrom = [500, -120, -150]\nto = [1200, 130, 140]\n"
	firewall := "on = [900, 0, 0]\nfacing = \"front\"\nopening = [[900, -200, -220], [900, 200, 190]]"
	j := levelBuild(t, box, chassisPart(firewall))
	f := findingOf(t, j, "clearance.steering_shaft")
	assert.InDelta(t, 50, f.Value, 1e-6, "to the upper edge")
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "a sheet without thickness")
	whole := levelBuild(t, box, chassisPart("on = [900, 0, 0]\nfacing = \"front\""))
	assert.Equal(t, finding.Over, findingOf(t, whole, "clearance.steering_shaft").Status)
	narrow := levelBuild(t, box, chassisPart(strings.Replace(firewall, "200, 190", "110, 190", 1)))
	f = findingOf(t, narrow, "clearance.steering_shaft")
	assert.InDelta(t, -20, f.Value, 1e-6)
	assert.Equal(t, finding.Over, f.Status)
	floor := levelBuild(t, box, chassisPart("on = [0, 0, 100]\nfacing = \"down\"\nopening = [[450, -150, 100], [1900, 180, 100]]"))
	assert.InDelta(t, 30, findingOf(t, floor, "clearance.steering_shaft").Value, 1e-6)
	lacks := levelBuild(t, box, chassisPart("on = [900, 0, 0]\nopening = [[900, -200, -220], [900, 200, 190]]"))
	assert.Equal(t, finding.NotKnown, findingOf(t, lacks, "clearance.steering_shaft").Status)
}

// The steering shaft has the room of rods of its diameter, and is among what the exhaust
// comes near.
func TestRoomOfTheSteeringShaft(t *testing.T) {
	steering := "[steering]\ncolumn = [900, 240, 300]\ninput = [-100, 260, -100]\ngap = 30\n[[steering.joint]]\n[[steering.joint]]\n[[steering.shaft]]\ndiameter = 24\n"
	rod := "from = [900, 240, 300]\nto = [-100, 260, -100]\nradius = 12"
	j := levelBuild(t, block, steering, chassisPart(rod))
	f := findingOf(t, j, "clearance.steering")
	assert.InDelta(t, findingOf(t, j, "clearance.steering_shaft").Value, f.Value, 1e-9)
	assert.InDelta(t, 30, f.Limit, 1e-9)
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "without its joints' yokes")
	missing := levelBuild(t, block, strings.Replace(steering, "diameter = 24\n", "", 1))
	f = findingOf(t, missing, "clearance.steering")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Equal(t, []string{"steering.shaft[0].diameter"}, f.Lacks())
	// Two shafts: the nearer of the two, as of two rods.
	bent := strings.Replace(steering, "[[steering.joint]]\n[[steering.joint]]", "[[steering.joint]]\n[[steering.joint]]\nat = [400, 220, 100]\n[[steering.joint]]", 1) + "[[steering.shaft]]\ndiameter = 30\n"
	j = levelBuild(t, block, bent)
	a := findingOf(t, levelBuild(t, block, chassisPart("from = [900, 240, 300]\nto = [400, 220, 100]\nradius = 12")), "clearance.steering_shaft").Value
	b := findingOf(t, levelBuild(t, block, chassisPart("from = [400, 220, 100]\nto = [-100, 260, -100]\nradius = 15")), "clearance.steering_shaft").Value
	assert.InDelta(t, min(a, b), findingOf(t, j, "clearance.steering").Value, 1e-9)
	hot := levelBuild(t, block, steering, "[[exhaust]]\nname = \"pipe\"\npoints = [[0, 330, -60], [500, 330, 140]]\ndiameter = 50\n")
	require.Len(t, hot.Exhaust, 1)
	assert.Equal(t, "steering shaft", hot.Exhaust[0].Built.To)
}
