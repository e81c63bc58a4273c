package assess

import (
	"sync"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/grown"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is kept of the room to what moves from one place of the powertrain to the next, there
// and back, says what a build that was never asked before says, also when two ask at once.
func TestRoomIsTheSameWhoeverAskedBefore(t *testing.T) {
	b := build(t, grown.Build(2, 3, 3))
	rear, err := b.MovableNamed("placement.rear")
	require.NoError(t, err)
	p := Prepare(b)
	at := func(p *Prepared, rear project.Movable, to float64) (out []Moving) {
		a, err := p.At([]project.Move{{Of: rear, To: to}}, OfMoving)
		require.NoError(t, err)
		require.NotNil(t, a.Moving)
		out = append(out, *a.Moving)
		for _, c := range a.Clearances {
			if c.Moving != nil {
				out = append(out, *c.Moving)
			}
		}
		return out
	}
	ask := func() {
		for _, to := range []float64{-290, -260, -330, -290, -289.5} {
			assert.Equal(t, at(Prepare(b), rear, to), at(p, rear, to), "%g", to)
		}
	}
	ask()
	var both sync.WaitGroup
	both.Go(ask)
	both.Go(ask)
	both.Wait()
}
