package tape

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A frame whose points are only names finds its shape from tapes alone, in plan and
// with heights, on known points and on none.
func TestLayoutFromTapesAlone(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 3))
	for range 40 {
		pairs, knownPoints, heights := 3+r.IntN(5), r.IntN(2)*3, r.IntN(2) == 1
		var truth []r3.Vec
		for k := range pairs {
			truth = append(truth, r3.Vec{X: 800 * float64(k), Y: -400, Z: 30 * r.Float64()}, r3.Vec{X: 800 * float64(k), Y: 400, Z: 30 * r.Float64()})
		}
		n := &Net{}
		free := plan
		if heights {
			free = space
		}
		for i, p := range truth {
			if !heights {
				truth[i].Z = 0
				p.Z = 0
			}
			if i < knownPoints {
				n.Add(Point{Name: strconv.Itoa(i), At: p})
				continue
			}
			n.Add(Point{Name: strconv.Itoa(i), Free: free, Guess: true})
		}
		for j := range truth {
			for i := range j {
				if j/2-i/2 <= 1 {
					n.Distance("tape", i, j, r3.Norm(r3.Sub(truth[i], truth[j]))+0.5*r.NormFloat64(), 0.5)
				}
			}
			if heights && j > 0 {
				n.Rise("hose", 0, j, truth[j].Z-truth[0].Z, 0.5)
			}
		}
		require.NoError(t, n.Layout())
		if knownPoints == 0 {
			require.NoError(t, n.HoldFree([3]bool{true, true, heights}, [3]bool{false, false, true}))
		}
		f := solved(t, n)
		ok, _ := f.Agrees(1e-6)
		assert.True(t, ok)
		for j := range truth {
			for i := range j {
				assert.InDelta(t, r3.Norm(r3.Sub(truth[i], truth[j])), distance(n, i, j, f.X), 12)
			}
			if knownPoints > 0 {
				assert.Less(t, r3.Norm(r3.Sub(truth[j], n.Where(j, f.X))), 12.0)
			}
		}
	}
}

func TestLayoutNamesLostPoints(t *testing.T) {
	n := &Net{}
	a := n.Add(Point{Name: "a", Free: plan, Guess: true})
	b := n.Add(Point{Name: "b", Free: plan, Guess: true})
	n.Add(Point{Name: "c", Free: plan, Guess: true})
	n.Distance("ab", a, b, 100, 1)
	var lost *LostError
	require.ErrorAs(t, n.Layout(), &lost)
	assert.Equal(t, []string{"c"}, lost.Points)
}

// Two distances leave two places; a third to a point off the line settles it.
func TestMirrorOfOnePoint(t *testing.T) {
	n := &Net{}
	a, b, c := n.Add(known(0, 0, 0)), n.Add(known(1000, 0, 0)), n.Add(known(300, 900, 0))
	p := n.Add(Point{Name: "P", At: r3.Vec{X: 400, Y: 320}, Free: plan})
	n.Distance("AP", a, p, 500, 1)
	n.Distance("BP", b, p, math.Hypot(600, 300), 1)
	f := solved(t, n)
	m, err := n.Mirrors(t.Context(), f)
	require.NoError(t, err)
	require.Len(t, m, 1)
	assert.Equal(t, []int{p}, m[0].Points)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: 400, Y: -300}, m[0].At[0])), 1e-3)

	n.Distance("CP", c, p, math.Hypot(100, 600), 1)
	m, err = n.Mirrors(t.Context(), solved(t, n))
	require.NoError(t, err)
	assert.Empty(t, m)
}

// Wolf's point in space (see TestWolfInSpace) has a mirror below the four.
func TestWolfMirror(t *testing.T) {
	n := &Net{}
	p := n.Add(Point{Name: "P", At: r3.Vec{X: 880, Y: 920, Z: 1280}, Free: space})
	for i, at := range [][3]float64{{1200, 900, 900}, {900, 600, 900}, {600, 900, 900}, {900, 1200, 900}} {
		n.Distance(strconv.Itoa(i+1), n.Add(known(at[0], at[1], at[2])), p, 499.99+0.01*float64(i), 0.01)
	}
	m, err := n.Mirrors(t.Context(), solved(t, n))
	require.NoError(t, err)
	require.Len(t, m, 1)
	assert.InDelta(t, 900-400.00625, m[0].At[0].Z, 1e-4)
}

// A part that hangs on two points alone folds over the line between them.
func TestFoldedPart(t *testing.T) {
	n := &Net{}
	at := []r3.Vec{{}, {X: 800}, {X: 800, Y: 1000}, {Y: 1000}, {X: 100, Y: 1900}, {X: 700, Y: 2000}}
	for i, p := range at {
		free := plan
		if i < 2 {
			free = none
		}
		n.Add(Point{Name: strconv.Itoa(i), At: p, Free: free})
	}
	for j := range at {
		for i := range j {
			if i >= 2 || j <= 3 {
				n.Distance("tape", i, j, r3.Norm(r3.Sub(at[i], at[j])), 1)
			}
		}
	}
	m, err := n.Mirrors(t.Context(), solved(t, n))
	require.NoError(t, err)
	require.Len(t, m, 2)
	assert.ElementsMatch(t, []int{4, 5}, m[0].Points)
	assert.ElementsMatch(t, []int{2, 3, 4, 5}, m[1].Points, "all of it, over the line of the known points")
	assert.InDelta(t, -1000, m[1].At[0].Y, 1e-9)
}

// Two held points leave open on which side of their line all others lie, also where their
// heights are measured; a string's offset, or a third held point off that line, says it.
func TestTwoHeldPointsLeaveTheSideOpen(t *testing.T) {
	at := []r3.Vec{{Y: -350, Z: 400}, {Y: 350, Z: 400}, {X: 820, Y: 20, Z: 500}, {X: 990, Y: -470, Z: 450}}
	net := func(held int) *Net {
		n := &Net{}
		for i, p := range at {
			free := space
			if i < held {
				free = none
			}
			n.Add(Point{Name: strconv.Itoa(i), At: p, Free: free})
		}
		for j := range at {
			for i := range j {
				n.Distance("tape", i, j, r3.Norm(r3.Sub(at[i], at[j])), 1)
				n.Rise("level", i, j, at[j].Z-at[i].Z, 1)
			}
		}
		return n
	}
	mirrors := func(n *Net) []Mirror {
		m, err := n.Mirrors(t.Context(), solved(t, n))
		require.NoError(t, err)
		return m
	}
	m := mirrors(net(2))
	require.Len(t, m, 1)
	assert.ElementsMatch(t, []int{2, 3}, m[0].Points)
	assert.InDelta(t, -820, m[0].At[0].X, 1e-6)
	assert.Empty(t, mirrors(net(3)))
	n := net(2)
	n.Offset("string", 3, 0, 1, -990, 1)
	assert.Empty(t, mirrors(n))
}

// One point at a measured height, taped to two others, may lie on either side of them.
func TestMirrorAtItsOwnHeight(t *testing.T) {
	at := []r3.Vec{{}, {X: 900}, {X: 400, Y: 800}, {X: 300, Y: -500, Z: 120}}
	n := &Net{}
	for i, p := range at {
		free := none
		if i == 3 {
			free = space
		}
		n.Add(Point{Name: strconv.Itoa(i), At: p, Free: free})
	}
	n.Distance("tape", 0, 3, r3.Norm(at[3]), 1)
	n.Distance("tape", 1, 3, r3.Norm(r3.Sub(at[3], at[1])), 1)
	n.Rise("level", 0, 3, 120, 1)
	m, err := n.Mirrors(t.Context(), solved(t, n))
	require.NoError(t, err)
	require.Len(t, m, 1)
	assert.InDelta(t, 500, m[0].At[0].Y, 1e-6)
	assert.InDelta(t, 120, m[0].At[0].Z, 1e-6)
}
