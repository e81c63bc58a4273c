package bracket

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// BenchmarkAssemblies judges so many mounts of an arm with a brace, each under forty
// load cases: what it takes grows as their number.
func BenchmarkAssemblies(b *testing.B) {
	for _, n := range []int{1, 10, 40} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			text := kind(b, "arm_with_a_brace")
			i := strings.Index(text, "[mount.left_front.bracket]")
			j := strings.Index(text, "[mount.right_front]")
			own := text[i:j]
			var more strings.Builder
			loads := loadsOf(40, r3.Vec{Z: -3000})[:1]
			for k := 1; k < n; k++ {
				name := fmt.Sprintf("left_%d", k)
				at := r3.Vec{X: 260 + 20*float64(k), Y: -220, Z: 40}
				fmt.Fprintf(&more, "[mount.%s]\nat = [%g, -220, 40]\n%s", name, at.X-260, strings.ReplaceAll(own, "left_front", name))
				loads = append(loads, MountLoad{Mount: name, At: at})
			}
			for k := range loads {
				loads[k].Cases = nil
				for c := range 40 {
					loads[k].Cases = append(loads[k].Cases, Case{fmt.Sprint(c), r3.Vec{X: 20 * float64(c), Y: 100, Z: -3000 + 50*float64(c)}})
				}
			}
			f, err := project.Parse("bench.toml", []byte(text+more.String()))
			require.NoError(b, err)
			supports, placed, err := f.Build.Seat()
			require.NoError(b, err)
			pose := finding.Maybe[geom.Pose]{Known: true}
			pose.V, err = supports.Pose(placed)
			require.NoError(b, err)
			p := Prepare(f.Build, nil)
			b.ReportAllocs()
			for b.Loop() {
				p.At(pose, Loads{Mounts: loads})
			}
		})
	}
}
