package tomltext

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const mergeBase = `# a build
format = 1
name = "flatbed"        # its name

[place]
rear  = 212             # blocks
front = 100
at = [1, 2, 3]

[[reading]]
of = "a"
shown = 3

[[reading]]
of = "b"
shown = 4
placed = { rear = 1, front = 2 }

[[job]]
id = "one"
done = false

[[job]]
id = "two"
done = false
`

func readText(t require.TestingT, text string) *Doc {
	d, err := Parse("b.toml", []byte(text))
	require.NoError(t, err)
	return d
}

// swap replaces pieces of the base, each of which must be there.
func swap(t *testing.T, pairs ...string) string {
	s := mergeBase
	for i := 0; i < len(pairs); i += 2 {
		require.Contains(t, s, pairs[i])
		s = strings.Replace(s, pairs[i], pairs[i+1], 1)
	}
	return s
}

const newReading = "\n[[reading]]\nof = \"c\"\nshown = 5\n"

func TestMerge(t *testing.T) {
	tests := map[string]struct {
		mine, theirs, want string
		clashes            []string
	}{
		"other values": {
			swap(t, "212 ", "218 "), swap(t, "# a build", "# our build", "100", "101"),
			swap(t, "212 ", "218 ", "# a build", "# our build", "100", "101"), nil},
		"the same change": {swap(t, "212 ", "218 "), swap(t, "212  ", "218"), swap(t, "212  ", "218"), nil},
		"the same value":  {swap(t, "212 ", "218 "), swap(t, "212 ", "220 "), swap(t, "212 ", "220 "), []string{"place.rear"}},
		"inside a table in braces": {
			swap(t, "rear = 1", "rear = 7"), swap(t, "front = 2 }", "front = 9 }"),
			swap(t, "rear = 1", "rear = 7", "front = 2 }", "front = 9 }"), nil},
		"a list of numbers is one value": {
			swap(t, "[1, 2, 3]", "[1, 2, 4]"), swap(t, "[1, 2, 3]", "[0, 2, 3]"),
			swap(t, "[1, 2, 3]", "[0, 2, 3]"), []string{"place.at"}},
		"a key added by each": {
			swap(t, "front = 100", "front = 100\nside = 1"), swap(t, "front = 100", "front = 100\nlift = 2"),
			swap(t, "at = [1, 2, 3]", "at = [1, 2, 3]", "front = 100", "front = 100\nlift = 2", "at = [1, 2, 3]\n", "at = [1, 2, 3]\nside = 1\n"), nil},
		"a key taken out": {
			swap(t, "front = 100\n", ""), swap(t, "212 ", "213 "),
			swap(t, "front = 100\n", "", "212 ", "213 "), nil},
		"taken out and changed": {
			swap(t, "front = 100\n", ""), swap(t, "front = 100", "front = 101"),
			swap(t, "front = 100", "front = 101"), []string{"place.front"}},
		"an entry added by each": {
			swap(t, "\n[[job]]\nid = \"one\"", newReading+"\n[[job]]\nid = \"one\""),
			swap(t, "\n[[job]]\nid = \"one\"", strings.Replace(newReading, "c", "d", 1)+"\n[[job]]\nid = \"one\""),
			swap(t, "\n[[job]]\nid = \"one\"", strings.Replace(newReading, "c", "d", 1)+newReading+"\n[[job]]\nid = \"one\""), nil},
		"an entry changed behind one taken out": {
			swap(t, "id = \"two\"\ndone = false", "id = \"two\"\ndone = true"),
			swap(t, "[[job]]\nid = \"one\"\ndone = false\n\n", ""),
			swap(t, "id = \"two\"\ndone = false", "id = \"two\"\ndone = true", "[[job]]\nid = \"one\"\ndone = false\n\n", ""), nil},
		"an entry taken out, another changed": {
			swap(t, "[[job]]\nid = \"one\"\ndone = false\n\n", ""),
			swap(t, "id = \"two\"\ndone = false", "id = \"two\"\ndone = true"),
			swap(t, "[[job]]\nid = \"one\"\ndone = false\n\n", "", "id = \"two\"\ndone = false", "id = \"two\"\ndone = true"), nil},
		"an entry put in between": {
			swap(t, "[[job]]\nid = \"two\"", "[[job]]\nid = \"half\"\n\n[[job]]\nid = \"two\""),
			swap(t, "100", "101"),
			swap(t, "[[job]]\nid = \"two\"", "[[job]]\nid = \"half\"\n\n[[job]]\nid = \"two\"", "100", "101"), nil},
		"a table of its own": {
			mergeBase + "\n[more.deep]\nx = 1\n", swap(t, "100", "101"), swap(t, "100", "101") + "\n[more.deep]\nx = 1\n", nil},
	}
	for name, c := range tests {
		t.Run(name, func(t *testing.T) {
			got, clashes, err := Merge(readText(t, mergeBase), readText(t, c.mine), readText(t, c.theirs), Neither)
			require.NoError(t, err)
			assert.Equal(t, c.want, string(got.Bytes()))
			var paths []string
			for _, c := range clashes {
				paths = append(paths, c.Path)
			}
			assert.Equal(t, c.clashes, paths)
			if c.clashes == nil {
				return
			}
			got, _, err = Merge(readText(t, mergeBase), readText(t, c.mine), readText(t, c.theirs), Mine)
			require.NoError(t, err)
			assert.True(t, same(plain(got.root), plain(readText(t, c.mine).root)), "mine is taken where it clashes")
		})
	}
}

// anyBuild draws a text of the shape of a build file.
func anyBuild(t *rapid.T, label string) string {
	var b strings.Builder
	num := func(name string) int { return rapid.IntRange(0, 3).Draw(t, label+name) }
	fmt.Fprintf(&b, "name = \"n%d\"\n", num("name"))
	for _, table := range []string{"alpha", "beta.gamma"} {
		if num(table) > 0 {
			fmt.Fprintf(&b, "\n[%s]\n", table)
			for _, key := range []string{"x", "y", "z"} {
				if v := num(table + key); v > 0 {
					fmt.Fprintf(&b, "%s = %d\n", key, v)
				}
			}
		}
	}
	for i := range num("readings") {
		fmt.Fprintf(&b, "\n[[reading]]\nshown = %d\nplaced = { a = %d }\n", num(fmt.Sprint("shown", i)), num(fmt.Sprint("a", i)))
	}
	for _, i := range rapid.Permutation([]int{1, 2, 3}).Draw(t, label+"order") {
		fmt.Fprintf(&b, "\n[[job]]\nid = \"j%d\"\nv = %d\n", i, num(fmt.Sprint("job", i)))
	}
	return b.String()
}

// Whoever stood still, the result is the other one's; with a side preferred
// there always is a result, and it can be read.
func TestMergeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m, o := anyBuild(t, "base "), anyBuild(t, "mine "), anyBuild(t, "theirs ")
		base, mine, theirs := readText(t, b), readText(t, m), readText(t, o)
		got, clashes, err := Merge(base, base, theirs, Neither)
		require.NoError(t, err)
		require.Empty(t, clashes)
		require.Equal(t, o, string(got.Bytes()))
		got, clashes, err = Merge(base, mine, mine, Neither)
		require.NoError(t, err)
		require.Empty(t, clashes)
		require.Equal(t, m, string(got.Bytes()))
		got, clashes, err = Merge(base, mine, base, Neither)
		require.NoError(t, err)
		require.Empty(t, clashes)
		require.Equal(t, sortedJobs(mine), sortedJobs(got))
		for _, side := range []Side{Neither, Mine, Theirs} {
			_, _, err = Merge(base, mine, theirs, side)
			require.NoError(t, err)
		}
	})
}

// sortedJobs is what a text means apart from the order of entries that are
// known by a name: putting those in another order is no change.
func sortedJobs(d *Doc) tree {
	v := plain(d.root).(tree)
	jobs := tree{}
	if list, ok := v["job"].([]any); ok {
		for _, j := range list {
			jobs[j.(tree)["id"].(string)] = j
		}
	}
	v["job"] = jobs
	return v
}

func TestDiff(t *testing.T) {
	got := Diff(readText(t, mergeBase), readText(t, swap(t, "212 ", "2_18.0 ", "front = 100\n", "",
		"[[job]]\nid = \"one\"\ndone = false\n\n", "", "id = \"two\"\ndone = false", "id = \"two\"\ndone = true",
		"\n[[job]]\nid = \"two\"", newReading+"\n[[job]]\nid = \"two\"")))
	var lines []string
	for _, d := range got {
		raw := func(n *Node) string {
			if n == nil {
				return "-"
			}
			return Literal(n)
		}
		lines = append(lines, d.Path+": "+raw(d.Old)+" "+raw(d.New))
	}
	assert.Equal(t, []string{
		"place.rear: 212 2_18.0", "place.front: 100 -",
		`reading[2]: - { of = "c", shown = 5 }`,
		"job[0].done: false true", `job[0]: { id = "one", done = false } -`,
	}, lines)
	assert.Empty(t, Diff(readText(t, mergeBase), readText(t, "# other\n"+mergeBase)))
	assert.Len(t, Diff(readText(t, "a = 1\n"), readText(t, "a = 1\nhold = []\n")), 1, "an empty list is said as well: it holds nothing")
	assert.Len(t, Diff(readText(t, "hold = [\"x\"]\n"), readText(t, "hold = []\n")), 1)
	assert.Len(t, Diff(readText(t, "hold = []\n"), readText(t, "hold = [\"x\"]\n")), 1)
}
