package clear

import (
	"math"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Every pair of shapes against the distance worked out by hand.
func TestRoomOfEveryShape(t *testing.T) {
	box := parts("from = [100, -100, -200]\nto = [400, 100, -50]")
	ball := parts("at = [250, 0, -125]\nradius = 50")
	point := parts("at = [250, 0, -125]")
	rod := parts("from = [100, 0, -125]\nto = [400, 0, -125]\nradius = 40")
	for name, c := range map[string]struct {
		part, chassis string
		want          float64
	}{
		"box and floor below":   {box, "on = [0, 0, -260]\nfacing = \"up\"", 60},
		"box and bonnet above":  {box, "on = [0, 0, 10]\nfacing = \"down\"", 60},
		"box and firewall":      {box, "on = [430, 0, 0]\nfacing = \"front\"", 30},
		"box and radiator":      {box, "on = [80, 0, 0]\nfacing = \"rear\"", 20},
		"box and wing":          {box, "on = [0, 180, 0]\nfacing = \"left\"", 80},
		"box and sloping floor": {box, "on = [400, 0, -300]\nnormal = [0, 0, 5]", 100},
		"box and crossmember":   {box, "from = [100, -400, -300]\nto = [200, 400, -220]", 20},
		"box and rod":           {box, "from = [0, 150, -100]\nto = [900, 150, -100]\nradius = 12", 38},
		"box and pipe clip":     {box, "at = [430, 140, -100]", 50},
		"box and ball":          {box, "at = [430, 140, -100]\nradius = 20", 30},
		"ball and point":        {ball, "at = [250, 100, -125]", 50},
		"point and point":       {point, "at = [250, 30, -165]", 50},
		"rod and rod across":    {rod, "from = [250, -100, -25]\nto = [250, 100, -25]\nradius = 25", 35},
		"box in the floor":      {box, "on = [0, 0, -170]\nfacing = \"up\"", -30},
	} {
		t.Run(name, func(t *testing.T) {
			a := levelBuild(t, c.part, chassisPart(c.chassis))
			require.Len(t, a.Clearances, 1)
			f := findingOf(t, a, "clearance.steering_shaft")
			assert.InDelta(t, c.want, f.Value, 1e-9)
			assert.Equal(t, c.want < 12, f.Status == finding.Over)
			assert.InDelta(t, math.Abs(c.want), r3.Norm(r3.Sub(a.Clearances[0].To, a.Clearances[0].From)), 1e-9)
			_, ok := a.Finding("clearance.steering_shaft.rocked")
			assert.False(t, ok, "nothing is said of mounts nobody has begun")
		})
	}
}

func TestTheNearestPartAndTheGapWanted(t *testing.T) {
	a := levelBuild(t, parts("from = [0, -50, -50]\nto = [100, 50, 50]"),
		"[[powertrain.part]]\nname = \"fan\"\nfrom = [-40, -200, -200]\nto = [-20, 200, 200]\n",
		chassisPart("from = [-90, -300, 0]\nto = [-90, 300, 0]\nradius = 10\ngap = 45"))
	f := findingOf(t, a, "clearance.steering_shaft")
	assert.Equal(t, "fan", a.Clearances[0].Part)
	assert.InDelta(t, 40, f.Value, 1e-9)
	assert.InDelta(t, 45, f.Limit, 1e-9)
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Source, "in this build's file")
	assert.Contains(t, f.Advice(), "The fan comes nearer to the steering shaft than is wanted")
}

// The rocked room is the least over the stands, and as open as the softer ones and
// the ends of estimated rates leave it.
func TestRockedRoomIsTheLeastOfAllStands(t *testing.T) {
	b, in := inputOf(t, levelHead+parts("from = [100, -100, -200]\nto = [400, 100, -50]")+chassisPart("from = [0, -400, -320]\nto = [500, 400, -260]"))
	sunk := func(by float64) geom.Pose {
		p := in.Pose.V
		p.At.Z -= by
		return p
	}
	in.Rock.Asked = true
	in.Stands = append(in.Stands, seat.Stand{Name: "sagged", Pose: sunk(40)}, seat.Stand{Name: "sagged, rocked", Pose: sunk(30)})
	room := func() (Rocked, finding.Finding) {
		j := run(b, in)
		require.InDelta(t, 60, j.Clearances[0].Gap.V, 1e-9)
		return *j.Clearances[0].Rocked, findingOf(t, j, "clearance.steering_shaft.rocked")
	}
	r, f := room()
	assert.InDelta(t, 20, r.Gap.V, 1e-9)
	assert.Zero(t, r.Gap.U())
	assert.Equal(t, "sagged", r.At)
	assert.Equal(t, "sump", r.Part)
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, f.Advice(), "The sump comes nearest (sagged)")
	in.Stands = append(in.Stands, seat.Stand{Name: "sagged", Pose: sunk(45), Soft: true})
	r, _ = room()
	assert.InDelta(t, 20, r.Gap.V, 1e-9)
	assert.InDelta(t, 5*2/math.Sqrt(3), r.Gap.Expanded(), 1e-9, "a bound, rectangular")
	in.Rock.Ends = []geom.Pose{sunk(10), sunk(58), sunk(20)}
	r, f = room()
	assert.InDelta(t, 20, r.Gap.V, 1e-9)
	assert.InDelta(t, 18*2/math.Sqrt(3), r.Gap.Expanded(), 1e-9)
	assert.Equal(t, finding.Tight, f.Status)
	in.Rock.NoReverse = "reverse is not in the file yet"
	_, f = room()
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Equal(t, "reverse is not in the file yet", f.Missing)
	in.Stands[1].Pose = sunk(57)
	_, f = room()
	assert.Equal(t, finding.Over, f.Status, "over whatever is missing")
	in.Rock.Why = "the rates are not in the file yet"
	r, f = room()
	assert.False(t, r.Gap.Known)
	assert.Equal(t, "the rates are not in the file yet", f.Missing)
	in.Rock = Rock{}
	assert.Nil(t, run(b, in).Clearances[0].Rocked)
}

// What is missing is said, whether of the powertrain or of the vehicle.
func TestRoomThatIsNotKnown(t *testing.T) {
	for text, want := range map[string]string{
		levelHead + chassisPart("at = [0, 0, 9]"):                                "powertrain.part is not in the file yet",
		levelHead + parts("from = [0, 0, 0]") + chassisPart("at = [0, 0, 9]"):    "sump: its other end is not in the file yet: powertrain.part.1.to",
		levelHead + parts("to = [0, 0, 0]") + chassisPart("at = [0, 0, 9]"):      "sump: its other end is not in the file yet: powertrain.part.1.from",
		levelHead + parts("at = [0, 0, 0]") + chassisPart(""):                    "steering shaft: its place is not in the file yet",
		levelHead + parts("at = [0, 0, 0]") + chassisPart("on = [0, 0, 9]"):      "steering shaft: the way it faces is not in the file yet",
		levelHead + parts("at = [0, 0, 0]") + chassisPart("facing = \"up\""):     "steering shaft: a point on it is not in the file yet",
		"format = 1\n" + parts("at = [0, 0, 0]") + chassisPart("at = [0, 0, 9]"): "powertrain.pads.left_front",
	} {
		b, in := inputOf(t, text)
		in.Rock.Asked = true
		j := run(b, in)
		for _, id := range []string{"clearance.steering_shaft", "clearance.steering_shaft.rocked"} {
			f := findingOf(t, j, id)
			assert.Equal(t, finding.NotKnown, f.Status, want)
			assert.Contains(t, f.Missing, want)
		}
	}
}
