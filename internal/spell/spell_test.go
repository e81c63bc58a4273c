package spell

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"a", "", 1}, {"setback", "setback", 0}, {"setbak", "setback", 1},
		{"kitten", "sitting", 3}, {"größe", "grosse", 3},
	} {
		assert.Equal(t, c.want, Distance(c.a, c.b), "%s %s", c.a, c.b)
	}
}

// A distance: the same both ways, never longer by way of a third word.
func TestDistanceIsAMetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringOfN(rapid.RuneFrom([]rune("abcä")), 0, 8, -1)
		a, b, c := word.Draw(t, "a"), word.Draw(t, "b"), word.Draw(t, "c")
		assert.Equal(t, Distance(a, b), Distance(b, a))
		assert.LessOrEqual(t, Distance(a, c), Distance(a, b)+Distance(b, c))
		assert.Equal(t, a == b, Distance(a, b) == 0)
	})
}

// Where only a near word is asked for, the distance is the same, and a far one is none.
func TestNearerIsTheDistanceThatIsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringOfN(rapid.RuneFrom([]rune("abcä")), 0, 8, -1)
		a, b, than := word.Draw(t, "a"), word.Draw(t, "b"), rapid.IntRange(0, 9).Draw(t, "than")
		d, ok := Nearer(a, b, than)
		assert.Equal(t, Distance(a, b) < than, ok)
		if ok {
			assert.Equal(t, Distance(a, b), d)
		}
	})
}
