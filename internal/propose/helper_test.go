package propose

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
)

func parsed(t testing.TB, text string) *project.Build {
	t.Helper()
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	return f.Build
}

func demo(t testing.TB) *project.Build {
	t.Helper()
	return parsed(t, string(starter.Demo()))
}

// drawn is a small build made up at random: a powertrain on three pads, a line with two
// or three joints, two pieces of the vehicle.
func drawn(r *rand.Rand) string {
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	three := r.IntN(3) == 0
	var b strings.Builder
	fmt.Fprintf(&b, `format = 3
[powertrain]
output = [%.1f, %.1f, %.1f]
redline = "4000 rpm"
gears = [4, 2, 1]
[powertrain.pads]
left_front = [%.1f, -250, %.1f]
right_front = [%.1f, 250, %.1f]
rear = [%.1f, %.1f, %.1f]
[[powertrain.part]]
name = "block"
from = [-200, -170, -200]
to = [560, 170, 400]
[[powertrain.part]]
name = "gearbox"
from = [560, -140, -160]
to = [1320, 140, 140]
[placement]
left_front = %.1f
right_front = %.1f
rear = %.1f
setback = %.1f
offset = "%.1f mm right"
heading = "%.2f deg rear to the right"
`, u(1300, 1450), u(-20, 20), u(-20, 20), u(-30, 30), u(-60, 0), u(-30, 30), u(-60, 0), u(1100, 1300), u(-40, 40), u(-140, -60),
		u(-120, -90), u(-120, -90), u(-320, -250), u(240, 280), u(0, 12), u(0, 0.5))
	fmt.Fprintf(&b, "[line.rear.pinion]\nat = [%.1f, %.1f, %.1f]\nslope = \"%.2f deg down to the rear\"\n", u(2900, 3300), u(-20, 20), u(-330, -250), u(1, 6))
	if three {
		fmt.Fprintf(&b, "[[line.rear.joint]]\n[[line.rear.joint]]\nat = [%.1f, %.1f, %.1f]\n[[line.rear.joint]]\n", u(2200, 2350), u(-15, 15), u(-300, -250))
	}
	fmt.Fprintf(&b, "[[chassis]]\nname = \"axle\"\nfrom = [%.1f, -600, %.1f]\nto = [%.1f, 600, %.1f]\nradius = 35\n", u(-10, 30), u(-400, -345), u(-10, 30), u(-400, -345))
	fmt.Fprintf(&b, "[[chassis]]\nname = \"bonnet\"\non = [0, 0, %.1f]\nfacing = \"down\"\n", u(345, 385))
	if r.IntN(3) == 0 {
		fmt.Fprintf(&b, "[[reading]]\nof = \"powertrain\"\non = \"along\"\nshown = \"%.1f deg\"\nlower = \"rear\"\n", u(1, 6))
		fmt.Fprintf(&b, "[[reading]]\nof = \"line.rear.shaft.1\"\non = \"along\"\nshown = \"%.1f deg\"\nlower = \"rear\"\n", u(0, 3))
		fmt.Fprintf(&b, "[[reading]]\nof = \"line.rear.pinion\"\non = \"along\"\nshown = \"%.1f deg\"\nlower = \"rear\"\n", u(1, 6))
	}
	return b.String()
}

// allowedIn picks n things of the build that may move.
func allowedIn(r *rand.Rand, b *project.Build, n, steps int) []Allowed {
	all := []string{"placement.rear", "line.rear.pinion.slope", "placement.left_front", "placement.right_front", "placement.offset", "placement.setback", "placement.heading"}
	if len(b.Lines[0].Joints) > 2 {
		all = append(all, "line.rear.joint.2.at.height", "line.rear.joint.2.at.offset")
	}
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	var out []Allowed
	for _, of := range all[:n] {
		m, err := b.MovableNamed(of)
		if err != nil {
			panic(err)
		}
		now, err := b.Reads(m)
		if err != nil {
			panic(err)
		}
		step := 1 + 4*r.Float64()
		if strings.HasSuffix(of, "slope") || strings.HasSuffix(of, "heading") {
			step = 0.004 + 0.01*r.Float64()
		}
		down := r.IntN(steps + 1)
		out = append(out, Allowed{Of: of, From: now - float64(down)*step, To: now + float64(steps-down)*step, Step: step})
	}
	return out
}
