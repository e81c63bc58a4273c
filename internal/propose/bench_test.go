package propose

import (
	"context"
	"fmt"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/require"
)

// shopMoves are what is let move in the demo, one after the other, each as far and in the steps
// that are offered.
var shopMoves = []string{"placement.rear", "line.rear.pinion.slope", "placement.left_front", "placement.right_front", "placement.offset", "placement.setback"}

// BenchmarkMoves is a search of the demo over two to six things that may move on shop steps,
// from the file to its answer: all that they can change is held, ok or tight. worked_out is how
// many places were, of all of them.
func BenchmarkMoves(b *testing.B) {
	for n := 2; n <= len(shopMoves); n++ {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			build := demo(b)
			now := assess.Run(build)
			w := Wanted{Tight: true}
			for i := range now.Findings { // what is over and no move mends cannot be held
				if f := &now.Findings[i]; movedBy(f) && (f.Status == finding.OK || f.Status == finding.Tight || f.By == finding.LineTrade) && f.Status != finding.NotKnown {
					w.Hold = append(w.Hold, f.ID)
				}
			}
			for _, of := range shopMoves[:n] {
				o, err := OfferOf(now, of)
				require.NoError(b, err)
				require.NoError(b, w.Let(build, o.Move))
			}
			b.ReportAllocs()
			var a Answer
			for b.Loop() {
				p, err := New(build, w)
				require.NoError(b, err)
				a = p.Run(context.Background(), nil)
			}
			b.ReportMetric(float64(a.Judged), "worked_out")
			b.ReportMetric(a.Places, "places")
			b.ReportMetric(float64(len(a.Proposals)), "proposals")
		})
	}
}
