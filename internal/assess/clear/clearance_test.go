package clear

import (
	"math"
	"testing"

	"fitup/internal/assess/finding"

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
