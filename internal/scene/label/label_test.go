package label

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// No label stands over another, or touches it, or leaves the sheet, whatever is
// asked for.
func TestLabelsNeverOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := New(rapid.IntRange(0, 60).Draw(t, "cols"), rapid.IntRange(0, 20).Draw(t, "rows"))
		cols, rows := s.Size()
		num := rapid.Float64Range(-50, 120)
		for range rapid.IntRange(0, 5).Draw(t, "lines") {
			s.Line(num.Draw(t, "x0"), num.Draw(t, "y0"), num.Draw(t, "x1"), num.Draw(t, "y1"))
		}
		type placed struct{ col, row, n int }
		var all []placed
		for range rapid.IntRange(0, 30).Draw(t, "labels") {
			n := rapid.IntRange(0, 25).Draw(t, "n")
			allowed := rapid.IntRange(0, 30).Draw(t, "on lines")
			spots := Around(rapid.IntRange(-5, 65).Draw(t, "col"), rapid.IntRange(-5, 25).Draw(t, "row"), n, rapid.IntRange(0, 5).Draw(t, "reach"))
			inked := 0
			p, ok := s.Place(n, allowed, spots)
			if !ok {
				continue
			}
			for i := range n {
				if s.Inked(p.Col+i, p.Row) {
					inked++
				}
			}
			require.LessOrEqual(t, inked, allowed)
			require.True(t, p.Col >= 0 && p.Row >= 0 && p.Col+n <= cols && p.Row < rows)
			for _, o := range all {
				require.False(t, o.row == p.Row && p.Col <= o.col+o.n && o.col <= p.Col+n, "%v and %v", p, o)
			}
			all = append(all, placed{p.Col, p.Row, n})
		}
	})
}

func TestPlaces(t *testing.T) {
	s := New(20, 5)
	s.Line(0, 2.5, 20, 2.5)
	p, ok := s.Place(4, 4, Around(10, 2, 4, 2))
	require.True(t, ok)
	assert.NotEqual(t, 2, p.Row, "beside the line and not on it")
	_, ok = s.Place(4, 0, []Spot{{Col: 0, Row: 2}})
	assert.False(t, ok, "on the line only")
	_, ok = s.Place(4, 4, []Spot{{Col: 0, Row: 2}})
	assert.True(t, ok, "where that is allowed")
	_, ok = s.Place(21, 99, []Spot{{}})
	assert.False(t, ok, "wider than the sheet")

	s = New(10, 1)
	s.Take(4, 0, 2)
	_, free := s.Free(0, 0, 3)
	assert.True(t, free)
	_, free = s.Free(1, 0, 3)
	assert.False(t, free, "no place between them")
	_, free = s.Free(7, 0, 3)
	assert.True(t, free)
}

func TestLinesCoverWhatTheyPass(t *testing.T) {
	s := New(10, 4)
	s.Line(0.5, 0.5, 3.5, 3.5)
	for i := range 4 {
		assert.True(t, s.Inked(i, i))
		assert.False(t, s.Inked(i+2, i))
	}
	s.Line(-5, 1.2, 50, 1.2)
	assert.True(t, s.Inked(0, 1))
	assert.True(t, s.Inked(9, 1))
	assert.False(t, s.Inked(9, 2))
	assert.False(t, s.Inked(-1, 1))
}

// A line inks every place that it runs through for more than half a letter, and
// none that it does not touch.
func TestLinesInkWhatTheyRunThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := New(40, 30)
		num := func(name string, most float64) float64 { return rapid.Float64Range(-5, most+5).Draw(t, name) }
		x0, y0, x1, y1 := num("x0", 40), num("y0", 30), num("x1", 40), num("y1", 30)
		s.Line(x0, y0, x1, y1)
		const n = 4000
		through := map[[2]int]float64{}
		for i := range n {
			k := (float64(i) + 0.5) / n
			at := [2]int{int(math.Floor(x0 + k*(x1-x0))), int(math.Floor(y0 + k*(y1-y0)))}
			through[at] += max(math.Abs(x1-x0), math.Abs(y1-y0)) / n
		}
		for row := range 30 {
			for col := range 40 {
				run := through[[2]int{col, row}]
				if run > 0.55 {
					require.True(t, s.Inked(col, row), "%d, %d", col, row)
				}
				if near := math.Abs((x1-x0)*(y0-float64(row)-0.5)-(x0-float64(col)-0.5)*(y1-y0)) / math.Hypot(x1-x0, y1-y0); near > 0.75 {
					require.False(t, s.Inked(col, row), "%d, %d", col, row)
				}
			}
		}
	})
}

// Taking keeps so many places free and no more.
func TestTake(t *testing.T) {
	s := New(12, 2)
	s.Take(-2, 0, 4)
	s.Take(6, 0, 3)
	s.Take(0, 5, 3)
	for col, want := range []bool{false, false, false, true, true, false, false, false, false, false, true, true} {
		_, free := s.Free(col, 0, 1)
		assert.Equal(t, want, free, col)
		_, free = s.Free(col, 1, 1)
		assert.True(t, free)
	}
}
